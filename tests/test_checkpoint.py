"""A long log opened from a checkpoint: the project is what all events fold to, and where anything is doubtful they are folded."""

import json
import sqlite3
from contextlib import closing, suppress
from datetime import timedelta
from fractions import Fraction

import pytest
from conftest import BEGAN, every_step, materials
from hypothesis import given, settings
from test_mend import change, number_of
from test_project import WORK, act, bench

from shopmate.errors import ShopmateError
from shopmate.log import Log
from shopmate.project import checkpoint, events, history
from shopmate.project.events import stored
from shopmate.project.fold import fold
from shopmate.project.place import Place
from shopmate.project.project import Project, Unread
from shopmate.project.run import Held, Run
from shopmate.session import FinishedView, NotNow, Session, events_of
from shopmate.session.demo import follow
from shopmate.units import Quantity, Ratio


@pytest.fixture(autouse=True, scope="module")
def from_the_first_event_on():
    """Have checkpoints of short logs too."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(history, "LEAST", 1)
        yield


def folded(log):
    """Return what all events of a log fold to."""
    return fold([events.read(event) for event in log.events()], log.path.stem)


@given(WORK)
@settings(max_examples=60, deadline=None)
def test_at_each_moment_it_is_what_all_events_fold_to(work):
    """The log is opened again and again, and gone on with: also what was done before a checkpoint is taken back."""
    session, log = bench()
    now = BEGAN
    for count, (action, passed) in enumerate(work):
        now += timedelta(minutes=passed)
        act(session, action, now)
        if count % 7 == 0:
            session.keep_checkpoint()
        if count % 10 == 0:
            session = Session(log, {})
            assert session.project == folded(log)
        if count % 23 == 0:
            for _ in range(9):
                with suppress(ShopmateError):
                    session.take_back(now)
            assert session.project == folded(log)
    session.keep_checkpoint()
    assert Session(log, {}).project == session.project == folded(log)
    assert log.damages == []


def test_all_that_a_project_has_is_kept(small, now):
    """Nothing of a project, a run or a clock is forgotten: each field of one that has something in it comes back."""
    project = small.project
    data = stored.written(project, exact=True)
    kept = {"runs", "clocks", "undo", "_own", "base", "wall_set"} | data.keys()  # the last two are None
    assert kept == {item for item in Project.__slots__ if item}
    run = stored.written(small.run, exact=True)
    assert {"kept"} | run.keys() >= {item for item in Run.__slots__ if item not in ("goes_back_to", "finished_at")}


@pytest.mark.parametrize(
    "value",
    [
        Quantity(Fraction(1, 3), "mm"),
        Quantity(0.1 + 0.2, "g"),
        Quantity(1e300, ""),
        Quantity(Fraction(10**30, 7), "°C"),
        Quantity(3, ""),
        Ratio(Fraction(100, 3), Fraction(45), "weight"),
        "epoxy",
        7,
    ],
    ids=str,
)
def test_a_value_comes_back_as_the_very_same(value):
    run = Run("1", "Panel 1", "text", BEGAN, Place(0, 1, 0), values={"x": Held(value, "Label", 2, ("bead", "area"))})
    data = json.loads(json.dumps(stored.written(run, exact=True)))
    again = stored.read(Run, data, exact=True, kept="text")
    held = again.values["x"]
    assert (again, type(held.value), held.label, held.places, held.output_of) == (
        run, type(value), "Label", 2, ("bead", "area"),
    )  # fmt: skip
    if isinstance(value, Quantity):
        assert (held.value.value, type(held.value.value)) == (value.value, type(value.value))


# What is read, and what is not


@pytest.fixture
def finished(small, now):
    """A project with one run finished and its clocks ended, another under way with a clock; its file, closed."""
    at = follow(small, now(), {}, until=lambda view: isinstance(view, FinishedView))
    for clock in small.clocks:
        small.end_clock(clock.key, at)
    small.begin(small.add_part("Panel 2", at), every_step(), at)
    small.start_own("90 min", at)
    now.at = at
    small.close()
    return small.log.path


def opened(path, now):
    return Session.open(path, now(), materials())


def test_it_is_opened_from_the_last_checkpoint(finished, now):
    count = len(events_of(finished))
    session = opened(finished, now)
    assert session._history._first == count
    assert session.project == folded(session.log)
    session.close()


def test_what_is_over_is_read_when_it_is_looked_at(finished, now):
    session = opened(finished, now)
    runs, clocks = session.project.runs.here, session.project.clocks.here
    first, second = runs
    assert [isinstance(runs[key], Unread) for key in runs] == [True, False]
    assert {isinstance(clock, Unread) for clock in clocks.values()} == {True, False}
    assert [clock.title for clock in session.clocks] == ["Timer 1"]
    assert [run.key for run in session.under_way] == [second]
    assert isinstance(session.project.runs.here[first], Unread)
    assert session.project.runs[first].finished_at is not None
    assert session.project.runs[first].recipe == every_step()
    session.close()


def test_what_was_done_before_the_checkpoint_is_taken_back(finished, now):
    session, titles = opened(finished, now), []
    session.choose(next(iter(session.project.runs)), now())
    with suppress(NotNow):
        while True:
            titles.append(session.take_back(now()))
            assert session.project == folded(session.log)
    assert (len(titles) > 20, titles[-1]) == (True, "Choose the glue")
    assert [clock.title for clock in session.clocks] == ["Timer 1"]
    session.close()


def test_taking_back_folds_no_more_than_what_came_since_a_checkpoint(small, now, monkeypatch):
    for number in range(3 * history.EACH):
        small.remember("bead", {"diameter": f"{number} mm"}, now())
    small.log_temperature("20", now())
    small.close()
    session, counted = opened(small.log.path, now), []

    def counting(events, *more):
        counted.append(len(events))
        return fold(events, *more)

    monkeypatch.setattr(history, "fold", counting)
    assert session.take_back(now()) == "20 °C"
    assert session.project == folded(session.log)
    assert sum(counted) <= 2 * history.EACH
    session.close()


def test_few_checkpoints_are_kept_and_each_has_its_rows(finished, now):
    for number in range(20):
        session = opened(finished, now)
        session.log_temperature(f"{number + 10}", now.on(minutes=1))
        if number and number % 3 == 0:
            session.take_back(now())
            session.take_back(now())
        session.close()
        with Log(finished, read_only=True) as log:
            names = set(log.kept_names())
            numbers = checkpoint.numbers(names)
            assert len(numbers) <= 8
            read = [checkpoint.read(log, at, lambda *row: row, lambda *row: row) for at in numbers]
            for project in read:
                for kind, kept in (("run", project.runs), ("clock", project.clocks)):
                    unread = {key: thing for key, thing in kept.here.items() if isinstance(thing, Unread)}
                    assert {f"{kind}:{key}:{thing.number}" for key, thing in unread.items()} <= names
    assert len(names) < 60


def test_while_it_is_worked_on_a_checkpoint_is_written_now_and_then(small, now):
    small.keep_safe(now())
    assert checkpoint.numbers(small.log.kept_names()) == []
    for number in range(500):
        small.remember("bead", {"diameter": f"{number} mm"}, now())
    assert checkpoint.numbers(small.log.kept_names()) == []
    small.keep_safe(now())
    assert max(checkpoint.numbers(small.log.kept_names())) == len(small.log.events())


def test_what_no_session_records_is_kept_too(finished, now):
    """As an event that something else wrote can have it: a figure that is no whole number and has no unit."""
    with Log(finished) as log:
        (run, *_) = [event for event in log.events() if event.kind == "run"][1:]
        result = {"calculator": "bead", "outputs": {"odd": {"value": 1.5, "unit": None}}}
        place = {"run": str(run.id), "place": "0.1.0", "next": "0.1.1", "shown": "odd", "into": "x", "result": result}
        log.append("done", place, now())
        log.append("part", {"name": "Panel 9"}, now())
    for _ in range(2):
        session = opened(finished, now)
        assert session.project.runs[str(run.id)].values["x.odd"].value == 1.5
        assert session.project == folded(session.log)
        session.add_part(f"Panel {len(session.project.parts)}", now())
        session.close()


def test_a_short_log_has_none(finished, now, monkeypatch):
    monkeypatch.setattr(history, "LEAST", 500)
    in_kept(finished, "DELETE FROM kept")
    session = opened(finished, now)
    session.add_part("Panel 9", now())
    session.close()
    with Log(finished, read_only=True) as log:
        assert log.kept_names() == []


# What is doubtful


def in_kept(path, statement):
    with closing(sqlite3.connect(path, isolation_level=None)) as database:
        database.execute(statement)


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE kept SET data = replace(data, 'Timer', 'Tomer')",
        "UPDATE kept SET data = '[]', sum = 'x'",
        "UPDATE kept SET sum = ''",
        "DELETE FROM kept WHERE name NOT LIKE 'project:%'",
        "UPDATE kept SET name = 'project:2' WHERE name LIKE 'project:%'",
        "DELETE FROM kept",
    ],
)
def test_a_checkpoint_that_is_not_what_was_written_is_not_used(finished, now, statement):
    in_kept(finished, statement)
    session = opened(finished, now)
    assert session.project == folded(session.log)
    assert session.damage == ""
    session.close()


@pytest.mark.parametrize("data", ["null", "[]", "7", "{}", '{"by": 1}', '"x"', "[" * 5000, '{"by": "0", "sum": ""}'])
def test_a_checkpoint_of_something_else_is_not_used(finished, now, data):
    with Log(finished) as log:
        log.keep(dict.fromkeys(log.kept_names(), data))
    session = opened(finished, now)
    assert session.project == folded(session.log)
    session.close()


def test_a_checkpoint_of_another_version_is_not_used(finished, now, monkeypatch):
    monkeypatch.setattr(checkpoint, "__version__", "another")
    session = opened(finished, now)
    assert session._history._first == 0
    assert session.project == folded(session.log)
    session.close()


def test_a_checkpoint_of_another_log_is_not_used(finished, now, tmp_path):
    with Log(finished, read_only=True) as log:
        rows = {name: log.kept(name) for name in log.kept_names()}
        count = len(log.events())
    with Log(tmp_path / "other.shopmate", create=True) as other:
        for number in range(count):
            other.append("part", {"name": f"Panel {number}"}, now())
        other.keep(rows)
    session = opened(tmp_path / "other.shopmate", now)
    assert len(session.project.parts) == count
    session.close()


def test_damage_before_the_checkpoint_is_found_bit_by_bit_and_then_at_each_start(finished, now, monkeypatch):
    monkeypatch.setattr(history, "_PROVED", 10)
    number = number_of(finished, "part")
    change(finished, number)
    session = opened(finished, now)
    assert session.damage == ""
    for _ in range(len(events_of(finished)) // 10 + 1):
        session.keep_safe(now())
    assert f"event {number} changed since it was written" in session.damage
    with pytest.raises(NotNow, match="READ ONLY"):
        session.add_part("Panel 9", now())
    session.close()
    session = opened(finished, now)
    assert f"event {number} changed since it was written" in session.damage
    session.close()


def test_a_checksum_that_alone_is_damaged_is_no_damage(finished, now, monkeypatch):
    monkeypatch.setattr(history, "_PROVED", 1)
    change(finished, 4, "sum", "'x'")
    session = opened(finished, now)
    for _ in range(20):
        session.keep_safe(now())
    assert session.damage == ""
    session.close()


def test_no_room_for_a_checkpoint_is_no_trouble(small, now):
    small.add_part("Panel 2", now())
    in_kept(small.log.path, "CREATE TRIGGER full BEFORE INSERT ON kept BEGIN SELECT RAISE(ABORT, 'full'); END")
    small.close()
    session = opened(small.log.path, now)
    assert (session._history._first, list(session.project.parts)) == (0, ["Panel 1", "Panel 2"])
    session.close()
