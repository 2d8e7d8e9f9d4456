"""What can still be read of a damaged project file: events found by their own form, wherever in the file they stand.

No page has to be whole for that but the event's own. How an event stands in a page: SQLite file format, sections 1.6 and 2.1
(from memory; the tests compare with what SQLite reads).
"""

from __future__ import annotations

import re
import sqlite3
from collections.abc import Iterator, Sequence
from pathlib import Path

from shopmate.log import form
from shopmate.log.chain import Row, ordered

_PAGE = 4096
"""Bytes of a page; every file of ours has pages of this size."""

_COUNT = slice(60, 64)
"""Where a file says how many events there are."""

_WHOLE = _PAGE - 35
"""Bytes up to which an event stands on one page."""

_LEAST = (_PAGE - 12) * 32 // 255 - 23
"""Bytes that at least stand on its first page of one that goes on on others."""

_HEADER = re.compile(rb"(?=([\x07-\x0b]\x00\x47([\x80-\xff]{0,2}[\x00-\x7f])([\x80-\xff]{0,3}[\x00-\x7f])([\x0d\x4d])\x4d))")
"""The kinds and lengths of the fields before their values: no value for the number, which stands before this, then a time
of 29 characters, a kind, data, no checksum or one of 32, and one of 32. A text of n bytes has the type 13 + 2 n."""


def rows(path: Path) -> list[Row]:
    """Return the events that can be found in a file, by number; their checksums say which are right. Raises OSError."""
    return _rows(path.read_bytes())


def _rows(content: bytes) -> list[Row]:
    limit = len(content) // form.SMALLEST
    return ordered([row for row in _found(content) if 0 < row.id <= limit])


def copy(path: Path) -> sqlite3.Connection | None:
    """Return a project in memory with the events that can be found in a file, None where there is none. Raises OSError."""
    content = path.read_bytes()
    found = _rows(content)
    if not found:
        return None
    counted = int.from_bytes(content[_COUNT], "big")
    connection = sqlite3.connect(":memory:", isolation_level=None)
    form.make(connection)
    connection.executemany(form.INSERT, found)
    form.set_count(connection, counted if found[-1].id < counted <= len(content) // form.SMALLEST else found[-1].id)
    connection.execute("PRAGMA query_only = ON")
    return connection


def _found(content: bytes) -> Iterator[Row]:
    for match in _HEADER.finditer(content):
        header, kind, data, before = match.groups()
        if header[0] != len(header):
            continue
        sizes = [29, *((_number(field) - 13) // 2 for field in (kind, data, before)), 32]
        payload = _payload(content, match.start(), len(header) + sum(sizes))
        if payload is not None and min(sizes) >= 0:
            yield Row(_number_before(content, match.start()), *_parted(payload[len(header) :], sizes))


def _parted(values: bytes, sizes: Sequence[int]) -> Iterator[bytes]:
    for size in sizes:
        yield values[:size]
        values = values[size:]


def _payload(content: bytes, start: int, size: int) -> bytes | None:
    """Return the bytes of an event that begins at `start`, from all the pages it stands on; None where they are not there."""
    if size <= _WHOLE:
        return content[start : start + size]
    here = _LEAST + (size - _LEAST) % (_PAGE - 4)
    parts, left = [content[start : start + (here if here <= _WHOLE else _LEAST)]], size
    left -= len(parts[0])
    page = int.from_bytes(content[start + len(parts[0]) :][:4], "big")
    while left > 0:
        on = content[(page - 1) * _PAGE : page * _PAGE] if page else b""
        if len(on) < _PAGE:
            return None
        parts.append(on[4 : 4 + left])
        page, left = int.from_bytes(on[:4], "big"), left - len(parts[-1])
    return b"".join(parts)


def _number(field: bytes) -> int:
    """Return a number written in groups of seven bits, all but its last byte with the high bit set."""
    found = 0
    for byte in field:
        found = found << 7 | byte & 0x7F
    return found


def _number_before(content: bytes, end: int) -> int:
    """Return the number that ends before a place."""
    start = end - 1
    while start > 0 and content[start - 1] & 0x80:
        start -= 1
    return _number(content[start:end])
