"""Latches, handles and locks round an opening of 2.2 x 1.2 m: places, screws, a way out, and what a hand can close."""

import pytest
from shipped_run import figure, finished, stopped, used, worked_out

from shopmate.session import FinishedView, find_recipe
from shopmate.session.demo import follow


def test_screws_squeeze_and_spacing_are_those_of_the_calculators():
    session = finished("latches", {})
    screw = {"size": "#10", "head": "pan", "length": "1 in", "holding": "spruce-pine-fir", "holding_thickness": "40 mm",
             "top": "steel", "top_thickness": "2 mm"}  # fmt: skip
    assert figure(session, "hold.withdrawal_design", "N") == pytest.approx(worked_out("screw", "withdrawal_design", "N", **screw))
    assert figure(session, "hold.thread_in_holding", "mm") == pytest.approx(
        worked_out("screw", "thread_in_holding", "mm", **screw)
    )
    seal = {"gap": "19 mm", "leg_a": "15 mm", "leg_b": "15 mm", "seal": "12 mm", "at": "8 mm"}
    assert figure(session, "shut.set_at", "mm") == pytest.approx(worked_out("gap", "set_at", "mm", **seal))
    row = {"length": "2.2 m", "end": "100 mm", "spacing": "450 mm"}
    assert figure(session, "row.spacing", "mm") == pytest.approx(worked_out("pattern", "spacing", "mm", **row))


def test_its_figures_are_those_worked_out_by_hand():
    """20 to 40 % of 12 mm is 9.6 to 7.2 mm, midway 8.4; 6.8 m at 60 N/m; 2000 mm in spaces of 450 or less is five [computed]."""
    session = finished("latches", {})
    assert figure(session, "shut.set_at", "mm") == pytest.approx((9.6 + 7.2) / 2)
    assert figure(session, "shut.closing_force", "N") == pytest.approx(408)
    assert figure(session, "row.spacing", "mm") == pytest.approx(2000 / 5)
    assert session.run.values["row.count"].text == "6"
    # NDS 2018 eq. 12.2-2 [read]: W = 2850 G² D lb for each inch of thread, G 0.42 and D 0.19 in for spruce-pine-fir and #10.
    inches = figure(session, "hold.thread_in_holding", "in")
    assert figure(session, "hold.withdrawal_design", "lbf") == pytest.approx(2850 * 0.42**2 * 0.19 * inches, rel=0.01)


def test_in_inches_the_same_screws_hold_as_much():
    session = finished("latches", {"Length of the opening": "8 ft", "Depth of the block": "1 1/2 in"}, "inch")
    assert figure(session, "row.spacing", "in") == pytest.approx((96 - 2 * 100 / 25.4) / 5)


@pytest.mark.parametrize(
    ("answers", "at"),
    [
        ({}, None),
        ({"Opens from inside?": "shut"}, "Opens from inside?"),
        ({"Opens from inside?": "nobody"}, None),
        ({"Places clear?": "clash"}, "Places clear?"),
        ({"Widest latch spacing": "450 mm"}, None),
        ({"Widest latch spacing": "451 mm"}, "Latches close enough"),
        ({"Corner to last latch": "100 mm"}, None),
        ({"Corner to last latch": "101 mm"}, "Corners held"),
        ({"Pull on one screw": "322 N"}, None),
        ({"Pull on one screw": "324 N"}, "Screws hold the pull"),
        ({"Depth of the block": "23.4 mm"}, None),
        ({"Depth of the block": "23.3 mm"}, "Points stay inside"),
        ({"Wood all the way in?": "foam"}, "Wood all the way in?"),
        ({"Paper drags all round?": "slips"}, "Paper drags all round?"),
        ({"Adjustment left": "2.9 mm"}, "Can still be adjusted"),
        ({"Hardest latch to close": "101 N"}, "One hand closes it"),
        ({"Pull held by a handle": "200 N"}, None),
        ({"Pull held by a handle": "199 N"}, "Handles hold twice"),
    ],
)
def test_what_would_leak_tear_out_or_shut_someone_in_is_held_at_its_limit(answers, at):
    assert stopped("latches", answers) == at


def test_nothing_is_drilled_before_the_way_out_is_known_and_no_clock_runs():
    session = finished("latches", {"Number of handles": "4"})
    done = [event.data.get("headline") for event in session.log.events()]
    assert done.index("Opens from inside?") < done.index("Wood all the way in?") < done.index("Pilots drilled")
    # The wood is looked for where the keepers come to be, and nobody reaches in under a roof on shims.
    assert done.index("Keepers marked") < done.index("Open and propped") < done.index("Wood all the way in?")
    assert list(session.project.clocks) == []
    told = {one["title"]: one["amount"]["text"] for one in used(session)}
    assert told == {"Latches": "16", "Handles": "4"}


def test_what_the_seal_was_chosen_by_is_not_asked_again():
    """After the seal of a part its gap, bars and force stand there, as measured, and one key takes them."""
    session = finished("seal", {"Smallest gap, shut": "18.5 mm", "Free height of the seal": "12.5 mm"})
    now = max(event.at for event in session.log.events())
    session.begin(session.run.part, find_recipe("latches"), now)
    follow(session, now, {}, until=lambda view: isinstance(view, FinishedView))
    assert figure(session, "smallest", "mm") == pytest.approx(18.5)
    assert figure(session, "shut.set_at", "mm") == pytest.approx(0.7 * 12.5)


def test_the_struts_know_how_many_latches_there_are():
    session = finished("latches", {"Number of latches": "12"})
    now = max(event.at for event in session.log.events())
    session.begin(session.run.part, find_recipe("struts"), now)
    follow(session, now, {}, until=lambda view: view.headline == "All its weight on it?")
    assert session.run.values["latches"].text == "12"
