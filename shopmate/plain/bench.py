"""The bench in lines: the step in hand is said once, and what is typed is done to it by the session."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import assert_never

from shopmate import clock as clocks_
from shopmate import times
from shopmate.awake import Awake
from shopmate.dialogue import clocks, edited, work
from shopmate.dialogue import step as steps
from shopmate.dialogue.asking import Dialogue, Item, Shown, outcome, show
from shopmate.dialogue.blank import Blank
from shopmate.dialogue.desk import Desk
from shopmate.dialogue.watch import Findings
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.plain.clocks import say_clocks
from shopmate.plain.lines import Left, Lines, chosen, numbers, wanted
from shopmate.plain.saying import say_help, say_section, say_step, say_where_left
from shopmate.plain.sound import LineSounder
from shopmate.plain.talk import say, talk
from shopmate.project.place import Place
from shopmate.session import (
    CautionView,
    EndView,
    EnterView,
    FinishedView,
    Row,
    RowsView,
    Session,
    View,
)
from shopmate.steady import Steady

_LOOK = timedelta(seconds=1)
"""How often the clocks are looked at while a line is waited for."""


class Plain:
    """The bench on one project, in lines."""

    draws = False

    def __init__(
        self,
        lines: Lines,
        path: Path | None = None,
        *,
        sounder: LineSounder | None = None,
        steady: Callable[[], Steady | None] = lambda: None,
        awake: Awake | None = None,
        trouble: str = "",
    ) -> None:
        """Talk in `lines` about the project file `path`, or about the last one; `trouble` says what is wrong with the file
        of the settings.

        `sounder` sounds alarms; without it there is no bell.
        `steady` belongs with the time of `lines`: the two clocks of one computer, which `awake` keeps from sleeping.
        """
        self.lines = lines
        self.now = lines.now
        self._path = path
        self.sounder = sounder if sounder is not None else LineSounder(lines, has_bell=False)
        self.desk = Desk(self, self.sounder, lines.now, steady, awake, lines.settings, trouble)
        self.watching = self.desk.watching
        self._at_step = False
        """Whether the step is what the next line answers."""
        self._typed_at: datetime | None = None
        """When something was typed at a step last, None before that."""
        self._doubted = ""
        """The text that was asked about and is taken when it is given once more."""
        self._asked: tuple[str | None, Place] | None = None
        """Which of several steps that are taken together was chosen to be answered; None for the one in hand."""
        self._told: object = None
        """What was said of the step last."""
        self._old_reading = False
        lines.attend, lines.take, lines.always = self.attend, self.take, self.alarm_keys
        lines.show = self.show
        self._left_at: datetime | None = None
        """When the last thing was done in the project that was just opened, until that is said."""

    @property
    def session(self) -> Session:
        """The open project."""
        return self.desk.session

    @property
    def alarm_waits(self) -> bool:
        """Whether an alarm waits to be seen."""
        return self.watching.alarm_waits(self.now())

    def run(self) -> None:
        """Work at the bench until it is left or the input ends."""
        try:
            self.desk.use_own_words()
            greeting = phrase("shopmate in lines. Type {help} at a step for what can be typed.", "help")
            for words in (self.desk.words_stay, greeting, self.desk.settings_stay):
                if words:
                    self.lines.say(words)
            self.talk(work.start(self.desk, self._path))
            while True:
                self.step()
        except Left:
            unrecorded = self.desk.has_session and self.session.read_only
            self.lines.say(phrase("Closed.") if unrecorded else phrase("Closed. Everything is recorded."))
        finally:
            self.desk.close()
        if self.desk.parting:
            self.lines.say(self.desk.parting)

    def talk(self, dialogue: Dialogue[None]) -> None:
        """Hold a dialogue, and say the step in hand once more after it."""
        talk(self.lines, dialogue)
        self.say_again()

    def show(self, what: Shown) -> None:
        """Say what a dialogue asks for, until it is left."""
        match what:
            case "clocks":
                say_clocks(self.lines, self.desk)
            case "section":
                self.say_section()
            case "keys":
                raise RuntimeError("lines measure no keyboard")
            case _:
                assert_never(what)

    def leave(self) -> None:
        """End the program."""
        raise Left

    def use_settings(self) -> None:
        """Go by the settings as they are now."""
        self.lines.settings = self.desk.settings

    def opened(self) -> None:
        """Say where the work was left in a project that was opened, before the step is said."""
        self._left_at = self.session.left_at
        self._told, self._old_reading, self._asked = None, False, None

    def attempt(self, act: Callable[[], str]) -> bool:
        """Do something with the session and say what came of it; return whether it was done."""
        done, said = outcome(act)
        say(self.lines, said)
        return done

    # Time

    def attend(self) -> float:
        """Record and say what has come due; return the seconds until the next look."""
        if not self.desk.has_session:
            return _LOOK.total_seconds()
        now = self.now()
        found = self.watching.look(now)
        self.take_note(found)
        if found.took_over:
            self.lines.say(phrase("The other window is closed: this one records now."))
        for call in self.watching.calls(now):
            words = "STILL DUE {alarm}" if call.how == "reminder" else "ALARM {alarm}"
            self.lines.say(phrase(words, times.alarm_text(call.clock, now)))
        old = self.session.wants_temperature(now)
        if old and not self._old_reading:
            self.lines.say(phrase("Shop temperature reading is old and clocks depend on it: type /, choose Shop temperature."))
        self._old_reading = old
        if self._at_step:
            self.say_change(now)
        bell = self.sounder.look(now)
        return (min(_LOOK, bell) if bell is not None else _LOOK).total_seconds()

    def take_note(self, found: Findings) -> None:
        """Say what went wrong at a look at the time, and move with the clock on the wall what is timed by it."""
        if self._typed_at is not None:
            self._typed_at += found.shift
        for said in found.words:
            say(self.lines, said)

    def show_notice(self, name: str, words: str) -> None:
        """Say a notice when it comes or changes; of a pause, what remains is said with the keys."""
        if words and name != "quiet":
            self.lines.say(f"{words}.")
            self.desk.notices.said(name)

    def take(self, text: str) -> bool:
        """Acknowledge, put off or pause the sound, which works in every question; return whether that was meant."""
        if not self.desk.has_session:
            return False
        self.take_note(self.watching.key_came(self.now()))
        match text.casefold():
            case "*":
                self.acknowledge()
            case "." if self._at_step and self.may_spill:
                return False
            case ".":
                self.put_off()
            case "quiet" if self.may_pause:
                self.lines.say(self.watching.pause(self.now()))
            case _:
                return False
        return True

    def acknowledge(self) -> None:
        """Acknowledge the most urgent alarm, or the caution at the step; after an alarm the step is said anew."""
        waits = self.alarm_waits
        if not (waits or self._at_step):
            self.lines.say(phrase("Nothing to acknowledge."))
        elif self.attempt(lambda: self.watching.acknowledge(self.now())) and waits and self._at_step:
            say_where_left(self.lines, self.session, self._typed_at, self.now())
            self.say_again()
        if self._at_step:
            self.say_change(self.now())

    @property
    def may_pause(self) -> bool:
        """Whether there is a sound here that an alarm calls for, and that is not paused already."""
        return self.watching.may_pause(self.now()) and not self.watching.paused(self.now())

    @property
    def may_spill(self) -> bool:
        """Whether '.' says of the pot in hand that it was spilled."""
        view = self.view(self.now())
        return view is not None and any(key.key == "." for key in steps.keys(self.desk, view))

    def put_off(self) -> None:
        """Ask for how long the most urgent alarm is put off."""
        if self.session.may_shelve(self.now()) is None:
            self.lines.say(phrase("No alarm can be snoozed now."))
            return
        at_step, self._at_step = self._at_step, False
        talk(self.lines, clocks.put_off(self.desk))
        self._at_step = at_step

    # The step

    @property
    def asked(self) -> Place | None:
        """Which of several steps that are taken together was chosen to be answered, in the run that is on the bench."""
        run, place = self._asked or (None, None)
        return place if run == self.session.project.current else None

    def view(self, now: datetime) -> View | None:
        """Return what there is to do, None when no run is on the bench."""
        return self.session.view(now, self.asked) if self.session.project.run is not None else None

    def step(self) -> None:
        """Say the step in hand, if it was not said yet, and do to it what is typed."""
        if self.desk.has_session and self.session.edition() is not None:
            self.talk(edited.offer(self.desk))
        view = self.view(self.now())
        self.say_change(self.now())
        self._at_step = True
        try:
            text = self.lines.ask(self.keys)
        finally:
            self._at_step = False
        self._typed_at = self.now()
        view = self.view(self.now())
        if not self.anywhere(text, view):
            self.act(view, text) if view is not None else self.lines.say(
                phrase("'{text}' does nothing here; type {help}.", text, "help")
            )

    def anywhere(self, text: str, view: View | None) -> bool:
        """Do what a text means at every step; return whether it was such a one."""
        do: dict[str, Callable[[], object]] = {
            "-": self.take_back, "back": self.take_back, "+": self._clocks, "clocks": self._clocks,
            "/": self._more, "more": self._more, "where": self.say_section, "again": self.say_again,
            "quiet": self.say_quiet, "help": lambda: say_help(self.lines), "leave": self._leave, "quit": self._leave,
        }  # fmt: skip
        act = do.get(text.casefold())
        if text == "" and (view is None or isinstance(view, FinishedView)):
            act = self._more
        if act is None:
            return False
        self._doubted = ""
        try:
            act()
        except ShopmateError as error:
            self.lines.say(str(error))
        return True

    def _clocks(self) -> None:
        self.talk(show("clocks"))

    def _more(self) -> None:
        self.talk(work.other(self.desk))

    def _leave(self) -> None:
        self.talk(work.leave(self.desk))

    def act(self, view: View, text: str) -> None:
        """Do what a text means at the step in hand: done, an answer, a reason."""
        if isinstance(view, EnterView) and not (text == "." and self.may_spill):
            self.enter(view, text)
            return
        options = {option.key: option for option in steps.answers(view)}
        if (item := chosen(text, [Item(option.key, option.label) for option in options.values()])) is not None:
            self.attempt(lambda: steps.take(self.desk, view, options[item.key]))
            self._asked = None
            return
        if (row := steps.row(view, text)) is not None:
            self.choose_row(row)
            return
        key = next((key for key in steps.keys(self.desk, view) if key.key == (text or "enter")), None)
        match key:
            case steps.AtOnce(act=act):
                self.attempt(act)
            case steps.Asking(ask=ask):
                talk(self.lines, ask())
            case None if not text:
                self.attempt(lambda: steps.do(self.desk, view))  # which says why it does nothing
            case None:
                self.lines.say(phrase("'{text}' does nothing here; type {help}.", text, "help"))
            case _:
                assert_never(key)

    def choose_row(self, row: Row) -> None:
        """Ask for the answer of one of several steps that are taken together, or leave an item for later."""
        if row.is_question:
            self._asked = self.session.project.current, row.place
        else:
            self.attempt(lambda: steps.leave(self.desk, row))

    def enter(self, view: EnterView, text: str) -> None:
        """Take the value typed, or the one offered; ask once more about one that looks odd."""
        given = Blank(view.entry, self.unit(view)).line(text) or self._doubted
        if not (given or view.default):
            self.lines.say(phrase("This step needs a value; Enter alone won't do."))
            return
        try:
            taken = steps.give(self.desk, view, given, sure=self._doubted == given)
        except ShopmateError as error:
            self.lines.say(str(error))
            return
        self._doubted = given if isinstance(taken, steps.Odd) else ""
        match taken:
            case steps.Taken(word):
                self._asked = None
                self.lines.say(f"{word}.")
            case steps.Odd(question):
                self.lines.say(question)
            case steps.Wrong(problem):
                self.lines.say(phrase("Not accepted: {problem}", problem))
            case _:
                assert_never(taken)

    def unit(self, view: EnterView) -> str:
        """Return the unit of a number typed without one."""
        return view.begins_in

    def take_back(self) -> None:
        """Take back the last thing done; where one of several steps was chosen to be answered, go back to them all."""
        if self.asked is not None:
            self._asked = None
            return
        talk(self.lines, steps.take_back(self.desk))

    # What is said

    def alarm_keys(self) -> str:
        """Return the keys that alarms bring."""
        if not self.desk.has_session:
            return ""
        now = self.now()
        waiting = clocks_.alarms(self.session.clocks, now)
        if not waiting:
            return ""
        first, count = waiting[0].title, len(waiting)
        found = [phrase("[*] seen, 1 of {count}: {clock}", count, first) if count > 1 else phrase("[*] seen: {clock}", first)]
        if self.session.may_shelve(now) is not None:
            found.append(phrase("[.] later"))
        if self.may_pause:
            found.append(f"[quiet] {phrase('no sound for 2 min')}")  # the word is typed, so it stays
        keys, paused = ", ".join(found), self.watching.paused(now)
        return f"{keys} ({phrase('sound paused {time}', paused)})" if paused else keys

    def keys(self) -> str:
        """Return what can be typed at the step in hand."""
        view = self.view(self.now())
        if view is None:
            return phrase("[Enter] choose work, [+] clocks, [/] more")
        other = [phrase("[Enter] other work")] if isinstance(view, FinishedView) else []
        return ", ".join([*other, *self.step_keys(view), phrase("[-] back, [+] clocks, [/] more")])

    def step_keys(self, view: View) -> list[str]:
        """Return the keys that do something to the step itself."""
        own = [f"[{key.key}] {key.word}" for key in steps.keys(self.desk, view) if key.key == "."]
        if isinstance(view, CautionView):
            return [phrase("[*] when you have read it"), *own]
        if isinstance(view, EnterView):
            take = []
            if self._doubted:
                take.append(phrase("[Enter] yes, it's right"))
            elif view.default:
                take.append(phrase("[Enter] uses {answer}", view.default_read))
            return [*take, wanted(Blank(view.entry, self.unit(view)), beside=bool(take)), *own]
        enter, others = steps.parted(steps.keys(self.desk, view))
        if isinstance(view, RowsView):
            return [*(f"[Enter] {key.word}" for key in enter), steps.digits(view)]
        count, option = len(steps.answers(view)), steps.alone(view)
        chosen_by = [f"[1] {option.label}"] if option is not None else [numbers(count)] if count else []
        return [*(f"[Enter] {key.word}" for key in enter), *chosen_by, *(f"[{key.key}] {key.word}" for key in others)]

    def say_change(self, now: datetime) -> None:
        """Say the step in hand where it is another one than was said, or stands otherwise."""
        view = self.view(now)
        run = self.session.project.current
        told = (
            (
                run,
                view.place,
                type(view),
                view.headline,
                # The hands-on time at the end grows while it is read, which is no news.
                () if isinstance(view, EndView) else view.frame.detail,
                _told_rows(view),
                words.go,
                bool(words.late),
                words.problems,
            )
            if view is not None and (words := steps.said(view))
            else (run,)
        )
        if told == self._told:
            return
        left_at, self._left_at = self._left_at, None
        say_where_left(self.lines, self.session, left_at, now)
        fresh = not (isinstance(self._told, tuple) and self._told[:2] == told[:2])
        self._told = told
        if fresh:
            self._doubted = ""
        if view is not None:
            say_step(self.lines, self.session, view, now)
        else:
            self.lines.say(phrase("{name}: no recipe is on the bench.", self.session.project.name))

    def say_again(self) -> None:
        """Say the step in hand once more."""
        self._told = None

    def say_section(self) -> None:
        """Say the steps of the section in hand."""
        say_section(self.lines, self.view(self.now()))

    def say_quiet(self) -> None:
        """Say why no sound is paused now."""
        paused = self.watching.paused(self.now())
        self.lines.say(phrase("Sound paused {time}.", paused) if paused else phrase("No alarm is sounding."))


def _told_rows(view: View) -> tuple[tuple[str, str], ...]:
    """Return what is said of several steps that are taken together, without how old they are."""
    return tuple((row.label, row.value) for row in view.frame.rows)
