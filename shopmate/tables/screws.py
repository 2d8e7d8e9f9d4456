"""The wood, tapping and machine screws of the tables: diameters, roots by basis, and heads with their standards."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache

from shopmate import tables
from shopmate.records import dataclass
from shopmate.tables.drills import INCH

NDS, HANDBOOK = "NDS rolled thread", "Wood Handbook two-thirds"
TAPPING, _METRIC, _COARSE = "ISO 1478 core", "DIN 7998 core", "ISO 68 core"
BASES = (NDS, HANDBOOK, TAPPING, _METRIC, _COARSE)
"""What the root diameter can be taken from; for #8 they run from 0.109 to 0.131 in, so the one taken is always named."""

_DEFAULT_BASES: Mapping[str, tuple[str, ...]] = {
    "inch": (NDS, TAPPING),
    "wood": (_METRIC,),
    "tapping": (TAPPING,),
    "machine": (_COARSE,),
}
"""The basis of each kind of screw where none is given: the first the size has. Under No. 6 the tapping core gives the pilot
drills of the trade table (#4 and #5: 1/16 and 5/64 in), two thirds of the diameter a size less."""

_HEAD_STANDARDS = {
    "flat 90": {"wood": "DIN 7997", "tapping": "ISO 7050", "machine": "ISO 7046"},
    "pan": {"wood": "DIN 7996", "tapping": "ISO 7049", "machine": "ISO 7045"},
}
"""The standard whose head is taken; older heads (DIN 963, DIN 7991) are smaller and stand in the table metric_heads."""

HALF_ANGLE = {"flat 82": 41.0, "flat 90": 45.0}
"""Half the included angle of a countersunk head in degrees (ASME B18.6.1, ISO 7721 [memory])."""

ALSO = tuple((f"{word}{gauge}", f"#{gauge}") for gauge in range(2, 15) for word in ("", "No ", "No. "))
"""Other ways to write the size of an inch screw: 8, No 8, No. 8 for #8."""


@dataclass(frozen=True, slots=True)
class Head:
    """A head in mm: sharp diameter (None for pan), greatest diameter, height, and where they come from."""

    sharp: Fraction | None
    diameter: Fraction
    height: Fraction
    source: str
    bearing: Fraction
    """Diameter that counts against pulling through: the mean of its limits where these are known (NDS D_H [read])."""


@dataclass(frozen=True, slots=True)
class Screw:
    """A size in mm: nominal diameter for loads, greatest diameter for holes, root by basis, heads by name.

    Its kind is inch (wood screws), wood (metric wood screws), tapping (ST) or machine (M).
    """

    size: str
    kind: str
    major: Fraction
    major_max: Fraction
    roots: Mapping[str, Fraction]
    heads: Mapping[str, Head]

    @property
    def usual_basis(self) -> str:
        """The basis of the root where none is given."""
        return next(name for name in _DEFAULT_BASES[self.kind] if name in self.roots)


@cache
def screws() -> Mapping[str, Screw]:
    """Return the screws by size, those of which a head is known."""
    return {screw.size: screw for screw in (*_inch_screws(), *_metric_screws()) if screw.heads}


def inches(text: str) -> Fraction:
    """Return a number of a table in inches as mm."""
    return Fraction(text) * INCH


def distance(rule: str, *, metal: bool, prebored: bool) -> Fraction:
    """Return a distance in nominal diameters by its rule in the table screw_distances, `metal`: the top is a metal side."""
    row = next(row for row in tables.load("screw_distances").rows if row["rule"] == rule)
    return Fraction(row[f"{'metal' if metal else 'wood'}{'_prebored' if prebored else ''}_d"])


def _inch_screws() -> list[Screw]:
    pans = {row["gauge"]: row for row in tables.load("pan_heads").rows}
    cores = {row["gauge"]: row["core_min_mm"] for row in tables.load("metric_screws").rows if row["gauge"]}
    found = []
    for row in tables.load("wood_screws").rows:
        gauge, major = row["gauge"], inches(row["major_in"])
        roots = {HANDBOOK: major * 2 / 3}
        if row["root_nds_in"]:
            roots[NDS] = inches(row["root_nds_in"])
        if gauge in cores:
            roots[TAPPING] = Fraction(cores[gauge])
        sharp = inches(row["flat_max_in"])
        mean = (sharp + inches(row["flat_min_in"])) / 2
        heads = {"flat 82": Head(sharp, sharp, inches(row["flat_height_in"]), "ASME B18.6.1", mean)}
        if pan := pans.get(gauge):
            source = f"ASME B18.6.4 with a cross recess (slotted {pan['slotted_height_in']} in)"
            wide = inches(pan["diameter_in"])
            heads["pan"] = Head(None, wide, inches(pan["recessed_height_in"]), source, wide)
        found.append(Screw(f"#{gauge}", "inch", major, inches(row["major_max_in"]), roots, heads))
    return found


def _metric_screws() -> list[Screw]:
    found = []
    for row in tables.load("metric_screws").rows:
        kind, major, core = row["kind"], Fraction(row["major_mm"]), Fraction(row["core_min_mm"])
        # The thinnest core the standard allows, so that no pilot hole exceeds the core of the screw at hand.
        roots = {_DEFAULT_BASES[kind][0]: core}
        if kind != "machine":
            roots[HANDBOOK] = major * 2 / 3
        heads = {}
        for name, standards in _HEAD_STANDARDS.items():
            for head in tables.load("metric_heads").rows:
                if head["standard"] == standards[kind] and head["size"] == row["size"]:
                    sharp = Fraction(head["sharp_mm"]) if head["sharp_mm"] else None
                    wide = Fraction(head["diameter_mm"])
                    heads[name] = Head(sharp, wide, Fraction(head["height_mm"]), head["standard"], wide)
        found.append(Screw(row["size"], kind, major, major, roots, heads))
    return found
