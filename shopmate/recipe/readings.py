"""Readings that a shop takes again and again, what each is usually of, and for how long it is good."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Literal, get_args

from shopmate.records import dataclass

Of = Literal["shop", "part", "material"]
"""What a reading or an answer is of."""

Fresh = Literal["fresh_shop", "fresh_low", "fresh_moisture"]
"""For what it is set how long a reading is good."""

FRESH: Mapping[str, timedelta] = {
    "fresh_shop": timedelta(minutes=30),
    "fresh_low": timedelta(hours=12),
    "fresh_moisture": timedelta(hours=24),
}
"""How long a reading is good until it is set otherwise (common practice, without a source)."""

FRESH_NAMES: tuple[Fresh, ...] = get_args(Fresh)


@dataclass(frozen=True, slots=True)
class Known:
    """A kind of reading."""

    dimension: str
    """What it measures."""
    of: Of
    """What it is of where a recipe does not say."""
    fresh: Fresh
    """By which setting it grows old."""


READINGS: Mapping[str, Known] = {
    "air": Known("temperature", "shop", "fresh_shop"),
    "humidity": Known("fraction", "shop", "fresh_shop"),
    "low": Known("temperature", "shop", "fresh_low"),
    "surface": Known("temperature", "part", "fresh_shop"),
    "bottles": Known("temperature", "material", "fresh_shop"),
    "moisture": Known("fraction", "part", "fresh_moisture"),
}
"""The kinds of reading by name."""

READING_NAMES = tuple(READINGS)
