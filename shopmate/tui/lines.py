"""The last touch on every line before it leaves for the terminal: 7-bit signs, the decimal comma, no colour."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from functools import lru_cache
from typing import TypeVar

from rich.cells import cell_len
from rich.color import Color as RichColor
from rich.segment import Segment
from rich.style import Style
from textual.app import App
from textual.color import Color
from textual.filter import LineFilter

from shopmate.characters import is_fit, visible
from shopmate.units import marked

T = TypeVar("T")

ASCII_CLASS = "ascii"
"""Class of the App under which only 7-bit signs leave for the terminal."""

_SIGNS = {
    "·": "-", "…": "~", "−": "-", "–": "-", "—": "-", "×": "x", "÷": "/", "≈": "~", "±": "~", "≤": "<", "≥": ">", "√": "V",
    "°": "^", "²": "2", "³": "3", "⁴": "4", "⁶": "6", "⁹": "9", "⁻": "-", "₁": "1", "₂": "2", "⁄": "/",
    "’": "'", "′": "'", "”": '"', "″": '"', "‐": "-", "‑": "-",
    "π": "p", "θ": "o", "ρ": "r", "ψ": "y", "σ": "s", "α": "a", "β": "b", "ε": "e", "κ": "k", "λ": "l",
    "ν": "v", "μ": "u", "µ": "u", "Σ": "S", "Δ": "d",
    "⌈": "[", "⌉": "]", "→": ">",
    "○": "o", "◔": "c", "●": "#", "◉": "@", "✖": "x", "◌": ".", "✓": "v",
    "▸": ">", "⊘": "/", "⚠": "!", "▲": "^",
    "▀": '"', "▄": "o", "█": "#", "╱": "/", "╲": "\\", "▒": "%", "░": ":", "•": "*", "─": "-", "├": "|", "┤": "|",
    "┃": "#", "◀": "<", "▶": ">",
}  # fmt: skip
"""The 7-bit sign of each sign we draw, one cell for one, so that nothing moves; those of one kind stay apart."""

_DEGREE_OF_HEAT = re.compile("°(?=[CF])")
"""A degree sign before C or F is left out: 23 C reads by itself, while a bare 45° needs its sign."""


@lru_cache(4096)
def plain(text: str) -> str:
    """Return `text` in 7-bit signs, as many cells wide; a sign without one of its own is a question mark."""
    if text.isascii():
        return text
    return "".join(map(_sign, _DEGREE_OF_HEAT.sub(" ", text)))


def _sign(character: str) -> str:
    if character.isascii():
        return character
    if character in _SIGNS:
        return _SIGNS[character]
    letter = unicodedata.normalize("NFKD", character)[0]  # é is an e
    return letter if letter.isascii() and letter.isalpha() else "?" * cell_len(character)


class PlainSigns(LineFilter):
    """Lets only 7-bit signs through."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(plain(text), style, control) for text, style, control in segments]


class Visible(LineFilter):
    """Makes visible what would act on the terminal or hide there: the one place where all that the screen shows comes by.

    The line stays as wide as it was laid out, where such a character takes no room; its end gives way. The framework
    itself takes out the bell, the backspace and the carriage return.
    """

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        if is_fit("".join([text for text, _, control in segments if not control])):
            return segments
        shown = [segment if segment.control else Segment(visible(segment.text), segment.style) for segment in segments]
        return Segment.adjust_line_length(shown, Segment.get_line_length(segments))


class DecimalComma(LineFilter):
    """Writes decimals with a comma."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(marked(text, ","), style, control) for text, style, control in segments]


def decimal_mark(app: App[T]) -> str:
    """Return the decimal mark that `app` shows, for what is drawn of digits and no text any more."""
    return "," if any(isinstance(touch, DecimalComma) for touch in app.get_line_filters()) else "."


def as_written(touches: Sequence[LineFilter]) -> Sequence[LineFilter]:
    """Return line filters without the decimal comma, for what is shown as it was typed or published."""
    return [touch for touch in touches if not isinstance(touch, DecimalComma)]


class WithoutColour(LineFilter):
    """Leaves bold and reverse alone of all styles: what stands on a field of colour is reversed instead."""

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        return [Segment(text, _colourless(style), control) for text, style, control in segments]


_DEFAULT = RichColor.default()


@lru_cache(1024)
def _colourless(style: Style | None) -> Style | None:
    if style is None:
        return None
    on_field = style.bgcolor is not None and not style.bgcolor.is_default
    return Style(color=_DEFAULT, bgcolor=_DEFAULT, bold=style.bold, reverse=bool(style.reverse) != on_field)
