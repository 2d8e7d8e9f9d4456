"""Print how long the commands take against the empty interpreter: log without units, calc and check with them.

Run: python tests/bench/commands.py [rounds]. The programs take turns; the ratios of the medians are the figures to read.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

RECIPE = Path(__file__).parent.parent.parent / "recipes" / "fillet.yaml"


def took(command: list[str], environment: dict[str, str]) -> float:
    """Return the seconds that a command takes, start and end of the process included."""
    began = time.perf_counter()
    subprocess.run(command, env=environment, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, check=True)
    return time.perf_counter() - began


def main(rounds: int) -> None:
    """Print the medians and their ratios."""
    from shopmate.session.demo import build

    with tempfile.TemporaryDirectory() as folder:
        project = Path(folder) / "projects" / "hide.shopmate"
        build(project, datetime.now(UTC))
        installed = Path(sys.executable).with_name("shopmate")  # as a user starts it: without the search for the module
        shopmate = [str(installed)] if installed.is_file() else [sys.executable, "-m", "shopmate"]
        programs = {
            "empty": ([sys.executable, "-c", ""], 1),
            "where": ([*shopmate, "where"], 6),
            "log": ([*shopmate, "log", str(project)], 6),
            "clocks": ([*shopmate, "clocks"], 12),
            "calc": ([*shopmate, "calc", "fillet", "length=4.8 m", "radius=12 mm", "loss=15"], 12),
            "check": ([*shopmate, "check", str(RECIPE)], 18),
            "sheet": ([*shopmate, "sheet", "fillet"], 18),
        }
        environment = os.environ | {"SHOPMATE_HOME": folder}
        # An installed program is compiled: where this environment keeps no bytecode, much of a command is compiling.
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        times: dict[str, list[float]] = {name: [] for name in programs}
        for count in range(rounds + 1):
            for name, (command, _) in programs.items():
                seconds = took(command, environment)
                if count:  # the first round fills the caches of the disk
                    times[name].append(seconds)
    base = statistics.median(times["empty"])
    for name, (_, target) in programs.items():
        middle = statistics.median(times[name])
        print(f"{name:<7} {middle * 1000:6.0f} ms  {middle / base:5.1f} × the empty interpreter (target {target})")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 15)
