"""Choosing by number with digit keys: one digit up to nine answers, two from ten on."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(slots=True)
class Digits:
    """Collects digits until they name one of `count` answers."""

    count: int
    typed: str = ""

    @property
    def places(self) -> int:
        """How many digits a number has."""
        return 1 if self.count <= 9 else 2

    def label(self, index: int) -> str:
        """Return the number of the answer at `index` (from 0) as it is shown and typed."""
        return f"{index + 1:0{self.places}d}"

    def press(self, key: str) -> int | None:
        """Take a digit key; return the index it completes, or None. What names no answer is forgotten."""
        self.typed += key
        if len(self.typed) < self.places:
            return None
        number, self.typed = int(self.typed), ""
        return number - 1 if 1 <= number <= self.count else None
