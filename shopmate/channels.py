"""The ways out of the screen for an alarm: a command of the user's, and a notification of the terminal."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Sequence
from contextlib import suppress

from shopmate import characters
from shopmate.phrases import phrase

LIMIT = 5.0
"""Seconds after which an alarm command is ended."""

_MOST = 200
"""Characters of a notification; some terminals drop a longer one."""

_running: list[subprocess.Popen[bytes]] = []
"""Commands that were started here, each in a thread that waits for it, and have not ended."""


def run_command(command: Sequence[str], words: str, limit: float = LIMIT) -> str:
    """Run a program with its arguments, `{words}` in them replaced, and return why that failed, or ''.

    No shell reads the words, and the environment is the own one. What runs longer than `limit` seconds is ended with
    all that it started; one that `end_commands` ends has not failed.
    """
    said = _printable(words)
    arguments = [argument.replace("{words}", said) for argument in command]
    name = command[0]
    null = subprocess.DEVNULL
    try:
        process = subprocess.Popen(arguments, stdin=null, stdout=null, stderr=null, start_new_session=True)
    except FileNotFoundError:
        return phrase("{name} was not found", name)
    except PermissionError:
        return phrase("no permission to run {name}", name)
    except (OSError, ValueError) as error:
        return phrase("{name} cannot be run: {error}", name, error)
    _running.append(process)
    try:
        code = process.wait(limit)
    except subprocess.TimeoutExpired:
        _end(process)
        code = None
    if process not in _running:
        return ""
    _running.remove(process)
    if code is None:
        return phrase("{name} took more than {limit:g} s", name, limit)
    return phrase("{name} ended with exit code {code}", name, code) if code else ""


def end_commands() -> None:
    """End the commands that run, with all that they started: none outlives the bench."""
    while _running:
        _end(_running.pop())


def _end(process: subprocess.Popen[bytes]) -> None:
    if sys.platform == "win32":
        process.kill()
    else:
        with suppress(ProcessLookupError):  # it has just ended by itself
            os.killpg(process.pid, signal.SIGKILL)
    process.wait()


def notification(words: str, in_multiplexer: bool) -> str:
    """Return the control sequence that asks a terminal to show `words` as a notification (OSC 9).

    A multiplexer drops it unless it is wrapped in one of its own, with each escape doubled.
    """
    sequence = f"\x1b]9;{_printable(words)[:_MOST]}\x07"
    if in_multiplexer:
        return "\x1bPtmux;" + sequence.replace("\x1b", "\x1b\x1b") + "\x1b\\"
    return sequence


def _printable(words: str) -> str:
    """Return words on one line, with characters visible that would end the sequence or the argument and begin something else."""
    return characters.visible(" ".join(words.split("\n"))).replace("\t", " ")
