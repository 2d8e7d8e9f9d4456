"""The log of a project: what was acknowledged survives a kill, nothing is changed or removed, strange files are refused."""

import hashlib
import random
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from shutil import copy

import pytest
from conftest import ordinary_user
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shopmate.errors import DamagedFile, LogError
from shopmate.log import Event, Log, form
from shopmate.log import file as file_module

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)

KILLS = 30
"""How many times each kill test kills."""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "hide.shopmate"


@pytest.fixture
def log(path: Path) -> Iterator[Log]:
    with Log(path, create=True) as made:
        yield made


def raw(path: Path, *statements: str) -> list[tuple[object, ...]]:
    """Run statements on a file behind the log's back and return the rows of the last."""
    connection = sqlite3.connect(path, isolation_level=None)
    try:
        rows: list[tuple[object, ...]] = []
        for statement in statements:
            rows = connection.execute(statement).fetchall()
        return rows
    finally:
        connection.close()


# Kill tests: exactly two permitted answers, the state before or the state after

APPENDS_UNTIL_KILLED = """
import hashlib, random, sys
from datetime import UTC, datetime
from pathlib import Path
from shopmate.log import Log
path, round_ = Path(sys.argv[1]), int(sys.argv[2])
rng, log, number = random.Random(round_), Log(path), 0
while True:
    text = rng.randbytes(rng.choice((8, 500, 9000))).hex()
    data = {"round": round_, "number": number, "text": text, "sum": hashlib.sha256(text.encode()).hexdigest()}
    print(log.append("tried", data, datetime.now(UTC)).id, flush=True)
    number += 1
"""

MAKES_FILES_UNTIL_KILLED = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from shopmate.log import Log
number = 0
while True:
    with Log(Path(sys.argv[1]) / f"{sys.argv[2]}-{number}.shopmate", create=True) as log:
        log.append("made", {"number": number}, datetime.now(UTC))
    print(number, flush=True)
    number += 1
"""


def acknowledged_before_kill(program: str, *arguments: str, seed: int) -> list[int]:
    """Run a program that prints a number after each thing done, kill it at a random point, and return the numbers."""
    rng = random.Random(seed)
    with subprocess.Popen([sys.executable, "-c", program, *arguments], stdout=subprocess.PIPE, text=True) as child:
        assert child.stdout is not None
        printed = [child.stdout.readline() for _ in range(rng.randint(1, 12))]
        for _ in range(rng.randrange(100_000)):  # so that the kill falls on any moment of the next write
            pass
        child.kill()
        printed += child.stdout.readlines()
    return [int(line) for line in printed if line.endswith("\n")]


def test_every_acknowledged_event_survives_a_kill_and_none_is_there_in_part(path: Path) -> None:
    Log(path, create=True).close()
    events: list[Event] = []
    for seed in range(KILLS):
        acknowledged = acknowledged_before_kill(APPENDS_UNTIL_KILLED, str(path), str(seed), seed=seed)
        with Log(path) as log:
            before, events = events, log.events()
        assert raw(path, "PRAGMA integrity_check") == [("ok",)]
        assert events[: len(before)] == before
        new = events[len(before) :]
        assert acknowledged
        assert [event.id for event in new][: len(acknowledged)] == acknowledged
        assert len(new) - len(acknowledged) in (0, 1)
        assert [(event.data["round"], event.data["number"]) for event in new] == [(seed, number) for number in range(len(new))]
        for event in new:
            assert hashlib.sha256(str(event.data["text"]).encode()).hexdigest() == event.data["sum"]


def test_a_file_being_made_when_killed_is_whole_or_has_no_name(tmp_path: Path) -> None:
    for seed in range(KILLS):
        acknowledged = acknowledged_before_kill(MAKES_FILES_UNTIL_KILLED, str(tmp_path), str(seed), seed=seed)
        assert acknowledged == list(range(len(acknowledged)))
        for number in acknowledged:
            with Log(tmp_path / f"{seed}-{number}.shopmate") as log:
                assert [event.data for event in log.events()] == [{"number": number}]
        last = tmp_path / f"{seed}-{len(acknowledged)}.shopmate"
        if last.exists():
            with Log(last) as log:
                assert [event.data for event in log.events()] in ([], [{"number": len(acknowledged)}])
                log.append("made", {}, NOON)


@pytest.mark.parametrize("read_only", [False, True])
def test_what_a_killed_program_left_half_written_is_rolled_back(path: Path, tmp_path: Path, read_only: bool) -> None:
    with Log(path, create=True) as log:
        kept = log.append("kept", {}, NOON)
    writer = sqlite3.connect(path, isolation_level=None)
    writer.execute("PRAGMA cache_size = 1")  # forces pages of the open transaction out to the file
    writer.execute("BEGIN IMMEDIATE")
    for _ in range(200):
        writer.execute("INSERT INTO event (at, kind, data) VALUES ('2026-11-25', 'half', ?)", ("x" * 500,))
    left = tmp_path / "left"
    left.mkdir()
    for file in (path, path.with_name(f"{path.name}-journal")):
        copy(file, left)
    writer.close()
    assert (left / path.name).stat().st_size > 100_000
    with Log(left / path.name, read_only=read_only) as log:
        assert log.events() == [kept]
    assert raw(left / path.name, "PRAGMA integrity_check") == [("ok",)]


WRITES_TO_A_FULL_DISK = """
import resource, sys
from datetime import UTC, datetime
from pathlib import Path
from shopmate.errors import LogError
from shopmate.log import Log
now = datetime(2026, 11, 25, tzinfo=UTC)
with Log(Path(sys.argv[1])) as log:
    _, most = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (Path(sys.argv[1]).stat().st_size, most))
    try:
        log.append("large", {"text": "x" * 100_000}, now)
    except LogError as error:
        print(error)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, most))
    log.append("after", {}, now)
"""


def test_an_event_that_finds_no_room_is_refused_and_later_ones_are_written(path: Path) -> None:
    with Log(path, create=True) as log:
        log.append("before", {}, NOON)
    ran = subprocess.run([sys.executable, "-c", WRITES_TO_A_FULL_DISK, str(path)], capture_output=True, text=True, check=True)
    assert f"{path} could not be written: " in ran.stdout
    assert "free the disk" in ran.stdout
    with Log(path) as log:
        assert [event.kind for event in log.events()] == ["before", "after"]
    assert raw(path, "PRAGMA integrity_check") == [("ok",)]


# Append-only


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE event SET data = '{}'",
        "UPDATE event SET id = 7 WHERE id = 1",
        "DELETE FROM event",
        "DELETE FROM event WHERE id = 1",
    ],
)
def test_changing_and_removing_are_refused_by_the_file_itself(log: Log, path: Path, statement: str) -> None:
    kept = log.append("done", {"value": "310 g"}, NOON)
    with pytest.raises(sqlite3.IntegrityError, match="the log is append-only"):
        raw(path, statement)
    assert log.events() == [kept]


def test_events_are_numbered_from_one_in_the_order_they_came(log: Log) -> None:
    appended = [log.append("done", {"number": number}, NOON - timedelta(hours=number)) for number in range(5)]
    assert [event.id for event in appended] == [1, 2, 3, 4, 5]
    assert log.events() == appended


def test_only_the_events_above_a_number_are_read_where_one_is_given(log: Log) -> None:
    for kind in ("one", "two", "three"):
        log.append(kind, {}, NOON)
    assert [event.kind for event in log.events()] == ["one", "two", "three"]
    assert [event.kind for event in log.events(after=1)] == ["two", "three"]
    assert log.events(after=3) == []


def test_each_commit_is_synced_with_a_rollback_journal(log: Log) -> None:
    assert pragma(log, "journal_mode") == "delete"
    assert pragma(log, "synchronous") == 3  # EXTRA: the folder is synced too once the journal is removed


def test_a_file_turned_to_another_journal_is_turned_back(path: Path) -> None:
    Log(path, create=True).close()
    raw(path, "PRAGMA journal_mode = WAL")
    with Log(path) as log:
        assert pragma(log, "journal_mode") == "delete"


def pragma(log: Log, name: str) -> object:
    """Return a setting of the log's own connection, which no other connection can see."""
    return log._connection.execute(f"PRAGMA {name}").fetchone()[0]


# What an event holds

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
    max_leaves=12,
)


@given(data=st.dictionaries(st.text(), JSON), kind=st.text(min_size=1))
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
def test_any_data_comes_back_as_it_was_given(log: Log, path: Path, data: dict[str, object], kind: str) -> None:
    event = log.append(kind, data, NOON)
    assert (event.kind, event.data, event.at) == (kind, data, NOON)
    with Log(path, read_only=True) as reader:
        assert reader.events()[-1] == event


@given(
    st.datetimes(
        min_value=datetime(1971, 1, 1),  # noqa: DTZ001
        max_value=datetime(2200, 1, 1),  # noqa: DTZ001
        timezones=st.integers(-14 * 60, 14 * 60).map(lambda minutes: timezone(timedelta(minutes=minutes))),
    )
)
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
def test_times_come_back_aware_in_utc_to_the_millisecond(log: Log, at: datetime) -> None:
    event = log.append("done", {}, at)
    assert event.at.tzinfo is UTC
    assert timedelta(0) <= at - event.at < timedelta(milliseconds=1)
    assert log.events()[-1] == event


def test_words_stand_in_the_file_as_they_are_written_in_the_order_of_their_names(log: Log, path: Path) -> None:
    log.append("done", {"shown": "Gießharz ½ · 20 °C", "place": "1"}, NOON)
    assert raw(path, "SELECT data FROM event") == [('{"place": "1", "shown": "Gießharz ½ · 20 °C"}',)]


def test_a_reader_sees_what_a_writer_has_appended(log: Log, path: Path) -> None:
    with Log(path, read_only=True) as reader:
        assert reader.events() == []
        event = log.append("done", {}, NOON)
        assert reader.events() == [event]


# What is being typed: beside the events, one row a place


def test_what_is_being_typed_is_the_last_of_each_place_and_no_event(log: Log, path: Path) -> None:
    for text in ("8", "85", "85."):
        log.keep_typing("step 2 0.1.2", text, "g")
    log.keep_typing("form mix resin", "", "oz")
    kept = {"step 2 0.1.2": ("85.", "g"), "form mix resin": ("", "oz")}
    with Log(path, read_only=True) as reader:
        assert (reader.typing(), reader.events()) == (kept, [])
        with pytest.raises(LogError, match="could not be written"):
            reader.keep_typing("step 2 0.1.2", "850", "g")
    log.keep_typing("form mix resin", "", "")
    assert log.typing() == {"step 2 0.1.2": ("85.", "g")}


def test_an_answer_and_the_end_of_what_was_typed_for_it_are_one_transaction(log: Log, path: Path) -> None:
    log.keep_typing("step 2 0.1.2", "85.1", "g")
    log.keep_typing("step 3 0.1.2", "7", "")
    with pytest.raises(sqlite3.IntegrityError, match="no event today"):
        raw(
            path,
            "CREATE TRIGGER stop BEFORE DELETE ON typing BEGIN SELECT RAISE(ABORT, 'no event today'); END",
            "DELETE FROM typing",
        )
    with pytest.raises(LogError, match="no event today"):
        log.append("done", {}, NOON, over="step 2 0.1.2")
    assert log.events() == []
    raw(path, "DROP TRIGGER stop")
    event = log.append("done", {}, NOON, over="step 2 0.1.2")
    assert (log.events(), log.typing()) == ([event], {"step 3 0.1.2": ("7", "")})


def test_a_file_from_before_texts_were_kept_is_opened_for_work_and_read(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(form, "MIGRATIONS", {"events": form.MIGRATIONS["events"]})
        Log(path, create=True).close()
    raw(path, f"INSERT INTO event VALUES (1, '{NOON.isoformat()}', 'done', '{{}}')")
    event = Event(1, NOON, "done", {})
    with Log(path, read_only=True) as log:
        assert log.events() == [event]
    with Log(path) as log:
        assert (log.events(), log.typing()) == ([event], {})
        log.keep_typing("own clock", "5", "min")
    with Log(path) as log:
        assert log.typing() == {"own clock": ("5", "min")}


# Files that are refused


def test_a_missing_file_is_refused_and_not_made(path: Path) -> None:
    with pytest.raises(LogError, match=r"there is no project file .*hide\.shopmate; 'shopmate where'"):
        Log(path)
    assert not path.exists()


def test_a_folder_is_named_as_one(tmp_path: Path) -> None:
    with pytest.raises(LogError, match="is a folder; give the path of a project file"):
        Log(tmp_path)


def test_a_file_is_not_made_over_another(path: Path, log: Log) -> None:
    event = log.append("done", {}, NOON)
    with pytest.raises(LogError, match="already exists; choose another name"):
        Log(path, create=True)
    assert log.events() == [event]


def test_missing_folders_are_made(tmp_path: Path) -> None:
    path = tmp_path / "a" / "b" / "hide.shopmate"
    Log(path, create=True).close()
    assert path.is_file()


def test_a_file_where_a_folder_should_be_is_told_apart_from_a_project_of_that_name(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("not a folder", encoding="utf-8")
    with pytest.raises(LogError, match=r"cannot be opened as a project: .*check the name"):
        Log(tmp_path / "a" / "hide.shopmate", create=True)


@pytest.mark.parametrize("read_only", [False, True])
@pytest.mark.parametrize("journal", ["DELETE", "WAL"])
@pytest.mark.parametrize(
    "table", ["recipe (id)", "event (id INTEGER PRIMARY KEY, at, kind, data)", "migration (name TEXT PRIMARY KEY)"]
)
def test_a_database_of_something_else_is_refused_and_left_as_it_was(
    path: Path, table: str, journal: str, read_only: bool
) -> None:
    raw(path, f"PRAGMA journal_mode = {journal}", f"CREATE TABLE {table}")
    before = path.read_bytes()
    with pytest.raises(LogError, match="is not a shopmate database; choose a project file"):
        Log(path, read_only=read_only)
    assert path.read_bytes() == before


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="shows the files a process holds open")
def test_a_file_that_is_refused_is_not_held_open(path: Path) -> None:
    path.write_bytes(b"no database, and longer than the head of one" * 100)
    with pytest.raises(LogError) as refused:
        Log(path)
    assert refused.traceback  # it keeps what was being made from being collected
    held = [Path(name).resolve() for name in Path("/proc/self/fd").iterdir() if name.exists()]
    assert path.resolve() not in held


def test_a_database_with_tables_of_our_names_but_another_form_is_refused(path: Path) -> None:
    raw(path, "CREATE TABLE event (x)", "CREATE TABLE migration (y)")
    with pytest.raises(LogError, match="cannot be opened as a project"):
        Log(path)


@pytest.mark.parametrize("read_only", [False, True])
def test_a_file_that_is_no_database_is_refused_and_left_as_it_was(path: Path, read_only: bool) -> None:
    path.write_text("Cut the ply to 1220 mm.\n" * 100, encoding="utf-8")
    before = path.read_bytes()
    with pytest.raises(
        LogError, match="cannot be opened as a project: it is damaged, or not a project file; restore a backup, or check the name"
    ):
        Log(path, read_only=read_only)
    assert path.read_bytes() == before


@pytest.mark.parametrize("read_only", [False, True])
def test_a_file_of_a_newer_program_is_refused_and_left_as_it_was(path: Path, read_only: bool) -> None:
    Log(path, create=True).close()
    raw(path, "INSERT INTO migration VALUES ('pictures')")
    before = path.read_bytes()
    with pytest.raises(LogError, match=r"was written by a newer shopmate \(pictures\); update shopmate"):
        Log(path, read_only=read_only)
    assert path.read_bytes() == before


@pytest.mark.parametrize("read_only", [False, True])
def test_an_empty_file_is_no_new_project(path: Path, read_only: bool) -> None:
    path.touch()
    with pytest.raises(DamagedFile, match=r"is empty: its contents are lost; restore a backup, or remove the file"):
        Log(path, read_only=read_only)
    assert path.read_bytes() == b""


# Copies


def test_a_copy_holds_all_that_is_on_disk_and_opens_by_itself(log: Log, path: Path, tmp_path: Path) -> None:
    event = log.append("done", {"panel": "roof"}, NOON)
    log.keep_typing("step:1", "85.1", "g")
    log.copy_to(tmp_path / "elsewhere" / "copy.shopmate")
    log.append("done", {"panel": "door"}, NOON)
    with Log(tmp_path / "elsewhere" / "copy.shopmate") as copied:
        assert copied.events() == [event]
        assert copied.typing() == {"step:1": ("85.1", "g")}
    assert [file.name for file in (tmp_path / "elsewhere").iterdir()] == ["copy.shopmate"]
    assert log.path == path


def test_a_copy_takes_no_other_files_name(log: Log, tmp_path: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("mine", encoding="utf-8")
    with pytest.raises(LogError, match="already exists; choose another name"):
        log.copy_to(taken)
    assert taken.read_text(encoding="utf-8") == "mine"


def test_a_log_opened_to_be_read_takes_no_event(path: Path) -> None:
    Log(path, create=True).close()
    with Log(path, read_only=True) as log, pytest.raises(LogError, match="could not be written"):
        log.append("done", {}, NOON)
    with Log(path) as log:
        assert log.events() == []


def test_a_file_that_may_not_be_written_is_refused_for_work_but_can_be_read() -> None:
    with tempfile.TemporaryDirectory() as folder:  # not tmp_path, which only its owner may enter
        Path(folder).chmod(0o755)
        path = Path(folder) / "hide.shopmate"
        with Log(path, create=True) as log:
            event = log.append("done", {}, NOON)
        path.chmod(0o444)
        Path(folder).chmod(0o555)
        with ordinary_user():
            with pytest.raises(
                LogError, match="cannot be opened as a project: you have no permission to write it; allow writing"
            ):
                Log(path)
            with Log(path, read_only=True) as log:
                assert log.events() == [event]
            with pytest.raises(
                LogError, match=r"cannot be opened as a project: .* check the permissions of the file and its folder"
            ):
                Log(Path(folder) / "other.shopmate", create=True)
        Path(folder).chmod(0o755)


# Changes of the file's form


def test_changes_of_form_are_made_once(path: Path) -> None:
    Log(path, create=True).close()
    form = raw(path, "SELECT type, name, sql FROM sqlite_master ORDER BY name")
    for _ in range(3):
        Log(path).close()
    assert raw(path, "SELECT name FROM migration") == [("events",), ("typing",), ("checksums",), ("kept",)]
    assert raw(path, "SELECT type, name, sql FROM sqlite_master ORDER BY name") == form


def test_a_further_change_of_form_keeps_the_events(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Log(path, create=True) as log:
        event = log.append("done", {}, NOON)
    further = {"pictures": ("CREATE TABLE picture (id INTEGER PRIMARY KEY) STRICT",)}
    monkeypatch.setattr(form, "MIGRATIONS", {**form.MIGRATIONS, **further})
    for _ in range(2):
        with Log(path) as log:
            assert log.events() == [event]
    assert raw(path, "SELECT name FROM migration") == [("events",), ("typing",), ("checksums",), ("kept",), ("pictures",)]


def test_a_change_of_form_that_fails_leaves_the_file_as_it_was(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Log(path, create=True) as log:
        event = log.append("done", {}, NOON)
    failing = {"pictures": ("CREATE TABLE picture (id INTEGER PRIMARY KEY) STRICT", "CREATE TABLE event (id)")}
    with monkeypatch.context() as patch:
        patch.setattr(form, "MIGRATIONS", {**form.MIGRATIONS, **failing})
        with pytest.raises(LogError, match="table event already exists"):
            Log(path)
    with Log(path) as log:
        assert log.events() == [event]
    assert raw(path, "SELECT name FROM sqlite_master WHERE name = 'picture'") == []


def test_a_file_whose_making_failed_is_not_there_and_can_be_made_again(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(form, "MIGRATIONS", {"events": ("CREATE TABLE event (id)", "CREATE TABLE event (id)")})
        with pytest.raises(LogError, match="table event already exists"):
            Log(path, create=True)
    assert not path.exists()
    with Log(path, create=True) as log:
        assert log.events() == []
        log.append("done", {}, NOON)


def test_what_a_killed_program_left_beside_keeps_no_project_from_being_made_or_copied(tmp_path: Path) -> None:
    """Killed between making a file and naming it: what lies there is whole, and of this project or of another."""
    path = tmp_path / "roof.shopmate"
    with Log(tmp_path / "door.shopmate", create=True) as other:
        other.append("done", {}, NOON)
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(file_module, "_name", lambda beside, path: None)
            other.copy_to(path)
        assert len(list(tmp_path.iterdir())) == 2
        other.copy_to(tmp_path / "copy.shopmate")
    with Log(path, create=True) as log:
        assert log.events() == []
    assert sorted(left.name for left in tmp_path.iterdir()) == ["copy.shopmate", "door.shopmate", "roof.shopmate"]
