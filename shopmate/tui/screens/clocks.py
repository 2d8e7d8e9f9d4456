"""All clocks with what each is for: end one, start one of your own, or see the temperatures they go by as curves."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING

from textual import events
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from shopmate import clock as clocks_
from shopmate import picture
from shopmate.clock import Clock
from shopmate.dialogue import question
from shopmate.errors import EntryError, ShopmateError
from shopmate.phrases import phrase
from shopmate.picture import Picture
from shopmate.session import CLOCK_LENGTH, curve
from shopmate.tui.guard import Pace
from shopmate.tui.keys import Offer
from shopmate.tui.lines import ASCII_CLASS
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.clock_band import short_limit
from shopmate.tui.widgets.entry import Entry
from shopmate.tui.widgets.key_line import KeyLine

if TYPE_CHECKING:
    from shopmate.tui.app import ShopmateApp

_LEAST_DRAWN = 9
"""Rows a curve has to have beside its words; under that the words stand alone."""


class ClocksScreen(KeyedScreen[None]):
    """Lists the running clocks by number, page after page; a number asks to end one, 0 starts one.

    Numbers have two digits as soon as one clock's has.
    """

    CSS_PATH = "clocks.tcss"

    app: ShopmateApp

    keeps_alarm_row = True

    def __init__(self) -> None:
        super().__init__()
        self.looking: int | None = None
        """Which curve is shown: 0 for the shop, further ones for the pots; None for the list."""
        self.shown_at: datetime | None = None
        """The time up to which alarms are recorded: what comes after it is not drawn."""
        self.pots: list[tuple[Clock, Picture]] = []
        """The pots in hand, worked out when their curves are asked for."""
        self.page = 0
        """The page of the list that is shown, from 0."""
        self.typed = ""
        """The first digit of a two-digit number, while the second is awaited."""

    def body(self) -> Sequence[Widget]:
        return Static(self.heading, id="title", markup=False), _List(self), _Curve(self), Entry(CLOCK_LENGTH.read)

    @property
    def clocks(self) -> list[Clock]:
        """The running clocks by their slots, none where the project is closed already."""
        if not self.app.has_session:
            return []
        slots = self.app.session.slots
        return sorted(self.app.session.clocks, key=lambda clock: slots[clock.key])

    def number(self, clock: Clock) -> int:
        """Return the number that chooses a clock, which it keeps as long as it runs."""
        return self.app.session.slots[clock.key] + 1

    @property
    def digits(self) -> int:
        """How many digits choose a clock."""
        return len(str(max(map(self.number, self.clocks), default=0)))

    @property
    def pages(self) -> list[list[Clock]]:
        """The clocks of each page, as many as the list has rows."""
        clocks, size = self.clocks, max(1, self.query_one(_List).size.height)
        return [clocks[begin : begin + size] for begin in range(0, len(clocks), size)] or [[]]

    @property
    def heading(self) -> str:
        """The title of the list: which page it is, and what the alarms of all of them have against them."""
        pages = self.pages if self.is_mounted else [[]]
        words = [phrase("Clocks")]
        if len(pages) > 1 and not self.entering:
            words = [phrase("Clocks, page {number} of {count}", self.page + 1, len(pages))]
        return " · ".join([*words, phrase("SLEEP IS SILENT")] if self.app.watching.sleep_is_silent else words)

    @property
    def entering(self) -> bool:
        """Whether the length of an own clock is being typed."""
        return self.has_class("entering")

    def type_key(self, event: events.Key) -> bool:
        entry = self.query_one(Entry)
        if not self.entering and self.looking is None and self.digits > 1 and event.key.isdigit():
            return self.type_number(event.key)
        return self.entering and not (event.key in ("slash", "plus") and not entry.text) and entry.press(event)

    def offers(self) -> Sequence[Offer]:
        if self.entering:
            entry = self.query_one(Entry)
            start = Offer("enter", "start it", self.start_own)
            if entry.text:
                return [start, Offer("plus", "erase", entry.erase, also=("backspace",), again=True)]
            unit = Offer("plus", "unit", entry.next_unit, also=("tab",), again=True)
            return [start, unit, Offer("slash", "back", self.stop_entering, also=("escape",))]
        if self.looking is not None:
            more = [Offer("full_stop", word, self.turn, again=True)] if (word := self.next_word) else []
            return [
                *more,
                Offer("slash", "list", self.stop_looking, also=("escape",)),
                Offer("plus", "back", self.leave),
            ]
        if self.typed:
            erase = Offer("plus", phrase("erase {text}", self.typed), self.erase, also=("backspace",), again=True)
            return [Offer("1", f"{self.typed}_", lambda: None), erase, Offer("escape", "", self.leave)]
        if self.digits > 1:
            end = [Offer("1", "end one", lambda: None)]
        else:
            numbers = [str(self.number(clock)) for clock in self.clocks]
            end = [Offer(digit, "" if place else "end one", partial(self.ask, digit)) for place, digit in enumerate(numbers)]
        own = Offer("0", "own clock: 00" if self.digits > 1 else "own clock", self.enter_own)
        curves = [Offer("full_stop", "curve", self.look)] if self.clocks else []
        sound = Offer("enter", "sound", self.app.sound_menu)
        hidden = sum(map(len, self.pages[self.page + 1 :]))
        if hidden:
            back = [Offer("plus", phrase("{count} more", hidden), self.turn_page), Offer("escape", "", self.leave)]
        else:
            back = [Offer("plus", "back", self.leave, also=("escape",))]
        return [*end, own, *curves, sound, *back]

    def pace(self, key: str) -> Pace:
        return "typed" if key.isdigit() and self.digits > 1 and self.looking is None else super().pace(key)

    def show_offers(self) -> None:
        super().show_offers()
        if self.entering:
            self.query_one(Entry).fit(self.size.width - 2, self.free_rows() - 1 if self.has_class("small") else None)

    def turn_page(self) -> None:
        """Go to the next page."""
        self.page += 1
        self.refresh_all()

    def erase(self) -> None:
        """Take back the first digit of a number."""
        self.typed = ""

    def type_number(self, digit: str) -> bool:
        """Take a digit of a two-digit number and return whether there is such a one; 00 starts an own clock."""
        numbers = ["00", *(f"{self.number(clock):02d}" for clock in self.clocks)]
        number, self.typed = self.typed + digit, ""
        if number == "00":
            self.enter_own()
        elif number in numbers:
            self.ask(number)
        elif any(item.startswith(number) for item in numbers):
            self.typed = number
        else:
            return False
        self.query_one(_List).refresh()
        return True

    def leave(self) -> None:
        """Go back to where the clocks were asked for."""
        self.dismiss(None)

    @property
    def next_word(self) -> str:
        """What the next curve is of, '' where there is one alone."""
        if not self.pots:
            return ""
        return "shop" if self.looking == len(self.pots) else "pot"

    def look(self) -> None:
        """Show the temperature of the shop with the limits that go by it."""
        session, now = self.app.session, self.app.now()
        self.pots = curve.pots(session.project, session.shelf, now)
        self.looking = 0
        self.add_class("looking")
        self.refresh_all()

    def turn(self) -> None:
        """Show the next curve: shop, each pot in hand, and round again."""
        assert self.looking is not None
        self.looking = (self.looking + 1) % (len(self.pots) + 1)
        self.refresh_all()

    def stop_looking(self) -> None:
        """Show the list again."""
        self.looking = None
        self.remove_class("looking")
        self.refresh_all()

    def seen(self) -> tuple[str, Picture | None]:
        """Return the title and the picture of the curve that is shown; None where no clock goes by the temperature."""
        project, now = self.app.session.project, self.app.now()
        if not self.looking:
            return phrase("Shop temperature"), curve.shop(project.readings, project.clocks.values(), now, project.system)
        clock, drawn = self.pots[self.looking - 1]
        return clock.title, curve.pot_now(clock, drawn, now)

    def ask(self, digit: str) -> None:
        """End a clock; asked first while it still rules something: a DO BEFORE limit, or a hold point that is closed."""
        from shopmate.tui.screens.confirm import ConfirmScreen

        now = self.app.now()
        clock = next(clock for clock in self.clocks if self.number(clock) == int(digit))
        asked = question.end_clock(clock, now)
        if asked is None:
            self.end(clock)
        else:
            self.app.push_screen(ConfirmScreen(asked), lambda sure: self.end(clock) if sure else None)

    def end(self, clock: Clock) -> None:
        """End a clock."""
        with self.app.telling():
            self.query_one(KeyLine).echo(self.app.session.end_clock(clock.key, self.app.now()))
        self.refresh_all()
        self.show_offers()

    def enter_own(self) -> None:
        """Ask for the length of an own clock."""
        self.add_class("entering")
        self.query_one(Entry).ask(CLOCK_LENGTH.read, ("min", "h"), "min", hint=phrase("How long? It counts down to DO BEFORE."))
        self.go_on_typing("own clock")
        self.refresh_all()

    def stop_entering(self) -> None:
        """Leave the entry of an own clock."""
        self.forget_typed()
        self.remove_class("entering")
        self.refresh_all()

    def start_own(self) -> None:
        """Start the own clock of the length typed."""
        entry = self.query_one(Entry)
        try:
            self.app.session.start_own(entry.text_with_unit(), self.app.now())
        except EntryError as error:
            entry.note = str(error)
        except ShopmateError as error:
            self.app.tell(str(error))
        else:
            self.stop_entering()

    def show_alarms(self, clocks: Sequence[Clock], now: datetime) -> None:
        super().show_alarms(clocks, now)
        self.shown_at = now
        self.page = min(self.page, len(self.pages) - 1)
        self.query_one(_List).refresh()
        self.query_one(_Curve).refresh()
        self.query_one("#title", Static).update(self.heading if self.looking is None else self.seen()[0])

    def refresh_all(self) -> None:
        """Draw the list anew."""
        self.app.show_alarms()


class _List(Widget):
    def __init__(self, owner: ClocksScreen) -> None:
        super().__init__(id="list")
        self.owner = owner

    def on_resize(self) -> None:
        # How many rows there are decides on pages, and these on the keys.
        self.owner.show_offers()

    def render(self) -> Content:
        owner, now = self.owner, self.owner.shown_at or self.owner.app.now()
        clocks, (width, height) = owner.pages[min(owner.page, len(owner.pages) - 1)], self.size
        if not clocks:
            return Content.styled(f" {phrase('No clock is running. 0 starts one of your own.')}", "$quiet")
        began = clocks_.first_up(clocks_.alarms(owner.clocks, now), now)
        # Advice comes after every clock that there is room for.
        crowd = clocks_.crowd(owner.clocks, now) if len(owner.clocks) < height else ""
        tall = 2 * len(owner.clocks) <= height - bool(crowd)
        whole = [_whole(clock, now, first=clock is began) for clock in clocks]
        is_wide = max(map(len, whole)) + owner.digits + 3 <= width
        brief = _brief(clocks, now)
        lines: list[Content] = []
        for place, clock in enumerate(clocks):
            number = f"{owner.number(clock):0{owner.digits}d}"
            hot = bool(owner.typed) and number.startswith(owner.typed)
            label = (f" {number} ", "bold reverse" if hot or not owner.typed else "bold")
            name = f"{clock.title}  {clocks_.state(clock, now).word}"
            head = whole[place] if is_wide else brief[place] if tall else f"{brief[place]}  {name}"
            lines.append(Content.assemble(" ", label, (f" {head}", "bold")).truncate(width, ellipsis=True))
            if tall:
                said = Content.styled(phrase("{action}. If late: {if_late}", clock.action, clock.if_late), "$quiet")
                title = Content("") if is_wide else Content.styled(f"{name}. ", "bold")
                lines.append(Content.assemble("     ", title, said).truncate(width, ellipsis=True))
        if crowd:
            lines.append(Content.styled(f" {crowd}", "$quiet").truncate(width, ellipsis=True))
        return Content("\n").join(lines)


def _whole(clock: Clock, now: datetime, *, first: bool) -> str:
    """Return all there is to say of a clock in one row; `first` of several alarms if it came up first."""
    how = clocks_.state(clock, now)
    limit = f"{phrase(clock.kind)} {clocks_.wall(clock.due_at, now)}"
    title = f"{phrase('first up')} · {clock.title}" if first else clock.title
    return f"{how.shape} {title}  {clocks_.face(clock, now)}  {limit}  {how.word}"


def _brief(clocks: Sequence[Clock], now: datetime) -> list[str]:
    """Return what is never cut of each clock: time left, kind and wall-clock time."""
    wide = max(len(clocks_.face(clock, now)) for clock in clocks)
    return [f"{clocks_.state(clock, now).shape} {clocks_.face(clock, now):>{wide}} {short_limit(clock, now)}" for clock in clocks]


class _Curve(Widget):
    """The curve in hand over its words, or its words alone where there is no room for more."""

    def __init__(self, owner: ClocksScreen) -> None:
        super().__init__(id="curve")
        self.owner = owner

    def render(self) -> Content:
        width, height = self.content_size
        seen = self.owner.seen()[1]
        if seen is None:
            return Content.styled(phrase("No running clock goes by the temperature of the shop."), "$quiet")
        said = textwrap.wrap(seen.words, max(1, width))
        rows = height - len(said) - 1
        system, ascii_only = self.owner.app.session.project.system, self.app.has_class(ASCII_CLASS)
        drawn = picture.draw(seen, width, rows, ascii_only, system, words=False) if rows >= _LEAST_DRAWN else []
        return Content("\n".join([*drawn, "", *said] if drawn else said))
