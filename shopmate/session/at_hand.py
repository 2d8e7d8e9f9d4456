"""What a run, its part, the shelf and fresh readings know of the fields of a calculator, so that it is not asked again."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from shopmate import calc, units
from shopmate.calculator import Measure, Value
from shopmate.recipe import READINGS, Fact, Recipe, Template, WorkOut
from shopmate.session.judging import Judge, working
from shopmate.units import Quantity


def at_hand(calculator: str, judge: Judge, last: Mapping[str, str]) -> dict[str, str]:
    """Return the texts that a form begins with: as the recipe gives them to the calculator here, else those entered `last`.

    A fresh reading takes the place of one entered before.
    """
    act = next(_workings(judge.run.recipe, calculator, judge.run.place.section), None)
    texts = {name: _text(value) for name, value in judge.values.given(act).items()} if act is not None else dict(last)
    for field in calc.find(calculator).inputs:
        if field.name in READINGS and isinstance(field.kind, Measure) and not (act is not None and field.name in texts):
            fact = Fact(field.name, Template(READINGS[field.name].of), is_reading=True)
            known = judge.known(fact) if READINGS[field.name].of != "material" else None
            if known is not None and judge.now - known.at <= judge.fresh(field.name):
                texts[field.name] = known.held.text
    return texts


def _workings(recipe: Recipe, calculator: str, section: int) -> Iterator[WorkOut]:
    """Yield the workings of a recipe by a calculator: those of the section in hand first, then of those before it."""
    for one in reversed(recipe.sections[: section + 1]):
        for step in one.steps:
            act = working(step.act)
            if act is not None and act.calculator == calculator:
                yield act


def _text(value: Value) -> str:
    return units.show(value) if isinstance(value, Quantity) else str(value)
