"""The sound of the bench in lines: bells of the terminal, the user's alarm command, and a line where one of them is silent."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from datetime import datetime, timedelta
from queue import Empty, SimpleQueue

from shopmate import channels, ears
from shopmate import clock as clocks_
from shopmate.clock import Clock
from shopmate.phrases import phrase
from shopmate.plain.lines import Lines

_NOT_TESTED = "SOUND NOT TESTED: type / and Settings at a step, then Sound test"


def in_thread(work: Callable[[], None]) -> None:
    """Do work in a thread of its own; the program ends only after it, so that no alarm command outlives its limit."""
    threading.Thread(target=work).start()


class Sound:
    """The channels of one bench; it sounds when it is looked at, and every time is an argument."""

    def __init__(
        self,
        lines: Lines,
        *,
        bell: bool,
        command: Sequence[str] = (),
        run_command: Callable[[Sequence[str], str], str] = channels.run_command,
        beside: Callable[[Callable[[], None]], None] = in_thread,
    ) -> None:
        """Ring the bell of `lines` where `bell` says that there is one, and run `command`, if there is one.

        `run_command` returns why it failed, or ''; it is called in work given to `beside`, which does not wait for it.
        """
        self.bell, self.command = bell, tuple(command)
        self.heard: bool | None = None
        """Whether the user heard the bell when asked; None before."""
        self._lines, self._run_command, self._beside = lines, run_command, beside
        self._ears = ears.Ears()
        self._bells: list[datetime] = []
        """When the bell is to ring."""
        self._runs = False
        self._ended: SimpleQueue[str] = SimpleQueue()
        """Why the command that ran failed, handed over by its thread."""
        self._fault = ""
        self._said: tuple[str, ...] = ()
        """The silent channels as they were said last."""

    @property
    def is_there(self) -> bool:
        """Whether there is a channel at all."""
        return self.bell or bool(self.command)

    def begin(self) -> None:
        """Forget what was sounded: another project is on the bench."""
        self._ears = ears.Ears()
        self._bells.clear()
        self._said = ()

    def listen(self, clocks: Iterable[Clock], now: datetime) -> None:
        """Sound what calls at `now`, on every channel there is."""
        burst = self._ears.listen(clocks, now)
        if burst is not None:
            self._begin(clocks_.rhythm(burst.priority), now)
            self._call(burst.words)

    def ring(self, now: datetime) -> timedelta | None:
        """Ring the bells that are due; return the time to the next one, None where none follows."""
        while self._bells and self._bells[0] <= now:
            self._bells.pop(0)
            self._lines.ring()
        return self._bells[0] - now if self._bells else None

    def hush(self) -> None:
        """End the burst that sounds."""
        self._bells.clear()

    def pause(self, clocks: Iterable[Clock], now: datetime) -> None:
        """Sound nothing of what calls now for a while, which is said."""
        self.hush()
        self._ears.pause(clocks, now)
        self._lines.say(phrase("SOUND PAUSED {time}; a new alarm sounds all the same.", clocks_.span(self._ears.quiet_for(now))))

    def paused(self, now: datetime) -> str:
        """Return how long the pause still lasts; '' when there is none."""
        left = self._ears.quiet_for(now)
        return clocks_.span(left) if left else ""

    def shift(self, by: timedelta) -> None:
        """Follow the clock on the wall that was set by so much."""
        self._ears.shift(by)
        self._bells = [at + by for at in self._bells]

    def test(self, now: datetime) -> None:
        """Sound three beeps and the alarm command, as an alarm within half an hour does."""
        self._begin(clocks_.rhythm(2), now)
        self._call(phrase("Sound test"))

    def say_silence(self) -> None:
        """Say which channels do not sound, once for each change."""
        with suppress(Empty):
            self._fault, self._runs = self._ended.get_nowait(), False
        fault = phrase("NO COMMAND SOUND: {fault}", self._fault) if self._fault else ""
        silent = tuple(filter(None, (self._silence(), fault)))
        for words in silent:
            if words not in self._said:
                self._lines.say(f"{words}.")
        self._said = silent

    def _silence(self) -> str:
        """Return what is to be said of the bell; where there is none, only that the command does not sound in its place."""
        if not self.bell:
            return phrase("NO SOUND: alarms come as lines alone") if self._fault else ""
        return ears.silence(self.heard, self.command, self._fault) if self.heard is not None else phrase(_NOT_TESTED)

    def _begin(self, rhythm: clocks_.Rhythm, now: datetime) -> None:
        self._bells = [now + count * rhythm.gap for count in range(rhythm.bells)] if self.bell else []

    def _call(self, words: str) -> None:
        """Start the alarm command, where there is one and it does not run already."""
        if self.command and not self._runs:
            self._runs = True
            self._beside(lambda: self._ended.put(self._run_command(self.command, words)))
