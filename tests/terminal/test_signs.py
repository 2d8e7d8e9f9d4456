"""What the real program sends to poorer terminals: no colour, 16 colours, 7-bit signs, a multiplexer in between."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from shopmate import recipe as recipes
from shopmate.session import Session
from shopmate.session.demo import build
from shopmate.tui.lines import plain
from shopmate.tui.widgets import block
from terminal.conftest import ROOT, Open
from terminal.screen import Terminal

# Newer interpreters warn of a fork beside threads of other tests; the child at once becomes another program.
pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")]

ALARM, RUNNING = "Kettle", "Heater"


@pytest.fixture(autouse=True)
def project(home: Path) -> Path:
    """The file of the demo with two clocks more: one that fell due while it was shut, and one that runs."""
    path, now = home / "projects" / "hide.shopmate", datetime.now(UTC)
    path.parent.mkdir(parents=True)
    build(path, now)
    session = Session.open(path, now, recipes.load_shelf(recipes.typical_shelf()))
    session.start_clock(ALARM, "DO BEFORE", timedelta(minutes=1), now - timedelta(minutes=3))
    session.start_clock(RUNNING, "NOT BEFORE", timedelta(hours=3), now)
    session.close()
    return path


def seen(opened: Terminal) -> Terminal:
    """Return the program after a look at the bench, the clocks, a calculator and the work list."""
    bench, calculators = "YOU WERE HERE", "type a number to open one"
    for keys, words in (
        ("", bench),
        ("+", "end one"),
        ("+", bench),
        ("/", calculators),
        ("01", "field "),
        ("/", bench),
        ("/", calculators),
        (".", "Leave shopmate"),
        ("/", bench),
    ):
        opened.send(keys)
        opened.until_shown(words)  # no two of these screens have these words
    return opened


def colours(output: bytes) -> set[str]:
    """Return the colours that the codes of an output set: '31' by name, '38;5' of 256, '38;2' of any."""
    found = set()
    for match in re.finditer(rb"\x1b\[([0-9;:]*)m", output):
        codes = iter(re.split("[;:]", match[1].decode()))
        for code in codes:
            number = int(code or 0)
            if number in (38, 48):
                how = next(codes)
                found.add(f"{number};{how}")
                for _ in range(1 if how == "5" else 3):
                    next(codes)
            elif 30 <= number <= 37 or 40 <= number <= 47 or 90 <= number <= 107:
                found.add(code)
    return found


def test_no_color_sends_no_colour(terminal: Open) -> None:
    opened = seen(terminal(NO_COLOR="1"))
    assert colours(opened.drawn) == set(), re.findall(rb"\x1b\[[0-9;]*(?:3[0-8]|4[0-8]|9.|10.)[;m][^\x1b]*", opened.drawn)[:9]
    assert b"\x1b[1;7;" in opened.drawn or b"\x1b[7;" in opened.drawn


def test_no_color_that_is_empty_is_no_wish(terminal: Open) -> None:
    opened = terminal(NO_COLOR="")
    opened.until_shown("MISSED")
    assert colours(opened.drawn)


@pytest.mark.parametrize("kind", ["linux", "xterm-16color", "vt220"])
def test_sixteen_colours_are_asked_for_by_name(kind: str, terminal: Open) -> None:
    opened = seen(terminal(TERM=kind))
    sent = colours(opened.drawn)
    assert {code for code in sent if ";" in code} == set()
    assert {"97", "40", "91"} <= sent


@pytest.mark.parametrize(
    "locale", [{"LANG": "C"}, {"LC_ALL": "C"}, {"PYTHONIOENCODING": "ascii"}, {"PYTHONIOENCODING": "latin-1"}], ids=str
)
def test_seven_bits_where_the_terminal_is_not_known_to_have_more(locale: dict[str, str], terminal: Open) -> None:
    opened = seen(terminal(**locale))
    assert re.findall(rb".{0,30}[^\x00-\x7f]+.{0,10}", opened.drawn) == []
    assert "# Kettle" in opened.picture or "x Kettle" in opened.picture


def test_all_signs_where_the_terminal_has_them(terminal: Open) -> None:
    opened = terminal(LANG="C", LC_ALL="C.UTF-8")
    opened.until_shown("✖ Kettle")


@pytest.mark.skipif(shutil.which("tmux") is None, reason="needs tmux")
def test_the_same_picture_in_a_multiplexer_of_sixteen_colours(terminal: Open, home: Path) -> None:
    tmux = ["tmux", "-L", f"shopmate-{home.parent.name}", "-f", "/dev/null"]
    program = f"{sys.executable} -m shopmate"
    try:
        opened = terminal(*tmux, "new-session", program, ";", "set", "status", "off", TERM="xterm", PYTHONPATH=str(ROOT))
        opened.until_shown("MISSED", "Kettle · DO BEFORE", "look up")
        assert {code for code in colours(opened.drawn) if ";" in code} == set()
        digits = block.rows("+2:")
        at = next(index for index, row in enumerate(opened.rows) if "Kettle · DO BEFORE" in row)
        assert [row[1:].startswith(dots.rstrip()) for row, dots in zip(opened.rows[at + 1 :], digits, strict=False)] == [True] * 4
        opened.a_second_on("Kettle · DO BEFORE")  # an alarm is acknowledged once it was in sight for a while
        opened.send("*")
        opened.until_shown("due, seen")
    finally:
        subprocess.run([*tmux, "kill-server"], check=False, capture_output=True, timeout=20)


def test_marks_stay_apart_in_seven_bits() -> None:
    assert plain("○◔●◉✖◌✓") == "oc#@x.v"
