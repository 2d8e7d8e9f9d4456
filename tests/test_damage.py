"""A project file that was damaged: what is read of it is what was written, and all else is named by its number."""

import random
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from hashlib import blake2b
from pathlib import Path

import pytest

from shopmate.errors import DamagedFile, LogError
from shopmate.log import LOST, Damage, Event, Log, form
from shopmate.log.chain import CHANGED, MISSING, UNFIT, named

NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)

COUNT = 60
"""Events of the project: more than one page of them."""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "hide.shopmate"


@pytest.fixture
def events(path: Path) -> list[Event]:
    """A project of many events and two texts half typed; what it holds."""
    with Log(path, create=True) as log:
        made = [log.append("done", {"number": number, "text": "x" * (number * 7 % 200)}, at(number)) for number in range(COUNT)]
        log.keep_typing("own clock", "12", "min")
        log.keep_typing("form bead length", "85.", "mm")
    return made


def at(number: int) -> datetime:
    return NOON + timedelta(seconds=number)


def raw(path: Path, *statements: str) -> list[tuple[object, ...]]:
    """Run statements on a file behind the log's back, its triggers left out, and return the rows of the last."""
    rows: list[tuple[object, ...]] = []
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        triggers = connection.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger'").fetchall()
        for name, _ in triggers:
            connection.execute(f"DROP TRIGGER {name}")
        for statement in statements:
            rows = connection.execute(statement).fetchall()
        for _, sql in triggers:
            connection.execute(sql)
    return rows


def read(path: Path, **how: bool) -> tuple[list[Event], list[Damage], dict[str, tuple[str, str]]]:
    """Return what a file holds, what is named as damaged in it, and what is half typed."""
    with Log(path, **how) as log:
        events, typing = log.events(), log.typing()
        return events, log.damages, typing


def with_lost(events: list[Event], *lost: int, why: str = CHANGED) -> list[Event]:
    """Return the events with some held by what stands for them, at the time of the one before."""
    times = {0: datetime(1970, 1, 1, tzinfo=UTC)}
    for event in events:
        times[event.id] = times[event.id - 1] if event.id in lost else event.at
    return [Event(event.id, times[event.id], LOST, {"why": why}) if event.id in lost else event for event in events]


# Checksums


def test_each_event_has_a_checksum_over_itself_and_the_one_before(path: Path) -> None:
    with Log(path, create=True) as log:
        log.append("done", {"shown": "20 °C"}, NOON)
        log.append("part", {}, NOON)
    before = b""
    for id_, moment, kind, data, kept_before, kept in raw(path, "SELECT id, at, kind, data, before, sum FROM event ORDER BY id"):
        fields = [before, *(str(field).encode() for field in (id_, moment, kind, data))]
        text = b"".join(b"%d:%b" % (len(field), field) for field in fields)
        assert kept_before == before.decode()
        assert kept == blake2b(text, digest_size=16).hexdigest()
        before = str(kept).encode()
    assert raw(path, "PRAGMA user_version") == [(2,)]


def test_a_file_of_before_is_given_checksums_once(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    old = {name: form.MIGRATIONS[name] for name in ("events", "typing")}
    with monkeypatch.context() as patch:
        patch.setattr(form, "MIGRATIONS", old)
        Log(path, create=True).close()
    for number in range(1, 4):
        raw(path, f"INSERT INTO event VALUES ({number}, '{NOON.isoformat()}', 'done', '{{\"x\": {number}}}')")
    raw(path, "INSERT INTO typing VALUES ('own clock', '12', 'min')")
    events = [Event(number, NOON, "done", {"x": number}) for number in range(1, 4)]
    assert read(path, read_only=True)[:2] == (events, [])
    assert read(path) == (events, [], {"own clock": ("12", "min")})
    sums = raw(path, "SELECT before, sum FROM event")
    assert [before for before, _ in sums] == ["", sums[0][1], sums[1][1]]
    assert read(path) == (events, [], {"own clock": ("12", "min")})
    assert raw(path, "SELECT before, sum FROM event") == sums
    with Log(path) as log, pytest.raises(sqlite3.IntegrityError, match="append-only"):
        log._connection.execute("UPDATE event SET sum = ''")


def test_giving_checksums_is_whole_or_not_at_all(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(form, "MIGRATIONS", {name: form.MIGRATIONS[name] for name in ("events", "typing")})
        Log(path, create=True).close()
    raw(path, f"INSERT INTO event VALUES (1, '{NOON.isoformat()}', 'done', '{{}}')")
    before = raw(path, "SELECT sql FROM sqlite_master")
    steps = form.MIGRATIONS["checksums"]
    for left_out in range(1, len(steps)):
        with monkeypatch.context() as patch:
            failing = (*steps[:left_out], "CREATE TABLE event (id)")
            patch.setattr(form, "MIGRATIONS", {**form.MIGRATIONS, "checksums": failing})
            with pytest.raises(LogError, match="table event already exists"):
                Log(path)
        assert sorted(map(str, raw(path, "SELECT sql FROM sqlite_master"))) == sorted(map(str, before))
    assert read(path)[:2] == ([Event(1, NOON, "done", {})], [])


# What is damaged


@pytest.mark.parametrize(
    "change",
    ["data = '{\"number\": 9}'", "kind = 'part'", "at = '2026-11-25T12:01:00.000+00:00'", "data = data || ' '"],
)
def test_an_event_whose_own_data_changed_is_damaged_and_no_other(path: Path, events: list[Event], change: str) -> None:
    for number in (1, 7, COUNT):
        kept = path.read_bytes()
        raw(path, f"UPDATE event SET {change} WHERE id = {number}")
        assert read(path)[:2] == (with_lost(events, number), [Damage(number, CHANGED)])
        path.write_bytes(kept)


@pytest.mark.parametrize("bad", ["CAST(x'ff41' AS TEXT)", "'not JSON'", "'[]'", "'" + "[" * 100_000 + "'", "'{\"x\": 1'"])
def test_data_that_is_none_is_damaged_even_where_it_was_there_before_the_checksums(
    path: Path, monkeypatch: pytest.MonkeyPatch, bad: str
) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(form, "MIGRATIONS", {name: form.MIGRATIONS[name] for name in ("events", "typing")})
        Log(path, create=True).close()
    for number, data in enumerate(("'{}'", bad, "'{}'"), start=1):
        raw(path, f"INSERT INTO event VALUES ({number}, '{NOON.isoformat()}', 'done', {data})")
    sound = [Event(number, NOON, "done", {}) for number in (1, 2, 3)]
    for how in ({"read_only": True}, {}):
        assert read(path, **how)[:2] == (with_lost(sound, 2, why=UNFIT), [Damage(2, UNFIT)])


@pytest.mark.parametrize("moment", ["soon", "", "2026-11-25T12:00:00", "0001-01-01T00:00:00+14:00", "2026-13-01T00:00:00+00:00"])
def test_a_time_that_is_none_is_damage(path: Path, monkeypatch: pytest.MonkeyPatch, moment: str) -> None:
    with monkeypatch.context() as patch:
        patch.setattr(form, "MIGRATIONS", {name: form.MIGRATIONS[name] for name in ("events", "typing")})
        Log(path, create=True).close()
    raw(path, f"INSERT INTO event VALUES (1, '{moment}', 'done', '{{}}')")
    assert read(path)[1] == [Damage(1, UNFIT)]


def test_a_checksum_that_alone_is_damaged_is_told_by_the_one_after_it(path: Path, events: list[Event]) -> None:
    raw(path, "UPDATE event SET sum = replace(sum, substr(sum, 1, 4), 'xxxx') WHERE id = 7")
    raw(path, "UPDATE event SET before = 'x' WHERE id = 9")
    assert read(path)[:2] == (events, [])
    raw(path, f"UPDATE event SET sum = 'x' WHERE id = {COUNT}")
    assert read(path)[1] == [Damage(COUNT, CHANGED)]


def test_missing_numbers_are_lost_events_wherever_they_are(path: Path, events: list[Event]) -> None:
    raw(path, f"DELETE FROM event WHERE id IN (1, 7, 8, {COUNT})")
    got, damages, _ = read(path)
    assert got == with_lost(events, 1, 7, 8, COUNT, why=MISSING)
    assert damages == [Damage(number, MISSING) for number in (1, 7, 8, COUNT)]


def test_an_event_put_in_place_of_another_is_damage_though_it_is_whole_in_itself(
    path: Path, events: list[Event], tmp_path: Path
) -> None:
    with Log(tmp_path / "other.shopmate", create=True) as other:
        for number in range(COUNT):
            other.append("done", {"other": number}, NOON)
    raw(path, f"ATTACH '{tmp_path / 'other.shopmate'}' AS other", "DELETE FROM event WHERE id = 7")
    raw(
        path,
        f"ATTACH '{tmp_path / 'other.shopmate'}' AS other",
        "INSERT INTO main.event SELECT * FROM other.event WHERE id = 7",
    )
    assert read(path)[:2] == (with_lost(events, 7), [Damage(7, CHANGED)])


def test_a_wrong_number_of_events_is_named(path: Path, events: list[Event]) -> None:
    raw(path, "PRAGMA user_version = 5")
    got, damages, _ = read(path)
    assert got == events
    assert [(damage.number, "number of events" in damage.what) for damage in damages] == [(None, True)]
    raw(path, f"PRAGMA user_version = {2**31 - 1}")
    assert read(path)[:2] == (events, damages)


def test_a_half_typed_text_that_changed_is_not_offered_and_named(path: Path, events: list[Event]) -> None:
    raw(path, "UPDATE typing SET text = '13' WHERE place = 'own clock'")
    with Log(path) as log:
        assert log.events() == events
        assert log.typing() == {"form bead length": ("85.", "mm")}
        assert ["half-typed" in damage.what for damage in log.damages] == [True]


def test_nothing_is_written_to_a_file_found_damaged(path: Path, events: list[Event]) -> None:
    raw(path, "UPDATE event SET kind = 'part' WHERE id = 7")
    with Log(path) as log:
        log.events()
        before = path.read_bytes()
        for write in (lambda: log.append("done", {}, NOON), lambda: log.keep_typing("own clock", "1", "min")):
            with pytest.raises(DamagedFile, match=r"hide\.shopmate is damaged: event 7 changed since .*'shopmate mend'"):
                write()
    assert path.read_bytes() == before


def test_what_is_damaged_is_said_in_stretches() -> None:
    numbers = [3, 4, 5, 9, *range(20, 32, 2)]
    damages = [*(Damage(number, MISSING) for number in numbers), Damage(10, CHANGED), Damage(None, "a page")]
    assert named(damages) == (
        "a page, events 3 to 5 missing, event 9 missing, event 10 changed since it was written, "
        "event 20 missing, event 22 missing, event 24 missing, and 3 more"
    )


# Pages and tables


def read_any(path: Path) -> tuple[list[Event], list[Damage]]:
    """Return what a file holds and what is named in it, where it can be opened for work or only to be read."""
    try:
        return read(path)[:2]
    except DamagedFile:
        return read(path, read_only=True)[:2]


def proved(path: Path, events: list[Event]) -> list[Damage]:
    """Return what is named in a damaged file in which each event is as it was written, or named."""
    got, damages = read_any(path)
    assert damages
    numbers = {damage.number for damage in damages}
    assert [event for event in got[: len(events)] if event not in events] == [
        event for event in got[: len(events)] if event.id in numbers
    ]
    assert len(got) >= len(events)
    return damages


@pytest.mark.parametrize("page", range(10))
def test_a_page_that_is_spoilt_loses_the_events_on_it_alone(path: Path, events: list[Event], page: int) -> None:
    content = bytearray(path.read_bytes())
    content[page * 4096 : (page + 1) * 4096] = random.Random(page).randbytes(4096)
    path.write_bytes(content)
    if page in (1, 2, 6, 7) and read_any(path) == (events, []):
        return  # of the changes of form and their index one is enough, and what is kept beside can be worked out again
    assert len([damage for damage in proved(path, events) if damage.number is not None]) < COUNT / 2


@pytest.mark.parametrize("size", [4096 * 9, 4096 * 10 + 100])
def test_a_file_cut_short_keeps_the_events_before_the_cut(path: Path, events: list[Event], size: int) -> None:
    path.write_bytes(path.read_bytes()[:size])
    proved(path, events)


def test_a_file_with_no_event_left_in_it_is_refused_by_name(path: Path, events: list[Event]) -> None:
    path.write_bytes(path.read_bytes()[: 4096 * 2])
    for how in ({}, {"read_only": True}):
        with pytest.raises(
            DamagedFile, match=r"hide\.shopmate cannot be opened as a project: it is damaged; try 'shopmate mend'"
        ):
            read(path, **how)


def test_with_a_first_page_that_is_spoilt_every_event_is_read_all_the_same(path: Path, events: list[Event]) -> None:
    content = bytearray(path.read_bytes())
    content[:4096] = bytes(4096)
    path.write_bytes(content)
    with pytest.raises(DamagedFile):
        Log(path)
    got, damages, _ = read(path, read_only=True)
    assert got == events
    assert [damage.number for damage in damages] == [None]


LENGTHS = [*range(3925, 3955), *range(4450, 4475), *range(8015, 8050), 12300, 20000]
"""Lengths of texts round those at which SQLite puts an event on one page more, and of some that need several pages."""


def test_events_longer_than_a_page_are_read_where_the_first_page_is_spoilt(path: Path) -> None:
    with Log(path, create=True) as log:
        events = [log.append("done", {"text": "x" * length}, NOON) for length in LENGTHS]
    content = path.read_bytes()
    path.write_bytes(bytes(4096) + content[4096:])
    assert read(path, read_only=True)[0] == events


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE migration SET name = 'checksunk' WHERE name = 'checksums'",
        "DELETE FROM migration WHERE name = 'checksums'",
        "DROP TABLE migration",
        "DROP TABLE typing",
        "ALTER TABLE event RENAME COLUMN sum TO sun",
        "ALTER TABLE event RENAME TO evens",
    ],
)
def test_damaged_tables_lose_no_event(path: Path, events: list[Event], statement: str) -> None:
    raw(path, statement) if "RENAME" not in statement else raw_keeping(path, statement)
    with pytest.raises(DamagedFile):
        Log(path)
    got, damages, _ = read(path, read_only=True)
    assert (got, [damage.number for damage in damages]) == (events, [None])


def raw_keeping(path: Path, statement: str) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute(statement)


@pytest.fixture
def whole(path: Path, events: list[Event]) -> Iterator[bytes]:
    return path.read_bytes()


def test_no_changed_byte_changes_an_event_without_a_word(path: Path, events: list[Event], whole: bytes) -> None:
    rng, counts = random.Random(11), {"same": 0, "named": 0}
    typing = read(path)[2]
    for _ in range(300):
        content, place = bytearray(whole), rng.randrange(len(whole))
        content[place] ^= rng.randrange(1, 256)
        path.write_bytes(content)
        try:
            got, damages, typed = read(path)
        except DamagedFile:
            got, damages, typed = read(path, read_only=True)
        if not damages:
            assert (got, typed) == (events, typing), place
            counts["same"] += 1
        else:
            proved(path, events)
            counts["named"] += 1
    assert min(counts.values()) > 50


def test_a_file_of_a_newer_program_is_told_from_a_damaged_one(path: Path, events: list[Event]) -> None:
    raw(path, "INSERT INTO migration VALUES ('pictures')")
    with pytest.raises(LogError, match="newer shopmate"):
        Log(path)
    raw(path, "DELETE FROM migration WHERE name = 'typing'")
    with pytest.raises(DamagedFile, match="is damaged: its list of format changes cannot be right"):
        Log(path)
    assert read(path, read_only=True)[0] == events


@pytest.mark.parametrize("most", [1, 3, 100])
def test_what_is_damaged_is_found_by_proving_a_few_at_a_time(path, most):
    with Log(path, create=True) as log:
        for number in range(10):
            log.append("done", {"number": number}, NOON)
    with closing(sqlite3.connect(path, isolation_level=None)) as database:
        (trigger,) = database.execute("SELECT sql FROM sqlite_master WHERE name = 'event_is_not_changed'").fetchone()
        database.execute("DROP TRIGGER event_is_not_changed")
        database.execute("UPDATE event SET data = replace(data, '4', '5') WHERE id = 5")
        database.execute(trigger)
    with Log(path) as log:
        assert log.damages == []
        while log.prove(10, most):
            pass
        assert [damage.number for damage in log.damages] == [5]
