"""What the checks of the real program share: terminals that are closed, and a program installed from its wheel."""

from __future__ import annotations

import json
import subprocess
import sys
import venv
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest

from terminal.screen import Terminal

ROOT = Path(__file__).parents[2]
"""The checkout."""

UNGUARDED = {"hold_ms": 0, "repeat_ms": 0, "settle_ms": 0}

Open = Callable[..., Terminal]


@pytest.fixture
def terminal(home: Path) -> Iterator[Open]:
    """Opens the program in a terminal: `terminal()` this checkout's, with `words` one of its commands, `terminal(script)`
    another program; all are closed at the end.

    The guards against keys held down are off, since keys are sent as soon as the screen shows what they are for; with
    `guarded` they are as they come.
    """
    opened: list[Terminal] = []

    def open_one(
        *command: str,
        columns: int = 80,
        rows: int = 24,
        words: Sequence[str] = (),
        guarded: bool = False,
        deaf: bool = False,
        **more: str,
    ) -> Terminal:
        if not guarded:
            home.mkdir(parents=True, exist_ok=True)
            (home / "settings.json").write_text(json.dumps(UNGUARDED), encoding="utf-8")
        if not command:
            more.setdefault("PYTHONPATH", str(ROOT))  # also where the environment's own installation is another's
        one = Terminal(command or (sys.executable, "-m", "shopmate", *words), home, columns, rows, deaf, **more)
        opened.append(one)
        return one

    yield open_one
    for one in opened:
        one.close()


@pytest.fixture(scope="session")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The command `shopmate` in a new environment that holds a wheel built from this checkout and what it asks for."""
    folder = tmp_path_factory.mktemp("installed")
    build = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)]
    subprocess.run(build, check=True, capture_output=True, timeout=120)
    (wheel,) = folder.glob("*.whl")
    venv.create(folder / "env", with_pip=True)
    programs = folder / "env" / "bin"
    install = [str(programs / "python"), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", str(wheel)]
    subprocess.run(install, check=True, capture_output=True, timeout=240)
    return programs / "shopmate"
