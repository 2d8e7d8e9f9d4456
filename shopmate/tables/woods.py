"""The woods of the table by name, and the names of groups, which stand for the least of their kinds."""

from __future__ import annotations

from functools import cache

from shopmate import tables
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Wood:
    """A wood, or a group of them, with its specific gravity on both bases; None where the table has none."""

    name: str
    g_oven_dry: float | None
    g_12: float | None
    kinds: tuple[str, ...]
    """Of a group, the woods of the table that are in it: its figures are the least of theirs, on each basis."""
    source: str


@cache
def woods() -> dict[str, Wood]:
    """Return the woods and groups by name, in alphabetical order."""
    table = tables.load("woods")
    return {
        row["wood"]: Wood(
            row["wood"],
            float(row["g_oven_dry"]) if row["g_oven_dry"] else None,
            float(row["g_12"]) if row["g_12"] else None,
            tuple(filter(None, row["kinds"].split("; "))),
            table.source_of(row),
        )
        for row in table.rows
    }
