"""The shelf: a material and a figure are chosen, what its data sheet says is typed, and it is saved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from shopmate import units
from shopmate.calculator import RatioKind
from shopmate.dialogue.asking import UNUSED, Dialogue, Item, choose, enter, name, say
from shopmate.dialogue.desk import Desk
from shopmate.errors import Doubt, ShopmateError
from shopmate.phrases import phrase
from shopmate.recipe import (
    FIGURES,
    MEASURES,
    NEEDED,
    Material,
    copied,
    misses,
    own_title,
    sheet_in_short,
    with_figure,
    with_sheet,
)
from shopmate.records import replace
from shopmate.session import recipe_files, shelf
from shopmate.tables.solids import solids
from shopmate.units import RATIO_BASES

_NEW, _TITLE, _SHEET, _OUT = ".new", ".title", ".sheet", ".out"
"""What is chosen beside materials and figures, none of whose names begins so."""

_MOST_MISSES = 2
"""Steps that miss a figure that a screen shows; lines tell all of them, and so does `shopmate check`."""


def keep(desk: Desk) -> Dialogue[None]:
    """Let materials be chosen and their figures edited until it is left; every change is saved before the next question."""
    said = ""
    while True:
        materials = shelf()
        items = [Item(_NEW, phrase("New"), phrase("copy one you have and rename it"))]
        items += [Item(key, material.title, sheet_in_short(material)) for key, material in materials.items()]
        chosen = yield from choose(phrase("Shelf: which material?"), items, beside=said)
        if chosen is None:
            return
        material: str | None = chosen
        said = ""
        if chosen == _NEW:
            material, said = yield from _new(desk, materials)
        if material is not None:
            yield from _edit(desk, material, said)
            said = ""


def _new(desk: Desk, materials: Mapping[str, Material]) -> Dialogue[tuple[str | None, str]]:
    """Copy a material under a name of the user's; return its name, None where there is none, and what was said."""
    items = [Item(key, material.title, material.kind) for key, material in materials.items()]
    chosen = yield from choose(phrase("New material: which one to copy?"), items)
    if chosen is None:
        return None, ""
    like = materials[chosen]
    title = yield from name(phrase("Name of the new material"), own_title(like, materials), f"new:{chosen}")
    if title is None:
        return None, ""
    try:
        new = copied(like, title, materials)
    except ShopmateError as error:
        return None, (yield from _said(str(error)))
    done = phrase("Saved: {material}. It has {other}'s figures until you change them", new.title, like.title)
    said = yield from _save(desk, new, done)
    return (new.name if new.name in desk.session.shelf else None), said


def _edit(desk: Desk, key: str, said: str) -> Dialogue[None]:
    """Let the figures of one material be chosen and typed until it is left."""
    told: list[str] = []
    while (material := shelf().get(key)) is not None:  # it may be taken out of the file meanwhile
        found: list[str] = []
        filling = [partial(_missing, material, found, tuple(told), desk.face.draws)]
        figure = yield from choose(material.title, _figures(material), beside=said, filling=filling)
        told = found
        if figure is None:
            return
        said = yield from (_take_out(desk, material) if figure == _OUT else _change(desk, material, figure))


def _spare(material: Material) -> list[str]:
    """Return the figures of a material that it can do without."""
    return [each for each in FIGURES[material.kind] if each in material.figures and each not in NEEDED[material.kind]]


def _figures(material: Material) -> list[Item]:
    """Return what can be changed of a material: title, sheet and that a figure goes, under one number each, and its figures."""
    out = Item(_OUT, phrase("Remove a figure"), phrase("not on your data sheet")) if _spare(material) else UNUSED
    items = [Item(_TITLE, phrase("Title"), material.title), Item(_SHEET, phrase("Data sheet and its date"), material.sheet), out]
    return items + [Item(each, _words(each), material.figures.get(each, phrase("no figure"))) for each in FIGURES[material.kind]]


def _missing(material: Material, found: list[str], told: Sequence[str], draws: bool) -> str:
    """Read the recipes and return which of their steps miss figures of a material, all of them put in `found`.

    A screen has room for the first ones; in lines those that were `told` before are left out.
    """
    found += dict.fromkeys(misses(material, [file.recipe for file in recipe_files() if file.recipe is not None]))
    shown = found[:_MOST_MISSES] if draws else [note for note in found if note not in told]
    words = [phrase("No figure for {step}.", note) for note in shown]
    if draws and len(found) > _MOST_MISSES:
        words.append(phrase("And {count} more: see 'shopmate check'.", len(found) - _MOST_MISSES))
    return " ".join(words)


def _take_out(desk: Desk, material: Material) -> Dialogue[str]:
    """Ask which figure goes and save the material without it; return what was said."""
    items = [Item(each, _words(each), material.figures[each]) for each in _spare(material)]
    out = yield from choose(phrase("Remove which figure?"), items)
    if out is None:
        return ""
    return (yield from _save(desk, with_figure(material, out, None), phrase("Saved: {figure} is now blank", _words(out))))


def _change(desk: Desk, material: Material, figure: str) -> Dialogue[str]:
    """Ask for a figure, the title or the sheet and save the material with it; return what was said."""
    if figure in (_TITLE, _SHEET):
        text = yield from _text(material, figure)
    else:
        text = yield from _value(desk, material, figure)
    if text is None:
        return ""
    changed = _changed(material, figure, text)
    done = phrase("Saved: {figure} {value}", _words(figure.strip(".")), text)
    if gone := [_words(each) for each in material.figures if each not in changed.figures]:
        done = phrase("{done}; typical {figures} removed: type your data sheet's", done, " + ".join(gone))
    return (yield from _save(desk, changed, done))


def _text(material: Material, figure: str) -> Dialogue[str | None]:
    """Return what is typed for the title or the sheet, None when it is left as it is."""
    before = material.title if figure == _TITLE else material.sheet
    title = phrase("Title of {material}" if figure == _TITLE else "Data sheet for {material}", material.title)
    text = yield from name(title, before, _place(material, figure))
    return " ".join(text.split()) if text is not None and text != before else None


def _value(desk: Desk, material: Material, figure: str) -> Dialogue[str | None]:
    """Return what is given for a figure, None when it is left as it is."""
    before = material.figures.get(figure, "")
    heading = phrase("{material}: {figure}, now {value}", material.title, _words(figure), before or phrase("no figure"))
    if figure == "ratio":
        basis = next((basis for basis in RATIO_BASES if before.endswith(basis)), RATIO_BASES[0])
        return (yield from enter(heading, RatioKind(), basis, _place(material, figure)))
    if figure not in MEASURES:
        return (yield from choose(heading, [Item(solid.name, solid.name) for solid in solids()]))
    measure = MEASURES[figure]
    so_far = units.parse(before, measure.unit) if before else None
    named = so_far is not None and units.has_unit(before)
    unit = so_far.unit if so_far is not None and named else units.own_unit(measure.unit, desk.session.project.system)
    return (yield from enter(heading, measure, unit, _place(material, figure), so_far))


def _place(material: Material, figure: str) -> str:
    """Return the place at which what is half typed for a figure is kept."""
    return f"shelf:{material.name} {figure}"


def _changed(material: Material, figure: str, text: str) -> Material:
    if figure == _TITLE:
        return replace(material, title=text)
    return with_sheet(material, text) if figure == _SHEET else with_figure(material, figure, text)


def _save(desk: Desk, material: Material, done: str) -> Dialogue[str]:
    """Save a material, after asking where that loses comments; return what was said of it."""
    try:
        try:
            desk.session.save_material(material, desk.now())
        except Doubt as doubt:
            items = [Item("save", phrase("Save; comments stay in the backup copy only")), Item("leave", phrase("Change nothing"))]
            if (yield from choose(str(doubt), items)) != "save":
                return (yield from _said(phrase("Not saved")))
            desk.session.save_material(material, desk.now(), sure=True)
    except ShopmateError as error:
        return (yield from _said(phrase("Not saved: {error}", error)))
    return (yield from _said(phrase("{done}. A run under way keeps the figures it started with.", done)))


def _said(words: str) -> Dialogue[str]:
    """Say words that a screen shows beside the next question, and return them."""
    yield from say(words, drawn=True)
    return words


def _words(figure: str) -> str:
    return figure.replace("_2", ", second").replace("_", " ")
