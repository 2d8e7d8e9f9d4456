"""The list of calculators: one digit opens one of those used last and most, two digits any."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from textual import events
from textual.widget import Widget
from textual.widgets import Static

from shopmate.dialogue.asking import Choose
from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.numbered import Numbered

FAR = 61
"""The number of the first item that is not near: two digits, of which the first is no number of those that are."""


def numbered_from(near: int, count: int) -> Iterator[int]:
    """Yield the numbers of so many items, of which the first ones are near and have one digit."""
    yield from range(1, near + 1)
    yield from range(FAR, FAR + count - near)


class CalculatorsScreen(KeyedScreen[str | None]):
    """Calculators with the digits that open them, and something else; closes with the key of what is chosen, or None."""

    CSS_PATH = "calculators.tcss"

    def __init__(self, question: Choose) -> None:
        super().__init__()
        self._other = question.other
        numbers = numbered_from(question.near, len(question.items))
        self._items = dict(zip(numbers, question.items, strict=True))

    def body(self) -> Sequence[Widget]:
        return (
            Static(phrase("Calculators: type a number to open one"), classes="heading", markup=False),
            Numbered(1, wraps=True),
        )

    def on_mount(self) -> None:
        numbered = self.query_one(Numbered)
        numbered.notes = {number: item.title for number, item in self._items.items()}
        numbered.ask({number: f"{item.key:<10}" for number, item in self._items.items()}, None)

    def on_numbered_resized(self) -> None:
        self.show_offers()

    def offers(self) -> Sequence[Offer]:
        numbered = self.query_one(Numbered)
        other = [Offer("full_stop", item.title, partial(self.dismiss, item.key)) for item in (self._other,) if item is not None]
        back = Offer("minus", "back", lambda: self.dismiss(None))
        leave = Offer("slash", "leave", lambda: self.dismiss(None), also=("escape",))
        if numbered.typed:
            erase = Offer("plus", phrase("erase {text}", numbered.typed), self._erase, also=("backspace",), again=True)
            return erase, *other, back, leave
        if numbered.pages > 1:
            page = phrase("page {number} of {count}", numbered.page + 1, numbered.pages)
            return Offer("plus", page, numbered.turn_page, again=True), *other, back, leave
        return *other, back, leave

    def type_key(self, event: events.Key) -> bool:
        if event.key in ("plus", "backspace"):
            return False
        numbered = self.query_one(Numbered)
        taken = numbered.press(event)
        if taken and numbered.chosen is not None:
            self.dismiss(self._items[numbered.chosen].key)
        return taken

    def _erase(self) -> None:
        self.query_one(Numbered).typed = ""
