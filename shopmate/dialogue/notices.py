"""The notices of the bench: what the user has to know until it is over, the most important first."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta


class Notices:
    """What stands now, each under a name of its own."""

    def __init__(self, changed: Callable[[str, str], object]) -> None:
        """Hand each notice that comes, changes or goes to `changed`: its name and its words, '' where it goes."""
        self._changed = changed
        self._stand: dict[str, str] = {}
        self._until: dict[str, datetime] = {}
        """Notices that go by themselves -> the earliest time."""
        self._key_came = False
        """Whether a key was pressed, so that somebody is there, since the last of those came."""

    @property
    def words(self) -> tuple[str, ...]:
        """The words of all that stand, the most important first."""
        return tuple(self._stand.values())

    def stand(self, name: str, words: str, *, first: bool = False, until: datetime | None = None) -> None:
        """Let a notice stand, or with no words let it go.

        `first` puts one that comes before the others. One with `until` goes by itself after that time, but in any case
        not before a key was pressed.
        """
        if until is not None:
            self._until[name], self._key_came = until, False
        if words == self._stand.get(name, ""):
            return
        if not words:
            del self._stand[name]
        elif first and name not in self._stand:
            self._stand = {name: words, **self._stand}
        else:
            self._stand[name] = words
        self._changed(name, words)

    def key_came(self) -> None:
        """Note that somebody is there, who can have read what stands."""
        self._key_came = True

    def shift(self, by: timedelta) -> None:
        """Follow the clock on the wall that was set by so much: a notice stands as long as it was to."""
        self._until = {name: until + by for name, until in self._until.items()}

    def let_go(self, now: datetime) -> None:
        """Let those go that stood long enough and were in sight of somebody."""
        over = [name for name, until in self._until.items() if now >= until and self._key_came]
        for name in over:
            del self._until[name]
            self.stand(name, "")
