"""The solids a panel is made of: density, conductivity, expansion by direction of the grain, modulus; found by any usual name."""

from __future__ import annotations

import difflib
from functools import cache

from shopmate import tables
from shopmate.errors import EntryError
from shopmate.records import dataclass
from shopmate.tables.woods import Wood, woods

AIR_DRY = 12.0
"""Moisture in % at which the table of woods gives its specific gravities (USDA Wood Handbook Table 5-3) [read]."""


@dataclass(frozen=True, slots=True)
class Solid:
    """One material with its typical figures; None where the table has none."""

    name: str
    kind: str
    """wood, sheet, foam, metal, plastic, laminate, resin or glass."""
    density: float
    """kg/m³, air-dry for wood, the heavy end of the sources."""
    conductivity: float
    """W/mK, the poorly insulating end of the sources."""
    along: tuple[float, float] | None
    """Least and greatest expansion of the sources in µm/m·K, along the grain where there is one."""
    across: tuple[float, float] | None
    """The same across the grain; None for what has no grain."""
    modulus: float | None
    """GPa, along the grain where there is one."""
    note: str
    """Where the sources of density and conductivity differ, or what they hold for."""


def wood_density(gravity: float, moisture: float) -> float:
    """Return the density in kg/m³ of wood with its water: 1000 G (1 + MC/100), G on the volume at that moisture in %.

    Specific gravity counts the oven-dry mass only (Wood Handbook chapter 4, restated in a public script citing it) [read].
    """
    return 1000 * gravity * (1 + moisture / 100)


def wood_conductivity(gravity: float, moisture: float) -> float:
    """Return W/mK across the grain: G (0.1941 + 0.004064 MC) + 0.01864 (Wood Handbook eq. 4-7) [memory]."""
    return gravity * (0.1941 + 0.004064 * moisture) + 0.01864


@cache
def solids() -> tuple[Solid, ...]:
    """Return the solids of the table, in alphabetical order."""
    return tuple(
        Solid(
            row["material"],
            row["kind"],
            float(row["density_kg_m3"]),
            float(row["conductivity_w_m_k"]),
            _range(row["along_low_um_m_k"], row["along_high_um_m_k"]),
            _range(row["across_low_um_m_k"], row["across_high_um_m_k"]),
            float(row["modulus_gpa"]) if row["modulus_gpa"] else None,
            row["note"],
        )
        for row in tables.load("solids").rows
    )


def find(name: str) -> Solid:
    """Return the solid of that name or usual other name, or the wood of that name; EntryError names the nearest."""
    known = _by_name()
    wanted = _plain(name)
    if wanted not in known:
        near = difflib.get_close_matches(wanted, known, n=1)
        named = ", ".join(item.name for item in solids())
        hint = f"did you mean {known[near[0]].name}? There are: {named}" if near else f"give one of: {named}; or a wood"
        raise EntryError(f"'{name}' is no material of the table", hint)
    return known[wanted]


@cache
def _by_name() -> dict[str, Solid]:
    known = {
        _plain(wood.name): Solid(
            wood.name,
            "wood",
            wood_density(gravity, AIR_DRY),
            wood_conductivity(gravity, AIR_DRY),
            None,
            None,
            None,
            f"G {gravity:.2f} at {AIR_DRY:g} % moisture" + (", the heaviest of its kinds" if wood.kinds else ""),
        )
        for wood in woods().values()
        if (gravity := _gravity(wood))
    }
    for solid, row in zip(solids(), tables.load("solids").rows, strict=True):
        for name in (solid.name, *filter(None, row["also"].split("; "))):
            known[_plain(name)] = solid
    return known


def _gravity(wood: Wood) -> float | None:
    """Return the specific gravity at 12 % of a wood; of a group the greatest, as the heavy end is taken of all solids."""
    return max((kind.g_12 for name in wood.kinds if (kind := woods()[name]).g_12), default=wood.g_12)


def _range(low: str, high: str) -> tuple[float, float] | None:
    return (float(low), float(high)) if low else None


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())
