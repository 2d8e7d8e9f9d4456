"""A list to choose from by number: projects, parts, recipes, runs, reasons."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.widget import Widget
from textual.widgets import Static

from shopmate.dialogue.asking import Item
from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.numbered import Numbered


class ChooseScreen(KeyedScreen[str | None]):
    """Shows a title and numbered items; a number chooses, / leaves without choosing."""

    CSS_PATH = "choose.tcss"

    def __init__(self, title: str, items: Sequence[Item], *, leave: str = "back", explain: str = "") -> None:
        super().__init__()
        self.heading = title
        self.items = items
        self.leave = leave
        self.explain = explain

    def body(self) -> Sequence[Widget]:
        return Static(self.heading, id="title", markup=False), Numbered(), Static(self.explain, id="explain", markup=False)

    def on_mount(self) -> None:
        texts = {number: f"{item.title}  {item.note}".rstrip() for number, item in enumerate(self.items, 1)}
        self.query_one(Numbered).ask(texts, None)
        super().on_mount()

    def on_resize(self, event: events.Resize) -> None:
        self.call_after_refresh(self.show_offers)

    def type_key(self, event: events.Key) -> bool:
        numbered = self.query_one(Numbered)
        if not numbered.press(event):
            return False
        if not numbered.typed and numbered.chosen is not None:
            self.dismiss(self.items[numbered.chosen - 1].key)
        return True

    def offers(self) -> Sequence[Offer]:
        numbered = self.query_one(Numbered)
        choose = Offer("1", f"{numbered.typed}_" if numbered.typed else phrase("choose"), lambda: None)
        more = [Offer("plus", "more", numbered.turn_page, again=True)] if numbered.pages > 1 else []
        leave = [Offer("slash", phrase(self.leave), lambda: self.dismiss(None), also=("escape",))] if self.leave else []
        return [choose, *more, *leave]
