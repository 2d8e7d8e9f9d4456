"""The bench opened: on the whole screen, or in lines."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from shopmate.cli.signs import bare_output
from shopmate.errors import UsageError


def open_bench(path: Path | None, now: Callable[[], datetime], *, plain: bool = False) -> int:
    """Open the bench on a project file, or on the last project; in lines where that is asked for or all there is."""
    need_streams()
    if plain or os.environ.get("TERM") == "dumb" or not (sys.stdin.isatty() and sys.stdout.isatty()):
        from shopmate.plain import run as run_plain

        gc.enable()
        with bare_output():
            return run_plain(path, now)
    from shopmate.tui import run

    with bare_output():
        return run(path)


def need_streams() -> None:
    """Refuse to open a bench that cannot be read from or written to; raises UsageError."""
    if sys.stdin is None or sys.stdout is None:
        raise UsageError("the bench needs an input and an output; 'shopmate sheet RECIPE' needs no input")
