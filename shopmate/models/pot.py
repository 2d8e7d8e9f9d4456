"""Heat balance of a pot of mixed epoxy: how hot its own cure makes it, when it gels, and whether it runs away."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

from shopmate.calculator import Source
from shopmate.models import arrhenius
from shopmate.models.arrhenius import ACTIVATION
from shopmate.records import dataclass, replace

BIG_POT = 500.0
"""Mass of mixed epoxy in g above which a pot heats up noticeably by itself and goes off early [common practice]."""

BIG_POT_SOURCE = Source("over 500 g of mixed epoxy in one pot warms itself and goes off early", "common practice")

WARM = 50.0
"""Pot temperature in °C at which to empty the pot: the runaway is then minutes away [computed from the model]."""

SMOKING = 100.0
"""Peak in °C from which a pot is said to run away: above that, cups soften and the mix smokes (common practice)."""


def gel_conversion(balance: float, hydrogens: int) -> float:
    """Return the conversion at which a diepoxide gels with an amine that has `hydrogens` active hydrogens: 1/√(r (f − 1)).

    Flory-Stockmayer for equally reactive groups, two on the epoxide [computed]. `balance`, no more than 1, is the scarcer groups
    divided by the others; the conversion returned is that of the scarcer groups.
    """
    return 1 / math.sqrt(balance * (hydrogens - 1))


def heat(equivalent: float, epoxide: float, phr: float) -> float:
    """Return the heat of cure in J per gram of mix: J per epoxide equivalent divided by the grams of mix that contain one."""
    return equivalent / (epoxide * (1 + phr / 100))


GEL = round(gel_conversion(1, 4), 2)
"""Conversion at gel, the end of use: 0.577 for an on-ratio mix with a diamine (four hydrogens), to two digits [computed]. No
Threshold needed: a property of the resin, where the integration ends."""

HEAT = round(heat(107_000, 190, 45), -2)
"""Heat of cure in J/g: 388 for 107 kJ per equivalent, EEW 190 and 45 phr, rounded to one digit; 400 to 500 is common [memory]."""

HEAT_CAPACITY = 1.9
"""Specific heat of the liquid in J/(g K); 1.8 to 2.1 are common [memory]."""

DENSITY = 1.10
"""Density of the mix in g/cm³; 1.08 to 1.15 are common [memory]."""

CONDUCTIVITY = 0.20
"""Thermal conductivity of the resin in W/(m K); 0.18 to 0.22 are common [memory]."""

FILM = 9.0
"""Heat lost from a surface to still air, W/(m² K): 8 to 11, 5.1 of that radiated and 3 to 6 to the air [memory]."""

INSIDE = 0.5
"""Mean resistance from inside the resin to its surface, in (V/A)/k: slab 1/3, cylinder 1/2, sphere 0.6 [computed]."""

BASE = 0.5
"""Share of the base that counts as cooled, because the pot stands on a bench (engineering choice) [memory]."""

SEED = 0.10
"""B in the rate: the uncatalysed reaction divided by the one sped up by its own products (engineering choice) [memory]."""

REFERENCE = 25.0
"""Temperature in °C at which S is stated (our choice: it cancels out)."""

_STEPS = 200
"""Minimum steps of conversion up to gel: the time is off by no more than 4e-5 of itself, compared with scipy's Radau at 1e-10
[computed]. No Threshold needed: accuracy of the integration."""

_STIFF = 0.25
"""Largest step, in units of the conversion over which a pot that does not react would cool to the room [computed]. No Threshold
needed: accuracy of the integration."""

_TAIL = 0.03
"""Largest step, as a share of the conversion still to come: a runaway peaks close to full conversion (our choice). No Threshold
needed: accuracy of the integration."""

_END = 0.9999
"""Conversion at which a search for the peak ends (our choice)."""

_CLOSE = 1e-12
"""How close to zero a root is found (our choice). No Threshold needed: accuracy of the search."""

Point = tuple[float, float, float]
"""Conversion, seconds since mixing, °C of the pot."""


@dataclass(frozen=True, slots=True)
class Resin:
    """How fast one mix cures."""

    scale: float
    """S in 1/s at 25 °C."""
    activation: float = ACTIVATION
    """E in J/mol."""


@dataclass(frozen=True, slots=True)
class Pot:
    """A pot of mix: volume divided by cooled area, starting temperature, room temperature, and the share that reacts."""

    bulk: float
    """Volume divided by cooled area in mm; infinite for a pot that loses no heat."""
    start: float
    """Temperature of the mix at the start in °C."""
    room: float
    """Temperature of the room in °C."""
    reacting: float = 1.0
    """Mass fraction that gives heat; what remains is filler."""

    def as_counted(self) -> Pot:
        """Return the pot on the safe side, for the use-by: no cooling by a colder room, and no filler.

        How fast a colder room cools the pot comes from the model alone, and a light filler insulates as much as it cools.
        """
        return replace(self, room=max(self.room, self.start), reacting=1.0)


def cup_height(mass: float) -> float:
    """Return height and diameter in mm of `mass` g of mix in a cup filled as high as it is wide: (4 V/π)^⅓."""
    return math.cbrt(4 * mass / DENSITY * 1000 / math.pi)


def cup_area(mass: float) -> float:
    """Return the cooled area in mm² of such a cup: top, side and half of the base."""
    return math.pi * cup_height(mass) ** 2 * (1 + (1 + BASE) / 4)


def cup_bulk(mass: float) -> float:
    """Return volume divided by cooled area in mm for such a cup."""
    return mass / DENSITY * 1000 / cup_area(mass)


def tray_bulk(depth: float) -> float:
    """Return volume divided by cooled area in mm for a tray: top and half the base. Ignoring the edges errs on the safe side."""
    return depth / (1 + BASE)


def transmittance(bulk: float) -> float:
    """Return U in W/(m² K) from inside the pot to the room: 1/U = 1/h + 0.5 (V/A)/k."""
    return 1 / (1 / FILM + INSIDE * bulk / 1000 / CONDUCTIVITY)


def cooling(bulk: float) -> float:
    """Return λ = U A/(m cp) in 1/s, the share of its temperature rise above the room that a pot loses per second."""
    return transmittance(bulk) / (bulk * DENSITY * HEAT_CAPACITY * 1000)


def shape(conversion: float) -> float:
    """Return the factor of the rate at a conversion: (B + α)(1 − α)², autocatalytic (Kamal's form)."""
    return (SEED + conversion) * (1 - conversion) ** 2


def course(
    resin: Resin,
    pot: Pot,
    begin: Point | None = None,
    end: float = GEL,
    *,
    to_peak: bool = False,
    shape: Callable[[float], float] = shape,
) -> list[Point]:
    """Return the pot's course up to the conversion `end`; with `to_peak` only while it is getting warmer.

    dt/dα = 1/r and dT/dα = q w/cp − λ (T − Troom)/r by fourth-order Runge-Kutta. The steps are in conversion, not in time,
    so that gel is the end of a known range and a runaway of seconds needs no more steps than a slow cure.
    """
    conversion, seconds, celsius = begin or (0.0, 0.0, pot.start)
    gain, loss, room = pot.reacting * HEAT / HEAT_CAPACITY, cooling(pot.bulk), pot.room
    scale, activation, rate = resin.scale, resin.activation, arrhenius.rate
    points = [(conversion, seconds, celsius)]
    f = scale * shape(conversion)
    while conversion < end:
        p1 = 1 / (f * rate(celsius, REFERENCE, activation))
        k1 = gain - loss * (celsius - room) * p1
        step = min(GEL / _STEPS, _TAIL * (1 - conversion), end - conversion)
        if loss * p1 * step > _STIFF:
            step = _STIFF / (loss * p1)
        f = scale * shape(conversion + step / 2)
        warm = celsius + step / 2 * k1
        p2 = 1 / (f * rate(warm, REFERENCE, activation))
        k2 = gain - loss * (warm - room) * p2
        warm = celsius + step / 2 * k2
        p3 = 1 / (f * rate(warm, REFERENCE, activation))
        k3 = gain - loss * (warm - room) * p3
        warm = celsius + step * k3
        conversion += step
        f = scale * shape(conversion)
        p4 = 1 / (f * rate(warm, REFERENCE, activation))
        k4 = gain - loss * (warm - room) * p4
        rise = step / 6 * (k1 + 2 * (k2 + k3) + k4)
        celsius += rise
        seconds += step / 6 * (p1 + 2 * (p2 + p3) + p4)
        points.append((conversion, seconds, celsius))
        if to_peak and rise <= 0:
            break
    return points


def gel_minutes(resin: Resin, pot: Pot) -> float:
    """Return the minutes until the pot gels."""
    return course(resin, pot)[-1][1] / 60


def whole_course(resin: Resin, pot: Pot) -> list[Point]:
    """Return the course up to gel and, if the pot is still getting warmer then, on to its peak."""
    gelling = course(resin, pot)
    return gelling + course(resin, pot, gelling[-1], _END, to_peak=True)[1:]


def reaches(course: Sequence[Point], celsius: float) -> float | None:
    """Return the minutes until the pot first reaches that temperature, None if it never does."""
    for (_, before, cooler), (_, after, warmer) in pairwise(course):
        if cooler < celsius <= warmer:
            return (before + (after - before) * (celsius - cooler) / (warmer - cooler)) / 60
    return None


def root(function: Callable[[float], float], low: float, high: float) -> float | None:
    """Return a zero of the function between `low` and `high` (secant, Illinois); None if both ends have the same sign."""
    at_low, at_high = function(low), function(high)
    if at_low * at_high > 0:
        return None
    for _ in range(100):
        if abs(at_high) < _CLOSE or high == low:
            break
        place = (low * at_high - high * at_low) / (at_high - at_low)
        found = function(place)
        if found * at_high < 0:
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = place, found
    return high
