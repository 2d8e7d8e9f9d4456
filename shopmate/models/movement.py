"""Thickness of a soft joint for the movement it must absorb, one rule per material."""

from __future__ import annotations

from shopmate.calculator import Source
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class SoftJoint:
    """A soft material between two parts that move differently, and how far it may shear."""

    name: str
    shear: float
    """Movement it can absorb, as a multiple of its thickness."""
    rule: str
    """The rule in words, shown beside the thickness."""
    source: Source

    def thickness(self, movement: float) -> float:
        """Return the minimum thickness for a movement along the joint, in the same unit; the sign does not matter."""
        return abs(movement) / self.shear

    def travel(self, thickness: float) -> float:
        """Return the movement a thickness can absorb, in the same unit."""
        return self.shear * thickness


FOAM_TAPE = SoftJoint(
    "acrylic foam tape",
    3.0,
    "a third of the movement, shear up to 300 %",
    Source("shear travel up to 300 % of the thickness: continuing-education course on structural glazing tape", "read"),
)
"""Closed-cell acrylic foam. Not the same as the rule for uneven faces (twice the gap between them)."""

ELASTIC_ADHESIVE = SoftJoint(
    "elastic adhesive",
    0.5,
    "twice the movement, shear up to 50 %",
    Source("elastic adhesive twice as thick as the movement along it, shear up to 50 %", "common practice"),
)
"""Adhesive that cures to rubber (polyurethane, silane-modified, silicone), for movement that happens day after day."""
