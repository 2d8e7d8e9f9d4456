"""Strips from a roll of cloth to cover a width, and overlaps that cannot work."""

from __future__ import annotations

from shopmate import units
from shopmate.errors import FieldProblem
from shopmate.models.fields import round_up
from shopmate.units import Quantity

SEAM = 50.0
"""Minimum overlap at a seam of cloth, mm [common practice]."""


def strips(across: float, roll: float, overlap: float) -> int:
    """Return the number of strips `roll` wide that cover `across`, all in one unit; the overlap is less than the roll width.

    n strips with n − 1 overlaps cover n·w − (n − 1)·o, so n = ⌈(W − o)/(w − o)⌉ (geometry [computed]).
    """
    return max(1, round_up((across - overlap) / (roll - overlap)))


def overlap_problems(roll: Quantity, overlap: Quantity) -> list[FieldProblem]:
    """Return a problem for an overlap as wide as the roll or wider."""
    if overlap.value_in("mm") < roll.value_in("mm"):
        return []
    what = f"{units.show(overlap)} is as wide as the roll or wider ({units.show(roll)}), so the strips would gain nothing"
    return [FieldProblem("overlap", what, f"enter less than the roll's width, usually {SEAM:g} mm")]
