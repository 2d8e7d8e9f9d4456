"""Numbers, units and ratios as people at a bench write them: parsed strictly, converted exactly, shown plainly.

A small grammar of our own reads a number and its unit; a table of scales, which pint makes from the definitions in units.txt,
converts it. Every number typed stays an exact Fraction. A text that can be read in two ways is refused, with what to type
instead.
"""

from shopmate.units.entry import has_unit, may_be_inches, parse, refuse_point, takes_fraction, unit_behind
from shopmate.units.known import System, dimension, needs_unit, offered, units_of, written
from shopmate.units.numbers import parse_number, show_number, significant, spelled_fraction
from shopmate.units.prose import in_system, working_in
from shopmate.units.quantity import Quantity, show, total
from shopmate.units.ratio import RATIO_BASES, RATIO_EXAMPLES, Ratio, parse_ratio
from shopmate.units.reading import both, display, marked, own_unit
from shopmate.units.shown import Shown, shown

__all__ = [
    "RATIO_BASES",
    "RATIO_EXAMPLES",
    "Quantity",
    "Ratio",
    "Shown",
    "System",
    "both",
    "dimension",
    "display",
    "has_unit",
    "in_system",
    "marked",
    "may_be_inches",
    "needs_unit",
    "offered",
    "own_unit",
    "parse",
    "parse_number",
    "parse_ratio",
    "refuse_point",
    "show",
    "show_number",
    "shown",
    "significant",
    "spelled_fraction",
    "takes_fraction",
    "total",
    "unit_behind",
    "units_of",
    "working_in",
    "written",
]
