"""How much time counts towards cure when it is too cold to start, too cold to trust, or hotter than the model covers."""

from __future__ import annotations

from shopmate.models.arrhenius import rate
from shopmate.models.constants import NOISE

COLD = 12.0
"""°C below which figures are not trusted where the data sheet gives no minimum: resin can turn to glass half-cured, and
blush (hardeners ask for 10 to 18) [memory]."""

NO_START = 5.0
"""°C up to which time does not count towards cure.

Cold-curing adhesives cured at 5 to 10 °C, much more slowly, and not at 0 °C (abstracts on cold-curing bridge adhesives, 2011
and Int. J. Adhesion & Adhesives 35, 2012) [read]; nothing is known between 0 and 5 °C, so nothing counts there.
"""

HOT = 40.0
"""Highest °C the model covers; time at a higher temperature counts as time at this one [memory]."""

ACTIVATION_RANGE = (44_000.0, 60_000.0)
"""Activation energies in J/mol of epoxies with amines (abstracts: Barral 1995; Thermochimica Acta 447, 2006) [read]."""

LEAST_APART = 5.0
"""Minimum K between two data-sheet temperatures for an activation energy to mean anything (arithmetic of rounded times)
[computed]."""


def no_start(celsius: float) -> bool:
    """Return whether cure may not start at all at this temperature."""
    return celsius <= NO_START + NOISE


def is_cold(celsius: float, least: float) -> bool:
    """Return whether `celsius` is below `least`, the lowest °C at which the figure is trusted."""
    return celsius < least - NOISE


def counted(celsius: float, *, closes: bool, least: float) -> float | None:
    """Return the °C to use for time spent at `celsius`, on the safe side; None where that time does not count.

    Where a window `closes` (pot life, recoat), time counts as if at `least` or warmer. Waiting time counts nothing where cure
    may not start, and no faster than at the highest temperature the model covers.
    """
    if closes:
        return max(celsius, least)
    return None if no_start(celsius) else min(celsius, HOT)


def speed(celsius: float, reference: float, activation: float, *, closes: bool, least: float) -> float:
    """Return how many times faster cure runs than at `reference` °C; `activation` in J/mol, the rest as for `counted`."""
    at = counted(celsius, closes=closes, least=least)
    return 0.0 if at is None else rate(at, reference, activation)
