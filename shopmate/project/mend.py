"""A damaged project file mended or given up: a new one, or a backup, in its place, and the damaged one kept beside it."""

from __future__ import annotations

import os
from collections.abc import Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from shutil import copyfile

from shopmate.errors import LogError
from shopmate.lock import Lock
from shopmate.log import LOST, Damage, Event, Log, named
from shopmate.phrases import phrase
from shopmate.project import events
from shopmate.project.backups import STAMP
from shopmate.project.fold import fold
from shopmate.project.project import UNFIT
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Mended:
    """What became of a damaged project file."""

    sound: int
    """How many events are as they were recorded."""
    lost: str
    """What is lost, in words."""
    aside: Path
    """Where the damaged file is kept."""


def mend(path: Path, now: datetime) -> Mended | None:
    """Put a file of the sound events of a project in its place; None where nothing in it is damaged.

    Numbers stay, since events tell of one another by them: that of an event that is lost is held by one that says so.
    Raises LogError where nothing can be read, another window works on the project, or the new file cannot be written.
    """
    lock = Lock(path)
    if not lock.take():
        raise LogError(phrase("another window has {path} open; close it, then mend the project", path))
    try:
        with Log(path, read_only=True) as log:
            found, typing, damages = log.events(), log.typing(), list(log.damages)
        project = fold([events.read(event) for event in found], path.stem)
        unfit = {number: why for number, why in project.left_out.items() if why == UNFIT}
        damages += [Damage(number, phrase(why)) for number, why in unfit.items()]
        if not damages:
            return None
        kept = [Event(event.id, event.at, LOST, {"why": unfit[event.id]}) if event.id in unfit else event for event in found]
        beside = _written(path, kept, typing)
        aside = _replace(path, beside, now)
    finally:
        lock.release()
    return Mended(sum(event.kind != LOST for event in kept), named(damages), aside)


def bring_back(backup: Path, path: Path, now: datetime) -> Path:
    """Put a backup in the place of a damaged project file; return the name under which that one is kept. LogError as above."""
    beside = path.with_name(f"{path.name}.brought-back")
    beside.unlink(missing_ok=True)  # of a program that was killed meanwhile
    with Log(backup, read_only=True) as log:
        log.copy_to(beside)
    return _replace(path, beside, now)


def _written(path: Path, kept: Sequence[Event], typing: dict[str, tuple[str, str]]) -> Path:
    """Write a new project file beside another, see that it holds what it is to hold, and return it."""
    beside = path.with_name(f"{path.name}.mended")
    beside.unlink(missing_ok=True)  # of a program that was killed while mending
    with Log(beside, create=True) as log:
        log.extend(kept)
        for place, (text, unit) in typing.items():
            log.keep_typing(place, text, unit)
    with Log(beside, read_only=True) as log:
        if (log.events(), log.typing(), log.damages) != (list(kept), typing, []):
            words = phrase("{new} was not written correctly, so {path} is left unchanged; check the disk", beside, path)
            raise LogError(words)
    return beside


def _replace(path: Path, beside: Path, now: datetime) -> Path:
    """Put a file in the place of another, which is kept under a name that says so; return that."""
    aside = path.with_name(f"{path.name}.damaged-{now.astimezone(UTC):{STAMP}}")
    try:
        try:
            os.link(path, aside)
        except OSError:  # of a file system without links
            copyfile(path, aside)
            _sync(aside)
        with suppress(FileNotFoundError):  # it belongs to the damaged file, and would be rolled back into the new one
            path.with_name(f"{path.name}-journal").rename(aside.with_name(f"{aside.name}-journal"))
        _sync(path.parent)
        beside.replace(path)
        _sync(path.parent)
    except OSError as error:
        words = phrase("{path} could not be replaced: {why}; the mended file is {new}", path, error.strerror or error, beside)
        raise LogError(words) from error
    return aside


def _sync(path: Path) -> None:
    """Have what is written, or the names in a folder, on disk; nothing where the system opens no folder."""
    with suppress(PermissionError):
        descriptor = os.open(path, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
