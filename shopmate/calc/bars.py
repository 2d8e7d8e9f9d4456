"""Cutting plan for bars and battens: how many to buy, what to cut from each, what is left over."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction

from shopmate import units
from shopmate.calculator import Answer, Calculator, Example, Field, Measure, Output, Source, Value
from shopmate.errors import FieldProblem
from shopmate.models.bars import Pattern, best_fill, least_bars, least_beside
from shopmate.models.fields import refuse
from shopmate.models.parts import Part, Parts, in_mm, ticks
from shopmate.picture import Label, Picture, Shape, rectangle, told_apart
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_KERF = Source("n parts fit a bar where n × (part + saw cut) is no more than bar + one saw cut", "computed")
_COLUMNS = Source(
    "fewest bars: linear programme over the ways to cut one bar (columns from a knapsack), rounded, then an exhaustive search",
    "computed",
)
_HABIT = Source(
    "Saw cut of a table or track saw 2.2 to 3.2 mm, shears none; stock runs 1 to 3 mm long or short", "common practice"
)
_PUBLISHED = Source("Published paper-cutting example: 219 pieces in 13 lengths from 5600 mm rolls, fewest rolls 73", "memory")
_TEXTBOOK = Source("Textbook example: 125 pieces in 5 lengths from 110 mm bars, fewest bars 47", "memory")

_LENGTH = Measure("mm", low=1, high=20_000)
PARTS = Parts(_LENGTH)
"""How parts are entered."""

_ROWS = 9
"""Maximum number of bars drawn (our choice). No Threshold needed: the plan lists them all."""

_FEWEST_ROWS = 5
"""Minimum rows a drawing leaves room for, so that a few bars are not drawn thick (our choice). No Threshold needed: it only
shapes the drawing."""

_TOLD = 4
"""Maximum number of ways of cutting named below the picture (our choice). No Threshold needed: the plan lists them all."""


@dataclass(frozen=True, slots=True)
class _Job:
    """The parts and the bar in ticks of 1/320 mm: sizes longest first, one saw cut added to each size and to the bar."""

    kinds: tuple[Part, ...]
    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    bar: int
    kerf: int
    trim: int


@dataclass(frozen=True, slots=True)
class _Bar:
    """One bar or offcut, what is cut from it, and the ticks left over."""

    offcut: Quantity | None
    pattern: Pattern
    left: int


def _job(fields: Mapping[str, Value | None]) -> _Job:
    stock, kerf, trim = (fields[name] for name in ("stock", "kerf", "trim"))
    assert isinstance(stock, Quantity)
    assert isinstance(kerf, Quantity)
    assert isinstance(trim, Quantity)
    cut, off = ticks(kerf, up=True), 2 * ticks(trim, up=True)
    by_size: dict[int, tuple[Part, int]] = {}
    for part in PARTS.parts(str(fields["parts"])):
        first, have = by_size.get(part.ticks[0], (part, 0))
        by_size[part.ticks[0]] = first, have + (part.count or 0)
    sizes = sorted(by_size, reverse=True)
    kinds, counts = tuple(by_size[size][0] for size in sizes), tuple(by_size[size][1] for size in sizes)
    return _Job(kinds, tuple(size + cut for size in sizes), counts, ticks(stock) - off + cut, cut, off)


def _cut(job: _Job, offcuts: Sequence[Part]) -> tuple[list[_Bar], int]:
    """Return a plan that uses the offcuts first, shortest first, and the minimum number of new bars any plan needs."""
    left, bars = list(job.counts), list[_Bar]()
    for part in sorted(offcuts, key=lambda part: part.ticks[0]):
        room, unused = max(0, ticks(part.sizes[0]) - job.trim + job.kerf), part.count or 0
        while unused and any(pattern := best_fill(job.sizes, left, room)):
            # Cut as many the same way as there are offcuts and parts for.
            alike = min(unused, *(have // of for have, of in zip(left, pattern, strict=True) if of))
            left = [have - alike * of for have, of in zip(left, pattern, strict=True)]
            bars += [_Bar(part.sizes[0], pattern, room - _taken(job, pattern))] * alike
            unused -= alike
    made = least_bars(job.sizes, left, job.bar)
    new = [_Bar(None, pattern, job.bar - _taken(job, pattern)) for pattern in made.patterns]
    new.sort(key=lambda bar: (bar.left, tuple(-count for count in bar.pattern)))
    return [*bars, *new], made.bound


def _taken(job: _Job, pattern: Pattern) -> int:
    return sum(size * count for size, count in zip(job.sizes, pattern, strict=True))


def _whole(fraction: Fraction) -> int:
    """Return the fraction rounded up to a whole number."""
    return -int(-fraction // 1)


def _compute(**fields: Value | None) -> Answer:
    job, offcuts = _job(fields), PARTS.parts(str(fields["offcuts"])) if fields["offcuts"] else ()
    refuse(*_problems(fields, job, offcuts))
    bars, bound = _cut(job, offcuts)
    new = sum(bar.offcut is None for bar in bars)
    total = sum(size * count for size, count in zip(job.sizes, job.counts, strict=True))
    rooms = [max(0, ticks(part.sizes[0]) - job.trim + job.kerf) for part in offcuts for _ in range(part.count or 0)]
    spare = sum(rooms)
    net = sum((size - job.kerf) * count for size, count in zip(job.sizes, job.counts, strict=True))
    by_length = max(0, _whole(Fraction(net - spare, job.bar - job.kerf)))
    least = least_beside(job.sizes, job.counts, job.bar, rooms) if rooms else bound
    proved = new <= max(least, _whole(Fraction(total - spare, job.bar)))
    stock = fields["stock"]
    assert isinstance(stock, Quantity)
    whole = new * ticks(stock) + sum(ticks(bar.offcut) for bar in bars if bar.offcut is not None)
    values: dict[str, Value | float | None] = {
        "bars": new,
        "plan": _plan(job, bars),
        "left": ", ".join(units.show(Quantity(round(in_mm(max(0, bar.left)), 1), "mm")) for bar in bars) or "nothing cut",
        "bound": by_length,
        "used": net / whole if whole else 0.0,
        "proved": "yes" if proved else "no",
        "parts_count": sum(job.counts),
        "total": in_mm(net) / 1000,
        "usable": in_mm(job.bar - job.kerf),
    }
    kerf = fields["kerf"]
    assert isinstance(kerf, Quantity)
    working = [
        f"{sum(job.counts)} parts, total {sig(in_mm(net) / 1000)} m, with a {units.show(kerf)} saw cut between parts; each bar "
        f"has {sig(in_mm(job.bar - job.kerf))} mm to cut from once its ends are trimmed",
        f"no fewer than {by_length} by total length; no fewer than {least} by how the parts fit a bar"
        + (", in addition to the offcuts" if rooms else ""),
    ]
    said = [] if proved else ["This is the best plan found; one with fewer bars may still exist."]
    said.append(
        "Measure each bar before the first cut: stock can be a few mm long or short, and its ends are rarely square "
        "(common practice)."
    )
    return Answer(values, tuple(working), tuple(said))


def _problems(fields: Mapping[str, Value | None], job: _Job, offcuts: Sequence[Part]) -> list[FieldProblem]:
    found = []
    if job.bar <= job.kerf:
        found.append(FieldProblem("trim", "it uses up the whole bar", "trim less, or enter a longer bar"))
    if any(part.count is None for part in (*job.kinds, *offcuts)):
        found.append(FieldProblem("parts", "'*' is not a number", "enter how many of each"))
    for name, parts in (("parts", PARTS.parts(str(fields["parts"]))), ("offcuts", offcuts)):
        if any(part.along or part.value is not None for part in parts):
            found.append(FieldProblem(name, "'along' and '=' are for sheets, not bars", "write only COUNT@LENGTH"))
    if not found:
        found += [
            FieldProblem(
                "parts",
                f"{units.show(part.sizes[0])} is longer than a bar",
                "splice it from shorter parts, or enter a longer bar",
            )
            for part, size in zip(job.kinds, job.sizes, strict=True)
            if size > job.bar
        ]
    return found


def _pattern(job: _Job, pattern: Pattern) -> str:
    """Return what is cut from one bar, longest first, such as '600 mm + 450 mm'."""
    pieces = [units.show(part.sizes[0]) for part, count in zip(job.kinds, pattern, strict=True) for _ in range(count)]
    return " + ".join(pieces)


def _plan(job: _Job, bars: Sequence[_Bar], most: int | None = None) -> str:
    """Return how many bars are cut each way; `most` is the maximum number of ways named."""
    alike = Counter((bar.offcut, bar.pattern) for bar in bars)
    told = [f"{_named(offcut, count)}: {_pattern(job, pattern)}" for (offcut, pattern), count in alike.items()]
    return "; ".join([*told[:most], *(["and more"] if len(told[:most]) < len(told) else [])]) or "nothing to cut"


def _named(offcut: Quantity | None, count: int) -> str:
    """Return '2 bars', or '2 offcuts of 900 mm'."""
    what = f"{count} {'bar' if offcut is None else 'offcut'}{'s' if count > 1 else ''}"
    return what if offcut is None else f"{what} of {units.show(offcut)}"


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture | None:
    """Return the bars to scale along their length, one row per way of cutting, with what is left; None where none is cut."""
    fields: dict[str, Value | None] = {item.name: inputs.get(item.name) for item in CALCULATOR.inputs}
    job, offcuts = _job(fields), PARTS.parts(str(fields["offcuts"])) if fields["offcuts"] else ()
    bars, _ = _cut(job, offcuts)
    if not bars:
        return None
    alike = Counter(bars)
    rows = list(alike.items())[:_ROWS]
    longest = in_mm(max(job.bar, *(ticks(bar.offcut) for bar in bars if bar.offcut is not None), 0))
    shapes, labels = [], []
    for row, (bar, count) in enumerate(rows):
        top = 2.0 * (len(rows) - row)
        end, at = in_mm(_taken(job, bar.pattern) + max(0, bar.left) - job.kerf), 0
        shapes.append(Shape(rectangle(0.0, top - 1.2, end, top), "left over", "light"))
        sizes = [size for size, times in zip(job.sizes, bar.pattern, strict=True) for _ in range(times)]
        outlines = []
        for size in sizes:
            outlines.append(rectangle(in_mm(at), top - 1.2, in_mm(at + size - job.kerf), top))
            at += size
        shapes += told_apart(outlines, "parts")
        said = f"{_named(bar.offcut, count)}, {'each leaves' if count > 1 else 'leaves'}"
        labels.append(Label(said, (end, top - 0.6), Quantity(in_mm(max(0, bar.left)), "mm"), 0))
    return Picture(
        tuple(shapes),
        tuple(labels),
        f"{_plan(job, bars, _TOLD)}.",
        (0.0, 2.0 * (len(rows) - max(len(rows), _FEWEST_ROWS))),
        (longest, 2.0 * len(rows)),
        unit="",
        to_scale=False,
    )


CALCULATOR = Calculator(
    name="bars", title="Bars: how many to buy and how to cut them",
    inputs=(
        Field("stock", "Bar length", _LENGTH, "As you measured it, not as sold.", required=True),
        Field("parts", "Parts", PARTS, "How many of each length: 4@600, 2@450.", required=True),
        Field("kerf", "Saw cut width", Measure("mm", low=0, high=10), "Usually 3 mm for a table or track saw, 0 for shears.",
            default="3 mm"),
        Field("trim", "Trim off each end", Measure("mm", low=0, high=100), "What you cut off to get square, clean ends.",
            default="0 mm"),
        Field("offcuts", "Offcuts to use first", PARTS, "How many of each length: 2@900, 1@1500."),
    ),
    outputs=(
        Output("bars", "Bars to buy", "", 0),
        Output("plan", "Cutting plan"),
        Output("left", "Left over, bar by bar"),
        Output("proved", "Fewest possible?"),
        Output("used", "Share of the bars used (1 = all)", "", 2),
        Output("bound", "Fewest bars by total length alone", "", 0),
        Output("parts_count", "Number of parts", "", 0),
        Output("total", "Total length of the parts", "m", 2),
        Output("usable", "Bar length after trimming", "mm", 1),
    ),
    source=(_KERF, _COLUMNS, _HABIT, _PUBLISHED, _TEXTBOOK),
    valid="For straight, square cuts in bars of the same section. Lengths are counted in steps of 1/320 mm, so 0.1 mm "
    "and 1/64 in are exact.",
    examples=(
        Example({"stock": "2440 mm", "parts": "4@600, 4@450, 4@300"}, {"bars": 3, "bound": 3, "proved": "yes",
            "parts_count": 12, "usable": 2440, "total": 5.4, "used": 0.7377}, _KERF, rel=1e-3),
        Example({"stock": "2400 mm", "parts": "8@600"}, {"bars": 3, "bound": 2, "proved": "yes"}, _KERF),
        Example({"stock": "1000 mm", "parts": "2@440, 2@300, 4@260, 2@240", "kerf": "0 mm"}, {"bars": 3,
            "left": "0 mm, 0 mm, 0 mm",
            "plan": "2 bars: 440 mm + 300 mm + 260 mm; 1 bar: 260 mm + 260 mm + 240 mm + 240 mm"},
            _KERF),
        Example({"stock": "8 ft", "parts": "6@22-1/2 in, 4@13 in", "kerf": "1/8 in", "offcuts": "1@30 in"}, {"bars": 2,
            "proved": "yes"}, _KERF),
        Example({"stock": "110 mm", "parts": "48@20, 35@45, 24@50, 10@55, 8@75", "kerf": "0 mm"}, {"bars": 47, "bound": 45,
            "proved": "yes"}, _TEXTBOOK),
        Example({"stock": "5600 mm", "parts": "22@1380, 25@1520, 12@1560, 14@1710, 18@1820, 18@1880, 20@1930, 10@2000, 12@2050, "
            "14@2100, 16@2140, 18@2150, 20@2200", "kerf": "0 mm"}, {"bars": 73, "bound": 73}, _PUBLISHED),
    ),
    asked=("stock", "parts", "kerf"),
    compute=_compute, pictures=(_picture,),
)  # fmt: skip
