"""The picture of the result of a form, in the room there is for it."""

from __future__ import annotations

import textwrap

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from shopmate import picture
from shopmate.dialogue.form import Form
from shopmate.picture import Picture
from shopmate.tui.lines import ASCII_CLASS

AIRY_ROWS = 20
"""Rows from which there is room for a blank one between groups of a result, and for the words under a picture."""


class Drawing:
    """The picture of the result of a form, drawn once for each room it is asked for."""

    def __init__(self, form: Form) -> None:
        self._form = form
        self._of: Picture | None = None
        self._drawn: dict[tuple[Size, bool, bool], list[Content]] = {}

    def lines(self, room: Size, ascii_only: bool, *, words: bool) -> list[Content]:
        """Return the picture for a room, over its words where both fit; its words alone, or nothing without `words`."""
        seen = self._form.picture
        if seen is not self._of:
            self._of = seen
            self._drawn.clear()
        if seen is None:
            return []
        asked = (room, ascii_only, words)
        if asked not in self._drawn:
            said = textwrap.wrap(seen.words, max(1, room.width)) if words and room.height >= AIRY_ROWS else []
            rows = room.height - len(said) - bool(said)
            lines = picture.draw(seen, room.width, rows, ascii_only, self._form.system, words=words)
            if said and lines != said:
                lines = [*lines, "", *said]
            self._drawn[asked] = [Content(line) for line in lines]
        return self._drawn[asked]


class Sketch(Widget):
    """The picture of the result under the entry, on screens that have room for it there."""

    def __init__(self, drawing: Drawing) -> None:
        super().__init__()
        self._drawing = drawing

    def render(self) -> Content:
        return Content("\n").join(self._drawing.lines(self.content_size, self.app.has_class(ASCII_CLASS), words=False))
