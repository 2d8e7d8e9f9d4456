"""What every kind of event has: what it carries, what it does to a project, and what exports say of it."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from datetime import datetime
from typing import Any, ClassVar

from shopmate.errors import EntryError
from shopmate.log import LOST, Event
from shopmate.project.events import stored
from shopmate.project.place import Place
from shopmate.project.project import UNREAD, Project
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Move:
    """A limit that a reading of the shop temperature moved, with both times."""

    title: str
    was: datetime
    now: datetime


@dataclass(frozen=True, slots=True)
class Said:
    """What exports say of an event."""

    what: str
    shown: str = ""
    """Value, verdict or name recorded with it."""
    headline: str = ""
    """Headline of the step it is of."""
    place: Place | str = ""
    moved: tuple[Move, ...] = ()
    typed: str = ""
    reason: str = ""
    is_aside: bool = False
    """Whether it is left out of what people read."""


class Happened(ABC):
    """Something that happened to a project. A kind of event is a frozen dataclass of this, its fields what the log keeps."""

    kind: ClassVar[str]
    """Its name in the log."""
    undoable: ClassVar[bool]
    """Whether the key for taking back takes it back."""
    leaves_step: ClassVar[bool]
    """Whether the step in hand is left with it: what was half typed there is gone."""

    def __init_subclass__(cls, *, kind: str, undoable: bool, leaves_step: bool) -> None:
        super().__init_subclass__()
        cls.kind, cls.undoable, cls.leaves_step = kind, undoable, leaves_step
        if kind in KINDS:
            raise TypeError(f"{cls.__name__} and {KINDS[kind].__name__} are both called '{kind}' in the log")
        if kind:
            KINDS[kind] = cls

    @abstractmethod
    def fold(self, project: Project, event: Recorded) -> None:
        """Do to the project what the event does to it; a run is changed through `project.changing`."""

    def leave(self, project: Project, event: Recorded) -> None:  # noqa: B027 most leave nothing
        """Leave in the project what stays of the event when it is taken back: nothing, as long as the kind does not say so."""

    @abstractmethod
    def said(self) -> Said:
        """Return what exports say of it."""

    def as_json(self) -> dict[str, object]:
        """Return what the log keeps of it."""
        return stored.written(self)

    @property
    def of_run(self) -> str | None:
        """Key of the run that it is of; None for what is of the project."""
        return self.run if isinstance(self, OfRun) else None

    @property
    def was_by_itself(self) -> bool:
        """Whether it followed from the event before it without a key: taken back, it goes with that one."""
        return False

    @property
    def title(self) -> str:
        """What it is called when it is taken back."""
        said = self.said()
        return said.headline or said.shown or self.kind


KINDS: dict[str, type[Happened]] = {}
"""Every kind of event by its name in the log."""


@dataclass(frozen=True)
class OfRun:
    """What an event of a run carries."""

    run: str
    """Key of the run."""


@dataclass(frozen=True, slots=True)
class Recorded:
    """An event as it was recorded, numbered and with its time."""

    id: int
    at: datetime
    what: Happened

    @property
    def key(self) -> str:
        """Key of the run or the clock that began with it."""
        return str(self.id)


@dataclass(frozen=True)
class Lost(Happened, kind=LOST, undoable=False, leaves_step=False):
    """Holds the number of an event that was damaged or missing in the file."""

    why: str
    """What was wrong with it."""

    def fold(self, project: Project, event: Recorded) -> None:
        """Do nothing: what the event did is lost."""

    def said(self) -> Said:
        return Said("LOST: an event", self.why)


@dataclass(frozen=True)
class Unknown(Happened, kind="", undoable=False, leaves_step=False):
    """An event that this program cannot read, as of a newer one: it changes nothing, and a project that has one is READ ONLY."""

    name: str
    """Its kind."""
    data: Mapping[str, Any]

    def fold(self, project: Project, event: Recorded) -> None:
        """Only note it: what it should do is not known."""
        project.left_out[event.id] = UNREAD

    def said(self) -> Said:
        shown, headline, place, typed, reason = (
            str(self.data.get(key) or "") for key in ("shown", "headline", "place", "typed", "reason")
        )
        return Said(headline or self.name, shown, headline, place, typed=typed, reason=reason)

    @property
    def of_run(self) -> str | None:
        return str(self.data["run"]) if "run" in self.data else None


def read(event: Event) -> Recorded:
    """Return an event of the log with its type; one that cannot be read is Unknown."""
    try:
        what: Happened = stored.read(KINDS[event.kind], event.data)
    except (KeyError, TypeError, ValueError, EntryError):
        what = Unknown(event.kind, event.data)
    return Recorded(event.id, event.at, what)
