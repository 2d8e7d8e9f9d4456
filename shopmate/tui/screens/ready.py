"""What is read before something is begun: a page at a time where it is long, and Enter begins it."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from textual import events
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from shopmate.dialogue.asking import Ready
from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen


class ReadyScreen(KeyedScreen[str | None]):
    """Shows lines, each begun at the left edge; Enter does what was asked for, 1 something else, - goes back."""

    CSS_PATH = "ready.tcss"

    def __init__(self, question: Ready) -> None:
        super().__init__()
        self.question = question
        self.page = 0

    def body(self) -> Sequence[Widget]:
        return Static(classes="heading", markup=False), Static(classes="page", markup=False)

    def on_resize(self, event: events.Resize) -> None:
        self.page = 0
        self.call_after_refresh(self.show)

    def offers(self) -> Sequence[Offer]:
        question = self.question
        more = [Offer("plus", "more", self.turn, again=True)] if len(self.pages()) > 1 else []
        return (
            Offer("enter", question.yes.title, lambda: self.dismiss(question.yes.key)),
            Offer("1", question.other.title, lambda: self.dismiss(question.other.key)),
            *more,
            Offer("minus", "back", lambda: self.dismiss(None), also=("escape",)),
        )

    def pages(self) -> list[list[str]]:
        """Return the rows of each page."""
        size = self.query_one(".page", Static).content_size
        width, height = max(20, size.width), max(1, size.height)
        rows = [row for line in self.question.lines for row in textwrap.wrap(line, width, subsequent_indent="  ")]
        return [rows[begin : begin + height] for begin in range(0, len(rows), height)] or [[]]

    def turn(self) -> None:
        """Go to the next page, after the last one to the first."""
        self.page = (self.page + 1) % len(self.pages())
        self.show()

    def show(self) -> None:
        """Draw the page."""
        pages = self.pages()
        place = [phrase("page {number} of {count}", self.page + 1, len(pages))] if len(pages) > 1 else []
        self.query_one(".heading", Static).update(Content(" · ".join([self.question.title, *place])))
        self.query_one(".page", Static).update(Content("\n".join(pages[self.page])))
        self.show_offers()
