"""What one line of a data sheet says of another pot: the resin it describes, the use-by of the pot, the largest that lasts."""

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
"""Share of the model's time taken from twice the sheet's mass on: a hot core and cups that are not round shorten it more
[memory]."""

REACH = 5.0
"""Multiple of the sheet's mass up to which pots are looked for (ours): so far, the answers for gel and for an earlier
end of use agree to 9 % [computed]."""

FITTED = (30_000.0, 90_000.0)
"""Activation energies in J/mol that two lines of a sheet may come to: far outside, one of them is of something else
(ours; 44 to 60 kJ/mol are published)."""

_HAIR = 1e-11
"""How near to the limit the largest pot is found, relative (ours). No threshold: accuracy of the search."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One line of a data sheet: so long, for that mass in a cup, with resin and room at that temperature."""

    minutes: float
    mass: float
    celsius: float

    def pot(self) -> Pot:
        """Return the pot that it was measured on."""
        return Pot(cup_bulk(self.mass), self.celsius, self.celsius)


@dataclass(frozen=True, slots=True)
class Use:
    """The use-by in minutes and the two times that it is the lesser of."""

    model: float
    """What the model says of the pot as counted."""
    margin: float
    """Share of the model's time that is taken."""
    scaled: float | None
    """The sheet's time at this temperature, with its margin; None where the model alone rules.

    Colder than the sheet it is the sheet's time by Arrhenius; else that of the sheet's own pot by the model."""
    scaled_margin: float
    """Share of the sheet's time that is taken."""

    @property
    def by(self) -> float:
        """The lesser of both."""
        allowed = self.model * self.margin
        return allowed if self.scaled is None else min(allowed, self.scaled)


@lru_cache(maxsize=256)  # a sheet stays the same at every mass, temperature and look
def calibrated(sheet: Sheet, activation: float) -> Resin:
    """Return the resin that gels in the sheet's pot at the sheet's time: secant on the logarithms of S and time.

    A pot that loses no heat needs the least S, and its time goes as 1/S exactly. From there the true pot's time falls
    faster than 1/S, for the faster it cures the less it loses: so S lies within what 1/S makes of the time still over.
    """
    pot = sheet.pot()

    def misses(logarithm: float) -> float:
        return math.log(gel_minutes(Resin(math.exp(logarithm), activation), pot) / sheet.minutes)

    # A hair wider on both sides than the bounds, which a pot near to them keeps only within the error of the steps.
    least = math.log(gel_minutes(Resin(1.0, activation), replace(pot, bulk=math.inf)) / sheet.minutes) - 0.001
    found = root(misses, least, least + misses(least) + 0.001)
    assert found is not None
    return Resin(math.exp(found), activation)


@lru_cache(maxsize=64)
def fitted(sheet: Sheet, second: Sheet) -> Resin | None:
    """Return the resin that gels as both lines of the sheet say; None where no believable activation energy does it."""

    def misses(activation: float) -> float:
        return math.log(gel_minutes(calibrated(sheet, activation), second.pot()) / second.minutes)

    found = root(misses, *FITTED)
    return None if found is None else calibrated(sheet, found)


def apart_problems(sheet: Sheet, second: Sheet) -> list[FieldProblem]:
    """Return what is wrong with a second line too near to the first to tell a resin's temperature dependence."""
    if abs(second.celsius - sheet.celsius) >= LEAST_APART:
        return []
    what = f"{second.celsius:.1f} °C is too near to the {sheet.celsius:.1f} °C of the first line to tell one from the other"
    fix = f"give a line {LEAST_APART:g} °C or more away, or leave the second line out"
    return [FieldProblem("sheet_temperature_2", what, fix)]


def resin_of(sheet: Sheet, second: Sheet | None, activation: float | None = None) -> tuple[Resin, str]:
    """Return the resin that the lines describe, and where its activation energy, in J/mol, comes from.

    InputError where two lines do not go together.
    """
    if second is None:
        return calibrated(sheet, activation or ACTIVATION), "typical" if activation is None else "yours"
    found = fitted(sheet, second)
    if found is not None:
        return found, "fitted to the sheet"
    low, high = FITTED
    what = (
        f"{second.minutes:g} min at {second.celsius:.1f} °C and {sheet.minutes:g} min at {sheet.celsius:.1f} °C "
        f"do not go together: no energy from {low / 1000:g} to {high / 1000:g} kJ/mol gives both"
    )
    fix = "check that both lines are of one mix and mean the same by pot life, and name the mass of the second"
    raise InputError(FieldProblem("sheet_time_2", what, fix))


def share(mass: float, sheet: Sheet) -> float:
    """Return the share of a time that is taken for a pot of `mass` g: 1 up to the sheet's mass, 0.8 from twice that on.

    Between them it falls in a straight line, so that no pot lasts longer than one a gram smaller (engineering choice).
    """
    over = min(max(mass / sheet.mass - 1, 0.0), 1.0)
    return 1 - (1 - MARGIN) * over


def use_of(resin: Resin, sheet: Sheet, mass: float, pot: Pot) -> Use:
    """Return the use-by of a pot that holds `mass` g.

    Hotter or bigger than the sheet, the model: whatever the sheet's pot life meant, the answers agree there. Colder,
    smaller or shallower they part, so nothing is gained beyond the sheet's time at the temperature of the mix. It never
    rises with the mass or the temperature.
    """
    shallower, margin = pot.bulk < cup_bulk(sheet.mass), share(mass, sheet)
    # The sheet's own pot bounds a shallower one however big; a bigger cup holds more heat, so it gets the margin.
    scaled_margin = 1.0 if shallower else margin
    scaled = None
    # A smaller cup is a shallower one too: it has less bulk to its surface.
    if pot.start < sheet.celsius:
        scaled = sheet.minutes / arrhenius.rate(pot.start, sheet.celsius, resin.activation) * scaled_margin
    elif shallower:  # by the model, as the sheet's own pot is worked out: Arrhenius alone would make a smaller pot the shorter
        scaled = gel_minutes(resin, replace(pot, bulk=cup_bulk(sheet.mass)).as_counted())
    return Use(gel_minutes(resin, pot.as_counted()), margin, scaled, scaled_margin)


def first_of(use: Use, warm_at: float | None) -> float:
    """Return the minutes after which a pot has to be empty: its use-by, or 50 °C in its bulk where that comes first."""
    return use.by if warm_at is None else min(use.by, warm_at)


def empty_by(resin: Resin, sheet: Sheet, mass: float, pot: Pot) -> float:
    """Return the minutes after which a pot that holds `mass` g has to be empty; what comes after its gel is past them.

    Its heat is counted unfilled: a light filler insulates as well as it takes up heat.
    """
    warm_at = reaches(course(resin, replace(pot, reacting=1.0)), WARM)
    return first_of(use_of(resin, sheet, mass, pot), warm_at)


def largest_pot(by: Callable[[float], float], needed: float, sheet: Sheet) -> float | None:
    """Return the greatest mass in g, up to 5 times the sheet's, for which `by` covers the minutes needed; None if none does.

    `by` gives the minutes that a mass lasts, and never rises with it.
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
