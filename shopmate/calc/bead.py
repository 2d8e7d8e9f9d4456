"""Length of bead per cartridge of adhesive, and how many cartridges a joint needs."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Stock, Threshold, Value
from shopmate.errors import FieldProblem, InputError
from shopmate.models.constants import NOISE
from shopmate.models.fields import given, missing, refuse, round_up
from shopmate.picture import Label, Picture, Shape, arc, both, rectangle, size
from shopmate.units import Quantity
from shopmate.units import significant as sig

USUAL_WASTE = "10 to 15 %"
"""Adhesive lost in the nozzle, on the first squeeze and in scraping off, in % of what is laid (common practice)."""

_GEOMETRY = Source("Elementary geometry: length = volume / section", "computed")
_CONTINUITY = Source("Continuity of volume: bore² × speed of the gun = diameter² × speed of the hand", "computed")
_HABIT = Source(
    f"Waste {USUAL_WASTE}; less than 5 % to spare is tight, because nobody lays a bead more evenly than that; above 2.5 times "
    "the hand's speed the bead heaps up; a cartridge gun lays up to 50 mm",
    "common practice",
)

_TIGHT = Threshold(0.05, "", _HABIT, "Tight:", "", "10.07 m", "10.09 m", "length")
"""Less spare than this fraction of one cartridge is called tight."""

_STRETCHED = Threshold(1.0, "", _CONTINUITY, "faster than the gun feeds", "", "6 mm", "5.99 mm", "diameter", {"nozzle": "6 mm"})
_HEAPED = Threshold(2.5, "", _HABIT, "heaps up in folds", "", "9.48 mm", "9.49 mm", "diameter", {"nozzle": "6 mm"})
"""Adhesive speed ÷ hand speed: below the first the bead is stretched thin, above the second it heaps up in folds."""

_THICKEST = Threshold(50.0, "mm", _HABIT, "the bead would be", "", "1", "1.01", "push", {"nozzle": "50 mm", "diameter": ""})
"""Thickest bead a cartridge gun lays."""


def _section(shape: str, diameter: Quantity | None, base: Quantity | None, height: Quantity | None) -> tuple[float, str]:
    """Return the section in mm² and its working line; InputError where the sizes do not suit the shape."""
    if shape == "round":
        if diameter is None or base is not None or height is not None:
            raise InputError(*_round_problems(diameter, base, height))
        d = diameter.value_in("mm")
        area = math.pi * d**2 / 4
        return area, f"section = π × diameter² / 4 = π × {d:g}² / 4 = {area:.2f} mm²"
    if shape == "half-round":
        return _half_round(base if base is not None else diameter, height, twice=base is not None and diameter is not None)
    what = f"a {shape} has no diameter"
    refuse(
        *missing({"base": base}, "still blank", f"enter the base of the {shape}"),
        *missing({"height": height}, "still blank", f"enter the height of the {shape}"),
        *given({"diameter": diameter}, what, "clear it, or choose the round shape"),
    )
    assert base is not None
    assert height is not None
    b, h = base.value_in("mm"), height.value_in("mm")
    if shape == "triangle":
        return b * h / 2, f"section = base × height / 2 = {b:g} × {h:g} / 2 = {b * h / 2:.2f} mm²"
    return b * h, f"section = base × height = {b:g} × {h:g} = {b * h:.2f} mm²"


def _half_round(width: Quantity | None, height: Quantity | None, *, twice: bool) -> tuple[float, str]:
    """Return section in mm² and working line of a half-round bead `width` wide; InputError if the width is missing or entered
    twice."""
    if width is None or twice:
        what = "on a half-round bead, base and diameter are the same" if twice else "still blank"
        raise InputError(FieldProblem("base", what, "enter the width of the flat side as the base, and no diameter"))
    b = width.value_in("mm")
    # A flattened half-round is half an ellipse: π/4 × base × height, which is π/8 × base² when height is base/2.
    h = b / 2 if height is None else height.value_in("mm")
    area = math.pi * b * h / 4
    return area, f"section = π × base × height / 4 = π × {b:g} × {h:g} / 4 = {area:.2f} mm²"


def laid_diameter(bore: float, push: float) -> float:
    """Return the diameter in mm of the round bead from a nozzle of `bore` mm; both above 0.

    `push` is the speed of the adhesive leaving the nozzle ÷ the speed of the hand. What leaves is what is laid:
    bore² × push = diameter² (continuity of volume [computed]).
    """
    return bore * math.sqrt(push)


def _from_nozzle(diameter: Quantity | None, shape: str, nozzle: Quantity | None, push: Quantity | None) -> Quantity | None:
    """Return the diameter entered or worked out from nozzle and push; InputError where they contradict one another."""
    if push is None:
        return diameter
    problems = []
    if nozzle is None:
        problems.append(FieldProblem("nozzle", "needed to work out the bead", "enter the nozzle bore too"))
    if shape != "round":
        problems.append(
            FieldProblem(
                "push", f"this gives a round bead, not a {_SHAPED.get(shape, shape)} one", "clear it, or choose the round shape"
            )
        )
    elif diameter is not None:
        problems.append(FieldProblem("push", "the diameter is entered too", "clear one of the two: one follows from the other"))
    if nozzle is None or problems:
        raise InputError(*problems)
    laid = laid_diameter(nozzle.value_in("mm"), push.value_in(""))
    if laid > _THICKEST.value:
        fix = f"enter a smaller bore or a lower gun speed, for a bead of {_THICKEST.value:g} mm or less"
        raise InputError(FieldProblem("push", f"with that bore the bead would be {laid:.0f} mm", fix))
    return Quantity(laid, "mm")


def _pushed(section: float, bore: float) -> tuple[float, str, list[str]]:
    """Return adhesive speed ÷ hand speed for a bead of `section` mm² from a bore in mm, with its working line and cautions."""
    opening = math.pi * bore**2 / 4
    push = section / opening
    line = (
        f"push = section ÷ bore = {sig(section)}/{sig(opening)} mm² = {sig(push, 3)}: the adhesive leaves the nozzle "
        f"{sig(push, 3)} times as fast as the hand moves"
    )
    if push < _STRETCHED.value * (1 - NOISE):  # A bead exactly as wide as the bore is not stretched.
        return (
            push,
            line,
            [
                "For this bead your hand moves faster than the gun feeds, which stretches the bead until it breaks: cut the "
                "nozzle smaller."
            ],
        )
    if push > _HEAPED.value:
        said = f"The adhesive comes out {sig(push, 3)} times as fast as the hand moves, heaps up in folds and traps air"
        return push, line, [f"{said} (common practice): cut the nozzle bigger, or lay two beads."]
    return push, line, []


def _round_problems(diameter: Quantity | None, base: Quantity | None, height: Quantity | None) -> list[FieldProblem]:
    other = "choose the shape: half-round, triangle or rectangle"
    if diameter is None and base is None and height is None:
        return [FieldProblem("diameter", "still blank", f"enter the bead diameter, or enter base and height and {other}")]
    if diameter is None:
        return [
            FieldProblem(
                "shape", "a round bead has a diameter, not a base and a height", f"{other}, or enter the diameter instead"
            )
        ]
    fix = f"clear it, or clear the diameter and {other}"
    return [
        *given({"base": base}, "a round bead has a diameter, no base", fix),
        *given({"height": height}, "a round bead has a diameter, no height", fix),
    ]


def _compute(
    cartridge: Quantity,
    diameter: Quantity | None,
    base: Quantity | None,
    height: Quantity | None,
    shape: str,
    length: Quantity | None,
    waste: Quantity | None,
    nozzle: Quantity | None,
    push: Quantity | None,
) -> Answer:
    diameter = _from_nozzle(diameter, shape, nozzle, push)
    section, line = _section(shape, diameter, base, height)
    content = cartridge.value_in("mL")
    lost = 0.0 if waste is None else waste.value_in("%") / 100
    reach = content / section  # mL / mm² = 1000 mm³ / mm² = m
    working = [line, f"length per cartridge = cartridge / section = {content:.1f} mL / {section:.2f} mm² = {reach:.2f} m"]
    if lost:
        working.append(f"after waste: {reach:.2f} m / {1 + lost:.2f} = {reach / (1 + lost):.2f} m")
    cautions: list[str] = []
    pushed = None
    if nozzle is not None:
        bore = nozzle.value_in("mm")
        if push is not None and diameter is not None:
            laid = diameter.value_in("mm")
            working.insert(0, f"diameter = bore × √push = {bore:g} × √{push.value_in(''):g} = {laid:.2f} mm")
        pushed, how, cautions = _pushed(section, bore)
        working.append(how)
    values: dict[str, Value | float | None] = {
        "diameter": diameter if shape == "round" else None,
        "push": pushed,
        "section": section,
        "length_per_cartridge": reach,
        "length_after_waste": reach / (1 + lost),
    }
    if length is None:
        return Answer(values | dict.fromkeys(("volume", "volume_needed", "cartridges", "spare")), tuple(working), tuple(cautions))

    run = length.value_in("m")
    volume = section * run
    needed = volume * (1 + lost)
    share = needed / content
    cartridges = round_up(share)
    working += [
        f"volume = section × length = {section:.2f} mm² × {run:g} m = {volume:.1f} mL",
        f"needed = volume × (1 + waste) = {volume:.1f} × {1 + lost:.2f} = {needed:.1f} mL",
        f"cartridges = {needed:.1f} / {content:.1f} = {share:.2f}, so {cartridges}",
    ]
    if waste is None:
        cautions.append(
            f"Waste is not counted here. Nozzle, first squeeze and scraping lose {USUAL_WASTE} (common practice): enter 10 %."
        )
    if cartridges - share < _TIGHT.value:
        cautions.append(
            f"Tight: {cartridges} would leave only {(cartridges - share) * content:.0f} mL, and a bead 5 % thicker uses 10 % "
            "more. Have a spare cartridge ready, so you don't have to stop halfway."
        )
    return Answer(
        {**values, "volume": volume, "volume_needed": needed, "cartridges": cartridges, "spare": (cartridges - share) * content},
        tuple(working),
        tuple(cautions),
    )


_SHAPED = {"triangle": "triangular", "rectangle": "rectangular"}
"""Adjectives for the shapes whose name is a noun."""


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture:
    """Return a drawing of the bead's section on the surface it is laid on, in mm."""
    shape, section = str(inputs["shape"]), size(outputs, "section")
    across = size(inputs, "base") or size(inputs, "diameter") or size(outputs, "diameter")
    assert across is not None
    assert section is not None
    b = across.value_in("mm")
    up = size(inputs, "height")
    h = up.value_in("mm") if up else b if shape == "round" else b / 2
    outlines = {
        "round": arc((0.0, b / 2), b / 2, 0, 360),
        "half-round": arc((0.0, 0.0), b / 2, 0, 180, height=h),
        "triangle": ((-b / 2, 0.0), (b / 2, 0.0), (0.0, h)),
        "rectangle": rectangle(-b / 2, 0.0, b / 2, h),
    }
    ground = 0.25 * h
    labels = [Label("width", (0.0, 0.5 * h), across), *([Label("height", (0.0, 0.85 * h), up)] if up else [])]
    return Picture(
        (Shape(rectangle(-0.8 * b, -ground, 0.8 * b, 0.0), "surface", "hatch"), Shape(outlines[shape], "adhesive", "solid")),
        tuple(labels),
        f"A {_SHAPED.get(shape, shape)} bead {both(across)} wide{f' and {both(up)} high' if up else ''}, "
        f"section {both(section)}.",
        (-0.8 * b, -ground),
        (0.8 * b, 1.1 * h),
        least=0.5 * h,
    )


_SIDE = Measure("mm", low=0.1, high=200, soft_low=2, soft_high=50)

CALCULATOR = Calculator(
    name="bead", title="Adhesive bead: length per cartridge, cartridges needed",
    inputs=(
        Field("cartridge", "Cartridge volume", Measure("mL", low=1, high=5000, soft_low=20, soft_high=1000),
            "The volume printed on it.", required=True),
        Field("diameter", "Bead diameter", Measure("mm", low=0.1, high=_THICKEST.value, soft_low=2, soft_high=20),
            "For a round bead. Cut the nozzle at 45° to about this bore (common practice)."),
        Field("base", "Bead base", _SIDE, "Width on the surface, for any shape but round."),
        Field("height", "Bead height", _SIDE,
            "Height above the surface. Needed for a triangle or rectangle; blank for half-round means half the base."),
        Field("shape", "Bead shape", Choice(("round", "half-round", "triangle", "rectangle")),
            "The bead's section as you lay it, before you press it.", default="round"),
        Field("length", "Bead length", Measure("m", low=0.001, high=10000, soft_high=200), "Add up all the beads."),
        Field("waste", "Waste", Measure("%", low=0, high=200, soft_high=50),
            f"What is lost on top of what you lay: {USUAL_WASTE} (common practice)."),
        Field("nozzle", "Nozzle bore", Measure("mm", low=0.5, high=50, soft_low=2, soft_high=20),
            "Measure across the cut opening. Enter this to see how fast to feed the gun."),
        Field("push", "Gun speed ÷ hand speed", Measure("", low=0.1, high=20),
            "Instead of the diameter, enter the length of bead the gun pushes into the air ÷ the length of joint"
            " you cover in the same time."),
    ),
    outputs=(
        Output("length_per_cartridge", "Length per cartridge", "m", 2),
        Output("cartridges", "Cartridges needed", "", 0),
        Output("section", "Bead section", "mm²"),
        Output("length_after_waste", "Length per cartridge after waste", "m", 2),
        Output("volume", "Volume laid", "mL", 0),
        Output("volume_needed", "Volume needed, waste included", "mL", 0),
        Output("diameter", "Bead diameter", "mm"),
        Output("push", "Gun speed ÷ hand speed", "", 2),
        Output("spare", "Left in the last cartridge", "mL", 0),
    ),
    source=(
        _GEOMETRY,
        Source("Sealant distributor's technical note: yield in ft = cartridge in in³ / (12 × width × depth in in)", "read"),
        _CONTINUITY,
        _HABIT,
    ),
    valid="Exact for a uniform bead. Adhesive used grows with the square of the diameter: a bead 20 % thicker uses 44 % more.",
    examples=(
        Example({"cartridge": "300 mL", "diameter": "6 mm"}, {"length_per_cartridge": 10.61}, _GEOMETRY, rel=0.003),
        Example({"cartridge": "300 mL", "nozzle": "4 mm", "push": "2.25"}, {"diameter": 6.0, "length_per_cartridge": 10.61},
            Source("Continuity of volume: 4² × 2.25 = 6²", "computed"), rel=0.003),
        Example({"cartridge": "18 in³", "base": "1/4 in", "height": "1/4 in", "shape": "rectangle"},
            {"length_per_cartridge": 24 * 0.3048},
            Source("Sealant distributor's technical note: 18 in³ at 1/4 × 1/4 in is 18 / (12 × 1/16) = 24 ft", "read"), rel=1e-9),
        Example({"cartridge": "10.1 fl oz", "diameter": "1/4 in"}, {"length_per_cartridge": 30.944 * 0.3048},
            Source("Elementary geometry with 1 US fl oz = 1.80469 in³ (231/128 exactly): 30.944 ft", "computed"), rel=1e-4),
        Example({"cartridge": "300 mL", "base": "25 mm", "height": "1 mm", "shape": "rectangle", "length": "14.4 m",
            "waste": "10 %"}, {"volume_needed": 396.0, "cartridges": 2}, _GEOMETRY),
    ),
    asked=("diameter", "length"), stock=Stock("adhesive", {"cartridge": "cartridge"}),
    compute=_compute, pictures=(_picture,), thresholds=(_TIGHT, _STRETCHED, _HEAPED, _THICKEST),
)  # fmt: skip
