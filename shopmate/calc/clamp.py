"""Clamps for a glued joint: force the glue needs, number and spacing of the clamps, and when clamps are the wrong tool."""

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
    "A small pump pulls 20 inHg (67.7 kPa) in a vacuum bag near sea level; a caul over 150 mm high tips over; if each clamp "
    "needs less than 80 % of its force, the spacing decides the number of clamps",
    "common practice",
)
_FIGURES = Source(
    "Bar clamps tightened by hand 2 to 5 kN, light ones 0.5 to 1.5 kN; a 2 lb/ft³ foam core withstands 20 to 30 psi", "memory"
)

_VACUUM = Threshold(
    20, "inHg", _HABIT, "A vacuum bag gives", "pressure", "20 inHg", "20.1 inHg", beside={"width": "1.22 m", "caul": "50 mm"}
)
"""Vacuum a small pump pulls in a bag; not enough for a glue that needs more pressure."""

_BAG = Quantity(_VACUUM.value, _VACUUM.unit)
"""_VACUUM as a Quantity [common practice]. No Threshold needed: _VACUUM already declares this limit."""

_CLAMP_FORCE = "2 kN"
"""Force of a bar clamp tightened by hand, the low end of 2 to 5 kN; light one-hand clamps 0.5 to 1.5 kN [memory]."""

_SIDE_BY_SIDE = 50.0
"""Room in mm that one clamp needs along an edge [common practice]. No Threshold needed: it only sets how many clamps fit."""

_REACH = 2
"""Rows that clamps can reach, one from each long edge [common practice]: between the two, use bowed cauls, weights or vacuum.
No Threshold needed: it only sets how far a caul must spread the load."""

_CAUL_SPREAD = 2.0
"""Caul heights added to the length a clamp presses, because the load spreads at 45 degrees to both sides [common practice].
No Threshold needed: it only sets the spacing."""

_CORE = Threshold(20.0, "psi", _FIGURES, "Solid wood only", "pressure", "20 psi", "20.1 psi")
_CORE_TO = 30
"""Typical lowest and highest compressive strength in psi of a 2 lb/ft³ foam core; the data sheet decides [memory]."""

_CROWDED = "too many to clamp"

_BAR_CLAMP = Threshold(
    5.0, "kN", _FIGURES, _CROWDED, "", "1000 kPa", "1001 kPa", "pressure", {"length": "1 m", "width": "100 mm"}
)
"""Highest force of a bar clamp tightened by hand."""

_CAUL_HIGH = Threshold(
    150, "mm", _HABIT, _CROWDED, "", "600 mm", "601 mm", "width", {"length": "1 m", "pressure": "10 kPa", "caul": "50 mm"}
)
"""Highest caul advised, because a taller one tips over."""

_LOOSE = Threshold(
    0.8, "", _HABIT, "tighten each to about", "", "0.6 kN", "0.605 kN", "clamp_force",
    {"width": "40 mm", "pressure": "100 kPa", "caul": "50 mm", "pad": "25 mm"},
)  # fmt: skip
"""Share of a clamp's force: if each clamp needs less, the spacing, not the pressure, decides the number of clamps."""


@dataclass(frozen=True, slots=True)
class _Spread:
    """Height of the caul and length of the clamp's pad in mm, which spread the force."""

    high: float
    foot: float

    @property
    def spacing(self) -> float:
        """Length of joint in mm that one clamp presses."""
        return self.foot + _CAUL_SPREAD * self.high


@dataclass(frozen=True, slots=True)
class _Layout:
    """Number of rows, number of clamps per row, and length of the joint in mm."""

    across: int
    in_row: int
    long: float

    @property
    def clamps(self) -> int:
        """Total number of clamps."""
        return self.across * self.in_row

    @property
    def apart(self) -> float:
        """Distance between clamps in a row, in mm."""
        return self.long / self.in_row

    @property
    def first(self) -> float:
        """Distance from the end of the joint to the first clamp, in mm."""
        return self.apart / 2


def _glues() -> tuple[str, ...]:
    return tuple(dict.fromkeys(row["glue"] for row in tables.load("glue_pressures").rows))


def _row(glue: str, wood: str | None) -> Mapping[str, str] | None:
    rows = tables.load("glue_pressures").rows
    return next((row for row in rows if row["glue"] == glue and row["wood"] == wood), None)


def _range(glue: str | None, wood: str | None) -> tuple[Quantity, Quantity] | None:
    """Return the lowest and highest pressure from the table, None where it has none."""
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
    # Use the upper end of the range: enough clamps for that are enough for all of it.
    pressed = pressure or (usual[1] if usual else None)
    chosen = "" if pressure else f", the upper end for {glue} on {wood}"
    force = None if pressed is None else pressed.value_in("kPa") * area
    by_force = None if force is None else round_up(force / each)
    spread = None if caul is None else _Spread(caul.value_in("mm"), pad.value_in("mm") if pad else 0.0)
    by_spread = None if spread is None else round_up(long / spread.spacing)
    rows = None if spread is None else round_up(wide / spread.spacing)
    laid = _laid_out(long, by_force, by_spread, rows)
    pressing, dead = _figures(laid, force), in_unit(weight, "kg")
    # With a weight but no glue, pressure or caul, only the pressure of the weight is wanted.
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
            *_force_lines(pressed, chosen, area, each),
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
    """Return length and width in mm that one clamp presses; the whole joint where no caul is entered."""
    return (long, wide) if spread is None else (min(long, spread.spacing), min(wide, spread.spacing))


def _one_clamp(long: float, wide: float, each: float, spread: _Spread | None) -> float:
    """Return the pressure in kPa under one clamp of `each` kN on a joint of `long` by `wide` mm."""
    along, across = _patch(long, wide, spread)
    return each / (along * across / 1e6)


def _one_lines(long: float, wide: float, each: float, spread: _Spread | None, one: float | None) -> list[str]:
    if one is None:
        return []
    along, across = _patch(long, wide, spread)
    stiff = " (assuming a stiff caul spreads it over the whole joint)" if spread is None else ""
    return [f"pressure under one clamp = {sig(each)} kN ÷ ({sig(along)} mm × {sig(across)} mm) = {sig(one)} kPa{stiff}"]


def _weight_lines(kilograms: float | None, area: float, load: float | None) -> list[str]:
    if kilograms is None or load is None:
        return []
    newtons = kilograms * GRAVITY
    return [
        f"weight = {sig(kilograms)} kg × {GRAVITY} m/s² = {sig(newtons)} N",
        f"pressure from the weight = {sig(newtons / 1000)} kN ÷ {sig(area)} m² = {sig(load)} kPa",
    ]


def _weight_cautions(kilograms: float | None, load: float | None, wanted: Quantity | None) -> list[str]:
    if kilograms is None or load is None:
        return []
    said = []
    if wanted is not None and load < wanted.value_in("kPa") * (1 - NOISE):
        said.append(
            f"The weight presses with {sig(load, 3)} kPa, less than the {units.show(wanted)} this glue needs: use clamps, or a "
            "glue that needs contact pressure only, such as epoxy."
        )
    said.append(
        "Put a stiff flat board on the joint and stack bags or blocks on it from the middle outwards. Keep the weights away from "
        "the edge of the bench, or one will land on your foot (common practice)."
    )
    return said


def _laid_out(long: float, by_force: int | None, by_spread: int | None, rows: int | None) -> _Layout | None:
    """Return full rows with enough clamps for the force and for the spacing; None where neither is known.

    The rows are full, so that no stretch of the joint has fewer clamps than another.
    """
    across = rows or 1
    needed = max(by_force or 0, (by_spread or 0) * across)
    return _Layout(across, round_up(needed / across), long) if needed else None


def _figures(laid: _Layout | None, force: float | None) -> dict[str, float | None]:
    """Return number, spacing and distance to the first clamp in mm, and force per clamp in kN; each None where not known."""
    if laid is None:
        return dict.fromkeys(("clamps", "apart", "first", "force_each"))
    each = None if force is None else force / laid.clamps
    return {"clamps": laid.clamps, "apart": laid.apart, "first": laid.first, "force_each": each}


def _force_lines(pressed: Quantity | None, chosen: str, area: float, each: float) -> list[str]:
    if pressed is None:
        return []
    kpa = pressed.value_in("kPa")
    force = kpa * area
    return [
        f"pressure = {units.show(pressed)} = {sig(kpa)} kPa{chosen}",
        f"force = pressure × area = {sig(kpa)} kPa × {sig(area)} m² = {sig(force)} kN",
        f"clamps by force = {sig(force)} kN ÷ {sig(each)} kN = {sig(force / each)}, so {round_up(force / each)}",
    ]


def _spread_lines(long: float, wide: float, spread: _Spread | None, pad: Quantity | None) -> list[str]:
    if spread is None:
        return []
    spacing = spread.spacing
    return [
        f"spacing = pad + 2 × caul = {sig(spread.foot)} + 2 × {sig(spread.high)} = {sig(spacing)} mm"
        + ("" if pad else " (no pad entered, so it counts as 0)"),
        f"clamps by spacing = {sig(long)} ÷ {sig(spacing)} = {sig(long / spacing)}, so {round_up(long / spacing)} in a row; "
        f"rows = {sig(wide)} ÷ {sig(spacing)} = {sig(wide / spacing)}, so {round_up(wide / spacing)}",
    ]


def _row_lines(laid: _Layout | None, force: float | None) -> list[str]:
    if laid is None:
        return []
    lines = [
        f"{laid.in_row} per row, {sig(laid.apart)} mm apart, the first {sig(laid.first)} mm from the end; rows × clamps = "
        f"{laid.across} × {laid.in_row} = {laid.clamps}"
    ]
    if force is not None:
        lines.append(f"force per clamp = {sig(force)} kN ÷ {laid.clamps} = {force / laid.clamps:.3f} kN")
    return lines


def _best_lines(strength: Quantity | None, part: float | None, best: float | None) -> list[str]:
    if strength is None or part is None or best is None:
        return []
    return [f"best pressure = {sig(part)} × {sig(strength.value_in('MPa'))} MPa = {sig(best / 1000)} MPa"]


def _remedy_lines(remedies: list[str]) -> list[str]:
    if not remedies:
        return []
    return [f"each clamp needs {_SIDE_BY_SIDE:g} mm along an edge, and clamps can reach {_REACH} rows (common practice)"]


def _needs(pressure: Quantity | None, glue: str | None, wood: str | None, pressed: bool) -> list[FieldProblem]:
    """Return what is missing; `pressed`: a caul or a weight is entered, whose pressure can be worked out on its own."""
    known = ", ".join(name for name in _glues() if any(_range(name, grain) for grain in ("softwood", "hardwood")))
    if glue is None and pressure is None:
        fix = (
            f"enter it from the glue's data sheet, or choose the glue and the wood ({known}; epoxy needs no wood); or enter "
            "only a caul height or a weight to see how hard it presses"
        )
        return [] if pressed else [FieldProblem("pressure", "still blank", fix)]
    if pressure is not None or glue == "epoxy" or _range(glue, wood):
        return []
    if wood is None and _range(glue, "softwood"):
        return [FieldProblem("wood", f"needed for {glue}", "choose softwood or hardwood, or enter the data-sheet pressure")]
    on = f" on {wood}" if wood else ""
    return [FieldProblem("pressure", f"the table has no pressure for {glue}{on}", "enter it from the glue's data sheet")]


def _spreads(caul: Quantity | None, pad: Quantity | None) -> list[FieldProblem]:
    if pad is None or caul is not None:
        return []
    return [FieldProblem("caul", "still blank", "enter the caul height too (caul and pad set the spacing), or clear the pad")]


def _strength_for(strength: Quantity | None, glue: str | None, wood: str | None) -> list[FieldProblem]:
    if strength is None or _part(glue, wood):
        return []
    names = ", ".join(f"{row['glue']} on {row['wood']}" for row in tables.load("glue_pressures").rows if row["of_strength"])
    return [
        FieldProblem("strength", "no rule for this glue and wood", f"clear the strength; the table has rules only for {names}")
    ]


def _part(glue: str | None, wood: str | None) -> float | None:
    row = _row(glue, wood) if glue else None
    return float(row["of_strength"]) if row and row["of_strength"] else None


def _best(strength: Quantity | None, glue: str | None, wood: str | None) -> float | None:
    """Return the best pressure in kPa, a share of the compressive strength across the grain (Rabiej and Behm [read])."""
    part = _part(glue, wood)
    return None if strength is None or part is None else part * strength.value_in("kPa")


def _fitting(
    long: float, wide: float, force: float | None, each: float, spread: _Spread | None
) -> tuple[int | None, float | None]:
    """Return the caul height in mm and the force per clamp in kN with which the clamps fit side by side in two rows.

    Each is rounded up, and None where what was entered is enough. Sizes in mm, forces in kN.
    """
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
            f"clamps of {stronger:g} kN or more each" if stronger else "",
            f"a caul at least {taller} mm high" if taller else "",
        )
        if text
    ]
    said = f"{clamps} clamps won't fit side by side, or won't reach the middle of the joint. Use {' and '.join(wanted)}."
    return [said] if wanted else []


def _number_cautions(
    crowded: bool, clamps: float | None, force: float | None, vacuum: float, pressed: Quantity | None
) -> list[str]:
    if not crowded:
        return []
    weight = "" if force is None else f" ({sig(force, 3)} kN, the weight of {force * 1000 / GRAVITY:.0f} kg)"
    said = [
        f"{clamps} clamps{weight} won't fit side by side, or won't reach the middle of the joint: do not press a panel like "
        "this with clamps. Use a glue that needs contact pressure only, such as epoxy, under weights or a gentle vacuum bag. "
        f"At {units.show(_BAG)} the bag presses this face with {sig(vacuum, 3)} kN."
    ]
    if pressed is not None and pressed.value_in("kPa") > _BAG.value_in("kPa") * (1 + NOISE):
        said.append(
            f"A vacuum bag gives {sig(_BAG.value_in('psi'), 2)} psi at {units.show(_BAG)}, less than the "
            f"{units.show(pressed)} assumed here: it can't replace clamps for a glue that needs that pressure. High above sea "
            "level a bag gives even less."
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
            low_side = psi < low.value_in("psi")
            said.append(
                f"{units.show(pressure)} is {'below' if low_side else 'above'} the {units.show(low)} to {units.show(high)} for "
                f"{glue} on {wood}: {'expect a thick, weak glue line' if low_side else 'expect a starved joint and crushed wood'}"
                ". Keep to that range, or to the glue's data sheet."
            )
    if pressure is not None and glue == "epoxy":
        said.append(f"Epoxy needs contact pressure only, not {units.show(pressure)}: clamp it hard and you starve the joint.")
    pressed = pressure or (usual[1] if usual else None)
    if pressed is not None and pressed.value_in("psi") > _CORE.value:
        said.append(
            f"Solid wood only: a 2 lb/ft³ foam core starts to crush at about {_CORE.value:g} to {_CORE_TO} psi (from memory; "
            "check the core's data sheet)."
        )
    if best is not None:
        said.append(
            "The best pressure is for dense hardwood of the strength you entered. Don't use that much on softwood: the wood "
            "crushes."
        )
    return said


def _spread_cautions(caul: Quantity | None, force_each: float | None, clamp_force: Quantity) -> list[str]:
    said = []
    if caul is None:
        said.append("Enter the caul height to get the spacing: a thin caul presses only right under the clamps.")
    if force_each is not None and force_each < clamp_force.value_in("kN") * _LOOSE.value:
        said.append(
            f"The spacing needs more clamps than the force does, so tighten each to about {sig(force_each, 2)} kN only, from "
            "the middle outwards, until a thin, unbroken bead of glue shows all along the joint."
        )
    if force_each is not None:
        said.append(
            f"The number of clamps assumes {units.show(clamp_force)} per clamp: bar clamps give 2 to 5 kN, light one-hand "
            "clamps 0.5 to 1.5 kN (from memory). Tighten a little at a time, clamp by clamp. Keep fingers out of the joint, "
            "and place clamps so that they can't spring off."
        )
    return said


def _glue_cautions(glue: str | None) -> list[str]:
    if glue == "epoxy":
        return [
            "Epoxy: contact pressure only, and keep a film in the joint (common practice). Spread both faces (AC 43.13-1B), "
            "tighten the clamps until epoxy starts to squeeze out, then stop. Leave them on until the epoxy is hard; one "
            "aircraft manual says 24 h at 20 °C. The data sheet decides."
        ]
    if glue == "resorcinol":
        return [
            "Resorcinol: spread both faces, and don't sand softwood joints (FAA AC 43.13-1B par. 1-6, 1-7). It needs the "
            "pressure shown and a tight fit, because it won't fill gaps. Temperature and clamp time are on the data sheet."
        ]
    if glue == "PVA":
        return [
            "PVA: close the joint within 10 to 20 min, clamp for 30 to 60 min, and leave it 24 h to reach full strength; don't "
            "use it below about 7 to 10 °C (common practice). The data sheet decides."
        ]
    if glue == "urea":
        return ["Urea glue gives off formaldehyde: ventilate the room and follow its safety data sheet."]
    return ["Get pressure, open time and clamp time from the glue's data sheet."]


CALCULATOR = Calculator(
    name="clamp", title="Clamps for a glued joint: how many and how far apart",
    inputs=(
        Field("length", "Joint length", Measure("mm", low=1, high=20_000, soft_low=20, soft_high=5000), required=True),
        Field("width", "Joint width", Measure("mm", low=1, high=5000, soft_low=5, soft_high=1300), required=True),
        Field("pressure", "Pressure the glue needs", Measure("psi", above=0, high=2000, soft_high=250),
            "From the glue's data sheet; for a vacuum bag enter 20 inHg. Blank: the usual pressure for glue and wood."),
        Field("glue", "Glue", Choice(_glues), "If you leave the pressure blank, the usual one for this glue is used."),
        Field("wood", "Wood", Choice(("softwood", "hardwood")), "Needed for resorcinol and PVA."),
        Field("clamp_force", "Force per clamp", Measure("kN", low=0.02, high=50, soft_low=0.2, soft_high=6),
            "Bar clamp 2 to 5 kN, light one-hand clamp 0.5 to 1.5 kN (from memory).", default=_CLAMP_FORCE),
        Field("caul", "Caul height", Measure("mm", low=1, high=500, soft_low=5, soft_high=150),
            "The stiff bar between clamp and work, measured in the direction of the clamp. Add the thickness of the top piece."),
        Field("pad", "Clamp pad length", Measure("mm", low=0, high=300, soft_high=100),
            "Measured along the joint. Enter the caul height too."),
        Field("strength", "Compressive strength across the grain", Measure("MPa", above=0, high=40, soft_low=1, soft_high=20),
            "For dense hardwood: it sets the best pressure for PVA or urea glue."),
        Field("weight", "Weight laid on the joint", Measure("kg", above=0, high=5000, soft_high=500),
            "Total weight of the bags or blocks, spread over the whole joint. Enter it to see how hard they press."),
    ),
    outputs=(
        Output("clamps", "Clamps needed", "", 0),
        Output("verdict", "Verdict"),
        Output("apart", "Clamp spacing, centre to centre", "mm", 0),
        Output("first", "End of joint to first clamp", "mm", 0),
        Output("force", "Total force on the joint", "kN", 2),
        Output("force_each", "Force needed per clamp", "kN", 2),
        Output("pressure_weight", "Pressure from the weight", "kPa"),
        Output("pressure_one", "Pressure under one clamp", "kPa"),
        Output("weight_force", "Force of the weight", "N", 0),
        Output("weight_wanted", "Weight that would press as hard as the clamps", "kg", 0),
        Output("clamps_by_force", "Clamps needed for the force", "", 0),
        Output("spacing", "Maximum clamp spacing", "mm", 0),
        Output("clamps_by_spread", "Clamps per row needed for the spacing", "", 0),
        Output("rows", "Rows needed for the spacing", "", 0),
        Output("pressure_low", "Usual pressure, lowest", "psi", 0),
        Output("pressure_high", "Usual pressure, highest", "psi", 0),
        Output("best_pressure", "Best pressure for dense hardwood", "kPa", 0),
        Output("vacuum_force", f"Force of a vacuum bag at {_VACUUM.value} inHg", "kN", 2),
        Output("clamp_wanted", "Clamp force needed for the clamps that fit", "kN"),
        Output("caul_wanted", "Caul height needed for the clamps that fit", "mm", 0),
        Output("strength_part", "Best pressure ÷ compressive strength", "", 2),
    ),
    source=(
        _HABIT,
        _FIGURES,
        Source("Force = pressure × area; maximum spacing = pad + 2 × caul", "computed"),
        Source("The load spreads at 45° through the caul; first clamp half a spacing from the end", "common practice"),
        Source("Resorcinol pressures, glue on both faces: FAA AC 43.13-1B (1998) par. 1-6, 1-7, 1-10", "read"),
        Source("PVA pressures: a woodworking page quoting a glue maker; best pressure 0.5 × strength for PVA, 0.3 × for urea: "
            "Rabiej and Behm, Wood and Fiber Science (abstract)", "read"),
        Source("Epoxy: contact pressure, keep a film in the joint; clamp times for PVA", "common practice"),
    ),
    valid="Flat, well fitted faces and stiff cauls on both sides. The 45° rule shows how far the pressure reaches, not that the "
    "pressure is the same everywhere. For pressures up to that of a vacuum bag, or a few hundred psi on solid wood.",
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
            Source("Rabiej and Behm, Wood and Fiber Science (abstract): half the strength across the grain", "read")),
        Example({"length": "500 mm", "width": "200 mm", "weight": "20 kg"}, {"pressure_weight": 1.96133,
            "weight_force": 196.133},
            Source("20 kg × 9.80665 m/s² on 0.1 m²: arithmetic", "computed"), rel=1e-6),
        Example({"length": "1.2 m", "width": "40 mm", "caul": "50 mm", "pad": "25 mm"}, {"pressure_one": 400.0},
            Source("2 kN on 125 × 40 mm: arithmetic", "computed"), rel=1e-6),
    ),
    asked=("length", "width", "glue|pressure"),
    compute=_compute, thresholds=(_VACUUM, _CORE, _BAR_CLAMP, _CAUL_HIGH, _LOOSE),
)  # fmt: skip
