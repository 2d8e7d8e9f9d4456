"""The bench on a screen, as by `timed`, that ends as by a cut of its power right after so many steps are on disk.

Run: python cut.py STEPS. One Enter can record several of them, one after another: so the program ends between two.
"""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Mapping
from datetime import datetime
from itertools import count
from unittest.mock import patch

from shopmate.log import Event, Log
from terminal import timed

KINDS = frozenset({"done", "section"})
"""Kinds of the events that are counted: a step done, and the end of a section."""


def main(steps: int) -> int:
    """Open the bench, which records so many steps and no more: the last one returns to nobody."""
    append, recorded = Log.append, count(1)

    def cut(log: Log, kind: str, data: Mapping[str, object], at: datetime, *, over: str | None = None) -> Event:
        event = append(log, kind, data, at, over=over)
        if kind in KINDS and next(recorded) == steps:
            os.kill(os.getpid(), signal.SIGKILL)
        return event

    with patch.object(Log, "append", cut):
        return timed.main()


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1])))
