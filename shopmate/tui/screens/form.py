"""The form of a calculator on the screen: its fields are filled in from the keypad, the result is worked out at every key."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from shopmate.calculator import Choice
from shopmate.dialogue.form import Form
from shopmate.phrases import phrase
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.entry import Entry
from shopmate.tui.widgets.field_list import FieldList
from shopmate.tui.widgets.key_line import KeyLine
from shopmate.tui.widgets.numbered import Numbered
from shopmate.tui.widgets.outcome import AT_A_GLANCE, Outcome
from shopmate.tui.widgets.sketch import Drawing, Sketch

_A_FIGURE = 0
"""Number in a list of names that stands for typing the figure itself."""

_FREELY_RESIZED = 3
"""Changes of the room after one key, beyond which the key line only grows until the next one."""


class FormScreen(KeyedScreen[None]):
    """Draws a form and reads the keys for it; what was filled in, and whether the result is kept, stands in the form."""

    CSS_PATH = "form.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (70, "-medium"), (110, "-wide")]  # noqa: RUF012 (declared so in the base)
    VERTICAL_BREAKPOINTS = [(0, "-short"), (17, "-tall")]  # noqa: RUF012

    def __init__(self, form: Form) -> None:
        super().__init__()
        self.form = form
        self._resized = 0
        """How often the room of the result has changed since the last key."""

    def body(self) -> Sequence[Widget]:
        drawing = Drawing(self.form)
        return (
            Static(classes="heading"),
            Horizontal(
                Vertical(
                    FieldList(self.form),
                    Static(classes="asked"),
                    Static(classes="help"),
                    Entry(),
                    Numbered(),
                    Sketch(drawing),
                    classes="left",
                ),
                Outcome(self.form, drawing),
                classes="work",
            ),
        )

    def on_mount(self) -> None:
        half_typed = next(filter(self._typed_before, range(len(self.form.fields))), None)
        if half_typed is not None:
            self.form.go_to(half_typed)
        self._show_field()

    def on_resize(self, event: events.Resize) -> None:
        self._let_keys_shrink()
        self.call_after_refresh(self._show_heading)

    def on_numbered_resized(self) -> None:
        self.show_offers()

    def on_outcome_resized(self) -> None:
        # What the next page holds hangs on the room, which hangs on the rows of the key line: it has to come to rest.
        self._resized += 1
        line = self.query_one(KeyLine)
        line.least_rows = line.size.height if self._resized > _FREELY_RESIZED else 0
        self.show_offers()

    def _let_keys_shrink(self) -> None:
        self._resized = self.query_one(KeyLine).least_rows = 0

    @property
    def _entry(self) -> Entry:
        return self.query_one(Entry)

    @property
    def _typed(self) -> str:
        """What is being typed in the field that is asked."""
        return "" if self.form.field is None or self.form.names else self._entry.text

    # What the keys do

    def type_key(self, event: events.Key) -> bool:
        self._let_keys_shrink()
        if self.form.field is None:
            return False
        if self._entry.display and event.key in ("plus", "backspace") and self._entry.erases(event):
            self.form.blank.doubted = ""
            self._show_result()
            return True
        offered = any(offer.takes(event.key) for offer in self.offers())
        if offered or not (self.query_one(Numbered) if self.form.names else self._entry).press(event):
            return False
        if self.form.names:
            self._choose()
        self.form.blank.doubted = ""
        self._show_result()
        return True

    def offers(self) -> Sequence[Offer]:
        form = self.form
        more = Offer("full_stop", self.query_one(Outcome).next_word, self._turn, again=True)
        leave = Offer("slash", "leave", self._leave, also=("escape",))
        if form.field is None:
            keep = Offer("enter", "save to log", self._keep) if form.result else Offer("enter", "fill in", self._fill_in)
            others = [Offer("plus", "more fields", self._ask_all)] if form.others else []
            return (keep, *others, Offer("minus", "back", self._back), more, leave)
        if self._typed:
            erase = Offer("plus", "erase", self._erase, also=("backspace",), again=True)
            take = Offer("enter", "yes, it's right" if form.blank.doubted else "use it", self._take)
            again = [Offer("minus", "back", self._back)] if self._typed == "-" and form.may_go_back else []
            return (take, erase, *again)
        offers = [Offer("enter", "keep" if form.offered else "skip", self._pass)]
        if form.blank.below_zero and not form.names:
            offers += [Offer("minus", "minus", self._begin_below_zero)]
        elif form.may_go_back:
            offers += [Offer("minus", "list" if form.by_figure else "back", self._back)]
        else:
            offers += [Offer("minus", "back", self._leave)]
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
        if self.form.names and numbered.typed:
            return (Offer("plus", phrase("erase {text}", numbered.typed), self._erase, also=("backspace",), again=True),)
        if self.form.names and numbered.pages > 1:
            return (Offer("plus", "more names", numbered.turn_page, again=True),)
        if (other := self.form.turns_to) is not None:
            return (Offer("plus", phrase("enter {field}", other.name.replace("_", " ")), self._turn_field, also=("tab",)),)
        if self.form.may_clear:
            return (Offer("plus", "clear", self._clear, also=("backspace",)),)
        if not self.form.names and self._entry.has_units:
            return (Offer("plus", "unit", self._entry.next_unit, also=("tab",), again=True),)
        return ()

    def _take(self) -> None:
        if self._entry.value is None:
            self.query_one(KeyLine).say(phrase("NOT ACCEPTED"))
            return
        text = self._entry.text_with_unit()
        question = self.form.take(text)
        self._entry.note = question
        if not question:
            self._went_on(text)

    def _pass(self) -> None:
        text = self.form.offered
        self.form.forward()
        self._went_on(text)

    def _went_on(self, text: str) -> None:
        self.forget_typed()
        self.query_one(KeyLine).say(phrase("ENTERED {value}", text) if text else phrase("SKIPPED"))
        self._tell_fault()
        self._show_field()

    def _choose(self) -> None:
        number, typed = self.query_one(Numbered).chosen, self.query_one(Numbered).typed
        if number is None or typed:
            return
        at = self.form.at
        if number == _A_FIGURE:
            self.form.type_figure()
        else:
            self.form.pick(self.form.names[number - 1])
        self._tell_fault()
        if self.form.at != at:
            self._show_field()
        elif self.form.by_figure:
            self._show_entry()
        else:
            self.query_one(FieldList).refresh()

    def _back(self) -> None:
        self.forget_typed()
        if not self.form.by_figure:
            self._entry.text = ""
            self.query_one(KeyLine).say(phrase("BACK"))
        self.form.back()
        self._show_field()

    def _turn_field(self) -> None:
        self.form.turn()
        self._show_field()

    def _ask_all(self) -> None:
        self.form.ask_all()
        self._show_field()

    def _fill_in(self) -> None:
        self.form.back_to_problem()
        self._show_field()

    def _begin_below_zero(self) -> None:
        self._entry.text = "-"
        self._show_result()

    def _erase(self) -> None:
        if self.form.names:
            self.query_one(Numbered).typed = ""
        else:
            self._entry.erase()
        self.form.blank.doubted = ""
        self._show_result()

    def _clear(self) -> None:
        self.form.clear()
        self._tell_fault()
        self.query_one(KeyLine).say(phrase("CLEARED"))
        self._show_field()

    def _turn(self) -> None:
        self.query_one(Outcome).turn()
        self._show_reading()

    def _keep(self) -> None:
        self.form.kept = True
        self.dismiss()

    def _leave(self) -> None:
        self.dismiss()

    def _tell_fault(self) -> None:
        if self.form.fault:
            self.app.tell(self.form.fault)

    # What is shown

    def _typed_before(self, at: int) -> str:
        """Return what was half typed in the field of that number when the program was shut."""
        field = self.form.fields[at]
        return self.app.typed_before(self.form.place(field))[0] if not isinstance(field.kind, Choice) else ""

    def _show_field(self) -> None:
        form, field, numbered = self.form, self.form.field, self.query_one(Numbered)
        self.typed_at = ""
        form.by_figure = form.may_be_figure and bool(self._typed_before(form.at))
        names = {number: form.title_of(name) for number, name in enumerate(form.names, 1)}
        numbered.display = bool(names)
        self._entry.display = field is not None and not names
        self.query_one(FieldList).refresh()
        self._show_heading()
        if field is not None:
            self.query_one(".asked", Static).update(Content.styled(f" {field.title} ", "bold reverse"))
            self.query_one(".help", Static).update(Content(self.form.help(field)))
        if names:
            chosen = next((number for number, name in enumerate(form.names, 1) if name == form.offered), None)
            figure = phrase("your own figures" if form.asks_material else "enter a number")
            numbered.ask(names | ({_A_FIGURE: figure} if form.may_be_figure else {}), chosen)
        elif field is not None:
            self._show_entry()
        self._show_result()

    def _show_entry(self) -> None:
        form = self.form
        assert form.field is not None
        self.query_one(Numbered).display, self._entry.display = False, True
        self._entry.fill_in(form.blank, self._keeps() or form.blank.limits)
        self.go_on_typing(form.place(form.field))

    def _keeps(self) -> str:
        """Return what Enter keeps, and where that is from; '' where there is nothing to keep."""
        return phrase("Enter keeps {value}", self.form.offered_from) if self.form.offered else ""

    def _show_heading(self) -> None:
        form, heading = self.form, self.query_one(".heading", Static)
        count = len(form.fields)
        place = phrase("field {number} of {count}", form.at + 1, count) if form.field is not None else phrase("all fields")
        title = Content.styled(form.calculator.title, "bold").truncate(max(1, self.size.width - len(place) - 4), ellipsis=True)
        heading.update(title.pad_right(max(1, self.size.width - 2 - title.cell_length - len(place))) + place)
        self._show_reading()

    def _show_reading(self) -> None:
        """On a small screen the result takes the room of the entry while it is being read, a picture on every screen."""
        page, filled = self.query_one(Outcome).page, self.form.field is None
        self.set_class(filled, "filled")
        self.set_class(filled or page != AT_A_GLANCE, "reading")
        self.set_class(page[0] == "picture", "looking")

    def _show_result(self) -> None:
        wrong = bool(self._typed) and self._entry.problem is not None
        self.form.work_out(None if wrong else self._entry.text_with_unit() if self._typed else "")
        self.query_one(Outcome).show()
        self.query_one(Sketch).refresh()
        self._show_reading()
