"""One press, one acceptance: keys held, bouncing, or meant for the screen before, on a clock of the test."""

from datetime import timedelta
from itertools import accumulate

import pytest
from conftest import reach
from tui_bench import opened
from tui_stage import key

from shopmate.session import WaitView
from shopmate.session.demo import follow
from shopmate.settings import Settings
from shopmate.tui.guard import HELD, WAIT_ALARM, WAIT_SCREEN, Guard, measure
from shopmate.tui.screens.value import ValueScreen


class Clock:
    def __init__(self):
        self.at = 100.0

    def __call__(self):
        return self.at


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def guard(clock):
    return Guard(Settings(), clock)


def held(delay, hertz, seconds=2.0, start=100.0):
    """The times at which a key arrives that is held so long."""
    return [start, *(start + delay + count / hertz for count in range(round((seconds - delay) * hertz) + 1))]


def taken(guard, times, key="enter", pace="once"):
    return [at for at in times if not guard.refuses(key, at, pace)]


# A held key


@pytest.mark.parametrize("key", ["enter", "asterisk", "minus", "1", "slash"])
@pytest.mark.parametrize("delay", [0.25, 0.5, 0.66])
@pytest.mark.parametrize("hertz", [25, 30, 40])
def test_a_key_held_is_taken_once(guard, key, delay, hertz):
    times = held(delay, hertz, seconds=30)
    assert taken(guard, times, key) == times[:1]


def test_pressed_waited_half_a_second_then_repeats_for_two_are_one_advance(guard):
    assert len(taken(guard, [100.0, *(100.5 + count / 30 for count in range(61))])) == 1


@pytest.mark.parametrize(("delay", "hertz", "by_default", "measured"), [(1.0, 30, 2, (1150, 50)), (0.5, 8, 4, (650, 188))])
def test_a_slow_keyboard_needs_its_own_figures(clock, delay, hertz, by_default, measured):
    """The counts by default: the same rule simulated apart from this code [measured]."""
    times = held(delay, hertz, seconds=delay + 2)
    assert len(taken(Guard(Settings(), clock), times)) == by_default
    hold_ms, repeat_ms = measured
    assert len(taken(Guard(Settings(hold_ms=hold_ms, repeat_ms=repeat_ms), clock), times)) == 1


@pytest.mark.parametrize(("gap", "times"), [(0.69, 1), (0.71, 2)])
def test_pressed_again_it_is_taken_after_the_hold_time(guard, gap, times):
    assert len(taken(guard, [100.0, 100.0 + gap])) == times


@pytest.mark.parametrize(("gap", "times"), [(0.119, 1), (0.121, 2)])
def test_repeats_hold_off_for_as_long_as_they_come(guard, gap, times):
    repeats = [100.0 + 0.1 * count for count in range(31)]
    assert len(taken(guard, [*repeats, repeats[-1] + gap])) == times


def test_exactly_at_the_hold_time_and_at_the_repeat_gap_a_key_is_taken(clock):
    """Eighths of a second, which a float holds exactly."""
    exact = Guard(Settings(hold_ms=750, repeat_ms=125), clock)
    assert taken(exact, [100.0, 100.75]) == [100.0, 100.75]
    assert taken(exact, [200.0, 200.625, 200.75]) == [200.0, 200.75]


def test_what_is_not_taken_is_said_to_be_held(guard):
    assert guard.refuses("enter", 100.0, "once") == ""
    assert guard.refuses("enter", 100.5, "once") == HELD


def test_keys_do_not_hold_one_another(guard):
    assert [guard.refuses(key, 100.0, "once") for key in ("enter", "minus", "asterisk")] == ["", "", ""]


def test_all_off_takes_everything(clock):
    off = Guard(Settings(hold_ms=0, repeat_ms=0, settle_ms=0), clock)
    off.change()
    off.alarm()
    assert len(taken(off, [50.0, 100.0, 100.0, 100.001])) == 4


def test_what_is_typed_comes_as_fast_as_it_comes(guard):
    assert len(taken(guard, [100.0, 100.1, 100.2], "5", "typed")) == 3


def test_what_only_turns_or_erases_may_be_pressed_again_at_once_but_not_held(guard):
    assert len(taken(guard, [100.0, 100.2, 100.4], "plus", "again")) == 3
    assert len(taken(guard, held(0.5, 30, start=110.0), "plus", "again")) == 2


# What changes under the hand


@pytest.mark.parametrize("event", ["change", "alarm"])
@pytest.mark.parametrize("key", ["enter", "asterisk", "minus", "1"])
def test_nothing_acts_for_half_a_second_after_a_change(guard, clock, event, key):
    getattr(guard, event)()
    why = WAIT_SCREEN if event == "change" else WAIT_ALARM
    assert guard.refuses(key, 99.9, "once") == why  # pressed before, delivered after
    assert guard.refuses(key, 100.2, "once") == why
    assert guard.refuses(key, 100.499, "once") == why
    assert guard.refuses(key, 100.7, "once") == ""


@pytest.mark.parametrize("event", ["change", "alarm"])
def test_half_a_second_after_a_change_a_key_acts(guard, event):
    getattr(guard, event)()
    assert guard.refuses("enter", 100.5, "once") == ""


def test_an_alarm_takes_no_digit_from_a_number_but_a_new_screen_does(guard, clock):
    guard.alarm()
    assert guard.refuses("5", 100.2, "typed") == ""
    guard.change()
    assert guard.refuses("6", 100.2, "typed") == WAIT_SCREEN


@pytest.mark.parametrize("pace", ["once", "typed"])
def test_a_key_still_held_is_not_taken_in_the_place_it_has_led_to(guard, clock, pace):
    times = held(0.6, 30, seconds=4)
    assert taken(guard, times[:1], "1") == times[:1]
    guard.change()
    assert taken(guard, times[1:], "1", pace) == []
    assert guard.refuses("1", 105.0, pace) == ""


def test_a_digit_held_since_the_step_before_types_nothing_more_once_it_repeats(guard):
    assert guard.refuses("1", 100.0, "once") == ""
    guard.move()
    assert guard.refuses("1", 100.03, "typed") == HELD
    assert guard.refuses("2", 100.04, "typed") == ""


@pytest.mark.parametrize("hold_ms", [700, 0])
def test_a_digit_held_while_the_screen_changes_types_nothing_on_the_new_one(clock, hold_ms):
    guard = Guard(Settings(hold_ms=hold_ms, settle_ms=0), clock)
    times = held(0.5, 30, seconds=2)
    assert taken(guard, times[:20], "1", "typed") == times[:20]
    clock.at = times[20]
    guard.change()
    assert taken(guard, times[20:], "1", "typed") == []


def test_a_digit_pressed_too_soon_types_nothing_however_long_it_is_held(guard):
    guard.change()
    assert taken(guard, held(0.25, 30, seconds=3, start=100.1), "5", "typed") == []


def test_a_digit_let_go_and_pressed_again_types_as_fast_as_fingers_do(guard):
    assert guard.refuses("1", 100.0, "once") == ""
    guard.move()
    assert guard.refuses("1", 100.05, "typed") == HELD
    assert taken(guard, [101.0, 101.1, 101.2], "1", "typed") == [101.0, 101.1, 101.2]


# What a hold of Enter says of the keyboard: sixteenths of a second, which a float holds exactly


def arrivals(*gaps):
    return list(accumulate(gaps, initial=100.0))


def test_four_repeats_are_enough_and_three_are_not():
    assert measure(arrivals(0.5, *[0.0625] * 4)) == (650, 94)  # 0.5 s and 150 ms; 1.5 x 62.5 ms [computed]
    assert measure(arrivals(0.5, *[0.0625] * 3)).startswith("This keyboard does not repeat")


def test_a_gap_three_times_the_usual_one_is_a_repeat_and_a_longer_one_is_not():
    assert measure(arrivals(0.5, *[0.0625] * 4, 0.1875)) == (650, 281)  # 1.5 x 187.5 ms = 281.25 [computed]
    assert measure(arrivals(0.5, *[0.0625] * 4, 0.203125)).startswith("Not a steady hold")


def test_repeats_as_far_apart_as_the_first_gap_are_a_hold_and_slower_ones_are_not():
    assert measure(arrivals(0.25, *[0.25] * 4)) == (400, 375)
    assert measure(arrivals(0.25, *[0.28125] * 4)).startswith("Not a steady hold")


# In the program, with the figures as they come


@pytest.fixture
def path(small, now):
    now.at = follow(small, now(), {}, until=lambda view: view.headline == "Stir two full minutes")
    small.start_clock("Glue tin open", "DO BEFORE", timedelta(minutes=30), now())
    small.close()
    return small.log.path


def guarded(now, path, **more):
    return opened(now, path, settings=Settings(), **more)


def events(at):
    return [event.kind for event in at.session.log.events()]


async def hold(at, name, delay=0.5, hertz=30, seconds=2.0):
    """Hold a key of the keypad."""
    start = at.hands.now + 1
    for moment in held(delay, hertz, seconds, start):
        at.hands.now = moment - 1
        await at.press(name)


@pytest.mark.parametrize("delay", [0.25, 0.5])
async def test_enter_held_on_the_bench_is_one_step(path, now, delay):
    async with guarded(now, path) as at:
        before, count = at.view.headline, len(events(at))
        await hold(at, "E", delay)
        assert at.view.headline != before
        assert len(events(at)) == count + 1
        assert at.said.startswith("DONE")
        assert "Enter: still held" in at.said


async def test_back_held_on_the_bench_is_one_step_back(path, now):
    async with guarded(now, path) as at:
        count = len(events(at))
        await hold(at, "-")
        assert events(at)[count:] == []
        at.hands.now += 1
        await at.press("E")
        assert events(at)[count:] == ["undone"]
        assert at.said.startswith("UNDONE")


async def test_the_step_that_enter_brings_can_be_done_after_the_hold_time_without_settling(path, now):
    async with guarded(now, path) as at:
        count = len(events(at))
        await at.press("E")
        at.hands.now += 0.75 - 1
        await at.press("E")
        assert len(events(at)) == count + 2


async def test_nothing_acts_within_half_a_second_of_an_alarm(path, now):
    async with guarded(now, path) as at:
        before = at.view.headline
        await at.tick(minutes=30)
        assert "NOW · Glue tin open" in at.text
        count = len(events(at))
        at.hands.now += 0.2 - 1
        for name in ("E", "*", "-"):
            await at.press(name)
            at.hands.now -= 1
            assert at.said.endswith("wait: new alarm")
        assert (at.view.headline, len(events(at))) == (before, count)
        at.hands.now += 0.5
        await at.press("*")
        assert events(at)[count:] == ["acknowledged"]


async def test_a_number_being_typed_loses_no_digit_to_an_alarm(small, now):
    reach(small, now, "Give the length")
    small.start_clock("Glue tin open", "DO BEFORE", timedelta(minutes=30), now())
    small.close()
    async with guarded(now, small.log.path) as at:
        await at.press("8")
        await at.tick(minutes=30)
        count = len(events(at))
        at.hands.now += 0.1 - 1
        await at.press("6")
        at.hands.now += 0.1 - 1
        await at.press("5")
        assert at.entry.text == "865"
        at.hands.now += 0.1 - 1
        await at.press("E")
        assert (at.entry.text, len(events(at))) == ("865", count)
        assert at.said == "Enter: wait: new alarm"


async def test_a_key_meant_for_the_bench_does_nothing_on_the_screen_that_came_up(path, now):
    async with guarded(now, path) as at:
        await at.press("+")
        screen = at.app.screen
        assert screen is not at.app.bench
        at.hands.now += 0.2 - 1
        await at.press("0")
        assert at.app.screen is screen
        assert at.said == "0: wait: new screen"
        await at.press("0")
        assert isinstance(at.app.screen, ValueScreen)


async def test_a_key_held_opens_a_screen_and_does_not_close_it_again(path, now):
    async with guarded(now, path) as at:
        await hold(at, "+")
        assert at.app.screen is not at.app.bench


async def test_keys_that_were_queued_for_a_screen_do_nothing_once_it_is_gone(path, now):
    async with opened(now, path) as at:
        await at.press("/.")
        work = at.app.screen
        count = len(events(at))
        for name in ("slash", "1"):
            at.hands.now += 1
            work.post_message(key(name, at=at.hands.now))
        await at.pilot.pause()
        assert at.app.screen is at.app.bench
        assert len(events(at)) == count


async def test_the_bench_that_changes_by_itself_settles_first(small, now):
    now.at = follow(small, now(), {}, until=lambda view: isinstance(view, WaitView))
    small.close()
    async with guarded(now, small.log.path) as at:
        assert at.view.go is False
        while not at.view.go:
            await at.tick(minutes=10)
        count = len(events(at))
        at.hands.now += 0.2 - 1
        await at.press("E")
        assert at.said == "Enter: wait: new screen"
        assert len(events(at)) == count
        await at.press("E")
        assert len(events(at)) == count + 1
