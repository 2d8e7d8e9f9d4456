"""Sections and curves drawn in text cells, to scale, each material in a texture of its own, with the same said in words."""

from __future__ import annotations

import math
import textwrap
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Literal

from shopmate import units
from shopmate.records import dataclass
from shopmate.units import Quantity, System

Point = tuple[float, float]
"""x to the right and y up, in the unit of the picture."""

Texture = Literal["solid", "hatch", "back hatch", "shade", "light", "dots", "air"]
"""How a material is filled, told apart without colour; air cuts out what lies beneath and has no line in the legend."""

Mark = Literal["ring", "cross", "plus", "dot", "rule"]
"""What a curve is drawn with."""

_FILLS: dict[Texture, tuple[str, str]] = {
    "solid": ("█", "#"),
    "hatch": ("╱", "/"),
    "back hatch": ("╲", "\\"),
    "shade": ("▒", "%"),
    "light": ("░", ":"),
    "dots": ("·", "."),
    "air": (" ", " "),
}
"""The sign of each texture, and the one of 7-bit text."""

_HALVES = (("▀", '"'), ("▄", "o"))
"""A solid that fills the upper or the lower half of a cell."""

_MARKS: dict[Mark, tuple[str, str]] = {
    "ring": ("○", "O"),
    "cross": ("×", "x"),
    "plus": ("+", "+"),
    "dot": ("•", "*"),
    "rule": ("─", "-"),
}

_MARK_SIGNS = frozenset(sign for signs in _MARKS.values() for sign in signs)

_POINT = ("●", "@")
"""Where a label's line begins."""

_LEADER = ("─", "-")
_BAR = (("├", "┤"), ("|", "|"))

SIGNS = "".join(signs[0] for signs in (*_FILLS.values(), *_HALVES, *_MARKS.values(), _POINT, _LEADER)) + "".join(_BAR[0])
"""All signs drawn with, for whether a terminal has them."""

_SAMPLES = 3
"""Samples a side of half a cell, which is a square; the material of most of the nine fills it."""

_APART: tuple[Texture, ...] = ("hatch", "back hatch", "shade")
"""How shapes of one material are filled where they meet; the first stands in the legend."""

_NARROW = 0.02
"""Gap, as a share of the longer shape, that no cell shows (our choice)."""

_MOST_WORDS = 300
"""Characters of a list that the words of a picture repeat; the answer has all of it."""

_LEAST_COLUMNS, _LEAST_ROWS = 10, 3
"""A drawing smaller than this says less than the words."""

_LEAST_FEATURE = 0.75
"""Half cells that the smallest thing to be seen has to measure; under that a sample grid can lose it."""

_SIDE_WORTH = 0.75
"""Labels stand beside the drawing unless it becomes smaller by more than this factor."""

_GUTTER = 3
"""Columns between a drawing and the labels beside it."""

_BAR_SHARE = 0.3
"""The scale bar is the greatest round length up to this share of the drawing's width."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A polygon of one material; a later one covers those before it."""

    outline: tuple[Point, ...]
    material: str
    """Its name in the legend."""
    texture: Texture


@dataclass(frozen=True, slots=True)
class Curve:
    """A line through points, drawn over the shapes."""

    points: tuple[Point, ...]
    material: str
    """Its name in the legend, '' for none."""
    mark: Mark


@dataclass(frozen=True, slots=True)
class Label:
    """A text that points at a place, with a size where there is one."""

    text: str
    at: Point
    size: Quantity | None = None
    """Shown after the text in the units of who looks."""
    places: int | None = None
    """Decimals of the size in its own unit; None for one that was given and is shown as it is."""

    def words(self, system: System) -> str:
        """Return the text, and the size where there is one, in units of `system`."""
        text = units.in_system(self.text, system)
        return text if self.size is None else f"{text} {units.display(self.size, system, self.places)}"


@dataclass(frozen=True, slots=True)
class Picture:
    """What is to be seen, in a unit of length; where both axes are not lengths, `to_scale` is off."""

    shapes: tuple[Shape, ...]
    labels: tuple[Label, ...]
    words: str
    """One or two sentences that say the same, for who cannot see it or has no room for it."""
    low: Point
    """Lower left corner of what is shown."""
    high: Point
    """Upper right corner."""
    curves: tuple[Curve, ...] = ()
    foot: tuple[str, ...] = ()
    """Texts spread under the drawing: what its left, middle and right stand for."""
    least: float = 0.0
    """The smallest thing that has to be seen, in the unit of the picture."""
    unit: str = "mm"
    to_scale: bool = True
    """Whether both axes have one scale; otherwise the drawing fills the room."""

    def said(self, system: System) -> str:
        """Return its words with their figures in units of `system`."""
        return units.in_system(self.words, system)


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where a drawing lies in cells: columns a unit across, half cells a unit down."""

    columns: int
    rows: int
    across: float
    down: float
    left: float
    top: float

    def cell(self, at: Point) -> tuple[int, int]:
        """Return row and column of a point, the nearest one inside."""
        column = math.floor((at[0] - self.left) * self.across)
        row = math.floor((self.top - at[1]) * self.down / 2)
        return max(0, min(self.rows - 1, row)), max(0, min(self.columns - 1, column))


def rectangle(left: float, bottom: float, right: float, top: float) -> tuple[Point, ...]:
    """Return the outline of an upright rectangle."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def told_apart(outlines: Iterable[tuple[Point, ...]], material: str) -> list[Shape]:
    """Return shapes of one material, those that lie against one another told apart by the way they are filled."""
    found: list[Shape] = []
    for outline in outlines:
        beside = {shape.texture for shape in found if _touch(shape.outline, outline)}
        texture = next((texture for texture in _APART if texture not in beside), _APART[0])
        found.append(Shape(outline, material if texture == _APART[0] else "", texture))
    return found


def _touch(one: tuple[Point, ...], other: tuple[Point, ...]) -> bool:
    """Return whether the upright boxes of two outlines meet along a side, up to a gap too narrow to be seen."""
    spans = []
    for axis in (0, 1):
        low, high = (max(min(point[axis] for point in outline) for outline in (one, other)),
                     min(max(point[axis] for point in outline) for outline in (one, other)))  # fmt: skip
        longest = max(max(p[axis] for p in outline) - min(p[axis] for p in outline) for outline in (one, other))
        spans.append((high - low) / (longest or 1.0))
    return min(spans) > -_NARROW and max(spans) > _NARROW


def in_short(words: str) -> str:
    """Return the words of a picture, of a long list only its beginning."""
    return words if len(words) < _MOST_WORDS else f"{words[:_MOST_WORDS]} ..."


def arc(centre: Point, radius: float, begin: float, end: float, height: float | None = None) -> tuple[Point, ...]:
    """Return points on a circle (with `height`, an ellipse) from one angle to the other, in degrees from the right, upwards."""
    steps = max(2, round(abs(end - begin) / 5))
    tall = radius if height is None else height
    turns = [math.radians(begin + (end - begin) * step / steps) for step in range(steps + 1)]
    return tuple((centre[0] + radius * math.cos(turn), centre[1] + tall * math.sin(turn)) for turn in turns)


def mirrored(side: Sequence[Point]) -> tuple[Point, ...]:
    """Return the whole outline of something turned about x = 0, from its right-hand side from top to bottom."""
    return (*side, *((-x, y) for x, y in reversed(side)))


def size(values: Mapping[str, object], name: str) -> Quantity | None:
    """Return the quantity of that name among inputs or outputs, None where there is none."""
    value = values.get(name)
    return value if isinstance(value, Quantity) else None


def number(values: Mapping[str, object], name: str, unit: str) -> float:
    """Return the number of that quantity in `unit`, 0 where there is none."""
    value = size(values, name)
    return 0.0 if value is None else value.value_in(unit)


def both(quantity: Quantity, places: int | None = None) -> str:
    """Return a quantity for the words of a picture, in both systems where they differ: '1.59 mm (1/16 in)'.

    `places`: decimals in its own unit of one that was worked out, None for one that was given.
    """
    metric, inch = units.display(quantity, "metric", places), units.display(quantity, "inch", places)
    return str(metric) if metric == inch else f"{metric} ({inch})"


def draw(
    picture: Picture, columns: int, rows: int, ascii_only: bool = False, system: System = "metric", *, words: bool = True
) -> list[str]:
    """Return the picture in at most `columns` by `rows` cells, a cell being twice as high as wide.

    Where that is too small to see what matters, return its words wrapped to the columns, in as many rows as they take
    (nothing when `words` is off).
    """
    columns = max(1, columns)
    texts = [label.words(system) for label in picture.labels]
    # Beside the drawing they may yet have to be numbered, which takes two columns more.
    widest = max((len(text) + 2 + _GUTTER for text in texts), default=0)
    side = _frame(picture, columns - widest, rows - _under(picture, [], columns))
    below = _frame(picture, columns, rows - _under(picture, texts, columns))
    if side is not None and side.rows < len(texts):
        side = None
    if side is not None and (below is None or side.across >= _SIDE_WORTH * below.across or not picture.to_scale):
        drawn = _beside(picture, side, texts, ascii_only)
        listed: list[str] = []
        frame = side
    elif below is not None:
        drawn = _numbered(picture, below, ascii_only)
        listed = [f"{number} {text}" for number, text in enumerate(texts, 1)]
        frame = below
    else:
        return textwrap.wrap(picture.said(system), columns) if words else []
    return [
        *(row.rstrip() for row in drawn),
        *_foot([units.in_system(text, system) for text in picture.foot], frame),
        *_flow([*listed, *_legend(picture, frame, ascii_only, system)], columns),
    ]


def _under(picture: Picture, listed: Sequence[str], columns: int) -> int:
    """Return the rows under the drawing: foot, list of labels, legend with scale bar."""
    numbered = [f"{number} {text}" for number, text in enumerate(listed, 1)]
    legend = [f"  {name}" for name in _materials(picture)]
    bar = [" " * round(_BAR_SHARE * columns + 9)] if picture.to_scale else []
    return bool(picture.foot) + len(_flow([*numbered, *legend, *bar], columns))


def _frame(picture: Picture, columns: int, rows: int) -> _Frame | None:
    """Return the largest frame of the picture in that room, None where it is too small to tell anything."""
    width, height = picture.high[0] - picture.low[0], picture.high[1] - picture.low[1]
    if columns < _LEAST_COLUMNS or rows < _LEAST_ROWS:
        return None
    across, down = columns / width, 2 * rows / height
    if picture.to_scale:
        # Whole columns from edge to edge; one part in 10⁹ is the noise of floats, which must not take a further row.
        columns = math.floor(width * min(across, down) + 1e-9)
        across = down = columns / width
        rows = math.ceil(height * down / 2 - 1e-9)
    if columns < _LEAST_COLUMNS or rows < _LEAST_ROWS or 0 < down * picture.least < _LEAST_FEATURE:
        return None
    return _Frame(columns, rows, across, down, picture.low[0], picture.high[1])


def _cells(picture: Picture, frame: _Frame, ascii_only: bool) -> list[list[str]]:
    """Return the signs of all cells: shapes first, curves over them."""
    halves = [_half_row(picture, frame, row) for row in range(2 * frame.rows)]
    cells = [
        [_sign(picture, upper, lower, ascii_only) for upper, lower in zip(*halves[row : row + 2], strict=True)]
        for row in range(0, 2 * frame.rows, 2)
    ]
    for curve in picture.curves:
        for begin, end in zip(curve.points, curve.points[1:], strict=False):
            steps = 2 + round(abs(end[0] - begin[0]) * frame.across * 2 + abs(end[1] - begin[1]) * frame.down * 2)
            for step in range(steps + 1):
                share = step / steps
                row, column = frame.cell((begin[0] + (end[0] - begin[0]) * share, begin[1] + (end[1] - begin[1]) * share))
                cells[row][column] = _MARKS[curve.mark][ascii_only]
    return cells


def _half_row(picture: Picture, frame: _Frame, row: int) -> list[Counter[int]]:
    """Return for each column how many samples of half a cell lie in each shape, by its number, -1 for none."""
    counts: list[Counter[int]] = [Counter() for _ in range(frame.columns)]
    for sample in range(_SAMPLES):
        y = frame.top - (row + (sample + 0.5) / _SAMPLES) / frame.down
        line = [-1] * (frame.columns * _SAMPLES)
        for number, shape in enumerate(picture.shapes):
            # A sample belongs to a span when its middle does.
            ends = [round((x - frame.left) * frame.across * _SAMPLES) for x in _crossings(shape.outline, y)]
            for begin, end in zip(ends[::2], ends[1::2], strict=True):
                begin, end = max(0, begin), min(len(line), end)
                if begin < end:
                    line[begin:end] = [number] * (end - begin)
        for place, number in enumerate(line):
            counts[place // _SAMPLES][number] += 1
    return counts


def _crossings(outline: Sequence[Point], y: float) -> list[float]:
    """Return where the outline crosses the height y, from left to right; always an even number of places."""
    found = []
    for (ax, ay), (bx, by) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if (ay <= y) != (by <= y):
            found.append(ax + (bx - ax) * (y - ay) / (by - ay))
    return sorted(found)


def _sign(picture: Picture, upper: Counter[int], lower: Counter[int], ascii_only: bool) -> str:
    """Return the sign of a cell from the samples in its halves; only a solid has signs for half a cell."""
    over, under = _texture(picture, upper), _texture(picture, lower)
    if over == under:
        return _FILLS[over][ascii_only]
    if over == "solid":
        return _HALVES[0][ascii_only]
    if under == "solid":
        return _HALVES[1][ascii_only]
    return _FILLS[_texture(picture, upper + lower)][ascii_only]


def _texture(picture: Picture, samples: Counter[int]) -> Texture:
    """Return the texture of the shape with most of the samples, of equals that of the later one."""
    number = max(samples, key=lambda number: (samples[number], number))
    return picture.shapes[number].texture if number >= 0 else "air"


def _beside(picture: Picture, frame: _Frame, texts: Sequence[str], ascii_only: bool) -> list[str]:
    """Return the drawing with its labels beside it, each at the end of a line from its place; else numbered."""
    cells = _cells(picture, frame, ascii_only)
    rows: dict[int, tuple[int, str]] = {}
    for label, text in sorted(zip(picture.labels, texts, strict=True), key=lambda pair: -pair[0].at[1]):
        row, column = frame.cell(label.at)
        free = [other for other in _same(cells, row, column) if other not in rows]
        if not free:
            listed = [f"{number} {text}" for number, text in enumerate(texts, 1)]
            lines = _numbered(picture, frame, ascii_only)
            padded = [line.ljust(frame.columns + _GUTTER) for line in lines]
            return [line + (listed[row] if row < len(listed) else "") for row, line in enumerate(padded)]
        rows[free[0]] = (column, text)
    lines = []
    for row, line in enumerate(map("".join, cells)):
        if row in rows:
            column, text = rows[row]
            leader = _POINT[ascii_only] + _LEADER[ascii_only] * (frame.columns - column + _GUTTER - 3)
            line = f"{line[:column]}{leader}{' ' if leader else ''}{text}"
        lines.append(line)
    return lines


def _same(cells: Sequence[Sequence[str]], row: int, column: int) -> list[int]:
    """Return the rows of this column that show the same material without a break, the nearest to `row` first.

    On a curve there is only `row`: its value is elsewhere another.
    """
    found = [row]
    if cells[row][column] in _MARK_SIGNS:
        return found
    for step in (-1, 1):
        other = row + step
        while 0 <= other < len(cells) and cells[other][column] == cells[row][column]:
            found.append(other)
            other += step
    return sorted(found, key=lambda other: abs(other - row))


def _numbered(picture: Picture, frame: _Frame, ascii_only: bool) -> list[str]:
    """Return the drawing with the numbers of its labels in it."""
    cells = _cells(picture, frame, ascii_only)
    taken: set[tuple[int, int]] = set()
    for number, label in enumerate(picture.labels, 1):
        row, column = frame.cell(label.at)
        # Two places in one cell stand beside one another.
        column = min(
            (other for other in range(frame.columns) if (row, other) not in taken), key=lambda other: abs(other - column)
        )
        taken.add((row, column))
        cells[row][column] = str(number)
    return ["".join(line) for line in cells]


def _materials(picture: Picture) -> dict[str, tuple[str, str]]:
    """Return the sign of each material and curve by its name, in the order they are drawn."""
    found = {shape.material: _FILLS[shape.texture] for shape in picture.shapes if shape.material and shape.texture != "air"}
    return found | {curve.material: _MARKS[curve.mark] for curve in picture.curves if curve.material}


def _legend(picture: Picture, frame: _Frame, ascii_only: bool, system: System) -> list[str]:
    parts = [f"{signs[ascii_only]} {units.in_system(name, system)}" for name, signs in _materials(picture).items()]
    if picture.to_scale and picture.unit:
        most = Quantity(_BAR_SHARE * frame.columns / frame.across, picture.unit)
        length = _round_length(most.value_in("in" if system == "inch" else "mm"), system)
        columns = max(2, round(length.value_in(picture.unit) * frame.across))
        begin, end = _BAR[ascii_only]
        parts.append(f"{begin}{_LEADER[ascii_only] * (columns - 2)}{end} {units.display(length, system)}")
    return parts


def _round_length(most: float, system: System) -> Quantity:
    """Return the greatest round length up to `most`: 1, 2 or 5 of a power of ten mm, or a binary fraction of an inch."""
    if system == "inch":
        return Quantity(Fraction(2) ** math.floor(math.log2(most)), "in")
    power = Fraction(10) ** math.floor(math.log10(most))
    return Quantity(max(step * power for step in (1, 2, 5) if step * power <= most), "mm")


def _foot(texts: Sequence[str], frame: _Frame) -> list[str]:
    """Return the texts under the drawing in one row, the first at its left end, the last at its right one."""
    if not texts:
        return []
    line = texts[0]
    for place, text in enumerate(texts[1:], 1):
        right = place == len(texts) - 1
        middle = frame.columns * place // max(1, len(texts) - 1)
        at = frame.columns - len(text) if right else middle - len(text) // 2
        line = line.ljust(max(at, len(line) + 1)) + text
    return [line]


def _flow(parts: Sequence[str], columns: int) -> list[str]:
    """Return the parts side by side in as few rows as they fit; one longer than a row is wrapped."""
    lines: list[str] = []
    for part in parts:
        if lines and len(lines[-1]) + 3 + len(part) <= columns:
            lines[-1] += f"   {part}"
        else:
            lines += textwrap.wrap(part, columns, drop_whitespace=False) or [part]
    return lines
