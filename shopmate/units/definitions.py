"""The unit definitions in units.txt, read by pint; the table of scales is made from them."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path

import pint

from shopmate.units.known import BY_SYMBOL


@cache
def scale(symbol: str) -> tuple[Fraction, Fraction]:
    """Return the size of a unit and the zero of its scale, in the base units of units.txt; KeyError for an unknown symbol."""
    name = BY_SYMBOL[symbol].pint
    zero, one = (Fraction(_registry().Quantity(Fraction(number), name).to_root_units().magnitude) for number in (0, 1))
    return one - zero, zero


@cache
def _registry() -> pint.UnitRegistry[Fraction]:
    """Return a pint registry with only the units in units.txt and with exact factors."""
    definitions = Path(__file__).with_name("units.txt").read_text(encoding="utf-8").splitlines()
    return pint.UnitRegistry(definitions, non_int_type=Fraction)
