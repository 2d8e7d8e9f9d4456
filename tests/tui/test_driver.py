"""The driver's last word to a terminal; all else of it is shown on the real program (terminal/test_signals.py, test_keys.py)."""

import os
import sys

import pytest

if sys.platform == "win32":
    pytest.skip("needs a pseudo-terminal", allow_module_level=True)

import termios
import tty

from shopmate.tui.driver import SturdyDriver


def test_a_terminal_is_put_back_without_drawing_and_one_that_is_gone_is_no_error():
    master, slave = os.openpty()
    driver = SturdyDriver.__new__(SturdyDriver)  # a whole one would read and draw
    driver.fileno, driver.attrs_before = slave, termios.tcgetattr(slave)
    tty.setraw(slave)
    assert termios.tcgetattr(slave) != driver.attrs_before
    driver.put_back()
    assert termios.tcgetattr(slave) == driver.attrs_before
    os.close(master)
    driver.put_back()
    os.close(slave)
