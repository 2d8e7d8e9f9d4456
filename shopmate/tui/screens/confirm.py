"""The question before the three things that are not simply taken back: another key answers it, in a window of time."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from textual.widget import Widget
from textual.widgets import Static

from shopmate.clock import Clock
from shopmate.dialogue.asking import Confirm
from shopmate.phrases import phrase
from shopmate.tui.guard import Guard
from shopmate.tui.keys import Offer
from shopmate.tui.screen import KeyedScreen
from shopmate.tui.widgets.key_line import KeyLine

MOST_SECONDS = 5.0
"""How long the question stands; then it goes away and nothing is done."""


class ConfirmScreen(KeyedScreen[bool]):
    """Asks; Enter says yes, from the time a held key needs to be told from a new one (`hold_ms`) until MOST_SECONDS.

    It is pushed by a digit, so the key that asked can never be the one that answers.
    """

    CSS_PATH = "confirm.tcss"

    def __init__(self, question: Confirm) -> None:
        super().__init__()
        self.question = question
        self.asked_at: float | None = None
        """When the question came up, on the clock that keys are stamped with."""

    def body(self) -> Sequence[Widget]:
        asked = self.question
        return Static(asked.text, id="question", markup=False), Static(asked.explain, id="explain", markup=False)

    def on_mount(self) -> None:
        super().on_mount()
        self.asked_at = self._guard.moment()

    @property
    def _guard(self) -> Guard:
        assert self.app.guard is not None
        return self.app.guard

    def offers(self) -> Sequence[Offer]:
        yes = Offer("enter", self.question.yes, self.confirm)
        return yes, Offer("minus", self.question.no, self.keep, also=("escape",))

    def confirm(self) -> None:
        """Say yes, unless the press is so early that it may not be an answer, or so late that the question is over."""
        assert self.asked_at is not None
        passed = self._guard.moment() - self.asked_at
        if passed < self._guard.settings.hold_ms / 1000:
            self.query_one(KeyLine).say(phrase("too soon: press again"))
        else:
            self.dismiss(passed <= MOST_SECONDS)

    def keep(self) -> None:
        """Say no."""
        self.dismiss(False)

    def show_alarms(self, clocks: Sequence[Clock], now: datetime) -> None:
        super().show_alarms(clocks, now)
        # Called once a second: a question nobody answers goes away by itself.
        if self.asked_at is not None and self.is_current and self._guard.moment() - self.asked_at > MOST_SECONDS:
            self.dismiss(False)
