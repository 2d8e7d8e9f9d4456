"""One writer a project: the second only reads, takes over when the first lets go, and no dead program keeps anybody out."""

import subprocess
import sys
from datetime import timedelta

import pytest
from conftest import materials

from shopmate.lock import Lock
from shopmate.session import NotNow, Session

HOLDS = """
import sys, time
from pathlib import Path
from shopmate.lock import Lock
lock = Lock(Path(sys.argv[1]))
print(lock.take(), flush=True)
sys.stdin.read()
"""


@pytest.fixture
def other(small):
    """The same project in a second window."""
    other = Session.open(small.log.path, small.run.begun_at, materials())
    yield other
    other.close()


def test_a_lock_is_one_s_until_it_is_let_go_and_leaves_nothing(tmp_path):
    path = tmp_path / "hide.shopmate"
    first, second = Lock(path), Lock(path)
    assert (first.take(), first.take(), second.take()) == (True, True, False)
    first.release()
    assert second.take()
    assert not first.take()
    second.release()
    assert list(tmp_path.iterdir()) == []


def test_a_lock_removed_while_another_waits_for_it_is_not_mistaken_for_one(tmp_path, monkeypatch):
    import shopmate.lock as module

    path = tmp_path / "hide.shopmate"
    first, second, third = Lock(path), Lock(path), Lock(path)
    first.take()
    hold = module._hold

    def let_go_in_between(file):
        monkeypatch.setattr(module, "_hold", hold)
        first.release()
        hold(file)

    monkeypatch.setattr(module, "_hold", let_go_in_between)
    assert second.take()
    assert not third.take()
    second.release()


def test_a_program_that_was_killed_locks_nobody_out(tmp_path):
    path = tmp_path / "hide.shopmate"
    command = [sys.executable, "-c", HOLDS, str(path)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout.readline() == "True\n"
        assert not Lock(path).take()
        child.kill()
        child.wait()
        lock = Lock(path)
        assert lock.take()
        lock.release()


def test_where_no_lock_can_be_made_the_project_is_worked_on(tmp_path):
    assert Lock(tmp_path / "none" / "hide.shopmate").take()


def test_the_second_window_shows_what_the_first_records_and_records_nothing(small, other, now):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=30), now())
    assert other.read_only
    assert other.clocks == []
    assert other.tick(now()) == []
    assert other.project == small.project
    count = len(small.log.events())
    for act in (
        lambda: other.answer("epoxy", now()),
        lambda: other.add_part("Panel 2", now()),
        lambda: other.start_clock("Tea", "DO BEFORE", timedelta(minutes=3), now()),
        lambda: other.end_clock(other.clocks[0].key, now()),
        lambda: other.log_temperature("20 °C", now()),
        lambda: other.set("theme", "light", now()),
        lambda: other.back(now()),
    ):
        with pytest.raises(NotNow, match="READ ONLY: another window works on this project"):
            act()
    other.remember("bead", {"diameter": "5 mm"}, now())
    now.on(minutes=30)
    assert other.tick(now()) == []
    assert len(small.log.events()) == count
    assert [clock.title for clock in small.tick(now())] == ["Kettle"]
    small.back(now())
    other.tick(now())
    assert other.project == small.project
    assert other.clocks == []


def test_the_second_window_takes_over_once_the_first_is_closed(small, other, now):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=30), now())
    small.close()
    assert [clock.title for clock in other.tick(now.on(minutes=30))] == ["Kettle"]
    assert not other.read_only
    assert other.start_clock("Tea", "DO BEFORE", timedelta(minutes=3), now()) == "STARTED Tea"
    third = Session.open(other.log.path, now(), materials())
    assert third.read_only
    third.close()
    assert not other.read_only
