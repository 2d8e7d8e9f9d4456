"""A project with a damaged file: it shows what can be read, records nothing more, and can be mended."""

import random
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from conftest import BEGAN, materials
from held import BEGUN, Held, Place
from plain_talk import Talk

from shopmate import cli, paths
from shopmate.dialogue import projects
from shopmate.errors import DamagedFile, LogError
from shopmate.lock import Lock
from shopmate.log import LOST, Event, Log
from shopmate.project import events_of
from shopmate.project.backups import back_up
from shopmate.project.mend import Mended, mend
from shopmate.session import NotNow, Session, project_path

LATER = BEGAN + timedelta(hours=1)


def change(path, number, column="data", value="'{\"x\": 1}'"):
    """Change an event behind the log's back, as a failing disk would."""
    with closing(sqlite3.connect(path, isolation_level=None)) as database:
        (sql,) = database.execute("SELECT sql FROM sqlite_master WHERE name = 'event_is_not_changed'").fetchone()
        database.execute("DROP TRIGGER event_is_not_changed")
        database.execute(f"UPDATE event SET {column} = {value} WHERE id = ?", (number,))
        database.execute(sql)


def number_of(path, kind, index=0):
    """Return the number of an event of a kind."""
    return [event.id for event in events_of(path) if event.kind == kind][index]


@pytest.fixture
def hide(begun):
    """A project with a run as far as the choice of a glue, and a clock of its own; its file."""
    path = begun("Weigh the resin")
    session = Session.open(path, LATER, materials())
    session.start_own("30 min", LATER)
    session.keep_typing("own clock", "12", "min")
    session.close()
    return path


@pytest.fixture
def shopmate(capsys):
    """Return a function that runs a command and returns its exit code and what it printed."""

    def run(*words):
        capsys.readouterr()
        code = cli.main(words, lambda: LATER)
        return (code, *capsys.readouterr())

    return run


def unwrapped(text):
    """Return a text without its spaces and the ends of its lines."""
    return "".join(text.split())


# Shown, and nothing more recorded


def test_a_damaged_project_is_shown_as_far_as_it_goes_and_takes_nothing(hide):
    whole = Session.open(hide, LATER, materials())
    project = whole.project
    whole.close()
    number = number_of(hide, "seen")
    change(hide, number)
    before = hide.read_bytes()
    session = Session.open(hide, LATER, materials())
    assert session.read_only
    assert (session.project.parts, session.project.clocks) == (project.parts, project.clocks)
    assert session.run.place == project.run.place
    assert session.run.seen.items() < project.run.seen.items()
    for act in (
        lambda: session.add_part("Panel 9", LATER),
        lambda: session.take_back(LATER),
        lambda: session.start_own("5 min", LATER),
    ):
        with pytest.raises(NotNow, match=rf"READ ONLY: .*{hide.name} is damaged: event {number} changed .*'shopmate mend small'"):
            act()
    session.keep_typing("own clock", "13", "min")
    session.tick(LATER + timedelta(hours=2))
    session.back_up(LATER)
    session.close()
    assert hide.read_bytes() == before
    assert not paths.backups().exists() or not list(paths.backups().rglob("*.shopmate"))


def test_it_is_let_go_of_for_who_mends_it(hide):
    change(hide, 3)
    session = Session.open(hide, LATER, materials())
    other = Lock(hide)
    assert other.take()
    other.release()
    session.close()


def test_the_notice_names_the_file_the_events_and_what_helps(hide):
    with Log(hide, read_only=True) as log:
        kept = back_up(log, LATER)
    change(hide, 4)
    desk = Place()
    desk.open(hide)
    (notice,) = [words for words in desk.notices.words if "READ ONLY" in words]
    assert notice.startswith("READ ONLY: small.shopmate is damaged: event 4 changed since it was written")
    assert kept.name in notice
    desk.close()
    held = Held(projects.begin(desk, hide))
    assert held.told[0].startswith(f"READ ONLY: {hide} is damaged: event 4 changed since it was written")
    assert held.told[0].endswith(f"leave, then run 'shopmate mend small'; the newest backup is {kept}")
    desk.close()


def test_events_of_a_run_that_is_lost_are_left_out_and_named(hide):
    number = number_of(hide, "run")
    change(hide, number)
    session = Session.open(hide, LATER, materials())
    assert (session.project.runs, session.project.run) == ({}, None)
    assert len(session.project.clocks) == 1
    left = [event.id for event in events_of(hide) if event.data.get("run") == str(number)]
    assert left
    assert sorted(session.project.left_out) == left
    assert f"events {left[0]} to {left[-1]} left out: its run is lost" in session.damage
    session.close()


def test_an_event_that_does_not_fit_is_left_out_and_no_other(small, now):
    """As one of a file that was damaged before its events had checksums."""
    path, before = small.log.path, small.project
    small.log.append("wall", {"shift_s": 1e18}, now())
    small.log.append("part", {"name": "Panel 9"}, now())
    small.close()
    session = Session.open(path, now(), materials())
    assert session.run == before.run
    assert list(session.project.parts) == [*before.parts, "Panel 9"]
    assert "does not fit the entries before it" in session.damage
    session.close()
    mended = mend(path, now())
    assert "does not fit the entries before it" in mended.lost
    session = Session.open(path, now(), materials())
    assert (session.read_only, list(session.project.parts)) == (False, [*before.parts, "Panel 9"])
    session.close()


def test_a_window_that_follows_takes_no_place_in_a_project_found_damaged(hide):
    first = Session.open(hide, LATER, materials())
    second = Session.open(hide, LATER, materials())
    first.add_part("Panel 9", LATER)
    first.close()
    change(hide, number_of(hide, "part", 1))
    second.follow(LATER)
    assert (second.read_only, "event" in second.damage) == (True, True)
    assert Lock(hide).take()
    second.close()


# What commands say of it


def test_the_log_is_exported_as_far_as_it_goes_and_says_what_is_lost(hide, shopmate):
    number = number_of(hide, "seen")
    sound = shopmate("log", "small")
    change(hide, number)
    code, out, said = shopmate("log", "small")
    assert (sound[0], code) == (0, 1)
    lines, changed = sound[1].splitlines(), out.splitlines()
    assert [line for line in lines if line not in changed] == [line for line in lines if "| Read WARNING" in line][:1]
    assert "LOST: an event | changed since it was written" in out
    assert f"{hide} is damaged: event {number} changed" in said
    assert "'shopmate mend small'" in said


def test_clocks_are_printed_of_a_damaged_project(hide, shopmate):
    assert shopmate("clocks", "small")[0] == 0
    change(hide, number_of(hide, "part"))
    code, out, said = shopmate("clocks", "small")
    assert (code, "Timer 1" in out) == (1, True)
    assert f"{hide} is damaged: event" in said


@pytest.mark.parametrize("spoil", [lambda content: content[:2000], lambda content: b"\xff" * len(content)], ids=["cut", "filled"])
def test_the_project_list_is_reachable_where_the_last_project_cannot_be_read(hide, spoil):
    other = Place()
    other.create(project_path("Shed"), "Shed", "metric")
    other.close()
    hide.write_bytes(spoil(hide.read_bytes()))
    talk = Talk(lambda: BEGUN, ["q"], hide)
    said = talk.run()
    assert unwrapped(f"{hide} cannot be opened as a project: it is damaged") in unwrapped(said)
    assert "shed" in said


def test_a_damaged_last_project_is_opened_read_only_by_the_program(hide):
    change(hide, 4)
    ran = subprocess.run(
        [sys.executable, "-m", "shopmate", "--plain"], input="", capture_output=True, encoding="utf-8", check=False
    )
    assert ran.returncode == 0, ran.stderr
    assert unwrapped(f"READ ONLY: {hide.name} is damaged: event 4 changed") in unwrapped(ran.stdout)


# Mended


def test_what_is_mended_holds_all_that_is_sound_under_its_number(hide):
    number = number_of(hide, "seen")
    whole, typed = events_of(hide), Session.open(hide, LATER, materials())
    damaged_at = whole[number - 2].at
    typed.close()
    whole = events_of(hide)
    change(hide, number)
    damaged = hide.read_bytes()
    mended = mend(hide, LATER)
    assert mended == Mended(len(whole) - 1, f"event {number} changed since it was written", mended.aside)
    assert mended.aside.name == "small.shopmate.damaged-2026-05-04-090000"
    assert mended.aside.read_bytes() == damaged
    lost = Event(number, damaged_at, LOST, {"why": "changed since it was written"})
    assert events_of(hide) == [lost if event.id == number else event for event in whole]
    assert sorted(file.name for file in hide.parent.iterdir()) == ["small.shopmate", mended.aside.name]
    session = Session.open(hide, LATER, materials())
    assert (session.damage, session.read_only, session.typing("own clock")) == ("", False, ("12", "min"))
    (clock,) = session.clocks
    session.end_clock(clock.key, LATER)
    assert session.take_back(LATER) == clock.title
    assert [clock.key for clock in session.clocks] == [clock.key]
    session.close()
    assert mend(hide, LATER) is None


def test_a_mended_project_whose_run_is_lost_is_worked_on(hide):
    change(hide, number_of(hide, "run"))
    mend(hide, LATER)
    session = Session.open(hide, LATER, materials())
    assert (session.read_only, session.project.runs, session.project.left_out != {}) == (False, {}, True)
    session.add_part("Panel 9", LATER)
    session.close()


def test_what_the_first_page_told_is_made_new(hide):
    whole = events_of(hide)
    content = bytearray(hide.read_bytes())
    content[:4096] = random.Random(1).randbytes(4096)
    hide.write_bytes(content)
    session = Session.open(hide, LATER, materials())
    assert "the first page of the file is unreadable" in session.damage
    session.close()
    mended = mend(hide, LATER)
    assert (mended.sound, events_of(hide)) == (len(whole), whole)


def test_it_is_not_mended_while_another_window_works_on_it(hide):
    session = Session.open(hide, LATER, materials())
    change(hide, 4)
    with pytest.raises(LogError, match=r"another window has .*small\.shopmate open; close it, then mend the project"):
        mend(hide, LATER)
    session.close()
    assert mend(hide, LATER) is not None


@pytest.mark.parametrize("fault", ["replace", "link"])
def test_mending_that_fails_leaves_the_file_as_it_was(hide, monkeypatch, fault):
    change(hide, 4)
    before = hide.read_bytes()

    def fail(*_, **__):
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        if fault == "replace":
            patch.setattr(type(hide), "replace", fail)
        else:  # of a file system without links, and no room for a copy
            patch.setattr("os.link", fail)
            patch.setattr("shopmate.project.mend.copyfile", fail)
        with pytest.raises(LogError, match=r"could not be replaced: No space left on device; the mended file is .*\.mended"):
            mend(hide, LATER)
    assert hide.read_bytes() == before
    assert Lock(hide).take()


def test_without_links_the_damaged_file_is_copied_aside(hide, monkeypatch):
    change(hide, 4)
    before = hide.read_bytes()
    monkeypatch.setattr("os.link", lambda *_: (_ for _ in ()).throw(OSError(95, "Operation not supported")))
    assert mend(hide, LATER).aside.read_bytes() == before


def test_the_command_says_what_is_lost_and_where_the_damaged_file_is(hide, shopmate):
    change(hide, 4)
    code, out, said = shopmate("mend", "small")
    assert (code, out) == (0, f"{hide}\n")
    assert "lost or damaged: event 4 changed since it was written; the damaged file is kept as" in said
    code, out, said = shopmate("mend", "small")
    assert (code, out, said) == (0, "", f"shopmate: nothing is damaged in {hide}\n")
    hide.write_bytes(b"\xff" * 9000)
    code, out, said = shopmate("mend", "small")
    assert (code, out, "it has no backup" in said) == (1, "", True)
    with pytest.raises(DamagedFile):
        events_of(hide)


# Anything else


def test_any_changed_byte_is_the_same_or_named_or_refused(home, tmp_path, monkeypatch):
    monkeypatch.syspath_prepend(str(Path(__file__).parent / "bench"))
    import damage

    counts = damage.count(150, 1, tmp_path)
    assert sum(counts.values()) == 150
    assert (counts["other"], counts["silent"]) == (0, 0)
    assert min(counts["same"], counts["named"]) > 10
