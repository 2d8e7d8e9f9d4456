"""A bevelled edge and the compound mitre of sloping sides: face width, offset, and how saw and blade are set."""

from __future__ import annotations

import math

from shopmate.calculator import Answer, Calculator, Count, Example, Field, Measure, Output, Source, Threshold
from shopmate.errors import FieldProblem, InputError
from shopmate.models.constants import NOISE
from shopmate.units import Quantity
from shopmate.units import significant as sig

_SAWS = Source("Blades tilt to 45°, mitre saws swing to 50°", "common practice")

_BLADE_TILT = Threshold(45.0, "°", _SAWS, "more than most blades tilt", "angle", "45°", "45.1°")
_SAW_SWING = Threshold(
    50.0, "°", _SAWS, "more than most mitre saws swing", "mitre", "46.6°", "46.4°", "slope", {"angle": "", "sides": "3"}
)
"""How far blades commonly tilt and mitre saws commonly swing from square."""

_OPENS = 0.25
"""Error in degrees of one cut that a careful hand reads off a saw's scale [common practice]."""

_GEOMETRY = Source("Elementary geometry: face = t / cos b, offset = t tan b", "computed")
_COMPOUND = Source(
    "Compound mitre of equal sloping sides, atan(cos s tan(180°/n)) and asin(sin s sin(180°/n)): woodworkers' newsgroup, 2003; "
    "confirmed by vectors in the tests",
    "read",
)


def _compute(*, thickness: Quantity, angle: Quantity | None, slope: Quantity | None, sides: int) -> Answer:
    if angle is None and slope is None:
        raise InputError(FieldProblem("angle", "nothing given", "give the bevel from square, or the slope of the sides"))
    t = thickness.value_in("mm")
    # A side that slopes s from level leans 90° − s from plumb, and its rims are bevelled by that to lie level.
    bevel = angle.value_in("°") if angle is not None else 90 - slope.value_in("°") if slope is not None else 0.0
    steep = slope.value_in("°") if slope is not None else 90 - bevel
    b, s, share = math.radians(bevel), math.radians(steep), math.pi / sides
    face, offset = t / math.cos(b), t * math.tan(b)
    mitre = math.degrees(math.atan(math.cos(s) * math.tan(share)))
    joint = math.degrees(math.asin(math.sin(s) * math.sin(share)))
    working = (
        f"face = t / cos b = {sig(t)} / cos {sig(bevel)}° = {face:.2f} mm",
        f"offset = t × tan b = {sig(t)} × tan {sig(bevel)}° = {offset:.2f} mm, from the long to the short point",
        f"sides slope {sig(steep)}° from level" + ("" if slope is not None else " = 90° − b: rims bevelled by b lie level"),
        f"mitre = atan(cos s × tan(180°/n)) = atan(cos {sig(steep)}° × tan(180°/{sides})) = {mitre:.2f}° on the face",
        f"blade = asin(sin s × sin(180°/n)) = asin(sin {sig(steep)}° × sin(180°/{sides})) = {joint:.2f}° through the thickness",
        f"sides meet at 180° − 2 × {joint:.2f}° = {180 - 2 * joint:.2f}°, measured square to the joint",
        f"{_OPENS:g}° off at each of {2 * sides} cuts opens the last joint by {2 * sides * _OPENS:g}°: try it in offcuts first",
    )
    return Answer(
        {
            "face": face,
            "offset": offset,
            "mitre": mitre,
            "blade": joint,
            "corner": 180 - 2 * joint,
            "slope": steep,
            "opens": 2 * sides * _OPENS,
        },
        working,
        _cautions(bevel, mitre, joint),
    )


def _cautions(bevel: float, mitre: float, blade: float) -> tuple[str, ...]:
    said = []
    tilt = max(bevel, blade)
    if tilt > _BLADE_TILT.value * (1 + NOISE):
        said.append(
            f"{sig(tilt)}° is more than most blades tilt ({_BLADE_TILT.value:g}°, common practice): plane it to a line, "
            "or use a guide that holds the piece as the saw's manual allows. Never steady it by hand."
        )
    if mitre > _SAW_SWING.value:
        said.append(
            f"{sig(mitre)}° is more than most mitre saws swing ({_SAW_SWING.value:g}°, common practice): mark the line and cut "
            "along a clamped guide."
        )
    return tuple(said)


CALCULATOR = Calculator(
    name="bevel", title="Bevelled edge and sloping sides",
    inputs=(
        Field("thickness", "Thickness", Measure("mm", low=0.1, high=500, soft_low=3, soft_high=100), "Square to the face.",
            required=True),
        Field("angle", "Bevel from square", Measure("°", low=0, high=80, soft_high=60),
            "0° is a square edge. Or give the slope."),
        Field("slope", "Slope of the sides", Measure("°", low=10, high=90, soft_low=30),
            "From level: 90° stands plumb. Empty: what the bevel makes, 90° less it."),
        Field("sides", "Sides of the box", Count(3, 24), "All of one slope, equal in plan angle.", default="4"),
    ),
    outputs=(
        Output("face", "Width of the bevelled face", "mm", 2),
        Output("offset", "Long point beyond short", "mm", 2),
        Output("mitre", "Mitre on the face", "°", 2),
        Output("blade", "Blade tilt at the mitre", "°", 2),
        Output("corner", "Sides meet at", "°", 2),
        Output("slope", "Slope of the sides", "°", 2),
        Output("opens", "Last joint open where each cut is a little off", "°", 2),
    ),
    source=(_GEOMETRY, _COMPOUND, _SAWS),
    valid="A flat bevel of 0° to 80° from square: beyond, a degree changes the face by a tenth or more. Mitre and blade for a "
    "closed ring of 3 to 24 equal sides that slope alike, pieces lying flat on the saw; settings count from a square cut. "
    "Slope 90° (plumb) gives a plain mitre by the blade alone, toward 0° one by the swing alone.",
    examples=(
        Example({"thickness": "18 mm", "angle": "15°"}, {"face": 18.635, "offset": 4.8231}, _GEOMETRY, rel=1e-4),
        Example({"thickness": "18 mm", "slope": "60°", "sides": "4"}, {"mitre": 26.565, "blade": 37.761},
            Source("Formulas of the compound mitre worked with four sides at 60°", "computed"), rel=1e-4),
        Example({"thickness": "3/4 in", "angle": "38°"}, {"mitre": 31.6, "blade": 33.9},
            Source("Trade table of saw settings for sloping mouldings, 52° from level round a square corner", "read"), abs=0.05),
        Example({"thickness": "3/4 in", "angle": "45°"}, {"mitre": 35.3, "blade": 30.0},
            Source("Trade table of saw settings for sloping mouldings, 45° from level round a square corner", "read"), abs=0.05),
    ),
    asked=("thickness", "angle", "sides"),
    compute=_compute, thresholds=(_BLADE_TILT, _SAW_SWING),
)  # fmt: skip
