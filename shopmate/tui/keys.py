"""The one place that makes every key of every terminal and keypad mean one thing, and the offers a screen makes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from textual import events

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

_LABELS = {
    "enter": "Enter",
    "plus": "+",
    "minus": "-",
    "asterisk": "*",
    "slash": "/",
    "full_stop": ".",
    "comma": ",",
    "escape": "Esc",
}


def normalise(event: events.Key) -> events.Key:
    """Return the event of the main-keyboard key that means the same; other events as they are."""
    if event.key in _SAME:
        same = events.Key(*_SAME[event.key])
        same.time = event.time
        return same
    return event


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
