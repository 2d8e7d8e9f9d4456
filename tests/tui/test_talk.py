"""Every kind of question that a dialogue puts: the screen it comes on, the lines it comes in, and what is sent back."""

import pytest
from plain_talk import Talk
from tui_bench import opened

from shopmate import calc, tables
from shopmate.calculator import Measure
from shopmate.dialogue.asking import Choose, Confirm, Enter, Fill, Item, Look, Name, Say, Show, Tell
from shopmate.dialogue.form import Form
from shopmate.errors import UsageError
from shopmate.plain.talk import talk

ITEMS = (Item("first", "Ply"), Item("second", "Foam", "rigid"))
WIDTH = Measure("mm", low=0, high=900)


@pytest.fixture
def path(small):
    small.close()
    return small.log.path


def held(question, got):
    """Ask one question and keep what is sent back."""
    got.append((yield question))


ANSWERED = [
    (Choose("Which core?", ITEMS), "Foam  rigid", "2", "2", "second"),
    (Choose("Which core?", ITEMS), "Ply", "/", "/", None),
    (Choose("Which core?", ITEMS, explain="Or another."), "Or another.", "1", "1", "first"),
    (Choose("Which core?", ITEMS, other=Item("none", "no core")), "no core", ".", "3", "none"),
    (Name("Name of the core", "Core 1"), "Core 1", "E", "", "Core 1"),
    (Enter("How wide?", WIDTH, "mm"), "How wide?", "45E", "45", "45 mm"),
    (Confirm("Cut it?", "It is cut then.", "cut", "keep"), "It is cut then.", "E", "", True),
    (Confirm("Cut it?", "It is cut then.", "cut", "keep"), "It is cut then.", "-", "-", False),
    (Tell("Mind the blade."), "Mind the blade.", "1", None, None),
    (Look(tables.load("solvents")), "solvent", "/", "/", None),
    (Fill(Form(calc.find("drill"), {}, "metric")), "drill", "/", "/", None),
    (Show("clocks"), "No clock is running.", "+", "/", None),
]
"""A question, what is seen of it, the key that answers on a screen, the line that does, and the answer."""


@pytest.mark.parametrize(("question", "seen", "key", "line", "answer"), ANSWERED)
async def test_a_question_is_asked_on_a_screen(path, now, question, seen, key, line, answer):
    got = []
    async with opened(now, path) as at:
        at.app.start_dialogue(held(question, got))
        await at.pilot.pause()
        assert seen.casefold() in at.text.casefold()
        assert got == []
        at.hands.now += 1
        await at.press(key)
        assert got == [answer]
        assert at.app.screen is at.app.bench


@pytest.mark.parametrize(("question", "seen", "key", "line", "answer"), ANSWERED)
def test_a_question_is_asked_in_lines(path, now, question, seen, key, line, answer):
    got = []
    talked = Talk(now, [] if line is None else [line])
    talked.plain.desk.open(path)
    talk(talked.lines, held(question, got))
    assert seen.replace("  ", ": ").casefold() in talked.said.casefold()
    assert got == [answer]
    talked.plain.desk.close()


@pytest.mark.parametrize(("drawn", "on_screen"), [(False, "Cut."), (True, "")])
async def test_what_is_said_in_passing_is_echoed_unless_a_screen_draws_it(path, now, drawn, on_screen):
    got = []
    async with opened(now, path) as at:
        at.app.start_dialogue(held(Say("Cut.", drawn), got))
        await at.pilot.pause()
        assert (at.said, got) == (on_screen, [None])
    talked = Talk(now)
    talk(talked.lines, held(Say("Cut", drawn), got))
    assert talked.said == "Cut.\n"


def failing():
    """Ask, and then fail as the session does."""
    yield Choose("Which core?", ITEMS)
    raise UsageError("there is no such core; choose another")


async def test_an_error_ends_a_dialogue_and_stands_until_it_is_read(path, now):
    async with opened(now, path) as at:
        at.app.start_dialogue(failing())
        await at.pilot.pause()
        await at.press("1")
        assert "there is no such core; choose another" in at.text
        at.app.tell("there is no such core; choose another")  # what is up already does not come twice
        await at.pilot.pause()
        await at.press("1")
        assert at.app.screen is at.app.bench


def test_an_error_ends_a_dialogue_and_is_said(now):
    talked = Talk(now, ["1"])
    talk(talked.lines, failing())
    assert talked.said.endswith("there is no such core; choose another\n")
