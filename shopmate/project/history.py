"""The events of a project file and the project they tell of, of a long log from its last checkpoint on."""

from __future__ import annotations

from collections.abc import Iterator

from shopmate.clock import Clock
from shopmate.log import Log
from shopmate.project import checkpoint, events
from shopmate.project.checkpoint import CLOCK, PROJECT, RUN
from shopmate.project.events import Recorded
from shopmate.project.events.work import TakenBack
from shopmate.project.fold import advance, fold
from shopmate.project.project import Project, Unread
from shopmate.project.run import Run

EACH = 250
"""After how many events the project is held in memory, so that taking back folds no more than those since."""

_HELD = 8
"""How many of these are held, and how many checkpoints a file has."""

_DUE = 500
"""After how many events a checkpoint is written while a project is worked on."""

LEAST = 500
"""Events of a log that is opened from a checkpoint: a shorter one is read whole, and what is damaged in it found at once."""

_PROVED = 200
"""How many events are proved at a time, in a few milliseconds."""


class History:
    """What happened to a project; events before the last checkpoint are read when they are asked for."""

    def __init__(self, log: Log) -> None:
        """Read a log; LogError where it cannot be read."""
        self.log = log
        self.project = Project(log.path.stem)
        self._first, self._events = 0, list[Recorded]()
        """The number after which events have been read, and these events."""
        self._bases: list[tuple[int, Project]] = []
        """The project as it was at some numbers, from which it can be folded on."""
        self._rows: dict[str, Run | Clock] = {}
        self._names: dict[int, str] = {}
        """What is as the file has it: by the name of its row, and the name by what it is."""
        self._wrong_from: int | None = None
        """Checkpoints on disk from this number on are of what was taken back since."""
        self._read_to(self._base_below(None))
        self._begun, self._kept_at = self._first, self._first

    @property
    def last(self) -> int:
        """Number of the last event."""
        return self._first + len(self._events)

    def event(self, number: int) -> Recorded:
        """Return the event of a number."""
        return self._events[number - self._first - 1] if number > self._first else events.read(self.log.event(number))

    def back_from_last(self) -> Iterator[Recorded]:
        """Yield the events, the last one first."""
        return (self.event(number) for number in range(self.last, 0, -1))

    def unread(self) -> list[Recorded]:
        """Return the events that are in the file and have not been taken yet."""
        return [events.read(event) for event in self.log.events(after=self.last)]

    def take(self, event: Recorded) -> None:
        """Let the project continue by an event that is on disk; one that takes back another folds again what came since."""
        self._events.append(event)
        if isinstance(event.what, TakenBack):
            self._take_back(event.what.event)
        else:
            self.project = advance(self.project, event)
        if event.id - (self._bases[-1][0] if self._bases else 0) >= EACH:
            self._bases = [*self._bases[1 - _HELD :], (event.id, self.project)]

    def _take_back(self, number: int) -> None:
        self._bases = [(at, project) for at, project in self._bases if at < number]
        self._wrong_from = number if self._wrong_from is None else min(number, self._wrong_from)
        if self._bases:
            at, base = self._bases[-1]
            self.project = fold(self._events[at - self._first :], self.log.path.stem, base)
        else:
            self._read_to(self._base_below(self._wrong_from))

    # From a checkpoint on

    def _base_below(self, number: int | None) -> tuple[int, Project | None]:
        """Return the last checkpoint before an event, or of all, that nothing was taken back of; 0 and None without one."""
        for at in checkpoint.numbers(self.log.kept_names(PROJECT)):
            if number is not None and at >= number:
                continue
            base = checkpoint.read(self.log, at, self._run, self._clock)
            if base is not None and self._has_current(base) and self._holds(at):
                return at, base
        return 0, None

    def _has_current(self, base: Project) -> bool:
        """Return whether the run on the bench can be read: it is the first that is looked at."""
        run = base.runs.here.get(base.current) if base.current is not None else None
        if not isinstance(run, Unread):
            return base.current is None or run is not None
        row = f"{RUN}:{base.current}:{run.number}"
        return row in self._rows or checkpoint.run_of(self.log, row) is not None

    def _holds(self, at: int) -> bool:
        """Return whether nothing up to a number was taken back after it."""
        self._read_after(at)
        return all(event.what.event > at for event in self._events if isinstance(event.what, TakenBack) and event.id > at)

    def _read_after(self, at: int) -> None:
        """Read the events after a number that have not been read; all that the log has, where none has been."""
        if not self._events:
            self._first, self._events = at, [events.read(event) for event in self.log.events(after=at)]
        elif at < self._first:
            missing = self.log.events(after=at)[: self._first - at]
            self._events = [*map(events.read, missing), *self._events]
            self._first = at

    def _read_to(self, found: tuple[int, Project | None]) -> None:
        """Fold the project from a checkpoint on."""
        at, base = found
        self._read_after(at)
        if base is None and self.last > EACH and self._holds(self.last - EACH):  # so that the last thing is taken back soon
            at = self.last - EACH
            base = fold(self._events[:at], self.log.path.stem)
        self.project = fold(self._events[at - self._first :], self.log.path.stem, base)
        if base is not None:
            self._bases = [(at, base)]

    def _run(self, key: str, number: int) -> Run:
        """Return a run that was not looked at until now; where its row is not to be trusted that of all events."""
        row = f"{RUN}:{key}:{number}"
        found = self._rows.get(row) or checkpoint.run_of(self.log, row) or self._whole(key).runs[key]
        assert isinstance(found, Run)
        self._has_row(row, found)
        return found

    def _clock(self, key: str, number: int) -> Clock:
        """Return a clock that was not looked at until now, as `_run` does."""
        row = f"{CLOCK}:{key}:{number}"
        found = self._rows.get(row) or checkpoint.clock_of(self.log, row) or self._whole(key).clocks[key]
        assert isinstance(found, Clock)
        self._has_row(row, found)
        return found

    def _has_row(self, row: str, thing: Run | Clock) -> None:
        """Note that a run or a clock is as its row has it; while it is noted no other thing gets its place in memory."""
        if row not in self._rows:
            self._rows[row], self._names[id(thing)] = thing, row

    def _whole(self, key: str) -> Project:
        """Return the project of all that the log has, where a row is not to be trusted; LogError where that lacks it too."""
        project = fold([events.read(event) for event in self.log.events()], self.log.path.stem)
        if key not in {**project.runs.here, **project.clocks.here}:
            self.log.check()
        return project

    # Kept, and proved

    def keep(self, *, only_if_due: bool = False) -> None:
        """Write a checkpoint of the project as it is, where anything happened since, or only after many events.

        LogError where it cannot be written.
        """
        due = self.last - self._kept_at >= (_DUE if only_if_due else 1)
        if not due or self.last < LEAST or self.log.damages:
            return
        dropped = self._dropped()
        kept = checkpoint.numbers(set(self.log.kept_names()) - dropped)
        for at, project in (*(self._bases[-1:] if not kept else ()), (self.last, self.project)):
            made = checkpoint.written(self.log, at, project, lambda thing: self._names.get(id(thing)))
            texts = {name: checkpoint.as_text(thing) for name, thing in made.rows.items()}
            self.log.keep({**dict.fromkeys(dropped), **texts, f"{PROJECT}:{at}": made.text})
            for row, thing in made.rows.items():
                self._has_row(row, thing)
        self._kept_at, self._wrong_from = self.last, None

    def _dropped(self) -> set[str]:
        """Return the names of rows that no checkpoint needs any more: of what was taken back, and of too long ago."""
        names = self.log.kept_names()
        wrong = {name for name in names if self._wrong_from is not None and checkpoint.number_of(name) >= self._wrong_from}
        for name in wrong & self._rows.keys():
            del self._names[id(self._rows.pop(name))]
        left = checkpoint.numbers(set(names) - wrong)
        old = left[_HELD - 1 :]
        if not old:
            return wrong
        oldest, newest = left[: _HELD - 1][-1], dict[str, int]()
        for name in names:
            thing, _, number = name.rpartition(":")
            if thing != PROJECT and int(number) <= oldest:
                newest[thing] = max(newest.get(thing, 0), int(number))
        past = {name for name in names if checkpoint.number_of(name) < newest.get(name.rpartition(":")[0], 0)}
        return wrong | past | {f"{PROJECT}:{number}" for number in old}

    def prove(self) -> bool:
        """Go on proving the events that the checkpoint stood for, some at a time; return whether more are left.

        Where one is damaged the project is that of the sound events, and the checkpoints go: each start reads every event then.
        """
        more = self.log.prove(self._begun, _PROVED)
        if self.log.damages:
            self.log.forget_kept()
            self._first, self._events, self._bases = 0, [events.read(event) for event in self.log.events()], []
            self.project = fold(self._events, self.log.path.stem)
            return False
        return more
