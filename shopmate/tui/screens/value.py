"""One value to type, checked at every key: a reading of the shop temperature, a setting that is a quantity."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.widget import Widget
from textual.widgets import Static

from shopmate import units
from shopmate.calculator import Measure, Value, doubt
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.entry import Entry


class ValueScreen(KeyedScreen[str | None]):
    """Asks for one quantity; an odd one is asked about and taken when Enter is pressed again."""

    CSS_PATH = "name.tcss"

    def __init__(self, title: str, measure: Measure, unit: str, place: str, before: Value | None = None) -> None:
        """Ask for what `measure` takes; a value that looks like a slip beside `before`, the one so far, is asked about too.

        What is half typed is kept under `place`.
        """
        super().__init__()
        self.place = place
        self.before = before
        self.heading = title
        self.measure = measure
        self.unit = unit
        self.doubted = ""

    def body(self) -> Sequence[Widget]:
        return Static(self.heading, id="title", markup=False), Entry()

    def on_mount(self) -> None:
        hint = self.measure.limits(self.unit)
        self.query_one(Entry).ask(self.measure.read, units.units_of(self.measure.unit), self.unit, hint=hint)
        self.go_on_typing(self.place)
        super().on_mount()

    def type_key(self, event: events.Key) -> bool:
        entry = self.query_one(Entry)
        if not entry.text and event.key in ("slash", "minus", "plus"):
            return False
        self.doubted = self.doubted if event.key == "enter" else ""
        return entry.press(event)

    def offers(self) -> Sequence[Offer]:
        entry = self.query_one(Entry)
        if entry.text:
            return Offer("enter", "take it", self.take), Offer("plus", "erase", entry.erase, also=("backspace",), again=True)
        units_ = units.units_of(self.measure.unit)
        unit = [Offer("plus", "unit", entry.next_unit, also=("tab",), again=True)] if len(units_) > 1 else []
        below = [Offer("minus", "below 0", self.begin_below_zero)] if (self.measure.low or 0) < 0 else []
        return (*unit, *below, Offer("slash", "back", lambda: self.dismiss(None), also=("escape",)))

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
            question = doubt(self.measure, self.measure.read(text), self.before)
        except EntryError as error:
            entry.note = str(error)
            return
        if question is not None and self.doubted != text:
            self.doubted, entry.note = text, phrase("{question} Enter again if so", question)
            return
        self.dismiss(text)
