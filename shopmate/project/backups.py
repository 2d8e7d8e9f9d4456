"""Backups of the projects: whole copies made by the database itself, the newest seven of each."""

from __future__ import annotations

from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

from shopmate import paths
from shopmate.log import SUFFIX, Log
from shopmate.phrases import phrase

KEPT = 7
"""How many backups of a project are kept."""

EACH = timedelta(hours=1)
"""How often a project that is open is backed up."""

STAMP = "%Y-%m-%d-%H%M%S"
"""How a time stands in the name of a file: in UTC."""


def back_up(log: Log, now: datetime) -> Path | None:
    """Copy a project to the backups unless the newest holds all of it; return the new one. LogError when it cannot.

    The demo is none of the user's work and has none.
    """
    if log.path.parent == paths.demo() or _newest_holds_all(log.path):
        return None
    return save(log, now)


def save(log: Log, now: datetime) -> Path:
    """Copy a project to the backups in any case, also where its file is no longer at its place; return the copy."""
    made = _folder(log.path) / f"{now.astimezone(UTC):{STAMP}}{SUFFIX}"
    with suppress(OSError):  # what keeps it from being removed keeps it from being written too, and is told then
        made.unlink(missing_ok=True)  # of the same second, and older
    log.copy_to(made)
    for old in backups_of(log.path)[KEPT:]:
        old.unlink(missing_ok=True)
    return made


def _newest_holds_all(path: Path) -> bool:
    """Return whether nothing was written since the newest backup.

    Both times are those of the file system: a clock that was set moves neither past the other.
    """
    kept = backups_of(path)
    return bool(kept) and kept[0].stat().st_mtime_ns >= path.stat().st_mtime_ns


def backups_of(path: Path) -> list[Path]:
    """Return the backups of a project file, the newest first."""
    folder = _folder(path)
    return sorted(folder.glob(f"*{SUFFIX}"), reverse=True) if folder.is_dir() else []


def made_at(backup: Path) -> datetime:
    """Return when a backup was made, as its name says."""
    return datetime.strptime(backup.stem, STAMP).replace(tzinfo=UTC)


def naming_backup(problem: str, path: Path) -> str:
    """Return what is wrong with a project file with the name of its newest backup, where it has one."""
    kept = backups_of(path)
    return (
        phrase("{problem}; the newest backup is {path}", problem, kept[0])
        if kept
        else phrase("{problem}; it has no backup", problem)
    )


def _folder(path: Path) -> Path:
    return paths.backups() / path.stem
