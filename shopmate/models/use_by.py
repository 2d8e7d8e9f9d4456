"""From one pot life on a data sheet to the time of any pot: the resin fitted to it, the use-by, the largest pot that lasts."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache

from shopmate.errors import FieldProblem, InputError
from shopmate.models import arrhenius
from shopmate.models.arrhenius import ACTIVATION
from shopmate.models.constants import NOISE
from shopmate.models.cure import LEAST_APART
from shopmate.models.pot import WARM, Pot, Resin, course, cup_bulk, gel_minutes, reaches, root
from shopmate.records import dataclass, replace

MARGIN = 0.8
"""Share of the model's time that is used from twice the data-sheet mass up: a hot core and cups that are not round shorten it
further [memory]."""

REACH = 5.0
"""Largest pot worked out, as a multiple of the data-sheet mass (our choice): up to that, the result changes by no more than 9 %
whether the data-sheet pot life ends at gel or earlier [computed]."""

FITTED = (30_000.0, 90_000.0)
"""Lowest and highest activation energy in J/mol accepted from two pot lives: outside that, one of them is for something else (our
choice; 44 to 60 kJ/mol are published)."""

POT_LIFE_FIGURES = {
    "sheet_time": "pot_life",
    "sheet_mass": "pot_mass",
    "sheet_temperature": "pot_temperature",
    "sheet_time_2": "pot_life_2",
    "sheet_temperature_2": "pot_temperature_2",
}
"""The figures of a resin on the shelf that say how long a pot lasts, by the field each one fills in."""

_HAIR = 1e-11
"""Relative accuracy of the search for the largest pot (our choice). No Threshold needed: accuracy of the search."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One pot life on a data sheet: minutes, for a mass in g in a cup, with resin and room at the temperature given."""

    minutes: float
    mass: float
    celsius: float

    def pot(self) -> Pot:
        """Return the pot that the pot life was measured on."""
        return Pot(cup_bulk(self.mass), self.celsius, self.celsius)


@dataclass(frozen=True, slots=True)
class Use:
    """The use-by of a pot in minutes: the shorter of two times."""

    model: float
    """Gel by the model, on the safe side."""
    margin: float
    """Share of the model's time that is used."""
    scaled: float | None
    """The data-sheet time at this temperature, with its margin; None where only the model decides.

    Below the data-sheet temperature it follows Arrhenius, otherwise it is the model's time for the data-sheet cup."""
    scaled_margin: float
    """Share of the data-sheet time that is used."""

    @property
    def by(self) -> float:
        """The shorter of the two times."""
        allowed = self.model * self.margin
        return allowed if self.scaled is None else min(allowed, self.scaled)


@lru_cache(maxsize=256)  # the data sheet stays the same while mass and temperature change
def calibrated(sheet: Sheet, activation: float) -> Resin:
    """Return the resin that gels in the data-sheet cup at the data-sheet time: secant on the logarithms of S and time.

    A pot that loses no heat needs the smallest S, and its time is exactly proportional to 1/S. The real pot's time falls
    faster than 1/S, because the faster it cures the less heat it loses: that bounds S from above.
    """
    pot = sheet.pot()

    def misses(logarithm: float) -> float:
        return math.log(gel_minutes(Resin(math.exp(logarithm), activation), pot) / sheet.minutes)

    # Slightly wider than the bounds, since the integration has its own small error.
    lowest = math.log(gel_minutes(Resin(1.0, activation), replace(pot, bulk=math.inf)) / sheet.minutes) - 0.001
    found = root(misses, lowest, lowest + misses(lowest) + 0.001)
    assert found is not None
    return Resin(math.exp(found), activation)


@lru_cache(maxsize=64)
def fitted(sheet: Sheet, second: Sheet) -> Resin | None:
    """Return the resin that fits both pot lives; None if that takes an activation energy outside FITTED."""

    def misses(activation: float) -> float:
        return math.log(gel_minutes(calibrated(sheet, activation), second.pot()) / second.minutes)

    found = root(misses, *FITTED)
    return None if found is None else calibrated(sheet, found)


def apart_problems(sheet: Sheet, second: Sheet) -> list[FieldProblem]:
    """Return a problem for a second pot life whose temperature is too close to the first to fit an activation energy."""
    if abs(second.celsius - sheet.celsius) >= LEAST_APART:
        return []
    what = f"{second.celsius:.1f} °C is too close to the {sheet.celsius:.1f} °C of the first pot life"
    fix = f"enter one at least {LEAST_APART:g} °C away, or leave the second pot life out"
    return [FieldProblem("sheet_temperature_2", what, fix)]


def resin_of(sheet: Sheet, second: Sheet | None, activation: float | None = None) -> tuple[Resin, str]:
    """Return the resin fitted to the pot lives, and where its activation energy (J/mol) comes from.

    InputError where the two pot lives don't fit together.
    """
    if second is None:
        return calibrated(sheet, activation or ACTIVATION), "typical" if activation is None else "yours"
    found = fitted(sheet, second)
    if found is not None:
        return found, "fitted to the data sheet"
    low, high = FITTED
    what = (
        f"{second.minutes:g} min at {second.celsius:.1f} °C and {sheet.minutes:g} min at {sheet.celsius:.1f} °C "
        f"do not go together: no activation energy from {low / 1000:g} to {high / 1000:g} kJ/mol fits both"
    )
    fix = "check that both are for the same hardener and measured the same way, and enter the mass of the second"
    raise InputError(FieldProblem("sheet_time_2", what, fix))


def share(mass: float, sheet: Sheet) -> float:
    """Return the share of a time to use for a pot of `mass` g: 1 up to the data-sheet mass, 0.8 from twice that mass up.

    In between it falls in a straight line, so that no pot lasts longer than one that is a gram lighter (engineering choice).
    """
    over = min(max(mass / sheet.mass - 1, 0.0), 1.0)
    return 1 - (1 - MARGIN) * over


def use_of(resin: Resin, sheet: Sheet, mass: float, pot: Pot) -> Use:
    """Return the use-by of a pot that holds `mass` g.

    For a pot hotter or bigger than on the data sheet the model decides: there it hardly matters what the data sheet means by
    pot life. For one that is colder, smaller or shallower it does matter, so the use-by never exceeds the data-sheet time at
    the temperature of the mix. The use-by never rises with mass or temperature.
    """
    shallower, margin = pot.bulk < cup_bulk(sheet.mass), share(mass, sheet)
    # A shallower pot lasts at least as long as the data sheet's cup, however big; a bigger cup holds heat, so it gets the margin.
    scaled_margin = 1.0 if shallower else margin
    scaled = None
    # A smaller cup counts as shallower too: it has less volume per cooled area.
    if pot.start < sheet.celsius:
        scaled = sheet.minutes / arrhenius.rate(pot.start, sheet.celsius, resin.activation) * scaled_margin
    elif shallower:  # by the model, like the data sheet's own cup: Arrhenius alone would give a smaller pot less time
        scaled = gel_minutes(resin, replace(pot, bulk=cup_bulk(sheet.mass)).as_counted())
    return Use(gel_minutes(resin, pot.as_counted()), margin, scaled, scaled_margin)


def first_of(use: Use, warm_at: float | None) -> float:
    """Return the minutes after which a pot must be empty: its use-by, or the time it reaches 50 °C if that comes first."""
    return use.by if warm_at is None else min(use.by, warm_at)


def empty_by(resin: Resin, sheet: Sheet, mass: float, pot: Pot) -> float:
    """Return the minutes after which a pot that holds `mass` g must be empty.

    Its heat is worked out without filler: a light filler insulates as much as it cools.
    """
    warm_at = reaches(course(resin, replace(pot, reacting=1.0)), WARM)
    return first_of(use_of(resin, sheet, mass, pot), warm_at)


def largest_pot(by: Callable[[float], float], needed: float, sheet: Sheet) -> float | None:
    """Return the largest mass in g, up to 5 times the data-sheet mass, that lasts the minutes needed; None if none does.

    `by` returns the minutes that a mass lasts, and never rises with the mass.
    """
    low, high = 1.0, REACH * sheet.mass
    needed -= NOISE * needed
    if by(high) >= needed:
        return high
    if by(low) < needed:
        return None
    while high / low > 1 + _HAIR:
        middle = math.sqrt(low * high)
        low, high = (middle, high) if by(middle) >= needed else (low, middle)
    return low
