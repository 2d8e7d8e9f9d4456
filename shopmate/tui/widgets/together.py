"""The rows of steps that are taken together: number, what it is, its answer, how old it is and how it is judged."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence

from textual.content import Content

from shopmate.phrases import phrase
from shopmate.session import Row
from shopmate.units import marked

_SIGNS = {"to do": " ", "offered": " ", "asked": "▸", "done": "✓", "waits": "·", "go": "✓", "no go": "✖"}
_STYLES = {"asked": "bold $foreground", "done": "$done", "waits": "$quiet", "go": "$done", "no go": "bold $late"}
_GAP = 2


def lines(rows: Sequence[Row], width: int, height: int, mark: str = ".", *, choosing: bool) -> list[Content]:
    """Return the rows as lines of at most `width` columns, with their details as far as all fit `height`.

    With `choosing` each begins with the digit that chooses it.
    """
    label = min(max((len(row.label) for row in rows), default=0), max(12, width // 2 - 6))
    value = max((len(row.value) for row in rows if len(row.value) <= width // 3), default=0)
    short = [_line(row, width, label, value, mark, choosing=choosing) for row in rows]
    details = [_details(row, width) for row in rows]
    if len(short) + sum(map(len, details)) <= height:
        return [line for row, detail in zip(short, details, strict=True) for line in (row, *detail)]
    if len(short) <= height:
        return short
    at = next((index for index, row in enumerate(rows) if row.mark in ("asked", "no go")), 0)
    first = max(0, min(at - height // 2, len(short) - height))
    return short[first : first + height]


def _line(row: Row, width: int, label: int, value: int, mark: str, *, choosing: bool) -> Content:
    """Return a row: its digit, sign and words in columns, its verdict at the right."""
    number = f"{row.number} " if choosing and row.number else "  "
    judged = {"go": phrase("GO"), "no go": phrase("NO GO")}.get(row.mark, "")
    shown = marked(row.value, mark).ljust(value) if row.value or row.note else ""
    words = f"{row.label.ljust(label) if shown else row.label}{' ' * _GAP}{shown}{' ' * _GAP}{marked(row.note, mark)}".rstrip()
    left = f" {number}{_SIGNS[row.mark]} {words}"
    room = width - len(judged) - (1 if judged else 0)
    left = left if len(left) <= room else left[: room - 1] + "…"
    style = _STYLES.get(row.mark, "$foreground")
    return Content.assemble((left.ljust(room), style), (f" {judged}" if judged else "", style))


def _details(row: Row, width: int) -> list[Content]:
    """Return the details of an item in small print."""
    return [
        Content.styled(f"     {line}", "$quiet")
        for text in row.detail
        for line in textwrap.wrap(text, max(width - 7, 10)) or [""]
    ]
