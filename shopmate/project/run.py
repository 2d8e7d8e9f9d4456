"""A run: one recipe followed on one part, with the values it knows and the place it has come to."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

from shopmate import calc, units
from shopmate.calculator import Value
from shopmate.project.place import Mark, Place
from shopmate.records import dataclass, field
from shopmate.units import Quantity

if TYPE_CHECKING:
    from shopmate.recipe import Caution, Recipe, Repeat, Section, Step, Template


@dataclass(frozen=True)
class Held:
    """A value of a run: an answer, a figure of a data sheet, or what a calculator worked out."""

    value: Value
    label: str | None = None
    """What is shown for a choice."""
    places: int | None = None
    """Decimals it is shown with; None for as many as its size asks for, or as its calculator says."""
    output_of: tuple[str, str] | None = None
    """The calculator and its output that the value is; None where no calculator worked it out."""

    @cached_property
    def decimals(self) -> int | None:
        """Decimals it is shown with, which brings its calculator where it is of one; None for as many as its size asks for."""
        if self.output_of is None or self.quantity is None:
            return self.places
        calculator, name = self.output_of
        return next((output.places for output in calc.find(calculator).outputs if output.name == name), None)

    @property
    def quantity(self) -> Quantity | None:
        """The value where it is a quantity; None for a name, a ratio or a count of a calculator's."""
        return self.value if isinstance(self.value, Quantity) else None

    @cached_property
    def text(self) -> str:
        """The text that parses back to it."""
        return units.show(self.value) if isinstance(self.value, Quantity) else str(self.value)


@dataclass(frozen=True, slots=True)
class OldAnswer:
    """An answer that was taken back."""

    held: Held
    at: datetime
    """When it was given; of a reading when that was measured."""
    is_new: bool
    """Whether it told something beyond the run; not so where what was known already was taken as the answer."""


_A_DAY = timedelta(hours=12)
"""For how long a caution that was read need not be read again where the same words stand again: a day at the bench."""


def caution_key(place: Place, number: int) -> str:
    """Return under what it is kept that a caution was read: the place of its step, and which of the step's it is, from 0."""
    return f"{place} {number}"


@dataclass(frozen=True, slots=True)
class Spilled:
    """What was in a pot that was spilled."""

    of: str
    """Name of the sum that it would have been added to."""
    amount: Quantity
    """What was weighed into it."""


def last_of_turns(added: Mapping[Place, Quantity]) -> list[Quantity]:
    """Return the last answer of each turn: a scale that is not zeroed in between reads all that was poured before."""
    return list({place.turn: added[place] for place in sorted(added)}.values())


APART = {"apart": True}
"""Metadata of a field that is not kept with the others of its class."""


@dataclass(slots=True)
class Run:
    """One recipe followed on one part."""

    key: str
    part: str
    kept: Recipe | str = field(metadata=APART)
    """The recipe, or its text as the log keeps it, which is read when the run is first looked at."""
    begun_at: datetime
    place: Place
    values: dict[str, Held] = field(default_factory=dict)
    marks: dict[Place, Mark] = field(default_factory=dict)
    seen: dict[str, datetime] = field(default_factory=dict)
    """Cautions acknowledged, by `caution_key`, and when."""
    warned: dict[str, datetime] = field(default_factory=dict)
    """What calculators warned of that was seen at its step, and when."""
    overrides: dict[Place, str] = field(default_factory=dict)
    """Why each closed hold point was passed."""
    notes: dict[Place, tuple[str, ...]] = field(default_factory=dict)
    """What was noted at steps, with the names of photos."""
    refused: dict[Place, str] = field(default_factory=dict)
    """Hold points answered with a state that does not pass."""
    clocks: dict[str, str] = field(default_factory=dict)
    """The recipe's clock name -> key of the clock started last under it."""
    extra_turns: dict[int, int] = field(default_factory=dict)
    """First section of a repeat -> how many times more (or, negative, fewer) than planned it is done."""
    added: dict[str, Mapping[Place, Quantity]] = field(default_factory=dict)
    """Name of a sum -> the answers it is made of, by the place they were given at."""
    spilled: dict[Place, Spilled] = field(default_factory=dict)
    """Where the run went on after a pot was spilled -> what was in it."""
    paced: dict[str, int] = field(default_factory=dict)
    """Clock whose pots have renewed the answers on pace -> how many pots these are the middle of."""
    goes_back_to: Place | None = None
    """Where the run goes on once the step taken up from those left for later is done; None while none is."""
    touched_at: datetime | None = None
    finished_at: datetime | None = None
    offered: dict[str, str] = field(default_factory=dict)
    """Answers given ahead, offered where they are asked for."""
    taken_back: dict[Place, OldAnswer] = field(default_factory=dict)
    """The answers taken back, until the question at their place is answered again."""
    recipe_name: str = ""
    """Name of the recipe that was begun; '' for a run of no project."""
    by_section: bool = False
    """Whether plain steps are confirmed together also where each is followed one by one."""
    given_up: bool = False
    """Whether it was ended before its end."""
    kept_by: str = ""
    """Key of the event that keeps its text; '' for the one that it began with."""
    declined: str = ""
    """What tells the edited recipe that it does not go by, '' where none was declined."""

    @property
    def recipe(self) -> Recipe:
        """The recipe that is followed; FileProblems where the text kept of it cannot be read any more."""
        if not isinstance(self.kept, str):
            return self.kept
        from shopmate.recipe import read_kept  # brings yaml, and all that a recipe is made of, which a log is shown without

        return read_kept(self.kept)

    def has_read(self, number: int) -> bool:
        """Return whether a caution of the step in hand was read, there or in the same words where it stood today."""
        if caution_key(self.place, number) in self.seen:
            return True
        words = self.cautions[number].text
        return any(self.last_at - at < _A_DAY and self._caution(key) == words for key, at in self.seen.items())

    def has_seen(self, warning: str) -> bool:
        """Return whether what a calculator warns of was seen today, in the same words."""
        at = self.warned.get(warning)
        return at is not None and self.last_at - at < _A_DAY

    def _caution(self, key: str) -> Template | None:
        """Return the words of a caution that was read."""
        place, number = key.split()
        step = self.step_at(Place.parse(place))
        return step.cautions[int(number)].text if step is not None and int(number) < len(step.cautions) else None

    def may_have(self, key: str) -> bool:
        """Return whether a key may stand in the recipe: as far as the text tells, so that it is not read for what it has not.

        A text with a backslash could spell the key otherwise.
        """
        return not isinstance(self.kept, str) or key in self.kept or "\\" in self.kept

    @property
    def last_at(self) -> datetime:
        """When something was done in it last, or it was begun."""
        return self.touched_at or self.begun_at

    @property
    def for_later(self) -> list[Place]:
        """The steps left for later, in the order of the recipe."""
        return sorted(place for place, mark in self.marks.items() if mark.word == "for later")

    @property
    def section(self) -> Section | None:
        """The section of the place, None at the end of the recipe."""
        sections = (self.kept if not isinstance(self.kept, str) else self.recipe).sections  # asked for at every key
        return sections[self.place.section] if self.place.section < len(sections) else None

    @property
    def step(self) -> Step | None:
        """The step of the place, None at the end of a section or of the recipe."""
        place, sections = self.place, (self.kept if not isinstance(self.kept, str) else self.recipe).sections
        steps = sections[place.section].steps if place.section < len(sections) else ()
        return steps[place.step] if place.step < len(steps) else None

    def step_at(self, place: Place) -> Step | None:
        """Return the step of any place, None at the end of a section or of the recipe."""
        sections = self.recipe.sections
        steps = sections[place.section].steps if place.section < len(sections) else ()
        return steps[place.step] if place.step < len(steps) else None

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions of the step in hand, with that of a pot just spilled as the last: it stands there alone."""
        step = self.step
        own = step.cautions if step is not None else ()
        life = self.recipe.pot_life(self.place.section) if self.spilled and self.place in self.spilled else None
        return own if life is None or life.spilled is None else (*own, life.spilled)

    def headline_at(self, place: Place) -> str:
        """Return the headline of the step of any place, '' where there is none."""
        step = self.step_at(place)
        return step.headline if step is not None else ""

    def is_done(self, place: Place) -> bool:
        """Return whether the step of a place, or the end of a section, was done."""
        mark = self.marks.get(place)
        return mark is not None and mark.word == "done"

    def turns(self, section: int) -> int:
        """Return how many times a section is done, as far as the values tell (at least once)."""
        found = self.recipe.repeated(section)
        if found is None:
            return 1
        together, repeat = found
        return max(1, self.planned(repeat) + self.extra_turns.get(together.start, 0))

    def planned(self, repeat: Repeat) -> int:
        """Return how many turns a repeat is planned for, as far as the values tell (else 1)."""
        planned = self.value(repeat.times.lone_reference or "")
        if planned is not None and planned.quantity is not None:
            return int(planned.quantity.value)
        return int(units.parse_number(repeat.times.fill(lambda name: held.text if (held := self.value(name)) else None, "1")))

    def value(self, name: str) -> Held | None:
        """Return the value of that name; the number of the turn is one inside of a repeated section."""
        held = self.values.get(name)
        if held is None and self.recipe.counts_turns(name, self.place.section):
            return Held(Quantity(self.place.turn, ""), places=0)
        return held
