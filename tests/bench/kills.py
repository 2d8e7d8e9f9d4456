"""Count what is lost, doubled or not opened again when the program is killed at random moments while keys are fed.

Run: python tests/bench/kills.py [kills [seed]]. The real program runs in a terminal of its own; each round types a length,
takes it as answered, takes it back, and so on, until SIGKILL comes after so many keys, at a moment drawn by the seed. What
was seen on the screen has to be in the log, once, with the end of its section that needs no key, and the next start has to
show where the log is: also where the kill came between the two. Ends non-zero where anything is counted.
"""

from __future__ import annotations

import random
import re
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from terminal.screen import ENTER, Terminal

from shopmate.log import SUFFIX, Log
from shopmate.project import events_of
from shopmate.recipe import load, load_shelf, typical_shelf
from shopmate.session import Session

ASKED = "Give the length"
FOLLOWS = "Read the air"
"""What comes after it, past the end of its section, which needs no key."""

BACK = f"--{ENTER}"
"""The keys that take back there: the first begins a temperature below zero, the last says that it is meant."""

WHOLE = re.compile(r"(DS-)*(DS?)?")
"""How the log may read, by `story`: every length with the end of its section, but one the kill came right after."""

ROOT = Path(__file__).parents[2]
ERASE = "\x7f"

LONGEST = 0.4
"""Seconds after the last key within which the program is killed."""

READ = 1.0
"""Seconds for which the question whether to take back is read."""

LIMIT = 20.0
"""Seconds after which an action is no longer waited for."""


def made(home: Path) -> Path:
    """Make a project whose step in hand asks for a length and return its file."""
    now, path = datetime.now(UTC), home / "projects" / f"kills{SUFFIX}"
    session = Session.create(path, "Kills", now, load_shelf(typical_shelf()))
    recipe = load(ROOT / "tests" / "recipes" / "good" / "every-step.yaml")
    session.begin(session.add_part("Panel 1", now), recipe, now)
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
        here = at.until(self.here, "a step that is known")
        if half_typed:
            at.until_shown("typed before: kept")
            at.send(ERASE * half_typed)
            at.until(lambda: "typed before: kept" not in at.picture, "what was typed before to be erased")
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
                if key == ENTER and not asks:  # pressed too soon it would say nothing
                    at.until_shown("Take back:")
                    at.look(READ)
                at.send(key)
            wanted, until = FOLLOWS if asks else ASKED, time.monotonic() + (LIMIT if turn < times else seconds)
            while self.here() != wanted and time.monotonic() < until:
                at.look(0.001)
            if self.here() == wanted:
                self.seen.append(number)
                asks = not asks
        at.kill()


def main(kills: int, seed: int) -> int:
    """Kill so many times, print the counts, and return how much was wrong."""
    rng = random.Random(seed)
    lost = doubled = unopened = actions = between = 0
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
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
            told = story(path)
            if len(set(answers)) != len(answers) or len(new) > len(turn.seen) + 1 or not WHOLE.fullmatch(told):
                doubled += 1
                print(f"kill {kill}: doubled in {new}, seen {turn.seen}, the log ends with {told[-6:]}")
            between += told.endswith("D")
            actions, before = actions + len(new), after
    print(
        f"{kills} kills, {between} of them between two events of one key, {actions} actions recorded: "
        f"{lost} lost, {doubled} doubled, {unopened} not opened where the log is"
    )
    return lost + doubled + unopened


if __name__ == "__main__":
    words = [int(word) for word in sys.argv[1:]]
    sys.exit(min(main(*(words + [60, 1][len(words) :])), 1))
