"""A rounded edge or cove: section and volume, the cloth to wrap it, the mitre of its bars, and darts where it turns a corner."""

from __future__ import annotations

import math

from shopmate.calculator import Answer, Calculator, Count, Example, Field, Measure, Output, Source, Threshold
from shopmate.errors import FieldProblem, InputError
from shopmate.models.fields import round_up
from shopmate.units import Quantity
from shopmate.units import significant as sig

_HABIT = Source(
    "Plain glass cloth of 200 g/m² does not turn an edge under 6 mm and lies down from 10 mm, heavier cloth needs more, cut on "
    "the bias less; a dart of 25 mm or more leaves a gap that wants a patch",
    "common practice",
)
_PLAN = Source("Boat plan note: lap of 25 mm each way at a hard corner, for polyester", "read")

_CLOTH_LEAST = Threshold(6.0, "mm", _HABIT, "Glass cloth lifts off", "radius", "6 mm", "5.99 mm", beside={"lap": "30 mm"})
_CLOTH_SURE = Threshold(10.0, "mm", _HABIT, "takes only light cloth", "radius", "10 mm", "9.99 mm", beside={"lap": "30 mm"})
"""Radius under which plain glass cloth does not turn an edge, and from which it commonly lies down."""

_SHORT_LAP = Threshold(25.0, "mm", _PLAN, "The lap is short", "lap", "25 mm", "24.9 mm")
"""Lap each way at a hard corner."""

_WIDE_DART = Threshold(25.0, "mm", _HABIT, "leave wide gaps", "dart", "51.4°", "51.45°", "turn", {"lap": "50 mm", "darts": "2"})
"""Width over which a dart leaves a gap that wants a patch rather than a butt."""

_GEOMETRY = Source(
    "Plane geometry of a circle tangent to two lines; section confirmed by quadrature (scipy) in the tests", "computed"
)
_DARTS = Source("Flat arc (R + s) × turn against the folded one: independent of the plan radius R", "computed")


def _problems(
    radius: float, setback: float, face: Quantity | None, lap: Quantity | None, turn: Quantity | None, arc: list[Quantity | None]
) -> list[FieldProblem]:
    found = []
    if face is not None and lap is None:
        found.append(FieldProblem("lap", "nothing given", "give how far the cloth runs past each round, 0 if it stops there"))
    if face is not None and face.value_in("mm") < 2 * setback:
        found.append(
            FieldProblem(
                "face",
                f"two rounds of {sig(radius)} mm take {sig(2 * setback)} mm of it",
                "give the width between the outside faces of both edges, or a smaller radius",
            )
        )
    if turn is not None and lap is None and face is None:
        found.append(FieldProblem("lap", "nothing given", "give how far the cloth folds down past the round"))
    curve, chord = arc
    if (curve is None) != (chord is None):
        found.append(FieldProblem("curve" if curve is None else "chord", "nothing given", "give curve and chord together"))
    elif curve is not None and chord is not None and chord.value_in("mm") > 2 * curve.value_in("mm"):
        found.append(
            FieldProblem("chord", "is longer than the circle is wide", f"give {sig(2 * curve.value_in('mm'))} mm or less")
        )
    return found


def _compute(
    *,
    radius: Quantity,
    length: Quantity,
    angle: Quantity,
    face: Quantity | None,
    lap: Quantity | None,
    turn: Quantity | None,
    darts: int,
    curve: Quantity | None,
    chord: Quantity | None,
) -> Answer:
    r, degrees = radius.value_in("mm"), angle.value_in("°")
    theta = math.radians(degrees)
    cot, bend = 1 / math.tan(theta / 2), math.pi - theta
    setback = r * cot
    if problems := _problems(r, setback, face, lap, turn, [curve, chord]):
        raise InputError(*problems)

    run = length.value_in("m")
    # Two right triangles (tangent point, corner, centre) less the sector between the tangent points: plane geometry.
    section = r * r * (cot - bend / 2)
    volume = section * run  # 1 mm² over 1 m is 1 mL.
    arc = r * bend
    mitre = 90 - degrees / 2
    working = [
        f"section = r²(cot(θ/2) − (π−θ)/2) = {sig(r)}² × {cot - bend / 2:.4f} = {sig(section)} mm²",
        f"volume = {sig(section)} mm² × {sig(run)} m = {sig(volume)} mL (1 mm² over 1 m is 1 mL)",
        f"the round: {sig(arc)} mm along it (r(π−θ)), from {sig(setback)} mm before the corner (r cot(θ/2)) on each face",
        f"mitre from square = 90° − θ/2 = 90° − {sig(degrees)}°/2 = {sig(mitre)}°",
    ]

    blank = None
    past = None if lap is None else lap.value_in("mm")
    if face is not None and past is not None:
        width = face.value_in("mm")
        blank = width - 2 * setback + 2 * arc + 2 * past
        working.append(
            f"blank = face − 2 × {sig(setback)} + 2 × {sig(arc)} + 2 × lap = {sig(width)} − {sig(2 * setback)} + {sig(2 * arc)} "
            f"+ {sig(2 * past)} = {blank:.1f} mm"
        )

    rise = turned = None
    if turn is not None:
        turned = turn.value_in("°")
    if curve is not None and chord is not None:
        plan, across = curve.value_in("mm"), chord.value_in("mm")
        # R − √(R² − c²/4) without the loss of digits when R is large beside c.
        under = plan**2 - across**2 / 4
        rise = (across**2 / 4) / (plan + math.sqrt(max(0.0, under)))
        working.append(f"rise = R − √(R² − c²/4) = {sig(plan)} − √({sig(plan)}² − {sig(across)}²/4) = {rise:.2f} mm")
        if turned is None:
            turned = math.degrees(2 * math.asin(min(1.0, across / (2 * plan))))
            working.append(f"turn = 2 asin(c / 2R) = {sig(turned)}°")

    excess = dart = None
    if turned is not None and past is not None:
        # Past the round the cloth lies r sin β + lap cos β further out than the face, β the bend, but is r β + lap longer.
        out = r * math.sin(bend) + past * math.cos(bend)
        excess = math.radians(turned) * (arc + past - out)
        dart = excess / darts
        working.append(
            f"too much cloth = turn × (round + lap − how far out it ends) = {sig(math.radians(turned))} × "
            f"({sig(arc)} + {sig(past)} − {sig(out)}) = {sig(excess)} mm, {darts} × {sig(dart)} mm"
        )
    return Answer(
        {
            "volume": volume,
            "blank": blank,
            "section": section,
            "mitre": mitre,
            "arc": arc,
            "setback": setback,
            "excess": excess,
            "dart": dart,
            "rise": rise,
            "turned": turned,
        },
        tuple(working),
        _cautions(r, past, dart, darts),
    )


def _cautions(r: float, lap: float | None, dart: float | None, darts: int) -> tuple[str, ...]:
    said = []
    if lap is not None:
        if r < _CLOTH_LEAST.value:
            said.append(
                f"Glass cloth lifts off a radius of {sig(r)} mm: plain cloth of 200 g/m² wants {_CLOTH_LEAST.value:g} to "
                f"{_CLOTH_SURE.value:g} mm, heavier cloth more. Round it to {_CLOTH_SURE.value:g} mm (common practice)."
            )
        elif r < _CLOTH_SURE.value:
            said.append(
                f"A radius of {sig(r)} mm takes only light cloth: try an offcut, cut it on the bias, or round the edge to "
                f"{_CLOTH_SURE.value:g} mm (common practice)."
            )
        if lap < _SHORT_LAP.value:
            said.append(
                f"The lap is short: a boat plan asks {_SHORT_LAP.value:g} mm each way (read, for polyester). "
                f"Use {_SHORT_LAP.value:g} mm."
            )
    if dart is not None and dart > _WIDE_DART.value:
        wanted = round_up(darts * dart / _WIDE_DART.value)
        said.append(
            f"{darts} darts of {sig(dart, 3)} mm leave wide gaps: cut {wanted} darts, or cover them with a patch cut on the bias "
            "(common practice)."
        )
    return tuple(said)


CALCULATOR = Calculator(
    name="edge", title="Rounded edge: volume, cloth, mitre",
    inputs=(
        Field("radius", "Radius", Measure("mm", low=0, high=500, soft_low=3, soft_high=60),
            "Of the round-over or the cove; 0 is a sharp edge.", required=True),
        Field("length", "Length of the edge", Measure("mm", low=1, high=200_000, soft_low=20, soft_high=30_000), required=True),
        Field("angle", "Interior angle", Measure("°", low=5, high=175, soft_low=30, soft_high=150),
            "Between the faces, through the material (in a cove, the air); of a mitre, between its bars. Square is 90°.",
            default="90°"),
        Field("face", "Face to wrap", Measure("mm", low=1, high=20_000, soft_low=20, soft_high=3_000),
            "Between the outside faces of its two rounded edges."),
        Field("lap", "Lap past the round", Measure("mm", low=0, high=2_000, soft_low=15, soft_high=200),
            "From where the round ends, at each edge: 25 mm or more."),
        Field("turn", "Turn in plan", Measure("°", low=0.1, high=360, soft_high=180),
            "90° round the corner of a panel; with it and the lap come the darts."),
        Field("darts", "Darts round the turn", Count(1, 100), default="4"),
        Field("curve", "Plan radius of the curve", Measure("mm", low=1, high=1_000_000, soft_low=20, soft_high=20_000),
            "To lay it out from its chord."),
        Field("chord", "Chord of that curve", Measure("mm", low=1, high=100_000, soft_high=10_000)),
    ),
    outputs=(
        Output("volume", "Cut away or filled", "mL", 0),
        Output("blank", "Cloth to wrap, width", "mm", 0),
        Output("section", "Section", "mm²", 1),
        Output("mitre", "Mitre from square", "°", 2),
        Output("arc", "Along the round", "mm", 1),
        Output("setback", "Round begins before corner", "mm", 1),
        Output("excess", "Cloth too much in the turn", "mm", 1),
        Output("dart", "Width of each dart", "mm", 1),
        Output("rise", "Rise over the chord", "mm", 2),
        Output("turned", "Turn of the edge in plan", "°", 1),
    ),
    source=(
        _GEOMETRY,
        _DARTS,
        Source(f"Radius {_CLOTH_LEAST.value:g} to {_CLOTH_SURE.value:g} mm for cloth of 200 g/m²", "common practice"),
        Source(f"Lap {_SHORT_LAP.value:g} mm each way at a hard corner: boat plan answer page, for polyester", "read"),
    ),
    valid="A circular round tangent to two flat faces, interior angle 5° to 175°: the same section is cut off outside and "
    "filled inside (mix and loss: fillet). Blank: both edges of the face alike, cloth without thickness or stretch. Darts: at "
    "the cut end of the cloth, whatever the plan radius. Mitre: two bars of one width, as set from a square cut.",
    examples=(
        Example({"radius": "10 mm", "length": "1 m"}, {"section": 21.46, "arc": 15.708, "mitre": 45.0}, _GEOMETRY, rel=2e-3),
        Example({"radius": "20 mm", "length": "2.4 m"}, {"section": 85.841, "volume": 206.02, "setback": 20.0},
            Source("Spandrel of a quarter circle, (1 − π/4)r²: elementary geometry", "computed"), rel=1e-4),
        Example({"radius": "20 mm", "length": "1 m", "angle": "120°"}, {"section": 21.501, "mitre": 30.0},
            Source("r²(cot(a/2) − (π − a)/2) and 90° − a/2: elementary geometry", "computed"), rel=1e-4),
        Example({"radius": "8 mm", "length": "1.2 m", "face": "600 mm", "lap": "30 mm"}, {"blank": 669.13},
            Source("face − 2r + πr + 2 lap: elementary geometry", "computed"), rel=1e-4),
        Example({"radius": "0 mm", "length": "1.2 m", "lap": "50 mm", "turn": "90°", "curve": "1000 mm", "chord": "500 mm"},
            {"excess": 78.54, "dart": 19.635, "rise": 31.754}, _DARTS, rel=1e-4),
    ),
    compute=_compute, thresholds=(_CLOTH_LEAST, _CLOTH_SURE, _SHORT_LAP, _WIDE_DART),
)  # fmt: skip
