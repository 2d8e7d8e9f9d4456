"""The base of all screens: offers in, key line out, a reserved line for alarms, a word for every key."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Generic, TypeVar

from textual import events
from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.screen import Screen
from textual.widget import Widget

from shopmate.clock import Clock
from shopmate.dialogue.notices import Board
from shopmate.tui.guard import WAIT_SCREEN, Pace
from shopmate.tui.keys import Offer
from shopmate.tui.stage import Stage
from shopmate.tui.widgets import notice_line
from shopmate.tui.widgets.alarm_line import SMALL, AlarmLine
from shopmate.tui.widgets.entry import Entry
from shopmate.tui.widgets.key_line import KeyLine
from shopmate.tui.widgets.notice_line import NoticeLine
from shopmate.tui.widgets.numbered import Numbered

T = TypeVar("T")


class KeyedScreen(Screen[T], Generic[T]):
    """A screen that answers exactly the keys it offers."""

    app: Stage

    AUTO_FOCUS = ""

    keeps_alarm_row = False
    """Whether the row for alarms is there while none waits; else it is made when one does."""

    typed_at = ""
    """Name of the place at which a text is being typed: it is on disk at each key, and gone once it is taken or left."""

    def body(self) -> Sequence[Widget]:
        """Return the widgets between the top of the screen and the key line."""
        raise NotImplementedError

    def offers(self) -> Sequence[Offer]:
        """Return the keys that do something now."""
        raise NotImplementedError

    def type_key(self, event: events.Key) -> bool:
        """Take a key for an entry being typed; return whether it was taken. Asked before the offers."""
        return False

    def saw(self, event: events.Key) -> None:
        """Take note of a key that the application takes itself on every screen."""

    def compose(self) -> ComposeResult:
        self.set_class(self.app.size.height < SMALL, "small")
        yield from self.body()
        yield NoticeLine()
        line = AlarmLine()
        line.display = self.keeps_alarm_row
        yield line
        yield KeyLine()

    def show_alarms(self, clocks: Sequence[Clock], now: datetime) -> None:
        """Show the alarms that wait, what was seen and is not done, and what is put off."""
        line = self.query_one(AlarmLine)
        line.clocks, line.now = tuple(clocks), now
        self.give_rows()

    def show_notices(self, board: Board) -> None:
        """Show the notices that stand now."""
        self.query_one(NoticeLine).board = board
        self.give_rows()

    def drawn_notices(self) -> tuple[int, int]:
        """Return how many notices are in sight whole, and in how many pieces the first is drawn in turn: 0 where none is."""
        # A second may end while the screen is being put up.
        lines = [*self.query(NoticeLine), *self.query(AlarmLine)]
        shown = next((at for at in lines if at.display and at.board.words and at.size.width), None)
        if shown is None or (isinstance(shown, AlarmLine) and shown.speaks):
            return 0, 0
        whole, pieces = notice_line.fit(shown.board.words, shown.size.width)
        return whole, len(pieces)

    def give_rows(self) -> None:
        """Give alarms their row, and notices one of their own only where that of the alarms is not there or not free."""
        line, notices = self.query_one(AlarmLine), self.query_one(NoticeLine)
        line.display = self.keeps_alarm_row or line.speaks
        shared = line.display and not line.speaks
        notices.display = bool(notices.board.words) and not shared
        line.board = notices.board if shared else Board()

    def on_resize(self, event: events.Resize) -> None:
        # Handlers of the classes above are called too: each screen may lay itself out as small.
        self.set_class(event.size.height < SMALL, "small")

    def fit_entry(self, above: int) -> None:
        """Arrange the entry of a small screen in the rows left under those `above` it; a larger one has room as it is."""
        entry = self.query_one(Entry)
        if self.size.height < SMALL:
            entry.fit(entry.size.width or self.size.width - 2, self.free_rows() - above)
        else:
            entry.loosen()

    def free_rows(self) -> int:
        """Return the rows that notices, alarms and keys leave, as they stand now, before the first frame too."""
        size = self.app.size
        below = [line for line in (self.query_one(AlarmLine), self.query_one(KeyLine)) if line.display]
        taken = sum(line.get_content_height(size, size, size.width) for line in below)
        return size.height - taken - bool(self.query_one(NoticeLine).display)

    def on_mount(self) -> None:
        self.show_notices(self.app.standing)
        self.show_offers()
        # An alarm that waits is on a new screen at once, not only after the next second.
        self.call_after_refresh(self.app.show_alarms)

    def on_screen_resume(self) -> None:
        if self.app.guard is not None:
            self.app.guard.change()

    @property
    def wants_digits(self) -> bool:
        """Whether digits type or choose something now."""
        return any(widget.display for widget in (*self.query(Entry), *self.query(Numbered)))

    def pace(self, key: str) -> Pace:
        """Return how soon a key may be taken again after it was."""
        typing = any(entry.display for entry in self.query(Entry))
        if key.isdigit() and (typing or any(item.display and item.digits > 1 for item in self.query(Numbered))):
            return "typed"
        for offer in self.offers():
            if offer.takes(key):
                return "again" if offer.again else "once"
        return "typed" if typing else "once"

    def refuses(self, event: events.Key) -> str:
        """Return why a key is not taken, '' when it is."""
        if self.app.screen is not self:
            return WAIT_SCREEN  # it was on its way here when another screen came up
        guard = self.app.guard
        return guard.refuses(event.key, event.time, self.pace(event.key)) if guard is not None else ""

    def on_key(self, event: events.Key) -> None:
        event.stop()
        if why := self.refuses(event):
            for line in self.app.screen.query(KeyLine):
                line.ignored(event, why)
            return
        if self.type_key(event):
            self.keep_typed()
            self.show_offers()
            return
        for offer in self.offers():
            if offer.takes(event.key):
                offer.act()
                break
        else:
            self.query_one(KeyLine).ignored(event)
        if self.is_attached:
            self.keep_typed()
            self.show_offers()

    def go_on_typing(self, place: str) -> None:
        """Let what is typed from now on be of a place, and show again what was typed there before."""
        self.typed_at = place
        if place:
            self.query_one(Entry).go_on_with(*self.app.typed_before(place))

    def keep_typed(self) -> None:
        """Have what is being typed on disk, before it is drawn."""
        if self.typed_at:
            self.app.keep_typing(self.typed_at, *self.query_one(Entry).typed)

    def forget_typed(self) -> None:
        """Forget what was typed: it is taken, or left."""
        if self.typed_at:
            self.app.keep_typing(self.typed_at, "", "")
        self.typed_at = ""

    def dismiss(self, result: T | None = None) -> AwaitComplete:
        """Close with a result: what was typed is taken, or was not to be."""
        self.forget_typed()
        return super().dismiss(result)

    def show_offers(self) -> None:
        """Draw the key line anew from the offers of this moment; the key that acknowledges works on every screen."""
        offers = [offer for offer in self.offers() if offer.word]
        if self.app.alarm_waits and all(offer.key != "asterisk" for offer in offers):
            offers.append(Offer("asterisk", "seen", lambda: None))
        self.query_one(KeyLine).offers = tuple(offers)
