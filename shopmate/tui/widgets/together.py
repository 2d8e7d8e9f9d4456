"""The rows of steps that are taken together: number, what it is, its answer, how old it is and how it is judged."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from textual.content import Content

from shopmate.phrases import phrase
from shopmate.records import dataclass
from shopmate.session import Row
from shopmate.units import marked

_SIGNS = {"item": " ", "offered": " ", "asked": "▸", "done": "✓", "waits": "·", "go": "✓", "closed": "✖"}
_STYLES = {"asked": "bold $foreground", "done": "$done", "waits": "$quiet", "go": "$done", "closed": "bold $late"}
_GAP = 2
_INDENT = 5
"""Columns before the words of a row, which its further lines keep free."""


@dataclass(frozen=True, slots=True)
class Page:
    """As many rows as a screen shows at once."""

    rows: tuple[Row, ...]
    lines: tuple[Content, ...]


def pages(rows: Sequence[Row], width: int, height: int, mark: str = ".") -> list[Page]:
    """Return the rows in pages of at most `height` lines of at most `width` columns, each with the digit that chooses it.

    A row is whole on its page, its details included, where the page has lines for it; below each page but the last stands
    how many rows are to come.
    """
    parts = [[*lines, *_details(row, width)] for row, lines in zip(rows, _lines(rows, width, mark, choosing=True), strict=True)]
    found: list[Page] = []
    first = 0
    while not found or first < len(rows):
        room = height if sum(map(len, parts[first:])) <= height else max(1, height - 1)
        last, used = first, 0
        while last < len(rows) and (last == first or used + len(parts[last]) <= room):
            used += len(parts[last])
            last += 1
        lines = [line for part in parts[first:last] for line in part][:room]
        if left := len(rows) - last:
            words = phrase("+ 1 more: Enter shows it") if left == 1 else phrase("+ {count} more: Enter shows them", left)
            lines.append(Content.styled(f" {words}", "bold $foreground"))
        found.append(Page(tuple(rows[first:last]), tuple(lines)))
        first = last
    return found


def about(rows: Sequence[Row], width: int, height: int, mark: str = ".") -> list[Content]:
    """Return the rows beside one of them that is asked in at most `height` lines; where that is too few, those about it."""
    parts = _lines(rows, width, mark, choosing=False)
    first, last = 0, len(parts)
    at = next((index for index, row in enumerate(rows) if row.mark == "asked"), 0)
    while sum(map(len, parts[first:last])) > height:
        if last - 1 - at > at - first or first == last - 1:
            last -= 1
        else:
            first += 1
    return [line for part in parts[first:last] for line in part]


def height(rows: Sequence[Row], width: int) -> int:
    """Return how many lines the rows take without their details."""
    return sum(map(len, _lines(rows, width, ".", choosing=True)))


def _lines(rows: Sequence[Row], width: int, mark: str, *, choosing: bool) -> list[list[Content]]:
    """Return the lines of each row: its digit, sign and words in columns, its verdict at the right of the first.

    What a line has no room for stands under it.
    """
    label = min(max((len(row.label) for row in rows), default=0), max(12, width // 2 - 6))
    value = max((len(row.value) for row in rows if len(row.value) <= width // 3), default=0)
    return [_row(row, width, label, value, mark, choosing=choosing) for row in rows]


def _row(row: Row, width: int, label: int, value: int, mark: str, *, choosing: bool) -> list[Content]:
    number = f"{row.number} " if choosing and row.number else "  "
    judged, style = row.verdict, _STYLES.get(row.mark, "$foreground")
    room = width - _INDENT - (len(judged) + 1 if judged else 0)
    shown, note, gap = marked(row.value, mark), marked(row.note, mark), " " * _GAP
    # Words without a value stand where the values of other rows do.
    columns = [row.label.ljust(label), *([shown.ljust(value)] if shown else []), *([note] if note else [])]
    whole = gap.join(columns).rstrip()
    if len(whole) <= room:
        first, more = whole, []
    elif shown and len(first := gap.join(columns[:2]).rstrip()) <= room:
        more = [note]
    else:
        first, more = row.label, list(filter(None, (shown, note)))
    begins, *rest = textwrap.wrap(first, max(room, 10), drop_whitespace=False) or [""]
    rest += [line for text in more for line in textwrap.wrap(text, max(width - _INDENT, 10))]
    head = f" {number}{_SIGNS[row.mark]} {begins}".ljust(width - len(judged))
    lines = [Content.assemble((head, style), (judged, style))]
    return [*lines, *(Content.styled(f"{' ' * _INDENT}{line.strip()}", style) for line in rest)]


def _details(row: Row, width: int) -> list[Content]:
    """Return the details of an item in small print."""
    return [
        Content.styled(f"{' ' * _INDENT}{line}", "$quiet")
        for text in row.detail
        for line in textwrap.wrap(text, max(width - _INDENT - 1, 10)) or [""]
    ]
