"""The rows of a log as events, each proved by a checksum chained to the one before; what is not proved is named."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from hashlib import blake2b
from typing import NamedTuple

from shopmate.records import dataclass

LOST = "lost"
"""Kind of the event that holds the number of one that is damaged or missing; `why` says what is wrong with that one."""

START = b""
"""What the first event is chained to."""

MISSING = "missing"
CHANGED = "changed since it was written"
UNFIT = "not written as an event"
"""What can be wrong with an event; 'event 7' stands before it."""

_NO_TIME = datetime(1970, 1, 1, tzinfo=UTC)
"""When an event happened that is lost, and before which nothing is known to have happened."""


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened, as recorded."""

    id: int
    at: datetime
    """Aware UTC time."""
    kind: str
    data: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Damage:
    """Something in a project file that is not as it was written."""

    number: int | None
    """Number of the event; None for what is of the file as a whole."""
    what: str


_NAMED = 6
"""How many stretches of damaged events are named one by one."""


def named(damages: Sequence[Damage]) -> str:
    """Return what is damaged in words: 'event 7 changed since it was written, events 9 to 12 missing'."""
    stretches: list[tuple[str, list[int]]] = []
    words = [damage.what for damage in damages if damage.number is None]
    for damage in sorted((damage for damage in damages if damage.number is not None), key=lambda damage: damage.number or 0):
        assert damage.number is not None
        if stretches and stretches[-1][0] == damage.what and stretches[-1][1][-1] == damage.number - 1:
            stretches[-1][1].append(damage.number)
        else:
            stretches.append((damage.what, [damage.number]))
    for what, numbers in stretches[:_NAMED]:
        words.append(f"event {numbers[0]} {what}" if len(numbers) == 1 else f"events {numbers[0]} to {numbers[-1]} {what}")
    if more := sum(len(numbers) for _, numbers in stretches[_NAMED:]):
        words.append(f"and {more} more")
    return ", ".join(words)


class Row(NamedTuple):
    """An event as its row holds it, its texts as bytes since damaged ones need be none."""

    id: int
    at: bytes
    kind: bytes
    data: bytes
    before: bytes | None = None
    """Checksum of the row before; None in a file from before there were checksums."""
    sum: bytes = b""
    """Its own checksum, which covers `before` too."""


def checksum(before: bytes, *fields: bytes) -> bytes:
    """Return the checksum of a row, or of any fields: 32 hexadecimal digits."""
    found = blake2b(digest_size=16)
    for field in (before, *fields):
        found.update(b"%d:%b" % (len(field), field))
    return found.hexdigest().encode()


def row_sum(row: Row, before: bytes) -> bytes:
    """Return the checksum that a row has after a row with the checksum `before`."""
    return checksum(before, b"%d" % row.id, row.at, row.kind, row.data)


class Chain:
    """Reads rows one after another from a number on, and keeps what is wrong with them."""

    def __init__(self, after: int = 0, before: bytes | None = START) -> None:
        """Begin after the event of a number whose checksum is `before`, None where that is not known."""
        self.last, self.before = after, before or START
        """Number and checksum of the event read last."""
        self.damages: list[Damage] = []
        self._at = _NO_TIME
        self._is_whole = before is not None
        """Whether the event before is proved, so that the next has to follow it."""

    def read(self, rows: Iterable[Row], until: int = 0, ahead: Row | None = None) -> list[Event]:
        """Return the events of rows given in the order of their numbers, and at least as many as are numbered to `until`.

        `ahead` is the row after them, which is not read yet.
        What is damaged or missing is held by an event of the kind LOST.
        """
        events: list[Event] = []
        found = list(rows)
        for row, following in zip(found, [*found[1:], ahead], strict=True) if found else ():
            if row.id > self.last:
                self._miss(row.id - 1, events)
                events.append(self._event(row, following))
        self._miss(until, events)
        return events

    def _miss(self, until: int, events: list[Event]) -> None:
        while self.last < until:
            self.last += 1
            self._is_whole = False
            events.append(self._lost(self.last, MISSING))

    def _event(self, row: Row, following: Row | None) -> Event:
        self.last = row.id
        if row.before is not None and not self._follows(row, following):
            return self._lost(row.id, CHANGED)
        try:
            at, data = datetime.fromisoformat(row.at.decode()), json.loads(row.data.decode())
            event = Event(row.id, at.astimezone(UTC), row.kind.decode(), data)
        except (ValueError, RecursionError, OverflowError):
            return self._lost(row.id, UNFIT)
        if at.tzinfo is None or not isinstance(data, dict):
            return self._lost(row.id, UNFIT)
        self._at = event.at
        return event

    def _follows(self, row: Row, following: Row | None) -> bool:
        """Return whether a row is as it was written, and go on from its checksum.

        The checksum itself can be what is damaged: the row after it has a copy.
        """
        assert row.before is not None
        copy = following.before if following is not None and following.id == row.id + 1 else None
        for before in (self.before,) if self._is_whole else dict.fromkeys((self.before, row.before)):
            found = row_sum(row, before)
            if found in (row.sum, copy):
                self.before, self._is_whole = found, True
                return True
        # One that is whole in itself but does not follow the one before ends here: of the two neither is proved.
        self.before, self._is_whole = copy or row.sum, False
        return False

    def _lost(self, number: int, why: str) -> Event:
        self.damages.append(Damage(number, why))
        return Event(number, self._at, LOST, {"why": why})


def ordered(rows: Sequence[Row]) -> list[Row]:
    """Return rows read in any order, by number; of several with the same number one that its own checksum proves."""
    found: dict[int, Row] = {}
    for row in rows:
        if row.id not in found or (row.before is not None and row_sum(row, row.before) == row.sum):
            found[row.id] = row
    return [found[number] for number in sorted(found)]
