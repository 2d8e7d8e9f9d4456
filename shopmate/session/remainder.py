"""What is left on the shelf: whether it is enough for a run, and what is left once some of it was used."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from shopmate import units
from shopmate.errors import UsageError
from shopmate.phrases import phrase
from shopmate.project.events.work import Used
from shopmate.recipe import LEFT, Material
from shopmate.records import dataclass, replace
from shopmate.session.needs import shown_amount
from shopmate.session.values import Values
from shopmate.units import Quantity

_PLACES = 4
"""Decimals that what is left is kept with: of a kilogram, a tenth of a gram."""


@dataclass(frozen=True, slots=True)
class Stock:
    """What is left of a material that is needed, beside what is needed of it."""

    title: str
    needed: Quantity
    left: Quantity
    """In the unit of the need."""

    @property
    def short(self) -> Quantity | None:
        """How much is missing, in the unit of the need; None where there is enough."""
        missing = self.needed.value - self.left.value
        return Quantity(missing, self.needed.unit) if missing > 0 else None


def stock(need: Used, materials: Mapping[str, Material]) -> Stock | None:
    """Return what is left of a material needed; None where that is not counted, or in units of another kind."""
    material = materials.get(need.material)
    left = _left(material) if material is not None else None
    if left is None or need.amount is None or units.dimension(left.unit) != units.dimension(need.amount.unit):
        return None
    return Stock(need.title, need.amount, left.to(need.amount.unit))


def shown_stock(found: Stock, values: Values) -> str:
    """Return in words whether what is left is enough, in the project's units."""
    needed, left = (shown_amount(each, values) for each in (found.needed, found.left))
    if found.short is None:
        return phrase("{material}: {amount} needed, {left} left: enough", found.title, needed, left)
    short = shown_amount(found.short, values)
    return phrase("{material}: {amount} needed, {left} left: short by {missing}", found.title, needed, left, short)


def lowered(material: Material, used: Quantity) -> Material:
    """Return a material of which some was used, none left at the least; UsageError where it is counted by something else."""
    left = _left(material)
    if left is None:
        return material
    if units.dimension(left.unit) != units.dimension(used.unit):
        raise UsageError(
            phrase("the shelf has it in {unit}, but it was used in {other}", left.unit, used.unit or phrase("pieces"))
        )
    return _holding(material, left.value - used.to(left.unit).value, left.unit)


def given_back(material: Material, was: str, now: str) -> Material:
    """Return a material with what it was lowered by, from `was` to `now`, on the shelf again."""
    left = _left(material)
    if left is None:
        return material
    before, after = (units.parse(text, LEFT[material.kind].unit).to(left.unit) for text in (was, now))
    return _holding(material, left.value + before.value - after.value, left.unit)


def _left(material: Material) -> Quantity | None:
    """Return how much is left of a material, None where nobody keeps count."""
    return units.parse(material.left, LEFT[material.kind].unit) if material.left else None


def _holding(material: Material, left: Fraction | float, unit: str) -> Material:
    """Return the material with so much left of it."""
    return replace(material, left=units.show(Quantity(round(max(Fraction(left), Fraction(0)), _PLACES), unit)))
