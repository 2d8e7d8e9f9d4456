"""The row of standing notices: what the user has to know as long as it holds, such as a terminal that lost the keys."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from itertools import takewhile

from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget

from shopmate.dialogue.notices import Board
from shopmate.tui.themes import field

_CUT = " …"
"""What stands where a notice goes on, before or after it."""

_SHORTEST = 12
"""Columns of what a piece says at least, on a screen that is narrower too."""


class NoticeLine(Widget):
    """One row, there only while a notice stands: the first whole or piece by piece, others as they have room, else counted."""

    DEFAULT_CSS = """
    NoticeLine { height: 1; display: none; }
    """

    board: reactive[Board] = reactive(Board())
    """What stands; each begins with two or three words in capitals."""

    def render(self) -> Content:
        return row(self.board, self.size.width)


def row(board: Board, width: int) -> Content:
    """Return the row: as many notices as fit whole, or the piece of the first whose turn it is, with the count of the others."""
    if not board.words:
        return Content("")
    whole, pieces = fit(board.words, width)
    piece = _lead(len(board.words) - 1) + pieces[min(board.piece, len(pieces) - 1)]
    line = _line(board.words, whole) if whole else piece
    return Content.styled(line.ljust(width), field("do-before")).truncate(width, ellipsis=True)


def fit(words: Sequence[str], width: int) -> tuple[int, list[str]]:
    """Return how many notices fit whole into a row, and the first in pieces that fit: one where it does whole.

    Each piece begins with the words in capitals, so that it can be told by itself what it is about.
    """
    for whole in range(len(words), 0, -1):
        if len(_line(words, whole)) <= width:
            return whole, [words[0]]
    head = " ".join(takewhile(str.isupper, words[0].split(" "))).rstrip(":")
    room = max(len(head) + _SHORTEST, width - len(_lead(len(words) - 1) + _CUT))
    pieces = textwrap.wrap(words[0], room, subsequent_indent=f"{head}{_CUT} " if head else "")
    return 0, [*(f"{piece}{_CUT}" for piece in pieces[:-1]), pieces[-1]]


def _line(words: Sequence[str], whole: int) -> str:
    return _lead(len(words) - whole) + " · ".join(words[:whole])


def _lead(rest: int) -> str:
    """Return what stands before the words: the mark, and how many notices have no room."""
    return f" ▲ (+{rest}) " if rest else " ▲ "
