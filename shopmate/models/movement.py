"""How thick a soft joint has to be for its two faces to slide on each other: one rule per material of the joint."""

from __future__ import annotations

from shopmate.calculator import Source
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class SoftJoint:
    """What is between two parts that move differently, and how far it may be sheared."""

    name: str
    shear: float
    """Movement that it takes, as a multiple of its thickness."""
    rule: str
    """The rule in words, as it is said beside the thickness."""
    source: Source

    def thickness(self, movement: float) -> float:
        """Return the minimum thickness for a movement along the joint, both in the same unit; its sign does not matter."""
        return abs(movement) / self.shear

    def travel(self, thickness: float) -> float:
        """Return the movement that a thickness takes, in the same unit."""
        return self.shear * thickness


FOAM_TAPE = SoftJoint(
    "acrylic foam tape",
    3.0,
    "a third of the movement, shear up to 300 %",
    Source("shear travel up to 300 % of the thickness: continuing-education course on structural glazing tape", "read"),
)
"""Closed-cell acrylic foam. Not to be taken for the rule for uneven faces (twice the gap between them)."""

ELASTIC_ADHESIVE = SoftJoint(
    "elastic adhesive",
    0.5,
    "twice the movement, shear up to 50 %",
    Source("elastic adhesive twice as thick as the movement along it, shear up to 50 %", "common practice"),
)
"""Adhesive that cures to rubber (polyurethane, silane-modified, silicone) and stays within what it takes day after day."""
