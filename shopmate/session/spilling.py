"""The current pot, and what to record if it is spilled."""

from __future__ import annotations

from collections.abc import Iterator

from shopmate import units
from shopmate.phrases import phrase
from shopmate.project.events.steps import PotSpilled
from shopmate.project.place import Place
from shopmate.project.project import Project
from shopmate.project.run import Run
from shopmate.recipe import Ask, MeasureAnswer, Start, Step
from shopmate.records import dataclass
from shopmate.session.doing import Doing
from shopmate.session.judging import Judge
from shopmate.units import Quantity


@dataclass(frozen=True, slots=True)
class Pot:
    """A pot from its resin to its last drop."""

    clock: str
    """Key of its pot-life clock."""
    amount: Quantity
    """The last reading of the scale."""
    of: str
    """Name of the sum that the pot is added to."""


def pot_in_hand(run: Run, project: Project) -> Pot | None:
    """Return the pot being weighed, stirred or worked; None before its resin, once it is empty, and if no pot is used."""
    if run.section is None or run.goes_back_to is not None or run.finished_at is not None:
        return None
    life = run.recipe.pot_life(run.place.section)
    if life is None:
        return None
    begun = any(isinstance(step.act, Start) and step.act.clock == life.clock and run.is_done(at) for at, step in _turn(run))
    key = run.clocks.get(life.clock)
    if not begun or key is None or project.clocks[key].ended_at is not None:
        return None
    asks = [(at, step.act) for at, step in _turn(run) if isinstance(step.act, Ask)]
    of = next((ask.adds_to for _, ask in asks if ask.adds_to is not None), None)
    amount = next((run.values[ask.into].quantity for at, ask in reversed(asks) if run.is_done(at) and _is_weighed(ask)), None)
    return Pot(key, amount, of) if amount is not None and of is not None else None


def _turn(run: Run) -> Iterator[tuple[Place, Step]]:
    """Yield the steps of this turn with their places."""
    found = run.recipe.repeated(run.place.section)
    for section in found[0] if found is not None else ():
        for index, step in enumerate(run.recipe.sections[section].steps):
            yield Place(section, run.place.turn, index), step


def _is_weighed(ask: Ask) -> bool:
    return isinstance(ask.answer, MeasureAnswer) and units.dimension(ask.answer.unit) == "mass"


def spilled(judge: Judge, number: int, pot: Pot) -> PotSpilled:
    """Return the event that the current pot was spilled; `number` is that of the event."""
    run = judge.run
    repeated = run.recipe.repeated(run.place.section)
    assert repeated is not None
    last = repeated[0][-1]
    end = Place(last, run.place.turn, len(run.recipe.sections[last].steps))
    event = PotSpilled(
        run.key,
        end,
        next=end,
        headline=phrase("Pot spilled"),
        turns=1,
        shown=str(judge.values.display(pot.amount)),
        clock=pot.clock,
        of=pot.of,
        amount=pot.amount,
    )
    return Doing(judge.at(end), number).onward(event)
