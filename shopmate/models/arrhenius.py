"""How much faster or slower epoxy cures at another temperature, by Arrhenius, and how much cure that adds up to."""

from __future__ import annotations

import math
from collections.abc import Iterable

GAS_CONSTANT = 8.314462618
"""Molar gas constant in J/(mol K); exact from the SI's defining constants (BIPM SI Brochure, 9th ed.) [memory]."""

ZERO_CELSIUS = 273.15
"""Kelvin at 0 °C; exact by definition of the degree Celsius."""

ACTIVATION = 55_000.0
"""Activation energy of an amine-cured epoxy in J/mol where no data sheet gives two temperatures.

Within 44 to 60 kJ/mol of published Kamal fits for DGEBA with amines (abstracts: Barral 1995; Thermochimica Acta 447,
2006) [read]; a typical figure within that range: two temperatures on a data sheet override it.
"""


def rate(celsius: float, reference: float, activation: float = ACTIVATION) -> float:
    """Return how many times faster a reaction goes at `celsius` than at `reference` (both °C), by Arrhenius.

    `activation` in J/mol. The temperatures must lie above absolute zero.
    """
    kelvin, reference_kelvin = celsius + ZERO_CELSIUS, reference + ZERO_CELSIUS
    return math.exp(activation / GAS_CONSTANT * (1 / reference_kelvin - 1 / kelvin))


def equivalent_age(history: Iterable[tuple[float, float]], reference: float, activation: float = ACTIVATION) -> float:
    """Return the time at `reference` °C that gives the same cure as a history of (time, °C), in the unit of its times.

    The sum of rate × time: the maturity form of ASTM C1074 (scope read; formula from memory). It holds until the
    resin turns to glass, after which cure almost stops.
    """
    return sum(time * rate(celsius, reference, activation) for time, celsius in history)


def fitted_activation(time: float, celsius: float, other_time: float, other_celsius: float) -> float:
    """Return the activation energy in J/mol that makes both (time, °C) points of a data sheet the same cure.

    Arrhenius solved for E: E = R ln(t₁ / t₂) / (1/T₁ − 1/T₂), T in kelvin.
    """
    inverse, other = (1 / (value + ZERO_CELSIUS) for value in (celsius, other_celsius))
    return GAS_CONSTANT * math.log(time / other_time) / (inverse - other)
