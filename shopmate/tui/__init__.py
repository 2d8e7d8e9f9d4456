"""The full-screen bench: the only home of textual and rich."""

from __future__ import annotations

from pathlib import Path


def run(path: Path | None) -> int:
    """Open the bench on a project file, or on the last project; returns the exit code."""
    from shopmate.tui.app import ShopmateApp

    app = ShopmateApp(path)
    app.run(mouse=False)
    return app.return_code or 0
