"""Poured two-part PU foam: grams to mix for a cavity, in how many cups and bays, and how hard it presses on the skins."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import count

from shopmate import tables, units
from shopmate.calculator import (
    Answer,
    Calculator,
    Count,
    Example,
    Field,
    Measure,
    Output,
    RatioKind,
    Source,
    Stock,
    Threshold,
    joined,
)
from shopmate.errors import FieldProblem
from shopmate.models.constants import GRAVITY, NOISE
from shopmate.models.fields import given, missing, refuse, round_up, together
from shopmate.picture import number, size
from shopmate.records import dataclass
from shopmate.units import Ratio
from shopmate.units import significant as sig

_NOTE = Source(
    "work and rise times, expansion of 25 to 30 times, less rise below 24 °C: a boat-repair note on two-part foam; risen in 4 "
    "min, denser foam runs hotter, big pours smoke or ignite: the instructions of a kit",
    "read",
)
_DEEP = Source("lifts of about 25 mm in deep cavities: a boatbuilding supplier's note on liquid foam", "read")
_HABIT = Source("packing 1.05 to 1.20, waste 10 to 15 %, cream, gel and cure times", "common practice")

_PACKING = "1.1"
"""Density in the cavity over free-rise density, usually 1.05 to 1.20 [common practice]."""
_PACKING_HIGH = Threshold(1.2, "", _HABIT, "overpacked foam can press", "packing", "1.2", "1.21")

_PANELS = Source(
    "bays of a framed panel 20 to 75 mm thick and no wider than 400 mm, filled in lifts of 150 to 300 mm; stir 15 to 20 s; "
    "25 mm fill holes every 300 to 400 mm along the top edge, 6 mm vents in every corner where the rise ends; pour each "
    "lift once the one below is firm and hand-warm, after 10 to 20 min",
    "common practice",
)
_THIN = Threshold(76.5, "mm", _PANELS, "a deep cavity keeps its heat", "depth", "76.5 mm", "76.6 mm")
"""Thickness of foam up to which both skins carry its heat away: 75 mm, with room for 3 in, which is 1.2 mm more."""

_LIFT = Threshold(25.5, "mm", _DEEP, "the 25 mm usual in deep cavities", "lift", "25.5 mm", "25.6 mm", beside={"depth": "100 mm"})
"""Highest lift in a deep cavity, 50 to 300 mm wide: about 25 mm, a boatbuilding supplier's note on liquid foam [read]. Sprayed
foam is built up to a total of 25 to 57 mm (NAVFAC roofing design text [read]). The limit is two per cent higher so that one inch
passes."""

_THIN_LIFT = Threshold(305.0, "mm", _PANELS, "the 300 mm usual in thin bays", "lift", "305 mm", "306 mm")
"""Highest lift in a thin bay: 300 mm, with room for a foot, which is 4.8 mm more."""

_BAY = 400.0
"""Maximum width of a bay, and maximum distance between fill holes, mm [common practice]."""

_BAY_MOST = Threshold(
    408.0, "mm", _PANELS, "make narrower bays", "bay_width", "407.9 mm", "408.1 mm", "length",
    {"bays": "1", "width": "600 mm", "rise": "600 mm"},
)  # fmt: skip
"""Width of your bays above which narrower ones are advised: 400 mm, with room for 16 in, which is 6.4 mm more."""

_STIR = 20.0
"""Seconds of the work time spent stirring, 15 to 20 [common practice]."""

_POURS = 20.0
"""Grams poured per second through a funnel and a 25 mm hole: half a litre in about 25 s [common practice]. No Threshold
needed: the plan keeps to it."""

_MOVE = 5.0
"""Seconds to move the funnel from one fill hole to another [common practice]. No Threshold needed: the plan keeps to it."""

_AMONG = 4
"""Maximum bays poured from one cup, each taking about 6 s [common practice]. No Threshold needed: no plan ever exceeds it."""

_NARROW = 200.0
"""Minimum width in mm of bays made narrower so that each cup fills its own: half the maximum (our choice). No Threshold needed:
no plan ever goes below it."""

_WORK = 45.0
"""Seconds from the first stir to cream: the 45 s of a note on 2 lb foam, middle of the usual 30 to 60 [common practice]."""

_DENSITY_A, _DENSITY_B = 1.24, 1.07
"""Typical densities in g/mL of part A, isocyanate, and part B, polyol; your data sheet overrides them [memory]."""

_WARM = Threshold(24.0, "°C", _NOTE, "is colder than 24 °C", "temperature", "24 °C", "23.9 °C")
"""Below this temperature the foam rises less and more is needed."""

_PRESS_LOW, _PRESS_HIGH, _PRESS_OVER = 10.0, 35.0, 100.0
"""Pressure on the skins in kPa: lowest and highest of packed foam, and lowest of overpacked foam [memory; no published
source found for any of them]."""

_CLAMPED = 5
"""A strip clamped at both edges bows a fifth as much as one simply supported: p L⁴/(384 E I) (beam formula [computed])."""

_HEAVY = Threshold(4.0, "lb/ft³", _NOTE, "dense foam like this", "density", "3.97 lb/ft³", "4 lb/ft³")
"""Free-rise density from which foam is called dense: denser foam runs hotter (the limit is our own)."""

_CLOSEST = Threshold(
    20.0, "mm", Source("Braces less than 20 mm apart might as well be a board", "common practice"), "braces would have to touch",
    "brace", "39.9 kPa", "40.1 kPa", "pressure", {"span": "300 mm", "skin": "1 mm", "modulus": "1 GPa"},
)  # fmt: skip
"""Brace spacing below which a whole board is advised instead."""

_ISOCYANATE = (
    "Isocyanate (part A, MDI) can sensitise your lungs permanently, and after that even a trace can set off an attack. Limits: "
    "NIOSH 0.005 ppm averaged over a shift and 0.020 ppm in any 10 min; ACGIH 0.005 ppm over a shift; OSHA ceiling 0.02 ppm at "
    "any moment (none for polymeric MDI). Stay below all of them, that is below 0.005 ppm. For pours of this kind wear a "
    "supplied-air respirator, gloves and goggles and cover your skin as the safety data sheet says, and let nobody else in until "
    "its re-entry time has passed: 23 to 72 h for sprayed foam, according to its makers (quoted by EPA)."
)
"""Limits, each with who sets it; a shift average is never mixed with a ceiling: NIOSH IDLH documentation on MDI, OSHA page on
polymeric MDI [read]; re-entry times according to EPA [read second-hand]; supplied air for bulk work [common practice]."""

_TRIMMING = (
    "Trimming: dust from fresh foam can contain unreacted isocyanate, and a hot wire or blade makes foam give off isocyanates, "
    "carbon monoxide and hydrogen cyanide (EPA, as quoted by others): wait for the data sheet's cure time, then use a cold "
    "blade, extraction and a mask."
)
"""Source: a copy of an EPA page of 2017 [read]."""

_LABELS = (
    "Here part A is the isocyanate, as in North America; elsewhere A and B are often the other way round. Check the labels, and "
    "keep to the data sheet's ratio."
)

_NEAR = 0.1
"""How far a foam's density may be from that of a class, as a share, and still get the times of that class [common practice]."""


def _class(density: float) -> Mapping[str, str] | None:
    """Return the row of the density class closest to `density` lb/ft³, None where none is near."""
    rows = tables.load("foams").rows
    return next((row for row in rows if math.isclose(float(row["density_lb_ft3"]), density, rel_tol=_NEAR)), None)


def _bow(pressure: float, span: float, skin: float, modulus: float) -> float:
    """Return the bow in mm at mid-span of a simply supported strip: 5 p L⁴/(384 E I), I = t³/12; MPa and mm (beam formula)."""
    return 5 * pressure * span**4 / (384 * modulus * skin**3 / 12)


def _span(pressure: float, bow: float, skin: float, modulus: float) -> float:
    """Return the span in mm that bows by `bow` mm: the same formula solved for L."""
    return math.sqrt(math.sqrt(384 * modulus * skin**3 / 12 * bow / (5 * pressure)))


_SIDES = ("length", "width", "depth")
_STRIP = ("pressure", "span", "skin", "modulus")
"""The fields needed for a volume and those needed for a bow: enter all of a set or none of it."""


def _compute(**fields: object) -> Answer:
    refuse(*_one_volume(fields), *_whole_strip(fields), *_sided(fields))
    ratio, lost, row = fields["ratio"], number(fields, "waste", "%") / 100, _class(number(fields, "density", "lb/ft³"))
    assert isinstance(ratio, Ratio)
    mixed, fill = _mix(fields, ratio, lost)
    enough = _enough(row, fill, lost)
    pours = _pours(fields, mixed)
    times = {
        "work_time": float(row["work_s"]) if row and row["work_s"] else None,
        "rise_time": float(row["rise_high_min"]) if row and row["rise_high_min"] else None,
        "waste_enough": enough,
    }
    # First what the weights depend on, then danger to people, then what spoils the work.
    first = Answer({}, (), (*_typical_cautions(fields, ratio), _ISOCYANATE))
    hot = Answer({}, (), (*_heat_cautions(fields, pours.values["pours"] != 1), _TRIMMING))
    last = (
        *_waste_cautions(fields, number(fields, "packing", ""), lost),
        _LABELS,
        *_yield_cautions(fields, row, fill, enough),
        *_time_cautions(row),
    )
    return joined(first, mixed, _pressed(fields), hot, pours, _bowed(fields), Answer(times, (), last))


def _one_volume(fields: Mapping[str, object]) -> list[FieldProblem]:
    sides = {name: fields[name] for name in _SIDES}
    if fields["volume"] is not None:
        fix = "enter either the volume, or length, width and depth; enter the height the foam rises in its own field"
        return given(sides, "is entered as well as the volume", fix)
    if not any(sides.values()):
        return [FieldProblem("volume", "no size entered", "enter length, width and depth of the cavity, or its volume")]
    return together(sides, "missing", "enter all of length, width and depth, or the volume alone")


def _sided(fields: Mapping[str, object]) -> list[FieldProblem]:
    """Return a problem where bays are entered for a cavity known by its volume only."""
    if fields["bays"] is None or fields["volume"] is None:
        return []
    fix = "enter length, width and depth in place of the volume, or leave this blank"
    return [FieldProblem("bays", "can't be worked out from a volume", fix)]


def _whole_strip(fields: Mapping[str, object]) -> list[FieldProblem]:
    if not any(fields[name] for name in _STRIP[1:]):
        return []
    fixes = {
        "pressure": f"enter it (packed foam {_PRESS_LOW:g} to {_PRESS_HIGH:g} kPa, memory), or leave span, skin and modulus "
        f"blank",
        "span": "enter the distance between two supports of the skin",
        "skin": "enter the thickness of the skin",
        "modulus": "enter the skin's modulus along the span (plywood about 8 GPa along the face grain, much less across; memory)",
    }
    why = "is needed for the bow"
    return [problem for name in _STRIP for problem in missing({name: fields[name]}, why, fixes[name])]


def _mix(fields: Mapping[str, object], ratio: Ratio, lost: float) -> tuple[Answer, float]:
    """Return the grams to mix, the grams of each part, and how many times its own volume the mix has to fill."""
    sides = [number(fields, name, "mm") for name in _SIDES]
    litres = number(fields, "volume", "L") or math.prod(sides) / 1e6
    by = "" if fields["volume"] else f"{' × '.join(f'{sig(side)} mm' for side in sides)} = "
    free, pack = number(fields, "density", "kg/m³"), number(fields, "packing", "")
    in_place = litres * free * pack
    to_mix = in_place * (1 + lost)
    working = [
        f"volume = {by}{sig(litres)} L",
        f"in place = volume × free-rise density × packing = {sig(litres)} L × {sig(free)} kg/m³ × {sig(pack)} = "
        f"{sig(in_place)} g",
        f"to mix = in place × (1 + waste) = {sig(in_place)} g × {sig(1 + lost)} = {sig(to_mix)} g",
    ]
    rho_a, rho_b = number(fields, "density_a", "g/mL") or _DENSITY_A, number(fields, "density_b", "g/mL") or _DENSITY_B
    weigh_a, weigh_b = float(ratio.a), float(ratio.b)
    if ratio.basis == "volume":
        # Equal volumes weigh in proportion to their densities (mass balance).
        weigh_a, weigh_b = weigh_a * rho_a, weigh_b * rho_b
        working.append(
            f"{ratio} = {units.show_number(ratio.a)} × {sig(rho_a)} : {units.show_number(ratio.b)} × {sig(rho_b)} g/mL "
            f"= {sig(weigh_a / weigh_b * 100)}:100 by weight"
        )
    part_a = to_mix * weigh_a / (weigh_a + weigh_b)
    part_b = to_mix - part_a
    liquid = (weigh_a + weigh_b) / (weigh_a / rho_a + weigh_b / rho_b)
    expansion, fill = liquid * 1000 / free, litres * 1000 / (to_mix / liquid)
    working += [
        f"part A = {sig(to_mix)} g × {sig(weigh_a)} ÷ ({sig(weigh_a)} + {sig(weigh_b)}) = {sig(part_a)} g",
        f"part B = {sig(to_mix)} − {sig(part_a)} = {sig(part_b)} g",
        f"liquid = {sig(liquid)} g/mL; free-rise expansion = {sig(liquid * 1000)} ÷ {sig(free)} kg/m³ = {sig(expansion)} times; "
        f"this mix has to fill {sig(fill)} times its own volume",
    ]
    values = {
        "part_a": part_a, "part_b": part_b, "to_mix": to_mix, "in_place": in_place, "a_per_100_b": weigh_a / weigh_b * 100,
        "volume": litres, "expansion": expansion, "liquid_density": liquid, "fill": fill,
    }  # fmt: skip
    return Answer(values, tuple(working)), fill


def _largest(fields: Mapping[str, object]) -> tuple[float, list[str]]:
    """Return the largest cup in grams, with the working."""
    if size(fields, "pour_most") is not None:
        return number(fields, "pour_most", "g"), []
    seconds = number(fields, "cream_time", "s") or _WORK
    grams = (seconds - _STIR) * _POURS
    return grams, [
        f"largest cup = (work time − stirring) × pouring = ({sig(seconds)} s − {_STIR:g} s) × {_POURS:g} g/s = {sig(grams)} g; "
        f"each move of the funnel to another bay takes {_MOVE:g} s off the pouring",
    ]


def _lift(fields: Mapping[str, object]) -> tuple[Threshold, str]:
    """Return the usual maximum height of a lift and why: it depends on the thinnest side of the foam, where the heat gets out."""
    least = min(number(fields, name, "mm") for name in _SIDES)
    if not least:
        return _LIFT, "thickness not entered, so treated as a deep cavity"
    if least > _THIN.value:
        return _LIFT, f"{sig(least)} mm of foam: a deep cavity keeps its heat"
    return _THIN_LIFT, f"{sig(least)} mm of foam: both skins carry its heat away"


@dataclass(frozen=True, slots=True)
class _Plan:
    """How to pour the cavity: in lifts one above the other, each poured from one or more cups, mixed one at a time."""

    lifts: int
    height: float
    """Height of one lift, mm."""
    cups: int
    """Cups in one lift."""
    stands: bool
    """Whether the panel stands on edge."""
    bays: int | None = None
    """Bays in the panel; None where the sides are not known."""
    width: float | None = None
    """Width of one bay, mm."""

    @property
    def pours(self) -> int:
        return self.lifts * self.cups

    @property
    def shared(self) -> int | None:
        """Bays filled from one cup; None if a cup fills only one bay or less."""
        return self.bays // self.cups if self.bays is not None and self.bays > self.cups else None

    @property
    def filling(self) -> int | None:
        """Cups per bay in a lift; None where one is enough."""
        return self.cups // self.bays if self.bays is not None and self.cups > self.bays else None

    @property
    def holes(self) -> int | None:
        """Fill holes along the top edge; None where the panel lies flat and is poured open."""
        if not self.stands or self.bays is None or self.width is None:
            return None
        return self.bays * round_up(self.width / _BAY_MOST.value)

    @property
    def vents(self) -> int | None:
        """Vents, one in each top corner of each bay; None where poured open."""
        return 2 * self.bays if self.stands and self.bays is not None else None


def _plan(fields: Mapping[str, object], to_mix: float, largest: float, lift: float) -> _Plan | None:
    """Return the plan for `to_mix` g in cups of up to `largest` g and lifts of up to `lift` mm; None if no height is entered."""
    depth = number(fields, "depth", "mm")
    rises = number(fields, "rise", "mm") or depth
    if not rises:
        return None
    lifts, stands = round_up(rises / lift), bool(depth) and rises > depth * (1 + NOISE)
    grams = to_mix / lifts
    cups = round_up(grams / largest)
    if not depth:
        return _Plan(lifts, rises / lifts, cups, stands)
    run, bays = _run(fields, stands), fields["bays"]
    if isinstance(bays, int):
        cups = _among(bays, grams, largest)
    else:
        bays, cups = _divided(run, grams, largest)
    return _Plan(lifts, rises / lifts, cups, stands, bays, run / bays)


def _run(fields: Mapping[str, object], stands: bool) -> float:
    """Return the length in mm to divide into bays: the bottom of a panel on edge, the longer side of one lying flat.

    A panel lying flat that is no wider than a bay is a single bay.
    """
    length, width = number(fields, "length", "mm"), number(fields, "width", "mm")
    if stands:
        return length * width / number(fields, "rise", "mm")
    return min(length, width) if min(length, width) <= _BAY_MOST.value else max(length, width)


def _divided(run: float, grams: float, largest: float) -> tuple[int, int]:
    """Return the bays along `run` mm and the cups for one lift of `grams`, so that every cup fills the same number of bays.

    Seven bays filled from two cups become eight. Where bays would get too narrow, several cups fill each bay instead.
    """
    wanted = round_up(run / _BAY_MOST.value)
    fewest = max(round_up(grams / largest), round_up(wanted / _AMONG))
    cups = next(cups for cups in count(fewest) if _in_time(grams / cups, round_up(wanted / cups), largest))
    bays = cups * round_up(wanted / cups)
    return (bays, cups) if run / bays >= _NARROW else (wanted, _among(wanted, grams, largest))


def _among(bays: int, grams: float, largest: float) -> int:
    """Return the cups for one lift of `grams`: each fills the same number of bays, or several fill each bay."""
    if grams / bays > largest * (1 + NOISE):
        return bays * round_up(grams / bays / largest)
    shared = (cups for cups in range(round_up(bays / _AMONG), bays + 1) if bays % cups == 0)
    return next(cups for cups in shared if _in_time(grams / cups, bays // cups, largest))


def _in_time(cup: float, bays: int, largest: float) -> bool:
    """Return whether a cup of `cup` g is poured into so many bays before it creams, the funnel moved from one to the next."""
    return cup <= (largest - (bays - 1) * _MOVE * _POURS) * (1 + NOISE)


def _pours(fields: Mapping[str, object], mixed: Answer) -> Answer:
    """Return the cups, lifts and bays of the pour."""
    to_mix, part_a, part_b = (_known(mixed, name) for name in ("to_mix", "part_a", "part_b"))
    largest, working = _largest(fields)
    usual, why = _lift(fields)
    lift = number(fields, "lift", "mm") or usual.value
    plan = _plan(fields, to_mix, largest, lift)
    if plan is None:
        line = "pours can't be worked out from a volume alone: enter length, width and depth, or the height the foam rises"
        return Answer({**dict.fromkeys(_PLANNED), "largest_pour": largest}, (*working, line))
    grams = to_mix / plan.lifts
    working += [
        f"lifts = {sig(plan.lifts * plan.height)} mm ÷ {sig(lift)} mm = {sig(plan.lifts * plan.height / lift)}, so {plan.lifts} "
        f"({why})",
        f"pours = {sig(to_mix)} g in {plan.lifts} × {plan.cups} cups = {plan.pours}; each {sig(part_a / plan.pours)} g of A "
        f"and {sig(part_b / plan.pours)} g of B",
    ]
    portion = None if plan.shared is None or plan.bays is None else grams / plan.bays
    values = (
        plan.pours, part_a / plan.pours, part_b / plan.pours, plan.lifts, plan.height, plan.bays, plan.width, plan.shared,
        portion, plan.filling, plan.holes, plan.vents,
    )  # fmt: skip
    said = (*_lift_cautions(fields, usual), *_bay_cautions(plan, portion, usual))
    return Answer({**dict(zip(_PLANNED, values, strict=True)), "largest_pour": largest}, tuple(working), said)


def _known(answer: Answer, name: str) -> float:
    """Return an output that always has a number."""
    value = answer.values[name]
    assert isinstance(value, float)
    return value


_PLANNED = (
    "pours", "pour_a", "pour_b", "lifts", "lift_height", "bay_count", "bay_width", "bays_each", "portion", "cups_each", "holes",
    "vents",
)  # fmt: skip
"""Outputs that need the height the foam rises."""


def _lift_cautions(fields: Mapping[str, object], usual: Threshold) -> list[str]:
    """Return the caution for a lift entered higher than usual."""
    entered = size(fields, "lift")
    if entered is None or entered.value_in("mm") <= usual.value:
        return []
    return [
        f"Lifts of {units.show(entered)} are higher than {usual.words}: thick foam keeps its heat. Pour lifts that high only if "
        "the foam's data sheet allows it."
    ]


def _bay_cautions(plan: _Plan, portion: float | None, usual: Threshold) -> list[str]:
    """Return how to divide, fill and vent the panel."""
    if plan.bays is None or plan.width is None:
        return []
    said = []
    if plan.width > _BAY_MOST.value:
        said.append(
            f"Your bays are {sig(plan.width, 3)} mm wide: make narrower bays, {_BAY:g} mm or less, or the foam may not reach "
            "every corner."
        )
    each = (
        ""
        if plan.filling is None
        else f" Each bay needs {plan.filling} cups per lift: let one cup's foam firm up before you pour the next."
    )
    if portion is not None:
        each = f" Each cup fills {plan.shared} bays, {sig(portion, 3)} g into each: first every second bay, then those between."
    then = " Pour each lift once the one below is firm and hand-warm, after 10 to 20 min." if plan.lifts > 1 else ""
    if not plan.stands:
        one_by_one = f"{plan.bays} bays of {sig(plan.width, 3)} mm, one after the other" if plan.bays > 1 else "the whole bay"
        return [
            *said,
            f"Flat on the bench, with one skin on and the top open, pour {one_by_one}, then plane the foam flush.{each}{then} "
            "If both skins are on, stand the panel on edge and enter its height on edge as the height the foam rises.",
        ]
    if usual is _LIFT and plan.lifts > 1:
        said.append(
            f"On edge a cavity this deep needs {plan.lifts} lifts: lay it flat with the top skin off and pour it in layers, or "
            f"fit board foam."
        )
    divided = f"Divide the panel into {plan.bays} bays of" if plan.bays > 1 else "Make one bay of"
    said.append(
        f"{divided} {sig(plan.width, 3)} mm. Drill 25 mm fill holes along the top edge ({plan.holes}) and 6 mm vents "
        f"({plan.vents}), one in each top corner of every bay: a sealed bay bursts.{each}{then}"
    )
    return said


def _pressed(fields: Mapping[str, object]) -> Answer:
    """Return the force on each skin, with cautions about bursting; that for an overpacked panel comes first."""
    face, pressure = number(fields, "length", "m") * number(fields, "width", "m"), size(fields, "pressure")
    low, high, force = (kpa * face for kpa in (_PRESS_LOW, _PRESS_HIGH, number(fields, "pressure", "kPa")))
    kilos = {"skin_weight": force, "press_low_weight": low, "press_high_weight": high}
    values = {name: kn * 1000 / GRAVITY or None for name, kn in kilos.items()}
    values |= {"skin_force": force or None, "press_low": low or None, "press_high": high or None}
    memory = (
        f"packed foam presses with {_PRESS_LOW:g} to {_PRESS_HIGH:g} kPa, overpacked foam with {_PRESS_OVER:g} kPa or more "
        "(from memory, no published source found: pour a test, and ask the foam's maker)"
    )
    boards = "a stiff board over each whole face, with braces across it tied to the other face's braces, never to the skin alone"
    working, said = [], []
    pack = number(fields, "packing", "")
    if pack > _PACKING_HIGH.value * (1 + NOISE):
        said.append(
            f"A packing of {sig(pack, 3)} is above the usual 1.05 to {_PACKING_HIGH.value:g}: overpacked foam can press with "
            f"{_PRESS_OVER:g} kPa or more (memory) and burst the panel. Pour less, or use a denser foam."
        )
    if force and pressure is not None:
        working.append(
            f"force on each skin = {sig(pressure.value_in('kPa'))} kPa × {sig(face)} m² = {sig(force)} kN, "
            f"like {sig(force * 1000 / GRAVITY)} kg"
        )
        said.append(
            f"Brace both faces before pouring between two skins: {units.show(pressure)} is {sig(force, 3)} kN on each face, "
            f"like {sig(force * 1000 / GRAVITY, 3)} kg standing on the face. Use {boards}. Leave vents, and stand clear while "
            f"the foam rises. For comparison, {memory}."
        )
    elif face:
        said.append(
            f"Brace both faces before pouring between two skins: {memory}. On each face here that is {sig(low, 3)} to "
            f"{sig(high, 3)} kN, like {sig(low * 1000 / GRAVITY, 3)} to {sig(high * 1000 / GRAVITY, 3)} kg standing on the face: "
            f"use {boards}."
        )
    else:
        said.append(f"Brace the walls of the cavity before pouring: {memory}. 20 kPa on 1 m² of wall is the weight of 2000 kg.")
    return Answer(values, tuple(working), tuple(said))


def _bowed(fields: Mapping[str, object]) -> Answer:
    """Return how far a skin bows between its supports, and the brace spacing that keeps the bow within the bow allowed."""
    p, stretch, t, e = (number(fields, name, unit) for name, unit in zip(_STRIP, ("MPa", "mm", "mm", "MPa"), strict=True))
    limit = size(fields, "bow_limit")
    if not stretch or limit is None:
        return Answer(dict.fromkeys(("bow", "bow_clamped", "brace")))
    allowed = limit.value_in("mm")
    bow, brace = _bow(p, stretch, t, e), _span(p, allowed, t, e)
    working = (
        f"bow = 5 p L⁴ ÷ (384 E I), I = t³ ÷ 12: 5 × {sig(p)} MPa × {sig(stretch)}⁴ ÷ (384 × {sig(e)} MPa × {sig(t)}³ ÷ 12) "
        f"= {bow:.2f} mm; with clamped edges {bow / _CLAMPED:.2f} mm",
        f"brace spacing = ⁴√(384 E I × {sig(allowed)} mm ÷ (5 p)) = {sig(brace)} mm",
    )
    said = []
    if bow > allowed * (1 + NOISE):
        remedy = "braces would have to touch, so lay a stiff board over the whole of each face"
        if brace >= _CLOSEST.value:
            remedy = (
                f"put braces on both faces, no more than {math.floor(brace)} mm apart and stiff enough not to bow themselves; "
                f"that keeps the bow to {units.show(limit)}"
            )
        said.append(
            f"Unbraced, the skin bows {sig(bow, 3)} mm: {remedy}. With its edges clamped rigidly the skin would bow a fifth as "
            "much, but glue and screws into a frame are not that rigid."
        )
        if bow > t / 2:
            said.append(
                f"A bow of more than half the skin's thickness of {sig(t, 3)} mm is beyond the formula: expect the skin to crack "
                "or tear off its frame."
            )
    return Answer({"bow": bow, "bow_clamped": bow / _CLAMPED, "brace": brace}, working, tuple(said))


def _waste_cautions(fields: Mapping[str, object], pack: float, lost: float) -> list[str]:
    """Return a caution where no waste is entered, or where pouring the waste too would overpack the foam."""
    if fields["waste"] is None:
        return [
            "No waste is included. 10 to 15 % stays in the cup and on the stick or overflows (common practice): enter 15 % waste."
        ]
    usual = _PACKING_HIGH.value * (1 + NOISE)
    if pack > usual or pack * (1 + lost) <= usual:
        return []
    return [
        f"Don't pour in the part meant as waste: with the whole mix in the cavity the packing is {sig(pack * (1 + lost), 3)}, "
        f"above the usual {_PACKING_HIGH.value:g}, and the foam presses harder. Pour no more than the weight of the foam in "
        "place."
    ]


def _heat_cautions(fields: Mapping[str, object], several: bool) -> list[str]:
    is_dense = number(fields, "density", "lb/ft³") >= _HEAVY.value * (1 - NOISE)
    dense = "; dense foam like this runs hotter still" if is_dense else ""
    wait = " Let each lift rise and cool before the next." if several else ""
    return [
        f"Big pours heat up inside until they smoke or catch fire{dense}.{wait} Never leave leftover mix in the cup: spread it "
        "out, outdoors, on something that doesn't burn, and watch the panel until it is cold."
    ]


def _typical_cautions(fields: Mapping[str, object], ratio: Ratio) -> list[str]:
    """Return a caution about weighing out a ratio given by volume."""
    if ratio.basis != "volume":
        return []
    usual = (("A", "density_a", _DENSITY_A), ("B", "density_b", _DENSITY_B))
    typical = [f"{part} {figure:g} g/mL" for part, name, figure in usual if fields[name] is None]
    if not typical:
        return ["Weigh out both parts to the grams shown here: the ratio by volume is not the ratio by weight."]
    return [
        f"The weights use typical densities, {' and '.join(typical)} (memory): enter those from your data sheet before you "
        "weigh. The ratio by volume is not the ratio by weight."
    ]


def _enough(row: Mapping[str, str] | None, fill: float, lost: float) -> int | None:
    """Return the waste in % with which the mix fills the cavity; None if it does already, or if no source gives the expansion."""
    if row is None or not row["expansion_high"] or fill <= float(row["expansion_high"]) * (1 + NOISE):
        return None
    return round_up(((1 + lost) * fill / float(row["expansion_high"]) - 1) * 100)


def _yield_cautions(fields: Mapping[str, object], row: Mapping[str, str] | None, fill: float, enough: int | None) -> list[str]:
    said = []
    if row and enough is not None:
        said.append(
            f"This mix has to fill {sig(fill, 3)} times its own volume, and a note on {row['class']} foam says the liquid "
            f"expands "
            f"{row['expansion_low']} to {row['expansion_high']} times: the cavity may not fill. Enter at least {enough} % "
            "waste, or pour a small test first."
        )
    warm, temperature = f"{_WARM.value:g} °C", size(fields, "temperature")
    if temperature is None:
        said.append(f"Below {warm} the foam rises less and you need more of it: warm the parts and the cavity.")
    elif temperature.value_in("°C") < _WARM.value:
        said.append(
            f"{units.show(temperature)} is colder than {warm}: the foam rises less, so you need more than worked out here, and "
            f"no source says how much more. Warm the cans and the cavity to {warm}, or pour a test and weigh it."
        )
    return said


def _time_cautions(row: Mapping[str, str] | None) -> list[str]:
    if row and row["work_s"]:
        return [
            f"{row['class']} foam at 24 to 27 °C: about {row['work_s']} s to mix and pour, fully risen after "
            f"{row['rise_low_min']} to "
            f"{row['rise_high_min']} min, ready to trim after {row['trim_h']} h, full strength after {row['full_strength_h']} h "
            "(the last two common practice). Your data sheet overrides these. Mix no more than you can pour in that time."
        ]
    if row:
        return [
            f"{row['class']} foam creams after {row['cream_low_s']} to {row['cream_high_s']} s and gels after "
            f"{row['gel_low_s']} to {row['gel_high_s']} s (common practice). Pour the foam before it creams. Your data sheet "
            "overrides these times."
        ]
    return ["See your data sheet for the work and rise times at this density, and pour the foam before it creams."]


_SIDE = Measure("mm", above=0, high=10_000, soft_low=10, soft_high=3000)
_PART_DENSITY = Measure("g/mL", low=0.8, high=1.6, soft_low=0.95, soft_high=1.3)

CALCULATOR = Calculator(
    name="foam", title="Poured PU foam in a cavity: weights, cups, bays",
    inputs=(
        Field("length", "Cavity length", _SIDE, "Enter length, width and depth, or the volume alone."),
        Field("width", "Cavity width", _SIDE, "Length × width is the face the foam presses on."),
        Field("depth", "Cavity depth", Measure("mm", above=0, high=3000, soft_low=10, soft_high=500),
            "From skin to skin: the thickness of the foam."),
        Field("volume", "Cavity volume", Measure("L", above=0, high=5000, soft_low=0.2, soft_high=300),
            "In place of length, width and depth."),
        Field("density", "Free-rise density", Measure("lb/ft³", low=1, high=20, soft_low=1.5, soft_high=8),
            "The density class on the label: 2 lb/ft³ is 32 kg/m³.", required=True),
        Field("packing", "Packing", Measure("", low=1, high=3, soft_low=1.05, soft_high=_PACKING_HIGH.value),
            "Density of the foam in the cavity ÷ free-rise density: 1.05 to 1.2 (common practice).", default=_PACKING),
        Field("waste", "Waste", Measure("%", low=0, high=200, soft_high=50),
            "What stays in the cup or overflows: 10 to 15 % (common practice)."),
        Field("ratio", "Mix ratio, A to B", RatioKind(), "A is the isocyanate. From the label, by weight or by volume.",
            required=True),
        Field("density_a", "Density of part A", _PART_DENSITY, "Needed for a ratio by volume; from the data sheet."),
        Field("density_b", "Density of part B", _PART_DENSITY, "Needed for a ratio by volume; from the data sheet."),
        Field("rise", "Height the foam rises", Measure("mm", above=0, high=5000, soft_low=10, soft_high=1500),
            "The height of a panel poured on edge. Blank: the panel lies flat and the foam rises through its depth."),
        Field("lift", "Height of one lift", Measure("mm", above=0, high=1000, soft_low=10, soft_high=300),
            "Height of risen foam in one lift; let it cool before the next. Blank: 300 mm in thin bays, 25 mm in cavities over "
            "75 mm thick. The data sheet overrides both."),
        Field("bays", "Bays", Count(1, 100), "How many bays your frame makes. Blank: worked out to suit the cups, none wider "
            f"than {_BAY:g} mm."),
        Field("cream_time", "Work time", Measure("s", low=25, high=3600, soft_low=30, soft_high=300),
            f"Time from first stir to cream, from the data sheet or your test cup. Blank: {_WORK:g} s."),
        Field("pour_most", "Largest cup", Measure("g", low=20, high=20_000, soft_low=50, soft_high=1500),
            "The most foam you can stir and pour before it creams. Blank: worked out from the work time."),
        Field("temperature", "Temperature of the parts", Measure("°C", low=0, high=50, soft_low=15, soft_high=32),
            "Measure the cans and the cavity, and enter the lower of the two temperatures."),
        Field("pressure", "Pressure of the foam", Measure("kPa", above=0, high=500, soft_low=5, soft_high=100),
            "Packed foam 10 to 35 kPa, overpacked 100 kPa or more (memory)."),
        Field("span", "Free span of the skin", Measure("mm", low=5, high=3000, soft_low=20, soft_high=1300),
            "Between two supports, measured the shorter way."),
        Field("skin", "Skin thickness", Measure("mm", low=0.2, high=50, soft_low=1, soft_high=18)),
        Field("modulus", "Modulus of the skin", Measure("GPa", low=0.1, high=250, soft_low=1, soft_high=80),
            "Along the span. Plywood: about 8 GPa along the face grain (memory), much less across."),
        Field("bow_limit", "Bow allowed", Measure("mm", low=0.05, high=50, soft_low=0.2, soft_high=5),
            "The brace spacing keeps the skin's bow within this.", default="1 mm"),
    ),
    outputs=(
        Output("pours", "Pours (cups to mix)", "", 0),
        Output("pour_a", "Part A per pour", "g"),
        Output("pour_b", "Part B per pour", "g"),
        Output("bay_count", "Bays", "", 0),
        Output("brace", "Maximum brace spacing", "mm", 0),
        Output("part_a", "Part A, all pours", "g"),
        Output("part_b", "Part B, all pours", "g"),
        Output("to_mix", "To mix, all pours", "g"),
        Output("in_place", "Foam in place", "g"),
        Output("bays_each", "Bays per cup", "", 0),
        Output("portion", "Pour into each bay per lift", "g"),
        Output("cups_each", "Cups per bay per lift", "", 0),
        Output("bay_width", "Width of a bay", "mm", 0),
        Output("lifts", "Lifts", "", 0),
        Output("lift_height", "Height of a lift", "mm", 0),
        Output("holes", "Fill holes, 25 mm", "", 0),
        Output("vents", "Vents, 6 mm", "", 0),
        Output("largest_pour", "Largest cup", "g", 0),
        Output("skin_force", "Force on each skin", "kN", 2),
        Output("skin_weight", "Equivalent load", "kg", 0),
        Output("bow", "Bow, unbraced", "mm", 2),
        Output("a_per_100_b", "Part A per 100 of B by weight", "", 1),
        Output("volume", "Cavity volume", "L", 2),
        Output("expansion", "Free-rise expansion (× liquid volume)", "", 1),
        Output("work_time", "Mix and pour within", "s", 0),
        Output("rise_time", "Fully risen after", "min", 0),
        Output("liquid_density", "Liquid density", "g/mL", 2),
        Output("fill", "Expansion needed (× liquid volume)", "", 1),
        Output("waste_enough", "Waste needed to fill the cavity", "%", 0),
        Output("bow_clamped", "Bow with edges clamped", "mm", 2),
        Output("press_low", "Force of packed foam, minimum", "kN", 2),
        Output("press_high", "Force of packed foam, maximum", "kN", 2),
        Output("press_low_weight", "Equivalent load of packed foam, minimum", "kg", 0),
        Output("press_high_weight", "Equivalent load of packed foam, maximum", "kg", 0),
    ),
    source=(
        Source("mass = volume × free-rise density × packing × (1 + waste); parts by mass balance", "computed"),
        Source("bow = 5 p L⁴/(384 E I), I = t³/12: simply supported strip", "computed"),
        _HABIT,
        Source("densities of the parts, pressure on skins, modulus of plywood", "memory"),
        _NOTE,
        _DEEP,
        _PANELS,
        Source("stirring takes 20 s of the work time; 20 g/s pours through a funnel and a 25 mm hole; 5 s to move the funnel "
            "to another bay", "common practice"),
        Source("MDI limits: NIOSH IDLH documentation; OSHA chemical sampling page", "read"),
        Source("re-entry and trimming: EPA, as quoted by others", "read"),
    ),
    valid="For two-part rigid PU foam poured at 24 to 27 °C into a vented cavity. The bow is for a flat strip between two "
    "supports, and the formula is good for a bow of up to half the skin's thickness. The pressures of rising foam are from "
    "memory, with no published source found: rely on a test pour and the foam's maker.",
    examples=(
        Example({"length": "600 mm", "width": "300 mm", "depth": "50 mm", "density": "2 lb/ft³", "packing": "1.1",
            "waste": "10 %", "ratio": "110:100 by weight"}, {"volume": 9.0, "in_place": 317.166, "to_mix": 348.882,
            "part_a": 182.748, "part_b": 166.134, "pours": 1, "bay_count": 1},
            Source("mass balance: 9 L × 32.037 kg/m³ × 1.1 × 1.1, split 110:100", "computed"), rel=1e-5),
        Example({"length": "1.2 m", "width": "0.6 m", "depth": "38 mm", "density": "2 lb/ft³", "waste": "15 %",
            "ratio": "1:1 by volume", "pressure": "10 kPa", "span": "300 mm", "skin": "6 mm", "modulus": "8 GPa"},
            {"a_per_100_b": 115.888, "skin_force": 7.2, "skin_weight": 734.2, "bow": 7.32422},
            Source("1.24/1.07; p × A; 5 p L⁴/(384 E I) with I = 18 mm⁴ per mm of width", "computed"), rel=1e-4),
        Example({"volume": "10 L", "density": "4 lb/ft³", "waste": "0 %", "ratio": "1:1 by weight", "density_a": "1.1 g/mL",
            "density_b": "1.1 g/mL", "rise": "200 mm", "lift": "75 mm"}, {"in_place": 704.81, "part_a": 352.41, "pours": 3,
            "expansion": 17.168}, Source("10 L × 64.074 kg/m³ × 1.1; 1100/64.074; ceiling of 200/75", "computed"), rel=1e-4),
    ),
    asked=("length", "width", "depth"),
    stock=Stock("foam", {
        "density": "density", "ratio": "ratio", "density_a": "density_a", "density_b": "density_b", "packing": "packing",
    }),
    compute=_compute, thresholds=(_PACKING_HIGH, _THIN, _LIFT, _THIN_LIFT, _BAY_MOST, _WARM, _HEAVY, _CLOSEST),
)  # fmt: skip
