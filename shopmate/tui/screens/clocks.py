"""All clocks with what each is for: end one, start one of your own, or see the temperatures they go by as curves."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from datetime import datetime
from functools import partial

from textual import events
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from shopmate import clock as clocks_
from shopmate import picture, times
from shopmate.clock import Clock
from shopmate.dialogue.clocks import chosen, numbered, start_named
from shopmate.dialogue.sound import menu
from shopmate.phrases import phrase
from shopmate.picture import Picture
from shopmate.session import curve
from shopmate.tui.guard import Pace
from shopmate.tui.keys import Offer
from shopmate.tui.lines import ASCII_CLASS
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.talk import TalkingApp
from shopmate.tui.widgets.clock_band import short_limit

_LEAST_DRAWN = 9
"""Rows a curve has to have beside its words; under that the words stand alone."""

_ROOMY = 60
"""Columns from which all keys fit in two rows with the one for a clock with a name."""


class ClocksScreen(KeyedScreen[None]):
    """Lists the running clocks by number, page after page; a number asks to end one, 0 starts one.

    Numbers have two digits as soon as one clock's has.
    """

    CSS_PATH = "clocks.tcss"

    app: TalkingApp

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
        return Static(self.heading, id="title", markup=False), _List(self), _Curve(self)

    @property
    def clocks(self) -> dict[int, Clock]:
        """The running clocks by the number that chooses each, none where the project is closed already."""
        return numbered(self.app.session) if self.app.has_session else {}

    @property
    def digits(self) -> int:
        """How many digits choose a clock."""
        return len(str(max(self.clocks, default=0)))

    @property
    def pages(self) -> list[list[tuple[int, Clock]]]:
        """The clocks of each page with their numbers, as many as the list has rows."""
        clocks, size = [*self.clocks.items()], max(1, self.query_one(_List).size.height)
        return [clocks[begin : begin + size] for begin in range(0, len(clocks), size)] or [[]]

    @property
    def heading(self) -> str:
        """The title of the list: which page it is, and what the alarms of all of them have against them."""
        pages = self.pages if self.is_mounted else [[]]
        words = [phrase("Clocks")]
        if len(pages) > 1:
            words = [phrase("Clocks, page {number} of {count}", self.page + 1, len(pages))]
        return " · ".join([*words, *self.app.desk.watching.against_alarms])

    def type_key(self, event: events.Key) -> bool:
        return self.looking is None and self.digits > 1 and event.key.isdigit() and self.type_number(event.key)

    def offers(self) -> Sequence[Offer]:
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
            end = [
                Offer(f"{number}", "" if place else "end one", partial(self.do, number))
                for place, number in enumerate(self.clocks)
            ]
        own = Offer("0", "your timer: 00" if self.digits > 1 else "your timer", partial(self.do, 0))
        # No more keys than can be told apart stand together, that of an alarm among them; a small screen has no row for it.
        has_room = not self.app.alarm_waits and self.size.width >= _ROOMY
        named = [Offer("minus", "named timer", self.start_named)] if has_room else []
        curves = [Offer("full_stop", "curve", self.look)] if self.clocks else []
        sound = Offer("enter", "sound", lambda: self.app.start_dialogue(menu(self.app.desk)))
        hidden = sum(map(len, self.pages[self.page + 1 :]))
        if hidden:
            back = [Offer("plus", phrase("{count} more", hidden), self.turn_page), Offer("escape", "", self.leave)]
        else:
            back = [Offer("plus", "back", self.leave, also=("escape",))]
        return [*end, own, *curves, sound, *named, *back]

    def pace(self, key: str) -> Pace:
        return "typed" if key.isdigit() and self.digits > 1 and self.looking is None else super().pace(key)

    def turn_page(self) -> None:
        """Go to the next page."""
        self.page += 1
        self.refresh_all()

    def erase(self) -> None:
        """Take back the first digit of a number."""
        self.typed = ""

    def type_number(self, digit: str) -> bool:
        """Take a digit of a two-digit number and return whether there is such a one; 00 starts an own clock."""
        numbers = [f"{number:02d}" for number in (0, *self.clocks)]
        number, self.typed = self.typed + digit, ""
        if number in numbers:
            self.do(int(number))
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
        self.pots = curve.pots(self.app.session.project)
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
            return phrase("Shop temperature"), curve.shop(project.readings, project.clocks.not_over, now, project.system)
        clock, drawn = self.pots[self.looking - 1]
        return clock.title, curve.pot_now(clock, drawn, now)

    def do(self, number: int) -> None:
        """End the clock of a number, with 0 start one of the user's own."""
        if (dialogue := chosen(self.app.desk, number)) is not None:
            self.app.start_dialogue(dialogue)

    def start_named(self) -> None:
        """Start a clock of the user's own with a name."""
        self.app.start_dialogue(start_named(self.app.desk))

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
        page, (width, height) = dict(owner.pages[min(owner.page, len(owner.pages) - 1)]), self.size
        if not page:
            return Content.styled(f" {phrase('No clock is running. 0 starts your own timer.')}", "$quiet")
        everything = [*owner.clocks.values()]
        # Advice comes after every clock that there is room for.
        crowd = times.crowd(everything, now) if len(everything) < height else ""
        tall = 2 * len(everything) <= height - bool(crowd)
        began = clocks_.first_up(clocks_.alarms(everything, now), now)
        whole = [_whole(clock, now, first=clock is began) for clock in page.values()]
        is_wide = max(map(len, whole)) + owner.digits + 3 <= width
        lines: list[Content] = []
        for (number, clock), head, brief in zip(page.items(), whole, _brief([*page.values()], now), strict=True):
            name = f"{clock.whole_title}  {clocks_.state(clock, now).word}"
            if not is_wide:
                head = brief if tall else f"{brief}  {name}"
            lines.append(Content.assemble(" ", self._label(number), (f" {head}", "bold")))
            if tall:
                said = Content.styled(phrase("{action}. If late: {if_late}", clock.action, clock.if_late), "$quiet")
                title = Content("") if is_wide else Content.styled(f"{name}. ", "bold")
                lines.append(Content.assemble("     ", title, said))
        if crowd:
            lines.append(Content.styled(f" {crowd}", "$quiet"))
        return Content("\n").join(line.truncate(width, ellipsis=True) for line in lines)

    def _label(self, number: int) -> tuple[str, str]:
        """Return the key of a clock and its style: of those that a first digit leaves, all are in reverse."""
        typed, text = self.owner.typed, f"{number:0{self.owner.digits}d}"
        return f" {text} ", "bold reverse" if text.startswith(typed) else "bold"


def _whole(clock: Clock, now: datetime, *, first: bool) -> str:
    """Return all there is to say of a clock in one row; `first` of several alarms if it came up first."""
    how = clocks_.state(clock, now)
    limit = f"{phrase(clock.kind)} {times.wall(clock.due_at, now)}"
    title = f"{phrase('rang first')} · {clock.whole_title}" if first else clock.whole_title
    return f"{how.shape} {title}  {times.face(clock, now)}  {limit}  {how.word}"


def _brief(clocks: Sequence[Clock], now: datetime) -> list[str]:
    """Return what is never cut of each clock: time left, kind and wall-clock time."""
    wide = max(len(times.face(clock, now)) for clock in clocks)
    return [f"{clocks_.state(clock, now).shape} {times.face(clock, now):>{wide}} {short_limit(clock, now)}" for clock in clocks]


class _Curve(Widget):
    """The curve in hand over its words, or its words alone where there is no room for more."""

    def __init__(self, owner: ClocksScreen) -> None:
        super().__init__(id="curve")
        self.owner = owner

    def render(self) -> Content:
        width, height = self.content_size
        seen = self.owner.seen()[1]
        if seen is None:
            return Content.styled(phrase("No running clock depends on shop temperature."), "$quiet")
        system, ascii_only = self.owner.app.session.project.system, self.app.has_class(ASCII_CLASS)
        said = textwrap.wrap(seen.said(system), max(1, width))
        rows = height - len(said) - 1
        drawn = picture.draw(seen, width, rows, ascii_only, system, words=False) if rows >= _LEAST_DRAWN else []
        return Content("\n".join([*drawn, "", *said] if drawn else said))
