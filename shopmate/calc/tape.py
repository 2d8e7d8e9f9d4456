"""Foam tape under a part: the length that carries the load, the thickness that allows the movement, and how hard to press."""

from __future__ import annotations

from shopmate import units
from shopmate.calculator import Answer, Calculator, Example, Field, Measure, Output, Source, Stock, Threshold
from shopmate.errors import FieldProblem, InputError
from shopmate.models.constants import GRAVITY, NOISE
from shopmate.models.fields import round_up
from shopmate.models.movement import ELASTIC_ADHESIVE, FOAM_TAPE
from shopmate.units import Quantity
from shopmate.units import significant as sig

_RULE = "56.9 cm²/kg"
"""Tape per kg of static load: 4 in² per lb, 1.72 kPa (a rule of thumb; no standard seen) [common practice]. That is 56.9 cm² per
kg, but only 25.8 cm² per lb."""

_TIMES_SURFACE = 2.0
"""Tape thickness divided by the widest gap between two rigid faces (a tape maker's application note) [read]."""

_PRESS = Quantity(15, "psi")
"""Minimum pressure on the tape between rigid parts (a tape maker's application note, which also says 100 kPa) [read]."""

_BITE = 25.0
"""Length of tape in mm that a hand roller or a block presses at a time [common practice]."""

_FULL_BOND = 72
"""Hours to full bond strength (a tape maker's application note) [read]; about 50 % after 20 min and 90 % after 24 h at room
temperature [common practice]."""

_COLDEST = (10, 0)
"""Lowest temperature in °C of the part at pressing: firm adhesive, soft adhesive [common practice]."""

_HABIT = Source("4 in² of tape per lb of static load, 56.9 cm²/kg", "common practice")

_LESS = Threshold(0.99, "", _HABIT, "is less tape than the rule of thumb", "", "56.4 cm²/kg", "56.3 cm²/kg", "rule")
"""Below this share of the rule of thumb the tape counts as too little; the rounding in the rule is smaller."""


def _compute(
    *,
    load: Quantity | None,
    mass: Quantity | None,
    width: Quantity,
    rule: Quantity,
    length_mismatch: Quantity | None,
    surface_mismatch: Quantity | None,
    thickness: Quantity | None,
) -> Answer:
    force, kilograms = _load(load, mass)
    wide, each = width.value_in("mm"), rule.value_in("cm²/kg")
    area = each * kilograms
    length = area * 100 / wide
    stress = force / (area / 10_000) / 1000
    press = _PRESS.value_in("kPa")
    bite = press * wide * _BITE / 1000
    working = [
        f"mass it carries = {sig(force)} N ÷ {GRAVITY} m/s² = {sig(kilograms)} kg"
        if load is not None
        else f"load = {sig(kilograms)} kg × {GRAVITY} m/s² = {sig(force)} N",
        f"area = rule × mass = {sig(each)} cm²/kg × {sig(kilograms)} kg = {sig(area)} cm²",
        f"length = area ÷ width = {sig(area * 100)} mm² ÷ {sig(wide)} mm = {sig(length)} mm",
        f"stress = load ÷ area = {sig(force)} N ÷ {sig(area)} cm² = {sig(stress)} kPa",
        f"press with {sig(press / 1000)} MPa × {sig(wide)} mm × {_BITE:g} mm = {sig(bite)} N",
    ]

    for_movement = for_surface = elastic = None
    if length_mismatch is not None:
        moved = abs(length_mismatch.value_in("mm"))
        for_movement, elastic = FOAM_TAPE.thickness(moved), ELASTIC_ADHESIVE.thickness(moved)
        working += [
            f"thickness for movement = {sig(moved)} mm ÷ {FOAM_TAPE.shear:g} = {sig(for_movement)} mm ({FOAM_TAPE.rule})",
            f"elastic adhesive instead: {sig(moved)} mm ÷ {ELASTIC_ADHESIVE.shear:g} = {sig(elastic)} mm "
            f"({ELASTIC_ADHESIVE.rule})",
        ]
    if surface_mismatch is not None:
        gap = sig(surface_mismatch.value_in("mm"))
        for_surface = _TIMES_SURFACE * surface_mismatch.value_in("mm")
        working.append(f"thickness for uneven faces = {_TIMES_SURFACE:g} × {gap} mm = {sig(for_surface)} mm")
    least = max((need for need in (for_movement, for_surface) if need is not None), default=None)
    travel = verdict = None
    if thickness is not None:
        travel = FOAM_TAPE.travel(thickness.value_in("mm"))
        working.append(f"movement your tape allows = {FOAM_TAPE.shear:g} × {sig(thickness.value_in('mm'))} mm = {sig(travel)} mm")
        if least is not None:
            verdict = "too thin" if thickness.value_in("mm") < least * (1 - NOISE) else "ok"

    weighs = round_up(bite / GRAVITY * 10) / 10
    return Answer(
        {
            "length": length,
            "thickness": least,
            "area": area,
            "verdict": verdict,
            "travel": travel,
            "elastic": elastic,
            "stress": stress,
            "press": bite,
            "press_all": press * area / 10_000,
            "press_mass": weighs,
            "hangs": kilograms,
            "load": force,
        },
        tuple(working),
        (
            *_thickness_cautions(length_mismatch, thickness, least, verdict),
            *_rule_cautions(each),
            "The rule of thumb is for a static load at room temperature: for shock, wind, heat or peel, work from the tape's "
            "data "
            "sheet. Where the part could fall on someone, add a screw, a ledge or a lanyard that can carry it alone.",
            f"Press every {_BITE:g} mm with at least {round_up(bite)} N, like standing {weighs:g} kg on it: "
            f"{units.show(_PRESS)} between rigid parts. Use a roller or a block; a flat hand is not enough.",
            f"Support the part for {_FULL_BOND} h: at room temperature the tape has about half its strength after 20 min and 90 "
            "% "
            f"after 24 h (common practice). Both faces must be clean, dry and at {_COLDEST[0]} °C or warmer for a firm adhesive, "
            f"{_COLDEST[1]} °C for a soft one (common practice): warm the parts, not just the room.",
        ),
    )


def _load(load: Quantity | None, mass: Quantity | None) -> tuple[float, float]:
    """Return the load in N and the mass in kg that weighs as much; InputError unless exactly one of them was entered."""
    if load is not None and mass is not None:
        raise InputError(
            FieldProblem("mass", "you entered a load as well", "keep one: load is a force (N, lbf), mass is what a scale shows")
        )
    if mass is not None:
        return mass.value_in("kg") * GRAVITY, mass.value_in("kg")
    if load is None:
        raise InputError(
            FieldProblem("mass", "blank, and so is load", "enter the mass the tape carries (kg, lb), or load as a force (N, lbf)")
        )
    return load.value_in("N"), load.value_in("N") / GRAVITY


def _thickness_cautions(
    length_mismatch: Quantity | None, thickness: Quantity | None, least: float | None, verdict: str | None
) -> list[str]:
    said = []
    if verdict == "too thin" and thickness is not None and least is not None:
        # Rounded up, so that a tape bought by this sentence is thick enough.
        said.append(
            f"Too thin: your tape is {units.show(thickness)} and needs to be {round_up(least * 100) / 100:g} mm. Use a thicker "
            "tape, flatten the faces, or shorten the length from the fixed point to the end."
        )
    if length_mismatch is None:
        said.append(
            "No movement included, and metal moves differently from wood. Work out the movement with the expansion "
            "calculator and enter it as movement along the tape."
        )
    else:
        said.append(
            "The minimum thickness shears the tape to 300 % at full movement, the maximum any source allows: if it moves that "
            "far "
            "every day, use a thicker tape and check its data sheet. This is for acrylic foam tape only: elastic adhesive must "
            "be "
            f"far thicker ({ELASTIC_ADHESIVE.rule})."
        )
    return said


def _rule_cautions(each: float) -> list[str]:
    usual = units.parse(_RULE, "cm²/kg").value_in("cm²/kg")
    if each < usual * _LESS.value:
        return [
            f"{sig(each)} cm²/kg is less tape than the rule of thumb, {sig(usual)} cm²/kg (4 in²/lb): use it only if the tape's "
            "data sheet allows it for a permanent load. Check that you did not enter cm² per lb as cm² per kg."
        ]
    return []


_MOVEMENT = Measure("mm", low=-100, high=100, soft_low=-12, soft_high=12)
"""Movement along the tape in either direction; the expansion calculator shows shrinkage with a minus."""

CALCULATOR = Calculator(
    name="tape", title="Foam tape: length for a load, thickness for movement",
    inputs=(
        Field("mass", "Mass the tape carries", Measure("kg", above=0, high=1000, soft_high=50),
            "What a scale shows. Enter this or load."),
        Field("load", "Load as a force", Measure("N", above=0, high=10_000, soft_high=500),
            "In N or lbf, not kg. Enter this or mass."),
        Field("width", "Tape width", Measure("mm", low=3, high=300, soft_low=6, soft_high=50), required=True),
        Field("rule", "Tape area per kg", Measure("cm²/kg", low=5, high=1000, soft_low=50, soft_high=200),
            "4 in²/lb is common practice for a static load; the data sheet overrides it.", default=_RULE),
        Field("length_mismatch", "Movement along the tape", _MOVEMENT, "The farthest the two parts slide past each "
            "other: the movement the joint must take, from the expansion calculator."),
        Field("surface_mismatch", "Widest gap between the faces", Measure("mm", low=0, high=10, soft_high=2),
            "Lay the two rigid faces together dry and measure the widest gap between them."),
        Field("thickness", "Your tape's thickness", Measure("mm", above=0, high=20, soft_low=0.25, soft_high=6.5),
            "Enter it to have it checked. Blank: you get the minimum only."),
    ),
    outputs=(
        Output("length", "Tape length", "mm", 0),
        Output("thickness", "Minimum thickness", "mm", 2),
        Output("area", "Tape area", "cm²", 1),
        Output("verdict", "Your tape"),
        Output("travel", "Movement your tape allows", "mm", 2),
        Output("elastic", "Minimum thickness with elastic adhesive", "mm", 2),
        Output("stress", "Stress on the tape", "kPa", 2),
        Output("press", f"Press every {_BITE:g} mm with", "N", 0),
        Output("press_all", "Force to press all the tape at once", "kN", 2),
        Output("press_mass", "Weight that presses as hard", "kg"),
        Output("hangs", "Mass the tape carries", "kg", 2),
        Output("load", "Load", "N", 1),
    ),
    source=(
        Source("4 in² of tape per lb of static load", "common practice"),
        FOAM_TAPE.source,
        ELASTIC_ADHESIVE.source,
        Source("rigid parts: at least 15 psi, thickness twice the gap between the faces, full bond after 72 h: a tape maker's "
            "application note", "read"),
        Source("half the strength after 20 min, 90 % after 24 h; lowest temperatures 10 and 0 °C", "common practice"),
    ),
    valid="Acrylic foam tape between rigid, sound faces at room temperature, under a static load in shear. Not for peel, "
    "shock, heat or structural glazing: there the data sheet and a licensed engineer decide.",
    examples=(
        Example({"mass": "5 kg", "rule": "4 in²/lb", "width": "25 mm"}, {"area": 284.47, "length": 1137.9, "stress": 1.7237},
            Source("4 in²/lb on 11.02 lb is 44.09 in²; one lbf on 4 in² is 1/4 psi = 1.7237 kPa", "computed"), rel=1e-4),
        Example({"mass": "5 kg", "width": "25 mm", "length_mismatch": "3.3 mm", "thickness": "1.1 mm"}, {"thickness": 1.1,
            "travel": 3.3, "verdict": "ok", "elastic": 6.6}, FOAM_TAPE.source, rel=1e-6),
        Example({"mass": "2 kg", "width": "19 mm", "length_mismatch": "1.2 mm", "surface_mismatch": "0.5 mm",
            "thickness": "0.8 mm"}, {"thickness": 1.0, "verdict": "too thin"},
            Source("thickness twice the gap for rigid parts: a tape maker's application note", "read"), rel=1e-6),
        Example({"load": "100 N", "width": "20 mm"}, {"area": 580.2185, "length": 2901.09, "hangs": 10.19716},
            Source("Arithmetic: 100 N ÷ 9.80665 m/s² × 56.9 cm²/kg, 20 mm wide", "computed"), rel=1e-5),
    ),
    asked=("mass|load", "length_mismatch"),
    stock=Stock("tape", {"width": "width", "rule": "load_rule", "thickness": "thickness"}),
    compute=_compute, thresholds=(_LESS,),
)  # fmt: skip
