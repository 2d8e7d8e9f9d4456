"""How long a pot of epoxy stays usable, from one line of its data sheet: a heat balance with the cure that feeds it."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Value
from shopmate.errors import FieldProblem, InputError
from shopmate.models import arrhenius
from shopmate.models.arrhenius import ACTIVATION
from shopmate.picture import Curve, Label, Picture, number, size
from shopmate.records import dataclass
from shopmate.units import Quantity


def _gel_conversion(balance: float, hydrogens: int) -> float:
    """Return the conversion at which a diepoxide and an amine with that many hydrogens gel: 1/√(r (f − 1)).

    Flory-Stockmayer for equally reactive groups, two on the epoxide [computed]; `balance` is the number of the scarcer
    groups over the others, up to 1, and the conversion that of the scarcer.
    """
    return 1 / math.sqrt(balance * (hydrogens - 1))


def _heat(equivalent: float, epoxide: float, phr: float) -> float:
    """Return the heat of cure in J a gram of mix: J an epoxide equivalent over the grams of mix that hold one."""
    return equivalent / (epoxide * (1 + phr / 100))


_GEL = round(_gel_conversion(1, 4), 2)
"""Conversion at gel, the end of use: 0.577 of an even mix with a diamine (four hydrogens), in two digits [computed]."""

_HEAT = round(_heat(107_000, 190, 45), -2)
"""Heat of cure in J/g: 388 of 107 kJ an equivalent, EEW 190, 45 phr, in one digit, for 400 to 500 are common [memory]."""

_HEAT_CAPACITY = 1.9
"""Specific heat of the liquid in J/(g K); 1.8 to 2.1 are common [memory]."""

_DENSITY = 1.10
"""Density of the mix in g/cm³; 1.08 to 1.15 are common [memory]."""

_CONDUCTIVITY = 0.20
"""Thermal conductivity of the resin in W/(m K); 0.18 to 0.22 are common [memory]."""

_FILM = 9.0
"""Heat that still air and radiation take off a surface, W/(m² K); 8 to 11 by 5.1 radiated and a film of 3 to 6 [memory]."""

_INSIDE = 0.5
"""Mean resistance from the bulk to its surface, in (V/A)/k: slab 1/3, cylinder 1/2, sphere 0.6 [computed]."""

_BASE = 0.5
"""Share of the base that counts as cooled: it stands on a bench (engineering choice) [memory]."""

_SEED = 0.10
"""B of the rate: the reaction at the start over the one that its own products speed up (engineering choice) [memory]."""

_REFERENCE = 25.0
"""Temperature in °C at which the scale S of the rate is stated (ours: it cancels out)."""

_STEPS = 200
"""Steps of conversion up to the gel, at the least: 4e-5 of the time at the worst, by scipy's Radau at 1e-10 [computed]."""

_STIFF = 0.25
"""Greatest step, in units of the conversion in which a pot without reaction would settle to the room (accuracy) [computed]."""

_TAIL = 0.03
"""Greatest step, as a share of the conversion still to come: the peak of a pot that runs away lies close to the
end (ours)."""

_END = 0.9999
"""Conversion at which a search for the peak ends (ours)."""

_WARM = 50.0
"""Bulk temperature in °C that calls for the pot to be emptied: the runaway is then minutes away [computed from the model]."""

_SMOKING = 100.0
"""Peak in °C from which the pot is spoken of as running away: above it cups soften and mix smokes (common practice)."""

_MARGIN = 0.8
"""Share of the model's time taken above the sheet's mass: a hot core and cups that are not round shorten it more [memory]."""

_RANGE = (12.0, 40.0)
"""°C outside which no figure is given: under it resin crystallises and glass forms before gel, over it no sheet reaches
[memory]."""

_THINNEST = 2.0
"""Depth in mm of a tray under which it is a film (ours): at 2 mm, B from 0.03 to 0.3 makes 31 to 118 min of a 20 min sheet
[computed]."""

_REACH = 5.0
"""Multiple of the sheet's mass up to which pots are looked for (ours): so far, the answers for gel and for an earlier
end of use agree to 9 % [computed]."""

_SPREAD = 5_000.0
"""Activation energy in J/mol by which the typical value may be off either way: 44 to 60 kJ/mol are published [read]."""

_FITTED = (30_000.0, 90_000.0)
"""Activation energies in J/mol that two lines of a sheet may come to: far outside, one of them is of something else
(ours; 44 to 60 kJ/mol are published)."""

_PARTED = 1.1
"""Ratio of the model to the use-by from which the caution says how little it is to be trusted (ours)."""

_NOISE = 1e-9
"""What the last digits of floating-point arithmetic may cost: a pot like the sheet's covers the sheet's time."""

_CUP, _TRAY = "cup", "tray"

_MODEL = Source(
    "Heat balance of a stirred pot with the resistance of the resin inside, autocatalytic rate, integrated over conversion",
    "computed",
)
_TYPICAL = Source(
    "Heat 400 J/g, specific heat 1.9 J/gK, density 1.10, conductivity 0.20 W/mK, film 9 W/m²K, B 0.10: typical of epoxy", "memory"
)
_ENERGY = Source(
    "Activation energy 44 to 60 kJ/mol of DGEBA with amines: abstracts of Barral 1995, Thermochim. Acta 447 (2006)", "read"
)
_DEFINED = Source("Gel time depends on the mass, which must be stated with it: scope of ASTM D2471", "read")
_TIMER = Source(
    "Use-by: 0.8 of the model above the sheet's mass, no gain from cold, small or shallow beyond Arrhenius", "common practice"
)
_RADAU = Source("The same equations by scipy 1.17.1 Radau, rtol 1e-10: a check of the integration, not of nature", "computed")

_Point = tuple[float, float, float]
"""Conversion, seconds since mixing, °C of the bulk."""


@dataclass(frozen=True, slots=True)
class _Resin:
    """What the cure of one mix goes by."""

    scale: float
    """S in 1/s at 25 °C."""
    activation: float = ACTIVATION
    """E in J/mol."""


@dataclass(frozen=True, slots=True)
class _Pot:
    """What a pot of mix adds to the resin: how it holds its heat, and how warm it starts and stands."""

    bulk: float
    """Volume over cooled area in mm; infinite for a pot that loses no heat."""
    start: float
    """°C of the mix."""
    room: float
    """°C around it."""
    reacting: float = 1.0
    """Mass fraction that gives heat: the rest is filler."""

    def as_counted(self) -> _Pot:
        """Return the pot that the use-by counts on: nothing gained from a room colder than the mix, nor from filler.

        What a pot then loses is only the model's word, and a light filler insulates as well as it takes up heat.
        """
        return replace(self, room=max(self.room, self.start), reacting=1.0)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """One line of a data sheet: so long, for that mass in a cup, with resin and room at that temperature."""

    minutes: float
    mass: float
    celsius: float

    def pot(self) -> _Pot:
        return _Pot(_cup_bulk(self.mass), self.celsius, self.celsius)


@dataclass(frozen=True, slots=True)
class _Use:
    """The use-by in minutes and the two times that it is the lesser of."""

    model: float
    """What the model says of the pot as counted."""
    margin: float
    """Share of the model's time that is taken."""
    scaled: float | None
    """The sheet's time at this temperature, with its margin; None where the model alone rules."""

    @property
    def by(self) -> float:
        allowed = self.model * self.margin
        return allowed if self.scaled is None else min(allowed, self.scaled)


def _cup_height(mass: float) -> float:
    """Return height and diameter in mm of a cup filled as high as it is wide, by g of mix: (4 V/π)^⅓."""
    return math.cbrt(4 * mass / _DENSITY * 1000 / math.pi)


def _cup_area(mass: float) -> float:
    """Return the cooled area in mm² of such a cup: top, side and half of the base."""
    return math.pi * _cup_height(mass) ** 2 * (1 + (1 + _BASE) / 4)


def _cup_bulk(mass: float) -> float:
    """Return volume over cooled area in mm of such a cup."""
    return mass / _DENSITY * 1000 / _cup_area(mass)


def _tray_bulk(depth: float) -> float:
    """Return volume over cooled area in mm of a tray: top and half of the base, edges left out (the safe side)."""
    return depth / (1 + _BASE)


def _transmittance(bulk: float) -> float:
    """Return U in W/(m² K) from the bulk to the room: 1/U = 1/h + 0.5 (V/A)/k."""
    return 1 / (1 / _FILM + _INSIDE * bulk / 1000 / _CONDUCTIVITY)


def _loss(bulk: float) -> float:
    """Return λ = U A/(m cp) in 1/s, the share of its warmth over the room that a pot loses each second."""
    return _transmittance(bulk) / (bulk * _DENSITY * _HEAT_CAPACITY * 1000)


def _shape(conversion: float) -> float:
    """Return how the rate goes with conversion: (B + α)(1 − α)², autocatalytic (form of Kamal)."""
    return (_SEED + conversion) * (1 - conversion) ** 2


def _course(
    resin: _Resin,
    pot: _Pot,
    begin: _Point | None = None,
    end: float = _GEL,
    *,
    to_peak: bool = False,
    shape: Callable[[float], float] = _shape,
) -> list[_Point]:
    """Return the pot's course up to the conversion `end`, with `to_peak` only as long as it grows warmer.

    dt/dα = 1/r and dT/dα = q w/cp − λ (T − Troom)/r by Runge-Kutta of fourth order. Conversion, not time, is stepped:
    the gel is then the end of a known range, and a runaway, over in seconds, takes no more steps than a slow cure.
    """
    conversion, seconds, celsius = begin or (0.0, 0.0, pot.start)
    gain, loss, room = pot.reacting * _HEAT / _HEAT_CAPACITY, _loss(pot.bulk), pot.room
    scale, activation, rate = resin.scale, resin.activation, arrhenius.rate
    points = [(conversion, seconds, celsius)]
    f = scale * shape(conversion)
    while conversion < end:
        p1 = 1 / (f * rate(celsius, _REFERENCE, activation))
        k1 = gain - loss * (celsius - room) * p1
        step = min(_GEL / _STEPS, _TAIL * (1 - conversion), end - conversion)
        if loss * p1 * step > _STIFF:
            step = _STIFF / (loss * p1)
        f = scale * shape(conversion + step / 2)
        warm = celsius + step / 2 * k1
        p2 = 1 / (f * rate(warm, _REFERENCE, activation))
        k2 = gain - loss * (warm - room) * p2
        warm = celsius + step / 2 * k2
        p3 = 1 / (f * rate(warm, _REFERENCE, activation))
        k3 = gain - loss * (warm - room) * p3
        warm = celsius + step * k3
        conversion += step
        f = scale * shape(conversion)
        p4 = 1 / (f * rate(warm, _REFERENCE, activation))
        k4 = gain - loss * (warm - room) * p4
        rise = step / 6 * (k1 + 2 * (k2 + k3) + k4)
        celsius += rise
        seconds += step / 6 * (p1 + 2 * (p2 + p3) + p4)
        points.append((conversion, seconds, celsius))
        if to_peak and rise <= 0:
            break
    return points


def _gel_minutes(resin: _Resin, pot: _Pot) -> float:
    """Return the minutes in which the pot gels."""
    return _course(resin, pot)[-1][1] / 60


def _whole_course(resin: _Resin, pot: _Pot) -> list[_Point]:
    """Return the course up to the gel and, where the pot is still growing warmer there, on to its peak."""
    gelling = _course(resin, pot)
    return gelling + _course(resin, pot, gelling[-1], _END, to_peak=True)[1:]


def _reaches(course: Sequence[_Point], celsius: float) -> float | None:
    """Return the minutes after which the bulk is first that warm, None if it never is."""
    for (_, before, cooler), (_, after, warmer) in pairwise(course):
        if cooler < celsius <= warmer:
            return (before + (after - before) * (celsius - cooler) / (warmer - cooler)) / 60
    return None


def _root(function: Callable[[float], float], low: float, high: float) -> float | None:
    """Return where the function is zero between two places at which its signs differ (secant, Illinois), None if they do not."""
    at_low, at_high = function(low), function(high)
    if at_low * at_high > 0:
        return None
    for _ in range(100):
        if abs(at_high) < 1e-12 or high == low:
            break
        place = (low * at_high - high * at_low) / (at_high - at_low)
        found = function(place)
        if found * at_high < 0:
            low, at_low = high, at_high
        else:
            at_low /= 2
        high, at_high = place, found
    return high


@lru_cache(maxsize=256)  # a sheet stays the same at every mass, temperature and look
def _calibrated(sheet: _Sheet, activation: float) -> _Resin:
    """Return the resin that gels in the sheet's pot at the sheet's time: secant on the logarithms of S and time.

    A pot that loses no heat needs the least S, and its time goes as 1/S exactly. From there the true pot's time falls
    faster than 1/S, for the faster it cures the less it loses: so S lies within what 1/S makes of the time still over.
    """
    pot = sheet.pot()

    def misses(logarithm: float) -> float:
        return math.log(_gel_minutes(_Resin(math.exp(logarithm), activation), pot) / sheet.minutes)

    # A hair wider on both sides than the bounds, which a pot near to them keeps only within the error of the steps.
    least = math.log(_gel_minutes(_Resin(1.0, activation), replace(pot, bulk=math.inf)) / sheet.minutes) - 0.001
    found = _root(misses, least, least + misses(least) + 0.001)
    assert found is not None
    return _Resin(math.exp(found), activation)


@lru_cache(maxsize=64)
def _fitted(sheet: _Sheet, second: _Sheet) -> _Resin | None:
    """Return the resin that gels as both lines of the sheet say; None where no believable activation energy does it."""

    def misses(activation: float) -> float:
        return math.log(_gel_minutes(_calibrated(sheet, activation), second.pot()) / second.minutes)

    found = _root(misses, *_FITTED)
    return None if found is None else _calibrated(sheet, found)


def _use(resin: _Resin, sheet: _Sheet, mass: float, pot: _Pot) -> _Use:
    """Return the use-by of a pot that holds `mass` g.

    Hotter or bigger than the sheet, the model: whatever the sheet's pot life meant, the answers agree there. Colder,
    smaller or shallower they part, so nothing is gained beyond the sheet's time at the temperature of the mix.
    """
    bigger, shallower = mass > sheet.mass, pot.bulk < _cup_bulk(sheet.mass)
    scaled = None
    # A smaller cup is a shallower one too: it has less bulk to its surface.
    if pot.start < sheet.celsius or shallower:
        # The sheet's own pot bounds a shallower one however big; a bigger cup holds more heat, so it gets the margin.
        scaled = sheet.minutes / arrhenius.rate(pot.start, sheet.celsius, resin.activation)
        scaled *= _MARGIN if bigger and not shallower else 1.0
    return _Use(_gel_minutes(resin, pot.as_counted()), _MARGIN if bigger else 1.0, scaled)


def _largest_pot(by: Callable[[float], float], needed: float, sheet: _Sheet) -> float | None:
    """Return the greatest mass in g, up to 5 times the sheet's, whose use-by covers the minutes needed; None if none does."""
    low, high = 1.0, _REACH * sheet.mass
    needed -= _NOISE * needed
    if by(high) >= needed:
        return high
    if by(low) < needed:
        return None
    # The margin sets in above the sheet's mass: a step that halving would only come near to.
    if by(sheet.mass) >= needed:
        low = sheet.mass
    else:
        high = sheet.mass
    while high / low > 1 + 1e-11:
        middle = math.sqrt(low * high)
        low, high = (middle, high) if by(middle) >= needed else (low, middle)
    return low


@dataclass(frozen=True, slots=True)
class _Question:
    """The fields as numbers, and the resin that they describe."""

    sheet: _Sheet
    resin: _Resin
    basis: str
    """Where the activation energy comes from: typical, yours, or fitted."""
    mass: float
    depth: float | None
    pot: _Pot

    def with_mass(self, mass: float) -> _Pot:
        """Return the same pot with another mass in it."""
        return self.pot if self.depth is not None else replace(self.pot, bulk=_cup_bulk(mass))


def _asked(fields: Mapping[str, Value | None]) -> _Question:
    """Return the question that the fields put; InputError with all that is wrong between them."""
    problems = []
    mass, depth, activation = size(fields, "mass"), size(fields, "depth"), size(fields, "activation")
    time_2, temperature_2, mass_2 = (size(fields, f"sheet_{name}_2") for name in ("time", "temperature", "mass"))
    assert mass is not None
    container, grams = fields["container"], mass.value_in("g")
    deep = None if depth is None else depth.value_in("mm")
    if container == _CUP and deep is not None:
        problems.append(
            FieldProblem("depth", "the depth of a cup follows from its mass", "choose the container tray, or leave it empty")
        )
    elif container == _TRAY and deep is None:
        problems.append(FieldProblem("depth", "nothing given for a tray", "give how deep the mix stands in it"))
    elif deep is not None and deep < _THINNEST:
        problems.append(
            FieldProblem(
                "depth",
                f"{deep:g} mm is a film, and no film's time follows from a cup's",
                f"take the working time in thin film from the data sheet; a tray is {_THINNEST:g} mm deep or more",
            )
        )
    elif deep is not None and deep > _cup_height(grams):
        problems.append(
            FieldProblem(
                "depth",
                f"{units.show(mass)} {deep:g} mm deep stands higher than it is wide",
                f"choose the container cup, or a tray filled {_cup_height(grams):.0f} mm deep at the most",
            )
        )
    if (time_2 is None) != (temperature_2 is None):
        missing = "sheet_time_2" if time_2 is None else "sheet_temperature_2"
        problems.append(FieldProblem(missing, "nothing given", "a second line of the sheet has both a time and a temperature"))
    if mass_2 is not None and time_2 is None and temperature_2 is None:
        problems.append(
            FieldProblem("sheet_mass_2", "it belongs to a second line of the sheet", "give its time and temperature too")
        )

    sheet = _Sheet(
        number(fields, "sheet_time", "min"), number(fields, "sheet_mass", "g"), number(fields, "sheet_temperature", "°C")
    )
    second = None
    if time_2 is not None and temperature_2 is not None:
        at = temperature_2.value_in("°C")
        second = _Sheet(time_2.value_in("min"), sheet.mass if mass_2 is None else mass_2.value_in("g"), at)
        if activation is not None:
            problems.append(FieldProblem("activation", "two lines of the sheet already give it", "leave it empty"))
        if abs(at - sheet.celsius) < 5:
            problems.append(
                FieldProblem(
                    "sheet_temperature_2",
                    f"{at:.1f} °C is too near to the {sheet.celsius:.1f} °C of the first line to tell one from the other",
                    "give a line 5 °C or more away, or leave the second line out",
                )
            )
    if problems:
        raise InputError(*problems)

    basis = "typical" if activation is None else "yours"
    resin = _calibrated(sheet, ACTIVATION if activation is None else activation.value_in("kJ/mol") * 1000)
    if second is not None:
        fitted, basis = _fitted(sheet, second), "fitted to the sheet"
        if fitted is None:
            raise InputError(
                FieldProblem(
                    "sheet_time_2",
                    f"{second.minutes:g} min at {second.celsius:.1f} °C and {sheet.minutes:g} min at {sheet.celsius:.1f} °C "
                    f"do not go together: no energy from {_FITTED[0] / 1000:g} to {_FITTED[1] / 1000:g} kJ/mol gives both",
                    "check that both lines are of one mix and mean the same by pot life, and name the mass of the second",
                )
            )
        resin = fitted
    start, room = number(fields, "temperature", "°C"), size(fields, "room")
    filled = number(fields, "filler_loading", "%") / 100
    bulk = _cup_bulk(grams) if deep is None else _tray_bulk(deep)
    pot = _Pot(bulk, start, start if room is None else room.value_in("°C"), 1 / (1 + filled))
    return _Question(sheet, resin, basis, grams, deep, pot)


_STANDING = (
    "Warm to the hand: spread it at once, or pour it thin into a wide metal tray, outdoors or on a surface that does not burn. "
    "Once it smokes or is too hot to hold: do not pour it, do not breathe it, keep all that burns away from it, air the room and "
    "leave. Into no bin before it is cold (common practice; the safety data sheet outranks it).",
    "Uncured epoxy and hardener can sensitise the skin for good: gloves, no solvent on skin, and no bare hand on a warm cup.",
    "Count from the first contact of resin and hardener, not from pouring; a pot split later keeps its clock.",
    "A model fitted to one line of the sheet, never held against measured pots of several masses: the data sheet outranks it, "
    "and a pot that warms or thickens earlier is finished earlier.",
)
"""Said with every figure: dangers to persons, then how to count, then what the model is worth."""


def _tenth_down(minutes: float) -> str:
    """Return minutes for a sentence, rounded down so that keeping to them is enough."""
    return f"{math.floor(minutes * 10 + _NOISE) / 10:.1f}"


def _refused(pot: _Pot) -> str | None:
    """Return why no figure is given at these temperatures, None where one is."""
    low, high = _RANGE
    if min(pot.start, pot.room) < low:
        return (
            f"No figure below {low:g} °C: resin can crystallise, and the mix can turn to glass before it gels. Before mixing, "
            f"warm resin, hardener, parts and room to the least temperature of the data sheet, and to {low:g} °C at the least."
        )
    if max(pot.start, pot.room) > high:
        return (
            f"No figure above {high:g} °C: no line of a sheet reaches so far, and a pot there can run away in minutes. "
            "Cool resin, hardener and room before mixing, or use a slower hardener by its data sheet."
        )
    return None


def _compute(**fields: Value | None) -> Answer:
    asked = _asked(fields)
    resin, sheet, pot = asked.resin, asked.sheet, asked.pot
    fit = Quantity(resin.activation / 1000, "kJ/mol") if asked.basis.startswith("fitted") else None
    if refusal := _refused(pot):
        return Answer(
            dict.fromkeys(("use_by", "may_last", "warm_at", "empty_by", "peak", "largest_pot")) | {"fitted_activation": fit},
            (f"mix at {pot.start:.1f} °C, room at {pot.room:.1f} °C: outside {_RANGE[0]:g} to {_RANGE[1]:g} °C, not worked out",),
            (refusal, *_STANDING),
        )
    use = _use(resin, sheet, asked.mass, pot)
    may_last = _gel_minutes(resin, pot)
    course = _whole_course(resin, replace(pot, reacting=1.0))
    warm_at, peak = _reaches(course, _WARM), max(celsius for _, _, celsius in course)

    working = _working(asked, use, peak)
    if pot != pot.as_counted():
        working.append(
            f"as it stands: room at {pot.room:.1f} °C, {pot.reacting:.3f} of the mass gives heat; gel at {may_last:.2f} min"
        )
    if warm_at is not None:
        working.append(f"the bulk passes {_WARM:g} °C at {warm_at:.2f} min")

    largest, needed, lasting = None, size(fields, "needed"), list[str]()
    if needed is not None:
        minutes = needed.value_in("min")
        largest = _largest_pot(lambda mass: _use(resin, sheet, mass, asked.with_mass(mass)).by, minutes, sheet)
        lasting = _pot_cautions(asked, use, minutes, largest)
        if largest is not None:
            working.append(f"largest pot = the most whose use-by is still {minutes:g} min or more = {largest:.1f} g")
    return Answer(
        {
            "use_by": Quantity(use.by, "min"),
            "may_last": Quantity(may_last, "min"),
            "warm_at": None if warm_at is None else Quantity(warm_at, "min"),
            "empty_by": Quantity(use.by if warm_at is None else min(use.by, warm_at), "min"),
            "peak": Quantity(peak, "°C"),
            "largest_pot": None if largest is None else Quantity(largest, "g"),
            "fitted_activation": fit,
        },
        tuple(working),
        (*_heat_cautions(use, warm_at), *lasting, *_result_cautions(asked, use, peak), *_STANDING),
    )


def _working(asked: _Question, use: _Use, peak: float) -> list[str]:
    """Return the lines of working from the sheet's pot to the use-by."""
    resin, sheet, pot = asked.resin, asked.sheet, asked.pot
    energy = f"{resin.activation / 1000:.1f} kJ/mol ({asked.basis})"
    lines = []
    for name, mass, depth, bulk in (
        ("sheet's cup", sheet.mass, None, sheet.pot().bulk),
        ("this pot", asked.mass, asked.depth, pot.bulk),
    ):
        where = (
            f"{mass:g} g as high as wide: {_cup_height(mass):.1f} mm, V/A = height / {4 + 1 + _BASE:g}"
            if depth is None
            else f"tray {depth:g} mm deep: V/A = depth / {1 + _BASE:g}"
        )
        lines.append(
            f"{name}: {where} = {bulk:.2f} mm; 1/U = 1/{_FILM:g} + {_INSIDE:g} × {bulk / 1000:.5f}/{_CONDUCTIVITY:g}, "
            f"U = {_transmittance(bulk):.2f} W/m²K"
        )
    lines += [
        f"rate dα/dt = S × e^(−E/R × (1/T − 1/298.15 K)) × ({_SEED:g} + α)(1 − α)², E = {energy}; "
        f"S = {units.significant(resin.scale)} /s lets the sheet's cup gel (α = {_GEL:g}) at {sheet.minutes:g} min",
        f"model: {_HEAT:g}/{_HEAT_CAPACITY:g} K × dα/dt heats, U × A × (T − {pot.as_counted().room:.1f} °C) cools; "
        f"from {pot.start:.1f} °C it gels at {use.model:.2f} min; peak {peak:.0f} °C",
    ]
    if use.margin < 1:
        allowed, why = f"{use.margin:g} × {use.model:.2f}", "bigger than the sheet's pot"
    else:
        allowed, why = f"{use.model:.2f}", "the model: no smaller and no colder than the sheet's pot"
    if use.scaled is None:
        lines.append(f"use by = {allowed} = {use.by:.2f} min: {why}")
        return lines
    factor = arrhenius.rate(pot.start, sheet.celsius, resin.activation)
    share = f" × {_MARGIN:g}" if use.scaled * factor < 0.99 * sheet.minutes else ""
    lines += [
        f"sheet at {pot.start:.1f} °C = time / e^(E/R × (1/Tsheet − 1/T)){share} = {sheet.minutes:g} / {factor:.4f}{share} "
        f"= {use.scaled:.2f} min",
        f"use by = the lesser of {allowed} and {use.scaled:.2f} = {use.by:.2f} min: colder, smaller or shallower than the "
        "sheet's pot",
    ]
    return lines


def _heat_cautions(use: _Use, warm_at: float | None) -> list[str]:
    """Return what to do about a pot that heats before its use-by: it is said first, since the earlier of the two rules."""
    if warm_at is None or warm_at >= use.by:
        return []
    return [
        f"Empty the pot by {_tenth_down(warm_at)} min, before the use-by of {use.by:.1f} min: its bulk passes {_WARM:g} °C then "
        "and is going off. Have the mix spread out by that time."
    ]


def _result_cautions(asked: _Question, use: _Use, peak: float) -> list[str]:
    """Return what this pot in particular has to be watched for: what changes the plan before what explains the figures."""
    sheet, resin, pot = asked.sheet, asked.resin, asked.pot
    found = []
    if asked.mass > _REACH * sheet.mass:
        found.append(
            f"{asked.mass:g} g is more than {_REACH:g} times the sheet's {sheet.mass:g} g, farther than one line can vouch for: "
            f"mix {_REACH * sheet.mass:g} g or less at a time."
        )
    if asked.basis == "typical" and abs(pot.start - sheet.celsius) >= 2:
        times = sorted(
            _use(_calibrated(sheet, energy), sheet, asked.mass, pot).by for energy in (ACTIVATION - _SPREAD, ACTIVATION + _SPREAD)
        )
        found.append(
            f"How the cure goes with temperature is assumed ({ACTIVATION / 1000:g} kJ/mol, typical): {_SPREAD / 1000:g} more or "
            f"less makes the use-by {_tenth_down(times[0])} to {_tenth_down(times[1])} min. Keep to {_tenth_down(times[0])}, "
            "or give a second line of your data sheet."
        )
    if peak >= _SMOKING:
        found.append(
            f"Left in the pot this mix can run away to about {peak:.0f} °C (upper bound) and smoke, melt its cup or light what "
            "it stands on: empty it in time, and leave no rest standing in it."
        )
    if asked.depth is None and use.scaled is None and use.margin < 1:
        found.append(
            f"Bigger than the sheet's {sheet.mass:g} g: its core runs hotter than its mean. Spread it on the work or "
            "in a tray early."
        )
    if asked.basis.startswith("fitted") and not 40_000 <= resin.activation <= 70_000:
        found.append(
            f"The two lines of the sheet come to {resin.activation / 1000:.0f} kJ/mol, where 44 to 60 are usual for epoxy with "
            "amines: check that both mean the same by pot life; near either line the figure holds."
        )
    if use.scaled is not None and use.model > _PARTED * use.by / use.margin:
        found.append(
            "In a pot colder, smaller or shallower than the sheet's, may-last is the model's word alone and can be off by a "
            "factor of two either way: work by the use-by."
        )
    if abs(pot.start - pot.room) >= 1 and pot.start > pot.room:
        found.append("Mix warmer than the room: the use-by gains nothing from its cooling, which only the model vouches for.")
    if pot.reacting < 1:
        found.append("Use-by and peak count the pot as unfilled: a light filler insulates, and a big light batch holds its heat.")
    return found


def _pot_cautions(asked: _Question, use: _Use, minutes: float, largest: float | None) -> list[str]:
    """Return what to do about a pot that does not last the minutes needed."""
    if largest is None:
        return [
            f"No pot, however small, is good for {minutes:g} min here: plan for pots of {_tenth_down(use.by)} min, "
            "each with its own clock, or take a slower hardener by its data sheet."
        ]
    if asked.mass > largest:
        return [
            f"{asked.mass:g} g is not good for {minutes:g} min: mix {math.floor(largest)} g at the most, one pot after the "
            "other, each with its own clock."
        ]
    if largest >= _REACH * asked.sheet.mass:
        return [
            f"Pots above {_REACH:g} times the sheet's mass were not looked at: the largest pot is that limit, not the model's."
        ]
    return []


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture | None:
    """Return the bulk's temperature against the minutes up to the gel; None where no figure is given."""
    use_by = size(outputs, "use_by")
    if use_by is None:
        return None
    asked = _asked({item.name: inputs.get(item.name) for item in CALCULATOR.inputs})
    pot = replace(asked.pot, reacting=1.0)
    course = [(seconds / 60, celsius) for _, seconds, celsius in _course(asked.resin, pot)]
    gels, hottest = course[-1][0], max(celsius for _, celsius in course)
    coolest = min(celsius for _, celsius in course)
    top, bottom = max(hottest, _WARM) + 5, min(coolest, pot.room) - 5
    marks = [("use by", use_by, 1), ("gels" if asked.pot.reacting == 1 else "gels, if unfilled", Quantity(gels, "min"), 1)]
    warm_at = size(outputs, "warm_at")
    if warm_at is not None and warm_at.value_in("min") <= gels:
        marks.insert(0, (f"{_WARM:g} °C after", warm_at, 1))

    def celsius_at(minutes: float) -> float:
        return next((celsius for at, celsius in course if at >= minutes), course[-1][1])

    return Picture(
        (),
        tuple(Label(text, (at.value_in("min"), celsius_at(at.value_in("min"))), at, places) for text, at, places in marks),
        "The pot against time: "
        + ", ".join(f"{text} {units.show(at, places)}" for text, at, places in marks)
        + f"; its bulk is at {course[-1][1]:.0f} °C when it gels.",
        (0.0, bottom),
        (gels * 1.02, top),
        curves=(
            Curve(((0.0, _WARM), (gels, _WARM)), f"{_WARM:g} °C: empty it", "rule"),
            Curve(tuple(course), "bulk of this pot", "dot"),
        ),
        foot=("0 min", f"{gels:.0f} min"),
        to_scale=False,
    )


_TIME = Measure("min", low=3, high=600, soft_low=5, soft_high=240)
_SHEET_MASS = Measure("g", low=10, high=5000, soft_low=50, soft_high=500)
_LINE = {"sheet_time": "20 min", "sheet_mass": "100 g", "sheet_temperature": "25 °C"}
"""The line of a data sheet that the worked examples start from (ours)."""

CALCULATOR = Calculator(
    name="potlife",
    title="Working time of a pot",
    inputs=(
        Field(
            "sheet_time",
            "Pot life on the sheet",
            _TIME,
            "For the mass and temperature of the next two; not its thin-film time.",
            required=True,
        ),
        Field("sheet_mass", "Sheet: for a mass of", _SHEET_MASS, required=True),
        Field("sheet_temperature", "Sheet: at", Measure("°C", low=12, high=40, soft_low=18, soft_high=30), required=True),
        Field(
            "mass",
            "Mass in the pot",
            Measure("g", low=1, high=5000, soft_low=20, soft_high=1000),
            "All of it, filler too.",
            required=True,
        ),
        Field(
            "temperature",
            "Temperature of the mix",
            Measure("°C", low=0, high=60, soft_low=12, soft_high=40),
            "Of resin and hardener as poured, warmed or not.",
            required=True,
        ),
        Field(
            "room", "Temperature of the room", Measure("°C", low=0, high=60, soft_low=12, soft_high=40), "Left empty: as the mix."
        ),
        Field("container", "Container", Choice((_CUP, _TRAY)), "A cup counts as filled as high as it is wide.", default=_CUP),
        Field(
            "depth",
            "Depth in the tray",
            Measure("mm", low=0.01, high=200, soft_low=3, soft_high=30),
            "How deep the mix stands; of a tray only.",
        ),
        Field("needed", "Time needed", Measure("min", low=1, high=1000, soft_high=240), "For the largest pot that lasts it."),
        Field(
            "filler_loading",
            "Filler, of mixed epoxy",
            Measure("%", low=0, high=300, soft_high=100),
            "By weight; it lengthens only the time the pot may last.",
        ),
        Field("sheet_time_2", "Sheet, second: pot life", _TIME, "At another temperature: gives the activation energy."),
        Field(
            "sheet_temperature_2",
            "Sheet, second: at",
            Measure("°C", low=5, high=45, soft_low=12, soft_high=40),
            "5 °C or more away from the first.",
        ),
        Field("sheet_mass_2", "Sheet, second: for", _SHEET_MASS, "Left empty: the mass of the first."),
        Field(
            "activation",
            "Activation energy",
            Measure("kJ/mol", low=30, high=90, soft_low=44, soft_high=65),
            "Left empty: 55, typical, or what two lines of the sheet give.",
        ),
    ),
    outputs=(
        Output("use_by", "Use by", "min"),
        Output("warm_at", "Bulk reaches 50 °C at", "min"),
        Output("empty_by", "Empty the pot by", "min"),
        Output("may_last", "May last to (gel)", "min"),
        Output("peak", "Peak if left (at most)", "°C", 0),
        Output("largest_pot", "Largest pot for that time", "g", 0),
        Output("fitted_activation", "Activation energy fitted", "kJ/mol"),
    ),
    source=(_MODEL, _TYPICAL, _ENERGY, _DEFINED, _TIMER),
    valid="Room-cured epoxy with amines, mix and room at 12 to 40 °C: below, resin crystallises or turns to glass before gel; "
    "above, no sheet reaches. Sheet line for a mass in a cup. No film: under 2 mm the answer hangs on what no sheet tells. "
    "Never held against measured pots of several masses; peaks are upper bounds (no glass, no boiling).",
    examples=(
        Example({**_LINE, "mass": "500 g", "temperature": "25 °C"}, {"may_last": 19.1507, "use_by": 15.32056}, _RADAU, rel=0.002),
        Example({**_LINE, "mass": "100 g", "temperature": "30 °C"}, {"may_last": 13.9071, "use_by": 13.9071}, _RADAU, rel=0.002),
        Example({**_LINE, "mass": "100 g", "temperature": "15 °C"}, {"may_last": 45.0982}, _RADAU, rel=0.002),
        Example(
            {**_LINE, "mass": "100 g", "temperature": "25 °C", "container": "tray", "depth": "10 mm"},
            {"may_last": 20.7463, "use_by": 20.0},
            _RADAU,
            rel=0.002,
        ),
        Example(
            {**_LINE, "sheet_time": "60 min", "sheet_mass": "150 g", "mass": "300 g", "temperature": "35 °C", "room": "18 °C"},
            {"may_last": 35.0456},
            _RADAU,
            rel=0.002,
        ),
    ),
    compute=_compute,
    picture=_picture,
)
