"""How far a cartridge of adhesive goes as a bead of a given section, and how many cartridges a run takes."""

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
"""Adhesive lost in the nozzle, the first squeeze and scraping off, in % of what is laid (common practice)."""

_GEOMETRY = Source("Elementary geometry: length = volume / section", "computed")
_CONTINUITY = Source("Continuity of volume: bore² × speed of the gun = diameter² × speed of the hand", "computed")
_HABIT = Source(
    f"Waste {USUAL_WASTE}; under 5 % to spare is tight, as a bead is not laid more evenly; it heaps up above 2.5 times the speed "
    "of the hand; a cartridge gun lays up to 50 mm",
    "common practice",
)

_TIGHT = Threshold(0.05, "", _HABIT, "Tight:", "", "10.07 m", "10.09 m", "length")
"""Spare under this fraction of one cartridge is called tight."""

_STRETCHED = Threshold(1.0, "", _CONTINUITY, "outruns the adhesive", "", "6 mm", "5.99 mm", "diameter", {"nozzle": "6 mm"})
_HEAPED = Threshold(2.5, "", _HABIT, "heaps up in folds", "", "9.48 mm", "9.49 mm", "diameter", {"nozzle": "6 mm"})
"""Speed of the adhesive over that of the hand under which the bead is pulled thin, and over which it heaps up in folds."""

_THICKEST = Threshold(50.0, "mm", _HABIT, "it lays a bead of", "", "1", "1.01", "push", {"nozzle": "50 mm", "diameter": ""})
"""Diameter over which a bead is none that a cartridge gun lays."""


def _section(shape: str, diameter: Quantity | None, base: Quantity | None, height: Quantity | None) -> tuple[float, str]:
    """Return the section in mm² and its working line; InputError when the sizes do not belong to the shape."""
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
        *missing({"base": base}, "nothing given", f"give the base of the {shape}"),
        *missing({"height": height}, "nothing given", f"give the height of the {shape}"),
        *given({"diameter": diameter}, what, "leave it empty, or choose shape=round"),
    )
    assert base is not None
    assert height is not None
    b, h = base.value_in("mm"), height.value_in("mm")
    if shape == "triangle":
        return b * h / 2, f"section = base × height / 2 = {b:g} × {h:g} / 2 = {b * h / 2:.2f} mm²"
    return b * h, f"section = base × height = {b:g} × {h:g} = {b * h:.2f} mm²"


def _half_round(width: Quantity | None, height: Quantity | None, *, twice: bool) -> tuple[float, str]:
    """Return section and working line of a bead with a flat side `width` wide, which is to be given once."""
    if width is None or twice:
        what = "base and diameter are the same thing on a half-round bead" if twice else "nothing given"
        raise InputError(FieldProblem("base", what, "give the width of the flat side as base alone"))
    b = width.value_in("mm")
    # A flattened half-round is half an ellipse: π/4 × base × height, which is π/8 × base² when height is base/2.
    h = b / 2 if height is None else height.value_in("mm")
    area = math.pi * b * h / 4
    return area, f"section = π × base × height / 4 = π × {b:g} × {h:g} / 4 = {area:.2f} mm²"


def laid_diameter(bore: float, push: float) -> float:
    """Return the diameter in mm of the round bead from a nozzle of `bore` mm; both above 0.

    `push` is the speed at which the adhesive leaves the nozzle over the speed of the hand. What leaves is what is laid:
    bore² × push = diameter² (continuity of volume [computed]).
    """
    return bore * math.sqrt(push)


def _from_nozzle(diameter: Quantity | None, shape: str, nozzle: Quantity | None, push: Quantity | None) -> Quantity | None:
    """Return the diameter given, or that of the bead which nozzle and push lay; InputError where they do not go together."""
    if push is None:
        return diameter
    problems = []
    if nozzle is None:
        problems.append(FieldProblem("nozzle", "nothing given beside push", "give the bore of the nozzle too"))
    if shape != "round":
        problems.append(FieldProblem("push", f"it gives no {shape}", "leave it empty, or choose shape=round"))
    elif diameter is not None:
        problems.append(FieldProblem("push", "given beside diameter", "leave one of them empty: it follows from the other"))
    if nozzle is None or problems:
        raise InputError(*problems)
    laid = laid_diameter(nozzle.value_in("mm"), push.value_in(""))
    if laid > _THICKEST.value:
        fix = f"give a smaller bore or push, for a bead of {_THICKEST.value:g} mm or less"
        raise InputError(FieldProblem("push", f"with that bore it lays a bead of {laid:.0f} mm", fix))
    return Quantity(laid, "mm")


def _pushed(section: float, bore: float) -> tuple[float, str, list[str]]:
    """Return how much faster than the hand the adhesive leaves a bore in mm for a section in mm², the working and cautions."""
    opening = math.pi * bore**2 / 4
    push = section / opening
    line = (
        f"push = section ÷ bore = {sig(section)}/{sig(opening)} mm² = {sig(push, 3)}: the adhesive leaves the nozzle "
        f"{sig(push, 3)} times as fast as the hand moves"
    )
    if push < _STRETCHED.value * (1 - NOISE):  # A bead as wide as the bore is not pulled, whatever the last digit of a float.
        return (
            push,
            line,
            ["The hand outruns the adhesive and pulls the bead thin, so that it tears off: cut the nozzle smaller."],
        )
    if push > _HEAPED.value:
        said = f"The adhesive comes {sig(push, 3)} times as fast as the hand moves and heaps up in folds that hold air"
        return push, line, [f"{said} (common practice): cut the nozzle bigger, or lay two beads."]
    return push, line, []


def _round_problems(diameter: Quantity | None, base: Quantity | None, height: Quantity | None) -> list[FieldProblem]:
    other = "choose shape=half-round, triangle or rectangle"
    if diameter is None and base is None and height is None:
        return [FieldProblem("diameter", "nothing given", f"give the diameter of the bead, or base and height and {other}")]
    if diameter is None:
        return [
            FieldProblem("shape", "a round bead has a diameter, not a base and a height", f"{other}, or give diameter instead")
        ]
    fix = f"leave it empty, or leave diameter empty and {other}"
    return [
        *given({"base": base}, "a round bead has no base beside its diameter", fix),
        *given({"height": height}, "a round bead has no height beside its diameter", fix),
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
            f"No waste counted. Nozzle, first squeeze and scraping take {USUAL_WASTE} (common practice): count 10 % waste."
        )
    if cartridges - share < _TIGHT.value:
        cautions.append(
            f"Tight: {cartridges} would leave only {(cartridges - share) * content:.0f} mL. "
            f"A bead 5 % thicker takes 10 % more: keep one more at hand, a run should not stop half-way."
        )
    return Answer(
        {**values, "volume": volume, "volume_needed": needed, "cartridges": cartridges, "spare": (cartridges - share) * content},
        tuple(working),
        tuple(cautions),
    )


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture:
    """Return the section of the bead as it is laid on a surface, in mm."""
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
    labels = [Label("wide", (0.0, 0.5 * h), across), *([Label("high", (0.0, 0.85 * h), up)] if up else [])]
    return Picture(
        (Shape(rectangle(-0.8 * b, -ground, 0.8 * b, 0.0), "surface", "hatch"), Shape(outlines[shape], "adhesive", "solid")),
        tuple(labels),
        f"A {shape} bead {both(across)} wide{f' and {both(up)} high' if up else ''}: {both(section)} of adhesive.",
        (-0.8 * b, -ground),
        (0.8 * b, 1.1 * h),
        least=0.5 * h,
    )


_SIDE = Measure("mm", low=0.1, high=200, soft_low=2, soft_high=50)

CALCULATOR = Calculator(
    name="bead", title="Bead of adhesive",
    inputs=(
        Field("cartridge", "Cartridge", Measure("mL", low=1, high=5000, soft_low=20, soft_high=1000), "Volume printed on it.",
            required=True),
        Field("diameter", "Bead diameter", Measure("mm", low=0.1, high=_THICKEST.value, soft_low=2, soft_high=20),
            "Of a round bead; cut the nozzle at 45° to about this bore (common practice)."),
        Field("base", "Bead base", _SIDE, "Width on the surface, for every shape but round."),
        Field("height", "Bead height", _SIDE,
            "Height above the surface, for a triangle or rectangle (half-round: half the base)."),
        Field("shape", "Shape", Choice(("round", "half-round", "triangle", "rectangle")), "Section as it is laid.",
            default="round"),
        Field("length", "Length of run", Measure("m", low=0.001, high=10000, soft_high=200), "All beads together."),
        Field("waste", "Waste", Measure("%", low=0, high=200, soft_high=50),
            f"Lost on top of what is laid: {USUAL_WASTE} (common practice)."),
        Field("nozzle", "Bore of the nozzle", Measure("mm", low=0.5, high=50, soft_low=2, soft_high=20),
            "Across the opening as cut: tells how fast the gun is to push."),
        Field("push", "Gun speed ÷ hand speed", Measure("", low=0.1, high=20),
            "In place of diameter: length pushed out into the air over length of joint passed in the same time."),
    ),
    outputs=(
        Output("length_per_cartridge", "Length per cartridge", "m", 2),
        Output("cartridges", "Cartridges", "", 0),
        Output("section", "Section", "mm²"),
        Output("length_after_waste", "Length per cartridge, waste taken off", "m", 2),
        Output("volume", "Volume laid", "mL", 0),
        Output("volume_needed", "Volume with waste", "mL", 0),
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
    valid="Exact for an even bead. Use goes with the square of the diameter: a bead 20 % thicker takes 44 % more.",
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
