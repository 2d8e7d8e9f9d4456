"""Print how long a key waits for the disk: what is half typed is kept at each, and an answer is recorded, with full syncs.

Run: python tests/bench/keys.py [folder]. The budget is 100 ms a key; nothing is gated on it. The folder is to be on the disk
that is measured, by default the one for temporary files.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from shopmate.log import Log

KEYS = 300
LONG = 500
"""Events in the log before: a long day's."""


def say(what: str, act: Callable[[int], object]) -> None:
    """Do something for each of the keys and print its usual and its longest time."""
    took = []
    for key in range(KEYS):
        began = time.perf_counter()
        act(key)
        took.append((time.perf_counter() - began) * 1000)
    took.sort()
    print(f"{what}: median {took[KEYS // 2]:.2f} ms, 99 of 100 under {took[KEYS * 99 // 100]:.2f} ms, longest {took[-1]:.2f} ms")


def main(folder: str | None) -> None:
    """Measure on a log of a long day."""
    now, data = datetime.now(UTC), {"shown": "x" * 300}
    with tempfile.TemporaryDirectory(dir=folder) as home, Log(Path(home) / "day.shopmate", create=True) as log:
        for _ in range(LONG):
            log.append("done", data, now)
        say("half typed", lambda key: log.keep_typing("step 3 0.1.2", f"{key}", "mm"))
        say("answered  ", lambda key: log.append("done", data, now, over="step 3 0.1.2"))


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else None)
