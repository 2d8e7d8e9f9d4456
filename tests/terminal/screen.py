"""A pseudo-terminal with the real program in it: raw bytes go in, the screen comes out as rows of text."""

from __future__ import annotations

import os
import re
import select
import signal
import termios
import time
from collections.abc import Callable, Iterable, Sequence
from contextlib import suppress
from itertools import product
from pathlib import Path
from typing import TypeVar

import pexpect
import pyte

from shopmate.tui.widgets import block

T = TypeVar("T")

Modes = list[int | list[bytes | int]]

LIMIT = 20.0
"""Seconds after which what should have been on the screen is given up; far more than it ever takes."""

_QUIET = 0.04
"""Seconds without output after which a picture counts as drawn to its end, where the program has nothing left to do."""

ENTER = "\r"
"""What Enter sends, of the keypad as of the main keyboard, on a plain terminal."""

QUIT = "\x11"


def _willing(home: Path) -> Path:
    """Return a folder with a stand-in for the system's program that keeps it awake: what it says here differs by machine."""
    folder = home.with_name(f"{home.name}-bin")
    folder.mkdir(parents=True, exist_ok=True)
    for name in ("systemd-inhibit", "caffeinate"):
        program = folder / name
        if not program.exists():
            program.write_text("#!/bin/sh\nexec cat\n", encoding="utf-8")
            program.chmod(0o755)
    return folder


def environment(home: Path, **more: str) -> dict[str, str]:
    """Return the environment of a plain terminal on a machine of its own, with all state in `home`."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "SYSTEMROOT") if name in os.environ}
    kept["PATH"] = f"{_willing(home)}{os.pathsep}{kept['PATH']}"
    return {**kept, "TERM": "xterm-256color", "LANG": "C.UTF-8", "TZ": "UTC", "SHOPMATE_HOME": str(home), **more}


class Terminal:
    """A terminal window with a program in it."""

    def __init__(
        self, command: Sequence[str], home: Path, columns: int = 80, rows: int = 24, deaf: bool = False, **more: str
    ) -> None:
        """Start `command` with its state in `home`; `more` changes its environment, a `deaf` one ignores that it is hung up."""
        home.mkdir(parents=True, exist_ok=True)
        self._screen = pyte.Screen(columns, rows)
        self._stream = pyte.ByteStream(self._screen)
        self._child: pexpect.spawn[bytes] = pexpect.spawn(
            command[0],
            list(command[1:]),
            env=environment(home, **more),
            cwd=str(home),
            dimensions=(rows, columns),
            echo=False,
            ignore_sighup=deaf,
        )
        self._child.delaybeforesend = None
        self.drawn = b""
        """Every byte that the program sent."""
        self.ended = False
        """Whether the program has closed its end."""
        self._seen = False
        """Whether the picture was seen to its end since the program was last given something to do."""

    # The screen

    @property
    def rows(self) -> list[str]:
        """What is on the screen, row by row, as of the last look."""
        return [row.rstrip() for row in self._screen.display]

    @property
    def picture(self) -> str:
        """What is on the screen as one text."""
        return "\n".join(self.rows)

    def look(self, quiet: float = _QUIET) -> None:
        """Take in what the program draws until it pauses for `quiet` seconds with nothing left to do.

        One that draws on without a pause, though it has time to spare, is looked at for a second.
        """
        until, paused = time.monotonic() + LIMIT, self.glance(quiet)
        while (busy := self.busy) and not self.ended and time.monotonic() < until:
            paused = self.glance(quiet)
        self._seen = paused and not busy

    def glance(self, quiet: float) -> bool:
        """Take in what the program draws until it pauses for `quiet` seconds, in the midst of what it does or not.

        Returns whether it paused within a second.
        """
        until, self._seen = time.monotonic() + 1.0, False
        while time.monotonic() < until and not self.ended:
            try:
                sent = self._child.read_nonblocking(1 << 16, timeout=quiet)
                self.drawn += sent
                self._stream.feed(sent)
            except pexpect.TIMEOUT:
                return True
            except pexpect.EOF:
                self.ended = True
        return False

    @property
    def busy(self) -> bool:
        """Whether the program is at work or waits for its turn; it pauses on a slow machine too, in the midst of what it does.

        Told by Linux alone: elsewhere a pause is all there is to go by.
        """
        states = []
        for stat in Path(f"/proc/{self._child.pid}/task").glob("*/stat"):
            with suppress(OSError):  # of a thread that has ended meanwhile
                states.append(stat.read_text(encoding="utf-8", errors="replace").rpartition(")")[2].split()[0])
        return any(state in "RD" for state in states)

    def wipe(self) -> None:
        """Let another program have had the screen: nothing stands on it."""
        self._screen.reset()

    def until(self, seen: Callable[[], T | None], what: str, seconds: float = LIMIT) -> T:
        """Look until `seen` returns something true, and return it; fail with the picture when it does not in time.

        A picture that was seen to its end before, with nothing sent since, needs no further look where it shows it already.
        """
        if self._seen and (found := seen()):
            return found
        until = time.monotonic() + seconds
        while True:
            self.look()
            if found := seen():
                return found
            if self.ended or time.monotonic() > until:
                how = "the program ended" if self.ended else f"not within {seconds:g} s"
                raise AssertionError(f"waited for {what}: {how}; the screen shows\n{self.picture}")

    def until_shown(self, *texts: str, seconds: float = LIMIT) -> None:
        """Look until all `texts` are on the screen."""
        self.until(lambda: all(text in self.picture for text in texts), f"{texts}", seconds)

    def a_second_on(self, clock: str) -> None:
        """Wait until the large digits under the title of a clock have changed twice: what was drawn before is a second old."""

        def digits() -> list[str]:
            title = next(index for index, row in enumerate(self.rows) if clock in row)
            return self.rows[title + 1 : title + 4]

        for _ in range(2):
            before = digits()
            self.until(lambda before=before: digits() != before, f"the next second of '{clock}'")

    def digit_of(self, label: str) -> str | None:
        """Return the digit that chooses the answer that begins with `label`, or None while there is none."""
        found = re.search(rf"(?:^|[ ▸])(\d+)  {re.escape(label)}", self.picture, re.MULTILINE)
        return found[1] if found else None

    def headline(self, known: Iterable[str]) -> str | None:
        """Return which of the known headlines is on the screen, in block letters or in a row of its own.

        What is indented is one of several steps, beside the one that is asked for.
        """
        rows, begun = [row.strip() for row in self.rows], {row.strip() for row in self.rows if row[:4].strip()}
        for text in known:
            drawn = [row.strip() for row in block.draw(text, width=self._screen.columns - 1)]
            if text in begun or (drawn and any(rows[at : at + len(drawn)] == drawn for at in range(len(rows)))):
                return text
        return None

    def draws(self, text: str) -> bool:
        """Return whether a text stands anywhere on the screen, as it is or in block letters."""
        return text in self.picture or self.enlarges(text)

    def enlarges(self, text: str) -> bool:
        """Return whether a text stands anywhere on the screen in block letters."""
        rows, drawn = self._screen.display, block.rows(text)
        places = product(range(len(rows) - len(drawn) + 1), range(self._screen.columns))
        return any(all(rows[at + down][column:].startswith(line) for down, line in enumerate(drawn)) for at, column in places)

    # The hands

    def send(self, text: str | bytes) -> None:
        """Send what a key sends."""
        self._seen = False
        self._child.send(text)

    def choose(self, label: str) -> None:
        """Wait for the answer that begins with `label` and press its digit."""
        for digit in self.until(lambda: self.digit_of(label), f"the answer '{label}'"):
            self.send(digit)

    def interrupt(self) -> None:
        """Interrupt the program from outside."""
        self._seen = False
        self._child.kill(signal.SIGINT)

    # The end

    def kill(self) -> None:
        """End the program as a cut of its power would: it is not asked."""
        self._child.kill(signal.SIGKILL)
        self._child.wait()
        self._child.close(force=True)

    def signal(self, number: signal.Signals) -> None:
        """Send the program a signal, such as one that stops it."""
        self._seen = False
        self._child.kill(number)

    def hang_up(self) -> None:
        """Close the window: the program is told that its terminal is gone, and ends."""
        self.lose()
        self._child.wait()

    def modes(self) -> Modes:
        """Return how the terminal treats what is typed (termios), whichever program has it."""
        return termios.tcgetattr(self._child.child_fd)

    def hold_up(self) -> None:
        """Take nothing more that the program draws, as a line does that has gone dead."""
        terminal = os.open(f"/proc/{self._child.pid}/fd/0", os.O_RDWR | os.O_NOCTTY)
        termios.tcflow(terminal, termios.TCOOFF)
        os.close(terminal)

    def lose(self) -> None:
        """Close the window and wait for nothing."""
        # Its file object closes it, so that it does not do so later, when the number is another terminal's.
        self._child.ptyproc.fileobj.close()
        self._child.closed = self._child.ptyproc.closed = True

    def end(self, seconds: float) -> int:
        """Return how the program ended, as a shell does: its exit code, or 128 and the signal; fail where it lasts longer.

        Nothing that it draws meanwhile is read.
        """
        until = time.monotonic() + seconds
        while self._child.isalive():
            assert time.monotonic() < until, f"it still runs after {seconds:g} s"
            select.select([], [], [], 0.01)
        signalled = self._child.signalstatus
        return int(self._child.exitstatus) if signalled is None else 128 + int(signalled)

    def wait(self) -> int | None:
        """Wait until the program has ended by itself and return its exit code."""
        self.until(lambda: self.ended, "its end")
        self._child.wait()
        return self._child.exitstatus

    def close(self) -> None:
        """End the program if it still runs."""
        if not self._child.closed:
            self._child.close(force=True)
