"""A fillet of thickened epoxy in the corner of two panels: section, leg, throat, and grams of mix for its length."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate import units
from shopmate.calculator import Answer, Calculator, Example, Field, Measure, Output, Source, Threshold, Value
from shopmate.models.pot import BIG_POT, BIG_POT_SOURCE
from shopmate.picture import Label, Picture, Shape, arc, both, number, rectangle, size
from shopmate.units import Quantity
from shopmate.units import significant as sig

_DENSITY = "1.18 g/mL"
"""Density of a structural fillet mix: 100 g epoxy (1.10), 30 g wood flour (1.5) and 2 g fumed silica (2.2 g/mL) by the
rule of mixtures, without stirred-in air [computed from typical densities, memory]."""

_HABIT = Source(
    "radius 2 to 3 times the thickness of the thinner panel, and 6 to 8 mm or more where cloth turns the corner; tape 25 to 50 "
    "mm or more on each side; waste 10 to 15 %; a spreader can't reach the root of a corner below 30°",
    "common practice",
)
_SLOPE = Source("above 150° one degree changes the section by 10 % or more: derivative of the section", "computed")

_CLOTH_LEAST = Threshold(6.0, "mm", _HABIT, "glass cloth won't turn a corner below", "radius", "6 mm", "5.99 mm")
"""Radius below which glass cloth won't turn a corner."""

_CLOTH_SURE = Threshold(8.0, "mm", _HABIT, "only light cloth turns the corner", "radius", "8 mm", "7.99 mm")
"""Radius from which glass cloth commonly turns a corner without lifting."""

_SHEET_LOW = Threshold(2, "", _HABIT, "this one is smaller", "", "10 mm", "9.99 mm", "radius", {"sheet": "5 mm"})
_SHEET_HIGH = 3
"""Radius of a structural fillet ÷ thickness of the thinner panel [common practice]."""

_AIR = "3 to 10 %"
"""How much stirred-in air lowers the density of a thickened mix [memory]."""

_SHARP = Threshold(30.0, "°", _HABIT, "is very sharp", "angle", "30°", "29.9°")
"""Included angle below which a spreader can't reach the root."""

_FLAT = Threshold(150.0, "°", _SLOPE, "is nearly flat", "angle", "150°", "150.1°")
"""Included angle above which the bend was probably measured instead."""

_BIG_POT = Threshold(BIG_POT, "g", BIG_POT_SOURCE, "in one pot heats up", "mix", "12.23 m", "12.24 m", "length")
"""Mass above which one pot heats up noticeably and goes off early."""


def _compute(
    *, length: Quantity, radius: Quantity, angle: Quantity, density: Quantity, loss: Quantity, sheet: Quantity | None
) -> Answer:
    r = radius.value_in("mm")
    degrees = angle.value_in("°")
    theta = math.radians(degrees)
    run = length.value_in("m")
    rho = density.value_in("g/mL")
    extra = loss.value_in("%")
    cot = 1 / math.tan(theta / 2)
    # Two right triangles (tangent point, corner, centre) less the sector between the tangent points: plane geometry.
    shape = cot - (math.pi - theta) / 2
    section = r * r * shape
    leg = r * cot
    throat = r * (1 / math.sin(theta / 2) - 1)
    face = r * (math.pi - theta)
    # 1 mm² over 1 m is 1 mL.
    volume = section * run
    mix = volume * rho * (1 + extra / 100)
    working = (
        f"θ = {sig(degrees)}° included: the second panel is {sig(180 - degrees)}° out of line with the first",
        f"section = r²(cot(θ/2) − (π−θ)/2) = {sig(r)}² × {shape:.4f} = {sig(section)} mm²",
        f"leg = r × cot(θ/2) = {sig(r)} × {cot:.4f} = {sig(leg)} mm along each panel",
        f"throat = r(1/sin(θ/2) − 1) = {sig(r)} × {1 / math.sin(theta / 2) - 1:.4f} = {sig(throat)} mm",
        f"volume = {sig(section)} mm² × {sig(run)} m = {sig(volume)} mL (1 mm² over 1 m is 1 mL)",
        f"mix = {sig(volume)} mL × {sig(rho)} g/mL × {sig(1 + extra / 100)} (waste {sig(extra)} %) = {sig(mix)} g with filler",
    )
    return Answer(
        values={
            "section": section,
            "volume": volume,
            "mix": mix,
            "leg": leg,
            "throat": throat,
            "face": face,
            "bend": 180 - degrees,
            "radius_low": None if sheet is None else _SHEET_LOW.value * sheet.value_in("mm"),
            "radius_high": None if sheet is None else _SHEET_HIGH * sheet.value_in("mm"),
        },
        working=working,
        cautions=_cautions(r, degrees, throat, extra, mix, radius, sheet),
    )


def _cautions(
    r: float, degrees: float, throat: float, extra: float, mix: float, radius: Quantity, sheet: Quantity | None
) -> tuple[str, ...]:
    said = []
    shown, lifts, turns = units.show(radius), f"{_CLOTH_LEAST.value:g}", f"{_CLOTH_SURE.value:g}"
    if r < _CLOTH_LEAST.value:
        said.append(
            f"radius {shown}: glass cloth won't turn a corner below {lifts} to {turns} mm and will lift; make the radius "
            f"{turns} mm, or leave the cloth off this corner (common practice)"
        )
    elif r < _CLOTH_SURE.value:
        said.append(
            f"radius {shown}: between {lifts} and {turns} mm only light cloth turns the corner; try an offcut first "
            "(common practice)"
        )
    if sheet is not None and r < _SHEET_LOW.value * sheet.value_in("mm"):
        low, high = (sig(times * sheet.value_in("mm"), 3) for times in (_SHEET_LOW.value, _SHEET_HIGH))
        said.append(
            f"a structural fillet on a {units.show(sheet)} sheet usually has a radius of {low} to {high} mm "
            f"({_SHEET_LOW.value:g} to {_SHEET_HIGH} thicknesses); this one is smaller (common practice)"
        )
    if degrees < _SHARP.value:
        said.append(
            f"a corner of {sig(degrees)}° is very sharp: the mix is {sig(throat, 3)} mm deep, traps air at the root and "
            "heats up. Fill the root first, let it firm up, then shape the fillet (common practice)"
        )
    elif degrees > _FLAT.value:
        said.append(
            f"a corner of {sig(degrees)}° is nearly flat: if you measured how far one panel bends away from the other, the "
            f"included angle is {sig(180 - degrees)}°, so enter that"
        )
    if extra == 0:
        said.append("no waste added: cup, spreader and squeeze-out usually cost 10 to 15 % (common practice), so enter 15 %")
    if mix > _BIG_POT.value:
        said.append(
            f"{mix:.0f} g in one pot heats up and goes off early (common practice): mix smaller pots; see the potlife calculator"
        )
    return tuple(said)


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture:
    """Return the section across the fillet in mm, with the corner at 0, one panel level and the other at the angle."""
    radius, leg, throat = size(inputs, "radius"), size(outputs, "leg"), size(outputs, "throat")
    assert radius is not None
    assert leg is not None
    assert throat is not None
    r, reach, degrees = radius.value_in("mm"), leg.value_in("mm"), number(inputs, "angle", "°")
    theta = math.radians(degrees)
    skin, run = number(inputs, "sheet", "mm") or r / 3, reach + r / 2
    along, out = (math.cos(theta), math.sin(theta)), (-math.sin(theta), math.cos(theta))
    corners = ((0.0, 0.0), (run, 0.0), (run, skin), (0.0, skin))
    standing = tuple((along[0] * far + out[0] * deep, along[1] * far + out[1] * deep) for far, deep in corners)
    heel = standing[-1][0]
    lying = rectangle(min(0.0, heel), -skin, run, 0.0)
    face = arc((reach, r), r, 270, 90 + degrees)
    deep = 0.9 * throat.value_in("mm")
    seen = [*standing, *lying]
    return Picture(
        (
            Shape(lying, "panel", "hatch"),
            Shape(standing, "panel standing on it", "back hatch"),
            Shape(((0.0, 0.0), *face), "thickened mix", "shade"),
        ),
        (
            Label("radius", face[3 * len(face) // 4], radius),
            Label("throat", (deep * math.cos(theta / 2), deep * math.sin(theta / 2)), throat, 1),
            Label("leg", (reach, -skin / 2), leg, 1),
        ),
        f"Two panels meet at {degrees:.4g}°. The hollow face, of radius {both(radius)}, touches each of them {both(leg)} from "
        f"the corner and leaves {both(throat)} of mix over the corner.",
        (min(x for x, _ in seen), min(y for _, y in seen)),
        (max(x for x, _ in seen), max(y for _, y in seen)),
        least=r / 4,
    )


CALCULATOR = Calculator(
    name="fillet", title="Grams of mix for a fillet in a corner",
    inputs=(
        Field("length", "Length of the fillet", Measure("mm", low=1, high=200_000, soft_low=20, soft_high=30_000), required=True),
        Field("radius", "Radius of the fillet", Measure("mm", low=0.5, high=200, soft_low=5, soft_high=50), required=True),
        Field("angle", "Included angle of the corner", Measure("°", low=5, high=175),
            help="Angle in degrees between the two panels, inside the corner: 90 if square, near 180 if almost in line.",
            default="90°"),
        Field("density", "Density of the thickened mix", Measure("g/mL", low=0.3, high=3, soft_low=0.9, soft_high=1.4),
            help=f"Typical: 100 g epoxy, 30 g wood flour, 2 g silica; air lowers it by {_AIR}. Use your own from the thicken "
                "calculator.",
            default=_DENSITY),
        Field("loss", "Waste, added to the mix", Measure("%", low=0, high=100, soft_high=30),
            help="What stays in cup and spreader or is scraped off: usually 10 to 15 % (common practice).", default="0 %"),
        Field("sheet", "Thickness of the thinner panel skin", Measure("mm", low=0.1, high=100, soft_high=30),
            help="Used to check that the radius is large enough for a structural joint."),
    ),
    outputs=(
        Output("mix", "Thickened mix to make, with filler and waste", "g", 0),
        Output("volume", "Volume in the corner, before waste", "mL", 0),
        Output("section", "Section of the fillet", "mm²", 1),
        Output("leg", "Leg along each panel", "mm", 1),
        Output("throat", "Throat, corner to face", "mm", 1),
        Output("face", "Width of the curved face (add the tape's lap on each side)", "mm", 1),
        Output("bend", "Second panel out of line by", "°", 1),
        Output("radius_low", "Structural fillet, minimum radius", "mm", 1),
        Output("radius_high", "Structural fillet, maximum radius", "mm", 1),
    ),
    source=(
        Source("section, leg, throat: plane geometry of a circle tangent to two lines, confirmed by quadrature (scipy)",
            "computed"),
        Source("density: rule of mixtures over the table of fillers with epoxy at 1.10 g/mL; typical: use your own", "computed"),
        _HABIT,
        _SLOPE,
        BIG_POT_SOURCE,
    ),
    valid="A circular fillet tangent to two flat panels, included angle 5° to 175°. Near 0°, air stays trapped at the root; "
    "near 180°, one degree changes the section by 10 % or more. Allow extra for mix that soaks into bare end grain or fills a "
    "gap at the root.",
    examples=(
        Example({"length": "4.8 m", "radius": "12 mm", "angle": "90°", "density": "1.15 g/mL", "loss": "15 %"}, {"section": 30.90,
            "volume": 148.3, "mix": 196, "leg": 12}, Source("worked example, section by numerical integration (scipy 1.17 quad)",
            "computed"), rel=2e-3),
        Example({"length": "1 m", "radius": "15 mm", "angle": "60°"}, {"section": 154.092, "volume": 154.092, "leg": 25.9808,
            "throat": 15.0},
            Source("area by numerical integration (scipy 1.17 quad); leg r√3 and throat r of an equilateral corner", "computed"),
            rel=1e-4),
        Example({"length": "2.4 m", "radius": "20 mm"}, {"section": 85.841, "volume": 206.02},
            Source("spandrel of a quarter circle, (1 − π/4)r²: elementary geometry", "computed"), rel=1e-4),
    ),
    asked=("length", "radius", "angle"),
    compute=_compute, pictures=(_picture,), thresholds=(_CLOTH_LEAST, _CLOTH_SURE, _SHEET_LOW, _SHARP, _FLAT, _BIG_POT),
)  # fmt: skip
