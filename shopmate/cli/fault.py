"""A fault of ours: told in a line, with a report of it in a file."""

from __future__ import annotations

import sys
import traceback
from datetime import datetime

from shopmate import __version__, paths
from shopmate.characters import visible


def report(now: datetime) -> None:
    """Write a report of the error in hand and say where it is."""
    text = f"shopmate {__version__}, Python {sys.version.split()[0]}, {sys.platform}\n\n{traceback.format_exc()}"
    try:
        folder = paths.reports()
        folder.mkdir(parents=True, exist_ok=True)
        path = folder / f"fault-{now:%Y%m%d-%H%M%S}.txt"
        path.write_text(visible(text), encoding="utf-8")
        place = f"a report is in {path}"
    except OSError:
        place = f"no report could be written:\n{text}"
    print(f"shopmate: internal error, not your mistake; what was recorded is safe; {place}", file=sys.stderr)
