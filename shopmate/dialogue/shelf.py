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
    LEFT,
    MEASURES,
    NEEDED,
    Material,
    confirmed,
    copied,
    figure_words,
    lender,
    misses,
    own_title,
    sheet_in_short,
    unconfirmed,
    with_figure,
    with_sheet,
)
from shopmate.records import replace
from shopmate.session import recipe_files, shelf
from shopmate.tables.solids import solids
from shopmate.units import RATIO_BASES

_NEW, _TITLE, _SHEET, _OUT, _THROUGH, _LEFT = ".new", ".title", ".sheet", ".out", ".through", ".left"
"""What is chosen beside materials and figures, none of whose names begins so."""

_MOST_MISSES = 2
"""Steps that miss a figure that a screen shows; lines tell all of them, and so does `shopmate check`."""


def keep(desk: Desk) -> Dialogue[None]:
    """Let materials be chosen and their figures edited until it is left; every change is saved before the next question."""
    said = ""
    while True:
        materials = shelf()
        items = [Item(_NEW, phrase("New"), phrase("copy one you have and rename it"))]
        items += [Item(key, material.title, sheet_in_short(material, materials)) for key, material in materials.items()]
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
    done = phrase("Saved: {material}. Its figures are borrowed from {other} until you check them", new.title, like.title)
    said = yield from _save(desk, new, done)
    return (new.name if new.name in desk.session.shelf else None), said


def _edit(desk: Desk, key: str, said: str) -> Dialogue[None]:
    """Let the figures of one material be chosen and typed until it is left."""
    told: list[str] = []
    while (material := (materials := shelf()).get(key)) is not None:  # it may be taken out of the file meanwhile
        found: list[str] = []
        filling = [partial(_missing, material, found, tuple(told), desk.face.draws)]
        figure = yield from choose(material.title, _figures(material, materials), beside=said, filling=filling)
        told = found
        if figure is None:
            return
        if figure == _THROUGH:
            said = yield from _go_through(desk, material)
        elif figure == _OUT:
            said = yield from _take_out(desk, material)
        else:
            said = yield from _change(desk, material, figure)


def _spare(material: Material) -> list[str]:
    """Return the figures of a material that it can do without, and how much is left of it."""
    figures = [each for each in FIGURES[material.kind] if each in material.figures and each not in NEEDED[material.kind]]
    return [*figures, _LEFT] if material.left else figures


def _figures(material: Material, materials: Mapping[str, Material]) -> list[Item]:
    """Return what can be changed of a material, its figures after what has one number for each material."""
    out = Item(_OUT, phrase("Remove a figure"), phrase("one not on your data sheet")) if _spare(material) else UNUSED
    left, count = len(unconfirmed(material)), len(material.figures)
    through = Item(_THROUGH, phrase("Check against your data sheet"), phrase("{left} of {count} to check", left, count))
    items = [
        Item(_TITLE, phrase("Title"), material.title),
        Item(_SHEET, phrase("Data sheet and its date"), _marked(material, _SHEET, materials)),
        out,
        through if left else UNUSED,
    ]
    items += [Item(each, figure_words(each), _marked(material, each, materials)) for each in FIGURES[material.kind]]
    return [*items, Item(_LEFT, phrase("How much is left"), material.left or phrase("not entered"))]


def _marked(material: Material, figure: str, materials: Mapping[str, Material]) -> str:
    """Return a figure or the sheet as it stands, with whose it still is."""
    so_far = _so_far(material, figure) or phrase("no figure")
    return ", ".join(filter(None, (so_far, lender(material, figure.strip("."), materials))))


def _so_far(material: Material, figure: str) -> str:
    """Return the text of a figure, the title or the sheet, '' where there is none."""
    if figure in (_TITLE, _SHEET):
        return material.title if figure == _TITLE else material.sheet
    if figure == _LEFT:
        return material.left
    return material.figures.get(figure, "")


def _missing(material: Material, found: list[str], told: Sequence[str], draws: bool) -> str:
    """Read the recipes and return which of their steps miss figures of a material, all of them put in `found`.

    A screen has room for the first ones; in lines those that were `told` before are left out.
    """
    found += dict.fromkeys(misses(material, [file.recipe for file in recipe_files() if file.recipe is not None]))
    shown = found[:_MOST_MISSES] if draws else [note for note in found if note not in told]
    words = [phrase("No figure yet for {step}.", note) for note in shown]
    if draws and len(found) > _MOST_MISSES:
        words.append(phrase("And {count} more: see 'shopmate check'.", len(found) - _MOST_MISSES))
    return " ".join(words)


def _take_out(desk: Desk, material: Material) -> Dialogue[str]:
    """Ask which figure goes and save the material without it; return what was said."""
    items = [Item(each, figure_words(each.strip(".")), _so_far(material, each)) for each in _spare(material)]
    out = yield from choose(phrase("Remove which figure?"), items)
    if out is None:
        return ""
    without = replace(material, left="") if out == _LEFT else with_figure(material, out, None)
    return (yield from _save(desk, without, phrase("Saved: {figure} is now blank", figure_words(out.strip(".")))))


def _go_through(desk: Desk, material: Material) -> Dialogue[str]:
    """Ask for each figure that is still borrowed or typical, Enter confirms it, until one is left; return what was said.

    It ends too where a figure could not be saved, or took others with it: that is to be read.
    """
    said, sheet = "", [_SHEET] if _SHEET.strip(".") in material.borrowed else []
    for figure in [*unconfirmed(material), *sheet]:
        said = yield from _change(desk, material, figure)
        before, now = material, shelf().get(material.name)
        if now is None or now == before or len(now.figures) < len(before.figures):
            break
        material = now
    return said


def _change(desk: Desk, material: Material, figure: str) -> Dialogue[str]:
    """Ask for a figure, the title or the sheet and save the material with it; return what was said, '' where it is left."""
    if figure in (_TITLE, _SHEET):
        text = yield from _text(material, figure)
    else:
        text = yield from _value(desk, material, figure)
    if text is None:
        return ""
    changed = _changed(material, figure, text)
    done = phrase("Saved: {figure} {value}", figure_words(figure.strip(".")), text)
    if gone := [figure_words(each) for each in material.figures if each not in changed.figures]:
        done = phrase("{done}; also removed: {figures}. Type your data sheet's figures", done, " + ".join(gone))
    return (yield from _save(desk, changed, done))


def _text(material: Material, figure: str) -> Dialogue[str | None]:
    """Return what is typed for the title or the sheet, None when it is left as it is."""
    before = _so_far(material, figure)
    title = phrase("Title of {material}" if figure == _TITLE else "Data sheet for {material}", material.title)
    text = yield from name(title, before, _place(material, figure))
    text = None if text is None else " ".join(text.split())
    return text if text != before or figure.strip(".") in material.borrowed else None


def _value(desk: Desk, material: Material, figure: str) -> Dialogue[str | None]:
    """Return what is given for a figure, None when it is left as it is."""
    before = _so_far(material, figure)
    heading = phrase(
        "{material}: {figure}, now {value}", material.title, figure_words(figure.strip(".")), _marked(material, figure, shelf())
    )
    keeps = before if figure in unconfirmed(material) else ""
    if figure == "ratio":
        basis = next((basis for basis in RATIO_BASES if before.endswith(basis)), RATIO_BASES[0])
        return (yield from enter(heading, RatioKind(), basis, _place(material, figure), keeps=keeps))
    if figure not in MEASURES and figure != _LEFT:
        return (yield from choose(heading, [Item(solid.name, solid.name) for solid in solids()]))
    measure = LEFT[material.kind] if figure == _LEFT else MEASURES[figure]
    so_far = units.parse(before, measure.unit) if before else None
    named = so_far is not None and units.has_unit(before)
    unit = so_far.unit if so_far is not None and named else units.own_unit(measure.unit, desk.session.project.system)
    return (yield from enter(heading, measure, unit, _place(material, figure), so_far, keeps))


def _place(material: Material, figure: str) -> str:
    """Return the place at which what is half typed for a figure is kept."""
    return f"shelf:{material.name} {figure}"


def _changed(material: Material, figure: str, text: str) -> Material:
    if figure == _TITLE:
        return replace(material, title=text)
    if figure == _LEFT:
        return replace(material, left=text)
    if text == _so_far(material, figure):
        return confirmed(material, figure.strip("."))
    return with_sheet(material, text) if figure == _SHEET else with_figure(material, figure, text)


def _save(desk: Desk, material: Material, done: str) -> Dialogue[str]:
    """Save a material, after asking where that loses comments; return what was said of it."""
    before = shelf().get(material.name)
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
    if before is not None and before.left != material.left:  # none of a run's figures
        return (yield from _said(done))
    return (yield from _said(phrase("{done}. A run under way keeps the figures it started with.", done)))


def _said(words: str) -> Dialogue[str]:
    """Say words that a screen shows beside the next question, and return them."""
    yield from say(words, drawn=True)
    return words
