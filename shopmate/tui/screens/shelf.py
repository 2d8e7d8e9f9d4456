"""The shelf in the program: choose a material and a figure, type what its data sheet says, and it is saved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from textual import events
from textual.widget import Widget
from textual.widgets import Static

from shopmate import units
from shopmate.calculator import RatioKind
from shopmate.dialogue.asking import Item
from shopmate.errors import Doubt, EntryError, ShopmateError
from shopmate.phrases import phrase
from shopmate.recipe import FIGURES, MEASURES, NEEDED, Material, Recipe, copied, misses, own_title, with_figure, with_sheet
from shopmate.session import recipe_files, shelf
from shopmate.tables.solids import solids
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.screens.choose import ChooseScreen
from shopmate.tui.screens.name import NameScreen
from shopmate.tui.screens.value import ValueScreen
from shopmate.tui.widgets.entry import Entry

if TYPE_CHECKING:
    from shopmate.tui.app import ShopmateApp

_MOST_MISSES = 2
"""Steps that miss a figure that are told in the program; `shopmate check` tells all."""


class RatioScreen(KeyedScreen[str | None]):
    """Asks for a mix ratio; `-` types the colon, `+` goes between volume and weight."""

    CSS_PATH = "shelf.tcss"

    def __init__(self, title: str, basis: str, place: str) -> None:
        super().__init__()
        self.place = place
        self.heading = title
        self.basis = basis

    def body(self) -> Sequence[Widget]:
        return Static(self.heading, id="title", markup=False), Entry()

    def on_mount(self) -> None:
        kind = RatioKind()
        self.query_one(Entry).ask(kind.read, units.RATIO_BASES, self.basis, dash=":", hint=kind.describe())
        self.go_on_typing(self.place)
        super().on_mount()

    def type_key(self, event: events.Key) -> bool:
        entry = self.query_one(Entry)
        return bool(entry.text or event.key not in ("slash", "minus", "plus")) and entry.press(event)

    def offers(self) -> Sequence[Offer]:
        entry = self.query_one(Entry)
        if entry.text:
            colon = [Offer("minus", ":", lambda: None)] if ":" not in entry.text else []
            return (
                Offer("enter", "take it", self.take),
                *colon,
                Offer("plus", "erase", entry.erase, also=("backspace",), again=True),
            )
        return (
            Offer("plus", "weight or volume", entry.next_unit, also=("tab",), again=True),
            Offer("slash", "back", lambda: self.dismiss(None), also=("escape",)),
        )

    def show_offers(self) -> None:
        super().show_offers()
        self.fit_entry(above=self.query_one("#title").outer_size.height)

    def take(self) -> None:
        """Take the ratio, or say what is wrong about it."""
        entry = self.query_one(Entry)
        text = entry.text_with_unit()
        try:
            units.parse_ratio(text)
        except EntryError as error:
            entry.note = str(error)
        else:
            self.dismiss(text)


async def keep_shelf(app: ShopmateApp) -> None:
    """Let materials be chosen and their figures edited until it is left; every change is saved before the next key."""
    said = ""
    while True:
        materials = shelf()
        items = [Item(name, material.title, _state(material)) for name, material in materials.items()]
        items.append(Item("", phrase("New"), phrase("a copy of one, under a name of your own")))
        chosen = await app.push_screen_wait(ChooseScreen(phrase("Shelf: which material?"), items, explain=said))
        if chosen is None:
            return
        name: str | None = chosen
        said = ""
        if chosen == "":
            name, said = await _new(app, materials)
        if name is not None:
            await _edit(app, name, said)
            said = ""


def _state(material: Material) -> str:
    """Return, for the list, where the figures of a material are from."""
    source, own, figures = material.sheet.partition("; own: ")
    return "typical" + own + figures if source.startswith("typical") else source


async def _new(app: ShopmateApp, materials: Mapping[str, Material]) -> tuple[str | None, str]:
    """Copy a material under a name of the user's; return its name, or None, and what to say."""
    items = [Item(name, material.title, material.kind) for name, material in materials.items()]
    chosen = await app.push_screen_wait(ChooseScreen(phrase("New material: a copy of which?"), items))
    if chosen is None:
        return None, ""
    like = materials[chosen]
    title = await app.push_screen_wait(
        NameScreen(phrase("Name of the new material"), own_title(like, materials), f"new:{chosen}")
    )
    if title is None:
        return None, ""
    try:
        new = copied(like, title, materials)
    except ShopmateError as error:
        return None, str(error)
    said = await _save(
        app, new, phrase("Saved: {material}. Its figures are those of {other} until you change them", new.title, like.title)
    )
    return (new.name if new.name in app.session.shelf else None), said


async def _edit(app: ShopmateApp, name: str, said: str) -> None:
    """Let the figures of one material be chosen and typed until it is left."""
    while True:
        material = shelf().get(name)
        if material is None:
            return  # taken out of the file meanwhile
        recipes = [file.recipe for file in recipe_files() if file.recipe is not None]
        figures = list(FIGURES[material.kind])
        items = [Item(figure, _words(figure), material.figures.get(figure, phrase("no figure"))) for figure in figures]
        items += [Item(".title", phrase("Title"), material.title), Item(".sheet", phrase("Sheet and its date"), material.sheet)]
        spare = [figure for figure in figures if figure in material.figures and figure not in NEEDED[material.kind]]
        if spare:
            items.append(Item(".out", phrase("Take a figure out"), phrase("your sheet does not give it")))
        explain = "  ".join(filter(None, (said, _missing(material, recipes))))
        figure = await app.push_screen_wait(ChooseScreen(material.title, items, explain=explain))
        said = ""
        if figure is None:
            return
        if figure == ".out":
            words = phrase("Take out which figure?")
            out = await app.push_screen_wait(
                ChooseScreen(words, [Item(name, _words(name), material.figures[name]) for name in spare])
            )
            if out is not None:
                said = await _save(app, with_figure(material, out, None), phrase("Saved: {figure} has no figure", _words(out)))
            continue
        text = await _ask(app, material, figure)
        if text is not None:
            changed = _changed(material, figure, text)
            gone = [_words(name) for name in material.figures if name not in changed.figures]
            done = phrase("Saved: {figure} {value}", _words(figure.strip(".")), text)
            if gone:
                done = phrase("{done}; typical {figures} taken out: type your sheet's", done, " + ".join(gone))
            said = await _save(app, changed, done)


def _missing(material: Material, recipes: Sequence[Recipe]) -> str:
    """Return which steps miss figures of a material, as far as there is room."""
    notes = misses(material, recipes)
    told = [phrase("No figure for {step}.", note) for note in notes[:_MOST_MISSES]]
    if len(notes) > _MOST_MISSES:
        told.append(phrase("And {count} more: see 'shopmate check'.", len(notes) - _MOST_MISSES))
    return " ".join(told)


async def _ask(app: ShopmateApp, material: Material, figure: str) -> str | None:
    """Return what is typed for a figure, the title or the sheet, None when it is left as it is."""
    place = f"shelf:{material.name} {figure}"
    if figure in (".title", ".sheet"):
        before = material.title if figure == ".title" else material.sheet
        text = await app.push_screen_wait(
            NameScreen(
                phrase("Title of {material}" if figure == ".title" else "Sheet of {material}", material.title), before, place
            )
        )
        return " ".join(text.split()) if text is not None and text != before else None
    before = material.figures.get(figure, phrase("no figure"))
    heading = phrase("{material}: {figure}, now {value}", material.title, _words(figure), before)
    if figure == "ratio":
        basis = next((basis for basis in units.RATIO_BASES if before.endswith(basis)), units.RATIO_BASES[0])
        return await app.push_screen_wait(RatioScreen(heading, basis, place))
    if figure not in MEASURES:
        names = [solid.name for solid in solids()]
        return await app.push_screen_wait(ChooseScreen(heading, [Item(name, name) for name in names]))
    measure = MEASURES[figure]
    own = units.own_unit(measure.unit, app.session.project.system)
    so_far = units.parse(before, measure.unit) if figure in material.figures else None
    if so_far is not None and units.has_unit(before):
        own = so_far.unit
    return await app.push_screen_wait(ValueScreen(heading, measure, own, place, so_far))


def _changed(material: Material, figure: str, text: str) -> Material:
    if figure == ".title":
        return replace(material, title=text)
    if figure == ".sheet":
        return with_sheet(material, text)
    return with_figure(material, figure, text)


async def _save(app: ShopmateApp, material: Material, done: str) -> str:
    """Save a material; return what to say of it."""
    try:
        try:
            app.session.save_material(material, app.now())
        except Doubt as doubt:
            items = [Item("save", phrase("Save, the comments go into the copy")), Item("leave", phrase("Leave all as it is"))]
            if await app.push_screen_wait(ChooseScreen(str(doubt), items)) != "save":
                return phrase("Not saved")
            app.session.save_material(material, app.now(), sure=True)
    except ShopmateError as error:
        return phrase("Not saved: {error}", error)
    return phrase("{done}. A run under way keeps the figures it began with.", done)


def _words(figure: str) -> str:
    return figure.replace("_2", ", second").replace("_", " ")
