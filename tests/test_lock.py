"""One writer a project: the second only reads, takes over when the first lets go, and no dead program keeps anybody out."""

import os
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest
from conftest import BEGAN, materials

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


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "hide.shopmate"
    path.touch()
    return path


def test_a_lock_is_one_s_until_it_is_let_go_and_leaves_nothing(path):
    first, second = Lock(path), Lock(path)
    assert (first.take(), first.take(), second.take()) == (True, True, False)
    first.show_life(BEGAN)
    first.release()
    assert second.take()
    assert not first.take()
    second.release()
    assert list(path.parent.iterdir()) == [path]


@pytest.mark.parametrize("link", [Path.symlink_to, Path.hardlink_to], ids=["symbolic", "hard"])
def test_a_file_has_one_lock_by_whatever_name_it_is_opened(path, link):
    (path.parent / "elsewhere").mkdir()
    other = path.parent / "elsewhere" / "other.shopmate"
    link(other, path)
    first, second = Lock(path), Lock(other)
    assert first.take()
    assert not second.take()
    first.release()
    assert second.take()
    assert not first.take()
    second.release()


def test_removing_what_lies_beside_lets_nobody_in(path):
    first = Lock(path)
    first.take()
    first.show_life(BEGAN)
    for beside in path.parent.iterdir():
        if beside != path:
            beside.unlink()
    assert not Lock(path).take()
    first.release()


def test_the_lock_of_the_database_is_none_of_it(small):
    """What is recorded while the lock is held is recorded, and a second window that tries for it disturbs no writing."""
    other = Lock(small.log.path)
    for count in range(3):
        assert not other.take()
        small.add_part(f"Panel {count + 2}", BEGAN)
    assert len(small.project.parts) == 4


def test_a_file_removed_or_replaced_is_noticed(path):
    lock = Lock(path)
    assert not lock.is_lost
    lock.take()
    assert not lock.is_lost
    aside = path.rename(path.with_name("aside"))
    assert lock.is_lost
    path.write_text("another", encoding="utf-8")
    assert lock.is_lost
    aside.rename(path)
    assert not lock.is_lost
    lock.release()


# Signs of life


def test_a_holder_that_stands_still_is_noticed_after_ten_seconds(path):
    holder, waits = Lock(path), Lock(path)
    holder.take()
    at = BEGAN
    for second in range(30):
        holder.show_life(at + timedelta(seconds=second))
        os.utime(waits._life, ns=(0, second // 2))  # the clock of a file system can be coarse
        assert not waits.stands_still(at + timedelta(seconds=second))
    for second in range(30, 38):
        assert not waits.stands_still(at + timedelta(seconds=second))
    assert waits.stands_still(at + timedelta(seconds=38))
    os.utime(waits._life, ns=(0, 10**9))
    assert not waits.stands_still(at + timedelta(seconds=39))
    holder.release()


def test_it_shows_life_every_two_seconds_and_again_when_the_clock_was_set_back(path):
    holder = Lock(path)
    holder.take()
    renewed = []
    for second in (0, 1, 2, 3, 4, -100, -99, -98):
        holder._life.unlink(missing_ok=True)
        holder.show_life(BEGAN + timedelta(seconds=second))
        renewed.append(holder._life.exists())
    assert renewed == [True, False, True, False, True, True, False, True]
    holder.release()


def test_who_never_showed_life_stands_still_after_the_same_time(path):
    waits = Lock(path)
    assert not waits.stands_still(BEGAN)
    assert not waits.stands_still(BEGAN + timedelta(seconds=9.9))
    assert waits.stands_still(BEGAN + timedelta(seconds=10))
    assert not waits.stands_still(BEGAN - timedelta(hours=1))


def test_a_program_that_was_killed_locks_nobody_out(path):
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
        lambda: other.take_back(now()),
    ):
        with pytest.raises(NotNow, match="READ ONLY: another window has this project open"):
            act()
    other.remember("bead", {"diameter": "5 mm"}, now())
    now.on(minutes=30)
    small.show_life(now())
    assert other.tick(now()) == []
    assert len(small.log.events()) == count
    assert [clock.title for clock in small.tick(now())] == ["Kettle"]
    small.end_clock(small.clocks[0].key, now())
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
