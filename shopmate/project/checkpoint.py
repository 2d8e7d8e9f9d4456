"""A project as JSON and back, so that a file is opened without all that ever happened in it.

Runs, and clocks that are over, have rows of their own, each read when it is looked at. A row is never changed: what changed has
a row of a later number, so that an earlier checkpoint stays what it was. Only the program of the same version reads a
checkpoint: another may fold the events otherwise.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from itertools import chain
from typing import Any

from shopmate import __version__
from shopmate.clock import Clock
from shopmate.errors import EntryError, LogError
from shopmate.log import Log
from shopmate.project.events import stored
from shopmate.project.project import Clocks, Kept, Project, Unread
from shopmate.project.run import Run
from shopmate.records import dataclass

PROJECT, RUN, CLOCK = "project", "run", "clock"
"""What the name of a row begins with: 'project:NUMBER', 'run:KEY:NUMBER', 'clock:KEY:NUMBER'."""

_DOUBTFUL = (KeyError, TypeError, ValueError, AttributeError, RecursionError, EntryError, LogError)
"""What reading a checkpoint can raise that was written by something else than this."""


@dataclass(frozen=True, slots=True)
class Checkpoint:
    """What a file keeps of a project as of an event."""

    text: str
    """The row of the project."""
    rows: Mapping[str, Run | Clock]
    """Further rows, by name, that the file does not have yet."""


def numbers(names: Iterable[str]) -> list[int]:
    """Return the numbers of the events that rows of these names are checkpoints of, the last first."""
    return sorted((number_of(name) for name in names if name.startswith(f"{PROJECT}:")), reverse=True)


def number_of(name: str) -> int:
    """Return the number in the name of a row."""
    return int(name.rpartition(":")[2])


def written(log: Log, number: int, project: Project, name_of: Callable[[Run | Clock], str | None]) -> Checkpoint:
    """Return the checkpoint of a project as of an event; `name_of` is the row that the file has of a run or a clock."""
    running = {clock.run for clock in project.running}
    rows: dict[str, Run | Clock] = {}

    def number_of_row(kind: str, thing: Run | Clock) -> int:
        name = name_of(thing)
        if name is None:
            name = f"{kind}:{thing.key}:{number}"
            rows[name] = thing
        return number_of(name)

    runs: dict[str, Unread] = {}
    for key, run in project.runs.here.items():
        if isinstance(run, Unread):
            runs[key] = run
        else:
            is_over = run.finished_at is not None and key not in running and key != project.current
            runs[key] = Unread(number_of_row(RUN, run), is_over)
    clocks: dict[str, Unread | dict[str, object]] = {}
    for key, clock in project.clocks.here.items():
        if isinstance(clock, Unread):
            clocks[key] = clock
        elif clock.ended_at is not None and (clock.run is None or clock.run not in runs or runs[clock.run].is_over):
            clocks[key] = Unread(number_of_row(CLOCK, clock), True)
        else:
            clocks[key] = stored.written(clock, exact=True)
    data = {
        "by": __version__,
        "sum": log.sum_of(number),
        "project": stored.written(project, exact=True),
        "undo": _stretches(project.undo),
        "over": _by_number((key, row) for key, row in runs.items() if row.is_over),
        "live": _by_number((key, row) for key, row in runs.items() if not row.is_over),
        "ended": _by_number((key, row) for key, row in clocks.items() if isinstance(row, Unread)),
        "clocks": [clock for clock in clocks.values() if not isinstance(clock, Unread)],
    }
    return Checkpoint(_text(data), rows)


def _by_number(rows: Iterable[tuple[str, Unread]]) -> dict[int, list[int]]:
    """Return keys by the number in the names of their rows."""
    found: dict[int, list[int]] = {}
    for key, row in rows:
        found.setdefault(row.number, []).append(int(key))
    return found


def _unread(keys: Mapping[str, list[int]], *, is_over: bool) -> dict[int, Unread]:
    """Return by their keys what is unread; made for thousands at once, since every start waits for it."""
    found: dict[int, Unread] = {}
    for number, those in keys.items():
        found |= dict.fromkeys(those, Unread(int(number), is_over))
    return found


def as_text(thing: Run | Clock) -> str:
    """Return the row of a run or a clock."""
    return _text(stored.written(thing, exact=True))


def _text(data: object) -> str:
    return json.dumps(data, separators=(",", ":"))  # in 7-bit signs: what a hostile file holds need not be text


def read(log: Log, number: int, run_of: Callable[[str, int], Run], clock_of: Callable[[str, int], Clock]) -> Project | None:
    """Return the project as of an event, None where the checkpoint is not what this program wrote of this log.

    `run_of` and `clock_of` read what is unread, once it is looked at, by its key and number.
    """
    try:
        data = json.loads(log.kept(f"{PROJECT}:{number}") or "null")
        if not data or data["by"] != __version__ or data["sum"] != log.sum_of(number):
            return None
        runs = _unread(data["over"], is_over=True) | _unread(data["live"], is_over=False)
        clocks: dict[int, Clock | Unread] = {**_unread(data["ended"], is_over=True)}
        clocks |= {int(clock["key"]): stored.read(Clock, clock, exact=True) for clock in data["clocks"]}
        undo = [*chain.from_iterable(range(first, last + 1) for first, last in data["undo"])]
        project = stored.read(Project, data["project"], exact=True, undo=undo)
        project.runs = Kept({str(key): runs[key] for key in sorted(runs)}, run_of)
        project.clocks = Clocks({str(key): clocks[key] for key in sorted(clocks)}, clock_of)
        return project
    except _DOUBTFUL:
        return None


def run_of(log: Log, row: str) -> Run | None:
    """Return the run of a row, with the recipe that an event keeps; None where it is not what was written."""
    try:
        data: Mapping[str, Any] = json.loads(log.kept(row) or "")
        return stored.read(Run, data, exact=True, kept=log.event(int(data["kept_by"] or data["key"])).data["text"])
    except _DOUBTFUL:
        return None


def clock_of(log: Log, row: str) -> Clock | None:
    """Return the clock of a row; None where it is not what was written."""
    try:
        return stored.read(Clock, json.loads(log.kept(row) or ""), exact=True)
    except _DOUBTFUL:
        return None


def _stretches(numbers: Iterable[int]) -> list[list[int]]:
    """Return numbers as the first and the last of each stretch of them."""
    found: list[list[int]] = []
    for number in numbers:
        if found and found[-1][1] == number - 1:
            found[-1][1] = number
        else:
            found.append([number, number])
    return found
