"""A project that cannot be recorded: it opens READ ONLY, says why, and its clocks ring and can be silenced all the same."""

import os
import resource
import subprocess
import sys
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path

import pytest
from conftest import materials, ordinary_user
from held import Held, Place

from shopmate import clock as clocks_
from shopmate import paths
from shopmate.dialogue import projects
from shopmate.errors import LogError
from shopmate.log import Log
from shopmate.project import events_of
from shopmate.project.backups import backups_of
from shopmate.session import NotNow, Session

ROOT = Path(__file__).parent.parent
SHELF = "figures:\n  - nonsense\n"


@pytest.fixture
def path(small, now):
    """A project with a clock that is due in 5 minutes, closed."""
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=5), now())
    small.close()
    return small.log.path


def ring(session, now, file=None):
    """Let the alarm of the only clock come up and silence it; nothing of it comes to the disk."""
    file = file or session.log.path
    before = file.read_bytes()
    (raised,) = session.tick(now.on(minutes=5))
    assert raised.title == "Kettle"
    assert clocks_.alarms(session.clocks, now())
    assert session.tick(now.on(seconds=1)) == []
    assert session.acknowledge_alarm(now()) == "SEEN Kettle"
    assert not clocks_.alarms(session.clocks, now())
    assert file.read_bytes() == before


def refused(session, now, words):
    with pytest.raises(NotNow, match=f"READ ONLY: .*{words}"):
        session.add_part("Panel 2", now())
    with pytest.raises(NotNow, match=f"READ ONLY: .*{words}"):
        session.take_back(now())


def kinds(path):
    return [event.kind for event in events_of(path)]


@pytest.fixture
def locked_up(path, tmp_path_factory):
    """The same project where this user may write neither the file nor the folder; returned with what gives the right back."""
    folder = Path("/tmp") / f"rings-{os.getpid()}-{path.parent.parent.parent.name}"  # not tmp_path, which only its owner enters
    folder.mkdir()
    there = folder / path.name
    there.write_bytes(path.read_bytes())
    there.chmod(0o444)
    folder.chmod(0o555)

    def free():
        folder.chmod(0o777)
        there.chmod(0o666)

    yield there, free
    free()
    for left in folder.iterdir():
        left.unlink()
    folder.rmdir()


def test_a_file_that_may_not_be_written_opens_with_its_clocks_and_is_recorded_once_it_may(locked_up, now):
    there, free = locked_up
    with ordinary_user():
        session = Session.open(there, now(), materials())
        assert session.read_only
        assert session.rings
        assert f"READ ONLY: {there} cannot be opened as a project: you have no permission to write it" in session.why_read_only
        ring(session, now)
        refused(session, now, "you have no permission to write it")
        count = len(session.log.events())
    free()
    with ordinary_user():
        session.tick(now.on(seconds=1))
        assert session.read_only  # it was tried less than 5 seconds ago
        session.tick(now.on(seconds=5))
        assert not session.read_only
        assert [event.kind for event in session.log.events()[count:]] == ["alarm", "acknowledged"]
        session.add_part("Panel 2", now())
        session.close()


def test_who_types_does_not_wait_for_the_next_look(locked_up, now):
    there, free = locked_up
    with ordinary_user():
        session = Session.open(there, now(), materials())
        refused(session, now, "you have no permission to write it")
    free()
    with ordinary_user():
        session.add_part("Panel 2", now())
        session.close()
    assert kinds(there)[-1] == "part"


def test_a_disk_without_room_for_the_start_opens_with_its_clocks(path, now, monkeypatch):
    def full(*_, **__):
        raise LogError("the disk is full")

    with monkeypatch.context() as patch:
        patch.setattr(Log, "append", full)
        patch.setattr(Log, "prove_room", full)
        session = Session.open(path, now(), materials())
        assert session.why_read_only == "READ ONLY: the disk is full"
        ring(session, now)
    session.tick(now.on(seconds=5))
    assert kinds(path)[-2:] == ["alarm", "acknowledged"]
    session.close()


def test_a_bad_shelf_opens_the_project_with_its_clocks_and_the_typical_materials(path, now):
    paths.shelf().write_text(SHELF, encoding="utf-8")
    desk = Place()
    desk.at = now()
    held = Held(projects.begin(desk, path))
    session = desk.session
    assert held.told == [session.why_read_only]
    assert session.read_only
    assert f"READ ONLY: {paths.shelf()}:" in session.why_read_only
    assert "fix it, then open the project again" in session.why_read_only
    assert desk.notices.words[0].startswith("READ ONLY: shelf.yaml:")
    assert session.shelf == materials()
    ring(session, now)
    refused(session, now, "shelf.yaml")
    other = Session.open(path, now(), materials())
    assert not other.read_only  # the one with the bad shelf keeps nobody out
    session.tick(now.on(seconds=1))
    other.start_clock("Tea", "DO BEFORE", timedelta(minutes=3), now())
    session.tick(now.on(seconds=1))
    assert session.project == other.project  # nor does it ring by what was, when another window has gone on
    other.close()
    paths.shelf().unlink()
    desk.at = now()
    desk.close()
    desk.open(path)
    assert not desk.session.read_only
    desk.close()


@pytest.mark.parametrize("other", [None, "another file of that name"])
def test_a_file_removed_or_replaced_takes_nothing_more_and_is_saved(path, now, other):
    session = Session.open(path, now(), materials())
    count = len(session.log.events())
    aside = path.rename(path.with_name("aside"))
    if other is not None:
        path.write_text(other, encoding="utf-8")
    session.tick(now.on(seconds=1))
    assert "was removed or replaced while it was open: put it back" in session.why_read_only
    (saved,) = backups_of(path)
    assert str(saved) in session.why_read_only
    assert len(events_of(saved)) == count
    ring(session, now, aside)
    refused(session, now, "put it back")
    assert len(events_of(aside)) == count
    assert path.exists() is (other is not None)
    aside.rename(path)
    session.tick(now.on(seconds=5))
    assert not session.read_only
    assert kinds(path)[-2:] == ["alarm", "acknowledged"]
    session.close()


def test_nothing_is_written_to_a_file_removed_since_the_last_look(path, now):
    session = Session.open(path, now(), materials())
    count = len(session.log.events())
    aside = path.rename(path.with_name("aside"))
    with pytest.raises(LogError, match="removed or replaced"):
        session.add_part("Panel 2", now())
    assert len(events_of(aside)) == count
    session.close()


def spoil(path):
    with path.open("r+b") as file:
        file.write(b"\xff" * 8192)


@pytest.mark.parametrize("harm", [lambda path: os.truncate(path, 0), spoil], ids=["emptied", "overwritten"])
def test_a_file_spoilt_while_it_is_open_stays_read_only_and_rings_at_every_look(path, now, harm):
    session = Session.open(path, now(), materials())
    harm(path)
    before = path.read_bytes()
    with pytest.raises(LogError, match="restore a backup"):
        session.add_part("Panel 2", now())
    for _ in range(12):
        assert session.tick(now.on(seconds=1)) == []
        assert "restore a backup" in session.why_read_only
    ring(session, now)
    for _ in range(12):
        session.tick(now.on(seconds=1))
        assert not clocks_.alarms(session.clocks, now())  # what was silenced stays so
    refused(session, now, "restore a backup")
    assert path.read_bytes() == before
    session.close()


def test_a_reader_whose_file_is_spoilt_rings_once_the_other_window_is_closed(path, now):
    first, second = (Session.open(path, now(), materials()) for _ in range(2))
    second.tick(now())
    spoil(path)
    first.close()
    second.tick(now.on(seconds=1))
    assert second.rings
    assert "damaged" in second.why_read_only
    ring(second, now)
    second.close()


@contextmanager
def no_room(path):
    """Let no file grow any more, as on a full disk."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (path.stat().st_size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def fill(session, now):
    for _ in range(400):
        session.log_sound(True, now())


def test_a_disk_that_fills_in_mid_run_is_said_as_long_as_it_is_full(path, now):
    session = Session.open(path, now(), materials())
    beside = Session.open(path, now(), materials())
    count = len(session.log.events())
    with no_room(path):
        with pytest.raises(LogError, match="the disk is full or failing"):
            fill(session, now)
        recorded = len(session.log.events()) - count
        for _ in range(20):
            session.tick(now.on(seconds=1))
            beside.tick(now())
            assert "the disk is full or failing" in session.why_read_only
            assert not beside.rings  # this one rings, and shows that it lives
        ring(session, now)
        refused(session, now, "the disk is full or failing")
    session.tick(now.on(seconds=5))
    assert not session.read_only
    assert kinds(path)[count + recorded :] == ["alarm", "acknowledged"]
    session.close()
    beside.close()


def test_a_window_beside_one_that_stands_still_sounds_until_that_lives_again(path, now):
    first, second = (Session.open(path, now(), materials()) for _ in range(2))
    first.tick(now())
    second.tick(now())
    for _ in range(30):
        first.tick(now.on(seconds=1))
        os.utime(path.with_name(f"{path.name}.alive"), ns=(0, int(now().timestamp()) * 10**9 // 2))
        second.tick(now())
        assert not second.rings
    assert "work there, or close it" in second.why_read_only
    second.tick(now.on(seconds=9))
    assert not second.rings
    second.tick(now.on(seconds=1))
    assert second.rings
    assert "the other window has frozen" in second.why_read_only
    assert second.read_only
    assert [clock.title for clock in second.tick(now.on(minutes=5))] == ["Kettle"]
    second.acknowledge_alarm(now.on(seconds=1))
    assert not clocks_.alarms(second.clocks, now())
    with pytest.raises(NotNow, match="has frozen"):
        second.add_part("Panel 2", now())
    os.utime(path.with_name(f"{path.name}.alive"), ns=(0, 0))
    second.tick(now.on(seconds=1))
    assert not second.rings
    assert second.project == first.project  # what was done about the alarm here is the other window's to record
    assert [clock.title for clock in first.tick(now())] == ["Kettle"]
    first.close()
    second.close()


def test_what_was_taken_aside_is_recorded_when_the_window_that_stood_still_is_closed(path, now):
    first, second = (Session.open(path, now(), materials()) for _ in range(2))
    second.tick(now())
    second.tick(now.on(minutes=5))
    assert second.rings
    second.tick(now())
    second.acknowledge_alarm(now.on(seconds=1))
    first.close()
    second.tick(now.on(seconds=1))
    assert not second.read_only
    assert kinds(path)[-2:] == ["alarm", "acknowledged"]
    second.close()


def test_the_real_program_on_a_full_disk_says_so_and_calls_its_alarms(path, home):
    """No file may grow beyond 1 KiB; the clock of the project has been due for years."""

    def no_room():
        resource.setrlimit(resource.RLIMIT_FSIZE, (1024, 1024))

    command = [sys.executable, "-m", "shopmate", "--plain"]
    before = path.read_bytes()
    done = subprocess.run(
        command, input="*\n0\n", capture_output=True, text=True, preexec_fn=no_room, timeout=60, check=False,
        env=os.environ | {"PYTHONPATH": str(ROOT), "PYTHONDONTWRITEBYTECODE": "1"},
    )  # fmt: skip
    said = " ".join(done.stdout.split())
    assert done.returncode == 0, done.stderr
    assert f"READ ONLY: {path.name} could not be written: the disk is full or failing; free the disk" in said
    assert "ALARM NOW, Kettle" in said
    assert said.count("READ ONLY") == 2  # when it opens, and when it is left
    assert "Everything is recorded" not in said
    assert path.read_bytes() == before
