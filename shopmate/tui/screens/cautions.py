"""All cautions of a working, whole, a page at a time."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from textual.content import Content

from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screens.paged import PagedScreen


class CautionsScreen(PagedScreen[None]):
    """Shows cautions numbered in their order; those that do not fit go on to the next page."""

    def __init__(self, title: str, cautions: Sequence[str]) -> None:
        super().__init__()
        self.heading = title
        self.cautions = cautions

    def offers(self) -> Sequence[Offer]:
        return (*self.turning(), Offer("slash", "back", lambda: self.dismiss(None), also=("escape",)))

    def heading_at(self, place: Sequence[str]) -> Content:
        return self.titled(phrase("Cautions"), place, self.heading)

    def parted(self, width: int, height: int) -> list[list[str]]:
        """Return the lines of each page: a caution is parted only where it is longer than a page."""
        found: list[list[str]] = []
        for number, caution in enumerate(self.cautions, 1):
            lead = f"{number}. "
            lines = textwrap.wrap(caution, width, initial_indent=lead, subsequent_indent=" " * len(lead))
            if found and len(found[-1]) + 1 + len(lines) <= height:
                found[-1] += ["", *lines]
            else:
                found += [lines[begin : begin + height] for begin in range(0, len(lines), height)]
        return found
