"""One writer a project: a lock held on a file beside it, which the system lets go when its holder ends in any way."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from pathlib import Path

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

SUFFIX = ".lock"
"""Ending, after that of the project file, of the file that is locked: empty, and there only while somebody works."""


class Lock:
    """The right to write to a project."""

    def __init__(self, path: Path) -> None:
        """Take nothing yet for the project file `path`.

        The project file itself is not what is locked: closing it would let go of the locks its database relies on.
        """
        self._path = path.with_name(path.name + SUFFIX)
        self._file: int | None = None

    def take(self) -> bool:
        """Take the lock unless another program holds it; return whether it is ours, or nobody's where there are no locks."""
        while self._file is None:
            try:
                file = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o644)
            except OSError:
                return True  # a folder that cannot be written: opening the project to write to it says so
            try:
                _hold(file)
            except OSError as error:
                os.close(file)
                # Of a file system without locks the error is another one; it is worked on as if alone.
                return not isinstance(error, BlockingIOError | PermissionError)
            if _is_at(file, self._path):
                self._file = file
            else:
                os.close(file)  # its last holder removed it after we opened it: a lock on it keeps nobody out
        return True

    def release(self) -> None:
        """Let another program write, and leave no file behind."""
        if self._file is not None:
            with suppress(OSError):  # of a system that does not remove a file that is open
                self._path.unlink()
            os.close(self._file)
            self._file = None


def _hold(file: int) -> None:
    if sys.platform == "win32":
        msvcrt.locking(file, msvcrt.LK_NBLCK, 1)
    else:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)


def _is_at(file: int, path: Path) -> bool:
    try:
        return os.path.samestat(os.fstat(file), path.stat())
    except FileNotFoundError:
        return False
