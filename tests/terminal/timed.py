"""The bench on a screen with a time that stands still until it is moved: it is read from a file at each look."""

from __future__ import annotations

import sys
from datetime import datetime
from pathlib import Path

from shopmate import paths, settings

FILE = "time-of-the-bench"
"""Name of the file in the home of the program."""


def read_time() -> datetime:
    """Return the time that was set last, aware."""
    return datetime.fromisoformat((paths.home() / FILE).read_text(encoding="ascii"))


def set_time(home: Path, at: datetime) -> None:
    """Let it be `at` from now on: in one move, so that no half of it is read."""
    beside = home / f"{FILE}.new"
    beside.write_text(at.isoformat(), encoding="ascii")
    beside.replace(home / FILE)


def main() -> int:
    """Open the bench as `shopmate` does, by that time."""
    from shopmate.tui.app import ShopmateApp

    app = ShopmateApp(None, read_time, settings.load())
    app.run(mouse=False)
    if app.fault is not None:
        raise app.fault
    return app.return_code or 0


if __name__ == "__main__":
    sys.exit(main())
