"""How many minutes a pot of epoxy stays usable, from one pot life on its data sheet: cure and heat worked out together."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Stock, Threshold, Value
from shopmate.errors import FieldProblem
from shopmate.models import arrhenius, cure, pot, use_by
from shopmate.models.arrhenius import ACTIVATION
from shopmate.models.constants import NOISE
from shopmate.models.fields import given, in_unit, refuse, together
from shopmate.models.pot import Pot, Resin
from shopmate.models.use_by import POT_LIFE_FIGURES, Sheet, Use
from shopmate.picture import Curve, Label, Picture, number, size
from shopmate.records import dataclass, replace
from shopmate.units import Quantity

_CUP, _TRAY = "cup", "tray"

_SPREAD = 5_000.0
"""Tolerance, plus or minus, on the typical activation energy in J/mol: 44 to 60 kJ/mol are published [read]."""

_MODEL = Source(
    "Heat balance of a stirred pot, with the resin's own resistance to heat flow and an autocatalytic rate, step by step",
    "computed",
)
_TYPICAL = Source(
    "Heat 400 J/g, specific heat 1.9 J/gK, density 1.10, conductivity 0.20 W/mK, film 9 W/m²K, term B of the rate 0.10: "
    "typical of epoxy",
    "memory",
)
_ENERGY = Source(
    "Activation energy 44 to 60 kJ/mol of DGEBA with amines: abstracts of Barral 1995, Thermochim. Acta 447 (2006)", "read"
)
_DEFINED = Source("Gel time depends on the mass, which must be stated with it: scope of ASTM D2471", "read")
_TIMER = Source(
    "Use-by: the full model time at the data sheet's mass, 0.8 of it at twice that mass or more; a cold, small or shallow pot "
    "gets no more time than the Arrhenius equation allows",
    "common practice",
)
_RADAU = Source("The same equations by scipy 1.17.1 Radau, rtol 1e-10: checks the arithmetic, not a real pot", "computed")

_LIMITS = Source(
    "12 to 40 °C: below that, resin crystallises or sets glassy before it gels; above that, data sheets list no times",
    "memory",
)
_RUNAWAY = Source("By the model a pot at 50 °C runs away within minutes; above 100 °C cups soften and the mix smokes", "memory")
_OURS = Source("How big a difference has to be before it is mentioned: our engineering judgement", "common practice")
_FILM_TIMES = Source("By the model a 20 min pot life becomes 31 to 118 min at 2 mm deep, for term B from 0.3 to 0.03", "computed")
_AGREES = Source(
    "Up to 5 times the data sheet's mass, the time changes by 9 % or less if that pot life ends before gel", "computed"
)
_ROUNDED = Source(
    "Times on a data sheet are rounded: two of them less than 5 K apart can't show the activation energy", "computed"
)

_SLOW = {"mass": "100 g", "sheet_time": "120 min"}
_SHALLOW = {"mass": "100 g", "container": "tray"}
_SECOND = {"sheet_time_2": "10 min", "sheet_temperature_2": "35 °C"}
"""Changes to the inputs of the first worked example that bring it to the limits below (our choice)."""

_COLD = Threshold(cure.COLD, "°C", _LIMITS, "No time worked out below", "temperature", "12 °C", "11.9 °C")
_HOT = Threshold(cure.HOT, "°C", _LIMITS, "No time worked out above", "temperature", "40 °C", "40.1 °C")
_WARM = Threshold(pot.WARM, "°C", _RUNAWAY, "the pot passes", "peak", "2.125 mm", "2.1255 mm", "depth", _SHALLOW)
_SMOKING = Threshold(pot.SMOKING, "°C", _RUNAWAY, "can run away", "peak", "2.446 mm", "2.447 mm", "depth", _SHALLOW)
_REACH = Threshold(use_by.REACH, "", _AGREES, "can't be trusted that far", "", "500 g", "501 g", "mass")
_THINNEST = Threshold(2.0, "mm", _FILM_TIMES, "is a film", "depth", "2 mm", "1.99 mm", beside=_SHALLOW)
_PARTED = Threshold(1.1, "", _OURS, "comes from the model alone", "", "22.6 °C", "22.5 °C", "temperature", _SLOW)
_ASSUMED = Threshold(2.0, "K", _OURS, "is assumed", "", "23.1 °C", "23 °C", "temperature")
_COOLER_ROOM = Threshold(1.0, "K", _OURS, "The mix is warmer than the room", "", "24.1 °C", "24 °C", "room")
_CLOSEST = Threshold(
    cure.LEAST_APART, "K", _ROUNDED, "is too close to the", "", "30 °C", "29.9 °C", "sheet_temperature_2", _SECOND
)
_LOWEST_USUAL = Threshold(
    40.0, "kJ/mol", _ENERGY, "and 44 to 60 is usual", "activation_used", "12.13 min", "12.14 min", "sheet_time_2", _SECOND
)
_HIGHEST_USUAL = Threshold(
    70.0, "kJ/mol", _ENERGY, "and 44 to 60 is usual", "activation_used", "8.03 min", "8.02 min", "sheet_time_2", _SECOND
)
_LOWEST_FITTED = Threshold(
    use_by.FITTED[0] / 1000,
    "kJ/mol",
    _ENERGY,
    "do not go together",
    "activation_used",
    "13.9 min",
    "13.91 min",
    "sheet_time_2",
    _SECOND,
)
_HIGHEST_FITTED = Threshold(
    use_by.FITTED[1] / 1000,
    "kJ/mol",
    _ENERGY,
    "do not go together",
    "activation_used",
    "6.12 min",
    "6.11 min",
    "sheet_time_2",
    _SECOND,
)


@dataclass(frozen=True, slots=True)
class _Question:
    """The fields as numbers, with the resin fitted to the data sheet."""

    sheet: Sheet
    resin: Resin
    basis: str
    """Where the activation energy comes from: typical, yours, or fitted."""
    mass: float
    depth: float | None
    pot: Pot

    @property
    def is_fitted(self) -> bool:
        """Whether the activation energy comes from two pot lives on the data sheet."""
        return self.basis.startswith("fitted")

    def holding(self, mass: float) -> _Question:
        """Return the same inputs with `mass` g in the pot."""
        other = self.pot if self.depth is not None else replace(self.pot, bulk=pot.cup_bulk(mass))
        return replace(self, mass=mass, pot=other)

    def use(self) -> Use:
        """Return the use-by of this pot."""
        return use_by.use_of(self.resin, self.sheet, self.mass, self.pot)

    @property
    def unfilled(self) -> Pot:
        """The same pot without filler, to work out its heat: a light filler insulates as much as it cools."""
        return replace(self.pot, reacting=1.0)

    def lasts(self, mass: float) -> float:
        """Return the minutes after which the pot must be empty with `mass` g in it."""
        other = self.holding(mass)
        return use_by.empty_by(other.resin, other.sheet, other.mass, other.pot)


def _depth_problem(container: Value | None, mass: Quantity, depth: float | None) -> tuple[str, str] | None:
    """Return what is wrong with the depth of the mix, mm, and what to do; None if nothing is."""
    if depth is None:
        return ("a tray needs a depth", "enter how deep the mix stands in it") if container == _TRAY else None
    if container == _CUP:
        return "a cup's depth is worked out from its mass", "choose the tray, or leave this blank"
    if depth < _THINNEST.value:
        return (
            f"{depth:g} mm is a film, and a film's time can't be worked out from a cup's",
            f"use the thin-film working time from the data sheet; for a tray enter {_THINNEST.value:g} mm or more",
        )
    height = pot.cup_height(mass.value_in("g"))
    if depth > height:
        return (
            f"{units.show(mass)} would stand {depth:g} mm deep, deeper than it is wide",
            f"choose the cup, or a tray filled no deeper than {height:.0f} mm",
        )
    return None


def _second_problems(fields: Mapping[str, Value | None], sheet: Sheet, second: Sheet | None) -> list[FieldProblem]:
    """Return what is wrong with the second pot life."""
    pair = {name: size(fields, name) for name in ("sheet_time_2", "sheet_temperature_2")}
    problems = together(pair, "missing", "enter both the time and the temperature of the second pot life, or neither")
    if all(value is None for value in pair.values()):
        mass = {"sheet_mass_2": size(fields, "sheet_mass_2")}
        problems += given(
            mass, "there is no second pot life to go with it", "enter its time and temperature too, or leave this blank"
        )
    if second is None:
        return problems
    problems += given({"activation": fields["activation"]}, "it is worked out from the two pot lives", "leave it blank")
    return problems + use_by.apart_problems(sheet, second)


def _asked(fields: Mapping[str, Value | None]) -> _Question:
    """Return the fields as numbers; InputError lists each one that is missing or contradicts another."""
    mass, depth, room = (size(fields, name) for name in ("mass", "depth", "room"))
    assert mass is not None
    grams, deep = mass.value_in("g"), in_unit(depth, "mm")
    sheet = Sheet(
        number(fields, "sheet_time", "min"), number(fields, "sheet_mass", "g"), number(fields, "sheet_temperature", "°C")
    )
    second = None
    if size(fields, "sheet_time_2") is not None and size(fields, "sheet_temperature_2") is not None:
        second_mass = in_unit(size(fields, "sheet_mass_2"), "g")
        second = Sheet(
            number(fields, "sheet_time_2", "min"),
            sheet.mass if second_mass is None else second_mass,
            number(fields, "sheet_temperature_2", "°C"),
        )
    wrong = _depth_problem(fields["container"], mass, deep)
    refuse(*([FieldProblem("depth", *wrong)] if wrong else []), *_second_problems(fields, sheet, second))
    energy = in_unit(size(fields, "activation"), "kJ/mol")
    resin, basis = use_by.resin_of(sheet, second, None if energy is None else energy * 1000)
    start, reacting = number(fields, "temperature", "°C"), 1 / (1 + number(fields, "filler_loading", "%") / 100)
    bulk = pot.cup_bulk(grams) if deep is None else pot.tray_bulk(deep)
    vessel = Pot(bulk, start, start if room is None else room.value_in("°C"), reacting)
    return _Question(sheet, resin, basis, grams, deep, vessel)


_STANDING = (
    "If the pot feels warm: spread the mix at once, or pour it thin into a wide metal tray, outdoors or on a surface that "
    "doesn't burn. If it smokes or is too hot to hold: don't pour it, don't breathe the fumes, move anything that burns away "
    "from it, air the room and leave. Don't bin it until it is cold (common practice; the safety data sheet overrides this).",
    "Uncured epoxy and hardener can sensitise your skin permanently: wear gloves, keep solvent off your skin, and never hold a "
    "warm cup bare-handed.",
    "The clock starts when the first hardener touches the resin, not when you pour; splitting a pot later doesn't restart it.",
    "The times come from a model fitted to your data sheet, never tested on real pots of several masses: the data sheet "
    "overrides it, and if a pot warms or thickens earlier, its time is up.",
)
"""Shown with every result: danger to people first, then when the clock starts, then how far to trust the model."""


def _refused(vessel: Pot) -> str | None:
    """Return why no time is given at these temperatures, None where one is."""
    low, high = _COLD.value, _HOT.value
    if min(vessel.start, vessel.room) < low:
        return (
            f"No time worked out below {low:g} °C: resin can crystallise, and the mix can turn to glass before it gels. "
            f"Before mixing, warm resin, hardener, parts and room to the data-sheet minimum and to at least {low:g} °C."
        )
    if max(vessel.start, vessel.room) > high:
        return (
            f"No time worked out above {high:g} °C: data sheets list no times there, and a pot can run away in minutes. "
            "Cool resin, hardener and room before mixing, or use a slower hardener with its own data sheet."
        )
    return None


def _compute(**fields: Value | None) -> Answer:
    asked = _asked(fields)
    energy = asked.resin.activation / 1000
    values: dict[str, Value | float | None] = dict.fromkeys(output.name for output in _OUTPUTS)
    values["fitted_activation"] = energy if asked.is_fitted else None
    if refusal := _refused(asked.pot):
        start, room = asked.pot.start, asked.pot.room
        line = f"mix at {start:.1f} °C, room at {room:.1f} °C: outside {cure.COLD:g} to {cure.HOT:g} °C, not worked out"
        return Answer(values, (line,), (refusal, *_STANDING), has_figure=False)
    use, may_last = asked.use(), pot.gel_minutes(asked.resin, asked.pot)
    course = pot.whole_course(asked.resin, asked.unfilled)
    warm_at, peak = pot.reaches(course, pot.WARM), max(celsius for _, _, celsius in course)
    apart, empty_by = _use_by_apart(asked), use_by.first_of(use, warm_at)
    values |= {
        "use_by": use.by,
        "may_last": may_last,
        "warm_at": warm_at,
        "empty_by": empty_by,
        "peak": peak,
        "activation_used": energy,
        "model_gel": use.model,
        "use_by_low": apart and apart[0],
        "use_by_high": apart and apart[1],
        "vouched_mass": use_by.REACH * asked.sheet.mass,
        **_vessel("sheet_", asked.sheet.mass, asked.sheet.pot()),
        **_vessel("", asked.mass, asked.pot),
    }
    working = _working(asked, use, peak)
    if asked.pot != asked.pot.as_counted():
        working.append(
            f"with the room at {asked.pot.room:.1f} °C and {asked.pot.reacting:.3f} of the mass giving off heat: gel at "
            f"{may_last:.2f} min"
        )
    if warm_at is not None:
        working.append(f"the pot passes {pot.WARM:g} °C at {warm_at:.2f} min")
    lasting = list[str]()
    if needed := size(fields, "needed"):
        minutes = needed.value_in("min")
        found = use_by.largest_pot(asked.lasts, minutes, asked.sheet)
        lasting = _pot_cautions(asked, empty_by, minutes, found)
        values |= _largest(asked, found)
        if found is not None and (model := values["model_pot"]) is not None:
            working.append(f"largest pot that lasts {minutes:g} min, by the model = {model:.1f} g")
    cautions = (*_heat_cautions(use, warm_at), *lasting, *_result_cautions(asked, use, peak, apart), *_STANDING)
    return Answer(values, tuple(working), cautions)


def _largest(asked: _Question, found: float | None) -> dict[str, float | None]:
    """Return in g the largest pot that lasts long enough, and the largest by the model alone; `found` is where the search ended.

    In a cup the largest pot is no more than the data sheet's mass, whose time is known. A search that ran to its end found
    no limit.
    """
    if found is None:
        return {}
    ends = found >= _REACH.value * asked.sheet.mass * (1 - NOISE)
    model = None if ends else found
    return {"largest_pot": min(found, asked.sheet.mass) if asked.depth is None else model, "model_pot": model}


def _vessel(whose: str, mass: float, vessel: Pot) -> dict[str, float]:
    """Return cup height, volume ÷ cooled area and heat loss of a pot, as outputs named after `whose` pot it is."""
    return {
        f"{whose}height": pot.cup_height(mass),
        f"{whose}bulk": vessel.bulk,
        f"{whose}transmittance": pot.transmittance(vessel.bulk),
    }


def _use_by_apart(asked: _Question) -> tuple[float, float] | None:
    """Return the shorter and the longer use-by for activation energies lower and higher than the typical one.

    None where the activation energy is known, or hardly matters.
    """
    if asked.basis != "typical" or abs(asked.pot.start - asked.sheet.celsius) < _ASSUMED.value:
        return None
    times = [
        replace(asked, resin=use_by.calibrated(asked.sheet, energy)).use().by
        for energy in (ACTIVATION - _SPREAD, ACTIVATION + _SPREAD)
    ]
    return min(times), max(times)


def _working(asked: _Question, use: Use, peak: float) -> list[str]:
    """Return the working lines from the data sheet's cup to the use-by."""
    resin, sheet, vessel = asked.resin, asked.sheet, asked.pot
    energy = f"{resin.activation / 1000:.1f} kJ/mol ({asked.basis})"
    lines = []
    for name, mass, depth, bulk in (
        ("data sheet's cup", sheet.mass, None, sheet.pot().bulk),
        ("this pot", asked.mass, asked.depth, vessel.bulk),
    ):
        where = (
            f"{mass:g} g in a cup as high as wide: {pot.cup_height(mass):.1f} mm, V/A = height / {4 + 1 + pot.BASE:g}"
            if depth is None
            else f"tray {depth:g} mm deep: V/A = depth / {1 + pot.BASE:g}"
        )
        lines.append(
            f"{name}: {where} = {bulk:.2f} mm; 1/U = 1/{pot.FILM:g} + {pot.INSIDE:g} × {bulk / 1000:.5f}/{pot.CONDUCTIVITY:g}, "
            f"U = {pot.transmittance(bulk):.2f} W/m²K"
        )
    lines += [
        f"rate dα/dt = S × e^(−E/R × (1/T − 1/298.15 K)) × ({pot.SEED:g} + α)(1 − α)², E = {energy}; "
        f"S = {units.significant(resin.scale)} /s makes the data sheet's cup gel (α = {pot.GEL:g}) at {sheet.minutes:g} min",
        f"model: {pot.HEAT:g}/{pot.HEAT_CAPACITY:g} K × dα/dt heats, U × A × (T − {vessel.as_counted().room:.1f} °C) cools; "
        f"from {vessel.start:.1f} °C it gels at {use.model:.2f} min; peak {peak:.0f} °C",
    ]
    if use.margin < 1:
        allowed, why = f"{units.significant(use.margin)} × {use.model:.2f}", "bigger than the data sheet's cup"
    else:
        allowed, why = f"{use.model:.2f}", "the model's time; the pot is no smaller or colder than the data sheet's cup"
    if use.scaled is None:
        lines.append(f"use by = {allowed} = {use.by:.2f} min: {why}")
        return lines
    if vessel.start >= sheet.celsius:
        return [
            *lines,
            f"data sheet's cup at {vessel.start:.1f} °C, by the model: gel at {use.scaled:.2f} min",
            f"use by = the shorter of {allowed} and {use.scaled:.2f} = {use.by:.2f} min: smaller or shallower than the data "
            "sheet's cup",
        ]
    factor = arrhenius.rate(vessel.start, sheet.celsius, resin.activation)
    share = f" × {units.significant(use.scaled_margin)}" if use.scaled_margin < 1 else ""
    lines += [
        f"data sheet's time at {vessel.start:.1f} °C = time / e^(E/R × (1/Tsheet − 1/T)){share} "
        f"= {sheet.minutes:g} / {factor:.4f}{share} = {use.scaled:.2f} min",
        f"use by = the shorter of {allowed} and {use.scaled:.2f} = {use.by:.2f} min: colder, smaller or shallower than the "
        "data sheet's cup",
    ]
    return lines


def _heat_cautions(use: Use, warm_at: float | None) -> list[str]:
    """Return the caution for a pot that passes 50 °C before its use-by; it comes first, because the earlier time counts."""
    if warm_at is None or warm_at >= use.by:
        return []
    return [
        f"Empty the pot by {warm_at:.1f} min, before the use-by of {use.by:.1f} min: it passes {pot.WARM:g} °C then "
        "and is going off. Have the mix spread out by that time."
    ]


def _result_cautions(asked: _Question, use: Use, peak: float, apart: tuple[float, float] | None) -> list[str]:
    """Return the cautions for this pot: first what changes the plan, then what explains the figures."""
    sheet, energy, vessel = asked.sheet, asked.resin.activation / 1000, asked.pot
    found = []
    if asked.mass > _REACH.value * sheet.mass:
        found.append(
            f"{asked.mass:g} g is more than {_REACH.value:g} times the data sheet's {sheet.mass:g} g, and its pot life "
            f"can't be trusted that far: mix {_REACH.value * sheet.mass:g} g or less at a time."
        )
    if apart is not None:
        found.append(
            f"How fast this epoxy cures when warmer is assumed ({ACTIVATION / 1000:g} kJ/mol, typical): with {_SPREAD / 1000:g} "
            f"kJ/mol more or less, the use-by is {apart[0]:.1f} to {apart[1]:.1f} min. Keep to {apart[0]:.1f} min, "
            "or enter a second pot life from your data sheet."
        )
    if peak >= _SMOKING.value:
        found.append(
            f"Left in the pot this mix can run away to {peak:.0f} °C at worst and smoke, melt its cup or set fire to what it "
            "stands on: empty it in time, and never leave leftover mix standing."
        )
    if asked.depth is None and use.scaled is None and use.margin < 1:
        found.append(
            f"More than the data sheet's {sheet.mass:g} g: the middle of the pot gets hotter than worked out here. Spread the "
            "mix early, on the work or in a tray."
        )
    if asked.is_fitted and not _LOWEST_USUAL.value <= energy <= _HIGHEST_USUAL.value:
        found.append(
            f"The two pot lives make the activation energy {energy:.0f} kJ/mol, and 44 to 60 is usual for epoxy with amines: "
            "check that both are for the same hardener and measured the same way. Close to either of their temperatures the time "
            "is still right."
        )
    if use.scaled is not None and use.model > _PARTED.value * use.by / use.margin:
        found.append(
            "This pot is colder, smaller or shallower than the data sheet's cup, so its gel time comes from the model alone and "
            "can be off by a factor of two either way: be done by the use-by time."
        )
    if vessel.start - vessel.room >= _COOLER_ROOM.value:
        found.append(
            "The mix is warmer than the room: the use-by ignores the cooling, because only the model says how much that helps."
        )
    if vessel.reacting < 1:
        found.append("The use-by and the peak ignore the filler: a light filler keeps the heat in, and a big batch stays hot.")
    return found


def _pot_cautions(asked: _Question, empty_by: float, minutes: float, largest: float | None) -> list[str]:
    """Return what to do where the pot does not last the minutes needed."""
    if largest is None:
        return [
            f"No pot, however small, lasts {minutes:g} min here: plan for pots of {empty_by:.1f} min, "
            "each with its own clock, or use a slower hardener with its own data sheet."
        ]
    if asked.mass > largest:
        limit = largest if asked.depth is not None else min(largest, asked.sheet.mass)
        return [
            f"{asked.mass:g} g won't last {minutes:g} min: mix no more than {math.floor(limit + NOISE)} g at a time, "
            "one pot after another, each with its own clock."
        ]
    if largest >= _REACH.value * asked.sheet.mass * (1 - NOISE):
        return [
            f"By the model every pot up to {_REACH.value:g} times the data sheet's mass lasts {minutes:g} min; larger pots are "
            f"not worked out. In a cup keep to the data sheet's {asked.sheet.mass:g} g; pour a larger pot out at once (the pots "
            "calculator plans that)."
        ]
    return []


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture | None:
    """Return the pot's temperature against minutes up to gel; None where no time is given."""
    use_by = size(outputs, "use_by")
    if use_by is None:
        return None
    asked = _asked({item.name: inputs.get(item.name) for item in CALCULATOR.inputs})
    unfilled = asked.unfilled
    course = [(seconds / 60, celsius) for _, seconds, celsius in pot.course(asked.resin, unfilled)]
    gels, hottest = course[-1][0], max(celsius for _, celsius in course)
    coolest = min(celsius for _, celsius in course)
    top, bottom = max(hottest, pot.WARM) + 5, min(coolest, unfilled.room) - 5
    marks = [("use by", use_by, 1), ("gels" if asked.pot.reacting == 1 else "gels, if unfilled", Quantity(gels, "min"), 1)]
    warm_at = size(outputs, "warm_at")
    if warm_at is not None and warm_at.value_in("min") <= gels:
        marks.insert(0, (f"{pot.WARM:g} °C after", warm_at, 1))

    def celsius_at(minutes: float) -> float:
        return next((celsius for at, celsius in course if at >= minutes), course[-1][1])

    return Picture(
        (),
        tuple(Label(text, (at.value_in("min"), celsius_at(at.value_in("min"))), at, places) for text, at, places in marks),
        "Pot temperature over time: "
        + ", ".join(f"{text} {units.show(at, places)}" for text, at, places in marks)
        + f"; it is at {course[-1][1]:.0f} °C when it gels.",
        (0.0, bottom),
        (gels * 1.02, top),
        curves=(
            Curve(((0.0, pot.WARM), (gels, pot.WARM)), f"{pot.WARM:g} °C: empty it", "rule"),
            Curve(tuple(course), "this pot", "dot"),
        ),
        foot=("0 min", f"{gels:.0f} min"),
        to_scale=False,
    )


_TIME = Measure("min", low=3, high=600, soft_low=5, soft_high=240)
_SHEET_MASS = Measure("g", low=10, high=5000, soft_low=50, soft_high=500)
_LINE = {"sheet_time": "20 min", "sheet_mass": "100 g", "sheet_temperature": "25 °C"}
"""The pot life that the worked examples start from (our choice)."""

_OUTPUTS = (
    Output("use_by", "Use by", "min"),
    Output("warm_at", "Pot reaches 50 °C after", "min"),
    Output("empty_by", "Empty the pot by", "min"),
    Output("may_last", "Gels after about", "min"),
    Output("peak", "Peak temperature if left in the pot, at worst", "°C", 0),
    Output("largest_pot", "Largest pot for the time needed", "g", 0),
    Output("model_pot", "Largest pot by the model alone", "g", 0),
    Output("fitted_activation", "Activation energy fitted", "kJ/mol"),
    Output("activation_used", "Activation energy used", "kJ/mol"),
    Output("model_gel", "Gels after, on the safe side", "min"),
    Output("use_by_low", "Earliest use-by", "min"),
    Output("use_by_high", "Latest use-by", "min"),
    Output("vouched_mass", "Largest pot this model covers", "g", 0),
    Output("height", "Cup height for this pot", "mm"),
    Output("bulk", "Volume ÷ cooled area", "mm", 2),
    Output("transmittance", "Heat lost to the air", "W/m²K", 2),
    Output("sheet_height", "Data sheet's cup: height", "mm"),
    Output("sheet_bulk", "Data sheet's cup: volume ÷ cooled area", "mm", 2),
    Output("sheet_transmittance", "Data sheet's cup: heat lost to the air", "W/m²K", 2),
)
"""Outputs, most important first; figures used only in the working come last."""

CALCULATOR = Calculator(
    name="potlife", title="Working time of a pot (minutes)",
    inputs=(
        Field("sheet_time", "Data-sheet pot life", _TIME,
            "The one given with a mass and a temperature, not the thin-film working time.", required=True),
        Field("sheet_mass", "Data-sheet mass", _SHEET_MASS, "The mass that pot life is for.", required=True),
        Field("sheet_temperature", "Data-sheet temperature", Measure("°C", low=12, high=40, soft_low=18, soft_high=30),
            "The temperature that pot life is for.", required=True),
        Field("mass", "Mix in the pot", Measure("g", low=1, high=5000, soft_low=20, soft_high=1000),
            "Everything in the pot: resin, hardener and filler.", required=True),
        Field("temperature", "Mix temperature", Measure("°C", low=0, high=60, soft_low=12, soft_high=40),
            "Measure the resin and hardener as you pour them, warmed or not.", required=True),
        Field("room", "Room temperature", Measure("°C", low=0, high=60, soft_low=12, soft_high=40),
            "Blank: same as the mix."),
        Field("container", "Container", Choice((_CUP, _TRAY)), "A cup is assumed to be filled as high as it is wide.",
            default=_CUP),
        Field("depth", "Depth in the tray", Measure("mm", low=0.01, high=200, soft_low=3, soft_high=30),
            "How deep the mix stands. For a tray only."),
        Field("needed", "Time needed", Measure("min", low=1, high=1000, soft_high=240),
            "Enter it to get the largest pot that lasts this long; in a cup, no more than the data-sheet mass."),
        Field("filler_loading", "Filler, % of the mixed epoxy by weight", Measure("%", low=0, high=300, soft_high=100),
            "30 % is 30 g per 100 g of mixed epoxy. It delays the gel, but the use-by ignores that."),
        Field("sheet_time_2", "Second data-sheet pot life", _TIME,
            "At another temperature, if the data sheet has one: shows how fast this epoxy cures when warmer."),
        Field("sheet_temperature_2", "Second data-sheet temperature", Measure("°C", low=5, high=45, soft_low=12, soft_high=40),
            "At least 5 °C away from the first."),
        Field("sheet_mass_2", "Second data-sheet mass", _SHEET_MASS, "Blank: same as the first."),
        Field("activation", "Activation energy", Measure("kJ/mol", low=30, high=90, soft_low=44, soft_high=65),
            "Blank: 55 kJ/mol (typical), or worked out from your two pot lives."),
    ),
    outputs=_OUTPUTS, source=(_MODEL, _TYPICAL, _ENERGY, _DEFINED, _TIMER),
    valid="Room-cured epoxy with amine hardener, mix and room at 12 to 40 °C: below that, resin crystallises or sets glassy "
    "before it gels; above that, data sheets list no times. The data-sheet pot life must be for a mass in a cup. Not for films "
    "under 2 mm: their time can't be worked out from a pot life. Never tested on real pots of several masses. The real peak is "
    "lower: the model leaves out boiling and the mix turning to glass.",
    examples=(
        Example({**_LINE, "mass": "500 g", "temperature": "25 °C"},
            {"may_last": 19.1507, "use_by": 15.32056, "model_gel": 19.1507}, _RADAU, rel=0.002),
        Example({**_LINE, "mass": "500 g", "temperature": "25 °C"},
            {"height": 83.3353, "bulk": 15.15188, "transmittance": 6.711824, "sheet_height": 48.7348, "sheet_bulk": 8.860872,
             "sheet_transmittance": 7.503942, "vouched_mass": 500, "activation_used": 55},
            Source("cup height from the cube root of 4/π × grams / 1.10, V/A = height / 5.5, 1/U = 1/9 + 0.5 V/A / 0.2: "
            "arithmetic", "computed")),
        Example({**_LINE, "mass": "100 g", "temperature": "30 °C"}, {"may_last": 13.9071, "use_by": 13.9071}, _RADAU, rel=0.002),
        Example({**_LINE, "mass": "100 g", "temperature": "15 °C"}, {"may_last": 45.0982}, _RADAU, rel=0.002),
        Example({**_LINE, "mass": "100 g", "temperature": "25 °C", "container": "tray", "depth": "10 mm"}, {"may_last": 20.7463,
            "use_by": 20.0}, _RADAU, rel=0.002),
        Example({**_LINE, "mass": "100 g", "temperature": "25 °C", "needed": "16 min"},
            {"model_pot": 191.5893, "largest_pot": 100}, _RADAU, rel=0.002),
        Example({**_LINE, "sheet_time": "60 min", "sheet_mass": "150 g", "mass": "300 g", "temperature": "35 °C",
            "room": "18 °C"}, {"may_last": 35.0456}, _RADAU, rel=0.002),
    ),
    asked=("mass", "temperature", "needed"),
    stock=Stock("resin", POT_LIFE_FIGURES), readings={"temperature": ("bottles", "air"), "room": ("air",)},
    compute=_compute, thresholds=(_COLD, _HOT, _WARM, _SMOKING, _REACH, _THINNEST, _PARTED, _ASSUMED, _COOLER_ROOM, _CLOSEST,
    _LOWEST_USUAL, _HIGHEST_USUAL, _LOWEST_FITTED, _HIGHEST_FITTED), pictures=(_picture,),
)  # fmt: skip
