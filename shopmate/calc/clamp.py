"""Clamps for a glued joint: the force the glue wants, how many clamps press it and spread it, and when clamps are no way."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate import tables, units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Threshold
from shopmate.errors import FieldProblem, InputError
from shopmate.models.constants import GRAVITY, NOISE
from shopmate.models.fields import in_unit, round_up
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_HABIT = Source(
    "A bag with a small pump holds 20 inHg, 67.7 kPa near sea level; a caul over 150 mm high tips over; a clamp that presses "
    "under 80 % of what it can is one that the spacing asks for",
    "common practice",
)
_FIGURES = Source("Bar clamps 2 to 5 kN by hand, light ones 0.5 to 1.5 kN; a 2 lb/ft³ foam core holds 20 to 30 psi", "memory")

_VACUUM = Threshold(
    20, "inHg", _HABIT, "A vacuum bag gives", "pressure", "20 inHg", "20.1 inHg", beside={"width": "1.22 m", "caul": "50 mm"}
)
"""Vacuum that a bag with a small pump commonly holds: a glue that wants more is not pressed by it."""

_BAG = Quantity(_VACUUM.value, _VACUUM.unit)
"""The same as a pressure [common practice]. No threshold: it is that one."""

_CLAMP_FORCE = "2 kN"
"""A bar clamp screwed up by hand: 2 to 5 kN, and the low end counts; light one-hand clamps 0.5 to 1.5 kN [memory]."""

_SIDE_BY_SIDE = 50.0
"""Room in mm that one clamp takes along an edge [common practice]. No threshold: the edge is divided by it."""

_REACH = 2
"""Rows that clamps reach from the two long edges [common practice]: a row between them wants bowed cauls, weights or vacuum.
No threshold: the width is divided by it."""

_CAUL_SPREAD = 2.0
"""Heights of the caul that the pressed length grows by: the load spreads at 45 degrees to both sides [common practice].
No threshold: the caul is multiplied by it."""

_CORE = Threshold(20.0, "psi", _FIGURES, "Solid wood only", "pressure", "20 psi", "20.1 psi")
_CORE_TO = 30
"""Compressive strength in psi of a 2 lb/ft³ foam core, from and to, typical: use your data sheet [memory]."""

_CROWDED = "too many to clamp"

_BAR_CLAMP = Threshold(
    5.0, "kN", _FIGURES, _CROWDED, "", "1000 kPa", "1001 kPa", "pressure", {"length": "1 m", "width": "100 mm"}
)
"""Most that a bar clamp screwed up by hand gives."""

_CAUL_HIGH = Threshold(
    150, "mm", _HABIT, _CROWDED, "", "600 mm", "601 mm", "width", {"length": "1 m", "pressure": "10 kPa", "caul": "50 mm"}
)
"""Highest caul that is advised: one taller than this tips over."""

_LOOSE = Threshold(
    0.8, "", _HABIT, "tighten each to about", "", "0.6 kN", "0.605 kN", "clamp_force",
    {"width": "40 mm", "pressure": "100 kPa", "caul": "50 mm", "pad": "25 mm"},
)  # fmt: skip
"""Share of its force under which a clamp is one that the spacing asks for, not the pressure."""


@dataclass(frozen=True, slots=True)
class _Spread:
    """What spreads the force of a clamp: the height of the caul and the pad of the clamp, in mm."""

    high: float
    foot: float

    @property
    def spacing(self) -> float:
        """The mm of the joint that one clamp presses."""
        return self.foot + _CAUL_SPREAD * self.high


@dataclass(frozen=True, slots=True)
class _Layout:
    """The rows of clamps, how many stand in each, and the mm of the joint along which they stand."""

    across: int
    in_row: int
    long: float

    @property
    def clamps(self) -> int:
        """How many clamps that is."""
        return self.across * self.in_row

    @property
    def apart(self) -> float:
        """From clamp to clamp, in mm."""
        return self.long / self.in_row

    @property
    def first(self) -> float:
        """From the end of the joint to the first clamp, in mm."""
        return self.apart / 2


def _glues() -> tuple[str, ...]:
    return tuple(dict.fromkeys(row["glue"] for row in tables.load("glue_pressures").rows))


def _row(glue: str, wood: str | None) -> Mapping[str, str] | None:
    rows = tables.load("glue_pressures").rows
    return next((row for row in rows if row["glue"] == glue and row["wood"] == wood), None)


def _range(glue: str | None, wood: str | None) -> tuple[Quantity, Quantity] | None:
    """Return the least and the greatest pressure of the table, or None where it has none."""
    row = _row(glue, wood) if glue else None
    if row is None or not row["low_psi"]:
        return None
    return units.parse(row["low_psi"], "psi"), units.parse(row["high_psi"], "psi")


def _compute(
    *,
    length: Quantity,
    width: Quantity,
    pressure: Quantity | None,
    glue: str | None,
    wood: str | None,
    clamp_force: Quantity,
    caul: Quantity | None,
    pad: Quantity | None,
    strength: Quantity | None,
    weight: Quantity | None,
) -> Answer:
    if problems := [
        *_needs(pressure, glue, wood, weight is not None or caul is not None),
        *_spreads(caul, pad),
        *_strength_for(strength, glue, wood),
    ]:
        raise InputError(*problems)
    long, wide = length.value_in("mm"), width.value_in("mm")
    area, each = long * wide / 1e6, clamp_force.value_in("kN")
    usual = _range(glue, wood)
    # The upper end of a range counts: clamps enough for it are enough for all of it.
    pressed = pressure or (usual[1] if usual else None)
    taken = "" if pressure else f", the upper end for {glue} on {wood}"
    force = None if pressed is None else pressed.value_in("kPa") * area
    by_force = None if force is None else round_up(force / each)
    spread = None if caul is None else _Spread(caul.value_in("mm"), pad.value_in("mm") if pad else 0.0)
    by_spread = None if spread is None else round_up(long / spread.spacing)
    rows = None if spread is None else round_up(wide / spread.spacing)
    laid = _laid_out(long, by_force, by_spread, rows)
    pressing, dead = _figures(laid, force), in_unit(weight, "kg")
    # A weight alone, without a word of clamps or glue, is asked about for itself.
    one = None if force is None and spread is None and glue is None else _one_clamp(long, wide, each, spread)
    load = None if dead is None else dead * GRAVITY / 1000 / area
    best, part = _best(strength, glue, wood), _part(glue, wood) if strength is not None else None
    vacuum = _BAG.value_in("kPa") * area
    taller, stronger = _fitting(long, wide, force, each, spread)
    remedies = [name for name, need in (("stronger clamps", stronger), ("higher caul", taller)) if need is not None]
    crowded = (stronger or 0.0) > _BAR_CLAMP.value or (taller or 0) > _CAUL_HIGH.value

    return Answer(
        {
            **pressing,
            "verdict": _verdict(crowded, remedies) if laid else None,
            "force": force,
            "clamps_by_force": by_force,
            "spacing": None if spread is None else spread.spacing,
            "clamps_by_spread": by_spread,
            "rows": rows,
            "pressure_low": usual and usual[0],
            "pressure_high": usual and usual[1],
            "best_pressure": best,
            "vacuum_force": vacuum,
            "clamp_wanted": stronger,
            "caul_wanted": taller,
            "strength_part": part,
            "pressure_one": one,
            "pressure_weight": load,
            "weight_force": None if dead is None else dead * GRAVITY,
            "weight_wanted": None if force is None else force * 1000 / GRAVITY,
        },
        (
            f"area = {sig(long)} mm × {sig(wide)} mm = {sig(area)} m²",
            *_force_lines(pressed, taken, area, each),
            *_spread_lines(long, wide, spread, pad),
            *_row_lines(laid, force),
            *_best_lines(strength, part, best),
            *_one_lines(long, wide, each, spread, one),
            *_weight_lines(dead, area, load),
            f"vacuum bag = {units.show(_BAG)} = {sig(_BAG.value_in('kPa'))} kPa × {sig(area)} m² = {sig(vacuum)} kN",
            *_remedy_lines(remedies),
        ),
        (
            *_number_cautions(crowded, pressing["clamps"], force, vacuum, pressed),
            *([] if crowded else _remedy_cautions(pressing["clamps"], taller, stronger)),
            *_pressure_cautions(pressure, usual, glue, wood, best),
            *_weight_cautions(dead, load, pressure or (usual[0] if usual else None)),
            *([] if one is None else _spread_cautions(caul, pressing["force_each"], clamp_force)),
            *_glue_cautions(glue),
        ),
    )


def _patch(long: float, wide: float, spread: _Spread | None) -> tuple[float, float]:
    """Return the mm of the joint, along and across, that one clamp presses; all of it under a caul that is not described."""
    return (long, wide) if spread is None else (min(long, spread.spacing), min(wide, spread.spacing))


def _one_clamp(long: float, wide: float, each: float, spread: _Spread | None) -> float:
    """Return the pressure in kPa under one clamp of so many kN, with sizes in mm."""
    along, across = _patch(long, wide, spread)
    return each / (along * across / 1e6)


def _one_lines(long: float, wide: float, each: float, spread: _Spread | None, one: float | None) -> list[str]:
    if one is None:
        return []
    along, across = _patch(long, wide, spread)
    stiff = " (as if a stiff caul spread it over the whole joint)" if spread is None else ""
    return [f"one clamp = {sig(each)} kN ÷ ({sig(along)} mm × {sig(across)} mm) = {sig(one)} kPa{stiff}"]


def _weight_lines(kilograms: float | None, area: float, load: float | None) -> list[str]:
    if kilograms is None or load is None:
        return []
    newtons = kilograms * GRAVITY
    return [
        f"weight = {sig(kilograms)} kg × {GRAVITY} m/s² = {sig(newtons)} N",
        f"dead weight presses = {sig(newtons / 1000)} kN ÷ {sig(area)} m² = {sig(load)} kPa",
    ]


def _weight_cautions(kilograms: float | None, load: float | None, wanted: Quantity | None) -> list[str]:
    if kilograms is None or load is None:
        return []
    said = []
    if wanted is not None and load < wanted.value_in("kPa") * (1 - NOISE):
        said.append(
            f"The weights press {sig(load, 3)} kPa, less than the {units.show(wanted)} this glue asks for: use clamps, or a glue "
            "that asks for contact only, such as epoxy."
        )
    said.append(
        "Lay bags or blocks on a stiff flat board, from the middle outwards, none near the edge of the bench: one that slides "
        "off falls on a foot (common practice)."
    )
    return said


def _laid_out(long: float, by_force: int | None, by_spread: int | None, rows: int | None) -> _Layout | None:
    """Return enough clamps for the force and for the spread, in whole rows; None where neither is known.

    Whole rows, so that no stretch of the joint has fewer clamps than another.
    """
    across = rows or 1
    needed = max(by_force or 0, (by_spread or 0) * across)
    return _Layout(across, round_up(needed / across), long) if needed else None


def _figures(laid: _Layout | None, force: float | None) -> dict[str, float | None]:
    """Return how many clamps there are, where they stand and how many kN each presses; None where that is not known."""
    if laid is None:
        return dict.fromkeys(("clamps", "apart", "first", "force_each"))
    each = None if force is None else force / laid.clamps
    return {"clamps": laid.clamps, "apart": laid.apart, "first": laid.first, "force_each": each}


def _force_lines(pressed: Quantity | None, taken: str, area: float, each: float) -> list[str]:
    if pressed is None:
        return []
    kpa = pressed.value_in("kPa")
    force = kpa * area
    return [
        f"pressure = {units.show(pressed)} = {sig(kpa)} kPa{taken}",
        f"force = pressure × area = {sig(kpa)} kPa × {sig(area)} m² = {sig(force)} kN",
        f"clamps by force = {sig(force)} kN ÷ {sig(each)} kN = {sig(force / each)}, so {round_up(force / each)}",
    ]


def _spread_lines(long: float, wide: float, spread: _Spread | None, pad: Quantity | None) -> list[str]:
    if spread is None:
        return []
    spacing = spread.spacing
    return [
        f"spacing = pad + 2 × caul = {sig(spread.foot)} + 2 × {sig(spread.high)} = {sig(spacing)} mm"
        + ("" if pad else " (no pad given: counted as a point)"),
        f"clamps by spread = {sig(long)} ÷ {sig(spacing)} = {sig(long / spacing)}, so {round_up(long / spacing)} in a row; "
        f"rows = {sig(wide)} ÷ {sig(spacing)} = {sig(wide / spacing)}, so {round_up(wide / spacing)}",
    ]


def _row_lines(laid: _Layout | None, force: float | None) -> list[str]:
    if laid is None:
        return []
    lines = [
        f"in a row {laid.in_row}, {sig(laid.apart)} mm apart, the first {sig(laid.first)} mm from the end; "
        f"{laid.across} × {laid.in_row} = {laid.clamps}"
    ]
    if force is not None:
        lines.append(f"each presses = {sig(force)} kN ÷ {laid.clamps} = {force / laid.clamps:.3f} kN")
    return lines


def _best_lines(strength: Quantity | None, part: float | None, best: float | None) -> list[str]:
    if strength is None or part is None or best is None:
        return []
    return [f"best pressure = {sig(part)} × {sig(strength.value_in('MPa'))} MPa = {sig(best / 1000)} MPa"]


def _remedy_lines(remedies: list[str]) -> list[str]:
    if not remedies:
        return []
    return [f"clamps want {_SIDE_BY_SIDE:g} mm each along an edge and reach {_REACH} rows (common practice)"]


def _needs(pressure: Quantity | None, glue: str | None, wood: str | None, pressed: bool) -> list[FieldProblem]:
    """Return what is missing; `pressed` says that clamps or a weight are described, and their pressure can be told alone."""
    known = ", ".join(name for name in _glues() if any(_range(name, grain) for grain in ("softwood", "hardwood")))
    if glue is None and pressure is None:
        fix = (
            f"give it from the glue's data sheet, or glue and wood ({known}; epoxy); or the caul or a weight alone, to be told "
            "how hard they press"
        )
        return [] if pressed else [FieldProblem("pressure", "nothing given", fix)]
    if pressure is not None or glue == "epoxy" or _range(glue, wood):
        return []
    if wood is None and _range(glue, "softwood"):
        return [FieldProblem("wood", f"nothing given for {glue}", "give softwood or hardwood, or the pressure of the data sheet")]
    on = f" on {wood}" if wood else ""
    return [FieldProblem("pressure", f"the table has none for {glue}{on}", "give it from the glue's data sheet")]


def _spreads(caul: Quantity | None, pad: Quantity | None) -> list[FieldProblem]:
    if pad is None or caul is not None:
        return []
    return [FieldProblem("caul", "nothing given", "give its height, so that pad and caul tell the spacing, or leave out the pad")]


def _strength_for(strength: Quantity | None, glue: str | None, wood: str | None) -> list[FieldProblem]:
    if strength is None or _part(glue, wood):
        return []
    names = ", ".join(f"{row['glue']} on {row['wood']}" for row in tables.load("glue_pressures").rows if row["of_strength"])
    return [FieldProblem("strength", "no rule for this glue and wood", f"leave it out; the table has rules for {names}")]


def _part(glue: str | None, wood: str | None) -> float | None:
    row = _row(glue, wood) if glue else None
    return float(row["of_strength"]) if row and row["of_strength"] else None


def _best(strength: Quantity | None, glue: str | None, wood: str | None) -> float | None:
    """Return the best pressure in kPa: a part of the compression strength across the grain (Rabiej and Behm [read])."""
    part = _part(glue, wood)
    return None if strength is None or part is None else part * strength.value_in("kPa")


def _fitting(
    long: float, wide: float, force: float | None, each: float, spread: _Spread | None
) -> tuple[int | None, float | None]:
    """Return the height of caul in mm and the force of a clamp in kN with which clamps fit side by side in at most two rows,
    each rounded up, and None where what is there is enough; all in mm and kN."""
    slots = max(1, math.floor(long / _SIDE_BY_SIDE * (1 + NOISE)))
    taller, rows = None, 1
    if spread is not None:
        wanted = max(long / slots, wide / _REACH)
        if spread.spacing < wanted * (1 - NOISE):
            taller = round_up((wanted - spread.foot) / _CAUL_SPREAD)
        rows = round_up(wide / _Spread(taller or spread.high, spread.foot).spacing)
    stronger = None
    if force is not None and force > each * slots * rows * (1 + NOISE):
        stronger = round_up(force / (slots * rows) * 10) / 10
    return taller, stronger


def _verdict(crowded: bool, remedies: list[str]) -> str:
    return _CROWDED if crowded else " and ".join(remedies) or "clamp it"


def _remedy_cautions(clamps: float | None, taller: int | None, stronger: float | None) -> list[str]:
    wanted = [
        text
        for text in (
            f"clamps that press {stronger:g} kN or more each" if stronger else "",
            f"a caul {taller} mm high or more" if taller else "",
        )
        if text
    ]
    return [f"{clamps} clamps do not fit side by side or do not reach: take {' and '.join(wanted)}."] if wanted else []


def _number_cautions(
    crowded: bool, clamps: float | None, force: float | None, vacuum: float, pressed: Quantity | None
) -> list[str]:
    if not crowded:
        return []
    weight = "" if force is None else f" ({sig(force, 3)} kN is a weight of {force * 1000 / GRAVITY:.0f} kg)"
    said = [
        f"{clamps} clamps{weight} do not fit side by side or do not reach: do not press a panel like this with clamps. Take a "
        f"glue that wants contact pressure only, such as epoxy, under weights or a gentle vacuum bag: at {units.show(_BAG)} "
        f"the bag presses the same face with {sig(vacuum, 3)} kN."
    ]
    if pressed is not None and pressed.value_in("kPa") > _BAG.value_in("kPa") * (1 + NOISE):
        said.append(
            f"A vacuum bag gives {sig(_BAG.value_in('psi'), 2)} psi at {units.show(_BAG)}, less than the "
            f"{units.show(pressed)} taken here: it does not make up for clamps with a glue that wants that pressure. Less "
            "vacuum is to be had at height."
        )
    return said


def _pressure_cautions(
    pressure: Quantity | None, usual: tuple[Quantity, Quantity] | None, glue: str | None, wood: str | None, best: float | None
) -> list[str]:
    said = []
    if pressure is not None and usual is not None:
        low, high = usual
        psi = pressure.value_in("psi")
        if not low.value_in("psi") * (1 - NOISE) <= psi <= high.value_in("psi") * (1 + NOISE):
            under = psi < low.value_in("psi")
            said.append(
                f"{units.show(pressure)} is {'under' if under else 'over'} the {units.show(low)} to {units.show(high)} for "
                f"{glue} on {wood}: {'a thick, weak glue line' if under else 'a starved joint and crushed wood'}. Keep to the "
                "range, or to the glue's data sheet."
            )
    if pressure is not None and glue == "epoxy":
        said.append(f"Epoxy wants contact pressure only, not {units.show(pressure)}: pressed hard, the joint starves.")
    pressed = pressure or (usual[1] if usual else None)
    if pressed is not None and pressed.value_in("psi") > _CORE.value:
        said.append(
            f"Solid wood only: a foam core is crushed from about {_CORE.value:g} to {_CORE_TO} psi (2 lb/ft³ foam; memory: "
            "use its data sheet)."
        )
    if best is not None:
        said.append("The best pressure is for dense wood of your strength figure; softwood is crushed by it. It is no default.")
    return said


def _spread_cautions(caul: Quantity | None, force_each: float | None, clamp_force: Quantity) -> list[str]:
    said = []
    if caul is None:
        said.append("Without the height of the caul nothing is said of the spacing: a thin caul presses only under the clamps.")
    if force_each is not None and force_each < clamp_force.value_in("kN") * _LOOSE.value:
        said.append(
            f"The spacing asks for more clamps than the force: tighten each to about {sig(force_each, 2)} kN only, from the "
            "middle outwards, until a thin even bead shows all along."
        )
    if force_each is not None:
        said.append(
            f"{units.show(clamp_force)} a clamp is counted: bar clamps give 2 to 5 kN, light one-hand clamps 0.5 to 1.5 kN "
            "(memory). Tighten in turns, keep fingers out of the joint, and do not leave loaded clamps where they can spring off."
        )
    return said


def _glue_cautions(glue: str | None) -> list[str]:
    if glue == "epoxy":
        return [
            "Epoxy: just contact, and keep a film in the joint (common practice): spread both faces (AC 43.13-1B), draw the "
            "clamps up until it begins to squeeze out, then stop. Leave them until past the firm gel; one aircraft manual "
            "says 24 h at 20 °C. The data sheet decides."
        ]
    if glue == "resorcinol":
        return [
            "Resorcinol: spread both faces; no sandpaper on softwood joints (FAA AC 43.13-1B par. 1-6, 1-7). It needs this "
            "pressure and a tight fit: it fills no gaps. Temperature and time by the data sheet."
        ]
    if glue == "PVA":
        return [
            "PVA: closed within 10 to 20 min, clamped 30 to 60 min, full strength after 24 h, not below about 7 to 10 °C (common "
            "practice). The data sheet decides."
        ]
    if glue == "urea":
        return ["Urea glue gives off formaldehyde: air the room and follow its safety data sheet."]
    return ["Pressure, open time and clamp time by the glue's data sheet."]


CALCULATOR = Calculator(
    name="clamp", title="Clamps for a glued joint",
    inputs=(
        Field("length", "Length of the joint", Measure("mm", low=1, high=20_000, soft_low=20, soft_high=5000), required=True),
        Field("width", "Width of the joint", Measure("mm", low=1, high=5000, soft_low=5, soft_high=1300), required=True),
        Field("pressure", "Pressure the glue wants", Measure("psi", above=0, high=2000, soft_high=250),
            "From the data sheet; 20 inHg for a vacuum bag. Without it, that of glue and wood."),
        Field("glue", "Glue", Choice(_glues), "Gives the usual pressure where no other is given."),
        Field("wood", "Wood", Choice(("softwood", "hardwood")), "Wanted with resorcinol and PVA."),
        Field("clamp_force", "Force of one clamp", Measure("kN", low=0.02, high=50, soft_low=0.2, soft_high=6),
            "Bar clamp 2 to 5 kN, light one-hand clamp 0.5 to 1.5 kN (memory).", default=_CLAMP_FORCE),
        Field("caul", "Height of the caul", Measure("mm", low=1, high=500, soft_low=5, soft_high=150),
            "Stiff bar between clamp and work, measured the way the clamp presses. The top piece counts with it."),
        Field("pad", "Pad of the clamp", Measure("mm", low=0, high=300, soft_high=100),
            "Its length along the joint; goes with the caul."),
        Field("strength", "Strength across the grain", Measure("MPa", above=0, high=40, soft_low=1, soft_high=20),
            "Compression strength of dense hardwood across the grain: gives the best pressure for PVA or urea."),
        Field("weight", "Dead weight on the joint", Measure("kg", above=0, high=5000, soft_high=500),
            "Bags or blocks laid on all of it; alone, or beside clamps, to be told how hard it presses."),
    ),
    outputs=(
        Output("clamps", "Clamps", "", 0),
        Output("verdict", "Verdict"),
        Output("apart", "Clamps apart, centres", "mm", 0),
        Output("first", "First clamp from the end", "mm", 0),
        Output("force", "Force on the joint", "kN", 2),
        Output("force_each", "Force of each clamp", "kN", 2),
        Output("pressure_weight", "Pressure of the dead weight", "kPa"),
        Output("pressure_one", "Pressure under one clamp", "kPa"),
        Output("weight_force", "Force of the dead weight", "N", 0),
        Output("weight_wanted", "Dead weight that presses as hard", "kg", 0),
        Output("clamps_by_force", "Clamps by force", "", 0),
        Output("spacing", "Maximum spacing", "mm", 0),
        Output("clamps_by_spread", "Clamps in a row by spread", "", 0),
        Output("rows", "Rows by spread", "", 0),
        Output("pressure_low", "Usual pressure, low", "psi", 0),
        Output("pressure_high", "Usual pressure, high", "psi", 0),
        Output("best_pressure", "Best pressure, dense wood", "kPa", 0),
        Output("vacuum_force", f"Vacuum bag, {_VACUUM.value} inHg", "kN", 2),
        Output("clamp_wanted", "Stronger clamps that fit, each from", "kN"),
        Output("caul_wanted", "Higher caul that fits, from", "mm", 0),
        Output("strength_part", "Best pressure, share of the strength", "", 2),
    ),
    source=(
        _HABIT,
        _FIGURES,
        Source("force = pressure × area; a clamp every pad + 2 × caul", "computed"),
        Source("the load spreads at 45° through the caul; first clamp half a spacing from the end", "common practice"),
        Source("resorcinol pressures, both faces spread: FAA AC 43.13-1B (1998) par. 1-6, 1-7, 1-10", "read"),
        Source("PVA pressures: a woodworking page that quotes a glue maker; PVA 0.5 and urea 0.3 of the strength: Rabiej and "
            "Behm, Wood and Fiber Science (abstract)", "read"),
        Source("epoxy: contact pressure, keep a film; PVA times", "common practice"),
    ),
    valid="Flat, well fitted faces and stiff cauls on both sides. The rule of 45° says how far the pressure reaches, not that it "
    "is even. Up to a vacuum or a few hundred psi on solid wood.",
    examples=(
        Example({"length": "1.2 m", "width": "0.6 m", "pressure": "100 psi", "clamp_force": "3 kN"}, {"force": 496.42,
            "weight_wanted": 50620.8, "clamps_by_force": 166, "verdict": "too many to clamp", "vacuum_force": 48.764},
            Source("p × A: 689.48 kPa on 0.72 m²; 20 inHg is 67.728 kPa", "computed"), rel=1e-4),
        Example({"length": "1.2 m", "width": "40 mm", "glue": "epoxy", "caul": "50 mm", "pad": "25 mm"}, {"spacing": 125,
            "clamps_by_spread": 10, "clamps": 10, "apart": 120, "first": 60},
            Source("pad + 2 × caul = 25 + 2 × 50 mm; first clamp half a spacing in", "common practice")),
        Example({"length": "24 in", "width": "1-1/2 in", "glue": "resorcinol", "wood": "softwood", "clamp_force": "500 lbf"},
            {"pressure_low": 125, "pressure_high": 150, "force": 24.0204, "clamps_by_force": 11},
            Source("FAA AC 43.13-1B par. 1-10: 125 to 150 psi; 150 psi × 36 in² = 5400 lbf", "read"), rel=1e-4),
        Example({"length": "0.5 m", "width": "60 mm", "glue": "PVA", "wood": "hardwood", "strength": "10 MPa"},
            {"best_pressure": 5000},
            Source("Rabiej and Behm, Wood and Fiber Science (abstract): half of the strength across the grain", "read")),
        Example({"length": "500 mm", "width": "200 mm", "weight": "20 kg"}, {"pressure_weight": 1.96133,
            "weight_force": 196.133},
            Source("20 kg × 9.80665 m/s² on 0.1 m²: arithmetic", "computed"), rel=1e-6),
        Example({"length": "1.2 m", "width": "40 mm", "caul": "50 mm", "pad": "25 mm"}, {"pressure_one": 400.0},
            Source("2 kN on 125 × 40 mm: arithmetic", "computed"), rel=1e-6),
    ),
    asked=("length", "width", "glue|pressure"),
    compute=_compute, thresholds=(_VACUUM, _CORE, _BAR_CLAMP, _CAUL_HIGH, _LOOSE),
)  # fmt: skip
