"""The table of scales that conversions go by, made by pint from units.txt: `python tests/scales.py --write` rewrites it."""

from __future__ import annotations

import sys
from pathlib import Path

from shopmate import units
from shopmate.units.definitions import scale
from shopmate.units.known import UNITS

TABLE = Path(units.__file__).with_name("scales.py")

HEAD = '''"""Scales of the units, as tests/scales.py has pint make them from units.txt; not to be changed by hand."""

from fractions import Fraction

SCALES = {
'''

FOOT = '''}
"""The size of each unit and the zero of its scale, in the base units of units.txt."""
'''


def made() -> str:
    """Return the text of the table as the definitions are now."""
    rows = (f'    "{unit.symbol}": ({", ".join(map(repr, scale(unit.symbol)))}),\n' for unit in UNITS)
    return f"{HEAD}{''.join(rows)}{FOOT}"


if __name__ == "__main__":
    if sys.argv[1:] != ["--write"]:
        raise SystemExit(__doc__)
    TABLE.write_text(made(), encoding="utf-8")
