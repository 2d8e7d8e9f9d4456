"""A numbered list from which one or two digits choose."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping
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
        """How many digits choose: as many as the largest number has, if not told otherwise."""
        return self._digits or len(str(max(self.choices, default=0)))

    @property
    def pages(self) -> int:
        """How many pages the choices take at the present size."""
        return -(-len(self.choices) // self._page_size()) or 1

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
        number = self.typed + event.character
        if len(number) < self.digits:
            started = any(self._label(item).startswith(number) for item in self.choices)
            self.typed = number if started else ""
            return started
        self.typed = ""
        if int(number) not in self.choices:
            return False
        self.chosen = int(number)
        return True

    def turn_page(self) -> None:
        """Go to the next page, after the last one to the first."""
        self.page = (self.page + 1) % self.pages

    def on_resize(self) -> None:
        self.post_message(self.Resized())

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        lines = self._wrapped(width)
        return len(lines) if lines else -(-len(self.choices) // self._columns(width)) or 1

    def render(self) -> Content:
        width = self.content_size.width
        if self.pages == 1 and (wrapped := self._wrapped(width)) and len(wrapped) <= self.content_size.height:
            return Content("\n").join(wrapped)
        size, columns = self._page_size(), self._columns(width)
        start = min(self.page, self.pages - 1) * size
        items = list(islice(self.choices.items(), start, start + size))
        rows = -(-len(items) // columns) or 1
        lines = []
        for row in range(rows):
            cells = [self._cell(number, text) for number, text in items[row::rows]]
            padded = [cell.pad_right(self._widest() - cell.cell_length) for cell in cells[:-1]]
            lines.append(Content(" " * _GAP).join([*padded, *cells[-1:]]))
        return Content("\n").join(line.truncate(width, ellipsis=True) for line in lines)

    def _cell(self, number: int, text: str) -> Content:
        mark = "▸" if number == self.chosen else " "
        label = self._label(number)
        hot = number == self.chosen or (self.typed and label.startswith(self.typed))
        return Content.assemble(mark, (f" {label} ", "bold reverse" if hot else "bold"), (f" {text}", "bold" if hot else ""))

    def _wrapped(self, width: int) -> list[Content]:
        """Return the rows of choices that are wider than one column, each over as many as it takes; none where it may not."""
        if not self._may_wrap or self._widest() <= width:
            return []
        indent = self.digits + 4
        rows: list[Content] = []
        for number, text in self.choices.items():
            first, *rest = textwrap.wrap(text, max(8, width - indent)) or [""]
            rows += [self._cell(number, first), *(Content(" " * indent + line) for line in rest)]
        return rows

    def _label(self, number: int) -> str:
        return f"{number:0{self.digits}d}"

    def _widest(self) -> int:
        return max((len(text) for text in self.choices.values()), default=0) + self.digits + 4

    def _columns(self, width: int) -> int:
        return max(1, (width + _GAP) // (self._widest() + _GAP))

    def _page_size(self) -> int:
        return max(1, self.content_size.height) * self._columns(self.content_size.width)
