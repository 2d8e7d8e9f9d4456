"""The pictures of the result of a form, in the room there is for them."""

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
    """The pictures of the result of a form, drawn once for each room they are asked for."""

    def __init__(self, form: Form) -> None:
        self._form = form
        self._of: tuple[Picture, ...] = ()
        self._drawn: dict[tuple[Size, bool, bool], list[list[Content]]] = {}

    def lines(self, room: Size, ascii_only: bool, *, words: bool) -> list[list[Content]]:
        """Return each picture for a room, over its words where both fit; its words alone, or nothing without `words`."""
        if self._form.pictures is not self._of:
            self._of = self._form.pictures
            self._drawn.clear()
        asked = (room, ascii_only, words)
        if asked not in self._drawn:
            drawn = [self._lines(seen, room, ascii_only, words=words) for seen in self._of]
            self._drawn[asked] = [[Content(line) for line in lines] for lines in drawn if lines]
        return self._drawn[asked]

    def _lines(self, seen: Picture, room: Size, ascii_only: bool, *, words: bool) -> list[str]:
        said = textwrap.wrap(seen.said(self._form.system), max(1, room.width)) if words and room.height >= AIRY_ROWS else []
        rows = room.height - len(said) - bool(said)
        lines = picture.draw(seen, room.width, rows, ascii_only, self._form.system, words=words)
        return [*lines, "", *said] if said and lines != said else lines


class Sketch(Widget):
    """The first picture of the result that there is room for under the entry, on screens that have room there."""

    def __init__(self, drawing: Drawing) -> None:
        super().__init__()
        self._drawing = drawing

    def render(self) -> Content:
        drawn = self._drawing.lines(self.content_size, self.app.has_class(ASCII_CLASS), words=False)
        return Content("\n").join(next(iter(drawn), []))
