"""The full-screen bench: the only home of textual and rich."""

from __future__ import annotations

from pathlib import Path


def run(path: Path | None) -> int:
    """Open the bench on a project file, or on the last project; returns the exit code, raises what ended it by fault."""
    from shopmate.tui.app import ShopmateApp

    app = ShopmateApp(path)
    app.run(mouse=False)
    if app.fault is not None:
        raise app.fault
    return app.return_code or 0
