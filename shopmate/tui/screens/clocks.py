"""All clocks with what each is for: end one, or start one of your own."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from functools import partial
from typing import TYPE_CHECKING

from textual import events
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from shopmate import clock as clocks_
from shopmate.calculator import Measure
from shopmate.clock import Clock
from shopmate.errors import EntryError
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.entry import Entry
from shopmate.tui.widgets.key_line import KeyLine

if TYPE_CHECKING:
    from shopmate.tui.app import ShopmateApp

OWN = Measure("min", above=0, high=60 * 24 * 14)
"""Length of a clock of the user's own: up to two weeks."""


class ClocksScreen(KeyedScreen[None]):
    """Lists the running clocks by number; a number asks to end one, 0 starts one."""

    CSS_PATH = "clocks.tcss"

    app: ShopmateApp

    keeps_alarm_row = True

    def __init__(self) -> None:
        super().__init__()
        self.asked: Clock | None = None
        """The clock whose end waits to be confirmed."""

    def body(self) -> Sequence[Widget]:
        return Static("Clocks", id="title"), _List(self), Entry(OWN.read)

    def on_resize(self, event: events.Resize) -> None:
        self.set_class(event.size.height < 16, "small")

    @property
    def clocks(self) -> list[Clock]:
        """The running clocks, each in the slot it took when it was started."""
        return self.app.session.clocks

    @property
    def entering(self) -> bool:
        """Whether the length of an own clock is being typed."""
        return self.has_class("entering")

    def type_key(self, event: events.Key) -> bool:
        entry = self.query_one(Entry)
        return self.entering and not (event.key in ("slash", "plus") and not entry.text) and entry.press(event)

    def offers(self) -> Sequence[Offer]:
        if self.entering:
            entry = self.query_one(Entry)
            start = Offer("enter", "start it", self.start_own)
            if entry.text:
                return [start, Offer("plus", "erase", entry.erase, also=("backspace",))]
            unit = Offer("plus", "unit", entry.next_unit, also=("tab",))
            return [start, unit, Offer("slash", "back", self.stop_entering, also=("escape",))]
        if self.asked is not None:
            return Offer("enter", f"end {self.asked.title}", self.end_asked), Offer(
                "minus", "keep it", self.keep_asked, also=("escape",)
            )
        end = [Offer("1", "end one", lambda: self.ask("1"))] if self.clocks else []
        silent = [Offer(digit, "", partial(self.ask, digit)) for digit in "23456789"[: max(0, len(self.clocks) - 1)]]
        own = Offer("0", "own clock", self.enter_own)
        return [*end, *silent, own, Offer("plus", "back", lambda: self.dismiss(None), also=("escape", "slash"))]

    def ask(self, digit: str) -> None:
        """Ask before a clock is ended: another key than the one that chose it confirms."""
        index = int(digit) - 1
        if index < len(self.clocks):
            self.asked = self.clocks[index]
            self.refresh_all()

    def keep_asked(self) -> None:
        """Leave the clock running."""
        self.asked = None
        self.refresh_all()

    def end_asked(self) -> None:
        """End the clock that was asked about."""
        assert self.asked is not None
        with self.app.telling():
            self.query_one(KeyLine).echo(self.app.session.end_clock(self.asked.key, self.app.now()))
        self.asked = None
        self.refresh_all()

    def enter_own(self) -> None:
        """Ask for the length of an own clock."""
        self.add_class("entering")
        self.query_one(Entry).ask(OWN.read, ("min", "h"), "min", hint="How long? It counts down to DO BEFORE.")

    def stop_entering(self) -> None:
        """Leave the entry of an own clock."""
        self.remove_class("entering")

    def start_own(self) -> None:
        """Start the own clock of the length typed."""
        entry, session = self.query_one(Entry), self.app.session
        try:
            minutes = OWN.read(entry.text_with_unit()).value_in("min")
        except EntryError as error:
            entry.note = str(error)
            return
        count = sum(clock.name == "own" for clock in session.project.clocks.values()) + 1
        with self.app.telling():
            session.start_clock(f"Own clock {count}", "DO BEFORE", timedelta(minutes=minutes), self.app.now())
        self.stop_entering()
        self.refresh_all()

    def show_alarms(self, clocks: Sequence[Clock], now: datetime) -> None:
        super().show_alarms(clocks, now)
        self.query_one(_List).refresh()

    def refresh_all(self) -> None:
        """Draw the list anew."""
        self.show_alarms(self.clocks, self.app.now())


class _List(Widget):
    def __init__(self, owner: ClocksScreen) -> None:
        super().__init__(id="list")
        self.owner = owner

    def render(self) -> Content:
        owner, now = self.owner, self.owner.app.now()
        if owner.asked is not None:
            clock = owner.asked
            words = f" End {clock.title} ({clocks_.face(clock, now)} {'over' if now > clock.due_at else 'left'})?"
            return Content.assemble((words, "bold"), f"\n {clock.consequence}", "\n Enter ends it, - keeps it.")
        lines: list[Content] = []
        tall = 2 * len(owner.clocks) <= self.size.height
        for index, clock in enumerate(owner.clocks):
            how = clocks_.state(clock, now)
            number = (f" {index + 1} ", "bold reverse")
            due = f"{clock.kind} {clocks_.wall(clock.due_at, now)}"
            head = f" {how.shape} {clock.title}  {clocks_.face(clock, now)}  {due}  {how.word}"
            lines.append(Content.assemble(" ", number, (head, "bold")).truncate(self.size.width, ellipsis=True))
            if tall:
                lines.append(
                    Content.styled(f"     {clock.action}. If late: {clock.if_late}", "$quiet").truncate(
                        self.size.width, ellipsis=True
                    )
                )
        return Content("\n").join(lines) if lines else Content.styled(" No clock is running. 0 starts one of your own.", "$quiet")
