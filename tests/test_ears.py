"""What sounds when, with every time given: bursts, repeats, reminders, floods, the pause, and the flashing mark."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from shopmate.clock import Clock
from shopmate.ears import QUIET, Ears, calls, is_lit, silence

START = datetime(2026, 5, 4, 8, 0, tzinfo=UTC)
TO_ACT = {1: timedelta(minutes=2), 2: timedelta(minutes=20), 3: timedelta(hours=8)}


def at(seconds):
    return START + timedelta(seconds=seconds)


def clock(key="a", priority=1, due=0.0, kind="NOT BEFORE", **more):
    """A clock due so many seconds after START, without a pre-alarm unless it is a DO BEFORE."""
    return Clock(
        key=key, name=key, title=f"Kettle {key}", kind=kind, started_at=at(due) - timedelta(hours=10), due_at=at(due),
        action="Take it off", if_late="It is burnt.", time_to_act=TO_ACT[priority], consequence="It burns", **more,
    )  # fmt: skip


def seen(clock_, seconds):
    return replace(clock_, raised={"due": clock_.due_at}, acknowledged={"due": at(seconds)})


def bursts(ears, clocks, seconds):
    """The bursts of a look each second: (second, priority). `clocks` is a list, or a function of the second."""
    found = []
    for second in seconds:
        burst = ears.listen(clocks(second) if callable(clocks) else clocks, at(second))
        if burst is not None:
            found.append((second, burst.priority))
    return found


# One alarm


@pytest.mark.parametrize(("priority", "every"), [(1, 10), (2, 30)])
def test_an_alarm_sounds_when_it_is_due_and_again_until_it_is_seen(priority, every):
    ears, kettle = Ears(), clock(priority=priority)
    heard = bursts(ears, lambda second: [seen(kettle, 95) if second >= 95 else kettle], range(-60, 120))
    assert heard == [(second, priority) for second in range(0, 95, every)]


def test_what_can_be_done_later_sounds_once():
    assert bursts(Ears(), [clock(priority=3)], range(-10, 4 * 3600)) == [(0, 3)]


def test_only_the_first_burst_of_an_alarm_is_new():
    ears, kettle = Ears(), clock()
    first, again = ears.listen([kettle], at(0)), ears.listen([kettle], at(10))
    assert (first.is_new, again.is_new) == (True, False)
    assert first.words.startswith("NOW · Kettle a 0:00 · Take it off")


def test_an_alarm_taken_back_from_seen_sounds_anew():
    ears, kettle = Ears(), clock(priority=3)
    assert bursts(ears, lambda second: [seen(kettle, 5) if 5 <= second < 60 else kettle], range(100)) == [(0, 3), (60, 3)]


def test_an_alarm_back_from_being_put_off_sounds_anew():
    ears = Ears()
    late = clock(priority=3)
    shelved = replace(late, shelved=1, shelved_until=at(120))
    assert bursts(ears, lambda second: [late if second < 60 else shelved], range(200)) == [(0, 3), (120, 3)]


def test_a_wall_clock_set_back_silences_nothing():
    ears, kettle = Ears(), clock()
    assert ears.listen([kettle], at(3600)) is not None
    assert ears.listen([kettle], at(60)) is not None


def test_a_wall_clock_that_is_set_moves_what_was_sounded_with_it():
    ears, kettle = Ears(), clock()
    assert ears.listen([kettle], at(0)) is not None
    ears.pause([kettle], at(1))
    ears.shift(timedelta(hours=1))
    moved = replace(kettle, due_at=at(3600))
    assert ears.quiet_for(at(3601)) == QUIET
    assert bursts(ears, [moved], range(3601, 3740)) == [(3721, 1), (3731, 1)]


def test_a_burst_before_the_wall_clock_was_set_is_as_long_ago_as_it_was():
    ears, kettle = Ears(), clock()
    assert ears.listen([kettle], at(0)) is not None
    ears.shift(timedelta(hours=1))
    assert bursts(ears, [replace(kettle, due_at=at(3600))], range(3601, 3625)) == [(3610, 1), (3620, 1)]


def test_a_more_urgent_alarm_interrupts_after_the_wall_clock_was_set_too():
    ears, kettle = Ears(), clock("a", 2)
    assert ears.listen([kettle], at(0)) is not None
    ears.shift(timedelta(hours=1))
    later = [replace(kettle, due_at=at(3600)), clock("b", 1, due=3605), clock("c", 3, due=3603)]
    assert bursts(ears, later, range(3601, 3607)) == [(3605, 1)]


def test_a_wall_clock_that_is_set_before_anything_sounded_changes_nothing():
    ears = Ears()
    ears.shift(timedelta(hours=1))
    assert bursts(ears, [clock()], range(-5, 15)) == [(0, 1), (10, 1)]
    assert ears.quiet_for(at(0)) == timedelta(0)


def test_two_looks_at_one_instant_sound_once():
    assert bursts(Ears(), [clock()], [0, 0]) == [(0, 1)]


# Reminders of what was seen and is not done


@pytest.mark.parametrize(("priority", "minutes"), [(1, [5, 10, 15, 20, 25, 30]), (2, [15, 30]), (3, [])])
def test_what_was_seen_and_is_not_done_is_reminded_of(priority, minutes):
    heard = bursts(Ears(), [seen(clock(priority=priority), 0)], range(30 * 60 + 1))
    assert heard == [(60 * minute, priority) for minute in minutes]


def test_what_is_done_is_not_reminded_of():
    done = replace(seen(clock(), 0), ended_at=at(100))
    assert bursts(Ears(), [done], range(100, 4000)) == []


def test_a_reminder_that_fell_into_a_sleep_of_the_computer_sounds_after_it():
    ears, kettle = Ears(), seen(clock(), 0)
    assert bursts(ears, [kettle], [200]) == []
    assert bursts(ears, [kettle], [500, 501, 502]) == [(500, 1)]


def test_a_call_says_whether_it_is_a_reminder():
    waiting, reminded = clock("a", due=300), seen(clock("b"), 0)
    assert {sign.key: sign.reminds for sign in calls([waiting, reminded], at(300))} == {"a": False, "b": True}


# Many alarms


def test_eight_alarms_in_a_second_make_one_burst_that_of_the_most_urgent():
    flood = [clock(str(number), priority=3 - number % 2, due=number / 8) for number in range(8)]
    ears = Ears()
    burst = ears.listen(flood, at(1))
    assert (burst.priority, burst.words.split(":")[0]) == (2, "8 alarms")
    assert bursts(ears, flood, range(2, 31)) == []


def test_two_alarms_are_counted_and_the_first_due_of_the_most_urgent_is_named():
    assert (
        Ears()
        .listen([clock("a", 3, due=-9), clock("b", 2), clock("c", 2, due=-5)], at(0))
        .words.startswith("3 alarms: SOON · Kettle c")
    )
    assert Ears().listen([clock("a", 2), clock("b", 2, due=1)], at(1)).words.startswith("2 alarms: SOON · Kettle a")
    assert Ears().listen([clock("a", 2), clock("b", 2, due=1)], at(0)).words.startswith("SOON · Kettle a")


def test_alarms_within_30_seconds_are_told_by_one_burst():
    heard = bursts(Ears(), [clock("a", 3), clock("b", 3, due=10), clock("c", 3, due=29)], range(200))
    assert heard == [(0, 3), (30, 3)]  # those that came after the burst are told together, once
    assert bursts(Ears(), [clock("a", 2), clock("b", 3, due=10)], range(61)) == [(0, 2), (30, 2), (60, 2)]


def test_a_more_urgent_alarm_interrupts_at_once_and_a_less_urgent_one_does_not():
    assert bursts(Ears(), [clock("a", 2), clock("b", 1, due=1)], range(12)) == [(0, 2), (1, 1), (11, 1)]
    assert bursts(Ears(), [clock("a", 1), clock("b", 2, due=1)], range(12)) == [(0, 1), (10, 1)]


# The pause


def test_a_pause_lasts_two_minutes_and_says_how_long_it_still_does():
    ears, kettle = Ears(), clock()
    assert bursts(ears, [kettle], range(5)) == [(0, 1)]
    ears.pause([kettle], at(5))
    assert timedelta(minutes=2) == QUIET == ears.quiet_for(at(5))
    assert ears.quiet_for(at(42)) == timedelta(seconds=83)
    assert bursts(ears, [kettle], range(5, 140)) == [(125, 1), (135, 1)]
    assert ears.quiet_for(at(125)) == timedelta(0)


def test_a_wall_clock_set_back_makes_no_pause_longer():
    ears = Ears()
    ears.pause([clock()], at(3600))
    assert ears.quiet_for(at(0)) == QUIET


def test_a_new_alarm_ends_the_pause():
    ears, kettle = Ears(), clock()
    ears.pause([kettle], at(5))
    assert bursts(ears, [kettle, clock("b", 3, due=60)], range(6, 75)) == [(60, 1), (70, 1)]
    assert ears.quiet_for(at(61)) == timedelta(0)


# The mark


def rises(priority, seconds):
    """When the mark goes from dark to lit, looked at a hundred times a second."""
    steps = [is_lit(priority, timedelta(milliseconds=10 * step)) for step in range(100 * seconds)]
    return [step / 100 for step in range(1, len(steps)) if steps[step] and not steps[step - 1]], sum(steps) / len(steps)


@pytest.mark.parametrize(("priority", "low", "high"), [(1, 1.5, 2.0), (2, 0.4, 0.8)])
def test_the_mark_flashes_half_of_the_time_and_never_more_than_three_times_in_a_second(priority, low, high):
    at_, lit = rises(priority, 60)
    assert low <= len(at_) / 60 <= high
    assert lit == pytest.approx(0.5, abs=0.02)
    assert max(sum(first <= other < first + 1 for other in at_) for first in at_) <= 3


def test_the_mark_is_lit_as_it_begins_to_flash():
    assert [is_lit(2, timedelta(seconds=second)) for second in range(4)] == [True, False, True, False]


def test_what_is_not_urgent_does_not_flash():
    assert rises(3, 10) == ([], 1.0)


# Never two channels silent without saying so


@pytest.mark.parametrize(
    ("heard", "command", "fault", "says"),
    [
        (True, (), "", ""),
        (True, ("beep",), "beep was not found", ""),
        (False, (), "", "NO SOUND: watch the screen"),
        (False, ("beep",), "", "NO BELL: only the alarm command sounds"),
        (False, ("beep",), "beep was not found", "NO SOUND: watch the screen"),
    ],
)
def test_a_silent_bell_is_said_with_what_rings_instead(heard, command, fault, says):
    words = silence(heard, command, fault)
    assert words.startswith(says)
    assert bool(words) == bool(says)
