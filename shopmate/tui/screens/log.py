"""What was done last in the project, a page at a time, the newest page first."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from textual import events
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen


class LogScreen(KeyedScreen[None]):
    """Shows lines of the log; it opens on those of the last page."""

    CSS_PATH = "log.tcss"

    def __init__(self, title: str, lines: Sequence[str]) -> None:
        super().__init__()
        self.heading, self.lines = title, lines
        self.back = 0
        """How many pages before the last one is shown."""

    def body(self) -> Sequence[Widget]:
        return Static(classes="heading", markup=False), Static(classes="page", markup=False)

    def on_resize(self, event: events.Resize) -> None:
        self.back = 0
        self.call_after_refresh(self.show)

    def offers(self) -> Sequence[Offer]:
        turn = []
        if len(self.pages()) > 1:
            turn = [
                Offer("minus", "page before", lambda: self.turn(1), also=("pageup",)),
                Offer("full_stop", "next page", lambda: self.turn(-1), also=("pagedown",)),
            ]
        return (*turn, Offer("slash", "back", lambda: self.dismiss(None), also=("escape",)))

    def pages(self) -> list[list[str]]:
        """Return the rows of each page, the last one full."""
        size = self.query_one(".page", Static).content_size
        width, height = max(20, size.width), max(1, size.height)
        rows = [row for line in self.lines for row in textwrap.wrap(line, width, subsequent_indent="  ")]
        first = len(rows) % height
        begins = ([0] if first else []) + list(range(first, len(rows), height))
        return [rows[begin : begin + (first if begin < first else height)] for begin in begins] or [[]]

    def turn(self, by: int) -> None:
        """Go some pages back, as far as there are."""
        self.back = min(max(0, self.back + by), len(self.pages()) - 1)
        self.show()

    def show(self) -> None:
        """Draw the page."""
        pages = self.pages()
        at = len(pages) - self.back
        place = [phrase("page {number} of {count}", at, len(pages))] if len(pages) > 1 else []
        heading = Content.styled(" · ".join([phrase("Log"), *place, self.heading]), "bold")
        self.query_one(".heading", Static).update(heading.truncate(max(1, self.size.width - 2), ellipsis=True))
        self.query_one(".page", Static).update(Content("\n".join(pages[at - 1])))
        self.show_offers()
