"""The file of a project that is named."""

from __future__ import annotations

from pathlib import Path

from shopmate.errors import UsageError
from shopmate.paths import is_file
from shopmate.project import project_path, projects


def project_file(text: str) -> Path:
    """Return the file of a project by its name or path; UsageError where there is none."""
    given = Path(text)
    if is_file(given):
        return given
    path = project_path(text)
    if path.is_file():
        return path
    names = ", ".join(item.stem for item in projects()) or "none yet"
    raise UsageError(f"there is no project '{text}'; projects: {names}")
