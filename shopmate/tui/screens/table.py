"""A published table, a page at a time, with its sources."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from textual import events
from textual.content import Content
from textual.filter import LineFilter
from textual.geometry import Size
from textual.widget import Widget
from textual.widgets import Static

from shopmate.phrases import phrase
from shopmate.tables import Block, Table
from shopmate.tui.keys import Offer
from shopmate.tui.lines import as_written
from shopmate.tui.screen import KeyedScreen


class TableScreen(KeyedScreen[None]):
    """Shows one table; rows keep together over the columns that do not fit beside one another."""

    CSS_PATH = "table.tcss"

    def __init__(self, table: Table) -> None:
        super().__init__()
        self._table = table
        self._page = 0
        self._pages: list[list[str]] = [[]]

    def body(self) -> Sequence[Widget]:
        return Static(classes="heading"), _Page(classes="page")

    def on_resize(self, event: events.Resize) -> None:
        self.call_after_refresh(self._lay_out)

    def offers(self) -> Sequence[Offer]:
        turn = []
        if len(self._pages) > 1:
            turn = [
                Offer("plus", "next page", self._next, also=("pagedown", "down"), again=True),
                Offer("minus", "previous page", self._before, also=("pageup", "up"), again=True),
            ]
        return (*turn, Offer("slash", "back", self._leave, also=("escape",)))

    def _next(self) -> None:
        self._page = (self._page + 1) % len(self._pages)
        self._show()

    def _before(self) -> None:
        self._page = (self._page - 1) % len(self._pages)
        self._show()

    def _leave(self) -> None:
        self.dismiss(None)

    def _lay_out(self) -> None:
        """Make the pages anew for the room there is, staying near the place that was read."""
        size = self.query_one(".page", Static).content_size
        share = self._page / len(self._pages)
        self._pages = pages(self._table, size)
        self._page = int(share * len(self._pages))
        self._show()
        self.show_offers()

    def _show(self) -> None:
        width = self.query_one(".heading", Static).content_size.width
        place = phrase("page {number} of {count}", self._page + 1, len(self._pages))
        title = Content.styled(self._table.title, "bold").truncate(max(1, width - len(place) - 2), ellipsis=True)
        self.query_one(".heading", Static).update(title.pad_right(max(1, width - title.cell_length - len(place))) + place)
        self.query_one(".page", Static).update(Content("\n".join(self._pages[self._page])))


class _Page(Static):
    def get_line_filters(self) -> Sequence[LineFilter]:
        return as_written(super().get_line_filters())


def pages(table: Table, size: Size) -> list[list[str]]:
    """Return the pages of a table for a room, its sources last: the same rows in all their columns before the next rows."""
    width, height = max(1, size.width), max(1, size.height)
    blocks = table.blocks(width)
    found: list[list[str]] = []
    first = 0
    while first < len(table.rows):
        last = max(first + 1, min(_last(block, first, height) for block in blocks))
        for block in blocks:
            lines = [*block.head, *(line for row in block.rows[first:last] for line in row)]
            # Columns of the same rows share a page where they fit one.
            if found and found[-1] and block is not blocks[0] and len(found[-1]) + 1 + len(lines) <= height:
                found[-1] += ["", *lines]
            else:
                found += [lines[begin : begin + height] for begin in range(0, len(lines), height)]
        first = last
    said = [line for source in _said(table) for line in textwrap.wrap(source, width, subsequent_indent="  ")]
    if found and len(found[-1]) + 1 + len(said) <= height:
        found[-1] += ["", *said]
        return found
    return found + [said[begin : begin + height] for begin in range(0, len(said), height)]


def _last(block: Block, first: int, height: int) -> int:
    """Return the row after the last one that fits under the head of a block."""
    free, last = height - len(block.head), first
    while last < len(block.rows) and len(block.rows[last]) <= free:
        free -= len(block.rows[last])
        last += 1
    return last


def _said(table: Table) -> list[str]:
    return [table.title, *(f"{key}: {source}" for key, source in table.sources.items())]
