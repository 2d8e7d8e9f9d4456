"""All cautions of a working, whole, a page at a time."""

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


class CautionsScreen(KeyedScreen[None]):
    """Shows cautions numbered in their order; those that do not fit go on to the next page."""

    CSS_PATH = "cautions.tcss"

    def __init__(self, title: str, cautions: Sequence[str]) -> None:
        super().__init__()
        self.heading = title
        self.cautions = cautions
        self.page = 0

    def body(self) -> Sequence[Widget]:
        return Static(classes="heading", markup=False), Static(classes="page", markup=False)

    def on_resize(self, event: events.Resize) -> None:
        self.page = 0
        self.call_after_refresh(self.show)

    def offers(self) -> Sequence[Offer]:
        turn = []
        if len(self.pages()) > 1:
            turn = [
                Offer("full_stop", "next page", self.turn, also=("pagedown",)),
                Offer("minus", "page before", lambda: self.turn(-1), also=("pageup",)),
            ]
        return (*turn, Offer("slash", "back", lambda: self.dismiss(None), also=("escape",)))

    def pages(self) -> list[list[str]]:
        """Return the lines of each page: a caution is parted only where it is longer than a page."""
        size = self.query_one(".page", Static).content_size
        width, height = max(20, size.width), max(1, size.height)
        found: list[list[str]] = []
        for number, caution in enumerate(self.cautions, 1):
            lead = f"{number}. "
            lines = textwrap.wrap(caution, width, initial_indent=lead, subsequent_indent=" " * len(lead))
            if found and len(found[-1]) + 1 + len(lines) <= height:
                found[-1] += ["", *lines]
            else:
                found += [lines[begin : begin + height] for begin in range(0, len(lines), height)]
        return found

    def turn(self, by: int = 1) -> None:
        """Go to another page, after the last one to the first."""
        self.page = (self.page + by) % len(self.pages())
        self.show()

    def show(self) -> None:
        """Draw the page."""
        pages = self.pages()
        place = [phrase("page {number} of {count}", self.page + 1, len(pages))] if len(pages) > 1 else []
        heading = Content.styled(" · ".join([phrase("Cautions"), *place, self.heading]), "bold")
        self.query_one(".heading", Static).update(heading.truncate(max(1, self.size.width - 2), ellipsis=True))
        self.query_one(".page", Static).update(Content("\n".join(pages[self.page])))
        self.show_offers()
