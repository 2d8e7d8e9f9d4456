"""Heat and vapour through a wall of layers: resistances, temperatures, and where water condenses between the two faces."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from shopmate import units
from shopmate.errors import EntryError
from shopmate.models.constants import NOISE
from shopmate.models.humid_air import standard_saturation_pressure
from shopmate.records import dataclass

RSI = {"horizontal": 0.13, "up": 0.10, "down": 0.17}
"""Inner surface resistance in m²K/W by the direction of heat flow: 0.13 [read, timber-element maker]; 0.10 and 0.17 as a
heat-flow program's pages quote ISO 6946 [read]."""

RSE = 0.04
"""Outer surface resistance in m²K/W [read, timber-element maker]."""

SLICES = 40
"""Slices per layer, because the saturation pressure is curved through a thick layer; ISO 13788 asks for slices of no more than
0.25 m²K/W [memory]. No Threshold needed: accuracy of the sum."""

_PERMEABILITY = 2e-10
"""Permeability of still air to vapour in kg/(m s Pa): a constant in public code that quotes ISO 13788 [read]."""

_GRAMS_AN_HOUR = 3.6e6
"""g/h in one kg/s, by definition."""


def resistance(millimetres: float, conductivity: float) -> float:
    """Return a layer's resistance in m²K/W from its thickness in mm and conductivity in W/mK: d / k (ISO 6946) [computed]."""
    return millimetres / 1000 / conductivity


def sized(text: str, like: str) -> tuple[str, str]:
    """Return the size and the material from a text that has both, in either order; EntryError says how to write them."""
    hint = f"enter size and material, like '{like}'"
    words = text.replace("″", '"').split()
    for cut in range(1, len(words)):
        for measure, material in ((words[:cut], words[cut:]), (words[cut:], words[:cut])):
            name = " ".join(material)
            if name[0].isalpha() and not any(character.isdigit() for character in name) and units.has_unit(" ".join(measure)):
                try:
                    units.parse(" ".join(measure), "mm")
                except EntryError:
                    continue
                return " ".join(measure), name
    if words and not any(character.isdigit() for character in text):
        raise EntryError(f"'{text}' has no size", hint)
    raise EntryError(f"'{text}' is not a size with its unit and a material", hint)


@dataclass(frozen=True, slots=True)
class Slab:
    """One layer of a wall."""

    name: str
    thickness: float
    """In mm, 0 for a film."""
    resistance: float
    """In m²K/W."""
    sd: float
    """Metres of still air that resist vapour as much as the layer, above 0."""


@dataclass(frozen=True, slots=True)
class Plane:
    """A place between the faces where water condenses."""

    slab: int
    """Number of the layer, counted from 0 on the inside."""
    share: float
    """How far through that layer, 0 to 1; 1 is its outer face."""
    sd: float
    """sd in metres from the inner face to this place."""
    rate: float
    """In g/m²h."""


@dataclass(frozen=True, slots=True)
class Point:
    """A place in the wall, as in `Plane`, with a vapour pressure in Pa."""

    slab: int
    share: float
    sd: float
    pressure: float


@dataclass(frozen=True, slots=True)
class Wall:
    """Layers from the inside to the outside, with the air on both sides."""

    slabs: tuple[Slab, ...]
    rsi: float
    """Surface resistances in m²K/W."""
    rse: float

    @property
    def total(self) -> float:
        """Resistance from air to air in m²K/W: Rsi + Σ R + Rse (ISO 6946) [memory]."""
        return self.rsi + math.fsum(slab.resistance for slab in self.slabs) + self.rse

    @property
    def factor(self) -> float:
        """Temperature factor of the inner face: f = (Tsi − Te) / (Ti − Te) = 1 − Rsi / RT (ISO 13788) [memory]."""
        return 1 - self.rsi / self.total

    @property
    def sd(self) -> float:
        """Metres of still air that resist vapour as much as all layers together."""
        return math.fsum(slab.sd for slab in self.slabs)

    @property
    def core(self) -> int:
        """The number of the layer with the highest thermal resistance."""
        return max(range(len(self.slabs)), key=lambda place: self.slabs[place].resistance)

    def temperature(self, slab: int, share: float, inside: float, outside: float) -> float:
        """Return °C at `share` of the way through a layer: T = Ti − (Ti − Te) R / RT, R from the inside air [computed]."""
        before = self.rsi + math.fsum(other.resistance for other in self.slabs[:slab]) + share * self.slabs[slab].resistance
        return inside - (inside - outside) * before / self.total

    def saturation(self, inside: float, outside: float) -> tuple[Point, ...]:
        """Return the saturation pressure in Pa from the inner face to the outer one, at every slice."""
        places = [(0, 0.0), *((slab, part / SLICES) for slab in range(len(self.slabs)) for part in range(1, SLICES + 1))]
        before = [math.fsum(other.sd for other in self.slabs[:slab]) for slab in range(len(self.slabs))]
        return tuple(
            Point(
                slab,
                share,
                before[slab] + share * self.slabs[slab].sd,
                standard_saturation_pressure(self.temperature(slab, share, inside, outside)),
            )
            for slab, share in places
        )


def pressures(wall: Wall, inside: float, outside: float, vapour_in: float, vapour_out: float) -> tuple[Point, ...]:
    """Return the corners of the vapour pressure line in Pa, from the inner face to the outer one (Glaser).

    The lower convex hull over sd of the two vapour pressures and the saturation pressures between them: like a cord pulled
    tight under the saturation line. Agrees with an obstacle problem solved on a fine grid within 0.3 % [computed].
    """
    limits = wall.saturation(inside, outside)
    first, last = limits[0], limits[-1]
    points = [
        Point(first.slab, first.share, first.sd, min(vapour_in, first.pressure)),
        *limits[1:-1],
        Point(last.slab, last.share, last.sd, min(vapour_out, last.pressure)),
    ]
    kept: list[Point] = []
    for point in points:
        while len(kept) > 1 and _is_above(kept[-1], kept[-2], point):
            kept.pop()
        kept.append(point)
    return tuple(kept)


def _is_above(middle: Point, before: Point, after: Point) -> bool:
    """Return whether a point lies on or above the line between its neighbours, give or take the noise of floats."""
    share = (middle.sd - before.sd) / (after.sd - before.sd)
    return middle.pressure >= (before.pressure + share * (after.pressure - before.pressure)) * (1 - NOISE)


def condensing(line: Sequence[Point]) -> tuple[Plane, ...]:
    """Return where water condenses along a vapour pressure line: inflow minus outflow at each of its corners."""
    slopes = [(after.pressure - before.pressure) / (after.sd - before.sd) for before, after in pairwise(line)]
    return tuple(
        Plane(point.slab, point.share, point.sd, _PERMEABILITY * (after - before) * _GRAMS_AN_HOUR)
        for point, before, after in zip(line[1:-1], slopes[:-1], slopes[1:], strict=True)
    )


def barrier(wall: Wall, inside: float, outside: float, vapour_in: float, vapour_out: float) -> float | None:
    """Return the extra sd in m that a barrier on the inner face needs to stop condensation, None if no barrier is enough.

    The largest (q S − s) / (1 − q) over the slices, with q = (pi − psat) / (pi − pe), and no less than 0 [computed].
    """
    between = wall.saturation(inside, outside)[1:-1]
    if vapour_in <= vapour_out or any(point.pressure <= vapour_out for point in between):
        return None
    shares = [((vapour_in - point.pressure) / (vapour_in - vapour_out), point.sd) for point in between]
    return max(0.0, *((share * wall.sd - sd) / (1 - share) for share, sd in shares))
