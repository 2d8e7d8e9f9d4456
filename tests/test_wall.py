"""The computer's clock is set, drifts or is read for the first time: elapsed times stay, and what was done is said."""

import dataclasses
from collections.abc import Mapping
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from conftest import BEGAN, every_step, materials

from shopmate import clock as clocks_
from shopmate import session as sessions
from shopmate import times
from shopmate.log import Log
from shopmate.project import history
from shopmate.project.events.noted import FormFilled
from shopmate.project.events.work import Opened
from shopmate.project.export import export
from shopmate.project.fold import fold
from shopmate.project.run import Run
from shopmate.session import Session, events_of, running_clocks
from shopmate.session.demo import follow
from shopmate.steady import Steady, read_steady


class Computer:
    """Two clocks: one that can be set, one that cannot."""

    def __init__(self) -> None:
        self.at, self.steady = BEGAN, Steady("boot 1", 1000.0)

    def on(self, **length: float) -> datetime:
        passed = timedelta(**length)
        self.at += passed
        self.steady = Steady(self.steady.boot, self.steady.seconds + passed.total_seconds())
        return self.at

    def set(self, **ahead: float) -> datetime:
        self.at += timedelta(**ahead)
        return self.at

    def start_anew(self) -> None:
        self.steady = Steady("boot 2", 30.0)


@pytest.fixture
def computer():
    return Computer()


@pytest.fixture
def project(home, computer):
    """A project with one clock of 30 min."""
    session = Session.create(sessions.project_path("Small"), "Small", computer.at, materials(), steady=computer.steady)
    session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=30), computer.at)
    yield session
    session.close()


def reopened(session: Session, computer: Computer) -> Session:
    session.close()
    return Session.open(session.log.path, computer.at, materials(), computer.steady)


def left(session: Session, computer: Computer) -> timedelta:
    return session.clocks[0].due_at - computer.at


def times_in(thing: object) -> list[datetime]:
    """Every time that a thing holds, however deep."""
    if isinstance(thing, datetime):
        return [thing]
    if dataclasses.is_dataclass(thing) and not isinstance(thing, type):
        fields = [field.name for field in dataclasses.fields(thing) if not (isinstance(thing, Run) and field.name == "recipe")]
        return [at for name in fields for at in times_in(getattr(thing, name))]
    if isinstance(thing, Mapping):
        return [at for item in thing.values() for at in times_in(item)]
    if isinstance(thing, list | tuple | set | frozenset):
        return [at for item in thing for at in times_in(item)]
    return []


# While it runs


@pytest.mark.parametrize(
    ("ahead", "way"),
    [
        ({"hours": 3}, "forward 3 h 00 min"),
        ({"hours": -3}, "back 3 h 00 min"),
        ({"seconds": 2.1}, "forward 2 s"),
        ({"days": -400}, "back 400 days 0 h"),
    ],
)
def test_a_clock_that_is_set_is_recorded_and_said_and_the_time_left_is_kept(project, computer, ahead, way):
    computer.on(minutes=10)
    shift = timedelta(**ahead)
    computer.set(**ahead)
    assert project.check_wall_clock(computer.at, computer.steady) == pytest.approx(shift, abs=timedelta(milliseconds=2))
    assert left(project, computer) == pytest.approx(timedelta(minutes=20), abs=timedelta(milliseconds=2))
    assert project.set_notice(computer.at) == (
        f"COMPUTER CLOCK SET {way} at {times.wall(computer.at, computer.at)}; your clocks still run true"
    )
    assert project.check_wall_clock(computer.on(seconds=1), computer.steady) is None
    assert project.tick(computer.on(minutes=14)) == [project.clocks[0]]  # the warning, 6 min before
    assert project.tick(computer.on(minutes=6)) == [project.clocks[0]]
    (set_once,) = [event for event in events_of(project.log.path) if event.kind == "wall"]
    assert set_once.data["shown"] == way


def test_every_time_that_is_compared_with_now_moves(small, computer):
    now = follow(small, computer.at, {}, until=lambda view: view.headline == "Wait for the clamps")
    small.log_temperature("24 °C", now, sure=True)
    for title in ("Kettle", "Tea"):
        small.start_clock(title, "NOT BEFORE", timedelta(minutes=1), now)
    small.tick(now + timedelta(hours=5))
    small.shelve(5, now + timedelta(hours=5))
    small.acknowledge(now + timedelta(hours=5, seconds=1))
    small._record(Opened(Steady("boot 1", 5.0)), now + timedelta(hours=6))
    before = times_in(small.project)
    assert len(before) > 30
    shift = timedelta(days=2)
    small.check_wall_clock(now + timedelta(hours=6) + shift, Steady("boot 1", 5.0))
    project = dataclasses.replace(small.project, wall_set=None)
    assert [after - at for after, at in zip(times_in(project), before, strict=True)] == [shift] * len(before)


def test_drift_does_not_count_until_it_is_more_than_two_seconds_and_then_once(project, computer):
    project.start_clock("Cure", "NOT BEFORE", timedelta(days=7), computer.at)
    noticed = []
    for hour in range(1, 49):
        computer.on(hours=1)
        computer.set(seconds=0.5)
        if project.check_wall_clock(computer.at, computer.steady) is not None:
            noticed.append(hour)
        assert abs((project.clocks[1].due_at - computer.at) - timedelta(days=7, hours=-hour)) <= timedelta(seconds=2.01)
    assert noticed == [5, 10, 15, 20, 25, 30, 35, 40, 45]


def test_drift_is_not_lost_by_starting_the_program_anew(project, computer):
    for _ in range(3):
        computer.set(seconds=0.9)
        project = reopened(project, computer)
    assert project.project.wall_set.shift == pytest.approx(timedelta(seconds=2.7), abs=timedelta(milliseconds=5))
    project.close()


def test_a_sleep_is_no_setting_of_the_clock(project, computer):
    computer.on(hours=9)
    assert project.check_wall_clock(computer.at, computer.steady) is None


def test_without_a_steady_clock_the_wall_clock_is_trusted(home, computer):
    session = Session.create(sessions.project_path("Wall"), "Wall", computer.at, materials())
    session.start_clock("Kettle", "DO BEFORE", timedelta(minutes=30), computer.at)
    assert session.check_wall_clock(computer.set(minutes=29), None) is None
    assert session.check_wall_clock(computer.at, computer.steady) is None
    assert left(session, computer) == timedelta(minutes=1)
    assert session.set_notice(computer.at) == ""
    session.close()


def test_taking_back_leaves_the_clock_of_the_computer_alone(project, computer):
    project.end_clock(project.clocks[0].key, computer.at)
    computer.set(hours=5)
    project.check_wall_clock(computer.at, computer.steady)
    assert project.take_back(computer.at) == "Kettle"
    assert left(project, computer) == timedelta(minutes=30)
    computer.set(hours=-5)
    project.check_wall_clock(computer.at, computer.steady)
    project.end_clock(project.clocks[0].key, computer.at)
    project.take_back(computer.at)
    assert left(project, computer) == timedelta(minutes=30)


# While it is shut


def test_a_clock_set_while_the_program_was_shut_is_found(project, computer):
    computer.on(minutes=10)
    computer.set(hours=-7)
    again = reopened(project, computer)
    assert left(again, computer) == timedelta(minutes=20)
    assert again.project.wall_set.shift == timedelta(hours=-7)
    assert [event.kind for event in again.log.events()][-2:] == ["opened", "wall"]
    again.close()


def test_between_two_starts_of_the_computer_the_wall_clock_is_trusted(project, computer):
    computer.on(minutes=10)
    computer.start_anew()
    again = reopened(project, computer)
    assert left(again, computer) == timedelta(minutes=20)
    assert again.project.wall_set is None
    # Set in the new start: what began before it may have been right all the time, and is to be checked.
    again.start_clock("Tea", "DO BEFORE", timedelta(minutes=4), computer.at)
    again.check_wall_clock(computer.set(hours=1), computer.steady)
    assert again.set_notice(computer.at).endswith("; check clocks from before the computer restarted: Kettle")
    again.close()


def test_a_reading_from_a_time_to_come_holds_from_now(project, computer):
    project.log_temperature("30 °C", computer.at, sure=True)
    computer.set(days=-3)
    computer.start_anew()
    again = reopened(project, computer)
    assert again.project.readings == [(computer.at, 30.0)]
    again.close()


def test_what_fell_due_while_it_was_shut_is_missed_and_what_warns_comes_up_at_once(project, computer):
    project.start_clock("Tea", "DO BEFORE", timedelta(minutes=4), computer.at)
    computer.on(minutes=25)
    again = reopened(project, computer)
    assert [(event.data["clock"], event.data["stage"]) for event in again.log.events() if event.kind == "alarm"] == [
        (again.clocks[0].key, "pre"),
        (again.clocks[1].key, "missed"),
    ]
    assert again.tick(computer.at) == []
    due = times.wall(again.clocks[1].due_at, computer.at)
    assert times.alarm_text(again.clocks[1], computer.at).startswith(f"MISSED {due}, 21 min ago")
    waiting = [clock.title for clock in clocks_.alarms(again.clocks, computer.at)]
    assert waiting == ["Tea", "Kettle"]
    computer.on(seconds=1)
    assert again.acknowledge(computer.at) == "SEEN Tea"
    assert [clock.title for clock in clocks_.alarms(again.clocks, computer.at)] == ["Kettle"]
    again.close()


# Other eyes


def test_clocks_and_exports_of_the_file_are_those_of_the_clock_as_it_was_set(project, computer):
    project.check_wall_clock(computer.set(hours=2), computer.steady)
    project.close()
    path = project.log.path
    (clock,) = running_clocks(path)
    assert clock.due_at - computer.at == timedelta(minutes=30)
    row = "| Clock of the computer was set | forward 2 h 00 min |"
    assert row in export(events_of(path), "Small", "md")
    assert "Clock of the computer was set,forward 2 h 00 min" in export(events_of(path), "Small", "csv")


def test_this_computer_s_steady_clock_goes_on_and_names_its_start():
    first, second = read_steady(), read_steady()
    if first is None:  # a system that has none
        assert second is None
        return
    assert (first.boot, first.boot != "") == (second.boot, True)
    assert 0 < second.seconds - first.seconds < 60


@pytest.mark.parametrize("number", [2000])
def test_a_key_costs_the_same_however_long_the_log_is(number, computer, monkeypatch):
    """No step looks at all of the log again: the events read are counted, not the seconds."""
    session = Session(Log(Path("long.shopmate"), in_memory=True), materials())
    session.begin(session.add_part("Panel 1", computer.at), every_step(), computer.at)
    for index in range(number):
        session._record(FormFilled(calculator="bead", texts={"x": str(index)}), computer.at)

    folded = []

    def counted(events, *more):
        folded.append(len(events))
        return fold(events, *more)

    monkeypatch.setattr(history, "fold", counted)
    follow(session, computer.at, {}, until=lambda view: view.headline == "Weigh the resin")
    assert folded == []
    session.take_back(computer.at)
    assert 0 < sum(folded) <= history.EACH + 100


def test_when_the_last_thing_was_done_is_told_by_the_clock_as_it_was_set(project, computer):
    project.check_wall_clock(computer.set(hours=2), computer.steady)
    computer.on(minutes=3)
    computer.set(hours=-9)
    again = reopened(project, computer)
    assert computer.at - again.left_at == timedelta(minutes=3)
    again.close()
