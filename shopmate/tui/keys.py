"""The one place that makes every key of every terminal and keypad mean one thing, and the offers a screen makes."""

from __future__ import annotations

from collections.abc import Callable

from textual import events

from shopmate.records import dataclass

KEYPAD = {
    **{digit: digit for digit in "0123456789"},
    "full_stop": ".",
    "slash": "/",
    "asterisk": "*",
    "minus": "-",
    "plus": "+",
    "enter": "Enter",
}
"""The sixteen keys that do all bench work: name -> what is printed on the key."""

NAVIGATION = frozenset({"home", "up", "pageup", "left", "right", "end", "down", "pagedown", "insert", "delete"})
"""What the digits of a keypad and its point send while Num Lock is off; its 5 sends kp_begin."""

NUM_LOCK_SECONDS = 2.0
"""Two navigation keys within this time, where digits are wanted, mean that Num Lock is off."""

_SAME = {
    "ctrl+j": ("enter", "\r"),
    "add": ("plus", "+"),
    "subtract": ("minus", "-"),
    "multiply": ("asterisk", "*"),
    "divide": ("slash", "/"),
    "decimal": ("full_stop", "."),
    "separator": ("comma", ","),
}
"""Names that keypad keys take under the newer keyboard protocol and in a multiplexer, and what they stand for."""

_FIRST_HALF = "alt+shift+o"
"""How the first bytes of a sequence of an application keypad arrive that is not known; its last byte follows as a letter."""

_HALVES = {"E": ("kp_begin", None), "l": ("comma", ","), "X": ("equal", None)}
"""The letters that follow it, and the keys that sent them."""

_UNKNOWN = ("unknown", None)

_HALVES_SECONDS = 0.1
"""Both halves of a sequence arrive within this time."""

_LABELS = {**KEYPAD, "comma": ",", "escape": "Esc"}


class Normaliser:
    """Puts the key of the main keyboard that means the same in place of every key as it arrives."""

    def __init__(self) -> None:
        self._first_half_at: float | None = None

    def read(self, event: events.Key) -> events.Key:
        """Return the event of the key that means the same; other events as they are."""
        before, self._first_half_at = self._first_half_at, event.time if event.key == _FIRST_HALF else None
        meant: tuple[str, str | None] | None = _SAME.get(event.key)
        if event.key == _FIRST_HALF:
            meant = _FIRST_HALF, None  # it is no letter either
        if before is not None and event.time - before <= _HALVES_SECONDS and event.character is not None:
            # The end of a sequence is no letter that somebody typed.
            meant = _HALVES.get(event.character, _UNKNOWN)
        if meant is None:
            return event
        same = events.Key(*meant)
        same.time = event.time
        return same


class NumLock:
    """Notices that the digits of a keypad arrive as keys that move a cursor."""

    def __init__(self) -> None:
        self.off = False
        """Whether it seems to be off."""
        self._moved_at: float | None = None

    def see(self, event: events.Key, wanted: bool) -> None:
        """Take note of a key; `wanted` says whether digits are wanted now."""
        if event.key == "kp_begin":
            self.off = True
        elif event.key in NAVIGATION and wanted:
            before, self._moved_at = self._moved_at, event.time
            self.off = self.off or (before is not None and event.time - before <= NUM_LOCK_SECONDS)
        elif event.character is not None and event.character in "0123456789":
            self.off, self._moved_at = False, None


def label(key: str) -> str:
    """Return what is printed on the key named `key`."""
    return _LABELS.get(key, key)


@dataclass(frozen=True, slots=True)
class Offer:
    """A key that does something now: the key line shows the offers and nothing else answers a key."""

    key: str
    word: str
    """What it does, one or two words; empty for keys not shown (a full keyboard's second way)."""
    act: Callable[[], object]
    also: tuple[str, ...] = ()
    """Other keys that do the same and are not shown."""
    again: bool = False
    """Whether it may be pressed again at once, since it only erases or turns what is shown."""

    def takes(self, key: str) -> bool:
        """Return whether a key is the one offered, or does the same."""
        return key == self.key or key in self.also
