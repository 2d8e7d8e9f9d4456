"""Water vapour in air: its pressure at saturation, and the limits for air that is too damp to bond or coat in."""

from __future__ import annotations

import math

from shopmate.calculator import Source
from shopmate.models.arrhenius import ZERO_CELSIUS

RULE = Source(
    "Coating-practice pages citing ISO 8502-4 and ISO 12944-7: surface 3 °C or more above the dew point, humidity below 85 %",
    "read",
)

WET = 85.0
"""Relative humidity in % from which you should not bond or coat: coating practice citing ISO 12944-7 [read]."""

DEW_MARGIN = 3.0
"""How much warmer than the dew point a face must be, in °C: coating practice citing ISO 8502-4 [read]."""

TRIPLE_POINT = 273.16
"""Triple point of water, K (definition): the formulas for ice and water meet here, not at 273.15 K as printed. No Threshold
needed: the two formulas agree there."""

_RANGE = (-100.0, 200.0)
"""Temperatures in °C for which the saturation formulas hold (ASHRAE Handbook Fundamentals 2017, ch. 1, read)."""


def saturation_pressure(celsius: float) -> float:
    """Return the saturation vapour pressure in Pa at −100 to 200 °C, over ice below the triple point and over water above it.

    ASHRAE Handbook Fundamentals 2017, ch. 1, eq. 5 (ice) and 6 (water), read in the source of PsychroLib 2.5.0.
    """
    t = celsius + ZERO_CELSIUS
    if t <= TRIPLE_POINT:
        log = -5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t**2
        log += 2.0747825e-9 * t**3 - 9.484024e-13 * t**4 + 4.1635019 * math.log(t)
    else:
        log = -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t**2 - 1.4452093e-8 * t**3
        log += 6.5459673 * math.log(t)
    return math.exp(log)


def standard_saturation_pressure(celsius: float) -> float:
    """Return the saturation vapour pressure in Pa by the shorter formula of ISO 13788 [memory], for sums to that standard.

    It is within 0.25 % of the formula above from −10 to 30 °C, and within 0.6 % at −20 °C [computed, PsychroLib]. Condensation
    between layers is a small difference of pressures, so all of them must come from the same formula.
    """
    if celsius < 0:
        return 610.5 * math.exp(21.875 * celsius / (265.5 + celsius))
    return 610.5 * math.exp(17.269 * celsius / (237.3 + celsius))


def saturated_at(pressure: float) -> float:
    """Return the temperature in °C at which `pressure` (Pa) saturates the air: the formula above solved for temperature.

    By halving the range: the pressure only rises with temperature, and no step can leave the range or stall where
    the two formulas meet.
    """
    low, high = _RANGE
    while True:
        middle = (low + high) / 2
        if middle in (low, high):
            return middle
        low, high = (middle, high) if saturation_pressure(middle) < pressure else (low, middle)
