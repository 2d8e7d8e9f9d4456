"""The guard against keys held down, bouncing, or meant for what was on the screen before: taken, or ignored and why."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from statistics import median
from typing import Literal

from shopmate.phrases import phrase
from shopmate.settings import MOST, Settings

Pace = Literal["once", "again", "typed"]
"""How soon a key may be taken again: once a press; again when pressed again; typed as fast as it comes."""

HELD = "still held"
WAIT_SCREEN = "wait: new screen"
WAIT_ALARM = "wait: new alarm"

_NEVER = float("-inf")


class Guard:
    """Takes one press of a key once.

    A terminal tells neither when a key is let go nor that it repeats, so a held key is known by its gaps alone: the first
    repeat comes within `hold_ms` of what was taken, each further one within `repeat_ms` of the one before.

    Every key that acts is taken once a press, not Enter and * alone: a held `-` takes back twenty steps, a held digit
    answers the same number to every question. Keys that only erase or turn what is shown may be pressed again at once,
    and what is typed into an entry comes as fast as fingers do (a digit that bounces is the entry's own affair).

    Times are those of the events, seconds of the clock `moment` reads.
    """

    def __init__(self, settings: Settings, moment: Callable[[], float]) -> None:
        self.settings = settings
        self.moment = moment
        self._seen: dict[str, float] = {}
        """When each key last arrived."""
        self._taken: dict[str, float] = {}
        """When each key was last taken."""
        self._stale: set[str] = set()
        """Keys that were not taken when they last arrived, or arrived in another place."""
        self._changed_at = self._alarmed_at = _NEVER

    def change(self) -> None:
        """Begin to settle: another screen is up, or the present one has changed by itself."""
        self._changed_at = self.moment()
        self.move()

    def alarm(self) -> None:
        """Begin to settle: an alarm has come up."""
        self._alarmed_at = self.moment()

    def move(self) -> None:
        """Remember that a key still held was meant for what the screen asked before."""
        self._stale.update(self._seen)

    def refuses(self, key: str, at: float, pace: Pace) -> str:
        """Return why a key that arrived `at` is not taken, '' when it is."""
        why = self._why(key, at, pace)
        self._seen[key] = at
        if why:
            self._stale.add(key)
        else:
            self._stale.discard(key)
            self._taken[key] = at
        return why

    def _why(self, key: str, at: float, pace: Pace) -> str:
        repeats = at - self._seen.get(key, _NEVER) < self.settings.repeat_ms / 1000
        if repeats and (pace != "typed" or key in self._stale):
            return HELD
        settling = self.settings.settle_ms / 1000
        if settling and at < self._changed_at + settling:
            return WAIT_SCREEN
        # A digit can do nothing to an alarm, but one that is lost makes another number of what is being typed.
        if settling and at < self._alarmed_at + settling and pace != "typed":
            return WAIT_ALARM
        taken_at = self._taken.get(key, _NEVER)
        brought_this = taken_at <= self._changed_at
        if at - taken_at < self.settings.hold_ms / 1000 and (pace == "once" or brought_this):
            return HELD
        return ""


_LEAST_REPEATS = 4
"""Repeats that a hold of two seconds has to bring to be measured."""

_EVEN = 3.0
"""A gap so many times the usual one is no repeat of the same hold."""

_MARGIN_MS, _FACTOR = 150, 1.5
"""What is added to the first gap, and by what the gap of the repeats is multiplied."""


def measure(times: Sequence[float]) -> tuple[int, int] | str:
    """Return hold_ms and repeat_ms for a keyboard from the times, in seconds, at which a key held down arrived.

    The hold time is the first gap and 150 ms, the repeat time 1.5 times the longest gap of the repeats. Returns why
    nothing can be set where the key did not repeat, or was not held evenly.
    """
    gaps = [later - earlier for earlier, later in pairwise(times)]
    repeats = gaps[1:]
    if len(repeats) < _LEAST_REPEATS:
        return phrase("This keyboard does not repeat keys, so nothing changes. If it does, hold Enter again, longer.")
    if max(repeats) > _EVEN * median(repeats) or median(repeats) > gaps[0]:
        return phrase("Not a steady hold. Hold Enter down again for two seconds.")
    hold_ms = min(round(gaps[0] * 1000) + _MARGIN_MS, MOST["hold_ms"])
    return hold_ms, min(round(max(repeats) * 1000 * _FACTOR), MOST["repeat_ms"])
