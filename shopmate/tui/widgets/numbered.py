"""A numbered list from which one or two digits choose."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence
from itertools import islice

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

_GAP = 3


class Numbered(Widget):
    """Choices with the digits that choose them, in as many columns as fit and as many pages as that takes."""

    DEFAULT_CSS = """
    Numbered { height: auto; width: 1fr; }
    """

    choices: reactive[Mapping[int, str]] = reactive({}, layout=True, always_update=True)
    """The text of each choice, by its number."""
    notes: reactive[Mapping[int, str]] = reactive({}, layout=True)
    """What is said behind the text of a choice, by its number: it gives way where rows are few."""
    chosen: reactive[int | None] = reactive(None)
    """The number chosen."""
    typed: reactive[str] = reactive("")
    """The first digit of a two-digit number, while the second is awaited."""
    page: reactive[int] = reactive(0)
    """The page shown, from 0."""

    class Resized(Message):
        """The room has changed, and with it how many pages the choices take."""

    def __init__(
        self, digits: int | None = None, *, wraps: bool = False, id: str | None = None, classes: str | None = None
    ) -> None:
        super().__init__(id=id, classes=classes)
        self._digits = digits
        self._may_wrap = wraps

    @property
    def digits(self) -> int:
        """The fewest digits that choose: as many as the largest number has, if not told otherwise."""
        return self._digits or len(str(max(self.choices, default=0)))

    @property
    def pages(self) -> int:
        """How many pages the choices take at the present size."""
        size = self.content_size
        return (
            len(self._packed(size.width, size.height))
            if self._wraps(size.width)
            else -(-len(self.choices) // self._page_size()) or 1
        )

    def ask(self, choices: Mapping[int, str], chosen: int | None) -> None:
        """Show other choices, from the first page."""
        self.choices, self.chosen, self.typed, self.page = choices, chosen, "", 0

    def press(self, event: events.Key) -> bool:
        """Take a digit and return whether it was taken; a number not in the list is not."""
        if event.key in ("plus", "backspace") and self.typed:
            self.typed = ""
            return True
        if event.character is None or event.character not in "0123456789":
            return False
        typed = self.typed + event.character
        labels = {self._label(number): number for number in self.choices}
        if typed in labels:
            self.typed, self.chosen = "", labels[typed]
            return True
        self.typed = typed if any(label.startswith(typed) for label in labels) else ""
        return bool(self.typed)

    def turn_page(self) -> None:
        """Go to the next page, after the last one to the first."""
        self.page = (self.page + 1) % self.pages

    def on_resize(self) -> None:
        self.post_message(self.Resized())

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        if self._wraps(width):
            return sum(len(self._lines(number, width)) for number in self.choices)
        return -(-len(self.choices) // self._columns(width)) or 1

    def render(self) -> Content:
        width, height = self.content_size
        if self._wraps(width):
            packed = self._packed(width, height)
            return Content("\n").join(self._page(packed[min(self.page, len(packed) - 1)], width, height))
        size, columns = self._page_size(), self._columns(width)
        start = min(self.page, self.pages - 1) * size
        items = list(islice(self.choices, start, start + size))
        rows = -(-len(items) // columns) or 1
        lines = []
        for row in range(rows):
            cells = [self._cell(number, self._text(number)) for number in items[row::rows]]
            padded = [cell.pad_right(self._widest() - cell.cell_length) for cell in cells[:-1]]
            lines.append(Content(" " * _GAP).join([*padded, *cells[-1:]]))
        return Content("\n").join(line.truncate(width, ellipsis=True) for line in lines)

    def _cell(self, number: int, text: str) -> Content:
        mark = "▸" if number == self.chosen else " "
        label = self._label(number)
        hot = number == self.chosen or (self.typed and label.startswith(self.typed))
        mark += " " * (self._longest - len(label))
        return Content.assemble(mark, (f" {label} ", "bold reverse" if hot else "bold"), (f" {text}", "bold" if hot else ""))

    def _wraps(self, width: int) -> bool:
        """Return whether choices take several rows each: where one is wider than all of the columns."""
        return self._may_wrap and self._widest() > width

    def _text(self, number: int) -> str:
        return f"{self.choices[number]}  {self.notes.get(number, '')}".rstrip()

    def _lines(self, number: int, width: int, *, noted: bool = True) -> list[str]:
        """Return the text of a choice in the lines that it takes, with its note or without."""
        return textwrap.wrap(self._text(number) if noted else self.choices[number], max(8, width - self._indent)) or [""]

    def _packed(self, width: int, height: int) -> list[list[int]]:
        """Return the choices in as few pages as their texts take without notes, none fuller than it has to be."""
        needs = {number: len(self._lines(number, width, noted=False)) for number in self.choices}
        fewest = len(_pack(needs, height))
        return next(found for least in range(1, max(height, 1) + 1) if len(found := _pack(needs, least)) <= fewest)

    def _page(self, numbers: Sequence[int], width: int, height: int) -> list[Content]:
        """Return the rows of a page: what rows the texts leave goes to the notes, to the shortest first."""
        whole = {number: self._lines(number, width) for number in numbers}
        shown = {number: len(self._lines(number, width, noted=False)) for number in numbers}
        spare = height - sum(shown.values())
        while spare > 0 and (short := [number for number in numbers if shown[number] < len(whole[number])]):
            shown[min(short, key=shown.__getitem__)] += 1
            spare -= 1
        rows: list[Content] = []
        for number, lines in whole.items():
            first, *rest = lines[: shown[number]]
            if len(lines) > shown[number]:  # said to be cut in its last row
                *rest, last = first, *rest
                first, *rest = *rest, f"{textwrap.wrap(last, max(6, width - self._indent - 2))[0]} …"
            rows += [self._cell(number, first), *(Content(" " * self._indent + line) for line in rest)]
        return rows[: max(height, 1)]

    def _label(self, number: int) -> str:
        return f"{number:0{self.digits}d}"

    @property
    def _longest(self) -> int:
        return max((len(self._label(number)) for number in self.choices), default=self.digits)

    @property
    def _indent(self) -> int:
        return self._longest + 4

    def _widest(self) -> int:
        return max((len(self._text(number)) for number in self.choices), default=0) + self._indent

    def _columns(self, width: int) -> int:
        return max(1, (width + _GAP) // (self._widest() + _GAP))

    def _page_size(self) -> int:
        return max(1, self.content_size.height) * self._columns(self.content_size.width)


def _pack(needs: Mapping[int, int], height: int) -> list[list[int]]:
    """Return numbers in pages of at most `height` rows, or of one number that needs more."""
    pages: list[list[int]] = [[]]
    for number in needs:
        if pages[-1] and sum(needs[each] for each in pages[-1]) + needs[number] > height:
            pages.append([])
        pages[-1].append(number)
    return pages
