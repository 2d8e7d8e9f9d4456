"""The program in terminals of odd sizes."""

import sys
from pathlib import Path

import pexpect
import pytest

from terminal.screen import environment


@pytest.mark.slow
def test_a_terminal_that_knows_no_size_gets_one_and_a_still_picture(home: Path) -> None:
    home.mkdir(parents=True, exist_ok=True)
    child = pexpect.spawn(sys.executable, ["-m", "shopmate"], env=environment(home), dimensions=(0, 0), timeout=20)
    child.expect(b"New project")
    drawn = 0
    try:
        while drawn < 100_000:  # a screen that lays itself out without end draws that in a tenth of a second
            drawn += len(child.read_nonblocking(65536, timeout=0.5))
    except pexpect.TIMEOUT:
        pass
    child.close(force=True)
    assert drawn < 100_000
