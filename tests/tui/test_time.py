"""The bench and the computer: a stop, a sleep, a clock that is set, a second window, a computer that may not sleep."""

import re
from datetime import timedelta

import pytest
from conftest import materials
from test_awake import Child
from tui_bench import SIZES, opened

from shopmate import times
from shopmate.awake import Awake
from shopmate.errors import LogError
from shopmate.session import Session
from shopmate.steady import Steady


class Steadily:
    """A steady clock that goes on with the time of the test, but not where that is set."""

    def __init__(self, now):
        self.now, self.began, self.ahead, self.boot = now, now(), timedelta(), "boot 1"

    def __call__(self):
        return Steady(self.boot, 100 + (self.now() - self.began - self.ahead).total_seconds())

    def set_wall(self, **ahead):
        self.ahead += timedelta(**ahead)
        self.now.on(**ahead)


@pytest.fixture
def steady(now):
    return Steadily(now)


@pytest.fixture
def path(small, now):
    """A project with a clock of 30 min."""
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=30), now())
    small.close()
    return small.log.path


async def test_ticks_that_did_not_come_make_no_clock_wrong(path, now, steady):
    async with opened(now, path, steady=steady) as at:
        await at.tick(seconds=1)
        now.on(minutes=7)  # stopped, or asleep: no tick
        await at.tick(seconds=59)
        assert times.face(at.session.clocks[0], now()) == "22:00"
        now.on(minutes=40)
        await at.tick(seconds=1)
        assert "Kettle +18:01" in at.text
        assert [event.data["stage"] for event in at.session.log.events() if event.kind == "alarm"] == ["due"]
        assert "COMPUTER CLOCK SET" not in at.text


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_clock_that_is_set_is_said_until_it_was_seen_and_the_time_left_stays(path, now, steady, size):
    async with opened(now, path, size, steady=steady) as at:
        await at.tick(minutes=10)
        steady.set_wall(hours=-3)
        await at.tick(seconds=0)
        assert "COMPUTER CLOCK SET back 3 h 00" in at.text
        assert times.face(at.session.clocks[0], now()) == "20:00"
        await at.press(",")
        await at.tick(minutes=11)
        assert "COMPUTER CLOCK SET" in at.text  # it was not drawn for long enough
        seen = await at.wait(45)
        assert "true" in " ".join(seen)  # to its end on a narrow screen too
        assert "COMPUTER CLOCK SET" in at.text  # nobody pressed a key since
        await at.press(",")
        await at.tick(seconds=1)
        assert "COMPUTER CLOCK SET" not in at.text
        assert [event.data["stage"] for event in at.session.log.events() if event.kind == "alarm"] == []


@pytest.mark.parametrize("size", [(80, 24), (40, 12)], ids=str)
async def test_a_sound_not_tested_hides_neither_a_clock_that_was_set_nor_what_is_not_on_disk(
    path, now, steady, size, monkeypatch
):
    def full(*_):
        raise LogError("full")

    async with opened(now, path, size, steady=steady, heard=None) as at:
        await at.press("4")
        assert at.view.headline == "Give the length"
        assert "SOUND NOT TESTED" in at.text
        steady.set_wall(hours=3)
        await at.tick(seconds=0)
        assert "COMPUTER CLOCK SET" in at.text
        monkeypatch.setattr(at.session, "keep_typing", full)
        await at.press("1")
        assert "NOT SAVED" in at.text
        seen = await at.wait(150)
        rows = list(dict.fromkeys(line.strip() for text in seen for line in text.splitlines() if "▲" in line))
        told = ("NOT SAVED", "CLOCK SET", "SOUND NOT")
        first = [next(place for place, row in enumerate(rows) if words in row) for words in told]
        assert first == sorted(first)
        assert all("(+" in row for row in rows)
        whole = " ".join(re.sub(r"^▲ \(\+\d\) ([A-Z ]+ … )?|( …)?$", "", row) for row in rows)  # the pieces put together
        assert "NOT SAVED: what you are typing. Free some disk space, or close whatever else has the file open" in whole
        assert "COMPUTER CLOCK SET forward 3 h 00 min at 11:00; your clocks still run true" in whole
        assert "SOUND NOT TESTED: / . Settings" in whole


async def test_a_key_looks_at_the_clock_before_it_acts(path, now, steady):
    async with opened(now, path, steady=steady) as at:
        steady.set_wall(hours=2)
        await at.press("+0 5 E")
        kinds = [event.kind for event in at.session.log.events()]
        assert kinds[-2:] == ["wall", "clock"]
        assert [times.face(clock, now()) for clock in at.session.clocks] == ["30:00", "5:00"]


async def test_what_sounds_goes_on_sounding_where_the_clock_is_set_back(path, now, steady, monkeypatch):
    rung = []
    async with opened(now, path, steady=steady) as at:
        monkeypatch.setattr(at.app, "bell", lambda: rung.append(now()))
        monkeypatch.setattr(at.app.sounder, "ring", lambda rhythm: at.app.bell())
        await at.tick(minutes=30)
        assert rung
        steady.set_wall(days=-2)
        rung.clear()
        await at.tick(seconds=30)
        assert rung


async def test_a_clock_set_while_the_program_was_shut_is_said_at_the_start(path, now, steady):
    session = Session.open(path, now(), materials(), steady())
    session.close()
    steady.set_wall(hours=5)
    async with opened(now, path, steady=steady) as at:
        assert "COMPUTER CLOCK SET forward 5 h 00 min" in at.text
        assert times.face(at.session.clocks[0], now()) == "30:00"


async def test_what_warns_and_what_fell_due_while_shut_is_on_the_screen_at_once(path, now, steady):
    now.on(minutes=25)
    async with opened(now, path, steady=steady) as at:
        assert "Kettle 5:00" in at.text
        assert ("asterisk", "seen") in at.shown
    now.on(minutes=20)
    async with opened(now, path, steady=steady) as at:
        assert "MISSED" in at.text
        assert "15 min ago" in at.text
        await at.tick(seconds=1)
        await at.press("*")
        assert "MISSED" not in at.text
        assert at.said == "SEEN Kettle"


# The second window


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_a_second_window_says_that_it_only_reads_and_follows_the_first(small, now, size):
    async with opened(now, small.log.path, size) as at:
        assert "READ ONLY" in at.text
        small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=30), now())
        await at.tick(seconds=1)
        assert [clock.title for clock in at.session.clocks] == ["Kettle"]
        count = len(small.log.events())
        await at.press("E")
        assert at.said.startswith("READ ONLY")
        await at.press("-")
        assert len(small.log.events()) == count


async def test_the_second_window_neither_records_an_alarm_nor_sounds_until_it_works_alone(small, now, monkeypatch):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=30), now())
    async with opened(now, small.log.path) as at:
        rung = []
        monkeypatch.setattr(at.app, "bell", lambda: rung.append(now()))
        monkeypatch.setattr(at.app.sounder, "ring", lambda rhythm: at.app.bell())
        await at.tick(minutes=30)
        assert (rung, [event.kind for event in small.log.events()].count("alarm")) == ([], 0)
        assert "Kettle" in at.text
        small.close()
        await at.tick(seconds=1)
        assert "READ ONLY" not in at.text
        assert rung
        assert [event.kind for event in at.session.log.events()].count("alarm") == 1


# Sleep


async def test_the_computer_is_kept_awake_while_a_clock_runs(small, now):
    started = []

    def start(words):
        started.append(Child())
        return started[-1]

    path = small.log.path
    small.close()
    async with opened(now, path, awake=Awake(["inhibit"], start)) as at:
        await at.tick(seconds=1)
        assert started == []
        await at.press("+05E")
        await at.tick(seconds=1)
        await at.tick(seconds=1)
        assert [child.code for child in started] == [None]
        await at.press("1E")
        await at.tick(seconds=1)
        assert [child.code for child in started] == [-15]
        await at.press("05E")
        await at.tick(seconds=1)
        assert "NO ALARM IN SLEEP" not in at.text
    assert [child.code for child in started] == [-15, -15]


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_where_it_cannot_be_kept_awake_that_is_said_once_and_stands_with_the_clocks(path, now, size):
    async with opened(now, path, size, awake=Awake(None)) as at:
        await at.tick(seconds=1)
        assert "NO ALARM IN SLEEP" in at.text
        await at.wait(30)
        await at.press(",")
        for _ in range(2):
            await at.tick(minutes=1)
            assert "NO ALARM IN SLEEP" in at.text  # in the row of the alarms, in short
            assert "no alarm" not in at.text
        await at.press("+")
        assert "NO ALARM IN SLEEP" in at.text


async def test_the_second_window_leaves_that_to_the_first(small, now):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=30), now())
    async with opened(now, small.log.path, awake=Awake(None)) as at:
        await at.tick(seconds=1)
        assert "NO ALARM IN SLEEP" not in at.text
