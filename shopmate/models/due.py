"""The two kinds of limit that a clock keeps, and how to tell them apart."""

from __future__ import annotations

from typing import Literal, assert_never, get_args

ClockKind = Literal["DO BEFORE", "NOT BEFORE"]
"""DO BEFORE: pot life, open time, recoat closes. NOT BEFORE: clamp, recoat opens, cure."""

CLOCK_KINDS: tuple[ClockKind, ...] = get_args(ClockKind)


def closes(kind: ClockKind) -> bool:
    """Return whether a window closes when a clock of that kind runs out; otherwise one opens, and waiting longer does no harm."""
    match kind:
        case "DO BEFORE":
            return True
        case "NOT BEFORE":
            return False
        case _:
            assert_never(kind)
