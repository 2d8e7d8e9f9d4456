"""What was done last in the project, a page at a time, the newest page first."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from textual.content import Content

from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screens.paged import PagedScreen


class LogScreen(PagedScreen[None]):
    """Shows lines of the log; it opens on those of the last page."""

    opens_on = -1

    def __init__(self, title: str, lines: Sequence[str]) -> None:
        super().__init__()
        self.heading, self.lines = title, lines

    def offers(self) -> Sequence[Offer]:
        return (*reversed(self.turning()), Offer("slash", "back", lambda: self.dismiss(None), also=("escape",)))

    def heading_at(self, place: Sequence[str]) -> Content:
        return self.titled(phrase("Log"), place, self.heading)

    def parted(self, width: int, height: int) -> list[list[str]]:
        """Return the rows of each page, the last one full."""
        rows = [row for line in self.lines for row in textwrap.wrap(line, width, subsequent_indent="  ")]
        first = len(rows) % height
        begins = ([0] if first else []) + list(range(first, len(rows), height))
        return [rows[begin : begin + (first if begin < first else height)] for begin in begins]

    def turn(self, by: int = 1) -> None:
        """Go to another page, as far as there are."""
        count = len(self.pages())
        self.page = min(max(0, self.page % count + by), count - 1)
        self.show()
