"""What is only read, a page at a time where it is long: pages, turning and heading of the screens that show it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from textual import events
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen

T = TypeVar("T")


class PagedScreen(KeyedScreen[T]):
    """Shows lines under a heading; each screen of the kind says how they are parted and what leads on."""

    CSS_PATH = "paged.tcss"

    opens_on = 0
    """The page it opens on, and goes back to in another room: 0 the first, -1 the last."""

    def __init__(self) -> None:
        super().__init__()
        self.page = self.opens_on

    def body(self) -> Sequence[Widget]:
        return Static(classes="heading", markup=False), Static(classes="page", markup=False)

    def on_resize(self, event: events.Resize) -> None:
        self.page = self.opens_on
        self.call_after_refresh(self.show)

    def parted(self, width: int, height: int) -> list[list[str]]:
        """Return the lines of each page in a room of so many columns and rows."""
        raise NotImplementedError

    def heading_at(self, place: Sequence[str]) -> Content:
        """Return the heading; `place` says which page it is, where there are several."""
        raise NotImplementedError

    def pages(self) -> list[list[str]]:
        """Return the lines of each page in the room there is."""
        size = self.query_one(".page", Static).content_size
        return self.parted(max(20, size.width), max(1, size.height)) or [[]]

    def titled(self, kind: str, place: Sequence[str], what: str) -> Content:
        """Return a heading in one row: the kind of lines, the page, and what they are of."""
        heading = Content.styled(" · ".join([kind, *place, what]), "bold")
        return heading.truncate(max(1, self.size.width - 2), ellipsis=True)

    def turning(self) -> list[Offer]:
        """Return the keys that turn the pages, where there are several."""
        if len(self.pages()) == 1:
            return []
        return [
            Offer("full_stop", "next page", self.turn, also=("pagedown",)),
            Offer("minus", "previous page", lambda: self.turn(-1), also=("pageup",)),
        ]

    def turn(self, by: int = 1) -> None:
        """Go to another page, after the last one to the first."""
        self.page = (self.page + by) % len(self.pages())
        self.show()

    def show(self) -> None:
        """Draw the page."""
        pages = self.pages()
        at = self.page % len(pages)
        place = [phrase("page {number} of {count}", at + 1, len(pages))] if len(pages) > 1 else []
        self.query_one(".heading", Static).update(self.heading_at(place))
        self.query_one(".page", Static).update(Content("\n".join(pages[at])))
        self.show_offers()
