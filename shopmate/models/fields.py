"""What calculators do with their fields: read an optional one, count up, and say what fields ask of one another."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from shopmate.errors import FieldProblem, InputError
from shopmate.models.constants import NOISE
from shopmate.units import Quantity


def in_unit(quantity: Quantity | None, unit: str) -> float | None:
    """Return the number of an optional quantity in `unit`, None where it was not given."""
    return None if quantity is None else quantity.value_in(unit)


def some(fields: Mapping[str, object], names: Iterable[str]) -> dict[str, object]:
    """Return those of the fields that have these names."""
    return {name: fields[name] for name in names}


def given(fields: Mapping[str, object], what: str, fix: str) -> list[FieldProblem]:
    """Return a problem for each of these fields that has a value and should have none."""
    return [FieldProblem(name, what, fix) for name, value in fields.items() if value is not None]


def missing(fields: Mapping[str, object], what: str, fix: str) -> list[FieldProblem]:
    """Return a problem for each of these fields that has no value."""
    return [FieldProblem(name, what, fix) for name, value in fields.items() if value is None]


def together(fields: Mapping[str, object], what: str, fix: str) -> list[FieldProblem]:
    """Return a problem for each field that is missing beside the others; all of them or none may be given."""
    return missing(fields, what, fix) if any(value is not None for value in fields.values()) else []


def refuse(*problems: FieldProblem) -> None:
    """Raise InputError with all that is wrong between the fields; do nothing where nothing is."""
    if problems:
        raise InputError(*problems)


def round_up(number: float) -> int:
    """Return the next whole number; one part in 10⁹ over is the noise of floats, so that 3.0000000001 pieces are 3."""
    return math.ceil(number * (1 - NOISE))
