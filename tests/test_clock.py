"""Clocks: their states over time, when they warn, which one rules, and the words for them."""

import calendar
import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopmate.clock import (
    PRIORITIES,
    Clock,
    ClockKind,
    Stage,
    State,
    alarms,
    first_up,
    free_slot,
    governing,
    in_sight,
    is_back,
    may_shelve,
    moved,
    reminders,
    reminds,
    stage,
    state,
)
from shopmate.times import ago, alarm_text, crowd, day_of_month, duration, face, in_words, line, span, wall, weekday

START = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)


def minutes(number: float) -> timedelta:
    return timedelta(minutes=number)


def make(
    kind: ClockKind = "DO BEFORE",
    length: timedelta = timedelta(minutes=40),
    *,
    key: str = "1",
    to_act: timedelta = timedelta(minutes=2),
) -> Clock:
    """Return a made-up clock."""
    return Clock(
        key=key,
        name="pot_life",
        title="Pot life",
        kind=kind,
        started_at=START,
        due_at=START + length,
        action="Spread the pot now",
        if_late="Do not use it. Set the pot outside.",
        time_to_act=to_act,
        consequence="The pot sets in the cup.",
    )


@pytest.fixture
def utc(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Make local time UTC, so that wall-clock times are known."""
    monkeypatch.setenv("TZ", "UTC0")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


# States

DO_BEFORE = make("DO BEFORE")
"""40 min, so that it warns 8 min before."""
NOT_BEFORE = make("NOT BEFORE")
PRE_SEEN = replace(DO_BEFORE, raised={"pre": START + minutes(32)}, acknowledged={"pre": START + minutes(33)})
DUE_SEEN = replace(DO_BEFORE, acknowledged={"pre": START + minutes(33), "due": START + minutes(41)})
MISSED = replace(DO_BEFORE, raised={"missed": START + minutes(90)})
MISSED_SEEN = replace(MISSED, acknowledged={"missed": START + minutes(91)})
ENDED = replace(DO_BEFORE, ended_at=START + minutes(30))
SHELVED = replace(DO_BEFORE, shelved_until=START + minutes(37))
SHELVED_PAST_DUE = replace(DO_BEFORE, shelved_until=START + minutes(50))
OPENING_SHELVED = replace(NOT_BEFORE, shelved_until=START + minutes(50))


@pytest.mark.parametrize(
    ("clock", "at", "expected"),
    [
        (DO_BEFORE, 0, State.ARMED),
        (DO_BEFORE, 31.99, State.ARMED),
        (DO_BEFORE, 32, State.PRE_ALARM),
        (DO_BEFORE, 39.99, State.PRE_ALARM),
        (DO_BEFORE, 40, State.DUE),
        (DO_BEFORE, 40_000, State.DUE),
        (NOT_BEFORE, 0, State.ARMED),
        (NOT_BEFORE, 39.99, State.ARMED),
        (NOT_BEFORE, 40, State.DUE),
        (PRE_SEEN, 34, State.ARMED),
        (PRE_SEEN, 40, State.DUE),
        (DUE_SEEN, 42, State.DUE_ACKNOWLEDGED),
        (DUE_SEEN, 40_000, State.DUE_ACKNOWLEDGED),
        (MISSED, 90, State.MISSED),
        (MISSED_SEEN, 92, State.DUE_ACKNOWLEDGED),
        (ENDED, 31, State.DONE),
        (ENDED, 40_000, State.DONE),
        (SHELVED, 31, State.ARMED),
        (SHELVED, 36, State.SHELVED),
        (SHELVED, 37, State.PRE_ALARM),
        (SHELVED_PAST_DUE, 39.99, State.SHELVED),
        (SHELVED_PAST_DUE, 40, State.DUE),
        (OPENING_SHELVED, 49, State.SHELVED),
        (OPENING_SHELVED, 50, State.DUE),
    ],
)
def test_how_a_clock_stands_at_a_minute(clock: Clock, at: float, expected: State) -> None:
    assert state(clock, START + minutes(at)) is expected


def test_each_state_has_a_word_and_a_shape_of_its_own() -> None:
    assert len({each.word for each in State}) == len({each.shape for each in State}) == len(State)


@pytest.mark.parametrize(
    ("clock", "at", "expected"),
    [
        (DO_BEFORE, 31, None),
        (DO_BEFORE, 32, "pre"),
        (DO_BEFORE, 40, "due"),
        (NOT_BEFORE, 39, None),
        (NOT_BEFORE, 40, "due"),
        (MISSED, 95, "missed"),
        (ENDED, 95, None),
    ],
)
def test_which_alarm_the_time_calls_for(clock: Clock, at: float, expected: Stage | None) -> None:
    assert stage(clock, START + minutes(at)) == expected


# The lead of the pre-alarm: the larger of 2 min and a fifth of the time, never in the first half


@pytest.mark.parametrize(
    ("length", "lead"),
    [
        (2, 1),  # 2 min would be the whole of it: half
        (4, 2),
        (5, 2),  # a fifth is 1 min
        (10, 2),
        (15, 3),
        (40, 8),
        (24 * 60, 288),
    ],
)
def test_the_lead_of_the_pre_alarm(length: float, lead: float) -> None:
    assert make(length=minutes(length)).warns_at == START + minutes(length) - minutes(lead)


@given(st.timedeltas(min_value=timedelta(0), max_value=timedelta(days=30)))
def test_the_pre_alarm_never_comes_in_the_first_half_nor_later_than_it_must(length: timedelta) -> None:
    clock = make(length=length)
    assert clock.warns_at is not None
    lead = clock.due_at - clock.warns_at
    assert lead <= length / 2
    assert lead == length / 2 or lead >= max(minutes(2), length / 5)


def test_a_not_before_clock_gives_no_pre_alarm() -> None:
    assert NOT_BEFORE.warns_at is None


# Priorities and lateness


@pytest.mark.parametrize(("to_act", "priority"), [(0, 1), (2, 1), (2.01, 2), (30, 2), (30.01, 3), (24 * 60, 3)])
def test_priority_by_the_time_left_to_act(to_act: float, priority: int) -> None:
    assert make(to_act=minutes(to_act)).priority == priority


@pytest.mark.parametrize(
    ("kind", "ended", "late"),
    [
        ("DO BEFORE", None, None),
        ("DO BEFORE", 39, None),
        ("DO BEFORE", 40, None),
        ("DO BEFORE", 43.5, minutes(3.5)),
        ("NOT BEFORE", 60, None),
    ],
)
def test_how_late_a_clock_was_ended(kind: ClockKind, ended: float | None, late: timedelta | None) -> None:
    clock = replace(make(kind), ended_at=START + minutes(ended) if ended is not None else None)
    assert clock.late == late


@pytest.mark.parametrize(("priority", "bells", "gap", "every"), [(1, 5, 0.4, 10), (2, 3, 0.6, 30), (3, 1, 0, None)])
def test_the_rhythm_of_a_priority(priority: int, bells: int, gap: float, every: float | None) -> None:
    sound = PRIORITIES[priority].rhythm
    assert (sound.bells, sound.gap) == (bells, timedelta(seconds=gap))
    assert sound.every == (timedelta(seconds=every) if every is not None else None)


# Several clocks


def test_alarms_come_by_priority_then_by_due_time() -> None:
    later = make(key="later", to_act=minutes(60), length=minutes(5))
    soon_b = make(key="soon b", to_act=minutes(20), length=minutes(9))
    soon_a = make(key="soon a", to_act=minutes(20), length=minutes(7))
    now_ = make(key="now", to_act=minutes(1), length=minutes(10))
    waiting = alarms([later, soon_b, soon_a, now_], START + minutes(10))
    assert [clock.key for clock in waiting] == ["now", "soon a", "soon b", "later"]


def test_alarms_hold_neither_what_is_seen_nor_shelved_nor_ended_nor_only_running() -> None:
    clocks = [DO_BEFORE, NOT_BEFORE, PRE_SEEN, DUE_SEEN, ENDED, SHELVED]
    assert alarms(clocks, START + minutes(34)) == [DO_BEFORE]


def test_eight_alarms_in_one_second_are_all_there() -> None:
    clocks = [make(key=str(number), length=minutes(40) + timedelta(milliseconds=100 * number)) for number in range(8)]
    assert [clock.key for clock in alarms(reversed(clocks), START + minutes(41))] == [str(number) for number in range(8)]


def test_the_next_do_before_clock_governs_then_the_next_not_before() -> None:
    pot, open_time = make(key="pot", length=minutes(30)), make(key="open", length=minutes(20))
    clamp, cure = make("NOT BEFORE", minutes(5), key="clamp"), make("NOT BEFORE", minutes(50), key="cure")
    now = START + minutes(10)
    assert governing([clamp, pot, cure, open_time], now) == open_time
    assert governing([cure, clamp, replace(pot, ended_at=now)], now) == clamp
    assert governing([replace(pot, ended_at=now)], now) is None
    assert governing([], now) is None


# Words and figures


@pytest.mark.parametrize(
    ("at", "shown"),
    [
        (minutes(0), "40:00"),
        (timedelta(seconds=0.1), "40:00"),  # a part of a second left is shown as a whole one
        (timedelta(seconds=1), "39:59"),
        (minutes(39) + timedelta(seconds=59.5), "0:01"),
        (minutes(40), "0:00"),
        (minutes(40) + timedelta(seconds=0.5), "+0:00"),
        (minutes(41), "+1:00"),
        (minutes(40 + 125), "+2h05"),
    ],
)
def test_the_face_counts_down_and_then_up_with_a_plus_sign(at: timedelta, shown: str) -> None:
    assert face(DO_BEFORE, START + at) == shown


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [
        (0, "0:00"),
        (59.9, "0:59"),
        (60, "1:00"),
        (847, "14:07"),
        (5999, "99:59"),
        (6000, "1h40"),
        (7500, "2h05"),
        (100 * 3600 - 1, "99h59"),
        (100 * 3600, "4d04h"),
        (7 * 86400, "7d00h"),
    ],
)
def test_a_span_in_the_unit_that_fits(seconds: float, shown: str) -> None:
    assert span(timedelta(seconds=seconds)) == shown


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "0 s"),
        (99.4, "99 s"),
        (99.6, "2 min"),
        (100, "2 min"),
        (60 * 99.4, "99 min"),
        (60 * 100, "1 h 40 min"),
        (60 * 125, "2 h 05 min"),
        (60 * (48 * 60 - 1), "47 h 59 min"),
        (3600 * 48, "2 days 0 h"),
        (3600 * (7 * 24 + 5), "7 days 5 h"),
    ],
)
def test_a_duration_is_said_in_its_two_largest_units(seconds: float, words: str) -> None:
    assert duration(timedelta(seconds=seconds)) == words


@pytest.mark.parametrize(
    ("seconds", "words"),
    [
        (0, "0 s"),
        (0.9, "0 s"),
        (7, "7 s"),
        (60, "1 min"),
        (14 * 60 + 7, "14 min 7 s"),
        (-(14 * 60 + 7), "14 min 7 s"),
        (3599, "59 min 59 s"),
        (3600, "1 h"),
        (2 * 3600 + 5 * 60 + 59, "2 h 5 min"),
        (48 * 3600 - 1, "47 h 59 min"),
        (48 * 3600, "2 d"),
        (76 * 3600, "3 d 4 h"),
    ],
)
def test_a_length_of_time_to_be_heard_leaves_out_what_is_nought(seconds: float, words: str) -> None:
    assert in_words(timedelta(seconds=seconds)) == words


@pytest.mark.parametrize(
    ("passed", "shown"),
    [
        (timedelta(seconds=-5), "just now"),
        (timedelta(seconds=59), "just now"),
        (minutes(1), "1 min ago"),
        (minutes(99.9), "99 min ago"),
        (minutes(100), "1 h ago"),
        (timedelta(hours=47, minutes=59), "47 h ago"),
        (timedelta(hours=48), "2 days ago"),
    ],
)
def test_how_long_ago(passed: timedelta, shown: str) -> None:
    assert ago(START, START + passed) == shown


@pytest.mark.usefixtures("utc")
def test_the_wall_time_names_the_day_only_when_it_is_another() -> None:
    assert wall(START, START + timedelta(hours=9, minutes=59)) == "14:00"
    assert wall(START, START + timedelta(hours=10)) == "Wed 25 Nov 14:00"


@pytest.mark.usefixtures("utc")
def test_days_and_months_have_the_names_of_the_calendar() -> None:
    """25 November 2026 is a Wednesday; the names as the standard library has them in the C locale [computed]."""
    for number in range(400):
        day = START + timedelta(days=number)
        assert weekday(day) == calendar.day_abbr[day.weekday()]
        assert day_of_month(day) == f"{day.day:02d} {calendar.month_abbr[day.month]}"


def test_the_wall_time_is_local(monkeypatch: pytest.MonkeyPatch, utc: None) -> None:
    monkeypatch.setenv("TZ", "XYZ-5:30")
    time.tzset()
    assert wall(START, START) == "19:30"


@pytest.mark.usefixtures("utc")
@pytest.mark.parametrize(
    ("clock", "at", "text"),
    [
        (DO_BEFORE, 34, "NOW · Pot life 6:00 · Spread the pot now · DO BEFORE 14:40"),
        (DO_BEFORE, 43, "NOW · Pot life +3:00 · Spread the pot now · DO BEFORE 14:40"),
        (make(to_act=minutes(10)), 43, "SOON · Pot life +3:00 · Spread the pot now · DO BEFORE 14:40"),
        (make(to_act=minutes(40)), 43, "LATER · Pot life +3:00 · Spread the pot now · DO BEFORE 14:40"),
        (make("NOT BEFORE", to_act=minutes(40)), 43, "READY · Pot life +3:00 · Spread the pot now · NOT BEFORE 14:40"),
        (MISSED, 95, "MISSED 14:40, 55 min ago · Pot life · Do not use it. Set the pot outside."),
    ],
)
def test_the_alarm_line_says_urgency_clock_time_action_and_due_time_in_that_order(clock: Clock, at: float, text: str) -> None:
    assert alarm_text(clock, START + minutes(at)) == text


@pytest.mark.usefixtures("utc")
@pytest.mark.parametrize(
    ("clock", "at", "text"),
    [
        (DO_BEFORE, 10, "Pot life: DO BEFORE 14:40, 30 min left, running"),
        (DO_BEFORE, 40, "Pot life: DO BEFORE 14:40, 0 s left, DUE"),
        (DO_BEFORE, 41, "Pot life: DO BEFORE 14:40, 1 min over, DUE"),
        (
            replace(NOT_BEFORE, moved_from=START + minutes(30), moved_by="16 °C"),
            10,
            "Pot life: NOT BEFORE 14:40 (was 14:30: shop at 16 °C), 30 min left, running",
        ),
    ],
)
def test_a_line_says_kind_limit_time_left_or_over_and_state(clock: Clock, at: float, text: str) -> None:
    assert line(clock, START + minutes(at)) == text


# Slots, and a wall clock that is set


def test_a_clock_gets_the_lowest_slot_that_no_running_one_has() -> None:
    def running(*slots: int) -> list[Clock]:
        return [replace(make(key=str(slot)), slot=slot) for slot in slots]

    assert free_slot([]) == 0
    assert free_slot(running(0, 1, 2)) == 3
    assert free_slot(running(2, 1)) == 0
    assert free_slot(running(0, 2, 3)) == 1


def test_a_wall_clock_that_is_set_moves_every_time_of_a_clock() -> None:
    times = [START + minutes(number) for number in (32, 33, 36, 38, 39)]
    clock = replace(
        DO_BEFORE,
        raised={"pre": times[0]},
        acknowledged={"pre": times[1]},
        shelved_until=times[2],
        moved_from=times[3],
        ended_at=times[4],
    )
    by = timedelta(hours=-1)
    shifted = moved(clock, by)
    assert (shifted.started_at, shifted.due_at) == (START + by, START + minutes(40) + by)
    assert shifted.raised == {"pre": times[0] + by}
    assert shifted.acknowledged == {"pre": times[1] + by}
    assert (shifted.shelved_until, shifted.moved_from, shifted.ended_at) == (times[2] + by, times[3] + by, times[4] + by)
    untouched = moved(NOT_BEFORE, by)
    assert (untouched.shelved_until, untouched.moved_from, untouched.ended_at) == (None, None, None)


# Properties

MOMENTS = st.timedeltas(min_value=timedelta(0), max_value=timedelta(days=2)).map(lambda passed: START + passed)
STAGES: st.SearchStrategy[Stage] = st.sampled_from(["pre", "due", "missed"])
CLOCKS = st.builds(
    replace,
    st.builds(
        make,
        st.sampled_from(["DO BEFORE", "NOT BEFORE"]),
        st.timedeltas(min_value=timedelta(seconds=1), max_value=timedelta(days=1)),
        to_act=st.timedeltas(min_value=timedelta(0), max_value=timedelta(hours=2)),
    ),
    raised=st.dictionaries(STAGES, MOMENTS),
    acknowledged=st.dictionaries(STAGES, MOMENTS),
    shelved_until=st.none() | MOMENTS,
    ended_at=st.none() | MOMENTS,
)
SOUNDING = (State.PRE_ALARM, State.DUE, State.MISSED)


@given(CLOCKS, st.lists(MOMENTS, min_size=1))
def test_the_state_depends_on_the_clock_and_the_moment_alone(clock: Clock, moments: list[datetime]) -> None:
    forwards = [state(clock, moment) for moment in moments]
    backwards = [state(replace(clock), moment) for moment in reversed(moments)]
    assert forwards == backwards[::-1]


@given(CLOCKS, MOMENTS, MOMENTS)
def test_a_clock_that_is_done_never_sounds(clock: Clock, ended: datetime, moment: datetime) -> None:
    done = replace(clock, ended_at=ended)
    assert state(done, moment) is State.DONE
    assert stage(done, moment) is None
    assert alarms([done], moment) == []
    assert governing([done], moment) is None


@given(CLOCKS, MOMENTS, MOMENTS)
def test_an_untouched_clock_only_ever_goes_forward(clock: Clock, one: datetime, other: datetime) -> None:
    order = [State.ARMED, State.PRE_ALARM, State.DUE]
    untouched = replace(clock, raised={}, acknowledged={}, shelved_until=None, ended_at=None)
    earlier, later = (order.index(state(untouched, moment)) for moment in sorted((one, other)))
    assert earlier <= later


@given(CLOCKS, MOMENTS)
def test_an_alarm_that_is_due_stays_until_it_is_seen_or_ended(clock: Clock, moment: datetime) -> None:
    unseen = replace(clock, acknowledged={}, ended_at=None, shelved_until=None)
    assert (state(unseen, moment) in (State.DUE, State.MISSED)) == (moment >= unseen.due_at)


@given(CLOCKS, MOMENTS)
def test_a_limit_that_is_reached_is_never_put_off(clock: Clock, moment: datetime) -> None:
    limit = replace(clock, kind="DO BEFORE")
    if state(limit, moment) is State.SHELVED:
        assert moment < limit.due_at


@given(CLOCKS, MOMENTS)
def test_acknowledging_silences_and_ends_nothing(clock: Clock, moment: datetime) -> None:
    called = stage(clock, moment)
    if called is not None:
        seen = replace(clock, acknowledged={**clock.acknowledged, called: moment})
        assert state(seen, moment) not in (*SOUNDING, State.DONE)
        assert state(seen, seen.due_at + timedelta(days=3)) is not State.DONE


@given(st.lists(CLOCKS), MOMENTS)
def test_alarms_are_the_clocks_that_sound_each_once_most_urgent_first(clocks: list[Clock], moment: datetime) -> None:
    waiting = alarms(clocks, moment)
    assert len(waiting) == sum(state(clock, moment) in SOUNDING for clock in clocks)
    places = [(clock.priority, clock.due_at) for clock in waiting]
    assert places == sorted(places)


@given(CLOCKS, MOMENTS)
def test_a_clock_over_its_time_shows_a_plus_sign_and_one_before_it_does_not(clock: Clock, moment: datetime) -> None:
    assert face(clock, moment).startswith("+") == (moment > clock.due_at)


def test_an_alarm_is_put_off_once_when_urgent_and_never_past_its_limit() -> None:
    urgent = make(length=minutes(20))
    soon, due = urgent.warns_at, urgent.due_at
    assert soon is not None
    assert not may_shelve(urgent, soon - timedelta(seconds=1))
    assert may_shelve(urgent, soon)
    assert not may_shelve(replace(urgent, shelved=1), soon)
    assert not may_shelve(urgent, due)
    leisurely = replace(urgent, time_to_act=timedelta(minutes=20), shelved=3)
    assert may_shelve(leisurely, soon)


# What was seen, what is back, what came up first


@pytest.mark.parametrize(("to_act", "every"), [(2, 5), (30, 15)])
def test_what_was_seen_is_reminded_of_until_it_is_done(to_act: float, every: float) -> None:
    seen = replace(DUE_SEEN, time_to_act=minutes(to_act))
    since = seen.acknowledged["due"]
    assert [reminders(seen, since + minutes(every * count)) for count in (0, 0.99, 1, 1.99, 2, 100)] == [0, 0, 1, 1, 2, 100]
    assert reminds(seen, since + minutes(every))
    assert not reminds(seen, since + minutes(every) - timedelta(seconds=1))
    assert not reminds(seen, since + minutes(every) + timedelta(seconds=30))
    assert reminders(replace(seen, ended_at=since), since + minutes(every)) == 0


def test_what_is_not_urgent_only_warned_of_or_not_seen_is_not_reminded_of() -> None:
    later = START + timedelta(days=1)
    assert reminders(replace(DUE_SEEN, time_to_act=minutes(31)), later) == 0
    assert reminders(PRE_SEEN, START + minutes(39)) == 0
    assert reminders(DO_BEFORE, later) == 0


@pytest.mark.parametrize(
    ("raised", "other_seen", "at", "expected"),
    [
        (40, None, 0.49, False),
        (40, None, 0.5, True),
        (None, None, 60, False),  # not on the screen yet: it was not recorded
        (39, 40, 0.49, False),  # it has just taken the place of the one that was seen
        (39, 40, 0.5, True),
        (41, None, 0, True),  # raised before the clock on the wall was set back
    ],
)
def test_an_alarm_can_be_acknowledged_once_it_was_in_sight(
    raised: float | None, other_seen: float | None, at: float, expected: bool
) -> None:
    clock = replace(DO_BEFORE, raised={"due": START + minutes(raised)} if raised is not None else {})
    other = replace(make(key="2"), acknowledged={"due": START + minutes(other_seen)} if other_seen is not None else {})
    assert in_sight(clock, [clock, other], START + minutes(40) + timedelta(seconds=at)) is expected


def test_an_alarm_is_back_once_its_time_of_being_put_off_is_over() -> None:
    shelved = replace(DO_BEFORE, raised={"pre": START + minutes(32)}, shelved=1, shelved_until=START + minutes(37))
    assert not is_back(shelved, START + minutes(36.99))
    assert is_back(shelved, START + minutes(37))
    assert not is_back(replace(shelved, raised={"pre": START + minutes(37)}), START + minutes(38))
    assert not is_back(replace(shelved, acknowledged={"pre": START + minutes(33)}), START + minutes(38))
    assert not is_back(replace(shelved, ended_at=START + minutes(34)), START + minutes(38))


def test_the_first_up_of_several_is_the_one_raised_first() -> None:
    early = replace(make(key="early", to_act=minutes(60)), raised={"due": START + minutes(40)})
    late = replace(make(key="late", length=minutes(39)), raised={"due": START + minutes(41)})
    now = START + minutes(42)
    assert first_up(alarms([late, early], now), now) == early
    assert first_up([early], now) is None
    assert first_up([], now) is None


# More than one person can serve


@pytest.mark.usefixtures("utc")
@pytest.mark.parametrize(
    ("lengths", "says"),
    [
        ([40], ""),  # warns at 32, due at 40
        ([40, 60], ""),  # 32, 40, 48, 60
        ([40, 45], "3 alarms within 10 min from 14:32"),  # 32, 36, 40, and 45 beyond
        ([40, 40], "4 alarms within 10 min from 14:32"),
    ],
)
def test_alarms_that_crowd_are_told_while_planning(lengths: list[float], says: str) -> None:
    planned = [make(length=minutes(length), key=str(length)) for length in lengths]
    found = crowd(planned, START)
    assert bool(found) == bool(says)
    assert found.startswith(says)


@pytest.mark.usefixtures("utc")
def test_more_than_six_alarms_in_an_hour_crowd_too() -> None:
    openings = [make("NOT BEFORE", minutes(9 * number), key=str(number)) for number in range(1, 8)]
    assert crowd(openings, START).startswith("7 alarms within 60 min from 14:09")
    assert crowd(openings[:6], START) == ""


def test_what_is_over_or_done_crowds_no_more() -> None:
    both = [make(key="a"), make(key="b")]
    assert crowd(both, START)
    assert not crowd([both[0], replace(both[1], ended_at=START)], START)
    assert not crowd(both, START + minutes(33))
