"""The user's own keyboard: measured from a hold of Enter, saved, and its sixteen keys marked as they arrive."""

import json

import pytest
from test_guard import held
from tui_bench import SIZES, opened

from shopmate import paths
from shopmate import settings as settings_
from shopmate.settings import Settings
from shopmate.tui.guard import Guard, measure
from shopmate.tui.screens.keys import KeysScreen

SIXTEEN = "0123456789./*-+E"


@pytest.mark.parametrize(
    ("delay", "hertz", "found"),
    [
        (0.5, 25, (650, 60)),  # first gap and 150 ms; 1.5 times the repeat gap: arithmetic [computed]
        (0.25, 40, (400, 38)),
        (1.0, 20, (1150, 75)),
        (0.5, 8, (650, 188)),
        (2.9, 10, (3000, 150)),
        (1.5, 1, (1650, 1000)),
    ],
)
def test_the_guards_follow_from_a_hold(delay, hertz, found):
    hold_ms, repeat_ms = measure(held(delay, hertz, seconds=delay + 6))
    assert (hold_ms, repeat_ms) == (found[0], pytest.approx(found[1], abs=1))
    guard = Guard(Settings(hold_ms=hold_ms, repeat_ms=repeat_ms), lambda: 0.0)
    times = held(delay, hertz, seconds=10)
    if hold_ms < 3000 and repeat_ms < 1000:  # within what can be set
        assert [at for at in times if not guard.refuses("enter", at, "once")] == times[:1]


@pytest.mark.parametrize("times", [[], [1.0], [1.0, 1.5, 1.53, 1.56]])
def test_a_key_that_hardly_repeats_sets_nothing(times):
    assert measure(times).startswith("This keyboard does not repeat")


@pytest.mark.parametrize(
    "times",
    [
        [1.0, 1.5, 1.53, 1.56, 1.59, 1.62, 2.4, 2.43, 2.46],  # let go in the middle
        [1.0, 1.2, 1.45, 1.7, 1.95, 2.2, 2.45],  # tapped
    ],
)
def test_what_was_no_even_hold_sets_nothing(times):
    assert measure(times).startswith("Not a steady hold")


@pytest.fixture
def path(small):
    small.close()
    return small.log.path


async def choose(at, words):
    items = at.app.screen.items
    (index,) = [index for index, item in enumerate(items, 1) if words in item.title]
    await at.press(f"{index:0{len(str(len(items)))}d}")


async def to_keys(at):
    """Go from the bench to the screen, by way of the settings."""
    await at.press("/.")
    await choose(at, "Settings")
    await choose(at, "Test this keyboard")
    assert isinstance(at.app.screen, KeysScreen)


async def hold(at, delay=0.5, hertz=30, seconds=2.1):
    start = at.hands.now + 1
    for moment in held(delay, hertz, seconds, start):
        at.hands.now = moment - 1
        await at.press("E")


@pytest.mark.parametrize("size", SIZES, ids=lambda size: "x".join(map(str, size)))
async def test_a_hold_is_measured_saved_and_used_at_once_and_the_sixteen_keys_marked(path, now, size):
    async with opened(now, path, size, settings=Settings()) as at:
        await to_keys(at)
        assert "Hold Enter down" in at.text
        await hold(at)
        kept = json.loads(paths.settings().read_text(encoding="utf-8"))
        assert (kept["hold_ms"], kept["repeat_ms"]) == (650, 50)
        assert at.app.guard.settings == at.app.settings == settings_.load() == Settings(hold_ms=650, repeat_ms=50)
        assert "Saved" in at.text
        assert "650 ms" in at.text
        assert at.app.screen.arrived == []  # the end of the hold is none of the keys to try
        for key in SIXTEEN.replace("4", ""):
            await at.press(key)
        assert "Not pressed yet: 4" in at.text
        assert "· 4" in at.text
        assert "✓ Enter" in at.text
        await at.press("4")
        assert "All 16 keys get through" in at.text
        assert "Last: 4" in at.text
        await at.press("/")
        assert not isinstance(at.app.screen, KeysScreen)


async def test_a_keyboard_that_does_not_repeat_is_said_to_and_sets_nothing(path, now):
    async with opened(now, path) as at:
        await to_keys(at)
        await at.press("E")
        at.app.screen.finish()
        await at.pilot.pause()
        assert "does not repeat" in at.text
        assert not paths.settings().exists()
        await hold(at)
        assert "Saved" in at.text


async def test_the_keys_can_be_tried_without_measuring_and_the_screen_left_at_any_time(path, now):
    async with opened(now, path) as at:
        await to_keys(at)
        await at.press("/")
        assert not isinstance(at.app.screen, KeysScreen)
        await choose(at, "Test this keyboard")
        await at.press("+")
        assert "Key timing is" in at.text
        await at.press("E")
        assert "✓ Enter" in at.text
        await at.press("E")
        assert not isinstance(at.app.screen, KeysScreen)
        assert not paths.settings().exists()


async def test_what_is_none_of_the_sixteen_is_named_and_num_lock_asked_about(path, now):
    async with opened(now, path) as at:
        await to_keys(at)
        await at.press("+")
        await at.hands.press("home")
        assert "NUM LOCK OFF?" in at.text
        assert "Not one of the 16 keys: home" in at.text
        await at.hands.post("q", "q")
        assert "Not one of the 16 keys: home q" in at.text
        await at.press("7")
        assert "NUM LOCK OFF?" not in at.text


async def test_settings_that_cannot_be_read_are_not_written_over(path, now):
    paths.settings().parent.mkdir(parents=True, exist_ok=True)
    paths.settings().write_text('{"hold": 1}', encoding="utf-8")
    async with opened(now, path, (120, 35)) as at:
        await to_keys(at)
        await hold(at)
        assert "Not saved" in at.text
        assert paths.settings().read_text(encoding="utf-8") == '{"hold": 1}'
