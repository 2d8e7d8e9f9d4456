"""The row of standing notices: what the user has to know as long as it holds, such as a terminal that lost the keys."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from shopmate.tui.themes import field


class NoticeLine(Widget):
    """One row, there only while a notice stands: the first in words, the others as far as there is room, then counted."""

    DEFAULT_CSS = """
    NoticeLine { height: 1; display: none; }
    """

    notices: reactive[tuple[str, ...]] = reactive(())
    """What stands, the most important first; each begins with two or three words in capitals."""

    def render(self) -> Content:
        return row(self.notices, self.size.width)


def row(notices: tuple[str, ...], width: int) -> Content:
    """Return the row: as many notices as fit whole, the first one in any case, with the count of those left out."""
    shown = len(notices)
    while shown > 1 and len(_line(notices, shown)) > width:
        shown -= 1
    line = _line(notices, shown) if notices else ""
    return Content.styled(line.ljust(width), field("do-before")).truncate(width, ellipsis=True) if line else Content("")


def _line(notices: tuple[str, ...], shown: int) -> str:
    rest = f" (+{len(notices) - shown})" if len(notices) > shown else ""
    return f" ▲{rest} {' · '.join(notices[:shown])}"
