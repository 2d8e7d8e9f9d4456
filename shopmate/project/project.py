"""A project: everything its log says as of the last event, its runs, clocks, readings and settings."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, MutableMapping
from copy import copy
from datetime import datetime, timedelta
from typing import Generic, TypeVar

from shopmate import units
from shopmate.clock import Clock, Reading
from shopmate.project.run import Run
from shopmate.records import dataclass, field, fields
from shopmate.units import Quantity, System


@dataclass(frozen=True, slots=True)
class Pot:
    """A pot that was worked: its mass in g, and the minutes from the first drop of hardener until it was done with."""

    mass: float
    minutes: float

    def answers(self, unit: str) -> Quantity:
        """Return what a question in that unit asks of the pot: its mass, to 0.1 g, or its time, to 0.1 min."""
        is_mass = units.dimension(unit) == "mass"
        return Quantity(round(self.mass, 1), "g") if is_mass else Quantity(round(self.minutes, 1), "min")


@dataclass(frozen=True, slots=True)
class Base:
    """What the wall clock is compared with: while nobody sets it, it is at `nought` plus what the steady clock reads."""

    boot: str
    """The start of the computer for which it holds."""
    nought: datetime
    """Wall time at which the steady clock read nought, by the wall clock as it was set last."""
    since: int
    """Number of the first event of this start of the computer."""


@dataclass(frozen=True, slots=True)
class WallSet:
    """A setting of the computer's clock that was noticed, and by how much it was set forward."""

    at: datetime
    shift: timedelta


Thing = TypeVar("Thing")


class Kept(MutableMapping[str, Thing], Generic[Thing]):
    """Runs or clocks by their keys, in the order they began; what is over is read from the file when it is looked at."""

    def __init__(self, keys: Iterable[str] = (), load: Callable[[str], Thing] | None = None) -> None:
        """Hold what stands on disk under these keys; `load` reads one."""
        self._here: dict[str, Thing | None] = dict.fromkeys(keys)
        self._load = load

    def __getitem__(self, key: str) -> Thing:
        found = self._here[key]
        if found is None:
            assert self._load is not None
            found = self._here[key] = self._load(key)
        return found

    def __setitem__(self, key: str, thing: Thing) -> None:
        self._here[key] = thing

    def __delitem__(self, key: str) -> None:
        del self._here[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._here)

    def __reversed__(self) -> Iterator[str]:
        return reversed(self._here)

    def __len__(self) -> int:
        return len(self._here)

    def __contains__(self, key: object) -> bool:
        return key in self._here

    def __repr__(self) -> str:
        return repr(self._here)

    @property
    def present(self) -> list[Thing]:
        """Those that are not on disk alone: all that are not over, and what was looked at."""
        return [thing for thing in self._here.values() if thing is not None]

    def is_present(self, key: str) -> bool:
        """Return whether the thing of a key is at hand without being read."""
        return self._here[key] is not None

    def copy(self) -> Kept[Thing]:
        """Return the same, to be changed by itself."""
        after = Kept[Thing]((), self._load)
        after._here = self._here.copy()
        return after


UNREAD = "of a kind or with data that this shopmate cannot read"
REFERS = "left out, since it is of a run that is lost"
UNFIT = "left out, since it does not fit those before it"
"""Why an event is not in the project; 'event 7' stands before it."""


@dataclass(slots=True)
class Project:
    """Everything the log of a project says, as of its last event."""

    name: str
    system: System = "metric"
    theme: str = "dark"
    reading_holds: timedelta = timedelta(hours=4)
    """How long a reading of the shop temperature is taken for the present one (4 h: common practice)."""
    parts: dict[str, datetime] = field(default_factory=dict)
    runs: Kept[Run] = field(default_factory=Kept)
    current: str | None = None
    """Key of the run that is on the bench."""
    clocks: Kept[Clock] = field(default_factory=Kept)
    own_clocks: int = 0
    """How many clocks of the user's own were started outside any recipe."""
    readings: list[Reading] = field(default_factory=list)
    """Temperatures of the shop in °C with their times."""
    pouring: dict[str, tuple[str, float]] = field(default_factory=dict)
    """Key of a clock -> name and g of the mass that was asked first while it ran: what its pot holds."""
    pots: dict[str, tuple[Pot, ...]] = field(default_factory=dict)
    """Name of a clock -> the pots finished under it, in the order they were."""
    forms: dict[str, dict[str, str]] = field(default_factory=dict)
    """Calculator -> texts entered last."""
    undo: list[int] = field(default_factory=list)
    """Numbers of the events that can be taken back, the last one first to go."""
    base: Base | None = None
    """By which a wall clock that is set is noticed; None where no steady clock was read."""
    wall_set: WallSet | None = None
    """The last time that the wall clock was set."""
    left_out: dict[int, str] = field(default_factory=dict)
    """Numbers of events that stand in the log and are not in the project, and why."""
    _own: set[str] = field(default_factory=set, compare=False)
    """Keys of the runs that no other project holds, so that they may be changed in place."""

    @property
    def run(self) -> Run | None:
        """The run on the bench."""
        return self.runs[self.current] if self.current is not None else None

    @property
    def running(self) -> list[Clock]:
        """The clocks not ended, in the order they were started."""
        return [clock for clock in self.clocks.present if clock.ended_at is None]

    def apart(self) -> Project:
        """Return the same project to be changed: this one stays as it is, and shares only what is not changed in place."""
        after = _apart(self)
        after._own = set()
        return after

    def add(self, run: Run) -> None:
        """Take a run in and put it on the bench."""
        self.runs[run.key] = run
        self._own.add(run.key)
        self.current = run.key

    def changing(self, key: str) -> Run:
        """Return a run to be changed, so that those projects which hold it too keep theirs as it was."""
        if key not in self._own:
            self.runs[key] = _apart(self.runs[key])
            self._own.add(key)
        return self.runs[key]

    def middle_pot(self, clock: str) -> Pot | None:
        """Return the pot of median pace among those finished under clocks of that name, of an even number the slower."""
        pots = sorted(self.pots.get(clock, ()), key=lambda pot: pot.mass / pot.minutes)
        return pots[(len(pots) - 1) // 2] if pots else None


_Thing = TypeVar("_Thing", Project, Run)


def _apart(thing: _Thing) -> _Thing:
    """Return a copy whose own dictionaries, lists and sets may be changed; what these hold is only ever replaced."""
    after = copy(thing)
    for item in fields(thing):
        value = getattr(thing, item.name)
        if isinstance(value, dict | list | set | Kept):
            setattr(after, item.name, value.copy())
    return after
