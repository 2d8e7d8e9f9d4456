"""A recipe on a disk that answers slowly: the list shows the others, alarms come in time, and leaving waits for nothing."""

import re
import threading
from datetime import timedelta

import pytest
from plain_talk import Talk, number
from tui_bench import opened

from shopmate.session import build_order, files, find_recipe
from shopmate.tui.screens.choose import ChooseScreen

SLOW = "bonding"
"""The recipe that is read slowly; others come before and after it by name."""


@pytest.fixture
def disk(monkeypatch):
    """A disk on which one recipe is not read until it is set."""
    answers, load = threading.Event(), files.recipes.load

    def slowly(path, **more):
        if path.stem == SLOW:
            answers.wait()
        return load(path, **more)

    monkeypatch.setattr(files.recipes, "load", slowly)
    files._read_once.cache_clear()  # what was read before would not be read again
    yield answers
    answers.set()


@pytest.fixture
def kettle(small, now):
    """The file of a project with a clock of five minutes."""
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), now())
    small.close()
    return small.log.path


async def key(at, which):
    """Press one key, waiting for no file."""
    at.hands.now += 1
    await at.hands.post(which, which)


async def to_the_recipes(at):
    """Open the list of recipes."""
    await at.press("/.")
    for title in ("Start a recipe", "New: Panel"):
        number = next(number for number, item in enumerate(at.app.screen.items, 1) if item.title.startswith(title))
        for digit in f"{number:0{len(str(len(at.app.screen.items)))}d}":
            await key(at, digit)


async def test_alarms_come_and_are_acknowledged_while_a_file_is_read(kettle, now, disk):
    async with opened(now, kettle) as at:
        await to_the_recipes(at)
        screen = at.app.screen
        assert isinstance(screen, ChooseScreen)
        assert screen.unread
        assert f"Loading, {screen.unread} to go" in at.text
        await at.tick(minutes=6)
        assert "● NOW · Kettle +1:00" in " ".join(at.text.split())
        now.on(seconds=1)
        await key(at, "asterisk")
        assert not at.app.alarm_waits
        disk.set()
        while screen.unread:
            await at.pilot.pause()
        assert "Loading, " not in at.text
        assert find_recipe(SLOW).title in [item.title for item in screen.items]
        first, *rest = screen.items
        assert first.title.startswith("Next: ")
        assert [item.key for item in rest] == [recipe.name for recipe in build_order([find_recipe(item.key) for item in rest])]


async def test_the_list_is_left_without_waiting_for_a_file(kettle, now, disk):
    async with opened(now, kettle) as at:
        await to_the_recipes(at)
        assert at.app.screen.unread
        await key(at, "slash")
        assert not isinstance(at.app.screen, ChooseScreen)


def test_in_lines_alarms_are_said_while_a_file_is_read(kettle, now, disk):
    sought = ["look", "Start a recipe", "New: Panel"]

    def typed(said):
        if not sought:
            return None
        label = sought.pop(0)
        return "/" if label == "look" else number(said, label)

    talk = Talk(now, typed, kettle)
    attend = talk.lines.attend

    def looked():
        if not sought and not disk.is_set():
            now.on(minutes=6)
            wait = attend()
            disk.set()
            return wait
        return attend()

    talk.lines.attend = looked
    said = talk.run()
    assert re.search(r"Kettle.*Which recipe\?", said, re.DOTALL)
    assert find_recipe(SLOW).title in said.partition("Which recipe?")[2]
