"""The shelf in lines: choose a material and a figure, type what its data sheet says, and it is saved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from shopmate import units
from shopmate.dialogue.asking import Item
from shopmate.errors import Doubt, EntryError, ShopmateError
from shopmate.phrases import phrase
from shopmate.plain.lines import BACK
from shopmate.recipe import FIGURES, MEASURES, NEEDED, Material, copied, misses, own_title, with_figure, with_sheet
from shopmate.session import recipe_files, shelf
from shopmate.tables.solids import solids
from shopmate.units import parse_ratio

if TYPE_CHECKING:
    from shopmate.plain.bench import Plain


def keep_shelf(plain: Plain) -> None:
    """Let materials be chosen and their figures edited until it is left; every change is saved at once."""
    while True:
        materials = shelf()
        items = [Item(name, material.title, material.sheet) for name, material in materials.items()]
        items.append(Item(".new", phrase("New"), phrase("a copy of one, under a name of your own")))
        name = plain.lines.choose(phrase("Shelf: which material?"), items)
        if name is None:
            plain.say_again()
            return
        if name == ".new":
            name = _new(plain, materials)
        if name is not None:
            _edit(plain, name)


def _new(plain: Plain, materials: Mapping[str, Material]) -> str | None:
    """Copy a material under a name of the user's; return its name, None where that is left or cannot be."""
    items = [Item(name, material.title, material.kind) for name, material in materials.items()]
    name = plain.lines.choose(phrase("New material: a copy of which?"), items)
    if name is None:
        return None
    like = materials[name]
    title = plain.lines.name(phrase("Name of the new material"), own_title(like, materials))
    if title is None:
        return None
    try:
        new = copied(like, title, materials)
    except ShopmateError as error:
        plain.lines.say(f"{error}.")
        return None
    if not _save(plain, new):
        return None
    plain.lines.say(phrase("Its figures are those of {material} until you change them.", like.title))
    return new.name


def _edit(plain: Plain, name: str) -> None:
    """Let the figures of one material be chosen and typed until it is left."""
    said: list[str] = []
    while (material := shelf().get(name)) is not None:  # it may be taken out of the file meanwhile
        recipes = [file.recipe for file in recipe_files() if file.recipe is not None]
        missing = misses(material, recipes)
        for note in missing:
            if note not in said:
                plain.lines.say(phrase("No figure for {step}.", note))
        said = missing
        figures = FIGURES[material.kind]
        items = [Item(figure, _words(figure), material.figures.get(figure, phrase("no figure"))) for figure in figures]
        items += [Item(".title", phrase("Title"), material.title), Item(".sheet", phrase("Sheet and its date"), material.sheet)]
        figure = plain.lines.choose(material.title, items)
        if figure is None:
            return
        changed = _changed(plain, material, figure)
        if changed is not None and _save(plain, changed):
            for gone in material.figures:
                if gone not in changed.figures:
                    plain.lines.say(phrase("Without a figure now: {figure}.", _words(gone)))


def _changed(plain: Plain, material: Material, figure: str) -> Material | None:
    """Return the material with what is typed for a figure, the title or the sheet; None when it stays as it is."""
    if figure in (".title", ".sheet"):
        of_title = figure == ".title"
        before = material.title if of_title else material.sheet
        text = plain.lines.name(phrase("Title of {material}" if of_title else "Sheet of {material}", material.title), before)
        if text is None or text == before:
            return None
        return replace(material, title=text) if of_title else with_sheet(material, text)
    before = material.figures.get(figure, "")
    heading = phrase("{material}: {figure}, now {value}", material.title, _words(figure), before or phrase("no figure"))
    if figure in material.figures and figure not in NEEDED[material.kind]:
        choices = [
            Item("type", phrase("Type what the sheet says")),
            Item("out", phrase("Take it out"), phrase("your sheet does not give it")),
        ]
        how = plain.lines.choose(heading, choices)
        if how != "type":
            return with_figure(material, figure, None) if how == "out" else None
    text = _figure(plain, heading, figure, before)
    return with_figure(material, figure, text) if text is not None else None


def _figure(plain: Plain, heading: str, figure: str, before: str) -> str | None:
    """Return what is typed for a figure, `before` the text of the one so far, '' without one; None when it is left."""
    if figure == "ratio":
        return _ratio(plain, heading)
    if figure not in MEASURES:
        return plain.lines.choose(heading, [Item(solid.name, solid.name) for solid in solids()])
    measure = MEASURES[figure]
    own = units.own_unit(measure.unit, plain.session.project.system)
    so_far = units.parse(before, measure.unit) if before else None
    if so_far is not None and units.has_unit(before):
        own = so_far.unit
    return plain.lines.value(heading, measure, own, so_far)


def _ratio(plain: Plain, heading: str) -> str | None:
    """Return the mix ratio that is typed; None when it is left."""
    while True:
        text = plain.lines.ask(
            lambda: phrase("{figure}. Type it, such as {ratio} or 100-45, [/] back", heading, units.RATIO_EXAMPLES[0])
        )
        if text == BACK:
            return None
        try:
            whole = plain.lines.ratio(text)
            if whole is not None:
                return str(parse_ratio(whole))
        except EntryError as error:
            plain.lines.say(phrase("Not taken: {problem}", error))


def _save(plain: Plain, material: Material) -> bool:
    """Save a material, after asking where that loses comments; return whether it is saved."""
    session, lines = plain.session, plain.lines
    try:
        try:
            session.save_material(material, plain.now())
        except Doubt as doubt:
            items = [Item("save", phrase("Save, the comments go into the copy")), Item("leave", phrase("Leave all as it is"))]
            if lines.choose(str(doubt), items) != "save":
                lines.say(phrase("Not saved."))
                return False
            session.save_material(material, plain.now(), sure=True)
    except ShopmateError as error:
        lines.say(phrase("Not saved: {error}", error))
        return False
    lines.say(phrase("Saved: {material}. A run under way keeps the figures it began with.", material.title))
    return True


def _words(figure: str) -> str:
    return figure.replace("_2", ", second").replace("_", " ")
