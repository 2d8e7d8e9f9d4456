"""The list of calculators: two digits open one."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from textual import events
from textual.widget import Widget
from textual.widgets import Static

from shopmate.dialogue.asking import Choose
from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.numbered import Numbered


class CalculatorsScreen(KeyedScreen[str | None]):
    """All calculators with two-digit numbers, and something else; closes with the key of what is chosen, or None."""

    CSS_PATH = "calculators.tcss"

    def __init__(self, question: Choose) -> None:
        super().__init__()
        self._items, self._other = question.items, question.other

    def body(self) -> Sequence[Widget]:
        return (Static(phrase("Calculators: two digits open one"), classes="heading", markup=False), Numbered(2, wraps=True))

    def on_mount(self) -> None:
        numbered = self.query_one(Numbered)
        numbered.notes = {number: item.title for number, item in enumerate(self._items, 1)}
        numbered.ask({number: f"{item.key:<10}" for number, item in enumerate(self._items, 1)}, None)

    def on_numbered_resized(self) -> None:
        self.show_offers()

    def offers(self) -> Sequence[Offer]:
        numbered = self.query_one(Numbered)
        other = [Offer("full_stop", item.title, partial(self.dismiss, item.key)) for item in (self._other,) if item is not None]
        leave = Offer("slash", "leave", lambda: self.dismiss(None), also=("escape",))
        if numbered.typed:
            erase = Offer("plus", phrase("erase {text}", numbered.typed), self._erase, also=("backspace",), again=True)
            return erase, *other, leave
        if numbered.pages > 1:
            page = phrase("page {number} of {count}", numbered.page + 1, numbered.pages)
            return Offer("plus", page, numbered.turn_page, again=True), *other, leave
        return *other, leave

    def type_key(self, event: events.Key) -> bool:
        if event.key in ("plus", "backspace"):
            return False
        numbered = self.query_one(Numbered)
        taken = numbered.press(event)
        if taken and numbered.chosen is not None:
            self.dismiss(self._items[numbered.chosen - 1].key)
        return taken

    def _erase(self) -> None:
        self.query_one(Numbered).typed = ""
