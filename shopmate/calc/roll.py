"""Lay out pieces of cloth on a roll: the length to cut off, where each piece goes, and how much of the cloth is used."""

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
    "shortest length: pieces grouped by cuts from edge to edge, dropping any group that wastes more than the best length so "
    "far; with many pieces, the best of many orders tried",
    "computed",
)
_BOUND = Source(
    "the length can't be less than the area of the pieces divided by the roll width, or less than the longest piece", "computed"
)
_HABIT = Source("don't turn cloth whose threads carry load one way or must line up", "common practice")

PIECES = FlatParts(Measure("mm", low=1, high=20_000))
"""How pieces are entered: length along the roll x width across it."""

_NO, _YES = "no", "yes"
"""Whether pieces may be turned."""


@dataclass(frozen=True, slots=True)
class _Job:
    """The pieces and the roll in ticks of 1/320 mm; the gap is added to both the pieces and the roll width."""

    pieces: tuple[Part, ...]
    kinds: tuple[Kind, ...]
    width: int
    gap: int
    unit: str
    """The unit of the first piece, also used for the positions."""


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


@lru_cache(maxsize=16)  # the picture, the answer and the form at each key press all ask for the same layout
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
        f"{len(layout.parts)} pieces, total {sig(square_metres)} m²; on a roll {units.show(roll)} wide that is "
        f"{sig(square_metres / (in_mm(width) / 1000))} m long, and the longest piece needs {sig(in_mm(longest) / 1000)} m",
    )
    return Answer(values | {"longest": in_mm(longest) / 1000, "by_area": square_metres / (in_mm(width) / 1000)}, working,
                  tuple(_cautions(fields, proved)))  # fmt: skip


def _cautions(fields: Mapping[str, Value | None], proved: bool) -> list[str]:
    said = []
    if not proved:
        said.append("This is the shortest layout found, but there may be a shorter one: try it on the floor with strips of paper")
    if fields["turn"] == _YES:
        said.append(
            "The warp runs across a turned piece: turn pieces only if the cloth is balanced and the weave need not line up"
        )
    said.append("Include the wrap round the edges and the trim in each piece, and mark the warp direction on it before you cut")
    return said


def _problems(fields: Mapping[str, Value | None], job: _Job) -> list[FieldProblem]:
    if any(piece.count is None for piece in job.pieces):
        return [FieldProblem("pieces", "'*' is not a number", "enter how many of each")]
    if any(piece.value is not None for piece in job.pieces):
        return [FieldProblem("pieces", "there is extra text after the piece", "write COUNT@ALONG x ACROSS and nothing else")]
    found = []
    for piece, kind in zip(job.pieces, job.kinds, strict=True):
        if all(wide > job.width for _, wide, _ in kind.ways):
            size = f"{units.show(piece.sizes[0])} x {units.show(piece.sizes[1])}"
            found.append(
                FieldProblem(
                    "pieces",
                    f"{size} is wider than the roll",
                    "lay it in strips (see the cloth calculator), turn it, or use a wider roll",
                )
            )
    return found


def _picture(inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> Picture:
    """Return the cut length with its pieces to scale, with the roll running to the right."""
    job = _job({item.name: inputs.get(item.name) for item in CALCULATOR.inputs})
    layout, end, _ = _shortest(job.kinds, job.width)
    long, wide = in_mm(end - job.gap), in_mm(job.width - job.gap)
    shapes = [Shape(rectangle(0.0, 0.0, long, wide), "waste", "light")]
    shapes += told_apart(boxes(layout.parts, job.kinds, job.gap), "pieces")
    return Picture(
        tuple(shapes),
        (Label("cut the roll at", (long, wide / 2), Quantity(long, "mm"), 0),),
        f"{in_short(str(outputs['layout']))}.",
        (0.0, 0.0),
        (long, wide),
    )


CALCULATOR = Calculator(
    name="roll", title="Length of cloth to cut off the roll",
    inputs=(
        Field("roll_width", "Width of the roll", Measure("mm", low=20, high=5000), "Usable "
            "width between the selvedges.", required=True),
        Field("pieces", "Pieces", PIECES, "How many, then length along the roll x width across it: 2@1260x630. Add 'along' to "
            "pieces that must not be turned: 1@2500x1220 along.",
            required=True),
        Field("turn", "Turn pieces to save cloth?", Choice((_NO, _YES)), "Pieces marked 'along' are never turned.", default=_NO),
        Field("gap", "Gap between pieces", Measure("mm", low=0, high=100), "Room for the shears "
            "and for frayed threads.", default="0 mm"),
    ),
    outputs=(
        Output("length", "Length to cut off", "m", 2),
        Output("layout", "Where each piece goes"),
        Output("proved", "Shortest possible?"),
        Output("used", "Share of the cloth used (1 = all)", "", 2),
        Output("bound", "Minimum length", "m", 2),
        Output("pieces_area", "Area of the pieces", "m²", 2),
        Output("pieces_count", "Pieces", "", 0),
        Output("by_area", "Minimum length by area", "m", 2),
        Output("longest", "Longest piece", "m", 2),
    ),
    source=(_LAYOUT, _BOUND, _HABIT),
    valid="For rectangular pieces laid flat. The shortest length is proved for cuts that run from edge to edge; a few layouts of "
    "many pieces can be shorter with cuts that stop partway. Positions are from the lower left corner, first along the roll, "
    "in mm or inches as you entered the pieces. For a face wider than the roll, use the cloth calculator.",
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
