"""A project: everything its log says as of the last event, its runs, clocks, readings and settings."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, MutableMapping
from copy import copy
from datetime import datetime, timedelta
from typing import Generic, NamedTuple, Self, TypeVar

from shopmate import units
from shopmate.clock import Clock, Reading
from shopmate.project.run import APART, Held, Run
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
class Known:
    """What is known of the shop, a part or a material beyond the runs: a reading, or a fact that stays."""

    held: Held
    at: datetime
    """When it was measured or answered."""


def fact_key(name: str, of: str) -> str:
    """Return under what a fact is kept: its name, and what it is of ('shop', 'part:NAME', 'material:NAME')."""
    return f"{name}@{of}"


@dataclass(frozen=True, slots=True)
class PartState:
    """A state that a part is in since a run on it was finished."""

    text: str
    """As the recipe's `makes` says it."""
    at: datetime
    run: str
    """Key of the run."""


@dataclass(frozen=True, slots=True)
class Plan:
    """A run that is planned and not begun."""

    key: str
    part: str
    recipe: str
    """Name of the recipe: what it says when it is begun counts."""
    title: str
    answers: Mapping[str, str]
    """Answers given ahead, by the value they become."""


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


class Unread(NamedTuple):
    """A run or a clock that is in the project file and was not looked at."""

    number: int
    """Number in the name of what the file keeps of it, beside its key."""
    is_over: bool
    """Whether nothing more happens to it by itself: a run that is finished with its clocks ended, or a clock that is ended."""


class Kept(MutableMapping[str, Thing], Generic[Thing]):
    """Runs or clocks by their keys, in the order they began; one that is unread is read when it is looked at."""

    def __init__(self, here: Mapping[str, Thing | Unread] | None = None, read: Callable[[str, int], Thing] | None = None) -> None:
        """Hold what is here; `read` reads what is unread, by its key and number."""
        self.here: dict[str, Thing | Unread] = dict(here or {})
        """What was looked at, or made since, and what is unread."""
        self._read = read

    def __getitem__(self, key: str) -> Thing:
        found = self.here[key]
        if isinstance(found, Unread):
            assert self._read is not None
            found = self.here[key] = self._read(key, found.number)
        return found

    def __setitem__(self, key: str, thing: Thing) -> None:
        self.here[key] = thing

    def __delitem__(self, key: str) -> None:
        del self.here[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self.here)

    def __reversed__(self) -> Iterator[str]:
        return reversed(self.here)

    def __len__(self) -> int:
        return len(self.here)

    def __contains__(self, key: object) -> bool:
        return key in self.here

    def __repr__(self) -> str:
        return repr(self.here)

    @property
    def not_over(self) -> list[Thing]:
        """All that is not over, and of the rest what was looked at."""
        unread = [key for key, thing in self.here.items() if isinstance(thing, Unread) and not thing.is_over]
        for key in unread:
            self[key]
        return [thing for thing in self.here.values() if not isinstance(thing, Unread)]

    def copy(self) -> Self:
        """Return the same, to be changed by itself."""
        return type(self)(self.here, self._read)


class Clocks(Kept[Clock]):
    """The clocks of a project; those that run are known without looking at all there ever were."""

    def __init__(self, here: Mapping[str, Clock | Unread] | None = None, read: Callable[[str, int], Clock] | None = None) -> None:
        super().__init__(here, read)
        self._running = {key for key, clock in self.here.items() if not isinstance(clock, Unread) and clock.ended_at is None}

    def __setitem__(self, key: str, clock: Clock) -> None:
        super().__setitem__(key, clock)
        if clock.ended_at is None:
            self._running.add(key)
        else:
            self._running.discard(key)

    def __delitem__(self, key: str) -> None:
        super().__delitem__(key)
        self._running.discard(key)

    def copy(self) -> Self:
        after = type(self).__new__(type(self))
        after.here, after._read, after._running = self.here.copy(), self._read, self._running.copy()
        return after

    @property
    def running(self) -> list[Clock]:
        """The clocks not ended, in the order they were started, by which their keys are numbered."""
        return [self[key] for key in sorted(self._running, key=int)]


UNREAD = "is unknown to this version"
QUICK = ("mix", "potlife", "bead", "dewpoint", "screw")
"""The calculators that are nearest at hand before any was used."""

REFERS = "left out: its run is lost"
UNFIT = "left out: it does not fit the entries before it"
"""Why an event is not in the project; 'event 7' stands before it."""


@dataclass(slots=True)
class Project:
    """Everything the log of a project says, as of its last event."""

    name: str
    system: System = "metric"
    theme: str = "dark"
    fresh: dict[str, timedelta] = field(default_factory=dict)
    """How long readings are good where it was set, by the names of FRESH."""
    reading_holds: timedelta = timedelta(hours=4)
    """How long a reading of the shop temperature is taken for the present one (4 h: common practice)."""
    parts: dict[str, datetime] = field(default_factory=dict)
    plans: dict[str, Plan] = field(default_factory=dict)
    """The runs that are planned and not begun, by their keys."""
    states: dict[str, tuple[PartState, ...]] = field(default_factory=dict)
    """Part -> the states it is in, the newest last."""
    took: dict[str, tuple[float, ...]] = field(default_factory=dict)
    """Name of a recipe -> seconds that hands were on each finished run of it."""
    runs: Kept[Run] = field(default_factory=Kept, metadata=APART)
    current: str | None = None
    """Key of the run that is on the bench."""
    clocks: Clocks = field(default_factory=Clocks, metadata=APART)
    own_clocks: int = 0
    """How many clocks of the user's own were started outside any recipe."""
    readings: list[Reading] = field(default_factory=list)
    """Temperatures of the shop in °C with their times."""
    pouring: dict[str, tuple[str, float]] = field(default_factory=dict)
    """Key of a clock -> name and g of the mass that was asked first while it ran: what its pot holds."""
    poured_out: dict[str, str] = field(default_factory=dict)
    """Of a clock started as a pot was poured out, by key, that of the pot: the pot is not done with until it ends."""
    pots: dict[str, tuple[Pot, ...]] = field(default_factory=dict)
    """Name of a clock -> the pots finished under it, in the order they were."""
    facts: dict[str, Known] = field(default_factory=dict)
    """What is known beyond the runs, by `fact_key`."""
    forms: dict[str, dict[str, str]] = field(default_factory=dict)
    """Calculator -> texts entered last, the one used last at the end."""
    look_ups: dict[str, int] = field(default_factory=dict)
    """Calculator -> how often it was used, each time after another one."""
    quick: tuple[str, ...] = QUICK
    """The calculators used last and most, each at its place until another is used more."""
    undo: list[int] = field(default_factory=list, metadata=APART)
    """Numbers of the events that can be taken back, the last one first to go."""
    base: Base | None = None
    """By which a wall clock that is set is noticed; None where no steady clock was read."""
    wall_set: WallSet | None = None
    """The last time that the wall clock was set."""
    left_out: dict[int, str] = field(default_factory=dict)
    """Numbers of events that stand in the log and are not in the project, and why."""
    _own: set[str] = field(default_factory=set, compare=False, metadata=APART)
    """Keys of the runs that no other project holds, so that they may be changed in place."""

    @property
    def run(self) -> Run | None:
        """The run on the bench."""
        return self.runs[self.current] if self.current is not None else None

    @property
    def running(self) -> list[Clock]:
        """The clocks not ended, in the order they were started."""
        return self.clocks.running

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

    @property
    def air(self) -> Known | None:
        """The temperature of the shop as it was read last, by which the clocks go; None while it was not."""
        if not self.readings:
            return None
        at, celsius = self.readings[-1]
        return Known(Held(Quantity(round(celsius, 2), "°C")), at)

    def use_calculator(self, name: str) -> None:
        """Take note that a calculator was used: a new one takes the place of the one that was used least, no other moves."""
        if next(reversed(self.forms), "") != name:
            self.look_ups[name] = self.look_ups.get(name, 0) + 1
        if name not in self.quick:
            least = min(reversed(self.quick), key=lambda other: self.look_ups.get(other, 0))
            self.quick = tuple(name if other == least else other for other in self.quick)

    def had(self, part: str) -> dict[str, datetime]:
        """Return the states that a part is in, and since when."""
        return {state.text: state.at for state in self.states.get(part, ())}

    def known(self, name: str, of: str) -> Known | None:
        """Return what is known of that name ('shop', 'part:NAME', 'material:NAME'); of the air what the clocks go by."""
        return self.air if (name, of) == ("air", "shop") else self.facts.get(fact_key(name, of))

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
