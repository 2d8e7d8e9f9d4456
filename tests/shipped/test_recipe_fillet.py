"""A corner of 2 m filleted, with and without tape: hot pots leave before the long wait, and bare weave stays unsanded."""

import pytest
from shipped_run import finished

TAPE, BARE = {"Tape over the fillet": "tape"}, {"Tape over the fillet": "bare"}


def done(session):
    return [event.data.get("headline") for event in session.log.events()]


@pytest.mark.parametrize(("cover", "times"), [(TAPE, 2), (BARE, 1)])
def test_pots_go_outdoors_before_each_long_wait(cover, times):
    headlines = done(finished("fillet", cover))
    assert headlines.count("Pots outdoors") == times
    waits = [headline for headline in headlines if headline in ("Pots outdoors", "Wait until green", "Wait to sand")]
    assert waits == (["Pots outdoors", "Wait until green"] if cover is TAPE else []) + ["Pots outdoors", "Wait to sand"]


@pytest.mark.parametrize(
    ("cover", "sanded", "other"), [(TAPE, "Sand drips and edges", "Sand it"), (BARE, "Sand it", "Sand drips and edges")]
)
def test_the_weave_of_a_tape_that_nobody_filled_is_not_sanded(cover, sanded, other):
    headlines = done(finished("fillet", cover))
    assert sanded in headlines
    assert other not in headlines
    assert headlines.count("Wait for full cure") == 1


def test_the_window_for_tape_runs_while_the_pots_are_cleared_up():
    """Paste turns hard from the last stroke, whatever is cleaned after it [common practice]."""
    order = ["Start the recoat window", "Pots outdoors", "Wait until green"]
    assert [headline for headline in done(finished("fillet", TAPE)) if headline in order][:3] == order
