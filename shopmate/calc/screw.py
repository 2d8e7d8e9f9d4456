"""A screw through a top piece into wood: drill sizes, countersink, whether the top is thick enough, and the withdrawal load."""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

from shopmate import tables
from shopmate.calculator import (
    Answer,
    Calculator,
    Choice,
    Either,
    Example,
    Field,
    Measure,
    Output,
    Source,
    Threshold,
    Value,
    joined,
)
from shopmate.errors import FieldProblem
from shopmate.models.constants import INCH, LBF, PSI
from shopmate.models.fields import refuse
from shopmate.models.screws import DISTANCES, FLUSH, KNIFE_EDGE, THIN_SHEET
from shopmate.models.yield_modes import FULL_BITE, LEAST_BITE, YIELD_MODES, bite_share
from shopmate.picture import Label, Picture, Point, Shape, Texture, both, mirrored, number, rectangle, size
from shopmate.records import dataclass
from shopmate.tables.drills import Direction, Drill, choose, named
from shopmate.tables.screws import ALSO, BASES, HALF_ANGLE, HANDBOOK, NDS, TAPPING, Head, Screw, distance, inches, screws
from shopmate.tables.woods import Wood, woods
from shopmate.units import Quantity, show_number
from shopmate.units import significant as sig

_NDS_VALUES = Source(
    "withdrawal, design: AWC NDS 2018 eq. 12.2-2; pilot holes sections 12.1.5.2 and 12.1.5.3; end grain 12.2.2.3", "read"
)
_HABIT = Source(
    "what to do where the metal is too thin to countersink; pilot hole in light wood; foam doesn't hold a screw",
    "common practice",
)

_DESIGN = 2850.0
"""Coefficient in psi of W = 2850 G² D L, allowable withdrawal of a wood screw from side grain, normal duration, dry:
AWC NDS 2018 eq. 12.2-2 [read]."""

_ULTIMATE = 15_700.0
"""Coefficient in psi of p = 15 700 G² D L, mean withdrawal at failure: USDA Wood Handbook eq. 8-10b [memory; the equation
number read]."""

_G_LOW = Threshold(0.31, "", _NDS_VALUES, "is outside that range, so don't use the load", "holding", "0.31", "0.308")
_G_HIGH = Threshold(0.73, "", _NDS_VALUES, "is outside that range, so don't use the load", "holding", "0.73", "0.733")
"""Range of specific gravity for which NDS gives withdrawal values, for No. 6 to 24 screws."""

_SWELLING = 0.108
"""G at 12 % = G0 / (1 + 0.009 × 12 × G0), G0 on oven-dry volume: density formula of the NDS Supplement, as printed on
public engineering pages [read]."""

_DENSE = Threshold(0.60, "", _NDS_VALUES, "above 0.60: 90 % of the root", "holding", "0.60", "0.605")
_MEDIUM = Threshold(0.50, "", _NDS_VALUES, "above 0.50: 70 % of the root", "holding", "0.50", "0.503")
"""Specific gravity above which NDS requires a pilot hole of 90 % of the root, and of 70 %; in lighter wood it requires none: NDS
2018 section 12.1.5.2. A handbook counts exactly 0.60 as dense wood; NDS does not [memory]."""

_LEAD_DENSE, _LEAD = 0.90, 0.70
"""Pilot hole as a share of the root (NDS section 12.1.5.2 [read]); 0.70 in light wood too, where NDS needs none [common
practice: the rule before 1962 and a test of eleven western woods, ASTM STP 383]."""

_LATERAL = 0.875
"""Shank hole ÷ D and thread hole ÷ root for lateral load, G up to 0.60; 1 above that: NDS 2018 section 12.1.5.3 [read]."""

_OK = Threshold(
    FLUSH, "", THIN_SHEET, "is left under the head", "head_ratio", "0.167 in", "0.1655 in", "top_thickness", {"top": "aluminium"}
)
_KNIFE = Threshold(
    KNIFE_EDGE,
    "",
    THIN_SHEET,
    "Do not countersink it",
    "head_ratio",
    "0.117 in",
    "0.1155 in",
    "top_thickness",
    {"top": "aluminium"},
)
"""Head height ÷ sheet thickness: a countersink is ok up to the first, and leaves a knife edge from the second."""

_PULL_THROUGH = Threshold(
    0.5, "", _HABIT, "is left under the head, less than half", "head_ratio", "0.233 in", "0.231 in", "top_thickness",
    {"top": "plywood"},
)  # fmt: skip
"""Head height ÷ wood thickness above which less than half the wood is left under a countersunk head."""

_EDGE_FLAT, _EDGE_PAN = 2.5, 2.0
"""Edge distances in metal, in D: countersunk (airframe study guide) and other heads (FAA AC 43.13-1B) [read]."""

_SIX_D = Threshold(
    LEAST_BITE, "", YIELD_MODES, "no lateral value for this joint", "", "29 mm", "28.9 mm", "length", {"joint": "lateral"}
)
_TEN_D = Threshold(FULL_BITE, "", YIELD_MODES, "use only", "", "48.3 mm", "48.2 mm", "length", {"joint": "lateral"})
"""Penetration in D: below the first NDS gives no lateral value, from the second it gives the full one."""

_THREAD_DIAMETERS, _THREAD_SHARE = 4, Fraction(2, 3)
"""Thread of a wood screw: 4 D or two thirds of the length, whichever is longer, NDS 2018 Table L3 note 3 [read].
No Threshold needed: these set the thread length."""

_THREAD_SHARE_METRIC = Fraction(3, 5)
"""Thread of a metric wood screw as a share of its length: 0.6, DIN 7998 [memory]."""

_DIMPLE = Threshold(
    1.016, "mm", THIN_SHEET, "up to 1.02 mm (0.04 in) (common practice)", "top_thickness", "0.0403 in", "0.040 in",
    beside={"top": "aluminium"},
)  # fmt: skip
"""Sheet thickness up to which dimpling is better than countersinking: 0.040 in, FAA AC 65-15A chapter 5."""

_STEEL = Threshold(
    400.0, "MPa", Source("mild-steel screws break at about 400 N/mm² on the root; the data sheet overrides this", "memory"),
    "The screw may break before the wood lets go", "root_stress", "2.11 in", "2.12 in", "length",
)  # fmt: skip
"""Approximate root stress at which a mild-steel screw breaks. NDS 2018 section 12.2.2.5 [read] asks for the screw's own
strength as well as the wood's."""

_PLAY = Fraction(1, 10)
"""Play in mm added to the clearance hole for a metric wood screw, because the table gives its nominal diameter without a
tolerance [common practice]."""

_CUTTER_STEP = INCH / 64
"""Inch countersinks come in steps of 1/64 in [common practice]."""

_HEADS = (*HALF_ANGLE, "pan")
"""The head shapes of screws."""

_METALS = ("aluminium", "steel", "stainless steel", "brass")
_BRITTLE = ("laminate", "plastic")
_WOODS = ("plywood", "softwood", "hardwood")
_ALSO = (("ply", "plywood"),)
_ALSO_TOPS = (
    ("ply", "plywood"), ("aluminum", "aluminium"), ("oak", "hardwood"), ("birch", "hardwood"), ("maple", "hardwood"),
    ("pine", "softwood"), ("spruce", "softwood"), ("cedar", "softwood"),
)  # fmt: skip
"""Other words a builder may type for a choice."""
_TOPS = (*_METALS, *_BRITTLE, *_WOODS)
"""Top materials: metal and laminate are judged by the edge the countersink leaves, wood by pull-through."""

_PLYWOOD, _FOAM, _NUT = "plywood", "foam", "nut or insert"
"""What the thread may go into besides solid wood: plywood (no published load), foam (holds nothing), a nut or insert."""


@dataclass(frozen=True, slots=True)
class _Holding:
    """The wood that holds the thread: oven-dry G for NDS, G at 12 % moisture for the Wood Handbook (None: no value)."""

    g_dry: float | None
    g_12: float | None
    working: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Joint:
    """A screw through a top piece into the piece that holds it, and how it is loaded; lengths in mm."""

    screw: Screw
    head_name: str
    long: Fraction
    sheet: Fraction
    """Thickness of the top piece, 0 if there is none."""
    back: Fraction
    """Depth below the head at which the holding piece ends; the screw length if the thickness of that piece is not known."""
    own_thread: Fraction | None
    holding: str | Quantity
    wood: _Holding
    top: str | None
    lateral: bool
    end_grain: bool
    basis: str
    fit: str | None
    series: str | None
    """Drills at hand; None: the usual ones for the screw."""

    @property
    def head(self) -> Head:
        return self.screw.heads[self.head_name]

    @property
    def root(self) -> Fraction:
        return self.screw.roots[self.basis]

    @property
    def is_machine(self) -> bool:
        return self.screw.kind == "machine"

    @property
    def drills(self) -> str:
        return self.series or ("fractional" if self.screw.kind == "inch" else "metric")

    @property
    def height_to_sheet(self) -> float:
        return float(self.head.height / self.sheet)

    def threads(self) -> tuple[Fraction, str]:
        """Return the length of the thread on the screw, and the rule used."""
        # A countersunk screw is measured including its head, others from under the head; there is no thread on the head.
        most = self.long - self.head.height if self.head_name in HALF_ANGLE else self.long
        if self.own_thread is not None:
            cut, why = self.own_thread, "as entered"
        elif self.screw.kind == "inch":
            cut = max(_THREAD_DIAMETERS * self.screw.major, _THREAD_SHARE * self.long)
            why = "4 D or 2/3 of the length, whichever is longer (NDS Table L3)"
        elif self.screw.kind == "wood":
            cut, why = _THREAD_SHARE_METRIC * self.long, "0.6 of the length (DIN 7998, memory)"
        else:
            cut, why = most, "threaded all the way to the head"
        return min(cut, most), why

    def held(self) -> Fraction:
        """Return the length in mm of thread in the holding wood; none counts in the top piece, in foam or past the wood."""
        inside = min(self.long, self.back) - max(self.long - self.threads()[0], self.sheet)
        return Fraction(0) if self.holding == _FOAM else max(Fraction(0), inside)


def countersink_depth(mouth: float, hole: float, angle: float) -> float:
    """Return how deep a countersink goes: from the surface, where it is `mouth` wide, down to the edge of the hole.

    Diameters and depth in one unit, the included angle in degrees, above 0 and below 180: half the difference over tan of half
    the angle (geometry of the cone [computed]). 0 if the hole is as wide as the mouth.
    """
    return max(0.0, mouth - hole) / (2 * math.tan(math.radians(angle / 2)))


def design_withdrawal(gravity: float, diameter: float, thread: float) -> float:
    """Return the allowable load in N along one wood screw in side grain: AWC NDS 2018 eq. 12.2-2 [read].

    Oven-dry specific gravity (valid 0.31 to 0.73), nominal diameter and thread in the wood in mm; for a load of ten
    years in dry wood.
    """
    return _DESIGN * PSI * gravity**2 * diameter * thread


_KINDS_NAMED = 5
"""How many species of a group the caution names (our choice). No Threshold needed: it only keeps the list short."""


def _holdings() -> tuple[str, ...]:
    return (*woods(), _PLYWOOD, _FOAM, _NUT)


def _joint(fields: Mapping[str, object]) -> _Joint:
    """Return the joint from the fields, which may still conflict."""
    names = ("length", "holding_thickness", "top_thickness", "thread")
    text = {name: value for name, value in fields.items() if isinstance(value, str)}
    mm = {name: Fraction(item.to("mm").value) for name in names if (item := size(fields, name))}
    screw, holding, sheet = screws()[text["size"]], fields["holding"], mm.get("top_thickness", Fraction(0))
    assert isinstance(holding, str | Quantity)
    return _Joint(
        screw=screw,
        head_name=text["head"],
        long=mm["length"],
        sheet=sheet,
        back=sheet + mm["holding_thickness"] if "holding_thickness" in mm else mm["length"],
        own_thread=mm.get("thread"),
        holding=holding,
        wood=_holding(holding) if screw.kind != "machine" else _Holding(None, None),
        top=text.get("top"),
        lateral=text["joint"] == "lateral",
        end_grain=text["grain"] == "end",
        basis=text.get("basis") or screw.usual_basis,
        fit=text.get("fit"),
        series=text.get("series"),
    )


def _compute(**fields: object) -> Answer:
    joint = _joint(fields)
    refuse(*_problems(joint))
    nothing = Answer(dict.fromkeys(output.name for output in CALCULATOR.outputs))
    found = Answer({}, joint.wood.working, joint.wood.cautions)
    parts = (_diameters(joint), _holes(joint), _pilot(joint), _thread(joint, fields["holding_thickness"] is not None))
    return joined(nothing, *parts, _lateral(joint), _edges(joint), found, _withdrawal(joint))


def _problems(joint: _Joint) -> list[FieldProblem]:
    """Return a problem for each pair of fields that conflicts."""
    screw, name, top, sheet, thread = joint.screw, joint.head_name, joint.top, joint.sheet, joint.own_thread
    others = [size for size, other in screws().items() if other.kind == screw.kind and name in other.heads]
    machine = ", ".join(size for size, other in screws().items() if other.kind == "machine")
    found = (
        name not in screw.heads and FieldProblem(
            "head", f"{screw.size} is not made with a {name} head", f"choose {' or '.join(screw.heads)}"
            + (f", or a size that has this head: {', '.join(others)}" if others else "")
        ),
        top and not sheet and FieldProblem(
            "top_thickness", f"the thickness of the {top} is missing", "enter the thickness, or leave the top material blank"
        ),
        sheet and not top and FieldProblem("top", "you entered a thickness but no material", "choose the top material: "
            f"{', '.join(_TOPS)}"),
        sheet >= joint.long and FieldProblem(
            "length", f"{_mm(joint.long)} is too short to go through a {_mm(sheet)} top",
            f"use a screw of {_mm(sheet + _SIX_D.value * screw.major)} or longer (6 diameters in the wood)",
        ),
        joint.basis not in screw.roots and FieldProblem(
            "basis", f"{joint.basis} lists no root diameter for {screw.size}", f"choose {' or '.join(screw.roots)}, or leave "
                "this blank"
        ),
        thread and thread > joint.long and FieldProblem(
            "thread", f"{_mm(thread)} is longer than the screw, {_mm(joint.long)}", "measure the threaded part only"
        ),
        joint.fit and _machine_holes(screw.size) is None and FieldProblem(
            "fit", f"there is no machine-screw hole in the table for {screw.size}", "leave this blank, and the next drill up is "
                "used"
        ),
        joint.holding == _NUT and screw.kind != "machine" and FieldProblem(
            "holding", f"{screw.size} is a wood or tapping screw, which takes no nut", f"choose a wood, or a machine screw: "
            f"{machine}"
        ),
    )  # fmt: skip
    return [problem for problem in found if problem]


def _holding(holding: str | Quantity) -> _Holding:
    """Return G oven-dry and at 12 % moisture, with a note on which of the two was known."""
    if isinstance(holding, Quantity):
        g = float(holding.value)
        said = (
            f"G {sig(g)} as typed: used as oven-dry G for the NDS figures and as G at 12 % moisture for the Wood Handbook figure"
        )
        caution = (
            f"You typed G {sig(g)}, which may be at 12 % moisture or oven-dry. At 12 %, the allowable load shown is about 10 % "
            "too low (safe); oven-dry, the mean failure load shown is about 10 % too high. Choose a species by name to get both "
            "right."
        )
        return _Holding(g, g, (said,), (caution,))
    if holding in (_PLYWOOD, _FOAM, _NUT):
        return _Holding(None, None)
    wood = woods()[holding]
    dry, at_12, source = wood.g_oven_dry, wood.g_12, wood.source
    if dry and at_12:
        said = f"{holding}: G {dry:.2f} oven-dry (NDS), {at_12:.2f} at 12 % (Wood Handbook): {source}"
        return _Holding(dry, at_12, (said,), tuple(_of_a_group(wood, dry, at_12)))
    if dry:
        g_12 = dry / (1 + _SWELLING * dry)
        swollen = f"G at 12 % = {dry:.2f}/(1 + 0.009 × 12 × {dry:.2f}) = {g_12:.3f}"
        return _Holding(dry, g_12, (f"{holding}: G {dry:.2f} oven-dry: {source}", swollen))
    assert at_12 is not None  # every wood in the table has a figure
    taken = f"no NDS figure, so G {at_12:.2f} is used for NDS too: it is lower than oven-dry G (safe)"
    return _Holding(at_12, at_12, (f"{holding}: G {at_12:.2f} at 12 %: {source}", taken))


def _of_a_group(wood: Wood, dry: float, at_12: float) -> list[str]:
    """Return the caution for a name that covers several woods."""
    if not wood.kinds:
        return []
    kinds = ", ".join(wood.kinds[:_KINDS_NAMED]) + (" and others" if len(wood.kinds) > _KINDS_NAMED else "")
    return [
        f"{wood.name} covers several woods, so the lowest figures are used (safe for holding): G {dry:.2f} oven-dry and "
        f"{at_12:.2f} at 12 %. If you know which one you have, choose it: {kinds}."
    ]


def _diameters(joint: _Joint) -> Answer:
    screw, root = joint.screw, joint.root
    others = "; ".join(f"{name} {_mm(value)}" for name, value in screw.roots.items() if name != joint.basis)
    working = (
        f"{screw.size}: thread diameter {_mm(screw.major)}, maximum {_mm(screw.major_max)}",
        f"root {_mm(root)}, from {joint.basis}" + (f" (others: {others})" if others else ""),
    )
    cautions = []
    if joint.is_machine and joint.holding != _NUT:
        cautions.append(
            f"{screw.size} is a machine screw: its thread doesn't hold in wood or foam. Bolt through with a washer and nut, "
            f"or set a threaded insert and drill as its data sheet says (choose '{_NUT}' as what holds the thread). For a wood "
            f"screw of that diameter enter the size {float(screw.major):g} mm, without M."
        )
    if screw.kind == "inch" and NDS not in screw.roots:
        cautions.append(
            f"NDS lists no root diameter for {screw.size} (only No. 6 and up), so {joint.basis} is used: {_mm(root)}"
            + (", the thinnest core of the tapping screw of that gauge." if joint.basis == TAPPING else ".")
        )
    roots = {_ROOT_OUTPUTS.get(name, "root_core"): value for name, value in screw.roots.items()}
    values = _floats(major=screw.major, major_max=screw.major_max, root=root, **roots)
    return Answer({**values, "basis": joint.basis}, working, tuple(cautions))


_ROOT_OUTPUTS = {NDS: "root_nds", HANDBOOK: "root_handbook"}
"""The output for each root basis; any other basis is the core diameter in the screw's own standard."""


def _holes(joint: _Joint) -> Answer:
    """Return clearance hole, countersink and the verdict on the head in the top piece."""
    screw, head, top = joint.screw, joint.head, joint.top
    drill, closest, why = _clearance(joint)
    values = _floats(clearance=drill.diameter, clearance_closest=closest, head_height=head.height, head_diameter=head.diameter)
    head_line = f"{joint.head_name} head: diameter {_mm(head.diameter)}, height {_mm(head.height)} ({head.source})"
    holes = Answer({**values, "clearance_drill": drill.name}, (why, head_line))
    if head.sharp is None:
        sits = Answer({"verdict": "ok"}, ("a pan head sits on the surface: no countersink",))
        return joined(holes, sits) if top else holes
    # Inch cutters come in 64ths: the next size up, never down, or the head stands proud.
    cutter = math.ceil(head.sharp / _CUTTER_STEP) * _CUTTER_STEP if screw.kind == "inch" else head.sharp
    angle = 2 * HALF_ANGLE[joint.head_name]
    depth = countersink_depth(float(cutter), float(drill.diameter), angle)
    cone = Answer(
        {**_floats(countersink=cutter, head_sharp=head.sharp), "countersink_depth": depth, "countersink_angle": angle},
        (
            f"countersink {_mm(cutter)} at {angle:g}°: the head measured to a sharp edge, {_mm(head.sharp)}"
            + (", rounded up to 1/64 in" if screw.kind == "inch" else ""),
            f"countersink depth to the edge of the hole = ({float(cutter):.2f} − {float(drill.diameter):.2f})/(2 tan "
            f"{angle / 2:g}°) = {_mm(depth)}",
        ),
    )
    return joined(holes, cone, _seat(joint, head.sharp, drill) if top else Answer({}))


def _seat(joint: _Joint, sharp: Fraction, drill: Drill) -> Answer:
    """Return whether the top piece can take a countersunk head, and what to do if it cannot."""
    ratio, hole = joint.height_to_sheet, float(drill.diameter)
    opening = float(sharp) - float(joint.sheet) * (2 * math.tan(math.radians(HALF_ANGLE[joint.head_name])))
    verdict = "knife edge" if ratio >= _KNIFE.value else "caution" if ratio > _OK.value else "ok"
    line = (
        f"head ÷ {joint.top} = {float(joint.head.height):.3f}/{float(joint.sheet):.3f} = {ratio:.3f}: {verdict} (ok up to "
        "0.70, caution below 1, knife edge from 1)"
    )
    said = _judge_wood(joint) if joint.top in _WOODS else _judge(joint, opening, hole)
    values = {
        "head_ratio": ratio,
        "back_opening": opening if opening > hole else None,
        "verdict": verdict,
        "left_under_head": max(0.0, float(joint.sheet - joint.head.height)),
    }
    return Answer(values, (line,), (said,) if said else ())


def _clearance(joint: _Joint) -> tuple[Drill, Fraction, str]:
    """Return the clearance drill, the nearest standard drill, and why; never smaller than the maximum thread diameter."""
    screw, holes = joint.screw, _machine_holes(joint.screw.size)
    if holes and (joint.fit or joint.is_machine):
        fit = joint.fit or "normal"
        hole = named(holes[fit])
        drill = _drill(hole.diameter, joint.series, "up") if joint.series else hole
        line = f"clearance {holes['standard']} {fit}: {hole.name} = {_mm(hole.diameter)}"
        on = "" if drill == hole else f"; next {joint.series} drill up: {drill.name} = {_mm(drill.diameter)}"
        return drill, hole.diameter, f"{line}{on}"
    play = _PLAY if screw.kind == "wood" else Fraction(0)
    drill, nearest = (_drill(screw.major_max + play, series, "up") for series in (joint.drills, "all"))
    line = f"clearance: next {joint.drills} drill above the maximum diameter {_mm(screw.major_max)}"
    if play:
        line += f" plus {float(play):g} mm of play"
    closer = "" if drill == nearest else f" (nearest standard drill: {nearest.name} = {_mm(nearest.diameter)})"
    return drill, nearest.diameter, f"{line}: {drill.name} = {_mm(drill.diameter)}{closer}"


def _judge(joint: _Joint, opening: float, hole: float) -> str | None:
    """Return the caution on a countersunk head in a top piece, and what to do instead."""
    ratio, height, sheet, top = joint.height_to_sheet, joint.head.height, joint.sheet, joint.top
    if ratio <= _OK.value:
        return None
    if ratio < _KNIFE.value:
        return (
            f"Only {_mm(sheet - height)} of the {top} is left under the head. Aircraft repair practice allows a head of up to "
            "70 % of the sheet thickness, an army manual a rivet head of up to 98 %. They disagree, so set a depth stop and "
            f"try an offcut first. {_instead(joint)}"
        )
    why = f"the countersink reaches the back, so the {_mm(hole)} hole has a sharp edge and no straight wall"
    if opening > hole:
        why = (
            f"the countersink comes out of the back {_mm(opening)} wide, bigger than the {_mm(hole)} clearance hole, and "
            "leaves a sharp edge"
        )
    high = f"Knife edge: the head is {_mm(height)} high and the {top} only {_mm(sheet)} thick"
    return f"{high}; {why}. Do not countersink it. {_instead(joint)}"


def _instead(joint: _Joint) -> str:
    """Return what to use where the head is too high for the sheet, then what won't work on this one."""
    screw, name, top, sheet = joint.screw, joint.head_name, joint.top, joint.sheet
    alike = [other for other in screws().values() if other.kind == screw.kind and name in other.heads]
    lower = [other for other in alike if float(other.heads[name].height / sheet) <= _OK.value]
    smaller = f"a smaller gauge (no {name} head in the table is low enough)"
    if lower:
        smaller = f"a smaller gauge ({max(lower, key=lambda other: other.major).size} or smaller for this {top})"
    over_wood = f"over solid wood, a countersink cut right into the wood, so that the head clamps the wood and not the {top}"
    ways = [("a pan head", True), (smaller, bool(lower)), ("a finishing (cup) washer", True), (over_wood, True)]
    if top in _METALS:
        rows = (row for row in tables.load("countersink_sheets").rows if row["size"] == screw.size)
        for least in (inches(row["sheet_min_in"]) for row in rows):
            ways.append((f"a 100° low (shear) head with its own cutter, in sheet {_mm(least)} or thicker", sheet >= least))
        ways.append((f"dimpling, in sheet up to {_mm(_DIMPLE.value)}", float(sheet) <= _DIMPLE.value))
    here, not_here = ("; ".join(way for way, serves in ways if serves == wanted) for wanted in (True, False))
    return f"Instead: {here} (common practice)." + (f" Won't work here: {not_here}." if not_here else "")


def _judge_wood(joint: _Joint) -> str | None:
    """Return the caution on a countersunk head in wood, which has no edge to crack but can let the head pull through."""
    height, sheet, top = joint.head.height, joint.sheet, joint.top
    if joint.height_to_sheet >= _KNIFE.value:
        return (
            f"Knife edge: the head is {_mm(height)} high and the {top} only {_mm(sheet)} thick, so no wood is left under the "
            "head and it pulls through. Use a pan head on a flat washer, a flat head in a finishing (cup) washer, or a smaller "
            "gauge (common practice)."
        )
    if joint.height_to_sheet > _PULL_THROUGH.value:
        return (
            f"Only {_mm(sheet - height)} of {top} is left under the head, less than half. Wood won't crack there as sheet metal "
            "does, but the head can pull through. Use a pan head on a flat washer or a flat head in a finishing (cup) washer, "
            "and tighten by hand (common practice)."
        )
    return None


def _pilot(joint: _Joint) -> Answer:
    if joint.is_machine or joint.holding == _FOAM:
        return Answer({})
    root, g = float(joint.root), joint.wood.g_dry
    dense = g is not None and g > _DENSE.value
    known = f"G {sig(g)}" if g is not None else str(joint.holding)
    values, cautions = dict[str, float | str | None](pilot_needed="yes"), []
    if joint.lateral:
        share = 1.0 if dense else _LATERAL
        why = f"NDS, sideways load, {known}: thread hole {sig(share)} × root"
        if joint.top not in (*_METALS, *_BRITTLE):
            values["shank_hole"] = shank = share * float(joint.screw.major)
            why += f", shank hole {sig(share)} × D = {_mm(shank)}"
            cautions.append(
                f"The NDS shank hole for a sideways load, {_mm(shank)}, grips the screw and stops it pulling the top piece "
                "down: clamp the joint before driving, or drill the clearance hole if the screw must pull the joint tight."
            )
    elif dense:
        share, why = _LEAD_DENSE, f"NDS, withdrawal, {known} above {_DENSE.value:.2f}: {_LEAD_DENSE * 100:.0f} % of the root"
    elif g is not None and g > _MEDIUM.value:
        share, why = _LEAD, f"NDS, withdrawal, {known} above {_MEDIUM.value:.2f}: {_LEAD * 100:.0f} % of the root"
    else:
        share, values["pilot_needed"] = _LEAD, None if g is None else "no"
        why = f"{_LEAD * 100:.0f} % of the root anyway, to prevent splitting (common practice)"
        if g is not None:
            why = f"NDS needs no pilot hole for withdrawal at {known} (only above {_MEDIUM.value:.2f}); {why}"
    pilot = share * root
    drill, way = _pilot_drill(joint, pilot, dense=dense)
    if dense:
        cautions.append(
            "Dense wood: wax the thread. If the screw binds before the head is home, drill one size larger (common practice)."
        )
    values |= {"pilot": pilot, "pilot_drill": drill.name, "pilot_drilled": float(drill.diameter)}
    working = (
        f"pilot: {why}",
        f"pilot = {sig(share)} × {root:.3f} = {_mm(pilot)}; drill ({way}, {joint.drills}): {drill.name} = {_mm(drill.diameter)}",
    )
    return Answer(values, working, tuple(cautions))


def _pilot_drill(joint: _Joint, pilot: float, *, dense: bool) -> tuple[Drill, str]:
    """Return the drill for a pilot hole in mm, and how it was rounded.

    Down if the screw is loaded sideways, because a loose screw rocks, and in dense wood, where that gives the hardwood sizes of
    the trade table for No. 5 to 8 [computed]. Otherwise to the nearest, which gives the softwood sizes of that table, but never
    above the root.
    """
    if joint.lateral or dense:
        why = "a loose screw rocks under a sideways load" if joint.lateral else "trade practice in hardwood"
        return _drill(pilot, joint.drills, "down"), f"next down: {why}"
    drill = _drill(pilot, joint.drills, "nearest")
    if drill.diameter > joint.root:
        return _drill(pilot, joint.drills, "down"), "next down: the nearest is bigger than the root"
    return drill, "nearest"


def _thread(joint: _Joint, ends: bool) -> Answer:
    """Return the length of thread in the holding piece; `ends` is whether the thickness of that piece is known."""
    if joint.is_machine:
        return Answer({})
    (cut, why), held, sheet = joint.threads(), joint.held(), joint.sheet
    beyond = max(0.0, float(joint.long - joint.back))
    working, cautions = [f"thread on the screw {_mm(cut)}: {why}"], []
    if joint.holding == _FOAM:
        cautions.append(
            "Foam holds nothing: thread in foam counts as zero. Set solid blocking before pouring the foam and screw into it, "
            "or bed a threaded insert in thickened epoxy (common practice)."
        )
    else:
        piece = " and inside the holding piece" if ends else ""
        working.append(f"thread in the wood = {_mm(held)}: only the part below the {_mm(sheet)} top{piece}")
        if beyond:
            cautions.append(
                f"The point sticks {_mm(beyond)} out of the holding piece. Thread in whatever is behind, such as foam, holds "
                "nothing and is not counted."
            )
        if held == 0:
            cautions.append("No thread reaches the wood: use a longer screw, or one with more thread.")
    least, full = _SIX_D.value * joint.screw.major, _TEN_D.value * joint.screw.major
    values = _floats(thread_length=cut, thread_in_holding=held, penetration_least=least, penetration_full=full, top_passed=sheet)
    values["point_beyond"] = beyond
    return Answer(values, tuple(working), tuple(cautions))


def _lateral(joint: _Joint) -> Answer:
    """Return the penetration needed for a sideways load; the load itself comes from the pattern calculator."""
    screw = joint.screw
    if joint.is_machine or not joint.lateral:
        return Answer({})
    least, full = _SIX_D.value * screw.major, _TEN_D.value * screw.major
    reach = min(joint.long, joint.back) - joint.sheet
    line = f"sideways load: penetration {_mm(reach)}; NDS minimum 6 D = {_mm(least)}, full value from 10 D = {_mm(full)}"
    if reach < least:
        said = f"Penetration {_mm(reach)} is less than 6 D = {_mm(least)}: NDS gives no lateral value for this joint."
        return Answer({"penetration": float(reach)}, (line,), (said,))
    cautions = []
    if reach < full:
        share = bite_share(float(reach), float(screw.major))
        cautions.append(
            f"Penetration {_mm(reach)} is less than 10 D: use only {share:.2f} × the lateral value (penetration ÷ 10 D)."
        )
    cautions.append("The sideways load depends on both pieces: use the pattern calculator for it.")
    return Answer({"penetration": float(reach)}, (line,), tuple(cautions))


_DISTANCES = {
    "wood_edge_distance": "edge",
    "wood_end_distance": "end pulled",
    "wood_end_pushed": "end pushed",
    "spacing_along": "spacing along",
    "spacing_across": "spacing across",
}
"""The output for each rule in the table of distances."""


def _edges(joint: _Joint) -> Answer:
    major = float(joint.screw.major)
    side = joint.top in _METALS
    shares = {name: distance(rule, metal=side, prebored=True) for name, rule in _DISTANCES.items()}
    values = {name: float(share) * major for name, share in shares.items()}
    values["edge_distance"] = values["wood_edge_distance"]
    said = "; ".join(f"{rule} {float(shares[name]):g} D = {_mm(values[name])}" for name, rule in _DISTANCES.items())
    working = [
        f"wood{' under metal' if side else ''}, predrilled, advisory (below 1/4 in, NDS says only not to split the wood): {said}"
    ]
    if joint.top in _METALS:
        share = _EDGE_FLAT if joint.head_name in HALF_ANGLE else _EDGE_PAN
        edge = share * major
        values |= {"edge_distance": edge, "bar_width": 2 * edge}
        metal = (
            f"edge distance in {joint.top} = {share:g} D = {_mm(edge)} from the centre of the hole (rivet rule): a bar drilled "
            f"on its centre line must be {_mm(2 * edge)} or wider"
        )
        working.insert(0, metal)
    return Answer(values, tuple(working))


def _withdrawal(joint: _Joint) -> Answer:
    """Return the allowable (NDS) and the mean ultimate (Wood Handbook) load along the screw, each from its own G."""
    screw, wood = joint.screw, joint.wood
    if joint.holding == _FOAM:
        return Answer({"withdrawal_design": 0.0, "withdrawal_ultimate": 0.0})
    if joint.is_machine:
        return Answer({})
    if joint.holding == _PLYWOOD:
        said = (
            "No withdrawal load is published for plywood, face or edge: in tests, larch plywood held less than the NDS formula "
            "predicts. Test your own, bolt through, or screw into solid blocking."
        )
        return Answer({}, (), (said,))
    assert wood.g_dry is not None
    assert wood.g_12 is not None
    if joint.end_grain:
        said = (
            "NDS forbids a withdrawal load on a screw in end grain; a carpentry handbook allows 60 % of the side-grain load. "
            "They disagree, so screw into side grain, add a block with side grain to screw into, or bolt through."
        )
        line = "end grain: NDS section 12.2.2.3 allows wood screws no withdrawal load (C_eg = 0)"
        return Answer({"withdrawal_design": 0.0}, (line,), (said,))
    d, run = float(screw.major), float(joint.held())
    design = design_withdrawal(wood.g_dry, d, run)
    ultimate = _ULTIMATE * PSI * wood.g_12**2 * d * run
    working = (
        f"design (NDS, allowable) = 2850 psi × G² × D × L = {_DESIGN * PSI:.2f} N/mm² × {sig(wood.g_dry, 3)}² × {d:.2f} "
        f"× {run:.2f} = {design:.0f} N ({design / LBF:.0f} lbf)",
        f"ultimate (Wood Handbook, mean at failure) = 15 700 psi × G² × D × L = {_ULTIMATE * PSI:.2f} N/mm² × "
        f"{sig(wood.g_12, 3)}² × {d:.2f} × {run:.2f} = {ultimate:.0f} N ({ultimate / LBF:.0f} lbf)",
        "the design load is for ten years, dry, side grain; multiply by 0.9 for a permanent load, 1.15 for two months, 0.7 if "
        "wet (NDS)",
    )
    cautions = [
        f"{design:.0f} N is the allowable load for one screw; at {ultimate:.0f} N half of such screws have pulled out, so "
        "never use that as a working load. If a failure could hurt someone, follow local codes and ask an engineer."
    ]
    stress = ultimate / (math.pi * float(joint.root) ** 2 / 4)
    if stress > _STEEL.value:
        cautions.append(
            f"The screw may break before the wood lets go: {ultimate:.0f} N on the root is {stress:.0f} MPa, and mild steel "
            f"breaks at about {_STEEL.value:.0f} MPa, brass sooner (typical: the screw's data sheet overrides this). Use more "
            "screws, not longer ones."
        )
    if not _G_LOW.value <= wood.g_dry <= _G_HIGH.value:
        cautions.append(
            f"NDS gives values for G {_G_LOW.value} to {_G_HIGH.value} only: G {sig(wood.g_dry)} is outside that range, so "
            "don't use the load shown."
        )
    if screw.kind == "inch" and NDS not in screw.roots:
        cautions.append(
            f"NDS gives values for No. 6 to 24 only: the load for {screw.size} comes from the same formula, outside that range."
        )
    elif screw.kind != "inch":
        cautions.append("The formulas are for inch wood screws: if this screw's data sheet gives a value, use that instead.")
    values = {"withdrawal_design": design, "withdrawal_ultimate": ultimate, "root_stress": stress}
    return Answer(values, working, tuple(cautions))


def _machine_holes(size: str) -> Mapping[str, str] | None:
    return next((row for row in tables.load("clearance_holes").rows if row["size"] == size), None)


def _drill(diameter: Fraction | float, series: str, direction: Direction) -> Drill:
    drill = choose(diameter, series, direction)
    assert drill is not None, f"{series} drills cover the smallest pilot to the largest clearance hole"
    return drill


def _floats(**mm: Fraction | float) -> dict[str, Value | float | None]:
    return {name: float(value) for name, value in mm.items()}


def _mm(mm: Fraction | float) -> str:
    inches = show_number(float(mm / INCH), 3)
    return f"{float(mm):.2f} mm ({show_number(Fraction(inches))} in)"


_TEXTURES: Mapping[str, Texture] = {_FOAM: "dots", _NUT: "shade"}
"""How holding materials other than wood are drawn."""


def _picture(inputs: Mapping[str, object], outputs: Mapping[str, object]) -> Picture:
    """Return the section through head, hole and holding piece, in mm; the finished surface is at height 0."""
    joint = _joint(inputs)
    screw, name, head, top, sheet = joint.screw, joint.head_name, joint.head, joint.top, float(joint.sheet)
    wide, high, hole = float(head.diameter), float(head.height), number(outputs, "clearance", "mm") / 2
    slope = math.tan(math.radians(HALF_ANGLE[name])) if name in HALF_ANGLE else 0.0
    mouth = number(outputs, "countersink", "mm") / 2 if slope else hole
    # Wide enough to show the sheet beside the countersink, deep enough to show the wood below the point.
    edge, bottom, over = 1.1 * wide, -max(sheet, high if slope else 0.0) - 0.6 * wide, 0.0 if slope else 1.2 * high
    behind = number(inputs, "holding_thickness", "mm")
    floor = max(bottom, -sheet - behind) if behind else bottom
    held = inputs["holding"] if isinstance(inputs["holding"], str) else "wood"
    shapes = [Shape(rectangle(-edge, floor, edge, -sheet), held, _TEXTURES.get(held, "light"))]
    back = max(hole, mouth - sheet * slope)
    if top:
        shapes.append(Shape(rectangle(-edge, -sheet, edge, 0), top, "back hatch" if top in _WOODS else "hatch"))
        cone = ((mouth, 0.0), (hole, -(mouth - hole) / slope)) if slope and back == hole else ((mouth, 0.0),)
        shapes.append(Shape(mirrored((*cone, (back, -sheet))), "", "air"))
    shapes.append(Shape(mirrored(_side(joint, mouth, slope, outputs)), f"screw {screw.size}", "solid"))

    labels = [Label("head height", (0.3 * wide, -0.2 * high if slope else 0.4 * high), Quantity(head.height, "mm"), 2)]
    said = f"The {name} head is {both(Quantity(high, 'mm'))} high and {both(Quantity(wide, 'mm'))} wide"
    if thickness := size(inputs, "top_thickness"):
        labels.append(Label(top or "", (0.97 * edge, -sheet / 2), thickness))
        opening = size(outputs, "back_opening") if outputs["verdict"] == "knife edge" else None
        left, found = _left_of_the_top(joint, hole, back, opening)
        labels += found
        said += f", the {top} {both(thickness)} thick: {left}"
    return Picture(tuple(shapes), tuple(labels), f"{said}.", (-edge, bottom), (edge, over), least=min(sheet or high, high))


def _left_of_the_top(joint: _Joint, hole: float, back: float, opening: Quantity | None) -> tuple[str, list[Label]]:
    """Return how much of the top the head leaves, in words and as a label; `hole` and `back` are half widths in mm."""
    wide, high, sheet = float(joint.head.diameter), float(joint.head.height), float(joint.sheet)
    if opening:
        label = Label("knife edge, opening", (back, -sheet - 0.04 * wide), opening, 2)
        return f"the countersink comes out of its back, {both(opening)} wide, a knife edge", [label]
    if joint.head_name not in HALF_ANGLE:
        return "the head sits on top with no countersink", []
    if sheet <= high:
        return "none of it is left under the head, a knife edge", []
    left = Quantity(sheet - high, "mm")
    label = Label("left under the head", ((hole + wide / 2) / 2, -(sheet + high) / 2), left, 2)
    return f"{both(left)} of it is left under the head", [label]


def _side(joint: _Joint, mouth: float, slope: float, outputs: Mapping[str, object]) -> list[Point]:
    """Return the right-hand outline of a screw from its head down, in mm; `mouth` is half the width of its countersink."""
    head, shank, core = joint.head, float(joint.screw.major) / 2, number(outputs, "root", "mm") / 2
    wide, high, long = float(head.diameter) / 2, float(head.height), float(joint.long)
    if slope and head.sharp is not None:
        # A sharp-edged head sinks below the surface if its cutter is wider; a head with a rim comes flush.
        seat = (mouth - wide) / slope
        outline = [(wide, 0.0 if head.sharp > head.diameter else -seat), (wide, -seat), (shank, -(mouth - shank) / slope)]
    else:
        outline = [(0.6 * wide, high), (wide, 0.7 * high), (wide, 0.0), (shank, 0.0)]
    blunt = joint.is_machine
    tip = -long if blunt else 2 * shank - long
    turn = outline[-1][1] if blunt else min(outline[-1][1], number(outputs, "thread_length", "mm") - long)
    outline.append((shank, turn))
    # The thread is drawn to be seen: its pitch is not that of the standard.
    while turn - shank > tip:
        outline += [(core, turn - shank / 2), (shank, turn - shank)]
        turn -= shank
    return [*outline, (core, tip), (core if blunt else 0.0, -long)]


_NO_10 = {"size": "#10", "head": "flat 82", "holding": "0.50"}
"""The screw and wood of several worked examples."""

CALCULATOR = Calculator(
    name="screw", title="Drill sizes, countersink and holding load for a screw",
    inputs=(
        Field("size", "Screw size", Choice(lambda: tuple(screws()), ALSO),
            "#8 is an inch wood screw, 4 mm a metric one, ST a tapping screw, M a machine screw.", required=True),
        Field("head", "Head", Choice(_HEADS), "Countersunk: flat 82 on inch screws, flat 90 on metric ones.", required=True),
        Field("length", "Screw length", Measure("mm", low=3, high=300, soft_low=6, soft_high=150),
            "Countersunk: including the head. Pan: from under the head.", required=True),
        Field("holding", "What holds the thread", Either(Choice(_holdings, _ALSO), Measure("", low=0.1, high=1.3,
            soft_low=_G_LOW.value, soft_high=_G_HIGH.value)), "The wood by name, or its specific gravity (G).", required=True),
        Field("holding_thickness", "Thickness of the holding piece", Measure("mm", low=0.1, high=1000, soft_low=3),
            "Enter it if there is foam or air behind the holding piece: thread holds nothing there."),
        Field("top", "Material of the top piece", Choice(_TOPS, _ALSO_TOPS)),
        Field("top_thickness", "Thickness of the top piece", Measure("mm", low=0.1, high=200, soft_low=0.4)),
        Field("joint", "Direction of load", Choice(("withdrawal", "lateral")),
            "Withdrawal pulls straight out; lateral pushes sideways.", default="withdrawal"),
        Field("grain", "Grain the screw enters", Choice(("side", "end")), default="side"),
        Field("basis", "Root diameter comes from", Choice(BASES),
            "Blank: the usual source for that size, named in the working."),
        Field("thread", "Length of thread on the screw", Measure("mm", low=1, high=300), "Measure your screw. Blank: from "
            "the standard."),
        Field("fit", "Machine-screw clearance", Choice(("close", "normal", "loose")),
            "Per ASME B18.2.8 or ISO 273 (fine, medium, coarse). Blank: normal for machine screws, otherwise the next drill "
            "above the thread diameter."),
        Field("series", "Drills at hand", Choice(("fractional", "metric", "inch", "all")),
            "Inch includes fractional, number and letter drills. Blank: fractional for inch screws, metric for metric ones."),
    ),
    outputs=(
        Output("pilot_drill", "Drill for the pilot hole"),
        Output("clearance_drill", "Drill for the clearance hole"),
        Output("verdict", "Countersink in the top piece"),
        Output("major", "Nominal diameter", "mm", 2, gauged=True),
        Output("major_max", "Maximum diameter", "mm", 2, gauged=True),
        Output("root", "Root diameter", "mm", 2, gauged=True),
        Output("basis", "Root diameter comes from"),
        Output("pilot", "Pilot hole, calculated", "mm", 2, gauged=True),
        Output("pilot_needed", "Pilot hole required by NDS"),
        Output("clearance", "Clearance hole, drill diameter", "mm", 2, gauged=True),
        Output("shank_hole", "Shank hole in wood, sideways load (NDS)", "mm", 2, gauged=True),
        Output("countersink", "Countersink diameter at the surface", "mm", 2, gauged=True),
        Output("countersink_depth", "Countersink depth to the edge of the hole", "mm", 2, gauged=True),
        Output("head_height", "Head height", "mm", 2, gauged=True),
        Output("head_diameter", "Head diameter", "mm", 2, gauged=True),
        Output("head_ratio", "Head height ÷ top thickness", "", 2),
        Output("back_opening", "Opening in the back of the top", "mm", 2, gauged=True),
        Output("thread_length", "Thread on the screw", "mm", 1),
        Output("thread_in_holding", "Thread in the holding wood", "mm", 1),
        Output("withdrawal_design", "Withdrawal load, allowable (NDS)", "N", 0),
        Output("withdrawal_ultimate", "Withdrawal load, mean at failure (never a working load)", "N", 0),
        Output("penetration_least", "Minimum penetration, sideways load (6 D)", "mm", 1),
        Output("penetration_full", "Penetration for full sideways load (10 D)", "mm", 1),
        Output("edge_distance", "Minimum edge distance in the top piece", "mm", 1),
        Output("wood_edge_distance", "Edge distance in wood, advisory", "mm", 1),
        Output("wood_end_distance", "End distance in wood, load towards the end", "mm", 1),
        Output("wood_end_pushed", "End distance in wood, load away from the end", "mm", 1),
        Output("spacing_along", "Spacing along the grain", "mm", 1),
        Output("spacing_across", "Spacing across the grain", "mm", 1),
        Output("root_nds", "Root diameter, NDS rolled thread", "mm", 2, gauged=True),
        Output("root_handbook", "Root diameter, Wood Handbook two-thirds", "mm", 2, gauged=True),
        Output("root_core", "Root diameter, from the screw's own standard", "mm", 2, gauged=True),
        Output("root_stress", "Root stress at mean failure load", "MPa", 0),
        Output("pilot_drilled", "Pilot hole, drill diameter", "mm", 2, gauged=True),
        Output("clearance_closest", "Clearance hole, nearest standard drill", "mm", 2, gauged=True),
        Output("countersink_angle", "Countersink angle", "°", 0),
        Output("head_sharp", "Head diameter, to a sharp edge", "mm", 2, gauged=True),
        Output("left_under_head", "Thickness left under the head", "mm", 2, gauged=True),
        Output("top_passed", "Thickness of the top piece", "mm", 2),
        Output("point_beyond", "Length of point beyond the holding piece", "mm", 2),
        Output("penetration", "Penetration, sideways load", "mm", 2),
        Output("bar_width", "Minimum width of a metal bar", "mm", 2),
    ),
    source=(
        Source("diameters and roots: NDS 2018 Table L3 (public transcription notes); heads: ASME B18.6.1 and B18.6.4, ISO 7046",
            "read"),
        _NDS_VALUES,
        Source("withdrawal, ultimate: USDA Wood Handbook eq. 8-10, coefficient 15 700", "memory"),
        THIN_SHEET,
        Source("edge distances in metal: rivet rules, FAA AC 43.13-1B and an airframe study guide, as a guide only", "read"),
        DISTANCES,
        _HABIT,
    ),
    valid=f"One screw in side grain of solid wood, G {_G_LOW.value} to {_G_HIGH.value}, No. 6 and up; NDS gives no values "
    "outside that range. Not for plywood or foam, which the formulas don't cover, or end grain, which NDS forbids. Heads differ "
    "between makers: measure the screws you have.",
    examples=(
        Example({**_NO_10, "length": "1-1/2 in"}, {"withdrawal_design": 135 * LBF, "thread_in_holding": 25.4,
            "root": 0.152 * 25.4},
            Source("AWC NDS 2018 Table 12.2B, No. 10 at G 0.50: 135 lb per inch of thread (public test fixtures)", "read"),
            rel=0.005),
        Example({"size": "#8", "head": "flat 82", "length": "1-1/8 in", "holding": "0.48"}, {"withdrawal_ultimate": 444.9 * LBF,
            "thread_in_holding": 19.05}, Source("USDA Wood Handbook eq. 8-10b, 15 700 G² D L with D 0.164, G 0.48, L 0.75 in",
            "memory"), rel=0.01),
        Example({"size": "#6", "head": "flat 82", "length": "3/4 in", "holding": "Douglas-fir coast", "top": "aluminium",
            "top_thickness": "1/16 in"}, {"head_ratio": 1.328, "verdict": "knife edge", "back_opening": 0.1703 * 25.4,
            "edge_distance": 0.345 * 25.4},
            Source("ASME B18.6.1 head height 0.083 in ÷ 0.0625 in; cone 0.279 − 2 × 0.0625 tan 41°; edge 2.5 D", "computed"),
            abs=0.026),
        Example({"size": "M4", "head": "flat 90", "length": "20 mm", "holding": _NUT, "top": "aluminium",
            "top_thickness": "4 mm"}, {"clearance": 4.5, "clearance_drill": "4.5 mm", "countersink": 9.4,
            "countersink_depth": 2.45, "verdict": "ok"},
            Source("ISO 15065 countersink 9.4 mm and ISO 273 medium hole 4.5 mm: half the difference at 90°", "read"), abs=0.01),
        Example({**_NO_10, "length": "2 in", "top": "softwood", "top_thickness": "1/2 in", "joint": "lateral"},
            {"penetration": 38.1, "wood_end_distance": 48.26, "wood_end_pushed": 24.13, "spacing_along": 48.26,
            "spacing_across": 24.13}, Source("10, 5, 10 and 5 D of 0.190 in, NDS Commentary Table C12.1.5.7", "read"), abs=1e-9),
        Example({"size": "4 mm", "head": "flat 90", "length": "40 mm", "holding": "0.50"}, {"clearance": 4.1,
            "thread_length": 24.0},
            Source("nominal diameter plus 0.1 mm of play: the 4.1 mm drill; 0.6 of the length", "common practice")),
    ),
    asked=("size", "head", "length", "holding"),
    compute=_compute, pictures=(_picture,), thresholds=(_G_LOW, _G_HIGH, _DENSE, _MEDIUM, _OK, _KNIFE, _PULL_THROUGH, _SIX_D,
    _TEN_D, _DIMPLE, _STEEL),
)  # fmt: skip
