"""Measure the user's keyboard."""

from __future__ import annotations

import sys
from argparse import Namespace

from shopmate.cli.signs import bare_output
from shopmate.errors import UsageError


def run(arguments: Namespace) -> int:
    """Measure how the keyboard repeats a key held down, and set the guards to it."""
    if not (sys.stdin and sys.stdout and sys.stdin.isatty() and sys.stdout.isatty()):
        raise UsageError("keys measures a keyboard and needs a terminal; run it in the window that you work in")
    from shopmate.tui import run_keys

    with bare_output():
        return run_keys()
