"""What rings in lines: the bell of the terminal, bell by bell as the bench waits, and the user's alarm command beside it."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import datetime, timedelta
from functools import partial
from queue import Empty, SimpleQueue

from shopmate import channels
from shopmate.clock import Rhythm
from shopmate.phrases import phrase
from shopmate.plain.lines import Lines

_NOT_TESTED = "SOUND NOT TESTED: type / and Settings at a step, then Sound test"


def in_thread(work: Callable[[], None]) -> None:
    """Do work in a thread of its own; the program ends only after it, so that no alarm command outlives its limit."""
    threading.Thread(target=work).start()


class LineSounder:
    """The channels of the bench in lines; it sounds when it is looked at."""

    def __init__(
        self,
        lines: Lines,
        *,
        has_bell: bool,
        run_command: Callable[[Sequence[str], str], str] = channels.run_command,
        beside: Callable[[Callable[[], None]], None] = in_thread,
    ) -> None:
        """Ring the bell of `lines`, where there is one.

        `run_command` returns why it failed, or ''; it is called in work given to `beside`, which does not wait for it.
        """
        self.has_bell = has_bell
        self._lines, self._run_command, self._beside = lines, run_command, beside
        self._bells: list[datetime] = []
        """When the bell is to ring."""
        self._ended: SimpleQueue[Callable[[], None]] = SimpleQueue()
        """What is to be done once a command has ended, handed over by its thread."""

    @property
    def untested(self) -> str:
        """What is to be said as long as nobody has said whether the bell is heard."""
        return phrase(_NOT_TESTED)

    def ring(self, rhythm: Rhythm) -> None:
        """Have the bell ring in a rhythm from now on."""
        now = self._lines.now()
        self._bells = [now + count * rhythm.gap for count in range(rhythm.bells)] if self.has_bell else []

    def hush(self) -> None:
        """End the burst that sounds."""
        self._bells.clear()

    def shift(self, by: timedelta) -> None:
        """Follow the clock on the wall that was set by so much."""
        self._bells = [at + by for at in self._bells]

    def call(self, command: Sequence[str], words: str, ended: Callable[[str], None]) -> None:
        """Run the alarm command; why it failed is told at the look after its end."""
        self._beside(lambda: self._ended.put(partial(ended, self._run_command(command, words))))

    def send_notification(self, words: str) -> None:
        """Do nothing: each alarm is a line here."""

    def look(self, now: datetime) -> timedelta | None:
        """Ring the bells that are due, and take note of a command that has ended; return the time to the next bell, if any."""
        with suppress(Empty):
            self._ended.get_nowait()()
        while self._bells and self._bells[0] <= now:
            self._bells.pop(0)
            self._lines.ring()
        return self._bells[0] - now if self._bells else None
