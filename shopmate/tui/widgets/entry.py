"""One value being typed on a keypad: checked at every key, shown large as understood, never changed on its own."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from textual import events
from textual.app import ComposeResult
from textual.content import Content
from textual.filter import LineFilter
from textual.reactive import reactive
from textual.widget import Widget
from textual.widgets import Static

from shopmate import units
from shopmate.calculator import Value
from shopmate.dialogue.blank import Blank, with_unit
from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.tui.lines import ASCII_CLASS, as_written, decimal_mark
from shopmate.tui.stage import Stage
from shopmate.tui.widgets.block import ROWS, Block, draw
from shopmate.units import Quantity, Shown, marked, shown

LONGEST_NUMBER, LONGEST_NAME = 24, 40
"""Characters that can be typed: a key held down fills no screen."""

_FRACTION = re.compile(r"/|[¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]")
_STRAY = "EOX"
"""Capitals that a keypad's sequence leaves behind where its bytes arrive apart; no unit is written with them."""

_ERASED_SECONDS = 1.0
"""A `+` so soon after one that erased the last character was meant to erase too."""

_FIRST = re.compile(r"[0-9.,−-]")


class Entry(Widget):
    """A number, quantity, ratio or name being typed; takes no focus, a screen hands it the keys.

    `read` turns the text with its unit into the value and raises EntryError; `units` are the units `.` goes through
    while nothing is typed; `letters` lets a text begin with a letter (names); `dash` is what the `-` key types.
    """

    DEFAULT_CSS = """
    Entry { height: auto; width: 1fr; layout: vertical; }
    Entry > Static { height: auto; min-height: 1; }
    Entry > Block { height: 4; }
    """

    app: Stage

    text: reactive[str] = reactive("")
    """What has been typed, as typed."""
    unit: reactive[str] = reactive("")
    """The unit of a number typed without one."""
    hint: reactive[str] = reactive("")
    """Shown while nothing is typed: what Enter would take, or what is wanted."""
    note: reactive[str] = reactive("")
    """What the last key brought up (a dropped key, a question); gone with the next accepted key."""

    def __init__(
        self,
        read: Callable[[str], Value] = str,
        units: Sequence[str] = (),
        unit: str = "",
        *,
        letters: bool = False,
        dash: str = "-",
        id: str | None = None,
        classes: str | None = None,
    ) -> None:
        super().__init__(id=id, classes=classes)
        self.value: Value | None = None
        """What the text means, None while it means nothing."""
        self.problem: EntryError | None = None
        """Why the text means nothing, None while it does or nothing is typed."""
        self._read, self._units, self._letters, self._dash = read, tuple(units), letters, dash
        self.set_reactive(Entry.unit, unit)
        self.add_class("empty", update=False)
        self._digit = ("", 0.0)
        self._target: Shown | None = None
        self._window: tuple[Quantity, Quantity] | None = None
        self._erased_at: float | None = None
        self._asked_unit = unit
        self._beside = False
        """Whether the value in the other system stands beside the text, for want of a row under the large digits."""

    def ask(
        self,
        read: Callable[[str], Value],
        units: Sequence[str] = (),
        unit: str = "",
        *,
        letters: bool = False,
        dash: str = "-",
        hint: str = "",
        target: Shown | None = None,
        window: tuple[Quantity, Quantity] | None = None,
    ) -> None:
        """Begin anew with nothing typed, for another value; a note on show stays until the next key.

        What it is to come to stands beside it, `target`, and under it where it lies in the `window` that is allowed.
        """
        self._target, self._window = target, window
        self._read, self._units, self._letters, self._dash = read, tuple(units), letters, dash
        self.text, self.unit, self.hint = "", unit, hint
        self._asked_unit = unit
        self._show()

    def fill_in(self, blank: Blank, hint: str) -> None:
        """Begin anew with nothing typed, for the value of a blank."""
        self.ask(blank.kind.read, blank.units, blank.unit, letters=blank.letters, dash=blank.dash, hint=hint)

    @property
    def typed(self) -> tuple[str, str]:
        """What has been typed and its unit, both '' while nothing is and the unit is the one it began with."""
        return (self.text, self.unit) if self.text or self.unit != self._asked_unit else ("", "")

    def go_on_with(self, text: str, unit: str) -> None:
        """Show again what was typed here before; where its unit is no longer among those asked for, nothing of it."""
        if (text or unit) and unit in (self._units or ("",)):
            self.text, self.unit = text, unit
            self.note = phrase("already typed, kept") if text else self.note

    def compose(self) -> ComposeResult:
        yield _Typed(classes="typed")
        yield Block(most=1)
        yield Static(classes="below")

    def on_mount(self) -> None:
        self._show()

    @property
    def has_units(self) -> bool:
        """Whether there is another unit to go to."""
        return len(self._units) > 1

    @property
    def bounce_seconds(self) -> float:
        """The same digit again sooner than this is a key that bounced."""
        return self.app.settings.bounce_ms / 1000

    def _rows(self, width: int) -> int:
        """Return the rows it takes at a width with what it shows now, which may not have been drawn yet."""
        return sum(
            ROWS if isinstance(child, Block) else max(1, child.get_content_height(self.size, self.screen.size, width))
            for child in self.children
            if child.display
        )

    @property
    def is_large(self) -> bool:
        """Whether what is typed is shown in block digits too."""
        return bool(self.query_one(Block).display)

    def fit(self, width: int, room: int | None = None) -> int:
        """Arrange what is shown for `width` columns and return the rows it takes, with large digits while something is typed.

        Where rows are dear and there are `room` of them at most, what is wrong or asked takes the place of the large
        digits, an empty row is left out, and the other system stands beside the text if there is no row for it.
        """
        block, below = self.query_one(Block), self.query_one(".below", Static)
        self._beside = False
        block.display, below.display = bool(self.text), True
        if room is not None:
            drawn = [form for form in self._forms() if draw(*form, width=width, most=1)]
            block.display = bool(drawn)
            if drawn:
                block.text, block.tail = drawn[0]
            below.display = bool(self._below.plain)
        self._draw()
        if room is not None and block.display and self._rows(width) > room:
            joined = len(f"{self._typed.plain}   {self._below.plain}") <= width
            self._beside = block.display = not self.note and joined and room > ROWS
            below.display = not self._beside
            self._draw()
        return self._rows(width)

    def loosen(self) -> None:
        """Undo what `fit` did: every row is there again, as far as the style sheet shows it."""
        for child in self.children:
            child.styles.clear_rule("display")
        self._beside = False
        self._draw()

    def press(self, event: events.Key) -> bool:
        """Take a key and return whether it was taken; Enter and what means nothing here are left to the screen."""
        if event.key in ("plus", "backspace"):
            return self.erases(event)
        if event.key == "tab" or self._begins_unit(event):
            return self.next_unit()
        if event.key == "slash" and not self.takes_fraction:
            return False
        return self._type(event.character or "", event.time)

    def erases(self, event: events.Key) -> bool:
        """Erase by a key that erases and return whether it did, or was meant to: one pressed once too often does nothing."""
        if self.text:
            self.erase()
            self._erased_at = event.time
            return True
        return self._erased_at is not None and event.time - self._erased_at < _ERASED_SECONDS

    @property
    def takes_fraction(self) -> bool:
        """Whether a fraction can be typed now: in a name, or a number of a unit that is written with fractions."""
        counts = self.unit in ("", *units.RATIO_BASES)
        return bool(self.text) and (self._letters or (not counts and units.takes_fraction(self.unit)))

    def _begins_unit(self, event: events.Key) -> bool:
        return event.key == "full_stop" and not self.text and self.has_units

    def erase(self) -> None:
        """Take off the last character typed."""
        self.text = self.text[:-1]
        self.note = ""
        self._digit = ("", 0.0)

    def next_unit(self) -> bool:
        """Go to the next unit; the digits stay as they are. Return whether there is more than one."""
        if not self.has_units:
            return False
        self.unit = self._units[(self._units.index(self.unit) + 1) % len(self._units)]
        self.note = ""
        return True

    def text_with_unit(self) -> str:
        """Return what is to be parsed: the text, with the unit shown beside it if none was typed.

        A fraction is of that unit where somebody has gone to it, whatever it is.
        """
        if self._names_unit():
            return self.text
        chosen = self.text and self.unit != self._asked_unit
        return f"{self.text} {self.unit}" if chosen else with_unit(self.text, self.unit)

    def watch_text(self) -> None:
        self._show()

    def watch_unit(self) -> None:
        self._show()

    def watch_hint(self) -> None:
        self._show()

    def watch_note(self) -> None:
        self._show()

    def _type(self, character: str, at: float) -> bool:
        if not character.isprintable() or len(character) != 1 or character in "+*":
            return False
        if not self.text and not self._may_begin(character):
            return False
        if character in _STRAY and not self._letters:
            return False
        if len(self.text) >= (LONGEST_NAME if self._letters else LONGEST_NUMBER):
            self.note = phrase("no room for more characters")
            return True
        before, self._digit = self._digit, (character, at)
        if character.isdigit() and before[0] == character and at - before[1] < self.bounce_seconds:
            self.note = phrase("second {digit} dropped: the key bounced", character)
            return True
        self.note = ""
        self.text += self._dash if character == "-" else self._in_signs(character)
        return True

    def _in_signs(self, character: str) -> str:
        """Return a character as it can be shown: with 7-bit signs only, ½ in figures, apart from a whole number before it."""
        figures = units.spelled_fraction(character) if self.app.has_class(ASCII_CLASS) and not self._letters else ""
        return f"-{figures}" if figures and self.text[-1:].isdigit() else figures or character

    def _may_begin(self, character: str) -> bool:
        """Return whether a text may begin so: a keypad's broken sequences begin with letters, so numbers may not."""
        if self._letters:
            return character not in " /"
        return bool(_FIRST.fullmatch(character)) or character.isnumeric()

    def _names_unit(self) -> bool:
        return any(character.isalpha() or character in "\"'″′”’°%" for character in self.text)

    def _understand(self) -> None:
        self.value = self.problem = None
        if self.text:
            try:
                if decimal_mark(self.app) == ",":
                    units.refuse_point(self.text_with_unit())
                self.value = self._read(self.text_with_unit())
            except EntryError as error:
                self.problem = error

    def _large(self, value: Value) -> Shown:
        """Return the value as shown large: a fraction typed as one stays one."""
        if not isinstance(value, Quantity) or isinstance(value.value, float) or not _FRACTION.search(self.text):
            return shown(value)
        whole, rest = divmod(abs(value.value), 1)
        number = f"{whole or ''} {rest or ''}".strip() or "0"
        return Shown(f"{'-' if value.value < 0 else ''}{number}", units.written(value.unit))

    def _show(self) -> None:
        self._understand()
        if not self.is_mounted:
            return
        self.set_class(not self.text, "empty")
        block = self.query_one(Block)
        large = self._large(self.value) if self.value is not None else Shown("")
        block.text, block.tail = large.number, large.unit
        block.beside = (self._target.number, f"{self._target.unit} {phrase('wanted')}") if self._target is not None else ("", "")
        self._draw()

    def _forms(self) -> list[tuple[str, str]]:
        """Return the forms of the value with what follows them small, from the best to the shortest: the unit stands above."""
        if self.value is None:
            return []
        forms = (self._large(self.value), shown(self.value))
        return [*((form.number, form.unit) for form in forms), *((form.number, "") for form in forms)]

    def _draw(self) -> None:
        typed, below = self._typed, self._below
        # The row of the text is shown as typed, so that what stands beside it brings its decimal mark along.
        beside = f"   {marked(below.plain, decimal_mark(self.app))}" if self._beside else ""
        self.query_one(".typed", Static).update(typed.append(beside))
        self.query_one(".below", Static).update(below)

    @property
    def _typed(self) -> Content:
        """The text with its unit, and what is wanted while there is none."""
        unit = "" if self._names_unit() else units.written(self.unit)
        hint = "" if self.text else f"   {self.hint}"
        return Content.assemble((self.text, "bold"), (" ", "reverse"), (f" {unit}", "bold"), hint)

    @property
    def _below(self) -> Content:
        """What is asked or wrong, or the value in the other system."""
        if self.note:
            return Content.styled(f" {self.note} ", "bold reverse")
        if self.problem is not None:
            return Content.assemble((f"! {self.problem.what}", "bold"), f"\n  {self.problem.fix}")
        if self.value is None:
            return Content("")
        cells = _CELLS if self.app.size.width >= _NARROW else _FEW_CELLS
        gauge = _gauge(self.value, *self._window, cells) if self._window is not None and isinstance(self.value, Quantity) else ""
        both = "   ".join(filter(None, (gauge, _elsewhere(self.value))))
        # On a narrow screen one row says where it lies.
        return Content(gauge if gauge and len(both) > self.app.size.width - 2 else both)


class _Typed(Static):
    """The row of what is being typed."""

    def get_line_filters(self) -> Sequence[LineFilter]:
        touches = super().get_line_filters()
        return as_written(touches) if isinstance(self.parent, Entry) and self.parent.text else touches


_CELLS, _FEW_CELLS = 25, 15
"""Cells of the gauge, and those it has on a narrow screen."""

_NARROW = 60
"""Columns of the screen under which it is narrow."""


def _gauge(value: Quantity, low: Quantity, high: Quantity, count: int) -> str:
    """Return where a value lies between the least and the most that are allowed, in `count` cells between the two."""
    unit = low.unit
    least, most, at = (quantity.value_in(unit) for quantity in (low, high, value))
    cell = round((at - least) / (most - least) * (count - 1)) if most > least else 0
    inside = 0 <= cell < count and least <= at <= most
    cells = "".join("┃" if inside and index == cell else "─" for index in range(count))
    before, after = ("◀" if at < least else " "), ("▶" if at > most else " ")
    return f"{before}{units.display(low, 'metric', 1).number} ├{cells}┤ {units.display(high, 'metric', 1)}{after}"


def _elsewhere(value: Value) -> str:
    """Return the same quantity in the units of the other system, '' where both measure alike."""
    if not isinstance(value, Quantity):
        return ""
    return "  ".join(f"= {other}" for other in dict.fromkeys(units.both(value)) if other.unit != units.written(value.unit))
