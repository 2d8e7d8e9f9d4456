"""The log of a project, append-only, and beside it what is being typed: one SQLite file, on disk before anyone sees it."""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType

from shopmate.errors import DamagedFile, LogError
from shopmate.records import dataclass

SUFFIX = ".shopmate"
"""Ending of a project file."""

_MIGRATIONS: dict[str, tuple[str, ...]] = {
    "events": (
        "CREATE TABLE event (id INTEGER PRIMARY KEY, at TEXT NOT NULL, kind TEXT NOT NULL, data TEXT NOT NULL) STRICT",
        "CREATE TRIGGER event_is_not_changed BEFORE UPDATE ON event BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END",
        "CREATE TRIGGER event_is_not_removed BEFORE DELETE ON event BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END",
    ),
    # No event: a text that nobody has answered with yet. Its row is replaced at each key, and removed with the answer.
    "typing": ("CREATE TABLE typing (place TEXT PRIMARY KEY, text TEXT NOT NULL, unit TEXT NOT NULL) STRICT",),
}
"""Changes of the file's form by name, in order; each is applied once, in one transaction with its record."""


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened, as recorded."""

    id: int
    at: datetime
    """Aware UTC time."""
    kind: str
    data: Mapping[str, object]


class Log:
    """A project file that is open; every append is a committed transaction with a full sync."""

    def __init__(self, path: Path, *, create: bool = False, read_only: bool = False) -> None:
        """Open the file, or make it; LogError when it is missing, no project file, damaged or not writable."""
        self.path = path
        try:
            if create:
                _make(path)
            else:
                _check(path)
            self._connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None)
            try:
                _prepare(self._connection, path, read_only=read_only)
            except BaseException:
                self._connection.close()
                raise
        except (OSError, sqlite3.Error) as error:
            raise _told(path, "cannot be opened as a project", error) from error

    def append(self, kind: str, data: Mapping[str, object], at: datetime, *, over: str | None = None) -> Event:
        """Record an event for good and return it; LogError when it could not be written (nothing is recorded).

        With it goes what was being typed at the place `over`: never is one on disk without the other gone.
        """
        text = json.dumps(data, ensure_ascii=False, sort_keys=True)
        moment = at.astimezone(UTC).isoformat(timespec="milliseconds")
        with self._writing() as run:
            cursor = run("INSERT INTO event (at, kind, data) VALUES (?, ?, ?)", (moment, kind, text))
            if over is not None:
                run("DELETE FROM typing WHERE place = ?", (over,))
        return Event(int(cursor.lastrowid or 0), datetime.fromisoformat(moment), kind, json.loads(text))

    def events(self, after: int = 0) -> list[Event]:
        """Return the events numbered above `after`, by default all, in the order they were recorded."""
        try:
            query = "SELECT id, at, kind, data FROM event WHERE id > ? ORDER BY id"
            rows = self._connection.execute(query, (after,)).fetchall()
        except sqlite3.Error as error:
            raise _told(self.path, "could not be read", error) from error
        return [Event(id_, datetime.fromisoformat(at), kind, json.loads(data)) for id_, at, kind, data in rows]

    def keep_typing(self, place: str, text: str, unit: str) -> None:
        """Keep what is being typed at a place and the unit chosen, or with neither forget it; LogError as for an event."""
        with self._writing() as run:
            if text or unit:
                run("INSERT OR REPLACE INTO typing VALUES (?, ?, ?)", (place, text, unit))
            else:
                run("DELETE FROM typing WHERE place = ?", (place,))

    def typing(self) -> dict[str, tuple[str, str]]:
        """Return what was being typed when the file was worked on last: place -> text and unit."""
        try:
            return {place: (text, unit) for place, text, unit in self._connection.execute("SELECT place, text, unit FROM typing")}
        except sqlite3.Error as error:
            raise _told(self.path, "could not be read", error) from error

    def copy_to(self, path: Path) -> None:
        """Write all that is on disk to another project file, whole or not at all; LogError when there is one, or no room."""
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            beside = _beside(path)
            with closing(sqlite3.connect(beside)) as copy:
                self._connection.backup(copy)
            _name(beside, path)
        except (OSError, sqlite3.Error) as error:
            raise _told(path, "could not be written", error) from error

    def close(self) -> None:
        """Close the file; events need no closing to be safe."""
        self._connection.close()

    def __enter__(self) -> Log:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.close()

    @contextmanager
    def _writing(self) -> Iterator[Callable[..., sqlite3.Cursor]]:
        """Make one transaction of what is run within; LogError when it could not be written, and nothing of it is."""
        try:
            with self._connection:
                self._connection.execute("BEGIN IMMEDIATE")
                yield self._connection.execute
        except sqlite3.Error as error:
            raise _told(self.path, "could not be written", error) from error


def _prepare(connection: sqlite3.Connection, path: Path, *, read_only: bool = False) -> None:
    """Bring a file to the form of today, or only see whether it can be read; LogError for one that is none of ours."""
    run = connection.execute
    run("PRAGMA busy_timeout = 2000")
    tables = {name for (name,) in run("SELECT name FROM sqlite_master WHERE type = 'table'")}
    if tables and not {"migration", "event"} <= tables:
        raise LogError(f"{path} is a database of something else; choose a file made by shopmate")
    if read_only:  # not mode=ro, which cannot roll back what a killed program left half written
        run("PRAGMA query_only = ON")
        _applied(connection, path)
        return
    run("PRAGMA journal_mode = DELETE")
    run("PRAGMA synchronous = EXTRA")  # FULL leaves the journal's removal to be lost in a power cut, and the event with it
    run("BEGIN IMMEDIATE")
    try:
        run("CREATE TABLE IF NOT EXISTS migration (name TEXT PRIMARY KEY) STRICT")
        run("DELETE FROM migration WHERE false")  # a file that may not be written is refused here; BEGIN takes it
        applied = _applied(connection, path)
        for name, statements in _MIGRATIONS.items():
            if name not in applied:
                for statement in statements:
                    run(statement)
                run("INSERT INTO migration VALUES (?)", (name,))
    except BaseException:
        run("ROLLBACK")
        raise
    run("COMMIT")


def _applied(connection: sqlite3.Connection, path: Path) -> set[str]:
    """Return the names of the changes that were applied; LogError when a newer program applied some."""
    applied = {name for (name,) in connection.execute("SELECT name FROM migration")}
    if unknown := applied - set(_MIGRATIONS):
        raise LogError(f"{path} was written by a newer shopmate ({', '.join(sorted(unknown))}); update shopmate")
    return applied


def _check(path: Path) -> None:
    """Raise LogError for what cannot be a project file, before it is opened, which would make one of an empty file."""
    if path.is_dir():
        raise LogError(f"{path} is a folder; give the path of a project file")
    if not path.is_file():
        raise LogError(f"there is no project file {path}; see 'shopmate where' for the folder of the projects")
    if path.stat().st_size == 0:
        raise DamagedFile(f"{path} is empty: what was in it is lost; bring back a backup, or remove the file")


def _make(path: Path) -> None:
    """Make a file that holds an empty project, with its folder; LogError when there is one.

    Made beside and then named, so that a file of that name is whole however the program ends.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = _beside(path)
    with closing(sqlite3.connect(beside, isolation_level=None)) as connection:
        _prepare(connection, path)
    _name(beside, path)


def _beside(path: Path) -> Path:
    """Return where a file is made that is then given the name `path`; LogError when there is a file of that name."""
    if path.exists():
        raise LogError(f"{path} exists already; choose another name")
    return path.with_name(f"{path.name}.new")


def _name(beside: Path, path: Path) -> None:
    """Give a file that is whole its name, unless another file got it meanwhile (LogError)."""
    try:
        os.link(beside, path)
    except FileExistsError:
        raise LogError(f"{path} exists already; choose another name") from None
    except OSError:  # of a file system without links, where the name is not held against another program
        beside.rename(path)
    else:
        beside.unlink()


_CAUSES = {
    sqlite3.SQLITE_NOTADB: ("it is damaged, or no project file", "bring back a backup, or check the name"),
    sqlite3.SQLITE_CORRUPT: ("it is damaged", "bring back a backup, or try 'shopmate mend'"),
    sqlite3.SQLITE_FULL: ("the disk is full", "free the disk"),
    sqlite3.SQLITE_IOERR: ("the disk is full or fails", "free the disk, or check it"),
    sqlite3.SQLITE_READONLY: ("it may not be written", "give yourself the right to write the file and its folder"),
    sqlite3.SQLITE_PERM: ("it may not be read", "give yourself the right to read the file"),
    sqlite3.SQLITE_CANTOPEN: ("the system does not open it", "check the rights of the file and its folder"),
    sqlite3.SQLITE_BUSY: ("another program holds it", "close the other program"),
    sqlite3.SQLITE_LOCKED: ("another program holds it", "close the other program"),
}
"""What the database finds wrong with a file, by its primary result code: what it is, and what helps."""


def _told(path: Path, which: str, error: OSError | sqlite3.Error) -> LogError:
    """Return what is wrong with a file in a user's words, and what helps."""
    if isinstance(error, OSError):
        return LogError(f"{path} {which}: {error.strerror or error}; check the name and the rights of the file and its folder")
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF  # an extended code holds the primary one in its low byte
    what, fix = _CAUSES.get(code, (str(error), "bring back a backup"))
    kind = DamagedFile if code in (sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT) else LogError
    return kind(f"{path} {which}: {what}; {fix}")
