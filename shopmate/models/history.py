"""A history of temperatures and how long each lasted, read from a list such as '8h@25C 16h@12C'."""

from __future__ import annotations

import re

from shopmate import units
from shopmate.calculator import Measure, Measures
from shopmate.errors import EntryError
from shopmate.records import dataclass
from shopmate.units import Quantity

_MOST_CHARACTERS = 3000
"""Maximum length of a history; nobody types a longer one (our choice). No Threshold needed: it limits the work on absurd
input."""

_TIME = Measure("h", above=0, high=5000)
"""How long one step of a history may last."""

LIKE = "8h@25C 16h@12C"
"""An example of a history."""

_STEP_AFTER = re.compile(
    r"\s*([-+−]?(?:[0-9]+(?:[.,][0-9]+)?+|[.][0-9]+)(?:\s*[^0-9\s,;]+(?:\s+[^0-9\s,;]+)*)?)(?:\s*[,;]\s*|\s+)([0-9.¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞].*)"
)
"""The text between two separators: a temperature, then the time of the next step; a comma between digits is a decimal one."""

_BETWEEN = re.compile(r"(?<=[0-9])-(?=[0-9])")
"""The dash typed on a keypad between two steps, 8/25-16/12; a dash before a temperature is a minus sign."""


@dataclass(frozen=True, slots=True)
class Step:
    """How long the resin was at a temperature."""

    time: Quantity
    temperature: Quantity

    def __str__(self) -> str:
        return f"{units.show(self.time)} @ {units.show(self.temperature)}"

    @property
    def hours(self) -> float:
        return self.time.value_in("h")

    @property
    def celsius(self) -> float:
        return self.temperature.value_in("°C")


class History(Measures):
    """Times and temperatures: '8h@25C 16h@12C', or '8/25; 16/12 °C' on a keypad without letters."""

    def read(self, text: str) -> str:
        return ", ".join(map(str, self.steps(text)))

    def quantities(self, text: str) -> tuple[Quantity, ...]:
        """Return the temperatures in `text`, in order; EntryError as for `read`."""
        return tuple(step.temperature for step in self.steps(text))

    def steps(self, text: str) -> tuple[Step, ...]:
        """Return the steps in `text`, in order; EntryError as for `read`."""
        pairs = _pairs(text)
        if len(pairs) > self.most:
            raise EntryError(f"{len(pairs)} steps", f"enter {self.most} or fewer: add up times at nearly the same temperature")
        timed = [units.has_unit(time) for time, _ in pairs]
        if any(timed) and not all(timed):
            raise EntryError(
                f"step {timed.index(False) + 1}: the time has no unit",
                f"write a unit with every time, or with none (hours): {LIKE}",
            )
        named = {temperature: units.has_unit(temperature) for _, temperature in pairs}
        own = {self._step(number, self.measure, piece).unit for number, (_, piece) in enumerate(pairs, 1) if named[piece]}
        if not all(named.values()) and (len(own) != 1 or not named[pairs[-1][1]]):
            at = next(number for number, (_, piece) in enumerate(pairs, 1) if not named[piece])
            raise EntryError(f"step {at}: the temperature has no unit", f"write a unit with each, or one at the end: {LIKE}")
        unit = next(iter(own))
        return tuple(
            Step(
                self._step(number, _TIME, time),
                self._step(number, self.measure, temperature if named[temperature] else f"{temperature} {unit}"),
            )
            for number, (time, temperature) in enumerate(pairs, 1)
        )

    def describe(self, unit: str = "") -> str:
        return f"list such as {LIKE}; on a keypad 8/25-16/12 in hours and the unit shown"

    @staticmethod
    def _step(number: int, measure: Measure, piece: str) -> Quantity:
        try:
            return measure.read(piece)
        except EntryError as error:
            raise EntryError(f"step {number}: {error.what}", error.fix) from None


def _pairs(text: str) -> list[tuple[str, str]]:
    """Return time and temperature of each step as text; EntryError where the two cannot be told apart."""
    if len(text) > _MOST_CHARACTERS:
        raise EntryError(f"the history is too long: {len(text)} characters", f"write fewer steps, like {LIKE}")
    plain = re.sub(r"\s+at\s+", "@", " ".join(text.split()), flags=re.IGNORECASE).strip(" ,;")
    # A keypad without letters has only the slash. Beside an @ a slash is part of a number: 1/2h@25C.
    parts = plain.split("@") if "@" in plain else _BETWEEN.sub(";", plain).split("/")
    if len(parts) == 1:
        raise EntryError("there is no '@' between a time and its temperature", f"write {LIKE}")
    pairs, time = [], parts[0]
    for number, part in enumerate(parts[1:-1], 1):
        match = _STEP_AFTER.fullmatch(part)
        if match is None:
            raise EntryError(f"step {number}: can't tell where its temperature ends", f"write {LIKE}, with a space between steps")
        pairs.append((time, match[1]))
        time = match[2]
    pairs.append((time, parts[-1]))
    for number, pair in enumerate(pairs, 1):
        for piece, what in zip(pair, ("time", "temperature"), strict=True):
            if not piece.strip():
                raise EntryError(f"step {number}: there is no {what}", f"write {LIKE}")
    return pairs
