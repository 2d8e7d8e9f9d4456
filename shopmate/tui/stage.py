"""What screens stand on: an application that knows a press from a key held down, and keeps what is half typed."""

from __future__ import annotations

from textual.app import App

from shopmate.dialogue.notices import Board
from shopmate.settings import Settings
from shopmate.tui.guard import Guard


class Stage(App[None]):
    """An application for keyed screens; one without a desk keeps and tells nothing, and takes every key."""

    guard: Guard | None = None
    """What tells a press from a key held down."""

    settings = Settings()
    """The settings of this machine."""

    @property
    def alarm_waits(self) -> bool:
        """Whether an alarm waits to be acknowledged."""
        return False

    @property
    def standing(self) -> Board:
        """The notices that stand, as they are to be drawn now."""
        return Board()

    def num_lock_off(self) -> None:
        """Say that Num Lock seems to be off, until a digit arrives."""

    def show_alarms(self) -> None:
        """Show the alarm that waits, and the keys it brings, on the screen that is up."""

    def tell(self, words: str) -> None:
        """Show words that need all the room there is, once, until they are read."""

    def typed_before(self, place: str) -> tuple[str, str]:
        """Return the text and the unit that were half typed at a place of the project when it was shut."""
        return "", ""

    def keep_typing(self, place: str, text: str, unit: str) -> None:
        """Keep what is half typed at a place; with neither text nor unit forget it."""
