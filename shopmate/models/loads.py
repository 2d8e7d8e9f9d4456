"""Masses and their positions, read from a list such as 'solar panel 14 kg @ 500 mm; fan 6 kg @ 1800 mm'."""

from __future__ import annotations

import re
from collections.abc import Sequence

from shopmate import units
from shopmate.calculator import Measure, Measures
from shopmate.errors import EntryError
from shopmate.models.constants import GRAVITY
from shopmate.records import dataclass
from shopmate.units import Quantity

MOST_LOADS = 100
"""Maximum parts in a list (our choice). No Threshold needed: it only stops absurd input from running for hours."""

_MOST_CHARACTERS = 8000
"""Maximum characters in a list (our choice). No Threshold needed: it only stops absurd input from running for hours."""

_MASS = Measure("kg", above=0, high=20_000)
_LEFT = re.compile(r"(.*?)(?:^|\s|(?<=[^0-9.,/\s]))([0-9.,][0-9.,/¼½¾-]*\s*[a-zA-Z]*)")
"""A name, which may contain numbers, followed by the mass."""


@dataclass(frozen=True, slots=True)
class Load:
    """A part with its mass and the position of its centre: distance along and, if typed, to the side and up."""

    name: str
    mass: Quantity
    place: tuple[Quantity, ...]

    def __str__(self) -> str:
        return f"{self.name} {units.show(self.mass)} @ {', '.join(map(units.show, self.place))}".strip()

    @property
    def kilograms(self) -> float:
        return self.mass.value_in("kg")

    @property
    def weight(self) -> float:
        """Weight in N."""
        return self.kilograms * GRAVITY

    def at(self, axis: int) -> float:
        """Return the position in mm on an axis: 0 along, 1 to the side, 2 up; 0.0 if that was not typed."""
        return self.place[axis].value_in("mm") if axis < len(self.place) else 0.0


class Loads(Measures):
    """Parts with mass and position: 'fan 6 kg @ 1800 mm; solar 14 kg @ 500 mm', or '6/1800; 14/500 mm' without letters."""

    axes = 1
    """Maximum number of figures in a position."""

    def read(self, text: str) -> str:
        return "; ".join(map(str, self.loads(text)))

    def quantities(self, text: str) -> tuple[Quantity, ...]:
        """Return the positions in `text`, in order; EntryError as for `read`."""
        return tuple(place for load in self.loads(text) for place in load.place)

    def loads(self, text: str) -> tuple[Load, ...]:
        """Return the parts in `text`, in order; EntryError as for `read`."""
        if len(text) > _MOST_CHARACTERS:
            raise EntryError(f"the list is too long: {len(text)} characters", f"list fewer parts, for example {self.like}")
        plain = " ".join(text.split()).strip(" ;")
        if "@" not in plain:
            plain = re.sub(r"\s+at\s+", " @ ", plain, flags=re.IGNORECASE)
        pieces = [piece for piece in re.split(r"\s*;\s*", plain) if piece]
        if not pieces:
            raise EntryError("the list is empty", f"type each part with its mass and place, for example {self.like}")
        if len(pieces) > MOST_LOADS:
            raise EntryError(f"the list has {len(pieces)} parts", f"enter no more than {MOST_LOADS}: lump small ones together")
        last = units.unit_behind(pieces[-1])
        return tuple(self._load(number, piece, last) for number, piece in enumerate(pieces, 1))

    @property
    def like(self) -> str:
        """An example of such a list."""
        return f"'battery 18 kg @ {', '.join(['900 mm', '-200 mm', '300 mm'][: self.axes])}; fan 6 kg @ 1800 mm'"

    def describe(self, unit: str = "") -> str:
        return f"list such as {self.like}; on a keypad 18/900-6/1800, in kg or lb and the unit shown"

    def _load(self, number: int, piece: str, last: str) -> Load:
        left, sign, right = piece.partition("@")
        if not sign:  # without letters a keypad has only the slash
            left, sign, right = piece.partition("/")
        if not sign:
            raise EntryError(f"part {number}: no '@' between mass and place", f"type mass, @, place, for example {self.like}")
        named = _LEFT.fullmatch(left.strip())
        if named is None:
            raise EntryError(
                f"part {number}: '{left.strip()}' does not end in a mass", f"type the mass before the @, for example {self.like}"
            )
        try:
            place = self._place(right.strip(), last)
            inch = place[0].unit in ("in", "ft", "yd")
            mass = _MASS.read(named[2] if units.has_unit(named[2]) else f"{named[2]} {'lb' if inch else 'kg'}")
        except EntryError as error:
            raise EntryError(f"part {number}: {error.what}", error.fix) from None
        return Load(named[1].strip(), mass, place)

    def _place(self, text: str, last: str) -> tuple[Quantity, ...]:
        if not text:
            raise EntryError("no place after the '@'", f"type how far along it sits, for example {self.like}")
        given = text if units.unit_behind(text) else f"{text} {last or self.measure.unit}"
        place = Measures(self.measure, most=self.axes + 3).quantities(given)
        if len(place) > self.axes:
            most = "one figure" if self.axes == 1 else f"{self.axes} figures"
            raise EntryError(f"its place has {len(place)} figures", f"type no more than {most}, for example {self.like}")
        return place


class PlacedLoads(Loads):
    """Loads with up to three figures per position: along, to the side, up."""

    axes = 3


def centre(loads: Sequence[tuple[float, float]]) -> tuple[float, float]:
    """Return the total mass in kg of (kg, mm) pairs, and their centre of gravity in mm: sum m x / sum m [computed]."""
    mass = sum(kilograms for kilograms, _ in loads)
    return mass, sum(kilograms * at for kilograms, at in loads) / mass
