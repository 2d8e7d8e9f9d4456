"""Parts to cut, each COUNT@SIZE, such as '2@1200x600, 1@900x450 along' or '4@600, 2@450', and sizes such as 2440x1220."""

from __future__ import annotations

import re
from fractions import Fraction

from shopmate import units
from shopmate.calculator import Measure, Measures
from shopmate.errors import EntryError
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units.numbers import quoted

TICK = Fraction(1, 320)
"""Length of a tick in mm. Both 0.1 mm and 1/64 in are whole numbers of ticks, and so is every size, so that no rounding decides
whether a part fits [computed]."""

INCH_UNITS = ("in", "ft", "yd", "mil")
"""Units of people who work in inches."""

_MOST_CHARACTERS = 4000
"""Longest list accepted; nobody types a longer one (our choice). No Threshold needed: it limits the work on absurd input."""

_MOST_LINES = 60
"""Maximum kinds of parts in one list (our choice). No Threshold needed: it limits the work on absurd input."""

_TIMES = re.compile(r"\s*[x×*]\s*", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*[;\n]\s*|\s*,\s*(?=(?:[0-9]+|\*)\s*[@/])")
_PART = re.compile(
    r"(?P<count>[0-9]+|\*)\s*@\s*(?P<size>[^=]*?)(?P<along>\s+along)?\s*(?:=\s*(?P<value>[0-9]+(?:[.,][0-9]+)?))?", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Part:
    """A number of parts of one size."""

    count: int | None
    """How many; None if there is no limit."""
    sizes: tuple[Quantity, ...]
    """Length, or length and width; the length runs with the grain if the part is marked 'along'."""
    along: bool = False
    """Whether the length must run with the grain."""
    value: Fraction | None = None
    """The value of one part, for choosing the best cuts; for cloth, its glass content."""

    def __str__(self) -> str:
        size = " x ".join(map(units.show, self.sizes))
        worth = f" = {units.show_number(self.value)}" if self.value is not None else ""
        return f"{'*' if self.count is None else self.count} @ {size}{' along' if self.along else ''}{worth}"

    @property
    def ticks(self) -> tuple[int, ...]:
        """The sizes in ticks, rounded up: a part must not come out short."""
        return tuple(ticks(size, up=True) for size in self.sizes)


class Size(Measures):
    """Length and width as one text, such as '2440 x 1220', or '2440/1220' on a keypad."""

    def read(self, text: str) -> str:
        return " x ".join(map(units.show, self.quantities(text)))

    def quantities(self, text: str) -> tuple[Quantity, ...]:
        """Return length and width meant by `text`; EntryError as for `read`."""
        return _sizes(" ".join(text.split()), 2, self.measure, "")

    def describe(self, unit: str = "") -> str:
        long, wide = ("96", "48") if unit == "in" else ("2440", "1220")
        return f"length x width such as {long} x {wide}; on a keypad {long}/{wide}; each {self.measure.describe(unit)}"


class Parts(Measures):
    """Parts with one dimension each, such as '4@600, 2@450', or '4/600-2/450' on a keypad."""

    axes = 1
    """Number of dimensions per part."""
    most_parts = 2000
    """Maximum parts in one job (our choice)."""
    like = "'4@600, 2@450 mm'"
    keypad = "4/600-2/450"

    def read(self, text: str) -> str:
        return ", ".join(map(str, self.parts(text)))

    def quantities(self, text: str) -> tuple[Quantity, ...]:
        """Return the sizes meant by `text`, in the order typed; EntryError as for `read`."""
        return tuple(size for part in self.parts(text) for size in part.sizes)

    def describe(self, unit: str = "") -> str:
        return f"list such as {self.like}; on a keypad {self.keypad} and the unit shown; each size {self.measure.describe(unit)}"

    def parts(self, text: str) -> tuple[Part, ...]:
        """Return the parts meant by `text`, in the order typed; EntryError as for `read`."""
        if len(text) > _MOST_CHARACTERS:
            raise EntryError(f"the list is too long: {len(text)} characters", f"enter fewer parts at a time, like {self.like}")
        pieces = [piece.strip() for piece in _BETWEEN.split(" ".join(text.split()).strip(" ,;")) if piece and piece.strip()]
        if not pieces:
            raise EntryError("no parts in the list", f"enter them like {self.like}")
        if len(pieces) > _MOST_LINES:
            raise EntryError(f"{len(pieces)} kinds of parts is too many", f"enter {_MOST_LINES} or fewer at a time")
        last = units.unit_behind(re.sub(r"\s+along\b.*|=.*", "", pieces[-1], flags=re.IGNORECASE))
        parts = tuple(self._part(number, piece, last) for number, piece in enumerate(pieces, 1))
        if (count := sum(part.count or 1 for part in parts)) > self.most_parts:
            raise EntryError(f"{count} parts is too many", f"enter {self.most_parts} or fewer at a time")
        return parts

    def _part(self, number: int, piece: str, last: str) -> Part:
        if "@" not in piece and piece.count("/") == self.axes:  # without letters a keypad has only the slash
            first, _, size = piece.partition("/")
            piece = f"{first}@{size.replace('/', 'x')}"
        match = _PART.fullmatch(piece)
        if match is None:
            raise EntryError(f"part {number}: {quoted(piece)} is not COUNT@SIZE", f"enter it like {self.like}")
        try:
            sizes = _sizes(match["size"], self.axes, self.measure, last)
            value = units.parse_number(match["value"]) if match["value"] else None
        except EntryError as error:
            raise EntryError(f"part {number}: {error.what}", error.fix) from None
        count = None if match["count"] == "*" else int(match["count"][:6])
        if count == 0:
            raise EntryError(f"part {number}: the count is 0", "leave the part out, or enter how many")
        return Part(count, sizes, bool(match["along"]), value)


class FlatParts(Parts):
    """Parts with length and width, such as '2@1200x600, 1@900x450 along', or '2/1200/600-1/900/450' on a keypad."""

    axes = 2
    most_parts = 500
    like = "'2@1200x600, 1@900x450 along'"
    keypad = "2/1200/600-1/900/450"


def _sizes(text: str, axes: int, measure: Measure, last: str) -> tuple[Quantity, ...]:
    """Return the sizes in a text such as 1200x600 mm; the last unit applies to sizes without one."""
    pieces = _TIMES.split(text.strip())
    if axes > 1 and len(pieces) == 1 and text.count("/") == axes - 1:
        pieces = text.split("/")
    if len(pieces) != axes or not all(piece.strip() for piece in pieces):
        wanted = "length x width" if axes > 1 else "one length"
        raise EntryError(f"{quoted(text)} is not {wanted}", "enter 1200 x 600 mm" if axes > 1 else "enter 600 mm")
    unit = units.unit_behind(pieces[-1]) or last or measure.unit
    return tuple(measure.read(piece if units.has_unit(piece) else f"{piece} {unit}") for piece in pieces)


def ticks(size: Quantity, *, up: bool = False) -> int:
    """Return a size in whole ticks: rounded down for stock to cut from, up for parts cut from it."""
    exact = Fraction(size.to("mm").value) / TICK
    return -int(-exact // 1) if up else int(exact // 1)


def in_mm(count: int) -> float:
    """Return a number of ticks in mm."""
    return float(count * TICK)


def shown(count: int, unit: str) -> str:
    """Return a number of ticks as a rule shows it: in inches to 1/64 where `unit` is an inch unit, otherwise in mm to 0.1."""
    if unit not in INCH_UNITS:
        return units.show_number(Fraction(round(count * TICK * 10), 10))
    number = Fraction(round(count * TICK / Fraction(254, 10) * 64), 64)
    whole, rest = divmod(abs(number), 1)
    return f"{'-' if number < 0 else ''}{f'{whole} {rest}' if whole and rest else rest or whole}"
