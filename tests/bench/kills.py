"""Count what is lost, doubled or not opened again when the program is killed while keys are fed.

Run: python tests/bench/kills.py [kills [seed]]. The real program runs in a terminal of its own. A third of the kills come at
random: it types a length, takes it as answered, takes it back, and so on, until SIGKILL comes after so many keys, at a moment
drawn by the seed. What was seen on the screen has to be in the log, once, and the next start has to show where the log is.

The others come between two events of one Enter: rows taken together, and what follows by itself. Recipes are followed to such
an Enter, it is pressed, the program ends itself after so many events (`terminal/cut.py`) and is opened again, until all are on
disk: the same, in the same order, as if it had not been killed. Ends non-zero where anything is counted.
"""

from __future__ import annotations

import random
import re
import shutil
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from datetime import UTC, datetime
from functools import partial
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parents[1]))

from conftest import BEGAN, every_step, materials
from terminal.cut import KINDS
from terminal.follower import opened
from terminal.screen import ENTER, Terminal

from shopmate.log import SUFFIX, Event, Log
from shopmate.project import events_of
from shopmate.recipe import Recipe
from shopmate.session import DoView, EnterView, FinishedView, RowsView, Session, StartView, View, WorkOutView, find_recipe
from shopmate.session.demo import follow

ASKED = "Give the length"
FOLLOWS = "Read the air"
"""What comes after it, past the end of its section, which needs no key."""

BACK = f"--{ENTER}"
"""The keys that take back there: the first begins a temperature below zero, the last says that it is meant."""

WHOLE = re.compile(r"(DS-)*(DS?)?")
"""How the log may read, by `story`: every length with the end of its section, but one the kill came right after."""

ROOT = Path(__file__).parents[2]
ERASE = "\x7f"

FOLLOWED = ("fillet", "bonding")
"""The recipes in which Enter is pressed that records several events."""

LONGEST = 0.4
"""Seconds after the last key within which the program is killed."""

LIMIT = 20.0
"""Seconds after which an action is no longer waited for."""


def made(home: Path) -> Path:
    """Make a project whose step in hand asks for a length and return its file."""
    now, path = datetime.now(UTC), home / "projects" / f"kills{SUFFIX}"
    session = Session.create(path, "Kills", now, materials())
    session.begin(session.add_part("Panel 1", now), every_step(), now)
    for answer in ("epoxy", "epoxy-2to1-slow", "3"):
        session.answer(answer, now)
    session.close()
    (home / "settings.json").write_text('{"hold_ms": 0, "repeat_ms": 0, "settle_ms": 0, "bounce_ms": 0}', encoding="utf-8")
    return path


def recorded(path: Path) -> list[str]:
    """Return the lengths answered, as typed, and '-' for each taken back, in the order of the log."""
    found = []
    for event in events_of(path):
        if event.kind == "done" and str(event.data.get("typed", "")).endswith("mm"):
            found.append(str(event.data["typed"]).removesuffix(" mm"))
        elif event.kind == "undone":
            found.append("-")
    return found


def story(path: Path) -> str:
    """Return the log in short: D for a length answered, S for the end of its section, '-' for both taken back."""
    found = ""
    for event in events_of(path):
        if event.kind == "done" and str(event.data.get("typed", "")).endswith("mm"):
            found += "D"
        elif event.kind == "undone":
            found += "-"
        elif event.kind == "section":
            found += "S"
    return found


def half_typed(path: Path) -> int:
    """Return how many characters were half typed when the program was killed."""
    with Log(path, read_only=True) as log:
        return sum(len(text) for place, (text, _) in log.typing().items() if place.startswith("step:"))


class Round:
    """The program opened once, worked with until it is killed."""

    def __init__(self, home: Path, numbers: Iterator[int]) -> None:
        self._terminal = Terminal((sys.executable, "-m", "shopmate"), home, PYTHONPATH=str(ROOT))
        self._numbers = numbers
        self.seen: list[str] = []
        """What the screen showed as done, in order."""

    def open(self, half_typed: int) -> bool:
        """Wait for the step in hand, go on with it and erase the characters half typed when the round before was killed.

        Returns whether the length is asked for, not answered.
        """
        at = self._terminal
        at.until_shown("YOU WERE HERE")
        at.send(ENTER)
        at.until(lambda: "YOU WERE HERE" not in at.picture, "the step to go on with")
        at.until(lambda: self.here() or at.rows[0].startswith("section done"), "a step that is known")
        if self.here() is None:  # the kill came before the end of the section, which is asked for now
            at.send(ENTER)
        here = at.until(self.here, "a step that is known")
        if half_typed:
            at.until_shown("already typed, kept")
            at.send(ERASE * half_typed)
            at.until(lambda: "already typed, kept" not in at.picture, "what was typed before to be erased")
        return here == ASKED

    def here(self) -> str | None:
        """Return which of the two steps is on the screen."""
        return self._terminal.headline([ASKED, FOLLOWS])

    def work(self, asks: bool, times: int, keys: int, seconds: float) -> None:
        """Answer and take back so many times, begin once more with so many keys, and kill within `seconds` of the last."""
        at = self._terminal
        for turn in range(times + 1):
            number = str(next(self._numbers)) if asks else "-"
            pressed = [*number, ENTER] if asks else [*BACK]
            for key in pressed if turn < times else pressed[:keys]:
                if key == ENTER and not asks:
                    at.until_shown("Undo:")
                at.send(key)
            wanted, until = FOLLOWS if asks else ASKED, time.monotonic() + (LIMIT if turn < times else seconds)
            while self.here() != wanted and time.monotonic() < until:
                at.glance(0.001)
            if self.here() == wanted:
                self.seen.append(number)
                asks = not asks
        at.kill()


class Enter(NamedTuple):
    """An Enter that records several events, what follows from it by itself among them."""

    before: Path
    """The project as it was before."""
    at: datetime
    last: int
    """Number of the last event before."""
    events: tuple[Event, ...]
    """What it records."""


def enters(recipe: Recipe, folder: Path) -> list[Enter]:
    """Follow a recipe to its end, and return the keys of Enter that record several events."""
    found = list[Enter]()
    with closing(Session(Log(folder / f"{recipe.name}{SUFFIX}", in_memory=True), materials())) as session:
        session.name("Kills", "metric", BEGAN)
        session.begin(session.add_part("Panel 1", BEGAN), recipe, BEGAN)
        count, view = len(session.log.events()), session.view(BEGAN)

        def copy(count: int) -> Path:
            return folder / f"{recipe.name}-{count}{SUFFIX}"

        def is_over(coming: View) -> bool:
            nonlocal count, view
            events = session.log.events(count)
            if len(events) > 1 and takes_enter(view) and {event.kind for event in events} <= KINDS:
                found.append(Enter(copy(count), events[0].at, count, tuple(events)))
            count, view = count + len(events), coming
            if not copy(count).exists():
                session.log.copy_to(copy(count))
            return isinstance(coming, FinishedView)

        follow(session, BEGAN, {}, is_over)
    return found


def takes_enter(view: View) -> bool:
    """Return whether Enter alone takes what a place asks for, as it stands there."""
    match view:
        case EnterView(default=offered):
            return bool(offered)
        case DoView() | RowsView() | StartView() | WorkOutView():
            return True
        case _:
            return False


def cut_up(enter: Enter, cuts: Sequence[int], home: Path) -> list[str]:
    """Press an Enter, have the program killed after so many of its events, and again until all are on disk; return what is wrong.

    `cuts` are how many of them are on disk at each kill, more at each.
    """
    path, wrong = home / "projects" / f"cut{SUFFIX}", list[str]()
    path.parent.mkdir(parents=True)
    shutil.copyfile(enter.before, path)
    for before, until in pairwise((0, *cuts, len(enter.events))):
        is_killed = until in cuts
        program = ("cut.py", str(until - before)) if is_killed else ()
        with closing(opened(home, enter.at, *program)) as at:
            try:
                if comes_up(at, path):
                    view = in_hand(path, enter.at)
                    at.until(partial(shows, at, view), f"'{view.headline}'")
                while not at.ended and len(steps(path, enter.last)) < until:
                    gone_on = partial(has_gone_on, at, path, len(steps(path)))
                    take(at)
                    at.until(gone_on, "the next event")
                if is_killed:
                    at.wait()
            except AssertionError as error:
                wrong.append(str(error))
        if told(steps(path, enter.last)) != told(enter.events[:until]):
            wrong.append(f"lost, doubled or changed after {until} of {len(enter.events)} events")
    return wrong


def has_gone_on(at: Terminal, path: Path, count: int) -> bool:
    """Return whether more than so many steps are on disk, or the program was killed."""
    return at.ended or len(steps(path)) > count


def in_hand(path: Path, now: datetime) -> View:
    """Return what a project asks that another program works on."""
    with closing(Session.open(path, now, materials())) as session:
        return session.view(now)


def steps(path: Path, after: int = 0) -> list[Event]:
    """Return the steps and ends of sections on disk after the event of a number."""
    return [event for event in events_of(path)[after:] if event.kind in KINDS]


def told(events: Iterable[Event]) -> list[tuple[str, dict[str, object]]]:
    """Return what events say of the work: the same, whether it took a key of its own or not."""
    return [(event.kind, {name: value for name, value in event.data.items() if name != "by_itself"}) for event in events]


def comes_up(at: Terminal, path: Path) -> bool:
    """Go on with the step in hand, where something was done before; return whether the program is still there.

    What a kill left out after a step is recorded at the start: where that is the next thing cut, nothing more comes up.
    """
    if steps(path):
        at.until(lambda: at.ended or "YOU WERE HERE" in at.picture, "the step in hand")
        if at.ended:
            return False
        at.send(ENTER)
    at.until(lambda: at.ended or ("+  clocks" in at.picture and "YOU WERE HERE" not in at.picture), "the step to go on with")
    return not at.ended


def take(at: Terminal) -> None:
    """Press Enter, on every page where what it takes stands on several."""
    while "Enter  next page" in at.picture:
        at.send(ENTER)
        at.until(partial(is_other, at, at.picture), "the next page")
    at.send(ENTER)


def is_other(at: Terminal, before: str) -> bool:
    """Return whether the screen shows something else than before."""
    return at.picture != before


def shows(at: Terminal, view: View) -> bool:
    """Return whether the screen shows what a place asks: its headline, or the first row that is not yet done."""
    if not view.frame.rows:
        return at.headline([view.headline]) is not None
    return all(row.label in at.picture for row in view.frame.rows[:1])


def at_random(home: Path, kills: int, rng: random.Random) -> int:
    """Kill so many times at random moments, print the counts, and return how much was wrong."""
    lost = doubled = unopened = actions = 0
    path = made(home)
    numbers, before = iter(range(1000, 10_000_000)), recorded(path)
    for kill in range(kills):
        turn = Round(home, numbers)
        try:
            asks = turn.open(half_typed(path))
            unopened += asks != (not before or before[-1] == "-")
        except AssertionError as error:
            print(f"kill {kill}: {error}")
            unopened += 1
            asks = False
        turn.work(asks, rng.randrange(4), rng.randrange(6), rng.uniform(0, LONGEST))
        after = recorded(path)
        new = after[len(before) :]
        if after[: len(before)] != before or new[: len(turn.seen)] != turn.seen:
            lost += 1
            print(f"kill {kill}: seen {turn.seen}, recorded {new}")
        answers = [item for item in after if item != "-"]
        last = story(path)
        if len(set(answers)) != len(answers) or len(new) > len(turn.seen) + 1 or not WHOLE.fullmatch(last):
            doubled += 1
            print(f"kill {kill}: doubled in {new}, seen {turn.seen}, the log ends with {last[-6:]}")
        actions, before = actions + len(new), after
    print(
        f"{kills} kills at random, {actions} actions recorded: "
        f"{lost} lost, {doubled} doubled, {unopened} not opened where the log is"
    )
    return lost + doubled + unopened


def between(home: Path, kills: int, rng: random.Random) -> int:
    """Kill so many times between two events of one Enter, print the counts, and return how many Enters went wrong."""
    home.mkdir()
    found = [enter for name in FOLLOWED for enter in enters(find_recipe(name), home)]
    killed = wrong = pressed = 0
    while killed < kills:
        enter, pressed = rng.choice(found), pressed + 1
        inside = range(1, len(enter.events))
        cuts = sorted(rng.sample(inside, min(rng.randint(1, len(inside)), kills - killed)))
        told = cut_up(enter, cuts, home / str(pressed))
        for line in told:
            print(f"{enter.before.stem}, killed after {cuts}: {line}")
        killed, wrong = killed + len(cuts), wrong + bool(told)
    print(f"{killed} kills between two events of one Enter, {pressed} times Enter: {wrong} not recorded or not shown as it is")
    return wrong


def main(kills: int, seed: int) -> int:
    """Kill so many times, a third of them at random; return how much was wrong."""
    rng = random.Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        home, third = Path(folder), kills // 3
        return at_random(home / "random", third, rng) + between(home / "between", kills - third, rng)


if __name__ == "__main__":
    words = [int(word) for word in sys.argv[1:]]
    sys.exit(min(main(*(words + [60, 1][len(words) :])), 1))
