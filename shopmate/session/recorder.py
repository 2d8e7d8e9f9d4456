"""A project file that is open: what is recorded in it, and the project as it shows then."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from shopmate import units
from shopmate.calculator import Value
from shopmate.errors import LogError, ShopmateError
from shopmate.lock import Lock
from shopmate.log import Log
from shopmate.phrases import phrase
from shopmate.project import events
from shopmate.project.damage import trouble
from shopmate.project.events import Happened, Recorded
from shopmate.project.events.work import TakenBack
from shopmate.project.fold import advance, fold
from shopmate.project.project import Project
from shopmate.project.run import Run
from shopmate.recipe import Material
from shopmate.session.values import Results
from shopmate.units import Quantity


class NotNow(ShopmateError):
    """What was asked for cannot be done at this place; the text says why and what can."""


class Recorder:
    """The log of a project and what it folds to. Every method that changes it records the change before it returns."""

    def __init__(self, log: Log, materials: Mapping[str, Material], lock: Lock | None = None, *, read_only: bool = False) -> None:
        """Work on an open log with the materials of a shelf, or only show it while another program works on it.

        `lock` is that of the project: held by us, or taken as soon as the other program lets it go.
        """
        self.log = log
        self.shelf = materials
        self.read_only = read_only
        """Whether nothing is recorded: another program works on the project, or its file is damaged."""
        self._lock = lock
        try:
            self._events = [events.read(event) for event in log.events()]
            self._typing = {} if read_only else log.typing()
        except LogError:
            log.close()
            raise
        self._results: Results = {}
        self.project = fold(self._events, log.path.stem)
        self.damage = ""
        """What is damaged in the file, or not understood, and what helps; '' where nothing is."""
        self._look_for_damage()
        self.left_at: datetime | None = None
        """When the last thing was done before the project was opened; None for one just made."""

    def close(self) -> None:
        """Close the project file and let another program write to it."""
        self.log.close()
        if self._lock is not None:
            self._lock.release()

    def follow(self) -> None:
        """Where another program works on the project: take in what it recorded, and its place once it has let go.

        It takes no place, and follows no further, where something is damaged or cannot be read.
        """
        if self.damage:
            return
        takes_over = self._lock is not None and self._lock.take()
        for event in self.log.events(after=len(self._events)):
            self._take(events.read(event))
        self._look_for_damage()
        if self.damage or not takes_over:
            return
        reader, self.log = self.log, Log(self.log.path)
        reader.close()
        self.read_only = False
        self._typing = self.log.typing()
        self._look_for_damage()

    def _look_for_damage(self) -> None:
        """Record no more where something is damaged or cannot be read, and let it be mended by another program."""
        self.damage = trouble(self.log.path, self.log.damages, self.project.left_out)
        if self.damage:
            self.read_only = True
            if self._lock is not None:
                self._lock.release()

    def show_life(self, now: datetime) -> None:
        """Show another window that this one, which works on the project, does not stand still."""
        if self._lock is not None:
            self._lock.show_life(now)

    # What is done, and taken back

    @property
    def run(self) -> Run:
        """The run on the bench; NotNow when there is none."""
        if self.project.run is None:
            raise NotNow(phrase("no recipe is on the bench; choose a part and a recipe first"))
        return self.project.run

    def _record(self, what: Happened, now: datetime) -> None:
        """Write an event to disk; only then does the project show it. NotNow where it is READ ONLY."""
        if self.damage:
            raise NotNow(phrase("READ ONLY: {damage}", self.damage))
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
        whole = isinstance(event.what, TakenBack)
        self.project = fold(self._events, self.log.path.stem) if whole else advance(self.project, event)

    def _after(self, what: Happened, now: datetime) -> Project:
        """Return the project as it would be after one more event."""
        return advance(self.project, Recorded(len(self._events) + 1, now, what))

    def back(self, now: datetime) -> str:
        """Take back the last thing done, answered, acknowledged or ended; returns what it was. NotNow when there is nothing."""
        undoable = (self._events[number - 1] for number in reversed(self.project.undo))
        event = next((event for event in undoable if event.what.of_run in (None, self.project.current)), None)
        if event is None:
            raise NotNow(phrase("nothing to take back"))
        self._record(TakenBack(event=event.id), now)
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

    def _shown(self, value: Value) -> str:
        if isinstance(value, Quantity):
            return str(units.display(value, self.project.system))
        return str(value)
