"""The clock that nobody sets and that runs on while the computer sleeps, where the system has one."""

from __future__ import annotations

import sys
import time
from functools import cache
from pathlib import Path

from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Steady:
    """A reading of the steady clock, good to compare with others of the same start of the computer."""

    boot: str
    """Which start of the computer it counts from."""
    seconds: float


def read_steady() -> Steady | None:
    """Return what the steady clock reads, or None where none is known: the wall clock is then trusted alone.

    Linux has CLOCK_BOOTTIME and names each start of the computer (clock_gettime(2), random(4)). Of the monotonic clocks
    of macOS and Windows the sources disagree whether they run on in sleep: one that stops there would pass for a wall
    clock set forward by the length of the sleep, and a limit would be shown too late.
    """
    boot = _boot()
    if sys.platform != "linux" or not boot:
        return None
    return Steady(boot, time.clock_gettime(time.CLOCK_BOOTTIME))


@cache
def _boot() -> str:
    try:
        return Path("/proc/sys/kernel/random/boot_id").read_text(encoding="ascii").strip()
    except (OSError, UnicodeDecodeError):
        return ""
