"""Layers glued into one strip: neutral axis, stiffness, and how the strip curves if its layers expand by different amounts."""

from __future__ import annotations

import math
from itertools import accumulate

from shopmate.models.constants import NOISE
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of a strip."""

    thickness: float
    """In mm."""
    modulus: float
    """In MPa, along the strip."""
    strain: float = 0.0
    """How much the layer would lengthen if it were free, in µm/m."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Layers from top to bottom, as a strip 1 mm wide whose cross-sections stay plane (laminate sums A, B, D) [computed]."""

    layers: tuple[Layer, ...]

    @property
    def middles(self) -> tuple[float, ...]:
        """Depth of each layer's middle below the top face, in mm."""
        bottoms = accumulate(layer.thickness for layer in self.layers)
        return tuple(bottom - layer.thickness / 2 for bottom, layer in zip(bottoms, self.layers, strict=True))

    @property
    def axis(self) -> float:
        """Depth of the neutral axis below the top face in mm: Σ E t z / Σ E t."""
        stretch = math.fsum(layer.modulus * layer.thickness for layer in self.layers)
        return (
            math.fsum(layer.modulus * layer.thickness * middle for layer, middle in zip(self.layers, self.middles, strict=True))
            / stretch
        )

    @property
    def stiffness(self) -> float:
        """Bending stiffness in N·mm² per mm of width: Σ E (t z² + t³/12), z from the neutral axis."""
        axis = self.axis
        return math.fsum(
            layer.modulus * (layer.thickness * (middle - axis) ** 2 + layer.thickness**3 / 12)
            for layer, middle in zip(self.layers, self.middles, strict=True)
        )

    @property
    def curvature(self) -> float:
        """Curvature in 1/mm of the strip when nothing restrains it, positive with the top convex.

        −Σ E t ε z / D, z from the neutral axis; for two layers this is Timoshenko's formula of 1925 [computed].
        """
        axis = self.axis
        moments = [
            layer.modulus * layer.thickness * layer.strain / 1e6 * (middle - axis)
            for layer, middle in zip(self.layers, self.middles, strict=True)
        ]
        moment = math.fsum(moments)
        # Layers that would all be as long as each other curve by exactly nothing, not by the last digit of a sum.
        if abs(moment) <= NOISE * math.fsum(map(abs, moments)):
            return 0.0
        return -moment / self.stiffness


def shear_stiffness(core: float, shear_modulus: float, apart: float, width: float) -> float:
    """Return the shear stiffness in N of a sandwich: G b d²/c, with core c, distance d between skin middles, width b in mm.

    The same as G (h + c)² b / (4 c) of ASTM D7250 for equal skins [memory].
    """
    return shear_modulus * width * apart**2 / core
