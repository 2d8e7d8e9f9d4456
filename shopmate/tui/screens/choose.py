"""A list to choose from by number: projects, parts, recipes, runs, reasons."""

from __future__ import annotations

import threading
from collections.abc import Sequence
from typing import assert_never

from textual import events
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static

from shopmate.dialogue.asking import UNUSED, Filling, Item, fill
from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.numbered import Numbered


class ChooseScreen(KeyedScreen[str | None]):
    """Shows a title and numbered items; a number chooses, / leaves without choosing."""

    CSS_PATH = "choose.tcss"

    class Read(Message):
        """One more item has been read, or words to explain with; None at the end."""

        def __init__(self, part: Item | str | Exception | None) -> None:
            super().__init__()
            self.part = part

    def __init__(
        self, title: str, items: Sequence[Item], *, leave: str = "back", explain: str = "", filling: Sequence[Filling] = ()
    ) -> None:
        super().__init__()
        self.heading = title
        self.items = list(items)
        self.leave = leave
        self._explained = [explain] if explain else []
        self._filling = filling
        self.unread = len(filling)
        """How many items are still to be read."""
        # As many digits for the first as for the last, so that no number changes its meaning as others come.
        self._digits = len(str(len(items) or len(filling)))

    def body(self) -> Sequence[Widget]:
        return (
            Static(self.heading, id="title", markup=False),
            Numbered(self._digits, wraps=True),
            Static(self._explanation, id="explain", markup=False),
        )

    def on_mount(self) -> None:
        self.show_items()
        super().on_mount()
        if self._filling:
            threading.Thread(
                target=fill, args=(self._filling, lambda part: self.post_message(self.Read(part))), daemon=True
            ).start()

    def on_choose_screen_read(self, event: Read) -> None:
        """Show what has been read."""
        match event.part:
            case None:
                self.unread = 0
            case Exception() as fault:
                raise fault
            case Item() as item:
                self.items.append(item)
                self.unread -= 1
            case str() as words:
                self._explained += [words] if words else []
                self.unread -= 1
            case _:
                assert_never(event.part)
        self.show_items()
        self.query_one("#explain", Static).update(self._explanation)
        self.show_offers()

    def show_items(self) -> None:
        """Show the items there are by now."""
        numbered = self.query_one(Numbered)
        used = {number: item for number, item in enumerate(self.items, 1) if item is not UNUSED}
        numbered.choices = {number: item.title for number, item in used.items()}
        numbered.notes = {number: item.note for number, item in used.items()}

    @property
    def _explanation(self) -> str:
        reading = [phrase("Loading, {count} to go", self.unread)] if self.unread else []
        return "; ".join([*reading, *self._explained])

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
