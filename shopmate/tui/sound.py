"""What rings and flashes on the screen: the bell of the terminal by timers, the user's alarm command, the mark of an alarm."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from datetime import datetime, timedelta

from textual.app import App
from textual.timer import Timer

from shopmate import channels, ears
from shopmate.clock import PRIORITIES, Rhythm
from shopmate.phrases import phrase

_HALF = min(priority.flash for priority in PRIORITIES.values() if priority.flash is not None).total_seconds()
"""Seconds of the shortest time that a mark is lit or not: it is looked at as often."""

_NOT_TESTED = "SOUND NOT TESTED: / . Settings"


class ScreenSounder:
    """The channels of the application."""

    has_bell = True

    def __init__(self, app: App[None]) -> None:
        self._app = app
        self.run_command = channels.run_command
        """Runs the alarm command and returns why it failed, or ''."""
        self._bells: list[Timer] = []
        """The bells of the burst that sounds now."""

    @property
    def untested(self) -> str:
        """What is to be said as long as nobody has said whether the bell is heard."""
        return phrase(_NOT_TESTED)

    def ring(self, rhythm: Rhythm) -> None:
        """Ring the bell in a rhythm; a burst that still sounds ends."""
        self.hush()
        times = [max(0.001, count * rhythm.gap.total_seconds()) for count in range(rhythm.bells)]
        self._bells = [self._app.set_timer(after, self._app.bell) for after in times]

    def hush(self) -> None:
        """End the burst that sounds."""
        for bell in self._bells:
            bell.stop()
        self._bells = []

    def shift(self, by: timedelta) -> None:
        """Do nothing: no timer goes by the clock on the wall."""

    def call(self, command: Sequence[str], words: str, ended: Callable[[str], None]) -> None:
        """Run the alarm command in a thread; why it failed is told in the one of the screen."""

        def run() -> None:
            self._app.call_from_thread(ended, self.run_command(command, words))

        self._app.run_worker(run, name="alarm_command", thread=True)

    def send_notification(self, words: str) -> None:
        """Ask the terminal to show a notification."""
        if self._app._driver is not None and not self._app.is_headless:
            self._app._driver.write(channels.notification(words, in_multiplexer="TMUX" in os.environ))


class Flash:
    """Flashes the mark of the most urgent alarm while one waits that flashes."""

    def __init__(self, app: App[None], now: Callable[[], datetime], light: Callable[[bool], None]) -> None:
        """Show the mark lit or not by `light`, as the time says that `now` reads."""
        self._app, self._now, self._light = app, now, light
        self._timer: Timer | None = None
        self._began = now()
        self._priority = 0

    @property
    def goes(self) -> bool:
        """Whether a mark flashes now."""
        return self._timer is not None

    def follow(self, priority: int | None) -> None:
        """Flash in the pace of the most urgent alarm that waits; None where none does."""
        if priority is not None and PRIORITIES[priority].flash is not None:
            self._priority = priority
            if self._timer is None:
                self._began = self._now()
                self._timer = self._app.set_interval(_HALF, self.turn)
        elif self._timer is not None:
            self._timer.stop()
            self._timer = None
            self._light(True)

    def turn(self) -> None:
        """Show the mark lit or not, as the time says."""
        if self.goes:
            self._light(ears.is_lit(self._priority, self._now() - self._began))
