"""A builder who knows no recipe by heart: follows any by keypad in the real program, as it asks, and counts the keys."""

from __future__ import annotations

import json
import os
import sys
from collections import Counter
from collections.abc import Mapping
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path

from shopmate import clock as clocks
from shopmate import units
from shopmate.calculator import Measure
from shopmate.clock import Clock
from shopmate.dialogue.step import answers, reasons
from shopmate.errors import LogError
from shopmate.project.place import Place
from shopmate.recipe import Ask
from shopmate.session import (
    CautionView,
    ChooseView,
    EnterView,
    FinishedView,
    GateView,
    RowsView,
    Session,
    View,
    WaitView,
    last_project,
    shelf,
)
from terminal.conftest import ROOT, UNGUARDED
from terminal.screen import ENTER, Terminal
from terminal.timed import set_time

BEGAN = datetime(2026, 5, 4, 8, 0, tzinfo=UTC)

PACE = timedelta(seconds=50)
"""How long each thing asked takes, if nothing else is said; under the minute after which the bench tells where somebody was."""

_READ = timedelta(seconds=5)
"""How long an alarm is looked at before it is acknowledged."""

_NO_EFFECT = 3
"""How often a thing is asked with nothing coming of it before that is given up."""

_SOON = 5.0
"""Seconds within which something comes of a key, if anything does."""

_TENTHS = 10.0
"""From which a figure is typed to the tenth, as a bench scale shows it."""

LIKELY = {"low": "18", "humidity": "50"}
"""What is answered to a question by the last word of its name, whatever recipe asks it."""

BY_KIND = {"temperature": "20", "length": "1", "mass": "50", "time": "20"}
"""What is answered by the dimension asked for, where the recipe neither offers nor expects anything."""


def opened(home: Path, now: datetime, program: str = "timed.py", *words: str) -> Terminal:
    """Return a terminal of 80 by 24 with the program in it, at a time that stands still until it is moved.

    `program` is the file beside this one that opens the bench by that time, given `words`.
    """
    home.mkdir(parents=True, exist_ok=True)
    # The guards against keys held down are off, since keys are sent as soon as they can be taken.
    (home / "settings.json").write_text(json.dumps({**UNGUARDED, "bounce_ms": 0}), encoding="utf-8")
    set_time(home, now)
    path = os.pathsep.join(map(str, (ROOT, ROOT / "tests")))
    return Terminal([sys.executable, str(Path(__file__).with_name(program)), *words], home, PYTHONPATH=path)


class Follower:
    """Sits at a terminal of the program, with the same project open beside it to see what it asks."""

    def __init__(self, home: Path, answers: Mapping[str, str], pace: timedelta = PACE) -> None:
        """Start the program in `home`, which $SHOPMATE_HOME has to name too.

        `answers` are by the name a value is kept under; `pace` is how long each thing asked takes by the clock.
        """
        self.home, self.answers, self.pace, self.now = home, answers, pace, BEGAN
        self.terminal = opened(home, self.now)
        self.keys: Counter[str] = Counter()
        """Keys by section."""
        self.screens: Counter[str] = Counter()
        """Things asked by section."""
        self.turns: dict[str, int] = {}
        """How often each section was worked through: once, or once a pot or a coat."""
        self.odd: list[str] = []
        """Headlines of what was asked about once more, because the value was odd."""
        self.section = "begin"
        self._beside: Session | None = None
        self._left = set(answers)
        """Names of the answers not asked for so far."""

    def close(self) -> None:
        """End the program and close the project."""
        self.terminal.close()
        if self._beside is not None:
            self._beside.close()

    # Hands

    def press(self, keys: str) -> None:
        """Press keys one after another, and count them."""
        for key in keys:
            self.keys[self.section] += 1
            self.terminal.send(key)

    def choose(self, label: str) -> None:
        """Press the digit that stands beside an answer."""
        self.press(self.terminal.until(lambda: self.terminal.digit_of(label), f"the answer '{label}'"))

    def wait(self, length: timedelta) -> None:
        """Let time go on; what comes due by then is on the screen when this returns."""
        self.now += length
        set_time(self.home, self.now)
        if self._beside is not None and clocks.alarms(self.session.clocks, self.now):
            self.terminal.until(self._alarm_is_up, "the alarm")

    # Eyes

    @property
    def session(self) -> Session:
        """The project as it is on disk."""
        assert self._beside is not None
        with suppress(LogError):  # the program writes just now; it is looked at again
            self._beside.follow(self.now)
        return self._beside

    @property
    def view(self) -> View:
        """What the run on the bench asks."""
        return self.session.view(self.now)

    def _alarm_is_up(self) -> bool:
        waiting = clocks.alarms(self.session.clocks, self.now)
        return not waiting or clocks.raised_at(waiting[0], self.now) is not None

    # The work

    def begin(self, title: str, part: str = "Panel") -> None:
        """Make a project and a part, and begin a recipe on it."""
        self.choose("New project")
        self.terminal.until_shown("Enter uses: Project 1")
        self.press(ENTER)
        self.choose("Metric")
        self.choose("Start a recipe on a part")
        self.choose(f"New: {part}")
        self._turn_to(title)
        self.choose(title)
        self.terminal.until_shown("plan it")
        self.press(ENTER)
        self.terminal.until(self._has_begun, "the first step")

    def _turn_to(self, title: str) -> None:
        """Turn the list of recipes, once it is read, to the page on which a title stands."""
        at = self.terminal
        at.until(lambda: "Which recipe?" in at.picture and "Loading" not in at.picture and "1  " in at.picture, "the list")
        for _ in range(9):
            if at.digit_of(title):
                return
            before = at.picture
            self.press("+")
            at.until(lambda before=before: at.picture != before, "the next page")

    def _has_begun(self) -> bool:
        path = last_project()
        if self._beside is None and path is not None:
            self._beside = Session.open(path, self.now, shelf())
        return self._beside is not None and self.session.project.run is not None

    def follow(self) -> None:
        """Do what is asked until the recipe is complete."""
        vain = 0
        while True:
            self.wait(self.pace)
            self._see_alarms()
            view = self.view
            if isinstance(view, FinishedView):
                assert not self._left, f"never asked for: {', '.join(sorted(self._left))}"
                return
            self.section = view.frame.section or self.section
            if isinstance(view, WaitView) and not view.go:
                self._wait_for_clock()
                continue
            self.screens[self.section] += 1
            self.turns[self.section] = view.place.turn
            vain = 0 if self._act(view) else vain + 1
            if vain == _NO_EFFECT:
                raise AssertionError(
                    f"nothing comes of what '{view.headline}' is answered; the screen shows\n{self.terminal.picture}"
                )

    def _see_alarms(self) -> None:
        while waiting := clocks.alarms(self.session.clocks, self.now):
            self.wait(_READ)
            self.press("*")
            self.terminal.until(partial(self._others_wait, waiting), "the alarm to be seen")

    def _others_wait(self, before: list[Clock]) -> bool:
        return clocks.alarms(self.session.clocks, self.now) != before

    def _wait_for_clock(self) -> None:
        """Wait until the next clock that opens something is due."""
        due = [clock.due_at for clock in self.session.clocks if not clock.closes and clock.due_at > self.now]
        self.wait(min(due) - self.now if due else self.pace)

    def _act(self, view: View) -> bool:
        """Answer what is asked; return whether it led on."""
        self.terminal.until(partial(self._shows, view), f"'{view.headline}'")
        if self._stops:
            self.press(ENTER)
            self.terminal.until(lambda: not self._stops or self.view != view, "the step to go on with")
        if self.view != view:
            return True
        if offered := reasons(view):
            self._pass(offered[0])
        else:
            self.press(self.keys_for(view))
        return self._led_on(view)

    def _shows(self, view: View) -> bool:
        """Whether the screen asks what the project does, of a caution all of it, or something else is asked by now."""
        words = " ".join(self.terminal.picture.split())
        read = view.frame.detail if isinstance(view, CautionView) else ()
        is_shown = self.terminal.headline([view.headline]) is not None and all(" ".join(text.split()) in words for text in read)
        return is_shown or self._stops or self.view != view

    @property
    def _stops(self) -> bool:
        """Whether it has to be said first that the work goes on, as after an alarm."""
        return "YOU WERE HERE" in self.terminal.picture and "continue" in self.terminal.picture

    def _pass(self, reason: str) -> None:
        """Pass what passes only with a reason."""
        self.press("0")
        self.choose(reason)
        self.terminal.until_shown("override it")
        self.press(ENTER)

    def _led_on(self, before: View) -> bool:
        """Wait until something else is asked; give an odd value once more, and return False where nothing comes of the keys."""
        try:
            if self.terminal.until(partial(self._came, before), "what comes next", _SOON) == "odd":
                self.odd.append(before.headline)
                self.press(ENTER)
                self.terminal.until(lambda: self.view != before, "what comes after an odd value", _SOON)
        except AssertionError:
            return False
        return True

    def _came(self, before: View) -> str:
        """Return what came of the keys, '' where nothing did so far."""
        if self.view != before:
            return "on"
        return "odd" if "Enter again if so" in self.terminal.picture else ""

    # What is asked now -> keys

    def keys_for(self, view: View) -> str:
        """Return the keys that answer what is asked; what is only confirmed, of whatever kind, takes Enter."""
        match view:
            case CautionView():
                return "*"
            case EnterView():
                return self._value(view) + ENTER
            case ChooseView(offered=offered, options=options):
                wanted = self._given(self._name(view))
                if wanted is None and offered is not None:
                    return ENTER
                return str(next((at for at, option in enumerate(options, 1) if option.key == wanted), 1))
            case GateView() if answers(view):
                return "1"
            case RowsView():
                return self._row(view) or ENTER
            case _:
                return ENTER

    def _row(self, view: RowsView) -> str:
        """Return the keys that answer one of several questions otherwise than is offered, '' where none is left to be."""
        for row in view.frame.rows:
            if row.is_question and row.number and self._name_at(row.place) in self._left:
                return str(row.number) + self.keys_for(self.session.view(self.now, row.place))
        return ""

    def _name(self, view: View) -> str:
        """Return the name under which the value asked for is kept, '' where none is asked for."""
        return self._name_at(view.place)

    def _name_at(self, place: Place) -> str:
        act = self.session.run.recipe.sections[place.section].steps[place.step].act
        return act.into if isinstance(act, Ask) else ""

    def _given(self, name: str) -> str | None:
        """Return the answer given by name, None where there is none."""
        self._left.discard(name)
        return self.answers.get(name)

    def _value(self, view: EnterView) -> str:
        """Return what is typed: the answer given by name, nothing where one is offered, the target, or what is usual."""
        name = self._name(view)
        if (given := self._given(name)) is not None:
            return given
        if view.default:
            return ""
        likely = LIKELY.get(name.rpartition("_")[2])
        return likely or self._target(view) or BY_KIND.get(units.dimension(view.unit) if view.unit else "", "1")

    def _target(self, view: EnterView) -> str:
        """Return the middle of what is expected, to the tenth that a scale shows; '' where nothing is."""
        entry = view.entry
        if not isinstance(entry, Measure) or entry.soft_low is None or entry.soft_high is None:
            return ""
        middle = units.Quantity((entry.soft_low + entry.soft_high) / 2, entry.unit).value_in(view.begins_in or entry.unit)
        return f"{float(f'{middle:.1f}' if middle >= _TENTHS else f'{middle:.3g}'):g}"
