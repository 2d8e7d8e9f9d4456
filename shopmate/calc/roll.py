"""Pieces of cloth out of a roll: the length to cut off, what lies where, how much of it is used."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from shopmate import units
from shopmate.calculator import Answer, Calculator, Choice, Example, Field, Measure, Output, Source, Stock, Value
from shopmate.errors import FieldProblem
from shopmate.models.blocks import Kind
from shopmate.models.fields import refuse
from shopmate.models.parts import FlatParts, Part, in_mm, ticks
from shopmate.models.sheets import Layout, boxes, places, shortest
from shopmate.picture import Label, Picture, Shape, in_short, rectangle, told_apart
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_LAYOUT = Source(
    "shortest length: blocks joined by cuts from edge to edge, none that wastes more than a known length allows; of many pieces "
    "the best of many orders",
    "computed",
)
_BOUND = Source("no length is under the area of the pieces over the roll's width, or under the longest piece", "computed")
_HABIT = Source("cloth is not turned where its threads carry load one way or have to line up", "common practice")

PIECES = FlatParts(Measure("mm", low=1, high=20_000))
"""How pieces are given: along the roll x across it."""

_NO, _YES = "no", "yes"
"""Whether pieces may be turned."""


@dataclass(frozen=True, slots=True)
class _Job:
    """What is cut out of which roll, in ticks; the gap is counted in the pieces and in the roll."""

    pieces: tuple[Part, ...]
    kinds: tuple[Kind, ...]
    width: int
    gap: int
    unit: str
    """The unit the first piece was given in, in which places are told."""


def _job(fields: Mapping[str, Value | None]) -> _Job:
    width, gap = fields["roll_width"], fields["gap"]
    assert isinstance(width, Quantity)
    assert isinstance(gap, Quantity)
    between = ticks(gap, up=True)
    pieces = PIECES.parts(str(fields["pieces"]))
    kinds = tuple(
        Kind(piece.ticks[0] + between, piece.ticks[1] + between, piece.count or 0, fields["turn"] == _YES and not piece.along)
        for piece in pieces
    )
    return _Job(pieces, kinds, ticks(width) + between, between, pieces[0].sizes[0].unit)


@lru_cache(maxsize=16)  # the picture, the answer and a form at each key ask for the same layout
def _shortest(kinds: tuple[Kind, ...], width: int) -> tuple[Layout, int, bool]:
    return shortest(kinds, width)


def _compute(**fields: Value | None) -> Answer:
    job = _job(fields)
    refuse(*_problems(fields, job))
    layout, end, proved = _shortest(job.kinds, job.width)
    length = in_mm(end - job.gap)
    net = [(kind.length - job.gap) * (kind.width - job.gap) for kind in job.kinds]
    area = sum(one * kind.count for one, kind in zip(net, job.kinds, strict=True))
    width = job.width - job.gap
    longest = max(min(long for long, wide, _ in kind.ways if wide <= job.width) - job.gap for kind in job.kinds)
    bound = max(in_mm(area) / in_mm(width) * in_mm(1), in_mm(longest))
    proved = proved or end - job.gap <= max(-(-area // width), longest)
    square_metres = area * in_mm(1) ** 2 / 1e6
    values: dict[str, Value | float | None] = {
        "length": length / 1000,
        "layout": places(layout.parts, job.kinds, job.gap, job.unit),
        "proved": "yes" if proved else "no",
        "used": area / ((end - job.gap) * width),
        "bound": bound / 1000,
        "pieces_area": square_metres,
        "pieces_count": len(layout.parts),
    }
    roll = fields["roll_width"]
    assert isinstance(roll, Quantity)
    working = (
        f"{len(layout.parts)} pieces of {sig(square_metres)} m² in all; over a roll {units.show(roll)} wide that is "
        f"{sig(square_metres / (in_mm(width) / 1000))} m, and the longest piece takes {sig(in_mm(longest) / 1000)} m",
    )
    return Answer(values | {"longest": in_mm(longest) / 1000, "by_area": square_metres / (in_mm(width) / 1000)}, working,
                  tuple(_cautions(fields, proved)))  # fmt: skip


def _cautions(fields: Mapping[str, Value | None], proved: bool) -> list[str]:
    said = []
    if not proved:
        said.append("No shorter layout was found, and none is ruled out: try it on the floor with strips of paper")
    if fields["turn"] == _YES:
        said.append("Turned pieces have their threads the other way: only for balanced cloth whose weave need not line up")
    said.append("Add what is wrapped round edges and lost at the cut to each piece, and mark the warp on it before it is cut")
    return said


def _problems(fields: Mapping[str, Value | None], job: _Job) -> list[FieldProblem]:
    if any(piece.count is None for piece in job.pieces):
        return [FieldProblem("pieces", "'*' says no number", "give how many of each")]
    if any(piece.value is not None for piece in job.pieces):
        return [FieldProblem("pieces", "a piece has no value here", "write COUNT@ALONG x ACROSS alone")]
    found = []
    for piece, kind in zip(job.pieces, job.kinds, strict=True):
        if all(wide > job.width for _, wide, _ in kind.ways):
            size = f"{units.show(piece.sizes[0])} x {units.show(piece.sizes[1])}"
            found.append(
                FieldProblem(
                    "pieces", f"{size} is wider than the roll", "lay it in strips (see cloth), turn it, or take a wider roll"
                )
            )
    return found


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture:
    """Return the length of roll with its pieces, to scale, the roll running to the right."""
    job = _job({item.name: inputs.get(item.name) for item in CALCULATOR.inputs})
    layout, end, _ = _shortest(job.kinds, job.width)
    long, wide = in_mm(end - job.gap), in_mm(job.width - job.gap)
    shapes = [Shape(rectangle(0.0, 0.0, long, wide), "waste", "light")]
    shapes += told_apart(boxes(layout.parts, job.kinds, job.gap), "pieces")
    return Picture(
        tuple(shapes),
        (Label("roll, cut here at", (long, wide / 2), Quantity(long, "mm"), 0),),
        f"{in_short(str(outputs['layout']))}.",
        (0.0, 0.0),
        (long, wide),
    )


CALCULATOR = Calculator(
    name="roll", title="Pieces out of a roll",
    inputs=(
        Field("roll_width", "Width of the roll", Measure("mm", low=20, high=5000), "Between the selvedges.", required=True),
        Field("pieces", "Pieces", PIECES, "How many of each, along the roll x across it: 2@1260x630, 1@2500x1220 along.",
            required=True),
        Field("turn", "May pieces be turned", Choice((_NO, _YES)), "Those marked along never are.", default=_NO),
        Field("gap", "Between pieces", Measure("mm", low=0, high=100), "For the shears, or frayed threads.", default="0 mm"),
    ),
    outputs=(
        Output("length", "Length to cut off", "m", 2),
        Output("layout", "What lies where"),
        Output("proved", "Nothing shorter is possible"),
        Output("used", "Used", "", 2),
        Output("bound", "Minimum length", "m", 2),
        Output("pieces_area", "Area of the pieces", "m²", 2),
        Output("pieces_count", "Pieces", "", 0),
        Output("by_area", "Minimum by area", "m", 2),
        Output("longest", "Longest piece", "m", 2),
    ),
    source=(_LAYOUT, _BOUND, _HABIT),
    valid="Straight pieces laid flat; proved for cuts from edge to edge, while some layouts of many pieces ask for cuts that "
    "stop at a piece, as shears make them. Positions from the lower left corner, along the roll first, in mm or in inches as "
    "the pieces were given. A face wider than the roll is laid in strips: cloth.",
    examples=(
        Example({"roll_width": "1270 mm", "pieces": "2@1260x630 along, 1@2500x1220 along, 1@1400x500 along"}, {"length": 5.02,
            "bound": 4.203, "proved": "yes", "pieces_count": 4, "longest": 2.5, "by_area": 4.203, "pieces_area": 5.3376},
            _LAYOUT, rel=1e-3),
        Example({"roll_width": "1270 mm", "pieces": "2@1260x630"}, {"length": 1.26, "bound": 1.26, "used": 0.992,
            "layout": "1260 x 630 at (0, 0), 1260 x 630 at (0, 630)"}, _BOUND, rel=1e-3),
        Example({"roll_width": "50 in", "pieces": "2@98x48 in, 4@40x8 in", "turn": "yes", "gap": "1/4 in"}, {"length": 5.82295,
            "proved": "yes"},
            _LAYOUT),
    ),
    asked=("pieces", "turn"), stock=Stock("cloth", {"roll_width": "roll_width"}),
    compute=_compute, pictures=(_picture,),
)  # fmt: skip
