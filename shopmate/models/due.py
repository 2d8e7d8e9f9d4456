"""The kinds of limits that a clock keeps, and the one question that tells them apart."""

from __future__ import annotations

from typing import Literal, assert_never, get_args

ClockKind = Literal["DO BEFORE", "NOT BEFORE"]
"""DO BEFORE: pot life, open time, recoat closes. NOT BEFORE: clamp, recoat opens, cure."""

CLOCK_KINDS: tuple[ClockKind, ...] = get_args(ClockKind)


def closes(kind: ClockKind) -> bool:
    """Return whether a window closes with the time of a clock of that kind; else one opens, and nothing is lost by waiting."""
    match kind:
        case "DO BEFORE":
            return True
        case "NOT BEFORE":
            return False
        case _:
            assert_never(kind)
