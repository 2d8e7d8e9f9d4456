"""An edited recipe for a run under way: whether the run can continue with it, and what changed in it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping

from shopmate.phrases import phrase
from shopmate.project.run import Run
from shopmate.recipe import Ask, ChoiceAnswer, Gate, Recipe, Section, Start, Step, Wait, WorkOut
from shopmate.records import dataclass, replace

MOST_TOLD = 6
"""How many changed steps are named; any more are only counted (our choice)."""


@dataclass(frozen=True, slots=True)
class Edition:
    """A recipe as its file reads now, for a run that still follows an older text."""

    recipe: Recipe
    changes: tuple[str, ...]
    """What changed in this section and those after it, in words."""
    fits: bool
    """Whether the run can continue with it: the sections already done have the same steps in it."""

    @property
    def digest(self) -> str:
        """A short hash of its text."""
        return digest(self.recipe)


def digest(recipe: Recipe) -> str:
    """Return a short hash of the text of a recipe."""
    return hashlib.sha256(recipe.text.encode()).hexdigest()[:16]


def begins_section(run: Run) -> bool:
    """Return whether a run is at the start of a section, in its first turn, with nothing done in it yet."""
    place, last = run.place, next(reversed(run.marks), None)
    if last is not None and last.section >= place.section:  # nearly always: it is asked for at every step
        return False
    if not 0 < place.section < len(run.recipe.sections) or place.turn > 1 or run.goes_back_to is not None:
        return False
    repeated = run.recipe.repeated(place.section)
    first = repeated[0].start if repeated is not None else place.section
    return first == place.section and all(done.section < place.section for done in run.marks)


def edition(run: Run, recipe: Recipe) -> Edition | None:
    """Return the edit to offer a run at the start of a section; None if nothing still to do has changed, or it was declined."""
    at = run.place.section
    changes = tuple(_told(run.recipe.sections[at:], recipe.sections[at:]))
    if not changes or digest(recipe) == run.declined:
        return None
    return Edition(recipe, changes, [*map(_shape, run.recipe.sections[:at])] == [*map(_shape, recipe.sections[:at])])


def _shape(section: Section) -> object:
    """Return what must stay the same in a section already done, so that its answers and places keep their meaning."""
    return section.repeat is not None, [_names(step) for step in section.steps]


def _names(step: Step) -> tuple[object, ...]:
    match step.act:
        case Ask(into=into, answer=ChoiceAnswer(choices)):
            return "ask", into, tuple(choices)
        case Ask(into=into, answer=answer):
            return "ask", into, type(answer)
        case WorkOut(into=into, calculator=calculator):
            return "work out", into, calculator
        case Gate(by=by):
            return "gate", type(by)
        case Start(clock=clock) | Wait(clock=clock):
            return type(step.act), clock
        case _:
            return (type(step.act),)


def _told(old: tuple[Section, ...], new: tuple[Section, ...]) -> Iterator[str]:
    """Yield what changed in the sections still to come: those added, removed or changed, with the steps that differ."""
    before = {section.name: section for section in old}
    after = {section.name: section for section in new}
    for name, section in after.items():
        if name not in before:
            yield phrase("new section: {section}", name)
        elif steps := [*_steps(_by_headline(before[name]), _by_headline(section))]:
            more = [phrase("{count} more", len(steps) - MOST_TOLD)] if len(steps) > MOST_TOLD else []
            yield phrase("{section}: {steps}", name, ", ".join([*steps[:MOST_TOLD], *more]))
        elif _rest(before[name]) != _rest(section):
            yield phrase("{section}: number of rounds, or the way steps are ticked, changed", name)
    yield from (phrase("section removed: {section}", name) for name in before if name not in after)


def _by_headline(section: Section) -> dict[str, Step]:
    """Return the steps of a section by headline, without their line in the file."""
    return {step.headline: replace(step, line=0, id="") for step in section.steps}


def _rest(section: Section) -> Section:
    return replace(section, steps=())


def _steps(old: Mapping[str, Step], new: Mapping[str, Step]) -> Iterator[str]:
    for headline, step in new.items():
        if headline not in old:
            yield phrase("new '{step}'", headline)
        elif old[headline] != step:
            yield phrase("changed '{step}'", headline)
    yield from (phrase("removed '{step}'", headline) for headline in old if headline not in new)
    common = [headline for headline in old if headline in new]
    if common != [headline for headline in new if headline in old]:
        yield phrase("steps in a new order")
