"""What a sandwich panel is made of and loaded with: typical skins, foam cores and loads, found by any usual name."""

from __future__ import annotations

from functools import cache

from shopmate import tables
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Skin:
    """A typical skin, moduli and strength in MPa."""

    modulus: float
    """Along the span."""
    across: float
    """The other way."""
    strength: float | None
    """The lower of pressed and pulled; None where it depends on more than the material."""
    expansion: float | None
    """µm/m·K, None where the sources have none."""
    swelling: float | None
    """µm/m per % relative humidity, None where the sources have none."""


@dataclass(frozen=True, slots=True)
class Core:
    """A typical foam core, in MPa; None where the sources have no figure."""

    modulus: float | None
    """Low end of the sources: more sag, less against wrinkling."""
    stiff: float | None
    """High end of the sources: more pressure under a foot."""
    shear_modulus: float | None
    shear_strength: float
    crush: float


@dataclass(frozen=True, slots=True)
class LoadCase:
    """How a load acts, beside its size."""

    load: str
    """point or uniform."""
    patch: float | None
    """Diameter in mm on which a point load bears."""
    factor: float
    """What a load set down at once multiplies."""
    creep: float
    """How much further the core shears in time, as a multiple."""


def names(table: str) -> tuple[str, ...]:
    """Return the names in the first column of a table, in its order."""
    loaded = tables.load(table)
    return tuple(row[loaded.columns[0]] for row in loaded.rows)


@cache
def other_names(table: str) -> tuple[tuple[str, str], ...]:
    """Return each other name in a table of materials, with the name it stands for."""
    return tuple((other, row["material"]) for row in tables.load(table).rows for other in filter(None, row["also"].split("; ")))


def skin(name: str) -> Skin:
    """Return the skin of that name in the table; KeyError if there is none."""
    row = tables.load("skins").row("material", name)
    return Skin(
        float(row["modulus_mpa"]),
        float(row["across_mpa"]),
        _number(row["strength_mpa"]),
        _number(row["expansion_um_m_k"]),
        _number(row["swelling_um_m"]),
    )


def core(name: str) -> Core:
    """Return the core of that name in the table; KeyError if there is none."""
    row = tables.load("cores").row("material", name)
    return Core(
        _number(row["modulus_low_mpa"]),
        _number(row["modulus_high_mpa"]),
        _number(row["shear_modulus_mpa"]),
        float(row["shear_strength_mpa"]),
        float(row["crush_mpa"]),
    )


def load_case(name: str) -> LoadCase:
    """Return the load of that name in the table; KeyError if there is none."""
    row = tables.load("load_cases").row("case", name)
    return LoadCase(row["load"], _number(row["patch_mm"]), float(row["factor"]), float(row["creep"]))


def _number(text: str) -> float | None:
    return float(text) if text else None
