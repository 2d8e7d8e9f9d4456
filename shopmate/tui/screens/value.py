"""One value to type, checked at every key: a reading of the shop temperature, a setting, a figure of the shelf."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.widget import Widget
from textual.widgets import Static

from shopmate.calculator import RatioKind
from shopmate.dialogue.asking import Enter
from shopmate.dialogue.blank import Blank
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.entry import Entry


class ValueScreen(KeyedScreen[str | None]):
    """Asks for one quantity or ratio; an odd one is asked about and taken when Enter is pressed again."""

    CSS_PATH = "name.tcss"

    def __init__(self, question: Enter) -> None:
        super().__init__()
        self.place, self.heading = question.place, question.title
        self.keeps = question.keeps
        self.blank = Blank(question.kind, question.unit, question.before)

    def body(self) -> Sequence[Widget]:
        return Static(self.heading, id="title", markup=False), Entry()

    def on_mount(self) -> None:
        keeps = phrase("Enter keeps {value}", self.keeps) if self.keeps else ""
        self.query_one(Entry).fill_in(self.blank, keeps or self.blank.limits)
        self.go_on_typing(self.place)
        super().on_mount()

    def type_key(self, event: events.Key) -> bool:
        entry = self.query_one(Entry)
        if not entry.text and event.key in ("slash", "minus"):
            return False
        self.blank.doubted = self.blank.doubted if event.key == "enter" else ""
        return entry.press(event)

    def offers(self) -> Sequence[Offer]:
        entry, is_ratio = self.query_one(Entry), isinstance(self.blank.kind, RatioKind)
        if entry.text:
            colon = [Offer("minus", ":", lambda: None)] if is_ratio and ":" not in entry.text else []
            erase = Offer("plus", "erase", entry.erase, also=("backspace",), again=True)
            return Offer("enter", "use it", self.take), *colon, erase
        word = "weight or volume" if is_ratio else "unit"
        unit = [Offer("full_stop", word, entry.next_unit, also=("tab",), again=True)] if entry.has_units else []
        below = [Offer("minus", "minus", self.begin_below_zero)] if self.blank.below_zero else []
        keep = [Offer("enter", "as on data sheet", lambda: self.dismiss(self.keeps))] if self.keeps else []
        return (*keep, *unit, *below, Offer("slash", "back", lambda: self.dismiss(None), also=("escape",)))

    def show_offers(self) -> None:
        super().show_offers()
        self.fit_entry(above=self.query_one("#title").outer_size.height)

    def begin_below_zero(self) -> None:
        """Begin a number below zero."""
        self.query_one(Entry).text = "-"

    def take(self) -> None:
        """Take the value, or say what is wrong or odd about it."""
        entry = self.query_one(Entry)
        text = entry.text_with_unit()
        try:
            if entry.problem is not None:
                raise entry.problem
            question = self.blank.question(text)
        except EntryError as error:
            entry.note = str(error)
            return
        if question:
            entry.note = phrase("{question} Press Enter again if so", question)
        else:
            self.dismiss(text)
