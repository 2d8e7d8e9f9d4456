"""What the style of a recipe asks of its texts, in any language; English words are looked for where they give it away."""

from __future__ import annotations

import re

_ORDERS = re.compile(r"(?:do not|don't|never|always|please|make sure|be sure)\b", re.IGNORECASE)


def joins_actions(line: str) -> bool:
    """Return whether a line holds two actions: 'then', or a semicolon."""
    return ";" in line or re.search(r"\bthen\b", line, re.IGNORECASE) is not None


def gives_order(text: str) -> bool:
    """Return whether a sentence of `text` tells to do something by its first words, which a caution must not."""
    return any(_ORDERS.match(sentence) for sentence in re.split(r"(?<=[.!?:])\s+", text))


def alerts(text: str) -> bool:
    """Return whether a text carries the sign of a hazard to people, or an exclamation that stands for it."""
    return any(sign in text for sign in "⚠▲!")


def wraps(headline: str, width: int = 13, lines: int = 2) -> bool:
    """Return whether a headline fits `lines` lines of `width` characters, broken at spaces only."""
    rows, used = 1, 0
    for word in headline.split():
        if len(word) > width:
            return False
        if used and used + 1 + len(word) > width:
            rows, used = rows + 1, 0
        used += len(word) + (1 if used else 0)
    return rows <= lines
