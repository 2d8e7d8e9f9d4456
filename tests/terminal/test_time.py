"""The real program and its time: stopped and continued, its terminal closed in mid-step, opened in two windows."""

from __future__ import annotations

import json
import re
import signal
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from conftest import every_step, materials

from shopmate import paths, times
from shopmate.session import Session, project_path, running_clocks
from terminal.builder import log
from terminal.conftest import ROOT, Open
from terminal.screen import ENTER, Terminal

pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore:.*multi-threaded.*fork:DeprecationWarning")]

ASKED = "Give the length"

PROGRAM = [sys.executable, "-m", "shopmate"]


@pytest.fixture
def project(home: Path) -> Path:
    """A run whose step in hand asks for a length, with a clock of 59 min."""
    now = datetime.now(UTC)
    session = Session.create(project_path("Project 1"), "Project 1", now, materials())
    session.begin(session.add_part("Panel 1", now), every_step(), now)
    for answer in ("epoxy", "epoxy-2to1-slow", "3"):
        session.answer(answer, now)
    session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=59), now)
    session.close()
    return session.log.path


def events(home: Path) -> list[tuple[str, str]]:
    """Kind and typed text of all that is on disk."""
    kept = json.loads(log(PROGRAM, home, "json", PYTHONPATH=str(ROOT)))["events"]
    return [(event["kind"], str(event["data"].get("typed", ""))) for event in kept]


def test_a_program_that_was_stopped_shows_the_right_time_when_it_goes_on(terminal: Open, project: Path, home: Path) -> None:
    (clock,) = running_clocks(project)
    opened = terminal()

    def is_right() -> bool:
        seconds = (clock.due_at - datetime.now(UTC)).total_seconds()
        return opened.headline(times.span(timedelta(seconds=seconds + off)) for off in (0, 1)) is not None

    opened.until(is_right, "the time left")
    opened.signal(signal.SIGSTOP)
    before = events(home)  # what takes its time meanwhile: the log is read by another program
    assert events(home) == before
    opened.signal(signal.SIGCONT)
    opened.until(is_right, "the time left after the stop")
    assert "COMPUTER CLOCK SET" not in opened.picture


def test_a_terminal_closed_in_mid_step_loses_nothing(terminal: Open, project: Path, home: Path) -> None:
    opened = terminal()
    opened.until(lambda: opened.headline([ASKED]), ASKED)
    opened.send("1234")
    opened.until_shown("1234")
    opened.send(ENTER)
    opened.until(lambda: opened.headline([ASKED]) is None, "the next step")
    opened.send("*")
    opened.hang_up()
    # The end of the section needs no key.
    assert events(home)[-2:] == [("done", "1234 mm"), ("section", "")]
    again = terminal()
    again.until_shown("Kettle")
    assert again.headline([ASKED]) is None
    assert not again.ended


@pytest.mark.parametrize("end", ["kill", "hang_up"])
def test_a_value_half_typed_is_there_again_and_is_no_answer_until_it_is_given(
    end: str, terminal: Open, project: Path, home: Path
) -> None:
    opened = terminal()
    go_on(opened)
    for key, shown in ((".", " cm"), ("1", "1  cm"), ("2", "12  cm")):  # the next unit, then the digits
        opened.send(key)
        opened.until_shown(shown)
    before = events(home)
    getattr(opened, end)()
    assert events(home) == before
    again = terminal()
    again.until_shown("12  cm", "already typed, kept")
    go_on(again)
    again.until_shown("12  cm", "already typed, kept")
    again.send("3")
    again.until_shown("123")
    again.send(ENTER)
    again.until(lambda: again.headline([ASKED]) is None, "the next step")
    # The end of its section passes by itself.
    assert events(home)[-2:] == [("done", "123 cm"), ("section", "")]
    again.kill()
    last = terminal()
    go_on(last)
    assert "typed before" not in last.picture


def go_on(opened: Terminal) -> None:
    """Go on with the step that who comes back is shown."""
    opened.until_shown("YOU WERE HERE")
    opened.send(ENTER)
    opened.until(lambda: "YOU WERE HERE" not in opened.picture, "the step to go on with")


def test_a_second_window_reads_what_the_first_does_and_may_write_once_it_is_gone(
    terminal: Open, project: Path, home: Path
) -> None:
    first = terminal()
    first.until_shown("Kettle")
    second = terminal()
    second.until_shown("READ ONLY", "Kettle")
    assert "READ ONLY" not in first.picture
    second.until(lambda: second.headline([ASKED]), ASKED)
    second.send("1235")
    second.until_shown("1235")
    second.send(ENTER)
    second.choose("Continue")
    assert "1235" not in str(events(home))
    first.send("1234")
    first.until_shown("1234")
    first.send(ENTER)
    second.until(lambda: second.headline([ASKED]) is None, "what the first window did")
    first.kill()
    second.until(lambda: "READ ONLY" not in second.picture, "the place of the first window")
    assert paths.projects().joinpath("project-1.shopmate.alive").exists()


def bells(opened: Terminal) -> int:
    """Return how often a window rang: a bell also ends what sets the shape of the pointer, and rings nothing there."""
    return re.sub(rb"\x1b\][^\x07\x1b]*\x07", b"", opened.drawn).count(b"\x07")


def test_a_window_beside_one_that_was_stopped_sounds_the_alarms(terminal: Open, home: Path) -> None:
    """The first window is stopped, as by Ctrl-Z, before its clock is due; the second rings, says so, and is silenced."""
    began = datetime.now(UTC) - timedelta(minutes=30)
    session = Session.create(project_path("Project 1"), "Project 1", began, materials())
    session.begin(session.add_part("Panel 1", began), every_step(), began)
    session.start_clock("Kettle", "NOT BEFORE", timedelta(minutes=30, seconds=12), began)
    session.close()
    first = terminal()
    first.until_shown("Kettle")
    second = terminal()
    second.until_shown("READ ONLY", "Kettle")
    first.signal(signal.SIGSTOP)
    assert not bells(second)
    second.until_shown("READ ONLY: the other window has frozen", seconds=30)
    second.until(lambda: bells(second), "the bell")
    before = events(home)
    second.a_second_on("Kettle")
    second.send("*")
    second.until_shown("SEEN Kettle")
    assert events(home) == before
    first.signal(signal.SIGCONT)
    second.until_shown("READ ONLY: another window has this project open")
    first.until(lambda: ("alarm", "") in events(home), "the alarm recorded by the window that goes on")
