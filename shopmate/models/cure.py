"""How cure is counted where it is in doubt: too cold to start, too cold to trust, too hot to know."""

from __future__ import annotations

from shopmate.models.arrhenius import rate
from shopmate.models.constants import NOISE

COLD = 12.0
"""°C under which the figure is not trusted where the sheet names none, for resin can turn to glass half-cured and blush
comes first (hardeners ask for 10 to 18) [memory]."""

NO_START = 5.0
"""°C up to which time is not counted towards a cure.

Cold-curing adhesives cured at 5 to 10 °C, strongly slowed, and not at 0 °C (abstracts on cold-curing bridge adhesives, 2011
and Int. J. Adhesion & Adhesives 35, 2012) [read]; between the two nothing is known, so nothing is counted.
"""

HOT = 40.0
"""Highest °C of the model; hotter time counts towards a cure as time at this one [memory]."""

ACTIVATION_RANGE = (44_000.0, 60_000.0)
"""Activation energies in J/mol of epoxies with amines (abstracts: Barral 1995; Thermochimica Acta 447, 2006) [read]."""

LEAST_APART = 5.0
"""Kelvin that two lines of a sheet must be apart for an activation energy to mean anything (arithmetic of rounded times)
[computed]."""


def no_start(celsius: float) -> bool:
    """Return whether cure may not start at all at this temperature."""
    return celsius <= NO_START + NOISE


def is_cold(celsius: float, least: float) -> bool:
    """Return whether it is colder than `least`, the °C down to which the figure is trusted."""
    return celsius < least - NOISE


def counted(celsius: float, *, closes: bool, least: float) -> float | None:
    """Return the °C that time at `celsius` counts at; None where it counts for nothing.

    Where the chemistry is not known the safe side is. What `closes` (a pot life, a recoat window) counts as no colder than
    `least`; what is waited for counts nothing where cure may not start and as no hotter than the model reaches.
    """
    if closes:
        return max(celsius, least)
    return None if no_start(celsius) else min(celsius, HOT)


def speed(celsius: float, reference: float, activation: float, *, closes: bool, least: float) -> float:
    """Return how many times faster than at `reference` (°C) the cure is counted; `activation` in J/mol, else as `counted`."""
    at = counted(celsius, closes=closes, least=least)
    return 0.0 if at is None else rate(at, reference, activation)
