"""Capitals and digits four rows high in half blocks, for whatever is read from two metres away."""

from __future__ import annotations

from functools import cache

from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive
from textual.widget import Widget

from shopmate.tui.lines import decimal_mark
from shopmate.units import marked

ROWS = 4
"""Rows of one line of block glyphs, the blank half row under it included."""

_BANDS = (
    (
        "ABCDEF",
        """
        .###. ####. .#### ####. ##### #####
        #...# #...# #.... #...# #.... #....
        #...# #...# #.... #...# #.... #....
        ##### ####. #.... #...# ####. ####.
        #...# #...# #.... #...# #.... #....
        #...# #...# #.... #...# #.... #....
        #...# ####. .#### ####. ##### #....
        """,
    ),
    (
        "GHIJKL",
        """
        .#### #...# ### ..### #...# #....
        #.... #...# .#. ....# #..#. #....
        #.... #...# .#. ....# #.#.. #....
        #.### ##### .#. ....# ##... #....
        #...# #...# .#. #...# #.#.. #....
        #...# #...# .#. #...# #..#. #....
        .#### #...# ### .###. #...# #####
        """,
    ),
    (
        "MNOPQR",
        """
        #...# #...# .###. ####. .###. ####.
        ##.## ##..# #...# #...# #...# #...#
        #.#.# ##..# #...# #...# #...# #...#
        #.#.# #.#.# #...# ####. #...# ####.
        #...# #..## #...# #.... #.#.# #.#..
        #...# #..## #...# #.... #..#. #..#.
        #...# #...# .###. #.... .##.# #...#
        """,
    ),
    (
        "STUVWX",
        """
        .#### ##### #...# #...# #...# #...#
        #.... ..#.. #...# #...# #...# #...#
        #.... ..#.. #...# #...# #...# .#.#.
        .###. ..#.. #...# #...# #.#.# ..#..
        ....# ..#.. #...# #...# #.#.# .#.#.
        ....# ..#.. #...# .#.#. ##.## #...#
        ####. ..#.. .###. ..#.. #...# #...#
        """,
    ),
    (
        "ÄÖÜ",
        """
        #...# #...# #...#
        ..... ..... .....
        .###. .###. #...#
        #...# #...# #...#
        ##### #...# #...#
        #...# #...# #...#
        #...# .###. .###.
        """,
    ),
    (
        "YZ01234",
        """
        #...# ##### .###. ..#.. .###. ####. #..#.
        #...# ....# #...# .##.. #...# ....# #..#.
        .#.#. ...#. #..## #.#.. ....# ....# #..#.
        ..#.. ..#.. #.#.# ..#.. ..##. ..##. #####
        ..#.. .#... ##..# ..#.. .#... ....# ...#.
        ..#.. #.... #...# ..#.. #.... ....# ...#.
        ..#.. ##### .###. ##### ##### ####. ...#.
        """,
    ),
    (
        "56789",
        """
        ##### .###. ##### .###. .###.
        #.... #.... ....# #...# #...#
        #.... #.... ...#. #...# #...#
        ####. ####. ...#. .###. .####
        ....# #...# ..#.. #...# ....#
        ....# #...# ..#.. #...# ....#
        ####. .###. ..#.. .###. .###.
        """,
    ),
    (
        ".,:;+-−/",
        """
        .. .. .. .. ..... ... ..... ....#
        .. .. ## ## ..... ... ..... ....#
        .. .. ## ## ..#.. ... ..... ...#.
        .. .. .. .. ..#.. ### ..... ..#..
        .. ## ## ## ##### ... ##### .#...
        ## ## ## ## ..#.. ... ..... #....
        ## #. .. #. ..#.. ... ..... #....
        """,
    ),
    (
        "()%°=<>",
        """
        .# #. ##..# .#. ..... ...# #...
        #. .# ##..# #.# ..... ..#. .#..
        #. .# ...#. .#. ####. .#.. ..#.
        #. .# ..#.. ... ..... #... ...#
        #. .# .#... ... ####. .#.. ..#.
        #. .# #..## ... ..... ..#. .#..
        .# #. #..## ... ..... ...# #...
        """,
    ),
    (
        "#'\"½²³×",
        """
        .#.#. # #.# #...# ##. ##. .....
        .#.#. # #.# #..#. ..# ..# .....
        ##### . ... #.#.. .#. .#. #...#
        .#.#. . ... ..### #.. ..# .#.#.
        ##### . ... .#..# ### ##. ..#..
        .#.#. . ... #..#. ... ... .#.#.
        .#.#. . ... ..### ... ... #...#
        """,
    ),
    (
        "?!&≈",
        """
        .###. ## .##.. .....
        #...# ## #..#. .##.#
        ....# ## #..#. #..#.
        ..##. ## .##.. .....
        ..#.. ## #.#.# .##.#
        ..... .. #..#. #..#.
        ..#.. ## .##.# .....
        """,
    ),
)
"""The glyphs, seven rows high and up to five columns wide, side by side under the characters they are for."""

_GLYPHS = {
    character: tuple(row[place] for row in picture)
    for characters, band in _BANDS
    for picture in [[line.split() for line in band.split("\n") if line.strip()]]
    for place, character in enumerate(characters)
}
_GLYPHS[" "] = ("...",) * 7
_GLYPHS["-"] = tuple(row.replace("#####", ".###.") for row in _GLYPHS["−"])
_UNKNOWN = _GLYPHS["?"]

_CHARACTERS = frozenset(_GLYPHS)

_HALVES = {(".", "."): " ", ("#", "."): "▀", (".", "#"): "▄", ("#", "#"): "█"}


def has_glyphs(text: str) -> bool:
    """Return whether all of `text` can be drawn; what cannot is better read in plain text than guessed."""
    return _CHARACTERS.issuperset(text.upper())


def columns(text: str, double: bool = False) -> int:
    """Return how many columns `text` takes in block glyphs: at most 6 a character, less 1; twice that `double`."""
    wide = len(text.upper()) - 1
    for character in text.upper():
        wide += len(_GLYPHS.get(character, _UNKNOWN)[0])
    return (1 + double) * max(0, wide)


def rows(text: str, double: bool = False) -> list[str]:
    """Return the rows of one line of block glyphs, each `columns(text, double)` wide; small letters become capitals.

    They are four, or `double` eight. A character that has no glyph is drawn as a question mark.
    """
    drawn = [_drawn(character, double) for character in text.upper()] or [("",) * ROWS * (1 + double)]
    return [(" " * (1 + double)).join(row) for row in zip(*drawn, strict=True)]


@cache
def _drawn(character: str, double: bool) -> tuple[str, ...]:
    """Return the rows of one character, the blank one under it included."""
    glyph = _GLYPHS.get(character, _UNKNOWN)
    dots = (*glyph, "." * len(glyph[0]))
    if double:
        return tuple("".join(2 * _HALVES[dot, dot] for dot in line) for line in dots)
    return tuple("".join(map(_HALVES.__getitem__, zip(*pair, strict=True))) for pair in zip(dots[::2], dots[1::2], strict=True))


def wrap(text: str, width: int, double: bool = False) -> list[str]:
    """Return `text` broken between words into lines that fit `width` columns in block glyphs.

    A word wider than that has a line of its own and stays whole: the caller sees by `columns` that it does not fit.
    """
    lines: list[str] = []
    for word in text.split():
        if lines and columns(f"{lines[-1]} {word}", double) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def draw(text: str, tail: str = "", *, width: int, most: int = 2) -> list[str]:
    """Return all rows of `text` in block glyphs with `tail` in small text at the foot of the last line.

    The list is empty when that needs more than `width` columns or more than `most` lines, or a letter has no glyph.
    """
    if not has_glyphs(text):
        return []
    lines = wrap(text, width)
    after = len(tail) + 1 if tail else 0
    if not 0 < len(lines) <= most or any(columns(line) > width for line in lines) or columns(lines[-1]) + after > width:
        return []
    drawn = [row for line in lines for row in rows(line)]
    if tail:
        drawn[-1] = f"{drawn[-1]} {tail}"
    return drawn


_APART = 6
"""Columns between two texts side by side."""


class Block(Widget):
    """Text in block glyphs, or in plain bold text where the glyphs do not fit the room there is."""

    DEFAULT_CSS = """
    Block { height: auto; width: 1fr; text-style: bold; }
    """

    text: reactive[str] = reactive("", layout=True)
    """What is shown; small letters become capitals."""
    tail: reactive[str] = reactive("", layout=True)
    """Small text after the glyphs: a unit, whose meaning capitals would change."""
    most: reactive[int] = reactive(2, layout=True)
    """Most lines of glyphs; what needs more is shown in plain text."""

    def __init__(
        self, text: str = "", tail: str = "", *, most: int = 2, id: str | None = None, classes: str | None = None
    ) -> None:
        super().__init__(id=id, classes=classes)
        self.set_reactive(Block.text, text)
        self.set_reactive(Block.tail, tail)
        self.set_reactive(Block.most, most)

    beside: reactive[tuple[str, str]] = reactive(("", ""))
    """Another text and its tail, at the right of the first where there is room for both."""

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        drawn = draw(self.text, self.tail, width=width, most=self.most)
        return len(drawn) or max(1, len(Content(self._plain).wrap(max(1, width))))

    def render(self) -> Content:
        width, height = self.content_size
        text = marked(self.text, decimal_mark(self.app))
        drawn = draw(text, self.tail, width=width, most=self.most)
        if not 0 < len(drawn) <= height:
            return Content(self._plain)
        other, tail = self.beside
        others = draw(marked(other, decimal_mark(self.app)), tail, width=width, most=1) if other else []
        left = max(map(len, drawn)) + _APART
        if len(drawn) != len(others) or left + max(map(len, others)) > width:
            return Content("\n".join(drawn))
        return Content("\n").join(
            Content.assemble(row.ljust(left), (beside, "$quiet")) for row, beside in zip(drawn, others, strict=True)
        )

    @property
    def _plain(self) -> str:
        return f"{self.text} {self.tail}".strip()
