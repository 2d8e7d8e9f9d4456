"""How many strips off a roll cover a width: the count that every calculator of cloth goes by, and what it refuses."""

from __future__ import annotations

from shopmate import units
from shopmate.errors import FieldProblem
from shopmate.models.fields import round_up
from shopmate.units import Quantity

SEAM = 50.0
"""Least overlap at a seam of cloth, in mm [common practice]."""


def strips(across: float, roll: float, overlap: float) -> int:
    """Return how many strips `roll` wide cover `across`, all in the same unit; the overlap is less than the roll.

    n strips with n − 1 overlaps cover n·w − (n − 1)·o, so n = ⌈(W − o)/(w − o)⌉ (geometry [computed]).
    """
    return max(1, round_up((across - overlap) / (roll - overlap)))


def overlap_problems(roll: Quantity, overlap: Quantity) -> list[FieldProblem]:
    """Return what is wrong with an overlap that no strip of the roll gets past."""
    if overlap.value_in("mm") < roll.value_in("mm"):
        return []
    what = f"{units.show(overlap)} is not less than the roll's width, {units.show(roll)}: no strip would get further"
    return [FieldProblem("overlap", what, f"give less than the roll's width, usually {SEAM:g} mm")]
