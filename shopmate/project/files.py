"""Project files: where they are, and what is read of one without opening it for work."""

from __future__ import annotations

import re
from pathlib import Path

from shopmate import paths
from shopmate.clock import Clock
from shopmate.errors import DamagedFile, UsageError
from shopmate.log import SUFFIX, Damage, Event, Log
from shopmate.phrases import phrase
from shopmate.project import events
from shopmate.project.backups import naming_backup
from shopmate.project.damage import trouble
from shopmate.project.fold import fold
from shopmate.project.project import Project


def projects() -> list[Path]:
    """Return the project files of the user, the one worked on last first."""
    folder = paths.projects()
    files = folder.glob(f"*{SUFFIX}") if folder.is_dir() else ()
    return sorted(files, key=lambda path: (-path.stat().st_mtime_ns, path.name))


def last_project() -> Path | None:
    """Return the file of the project worked on last, or None."""
    return next(iter(projects()), None)


def project_path(name: str) -> Path:
    """Return the file a project of that name is kept in; UsageError when the name has no letter or digit."""
    slug = re.sub(r"[^\w]+", "-", name.strip().lower()).strip("-_")[:60]
    if not slug:
        raise UsageError(phrase("'{name}' won't do as a project name; use letters or digits", name))
    return paths.projects() / f"{slug}{SUFFIX}"


def free_project_name() -> str:
    """Return a name for a new project: the first number not taken."""
    count = len(projects()) + 1
    while project_path(phrase("Project {count}", count)).exists():
        count += 1
    return phrase("Project {count}", count)


def events_of(path: Path) -> list[Event]:
    """Return the events of a project file without opening it for work; one that is lost is held by what says so."""
    return recorded_in(path)[0]


def recorded_in(path: Path) -> tuple[list[Event], list[Damage]]:
    """Return the events of a project file and what is damaged in it; DamagedFile where nothing of it can be read."""
    try:
        with Log(path, read_only=True) as log:
            return log.events(), log.damages
    except DamagedFile as error:
        raise DamagedFile(naming_backup(str(error), path)) from error


def project_of(path: Path) -> tuple[Project, str]:
    """Return the project that a file tells of, without opening it for work, and what is wrong with it, '' where nothing is."""
    recorded, damages = recorded_in(path)
    project = fold([events.read(event) for event in recorded], path.stem)
    return project, trouble(path, damages, project.left_out)


def running_clocks(path: Path) -> list[Clock]:
    """Return the clocks not ended of a project file, without opening it for work."""
    return project_of(path)[0].running
