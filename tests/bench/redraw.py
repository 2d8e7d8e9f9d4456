"""Print what the bench sends to the terminal in a second, and its share of a processor, with six clocks running.

Run: python tests/bench/redraw.py [seconds]. The budget is 3 kB a second and 2 % of one core; nothing is gated on it.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import struct
import sys
import tempfile
import termios
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from shopmate import recipe as recipes
from shopmate.session import Session
from shopmate.session.demo import build

SETTLING = 4.0
"""Seconds after the start that are not counted."""


def project(home: Path) -> None:
    """Make the demo with so many clocks that six run."""
    path, now = home / "projects" / "hide.shopmate", datetime.now(UTC)
    path.parent.mkdir(parents=True)
    build(path, now)
    session = Session.open(path, now, recipes.load_shelf(recipes.typical_shelf()))
    for number in range(6 - len(session.clocks)):
        session.start_clock(f"Clock {number + 1}", "NOT BEFORE", timedelta(minutes=60 + number), now)
    session.close()


def spent(process: int) -> float:
    """Return the seconds of a processor that a process has taken so far."""
    fields = Path(f"/proc/{process}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def main(seconds: float) -> None:
    """Run the bench in a pseudo-terminal of 80 columns and 24 rows and measure it."""
    with tempfile.TemporaryDirectory() as home:
        project(Path(home))
        environment = {**os.environ, "TERM": "xterm-256color", "COLORTERM": "truecolor", "SHOPMATE_HOME": home}
        process, terminal = pty.fork()
        if process == 0:
            os.execve(sys.executable, [sys.executable, "-m", "shopmate"], environment)
        fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        began = time.perf_counter()
        sent, taken, from_ = 0, 0.0, 0.0
        try:
            while (at := time.perf_counter() - began) < SETTLING + seconds:
                count = len(os.read(terminal, 1 << 16)) if select.select([terminal], [], [], 0.1)[0] else 0
                if at < SETTLING:
                    taken, from_ = spent(process), at
                else:
                    sent += count
            length = time.perf_counter() - began - from_
            share = (spent(process) - taken) / length
            print(f"{sent / length:.0f} bytes a second, {share:.1%} of a processor, in {length:.0f} s")
        finally:
            os.kill(process, 9)
            os.waitpid(process, 0)
            os.close(terminal)


if __name__ == "__main__":
    main(float(sys.argv[1]) if len(sys.argv) > 1 else 20.0)
