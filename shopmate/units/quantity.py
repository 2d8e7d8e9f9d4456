"""A number with its unit, converted by the table of scales, exactly if the number is exact."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.records import dataclass
from shopmate.units.known import BY_SYMBOL, Unit, dimension, joined
from shopmate.units.numbers import quoted, show_number
from shopmate.units.scales import SCALES


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit: a Fraction if the user typed it, a float if a formula made it."""

    value: Fraction | float
    unit: str
    """One of the symbols known here, such as 'mm', 'g/m²', '°C'; '' for a bare number."""

    def to(self, unit: str) -> Quantity:
        """Return the same quantity in `unit`, exact if it was exact.

        Raises EntryError if `unit` is of another dimension.
        """
        if unit == self.unit:
            return self
        if dimension(unit) != dimension(self.unit):
            raise EntryError(mismatch(self.unit, unit, BY_SYMBOL[self.unit]), hint_for(unit))
        return Quantity(_converted(self.value, self.unit, unit), unit)

    def value_in(self, unit: str) -> float:
        """Return the number in `unit` as a float, for formulas; EntryError if `unit` is of another dimension."""
        return float(self.to(unit).value)


def total(quantities: Sequence[Quantity]) -> Quantity:
    """Return the sum of one or more quantities of one dimension (not temperatures) in the unit of the first."""
    unit = quantities[0].unit
    return Quantity(sum(quantity.to(unit).value for quantity in quantities), unit)


def show(quantity: Quantity, places: int | None = None) -> str:
    """Return a quantity in its own unit as text that parses back to itself (exactly so without `places`)."""
    return joined(show_number(quantity.value, places), quantity.unit)


def _converted(number: Fraction | float, unit: str, wanted: str) -> Fraction | float:
    """Return a number in `unit` converted to `wanted`, a unit of the same dimension."""
    size, zero = _scale(unit)
    wanted_size, wanted_zero = _scale(wanted)
    if zero == wanted_zero:
        return number * (size / wanted_size)
    return (number * size + zero - wanted_zero) / wanted_size


def _scale(unit: str) -> tuple[Fraction, Fraction]:
    """Return the size of a unit and the zero point of its scale: from the table, else from the definitions, which loads pint."""
    if unit in SCALES:
        return SCALES[unit]
    from shopmate.units.definitions import scale

    return scale(unit)


def mismatch(typed: str, expected: str, unit: Unit) -> str:
    """Return why a unit is not the one expected; either may be '' for no unit."""
    if not expected:
        return phrase("{text} is a unit, but no unit is needed here", quoted(typed))
    if not typed:
        return phrase("{what} needs a unit", phrase(dimension(expected)))
    return phrase("{text} measures {what}, not {wanted}", quoted(typed), phrase(unit.dimension), phrase(dimension(expected)))


def hint_for(unit: str) -> str:
    """Return what to type for `unit`, with an example in the other system too: 'write 12 mm or 1-1/2 in'."""
    own = BY_SYMBOL[unit]
    examples = [own, BY_SYMBOL[own.twin]] if own.twin else [own]
    like = [joined(item.like, item.symbol) for item in examples]
    return phrase("type {value} or {other}", *like) if own.twin else phrase("type {value}", *like)
