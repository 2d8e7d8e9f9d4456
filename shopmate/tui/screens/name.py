"""One name to type: of a project or a part; Enter alone takes the one offered."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.widget import Widget
from textual.widgets import Static

from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.entry import Entry


class NameScreen(KeyedScreen[str | None]):
    """Asks for a name; what is offered can be taken with the keypad alone."""

    CSS_PATH = "name.tcss"

    def __init__(self, title: str, offered: str, place: str = "") -> None:
        """Ask for a name, the one `offered` to begin with; what is half typed is kept under `place`."""
        super().__init__()
        self.place = place
        self.heading = title
        self.offered = offered

    def body(self) -> Sequence[Widget]:
        return Static(self.heading, id="title", markup=False), Entry(letters=True)

    def on_mount(self) -> None:
        self.query_one(Entry).ask(str, letters=True, hint=phrase("Enter uses: {name}", self.offered))
        self.go_on_typing(self.place)
        super().on_mount()

    def type_key(self, event: events.Key) -> bool:
        entry = self.query_one(Entry)
        if event.key == "slash" and not entry.text:
            return False
        return entry.press(event)

    def offers(self) -> Sequence[Offer]:
        entry = self.query_one(Entry)
        take = Offer("enter", "use it", lambda: self.dismiss(entry.text.strip() or self.offered))
        if entry.text:
            return (
                take,
                Offer("plus", "erase", entry.erase, also=("backspace",), again=True),
                Offer("escape", "", self.leave),
            )
        return take, Offer("slash", "back", self.leave, also=("escape",))

    def leave(self) -> None:
        """Leave without a name."""
        self.dismiss(None)
