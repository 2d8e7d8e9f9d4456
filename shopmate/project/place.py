"""Places in a recipe, and what became of the step at each."""

from __future__ import annotations

from datetime import datetime
from functools import lru_cache
from typing import Literal

from shopmate.records import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where in a recipe: section, turn and step; a turn counts from 1, the others from 0.

    `step` equal to the number of steps is the end of the section; `section` equal to the number of
    sections is the end of the recipe.
    """

    section: int
    turn: int
    step: int

    def __str__(self) -> str:
        return f"{self.section}.{self.turn}.{self.step}"

    @classmethod
    @lru_cache(maxsize=1024)  # a log names the same places over and over
    def parse(cls, text: str) -> Place:
        """Return the place written by str()."""
        return cls(*map(int, text.split(".")))


@dataclass(frozen=True, slots=True)
class Mark:
    """What became of a step: done (with its value and time), not applicable, left for later, or to be measured again."""

    at: datetime
    word: Literal["done", "not applicable", "for later", "again"]
    shown: str = ""
    """Value, verdict or reason recorded with it."""
    late_s: float | None = None
    """Seconds by which it was later than its DO BEFORE clock."""
