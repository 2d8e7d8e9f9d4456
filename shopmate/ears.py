"""What sounds when: the alarms of one burst, its repeats, reminders, a pause; nothing here rings, reads a clock or waits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from shopmate import clock as clocks_
from shopmate import times
from shopmate.clock import Clock
from shopmate.phrases import phrase
from shopmate.records import dataclass

TOGETHER = timedelta(seconds=30)
"""Alarms that come up within this time of a burst are told by it, unless one is more urgent."""

QUIET = clocks_.AT_ONCE
"""How long the sound may be paused."""

_REMINDS = "reminder"


@dataclass(frozen=True, slots=True)
class Sign:
    """What tells one call from another: an alarm that waits, or a reminder of what was seen and is not done."""

    key: str
    """Of its clock."""
    what_for: str
    """The stage an alarm was raised for, or that it is a reminder."""
    count: int
    """How many times it was put off, or reminded of."""

    @property
    def reminds(self) -> bool:
        """Whether it is a reminder."""
        return self.what_for == _REMINDS


@dataclass(frozen=True, slots=True)
class Burst:
    """One sounding for all that waits."""

    priority: int
    """Of the most urgent alarm; it sets the rhythm."""
    words: str
    """The most urgent alarm in words, with the count of those that wait."""
    is_new: bool
    """Whether it tells of something that did not sound before."""


class Ears:
    """Remembers what was sounded and says what to sound now; every time is an argument."""

    def __init__(self) -> None:
        self._sounded: set[Sign] = set()
        self._last: tuple[int, datetime] | None = None
        self._quiet_until: datetime | None = None

    def listen(self, clocks: Iterable[Clock], now: datetime) -> Burst | None:
        """Return what to sound at `now`, taken as sounded, or None. An alarm that did not sound yet ends a pause."""
        clocks = list(clocks)
        waiting, signs = clocks_.alarms(clocks, now), calls(clocks, now)
        self._sounded &= signs.keys()
        fresh = signs.keys() - self._sounded
        if not self.quiet_for(now) or any(signs[sign] in waiting for sign in fresh):
            self._quiet_until = None
        calling = [*waiting, *(signs[sign] for sign in fresh if signs[sign] not in waiting)]
        if self._quiet_until is not None or not calling:
            return None
        top = min(calling, key=lambda clock: (clock.priority, clock.due_at))
        every = clocks_.PRIORITIES[top.priority].rhythm.every
        if not fresh and every is None:
            return None
        if self._last is not None:
            last, at = self._last
            more_urgent = any(signs[sign].priority < last for sign in fresh)
            if not more_urgent and timedelta(0) <= now - at < (every or TOGETHER):
                return None
        self._sounded, self._last = set(signs), (top.priority, now)
        words = times.alarm_text(top, now)
        if len(waiting) > 1:
            words = phrase("{count} alarms: {first}", len(waiting), words)
        return Burst(top.priority, words, bool(fresh))

    def pause(self, clocks: Iterable[Clock], now: datetime) -> None:
        """Sound nothing of what calls now for QUIET."""
        self._sounded, self._quiet_until = set(calls(clocks, now)), now + QUIET

    def shift(self, by: timedelta) -> None:
        """Follow the clock on the wall that was set by so much: what was sounded is as long ago as it was."""
        if self._last is not None:
            self._last = (self._last[0], self._last[1] + by)
        if self._quiet_until is not None:
            self._quiet_until += by

    def quiet_for(self, now: datetime) -> timedelta:
        """Return how long the pause still lasts; 0 when there is none."""
        return max(timedelta(0), min(QUIET, self._quiet_until - now)) if self._quiet_until is not None else timedelta(0)


def calls(clocks: Iterable[Clock], now: datetime) -> dict[Sign, Clock]:
    """Return what calls now: alarms that wait, the most urgent first, then reminders of what was seen and is not done."""
    clocks = list(clocks)
    waiting = {Sign(clock.key, str(clocks_.stage(clock, now)), clock.shelved): clock for clock in clocks_.alarms(clocks, now)}
    seen = {Sign(clock.key, _REMINDS, count): clock for clock in clocks if (count := clocks_.reminders(clock, now))}
    return {**waiting, **seen}


def is_lit(priority: int, passed: timedelta) -> bool:
    """Return whether the mark of an alarm is lit, when `passed` is the time since it began to flash.

    A timer that runs once per half period and comes somewhat early or late still finds every half.
    """
    half = clocks_.PRIORITIES[priority].flash
    return half is None or round(passed / half) % 2 == 0


def silence(heard: bool, command: Sequence[str], fault: str) -> str:
    """Return what has to be said of a bell that was tried: what rings in its place where it is not heard, '' where it is.

    `fault` is why the alarm command failed last.
    """
    if heard:
        return ""
    if command and not fault:
        return phrase("NO BELL: only the alarm command sounds")
    return phrase("NO SOUND: watch the screen. Turn the bell up, or set alarm_command")
