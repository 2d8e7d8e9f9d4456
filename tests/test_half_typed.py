"""What is half typed in a project: kept for its place alone, gone with the step, never an answer, never written by a reader."""

import pytest
from conftest import every_step, materials, reach

from shopmate.errors import LogError
from shopmate.session import FinishedView, Session
from shopmate.session.demo import follow

NOTHING = ("", "")


def typed_at_step(session, now):
    """What somebody who opens the project again finds half typed at the step in hand."""
    session.close()
    again = Session.open(session.log.path, now(), materials())
    return again, again.typing(again.step_place)


@pytest.fixture
def asked(small, now):
    reach(small, now, "Give the length")
    return small


def test_it_is_found_again_as_it_was_and_the_log_does_not_know_of_it(asked, now):
    project, count = asked.project, len(asked.log.events())
    asked.keep_typing(asked.step_place, "1-1/", "in")
    assert (asked.project, len(asked.log.events())) == (project, count)
    again, typed = typed_at_step(asked, now)
    assert typed == ("1-1/", "in")
    assert (again.run, [event.kind for event in again.log.events()[count:]]) == (project.run, ["opened"])
    again.close()


@pytest.mark.parametrize(
    ("leave", "come_back"),
    [
        (lambda session, now: session.answer("1.2 m", now()), lambda session, now: session.take_back(now())),
        (lambda session, now: session.take_back(now()), lambda session, now: session.answer("2", now())),
        (lambda session, now: session.give_up(now()), lambda session, now: session.take_back(now())),
    ],
    ids=["answered", "taken back", "given up"],
)
def test_it_is_gone_once_the_step_is_left_also_for_who_comes_back_to_it(asked, now, leave, come_back):
    place = asked.step_place
    asked.keep_typing(place, "12", "mm")
    leave(asked, now)
    assert asked.log.typing() == {}
    assert asked.typing(place) == NOTHING
    come_back(asked, now)
    assert asked.step_place == place
    again, typed = typed_at_step(asked, now)
    assert typed == NOTHING
    again.close()


def test_what_is_done_beside_the_step_leaves_it(asked, now):
    asked.keep_typing(asked.step_place, "12", "mm")
    key = asked.project.current
    asked.log_temperature("20 °C", now())
    asked.remember("bead", {"diameter": "5 mm"}, now())
    asked.begin("Panel 1", every_step(), now())
    assert asked.typing(asked.step_place) == NOTHING  # another run has another place
    asked.choose(key, now())
    again, typed = typed_at_step(asked, now)
    assert typed == ("12", "mm")
    again.close()


def test_the_same_step_in_another_turn_is_another_place(small, now):
    places = set()

    def note(view):
        places.add((view.headline, small.step_place))
        return isinstance(view, FinishedView)

    now.at = follow(small, now(), {}, until=note)
    headlines = [headline for headline, _ in places]
    assert len({place for _, place in places}) >= len(set(headlines))
    assert len(headlines) > len(set(headlines))  # a section of it is repeated


def test_a_window_that_only_reads_keeps_nothing_and_takes_up_what_the_other_left(asked, now):
    asked.keep_typing(asked.step_place, "12", "mm")
    reader = Session.open(asked.log.path, now(), materials())
    assert reader.read_only
    reader.keep_typing(reader.step_place, "99", "mm")
    assert asked.log.typing() == {asked.step_place: ("12", "mm")}
    asked.keep_typing(asked.step_place, "123", "mm")
    asked.close()
    reader.tick(now())
    assert not reader.read_only
    assert reader.typing(reader.step_place) == ("123", "mm")
    reader.close()


def test_a_full_disk_is_said_and_tried_again_at_the_next_key(asked, now):
    asked.log._connection.execute("PRAGMA query_only = ON")
    for _ in range(2):
        with pytest.raises(LogError, match="could not be written"):
            asked.keep_typing(asked.step_place, "1", "mm")
    asked.log._connection.execute("PRAGMA query_only = OFF")
    asked.keep_typing(asked.step_place, "1", "mm")
    again, typed = typed_at_step(asked, now)
    assert typed == ("1", "mm")
    again.close()


def test_an_answer_that_finds_no_room_leaves_what_was_typed_for_it(asked, now):
    asked.keep_typing(asked.step_place, "12", "mm")
    asked.log._connection.execute("PRAGMA query_only = ON")
    with pytest.raises(LogError):
        asked.answer("1.2 m", now())
    assert asked.typing(asked.step_place) == ("12", "mm")
