"""The fillers of the table, their usual amounts, and the cautions for a mix with them."""

from __future__ import annotations

from collections.abc import Mapping

from shopmate import tables

CONSISTENCIES = ("brushable", "spreadable", "non-sag")
"""The consistencies in the table of fillers, thin to thick: about like ketchup, mayonnaise and peanut butter."""

DUST = "filler dust hangs in the air and harms lungs: dust mask on, lid on the tub, stir in slowly; follow the safety data sheet"
"""Caution given with every filler."""


def names() -> tuple[str, ...]:
    """Return the fillers, in the order of the table."""
    return tuple(row["filler"] for row in tables.load("fillers").rows)


def row(filler: str) -> Mapping[str, str]:
    """Return the row of a filler; KeyError for an unknown one."""
    return tables.load("fillers").row("filler", filler)


def usual(filler: Mapping[str, str], name: str) -> tuple[float, float]:
    """Return the usual range of a filler for the consistency (or silica) `name`, in % of the mixed epoxy."""
    return float(filler[f"{name}_low_g"]), float(filler[f"{name}_high_g"])


def fairing_only(filler: Mapping[str, str]) -> list[str]:
    """Return the caution for a filler that carries no load, if it is one."""
    if filler["use"] != "fairing":
        return []
    return [f"{filler['filler']}: for fairing only, never for a structural fillet or a bond line"]
