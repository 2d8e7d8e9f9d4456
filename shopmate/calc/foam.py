"""Poured two-part PU foam: what a cavity takes by weight, in how many lifts, and how hard it presses and bows the skins."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate import tables, units
from shopmate.calculator import Answer, Calculator, Example, Field, Measure, Output, RatioKind, Source
from shopmate.errors import FieldProblem, InputError
from shopmate.models.fields import round_up
from shopmate.units import Quantity, Ratio
from shopmate.units import significant as sig

_GRAVITY = 9.80665
"""Standard gravity in m/s²: what makes a force a weight in words (exact, ISO 80000-3)."""

_PACKING = "1.1"
"""Density in place over free-rise density, usually 1.05 to 1.20 [common practice]."""
_PACKING_HIGH = 1.2

_LIFT = "25 mm"
"""Foam poured in one lift in a deep cavity, 50 to 300 mm wide: a boatbuilding supplier's note on liquid foam [read]. Sprayed foam
goes up to 25 to 57 mm in all (NAVFAC roofing design text [read])."""

_DENSITY_A, _DENSITY_B = 1.24, 1.07
"""Typical densities in g/mL of part A, isocyanate, and part B, polyol: use your data sheet [memory]."""

_WARM = Quantity(24, "°C")
"""Colder than this the foam rises less and more is needed (a boat-repair note on two-part foam [read])."""

_PRESS_LOW, _PRESS_HIGH, _PRESS_OVER = 10.0, 35.0, 100.0
"""Pressure in kPa on the skins of packed foam, low and high, and of overpacked foam, which has no upper end [memory; no authority
found for any of them]."""

_CLAMPED = 5
"""A strip clamped at both edges bows one fifth of one simply supported: p L⁴/(384 E I) (beam formula [computed])."""

_HEAVY = 4.0
"""Free-rise density in lb/ft³ from which foam is spoken of as dense: denser foam runs hotter (a foam kit's instructions [read],
the limit ours)."""

_CLOSEST = 20.0
"""Distance in mm of bearers under which a whole board is told of instead [common practice]."""

_ISOCYANATE = (
    "Isocyanate (part A, MDI) can sensitise the lungs for good, and then a trace is enough. Limits: NIOSH 0.005 ppm over the "
    "shift and 0.020 ppm in any 10 min; ACGIH 0.005 ppm over the shift; OSHA ceiling 0.02 ppm at any moment (none for polymeric "
    "MDI). Keep under every one of them: the lowest, 0.005 ppm, rules. Bulk foam: supplied-air breathing gear, gloves, goggles "
    "and covered skin as the safety data sheet says, and nobody else in the room until its re-entry time; makers of sprayed foam "
    "say 23 to 72 h, as told by EPA."
)
"""Limits each with its body, a shift average never mixed with a ceiling: NIOSH IDLH documentation on MDI, OSHA page on polymeric
MDI [read]; re-entry times as EPA tells them [read second-hand]; supplied air for bulk work [common practice]."""

_TRIMMING = (
    "Trimming: fresh foam dust can hold unreacted isocyanate, and hot wires or blades set free isocyanates, carbon monoxide and "
    "hydrogen cyanide (EPA, second-hand): wait for the sheet's cure time, cut cold, with extraction and a mask."
)
"""A copy of an EPA page of 2017 [read]."""

_ABOUT = 0.02
"""Part of the lift over it that still is about 25 mm: one inch is 0.016 over (arithmetic)."""

_NEAR = 0.1
"""Relative difference in density within which the figures of a class are quoted for a foam [common practice]."""

_SLACK = 1e-9
"""Relative difference that is the noise of floats."""


def _class(density: float) -> Mapping[str, str] | None:
    """Return the row of the density class of that many lb/ft³, or None where none is near."""
    rows = tables.load("foams").rows
    return next((row for row in rows if math.isclose(float(row["density_lb_ft3"]), density, rel_tol=_NEAR)), None)


def _bow(pressure: float, span: float, skin: float, modulus: float) -> float:
    """Return the bow in mm at mid-span of a simply supported strip: 5 p L⁴/(384 E I), I = t³/12; MPa and mm (beam formula)."""
    return 5 * pressure * span**4 / (384 * modulus * skin**3 / 12)


def _span(pressure: float, bow: float, skin: float, modulus: float) -> float:
    """Return the span in mm that bows by `bow` mm: the same formula solved for L."""
    return math.sqrt(math.sqrt(384 * modulus * skin**3 / 12 * bow / (5 * pressure)))


def _compute(
    *,
    length: Quantity | None,
    width: Quantity | None,
    depth: Quantity | None,
    volume: Quantity | None,
    density: Quantity,
    packing: Quantity,
    waste: Quantity | None,
    ratio: Ratio,
    density_a: Quantity | None,
    density_b: Quantity | None,
    rise: Quantity | None,
    lift: Quantity,
    temperature: Quantity | None,
    pressure: Quantity | None,
    span: Quantity | None,
    skin: Quantity | None,
    modulus: Quantity | None,
    bow_limit: Quantity,
) -> Answer:
    strip = {"span": span, "skin": skin, "modulus": modulus}
    if problems := [*_one_volume(length, width, depth, volume), *_whole_strip(pressure, strip)]:
        raise InputError(*problems)

    litres, working = _volume(length, width, depth, volume)
    free, pack = density.value_in("kg/m³"), packing.value_in("")
    lost = waste.value_in("%") / 100 if waste else 0.0
    in_place = litres * free * pack
    to_mix = in_place * (1 + lost)
    working += [
        f"in place = volume × free-rise density × packing "
        f"= {sig(litres)} L × {sig(free)} kg/m³ × {sig(pack)} = {sig(in_place)} g",
        f"to mix = in place × (1 + waste) = {sig(in_place)} g × {sig(1 + lost)} = {sig(to_mix)} g",
    ]
    rho_a = density_a.value_in("g/mL") if density_a else _DENSITY_A
    rho_b = density_b.value_in("g/mL") if density_b else _DENSITY_B
    weigh_a, weigh_b = _by_weight(ratio, rho_a, rho_b)
    part_a = to_mix * weigh_a / (weigh_a + weigh_b)
    part_b = to_mix - part_a
    if ratio.basis == "volume":
        working.append(
            f"{ratio} = {units.show_number(ratio.a)} × {sig(rho_a)} : {units.show_number(ratio.b)} × {sig(rho_b)} g/mL "
            f"= {sig(weigh_a / weigh_b * 100)}:100 by weight"
        )
    working += [
        f"part A = {sig(to_mix)} g × {sig(weigh_a)} ÷ ({sig(weigh_a)} + {sig(weigh_b)}) = {sig(part_a)} g",
        f"part B = {sig(to_mix)} − {sig(part_a)} = {sig(part_b)} g",
    ]

    liquid = (weigh_a + weigh_b) / (weigh_a / rho_a + weigh_b / rho_b)
    expansion = liquid * 1000 / free
    must_expand = litres * 1000 / (to_mix / liquid)
    working += [
        f"liquid = {sig(liquid)} g/mL; free rise = {sig(liquid * 1000)} ÷ {sig(free)} kg/m³ = {sig(expansion)} times; "
        f"this mix has to fill {sig(must_expand)} times its volume"
    ]

    pours = each_a = each_b = None
    rises = rise or depth
    if rises is not None:
        pours = round_up(rises.value_in("mm") / lift.value_in("mm"))
        each_a, each_b = part_a / pours, part_b / pours
        working.append(
            f"pours = {sig(rises.value_in('mm'))} mm ÷ lifts of {sig(lift.value_in('mm'))} mm "
            f"= {sig(rises.value_in('mm') / lift.value_in('mm'))}, so {pours}; each A {sig(each_a)} g and B {sig(each_b)} g"
        )

    face = length.value_in("m") * width.value_in("m") if length is not None and width is not None else None
    force = bow = brace = None
    if pressure is not None and face is not None:
        force = pressure.value_in("kPa") * face
        working.append(
            f"force on each skin = {sig(pressure.value_in('kPa'))} kPa × {sig(face)} m² = {sig(force)} kN, "
            f"like {sig(force * 1000 / _GRAVITY)} kg"
        )
    if pressure is not None and span is not None and skin is not None and modulus is not None:
        p, stretch, t, e = pressure.value_in("MPa"), span.value_in("mm"), skin.value_in("mm"), modulus.value_in("MPa")
        bow, brace = _bow(p, stretch, t, e), _span(p, bow_limit.value_in("mm"), t, e)
        working += [
            "bow = 5 p L⁴ ÷ (384 E I), I = t³ ÷ 12: "
            f"5 × {sig(p)} MPa × {sig(stretch)}⁴ ÷ (384 × {sig(e)} MPa × {sig(t)}³ ÷ 12) "
            f"= {bow:.2f} mm; with clamped edges {bow / _CLAMPED:.2f} mm",
            f"braced every = ⁴√(384 E I × {sig(bow_limit.value_in('mm'))} mm ÷ (5 p)) = {sig(brace)} mm",
        ]
    row = _class(density.value_in("lb/ft³"))

    return Answer(
        {
            "part_a": Quantity(part_a, "g"),
            "part_b": Quantity(part_b, "g"),
            "to_mix": Quantity(to_mix, "g"),
            "in_place": Quantity(in_place, "g"),
            "pours": pours,
            "pour_a": None if each_a is None else Quantity(each_a, "g"),
            "pour_b": None if each_b is None else Quantity(each_b, "g"),
            "skin_force": None if force is None else Quantity(force, "kN"),
            "skin_weight": None if force is None else Quantity(force * 1000 / _GRAVITY, "kg"),
            "bow": None if bow is None else Quantity(bow, "mm"),
            "brace": None if brace is None else Quantity(brace, "mm"),
            "a_per_100_b": Quantity(weigh_a / weigh_b * 100, ""),
            "volume": Quantity(litres, "L"),
            "expansion": Quantity(expansion, ""),
            "work_time": Quantity(float(row["work_s"]), "s") if row and row["work_s"] else None,
            "rise_time": Quantity(float(row["rise_high_min"]), "min") if row and row["rise_high_min"] else None,
        },
        tuple(working),
        (
            # Danger to persons, then what spoils the work, then what is only assumed.
            _ISOCYANATE,
            *_press_cautions(pressure, face, force, pack),
            *_heat_cautions(density, lift, pours),
            _TRIMMING,
            *_bow_cautions(bow, brace, bow_limit, skin),
            *_waste_cautions(pack, lost),
            *_mix_cautions(ratio),
            *_yield_cautions(row, must_expand, lost, temperature),
            *_time_cautions(row),
            *_assumed_cautions(ratio, density_a, density_b, waste),
        ),
    )


def _one_volume(
    length: Quantity | None, width: Quantity | None, depth: Quantity | None, volume: Quantity | None
) -> list[FieldProblem]:
    sizes = {"length": length, "width": width, "depth": depth}
    given = [name for name, size in sizes.items() if size is not None]
    if volume is not None:
        fix = "give volume alone, or length, width and depth without it; the height the foam rises goes into rise"
        return [FieldProblem(name, "given beside volume", fix) for name in given]
    if not given:
        return [FieldProblem("volume", "no size given", "give length, width and depth of the cavity, or its volume")]
    return [
        FieldProblem(name, "nothing given", "length, width and depth go together: give it, or the volume alone")
        for name in sizes
        if name not in given
    ]


def _whole_strip(pressure: Quantity | None, strip: Mapping[str, Quantity | None]) -> list[FieldProblem]:
    if all(value is None for value in strip.values()):
        return []
    fixes = {
        "pressure": f"give it, or leave out the strip; packed foam {_PRESS_LOW:g} to {_PRESS_HIGH:g} kPa (memory)",
        "span": "give the free width between two supports of the skin",
        "skin": "give the thickness of the skin",
        "modulus": "give that of the skin along the span; plywood along the face grain about 8 GPa (memory), across it much less",
    }
    return [
        FieldProblem(name, "nothing given", f"a bow wants pressure, span, skin and modulus: {fixes[name]}")
        for name, value in {"pressure": pressure, **strip}.items()
        if value is None
    ]


def _volume(
    length: Quantity | None, width: Quantity | None, depth: Quantity | None, volume: Quantity | None
) -> tuple[float, list[str]]:
    """Return the volume in L and its working line."""
    if length is not None and width is not None and depth is not None:
        sides = [side.value_in("mm") for side in (length, width, depth)]
        litres = math.prod(sides) / 1e6
        return litres, [f"volume = {' × '.join(f'{sig(side)} mm' for side in sides)} = {sig(litres)} L"]
    assert volume is not None
    return volume.value_in("L"), [f"volume = {sig(volume.value_in('L'))} L"]


def _by_weight(ratio: Ratio, rho_a: float, rho_b: float) -> tuple[float, float]:
    """Return the parts by weight of a ratio; by volume each part weighs its density (mass balance)."""
    a, b = float(ratio.a), float(ratio.b)
    return (a, b) if ratio.basis == "weight" else (a * rho_a, b * rho_b)


def _press_cautions(pressure: Quantity | None, face: float | None, force: float | None, pack: float) -> list[str]:
    """Return what the pressing foam can burst, an overpacked panel first."""
    memory = (
        f"packed foam {_PRESS_LOW:g} to {_PRESS_HIGH:g} kPa, overpacked {_PRESS_OVER:g} kPa and up (memory, no authority found: "
        "pour a test, and ask the foam's maker)"
    )
    boards = "a stiff board over each whole face with bearers across it, tied to those of the other face, never to the skin alone"
    said = []
    if pack > _PACKING_HIGH * (1 + _SLACK):
        said.append(
            f"Packed {sig(pack, 3)} times is over the usual 1.05 to {_PACKING_HIGH:g}: overpacked foam can press {_PRESS_OVER:g} "
            "kPa and more (memory) and burst the panel. Pour less, or take a denser foam."
        )
    if force is not None and pressure is not None:
        said.append(
            f"Brace both faces before pouring: {units.show(pressure)} is {sig(force, 3)} kN on each, like "
            f"{sig(force * 1000 / _GRAVITY, 3)} kg standing on it. That wants {boards}. Leave vents, and stand clear while "
            f"it rises. Pressures: {memory}."
        )
    elif face is not None:
        low, high = _PRESS_LOW * face, _PRESS_HIGH * face
        said.append(
            f"Brace both faces before pouring: {memory}. On this face {sig(low, 3)} to {sig(high, 3)} kN, like "
            f"{sig(low * 1000 / _GRAVITY, 3)} to {sig(high * 1000 / _GRAVITY, 3)} kg standing on it: that wants {boards}."
        )
    else:
        said.append(f"Brace the walls of the cavity before pouring: {memory}. A square metre at 20 kPa bears a weight of 2 t.")
    return said


def _bow_cautions(bow: float | None, brace: float | None, bow_limit: Quantity, skin: Quantity | None) -> list[str]:
    """Return what keeps a skin from bowing."""
    said = []
    if bow is not None and brace is not None and skin is not None and bow > bow_limit.value_in("mm") * (1 + _SLACK):
        remedy = (
            f"put bearers on both faces no more than {math.floor(brace)} mm apart, stiff enough not to bow themselves; that "
            f"keeps it to {units.show(bow_limit)}"
            if brace >= _CLOSEST
            else "bearers would have to touch: lay a stiff board over the whole of each face"
        )
        said.append(
            f"Unbraced the skin bows {sig(bow, 3)} mm: {remedy}. Edges held firmly bow one fifth as much, "
            "but glue and screws in a frame are not counted as that."
        )
        if bow > skin.value_in("mm") / 2:
            said.append(
                f"A bow of more than half the skin ({sig(skin.value_in('mm'), 3)} mm) is beyond the formula: expect it to crack, "
                "or to tear off its frame."
            )
    return said


def _waste_cautions(pack: float, lost: float) -> list[str]:
    """Return what waste does that is poured all the same, where the packing itself is not over the usual."""
    usual = _PACKING_HIGH * (1 + _SLACK)
    if pack > usual or pack * (1 + lost) <= usual:
        return []
    return [
        f"Waste is not to be poured: with all of it in the cavity the foam is packed {sig(pack * (1 + lost), 3)} times, over "
        f"the usual {_PACKING_HIGH:g}, and presses harder. Weigh in what the cavity takes and no more."
    ]


def _heat_cautions(density: Quantity, lift: Quantity, pours: int | None) -> list[str]:
    usual = units.parse(_LIFT, "mm")
    said = []
    if lift.value_in("mm") > usual.value_in("mm") * (1 + _ABOUT):
        said.append(
            f"Lifts of {units.show(lift)} are over the {_LIFT} read for deep cavities: thick foam keeps its heat. Only if the "
            "foam's data sheet allows them."
        )
    dense = "; dense foam as this runs hotter still" if density.value_in("lb/ft³") >= _HEAVY * (1 - _SLACK) else ""
    wait = " Let each lift rise and cool before the next." if pours is None or pours > 1 else ""
    said.append(
        f"Big pours heat inside until they smoke or catch fire{dense}.{wait} Do not leave left-over mix in the cup: spread it "
        "out, outdoors, on something that does not burn, and watch the panel until it is cold."
    )
    return said


def _mix_cautions(ratio: Ratio) -> list[str]:
    said = []
    if ratio.basis == "volume":
        said.append("Weigh both parts: a ratio by volume is not one by weight.")
    said.append(
        "Here A is the isocyanate, as in North America; elsewhere A and B are often the other way round. Read the labels, and "
        "keep the ratio as the sheet names it."
    )
    return said


def _assumed_cautions(ratio: Ratio, density_a: Quantity | None, density_b: Quantity | None, waste: Quantity | None) -> list[str]:
    """Return what was taken for figures that were not given."""
    said = []
    if waste is None:
        said.append("No waste counted. Cup, stick and overflow take 10 to 15 % (common practice): count 15 % waste.")
    if ratio.basis == "volume":
        typical = [
            f"{name} {figure:g} g/mL"
            for name, given, figure in (("A", density_a, _DENSITY_A), ("B", density_b, _DENSITY_B))
            if given is None
        ]
        if typical:
            said.append(f"{' and '.join(typical)} taken as typical (memory): use your data sheet.")
    return said


def _yield_cautions(row: Mapping[str, str] | None, must_expand: float, lost: float, temperature: Quantity | None) -> list[str]:
    said = []
    if row and row["expansion_high"]:
        most = float(row["expansion_high"])
        if must_expand > most * (1 + _SLACK):
            enough = round_up(((1 + lost) * must_expand / most - 1) * 100)
            said.append(
                f"This mix has to fill {sig(must_expand, 3)} times its volume, and a note on {row['class']} foam says "
                f"{row['expansion_low']} to {row['expansion_high']}: it may fall short. Count at least {enough} % "
                "waste, or pour a small test first."
            )
    if temperature is None:
        said.append(f"Parts and cavity colder than {units.show(_WARM)} give less rise and want more foam: warm both.")
    elif temperature.value_in("°C") < _WARM.value_in("°C"):
        said.append(
            f"{units.show(temperature)} is colder than {units.show(_WARM)}: less rise, so more foam than worked out here, by how "
            f"much no source says. Warm parts, cans and cavity to {units.show(_WARM)}, or pour a test and weigh it."
        )
    return said


def _time_cautions(row: Mapping[str, str] | None) -> list[str]:
    if row and row["work_s"]:
        return [
            f"{row['class']} foam at 24 to 27 °C: about {row['work_s']} s to mix and pour, risen after {row['rise_low_min']} to "
            f"{row['rise_high_min']} min, to be trimmed after {row['trim_h']} h, full strength after {row['full_strength_h']} h "
            "(the last two common practice). Use your data sheet, and mix no more than you can pour in that time."
        ]
    if row:
        return [
            f"Times of {row['class']} foam, common practice: creams after {row['cream_low_s']} to {row['cream_high_s']} s, gels "
            f"after {row['gel_low_s']} to {row['gel_high_s']} s. It must be poured before it creams: use your data sheet."
        ]
    return ["Work and rise times of this density: use your data sheet, and have it poured before it creams."]


_SIDE = Measure("mm", above=0, high=10_000, soft_low=10, soft_high=3000)
_PART_DENSITY = Measure("g/mL", low=0.8, high=1.6, soft_low=0.95, soft_high=1.3)

CALCULATOR = Calculator(
    name="foam",
    title="Poured PU foam in a cavity",
    inputs=(
        Field("length", "Length of the cavity", _SIDE, "With width and depth, or give the volume."),
        Field("width", "Width of the cavity", _SIDE, "Length × width is the face that the foam presses on."),
        Field(
            "depth",
            "Depth of the cavity",
            Measure("mm", above=0, high=3000, soft_low=10, soft_high=500),
            "From skin to skin; the foam rises through it unless rise is given.",
        ),
        Field(
            "volume",
            "Volume of the cavity",
            Measure("L", above=0, high=5000, soft_low=0.2, soft_high=300),
            "In place of length, width and depth.",
        ),
        Field(
            "density",
            "Free-rise density",
            Measure("lb/ft³", low=1, high=20, soft_low=1.5, soft_high=8),
            "The class on the label: 2 lb/ft³ is 32 kg/m³.",
            required=True,
        ),
        Field(
            "packing",
            "Packing",
            Measure("", low=1, high=3, soft_low=1.05, soft_high=_PACKING_HIGH),
            "Density in place over free-rise density, 1.05 to 1.2 (common practice).",
            default=_PACKING,
        ),
        Field(
            "waste",
            "Waste",
            Measure("%", low=0, high=200, soft_high=50),
            "Left in cup and overflow, 10 to 15 % (common practice).",
        ),
        Field("ratio", "Ratio, A to B", RatioKind(), "A the isocyanate: as on the label, by weight or by volume.", required=True),
        Field("density_a", "Density of part A", _PART_DENSITY, "For a ratio by volume; from the data sheet."),
        Field("density_b", "Density of part B", _PART_DENSITY, "For a ratio by volume; from the data sheet."),
        Field(
            "rise",
            "Height the foam rises",
            Measure("mm", above=0, high=5000, soft_low=10, soft_high=1500),
            "For a panel poured on edge its height, else the depth.",
        ),
        Field(
            "lift",
            "Foam in one lift",
            Measure("mm", above=0, high=1000, soft_low=10, soft_high=100),
            "Thickness of risen foam in one pour; the data sheet's figure outranks 25 mm.",
            default=_LIFT,
        ),
        Field(
            "temperature",
            "Temperature of the parts",
            Measure("°C", low=0, high=50, soft_low=15, soft_high=32),
            "Of cans and cavity, the colder of the two.",
        ),
        Field(
            "pressure",
            "Pressure of the foam",
            Measure("kPa", above=0, high=500, soft_low=5, soft_high=100),
            "Packed foam 10 to 35 kPa, overpacked 100 kPa and up (memory).",
        ),
        Field(
            "span",
            "Free span of the skin",
            Measure("mm", low=5, high=3000, soft_low=20, soft_high=1300),
            "Between two supports, the shorter way.",
        ),
        Field("skin", "Thickness of the skin", Measure("mm", low=0.2, high=50, soft_low=1, soft_high=18)),
        Field(
            "modulus",
            "Modulus of the skin",
            Measure("GPa", low=0.1, high=250, soft_low=1, soft_high=80),
            "Along the span; plywood along the face grain about 8 GPa (memory), across it much less.",
        ),
        Field(
            "bow_limit",
            "Bow allowed",
            Measure("mm", low=0.05, high=50, soft_low=0.2, soft_high=5),
            "What the bracing is to keep to.",
            default="1 mm",
        ),
    ),
    outputs=(
        Output("part_a", "Part A", "g"),
        Output("part_b", "Part B", "g"),
        Output("to_mix", "To mix", "g"),
        Output("in_place", "Foam in place", "g"),
        Output("pours", "Pours"),
        Output("pour_a", "Part A each pour", "g"),
        Output("pour_b", "Part B each pour", "g"),
        Output("skin_force", "Force on each skin", "kN", 2),
        Output("skin_weight", "Like a weight of", "kg", 0),
        Output("bow", "Bow, unbraced", "mm", 2),
        Output("brace", "Bearers at most apart", "mm", 0),
        Output("a_per_100_b", "A to 100 B by weight", "", 1),
        Output("volume", "Volume", "L", 2),
        Output("expansion", "Free rise, times liquid", "", 1),
        Output("work_time", "Mix and pour within", "s", 0),
        Output("rise_time", "Risen after", "min", 0),
    ),
    source=(
        Source("mass = volume × free-rise density × packing × (1 + waste); parts by mass balance", "computed"),
        Source("bow = 5 p L⁴/(384 E I), I = t³/12: simply supported strip", "computed"),
        Source("packing 1.05 to 1.20, waste 10 to 15 %, cream, gel and cure times", "common practice"),
        Source("densities of the parts, pressure on skins, modulus of plywood", "memory"),
        Source(
            "work and rise times, 25 to 30 times, less rise under 24 °C: boat-repair note on two-part foam; a kit's instructions "
            "(4 min; denser runs hotter, big pours smoke or ignite)",
            "read",
        ),
        Source("lifts of about 25 mm in deep cavities: a boatbuilding supplier's note on liquid foam", "read"),
        Source("MDI limits: NIOSH IDLH documentation; OSHA chemical sampling page", "read"),
        Source("re-entry and trimming: EPA, as quoted by others", "read"),
    ),
    valid="Two-part rigid PU foam poured at 24 to 27 °C into a vented cavity. The bow is that of a flat strip between two "
    "supports, good to half the skin's thickness. The pressure of rising foam is from memory and no authority was found: a "
    "test pour and the foam's maker decide.",
    examples=(
        Example(
            {
                "length": "600 mm",
                "width": "300 mm",
                "depth": "50 mm",
                "density": "2 lb/ft³",
                "packing": "1.1",
                "waste": "10 %",
                "ratio": "110:100 by weight",
            },
            {"volume": 9.0, "in_place": 317.166, "to_mix": 348.882, "part_a": 182.748, "part_b": 166.134, "pours": 2},
            Source("mass balance: 9 L × 32.037 kg/m³ × 1.1 × 1.1, split 110:100", "computed"),
            rel=1e-5,
        ),
        Example(
            {
                "length": "1.2 m",
                "width": "0.6 m",
                "depth": "38 mm",
                "density": "2 lb/ft³",
                "waste": "15 %",
                "ratio": "1:1 by volume",
                "pressure": "10 kPa",
                "span": "300 mm",
                "skin": "6 mm",
                "modulus": "8 GPa",
            },
            {"a_per_100_b": 115.888, "skin_force": 7.2, "skin_weight": 734.2, "bow": 7.32422},
            Source("1.24/1.07; p × A; 5 p L⁴/(384 E I) with I = 18 mm³ a mm", "computed"),
            rel=1e-4,
        ),
        Example(
            {
                "volume": "10 L",
                "density": "4 lb/ft³",
                "waste": "0 %",
                "ratio": "1:1 by weight",
                "density_a": "1.1 g/mL",
                "density_b": "1.1 g/mL",
                "rise": "200 mm",
                "lift": "75 mm",
            },
            {"in_place": 704.81, "part_a": 352.41, "pours": 3, "expansion": 17.168},
            Source("10 L × 64.074 kg/m³ × 1.1; 1100/64.074; ceiling of 200/75", "computed"),
            rel=1e-4,
        ),
    ),
    compute=_compute,
)
