"""Readings that a shop takes again and again, what each is usually of, and for how long it is good."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import Literal, get_args

from shopmate.records import dataclass

Of = Literal["shop", "part", "material"]
"""What a reading or an answer is of."""

Reading = Literal["air", "humidity", "low", "surface", "bottles", "moisture"]


@dataclass(frozen=True, slots=True)
class Known:
    """A kind of reading."""

    dimension: str
    """What it measures."""
    of: Of
    """What it is of where a recipe does not say."""
    holds: timedelta
    """How long it is taken for the present one."""


_SOON, _NIGHT, _DAY = timedelta(minutes=30), timedelta(hours=12), timedelta(hours=24)

READINGS: Mapping[str, Known] = {
    "air": Known("temperature", "shop", _SOON),
    "humidity": Known("fraction", "shop", _SOON),
    "low": Known("temperature", "shop", _NIGHT),
    "surface": Known("temperature", "part", _SOON),
    "bottles": Known("temperature", "material", _SOON),
    "moisture": Known("fraction", "part", _DAY),
}
"""The kinds of reading by name; how long each holds is common practice, without a source."""

READING_NAMES: tuple[Reading, ...] = get_args(Reading)
