"""Curves over the clock's hours: what is drawn of the shop, its windows and the pot in hand, and what the words say."""

import time
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from shopmate import calc, picture
from shopmate import recipe as recipes
from shopmate.clock import Aging, Clock, aged_due
from shopmate.session import Session, curve, project_path, shelf

NOW = datetime(2026, 5, 4, 9, 0, tzinfo=UTC)

POT = Path(__file__).parent / "recipes" / "good" / "pot-and-window.yaml"


def hours(number):
    return timedelta(hours=number)


@pytest.fixture(autouse=True)
def local_time_is_utc(monkeypatch):
    """Wall-clock times as they are written here."""
    monkeypatch.setenv("TZ", "UTC")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


READ = [(NOW - hours(1), 25.0), (NOW + hours(2), 16.0), (NOW + hours(5), 20.0)]


def clock(name, kind, needed, readings=READ, **changes):
    aging = Aging(hours(needed), 25.0)
    made = Clock(
        key=name, name=name, title=name.replace("_", " ").capitalize(), kind=kind, started_at=NOW,
        due_at=aged_due(NOW, aging, kind, readings), action="Coat", if_late="Sand", time_to_act=hours(1), consequence="None",
        run="1", aging=aging,
    )  # fmt: skip
    return replace(made, **changes)


def window(readings=READ):
    return [clock("recoat_opens", "NOT BEFORE", 4, readings), clock("recoat_closes", "DO BEFORE", 10, readings)]


def temperature(seen, hour):
    """The temperatures that the curves of a picture show at an hour, each curve's points being steps."""
    return {
        begin[1]
        for line in seen.curves
        for begin, end in pairwise(line.points)
        if begin[1] == end[1] and begin[0] < hour < end[0]
    }


def test_each_reading_holds_until_the_next_and_the_last_is_taken_to_hold():
    seen = curve.shop(READ, window(), NOW + hours(6), "metric")
    assert [temperature(seen, hour) for hour in (0.5, 1.9, 2.1, 4.9, 5.1, 5.9, 6.1, 9)] == [
        {25.0}, {25.0}, {16.0}, {16.0}, {20.0}, {20.0}, {20.0}, {20.0},
    ]  # fmt: skip
    names = {line.material: line.points for line in seen.curves}
    assert names["assumed"][0][0] == 6
    assert names["shop, 16.0 °C to 25.0 °C"][-1] == (6, 20.0)
    assert "Shop 20.0 °C, measured 14:00 (60 min ago), assumed until the next reading." in seen.words
    assert "68.0 °F, measured" in curve.shop(READ, window(), NOW + hours(6), "inch").words


def test_what_is_read_later_is_not_known_yet():
    seen = curve.shop(READ, window(READ[:2]), NOW + hours(3), "metric")
    assert temperature(seen, 6) == {16.0}


def test_the_window_lies_from_opens_to_closes_with_its_times_in_words():
    opens, closes = window()
    seen = curve.shop(READ, [opens, closes], NOW + hours(6), "metric")
    (shape,) = seen.shapes
    assert min(x for x, _ in shape.outline) == pytest.approx((opens.due_at - NOW) / hours(1))
    assert max(x for x, _ in shape.outline) == pytest.approx((closes.due_at - NOW) / hours(1))
    for words in ("Recoat opens: NOT BEFORE 14:43", "Recoat closes: DO BEFORE"):
        assert words in seen.words
        assert any(label.text.startswith(words) for label in seen.labels)
    assert f"The window is 14:43 to {closes.due_at:%H:%M}" in seen.words


def test_a_window_that_has_opened_is_still_one_and_one_that_is_over_is_none():
    opens, closes = window()
    ended = replace(opens, ended_at=opens.due_at)
    assert len(curve.shop(READ, [ended, closes], NOW + hours(6), "metric").shapes) == 1
    assert curve.shop(READ, [ended, replace(closes, ended_at=NOW + hours(6))], NOW + hours(6), "metric") is None


def test_clocks_of_other_runs_or_other_names_make_no_window():
    opens, closes = window()
    assert not curve.shop(READ, [replace(opens, run="2"), closes], NOW + hours(6), "metric").shapes
    assert not curve.shop(READ, [replace(opens, name="trim_opens"), closes], NOW + hours(6), "metric").shapes


def test_closed_before_it_opens_is_said():
    opens, closes = clock("recoat_opens", "NOT BEFORE", 12), clock("recoat_closes", "DO BEFORE", 3)
    seen = curve.shop(READ, [opens, closes], NOW + hours(1), "metric")
    assert not seen.shapes
    assert "No window: 'Recoat opens' comes after 'Recoat closes'." in seen.words


def test_before_a_reading_the_sheet_s_temperature_is_assumed_and_said():
    seen = curve.shop([], window([]), NOW + hours(1), "metric")
    assert seen.words.startswith("No shop reading: the data sheet's 25.0 °C is assumed.")
    assert temperature(seen, 0.5) == {25.0}
    later = curve.shop(READ[1:], window(READ[1:]), NOW + hours(6), "metric")
    assert "Before 11:00 the data sheet's 25.0 °C is assumed." in later.words
    assert temperature(later, 1) == {25.0}
    assert temperature(later, 3) == {16.0}


def test_days_do_not_squeeze_hours_and_a_stalled_cure_has_no_time():
    cure = clock("cure", "NOT BEFORE", 168)
    seen = curve.shop(READ, [*window(), cure], NOW + hours(6), "metric")
    assert seen.high[0] < 36
    assert not any(label.text.startswith("Cure") for label in seen.labels)
    assert "Cure: NOT BEFORE Thu 14 May" in seen.words
    cold = [(NOW, 4.0)]
    stalled = curve.shop(cold, [clock("cure", "NOT BEFORE", 168, cold)], NOW, "metric")
    assert "Cure: will not end while it stays this cold." in stalled.words


def test_a_clock_by_the_wall_has_no_curve():
    assert curve.shop(READ, [replace(window()[0], aging=None)], NOW, "metric") is None


def test_a_limit_that_a_reading_moved_says_when_it_was():
    opens, closes = window()
    seen = curve.shop(READ, [replace(opens, moved_from=NOW + hours(4)), closes], NOW + hours(6), "metric")
    assert "Recoat opens: NOT BEFORE 14:43, was 13:00." in seen.words


@pytest.mark.parametrize("after", [0, 1 / 60, 3, 12, 30], ids=lambda hour: f"{hour:g} h")
@pytest.mark.parametrize(("columns", "rows"), [(80, 24), (120, 35), (40, 12)])
def test_it_fits_any_screen_at_any_time(columns, rows, after):
    for known in (READ, []):
        lines = picture.draw(curve.shop(known, window(known), NOW + hours(after), "metric"), columns, rows)
        assert all(len(line) <= columns for line in lines)
        assert len(lines) <= rows


@pytest.fixture
def pot(home):
    session = Session.create(project_path("Pot"), "Pot", NOW, shelf())
    session.begin(session.add_part("Panel 1", NOW), recipes.load(POT), NOW)
    session.answer("epoxy-2to1-slow", NOW)
    session.answer("25 °C", NOW)
    session.done(NOW)  # what the working warns of is read
    yield session
    session.close()


def test_the_pot_in_hand_is_drawn_from_what_was_worked_out_for_it(pot):
    assert curve.pots(pot.project) == []
    pot.done(NOW)
    ((running, drawn),) = curve.pots(pot.project)
    # The sheet's own mass at the sheet's own temperature lasts the sheet's 40 min.
    assert running.length == timedelta(minutes=40)
    result = calc.run(
        "potlife",
        {"sheet_time": "40 min", "sheet_mass": "100 g", "sheet_temperature": "25 °C", "mass": "100 g", "temperature": "25 °C"},
    )
    assert drawn == calc.find("potlife").drawn(result.inputs, result.outputs)[0]
    seen = curve.pot_now(running, drawn, NOW + timedelta(minutes=10))
    assert seen.words.startswith("Pot life: DO BEFORE 09:40.")
    (here,) = [label for label in seen.labels if label.text == "now 09:10"]
    assert here.at[0] == 10
    (around,) = [(low, high) for (a, low), (b, high) in pairwise(drawn.curves[-1].points) if a < 10 <= b]
    assert min(around) <= here.at[1] <= max(around)
    assert here.at[1] > 25
    over = curve.pot_now(running, drawn, NOW + hours(5))
    assert over.labels == drawn.labels
    assert "has gelled" in over.words
    pot.done(NOW + timedelta(minutes=11))  # spread: it ends the clock
    assert curve.pots(pot.project) == []
