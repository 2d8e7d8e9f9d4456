"""Being ended from outside: what a program does when a signal asks it to end, and the end by that very signal."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

LIMIT = 1.5
"""Seconds after which a program that was asked to end is ended, whatever it waits for: a terminal that reads no more, a disk."""

_NAMES = ("SIGTERM", "SIGHUP", "SIGQUIT")
"""What asks a program to end; an interrupt asks it to stop what it is doing, which is the program's own matter."""


class Ended(BaseException):
    """A signal asks the program to end; raised wherever it is by then."""

    def __init__(self, number: int) -> None:
        super().__init__(f"ended by signal {number}")
        self.number = number


def leave(number: int) -> None:
    """Raise Ended, as what is done when asked to end by a program that has nothing to wait for."""
    raise Ended(number)


@contextmanager
def heeded(end: Callable[[int], None] = leave, last: Callable[[], None] = lambda: None) -> Iterator[None]:
    """Call `end` with the number of the first signal that asks to end, in the midst of anything; further ones change nothing.

    Where the program still runs after LIMIT, `last` is called and it ends there and then. What was ignored when the program
    was started stays so, as under nohup. Without such signals, as on Windows, this does nothing.
    """
    if sys.platform == "win32":
        yield
        return
    numbers = [number for name in _NAMES if signal.getsignal(number := signal.Signals[name]) != signal.SIG_IGN]
    before = {number: signal.getsignal(number) for number in (*numbers, signal.SIGALRM)}
    asked: list[int] = []

    def end_now(_number: int, _frame: FrameType | None) -> None:
        try:
            last()
        finally:
            end_by(asked[0])

    def ask(number: int, _frame: FrameType | None) -> None:
        if asked:
            return
        asked.append(number)
        signal.signal(signal.SIGALRM, end_now)
        signal.setitimer(signal.ITIMER_REAL, LIMIT)
        end(number)

    for number in numbers:
        signal.signal(number, ask)
    try:
        yield
    finally:
        if not asked:  # else the end is near, and nothing comes between
            for number, handler in before.items():
                signal.signal(number, handler)


def end_by(number: int) -> None:
    """End the program by a signal, so that who waits for it sees which (a shell 128 + `number`); nothing is flushed."""
    signal.signal(number, signal.SIG_DFL)
    os.kill(os.getpid(), number)
