"""A value as it is read: its number and its unit, so that a screen can draw them apart."""

from __future__ import annotations

from shopmate.records import dataclass
from shopmate.units.entry import divide
from shopmate.units.known import joined
from shopmate.units.numbers import show_number
from shopmate.units.quantity import Quantity
from shopmate.units.ratio import Ratio


@dataclass(frozen=True, slots=True)
class Shown:
    """A value as it is read, in parts; str() puts them together."""

    number: str
    """Such as '38.5' or '1 33/64'; all of a name."""
    unit: str = ""

    def __str__(self) -> str:
        return joined(self.number, self.unit)


def shown(value: Quantity | Ratio | str | int, places: int | None = None) -> Shown:
    """Return a value as it was given, a quantity in its own unit; of a name that begins with a number, as a drill's may, that."""
    if isinstance(value, Quantity):
        return Shown(show_number(value.value, places), value.unit)
    if isinstance(value, Ratio):
        return Shown(f"{show_number(value.a)}:{show_number(value.b)}", f"by {value.basis}")
    number, rest = divide(str(value))
    return Shown(number, rest) if number[:1].isdigit() and f"{number} {rest}" == value else Shown(str(value))
