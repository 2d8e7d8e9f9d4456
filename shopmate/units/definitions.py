"""The definitions of the units in units.txt, read by pint."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from importlib import resources

import pint


@cache
def registry() -> pint.UnitRegistry[Fraction]:
    """Return pint with the units of units.txt and no others, its factors exact."""
    definitions = resources.files("shopmate.units").joinpath("units.txt").read_text(encoding="utf-8").splitlines()
    return pint.UnitRegistry(definitions, non_int_type=Fraction)
