"""Print how many keys of a keypad each recipe takes at 80 by 24 in the real program, and each look-up, beside its budget.

Run: python tests/bench/strokes.py [recipe ...] [look-ups]. Nothing is gated on it. The recipes are followed as they ask
(`terminal/follower.py`), section by section: what they offer is taken, but for the answers below. The first keys make the
project and the part. A look-up begins at a plain step and ends when its figure is on the screen.
"""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from datetime import timedelta
from functools import partial
from pathlib import Path

TESTS = Path(__file__).parent.parent
sys.path[:0] = [str(TESTS)]

from terminal.follower import BEGAN, PACE, Follower, opened  # noqa: E402
from terminal.screen import ENTER, Terminal  # noqa: E402
from terminal.ways import WAYS  # noqa: E402

from shopmate import calc  # noqa: E402
from shopmate.paths import HOME_VARIABLE  # noqa: E402
from shopmate.project.project import QUICK  # noqa: E402
from shopmate.recipe import copied, with_figure  # noqa: E402
from shopmate.records import dataclass, field  # noqa: E402
from shopmate.session import DoView, Session, find_recipe, project_path, shelf  # noqa: E402
from shopmate.session.demo import follow  # noqa: E402
from shopmate.tui.screens.calculators import FAR  # noqa: E402

LOOK_UPS = "look-ups"


@dataclass(frozen=True)
class Job:
    """A recipe with the answers that differ from what it offers, by the names of its values."""

    recipe: str
    budget: int
    about: str = ""
    answers: Mapping[str, str] = field(default_factory=dict)
    pace: timedelta = PACE


JOBS = (
    Job("surface-prep", 30),
    Job("bonding", 70, "with screws and a cartridge", {"screws": "flat-82"}),
    Job("bonding", 70, "with screws and a pot of epoxy", {"glue": "epoxy", "screws": "flat-82"}),
    Job("fillet", 110, "2 + 1 pots"),
    Job("glassing", 200, "one face of 2.44 × 1.22 m, every pot", {"length": "2.44", "width": "1.22"}),
)
"""Recipes whose budgets are set by hand; the others' are those that the tests hold them to."""


@dataclass(frozen=True)
class LookUp:
    """Something wanted in the middle of a step, with the shortest keys that lead to it today."""

    name: str
    keys: str
    shown: tuple[str, ...]
    """The figures, as they stand on the screen."""
    budget: int
    large: bool = True
    """Whether they stand there in block digits."""


def opens(calculator: str) -> str:
    """Return the keys that open a calculator from a step."""
    return f"/{QUICK.index(calculator) + 1 if calculator in QUICK else FAR + calc.names().index(calculator)}"


LAST = {
    "mix": {"material": "epoxy-2to1-slow", "total": "100 g"},
    "screw": {"size": "#6", "head": "flat 82", "length": "25.4 mm", "holding": "Sitka spruce"},
    "bead": {"material": "own-adhesive-1"},
    "potlife": {"material": "epoxy-2to1-slow"},
}
"""What calculators were filled in with last time."""

ASKED = (
    LookUp("mix 150 g of the system used last", f"{opens('mix')}150", ("105.5", "150.0"), 6),
    LookUp("hardener for 137.4 g of resin really poured", f"{opens('mix')}+137.4", ("137.4", "195.3"), 8),
    LookUp("pilot, clearance and countersink for the size used last", opens("screw"), ("5/64",), 4),
    LookUp("the same for another size", f"{opens('screw')}07", ("3/32",), 8),
    LookUp("bead from the 300 mL cartridge used last at 6 mm", f"{opens('bead')}6", ("10.61",), 6),
    LookUp("dew point with fresh readings", opens("dewpoint"), ("9.3",), 3),
    LookUp("pot life of 250 g now", f"{opens('potlife')}250", ("44.9",), 6),
    LookUp("nearest drill for 5/32 in", f"{opens('drill')}5/32", ("5/32",), 8),
    LookUp("a timer of 20 minutes, from any step", f"+020{ENTER}", ("20:00",), 5, large=False),
)


@contextmanager
def new_home() -> Iterator[Path]:
    """Have the program keep its files in a folder of their own for a while."""
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder) / "home"
        home.mkdir()
        os.environ[HOME_VARIABLE] = str(home)
        yield home


def ratio(count: int, budget: int) -> str:
    """Return a number of keys beside its budget."""
    return f"{count} keys of {budget} ({count / budget:.2f} ×)"


def print_recipe(job: Job) -> None:
    """Follow a recipe to its end and print keys and things asked, section by section, under their sums."""
    with new_home() as home, closing(Follower(home, job.answers, job.pace)) as follower:
        follower.begin(find_recipe(job.recipe).title)
        follower.follow()
    keys, screens = follower.keys, follower.screens
    words = f", {job.about}" if job.about else ""
    print(f"{job.recipe}{words}: {ratio(sum(keys.values()), job.budget)}, {sum(screens.values())} screens")
    for section, count in keys.items():
        turns = follower.turns.get(section, 1)
        print(f"    {count:4} keys {screens[section]:4} screens  {section}{f', {turns} times' if turns > 1 else ''}")


def print_look_up(asked: LookUp) -> None:
    """Press the keys of a look-up, one after another as each shows, and print how many they are."""
    with new_home() as home, closing(at_step(home)) as terminal:
        for key in asked.keys:
            before = terminal.picture
            terminal.send(key)
            terminal.until(partial(changed, terminal, before), f"the key '{key}' to show")
        stands = terminal.enlarges if asked.large else terminal.draws
        terminal.until(lambda: all(map(stands, asked.shown)), " and ".join(asked.shown))
    print(f"{asked.name}: {ratio(len(asked.keys), asked.budget)}")


def changed(terminal: Terminal, before: str) -> bool:
    """Return whether the screen shows something else than before."""
    return terminal.picture != before


def at_step(home: Path) -> Terminal:
    """Return a terminal with the bench at a plain step, whose calculators were all used before."""
    session = Session.create(project_path("Project 1"), "Project 1", BEGAN, shelf())
    session.begin(session.add_part("Panel 1", BEGAN), find_recipe("surface-prep"), BEGAN)
    now = follow(session, BEGAN, {}, until=lambda view: isinstance(view, DoView))
    adhesive = copied(session.shelf["silane-290ml"], "Own adhesive 1", session.shelf)
    session.save_material(with_figure(adhesive, "cartridge", "300 mL"), now)
    for name, texts in LAST.items():
        session.remember(name, texts, now)
    session.close()
    terminal = opened(home, now)
    terminal.until_shown("YOU WERE HERE")
    terminal.send(ENTER)
    terminal.until(lambda: "YOU WERE HERE" not in terminal.picture, "the step")
    return terminal


def main(wanted: list[str]) -> None:
    """Print what is wanted, by default all."""
    jobs = [
        *JOBS,
        *(
            Job(name, way.most, "", way.answers, way.pace)
            for name, way in WAYS.items()
            if name not in {job.recipe for job in JOBS}
        ),
    ]
    for job in jobs:
        if not wanted or job.recipe in wanted:
            print_recipe(job)
    if not wanted or LOOK_UPS in wanted:
        for asked in ASKED:
            print_look_up(asked)


if __name__ == "__main__":
    main(sys.argv[1:])
