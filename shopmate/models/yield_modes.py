"""Lateral load of a wood screw: the yield modes of a dowel in single shear, and the strengths they need."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate.calculator import Source
from shopmate.models.constants import INCH, LBF

YIELD_MODES = Source(
    "lateral: yield modes of AWC NDS 2018 chapter 12 (Table 12.3.1A) and TR12, read in public transcriptions", "read"
)

LEAST_BITE, FULL_BITE = 6, 10
"""Penetration in diameters, tip included, below which a lateral joint has no value, and from which it has the full value: NDS
12.1.5.6 and Table 12L note 3 [read]. No Threshold needed: each calculator declares its own from these."""

_TIP = 2
"""Length of the tip in diameters, of which half counts as bearing: NDS Appendix L, Table L3 note 6 [read]."""

_BEARING, _DENSITY_POWER, _BEARING_STEP = 16_600.0, 1.84, 50.0
"""Dowel bearing strength in psi of fasteners under 1/4 in: 16 600 G to the power 1.84, rounded to 50 psi: NDS Table 12.3.3
[read]."""

_BENDING = ((0.142, 100_000.0), (0.177, 90_000.0), (0.236, 80_000.0), (0.273, 70_000.0), (0.344, 60_000.0), (0.375, 45_000.0))
"""Bending yield strength in psi up to each nominal diameter in inches: NDS Table I1 [read]."""

_REDUCTION, _SLIM, _RISE, _BASE = 2.2, 0.17, 10.0, 0.5
"""Reduction term K_D: 2.2 up to 0.17 in, then 10 D + 0.5, D being the diameter that yields: NDS Table 12.3.1B [read]. No
Threshold needed: both give 2.2 at 0.17 in."""


def bearing_strength(gravity: float) -> float:
    """Return the dowel bearing strength in psi for wood of oven-dry G 0.31 to 0.73, fasteners below 1/4 in, any grain."""
    return _BEARING_STEP * round(_BEARING * math.pow(gravity, _DENSITY_POWER) / _BEARING_STEP)


def bending_strength(diameter: float) -> float:
    """Return the bending yield strength in psi for a screw or nail by its nominal diameter in inches, up to 0.375."""
    return next(strength for most, strength in _BENDING if diameter <= most)


def reduction(diameter: float) -> float:
    """Return K_D, which divides all modes, for the root diameter in inches of a screw below 1/4 in (for a nail, D)."""
    return _REDUCTION if diameter <= _SLIM else _RISE * diameter + _BASE


def yield_loads(
    *, main: float, side: float, main_length: float, side_length: float, diameter: float, bending: float, divisor: float
) -> Mapping[str, float]:
    """Return the load in lbf at which each of the six modes yields, divided by `divisor`.

    Bearing strengths of the main and side member and the bending strength in psi, their bearing lengths and the diameter in
    inches, all above 0: NDS equations 12.3-1 to 12.3-6 [read], the roots checked against moments by hand [computed].
    """
    ratio, lengths, d = main / side, main_length / side_length, diameter
    root = math.sqrt(ratio + 2 * ratio**2 * (1 + lengths + lengths**2) + lengths**2 * ratio**3)
    k1 = (root - ratio * (1 + lengths)) / (1 + ratio)
    k2 = -1 + math.sqrt(2 * (1 + ratio) + 2 * bending * (1 + 2 * ratio) * d**2 / (3 * main * main_length**2))
    k3 = -1 + math.sqrt(2 * (1 + ratio) / ratio + 2 * bending * (2 + ratio) * d**2 / (3 * main * side_length**2))
    loads = {
        "Im": d * main_length * main,
        "Is": d * side_length * side,
        "II": k1 * d * side_length * side,
        "IIIm": k2 * d * main_length * main / (1 + 2 * ratio),
        "IIIs": k3 * d * side_length * main / (2 + ratio),
        "IV": d**2 * math.sqrt(2 * main * bending / (3 * (1 + ratio))),
    }
    return {mode: load / divisor for mode, load in loads.items()}


def screw_loads(*, main: float, side: float, side_thickness: float, diameter: float, root: float) -> Mapping[str, float]:
    """Return the load in N for each mode of a wood screw with its full bite: rolled thread, root at the shear plane.

    Bearing strengths in psi; side thickness, nominal diameter and root in mm. The nominal diameter, below 1/4 in, sets the
    bite and the bending strength, the root diameter sets what bears and yields: NDS 12.3.7 [read].
    """
    inch, d = float(INCH), diameter / float(INCH)
    loads = yield_loads(
        main=main,
        side=side,
        main_length=(FULL_BITE - _TIP / 2) * d,
        side_length=side_thickness / inch,
        diameter=root / inch,
        bending=bending_strength(d),
        divisor=reduction(root / inch),
    )
    return {mode: load * LBF for mode, load in loads.items()}


def bite_share(penetration: float, diameter: float) -> float:
    """Return the share of the full load for a penetration: 0 below 6 diameters, 1 from 10; both in one unit."""
    bite = penetration / diameter
    return 0.0 if bite < LEAST_BITE else min(1.0, bite / FULL_BITE)
