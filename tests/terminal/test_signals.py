"""The real program ended from outside: its terminal is as it was, nothing of it goes on, who waits sees which signal it was."""

from __future__ import annotations

import json
import re
import signal
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from conftest import every_step, materials

from shopmate.session import Session, project_path
from terminal.conftest import UNGUARDED, Open
from terminal.screen import ENTER, Modes, Terminal

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")]

ASKED = "Give the length"

WITHIN = 2.0
"""Seconds in which the program is gone."""

ENDING = [signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT]

AT_REST = {"1049": "l", "25": "h", "7": "h", "2004": "l", "1004": "l", "2048": "l", "1000": "l", "1003": "l", "1006": "l"}
"""Modes of a terminal that nobody drives, by number: no other screen, the cursor shown, long lines wrapped, nothing reported
(memory: the control sequences of xterm)."""

needs_proc = pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="needs a list of what runs")


def begin(now: datetime, wait: timedelta = timedelta(minutes=59)) -> Path:
    """Make a run whose step in hand asks for a length, with a clock that is due after a time."""
    session = Session.create(project_path("Project 1"), "Project 1", now, materials())
    session.begin(session.add_part("Panel 1", now), every_step(), now)
    for answer in ("epoxy", "epoxy-2to1-slow", "3"):
        session.answer(answer, now)
    session.start_clock("Kettle", "DO BEFORE", wait, now)
    session.close()
    return session.log.path


@pytest.fixture
def project(home: Path) -> Path:
    """A run with a clock that runs."""
    return begin(datetime.now(UTC))


def at_a_step(opened: Terminal) -> None:
    opened.until_shown("YOU WERE HERE")
    opened.send(ENTER)
    opened.until(lambda: opened.headline([ASKED]), ASKED)
    opened.send("12")
    opened.until_shown("12")


def in_a_form(opened: Terminal) -> None:
    opened.until_shown("YOU WERE HERE")
    opened.send("/")
    opened.until_shown("type a number to open one")
    opened.send("01")
    opened.until_shown("field ")


def in_a_menu(opened: Terminal) -> None:
    opened.until_shown("YOU WERE HERE")
    opened.send("\x11")
    opened.until_shown("1 clock is running")


def left(opened: Terminal) -> dict[str, str]:
    """The modes of the terminal as the last sequence for each left them."""
    return dict(re.findall(r"\x1b\[\?(\d+)([hl])", opened.drawn.decode("utf-8", "replace")))


def check_put_back(opened: Terminal, before: Modes) -> None:
    """Check that nothing of the program is left at its terminal."""
    opened.look()
    assert opened.modes() == before
    modes = left(opened)
    assert modes == {mode: AT_REST[mode] for mode in modes}
    assert {"1049", "25", "2004"} <= modes.keys()
    assert len(re.findall(rb"\x1b\[>\d+u", opened.drawn)) == opened.drawn.count(b"\x1b[<u")  # the newer keyboard protocol


def check_free(project: Path) -> None:
    """Check that the project can be worked on."""
    session = Session.open(project, datetime.now(UTC), materials())
    assert not session.read_only
    session.close()


def still_there(home: Path) -> list[str]:
    """What still runs of all that was started with its state in a folder."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            if f"SHOPMATE_HOME={home}".encode() in (folder / "environ").read_bytes().split(b"\0"):
                found.append((folder / "cmdline").read_bytes().replace(b"\0", b" ").decode())
        except OSError:
            continue  # another user's, or just ended
    return found


@pytest.mark.parametrize("place", [at_a_step, in_a_form, in_a_menu])
@pytest.mark.parametrize("number", ENDING, ids=lambda number: number.name)
def test_a_signal_puts_the_terminal_back_and_ends_it(
    number: signal.Signals, place: Callable[[Terminal], None], terminal: Open, project: Path, home: Path
) -> None:
    opened = terminal()
    before = opened.modes()
    place(opened)
    assert opened.modes() != before
    opened.signal(number)
    assert opened.end(WITHIN) == 128 + number
    check_put_back(opened, before)
    check_free(project)
    again = terminal()
    again.until_shown("12" if place is at_a_step else "YOU WERE HERE")


@pytest.mark.parametrize("number", ENDING, ids=lambda number: number.name)
def test_a_signal_ends_the_measuring_of_keys(number: signal.Signals, terminal: Open, home: Path) -> None:
    opened = terminal(words=["keys"])
    before = opened.modes()
    opened.until_shown("Hold")
    opened.signal(number)
    assert opened.end(WITHIN) == 128 + number
    check_put_back(opened, before)


@pytest.mark.parametrize("number", ENDING, ids=lambda number: number.name)
def test_a_signal_ends_lines(number: signal.Signals, terminal: Open, project: Path) -> None:
    opened = terminal(words=["--plain"])
    before = opened.modes()
    opened.until_shown(ASKED, "\n>")
    opened.signal(number)
    assert opened.end(WITHIN) == 128 + number
    opened.look()
    assert opened.modes() == before
    assert b"\x1b" not in opened.drawn
    check_free(project)


@needs_proc
@pytest.mark.parametrize("number", ENDING, ids=lambda number: number.name)
def test_a_terminal_that_reads_nothing_holds_up_no_end(number: signal.Signals, terminal: Open, project: Path) -> None:
    opened = terminal()
    before = opened.modes()
    at_a_step(opened)
    opened.hold_up()
    for _ in range(60):
        opened.send("+")  # each draws something, until nothing more can be handed over
    opened.signal(number)
    assert opened.end(WITHIN) == 128 + number
    assert opened.modes() == before
    check_free(project)


@needs_proc
@pytest.mark.parametrize("words", [[], ["--plain"]], ids=["screen", "lines"])
def test_what_the_program_started_ends_with_it(words: Sequence[str], terminal: Open, home: Path) -> None:
    project = begin(datetime.now(UTC) - timedelta(minutes=3), timedelta(minutes=1))
    note = home / "note"
    speak: Mapping[str, object] = {"alarm_command": ["/bin/sh", "-c", f"echo > '{note}'; sleep 60 & wait"]}
    (home / "settings.json").write_text(json.dumps({**UNGUARDED, **speak}), encoding="utf-8")
    opened = terminal(words=words, guarded=True)
    opened.until(note.exists, "the alarm command")
    assert any("sleep 60" in line for line in still_there(home))
    assert any(line.startswith("cat") for line in still_there(home))  # what keeps the computer awake
    opened.signal(signal.SIGTERM)
    assert opened.end(WITHIN) == 128 + signal.SIGTERM
    assert still_there(home) == []
    check_free(project)


@needs_proc
@pytest.mark.parametrize("deaf", [False, True], ids=["told", "under nohup"])
@pytest.mark.parametrize(("words", "shows"), [([], "YOU WERE HERE"), (["--plain"], ASKED), (["keys"], "Hold")], ids=str)
def test_a_bench_whose_terminal_is_gone_ends(
    words: Sequence[str], shows: str, deaf: bool, terminal: Open, project: Path, home: Path
) -> None:
    opened = terminal(words=words, deaf=deaf)
    opened.until_shown(shows)
    opened.lose()
    ended = opened.end(WITHIN)
    assert ended in ((0, 1) if deaf else (128 + signal.SIGHUP,))
    assert still_there(home) == []
    check_free(project)


@pytest.mark.parametrize("number", [signal.SIGTSTP, signal.SIGSTOP], ids=lambda number: number.name)
def test_a_stop_and_its_end_leave_the_screen_right(number: signal.Signals, terminal: Open, project: Path) -> None:
    opened = terminal()
    before = opened.modes()
    at_a_step(opened)
    picture = opened.rows[:12]
    working = opened.modes()
    opened.signal(number)
    if number is signal.SIGTSTP:
        opened.until(lambda: left(opened)["1049"] == "l", "the terminal handed back")
        opened.until(lambda: opened.modes() == before, "what is typed shown again")
    opened.wipe()
    opened.signal(signal.SIGCONT)
    opened.until(lambda: opened.rows[:12] == picture, "the same picture")
    assert opened.modes() == working
    opened.send("3")
    opened.until_shown("123")
    opened.signal(signal.SIGTERM)
    assert opened.end(WITHIN) == 128 + signal.SIGTERM
    check_put_back(opened, before)
