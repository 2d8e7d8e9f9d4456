"""The shelf: materials with the figures of their data sheets, read and checked like a recipe."""

from __future__ import annotations

from pathlib import Path

from shopmate import units
from shopmate.errors import EntryError
from shopmate.recipe.model import Material
from shopmate.recipe.reader import Node, Reader, compose, read_file

FIGURES: dict[str, dict[str, str | None]] = {
    "resin": {
        "ratio": "ratio",
        "resin_density": "g/mL",
        "hardener_density": "g/mL",
        "pot_life": "min",
        "pot_mass": "g",
        "pot_temperature": "°C",
        "open_time": "min",
        "recoat_opens": "h",
        "recoat_closes": "h",
        "sand": "h",
        "clamp": "h",
        "cure": "h",
        "temperature_low": "°C",
        "temperature_high": "°C",
        "humidity_high": "%",
    },
    "adhesive": {
        "cartridge": "mL",
        "bond_thickness": "mm",
        "open_time": "min",
        "clamp": "h",
        "cure": "h",
        "temperature_low": "°C",
        "temperature_high": "°C",
    },
    "cloth": {"areal_weight": "g/m²", "roll_width": "mm"},
    "bar": {"width": "mm", "thickness": "mm", "material": None},
}
"""Figures of each kind of material with the unit they are measured in; 'ratio' is a mix ratio, None a word."""

_NEEDED = {
    "resin": ("ratio", "resin_density", "hardener_density", "pot_life"),
    "adhesive": ("cartridge", "open_time"),
    "cloth": ("areal_weight",),
    "bar": ("width", "thickness", "material"),
}
"""Figures without which a material of that kind is of no use to a recipe."""


def typical_shelf() -> Path:
    """Return the file of the typical materials that come with the program."""
    return Path(__file__).parent.parent / "typical_shelf.yaml"


def load_shelf(*paths: Path) -> dict[str, Material]:
    """Return the materials of the files by name, a later file replacing an earlier one's.

    Missing files are passed over; raises FileProblems with all problems of a file.
    """
    materials: dict[str, Material] = {}
    for path in paths:
        if path.exists():
            materials.update(read_shelf(read_file(path), str(path)))
    return materials


def read_shelf(text: str, file: str) -> dict[str, Material]:
    """Return the materials of a shelf text by name; raises FileProblems with all problems."""
    reader = Reader(file)
    root = reader.entries(compose(text, file), ("shelf", "materials"), (), "a shelf")
    materials: dict[str, Material] = {}
    for item in reader.items(root.get("materials"), "materials"):
        material = _material(reader, item)
        if material.name in materials:
            reader.wrong(item, f"the material '{material.name}' stands twice", "remove or rename one")
        materials[material.name] = material
    reader.done()
    return materials


def _material(reader: Reader, node: Node) -> Material:
    entries = reader.entries(node, ("material", "kind", "title", "sheet", "figures"), (), "a material")
    kind = reader.one_of(entries.get("kind"), "kind", tuple(FIGURES))
    known = FIGURES.get(kind, {})
    figures: dict[str, str] = {}
    if "figures" in entries and known:
        needed = _NEEDED[kind]
        values = reader.entries(
            entries["figures"], needed, [name for name in known if name not in needed], f"figures of a {kind}"
        )
        figures = {name: _figure(reader, value, name, known[name]) for name, value in values.items()}
    return Material(
        name=reader.name(entries.get("material"), "material", "[a-z][a-z0-9-]*"),
        kind=kind,
        title=reader.text(entries.get("title"), "title", 40),
        sheet=reader.text(entries.get("sheet"), "sheet"),
        figures=figures,
    )


def _figure(reader: Reader, node: Node, name: str, unit: str | None) -> str:
    text = reader.text(node, name)
    try:
        if unit == "ratio":
            units.parse_ratio(text)
        elif unit is not None and text:
            units.parse(text, unit)
            if not units.has_unit(text):
                reader.wrong(node, f"{name} {text} has no unit", f"write {text} {unit}, or the unit of the sheet")
    except EntryError as problem:
        reader.entry(node, problem)
    return text


def is_shelf(text: str, file: str) -> bool:
    """Return whether a YAML text is a shelf rather than a recipe."""
    node = compose(text, file)
    return node.entries is not None and "shelf" in node.entries
