"""The list of calculators: two digits open one."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.widget import Widget
from textual.widgets import Static

from shopmate import calc
from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.numbered import Numbered

OTHER_WORK = "other work"
"""What the screen closes with when other work is to be chosen; no calculator has a space in its name."""


class CalculatorsScreen(KeyedScreen[str | None]):
    """All calculators with two-digit numbers; closes with the name of the one chosen, OTHER_WORK or None."""

    CSS_PATH = "calculators.tcss"

    def body(self) -> Sequence[Widget]:
        return (Static(phrase("Calculators: two digits open one"), classes="heading", markup=False), Numbered(2))

    def on_mount(self) -> None:
        choices = {number: f"{name:<11} {calc.find(name).title}" for number, name in enumerate(calc.names(), 1)}
        self.query_one(Numbered).ask(choices, None)

    def on_numbered_resized(self) -> None:
        self.show_offers()

    def offers(self) -> Sequence[Offer]:
        numbered = self.query_one(Numbered)
        other = Offer("full_stop", "other work", lambda: self.dismiss(OTHER_WORK))
        offers = [other, Offer("slash", "leave", self._leave, also=("escape",))]
        if numbered.typed:
            offers.insert(0, Offer("plus", phrase("erase {text}", numbered.typed), self._erase, also=("backspace",), again=True))
        elif numbered.pages > 1:
            offers.insert(
                0,
                Offer(
                    "plus", phrase("page {number} of {count}", numbered.page + 1, numbered.pages), numbered.turn_page, again=True
                ),
            )
        return offers

    def type_key(self, event: events.Key) -> bool:
        if event.key in ("plus", "backspace"):
            return False
        numbered = self.query_one(Numbered)
        taken = numbered.press(event)
        if taken and numbered.chosen is not None:
            self.dismiss(calc.names()[numbered.chosen - 1])
        return taken

    def _erase(self) -> None:
        self.query_one(Numbered).typed = ""

    def _leave(self) -> None:
        self.dismiss(None)
