"""Gas struts: their force by how far the rod is in and by temperature, and the lever with which they lift."""

from __future__ import annotations

import math

from shopmate.calculator import Source
from shopmate.models.arrhenius import ZERO_CELSIUS
from shopmate.records import dataclass

STATICS = Source("Statics: moments about the hinge, or forces along the guides, in balance", "computed")
GAS = Source(
    "Ideal gas at constant volume, F = F20 (273.15 + T)/293.15; a strut maker's note gives 3 to 4 % a 10 K (read)", "computed"
)
LINEAR = Source("Force linear along the stroke, F1 + (F2 − F1) s/S; F1 is stated at about 20 °C (strut makers' notes)", "read")

RATED_AT = 20.0
"""Temperature in °C at which the force of a strut is stated [read: a strut maker's note on thrust measurement]."""

USUAL_PROGRESSIVITY = 1.3
"""F2/F1 taken where none is given; struts run from 1.2 to 1.5 [memory; typical: use your data sheet]."""

STEPS = 60
"""Steps in which a travel is walked for the greatest force and for dead centre (ours)."""


@dataclass(frozen=True, slots=True)
class Strut:
    """A strut by its force at 20 °C with the rod nearly out (F1, in N), and its progressivity (F2/F1)."""

    force: float
    progressivity: float

    def at(self, depth: float, celsius: float = RATED_AT) -> float:
        """Return its force in N with the rod in to `depth` of the stroke: linear from F1 to F2, then by temperature."""
        return self.force * (1 + (self.progressivity - 1) * depth) * warmth(celsius)


def warmth(celsius: float) -> float:
    """Return the gas force at a temperature over that at 20 °C: ideal gas at constant volume, in kelvin."""
    return (ZERO_CELSIUS + celsius) / (ZERO_CELSIUS + RATED_AT)


def on_lid(along: float, off: float, turn: float) -> tuple[float, float]:
    """Return where a point of a lid lies that is opened by `turn` radians, hinge at the origin, in the unit it is given in."""
    return along * math.cos(turn) - off * math.sin(turn), along * math.sin(turn) + off * math.cos(turn)


def arm(lid: tuple[float, float], body: tuple[float, float]) -> float:
    """Return the arm about the origin of a strut from its mount on the body to that on the lid, positive where it opens.

    Px uy − Py ux with u = (P − B)/|P − B|, which is the change of its length per radian; 0 where the mounts meet.
    """
    length = math.dist(lid, body)
    return (lid[1] * body[0] - lid[0] * body[1]) / length if length else 0.0
