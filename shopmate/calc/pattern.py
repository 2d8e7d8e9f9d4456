"""Screws along a joint: how many and where, the load they carry, head pull-through, filled holes in foam, slotted bars."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction

from shopmate import units
from shopmate.calculator import (
    Answer,
    Calculator,
    Choice,
    Count,
    Either,
    Example,
    Field,
    Measure,
    Output,
    Source,
    Threshold,
    Value,
)
from shopmate.errors import FieldProblem
from shopmate.models.constants import INCH, LBF
from shopmate.models.fields import given, missing, refuse, round_up, together
from shopmate.models.screws import DISTANCES, FLUSH, KNIFE_EDGE, THIN_SHEET
from shopmate.models.yield_modes import (
    FULL_BITE,
    LEAST_BITE,
    YIELD_MODES,
    bearing_strength,
    bite_share,
    screw_loads,
)
from shopmate.picture import Curve, Label, Picture, Shape, both, number, rectangle, size
from shopmate.records import dataclass
from shopmate.tables.screws import ALSO, HALF_ANGLE, NDS, Screw, distance, screws
from shopmate.tables.woods import woods
from shopmate.units import Quantity
from shopmate.units import significant as sig

_ARITHMETIC = Source("number of screws, room left beyond the tip, filling and slot length: arithmetic and geometry", "computed")
_HEADS = Source("head pull-through: AWC NDS 2018 eq. 12.2-6 (public transcription)", "read")
_PLY = Source(
    "specific gravity of plywood by grade, 0.42 and 0.50: NDS Table 12.3.3B; bearing strength of aluminium 2 F_u/1.6, by analogy "
    "with steel",
    "memory",
)
_PLUG_HABIT = Source("filled hole twice the screw's diameter: a letter to a boating magazine", "read")
_BENCH = Source(
    "2 mm of material beyond the screw tip, 20 % waste, safety factor 3 on foam; a slotted bar is screwed tight in the middle "
    "only, the other screws just snug",
    "common practice",
)

_NEAR = Threshold(2.0, "mm", _BENCH, "bulge before the tip shows", "tip_left", "39.165 mm", "39.185 mm", "screw_length")
"""Material left beyond the tip below which the far face can bulge."""

_SHORT = Threshold(LEAST_BITE, "", YIELD_MODES, "Too short", "", "28.17 mm", "28.16 mm", "screw_length")
_SCALED = Threshold(
    FULL_BITE,
    "",
    YIELD_MODES,
    "carries only part of the load",
    "",
    "44.84 mm",
    "44.82 mm",
    "screw_length",
    {"holding_thickness": "60 mm", "holding": "4650 psi"},
)
"""Penetration in screw diameters: below the first NDS allows no lateral load, below the second only part of it."""

_OK = Threshold(
    FLUSH, "", THIN_SHEET, "Only", "head_ratio", "0.1430 in", "0.1427 in", "top_thickness", {"head": "flat 82"}
)  # fmt: skip
_KNIFE = Threshold(
    KNIFE_EDGE, "", THIN_SHEET, "Knife edge", "head_ratio", "0.1001 in", "0.0999 in", "top_thickness", {"head": "flat 82"}
)
"""Head height ÷ metal thickness: a countersink is ok up to the first, and leaves a knife edge from the second up."""

_TABLE = Threshold(
    7.9375, "mm", _HEADS, "thinner than the pull-through table", "top_thickness", "7.9375 mm", "7.93 mm", "", {"top": "plywood"}
)  # fmt: skip
"""Thinnest wood in the pull-through table, 5/16 in."""

_TWICE = Threshold(2.0, "", _PLUG_HABIT, "at least twice the screw", "", "8.34 mm", "8.32 mm", "fill_diameter", {"core": "38 mm"})
"""Diameter of a filled hole, in screw diameters, below which the screw comes too close to the foam."""

_PLUG = Threshold(
    150.0, "mm", Source("solid block, no plug, above 150 mm (our estimate)", "common practice"), "solid block", "fill_diameter",
    "715 N", "718 N", "pull", {"core": "38 mm", "core_shear_strength": "0.12 MPa"},
)  # fmt: skip
"""Diameter of a filled hole above which a solid block under the skin is better."""

_THICK, _PULL, _PULL_THICK = Fraction(5, 2), 690.0, 1725.0
"""Pull-through in lbf for a head D_H wide and a top t thick, in inches: 690 π D_H G² t up to t = 2.5 D_H, above that
1725 π D_H² G²: NDS eq. 12.2-6 [read]. No Threshold needed: both formulas give the same at 2.5 D_H."""

_PLYWOODS = {"plywood": 0.42, "marine plywood": 0.50}
"""Specific gravity G of plywood, by grade: structural 1 and marine 0.50, others 0.42: NDS Table 12.3.3B [memory]."""

_METALS = {"aluminium": 27_500.0, "aluminium 6061-T6": 47_500.0, "steel": 61_850.0}
"""Bearing strength in psi of thin metal: steel 2.2 F_u/1.6, NDS Table 12 footnotes [read]; aluminium by analogy 2 F_u/1.6, with
F_u 22 ksi (6063-T5, the weakest in common use) and 38 ksi (6061-T6) [memory]."""

_ALSO_SIDES = (("ply", "plywood"), ("aluminum", "aluminium"), ("aluminum 6061-T6", "aluminium 6061-T6"))
"""Other words a builder may use for the choices."""

_LENGTHS = (
    "length", "end", "spacing", "edge", "screw_length", "top_thickness", "holding_thickness", "gap", "sink", "head_diameter",
    "fill_diameter", "core", "bar_length", "hole",
)  # fmt: skip

_FAULTS = ("break-through", "too short", "caution")
"""The faults a verdict can name, the worst first."""


_STRENGTH = Measure("psi", low=500, high=120_000)
"""Range of bearing strengths, from soft wood to hard steel."""


class _Gravity(Measure):
    """The oven-dry specific gravity of wood as a bare number, or a bearing strength with its unit."""

    def read(self, text: str) -> Quantity:
        return _STRENGTH.read(text) if units.has_unit(text) else Measure.read(self, text)

    def doubt(self, quantity: Quantity) -> str | None:
        return _STRENGTH.doubt(quantity) if quantity.unit else Measure.doubt(self, quantity)

    def describe(self, unit: str = "") -> str:
        return f"specific gravity G of wood, {self.low} to {self.high}, or bearing strength in {_STRENGTH.describe()}"


_SIDE = Either(Choice(lambda: (*_PLYWOODS, *_METALS, *woods()), _ALSO_SIDES), _Gravity("", low=0.31, high=0.73))


@dataclass(frozen=True, slots=True)
class _Joint:
    """The joint as entered; lengths in mm as exact fractions, blank ones left out."""

    screw: Screw | None
    head: str | None
    mm: Mapping[str, Fraction]
    top: str | Quantity | None
    holding: str | Quantity | None
    along: bool
    prebored: bool
    rows: int

    @property
    def is_metal(self) -> bool:
        return self.top in _METALS

    @property
    def stack(self) -> Fraction:
        """Depth in mm that the screw crosses before it reaches the holding piece: top and gap, less the depth of a sunk head."""
        return self.mm["top_thickness"] + self.mm.get("gap", Fraction(0)) - self.mm.get("sink", Fraction(0))

    @property
    def penetration(self) -> Fraction:
        return min(self.mm["screw_length"] - self.stack, self.mm["holding_thickness"])

    @property
    def tip_left(self) -> Fraction:
        return self.stack + self.mm["holding_thickness"] - self.mm["screw_length"]


_Faults = tuple[tuple[str, str], ...]
"""Faults, each with its caution."""


@dataclass(frozen=True, slots=True)
class _Part:
    """The answer from one group of fields."""

    values: Mapping[str, Value | float | None]
    working: tuple[str, ...] = ()
    faults: _Faults = ()
    notes: tuple[str, ...] = ()
    judged: bool = False
    """Whether this part counts towards the verdict."""


def _joint(fields: Mapping[str, object]) -> _Joint:
    text = {name: value for name, value in fields.items() if isinstance(value, str)}
    top, holding, rows = fields["top"], fields["holding"], fields["rows"]
    assert isinstance(rows, int)
    return _Joint(
        screw=screws()[text["size"]] if "size" in text else None,
        head=text.get("head"),
        mm={name: Fraction(item.to("mm").value) for name in _LENGTHS if (item := size(fields, name)) is not None},
        top=top if isinstance(top, str | Quantity) else None,
        holding=holding if isinstance(holding, str | Quantity) else None,
        along=text["grain"] == "along",
        prebored=text["prebored"] == "yes",
        rows=rows,
    )


def _compute(**fields: object) -> Answer:
    joint = _joint(fields)
    refuse(*_missing(fields), *_clashes(joint, fields))
    rows = _rows(joint)
    count = rows.values.get("count")
    total = count if isinstance(count, int) else None
    parts = (
        rows, _tip(joint), _lateral(joint, total, number(fields, "duration", "")), _distances(joint), _seat(joint),
        _pull_through(joint), _filled(joint, fields, total), _slot(fields),
    )  # fmt: skip
    values = {name: value for part in parts for name, value in part.values.items()}
    if not values:
        refuse(FieldProblem("length", "too little entered to work anything out", f"enter {_GROUPS}"))
    faults = sorted((fault for part in parts for fault in part.faults), key=lambda fault: _FAULTS.index(fault[0]))
    if any(part.judged for part in parts):
        values["verdict"] = _verdict([word for word, _ in faults])
    nothing = dict.fromkeys(output.name for output in CALCULATOR.outputs)
    said = (*(text for _, text in faults), *(note for part in parts for note in part.notes))
    return Answer({**nothing, **values}, tuple(line for part in parts for line in part.working), said)


def _verdict(words: Sequence[str]) -> str:
    """Return the faults, the worst first; caution only where nothing is worse, ok where there is no fault."""
    found = [word for word in _FAULTS if word in words]
    return "; ".join(found[:-1] if len(found) > 1 and found[-1] == "caution" else found) or "ok"


_GROUPS = (
    "the length of the joint, the first screw from the end and the spacing to get the number of screws; the screw size and the "
    "top piece to get edge and end distances; the screw size and length and both thicknesses to check the tip; those and the "
    "material of both pieces to get the load; the foam core and the filled hole to get the filling; the bar, its temperature "
    "range and both expansions to get the slots"
)
"""What to enter for each answer."""


def _missing(fields: Mapping[str, object]) -> list[FieldProblem]:
    """Return a problem for each field missing from a group that is partly filled in."""

    def group(begun: Sequence[str], needed: Sequence[str]) -> list[FieldProblem]:
        is_begun = [CALCULATOR.field(name).title.lower() for name in begun if fields[name] is not None]
        wanted = {name: fields[name] for name in needed}
        fix = f"enter it too, or leave blank: {', '.join(is_begun)}"
        return missing(wanted, "missing", fix) if is_begun else []

    tip = ("size", "screw_length", "top_thickness", "holding_thickness")
    problems = [
        *together(
            {name: fields[name] for name in ("length", "end", "spacing")}, "needed for the number of screws", "enter it too"
        ),
        *group(("head",), ("size",)),
        *group(("edge",), ("size", "top")),
        *group(("head_diameter",), ("top", "top_thickness")),
        *group(("screw_length", "holding_thickness", "gap", "sink"), tip),
        *group(("holding",), (*tip, "top")),
        *group(("fill_diameter", "pull", "core", "core_shear_strength", "holes"), ("core",)),
        *group(("pull",), ("core_shear_strength",)),
        *together({name: fields[name] for name in _SLOT}, "needed for the movement of the bar", "enter it too"),
        *group(("hole",), _SLOT),
    ]
    if fields["core"] is not None and fields["pull"] is None:
        fix = "enter the diameter of the filled hole, or the pull it must carry"
        problems += missing({"fill_diameter": fields["fill_diameter"]}, "missing", fix)
    if fields["pull"] is not None:
        said = {"fill_diameter": fields["fill_diameter"]}
        problems += given(said, "worked out from the pull", "leave this or the pull blank")
    return list({problem.field: problem for problem in problems}.values())


_SLOT = ("bar_length", "dt", "expansion", "expansion_base")
"""Fields for the movement of a bar on its base."""


def _clashes(joint: _Joint, fields: Mapping[str, object]) -> list[FieldProblem]:
    """Return a problem for each pair of fields that does not go together."""
    mm, screw, problems = joint.mm, joint.screw, list[FieldProblem]()
    if screw is not None and joint.head is not None and joint.head not in screw.heads:
        fix = f"choose {' or '.join(screw.heads)}"
        problems.append(FieldProblem("head", f"{screw.size} screws don't come with a {joint.head} head", fix))
    sink = fields["sink"] is not None and mm["sink"] > 0
    if sink and joint.head == "pan":
        problems.append(FieldProblem("sink", "a pan head sits on the surface", "leave this blank, or choose a flat head"))
    elif sink and "top_thickness" in mm and mm["sink"] >= mm["top_thickness"]:
        problems.append(FieldProblem("sink", "the head would go through the top piece", "enter less than the top's thickness"))
    elif {"screw_length", "top_thickness", "holding_thickness"} <= mm.keys() and mm["screw_length"] <= joint.stack:
        fix = f"enter a screw longer than {_mm(joint.stack)}"
        problems.append(FieldProblem("screw_length", "the screw does not reach the holding piece", fix))
    return problems


def _mm(mm: Fraction | float) -> str:
    """Return mm to two decimals as text; an inch project shows it in inches."""
    return f"{float(mm):.2f} mm"


def _share(diameters: Fraction | float) -> str:
    """Return a distance in screw diameters, as text."""
    return f"{float(diameters):g} D"


def _rows(joint: _Joint) -> _Part:
    """Return the number and spacing of the screws along the joint."""
    mm = joint.mm
    if "length" not in mm:
        return _Part({})
    long, end, widest = mm["length"], mm["end"], mm["spacing"]
    between = long - 2 * end
    if between <= 0:
        said = (
            f"Only one screw, in the middle: {_mm(long)} leaves no room for two end distances of {_mm(end)}. With one "
            "screw the piece can turn."
        )
        line = f"length − 2 × end = {float(long):g} − 2 × {float(end):g} = {float(between):g} mm: one screw in the middle"
        return _Part({"count": joint.rows, "per_row": 1}, (line,), (("caution", said),), judged=True)
    spaces = round_up(float(between / widest))
    spacing = between / spaces
    count = (spaces + 1) * joint.rows
    working = [
        f"spaces = (length − 2 × end) ÷ spacing = ({float(long):g} − 2 × {float(end):g})/{float(widest):g} = "
        f"{sig(between / widest)}, rounded up: {spaces}",
        f"spacing = {float(between):g}/{spaces} = {sig(spacing, 5)} mm, {spaces + 1} screws per row",
    ]
    return _Part({"count": count, "per_row": spaces + 1, "spacing": float(spacing)}, tuple(working), judged=True)


def _tip(joint: _Joint) -> _Part:
    """Return how much material is left between the screw tip and the far face."""
    if "screw_length" not in joint.mm:
        return _Part({})
    left, screw = joint.tip_left, joint.mm["screw_length"]
    longest = screw + left - Fraction(_NEAR.value)
    values = {"tip_left": float(left), "penetration": float(joint.penetration), "longest": float(longest)}
    if joint.screw is not None:
        values |= {"bite_least": float(LEAST_BITE * joint.screw.major), "bite_full": float(FULL_BITE * joint.screw.major)}
    terms = [("top", "top_thickness"), ("gap", "gap"), ("holding", "holding_thickness")]
    here = [(word, joint.mm[name]) for word, name in terms if name in joint.mm]
    off = [("screw", screw), *([("sink", joint.mm["sink"])] if "sink" in joint.mm else [])]
    words = " + ".join(word for word, _ in here) + "".join(f" − {word}" for word, _ in off)
    figures = " + ".join(f"{sig(value, 6)}" for _, value in here) + "".join(f" − {sig(value, 6)}" for _, value in off)
    line = f"left beyond the tip = {words} = {figures} = {sig(left, 6)} mm"
    fault: _Faults = ()
    shorter = f"use a screw no longer than {_mm(longest)}, or a thicker holding piece" if longest > joint.stack else (
        "the holding piece is too thin for any screw: bolt through, or add a block"
    )  # fmt: skip
    if left <= 0:
        out = f"comes out by {_mm(-left)}" if left else "reaches the far face"
        fault = (("break-through", f"Break-through: the tip {out}: {shorter}."),)
    elif left < _NEAR.value:
        fault = (("caution", f"Only {_mm(left)} left beyond the tip: the far face can bulge before the tip shows; {shorter}."),)
    return _Part(values, (line,), fault, judged=True)


def _bearing(side: str | Quantity) -> tuple[float, str]:
    """Return the bearing strength of a piece in psi, and where it comes from, in words."""
    if isinstance(side, Quantity) and side.unit:
        strength = side.value_in("psi")
        return strength, f"{strength:.0f} psi as entered"
    if isinstance(side, str) and side in _METALS:
        return _METALS[side], f"{side} {_METALS[side]:.0f} psi"
    gravity, name = _gravity(side)
    strength = bearing_strength(gravity)
    return strength, f"{name} 16600 × {gravity:.4g}^1.84, to the nearest 50: {strength:.0f} psi"


def _gravity(side: str | Quantity) -> tuple[float, str]:
    """Return the oven-dry specific gravity of a wood or plywood, with its name; not for metal or a bearing strength."""
    if isinstance(side, Quantity):
        return float(side.value), f"G {sig(side.value)},"
    if side in _PLYWOODS:
        return _PLYWOODS[side], f"{side} (grade not known: the maker's G overrides this),"
    wood = woods()[side]
    gravity = wood.g_oven_dry or wood.g_12
    assert gravity is not None  # each wood of the table has a figure
    return gravity, f"{side}, G {gravity:.2f}" + (" (the lowest of that group of woods)," if wood.kinds else ",")


def _lateral(joint: _Joint, count: int | None, duration: float) -> _Part:
    """Return the lateral load of one screw, from its yield modes, and of all the screws together."""
    if joint.holding is None or joint.top is None or joint.screw is None:
        return _Part({})
    screw, bite = joint.screw, joint.penetration
    least, full = (share * screw.major for share in (LEAST_BITE, FULL_BITE))
    values: dict[str, Value | float | None] = {
        "shortest": float(joint.stack + least), "full_length": float(joint.stack + full)
    }  # fmt: skip
    line = f"bite {_mm(bite)}; 6 D is {_mm(least)}, 10 D is {_mm(full)}"
    if bite / screw.major < _SHORT.value:
        thick = least + Fraction(_NEAR.value)
        values["holding_min"] = float(thick)
        said = f"Too short: {_mm(bite)} in the holding piece is less than 6 screw diameters, so NDS allows no lateral load. "
        if joint.mm["holding_thickness"] < thick:
            said += (
                f"That piece is too thin for {screw.size}: make it {_mm(thick)} or more, use a thinner screw, or bolt through."
            )
        else:
            said += f"Use a screw at least {_mm(joint.stack + least)} long."
        return _Part(values, (line,), (("too short", said),), judged=True)
    why_not = _without_value(joint)
    if why_not:
        return _Part(values, (line,), notes=(f"No lateral load worked out: {why_not}.",), judged=True)
    (side, side_said), (main, main_said) = _bearing(joint.top), _bearing(joint.holding)
    root, top = float(screw.roots[NDS]), float(joint.mm["top_thickness"])
    loads = screw_loads(main=main, side=side, side_thickness=top, diameter=float(screw.major), root=root)
    mode = min(loads, key=loads.__getitem__)
    share = bite_share(float(bite), float(screw.major))
    load = loads[mode] * share
    working = [
        line,
        f"bearing strength: top {side_said}; holding {main_said}",
        f"lowest of the six yield modes, with a bite of 10 D: {mode} = {loads[mode]:.0f} N ({loads[mode] / LBF:.0f} lbf)",
    ]
    if bite / screw.major < _SCALED.value:
        share_said = f"{loads[mode]:.2f} × {sig(bite / screw.major, 6)}/10 = {load:.1f} N"
        working.append(f"a bite below 10 D carries only part of the load: {share_said}")
    values |= {
        "mode": mode, "lateral": load, "lateral_full": loads[mode], "top_bearing": side, "holding_bearing": main
    }  # fmt: skip
    if count is not None:
        values["lateral_total"] = total = load * count * duration
        working.append(f"all screws = {count} × {load:.1f} N × {duration:g} (duration) = {total:.0f} N")
    notes = _LATERAL_NOTES if joint.rows > 1 or count is None else (*_LATERAL_NOTES, _PEELS)
    return _Part(values, tuple(working), notes=notes, judged=True)


_LATERAL_NOTES = (
    "Lateral loads are for dry pieces face to face, not for screws into the edge of plywood. For anything overhead, or that a "
    "person hangs from, ask an engineer and check local codes.",
)
"""Caution beside every lateral load."""

_PEELS = "One row of screws does not stop a thin skin from peeling: glue it too."
"""Caution beside the load of a single row."""


def _without_value(joint: _Joint) -> str | None:
    """Return why no lateral load is worked out for this joint, None where it is."""
    assert joint.screw is not None
    if joint.mm.get("gap", 0) > 0:
        return "a gap, foam or glue bead between the pieces rules it out; bring them face to face"
    if joint.holding in _METALS:
        return "a wood screw doesn't hold in metal: tap a thread or bolt through"
    if NDS not in joint.screw.roots:
        return f"NDS lists inch wood screws from #6 up, not {joint.screw.size}; use the screw maker's load"
    return None


def _distances(joint: _Joint) -> _Part:
    """Return the advisory minimum distances, with a fault for each planned distance below them."""
    if joint.screw is None or joint.top is None:
        return _Part({})
    rules = {
        "edge_min": "edge",
        "end_min": "end pulled",
        "end_min_pushed": "end pushed",
        "spacing_min": "spacing along" if joint.along else "spacing across",
        "row_spacing": "rows",
    }
    shares = {name: distance(rule, metal=joint.is_metal, prebored=joint.prebored) for name, rule in rules.items()}
    least = {name: share * joint.screw.major for name, share in shares.items()}
    said = ", ".join(f"{rule} {_share(shares[name])} is {_mm(least[name])}" for name, rule in rules.items())
    holes = "prebored" if joint.prebored else "not prebored"
    top = "wood" if not joint.is_metal else "steel" if joint.top == "steel" else "metal (distances for steel)"
    line = f"{joint.screw.size}, D {_mm(joint.screw.major)}, top of {top}, {holes}: {said}"
    # A row along the grain ends at end grain; a row across it ends at the sides of the piece.
    row_end, side = ("end_min", "edge_min") if joint.along else ("edge_min", "end_min")
    planned = (("end", row_end, "End distance"), ("edge", side, "Edge distance"), ("spacing", "spacing_min", "Spacing"))
    got = dict(joint.mm)
    if "length" in got:
        between = got["length"] - 2 * got["end"]
        if between > 0:
            got["spacing"] = between / round_up(float(between / got["spacing"]))
        else:  # One screw, in the middle.
            got["end"] = got["length"] / 2
            del got["spacing"]
    faults = [
        (
            "caution",
            f"{title} {_mm(got[name])} is below {_share(shares[rule])}, {_mm(least[rule])}: the piece may split or tear out.",
        )
        for name, rule, title in planned
        if name in got and got[name] < least[rule]
    ]
    notes: tuple[str, ...] = ()
    if joint.is_metal and joint.top != "steel":
        notes = ("Use stainless screws in aluminium and bed them in sealant: plain steel screws make it corrode.",)
    values = {name: float(value) for name, value in least.items()}
    judged = bool({"end", "edge", "spacing"} & joint.mm.keys())
    return _Part(values, (line,), tuple(faults), notes, judged)


def _seat(joint: _Joint) -> _Part:
    """Return whether the metal is thick enough for a countersunk head."""
    if joint.screw is None or joint.head not in HALF_ANGLE or not joint.is_metal or "top_thickness" not in joint.mm:
        return _Part({})
    head, top = joint.screw.heads[joint.head], joint.mm["top_thickness"]
    ratio = float(head.height / top)
    line = (
        f"head height ÷ {joint.top} thickness = {sig(head.height, 5)}/{sig(top, 5)} = {ratio:.3f}: ok up to 0.70, a knife edge "
        "from 1"
    )
    values = {"head_ratio": ratio, "head_height": float(head.height)}
    fault: _Faults = ()
    if ratio >= _KNIFE.value:
        said = (
            f"Knife edge: the head is {_mm(head.height)} high, the {joint.top} {_mm(top)} thick. Don't countersink: use a pan "
            "head."
        )
        fault = (("caution", said),)
    elif ratio > _OK.value:
        values["under_head"] = float(top - head.height)
        said = f"Only {_mm(top - head.height)} of {joint.top} left under the head: use a pan head, or try an offcut first."
        fault = (("caution", said),)
    return _Part(values, (line,), fault, judged=True)


def _pull_through(joint: _Joint) -> _Part:
    """Return the load that pulls a round head through the top piece."""
    head = joint.mm.get("head_diameter")
    if head is None and joint.screw is not None and joint.head is not None:
        head = joint.screw.heads[joint.head].bearing
    if head is None or joint.top is None or "top_thickness" not in joint.mm:
        return _Part({})
    if joint.is_metal or (isinstance(joint.top, Quantity) and joint.top.unit):
        return _Part({}, ("head pull-through: only worked out for wood whose specific gravity is known",))
    gravity, name = _gravity(joint.top)
    wide, top = (float(value / INCH) for value in (head, joint.mm["top_thickness"]))
    counted = min(top, float(_THICK) * wide)
    thick = counted < top
    pounds = (_PULL_THICK * wide if thick else _PULL * counted) * math.pi * wide * gravity**2
    formula = f"1725 × π × {wide:.5f}² × {gravity:.4g}²" if thick else f"690 × π × {wide:.5f} × {gravity:.4g}² × {top:.5f}"
    working = (
        f"pull-through, {name} head {_mm(head)}, top {'more than' if thick else 'up to'} 2.5 head diameters thick: "
        f"{formula} = {pounds:.2f} lbf",
        f"in newtons: {pounds:.2f} × {LBF:.5f} = {pounds * LBF:.1f} N",
    )
    notes = ["For a straight pull on the screws, use the lower of head pull-through and withdrawal (screw calculator)."]
    if joint.head in HALF_ANGLE and "head_diameter" not in joint.mm:
        notes.append(
            "The pull-through formula is for round heads. A flat head wedges its way in: never load it above this figure."
        )
    if joint.mm["top_thickness"] < _TABLE.value:
        notes.insert(0, "The top is thinner than the pull-through table covers: test a sample before you rely on the figure.")
    return _Part({"pull_through": pounds * LBF, "head_counted": float(head)}, working, notes=tuple(notes))


def _filled(joint: _Joint, fields: Mapping[str, object], count: int | None) -> _Part:
    """Return the filling and the load for oversize holes drilled in a foam core."""
    if "core" not in joint.mm:
        return _Part({})
    core, factor, waste = float(joint.mm["core"]), number(fields, "factor", ""), number(fields, "waste", "%") / 100
    strength, pull = (size(fields, name) for name in ("core_shear_strength", "pull"))
    working, values = [], dict[str, Value | float | None]()
    if pull is not None and strength is not None:
        wanted, tau = pull.value_in("N"), strength.value_in("MPa")
        wide = factor * wanted / (math.pi * core * tau)
        working.append(
            f"diameter = factor × pull/(π × core × shear) = "
            f"{factor:g} × {sig(wanted, 6)}/(π × {core:g} × {tau:g}) = {sig(wide, 6)} mm"
        )
    else:
        wide = float(joint.mm["fill_diameter"])
    holes = fields["holes"] if isinstance(fields["holes"], int) else count or 1
    volume = holes * (1 + waste) * math.pi * wide**2 * core / 4000
    working.append(f"filling = {holes} × (1 + {waste:g}) × π/4 × {sig(wide, 6)}² × {core:g}/1000 = {sig(volume, 5)} mL")
    values |= {"fill_diameter": wide, "fill_volume": volume}
    if joint.screw is not None:
        values["fill_min"] = _TWICE.value * float(joint.screw.major)
    if strength is not None:
        tau = strength.value_in("MPa")
        load = math.pi * wide * core * tau
        values |= {"fill_load": load, "fill_allowed": load / factor}
        working.append(f"plug shears out at π × diameter × core × shear = π × {sig(wide, 6)} × {core:g} × {tau:g} = {load:.1f} N")
    return _Part(values, tuple(working), notes=tuple(_plug_notes(joint, wide)))


def _plug_notes(joint: _Joint, wide: float) -> list[str]:
    """Return the cautions for a filled hole of a diameter in mm."""
    notes = []
    if wide > _PLUG.value:
        notes.append("That plug is too wide: use more screws, or a solid block between the skins.")
    elif joint.screw is not None and wide < _TWICE.value * float(joint.screw.major):
        notes.append(
            f"Drill the hole at least twice the screw diameter, {_mm(2 * joint.screw.major)}, so that epoxy surrounds the screw."
        )
    notes.append(
        "A screw holds nothing in bare foam. Rake the core back, clean the skins, fill the hole with thickened epoxy so that it "
        "bonds to both, then redrill."
    )
    return notes


def _slot(fields: Mapping[str, object]) -> _Part:
    """Return the movement at the ends of a bar fixed in the middle, and the slot length that lets it move."""
    long, dt, bar, base = (size(fields, name) for name in _SLOT)
    if long is None or dt is None or bar is None or base is None:
        return _Part({})
    half, warm = long.value_in("mm") / 2, dt.value_in("K")
    a, b = bar.value_in("µm/m·K"), base.value_in("µm/m·K")
    movement = abs(a - b) * 1e-6 * half * warm
    line = f"movement at each end = |{sig(a)} − {sig(b)}| µm/m·K × {sig(2 * half, 6)} mm/2 × {sig(warm)} K = {sig(movement)} mm"
    values: dict[str, Value | float | None] = {"movement": movement}
    notes = (
        "Fix the bar in the middle only. Everywhere else put a washer under the screw head, centre the screw in its slot and "
        "don't tighten it hard.",
    )
    hole = size(fields, "hole")
    if hole is None:
        return _Part(values, (line,), notes=notes)
    wide = hole.value_in("mm")
    values["slot"] = wide + 2 * movement
    return _Part(
        values,
        (line, f"slot = hole + 2 × movement = {sig(wide)} + 2 × {movement:.4f} = {wide + 2 * movement:.2f} mm"),
        notes=notes,
    )


_BAND, _MARGIN = 1.0, 1.0
"""Drawn height of a row, and of the margin above and below (our choice): across the joint the picture is not to scale."""


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture | None:
    """Return the joint from above with its screws, in mm along its length; None where the number of screws is not worked out."""
    per_row, rows = outputs["per_row"], inputs["rows"]
    if not isinstance(per_row, int) or not isinstance(rows, int):
        return None
    long, end, spacing = number(inputs, "length", "mm"), number(inputs, "end", "mm"), number(outputs, "spacing", "mm")
    places = [end + spacing * place for place in range(per_row)] if per_row > 1 else [long / 2]
    high = rows * _BAND
    lines = [_BAND * (row + 0.5) for row in range(rows)]
    dots = [
        Curve(((x, y), (x, y)), "screw" if x == places[0] and y == lines[0] else "", "dot") for y in lines for x in places
    ]  # fmt: skip
    top = str(inputs["top"]) if isinstance(inputs.get("top"), str) else "top"
    labels = [Label("length", (long * 0.98, high * 0.98), size(inputs, "length"))]
    every = size(outputs, "spacing")
    if every is not None:
        labels.append(Label("spacing", ((places[-1] + places[-2]) / 2, lines[-1]), every, 1))
        labels.append(Label("end", (long - end / 2, lines[0]), size(inputs, "end")))
    return Picture(
        (Shape(rectangle(0.0, 0.0, long, high), top, "light"),),
        tuple(labels),
        _words(inputs, outputs, per_row, rows),
        (-0.01 * long, -_MARGIN),
        (1.01 * long, high + _MARGIN),
        tuple(dots),
        least=spacing / 2,
        to_scale=False,
    )


def _words(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None], per_row: int, rows: int) -> str:
    """Return the picture in words."""
    long, end, spacing = size(inputs, "length"), size(inputs, "end"), size(outputs, "spacing")
    assert long is not None
    assert end is not None
    if spacing is None:
        return f"One screw per row in the middle of {both(long)}."
    every = Quantity(round(spacing.value_in("mm"), 1), "mm")
    said = "One row" if rows == 1 else f"{rows} rows"
    return f"{said} of {per_row} screws along {both(long)}: the first {both(end)} from the end, then one every {both(every)}."


_BAR = {
    "length": "1200 mm", "end": "50 mm", "spacing": "150 mm", "size": "#8", "head": "pan", "screw_length": "1-1/4 in",
    "top": "aluminium", "top_thickness": "1/8 in", "holding": "Douglas-fir coast", "holding_thickness": "38 mm",
}  # fmt: skip
"""A thin bar on a softwood frame, the first worked example (our choice)."""

_CELL = Source("NDS 2018 Table 12L, values from public test fixtures that cite the page", "read")
_ROOM = Measure("mm", low=0.3, high=100, soft_high=50)

CALCULATOR = Calculator(
    name="pattern", title="Screws along a joint: number, spacing, load",
    inputs=(
        Field("length", "Length of the joint", Measure("mm", low=20, high=100_000)),
        Field("end", "First screw from the end", Measure("mm", low=0, high=500), "The same at both ends."),
        Field("spacing", "Maximum spacing", Measure("mm", low=5, high=1000, soft_low=15, soft_high=400)),
        Field("rows", "Rows", Count(low=1, high=20), default="1"),
        Field("size", "Screw size", Choice(lambda: tuple(screws()), ALSO),
            "#8: inch wood screw; 4 mm: metric wood screw; ST: tapping screw; M: machine screw. Loads are for inch wood screws "
            "from #6 up."),
        Field("head", "Head", Choice((*HALF_ANGLE, "pan")), "flat 82: countersunk, inch screws; flat 90: countersunk, metric."),
        Field("screw_length", "Screw length", Measure("mm", low=6, high=200, soft_high=150),
            "Countersunk: including the head. Pan: from under the head."),
        Field("top", "Top piece", _SIDE, "Material, oven-dry specific gravity of the wood, or bearing strength."),
        Field("top_thickness", "Thickness of the top", _ROOM),
        Field("holding", "Holding piece", _SIDE, "The piece the thread bites into; needed for the load."),
        Field("holding_thickness", "Thickness of the holding piece", Measure("mm", low=1, high=300)),
        Field("gap", "Gap between the pieces", Measure("mm", low=0, high=20), "Include any foam or glue bead. Blank: none."),
        Field("sink", "Head below the surface", Measure("mm", low=0, high=5), "Flat heads only. Blank: flush."),
        Field("grain", "Direction of the row", Choice(("along", "across")), "Whether the row runs along or across the grain.",
            default="along"),
        Field("prebored", "Pilot holes", Choice(("yes", "no")), default="yes"),
        Field("edge", "Distance from row to edge", Measure("mm", low=2, high=500),
            "The distance you plan: it is checked against the minimum."),
        Field("duration", "Load duration factor", Measure("", low=0.9, high=1.6),
            "0.9: permanent load; 1: ten years; 1.15: two months; 1.6: ten minutes.", default="1"),
        Field("head_diameter", "Head or washer diameter", Measure("mm", low=3, high=60), "Blank: the usual head for that size."),
        Field("core", "Foam core thickness", Measure("mm", low=3, high=300), "For holes filled with thickened epoxy."),
        Field("fill_diameter", "Filled hole diameter", Measure("mm", low=4, high=150),
            "Blank: worked out from the pull on each screw."),
        Field("core_shear_strength", "Shear strength of the foam", Measure("MPa", low=0.02, high=5), "From its data sheet."),
        Field("pull", "Pull on each screw", Measure("N", above=0, high=20_000),
            "Enter it to get the diameter of the filled hole."),
        Field("factor", "Safety factor on the foam", Measure("", low=1, high=10, soft_low=2), default="3"),
        Field("holes", "Holes to fill", Count(low=1, high=5000), "Blank: one for each screw."),
        Field("waste", "Thickened epoxy wasted", Measure("%", low=0, high=100), default="20 %"),
        Field("bar_length", "Length of a bar fixed in the middle", Measure("mm", low=20, high=10_000),
            "For slots that let the bar move."),
        Field("dt", "Temperature range", Measure("K", low=1, high=150), "From the coldest night to the hottest sun."),
        Field("expansion", "Expansion of the bar", Measure("µm/m·K", low=0, high=100), "Aluminium about 23, steel about 12."),
        Field("expansion_base", "Expansion of the base", Measure("µm/m·K", low=0, high=100),
            "The piece the bar is screwed to. Wood along the grain: 3 to 5."),
        Field("hole", "Clearance hole", Measure("mm", low=1, high=20), "Its diameter sets the width of the slot."),
    ),
    outputs=(
        Output("count", "Screws", "", 0),
        Output("spacing", "Spacing", "mm", 1),
        Output("tip_left", "Left beyond the tip (−: through)", "mm", 1),
        Output("lateral_total", "Lateral load, all screws", "N", 0),
        Output("pull_through", "Head pull-through, each", "N", 0),
        Output("fill_diameter", "Filled hole diameter", "mm", 1),
        Output("fill_volume", "Thickened epoxy, all holes", "mL", 1),
        Output("slot", "Slot length", "mm", 1),
        Output("lateral", "Lateral load per screw, ten years", "N", 0),
        Output("mode", "Yield mode"),
        Output("edge_min", "Minimum distance from the edge", "mm", 1),
        Output("end_min", "Minimum from end grain, load towards it", "mm", 1),
        Output("end_min_pushed", "Minimum from end grain, load away from it", "mm", 1),
        Output("spacing_min", "Minimum spacing", "mm", 1),
        Output("row_spacing", "Minimum row spacing", "mm", 1),
        Output("penetration", "Bite in the holding piece", "mm", 1),
        Output("bite_least", "Minimum bite for a lateral load (6 D)", "mm", 1),
        Output("bite_full", "Bite for the full lateral load (10 D)", "mm", 1),
        Output("longest", "Longest screw that stays inside", "mm", 1),
        Output("shortest", "Shortest screw for a lateral load", "mm", 1),
        Output("full_length", "Shortest screw for the full lateral load", "mm", 1),
        Output("holding_min", "Minimum holding thickness for a lateral load", "mm", 1),
        Output("lateral_full", "Lateral load per screw, with full bite", "N", 0),
        Output("top_bearing", "Bearing strength of the top", "psi", 0),
        Output("holding_bearing", "Bearing strength of the holding piece", "psi", 0),
        Output("head_ratio", "Head height ÷ top thickness", "", 2),
        Output("head_height", "Height of the head", "mm", 2, gauged=True),
        Output("under_head", "Metal left under the head", "mm", 2, gauged=True),
        Output("head_counted", "Head diameter used", "mm", 2, gauged=True),
        Output("fill_min", "Minimum filled hole diameter", "mm", 1),
        Output("fill_load", "Load that shears the plug out, each", "N", 0),
        Output("fill_allowed", "Allowed pull on the plug, each", "N", 0),
        Output("movement", "Movement at each end of the bar", "mm", 2),
        Output("per_row", "Screws per row", "", 0),
        Output("verdict", "Verdict"),
    ),
    source=(_ARITHMETIC, YIELD_MODES, DISTANCES, _HEADS, _PLY, THIN_SHEET, _PLUG_HABIT, _BENCH),
    valid="Dry wood, screws in side grain, one shear plane, pieces face to face. Loads are for inch wood screws #6 to #14 in "
    "wood of specific gravity 0.31 to 0.73, not in the edge of plywood or in foam.",
    examples=(
        Example(_BAR, {"count": 9, "per_row": 9, "spacing": 137.5, "tip_left": 9.425, "penetration": 28.575, "edge_min": 10.414,
            "end_min": 20.828, "spacing_min": 20.828, "end_min_pushed": 12.4968, "row_spacing": 10.414, "longest": 39.175,
            "shortest": 28.1686, "bite_least": 24.9936, "bite_full": 41.656, "full_length": 44.831,
            "top_bearing": 27500.0, "holding_bearing": 4650.0, "verdict": "ok"},
            Source("by hand: 1100/150 rounded up is 8 spaces; tip 3.175 + 38 − 31.75; distances 2.5, 5, 5, 3 and 2.5 D of "
            "0.164 in; bites 6 and 10 D; NDS Table 12.3.3", "computed")),
        Example({"size": "#10", "head": "flat 82", "screw_length": "2.4 in", "top": "0.5", "top_thickness": "0.5 in",
            "holding": "0.5", "holding_thickness": "3.5 in"}, {"lateral": 90 * LBF, "lateral_full": 90 * LBF, "mode": "IIIs"},
            _CELL, rel=0.006),
        Example({"size": "#8", "head": "pan", "screw_length": "2.5 in", "top": "plywood", "top_thickness": "6 mm", "holding":
            "0.42", "holding_thickness": "60 mm", "length": "600 mm", "end": "50 mm", "spacing": "100 mm", "rows": "2",
            "grain": "across", "duration": "1.6"}, {"count": 12, "lateral": 209.6, "lateral_total": 209.6 * 12 * 1.6,
            "pull_through": 129.38, "head_counted": 0.322 * 25.4, "mode": "Is"},
            Source("yield modes and NDS eq. 12.2-6a worked by hand", "computed"), rel=0.001),
        Example({"fill_diameter": "12 mm", "core": "38 mm", "core_shear_strength": "0.12 MPa", "holes": "9"},
            {"fill_volume": 46.415, "fill_load": 171.91, "fill_allowed": 57.303}, _ARITHMETIC, rel=1e-4),
        Example({"pull": "200 N", "core": "38 mm", "core_shear_strength": "0.12 MPa", "size": "#14"},
            {"fill_diameter": 41.883, "fill_min": 12.2936},
            _ARITHMETIC, rel=1e-4),
        Example({"bar_length": "2 m", "dt": "60 K", "expansion": "23 µm/m·K", "expansion_base": "3.5 µm/m·K", "hole": "4.5 mm"},
            {"movement": 1.17, "slot": 6.84}, _ARITHMETIC),
        Example({"size": "#6", "head": "flat 82", "top": "aluminium", "top_thickness": "0.1 in", "edge": "10 mm", "screw_length":
            "3/4 in", "holding_thickness": "20 mm", "gap": "1 mm", "sink": "0.5 mm"}, {"head_ratio": 0.83, "head_height": 2.1082,
            "under_head": 0.4318, "tip_left": 3.99, "verdict": "caution"},
            Source("head 0.083 in (ASME B18.6.1) over 0.1 in; 2.54 + 1 + 20 − 19.05 − 0.5", "computed")),
    ),
    asked=("length", "end", "spacing"),
    compute=_compute, pictures=(_picture,),
    thresholds=(_NEAR, _SHORT, _SCALED, _OK, _KNIFE, _TABLE, _TWICE, _PLUG),
)  # fmt: skip
