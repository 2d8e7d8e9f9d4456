"""Weighing out a two-part mix: the ratio by weight, the tolerance on it, and the steps that scales are made with."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate import units
from shopmate.calculator import Measure, Source
from shopmate.errors import FieldProblem
from shopmate.models.fields import missing
from shopmate.units import Quantity, Ratio
from shopmate.units import significant as sig

USUAL_TOLERANCE = 5.0
"""Usual tolerance on the hardener, in % of it; some data sheets give 2 %, some 10 % [common practice]."""

TOLERANCE_SOURCE = Source("5 % on the hardener; some data sheets give 2 %, some 10 %", "common practice")

LOWEST_PHR, HIGHEST_PHR = 1.0, 1000.0
"""Range of hardener in parts per 100 of resin by weight; a ratio outside it is a typing slip [memory: the lightest amines need
about 8 to 13, the heaviest polyamides about 150]."""

PHR_SOURCE = Source("the lightest amines need about 8 to 13 parts per 100 of resin, the heaviest polyamides about 150", "memory")

KEEP_RATIO = (
    "keep to the data sheet's ratio: for a faster or slower cure use another hardener, never more or less of this one "
    "(FAA AC 43.13-1B par. 1-5)"
)
"""Caution given with every pot and ratio, because the temptation is always there [read: the epoxy caution of that paragraph]."""

FIGURES = {"ratio": "ratio", "resin_density": "resin_density", "hardener_density": "hardener_density"}
"""The figures for mixing that a resin on the shelf has, by the field each one fills in."""

RESIN_DENSITY = Measure("g/mL", low=0.8, high=2.5, soft_low=1.05, soft_high=1.25)
HARDENER_DENSITY = Measure("g/mL", low=0.7, high=2.5, soft_low=0.9, soft_high=1.1)


def density_problems(ratio: Ratio | None, densities: Mapping[str, Quantity | None]) -> list[FieldProblem]:
    """Return a problem for each density, of resin or hardener, that is missing and that a ratio by volume needs."""
    if ratio is None or ratio.basis == "weight":
        return []
    fix = "enter it in g/mL from the data sheet, or enter the ratio by weight"
    return missing(densities, "needed to weigh out a ratio by volume", fix)


def per_resin(ratio: Ratio, resin_density: float | None, hardener_density: float | None) -> float:
    """Return g of hardener per 1 g of resin; a ratio by volume needs both densities, in g/mL."""
    plain = float(ratio.b / ratio.a)
    if ratio.basis == "weight":
        return plain
    assert resin_density is not None
    assert hardener_density is not None
    return plain * hardener_density / resin_density


def ratio_problems(ratio: Ratio, phr: float) -> list[FieldProblem]:
    """Return a problem if a ratio has more or less hardener per 100 of resin by weight (`phr`) than any epoxy."""
    if LOWEST_PHR <= phr <= HIGHEST_PHR:
        return []
    what = f"{ratio} is {sig(phr, 3)} g of hardener per 100 g of resin, and no epoxy mixes like that"
    return [FieldProblem("ratio", what, "enter the data sheet's ratio, resin first")]


def parts(ratio: Ratio) -> tuple[str, str]:
    """Return the two parts of a ratio as text."""
    return units.show_number(ratio.a), units.show_number(ratio.b)


def reading_error(resin: float, hardener: float, step: float) -> float:
    """Return how far off in % the ratio can be if both are weighed in one cup on a scale that reads in steps of `step` g.

    Each reading is within half a step. The worst case is half a step too little resin and, since both readings bound the
    hardener, a whole step too much of it (arithmetic). With less resin than one step, half the resin counts as missing.
    """
    short = min(step / 2, resin / 2)
    return ((hardener + step) / hardener * resin / (resin - short) - 1) * 100


def finest_needed(resin: float, hardener: float, allowed: float) -> float:
    """Return the coarsest scale step in g that keeps the error of `reading_error` within `allowed` %."""
    share = allowed / 100
    return hardener * share / (1 + (1 + share) * hardener / resin / 2)


def scale_step(limit: float) -> float:
    """Return the largest of 1, 2, 5 times a power of ten, the steps scales are made with, not above `limit` (g)."""
    power: float = 10.0 ** math.floor(math.log10(limit))
    return next(step * power for step in (5, 2, 1) if step * power <= limit or step == 1)
