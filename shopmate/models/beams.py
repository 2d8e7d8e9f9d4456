"""Beams by support and load: factors for deflection, moment and shear, and the deflected shape."""

from __future__ import annotations

from collections.abc import Callable

from shopmate.records import dataclass

SIMPLE, FIXED, CANTILEVER = "simple", "fixed", "cantilever"
"""How a beam is held: resting on both ends, both ends clamped, one end clamped and the other free."""

UNIFORM, POINT = "uniform", "point"
"""How a beam is loaded: uniformly along the span, or at mid-span (a cantilever: at the tip)."""


@dataclass(frozen=True, slots=True)
class Beam:
    """Factors for one support and load, for a total load Q, span L, bending stiffness D and shear stiffness S."""

    bending: float
    """Deflection in bending = this × Q L³/D."""
    shear: float
    """Deflection in shear = this × Q L/S."""
    moment: float
    """Maximum moment = this × Q L."""
    force: float
    """Maximum shear force = this × Q."""
    bent: Callable[[float], float]
    """Deflected shape in bending from one end (0) to the other (1); 1 where it is deepest."""
    sheared: Callable[[float], float]
    """Deflected shape in shear, measured in the same way."""


def _half(x: float) -> float:
    """Return the distance from the nearer end."""
    return min(x, 1 - x)


BEAMS = {
    (SIMPLE, UNIFORM): Beam(5 / 384, 1 / 8, 1 / 8, 1 / 2, lambda x: (x - 2 * x**3 + x**4) * 16 / 5, lambda x: 4 * x * (1 - x)),
    (SIMPLE, POINT): Beam(1 / 48, 1 / 4, 1 / 4, 1 / 2, lambda x: 3 * _half(x) - 4 * _half(x) ** 3, lambda x: 2 * _half(x)),
    (FIXED, UNIFORM): Beam(1 / 384, 1 / 8, 1 / 12, 1 / 2, lambda x: (4 * x * (1 - x)) ** 2, lambda x: 4 * x * (1 - x)),
    (FIXED, POINT): Beam(1 / 192, 1 / 4, 1 / 8, 1 / 2, lambda x: 12 * _half(x) ** 2 - 16 * _half(x) ** 3, lambda x: 2 * _half(x)),
    (CANTILEVER, UNIFORM): Beam(1 / 8, 1 / 2, 1 / 2, 1, lambda x: (6 * x**2 - 4 * x**3 + x**4) / 3, lambda x: 2 * x - x**2),
    (CANTILEVER, POINT): Beam(1 / 3, 1, 1, 1, lambda x: (3 * x**2 - x**3) / 2, lambda x: x),
}
"""Each support and load (elementary beam theory with shear; the deflections checked against a shear-flexible beam model of 400
elements) [computed]."""
