"""Print how long the bench takes from process start to first paint, against an empty Textual app of the same environment.

Run: python tests/bench/first_paint.py [rounds]. The two programs take turns, so that a busy machine slows both alike;
the ratio of their medians is the figure to read. The target is 1.3; nothing is gated on it.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import statistics
import struct
import sys
import tempfile
import termios
import time
from pathlib import Path

TARGET = 1.3

MARKER = b"READY"

EMPTY = """
from textual.app import App
from textual.widgets import Static
class Empty(App):
    def compose(self):
        yield Static("READY")
Empty().run()
"""

PROGRAMS = {
    "empty": ([sys.executable, "-c", EMPTY], MARKER),
    "first paint": ([sys.executable, "-m", "shopmate"], b"shopmate"),
    "choice": ([sys.executable, "-m", "shopmate"], b"New project"),
    "bench": ([sys.executable, "-m", "shopmate"], b"look up"),
}
"""Each program with a text of its picture: an empty app, the first frame of the bench, the choice of the first time, a step."""


def first_paint(command: list[str], marker: bytes, environment: dict[str, str]) -> float:
    """Return the seconds from starting `command` in a pseudo-terminal of 120 columns and 40 rows to the marker."""
    began = time.perf_counter()
    process, terminal = pty.fork()
    if process == 0:
        os.execve(command[0], command, environment)
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    seen = b""
    try:
        while marker not in seen:
            if not select.select([terminal], [], [], 20)[0]:
                raise SystemExit(f"{command} painted no {marker!r}; it painted:\n{seen[-2000:].decode('utf-8', 'replace')}")
            seen += os.read(terminal, 1 << 16)
        return time.perf_counter() - began
    finally:
        os.kill(process, 9)
        os.waitpid(process, 0)
        os.close(terminal)


def main(rounds: int) -> None:
    """Print the medians and their ratios."""
    from datetime import UTC, datetime

    from shopmate.session.demo import build

    with tempfile.TemporaryDirectory() as folder:
        environments = {}
        for name in PROGRAMS:
            home = Path(folder) / name
            environments[name] = os.environ | {"SHOPMATE_HOME": str(home), "TERM": "xterm-256color", "COLORTERM": "truecolor"}
            # An installed program is compiled: where this environment keeps no bytecode, half of the difference is compiling.
            environments[name].pop("PYTHONDONTWRITEBYTECODE", None)
        for name in ("first paint", "bench"):
            build(Path(folder) / name / "projects" / "hide.shopmate", datetime.now(UTC))
        times: dict[str, list[float]] = {name: [] for name in PROGRAMS}
        for count in range(rounds + 1):
            for name, (command, marker) in PROGRAMS.items():
                took = first_paint(command, marker, environments[name])
                if count:  # the first round fills the caches of the disk
                    times[name].append(took)
    base = statistics.median(times["empty"])
    for name, taken in times.items():
        middle = statistics.median(taken)
        ratio = f"{middle / base:.2f} × the empty app (target {TARGET})" if name != "empty" else ""
        print(f"{name:<6} {middle * 1000:6.0f} ms, least {min(taken) * 1000:.0f}, most {max(taken) * 1000:.0f}  {ratio}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 15)
