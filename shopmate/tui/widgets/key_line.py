"""The bottom line of every screen: the keys that do something now, and what the last key did."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive
from textual.timer import Timer
from textual.widget import Widget

from shopmate.phrases import phrase
from shopmate.tui.keys import Offer, label

SAID_SECONDS = 1.5
"""How long what a key did is said."""

SAID_COLUMNS = 16
"""Columns kept free for what is said at the end of the last row, so that it never moves or covers a key."""

_GAP = 3


class KeyLine(Widget):
    """Draws the offers it is given, all of them: on a second row where one is too narrow."""

    DEFAULT_CSS = """
    KeyLine { dock: bottom; height: auto; width: 1fr; }
    """

    offers: reactive[tuple[Offer, ...]] = reactive((), layout=True)
    """The keys that do something now, in the order they are shown."""
    said: reactive[str] = reactive("")
    """What is said at the moment."""

    least_rows = 0
    """Rows it takes though the offers need fewer, where what they say hangs on the room that it leaves."""
    _clearing: Timer | None = None
    _done = ""
    """What the last accepted key did, as long as it is shown."""
    _why = ""
    """Why the key after it was ignored."""

    def say(self, text: str) -> None:
        """Show what the accepted key did, such as 'DONE 4'."""
        self._done, self._why = text, ""
        self._show(text)

    def ignored(self, event: events.Key, why: str = "does nothing now") -> None:
        """Show that a key did nothing here, behind what the key before it did while that is shown."""
        self._why = why
        self._show(" · ".join(filter(None, (self._done, f"{label(event.key)}: {phrase(why)}"))))

    def _show(self, text: str) -> None:
        self.said = text
        if self._clearing is not None:
            self._clearing.stop()
        self._clearing = self.set_timer(SAID_SECONDS, self._clear)

    def _clear(self) -> None:
        self.said = self._done = self._why = ""

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(self.least_rows, len(_arrange(self.offers, width)))

    def render(self) -> Content:
        width = self.content_size.width
        lines = [_draw(row, width) for row in _arrange(self.offers, width)]
        room = width - lines[-1].cell_length - 1
        if self.said and room > 0:
            said = Content.styled(self._short(room), "bold").truncate(room, ellipsis=True)
            lines[-1] = lines[-1].pad_right(width - lines[-1].cell_length - said.cell_length) + said
        return Content("\n").join(lines)

    def _short(self, room: int) -> str:
        """Return what is said in a room: what was done gives way first to why the key after it did nothing."""
        if len(self.said) <= room or not self._why:
            return self.said
        rest = f" · {self._why}"
        if not self._done:
            return self._why
        left = room - len(rest)
        if left < 4:
            return self._why
        return (self._done if len(self._done) <= left else f"{self._done[: left - 1]}…") + rest


def rows(offers: Sequence[Offer], width: int) -> int:
    """Return how many rows the offers take."""
    return len(_arrange(offers, width))


def _arrange(offers: Sequence[Offer], width: int) -> list[list[Offer]]:
    """Return the offers in rows that fit `width` with room for what is said after the last one."""
    rows: list[list[Offer]] = [[]]
    taken = 0
    for offer in offers:
        wide = len(label(offer.key)) + 3 + len(phrase(offer.word))
        if rows[-1] and taken + 1 + wide > width:
            rows.append([])
        taken = taken + 1 + wide if rows[-1] else wide
        rows[-1].append(offer)
    if len(rows[-1]) > 1 and taken + SAID_COLUMNS > width:
        rows.append([rows[-1].pop()])
    return rows


def _draw(row: Sequence[Offer], width: int) -> Content:
    shown = [Content.assemble((f" {label(offer.key)} ", "bold reverse"), f" {phrase(offer.word)}") for offer in row]
    free = width - SAID_COLUMNS - sum(one.cell_length for one in shown)
    gap = next((gap for gap in range(_GAP, 1, -1) if gap * (len(row) - 1) <= free), 1)
    return Content(" " * gap).join(shown)
