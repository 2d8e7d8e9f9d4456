"""The twist drills that can be bought, as one series: fractional, number, letter and metric, and which of them to take."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from fractions import Fraction
from functools import cache
from typing import Literal

from shopmate import tables
from shopmate.records import dataclass

Direction = Literal["nearest", "up", "down"]
"""Which way to go from the size wanted to a drill: up for clearance, nearest or down for pilot holes."""

SERIES = ("all", "inch", "fractional", "number", "letter", "metric")
"""What `drills` takes: one series, 'inch' for fractional, number and letter together, or 'all'."""

INCH = Fraction(254, 10)
"""One inch in mm, exactly, by definition."""

_SAME = Fraction(1, 10**6)
"""Sizes in mm closer than this are the same: it absorbs the last digit of a converted number, no drill is that exact."""

_LARGEST_FRACTION = 64
"""Fractional drills run from 1/64 in by 1/64 in to 1 in (nf6x-eetools 1.0.1 drilltables.py) [read]."""

_METRIC = range(5, 131)
"""Metric drills in tenths of a mm, 0.5 to 13 mm: common stock in steps of 0.1 mm, as in ISO 235 [memory]."""


_SAID = re.compile(
    r"(?:#|no\.?|number)\s*(?P<number>[1-9][0-9]?)|(?:letter )?(?P<letter>[a-z])|(?P<fraction>[0-9]{1,2}/[0-9]{1,2})",
    re.IGNORECASE,
)
"""A drill by its number, letter or fraction of an inch, as it is said."""


@dataclass(frozen=True, slots=True)
class Drill:
    """One twist drill: its name as stamped or said, its series, and its exact diameter in mm."""

    name: str
    series: str
    diameter: Fraction


@cache
def drills(series: str = "all") -> tuple[Drill, ...]:
    """Return the drills of one of `SERIES`, smallest first; of equal sizes (1/4 in and E) the fractional first.

    KeyError for an unknown series.
    """
    if series == "all":
        found = (*drills("inch"), *drills("metric"))
    elif series == "inch":
        found = (*drills("fractional"), *drills("number"), *drills("letter"))
    elif series == "fractional":
        sizes = (Fraction(size, 64) for size in range(1, _LARGEST_FRACTION + 1))
        found = tuple(Drill(f"{size} in", "fractional", size * INCH) for size in sizes)
    elif series == "metric":
        found = tuple(Drill(f"{tenths / 10:g} mm", "metric", Fraction(tenths, 10)) for tenths in _METRIC)
    elif series in SERIES:
        rows = tables.load("drill_sizes").rows
        found = tuple(Drill(r["name"], series, Fraction(r["diameter_in"]) * INCH) for r in rows if r["series"] == series)
    else:
        raise KeyError(series)
    return tuple(sorted(found, key=_diameter))


def named(name: str) -> Drill:
    """Return the drill of that name, such as '5/32 in', '#27', 'F' or '3.7 mm'; KeyError if there is none."""
    for drill in drills():
        if drill.name == name:
            return drill
    raise KeyError(name)


def said(text: str) -> Drill | None:
    """Return the inch drill that a text names without a unit: '#7', 'No. 7', 'F', 'letter F' or '1/4'; None for another text."""
    words = _SAID.fullmatch(" ".join(text.split()))
    if words is None:
        return None
    number, letter, fraction = words["number"], words["letter"], words["fraction"]
    name = f"#{number}" if number else letter.upper() if letter else f"{fraction} in"
    if fraction:
        top, bottom = map(int, fraction.split("/"))
        name = f"{Fraction(top, bottom)} in" if bottom else name
    return next((drill for drill in drills("inch") if drill.name == name), None)


def choose(diameter: Fraction | float, series: str, direction: Direction) -> Drill | None:
    """Return the drill of `series` for a hole of `diameter` mm, or None where the series does not reach that far.

    'up' gives the smallest drill not under the diameter, 'down' the largest not over it, 'nearest' the one with the
    least difference (the smaller of two equally near).
    """
    wanted, stock = Fraction(diameter), drills(series)
    over = bisect_left(stock, wanted - _SAME, key=_diameter)
    under = bisect_right(stock, wanted + _SAME, key=_diameter)
    above = stock[over] if over < len(stock) else None
    # Of drills of one size the first named counts, from below as from above.
    below = stock[bisect_left(stock, stock[under - 1].diameter, key=_diameter)] if under else None
    if direction == "up":
        return above
    if direction == "down":
        return below
    if below is None or above is None:
        return None
    return below if wanted - below.diameter <= above.diameter - wanted else above


def _diameter(drill: Drill) -> Fraction:
    return drill.diameter
