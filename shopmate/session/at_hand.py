"""What a run, its part, the shelf and fresh readings know about a calculator's fields, so that nothing is asked twice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from itertools import chain
from typing import Literal

from shopmate import calc, units
from shopmate.calculator import Calculator, Value
from shopmate.project.project import Project
from shopmate.project.run import Run
from shopmate.recipe import READINGS, Material, Recipe, WorkOut, of_kind
from shopmate.records import dataclass
from shopmate.session.judging import Judge, is_fresh, working
from shopmate.units import Quantity

MATERIAL = "material"
"""Name under which a form keeps the name of its material among its texts; no calculator has a field of that name."""

Origin = Literal["typed", "last time", "recipe", "reading", "shelf", "default", ""]
"""Where the text of a field comes from."""


@dataclass(frozen=True, slots=True)
class AtHand:
    """What a calculator's form starts with."""

    texts: Mapping[str, str]
    """The text of each field that is known, and the name of the material in use."""
    origins: Mapping[str, Origin]
    """By field, where each text comes from that was not entered last time."""
    materials: Mapping[str, Material]
    """The materials on the shelf that can fill in fields of the calculator, by name."""


def at_hand(name: str, project: Project, shelf: Mapping[str, Material], judge: Judge | None, now: datetime) -> AtHand:
    """Return what a calculator's form starts with: what the recipe of the run gives it, otherwise what was entered last.

    `judge` is that of the run on the bench, None if there is none. A fresh reading replaces a text entered before. Where one of
    several fields is enough, only the usual one starts with a text, so that every step asks for the same with the same keys.
    """
    calculator = calc.find(name)
    last = project.forms.get(name, {})
    given = _of_recipe(name, judge) if judge is not None else {}
    materials = of_kind(shelf, calculator.stock.kind) if calculator.stock is not None else {}
    material = _material(project, calculator, materials)
    read = _fresh(calculator, project, material, now)
    unusual = {field.name for spot in calculator.asks for field in spot[1:]}
    known = {field: text for field, text in (given or last).items() if field not in unusual}
    texts = {**known, **read, MATERIAL: material}
    origins: dict[str, Origin] = {field: "reading" if field in read else "recipe" for field in (*given, *read)}
    return AtHand(texts, origins, materials)


def _of_recipe(calculator: str, judge: Judge) -> dict[str, str]:
    """Return the texts of the fields as the recipe gives them in the current section, or in the last section that does."""
    act = next(_workings(judge.run.recipe, calculator, judge.run.place.section), None)
    return {name: _text(value) for name, value in judge.values.given(act).items()} if act is not None else {}


def _material(project: Project, calculator: Calculator, materials: Mapping[str, Material]) -> str:
    """Return the name of the material in use: in the run, else in forms, else in earlier runs; '' if there is none."""
    if not materials:
        return ""
    run, last = project.run, project.forms.get(calculator.name)
    if run is not None and (used := _answered(run, materials)):
        return used
    if last is not None and MATERIAL in last:
        return last[MATERIAL] if last[MATERIAL] in materials else ""
    entered = (texts.get(MATERIAL, "") for texts in reversed(project.forms.values()))
    before = (_answered(project.runs[key], materials) for key in reversed(project.runs))
    return next((name for name in chain(entered, before) if name in materials), "")


def _answered(run: Run, materials: Mapping[str, Material]) -> str:
    """Return which of these materials a run answered with last; '' if none."""
    return next((held.text for held in reversed(run.values.values()) if held.text in materials), "")


def _fresh(calculator: Calculator, project: Project, material: str, now: datetime) -> dict[str, str]:
    """Return, by field, the text of each fresh reading."""
    of = {
        "shop": "shop",
        "part": f"part:{project.run.part}" if project.run is not None else "",
        "material": f"material:{material}",
    }
    found = {}
    for field, names in calculator.readings.items():
        for name in names:
            known = project.known(name, of[READINGS[name].of])
            if known is not None and is_fresh(project, name, known.at, now):
                found[field] = known.held.text
                break
    return found


def _workings(recipe: Recipe, calculator: str, section: int) -> Iterator[WorkOut]:
    """Yield the steps of a recipe that use a calculator: first those of the current section, then those of earlier ones."""
    for one in reversed(recipe.sections[: section + 1]):
        for step in one.steps:
            act = working(step.act)
            if act is not None and act.calculator == calculator:
                yield act


def _text(value: Value) -> str:
    return units.show(value) if isinstance(value, Quantity) else str(value)
