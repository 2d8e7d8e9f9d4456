"""The three actions that ask first: another key confirms, not too soon and not too late, and the question times out."""

from functools import partial

import pytest
from tui_bench import opened

from shopmate.settings import Settings
from shopmate.tui.screens.confirm import MOST_SECONDS, ConfirmScreen

WINDOW = Settings(hold_ms=700, repeat_ms=0, settle_ms=0)


@pytest.fixture
def begun(begun):
    """As everywhere, with air that is too cold to pass."""
    return partial(begun, answers={"Read the air": "12 °C"})


def ended(at):
    return not at.session.clocks


def passed(at):
    return at.view.headline != "Pass the air"


def given_up(at):
    return at.session.run.given_up


THREE = pytest.mark.parametrize(
    ("headline", "keys", "did"),
    [("Spread the pot", "+1", ended), ("Pass the air", "03", passed), ("Spread the pot", "/.85", given_up)],
    ids=["a DO BEFORE clock", "a hold point", "a run"],
)


async def asked(at, keys):
    for key in keys:
        at.hands.now += 5
        await at.press(key)
    assert isinstance(at.app.screen, ConfirmScreen), at.text


async def enter_after(at, seconds):
    at.hands.now += seconds - 1
    await at.press("E")


@THREE
async def test_another_key_confirms_within_its_time(begun, now, headline, keys, did):
    async with opened(now, begun(headline), settings=WINDOW) as at:
        await asked(at, keys)
        events = len(at.session.log.events())
        await at.press(keys[-1])
        assert len(at.session.log.events()) == events  # the key that asked says nothing
        await enter_after(at, 2)
        await at.pilot.pause()
        assert did(at)


@THREE
async def test_a_press_too_soon_is_none_and_the_question_stands(begun, now, headline, keys, did):
    async with opened(now, begun(headline), settings=WINDOW) as at:
        await asked(at, keys)
        await enter_after(at, 0.6)
        assert (at.said, did(at)) == ("too soon: press again", False)
        assert isinstance(at.app.screen, ConfirmScreen)
        await enter_after(at, 0.8)
        await at.pilot.pause()
        assert did(at)


@THREE
async def test_after_its_time_the_question_goes_away_by_itself(begun, now, headline, keys, did):
    async with opened(now, begun(headline), settings=WINDOW) as at:
        await asked(at, keys)
        at.hands.now += MOST_SECONDS - 0.1
        await at.tick()
        assert isinstance(at.app.screen, ConfirmScreen)
        at.hands.now += 0.2
        await at.tick()
        assert not isinstance(at.app.screen, ConfirmScreen)
        assert not did(at)


@THREE
async def test_a_press_after_its_time_confirms_nothing(begun, now, headline, keys, did):
    async with opened(now, begun(headline), settings=WINDOW) as at:
        await asked(at, keys)
        await enter_after(at, MOST_SECONDS + 0.1)
        await at.pilot.pause()
        assert not isinstance(at.app.screen, ConfirmScreen)
        assert not did(at)


@THREE
async def test_minus_keeps_things_as_they_are(begun, now, headline, keys, did):
    async with opened(now, begun(headline), settings=WINDOW) as at:
        await asked(at, keys)
        await at.press("-")
        assert not isinstance(at.app.screen, ConfirmScreen)
        assert not did(at)


async def test_nothing_else_is_asked_about_and_a_clock_that_holds_nothing_ends_at_once(begun, now):
    async with opened(now, begun("Wait for the clamps"), settings=WINDOW) as at:
        (clamp,) = at.session.clocks
        await at.press("+1")
        assert isinstance(at.app.screen, ConfirmScreen)  # it holds a hold point shut
        await at.press("-")
        await at.tick(hours=30)
        at.hands.now += 5
        await at.press("1")
        assert (at.said, at.session.clocks) == (f"ENDED {clamp.title}", [])


async def test_a_run_on_the_bench_is_gone_on_with_or_given_up_from_the_work_list(begun, now):
    async with opened(now, begun("Spread the pot")) as at:
        await at.press("/.81")
        assert at.app.screen is at.app.bench
        assert not given_up(at)
        await at.press("/.85E")
        await at.pilot.pause()
        assert at.view.headline == "Run given up"
        assert ("enter", "other work") in at.shown
        assert [clock.title for clock in at.session.clocks] == ["Pot life"]
        at.hands.now += 1
        await at.press("-E")
        assert at.view.headline == "Spread the pot"
