"""A topic of the guide, a page at a time."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from shopmate.guide import Topic
from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screens.paged import PagedScreen


class GuideScreen(PagedScreen[None]):
    """Shows a topic; its pages are full, and none begins with a blank row."""

    def __init__(self, topic: Topic) -> None:
        super().__init__()
        self.topic = topic

    def offers(self) -> Sequence[Offer]:
        return (*self.turning(), Offer("slash", "back", lambda: self.dismiss(None), also=("escape",)))

    def heading_at(self, place: Sequence[str]) -> Content:
        return self.titled(phrase("Guide"), place, self.topic.title)

    def parted(self, width: int, height: int) -> list[list[str]]:
        pages: list[list[str]] = [[]]
        for line in self.topic.lines(width):
            if len(pages[-1]) == height:
                pages.append([])
            if line or pages[-1]:
                pages[-1].append(line)
        return pages
