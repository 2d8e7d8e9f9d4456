"""The shelf: materials with the figures of their data sheets, read and checked like a recipe, and saved."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from shopmate import units
from shopmate.calculator import Measure
from shopmate.errors import EntryError, UsageError
from shopmate.phrases import phrase
from shopmate.recipe.compose import compose
from shopmate.recipe.model import Ask, Material, Recipe, ShelfAnswer, Template
from shopmate.recipe.reader import Node, Reader, read_file
from shopmate.records import fields, is_dataclass, replace

MEASURES: dict[str, Measure] = {
    "resin_density": Measure("g/mL", above=0, high=3, soft_low=1, soft_high=1.3),
    "hardener_density": Measure("g/mL", above=0, high=3, soft_low=0.9, soft_high=1.2),
    "pot_life": Measure("min", above=0, high=1440, soft_low=5, soft_high=240),
    "pot_mass": Measure("g", above=0, high=5000, soft_low=50, soft_high=500),
    "pot_temperature": Measure("°C", low=0, high=60, soft_low=18, soft_high=30),
    "pot_life_2": Measure("min", above=0, high=1440, soft_low=5, soft_high=240),
    "pot_temperature_2": Measure("°C", low=0, high=60, soft_low=12, soft_high=40),
    "thin_film": Measure("min", above=0, high=1440, soft_low=10, soft_high=480),
    "open_time": Measure("min", above=0, high=1440, soft_low=3, soft_high=240),
    "recoat_opens": Measure("h", above=0, high=720, soft_low=0.5, soft_high=24),
    "recoat_closes": Measure("h", above=0, high=720, soft_low=2, soft_high=96),
    "sand": Measure("h", above=0, high=720, soft_low=2, soft_high=96),
    "clamp": Measure("h", above=0, high=720, soft_low=0.5, soft_high=96),
    "cure": Measure("h", above=0, high=2000, soft_low=4, soft_high=340),
    "temperature_low": Measure("°C", low=-40, high=60, soft_low=0, soft_high=30),
    "temperature_high": Measure("°C", low=-40, high=100, soft_low=20, soft_high=50),
    "humidity_low": Measure("%", low=0, high=100, soft_high=60),
    "humidity_high": Measure("%", low=0, high=100, soft_low=40),
    "cartridge": Measure("mL", above=0, high=5000, soft_low=30, soft_high=1000),
    "bond_thickness": Measure("mm", above=0, high=50, soft_low=0.1, soft_high=5),
    "areal_weight": Measure("g/m²", above=0, high=5000, soft_low=25, soft_high=1500),
    "roll_width": Measure("mm", above=0, high=10_000, soft_low=25, soft_high=2600),
    "width": Measure("mm", above=0, high=3000, soft_low=6, soft_high=150),
    "thickness": Measure("mm", above=0, high=200, soft_low=0.25, soft_high=12),
    "density": Measure("kg/m³", above=0, high=1000, soft_low=24, soft_high=130),
    "density_a": Measure("g/mL", low=0.8, high=1.6, soft_low=0.95, soft_high=1.3),
    "density_b": Measure("g/mL", low=0.8, high=1.6, soft_low=0.95, soft_high=1.3),
    "packing": Measure("", low=1, high=3, soft_low=1.05, soft_high=1.2),
    "lift": Measure("mm", above=0, high=1000, soft_low=10, soft_high=100),
    "work_time": Measure("s", above=0, high=3600, soft_low=15, soft_high=300),
    "rise_time": Measure("min", above=0, high=240, soft_low=1, soft_high=30),
    "load_rule": Measure("cm²/kg", above=0, high=1000, soft_low=50, soft_high=200),
    "dwell": Measure("h", above=0, high=720, soft_low=0.25, soft_high=96),
}
"""What each figure measures and may be; outside of the usual it is asked about when typed in the program (usual: memory)."""

_OF_KIND = {
    "resin": (
        "ratio", "resin_density", "hardener_density", "pot_life", "pot_mass", "pot_temperature", "pot_life_2",
        "pot_temperature_2", "thin_film", "open_time", "recoat_opens", "recoat_closes", "sand", "clamp", "cure",
        "temperature_low", "temperature_high", "humidity_high",
    ),
    "adhesive": (
        "cartridge", "bond_thickness", "open_time", "clamp", "cure", "temperature_low", "temperature_high", "humidity_low",
        "humidity_high",
    ),
    "glue": ("open_time", "clamp", "cure", "temperature_low", "temperature_high"),
    "cloth": ("areal_weight", "roll_width"),
    "bar": ("width", "thickness", "material"),
    "foam": (
        "ratio", "density", "density_a", "density_b", "packing", "lift", "work_time", "rise_time", "temperature_low",
        "temperature_high",
    ),
    "tape": ("width", "thickness", "load_rule", "dwell", "temperature_low"),
}  # fmt: skip

FIGURES: dict[str, dict[str, str | None]] = {
    kind: {name: "ratio" if name == "ratio" else MEASURES[name].unit if name in MEASURES else None for name in names}
    for kind, names in _OF_KIND.items()
}
"""Figures of each kind of material with the unit they are measured in; 'ratio' is a mix ratio, None a word.

A second pot life is for the pot_mass of the first at pot_temperature_2. thin_film is the working time of a film at
pot_temperature. density is that of foam risen freely, packing the density in place over it.
"""

NEEDED = {
    "resin": ("ratio", "resin_density", "hardener_density", "pot_life"),
    "adhesive": ("cartridge", "open_time"),
    "glue": ("open_time", "clamp"),
    "cloth": ("areal_weight",),
    "bar": ("width", "thickness", "material"),
    "foam": ("ratio", "density"),
    "tape": ("width", "load_rule"),
}
"""Figures without which a material of that kind is of no use to a recipe."""

LEFT: dict[str, Measure] = {
    **dict.fromkeys(("resin", "foam"), Measure("kg", low=0, high=10_000, soft_high=250)),
    "adhesive": Measure("mL", low=0, high=1_000_000, soft_high=20_000),
    **dict.fromkeys(("cloth", "bar", "tape"), Measure("m", low=0, high=100_000, soft_high=500)),
}
"""How much may be left of each kind of material, in what recipes use it by; more than usual is asked about (our choice of
usual)."""

_LONGEST_TITLE = 40

_NAME = "[a-z][a-z0-9-]*"
"""What the name of a material is made of."""

_LIMITS = (("temperature_low", "temperature_high"), ("humidity_low", "humidity_high"), ("recoat_opens", "recoat_closes"))
"""Pairs of figures of which the first is the lower."""

_TYPICAL = "typical"
"""How the sheet of a typical material begins."""

_MIXED = f"{_TYPICAL} but for own figures by "
"""What stands before the name of the user's sheet while some figures are still typical."""

_OWN = "; own: "
"""What stands in the sheet of a typical material before the names of the figures that are the user's."""

_SHEET = "sheet"
"""Stands among what is borrowed for where the figures are from, as the figures do by their names."""

_FIRST_POINT, _SECOND_POINT = ("pot_life", "pot_mass", "pot_temperature"), ("pot_life_2", "pot_temperature_2")


def typical_shelf() -> Path:
    """Return the file of the typical materials that come with the program."""
    return Path(__file__).parent.parent / "typical_shelf.yaml"


def load_shelf(*paths: Path) -> dict[str, Material]:
    """Return the materials of the files by name, a later file replacing an earlier one's.

    Missing files are passed over; raises FileProblems with all problems of a file. Figures are held to their limits
    only where that takes no conversion of units, which costs the start more time than all else: `read_shelf` does the rest.
    """
    materials: dict[str, Material] = {}
    for path in paths:
        if path.exists():
            materials.update(read_shelf(read_file(path), str(path), compare=False))
    return materials


def read_shelf(text: str, file: str, *, compare: bool = True) -> dict[str, Material]:
    """Return the materials of a shelf text by name, none of a text without content; raises FileProblems with all problems.

    Without `compare`, what is given in another unit than its limits is not held to them.
    """
    if is_blank(text):
        return {}
    reader = Reader(file)
    root = reader.entries(compose(text, file), ("shelf", "materials"), (), "a shelf")
    materials: dict[str, Material] = {}
    for item in reader.items(root.get("materials"), "materials"):
        material = _material(reader, item, compare)
        if material.name in materials:
            reader.wrong(item, f"the material '{material.name}' is there twice", "remove or rename one")
        materials[material.name] = material
    reader.done()
    return materials


def of_kind(materials: Mapping[str, Material], kind: str) -> dict[str, Material]:
    """Return those of the materials that are of a kind, by name, in their order."""
    return {name: material for name, material in materials.items() if material.kind == kind}


def is_blank(text: str) -> bool:
    """Return whether a YAML text holds nothing but blank lines and comments."""
    return all(not line.strip() or line.lstrip().startswith("#") for line in text.splitlines())


def is_shelf(text: str, file: str) -> bool:
    """Return whether a YAML text is a shelf rather than a recipe."""
    node = compose(text, file)
    return node.entries is not None and "shelf" in node.entries


def misses(material: Material, recipes: Iterable[Recipe]) -> list[str]:
    """Return 'recipe: step (figures)' for every step that refers to figures this material's entry does not have."""
    notes = []
    for recipe in recipes:
        steps = recipe.steps
        names = {
            step.act.into
            for step in steps
            if isinstance(step.act, Ask) and isinstance(step.act.answer, ShelfAnswer) and step.act.answer.kind == material.kind
        }
        parts: list[tuple[str, object]] = [(step.headline, step) for step in steps]
        parts += [(section.name, section.repeat) for section in recipe.sections if section.repeat is not None]
        for title, part in parts:
            asked = (reference.partition(".") for reference in references(part))
            # Without a second pot life the first alone is gone by: nothing is missing.
            missing = {figure for into, _, figure in asked if into in names and figure} - {*material.figures, *_SECOND_POINT}
            if missing:
                known = [name for name in FIGURES[material.kind] if name in missing]
                notes.append(f"{recipe.name}: {title} ({', '.join(known)})")
    return notes


def references(part: object) -> Iterator[str]:
    """Yield every value that a part of a recipe refers to, a figure of a material as 'answer.figure'."""
    for template in _templates(part):
        yield from template.references


def _templates(part: object) -> Iterator[Template]:
    """Yield every template within a part of a recipe."""
    if isinstance(part, Template):
        yield part
    elif isinstance(part, Mapping):
        for value in part.values():
            yield from _templates(value)
    elif isinstance(part, tuple):
        for value in part:
            yield from _templates(value)
    elif is_dataclass(part):
        for item in fields(part):
            yield from _templates(getattr(part, item.name))


def with_figure(material: Material, figure: str, text: str | None) -> Material:
    """Return the material with a figure put in, or taken out for None; from then on the figure is the user's.

    A second pot life that is typical or borrowed belongs to the first one that came with it and goes when that is changed:
    two points of different resins would give a wrong activation energy.
    """
    figures = {**material.figures, figure: text}
    source, own = _marks(material)
    moved = figure in _FIRST_POINT and text != material.figures.get(figure)
    if moved and set(_SECOND_POINT) & material.figures.keys() <= set(unconfirmed(material)):
        figures |= dict.fromkeys(_SECOND_POINT)
    kept = {name: value for name in FIGURES[material.kind] if (value := figures.get(name)) is not None}
    borrowed = {name: other for name, other in material.borrowed.items() if name != figure and name in {*kept, _SHEET}}
    return _marked(replace(material, figures=kept, borrowed=borrowed), source, own | {figure})


def confirmed(material: Material, name: str) -> Material:
    """Return the material with a figure, or its sheet, as it stands: from then on it is the user's."""
    if name == _SHEET:
        return _sheet_kept(material)
    return with_figure(material, name, material.figures[name])


def unconfirmed(material: Material) -> list[str]:
    """Return the figures that the user has neither changed nor confirmed: those that are borrowed or typical."""
    source, own = _marks(material)
    typical = source.startswith(_TYPICAL)
    return [name for name in material.figures if name in material.borrowed or (typical and name not in own)]


def figure_words(name: str) -> str:
    """Return the name of a figure as it is read."""
    return name.replace("_2", ", second").replace("_", " ")


def lender(material: Material, name: str, materials: Mapping[str, Material]) -> str:
    """Return the mark of a figure, or of the sheet, that is still another material's, by its title; '' where it is not."""
    other = material.borrowed.get(name)
    if other is None:
        return ""
    return phrase("borrowed from {material}", materials[other].title if other in materials else other)


def lenders(material: Material, names: Iterable[str], materials: Mapping[str, Material]) -> dict[str, list[str]]:
    """Return those of the figures that are still another material's, as they are read, by their mark."""
    found: dict[str, list[str]] = {}
    for name in names:
        if mark := lender(material, name, materials):
            found.setdefault(mark, []).append(figure_words(name))
    return found


def still_borrowed(material: Material, names: Iterable[str], materials: Mapping[str, Material]) -> list[str]:
    """Return for each material that lent some of the figures to this one which they are, as a sentence."""
    return [
        phrase("{material}: {figures} {borrowed}; check your data sheet.", material.title, ", ".join(figures), mark)
        for mark, figures in lenders(material, names, materials).items()
    ]


def own_title(like: Material, materials: Mapping[str, Material]) -> str:
    """Return a title for a new material of a kind: the first number not taken."""
    number = 1
    while f"own-{like.kind}-{number}" in materials:
        number += 1
    return phrase("Own {kind} {number}", like.kind, number)


def copied(like: Material, title: str, materials: Mapping[str, Material]) -> Material:
    """Return a new material with the figures of another under a title of its own; UsageError where its name is taken.

    All of them are borrowed from the other one, or from the one that it has them from, and so is a sheet that it names.
    """
    title = " ".join(title.split())
    name = re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")
    name = name if name[:1].isalpha() else f"{like.kind}-{name}".strip("-")
    if name in materials:
        raise UsageError(phrase("There is already a material {name}: choose it, or enter another name", name))
    names = [*like.figures] if _is_typical(like) else [*like.figures, _SHEET]
    borrowed = {each: like.borrowed.get(each, like.name) for each in names}
    return Material(name, like.kind, title, like.sheet, like.figures, borrowed)


def _is_typical(material: Material) -> bool:
    """Return whether the sheet is that of a typical material: it names no product's."""
    return material.sheet.startswith(_TYPICAL) and not material.sheet.startswith(_MIXED)


def changes(was: Material | None, now: Material) -> list[tuple[str, str | None, str | None]]:
    """Return what an entry says that it did not before, None for nothing: a figure or the like, what it was and what it is.

    The mark of which figures of a typical sheet are the user's is left out: the figures themselves say it.
    """
    before, after = _said(was), _said(now)
    return [(name, before.get(name), after.get(name)) for name in before | after if before.get(name) != after.get(name)]


def _said(material: Material | None) -> dict[str, str]:
    """Return title, sheet and figures of a material by name, nothing for none."""
    if material is None:
        return {}
    left = {"left": material.left} if material.left else {}
    return {"title": material.title, "sheet": _marks(material)[0], **left, **material.figures}


def with_sheet(material: Material, text: str) -> Material:
    """Return the material with another sheet named; it stays typical in the figures that are not yet the user's."""
    source, own = _marks(material)
    return _marked(_sheet_kept(material), f"{_MIXED}{text}" if source.startswith(_TYPICAL) else text, own)


def _sheet_kept(material: Material) -> Material:
    """Return the material with its sheet no longer borrowed."""
    return replace(material, borrowed={name: other for name, other in material.borrowed.items() if name != _SHEET})


def sheet_in_short(material: Material, materials: Mapping[str, Material]) -> str:
    """Return where the figures of a material are from: its sheet, or that they are typical or borrowed, or how many are."""
    if marks := lenders(material, material.figures, materials):
        count = len(material.figures)
        return "; ".join(phrase("{count} of {all} figures {borrowed}", len(each), count, mark) for mark, each in marks.items())
    source, own, figures = material.sheet.partition(_OWN)
    return f"{_TYPICAL}{own}{figures}" if source.startswith(_TYPICAL) else source


def _marks(material: Material) -> tuple[str, set[str]]:
    """Return what the sheet is and, of a typical material, the figures that are the user's."""
    source, _, own = material.sheet.partition(_OWN)
    return source, set(own.split(", ")) if own else set()


def _marked(material: Material, source: str, own: set[str]) -> Material:
    """Return the material with its sheet saying which figures are the user's, as long as others are typical."""
    names = [name for name in material.figures if name in own]
    if not source.startswith(_TYPICAL) or (source.startswith(_MIXED) and len(names) == len(material.figures)):
        return replace(material, sheet=source.removeprefix(_MIXED))
    return replace(material, sheet=f"{source}{_OWN}{', '.join(names)}" if names else source)


def _material(reader: Reader, node: Node, compare: bool) -> Material:
    entries = reader.entries(node, ("material", "kind", "title", "sheet", "figures"), ("left", "borrowed"), "a material")
    kind = reader.one_of(entries.get("kind"), "kind", tuple(FIGURES)) or ""
    known = FIGURES.get(kind, {})
    figures: dict[str, str] = {}
    if "figures" in entries and known:
        needed = NEEDED[kind]
        values = reader.entries(
            entries["figures"], needed, [name for name in known if name not in needed], f"figures of a {kind}"
        )
        figures = {name: _figure(reader, value, name, known[name], compare) for name, value in values.items()}
        _compare(reader, values, figures, compare)
    return Material(
        name=reader.name(entries.get("material"), "material", _NAME),
        kind=kind,
        title=reader.text(entries.get("title"), "title", _LONGEST_TITLE),
        sheet=reader.text(entries.get("sheet"), "sheet"),
        figures=figures,
        borrowed=_borrowed(reader, entries["borrowed"], figures) if "borrowed" in entries else {},
        left=_left(reader, entries["left"], kind, compare) if "left" in entries else "",
    )


def _left(reader: Reader, node: Node, kind: str, compare: bool) -> str:
    """Return how much is left, noting what is no such amount."""
    text = reader.text(node, "left")
    try:
        if kind in LEFT and text:
            _measured(reader, node, "left", LEFT[kind], compare)
    except EntryError as problem:
        reader.entry(node, problem)
    return text


def _borrowed(reader: Reader, node: Node, figures: Mapping[str, str]) -> dict[str, str]:
    """Return of which material each borrowed figure is; a line of one that is none of the figures is to go."""
    values = reader.entries(node, (), (*figures, _SHEET), "'borrowed'")
    return {name: reader.name(value, name, _NAME) for name, value in values.items()}


def _figure(reader: Reader, node: Node, name: str, unit: str | None, compare: bool) -> str:
    text = reader.text(node, name)
    try:
        if unit == "ratio":
            units.parse_ratio(text)
        elif unit is not None and text:
            _measured(reader, node, name, MEASURES[name], compare)
    except EntryError as problem:
        reader.entry(node, problem)
    return text


def _measured(reader: Reader, node: Node, name: str, measure: Measure, compare: bool) -> None:
    """Hold a text to what it measures, noting one without a unit; EntryError for what is outside of its limits."""
    text, unit = node.text or "", measure.unit
    quantity = units.parse(text, unit)
    if compare or quantity.unit == unit:
        measure.read(text)
    if unit and not units.has_unit(text):
        reader.wrong(node, f"{name} {text} has no unit", f"write {text} {unit}, or the unit on the data sheet")


def _compare(reader: Reader, nodes: Mapping[str, Node], figures: Mapping[str, str], compare: bool) -> None:
    """Note limits that are the wrong way round."""
    for low, high in _LIMITS:
        if figures.get(low) and figures.get(high):
            unit = MEASURES[low].unit
            try:
                least, most = (units.parse(figures[name], unit) for name in (low, high))
            except EntryError:
                continue  # noted where it stands
            if (compare or least.unit == most.unit) and least.value_in(most.unit) > float(most.value):
                reader.wrong(nodes[high], f"{high} {figures[high]} is below {low} {figures[low]}", "change one of the two")
