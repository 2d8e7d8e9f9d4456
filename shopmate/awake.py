"""Asking the system not to sleep while a clock runs, by a child process that cannot outlive us."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence

Start = Callable[[Sequence[str]], "subprocess.Popen[bytes]"]
"""Starts a program whose standard input is a pipe of ours."""


_INHIBIT = ["--what=idle:sleep", "--who=shopmate", "--why=Clocks of the bench are running", "--mode=block"]
_PROGRAMS = {
    "linux": ["systemd-inhibit", *_INHIBIT, "cat"],  # systemd-inhibit(1)
    "darwin": ["caffeinate", "-i", "cat"],  # caffeinate(8)
}


def command() -> list[str] | None:
    """Return the documented program by which this system is kept awake, or None where none is known or installed.

    It holds the system awake for as long as `cat` runs under it, and `cat` ends with the pipe it reads: with us.
    """
    words = _PROGRAMS.get(sys.platform)
    return words if words is not None and shutil.which(words[0]) else None


def start(words: Sequence[str]) -> subprocess.Popen[bytes]:
    """Start a program with a pipe as its input, apart from our terminal: it can neither ask nor write there."""
    quiet = subprocess.DEVNULL
    return subprocess.Popen(words, stdin=subprocess.PIPE, stdout=quiet, stderr=quiet, start_new_session=True)


class Awake:
    """Keeps the system awake between `ask` and `release`, as far as the system lets it."""

    def __init__(self, words: Sequence[str] | None, start: Start = start) -> None:
        """Ask nothing yet; `words` is the program with its arguments, None where there is none."""
        self._words = words
        self._start = start
        self._child: subprocess.Popen[bytes] | None = None
        self.refused = words is None
        """Whether the system cannot be kept awake, or would not be."""

    def ask(self) -> None:
        """Keep the system awake from now on; called again, see whether it still is. A refusal is not asked about again."""
        if self.refused or self._words is None:
            return
        if self._child is None:
            try:
                self._child = self._start(self._words)
            except OSError:
                self.refused = True
        elif self._child.poll() is not None:
            self.release()
            self.refused = True

    def release(self) -> None:
        """Let the system sleep."""
        if self._child is not None:
            child, self._child = self._child, None
            if child.stdin is not None:
                child.stdin.close()
            child.terminate()
            child.wait()
