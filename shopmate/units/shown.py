"""A value for reading, as a number and a unit, so that a screen can show them separately."""

from __future__ import annotations

from shopmate.records import dataclass
from shopmate.units.entry import divide
from shopmate.units.known import joined, written
from shopmate.units.numbers import show_number
from shopmate.units.quantity import Quantity
from shopmate.units.ratio import Ratio


@dataclass(frozen=True, slots=True)
class Shown:
    """A value for reading, in two parts; str() joins them."""

    number: str
    """The number, such as '38.5' or '1 33/64'; for a name, the whole name."""
    unit: str = ""

    def __str__(self) -> str:
        return joined(self.number, self.unit)


def shown(value: Quantity | Ratio | str | int, places: int | None = None) -> Shown:
    """Return a value for reading, a quantity in its own unit; a name such as '1/4 in' is split after the number."""
    if isinstance(value, Quantity):
        return Shown(show_number(value.value, places), written(value.unit))
    if isinstance(value, Ratio):
        return Shown(f"{show_number(value.a)}:{show_number(value.b)}", f"by {value.basis}")
    number, rest = divide(str(value))
    return Shown(number, rest) if number[:1].isdigit() and f"{number} {rest}" == value else Shown(str(value))
