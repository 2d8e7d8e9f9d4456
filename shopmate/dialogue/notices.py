"""The notices of the bench: what the user has to know until it is over, in the order of what it costs not to know it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from enum import IntEnum

from shopmate.records import dataclass

TURN = timedelta(seconds=5)
"""How long a row of words is drawn before it counts as read, and before what stands behind it gets its turn."""

_BETWEEN_LOOKS = timedelta(seconds=2)
"""What is counted at most from one look to the next: a program that was stopped, or a computer asleep, drew nothing meanwhile."""


class Rank(IntEnum):
    """What a notice is about, the worst first."""

    LOST = 0
    """What is done or typed is not kept."""
    WRONG_TIME = 1
    """What is said of times may be wrong."""
    SILENT = 2
    """Alarms may not be heard."""
    OTHER = 3


@dataclass(frozen=True, slots=True)
class Kind:
    """What holds for all notices of one name."""

    rank: Rank
    counts: bool = False
    """Whether its words change with the time alone, and need not be read again for that."""


KINDS = {
    "typing": Kind(Rank.LOST),
    "reading": Kind(Rank.LOST),
    "wall": Kind(Rank.WRONG_TIME),
    "sound": Kind(Rank.SILENT),
    "command": Kind(Rank.SILENT),
    "sleep": Kind(Rank.SILENT),
    "quiet": Kind(Rank.SILENT, counts=True),
    "untested": Kind(Rank.SILENT),
    "focus": Kind(Rank.OTHER),
    "numlock": Kind(Rank.OTHER),
}
"""Every notice there is, by name; of one rank the first comes first."""

_ORDER = {name: (kind.rank, place) for place, (name, kind) in enumerate(KINDS.items())}


@dataclass(frozen=True, slots=True)
class Board:
    """What a face has to draw: as much of it as there is room for."""

    words: tuple[str, ...] = ()
    """The notice whose turn it is, then the others, the worst first."""
    piece: int = 0
    """Where the first is longer than there is room for: which piece of it is drawn now, from 0."""


@dataclass(slots=True)
class _Standing:
    words: str
    until: datetime | None = None
    """The earliest time at which it goes by itself."""
    drawn: timedelta = timedelta()
    """How long all of it was drawn."""
    was_seen: bool = False
    """Whether a key came once it was drawn long enough to be read, so that somebody was there."""

    @property
    def is_read(self) -> bool:
        return self.drawn >= TURN


class Notices:
    """What stands now, each under a name of its own: one of KINDS."""

    def __init__(self, changed: Callable[[str, str], object]) -> None:
        """Hand each notice that comes, changes or goes to `changed`: its name and its words, '' where it goes."""
        self._changed = changed
        self._stand: dict[str, _Standing] = {}
        self._first: str | None = None
        """The notice whose turn it is where not all have room; None lets the worst be first."""
        self._piece = 0
        self._turn = timedelta()
        """How long the piece in turn was drawn."""
        self._drawn_at: datetime | None = None

    @property
    def words(self) -> tuple[str, ...]:
        """The words of all that stand: of the one whose turn it is, then of the others, the worst first."""
        return tuple(self._stand[name].words for name in self._names)

    @property
    def board(self) -> Board:
        """What is to be drawn now."""
        return Board(self.words, self._piece)

    @property
    def _names(self) -> list[str]:
        return sorted(self._stand, key=lambda name: (name != self._first, _ORDER[name]))

    def stand(self, name: str, words: str, *, until: datetime | None = None) -> None:
        """Let a notice stand, or with no words let it go.

        One with `until` goes by itself after that time, but in any case not before it was drawn long enough to be read and a
        key came after that.
        """
        before = self._stand.get(name)
        changed = words != (before.words if before is not None else "")
        if not words:
            if self._stand.pop(name, None) is not None and name == self._first:
                self._give_turn(None)
        elif before is not None and KINDS[name].counts:
            before.words = words
        elif changed or until is not None:
            names = self._names
            self._stand[name] = _Standing(words, until)
            if names and _ORDER[name] <= _ORDER[names[0]]:
                self._give_turn(name)
        if changed:
            self._changed(name, words)

    def _give_turn(self, name: str | None) -> None:
        self._first, self._piece, self._turn = name, 0, timedelta()

    def drawn(self, whole: int, pieces: int, now: datetime) -> bool:
        """Note what was drawn of the board until `now`; return whether it is to be drawn anew, a turn being over.

        `whole` is how many notices were drawn whole, `pieces` in how many the first is drawn in turn: 1 where whole, 0 where
        nothing was drawn.
        """
        passed = min(_BETWEEN_LOOKS, max(timedelta(), now - self._drawn_at)) if self._drawn_at is not None else timedelta()
        self._drawn_at = now
        names = self._names
        for name in names[:whole]:
            self._stand[name].drawn += passed
        if whole == len(names):
            self._give_turn(None)
            return False
        self._turn += passed if pieces else timedelta()
        if self._turn < TURN:
            return False
        if self._piece + 1 < pieces:
            self._piece, self._turn = self._piece + 1, timedelta()
        else:
            self.said(names[0])
            self._give_turn(self._next(names[0]))
        return True

    def _next(self, name: str) -> str:
        """Return whose turn comes after a notice's: what was not read yet, the worst first, else the next in order."""
        names = sorted(self._stand, key=_ORDER.__getitem__)
        unread = [other for other in names if not self._stand[other].is_read]
        return unread[0] if unread else names[(names.index(name) + 1) % len(names)]

    def said(self, name: str) -> None:
        """Note that a notice was told whole, in lines or piece by piece."""
        self._stand[name].drawn = max(TURN, self._stand[name].drawn)

    def key_came(self) -> None:
        """Note that somebody is there, who has read what was drawn long enough."""
        for standing in self._stand.values():
            standing.was_seen = standing.was_seen or standing.is_read

    def shift(self, by: timedelta) -> None:
        """Follow the clock on the wall that was set by so much: a notice stands as long as it was to."""
        for standing in self._stand.values():
            if standing.until is not None:
                standing.until += by
        if self._drawn_at is not None:
            self._drawn_at += by

    def let_go(self, now: datetime) -> None:
        """Let those go that stood long enough and were read by somebody."""
        over = [name for name, it in self._stand.items() if it.until is not None and now >= it.until and it.was_seen]
        for name in over:
            self.stand(name, "")
