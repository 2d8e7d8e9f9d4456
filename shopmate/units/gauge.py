"""Sheet-metal gauges: the thickness of each, which differs from metal to metal, so a gauge is never accepted as a thickness."""

from __future__ import annotations

from fractions import Fraction

_STEEL_OZ = {7: 120, 8: 110, 9: 100, 10: 90, 11: 80, 12: 70, 13: 60, 14: 50, 15: 45, 16: 40, 17: 36, 18: 32, 19: 28, 20: 24,
             21: 22, 22: 20, 23: 18, 24: 16, 25: 14, 26: 12, 27: 11, 28: 10, 29: 9, 30: 8}  # fmt: skip
"""Weight of steel sheet in oz/ft² by gauge: the standard gauge set by the act of 1893 [memory]."""
_STEEL_OZ_AN_INCH = 669.12
"""Weight in oz of a square foot of steel 1 in thick, 41.82 lb: manufacturers' standard gauge [memory]."""


def thicknesses(number: Fraction) -> tuple[float, float] | None:
    """Return the thickness of a gauge in inches for steel and for aluminium, None if no sheet is made in it.

    Steel by weight, manufacturers' standard gauge; aluminium by 0.005 in × 92^((36 − n) / 39), American wire gauge [memory].
    """
    if number not in _STEEL_OZ:
        return None
    return _STEEL_OZ[int(number)] / _STEEL_OZ_AN_INCH, 0.005 * 92 ** ((36 - int(number)) / 39)
