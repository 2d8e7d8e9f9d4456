"""The user's own keyboard: how it repeats a key held down, by which the guards are set, and which of the sixteen keys arrive."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.content import Content
from textual.timer import Timer
from textual.widget import Widget
from textual.widgets import Static

from shopmate import settings as settings_
from shopmate.errors import ShopmateError
from shopmate.phrases import phrase
from shopmate.records import replace
from shopmate.tui.guard import Pace, measure
from shopmate.tui.keys import KEYPAD, NAVIGATION, Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.talk import TalkingApp

HOLD_SECONDS = 2.0
"""How long Enter is to be held."""

_WAIT_SECONDS = 2.5
"""After this a key that has not repeated does not."""

_LET_GO_SECONDS = 0.3
"""An Enter sooner than this after the last one that was measured is the same hold still."""

_BLOCK = ("7 8 9 /", "4 5 6 *", "1 2 3 -", "0 . Enter +")
_NAMES = {printed: name for name, printed in KEYPAD.items()}


class KeysScreen(KeyedScreen[None]):
    """Measures a hold of Enter and saves the guards that follow, then marks the keys of the keypad as they arrive."""

    CSS_PATH = "keys.tcss"

    app: TalkingApp

    def __init__(self) -> None:
        super().__init__()
        self.measuring = True
        """Whether Enter is to be held now."""
        self.said = phrase("Hold Enter down for {seconds:g} seconds, then let go.", HOLD_SECONDS)
        self.arrived: list[str] = []
        """Names of the keys that arrived, each once, in their order."""
        self._last = ""
        self._held: list[float] = []
        self._measured_at = float("-inf")
        self._waiting: Timer | None = None

    def body(self) -> Sequence[Widget]:
        return (
            Static(phrase("Test this keyboard"), id="title", markup=False),
            Static(id="told", markup=False),
            Static(id="keys"),
        )

    def on_mount(self) -> None:
        super().on_mount()
        self.show()

    def pace(self, key: str) -> Pace:
        # What is measured has to arrive; a key that is offered acts.
        return super().pace(key) if any(offer.takes(key) for offer in self.offers()) else "typed"

    def type_key(self, event: events.Key) -> bool:
        if event.key == "enter" and (self.measuring or event.time - self._measured_at < _LET_GO_SECONDS):
            self.take_held(event.time)
            return True
        if self.measuring or any(offer.takes(event.key) for offer in self.offers()):
            return False
        self.saw(event)
        return True

    def take_held(self, at: float) -> None:
        """Take one arrival of the key that is held."""
        if at - self._measured_at < _LET_GO_SECONDS:
            self._measured_at = at
            return
        self._held.append(at)
        if len(self._held) == 1:
            self._waiting = self.set_timer(_WAIT_SECONDS, self.finish)
        if at - self._held[0] >= HOLD_SECONDS:
            self._measured_at = at
            self.finish()

    def finish(self) -> None:
        """Work out the guards from what arrived, and save them."""
        if not self.measuring or not self._held:
            return
        held, self._held = self._held, []
        if self._waiting is not None:
            self._waiting.stop()
        found = measure(held)
        if isinstance(found, str):
            self.said = found
        else:
            hold_ms, repeat_ms = found
            self.measuring = False
            self.said = phrase(
                "Saved: a second press within {hold_ms} ms is ignored; so are repeats within {repeat_ms} ms of each other.",
                hold_ms,
                repeat_ms,
            )
            try:
                self.app.desk.change(replace(settings_.load(), hold_ms=hold_ms, repeat_ms=repeat_ms))
            except ShopmateError as error:
                self.said = phrase("Not saved: {error}", error)
        self.show()
        self.show_offers()

    def saw(self, event: events.Key) -> None:
        """Mark a key that arrived."""
        if self.measuring:
            return
        self._last = event.key
        if event.key not in self.arrived:
            self.arrived.append(event.key)
        if event.key in NAVIGATION:
            self.app.num_lock_off()
        self.show()
        self.show_offers()

    def skip(self) -> None:
        """Leave the guards as they are and go on to the keys."""
        self.measuring, self._held = False, []
        self.said = phrase("Key timing is unchanged.")
        self.show()

    def leave(self) -> None:
        """Close the screen."""
        self.dismiss(None)

    def offers(self) -> Sequence[Offer]:
        if self.measuring:
            return Offer("plus", "keys only", self.skip), Offer("slash", "leave", self.leave, also=("escape",))
        # Once it has been seen to arrive a key is free to leave with.
        ways = [Offer(key, phrase("leave"), self.leave) for key in ("slash", "enter") if key in self.arrived]
        return (*ways, Offer("escape", "", self.leave))

    def show(self) -> None:
        """Draw what there is to say, and the keys with their marks."""
        said = self.said
        if not self.measuring:
            said = f"{said} {phrase('Press each of the {count} keys once; / or Enter again leaves.', len(KEYPAD))}"
        self.query_one("#told", Static).update(said)
        self.query_one("#keys", Static).update(Content("") if self.measuring else self._marks())

    def _marks(self) -> Content:
        rows = []
        for line in _BLOCK:
            cells = [f" {'✓' if _NAMES[key] in self.arrived else '·'} {key}".ljust(9) for key in line.split()]
            rows.append(Content("".join(cells).rstrip()))
        missed = [printed for name, printed in KEYPAD.items() if name not in self.arrived]
        told = phrase("All {count} keys get through.", len(KEYPAD))
        if missed:
            told = phrase("Not pressed yet: {keys}", " ".join(missed))
        rows.append(Content(f" {told}"))
        strange = [key for key in self.arrived if key not in KEYPAD]
        if strange:
            rows.append(Content(f" {phrase('Not one of the {count} keys: {keys}', len(KEYPAD), ' '.join(strange))}"))
        if self._last:
            rows.append(Content(f" {phrase('Last: {key}', self._last)}"))
        return Content("\n").join(rows)
