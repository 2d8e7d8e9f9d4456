"""One writer a project: a lock on the file itself, which the system lets go when its holder ends in any way."""

from __future__ import annotations

import os
import struct
import sys
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

SUFFIX = ".alive"
"""Ending, after that of the project file, of the file whose time its holder renews: empty, there only while somebody works."""

RENEWED = timedelta(seconds=2)
"""How often the holder shows that it lives."""

SILENT = timedelta(seconds=10)
"""After how long without a sign of life the holder stands still: stopped, or its computer asleep."""

_PLACE = 0x4000_0000 + 0x1_0000
"""The byte of the file that is locked: behind those that SQLite locks (its PENDING_BYTE and the 511 after it)."""


class Lock:
    """The right to write to a project, whatever name its file is opened by."""

    def __init__(self, path: Path) -> None:
        """Take nothing yet for the project file `path`."""
        self._path = path
        self._file: int | None = None
        self._what: os.stat_result | None = None
        """What the project file was when it was locked."""
        self._life = path.with_name(path.name + SUFFIX)
        self._renewed: datetime | None = None
        self._seen: tuple[int, datetime] | None = None
        """The sign of life seen last of another holder, and since when it has been the same."""

    def take(self) -> bool:
        """Take the lock unless another program holds it; return whether it is ours, or nobody's where there are no locks.

        Called while a transaction runs in this process it would end the database's own lock: on some systems these go with
        any descriptor of the file that is closed.
        """
        if self._file is not None:
            return True
        try:
            file = os.open(_lockable(self._path), os.O_RDWR | getattr(os, "O_CLOEXEC", 0))
        except OSError:
            return True  # a file that is not there or may not be written: opening the project to write to it says so
        try:
            _hold(file)
        except OSError as error:
            os.close(file)
            # Of a file system without locks the error is another one; it is worked on as if alone.
            return not isinstance(error, BlockingIOError | PermissionError)
        self._file = file
        with suppress(OSError):
            self._what = self._path.stat()
        return True

    def release(self) -> None:
        """Let another program write, and leave no file behind."""
        if self._file is not None:
            with suppress(OSError):  # of a system that does not remove a file that is open, or a folder that is not ours
                self._life.unlink()
            os.close(self._file)
            self._file = None

    @property
    def is_lost(self) -> bool:
        """Whether the file that was locked is no longer the one of its name: that was removed, or another put in its place."""
        if self._file is None or self._what is None:
            return False
        try:
            return not os.path.samestat(self._what, self._path.stat())
        except FileNotFoundError:
            return True
        except OSError:  # a folder that cannot be read for now: writing says what is wrong
            return False

    # Signs of life

    def show_life(self, now: datetime) -> None:
        """Show those who wait for the lock that its holder lives; to be called every second or so."""
        if self._file is None or (self._renewed is not None and timedelta() <= now - self._renewed < RENEWED):
            return
        self._renewed = now
        with suppress(OSError):  # a folder that cannot be written: the others then sound the alarms too
            self._life.touch()
            os.utime(self._life)

    def stands_still(self, now: datetime) -> bool:
        """Return whether the holder, another program, has shown no sign of life for so long that its alarms may be silent."""
        try:
            sign = self._life.stat().st_mtime_ns
        except OSError:
            sign = 0
        # The times of signs are only compared with one another: they come from the clock of the file system.
        if self._seen is None or sign != self._seen[0] or now < self._seen[1]:
            self._seen = sign, now
        return now - self._seen[1] >= SILENT


def _lockable(path: Path) -> Path:
    """Return the file that is locked for a project file.

    Where the system's locks belong to a process, SQLite's would go with the descriptor that held ours: there a file beside
    is locked, beside what a symbolic link leads to.
    """
    if sys.platform in ("linux", "win32"):
        return path
    beside = path.resolve()
    beside = beside.with_name(f"{beside.name}.lock")
    with suppress(OSError):
        beside.touch()
    return beside


def _hold(file: int) -> None:
    """Lock a file that is open, until it is closed; raises OSError, BlockingIOError or PermissionError where another does."""
    if sys.platform == "win32":
        os.lseek(file, _PLACE, os.SEEK_SET)
        msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
    elif sys.platform == "linux":
        # struct flock: type, whence, start, length, process (fcntl_locking(2)); the lock is that of the descriptor.
        fcntl.fcntl(file, fcntl.F_OFD_SETLK, struct.pack("hhqqi4x", fcntl.F_WRLCK, os.SEEK_SET, _PLACE, 1, 0))
    else:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
