"""Print how soon the step in hand can be read and its first key is taken, against an empty Textual app of the same environment.

Run: python tests/bench/first_step.py [rounds]. The programs take turns, so that a busy machine slows all alike; the ratios
of the medians are the figures to read. Readable: headline and figure are on the terminal, from the start of the process. Key:
one is sent as soon as they are, and its effect is on the terminal too. Nothing is gated on it.
"""

from __future__ import annotations

import fcntl
import json
import os
import pty
import re
import select
import statistics
import struct
import sys
import tempfile
import termios
import time
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from shopmate.calculator import Measure
from shopmate.session import Session, shelf
from shopmate.session.demo import build
from shopmate.tui.widgets import block

TARGET = 1.6

SHOPMATE = (sys.executable, "-m", "shopmate")

EMPTY = """
from textual.app import App
from textual.widgets import Static
class Empty(App):
    def compose(self):
        yield Static("READY")
    def on_key(self):
        self.query_one(Static).update("TAKEN")
Empty().run()
"""

_CONTROL = re.compile(rb"\x1b\[[0-9;?]*[A-Za-z]")


@dataclass(frozen=True)
class Program:
    """A program with what is on its screen when it can be read, and after a key."""

    command: Sequence[str]
    environment: dict[str, str]
    shown: Sequence[str]
    key: bytes
    answer: str


def times(program: Program) -> tuple[float, float]:
    """Return the seconds from the start of a program in a terminal of 120 columns and 40 rows until it can be read, and until
    a key sent then is seen to be taken.
    """
    began = time.perf_counter()
    process, terminal = pty.fork()
    if process == 0:
        os.execve(program.command[0], program.command, program.environment)
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    try:
        readable = until(terminal, program.shown) - began
        os.write(terminal, program.key)
        return readable, until(terminal, [program.answer]) - began
    finally:
        os.kill(process, 9)
        os.waitpid(process, 0)
        os.close(terminal)


def until(terminal: int, shown: Sequence[str]) -> float:
    """Return the moment at which all the texts have come from a terminal."""
    wanted, seen = [text.encode() for text in shown], b""
    while not all(text in _CONTROL.sub(b"", seen) for text in wanted):
        if not select.select([terminal], [], [], 20)[0]:
            raise SystemExit(f"{shown} did not come; what came:\n{seen[-4000:].decode('utf-8', 'replace')}")
        seen += os.read(terminal, 1 << 16)
    return time.perf_counter()


def home(folder: Path) -> dict[str, str]:
    """Make a folder for the program's files and return the environment that leads there."""
    folder.mkdir()
    # A key is not to wait until the screen has settled: how soon it could be taken is what is asked.
    (folder / "settings.json").write_text(json.dumps({"settle_ms": 0}), encoding="utf-8")
    found = os.environ | {"SHOPMATE_HOME": str(folder), "TERM": "xterm-256color", "COLORTERM": "truecolor"}
    # An installed program is compiled: where this environment keeps no bytecode, half of the difference is compiling.
    found.pop("PYTHONDONTWRITEBYTECODE", None)
    return found


def at_step(folder: Path) -> Program:
    """Return the bench on a project with a run under way, at a step with a figure that asks for a value after Enter."""
    environment = home(folder)
    path, now = folder / "projects" / "hide.shopmate", datetime.now(UTC)
    build(path, now)
    session = Session.open(path, now, shelf())
    view = session.view(now)
    session.close()
    assert isinstance(view.entry, Measure)
    shown = [*block.rows(view.headline), *block.rows(view.frame.figures[0].shown.number)]
    return Program(SHOPMATE, environment, [row.strip() for row in shown], b"\r", view.entry.limits(view.unit or ""))


def main(rounds: int) -> None:
    """Print the medians and their ratios."""
    with tempfile.TemporaryDirectory() as folder:
        empty = home(Path(folder) / "empty")
        programs = {
            "empty": Program((sys.executable, "-c", EMPTY), empty, ["READY"], b"\r", "TAKEN"),
            "first time": Program(SHOPMATE, home(Path(folder) / "first"), ["New project", "choose"], b"1", "Project 1"),
            "step": at_step(Path(folder) / "step"),
        }
        taken: dict[str, list[tuple[float, float]]] = {name: [] for name in programs}
        for count in range(rounds + 1):
            for name, program in programs.items():
                both = times(program)
                if count:  # the first round fills the caches of the disk
                    taken[name].append(both)
    base = [statistics.median(column) for column in zip(*taken["empty"], strict=True)]
    for name, rows in taken.items():
        for what, column, against in zip(("readable", "key taken"), zip(*rows, strict=True), base, strict=True):
            middle = statistics.median(column)
            ratio = f"{middle / against:.2f} × the empty app" + (f" (target {TARGET})" if name == "step" else "")
            print(f"{name:<10} {what:<9} {middle * 1000:4.0f} ms, {min(column) * 1000:.0f} to {max(column) * 1000:.0f}  {ratio}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 15)
