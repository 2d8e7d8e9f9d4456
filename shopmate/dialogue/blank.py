"""One value to be filled in: how it is typed on a keypad, by its kind, and the question about one that looks odd."""

from __future__ import annotations

from shopmate import units
from shopmate.calculator import Choice, Kind, Measure, Measures, RatioKind, Value, doubt, measure_of, usual_unit
from shopmate.units import RATIO_BASES, System


class Blank:
    """A value to be filled in where the keys are those of a keypad: digits, a point and a dash, no letters and no colon.

    `unit` is that of a number typed without one, of a ratio its basis. One that looks like a slip beside `before`, the
    value so far, is asked about, as is one that is unusual.
    """

    def __init__(self, kind: Kind, unit: str = "", before: Value | None = None) -> None:
        self.kind, self.unit, self.before = kind, unit, before
        self.doubted = ""
        """The text that was asked about last, '' where no question stands; where keys are read one by one, each takes it back."""

    @property
    def _measure(self) -> Measure | None:
        """The one quantity that is wanted, None where it is another kind of value or a list."""
        return None if isinstance(self.kind, Measures) else measure_of(self.kind)

    @property
    def units(self) -> tuple[str, ...]:
        """The units that can be gone through in place of typing one, of a ratio its bases."""
        if isinstance(self.kind, RatioKind):
            return RATIO_BASES
        measure = measure_of(self.kind)
        return units.offered(measure.unit) if measure is not None and measure.unit else ()

    @property
    def dash(self) -> str:
        """What the dash stands for: the colon of a ratio, what parts a list, else itself."""
        return ":" if isinstance(self.kind, RatioKind) else ";" if isinstance(self.kind, Measures) else "-"

    @property
    def letters(self) -> bool:
        """Whether a text may begin with a letter."""
        return isinstance(self.kind, Measures | Choice)

    @property
    def below_zero(self) -> bool:
        """Whether a number below zero may be typed."""
        measure = self._measure
        if measure is None:
            return False
        floor = measure.low if measure.low is not None else measure.above
        return floor is None or floor < 0

    @property
    def limits(self) -> str:
        """What may be typed, for beside an entry that shows the unit: the limits of a quantity, else what its kind says."""
        return self._measure.limits(self.unit) if self._measure is not None else self.wanted

    @property
    def wanted(self) -> str:
        """What may be typed, in a sentence that says all of it; of quantities in the unit of a bare number."""
        return self.kind.describe(self.unit)

    def line(self, text: str) -> str:
        """Return a line as it was typed as the text that is read: dashes for what they stand for, a bare number with its unit."""
        text = text.replace("-", self.dash)
        return text if _names_unit(text) else with_unit(text, self.unit)

    def question(self, text: str) -> str:
        """Return the question about a text that looks odd, '' where it can be taken; raises EntryError for what cannot.

        The same text given once more is meant; any other takes the question back.
        """
        meant, self.doubted = text == self.doubted, ""
        asked = doubt(self.kind, self.kind.read(text), self.before)
        if asked is None or meant:
            return ""
        self.doubted = text
        return asked


def with_unit(text: str, unit: str) -> str:
    """Return a bare number with the unit it is in, that of a ratio with its basis; one that may be of inches stays bare."""
    if not text or not unit or (unit not in RATIO_BASES and units.may_be_inches(text, unit)):
        return text
    return f"{text} {unit}"


def in_usual_unit(kind: Kind, text: str, system: System) -> str:
    """Return a text for a quantity, a bare number with the unit that is usual for it in `system`; any other as it stands."""
    return text if measure_of(kind) is None or _names_unit(text) else with_unit(text, usual_unit(kind, system))


def _names_unit(text: str) -> bool:
    """Return whether a text names its unit; of a list that of the last one counts for all."""
    return units.has_unit(text.rpartition(";")[2])
