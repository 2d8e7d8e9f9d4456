"""Which characters a text may hold, and how one that it may not is made visible wherever it is shown all the same."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

_JOINED = "\u0600-\u08ff\u0900-\u109f\u1780-\u18af\ua840-\ua87f\ufb50-\ufdff\ufe70-\ufefc\u2190-\u2bff\ufe0f\U0001f000-\U0001faff"
"""Characters between which a joiner or non-joiner (U+200D, U+200C) belongs to the spelling.

Letters of Arabic, of the scripts of India and of their neighbours, and emoji of several parts. Between Latin letters
they show nothing and make two equal-looking names of one.
"""

_UNFIT = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f"  # C0 but tab and newline, DEL, C1: a terminal acts on them
    "\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069"  # marks, overrides and isolates of direction; separators of lines
    "\xad\u070f\u180e\u200b\u2060-\u2065\u206a-\u206f\ufeff\ufff0-\ufffb"  # further format characters: they show nothing
    "\u034f\u115f\u1160\u17b4\u17b5\u3164\uffa0"  # letters and a mark that show nothing either
    "\ufffe\uffff\ud800-\udfff"  # no characters at all: not even in UTF-8
    "\U00013430-\U0001343f\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e007f"
    f"]|(?<![{_JOINED}])[\u200c\u200d]|[\u200c\u200d](?![{_JOINED}])"
)
"""Characters that do something to a screen, or that nobody sees.

A German text needs none of them: the soft hyphen is for typesetting, the narrow no-break space before a unit is no
format character and stays. An Arabic or Hebrew text is ordered by its letters; marks of direction are left to whoever
sets pages, since they can also make 2:1 read as 1:2. The Arabic number signs are format characters that are seen, and stay.
"""


def unfit(text: str) -> Iterator[tuple[int, str]]:
    """Yield place (from 0) and name, such as U+202E, of each character that no text may hold."""
    return ((match.start(), name(match[0])) for match in _UNFIT.finditer(text))


def is_fit(text: str) -> bool:
    """Return whether a text holds no character that no text may hold."""
    return (text.isascii() and text.isprintable()) or _UNFIT.search(text) is None  # nearly all are found out the faster way


def visible(text: str) -> str:
    """Return a text that can be shown as it is: each character that no text may hold stands as its name, as in [U+001B]."""
    return text if is_fit(text) else replaced(text, lambda character: f"[{name(character)}]")


def replaced(text: str, by: Callable[[str], str]) -> str:
    """Return a text with what `by` gives for each character that no text may hold."""
    return _UNFIT.sub(lambda match: by(match[0]), text)


def name(character: str) -> str:
    """Return a character as Unicode names it by number: U+001B."""
    return f"U+{ord(character):04X}"
