"""A project that is open: what is asked of it, and recorded of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import assert_never, get_args

from shopmate import calc, paths, units
from shopmate import clock as clocks_
from shopmate import recipe as recipes
from shopmate.calculator import Kind, Measure, Value, doubt
from shopmate.clock import Clock
from shopmate.errors import Doubt, EntryError, ShopmateError, UsageError
from shopmate.lock import Lock
from shopmate.log import Log
from shopmate.models.due import ClockKind
from shopmate.phrases import phrase
from shopmate.recipe import (
    Ask,
    ChoiceAnswer,
    CountAnswer,
    Gate,
    Material,
    MeasureAnswer,
    Recipe,
    ShelfAnswer,
    Start,
    Step,
    Wait,
)
from shopmate.result import Result
from shopmate.session import events
from shopmate.session.events import Happened, Limit, Move, Reading, Recorded, Setting, StepDone
from shopmate.session.files import shelf
from shopmate.session.fold import advance, fold
from shopmate.session.judging import (
    CLOCK_LENGTH,
    TURN_CHOICES,
    AtEnd,
    AtSectionEnd,
    AtStep,
    BeforeCaution,
    Judge,
    Over,
    asked_for,
    in_hand,
    judged_by,
    turn_choice,
    worked_by,
)
from shopmate.session.place import Place
from shopmate.session.project import Project
from shopmate.session.run import Held, Run
from shopmate.session.values import Results, Values, material_values
from shopmate.session.view import Here, View
from shopmate.session.viewer import Viewer, large
from shopmate.session.way import next_place
from shopmate.steady import Steady
from shopmate.units import Quantity, System


class NotNow(ShopmateError):
    """What was asked for cannot be done at this place; the text says why and what can."""


PARTS = ("Panel", "Seam", "Bar", "Hatch")
"""Kinds of parts offered by name, so that one can be named without letters."""

APART = timedelta(seconds=2)
"""A wall clock that differs by more from what the steady clock says was set; less is the drift of two clocks."""

SHOP_TEMPERATURE = Measure("°C", low=-40, high=60, soft_low=5, soft_high=40)
"""What a reading of the shop temperature may be."""

READING_HOLDS = Measure("h", low=0.25, high=72, soft_high=24)
"""How long a reading of the shop temperature may be taken for the present one: a setting of the project."""


PUT_OFF = {1: "1 minute", 5: "5 minutes", 10: "10 minutes"}
"""For how many minutes an alarm can be put off, with their words."""

_SETTINGS: dict[str, Setting] = {name: name for name in get_args(Setting)}


class Session:
    """A project that is open. Every method that changes it records the change before it returns."""

    def __init__(self, log: Log, materials: Mapping[str, Material], lock: Lock | None = None, *, read_only: bool = False) -> None:
        """Work on an open log with the materials of a shelf, or only show it while another program works on it.

        `lock` is that of the project: held by us, or taken as soon as the other program lets it go.
        """
        self.log = log
        self.shelf = materials
        self.read_only = read_only
        """Whether another program works on the project, so that this one records nothing."""
        self._lock = lock
        self._events = events.known(log.events(), log.path)
        self._results: Results = {}
        self.project = fold(self._events, log.path.stem)
        self._typing = {} if read_only else log.typing()
        self.left_at: datetime | None = None
        """When the last thing was done before the project was opened; None for one just made."""

    @classmethod
    def create(
        cls,
        path: Path,
        name: str,
        now: datetime,
        materials: Mapping[str, Material],
        system: System = "metric",
        steady: Steady | None = None,
    ) -> Session:
        """Make a project file and open it."""
        log, lock = Log(path, create=True), Lock(path)
        lock.take()
        session = cls(log, materials, lock)
        session.name(name, system, now, steady)
        return session

    @classmethod
    def open(cls, path: Path, now: datetime, materials: Mapping[str, Material], steady: Steady | None = None) -> Session:
        """Open a project file to work on it, or only to show it while another program works on it."""
        lock = Lock(path) if path.is_file() else None
        read_only = lock is not None and not lock.take()
        try:
            session = cls(Log(path, read_only=read_only), materials, lock, read_only=read_only)
            session.left_at = _left(session._events, now)
            if not read_only:
                session.resume(now, steady)
        except BaseException:
            if lock is not None:
                lock.release()
            raise
        return session

    def resume(self, now: datetime, steady: Steady | None = None) -> None:
        """Record that it is worked on again, how the computer's clock was set meanwhile, and the alarms that came up.

        Those that fell due are missed ones.
        """
        self._record(events.Opened(steady), now)
        self.check_wall_clock(now, steady)
        for clock in self.clocks:
            stage = clocks_.stage(clock, now)
            if stage is not None and stage not in clock.raised:
                self._record(events.AlarmRaised(clock=clock.key, stage="missed" if stage == "due" else stage), now)

    def close(self) -> None:
        """Close the project file and let another program write to it."""
        self.log.close()
        if self._lock is not None:
            self._lock.release()

    # The computer's clock

    def check_wall_clock(self, now: datetime, steady: Steady | None) -> timedelta | None:
        """Find that the computer's clock was set and record it: all clocks keep the time that has passed and that is left.

        Returns by how much it was set forward; None while it was not, or while nothing is known but the wall clock.
        """
        base = self.project.base
        if steady is None or base is None or base.boot != steady.boot or self.read_only:
            return None
        shift = now - (base.nought + timedelta(seconds=steady.seconds))
        if abs(shift) <= APART:
            return None
        self._record(events.WallClockSet(shift_s=round(shift.total_seconds(), 3), shown=_way(shift)), now)
        if self.left_at is not None:
            self.left_at += shift
        return shift

    def set_notice(self, now: datetime) -> str:
        """Return what to say of the last time that the computer's clock was set; '' when it was not."""
        last = self.project.wall_set
        if last is None:
            return ""
        base = self.project.base
        older = [clock.title for clock in self.clocks if base is not None and int(clock.key) < base.since]
        words = phrase(
            "CLOCK WAS SET forward {time} at {at}; clocks keep the time that passed"
            if last.shift > timedelta()
            else "CLOCK WAS SET back {time} at {at}; clocks keep the time that passed",
            clocks_.duration(abs(last.shift)),
            clocks_.wall(last.at, now),
        )
        if older:
            words = phrase("{words}; check those begun before the computer was started: {clocks}", words, ", ".join(older))
        return words

    def follow(self) -> None:
        """Where another program works on the project: take in what it recorded, and its place once it has let go."""
        if self._lock is not None and self._lock.take():
            reader, self.log = self.log, Log(self.log.path)
            reader.close()
            self.read_only = False
            self._typing = self.log.typing()
        for event in events.known(self.log.events(after=len(self._events)), self.log.path):
            self._take(event)

    def name(self, name: str, system: System, now: datetime, steady: Steady | None = None) -> None:
        """Name the project and choose the units it shows."""
        self._record(events.Named(name.strip(), system, steady), now)

    # Parts and runs

    def add_part(self, name: str, now: datetime) -> str:
        """Add a part and return its name; UsageError when it is empty or taken."""
        name = " ".join(name.split())[:40]
        if not name:
            raise UsageError(phrase("the part has no name; type one"))
        if name in self.project.parts:
            raise UsageError(phrase("there is a part '{part}' already; choose it or type another name", name))
        self._record(events.PartAdded(name=name), now)
        return name

    def free_part(self, kind: str) -> str:
        """Return a name for a new part of a kind: the first number not taken."""
        number = 1
        while f"{kind} {number}" in self.project.parts:
            number += 1
        return f"{kind} {number}"

    def begin(self, part: str, recipe: Recipe, now: datetime) -> None:
        """Begin a recipe on a part and put it on the bench."""
        if part not in self.project.parts:
            raise UsageError(phrase("there is no part '{part}'; add it first", part))
        draft = Run("", part, recipe, now, Place(0, 1, -1))
        place, _ = next_place(draft, draft.place, {}, now)
        begun = events.RunBegun(
            part=part, recipe=recipe.name, version=recipe.version, date=recipe.date, place=place, text=recipe.text
        )
        self._record(begun, now)

    def choose(self, run_key: str, now: datetime) -> None:
        """Put another run on the bench."""
        if run_key != self.project.current:
            self._record(events.RunChosen(run=run_key), now)

    def set(self, name: str, value: str, now: datetime) -> None:
        """Change a setting of the project: system (metric or inch), theme (dark or light) or reading_holds (such as 4 h)."""
        self._record(events.SettingChanged(name=_SETTINGS[name], value=value), now)

    # The bench

    @property
    def run(self) -> Run:
        """The run on the bench; NotNow when there is none."""
        if self.project.run is None:
            raise NotNow(phrase("no recipe is on the bench; choose a part and a recipe first"))
        return self.project.run

    @property
    def under_way(self) -> list[Run]:
        """The runs that are not over, the one worked on last first."""
        runs = (run for run in self.project.runs.values() if run.finished_at is None)
        return sorted(runs, key=lambda run: run.last_at, reverse=True)

    def _judge(self, now: datetime) -> Judge:
        """Return who decides about the run on the bench."""
        run = self.run
        return Judge(self.project, run, self.shelf, now, Values(run, self.project.system, self._results))

    def view(self, now: datetime) -> View:
        """Return what the bench shows now."""
        return Viewer(self._judge(now)).view()

    def pick(self, key: str, now: datetime) -> str:
        """Take what `key` of the view's answers stands for: answer, judge, repeat the section, take up a step for later."""
        found = in_hand(self.run)
        match found:
            case AtSectionEnd():
                return self.repeat(key, now) if key == turn_choice(self.run) else self.take_up(key, now)
            case AtEnd():
                return self.take_up(key, now)
            case AtStep(step) if isinstance(step.act, Gate):
                return self.judge(key, now)
            case AtStep() | BeforeCaution() | Over():
                return self.answer(key, now)
            case _:
                assert_never(found)

    def done(self, now: datetime) -> str:
        """Do what Enter does at this place and return what was done, in a word or two; NotNow when Enter does not pass it."""
        run = self.run
        found = in_hand(run)
        match found:
            case Over():
                if run.given_up:
                    raise NotNow(phrase("this run is given up; choose other work"))
                raise NotNow(phrase("this run is finished; choose other work"))
            case AtEnd():
                if run.for_later:
                    raise NotNow(phrase("{count} left for later: do each, or say why it is not needed", len(run.for_later)))
                self._record(events.RunFinished(run=run.key), now)
                return phrase("FINISHED")
            case AtSectionEnd():
                self._section_done(now)
                return phrase("SECTION DONE")
            case BeforeCaution():
                raise NotNow(phrase("a caution is passed with the key * once it is read"))
            case AtStep(step):
                judge = self._judge(now)
                if why := judge.bars(step.act):
                    raise NotNow(why)
                return self._step_done(judge, step)
            case _:
                assert_never(found)

    def _at_step(self) -> Step | None:
        """Return the step in hand whose cautions have been read."""
        found = in_hand(self.run)
        return found.step if isinstance(found, AtStep) else None

    def answer(self, text: str, now: datetime, *, sure: bool = False) -> str:
        """Answer a question with a typed text or the key of a choice, and return what was recorded.

        Raises EntryError for a text that is no answer, Doubt for one that looks odd unless `sure`.
        """
        step, judge = self._at_step(), self._judge(now)
        match step.act if step is not None else None:
            case Ask(answer=ChoiceAnswer() | ShelfAnswer() as answer) as act if step is not None:
                return self._chosen(judge, step, act, answer, text)
            case Ask(answer=MeasureAnswer() | CountAnswer() as answer) as act if step is not None:
                value = _read(judge.values.kind(answer), text, self._last_answer(act.into), sure=sure)
                # A count is held as a bare number.
                quantity = value if isinstance(value, Quantity) else Quantity(units.parse_number(str(value)), "")
                shown = self._shown(value)
                reading = Reading(value=quantity, shown=shown) if act.is_shop_temperature else None
                self._step_done(judge, step, values={act.into: Held(quantity)}, shown=shown, typed=text, reading=reading)
                return shown
            case Start() as act if step is not None and judge.length(act) is None:
                length = CLOCK_LENGTH.read(text)
                self._step_done(judge, step, typed=text, length=length)
                return self._shown(length)
            case _:
                raise NotNow(phrase("this step asks for nothing"))

    def judge(self, key: str, now: datetime) -> str:
        """Answer a hold point that is judged by a named state; returns the state's words."""
        step = self.run.step
        if step is None or not isinstance(step.act, Gate) or not isinstance(step.act.by, ChoiceAnswer):
            raise NotNow(phrase("this step is not judged by a choice"))
        words = step.act.by.choices.get(key)
        if words is None:
            raise EntryError(
                phrase("'{text}' is not one of the answers", key),
                phrase("choose one of: {names}", ", ".join(step.act.by.choices)),
            )
        if key in step.act.go[""]:
            self._step_done(self._judge(now), step, shown=words, typed=key)
        else:
            self._record(events.Refused(run=self.run.key, place=self.run.place, answer=key, shown=words), now)
        return words

    def override(self, reason: str, now: datetime) -> str:
        """Pass a hold point for a reason, which the log keeps."""
        step, judge = self._at_step(), self._judge(now)
        if step is None or not judge.judge(step.act).is_closed:
            raise NotNow(phrase("this step is no closed hold point"))
        if not reason.strip():
            raise NotNow(phrase("a hold point is passed only with a reason"))
        self._step_done(judge, step, shown=phrase("passed: {reason}", reason), reason=reason)
        return phrase("PASSED")

    def again(self, now: datetime) -> str:
        """Go back to the first answer that a closed hold point was judged by, to give it anew."""
        run, step = self.run, self._at_step()
        names = judged_by(step.act) if step is not None else None
        if step is None or names is None or self._judge(now).judge(step.act).go is not False:
            raise NotNow(phrase("there is nothing to measure again here"))
        place = asked_for(run, names)
        if place is None:
            raise NotNow(phrase("no answer leads to this; take steps back instead"))
        self._record(events.WentBack(run=run.key, place=run.place, next=place), now)
        return phrase("AGAIN")

    def may_again(self) -> bool:
        """Return whether an answer that the hold point in hand rests on can be given anew."""
        names = judged_by(self.run.step.act) if self.run.step is not None else None
        return names is not None and asked_for(self.run, names) is not None

    def repeat(self, key: str, now: datetime) -> str:
        """At the end of a repeated section: 'again' does it once more than planned, 'enough' stops before the plan is done."""
        run, choice = self.run, turn_choice(self.run)
        repeated = run.recipe.repeated(run.place.section)
        if repeated is None or choice is None or key != choice:
            raise NotNow(phrase("this is not the end of a repeated section"))
        turns, turn = run.turns(run.place.section), run.place.turn
        change = turn + 1 - turns if choice == "again" else turn - turns
        words = phrase(TURN_CHOICES[choice], repeated[1].each)
        self._section_done(now, change, words)
        return words.upper()

    def defer(self, now: datetime) -> str:
        """Leave the step in hand for later; NotNow where it cannot wait."""
        run, step = self.run, self._at_step()
        if step is None or not self._judge(now).may_wait(step):
            raise NotNow(phrase("this step cannot wait"))
        self._advance(events.LeftForLater(run=run.key, place=run.place, next=run.place, headline=step.headline), now)
        return phrase("FOR LATER")

    def take_up(self, key: str, now: datetime) -> str:
        """At the end of a section or of the recipe: take up a step left for later, of the place `key`; returns its headline."""
        run = self.run
        place = next((place for place in run.for_later if str(place) == key), None)
        if place is None or not isinstance(in_hand(run), AtSectionEnd | AtEnd):
            raise NotNow(phrase("there is no such step to take up here"))
        headline = run.recipe.sections[place.section].steps[place.step].headline
        self._record(events.TakenUp(run=run.key, place=place, from_=run.place, shown=headline), now)
        return headline

    def drop(self, reason: str, now: datetime) -> str:
        """Mark the step taken up as not applicable, for a reason that the log keeps."""
        run, step = self.run, self.run.step
        if step is None or run.goes_back_to is None:
            raise NotNow(phrase("only a step left for later and taken up again is dropped"))
        if not reason.strip():
            raise NotNow(phrase("a step is dropped only with a reason"))
        dropped = events.Dropped(run=run.key, place=run.place, next=run.goes_back_to, headline=step.headline, reason=reason)
        self._record(dropped, now)
        return phrase("NOT NEEDED")

    def give_up(self, now: datetime) -> str:
        """End the run on the bench before its end; its clocks go on, and all of it stays in the log."""
        run = self.run
        if run.finished_at is not None:
            raise NotNow(phrase("this run is over already"))
        self._record(events.RunGivenUp(run=run.key), now)
        return phrase("GIVEN UP")

    def here(self, since: datetime, now: datetime) -> Here | None:
        """Return where somebody was who did nothing since then; None at the beginning and the end of a run, and without one."""
        return Viewer(self._judge(now)).here(since) if self.project.run is not None else None

    def back(self, now: datetime) -> str:
        """Take back the last thing done, answered, acknowledged or ended; returns what it was. NotNow when there is nothing."""
        undoable = (self._events[number - 1] for number in reversed(self.project.undo))
        event = next((event for event in undoable if event.what.of_run in (None, self.project.current)), None)
        if event is None:
            raise NotNow(phrase("nothing to take back"))
        self._record(events.TakenBack(event=event.id), now)
        return event.what.title

    # What is being typed

    @property
    def step_place(self) -> str:
        """The name of the place at which the run on the bench stands: another run, step or turn has another."""
        return f"step:{self.run.key} {self.run.place}"

    def typing(self, place: str) -> tuple[str, str]:
        """Return the text and the unit half typed at a place, as they were typed; both '' where nothing is."""
        return self._typing.get(place, ("", ""))

    def keep_typing(self, place: str, text: str, unit: str) -> None:
        """Keep on disk what is half typed at a place, in place of what was; with neither text nor unit forget it.

        It is no event and answers nothing: it goes with the step it is typed at. A window that only reads keeps none.
        """
        if self.read_only or (text, unit) == self.typing(place):
            return
        self.log.keep_typing(place, text, unit)
        self._typing[place] = (text, unit)

    # Clocks

    @property
    def clocks(self) -> list[Clock]:
        """The clocks not ended, in the order they were started."""
        return [clock for clock in self.project.clocks.values() if clock.ended_at is None]

    @property
    def leaving(self) -> str:
        """The question before the program is left while clocks run, '' where none does."""
        running = len(self.clocks)
        if running == 1:
            return phrase("1 clock is running and cannot ring while shopmate is shut. Leave?")
        return phrase("{count} clocks are running and cannot ring while shopmate is shut. Leave?", running) if running else ""

    @property
    def slots(self) -> dict[str, int]:
        """The slot of each clock not ended, from 0."""
        return clocks_.slots(self.project.clocks.values())

    def tick(self, now: datetime) -> list[Clock]:
        """Record the alarms that have come up, or are back, since the last look and return their clocks.

        While another program works on the project it records them, and this one follows.
        """
        if self.read_only:
            self.follow()
        raised: list[Clock] = []
        if self.read_only:
            return raised
        for clock in self.clocks:
            stage = clocks_.stage(clock, now)
            if stage is None:
                continue
            if stage not in clock.raised:
                self._record(events.AlarmRaised(clock=clock.key, stage=stage), now)
            elif clocks_.is_back(clock, now):
                self._record(events.AlarmBack(clock=clock.key, stage=stage, shown=clock.title), now)
            else:
                continue
            raised.append(self.project.clocks[clock.key])
        return raised

    def acknowledge(self, now: datetime) -> str:
        """Acknowledge the caution on the bench or the most urgent alarm, and nothing else.

        Raises NotNow when there is none, or when the alarm is not in sight long enough for the key to be meant for it.
        """
        waiting = clocks_.alarms(self.clocks, now)
        if waiting:
            clock, stage = waiting[0], clocks_.stage(waiting[0], now)
            if stage is None or not clocks_.in_sight(clock, self.project.clocks.values(), now):
                raise NotNow(phrase("NEW ALARM: read it, then * again"))
            self._record(events.Acknowledged(clock=clock.key, stage=stage, shown=clock.title), now)
            return phrase("SEEN {clock}", clock.title)
        run = self.project.run
        if run is not None and isinstance(found := in_hand(run), BeforeCaution):
            signal = found.caution.signal
            self._record(events.CautionRead(run=run.key, place=run.place, caution=found.number, shown=signal), now)
            return phrase("READ {signal}", phrase(signal))
        raise NotNow(phrase("nothing to acknowledge"))

    def shelve(self, minutes: int, now: datetime) -> str:
        """Put the most urgent alarm off, never beyond a DO BEFORE limit; NotNow when it may not be."""
        clock = self.may_shelve(now)
        if clock is None:
            raise NotNow(phrase("this alarm cannot be put off; acknowledge it"))
        until = now + timedelta(minutes=minutes)
        if clock.closes:
            until = min(until, clock.due_at)
        self._record(events.PutOff(clock=clock.key, until=until, shown=clock.title), now)
        return phrase("LATER {clock} {at}", clock.title, clocks_.wall(until, now))

    def may_shelve(self, now: datetime) -> Clock | None:
        """Return the most urgent alarm if it may be put off."""
        waiting = clocks_.alarms(self.clocks, now)
        return waiting[0] if waiting and clocks_.may_shelve(waiting[0], now) else None

    def end_clock(self, key: str, now: datetime) -> str:
        """End a clock because what it stood for is done."""
        clock = self.project.clocks[key]
        self._record(events.ClockEnded(clock=key, shown=clock.title), now)
        return phrase("ENDED {clock}", clock.title)

    def start_own(self, text: str, now: datetime) -> str:
        """Start a clock of the user's own that counts down to DO BEFORE; EntryError for a text that is no such length."""
        length = timedelta(minutes=CLOCK_LENGTH.read(text).value_in("min"))
        count = sum(clock.name == "own" for clock in self.project.clocks.values()) + 1
        return self.start_clock(phrase("Own clock {count}", count), "DO BEFORE", length, now)

    def start_clock(self, title: str, kind: ClockKind, length: timedelta, now: datetime) -> str:
        """Start a clock of the user's own, outside any recipe."""
        limit = Limit(
            name="own",
            title=title[:18],
            kind=kind,
            seconds=length.total_seconds(),
            action=phrase("Look at it"),
            if_late=phrase("It is past its time."),
            time_to_act_s=clocks_.AT_ONCE.total_seconds(),
            consequence=phrase("It is past its time."),
        )
        self._record(events.ClockStarted(clock=limit, shown=title), now)
        return phrase("STARTED {clock}", title)

    def log_temperature(self, text: str, now: datetime, *, sure: bool = False) -> str:
        """Record a temperature of the shop: clocks that go by it move at once. Returns it as shown.

        Raises EntryError for a text that is no temperature, Doubt for an odd one unless `sure`.
        """
        value = SHOP_TEMPERATURE.read(text)
        if not sure and (question := doubt(SHOP_TEMPERATURE, value)):
            raise Doubt(question)
        read = events.TemperatureRead(value=value, shown=self._shown(value), typed=text)
        self._record(replace(read, moved=self._moves(self._after(read, now))), now)
        return phrase("SHOP {temperature}", read.shown)

    def log_sound(self, heard: bool, now: datetime) -> None:
        """Record whether the bell was heard when it was tried."""
        self._record(events.SoundTried(heard=heard, shown=phrase("3 beeps heard" if heard else "3 beeps not heard")), now)

    def wants_temperature(self, now: datetime) -> bool:
        """Return whether a running clock goes by the shop temperature, and its last reading is old or missing."""
        if all(clock.aging is None for clock in self.clocks):
            return False
        return not self.project.readings or now - self.project.readings[-1][0] > self.project.reading_holds

    def last_reading(self, now: datetime) -> str:
        """Return the last reading of the shop temperature and how old it is, in words."""
        if not self.project.readings:
            return phrase("not read yet")
        at, celsius = self.project.readings[-1]
        # As typed it may be in °F for who reads in °C.
        shown = units.display(Quantity(celsius, "°C"), self.project.system, 0)
        words = f"{shown}, {clocks_.ago(at, now)}"
        return phrase("{reading}; old: read it again", words) if self.wants_temperature(now) else words

    # Calculators

    def remember(self, calculator: str, texts: Mapping[str, str], now: datetime) -> None:
        """Keep what was entered in a calculator's form, to be offered next time."""
        if not self.read_only and dict(texts) != self.project.forms.get(calculator, {}):
            self._record(events.FormFilled(calculator=calculator, texts=dict(texts)), now)

    def keep(self, calculator: str, texts: Mapping[str, str], now: datetime) -> Result:
        """Keep a calculator's result in the log and return it; raises InputError."""
        result = calc.run(calculator, texts)
        self._record(events.ResultKept(calculator=calculator, texts=dict(texts), result=result), now)
        return result

    # The shelf

    def save_material(self, material: Material, now: datetime, *, sure: bool = False) -> None:
        """Save a material on the user's shelf and record each figure that changed: the log tells what a part was built with.

        Raises as `recipe.save_material` does; then nothing is recorded. It is not taken back: the shelf is not the project's.
        """
        was = shelf().get(material.name)
        recipes.save_material(paths.shelf(), material, sure=sure)
        self.shelf = shelf()
        for figure, before, after in recipes.changes(was, material):
            shown = f"{figure.replace('_', ' ')}: {after or phrase('no figure')}"
            if before is not None:
                shown = phrase("{figure}, was {before}", shown, before)
            changed = events.ShelfChanged(material=material.name, figure=figure, was=before, now=after, shown=shown)
            self._record(changed, now)

    # What the methods above are made of

    def _record(self, what: Happened, now: datetime) -> None:
        """Write an event to disk; only then does the project show it. NotNow while another program works on the project."""
        if self.read_only:
            raise NotNow(phrase("READ ONLY: another window works on this project; work there, or close it"))
        over = self.step_place if what.leaves_step and self.project.run is not None else None
        event = self.log.append(what.kind, what.as_json(), now, over=over)
        if over is not None:
            self._typing.pop(over, None)
        self._take(events.read(event))

    def _take(self, event: Recorded) -> None:
        """Let the project continue by an event that is on disk; only one that takes back another needs all of them again."""
        self._events.append(event)
        whole = isinstance(event.what, events.TakenBack)
        self.project = fold(self._events, self.log.path.stem) if whole else advance(self.project, event)

    def _after(self, what: Happened, now: datetime) -> Project:
        """Return the project as it would be after one more event."""
        return advance(self.project, Recorded(len(self._events) + 1, now, what))

    def _section_done(self, now: datetime, turns: int | None = None, shown: str | None = None) -> None:
        run = self.run
        headline = phrase("Section complete")
        self._advance(events.SectionDone(run.key, run.place, next=run.place, headline=headline, turns=turns, shown=shown), now)

    def _step_done(
        self,
        judge: Judge,
        step: Step,
        *,
        values: Mapping[str, Held] | None = None,
        shown: str = "",
        typed: str | None = None,
        reason: str | None = None,
        length: Quantity | None = None,
        reading: Reading | None = None,
    ) -> str:
        run, act, now = self.run, step.act, judge.now
        judged = judge.judge(act)
        done = StepDone(
            run=run.key,
            place=run.place,
            next=run.place,
            headline=step.headline,
            shown=shown or (judged.verdict if isinstance(act, Gate) else ""),
            values=values,
            typed=typed,
            reason=reason,
            reading=reading,
            ends=self._ends(step),
        )
        if (work := worked_by(act)) is not None and judged.result is not None:
            figures = large(work, judge.values.presented(work, judged.result))
            words = shown or ", ".join(str(figure.shown) for figure in figures)
            done = replace(done, into=work.into, result=judged.result, shown=words)
        elif isinstance(act, Start):
            clock = self._limit(judge, act, length)
            until = clocks_.wall(now + timedelta(seconds=clock.seconds), now)
            done = replace(done, clock=clock, shown=f"{phrase(act.kind)} {until}")
        self._advance(done, now)
        return phrase("DONE")

    def _ends(self, step: Step) -> tuple[str, ...] | None:
        """Return the keys of the clocks that doing a step ends, None where it ends none."""
        clocks, run = self.project.clocks, self.run
        ends = [key for key in (run.clocks.get(step.ends or ""),) if key and clocks[key].ended_at is None]
        if isinstance(step.act, Wait) and (key := run.clocks.get(step.act.clock)):
            ends.append(key)
        return tuple(ends) or None

    def _limit(self, judge: Judge, act: Start, typed: Quantity | None) -> Limit:
        values = judge.values
        length, to_act = typed or judge.length(act), values.quantity(act.time_to_act, "min")
        assert length is not None
        sheet = values.quantity(act.ages_at, "°C")
        return Limit(
            name=act.clock,
            title=act.title,
            kind=act.kind,
            seconds=length.value_in("s"),
            action=act.action,
            if_late=act.if_late,
            time_to_act_s=to_act.value_in("s") if to_act is not None else clocks_.AT_ONCE.total_seconds(),
            consequence=act.consequence,
            sheet_celsius=sheet.value_in("°C") if sheet is not None else None,
        )

    def _advance(self, what: StepDone | events.SectionDone | events.LeftForLater, now: datetime) -> None:
        """Record that the place is done, with the place that follows as it stands now.

        What follows may hang on what this step gives (an answer, a clock started or ended), so it is looked up in
        the project as it would be with the step done.
        """
        run = self.run
        after = self._after(what, now)
        following, passed = next_place(after.runs[run.key], run.place, after.clocks, now)
        if run.goes_back_to is not None:
            following, passed = run.goes_back_to, []
        if isinstance(what, StepDone) and what.reading is not None:
            what = replace(what, moved=self._moves(after))
        self._record(replace(what, next=following, passed=tuple(passed)), now)

    def _moves(self, after: Project) -> tuple[Move, ...]:
        """Return which limits differ in the project `after`, with both times, for the log to keep."""
        return tuple(
            Move(clock.title, was=self.project.clocks[key].due_at, now=clock.due_at)
            for key, clock in after.clocks.items()
            if key in self.project.clocks and clock.due_at != self.project.clocks[key].due_at
        )

    def _chosen(self, judge: Judge, step: Step, act: Ask, answer: ChoiceAnswer | ShelfAnswer, text: str) -> str:
        options = judge.options(answer)
        option = next((option for option in options if text in (option.key, option.label)), None)
        if option is None:
            raise EntryError(
                phrase("'{text}' is not one of the answers", text),
                phrase("choose one of: {names}", ", ".join(o.key for o in options)),
            )
        values = {act.into: Held(option.key, option.label)}
        if isinstance(answer, ShelfAnswer):
            values = material_values(act.into, self.shelf[option.key])
        self._step_done(judge, step, values=values, shown=option.label)
        return option.label

    def _last_answer(self, into: str) -> Quantity | None:
        """Return what was answered last to the question of that name: in this run, else in another of the same recipe."""
        runs = [run for run in reversed(self.project.runs.values()) if run.recipe.name == self.run.recipe.name]
        for run in (self.run, *runs):
            if into in run.values:
                return run.values[into].quantity
        return None

    def _shown(self, value: Value) -> str:
        if isinstance(value, Quantity):
            return str(units.display(value, self.project.system))
        return str(value)


def _left(recorded: Iterable[Recorded], now: datetime) -> datetime:
    """Return when the last thing was done, by the wall clock as it was set since; `now` where nothing was."""
    left_at = now
    for event in recorded:
        if isinstance(event.what, events.WallClockSet):
            left_at += event.what.shift
        elif event.what.kind not in (events.Opened.kind, events.AlarmRaised.kind):
            left_at = event.at
    return left_at


def _way(shift: timedelta) -> str:
    return phrase("forward {time}" if shift > timedelta() else "back {time}", clocks_.duration(abs(shift)))


def _read(kind: Kind, text: str, before: Value | None, *, sure: bool) -> Value:
    """Return the value of an answer; EntryError where it is none, Doubt where it looks odd unless `sure`."""
    value = kind.read(text)
    question = doubt(kind, value, before)
    if question is not None and not sure:
        raise Doubt(question)
    return value
