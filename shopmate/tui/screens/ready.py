"""What is read before something is begun: a page at a time where it is long, and Enter begins it."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from textual.content import Content

from shopmate.dialogue.asking import Ready
from shopmate.tui.keys import Offer
from shopmate.tui.screens.paged import PagedScreen


class ReadyScreen(PagedScreen[str | None]):
    """Shows lines, each begun at the left edge; Enter does what was asked for, 1 something else, - goes back."""

    def __init__(self, question: Ready) -> None:
        super().__init__()
        self.question = question

    def offers(self) -> Sequence[Offer]:
        question = self.question
        more = [Offer("plus", "more", self.turn, again=True)] if len(self.pages()) > 1 else []
        return (
            Offer("enter", question.yes.title, lambda: self.dismiss(question.yes.key)),
            Offer("1", question.other.title, lambda: self.dismiss(question.other.key)),
            *more,
            Offer("minus", "back", lambda: self.dismiss(None), also=("escape",)),
        )

    def heading_at(self, place: Sequence[str]) -> Content:
        return Content(" · ".join([self.question.title, *place]))

    def parted(self, width: int, height: int) -> list[list[str]]:
        rows = [row for line in self.question.lines for row in textwrap.wrap(line, width, subsequent_indent="  ")]
        return [rows[begin : begin + height] for begin in range(0, len(rows), height)]
