"""The full-screen bench: the only home of textual and rich."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from pathlib import Path

from shopmate import settings, signals
from shopmate.awake import Awake, command
from shopmate.errors import FileProblems
from shopmate.steady import read_steady
from shopmate.tui.app import KeysApp, ShopmateApp

__all__ = ["run", "run_keys"]


def run(path: Path | None) -> int:
    """Open the bench on a project file, or on the last project; returns the exit code, raises what ended it by fault."""
    _prepare()
    own, trouble = _own_settings()
    return _run(ShopmateApp(path, settings=own, trouble=trouble, steady=read_steady, awake=Awake(command())))


def run_keys() -> int:
    """Measure the user's keyboard; returns the exit code, raises what ended it by fault."""
    _prepare()
    own, trouble = _own_settings()
    return _run(KeysApp(None, settings=own, trouble=trouble))


def _own_settings() -> tuple[settings.Settings | None, str]:
    """Return the user's settings, or none and what is wrong with their file."""
    try:
        return settings.load(), ""
    except FileProblems as error:
        return None, str(error)


def _run(app: ShopmateApp) -> int:
    app.few_colours = app.console.color_system == "standard"
    app.seven_bit = _is_seven_bit(getattr(sys.__stderr__, "encoding", ""))
    with signals.heeded(app.end_by, app.end_at_once):
        app.run(mouse=False)
        if app.ended_by is not None:
            signals.end_by(app.ended_by)
    if app.fault is not None:
        raise app.fault
    if app.desk.parting:
        sys.stderr.write(f"shopmate: {app.desk.parting}\n")
    return app.return_code or 0


def _prepare() -> None:
    _give_size()
    if not os.environ.get("NO_COLOR"):
        os.environ.pop("NO_COLOR", None)  # the framework takes an empty one too for a wish


def _give_size() -> None:
    """Give a terminal that does not know its size, as on a serial line, the usual one.

    The framework's parts each guess one of their own, and lay the screen out again without end.
    """
    with suppress(OSError, ValueError):
        if 0 in os.get_terminal_size(sys.stdout.fileno()):
            os.environ.setdefault("COLUMNS", "80")
            os.environ.setdefault("LINES", "24")


_COERCED = ("C.UTF-8", "C.utf8", "UTF-8")
"""What the interpreter sets LC_CTYPE to by itself where LANG is C."""


def _is_seven_bit(encoding: str | None) -> bool:
    """Return whether the terminal is not known to show more than 7-bit signs, by its encoding and its locale."""
    if (encoding or "").lower().replace("-", "") != "utf8":
        return True
    names = [os.environ.get(name, "") for name in ("LC_ALL", "LC_CTYPE", "LANG")]
    if names[1] in _COERCED and names[2] in ("C", "POSIX"):
        names[1] = ""
    return next(filter(None, names), "") in ("C", "POSIX")
