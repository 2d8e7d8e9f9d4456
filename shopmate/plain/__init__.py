"""The bench in lines, on whatever reads and shows lines: a screen reader, a dumb terminal, a pipe."""

from __future__ import annotations

import os
import select
import shutil
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from shopmate import channels, settings, signals
from shopmate.awake import Awake, command
from shopmate.errors import FileProblems
from shopmate.plain.bench import Plain
from shopmate.plain.lines import Lines
from shopmate.plain.sound import LineSounder
from shopmate.steady import read_steady

__all__ = ["LineSounder", "Lines", "Plain", "run"]

_LONGEST = 4096
"""Bytes of a line that are looked at."""


def run(path: Path | None, now: Callable[[], datetime]) -> int:
    """Work at the bench on a project file, or on the last project, until it is left; returns the exit code."""
    out, trouble = sys.stdout, ""
    try:
        own = settings.load()
    except FileProblems as error:
        own, trouble = settings.Settings(), str(error)

    def write(text: str) -> None:
        out.write(text)
        out.flush()

    lines = Lines(
        reader(sys.stdin.fileno(), sys.stdin.encoding),
        write,
        now,
        width=lambda: max(80, shutil.get_terminal_size().columns) if out.isatty() else 80,
        by_hand=sys.stdin.isatty(),
        settings=own,
        encoding=out.encoding,
        errors=out.errors or "replace",  # the command line has taught its output to spell signs that an encoding lacks
    )
    sounder = LineSounder(lines, has_bell=out.isatty())
    bench = Plain(lines, path, sounder=sounder, steady=read_steady, awake=Awake(command()), trouble=trouble)
    with signals.heeded(last=channels.end_commands):
        try:
            bench.run()
        except signals.Ended as ended:
            signals.end_by(ended.number)
    return 0


def reader(descriptor: int, encoding: str) -> Callable[[Callable[[], float]], str | None]:
    """Return a function that returns the next line of a file, None at its end.

    While it waits it calls what it is given, which returns after how many seconds it is to be called again.
    """
    waiting = bytearray()
    ended = False

    def read_line(meanwhile: Callable[[], float]) -> str | None:
        nonlocal ended
        while b"\n" not in waiting and not ended:
            if len(waiting) > _LONGEST:
                del waiting[_LONGEST:]
            _wait(descriptor, meanwhile)
            try:
                got = os.read(descriptor, _LONGEST)
            except OSError:  # the terminal is gone
                got = b""
            waiting.extend(got)
            ended = not got
        if not waiting:
            return None
        line, _, rest = bytes(waiting).partition(b"\n")
        waiting[:] = rest
        return line[:_LONGEST].decode(encoding, "replace")

    return read_line


def _wait(descriptor: int, meanwhile: Callable[[], float]) -> None:
    """Return once there is something to read."""
    while True:
        try:
            ready = select.select([descriptor], [], [], meanwhile())[0]
        except (OSError, ValueError):  # a system that cannot wait for files: it reads, and looks at the clocks between lines
            return
        if ready:
            return
