"""Helpers for a calculator's fields: optional values, rounding up, and problems between fields."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from shopmate.errors import FieldProblem, InputError
from shopmate.models.constants import NOISE
from shopmate.units import Quantity


def in_unit(quantity: Quantity | None, unit: str) -> float | None:
    """Return an optional quantity as a number in `unit`, None where it is blank."""
    return None if quantity is None else quantity.value_in(unit)


def some(fields: Mapping[str, object], names: Iterable[str]) -> dict[str, object]:
    """Return the fields with these names."""
    return {name: fields[name] for name in names}


def given(fields: Mapping[str, object], what: str, fix: str) -> list[FieldProblem]:
    """Return a problem for each of these fields that is filled in, because all should be blank."""
    return [FieldProblem(name, what, fix) for name, value in fields.items() if value is not None]


def missing(fields: Mapping[str, object], what: str, fix: str) -> list[FieldProblem]:
    """Return a problem for each of these fields that is blank."""
    return [FieldProblem(name, what, fix) for name, value in fields.items() if value is None]


def together(fields: Mapping[str, object], what: str, fix: str) -> list[FieldProblem]:
    """Return a problem for each blank field if any of the others is filled in, because they belong together."""
    return missing(fields, what, fix) if any(value is not None for value in fields.values()) else []


def refuse(*problems: FieldProblem) -> None:
    """Raise InputError with all the problems; do nothing if there are none."""
    if problems:
        raise InputError(*problems)


def round_up(number: float) -> int:
    """Return the number rounded up to a whole one; 3.0000000001 gives 3, since the rest is only the noise of floats."""
    return math.ceil(number * (1 - NOISE))
