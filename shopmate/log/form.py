"""The form of a project file: its tables, and the changes that bring a file of before to the form of today."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from shopmate.errors import DamagedFile, LogError
from shopmate.log.chain import START, Row, checksum, row_sum

_NOT_CHANGED = (
    "CREATE TRIGGER event_is_not_changed BEFORE UPDATE ON event BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END"
)
_NOT_REMOVED = (
    "CREATE TRIGGER event_is_not_removed BEFORE DELETE ON event BEGIN SELECT RAISE(ABORT, 'the log is append-only'); END"
)


FAULTS = (sqlite3.Error, UnicodeDecodeError)
"""What reading a damaged file raises: the latter where the name in the database's own message is no text."""


def rows(connection: sqlite3.Connection, where: str = "", *values: object) -> Iterator[Row]:
    """Yield rows of the log as they are read, with checksums where the file has them; raises one of FAULTS.

    As bytes, so that those that are no text come too.
    """
    names = ["at", "kind", "data", *(("before", "sum") if has_checksums(connection) else ())]
    columns = ", ".join(f"CAST({name} AS BLOB)" for name in names)
    for id_, *fields in connection.execute(f"SELECT id, {columns} FROM event {where}", values):
        yield Row(id_, *(field or b"" for field in fields))


SMALLEST = 60
"""Bytes that an event takes at least: its checksums alone take more."""


def most(connection: sqlite3.Connection) -> int:
    """Return how many events can be in a file of its size, however many it says there are; raises one of FAULTS."""
    size, pages = (connection.execute(f"PRAGMA {name}").fetchone()[0] for name in ("page_size", "page_count"))
    return int(size * pages // SMALLEST)


INSERT = (
    "INSERT INTO event (id, at, kind, data, before, sum)"
    " VALUES (?, CAST(? AS TEXT), CAST(? AS TEXT), CAST(? AS TEXT), CAST(? AS TEXT), CAST(? AS TEXT))"
)
"""Writes a `Row`, whose texts are bytes."""


def has_checksums(connection: sqlite3.Connection) -> bool:
    """Return whether the file is of a time when events had checksums; raises one of FAULTS."""
    return "sum" in {name for _, name, *_ in connection.execute("PRAGMA table_info(event)")}


def typed(connection: sqlite3.Connection) -> Iterator[tuple[bytes, bytes, bytes, bytes]]:
    """Yield what is being typed: place, text, unit and checksum, as bytes for the reason of `rows`; raises one of FAULTS."""
    names = ["place", "text", "unit", *(("sum",) if has_checksums(connection) else ())]
    columns = ", ".join(f"CAST({name} AS BLOB)" for name in names)
    for row in connection.execute(f"SELECT {columns} FROM typing"):
        place, text, unit, *kept = (field or b"" for field in row)
        yield place, text, unit, kept[0] if kept else typing_sum(place, text, unit)


def is_typing_whole(connection: sqlite3.Connection) -> bool:
    """Return whether the table of what is being typed holds no more and no less than its index; raises one of FAULTS."""
    return [row[0] for row in connection.execute("PRAGMA integrity_check(typing)")] == ["ok"]


def typing_sum(*fields: bytes) -> bytes:
    """Return the checksum of a place with the text and the unit that are being typed there."""
    return checksum(START, *fields)


def kept_sum(name: str, data: str) -> str:
    """Return the checksum of a row of what is kept beside the events."""
    return checksum(START, name.encode(), data.encode()).decode()


def _chain(connection: sqlite3.Connection) -> None:
    """Give every row the checksum that it has as it stands, and note how many there are."""
    last, before = 0, START
    for row in list(rows(connection, "ORDER BY id")):
        last, made = row.id, row_sum(row, before)
        connection.execute("UPDATE event SET before = ?, sum = ? WHERE id = ?", (before.decode(), made.decode(), row.id))
        before = made
    set_count(connection, last)
    for *fields, _ in list(typed(connection)):
        connection.execute("UPDATE typing SET sum = ? WHERE CAST(place AS BLOB) = ?", (typing_sum(*fields).decode(), fields[0]))


def count(connection: sqlite3.Connection) -> int:
    """Return how many events there are as the file knows, so that a lost one at the end is missed; raises one of FAULTS."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def set_count(connection: sqlite3.Connection, number: int) -> None:
    """Note how many events there are, where the file says of itself what it is: on a page that each change writes anyway."""
    connection.execute(f"PRAGMA user_version = {number:d}")


MIGRATIONS: dict[str, tuple[str | Callable[[sqlite3.Connection], None], ...]] = {
    "events": (
        "CREATE TABLE event (id INTEGER PRIMARY KEY, at TEXT NOT NULL, kind TEXT NOT NULL, data TEXT NOT NULL) STRICT",
        _NOT_CHANGED,
        _NOT_REMOVED,
    ),
    # No event: a text that nobody has answered with yet. Its row is replaced at each key, and removed with the answer.
    "typing": ("CREATE TABLE typing (place TEXT PRIMARY KEY, text TEXT NOT NULL, unit TEXT NOT NULL) STRICT",),
    "checksums": (
        "DROP TRIGGER event_is_not_changed",
        "ALTER TABLE event ADD COLUMN before TEXT NOT NULL DEFAULT ''",
        "ALTER TABLE event ADD COLUMN sum TEXT NOT NULL DEFAULT ''",
        "ALTER TABLE typing ADD COLUMN sum TEXT NOT NULL DEFAULT ''",
        _chain,
        _NOT_CHANGED,
    ),
    # What can be worked out of the events, kept so that a long log is opened soon: no row of it is ever all there is of a thing.
    "kept": ("CREATE TABLE kept (name TEXT PRIMARY KEY, data TEXT NOT NULL, sum TEXT NOT NULL) STRICT",),
}
"""Changes of the file's form by name, in order; each is applied once, in one transaction with its record."""


def prepare(connection: sqlite3.Connection, path: Path, *, read_only: bool = False) -> None:
    """Bring a file to the form of today, or only see whether it can be read; LogError for one that is none of ours."""
    run = connection.execute
    run("PRAGMA busy_timeout = 2000")
    tables = {name for (name,) in run("SELECT name FROM sqlite_master WHERE type = 'table'")}
    if not {"migration", "event"} <= tables:
        raise DamagedFile(f"{path} is not a shopmate database; choose a project file")
    if read_only:  # not mode=ro, which cannot roll back what a killed program left half written
        run("PRAGMA query_only = ON")
        _applied(connection, path)
        return
    run("PRAGMA journal_mode = DELETE")
    run("PRAGMA synchronous = EXTRA")  # FULL leaves the journal's removal to be lost in a power cut, and the event with it
    with _at_once(connection):
        run("DELETE FROM migration WHERE false")  # a file that may not be written is refused here; BEGIN takes it
        _migrate(connection, _applied(connection, path))


def make(connection: sqlite3.Connection) -> None:
    """Make an empty project of a file that is empty, in the form of today."""
    with _at_once(connection):
        connection.execute("CREATE TABLE migration (name TEXT PRIMARY KEY) STRICT")
        _migrate(connection, set())


@contextmanager
def _at_once(connection: sqlite3.Connection) -> Iterator[None]:
    """Make one transaction of what is done within."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        if connection.in_transaction:  # a full disk has ended it
            connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")


def _migrate(connection: sqlite3.Connection, applied: set[str]) -> None:
    """Make the changes of form that were not, and record each."""
    for name, statements in MIGRATIONS.items():
        if name not in applied:
            for statement in statements:
                if isinstance(statement, str):
                    connection.execute(statement)
                else:
                    statement(connection)
            connection.execute("INSERT INTO migration VALUES (?)", (name,))


def _applied(connection: sqlite3.Connection, path: Path) -> set[str]:
    """Return the names of the changes that were applied; LogError when a newer program applied some."""
    applied = {name for (name,) in connection.execute("SELECT name FROM migration")}
    unknown = applied - set(MIGRATIONS)
    if unknown and set(MIGRATIONS) <= applied:
        raise LogError(f"{path} was written by a newer shopmate ({', '.join(sorted(unknown))}); update shopmate")
    if unknown or ("checksums" in applied) != has_checksums(connection):
        raise DamagedFile(f"{path} is damaged: its list of format changes cannot be right; {MEND}")
    if set(MIGRATIONS) <= applied:
        with closing(sqlite3.connect(":memory:", isolation_level=None)) as fresh:
            make(fresh)
            if not _tables(fresh) <= _tables(connection):
                raise DamagedFile(f"{path} is damaged: its tables have been changed; {MEND}")
    return applied


def _tables(connection: sqlite3.Connection) -> set[tuple[object, ...]]:
    """Return all that a file has tables and triggers of."""
    return set(connection.execute("SELECT type, name, tbl_name, sql FROM sqlite_master"))


MEND = "try 'shopmate mend', or restore a backup"
"""What helps against damage."""
