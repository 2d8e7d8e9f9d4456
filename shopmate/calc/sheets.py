"""Cut parts from sheets with cuts from edge to edge: how many sheets, where each part goes, the order of cuts, the offcuts."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import lru_cache

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Value
from shopmate.errors import FieldProblem
from shopmate.models.blocks import Kind
from shopmate.models.fields import refuse
from shopmate.models.parts import INCH_UNITS, TICK, FlatParts, Part, Size, in_mm, shown, ticks
from shopmate.models.sheets import Layout, Rest, box, boxes, fewest, fill, fits, laid, least_by_size, places
from shopmate.models.worth import Worth, most_valuable
from shopmate.picture import Label, Picture, Shape, in_short, rectangle, told_apart
from shopmate.records import dataclass, replace
from shopmate.units import Quantity

_KERF = Source("n parts in a row need n × (part + saw cut), from a sheet counted as its size + one saw cut", "computed")
_SHAPES = Source(
    "fewest sheets: parts grouped by cuts from edge to edge, dropping groups that waste too much; above 18 parts, sheet by "
    "sheet; minimum by area, and by parts longer than a half or a third of a side (dual feasible functions)",
    "computed",
)
_HABIT = Source(
    "saw cut of a table or track saw 2.2 to 3.2 mm; offcuts of 300 × 300 mm or larger are worth keeping; sheets are 1 to 3 mm "
    "off size and not square",
    "common practice",
)
_BENCH = Source("a published benchmark for guillotine cutting, 7 kinds on 15 × 10, no turning: optimum 244", "read")

_SIDE = Measure("mm", low=1, high=20_000)
PARTS, SIZE = FlatParts(_SIDE), Size(_SIDE)
"""How parts and sheets are entered."""

_SHEETS, _VALUE = "sheets", "value"
_FREE, _FIXED = "as marked", "fixed"

_DRAWN = 3
"""Number of sheets drawn (our choice). No Threshold needed: the list has them all."""

_SMALL_JOB = 12
"""With up to this many parts, slightly smaller ones are tried too, in case that saves a sheet (our choice). No Threshold needed:
it limits the time."""


@dataclass(frozen=True, slots=True)
class _Job:
    """The parts and sheets in ticks of 1/320 mm; the saw cut is added to both the parts and the sheet."""

    parts: tuple[Part, ...]
    kinds: tuple[Kind, ...]
    length: int
    width: int
    kerf: int
    trim: int
    unit: str
    """The unit the sheet was entered in."""

    def shown(self, size: int) -> str:
        """Return a size in ticks as text, in the unit of the sheet."""
        return shown(size, self.unit)


def _job(fields: Mapping[str, Value | None]) -> _Job:
    kerf, trim = fields["kerf"], fields["trim"]
    assert isinstance(kerf, Quantity)
    assert isinstance(trim, Quantity)
    cut, off = ticks(kerf, up=True), 2 * ticks(trim, up=True)
    length, width = SIZE.quantities(str(fields["sheet"]))
    parts = PARTS.parts(str(fields["parts"]))
    fixed = fields["grain"] == _FIXED or fields["goal"] == _VALUE
    kinds = tuple(Kind(part.ticks[0] + cut, part.ticks[1] + cut, part.count or 0, not (part.along or fixed)) for part in parts)
    return _Job(parts, kinds, ticks(length) - off + cut, ticks(width) - off + cut, cut, off, length.unit)


@lru_cache(maxsize=16)  # the picture, the answer and the form at each key press all ask for the same plan
def _fewest(kinds: tuple[Kind, ...], length: int, width: int) -> tuple[tuple[Layout, ...], bool]:
    sheets, proved = fewest(kinds, length, width)
    return tuple(sheets), proved


@lru_cache(maxsize=16)
def _fill(kinds: tuple[Kind, ...], length: int, width: int) -> tuple[Layout, tuple[int, ...]] | None:
    return fill(kinds, length, width)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """One sheet, or an offcut used first, with its cuts."""

    name: str
    length: int
    width: int
    layout: Layout


def _cut(job: _Job, stock: Sequence[Part]) -> tuple[list[_Sheet], int, bool]:
    """Return the cut sheets, the number of new ones, and whether that is proved to be the fewest."""
    left, cut, offcuts = job.kinds, list[_Sheet](), list[tuple[int, int]]()
    for part in sorted(stock, key=lambda part: part.ticks[0] * part.ticks[1]):
        length, width = (ticks(size) - job.trim + job.kerf for size in part.sizes)
        name = f"offcut {job.shown(length + job.trim - job.kerf)} x {job.shown(width + job.trim - job.kerf)}"
        unused = part.count or 0
        offcuts += [(max(0, length), max(0, width))] * unused
        while unused and min(length, width) > 0 and (made := _fill(left, length, width)) is not None:
            layout, taken = made
            # Repeat this layout as often as there are offcuts and parts for it.
            alike = min(unused, *(kind.count // of for kind, of in zip(left, taken, strict=True) if of))
            left = tuple(replace(kind, count=kind.count - alike * of) for kind, of in zip(left, taken, strict=True))
            cut += [_Sheet(name, length, width, layout)] * alike
            unused -= alike
    sheets, proved = _fewest(left, job.length, job.width)
    new = [_Sheet(f"sheet {number}", job.length, job.width, layout) for number, layout in enumerate(sheets, 1)]
    return [*cut, *new], len(sheets), proved if not stock else len(sheets) <= _least_beside(job, offcuts)


def _least_beside(job: _Job, offcuts: Sequence[tuple[int, int]]) -> int:
    """Return the minimum number of new sheets: for the area that is left after the offcuts, and for the parts that fit no
    offcut."""
    area = sum(kind.area * kind.count for kind in job.kinds) - sum(length * width for length, width in offcuts)
    large = [kind for kind in job.kinds if not any(fits(kind, length, width) for length, width in set(offcuts))]
    return max(0, -(-area // (job.length * job.width)), least_by_size(large, job.length, job.width))


@lru_cache(maxsize=16)
def _most(worth: tuple[Worth, ...], length: int, width: int) -> tuple[Layout | None, int, bool]:
    block, value, proved = most_valuable(worth, length, width)
    return (laid(block, length, width) if block is not None else None), value, proved


def _valued(job: _Job) -> tuple[list[_Sheet], Fraction, bool]:
    """Return the sheet with the highest value, the value, and whether it is proved best."""
    values = [part.value if part.value is not None else _area(part) for part in job.parts]
    scale = math.lcm(*(value.denominator for value in values))
    worth = tuple(
        Worth(kind.length, kind.width, part.count, int(value * scale))
        for part, kind, value in zip(job.parts, job.kinds, values, strict=True)
        if kind.length <= job.length and kind.width <= job.width
    )
    layout, value, proved = _most(worth, job.length, job.width)
    places = [index for index, kind in enumerate(job.kinds) if kind.length <= job.length and kind.width <= job.width]
    if layout is None:
        return [], Fraction(0), proved
    parts = tuple(replace(part, kind=places[part.kind]) for part in layout.parts)
    return [_Sheet("sheet 1", job.length, job.width, replace(layout, parts=parts))], Fraction(value, scale), proved


def _area(part: Part) -> Fraction:
    """Return the area of a part in m², which is its value if none is entered."""
    long, wide = (Fraction(size.to("m").value) for size in part.sizes)
    return long * wide


def _compute(**fields: Value | None) -> Answer:
    job = _job(fields)
    stock = PARTS.parts(str(fields["stock"])) if fields["stock"] else ()
    refuse(*_problems(fields, job, stock))
    nothing: dict[str, Value | float | None] = dict.fromkeys(output.name for output in _OUTPUTS)
    too_big = [part for part, kind in zip(job.parts, job.kinds, strict=True) if not fits(kind, job.length, job.width)]
    if too_big and fields["goal"] == _SHEETS:
        said = [f"{units.show(part.sizes[0])} x {units.show(part.sizes[1])}" for part in too_big[:3]]
        words = (
            f"{', '.join(said)} {'do' if len(said) > 1 else 'does'} not fit on a sheet: join two pieces with a lap or "
            "a scarf, or turn the part"
        )
        return Answer({**nothing, "verdict": "does not fit: join two"}, ("larger than the trimmed sheet",), (words,), False)
    if fields["goal"] == _VALUE:
        sheets, value, proved = _valued(job)
        new = len(sheets)
    else:
        sheets, new, proved = _cut(job, stock)
        value = Fraction(0)
    kerf = fields["kerf"]
    assert isinstance(kerf, Quantity)
    net = [(kind.length - job.kerf) * (kind.width - job.kerf) for kind in job.kinds]
    usable = (job.length - job.kerf) * (job.width - job.kerf)
    area = sum(one * kind.count for one, kind in zip(net, job.kinds, strict=True))
    used = sum(net[part.kind] for sheet in sheets for part in sheet.layout.parts)
    whole = sum((sheet.length - job.kerf) * (sheet.width - job.kerf) for sheet in sheets)
    bound = -(-area // usable)
    cuts = sum(len(sheet.layout.cuts) for sheet in sheets)
    values = nothing | {
        "verdict": "fits",
        "sheets": new,
        "layout": _layout(job, sheets),
        "order": _order(job, sheets),
        "offcuts": _offcuts(job, sheets, fields),
        "proved": "yes" if proved else "no",
        "used": used / whole if whole else 0.0,
        "cuts": cuts,
        "bound": bound if fields["goal"] == _SHEETS else None,
        "value": float(value) if fields["goal"] == _VALUE else None,
        "usable_length": in_mm(job.length - job.kerf),
        "usable_width": in_mm(job.width - job.kerf),
    }
    working = [
        f"usable sheet after trimming = {job.shown(job.length - job.kerf)} {_unit(job)} x {job.shown(job.width - job.kerf)} "
        f"{_unit(job)}; add a {units.show(kerf)} saw cut to each part each way"
    ]
    if fields["goal"] == _SHEETS:
        working.append(
            f"minimum sheets by area: {bound}; allowing for saw cuts, and parts longer than half or a third of a side: "
            f"{_least(job)}"
        )
    return Answer(values, tuple(working), tuple(_cautions(job, stock, new, proved, fields)))


def _unit(job: _Job) -> str:
    return "in" if job.unit in INCH_UNITS else "mm"


def _least(job: _Job) -> int:
    return least_by_size(job.kinds, job.length, job.width)


def _problems(fields: Mapping[str, Value | None], job: _Job, stock: Sequence[Part]) -> list[FieldProblem]:
    found = []
    if min(job.length, job.width) <= job.kerf:
        found.append(FieldProblem("trim", "the trim uses up the whole sheet", "enter less trim, or a larger sheet"))
    if fields["goal"] == _VALUE:
        if stock:
            found.append(
                FieldProblem("stock", "offcuts are only used for the fewest sheets, not for the best value", "leave this blank")
            )
        return found + [
            FieldProblem(
                "parts",
                f"more than {PARTS.most_parts} of {units.show(part.sizes[0])} x {units.show(part.sizes[1])} fit on one sheet",
                "enter the maximum number, or leave this part out",
            )
            for part, kind in zip(job.parts, job.kinds, strict=True)
            if part.count is None and (job.length // kind.length) * (job.width // kind.width) > PARTS.most_parts
        ]
    if any(part.count is None for part in (*job.parts, *stock)):
        found.append(FieldProblem("parts", "'*' is not a number", f"enter how many of each, or choose {_VALUE}"))
    if any(part.value is not None for part in job.parts):
        found.append(
            FieldProblem("parts", "a value is only used for the best use of one sheet", f"leave it out, or choose {_VALUE}")
        )
    return found


def _cautions(job: _Job, stock: Sequence[Part], new: int, proved: bool, fields: Mapping[str, Value | None]) -> list[str]:
    """Return cautions: what would save a sheet, what is not proved, then what goes wrong at the saw."""
    said = []
    if fields["goal"] == _SHEETS and not stock and (less := _smaller(job, new)):
        step, sheets = less
        said.append(
            f"Only the saw cuts make you need {'another sheet' if new - sheets == 1 else 'more sheets'}: with parts "
            f"{job.shown(step)} {_unit(job)} smaller each way, {sheets} {'sheet' if sheets == 1 else 'sheets'} would do"
        )
    if not proved:
        said.append(
            "This is the best plan found, but there may be a better one: list the large parts in another order and run it again"
        )
    return [*said, *_ALWAYS]


_ALWAYS = (
    "Measure each sheet and trim two edges square first: sheets can be a few mm over or under size. Check which way the face "
    "grain runs",
    "Support both sides of the last cut, and cut long narrow strips while the sheet is still large (common practice)",
)
"""Shown with every layout [common practice]."""


def _smaller(job: _Job, new: int) -> tuple[int, int] | None:
    """Return how many ticks smaller the parts must be to save sheets, and the sheets then; None if saw cuts don't matter."""
    count = sum(kind.count for kind in job.kinds)
    if not job.kerf or new <= 1 or count > _SMALL_JOB:
        return None
    step = int(Fraction(1) / TICK) if _unit(job) == "mm" else int(Fraction(254, 160) / TICK)
    for steps in range(1, 1 + math.ceil(job.kerf / step)):
        kinds = tuple(replace(kind, length=kind.length - steps * step, width=kind.width - steps * step) for kind in job.kinds)
        if min(min(kind.length, kind.width) for kind in kinds) <= job.kerf:
            return None
        if (sheets := len(_fewest(kinds, job.length, job.width)[0])) < new:
            return steps * step, sheets
    return None


def _layout(job: _Job, sheets: Sequence[_Sheet]) -> str:
    """Return the position of each part from the lower left corner of its sheet; identical sheets are listed once."""
    said: dict[str, list[str]] = {}
    for sheet in sheets:
        lies = places(sheet.layout.parts, job.kinds, job.kerf, job.unit)
        said.setdefault(lies, []).append(sheet.name)
    return "; ".join(f"{', '.join(names)}: {lies}" for lies, names in said.items()) or "nothing to cut"


def _order(job: _Job, sheets: Sequence[_Sheet]) -> str:
    """Return the cuts of each sheet in order: the piece being cut, and how far from its edge it is ripped or crosscut."""
    said: dict[str, list[str]] = {}
    for sheet in sheets:
        cuts = ", ".join(
            f"{'rip' if cut.is_rip else 'cross'} {job.shown(cut.piece.length - job.kerf)} x "
            f"{job.shown(cut.piece.width - job.kerf)} at {job.shown(cut.at - job.kerf)}"
            for cut in sheet.layout.cuts
        )
        said.setdefault(cuts or "no cut", []).append(sheet.name)
    return "; ".join(f"{', '.join(names)}: {cuts}" for cuts, names in said.items()) or "nothing to cut"


def _kept(job: _Job, sheet: _Sheet, fields: Mapping[str, Value | None]) -> list[Rest]:
    """Return the offcuts worth keeping, largest first."""
    one, other = (ticks(size) for size in SIZE.quantities(str(fields["keep"])))
    least = min(one, other), max(one, other)
    found = [
        rest
        for rest in sheet.layout.rests
        if min(rest.length, rest.width) - job.kerf >= least[0] and max(rest.length, rest.width) - job.kerf >= least[1]
    ]
    return sorted(found, key=lambda rest: -rest.length * rest.width)


def _offcuts(job: _Job, sheets: Sequence[_Sheet], fields: Mapping[str, Value | None]) -> str:
    found = [
        f"{job.shown(rest.length - job.kerf)} x {job.shown(rest.width - job.kerf)} of {sheet.name}"
        for sheet in sheets
        for rest in _kept(job, sheet, fields)
    ]
    return ", ".join(found) or "none worth keeping"


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture | None:
    """Return the sheets drawn to scale side by side, with their parts and the offcuts worth keeping."""
    if outputs.get("layout") is None:
        return None
    fields: dict[str, Value | None] = {item.name: inputs.get(item.name) for item in CALCULATOR.inputs}
    job, stock = _job(fields), PARTS.parts(str(fields["stock"])) if fields["stock"] else ()
    sheets = _valued(job)[0] if fields["goal"] == _VALUE else _cut(job, stock)[0]
    if not sheets:
        return None
    shapes, labels, left, high = [], [], 0.0, 0.0
    for sheet in sheets[:_DRAWN]:
        long, wide = in_mm(sheet.length - job.kerf), in_mm(sheet.width - job.kerf)
        shapes.append(Shape(rectangle(left, 0.0, left + long, wide), "waste", "light"))
        for rest in _kept(job, sheet, fields):
            shapes.append(Shape(box(rest, job.kerf, left), "offcuts to keep", "dots"))
        shapes += told_apart(boxes(sheet.layout.parts, job.kinds, job.kerf, left), "parts")
        labels.append(Label(sheet.name, (left + long, wide / 2)))
        left, high = left + long * 1.06, max(high, wide)
    more = f" {len(sheets) - _DRAWN} more sheets not drawn." if len(sheets) > _DRAWN else ""
    words = f"{in_short(_layout(job, sheets[:1]))}.{more}"
    return Picture(tuple(shapes), tuple(labels), words, (0.0, 0.0), (left, high))


_OUTPUTS = (
    Output("verdict", "Verdict"),
    Output("sheets", "Sheets to buy", "", 0),
    Output("layout", "Where each part goes"),
    Output("order", "Cuts in order"),
    Output("offcuts", "Offcuts to keep"),
    Output("proved", "Best possible?"),
    Output("value", "Value of the sheet", "", 2),
    Output("used", "Share of the sheets used (1 = all)", "", 2),
    Output("cuts", "Cuts", "", 0),
    Output("bound", "Minimum sheets by area", "", 0),
    Output("usable_length", "Length left after trimming", "mm", 1),
    Output("usable_width", "Width left after trimming", "mm", 1),
)

CALCULATOR = Calculator(
    name="sheets", title="Cutting plan: sheets to buy, parts and cuts",
    inputs=(
        Field("sheet", "Sheet", SIZE, "Length along the face grain x width, as you measured it: 2440 x 1220.", required=True),
        Field("parts", "Parts", PARTS, "How many, then length x width: 2@1200x600, 1@900x450 along. Add 'along' to parts that "
            "must not be turned.",
            required=True),
        Field("kerf", "Width of the saw cut", Measure("mm", low=0, high=10), "Table or track saw 3 mm; knife 0.", default="3 mm"),
        Field("trim", "Trim off each edge", Measure("mm", low=0, high=100), "What you cut off to "
            "get square, clean edges.", default="0 mm"),
        Field("grain", "Grain", Choice((_FREE, _FIXED)), "Fixed means that no part is turned.", default=_FREE),
        Field("keep", "Smallest offcut worth keeping", SIZE, default="300 x 300 mm"),
        Field("stock", "Offcuts to use first", PARTS, "Enter them like parts: 1@900x600."),
        Field("goal", "Goal", Choice((_SHEETS, _VALUE)), "Fewest sheets, or the best value from one sheet: add =VALUE to "
            "each part, or its area in m² is used.", default=_SHEETS),
    ),
    outputs=_OUTPUTS,
    source=(_KERF, _SHAPES, _HABIT, _BENCH),
    valid="Cuts run from edge to edge of the piece, as on a table saw or track saw. Sizes are exact to 0.1 mm and 1/64 in. "
    "Positions are from the lower left corner, length first, in mm or inches as you entered the sheet.",
    examples=(
        Example({"sheet": "2440 x 1220 mm", "parts": "2@1200x600, 3@900x450, 4@600x300"}, {"sheets": 2, "bound": 2,
            "proved": "yes",
            "verdict": "fits"}, _KERF),
        Example({"sheet": "2440 x 1220 mm", "parts": "4@1220x610"}, {"sheets": 2, "bound": 1, "proved": "yes",
            "order": "sheet 1: cross 2440 x 1220 at 610, cross 1827 x 1220 at 610, "
            "cross 1214 x 1220 at 610; sheet 2: cross 2440 x 1220 at 610", "offcuts": "601 x 1220 of sheet 1, 1827 "
            "x 1220 of sheet 2"}, _KERF),
        Example({"sheet": "2440 x 1220 mm", "parts": "4@1218x608"}, {"sheets": 1, "cuts": 5, "used": 0.9951,
            "usable_length": 2440, "usable_width": 1220,
            "layout": "sheet 1: 1218 x 608 at (0, 0), 1218 x 608 at (0, 611), 1218 x 608 at (1221, 0), 1218 x 608 at (1221, "
            "611)"}, _KERF,
            rel=1e-3),
        Example({"sheet": "96 x 48 in", "parts": "2@48x24 in along, 3@36x18 in, 1@24x12 in", "kerf": "1/8 in", "trim": "1/4 in",
            "stock": "1@40x20 in"}, {"sheets": 2, "proved": "yes"}, _KERF),
        Example({"sheet": "15 x 10 mm", "parts": "2@8x4=66, 1@3x7=35, 3@8x2=24, 5@3x4=17, 2@3x3=11, 2@3x2=8, 1@2x1=2",
            "kerf": "0 mm",
            "goal": "value"}, {"value": 244, "proved": "yes"}, _BENCH),
        Example({"sheet": "2440 x 1220 mm", "parts": "1@2500x300"}, {"verdict": "does not fit: join two"}, _KERF),
    ),
    asked=("sheet", "parts", "kerf"),
    compute=_compute, pictures=(_picture,),
)  # fmt: skip
