"""The bench in lines and the computer: a clock that is set, a second window, a computer that may not sleep."""

from datetime import timedelta

import pytest
from conftest import materials
from plain_talk import Talk, talk

from shopmate import times
from shopmate.awake import Awake
from shopmate.session import Session
from shopmate.steady import Steady


@pytest.fixture
def path(small, now):
    """A project with a clock of 30 min."""
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=30), now())
    small.close()
    return small.log.path


def test_a_clock_that_is_set_is_said_and_the_time_left_stays(path, now):
    talking = Talk(now, (), path, steady=lambda: Steady("boot 1", 100.0))
    left = []

    def look():
        left.append(times.face(talking.session.clocks[0], now()))

    # The steady clock stands still, so that all by which the time goes on is a setting of the wall clock.
    talking._typed = talking._next([lambda: now.on(hours=3), look, lambda: now.on(hours=-4), "clocks", look])
    said = talking.run()
    assert said.index("COMPUTER CLOCK SET forward 3 h 00 min") < said.index("COMPUTER CLOCK SET back 4 h 00 min")
    assert left == ["30:00", "30:00"]
    session = Session.open(path, now(), materials(), Steady("boot 1", 100.0))
    assert [event.kind for event in session.log.events()].count("wall") == 2
    session.close()


def test_a_clock_that_is_set_makes_no_sound_and_holds_none_back(path, now):
    passed, called = [0.0], []

    def goes_on(seconds, set_by=0.0):
        def step():
            passed[0] += seconds
            now.on(seconds=seconds + set_by)

        return step

    def look():
        called.append(len(bursts))

    bursts = []
    steps = [goes_on(28 * 60), look, goes_on(1, 3 * 3600), look, goes_on(9), look, goes_on(1, -4 * 3600), look, goes_on(9), look]
    talk(
        now,
        *steps,
        path=path,
        steady=lambda: Steady("boot 1", 100.0 + passed[0]),
        command=("horn",),
        run_command=lambda command, words: bursts.append(words) or "",
    )
    assert called == [1, 1, 2, 2, 3]


def test_a_second_window_says_that_it_only_reads_until_it_is_alone(small, now):
    said = talk(now, "", small.close, "", path=small.log.path)
    reads, refused = (
        said.index("READ ONLY: another window has"),
        said.index("READ ONLY: another window has this project open; work"),
    )
    assert reads < refused < said.index("The other window is closed: this one records now.")


def test_sleep_that_is_silent_is_said_once(path, now):
    said = talk(now, lambda: now.on(seconds=1), lambda: now.on(seconds=1), "clocks", path=path, awake=Awake(None))
    assert said.count("NO ALARM IN SLEEP: a sleeping") == 1
    assert said.count("NO ALARM IN SLEEP") == 2
    assert "\nClocks, NO ALARM IN SLEEP\n" in said
