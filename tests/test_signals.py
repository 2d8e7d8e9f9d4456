"""A program told to end by a signal, as seen by the process that started it."""

import signal
import subprocess
import sys

import pytest

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs signals that ask a program to end")

PROGRAM = """
import signal, sys
from shopmate import signals
signals.LIMIT = 0.2
def wait():
    print("ready", flush=True)
    while True:
        signal.pause()
"""

RAISED = """
with signals.heeded():
    try:
        wait()
    except signals.Ended as ended:
        print("closed", flush=True)
        signals.end_by(ended.number)
"""

COUNTED = """
with signals.heeded(lambda number: print("asked", flush=True), lambda: print("at last", flush=True)):
    wait()
"""

FAILING = """
with signals.heeded(lambda number: None, lambda: 1 / 0):
    wait()
"""

OVER = """
with signals.heeded():
    pass
wait()
"""


def ended(script, *numbers):
    """Start a program, send it signals, each once it has said something to the one before; return its status and what it said."""
    with subprocess.Popen([sys.executable, "-c", PROGRAM + script], stdout=subprocess.PIPE, text=True) as process:
        said = []
        for number in numbers:
            said.append(process.stdout.readline().rstrip())
            process.send_signal(number)
        said += process.stdout.read().splitlines()
        return process.wait(20), said


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT])
def test_it_closes_and_ends_by_that_signal(number):
    assert ended(RAISED, number) == (-number, ["ready", "closed"])


def test_one_that_does_not_come_to_its_end_is_ended_by_the_first_signal_and_asked_once():
    assert ended(COUNTED, signal.SIGTERM) == (-signal.SIGTERM, ["ready", "asked", "at last"])
    assert ended(COUNTED, signal.SIGHUP, signal.SIGTERM) == (-signal.SIGHUP, ["ready", "asked", "at last"])


def test_it_ends_though_the_last_thing_it_does_fails():
    assert ended(FAILING, signal.SIGQUIT) == (-signal.SIGQUIT, ["ready"])


def test_what_was_ignored_from_the_start_stays_so():
    ignored = "signal.signal(signal.SIGHUP, signal.SIG_IGN)\n" + COUNTED.replace('"asked"', "number")
    still = ignored.replace("wait()", "signal.raise_signal(signal.SIGHUP); wait()")
    assert ended(still, signal.SIGTERM) == (-signal.SIGTERM, ["ready", "15", "at last"])


def test_afterwards_a_signal_does_what_it_did_before():
    assert ended(OVER, signal.SIGTERM) == (-signal.SIGTERM, ["ready"])
