"""How many strips off a roll cover a width: the count that every calculator of cloth goes by."""

from __future__ import annotations

from shopmate.models.fields import round_up


def strips(across: float, roll: float, overlap: float) -> int:
    """Return how many strips `roll` wide cover `across`, all in the same unit; the overlap is less than the roll.

    n strips with n − 1 overlaps cover n·w − (n − 1)·o, so n = ⌈(W − o)/(w − o)⌉ (geometry [computed]).
    """
    return max(1, round_up((across - overlap) / (roll - overlap)))
