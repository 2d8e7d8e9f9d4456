"""A bevelled edge and the compound mitre of sloping sides: face width, offset, and the mitre and blade settings."""

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
"""How far most blades tilt and most mitre saws swing from square."""

_OPENS = 0.25
"""Error in degrees of one cut set carefully by the saw's scale [common practice]."""

_GEOMETRY = Source("Elementary geometry: face = t / cos b, offset = t tan b", "computed")
_COMPOUND = Source(
    "Compound mitre of equal sloping sides, atan(cos s tan(180°/n)) and asin(sin s sin(180°/n)): woodworkers' newsgroup, 2003; "
    "confirmed by vectors in the tests",
    "read",
)


def _compute(*, thickness: Quantity, angle: Quantity | None, slope: Quantity | None, sides: int) -> Answer:
    if angle is None and slope is None:
        raise InputError(FieldProblem("angle", "nothing entered", "enter the bevel from square, or the slope of the sides"))
    t = thickness.value_in("mm")
    # A side that slopes s from level leans 90° − s from plumb, so its rims need that bevel to be level.
    bevel = angle.value_in("°") if angle is not None else 90 - slope.value_in("°") if slope is not None else 0.0
    steep = slope.value_in("°") if slope is not None else 90 - bevel
    b, s, share = math.radians(bevel), math.radians(steep), math.pi / sides
    face, offset = t / math.cos(b), t * math.tan(b)
    mitre = math.degrees(math.atan(math.cos(s) * math.tan(share)))
    joint = math.degrees(math.asin(math.sin(s) * math.sin(share)))
    working = (
        f"face = t / cos b = {sig(t)} / cos {sig(bevel)}° = {face:.2f} mm",
        f"offset = t × tan b = {sig(t)} × tan {sig(bevel)}° = {offset:.2f} mm, from the long point to the short one",
        f"sides slope {sig(steep)}° from level" + ("" if slope is not None else " = 90° − b: edges bevelled by b end up level"),
        f"mitre = atan(cos s × tan(180°/n)) = atan(cos {sig(steep)}° × tan(180°/{sides})) = {mitre:.2f}° from square, on the "
        "face",
        f"blade = asin(sin s × sin(180°/n)) = asin(sin {sig(steep)}° × sin(180°/{sides})) = {joint:.2f}° through the thickness",
        f"sides meet at 180° − 2 × {joint:.2f}° = {180 - 2 * joint:.2f}°, measured square to the joint",
        f"an error of {_OPENS:g}° at each of {2 * sides} cuts opens the last joint by {2 * sides * _OPENS:g}°: try it on "
        "offcuts first",
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
            f"{sig(tilt)}° is more than most blades tilt ({_BLADE_TILT.value:g}°, common practice): plane it to a line, or use "
            "a jig that holds the piece as the saw's manual allows. Never hold the piece by hand."
        )
    if mitre > _SAW_SWING.value:
        said.append(
            f"{sig(mitre)}° is more than most mitre saws swing ({_SAW_SWING.value:g}°, common practice): mark the line and cut "
            "along a clamped guide."
        )
    return tuple(said)


CALCULATOR = Calculator(
    name="bevel", title="Saw settings for a bevel or sloping sides, in degrees",
    inputs=(
        Field("thickness", "Thickness", Measure("mm", low=0.1, high=500, soft_low=3, soft_high=100), "Thickness of the piece, "
            "measured square to the face.",
            required=True),
        Field("angle", "Bevel from square", Measure("°", low=0, high=80, soft_high=60),
            "0° is a square edge. Or enter the slope of the sides."),
        Field("slope", "Slope of the sides", Measure("°", low=10, high=90, soft_low=30),
            "From level; 90° is plumb. Blank: 90° minus the bevel."),
        Field("sides", "Number of sides of the box", Count(3, 24), "All with the same slope and equal corners.", default="4"),
    ),
    outputs=(
        Output("face", "Width of the bevelled face", "mm", 2),
        Output("offset", "Long point past short point", "mm", 2),
        Output("mitre", "Mitre on the face", "°", 1),
        Output("blade", "Blade tilt at the mitre", "°", 1),
        Output("corner", "Angle between the sides", "°", 1),
        Output("slope", "Slope of the sides", "°", 1),
        Output("opens", "Gap angle at the last joint if every cut is slightly off", "°", 2),
    ),
    source=(_GEOMETRY, _COMPOUND, _SAWS),
    valid="For a flat bevel of 0° to 80° from square; above that, one degree changes the face width by 10 % or more. Mitre and "
    "blade are for a closed ring of 3 to 24 equal sides with the same slope, cut flat on the saw; both angles are measured from "
    "a square cut. At 90° (plumb) the mitre is all blade tilt; towards 0° it is all swing.",
    examples=(
        Example({"thickness": "18 mm", "angle": "15°"}, {"face": 18.635, "offset": 4.8231}, _GEOMETRY, rel=1e-4),
        Example({"thickness": "18 mm", "slope": "60°", "sides": "4"}, {"mitre": 26.565, "blade": 37.761},
            Source("compound mitre formulas worked out for four sides at 60°", "computed"), rel=1e-4),
        Example({"thickness": "3/4 in", "angle": "38°"}, {"mitre": 31.6, "blade": 33.9},
            Source("Trade table of saw settings for sloping mouldings, 52° from level round a square corner", "read"), abs=0.05),
        Example({"thickness": "3/4 in", "angle": "45°"}, {"mitre": 35.3, "blade": 30.0},
            Source("Trade table of saw settings for sloping mouldings, 45° from level round a square corner", "read"), abs=0.05),
    ),
    asked=("thickness", "angle", "sides"),
    compute=_compute, thresholds=(_BLADE_TILT, _SAW_SWING),
)  # fmt: skip
