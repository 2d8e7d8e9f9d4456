"""The form of a calculator: fields filled in from the keypad, the result worked out at every key."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Mapping, Sequence
from typing import Literal

from textual import events
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.filter import LineFilter
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.widget import Widget
from textual.widgets import Static

from shopmate import calc, picture, units
from shopmate.calculator import (
    Calculator,
    Choice,
    Count,
    Either,
    Field,
    Kind,
    Measure,
    Measures,
    RatioKind,
    doubt,
    last_value,
)
from shopmate.errors import InputError, ShopmateError
from shopmate.phrases import phrase
from shopmate.picture import Picture
from shopmate.result import Figure, Result, present
from shopmate.tui.keys import Offer
from shopmate.tui.lines import ASCII_CLASS, as_written, decimal_mark
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets import block
from shopmate.tui.widgets.entry import Entry
from shopmate.tui.widgets.key_line import KeyLine
from shopmate.tui.widgets.numbered import Numbered
from shopmate.units import Quantity, System, marked

_ENTRY_ROWS = 13
"""Rows under the list of fields that the field being filled in needs."""

_LARGE_ROWS = block.ROWS + 1
"""Rows of an output in block digits with its title."""

_AIRY_ROWS = 20
"""Rows from which there is room for a blank one between groups of a result."""

_Page = tuple[Literal["glance", "result", "picture", "working"], int]
"""What is shown of a result, and which of the pages that takes, from 0."""

_AT_A_GLANCE: _Page = ("glance", 0)
"""As much of the result as stands beside the entry."""

_A_FIGURE = 0
"""Number in a list of names that stands for typing the figure itself."""


class FormScreen(KeyedScreen[Result | None]):
    """The fields of one calculator; closes with the result on the screen, None if there is none.

    `last` are texts used before, offered as the values to begin with; `system` is what results are shown in; `remember`
    is called with the texts whenever one is taken.
    """

    CSS_PATH = "form.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (70, "-medium"), (110, "-wide")]  # noqa: RUF012 (declared so in the base)
    VERTICAL_BREAKPOINTS = [(0, "-short"), (17, "-tall")]  # noqa: RUF012

    def __init__(
        self,
        name: str,
        last: Mapping[str, str],
        system: System,
        remember: Callable[[Mapping[str, str]], None] = lambda texts: None,
    ) -> None:
        super().__init__()
        self._remember = remember
        self._calculator = calc.find(name)
        self._system = system
        self._drawing = Drawing(self._calculator, system)
        self._last = {item.name: last[item.name] for item in self._calculator.inputs if last.get(item.name)}
        self.texts: dict[str, str] = dict(self._last)
        """The text of each field filled in, fit to be given as `last` another time."""
        self.result: Result | None = None
        """What the fields on the screen come to, None while they come to nothing."""
        self.kept = False
        """Whether the result is to be kept in the log."""
        self._at = 0
        self._figure = False
        self._asked = False

    def body(self) -> Sequence[Widget]:
        return (
            Static(classes="heading"),
            Horizontal(
                Vertical(
                    FieldList(self._calculator, self.texts, self._last),
                    Static(classes="asked"),
                    Static(classes="help"),
                    Entry(),
                    Numbered(),
                    Sketch(self._drawing),
                    classes="left",
                ),
                Outcome(self._calculator, self._system, self._drawing),
                classes="work",
            ),
        )

    def on_mount(self) -> None:
        typed = (index for index, item in enumerate(self._calculator.inputs) if self._typed_before(item))
        self._at = next(typed, 0)
        self._show_field()

    def on_resize(self, event: events.Resize) -> None:
        self.call_after_refresh(self._show_heading)

    def on_numbered_resized(self) -> None:
        self.show_offers()

    def on_outcome_resized(self) -> None:
        self.show_offers()

    # What the keys do

    def type_key(self, event: events.Key) -> bool:
        offered = any(event.key == offer.key or event.key in offer.also for offer in self.offers())
        taken = False
        if self._field is None:
            return False
        if self._chooses:
            taken = not offered and self.query_one(Numbered).press(event)
            if taken:
                self._choose()
        elif not offered:
            taken = self._entry.press(event)
        if taken:
            self._asked = False
            self._show_result()
        return taken

    def offers(self) -> Sequence[Offer]:
        outcome = self.query_one(Outcome)
        more = Offer("full_stop", outcome.next_word, self._turn, again=True)
        leave = Offer("slash", "leave", self._leave, also=("escape",))
        if self._field is None:
            keep = [Offer("enter", "keep in log", self._keep)] if self.result else []
            return (*keep, Offer("minus", "back", self._back), more, leave)
        if not self._chooses and self._entry.text:
            erase = Offer("plus", "erase", self._erase, also=("backspace",), again=True)
            take = Offer("enter", "yes, meant" if self._asked else "take", self._enter)
            again = [Offer("minus", "back", self._back)] if self._entry.text == "-" and self._can_go_back else []
            return (take, erase, *again)
        offers = [Offer("enter", "keep" if self._value_text(self._field) else "skip", self._enter)]
        if self._signed:
            offers += [Offer("minus", "below 0", self._begin_below_zero)]
        elif self._can_go_back:
            offers += [Offer("minus", "list" if self._figure else "back", self._back)]
        return (*offers, *self._plus(), more, leave)

    def show_offers(self) -> None:
        super().show_offers()
        if self.has_class("-narrow"):
            # The place and the title of the field stand above it.
            self.fit_entry(above=2)
        else:
            self._entry.loosen()

    def _plus(self) -> Sequence[Offer]:
        if self.has_class("looking"):
            return ()
        numbered = self.query_one(Numbered)
        assert self._field is not None
        if self._chooses and numbered.typed:
            return (Offer("plus", phrase("erase {text}", numbered.typed), self._erase, also=("backspace",), again=True),)
        if self._chooses and numbered.pages > 1:
            return (Offer("plus", "more names", numbered.turn_page, again=True),)
        if self._field.optional and self._field.name in self.texts:
            return (Offer("plus", "clear", self._clear, also=("backspace",)),)
        if not self._chooses and self._entry.has_units:
            return (Offer("plus", "unit", self._next_unit, also=("tab",), again=True),)
        return ()

    def _enter(self) -> None:
        field = self._field
        if field is None:
            return
        if not self._chooses and self._entry.text:
            if self._entry.value is None:
                self.query_one(KeyLine).echo(phrase("NOT TAKEN"))
                return
            question = doubt(field.kind, self._entry.value, last_value(field, self.texts))
            if question and not self._asked:
                self._asked = True
                self._entry.note = question
                return
            self.texts[field.name] = self._entry.text_with_unit()
            self._entry.note = ""
            self._last.pop(field.name, None)
            self._remember(self.texts)
        self.forget_typed()
        self._say_value(field)
        self._at += 1
        self._show_field()

    def _choose(self) -> None:
        number = self.query_one(Numbered).chosen
        field = self._field
        if number is None or field is None:
            return
        if number == _A_FIGURE:
            self._figure = True
            self._show_entry(field)
        else:
            self.texts[field.name] = self._names(field)[number - 1]
            self._last.pop(field.name, None)
            self._remember(self.texts)
            self._show_field_list()

    def _back(self) -> None:
        self.forget_typed()
        if self._figure and self._field is not None:
            self._figure = False
            self._show_field()
            return
        self._entry.text = ""
        self._at -= 1
        self._show_field()
        self.query_one(KeyLine).echo(phrase("BACK"))

    def _begin_below_zero(self) -> None:
        self._entry.text = "-"
        self._show_result()

    def _erase(self) -> None:
        self._asked = False
        if self._chooses:
            self.query_one(Numbered).typed = ""
        else:
            self._entry.erase()
        self._show_result()

    def _next_unit(self) -> None:
        self._entry.next_unit()

    def _clear(self) -> None:
        assert self._field is not None
        self.texts.pop(self._field.name)
        self._last.pop(self._field.name, None)
        self._remember(self.texts)
        self.query_one(KeyLine).echo(phrase("CLEARED"))
        self._show_field()

    def _turn(self) -> None:
        self.query_one(Outcome).turn()
        self._show_reading()

    def _keep(self) -> None:
        self.kept = True
        self.dismiss(self.result)

    def _leave(self) -> None:
        self.dismiss(self.result)

    # What the fields are

    @property
    def _field(self) -> Field | None:
        """The field being filled in, None after the last one."""
        fields = self._calculator.inputs
        return fields[self._at] if self._at < len(fields) else None

    @property
    def _entry(self) -> Entry:
        return self.query_one(Entry)

    @property
    def _chooses(self) -> bool:
        """Whether digits choose from a list now."""
        return self._field is not None and isinstance(self._field.kind, Choice | Either) and not self._figure

    @property
    def _can_go_back(self) -> bool:
        return self._at > 0 or self._figure

    @property
    def _signed(self) -> bool:
        """Whether a number below zero may be typed now."""
        measure = _measure(self._field.kind) if self._field and not self._chooses else None
        if measure is None:
            return False
        floor = measure.low if measure.low is not None else measure.above
        return floor is None or floor < 0

    def _typed_place(self, field: Field) -> str:
        return f"form:{self._calculator.name} {field.name}"

    def _typed_before(self, field: Field) -> str:
        """Return what was half typed for a field when the program was shut."""
        find = getattr(self.app, "typed_before", None)
        return find(self._typed_place(field))[0] if find is not None and not isinstance(field.kind, Choice) else ""

    def _names(self, field: Field) -> tuple[str, ...]:
        kind = field.kind.choice if isinstance(field.kind, Either) else field.kind
        assert isinstance(kind, Choice)
        return kind.names()

    def _value_text(self, field: Field) -> str:
        return self.texts.get(field.name) or field.default or ""

    # What is shown

    def _show_field(self) -> None:
        field = self._field
        self._asked, self.typed_at = False, ""
        self._figure = field is not None and isinstance(field.kind, Either) and bool(self._typed_before(field))
        numbered = self.query_one(Numbered)
        numbered.display = self._chooses
        self._entry.display = field is not None and not self._chooses
        self._show_field_list()
        self._show_heading()
        if field is not None:
            self.query_one(".asked", Static).update(Content.styled(f" {field.title} ", "bold reverse"))
            self.query_one(".help", Static).update(Content(field.help))
            if self._chooses:
                names = dict(enumerate(self._names(field), 1))
                value = self._value_text(field)
                chosen = next((number for number, name in names.items() if name == value), None)
                numbered.ask(names | ({_A_FIGURE: "a figure"} if isinstance(field.kind, Either) else {}), chosen)
            else:
                self._show_entry(field)
        self._show_result()

    def _show_entry(self, field: Field) -> None:
        kind = field.kind.measure if isinstance(field.kind, Either) else field.kind
        self.query_one(Numbered).display, self._entry.display = False, True
        value = self._value_text(field)
        hint = self._keeps(field, value) if value else kind.describe()
        if isinstance(kind, Measure):
            among, unit = units.units_of(kind.unit) if kind.unit else (), units.own_unit(kind.unit, self._system)
            self._entry.ask(field.kind.read, among, unit, hint=hint if value else kind.limits(unit))
        elif isinstance(kind, Measures):
            # A keypad has no comma and no letters: `-` parts the sizes, and the unit after the last counts for all.
            unit = kind.measure.unit
            own = units.own_unit(unit, self._system)
            self._entry.ask(kind.read, units.units_of(unit), own, letters=True, dash=";", hint=hint)
        elif isinstance(kind, RatioKind):
            self._entry.ask(kind.read, units.RATIO_BASES, units.RATIO_BASES[0], dash=":", hint=hint)
        else:
            self._entry.ask(kind.read, letters=not isinstance(kind, Count), hint=hint)
        self.go_on_typing(self._typed_place(field))

    def _keeps(self, field: Field, value: str) -> str:
        if field.name in self._last:
            return phrase("Enter keeps {value} (last time)", value)
        return phrase("Enter keeps {value}" if field.name in self.texts else "Enter keeps {value} (default)", value)

    def _show_field_list(self) -> None:
        self.query_one(FieldList).at = self._at
        self.query_one(FieldList).refresh()

    def _show_heading(self) -> None:
        heading = self.query_one(".heading", Static)
        count = len(self._calculator.inputs)
        place = phrase("field {number} of {count}", self._at + 1, count) if self._field is not None else phrase("all fields")
        title = Content.styled(self._calculator.title, "bold").truncate(max(1, self.size.width - len(place) - 4), ellipsis=True)
        heading.update(title.pad_right(max(1, self.size.width - 2 - title.cell_length - len(place))) + place)
        self._show_reading()

    def _show_reading(self) -> None:
        """On a small screen the result takes the room of the entry while it is being read, a picture on every screen."""
        page = self.query_one(Outcome).page
        self.set_class(self._field is None, "filled")
        self.set_class(self._field is None or page != _AT_A_GLANCE, "reading")
        self.set_class(page[0] == "picture", "looking")

    def _show_result(self) -> None:
        texts = dict(self.texts)
        field = self._field
        waiting = []
        if field is not None and not self._chooses and self._entry.text:
            texts[field.name] = self._entry.text_with_unit()
            if self._entry.problem is not None:
                waiting.append(field.title)
        for item in self._calculator.inputs:
            if not texts.get(item.name) and item.required:
                waiting.append(item.title)
        outcome = self.query_one(Outcome)
        self.result = None
        problems: Sequence[str] = ()
        if not waiting:
            try:
                self.result = calc.run(self._calculator.name, texts)
            except InputError as error:
                titles = {item.name: item.title for item in self._calculator.inputs}
                problems = [
                    f"{titles.get(problem.field, problem.field)}: {problem.what}; {problem.fix}" for problem in error.problems
                ]
            except ShopmateError as error:
                problems = [str(error)]
        self._drawing.show(self.result)
        outcome.show(self.result, waiting, problems)
        self.query_one(Sketch).refresh()
        self._show_reading()

    def _say_value(self, field: Field) -> None:
        text = self._value_text(field)
        self.query_one(KeyLine).echo(phrase("TAKEN {value}", text) if text else phrase("SKIPPED"))


class FieldList(Widget):
    """The fields with their values, the one being filled in always in view."""

    at: reactive[int] = reactive(0)
    """Index of the field being filled in; one past the last after all."""

    def __init__(self, calculator: Calculator, texts: Mapping[str, str], last: Mapping[str, str]) -> None:
        super().__init__()
        self._calculator, self._texts, self._last = calculator, texts, last

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(1, min(len(self._calculator.inputs), container.height - _ENTRY_ROWS))

    def render(self) -> Content:
        fields = self._calculator.inputs
        width, height = self.content_size
        first = max(0, min(self.at - height // 2, len(fields) - height))
        lines = []
        for index, item in list(enumerate(fields))[first : first + height]:
            here = index == self.at
            # What is said of the value gives way to the title of the field, that to the value.
            values = self._values(item)
            value = next((text for text in values if len(item.title) + text.cell_length + 4 <= width), values[-1])
            room = max(1, width - value.cell_length - 4)
            title = Content(item.title).truncate(room, ellipsis=True)
            line = Content.assemble("▸ " if here else "  ", title.pad_right(room - title.cell_length), "  ", value)
            lines.append(line.truncate(width, ellipsis=True).stylize("bold" if here else ""))
        return Content("\n").join(lines)

    def _values(self, item: Field) -> tuple[Content, ...]:
        """Return what to say of a field's value, from the fullest to the shortest."""
        if text := self._texts.get(item.name):
            said = f" {phrase('last time')}" if item.name in self._last else ""
            return (Content.assemble(text, (said, "$quiet")), Content(text))
        if item.default is not None:
            return (Content.assemble(item.default, (f" {phrase('default')}", "$quiet")), Content(item.default))
        if item.optional:
            return (Content.styled(phrase("optional"), "$quiet"), Content.styled("–", "$quiet"))
        return (Content(phrase("needed")),)


class Drawing:
    """The picture of the result on the screen, drawn once for each room it is asked for."""

    def __init__(self, calculator: Calculator, system: System) -> None:
        self._make, self._system = calculator.picture, system
        self._picture: Picture | None = None
        self._drawn: dict[tuple[Size, bool, bool], list[Content]] = {}

    def show(self, result: Result | None) -> None:
        """Take another result."""
        self._picture = self._make(result.inputs, result.outputs) if self._make is not None and result is not None else None
        self._drawn.clear()

    def lines(self, room: Size, ascii_only: bool, *, words: bool) -> list[Content]:
        """Return the picture for a room, over its words where both fit; its words alone, or nothing without `words`."""
        if self._picture is None:
            return []
        asked = (room, ascii_only, words)
        if asked not in self._drawn:
            said = textwrap.wrap(self._picture.words, max(1, room.width)) if words and room.height >= _AIRY_ROWS else []
            rows = room.height - len(said) - bool(said)
            lines = picture.draw(self._picture, room.width, rows, ascii_only, self._system, words=words)
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


class Outcome(Widget):
    """What a calculator comes to, and on further pages its working, its sources and where it is valid."""

    page: reactive[_Page] = reactive(_AT_A_GLANCE)
    """The page shown, or what stands beside the entry while nothing is paged through."""

    class Resized(Message):
        """The room has changed, and with it how many pages the result takes."""

    def __init__(self, calculator: Calculator, system: System, drawing: Drawing) -> None:
        super().__init__()
        self._calculator, self._system, self._drawing = calculator, system, drawing
        self._result: Result | None = None
        self._waiting: Sequence[str] = ()
        self._problems: Sequence[str] = ()

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

    def _following(self) -> _Page:
        pages = list(self._pages())
        now: _Page = ("result", 0) if self.page == _AT_A_GLANCE and not self._is_stacked else self.page
        if now == _AT_A_GLANCE:
            return pages[0]
        # A page there is no longer, since the room has changed, is followed by what comes after its kind.
        later = [page for page in pages if _place(page) > _place(now)]
        return later[0] if later else _AT_A_GLANCE

    def show(self, result: Result | None, waiting: Sequence[str], problems: Sequence[str]) -> None:
        """Show a result, or what is still waited for, or what is wrong."""
        self._result, self._waiting, self._problems = result, waiting, problems
        self.page = _AT_A_GLANCE
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
        shown = pages.get(("result", 0) if self.page == _AT_A_GLANCE else self.page) or [*pages.values()][-1]
        return Content("\n").join(shown)

    def _pages(self) -> dict[_Page, list[Content]]:
        """Return the lines of all pages in the order they are turned."""
        drawn = [self._drawing.lines(self.content_size, self.app.has_class(ASCII_CLASS), words=True)]
        kinds: tuple[tuple[Literal["result", "picture", "working"], list[list[Content]]], ...] = (
            ("result", self._result_pages()),
            ("picture", self._broken(drawn) if drawn[0] else []),
            ("working", self._broken(self._working())),
        )
        found: dict[_Page, list[Content]] = {(kind, number): lines for kind, pages in kinds for number, lines in enumerate(pages)}
        return dict(sorted(found.items(), key=lambda page: _place(page[0])))

    def _result_pages(self) -> list[list[Content]]:
        if self._waiting:
            return self._broken([[Content(phrase("waiting for {fields}", ", ".join(self._waiting)))]])
        if self._result is None:
            return self._broken([self._hang(Content.styled("! ", "bold"), problem) for problem in self._problems])
        return self._broken(self._figures(self._result))

    def _figures(self, result: Result) -> list[list[Content]]:
        """Return the outputs, the first large where there is room, in the order of their presentation."""
        read = present(result, self._calculator.outputs, self._system)
        mark = Content.styled("! ", "bold $do-before")
        warnings = [self._hang(mark, text) for text in read.warnings]
        height = self.content_size.height
        if self._is_stacked and self.page == _AT_A_GLANCE:
            first, *rest = [part[:1] for part in self._lines((*read.figures, *read.others))]
            if warnings and height == 1:
                return [[mark + self._after(read.verdict, first)[0]]]
            count = [[self._count(warnings)]] if warnings else []
            if height >= _LARGE_ROWS + len(count):
                first = self._large(read.figures[0])
            return [self._after(read.verdict, first), *count, *rest]
        if height >= 3 * _LARGE_ROWS:
            drawn, small = [[self._large(figure)] for figure in read.head[:2]], read.head[2:]
        else:
            drawn, small = [*([part] for part in self._lines(read.verdict)), [self._large(read.figures[0])]], read.figures[1:]
        gap = [[Content("")]] if height >= _AIRY_ROWS else []
        free = height - sum(len(part) + len(gap) for (part,) in drawn)
        # Cautions that begin on a later page are announced on the first.
        told = [[self._count(warnings)]] if warnings and len(warnings[0]) > free else []
        groups = (told, *drawn, self._lines(small), warnings, self._lines(read.others))
        return [part for group in groups if group for part in (*group, *gap)]

    def _after(self, verdict: Sequence[Figure], rows: list[Content]) -> list[Content]:
        """Return the rows of the first figure with the verdict before it: a row of its own would cost another figure."""
        return [Content.styled("".join(f"{figure.shown} · " for figure in verdict), "bold") + rows[0], *rows[1:]]

    def _count(self, warnings: Sequence[object]) -> Content:
        return Content.styled(phrase("! cautions: {count}, see .", len(warnings)), "bold $do-before")

    def _large(self, figure: Figure) -> list[Content]:
        shown = figure.shown
        drawn = block.draw(marked(shown.number, decimal_mark(self.app)), shown.tail, width=self.content_size.width)
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
        other = units.display(figure.value, "metric" if self._system == "inch" else "inch")
        return "" if other.unit == figure.shown.unit else f"  = {other}"

    def _lines(self, figures: Sequence[Figure]) -> list[list[Content]]:
        """Return figures in a column with their titles beside them."""
        column = max((len(str(figure.shown)) for figure in figures), default=0)
        return [self._hang(Content.styled(f"{str(figure.shown).rjust(column)}  ", "bold"), figure.label) for figure in figures]

    def _hang(self, head: Content, text: str) -> list[Content]:
        """Return `text` wrapped beside `head`."""
        rows = Content(text).wrap(max(12, self.content_size.width - head.cell_length))
        return [(head if row == 0 else Content(" " * head.cell_length)) + line for row, line in enumerate(rows)]

    def _working(self) -> list[list[Content]]:
        parts = []
        if self._result is not None and self._result.working:
            parts.append([Content.styled(phrase("Working"), "bold")])
            parts += [[Content(line)] for line in self._result.working]
        parts.append([Content.styled(phrase("Valid"), "bold")])
        parts.append([Content(self._calculator.valid)])
        parts.append([Content.styled(phrase("Sources"), "bold")])
        parts += [[Content(str(source))] for source in self._calculator.source]
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


def _measure(kind: Kind) -> Measure | None:
    if isinstance(kind, Either):
        return kind.measure
    return kind if isinstance(kind, Measure) else None


def _place(page: _Page) -> tuple[int, int]:
    """Return where a page stands: the picture right after the first page of the result, the working at the end."""
    kind, number = page
    rank = {"glance": 0, "result": 3 if number else 1, "picture": 2, "working": 4}
    return rank[kind], number
