"""Print how a project of very many events opens and works, against one that has just been begun.

Run: python tests/bench/size.py [events] [rounds]. The long project is made of the same run of a recipe over and over, each on a
part of its own, all finished but the last ones, whose clocks run. Printed are: opening by `Session.open`, and the whole program
until the step can be read (as `first_step.py` measures it); a key, a tick and the lists with 500 recipes of the user's own,
200 parts and 50 running clocks. Nothing is gated on it.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from first_step import SHOPMATE, Program, home, times

from shopmate import paths
from shopmate.log import Event, Log
from shopmate.session import FinishedView, Session, find_recipe, recipe_files, shelf
from shopmate.session.demo import follow
from shopmate.tui.widgets import block

NOW = datetime.now(UTC).replace(microsecond=0)

EACH = timedelta(minutes=40)
"""Time from the beginning of one run to that of the next."""

RUNNING = 50
"""Clocks that run in the long project."""


def run_of(recipe: str, part: str, *, is_finished: bool) -> list[Event]:
    """Return the events of a run by itself, from the part's being added on, numbered from 1."""
    session = Session(Log(Path("run.shopmate"), in_memory=True), shelf())
    session.begin(session.add_part(part, NOW), find_recipe(recipe), NOW)
    until = (lambda view: isinstance(view, FinishedView)) if is_finished else (lambda view: len(session.clocks) > 0)
    at = follow(session, NOW, {}, until=until)
    if is_finished:
        for clock in session.clocks:
            session.end_clock(clock.key, at)
    return session.log.events()


def moved(events: list[Event], by: int, at: timedelta, part: str) -> Iterator[Event]:
    """Yield the events of a run under numbers that follow those before, at another time and on another part."""
    for event in events:
        data = dict(event.data)
        for key in ("run", "clock"):
            if isinstance(data.get(key), str):
                data[key] = str(int(str(data[key])) + by)
        if isinstance(ends := data.get("ends"), list):
            data["ends"] = [str(int(key) + by) for key in ends]
        if event.kind in ("part", "run"):
            data["name" if event.kind == "part" else "part"] = part
        yield Event(event.id + by, event.at + at, event.kind, data)


def long_project(path: Path, count: int) -> None:
    """Write a project of about so many events."""
    whole, half = run_of("bonding", "Part", is_finished=True), run_of("bonding", "Part", is_finished=False)
    runs = max(0, count - len(half) * RUNNING) // len(whole)
    events = [Event(1, NOW - EACH * (runs + 1), "project", {"name": "Long", "system": "metric"})]
    for number in range(runs + RUNNING):
        shape = whole if number < runs else half
        ago = EACH * (runs - number) if number < runs else timedelta(minutes=1)
        events += moved(shape, len(events), -ago, f"Panel {number % 200}" if number < runs else f"Seam {number}")
    with Log(path, create=True) as log:
        log.extend(events)


def median(rounds: int, do: Callable[[], object]) -> float:
    """Return the median time of doing something, in ms."""
    taken = []
    for _ in range(rounds):
        began = time.perf_counter()
        do()
        taken.append(time.perf_counter() - began)
    return statistics.median(taken) * 1000


def opened(path: Path) -> None:
    """Open a project for work and close it."""
    Session.open(path, datetime.now(UTC), shelf()).close()


def at_step(folder: Path, count: int) -> tuple[Program, Path]:
    """Return the bench on a project of so many events, at the step of its last run, and its file."""
    environment = home(folder)
    path = folder / "projects" / "long.shopmate"
    long_project(path, count)
    session = Session.open(path, datetime.now(UTC), shelf())
    view = session.view(datetime.now(UTC))
    session.close()
    shown = [row.strip() for row in block.rows(view.headline)]
    return Program(SHOPMATE, environment, shown, b"+", "Clocks"), path


def main(count: int, rounds: int) -> None:
    """Print the times and their ratios."""
    with tempfile.TemporaryDirectory() as folder:
        programs = {name: at_step(Path(folder) / name, size) for name, size in (("begun", 0), ("long", count))}
        starts: dict[str, list[float]] = {name: [] for name in programs}
        for _ in range(rounds + 1):  # they take turns, so that a busy machine slows both alike
            for name, (program, _) in programs.items():
                starts[name].append(times(program)[0])
        readable = {name: statistics.median(taken[1:]) for name, taken in starts.items()}
        opening = {name: median(rounds, lambda path=path: opened(path)) for name, (_, path) in programs.items()}
        for what, taken, unit in (("step readable", readable, 1000), ("Session.open", opening, 1)):
            ratio = taken["long"] / taken["begun"]
            print(f"{what:<14} {taken['begun'] * unit:7.1f} ms begun, {taken['long'] * unit:7.1f} ms long  {ratio:.2f} ×")
        work(programs["long"][1], Path(folder), rounds)


def work(path: Path, folder: Path, rounds: int) -> None:
    """Print how long things take in the long project."""
    now = datetime.now(UTC)
    own = folder / "home" / "recipes"
    own.mkdir(parents=True)
    text = find_recipe("bonding").text
    for number in range(500):
        (own / f"own-{number}.yaml").write_text(text.replace("recipe: bonding", f"recipe: own-{number}"), encoding="utf-8")
    os.environ[paths.HOME_VARIABLE] = str(own.parent)
    session = Session.open(path, now, shelf())
    print(f"{len(session.clocks)} clocks, {len(session.project.runs)} runs, {len(session.project.parts)} parts")
    print(f"500 recipes    {median(1, recipe_files):7.1f} ms the first time, {median(3, recipe_files):7.1f} ms then")
    print(f"a part's name  {median(rounds, lambda: session.free_part('Panel')):7.2f} ms")
    print(f"tick           {median(rounds, lambda: session.tick(now)):7.2f} ms")
    print(f"kept safe      {median(rounds, lambda: session.keep_safe(now)):7.2f} ms")
    print(f"view           {median(rounds, lambda: session.view(now)):7.2f} ms")
    print(f"slots          {median(rounds, lambda: session.slots):7.2f} ms")
    print(f"runs under way {median(rounds, lambda: session.under_way):7.2f} ms")
    print(f"key            {median(rounds, lambda: session.log_temperature('20 C', now)):7.2f} ms")
    print(f"start a clock  {median(rounds, lambda: session.start_own('5', now)):7.2f} ms")
    print(f"take back      {median(3, lambda: session.take_back(now)):7.2f} ms")
    session.close()


if __name__ == "__main__":
    main(*(int(word) for word in [*sys.argv[1:3], *["100000", "5"][len(sys.argv) - 1 :]]))
