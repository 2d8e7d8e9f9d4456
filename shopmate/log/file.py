"""A project file that is open: every append is on disk before anyone sees it, and what is damaged is named."""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import closing, contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from types import TracebackType

from shopmate.errors import DamagedFile, LogError
from shopmate.log import form
from shopmate.log.chain import START, Chain, Damage, Event, Row, named, ordered, row_sum

SUFFIX = ".shopmate"
"""Ending of a project file."""

_MISCOUNTED = "the number of events is not what the file says"
_MISFORMED = "the first page of the file is unreadable"
_MISPAGED = "a page of events is unreadable"
_MISTYPED = "a half-typed text has changed since it was written"
"""What can be wrong with a file beside its events."""

_NO_PLACE = "room"
"""A place at which nothing is typed."""

_ROOM = 16 * 1024
"""Bytes that there has to be room for before it is said that events can be written again: longer than nearly all are."""


class Log:
    """A project file that is open; every append is a committed transaction with a full sync."""

    def __init__(self, path: Path, *, create: bool = False, read_only: bool = False, in_memory: bool = False) -> None:
        """Open the file, or make it; LogError when it is missing, no project file, or not writable.

        DamagedFile when it is damaged as a whole; to be read it is opened all the same where events can be proved in it.
        `in_memory` makes a log that is on no disk and waits for none, under the name of a file that is not made.
        """
        self.path, self.read_only, self.in_memory = path, read_only, in_memory
        self.damages: list[Damage] = []
        """What has been found damaged so far: of a file that has any, nothing more is written."""
        self._proving = Chain()
        """How far the events were proved that were not read."""
        if in_memory:
            self._connection = sqlite3.connect(":memory:", isolation_level=None)
            form.make(self._connection)
            return
        try:
            if create:
                _make(path)
            else:
                _check(path)
            try:
                self._connection = _connected(path, read_only=read_only)
            except DamagedFile:
                from shopmate.log import salvage

                copied = salvage.copy(path) if read_only else None
                if copied is None:
                    raise
                self._connection = copied
                self.damages.append(Damage(None, _MISFORMED))
        except OSError as error:
            raise _told(path, _NOT_OPENED, error) from error

    def append(self, kind: str, data: Mapping[str, object], at: datetime, *, over: str | None = None) -> Event:
        """Record an event for good and return it; LogError when it could not be written (nothing is recorded).

        With it goes what was being typed at the place `over`: never is one on disk without the other gone.
        """
        with self._writing() as run:
            last = next(form.rows(self._connection, "ORDER BY id DESC LIMIT 1"), None)
            number, before = (last.id + 1, last.sum) if last is not None else (1, START)
            row = _row(number, at, kind, data, before)
            run(form.INSERT, row)
            form.set_count(self._connection, number)
            if over is not None:
                run("DELETE FROM typing WHERE place = ?", (over,))
        return Event(number, datetime.fromisoformat(row.at.decode()), kind, json.loads(row.data))

    def extend(self, events: Sequence[Event]) -> None:
        """Record events as they are, in one transaction, in a log that has none yet; LogError as for one."""
        rows, before = list[Row](), START
        for event in events:
            rows.append(_row(event.id, event.at, event.kind, event.data, before))
            before = rows[-1].sum
        with self._writing():
            self._connection.executemany(form.INSERT, rows)
            form.set_count(self._connection, len(rows))

    def events(self, after: int = 0) -> list[Event]:
        """Return the events numbered above `after`, by default all, in the order they were recorded.

        One that is damaged or missing is told in `damages`, and its number held by an event of the kind LOST.
        """
        try:
            with self._reading():
                return self._events(after)
        except (OSError, *form.FAULTS) as error:
            raise _told(self.path, _NOT_READ, error) from error

    def event(self, number: int) -> Event:
        """Return the event of a number; one that is lost is told and held as by `events`. LogError as there."""
        try:
            chain = Chain(number - 1, None)
            (event,) = chain.read(form.rows(self._connection, "WHERE id = ?", number), number)
        except form.FAULTS as error:
            raise _told(self.path, _NOT_READ, error) from error
        self._find(*chain.damages)
        return event

    def sum_of(self, number: int) -> str:
        """Return the checksum of the event of a number, '' where there is none; LogError where it cannot be read."""
        try:
            row = next(form.rows(self._connection, "WHERE id = ?", number), None)
        except form.FAULTS as error:
            raise _told(self.path, _NOT_READ, error) from error
        return row.sum.decode("ascii", "replace") if row is not None else ""

    def prove(self, until: int, most: int) -> bool:
        """Go on proving the events numbered to `until` that were not read, `most` at a time; return whether more are left.

        What is damaged is told in `damages`.
        """
        chain = self._proving
        if chain.last >= until:
            return False
        try:
            rows = list(form.rows(self._connection, "WHERE id > ? ORDER BY id LIMIT ?", chain.last, most + 1))
        except form.FAULTS:
            self._find(Damage(None, _MISPAGED))
            chain.last = until
            return False
        chain.read(rows[:most], until if len(rows) <= most else 0, rows[most] if len(rows) > most else None)
        self._find(*chain.damages)
        return chain.last < until

    # What is kept beside the events, and can be worked out of them

    def kept_names(self, kind: str = "") -> list[str]:
        """Return the names of what is kept, all or those of a kind (before a colon); none where they cannot be read."""
        among = (f"{kind}:", f"{kind};") if kind else ("", "\U0010ffff")  # the sign after a colon is a semicolon
        try:
            return [name for (name,) in self._connection.execute("SELECT name FROM kept WHERE name >= ? AND name < ?", among)]
        except form.FAULTS:
            return []

    def kept(self, name: str) -> str | None:
        """Return what is kept under a name; None where nothing is, or not what was written."""
        try:
            found = self._connection.execute("SELECT data, sum FROM kept WHERE name = ?", (name,)).fetchone()
        except form.FAULTS:
            return None
        return found[0] if found is not None and found[1] == form.kept_sum(name, found[0]) else None

    def keep(self, rows: Mapping[str, str | None]) -> None:
        """Keep texts under their names in place of what was, or with None nothing; LogError where it could not be written."""
        with self._writing() as run:
            for name, data in rows.items():
                if data is None:
                    run("DELETE FROM kept WHERE name = ?", (name,))
                else:
                    run("INSERT OR REPLACE INTO kept VALUES (?, ?, ?)", (name, data, form.kept_sum(name, data)))

    def forget_kept(self) -> None:
        """Keep nothing beside the events any more, as far as that can be: also of a file found damaged."""
        with suppress(*form.FAULTS):
            self._connection.execute("DELETE FROM kept")

    def _events(self, after: int) -> list[Event]:
        connection, most = self._connection, form.most(self._connection)
        counted = form.count(connection) if (is_proved := form.has_checksums(connection)) else 0
        chain = self._chain(after)
        try:
            rows = list(form.rows(connection, "WHERE id > ? ORDER BY id", after))
        except form.FAULTS as error:
            if not isinstance(_told(self.path, _NOT_READ, error), DamagedFile):
                raise
            from shopmate.log import salvage  # which only a damaged file waits for

            rows = salvage.rows(self.path)
            self._find(Damage(None, _MISPAGED))
        if [row.id for row in rows] != list(range(after + 1, after + 1 + len(rows))):
            rows = [row for row in ordered(rows) if after < row.id <= most]
        events = chain.read(rows, counted if counted <= most else 0)
        if is_proved and counted != chain.last:
            self._find(Damage(None, _MISCOUNTED))
        self._find(*chain.damages)
        return events

    def _chain(self, after: int) -> Chain:
        """Return what reads on after the event of a number."""
        last = next(form.rows(self._connection, "WHERE id = ?", after), None) if after else None
        return Chain(after, last.sum if last is not None else START)

    def _find(self, *damages: Damage) -> None:
        self.damages = [*dict.fromkeys((*self.damages, *damages))]

    def check(self) -> None:
        """Raise DamagedFile, with what is damaged, where anything has been found so."""
        if self.damages:
            raise DamagedFile(f"{self.path} is damaged: {named(self.damages)}; {form.MEND}")

    def keep_typing(self, place: str, text: str, unit: str) -> None:
        """Keep what is being typed at a place and the unit chosen, or with neither forget it; LogError as for an event."""
        with self._writing() as run:
            if text or unit:
                made = form.typing_sum(place.encode(), text.encode(), unit.encode()).decode()
                run("INSERT OR REPLACE INTO typing (place, text, unit, sum) VALUES (?, ?, ?, ?)", (place, text, unit, made))
            else:
                run("DELETE FROM typing WHERE place = ?", (place,))

    def prove_room(self) -> None:
        """Prove that an event could be written, without writing one; LogError as for an event."""
        with self._writing() as run:
            run("INSERT OR REPLACE INTO typing (place, text, unit, sum) VALUES (?, ?, '', '')", (_NO_PLACE, " " * _ROOM))
            run("DELETE FROM typing WHERE place = ?", (_NO_PLACE,))

    def typing(self) -> dict[str, tuple[str, str]]:
        """Return what was being typed when the file was worked on last: place -> text and unit."""
        found: dict[str, tuple[str, str]] = {}
        try:
            if not form.is_typing_whole(self._connection):
                self._find(Damage(None, _MISTYPED))
            for place, text, unit, kept in form.typed(self._connection):
                if form.typing_sum(place, text, unit) == kept:
                    found[place.decode()] = (text.decode(), unit.decode())
                else:
                    self._find(Damage(None, _MISTYPED))
        except form.FAULTS as error:
            told = _told(self.path, _NOT_READ, error)
            if not isinstance(told, DamagedFile):
                raise told from error
            self._find(Damage(None, _MISTYPED))
        return found

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
    def _reading(self) -> Iterator[None]:
        """Have all that is read within be of one moment; another program may be writing."""
        self._connection.execute("BEGIN")
        try:
            yield
        finally:
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")

    @contextmanager
    def _writing(self) -> Iterator[Callable[..., sqlite3.Cursor]]:
        """Make one transaction of what is run within; LogError when it could not be written, and nothing of it is."""
        self.check()
        try:
            with self._connection:
                self._connection.execute("BEGIN IMMEDIATE")
                yield self._connection.execute
        except form.FAULTS as error:
            raise _told(self.path, "could not be written", error) from error


def _row(number: int, at: datetime, kind: str, data: Mapping[str, object], before: bytes) -> Row:
    """Return an event as its row holds it, after a row with the checksum `before`."""
    moment = at.astimezone(UTC).isoformat(timespec="milliseconds").encode()
    row = Row(number, moment, kind.encode(), json.dumps(data, ensure_ascii=False, sort_keys=True).encode(), before)
    return row._replace(sum=row_sum(row, before))


def _connected(path: Path, *, read_only: bool) -> sqlite3.Connection:
    """Open a file that is there; LogError where it cannot be, and DamagedFile where that is its own fault."""
    connection = None
    try:
        connection = sqlite3.connect(f"{path.absolute().as_uri()}?mode=rw", uri=True, isolation_level=None)
        form.prepare(connection, path, read_only=read_only)
    except BaseException as error:
        if connection is not None:
            connection.close()
        if isinstance(error, form.FAULTS):
            raise _told(path, _NOT_OPENED, error) from error
        raise
    return connection


def _check(path: Path) -> None:
    """Raise LogError for what cannot be a project file, before it is opened, which would make one of an empty file."""
    if path.is_dir():
        raise LogError(f"{path} is a folder; give the path of a project file")
    if not path.is_file():
        raise LogError(f"there is no project file {path}; 'shopmate where' names the projects folder")
    if path.stat().st_size == 0:
        raise DamagedFile(f"{path} is empty: its contents are lost; restore a backup, or remove the file")


def _make(path: Path) -> None:
    """Make a file that holds an empty project, with its folder; LogError when there is one.

    Made beside and then named, so that a file of that name is whole however the program ends.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = _beside(path)
    try:
        with closing(sqlite3.connect(beside, isolation_level=None)) as connection:
            form.make(connection)
    except sqlite3.Error as error:
        raise _told(path, _NOT_OPENED, error) from error
    _name(beside, path)


def _beside(path: Path) -> Path:
    """Return where a file is made that is then given the name `path`; LogError when there is a file of that name.

    Under a name that no other program makes one, and without what one of the same number left that was killed.
    """
    if path.exists():
        raise LogError(f"{path} already exists; choose another name")
    beside = path.with_name(f"{path.name}.{os.getpid()}.new")
    for left in (beside, beside.with_name(f"{beside.name}-journal")):
        left.unlink(missing_ok=True)
    return beside


def _name(beside: Path, path: Path) -> None:
    """Give a file that is whole its name, unless another file got it meanwhile (LogError)."""
    try:
        os.link(beside, path)
    except FileExistsError:
        raise LogError(f"{path} already exists; choose another name") from None
    except OSError:  # of a file system without links, where the name is not held against another program
        beside.rename(path)
    else:
        beside.unlink()


_NOT_READ = "could not be read"
_NOT_OPENED = "cannot be opened as a project"

_CAUSES = {
    sqlite3.SQLITE_NOTADB: ("it is damaged, or not a project file", "restore a backup, or check the name"),
    sqlite3.SQLITE_CORRUPT: ("it is damaged", form.MEND),
    sqlite3.SQLITE_FULL: ("the disk is full", "free the disk"),
    sqlite3.SQLITE_IOERR: ("the disk is full or failing", "free the disk, or check it"),
    sqlite3.SQLITE_READONLY: ("you have no permission to write it", "allow writing to the file and its folder"),
    sqlite3.SQLITE_PERM: ("you have no permission to read it", "allow reading of the file"),
    sqlite3.SQLITE_CANTOPEN: ("the system will not open it", "check the permissions of the file and its folder"),
    sqlite3.SQLITE_BUSY: ("another program has it open", "close the other program"),
    sqlite3.SQLITE_LOCKED: ("another program has it open", "close the other program"),
}
"""What the database finds wrong with a file, by its primary result code: what it is, and what helps."""


_DAMAGED = (0, sqlite3.SQLITE_ERROR, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_FORMAT)
"""The codes of what a damaged file gives: 0 for bytes that are no text, ERROR where its tables are not what we ask for."""


def _told(path: Path, which: str, error: OSError | sqlite3.Error | UnicodeDecodeError) -> LogError:
    """Return what is wrong with a file in a user's words, and what helps."""
    if isinstance(error, OSError):
        return LogError(
            f"{path} {which}: {error.strerror or error}; check the name, and the permissions of the file and its folder"
        )
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF  # an extended code holds the primary one in its low byte
    what, fix = _CAUSES.get(code, (str(error), "restore a backup") if code else _CAUSES[sqlite3.SQLITE_CORRUPT])
    return (DamagedFile if code in _DAMAGED else LogError)(f"{path} {which}: {what}; {fix}")
