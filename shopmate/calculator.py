"""What a calculator declares: its fields, outputs, sources, worked examples and its one pure function."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, Literal, Protocol

from shopmate import units
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.records import dataclass, field
from shopmate.units import Quantity, Ratio, System

if TYPE_CHECKING:
    from shopmate.picture import Picture

Mark = Literal["read", "computed", "common practice", "memory"]
"""How a source was come by: read in the source or a transcription of it, computed with a named
library or by arithmetic, common practice of the trade (no source), or from memory."""

Value = Quantity | Ratio | str | int
"""What a field or an output can hold: a quantity, a ratio, a choice or verdict, a count."""


class Kind(Protocol):
    """What may stand in a field: reads a text, and says in words what it takes."""

    def read(self, text: str) -> Value:
        """Return the value meant by `text`; EntryError says what is wrong and what to type."""

    def describe(self, unit: str = "") -> str:
        """Return one short phrase for help: unit and range, or the choices; sizes in `unit` in place of the kind's own."""


@dataclass(frozen=True, slots=True)
class Measure:
    """A quantity of one dimension, with hard limits that refuse and soft limits that ask."""

    unit: str
    """Unit of the limits, of a number typed without one, and of the JSON output."""
    low: float | None = None
    """Least value taken, in `unit`."""
    high: float | None = None
    """Greatest value taken, in `unit`."""
    above: float | None = None
    """Value that must be exceeded, in `unit` (for what may not be zero)."""
    soft_low: float | None = None
    """Below this, in `unit`, the value is asked about."""
    soft_high: float | None = None
    """Above this, in `unit`, the value is asked about."""

    def read(self, text: str) -> Quantity:
        return self.within(units.parse(text, self.unit), text)

    def within(self, quantity: Quantity, text: str = "") -> Quantity:
        """Return a quantity that is within the hard limits; EntryError, which says it as in `text`, for another."""
        # As a float, like the limits: an exact 25.4 is not over a limit of 25.4.
        number = quantity.value_in(self.unit)
        if self.above is not None and number <= self.above:
            what, fix, limit = (
                "{text} is not above {limit}",
                "enter more than {limit}",
                self.limit(self.above, quantity.unit, math.ceil),
            )
        elif self.low is not None and number < self.low:
            what, fix, limit = (
                "{text} is below the minimum, {limit}",
                "enter {limit} or more",
                self.limit(self.low, quantity.unit, math.ceil),
            )
        elif self.high is not None and number > self.high:
            what, fix, limit = (
                "{text} is above the maximum, {limit}",
                "enter {limit} or less",
                self.limit(self.high, quantity.unit, math.floor),
            )
        else:
            return quantity
        raise EntryError(phrase(what, text or units.show(quantity), limit), phrase(fix, limit))

    def doubt(self, quantity: Quantity) -> str | None:
        """Return why a value within the hard limits deserves a second look, or None."""
        number = quantity.value_in(self.unit)
        if self.soft_low is not None and number < self.soft_low:
            limit = self.limit(self.soft_low, quantity.unit, math.ceil)
            return phrase("{value} is below the usual {limit}", _told(quantity), limit)
        if self.soft_high is not None and number > self.soft_high:
            limit = self.limit(self.soft_high, quantity.unit, math.floor)
            return phrase("{value} is above the usual {limit}", _told(quantity), limit)
        return None

    def describe(self, unit: str = "") -> str:
        if unit and unit != self.unit:
            named = units.written(unit)
            return ", ".join(filter(None, (named, self.limits(unit).removesuffix(f" {named}"))))
        low = self.low if self.low is not None else self.above
        parts = [units.written(self.unit) or phrase("a number")]
        if low is not None and self.high is not None:
            parts.append(phrase("{low} to {high}", _bound(low), _bound(self.high)))
        elif low is not None:
            parts.append(phrase("above {limit}" if self.above is not None else "from {limit}", _bound(low)))
        elif self.high is not None:
            parts.append(phrase("up to {limit}", _bound(self.high)))
        return ", ".join(parts)

    def limits(self, unit: str) -> str:
        """Return the hard limits in a unit of the same dimension, for beside an entry; '' where there are none."""
        low = self.low if self.low is not None else self.above
        least = "" if low is None else self.limit(low, unit, math.ceil)
        most = "" if self.high is None else self.limit(self.high, unit, math.floor)
        if least and most:
            return phrase("{low} to {high}", least.removesuffix(f" {units.written(unit)}"), most)
        if least:
            return phrase("above {limit}" if self.above is not None else "from {limit}", least)
        return phrase("up to {limit}", most) if most else ""

    def limit(self, number: float, unit: str, inward: Callable[[float], int]) -> str:
        """Return a limit in the unit a value was given in; rounded `inward`, so that what is said is taken."""
        if unit == self.unit or not unit:
            return f"{_bound(number)} {units.written(self.unit)}".strip()
        limit = Quantity(Fraction(repr(float(number))), self.unit).value_in(unit)
        if limit:
            step = 10.0 ** (math.floor(math.log10(abs(limit))) - 3)
            # One part in 10⁹ beside a step is the noise of floats, and that step.
            near = round(limit / step)
            steps = near if abs(limit / step - near) < 1e-9 * abs(near) else inward(limit / step)
            limit = steps * step
        return f"{_bound(limit)} {units.written(unit)}"


def _bound(limit: float) -> str:
    """Return a limit to six significant digits: without an exponent, however small it is in its unit."""
    return units.show_number(float(f"{limit:.6g}"))


@dataclass(frozen=True, slots=True)
class Count:
    """A whole number within limits."""

    low: int = 1
    high: int = 1000

    def read(self, text: str) -> int:
        number = units.parse_number(text)
        if number.denominator != 1 or not self.low <= number <= self.high:
            raise EntryError(
                phrase("{text} is not a whole number from {low} to {high}", text, self.low, self.high),
                phrase("enter {low} to {high}", self.low, self.high),
            )
        return int(number)

    def describe(self, unit: str = "") -> str:
        return phrase("whole number, {low} to {high}", self.low, self.high)


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few names; case and spacing do not matter."""

    options: tuple[str, ...] | Callable[[], tuple[str, ...]]
    """The names, or a function that gives them (for those of a table, read only when asked for)."""
    also: tuple[tuple[str, str], ...] | Callable[[], tuple[tuple[str, str], ...]] = ()
    """Other words that are taken, each with the name it stands for, or a function that gives them."""

    def names(self) -> tuple[str, ...]:
        """Return the names, in the order they are offered."""
        return self.options if isinstance(self.options, tuple) else self.options()

    def read(self, text: str) -> str:
        wanted = _plain(text)
        also = self.also if isinstance(self.also, tuple) else self.also()
        meant = next((name for word, name in also if _plain(word) == wanted), text)
        for name in self.names():
            if _plain(name) == _plain(meant):
                return name
        raise EntryError(
            phrase("'{text}' is not one of the choices", text), phrase("enter one of: {names}", ", ".join(self.names()))
        )

    def describe(self, unit: str = "") -> str:
        return phrase("one of: {names}", ", ".join(self.names()))


@dataclass(frozen=True, slots=True)
class RatioKind:
    """A mix ratio with its basis, such as '2:1 by volume' or '100:45 by weight'."""

    def read(self, text: str) -> Ratio:
        return units.parse_ratio(text)

    def describe(self, unit: str = "") -> str:
        return phrase("ratio by volume or by weight, such as {volume} or {weight}", *units.RATIO_EXAMPLES)


@dataclass(frozen=True, slots=True)
class Either:
    """A name from a table, or the figure itself."""

    choice: Choice
    measure: Measure

    def read(self, text: str) -> str | Quantity:
        try:
            return self.choice.read(text)
        except EntryError as no_name:
            if not any(character.isdigit() for character in text):
                raise
            try:
                return self.measure.read(text)
            except EntryError as no_figure:
                raise EntryError(no_figure.what, phrase("{fix}, or {other}", no_figure.fix, no_name.fix)) from None

    def describe(self, unit: str = "") -> str:
        return phrase("{names}; or a figure: {measure}", self.choice.describe(), self.measure.describe(unit))


@dataclass(frozen=True, slots=True)
class Measures:
    """Several quantities of one dimension, such as '1 mm, 0.5 mm, 0.5 mm'; a unit after the last number counts for all."""

    measure: Measure
    """What each of them may be."""
    most: int = 20
    """Greatest number of them."""
    named: Mapping[str, str] = field(default_factory=dict)
    """Lists that can be given by name, in lower case."""

    def read(self, text: str) -> str:
        return ", ".join(map(units.show, self.quantities(self.named.get(text.strip().lower(), text))))

    def quantities(self, text: str) -> tuple[Quantity, ...]:
        """Return the quantities meant by `text`, in its order; EntryError as for `read`."""
        pieces: list[str] = []
        for piece in re.split(r"\s*;\s*|,\s+|(?<=[^\d\s]),|\s+,", text.strip().rstrip(",;")):
            # A comma between digits is a decimal one, except where no number is written so: 0.5,1 and 1,2,3 and 1/4,1/8.
            several = piece.count(",") > 1 or ("," in piece and ("." in piece or "/" in piece))
            pieces += piece.split(",") if several else [piece]
        if len(pieces) > self.most:
            raise EntryError(phrase("{count} in the list", len(pieces)), phrase("enter {most} or fewer", self.most))
        named = {self.measure.read(piece).unit for piece in pieces if units.has_unit(piece)}
        bare = [piece for piece in pieces if not units.has_unit(piece)]
        if bare and (len(named) > 1 or (not units.has_unit(pieces[-1]) and units.needs_unit(self.measure.unit))):
            self.measure.read(bare[-1])  # What is no number at all is told as such.
            raise EntryError(
                phrase("'{text}' has no unit", bare[-1]),
                phrase("type a unit after each, or one unit at the end: {example}", self._like()),
            )
        unit = next(iter(named), self.measure.unit)
        return tuple(self.measure.read(piece if units.has_unit(piece) else f"{piece} {unit}") for piece in pieces)

    def describe(self, unit: str = "") -> str:
        listed = phrase("list such as {example}; each {measure}", self._like(unit), self.measure.describe(unit))
        return phrase("{names}, or {list}", ", ".join(self.named), listed) if self.named else listed

    def _like(self, unit: str = "") -> str:
        return f"1, 0.5, 0.5 {unit or self.measure.unit}".strip()


@dataclass(frozen=True, slots=True)
class Field:
    """One thing a calculator is given."""

    name: str
    """Name in commands, recipes and JSON."""
    title: str
    """Label on the form."""
    kind: Kind
    """What may stand in it."""
    help: str = ""
    """One sentence for who does not know what is meant."""
    default: str | None = None
    """Text taken when nothing is given."""
    required: bool = False
    """Whether it has to be given; a field with a default is none of these."""

    @property
    def optional(self) -> bool:
        """Whether it may stay empty without anything standing in for it."""
        return not self.required and self.default is None


@dataclass(frozen=True, slots=True)
class Output:
    """One thing a calculator works out; the one named `verdict` judges the result and is said first."""

    name: str
    """Name in recipes and JSON."""
    title: str
    """Label beside the figure."""
    unit: str | None = None
    """Unit of the JSON output; '' for a count and any number without one, None for a name or a verdict, and for an amount that
    keeps the unit that was typed for it."""
    places: int = 1
    """Decimals shown on screen; JSON is never rounded."""
    gauged: bool = False
    """Whether it is drilled or gauged: its inches are decimals then, not those of a rule."""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a formula or constant comes from, and how that was come by."""

    text: str
    mark: Mark

    def __str__(self) -> str:
        return f"{self.text} [{self.mark}]"


@dataclass(frozen=True, slots=True)
class Example:
    """A worked example with the source it was taken from and that source's own accuracy."""

    inputs: Mapping[str, str]
    outputs: Mapping[str, float | str]
    """Expected values in the outputs' own units."""
    source: Source
    rel: float = 1e-6
    """Relative tolerance."""
    abs: float = 0.0
    """Absolute tolerance, in the output's unit."""

    def holds(self, name: str, got: float | str | None) -> bool:
        """Return whether `got` is the expected value of output `name` within the tolerance."""
        wanted = self.outputs[name]
        if isinstance(wanted, str) or isinstance(got, str) or got is None:
            return wanted == got
        return math.isclose(got, wanted, rel_tol=self.rel, abs_tol=self.abs)


@dataclass(frozen=True, slots=True)
class Threshold:
    """A limit that decides what a calculator says, with the words that come beyond it, shown from both sides.

    It is a constant of the module, compared by its `value`, and listed in the `thresholds` of the calculator. One test
    runs both sides and sees the words come and go; where `of` names an input or output it sees too that both lie within
    1 % of the limit, one on each side, and that of an input one of them is the limit itself. Beyond a limit that refuses
    no output comes out: then the other side alone is held.
    """

    value: float
    unit: str
    """Unit of the value; '' for a plain number."""
    source: Source
    """Where the limit comes from, with its mark."""
    words: str
    """Part of the caution, working line, verdict or refusal that stands beyond the limit and not short of it."""
    of: str
    """The input or output that is compared with it, in `unit` or another of its dimension; '' where it is neither."""
    short: str
    """Text of the input `by` just short of the limit."""
    beyond: str
    """The same just beyond it; where `of` is '', no more than 1 % away from `short`."""
    by: str = ""
    """The input that is moved; '' where that is the one compared."""
    beside: Mapping[str, str] = field(default_factory=dict)
    """Other inputs, put in beside those of the first worked example; '' leaves one out."""

    def sides(self, inputs: Mapping[str, str]) -> tuple[dict[str, str], dict[str, str]]:
        """Return the inputs just short of the limit and just beyond it, from those of the first worked example."""
        moved = self.by or self.of
        return {**inputs, **self.beside, moved: self.short}, {**inputs, **self.beside, moved: self.beyond}


@dataclass(frozen=True, slots=True)
class Answer:
    """What a calculator's function returns."""

    values: Mapping[str, Value | float | None]
    """Each output, a bare number in the output's declared unit; None where the inputs do not determine it."""
    working: tuple[str, ...] = ()
    """The formula lines with the numbers put in."""
    cautions: tuple[str, ...] = ()
    """What this result warns of."""
    has_figure: bool = True
    """False where what was asked for has none: too cold to cure, too slow, over centre; a script is told by the exit code."""


@dataclass(frozen=True, slots=True)
class Stock:
    """The kind of material on the shelf that fills in fields of a calculator."""

    kind: str
    """Kind of the material, as the shelf names it."""
    figures: Mapping[str, str]
    """The figure of the material that fills each field, by the name of the field."""

    def filled(self, figures: Mapping[str, str]) -> dict[str, str]:
        """Return the texts that a material with these figures fills fields with, by the name of the field."""
        return {name: figures[figure] for name, figure in self.figures.items() if figures.get(figure)}


@dataclass(frozen=True, slots=True)
class Calculator:
    """A pure function from quantities to quantities, declared with all that its faces show."""

    name: str
    title: str
    inputs: tuple[Field, ...]
    outputs: tuple[Output, ...]
    """In the order of importance: where room is short the first are shown, and shown large."""
    source: tuple[Source, ...]
    valid: str
    """Range of validity in words, with the reason."""
    examples: tuple[Example, ...]
    compute: Callable[..., Answer]
    """Called with one keyword argument a field (None where an optional one is empty)."""
    pictures: tuple[Callable[[Mapping[str, Value], Mapping[str, Value | None]], Picture | None], ...] = ()
    """Called with the inputs as understood and the outputs of a Result; None where these show nothing."""
    thresholds: tuple[Threshold, ...] = ()
    """The limits that decide what it says."""
    asked: tuple[str, ...] = ()
    """The fields it is asked with, in the order of the work; those of which one is given together, the usual one first, with |
    between them. The other fields are one key away. Without it, all fields one by one."""
    stock: Stock | None = None
    """The material that is asked for before these."""
    readings: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """The readings of the shop of which the first fresh one fills a field, by the name of the field."""

    def field(self, name: str) -> Field:
        """Return the field of that name; KeyError if there is none."""
        return next(item for item in self.inputs if item.name == name)

    @property
    def asks(self) -> tuple[tuple[Field, ...], ...]:
        """The fields it is asked with, together those of which one is given."""
        return tuple(tuple(map(self.field, names.split("|"))) for names in self.asked)

    def drawn(self, inputs: Mapping[str, Value], outputs: Mapping[str, Value | None]) -> tuple[Picture, ...]:
        """Return the pictures of a result in the order they are shown, those that show nothing left out."""
        return tuple(seen for make in self.pictures if (seen := make(inputs, outputs)) is not None)


def measure_of(kind: Kind) -> Measure | None:
    """Return the quantity that a kind takes, each of a list of them, None where it takes none."""
    measure = kind.measure if isinstance(kind, Either | Measures) else kind
    return measure if isinstance(measure, Measure) else None


def usual_unit(kind: Kind, system: System) -> str:
    """Return the unit of a number typed without one where figures are shown in `system`; of a ratio the usual basis."""
    measure = measure_of(kind)
    if measure is not None:
        return units.own_unit(measure.unit, system)
    return units.RATIO_BASES[0] if isinstance(kind, RatioKind) else ""


def taken(kind: Kind, given: Value) -> Value:
    """Return what is given to a field as its value: a text is read, a value that was read before is only checked.

    Raises EntryError as the kind does for the text of the value.
    """
    if isinstance(given, Quantity) and given.unit and isinstance(kind, Measure):
        return kind.within(given)
    if isinstance(given, Ratio) and isinstance(kind, RatioKind):
        return given
    return kind.read(given if isinstance(given, str) else str(units.shown(given)))


_SLIPS = (("10", 10.0), ("25.4", 25.4))
"""Factors by which an entry goes wrong: a decimal point, inches for millimetres."""
_SLIP_WIDTH = 0.02
"""How near a ratio has to come to such a factor."""


def _told(quantity: Quantity) -> str:
    """Return a value as it was typed, or to four digits where it was worked out."""
    if isinstance(quantity.value, float):
        quantity = Quantity(Fraction(units.significant(quantity.value)), quantity.unit)
    return units.show(quantity)


def doubt(kind: Kind, value: Value, before: Value | None = None) -> str | None:
    """Return the question about a value that deserves a second look: unusual, or off the last one, `before`, by a likely slip."""
    measure = kind.measure if isinstance(kind, Either) else kind
    why = measure.doubt(value) if isinstance(measure, Measure) and isinstance(value, Quantity) else None
    why = why or slip(value, before)
    return phrase("{doubt}; is that right?", why) if why else None


def slip(value: Value, before: Value | None) -> str | None:
    """Return why a value looks like a slip beside the last one of the same field: 10 or 25.4 times off, or None."""
    if not isinstance(value, Quantity) or not isinstance(before, Quantity) or not before.value:
        return None
    if units.dimension(value.unit) != units.dimension(before.unit) or units.dimension(value.unit) == "temperature":
        return None
    ratio = abs(value.value_in(before.unit) / float(before.value))
    for factor, size in _SLIPS:
        for words, off in (
            ("{value} is {factor} times the last, {before}", ratio / size),
            ("{value} is {factor} times smaller than the last, {before}", ratio * size),
        ):
            if abs(off - 1) < _SLIP_WIDTH:
                return phrase(words, units.show(value), factor, units.show(before))
    return None


def joined(*parts: Answer) -> Answer:
    """Return one answer made of several, their lines in their order."""
    values = {name: value for part in parts for name, value in part.values.items()}
    working = tuple(line for part in parts for line in part.working)
    cautions = tuple(line for part in parts for line in part.cautions)
    return Answer(values, working, cautions, all(part.has_figure for part in parts))


def plain(value: Value | None, declared: str | None = None) -> dict[str, object]:
    """Return a value as {"value", "unit"}; unit is '' for counts, which are whole, and None for names and ratios.

    No value has the unit `declared` for it.
    """
    if value is None:
        return {"value": None, "unit": declared}
    if isinstance(value, Quantity):
        return {"value": float(value.value), "unit": value.unit}
    if isinstance(value, Ratio):
        return {"value": str(value), "unit": None}
    return {"value": value, "unit": "" if isinstance(value, int) else None}


def _plain(text: str) -> str:
    return "".join(text.lower().replace("-", " ").split())
