"""A rounded edge or cove: section, volume and mitre, the cloth to wrap it, darts at a corner, radius or rise of a curve."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate.calculator import Answer, Calculator, Count, Example, Field, Measure, Output, Source, Threshold, Value, joined
from shopmate.errors import FieldProblem
from shopmate.models.constants import NOISE
from shopmate.models.fields import given, in_unit, missing, refuse, round_up
from shopmate.models.strips import overlap_problems, strips
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_HABIT = Source(
    "Plain 200 g/m² glass cloth won't turn an edge of less than 6 mm radius and lies flat from 10 mm; heavier cloth needs more, "
    "cloth cut on the bias less; a dart over 25 mm wide leaves a gap that needs a patch",
    "common practice",
)
_PLAN = Source("Boat plan note: lap 25 mm each way at a sharp corner, for polyester", "read")

_CLOTH_LEAST = Threshold(6.0, "mm", _HABIT, "Glass cloth lifts off", "radius", "6 mm", "5.99 mm", beside={"lap": "30 mm"})
_CLOTH_SURE = Threshold(10.0, "mm", _HABIT, "suits light cloth only", "radius", "10 mm", "9.99 mm", beside={"lap": "30 mm"})
"""Edge radius: below the first, plain glass cloth won't turn the edge; from the second up, it usually lies flat."""

_SHORT_LAP = Threshold(25.0, "mm", _PLAN, "The lap is short", "lap", "25 mm", "24.9 mm")
"""Minimum lap each way at a sharp corner."""

_WIDE_DART = Threshold(25.0, "mm", _HABIT, "leave wide gaps", "dart", "51.4°", "51.45°", "turn", {"lap": "50 mm", "darts": "2"})
"""Widest dart whose edges can be butted; a wider one needs a patch."""

_GEOMETRY = Source(
    "Plane geometry of a circle tangent to two lines; section checked by quadrature (scipy) in the tests", "computed"
)
_DARTS = Source("Length of the flat arc, (R + s) × turn, less that of the folded arc; the plan radius R cancels out", "computed")


@dataclass(frozen=True, slots=True)
class _Round:
    """A circle tangent to two faces: its radius in mm, and the interior angle of the faces in degrees."""

    radius: float
    degrees: float

    @property
    def bend(self) -> float:
        """Angle that the cloth turns through from one face to the other, in radians."""
        return math.pi - math.radians(self.degrees)

    @property
    def cot(self) -> float:
        return 1 / math.tan(math.radians(self.degrees) / 2)

    @property
    def setback(self) -> float:
        """Distance on each face from the corner to the start of the round, in mm."""
        return self.radius * self.cot

    @property
    def arc(self) -> float:
        """Length along the round, in mm."""
        return self.radius * self.bend

    @property
    def section(self) -> float:
        """Area in mm² cut away or filled in: two right triangles (tangent point, corner, centre) less the sector between."""
        return self.radius**2 * (self.cot - self.bend / 2)


@dataclass(frozen=True, slots=True)
class _Plan:
    """A curve seen from above: radius, chord and rise in mm."""

    radius: float
    chord: float
    rise: float

    @property
    def turn(self) -> float:
        """Angle the curve turns through in degrees, 4 atan(2 h / c); correct past a half circle too."""
        return math.degrees(4 * math.atan2(2 * self.rise, self.chord))


def _compute(
    *,
    radius: Quantity | None,
    length: Quantity | None,
    angle: Quantity,
    face: Quantity | None,
    lap: Quantity | None,
    turn: Quantity | None,
    darts: int,
    curve: Quantity | None,
    chord: Quantity | None,
    rise: Quantity | None,
    roll_width: Quantity | None,
    overlap: Quantity,
) -> Answer:
    layout = {"curve": curve, "chord": chord, "rise": rise}
    edge = None if radius is None else _Round(radius.value_in("mm"), angle.value_in("°"))
    refuse(
        *_edge_problems(radius, length, layout, {"face": face, "lap": lap, "turn": turn, "roll_width": roll_width}),
        *_cloth_problems(edge, face, lap, turn),
        *_layout_problems(layout),
        *_roll_problems(roll_width, overlap, lap),
    )
    plan, lines = _plan(in_unit(curve, "mm"), in_unit(chord, "mm"), in_unit(rise, "mm"))
    turned = in_unit(turn, "°")
    if turned is None and plan is not None:
        turned = plan.turn
        lines.append(f"turn = 4 atan(2 h / c) = {sig(turned)}°")
    values = {"curve_radius": None if plan is None else plan.radius, "rise": None if plan is None else plan.rise}
    drawn = Answer({**values, "turned": turned}, tuple(lines))
    if edge is None or length is None:
        return joined(Answer(dict.fromkeys(_OF_A_ROUND)), drawn)
    past = in_unit(lap, "mm")
    wrapped, cloth = _wrapped(edge, in_unit(face, "mm"), past)
    folded = _darted(edge, past, turned, darts)
    return joined(
        _rounded(edge, length.value_in("m")),
        wrapped,
        drawn,
        folded,
        _off_the_roll(cloth, length.value_in("mm"), in_unit(roll_width, "mm"), overlap.value_in("mm")),
        Answer({}, (), _cautions(edge.radius, past, folded.values["dart"], darts)),
    )


_OF_A_ROUND = (
    "volume", "blank", "section", "mitre", "arc", "setback", "excess", "dart", "tape", "strips", "cloth_length", "strips_across",
    "cloth_across", "side_by_side",
)  # fmt: skip
"""Outputs that need the radius of the edge."""


def _edge_problems(
    radius: Quantity | None, length: Quantity | None, layout: Mapping[str, object], of_cloth: Mapping[str, object]
) -> list[FieldProblem]:
    """Return what is missing about the edge; with no edge, only the radius or rise of a curve can be worked out."""
    asked = any(layout.values()) and radius is None and length is None
    if asked:
        return given(of_cloth, "no edge entered", "enter radius and length of the edge too, or clear this")
    fix = "enter it; or enter chord and rise alone to get the radius of a curve"
    return missing({"radius": radius, "length": length}, "still blank", fix)


def _cloth_problems(
    edge: _Round | None, face: Quantity | None, lap: Quantity | None, turn: Quantity | None
) -> list[FieldProblem]:
    found = []
    if face is not None and lap is None:
        found.append(FieldProblem("lap", "still blank", "enter how far the cloth runs past each round, 0 if it stops there"))
    if edge is not None and face is not None and face.value_in("mm") < 2 * edge.setback:
        found.append(
            FieldProblem(
                "face",
                f"too narrow: two rounds of {sig(edge.radius)} mm radius need {sig(2 * edge.setback)} mm",
                "enter the width over the outside of both edges, or a smaller radius",
            )
        )
    if turn is not None and lap is None and face is None:
        found.append(FieldProblem("lap", "still blank", "enter how far the cloth folds down past the round"))
    return found


_CHORD = Measure("mm", low=1, high=100_000, soft_high=10_000)
"""What the chord field accepts, also used to show the limit that the plan radius sets."""


def _layout_problems(layout: Mapping[str, Quantity | None]) -> list[FieldProblem]:
    """Return what is wrong with a curve; it needs its chord, and either radius or rise."""
    curve, chord, rise = layout["curve"], layout["chord"], layout["rise"]
    fix = "enter chord and rise to get the radius, or chord and plan radius to get the rise"
    if chord is None:
        return [FieldProblem("chord", "still blank", fix)] if curve is not None or rise is not None else []
    if curve is None and rise is None:
        return [FieldProblem("curve", "plan radius and rise are both blank", fix)]
    if curve is not None and rise is not None:
        return [FieldProblem("rise", "the plan radius and the chord are entered too", fix)]
    if curve is not None and chord.value_in("mm") > 2 * curve.value_in("mm") * (1 + NOISE):
        fix = f"enter {_CHORD.limit(2 * curve.value_in('mm'), chord.unit, math.floor)} or less"
        return [FieldProblem("chord", "is longer than twice the plan radius", fix)]
    return []


def _roll_problems(roll: Quantity | None, overlap: Quantity, lap: Quantity | None) -> list[FieldProblem]:
    if roll is None:
        return []
    found = missing({"lap": lap}, "still blank", "enter how far the cloth runs past the round, or clear the roll width")
    return found + overlap_problems(roll, overlap)


def _rounded(edge: _Round, run: float) -> Answer:
    """Return section, volume over `run` m, and mitre."""
    r, section, mitre = edge.radius, edge.section, 90 - edge.degrees / 2
    volume = section * run  # 1 mm² over 1 m is 1 mL.
    working = (
        f"section = r²(cot(θ/2) − (π−θ)/2) = {sig(r)}² × {edge.cot - edge.bend / 2:.4f} = {sig(section)} mm²",
        f"volume = {sig(section)} mm² × {sig(run)} m = {sig(volume)} mL (1 mm² over 1 m is 1 mL)",
        f"round: {sig(edge.arc)} mm along the curve (r(π−θ)); it starts {sig(edge.setback)} mm from the corner on each face "
        "(r cot(θ/2))",
        f"mitre setting from square = 90° − θ/2 = 90° − {sig(edge.degrees)}°/2 = {sig(mitre)}°",
    )
    values = {"volume": volume, "section": section, "mitre": mitre, "arc": edge.arc, "setback": edge.setback}
    return Answer(values, working)


def _wrapped(edge: _Round, face: float | None, past: float | None) -> tuple[Answer, float | None]:
    """Return the cloth widths, for face and both edges and for this edge alone, and the width to cut in mm, if any."""
    if past is None:
        return Answer(dict.fromkeys(("blank", "tape"))), None
    tape = edge.arc + 2 * past
    working = [f"strip over this edge = round + 2 × lap = {sig(edge.arc)} + {sig(2 * past)} = {tape:.1f} mm"]
    if face is None:
        return Answer({"blank": None, "tape": tape}, tuple(working)), tape
    blank = face - 2 * edge.setback + 2 * edge.arc + 2 * past
    working.append(
        f"cloth width = face − 2 × {sig(edge.setback)} + 2 × {sig(edge.arc)} + 2 × lap = {sig(face)} − {sig(2 * edge.setback)} + "
        f"{sig(2 * edge.arc)} + {sig(2 * past)} = {blank:.1f} mm"
    )
    return Answer({"blank": blank, "tape": tape}, tuple(working)), blank


def _plan(curve: float | None, chord: float | None, rise: float | None) -> tuple[_Plan | None, list[str]]:
    """Return the curve with this chord and either radius or rise, all in mm, and its working lines."""
    if chord is None:
        return None, []
    if curve is not None:
        # R − √(R² − c²/4), in a form that loses no digits where R is much larger than c.
        under = curve**2 - chord**2 / 4
        rise = (chord**2 / 4) / (curve + math.sqrt(max(0.0, under)))
        line = f"rise = R − √(R² − c²/4) = {sig(curve)} − √({sig(curve)}² − {sig(chord)}²/4) = {rise:.2f} mm"
    else:
        assert rise is not None
        curve = chord**2 / (8 * rise) + rise / 2
        line = f"radius = c²/(8 h) + h/2 = {sig(chord)}²/(8 × {sig(rise)}) + {sig(rise)}/2 = {sig(curve)} mm"
    return _Plan(curve, chord, rise), [line]


def _darted(edge: _Round, past: float | None, turned: float | None, darts: int) -> Answer:
    """Return the excess cloth past the round where the edge turns a corner, and the width of each dart."""
    if turned is None or past is None:
        return Answer(dict.fromkeys(("excess", "dart")))
    # With bend β, the cloth reaches r sin β + lap cos β further out than the face, but is r β + lap longer.
    out = edge.radius * math.sin(edge.bend) + past * math.cos(edge.bend)
    excess = math.radians(turned) * (edge.arc + past - out)
    line = (
        f"excess cloth = turn × (round + lap − reach) = {sig(math.radians(turned))} × "
        f"({sig(edge.arc)} + {sig(past)} − {sig(out)}) = {sig(excess)} mm; {darts} darts of {sig(excess / darts)} mm"
    )
    return Answer({"excess": excess, "dart": excess / darts}, (line,))


def _off_the_roll(cloth: float | None, run: float, roll: float | None, overlap: float) -> Answer:
    """Return the strips from a roll for cloth `cloth` wide and `run` long, cut along the roll and across it; all in mm."""
    names = ("strips", "cloth_length", "strips_across", "cloth_across", "side_by_side")
    if not cloth or roll is None:
        return Answer(dict.fromkeys(names))
    along, across, beside = strips(cloth, roll, overlap), strips(run, roll, overlap), math.floor(roll / cloth * (1 + NOISE))
    values = (along, along * run / 1000, across, across * cloth / 1000, beside)
    working = (
        f"cut along the roll: {along} strips of {sig(run, 5)} mm cover {sig(cloth)} mm with {sig(overlap)} mm overlap, "
        f"{sig(values[1])} m of roll" + (f"; {beside} fit side by side on the {sig(roll, 5)} mm roll" if beside else ""),
        f"cut across the roll: {across} strips of {sig(roll, 5)} mm cover {sig(run, 5)} mm of edge with the same overlap, "
        f"{sig(values[3])} m of roll",
    )
    return Answer(dict(zip(names, values, strict=True)), working)


def _cautions(r: float, lap: float | None, dart: Value | float | None, darts: int) -> tuple[str, ...]:
    said = []
    if lap is not None:
        if r < _CLOTH_LEAST.value:
            said.append(
                f"Glass cloth lifts off an edge of {sig(r)} mm radius: plain 200 g/m² cloth needs {_CLOTH_LEAST.value:g} to "
                f"{_CLOTH_SURE.value:g} mm, heavier cloth more. Round the edge to {_CLOTH_SURE.value:g} mm (common practice)."
            )
        elif r < _CLOTH_SURE.value:
            said.append(
                f"A radius of {sig(r)} mm suits light cloth only: try an offcut first, cut the cloth on the bias, or round the "
                f"edge to {_CLOTH_SURE.value:g} mm (common practice)."
            )
        if lap < _SHORT_LAP.value:
            said.append(
                f"The lap is short: a boat plan calls for {_SHORT_LAP.value:g} mm each way (for polyester). "
                f"Use {_SHORT_LAP.value:g} mm or more."
            )
    if isinstance(dart, float) and dart > _WIDE_DART.value:
        wanted = round_up(darts * dart / _WIDE_DART.value)
        said.append(
            f"{darts} darts of {sig(dart, 3)} mm leave wide gaps: cut {wanted} darts instead, or patch the gaps with cloth cut "
            "on the bias (common practice)."
        )
    return tuple(said)


CALCULATOR = Calculator(
    name="edge", title="Rounded edge: volume, cloth to cut, mitre",
    inputs=(
        Field("radius", "Edge radius", Measure("mm", low=0, high=500, soft_low=3, soft_high=60),
            "Radius of the round-over or cove; enter 0 for a sharp edge."),
        Field("length", "Edge length", Measure("mm", low=1, high=200_000, soft_low=20, soft_high=30_000)),
        Field("angle", "Interior angle", Measure("°", low=5, high=175, soft_low=30, soft_high=150),
            "Between the faces, measured through the material (in a cove, through the air), or between the bars of a mitre.",
            default="90°"),
        Field("face", "Face width", Measure("mm", low=1, high=20_000, soft_low=20, soft_high=3_000),
            "Width of the face the cloth covers, over the outside of both rounded edges."),
        Field("lap", "Lap past the round", Measure("mm", low=0, high=2_000, soft_low=15, soft_high=200),
            "How far the cloth runs past the end of the round, at each edge: 25 mm or more."),
        Field("turn", "Corner angle seen from above", Measure("°", low=0.1, high=360, soft_high=180),
            "How far the edge turns: 90° at the corner of a panel. With the lap, it sets the size of the darts."),
        Field("darts", "Darts in the corner", Count(1, 100), default="4"),
        Field("curve", "Plan radius", Measure("mm", low=1, high=1_000_000, soft_low=20, soft_high=20_000),
            "Radius of a curved edge seen from above. Enter it with the chord to get the rise."),
        Field("chord", "Chord of the curve", _CHORD,
            "Measured straight across the curve, end to end."),
        Field("rise", "Rise above the chord", Measure("mm", low=0.01, high=100_000, soft_high=5_000),
            "Measured from the middle of the chord to the curve. Enter it with the chord to get the plan radius."),
        Field("roll_width", "Roll width", Measure("mm", above=0, high=5_000, soft_low=25, soft_high=2_000),
            "Width of the cloth or tape. You get the strips for the face, or for this edge alone if no face is entered."),
        Field("overlap", "Overlap at a seam", Measure("mm", low=0, high=1_000, soft_high=150), "50 mm or more (common practice).",
            default="50 mm"),
    ),
    outputs=(
        Output("volume", "Volume cut away or filled", "mL", 0),
        Output("blank", "Cloth width for face and both edges", "mm", 0),
        Output("tape", "Cloth width for this edge alone", "mm", 0),
        Output("strips", "Strips cut along the roll", "", 0),
        Output("cloth_length", "Cloth from the roll, cut along it", "m", 2),
        Output("section", "Section cut away or filled", "mm²", 1),
        Output("mitre", "Mitre setting from square", "°", 1),
        Output("arc", "Length along the round", "mm", 1),
        Output("setback", "Corner to start of the round", "mm", 1),
        Output("excess", "Excess cloth at the corner", "mm", 1),
        Output("dart", "Width of each dart", "mm", 1),
        Output("curve_radius", "Plan radius", "mm", 1),
        Output("rise", "Rise above the chord", "mm", 1),
        Output("strips_across", "Strips cut across the roll", "", 0),
        Output("cloth_across", "Cloth from the roll, cut across it", "m", 2),
        Output("side_by_side", "Strips that fit side by side on the roll", "", 0),
        Output("turned", "Corner angle seen from above", "°", 1),
    ),
    source=(
        _GEOMETRY,
        _DARTS,
        Source("Strips from a roll w wide to cover W with overlap o: ⌈(W − o)/(w − o)⌉", "computed"),
        Source(f"Radius {_CLOTH_LEAST.value:g} to {_CLOTH_SURE.value:g} mm for 200 g/m² cloth", "common practice"),
        Source(f"Lap {_SHORT_LAP.value:g} mm each way at a sharp corner: answers page on a boat plan, for polyester", "read"),
    ),
    valid="A circular round tangent to two flat faces, interior angle 5° to 175°: the same section is cut off an outside edge or "
    "filled in a cove (the fillet calculator works out the mix and the loss). Both edges of the face are the same, and the "
    "cloth has no thickness or stretch. Darts are measured at the cut edge of the cloth; the plan radius does not change "
    "them. Mitre: two bars of the same width.",
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
        Example({"chord": "500 mm", "rise": "31.754 mm"}, {"curve_radius": 1000}, Source("R = c²/(8 h) + h/2: the same circle, "
            "worked back from its rise", "computed"), rel=1e-4),
        Example({"radius": "10 mm", "length": "2.44 m", "lap": "50 mm", "roll_width": "1 m"}, {"tape": 115.708, "strips": 1,
            "cloth_length": 2.44, "strips_across": 3, "cloth_across": 0.347124, "side_by_side": 8},
            Source("10 π/2 + 100 mm; 2 × 1000 − 50 = 1950 mm is less than 2440 mm: geometry", "computed"), rel=1e-4),
    ),
    asked=("radius", "length", "angle", "lap"),
    compute=_compute, thresholds=(_CLOTH_LEAST, _CLOTH_SURE, _SHORT_LAP, _WIDE_DART),
)  # fmt: skip
