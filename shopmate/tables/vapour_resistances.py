"""How tight materials and films are to water vapour, found by the names of the solids and those of films."""

from __future__ import annotations

from functools import cache

from shopmate import tables
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Tightness:
    """How much a material holds vapour back."""

    name: str
    mu: float | None
    """Times as tight as still air of the same thickness; None where the whole layer has one `sd`."""
    dry: float | None
    """The same of dry wood, None for what is the same wet and dry."""
    wet: float | None
    sd: float | None
    """Metres of still air that are as tight as one layer, whatever its thickness."""


@cache
def _by_name() -> dict[str, Tightness]:
    found = {}
    for row in tables.load("vapour_resistances").rows:
        mu, dry, wet, sd = (float(row[name]) if row[name] else None for name in ("mu", "mu_dry", "mu_wet", "sd_m"))
        for name in (row["material"], *filter(None, row["also"].split("; "))):
            found[name.lower()] = Tightness(row["material"], mu, dry, wet, sd)
    return found


def tightness(name: str) -> Tightness | None:
    """Return what the table has for a solid or a film of that name, None where it has nothing."""
    return _by_name().get(name.lower())
