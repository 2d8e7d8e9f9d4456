"""What a form comes to, as far as there is room at a glance, and on pages with its pictures, its working and its sources."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from textual.content import Content
from textual.filter import LineFilter
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget

from shopmate import units
from shopmate.dialogue.form import Form
from shopmate.phrases import phrase
from shopmate.result import Figure, Presentation, Result
from shopmate.tui.lines import ASCII_CLASS, as_written, decimal_mark
from shopmate.tui.widgets import block
from shopmate.tui.widgets.sketch import AIRY_ROWS, Drawing
from shopmate.units import Quantity, marked

_LARGE_ROWS = block.ROWS + 1
"""Rows of an output in block digits with its title."""

Page = tuple[Literal["glance", "result", "picture", "working"], int]
"""What is shown of a result, and which of the pages that takes, from 0."""

AT_A_GLANCE: Page = ("glance", 0)
"""As much of the result as stands beside the entry."""


class Outcome(Widget):
    """What a calculator comes to, and on further pages its working, its sources and where it is valid."""

    page: reactive[Page] = reactive(AT_A_GLANCE)
    """The page shown, or what stands beside the entry while nothing is paged through."""

    class Resized(Message):
        """The room has changed, and with it how many pages the result takes."""

    def __init__(self, form: Form, drawing: Drawing) -> None:
        super().__init__()
        self._form, self._drawing = form, drawing

    @property
    def next_word(self) -> str:
        """What the next page holds."""
        kind, number = self._following()
        if kind == "glance":
            return "fields" if self._is_stacked or self.page[0] == "picture" else "result"
        return "more" if number and self.page[0] == kind else kind

    @property
    def _is_stacked(self) -> bool:
        """Whether a glance is all that fits under the entry, so that the pages begin with the result itself."""
        return self.screen.has_class("-narrow") and not self.screen.has_class("filled")

    def _following(self) -> Page:
        pages = list(self._pages())
        now: Page = ("result", 0) if self.page == AT_A_GLANCE and not self._is_stacked else self.page
        if now == AT_A_GLANCE:
            return pages[0]
        # A page there is no longer, since the room has changed, is followed by what comes after its kind.
        later = [page for page in pages if _place(page) > _place(now)]
        return later[0] if later else AT_A_GLANCE

    def show(self) -> None:
        """Show what the form comes to now, or what is still waited for, or what is wrong."""
        self.page = AT_A_GLANCE
        self.refresh()

    def turn(self) -> None:
        """Go to the next page, after the last one back to the glance."""
        self.page = self._following()

    def on_resize(self) -> None:
        self.post_message(self.Resized())

    def get_line_filters(self) -> Sequence[LineFilter]:
        touches = super().get_line_filters()
        return as_written(touches) if self.page[0] == "working" else touches

    def render(self) -> Content:
        pages = self._pages()
        # A page there is no longer, since the room has changed, is the last one.
        shown = pages.get(("result", 0) if self.page == AT_A_GLANCE else self.page, [*pages.values()][-1])
        return Content("\n").join(shown)

    def _pages(self) -> dict[Page, list[Content]]:
        """Return the lines of all pages in the order they are turned."""
        drawn = self._drawing.lines(self.content_size, self.app.has_class(ASCII_CLASS), words=True)
        kinds: tuple[tuple[Literal["result", "picture", "working"], list[list[Content]]], ...] = (
            ("result", self._result_pages()),
            ("picture", self._broken(drawn) if drawn else []),
            ("working", self._broken(self._working())),
        )
        found: dict[Page, list[Content]] = {(kind, number): lines for kind, pages in kinds for number, lines in enumerate(pages)}
        return dict(sorted(found.items(), key=lambda page: _place(page[0])))

    def _result_pages(self) -> list[list[Content]]:
        if self._form.waiting:
            return self._broken([[Content(phrase("waiting for {fields}", ", ".join(self._form.waiting)))]])
        if self._form.result is None:
            return self._broken([self._hang(Content.styled("! ", "bold"), problem) for problem in self._form.problems])
        return self._broken(self._figures(self._form.result))

    def _figures(self, result: Result) -> list[list[Content]]:
        """Return a result in the order of its presentation, as far as there is room for it now."""
        read = Presentation(result, self._form.calculator.outputs, self._form.system)
        mark = Content.styled("! ", "bold $do-before")
        warnings = [self._hang(mark, text) for text in read.warnings]
        count = [[Content.styled(phrase("! {count} cautions: press .", len(warnings)), "bold $do-before")]] if warnings else []
        if self._is_stacked and self.page == AT_A_GLANCE:
            return self._glance(read, mark, count)
        height = self.content_size.height
        if height >= 3 * _LARGE_ROWS:
            drawn, small = [[self._large(figure)] for figure in read.head[:2]], read.head[2:]
        else:
            first = [self._large(figure) for figure in read.figures[:1]]
            drawn, small = [[part] for part in (*self._lines(read.verdict), *first)], read.figures[1:]
        gap = [[Content("")]] if height >= AIRY_ROWS else []
        free = height - sum(len(part) + len(gap) for (part,) in drawn)
        # Cautions that begin on a later page are announced on the first.
        told = count if warnings and len(warnings[0]) > free else []
        groups = (told, *drawn, self._lines(small), warnings, self._lines(read.others))
        return [part for group in groups if group for part in (*group, *gap)]

    def _glance(self, read: Presentation, mark: Content, count: list[list[Content]]) -> list[list[Content]]:
        """Return what is read of a result under the entry: its first figure, large if it fits, and one row of all else."""
        rows = [part[:1] for part in self._lines((*read.figures, *read.others))]
        if not rows:
            return [*self._lines(read.verdict), *count]
        height = self.content_size.height
        if count and height == 1:
            return [[mark + self._after(read.verdict, rows[0])[0]]]
        first = self._large(read.figures[0]) if height >= _LARGE_ROWS + len(count) else rows[0]
        return [self._after(read.verdict, first), *count, *rows[1:]]

    def _after(self, verdict: Sequence[Figure], rows: list[Content]) -> list[Content]:
        """Return the rows of the first figure with the verdict before it: a row of its own would cost another figure."""
        return [Content.styled("".join(f"{figure.shown} · " for figure in verdict), "bold") + rows[0], *rows[1:]]

    def _large(self, figure: Figure) -> list[Content]:
        shown = figure.shown
        drawn = block.draw(marked(shown.number, decimal_mark(self.app)), shown.unit, width=self.content_size.width)
        other = self._elsewhere(figure)
        if self._is_stacked and len(figure.label + other) > self.content_size.width:
            other = ""
        if not drawn:
            return [Content.assemble(f"{figure.label}  ", (str(shown), "bold"), other)]
        return [Content(figure.label + other), *(Content.styled(row, "bold") for row in drawn)]

    def _elsewhere(self, figure: Figure) -> str:
        """Return a figure in the other system, '' where both measure alike."""
        if not isinstance(figure.value, Quantity):
            return ""
        other = units.display(figure.value, "metric" if self._form.system == "inch" else "inch")
        return "" if other.unit == figure.shown.unit else f"  = {other}"

    def _lines(self, figures: Sequence[Figure]) -> list[list[Content]]:
        """Return figures in a column with their titles beside them; a list too long for that stands under its title."""
        most = max(1, self.content_size.width) * 2 // 3
        column = max((size for figure in figures if (size := len(str(figure.shown))) <= most), default=0)
        lines = []
        for figure in figures:
            if len(said := str(figure.shown)) > most:
                lines.append([Content(figure.label), *self._hang(Content("  "), said)])
            else:
                lines.append(self._hang(Content.styled(f"{said.rjust(column)}  ", "bold"), figure.label))
        return lines

    def _hang(self, head: Content, text: str) -> list[Content]:
        """Return `text` wrapped beside `head`."""
        rows = Content(text).wrap(max(12, self.content_size.width - head.cell_length))
        return [(head if row == 0 else Content(" " * head.cell_length)) + line for row, line in enumerate(rows)]

    def _working(self) -> list[list[Content]]:
        parts = []
        result = self._form.result
        if result is not None and result.working:
            read = Presentation(result, self._form.calculator.outputs, self._form.system)
            parts.append([Content.styled(phrase("Working"), "bold")])
            parts += [[Content(line)] for line in read.working]
        parts.append([Content.styled(phrase("Valid for"), "bold")])
        parts.append([Content(self._form.valid)])
        parts.append([Content.styled(phrase("Sources"), "bold")])
        parts += [[Content(str(source))] for source in self._form.calculator.source]
        return parts

    def _broken(self, parts: list[list[Content]]) -> list[list[Content]]:
        """Return the parts wrapped to the width and broken into pages; the rows of one part stay together if they can."""
        width, height = max(1, self.content_size.width), max(1, self.content_size.height)
        pages: list[list[Content]] = [[]]
        for part in parts:
            wrapped = [line for row in part for line in row.wrap(width)]
            if pages[-1] and len(pages[-1]) + len(wrapped) > height:
                pages.append([])
            while len(wrapped) > height:
                pages[-1], wrapped = wrapped[:height], wrapped[height:]
                pages.append([])
            pages[-1] += wrapped
        return pages


def _place(page: Page) -> tuple[int, int]:
    """Return where a page stands: the picture right after the first page of the result, the working at the end."""
    kind, number = page
    rank = {"glance": 0, "result": 3 if number else 1, "picture": 2, "working": 4}
    return rank[kind], number
