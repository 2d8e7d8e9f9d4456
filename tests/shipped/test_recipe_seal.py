"""A seal round an opening of 2.2 x 1.2 m: the tightest and the widest spot, the way of the water, three days of adhesive."""

from datetime import timedelta

import pytest
from conftest import BEGAN
from shipped_run import begun, clock, figure, finished, stopped, used, worked_out

from shopmate.session import WaitView
from shopmate.session.demo import follow
from shopmate.units import parse

SEAL = {"tolerances": "0.5 mm", "seal": "12 mm", "leg_a": "15 mm", "leg_b": "15 mm"}


def test_both_ends_of_the_gap_are_those_of_the_calculator():
    session = finished("seal", {})
    tight = {"gap": "19 mm", "at": "8 mm", "seal_force": "60 N/m", "opening_length": "2.2 m", "opening_width": "1.2 m", **SEAL}
    wide = {"gap": "21 mm", "at": "9 mm", **SEAL}
    for name, spot, outputs in (("tight", tight, ["clearance_a", "at_least"]), ("wide", wide, ["overlap_least", "overlap"])):
        for output in outputs:
            assert figure(session, f"{name}.{output}", "mm") == pytest.approx(worked_out("gap", output, "mm", **spot))
    force = worked_out("gap", "closing_force", "N", **tight)
    assert figure(session, "tight.closing_force", "N") == pytest.approx(force)


def test_its_figures_are_those_worked_out_by_hand():
    """Gap 19: legs of 15 clear by 4; gap 21: they lap by 9, less 0.5; 12 mm of seal at 7.5 and at 9.5 [computed]."""
    session = finished("seal", {})
    assert figure(session, "tight.clearance_b", "mm") == pytest.approx(19 - 15)
    assert figure(session, "wide.overlap_least", "mm") == pytest.approx(15 + 15 - 21 - 0.5)
    assert figure(session, "tight.compression_most", "%") == pytest.approx(100 * (12 - 7.5) / 12)
    assert figure(session, "wide.compression_least", "%") == pytest.approx(100 * (12 - 9.5) / 12)
    # Twice 2.2 and 1.2 m round, 60 N for each metre.
    assert figure(session, "tight.seal_length", "m") == pytest.approx(6.8)
    assert figure(session, "tight.closing_force", "N") == pytest.approx(6.8 * 60)


def test_an_opening_in_feet_needs_the_same_seal():
    answers = {"Length of the opening": "8 ft", "Width of the opening": "4 ft", "Free height of the seal": "1/2 in"}
    session = finished("seal", {**answers, "Thinnest pat of clay": "11/32 in", "Thickest pat of clay": "3/8 in"}, "inch")
    assert figure(session, "tight.seal_length", "m") == pytest.approx(24 * 0.3048)


@pytest.mark.parametrize(
    ("answers", "at"),
    [
        ({}, None),
        ({"Thinnest pat of clay": "7.7 mm"}, None),  # 7.2 mm is 40 % of 12 mm
        ({"Thinnest pat of clay": "7.6 mm"}, "Tightest spot fits"),
        ({"Thickest pat of clay": "9.1 mm"}, None),  # 9.6 mm is 20 %
        ({"Thickest pat of clay": "9.2 mm"}, "Widest spot fits"),
        ({"Smallest gap, shut": "17 mm"}, None),
        ({"Smallest gap, shut": "16.9 mm"}, "Roof's bar clears"),
        ({"Smallest gap, shut": "16.9 mm", "Leg of the roof's bar": "14.8 mm"}, "Wall's bar clears"),
        ({"Widest gap, shut": "21.5 mm"}, None),
        ({"Widest gap, shut": "21.6 mm"}, "Bars lap enough"),
        ({"Pull of all latches": "408 N"}, None),
        ({"Pull of all latches": "407 N"}, "Latches close it"),
        ({"Fall of the channel": "1.9 %"}, "Falls to the weeps"),
        ({"Cup of water runs out?": "stands"}, "Cup of water runs out?"),
        ({"Surface temperature": "16 °C"}, None),
        ({"Surface temperature": "15.9 °C"}, "Strip warm enough"),
        ({"Age of the paint": "7 d"}, None),
        ({"Age of the paint": "6 d"}, "Paint hard through"),
        ({"Seal is stuck on": "bare"}, None),
        ({"Paper drags all round?": "slips"}, "Paper drags all round?"),
    ],
)
def test_a_gap_or_a_face_that_will_leak_is_held_at_its_limit(answers, at):
    assert stopped("seal", answers) == at


def test_the_log_tells_the_seal_used_with_its_waste():
    (seal,) = used(finished("seal", {}))
    assert seal["title"] == "Adhesive-backed seal"
    assert parse(seal["amount"]["text"], "m").value_in("m") == pytest.approx(6.8 * 1.05)


def test_it_is_squeezed_after_a_day_and_wetted_after_three():
    session = begun("seal")
    now = follow(session, BEGAN, {}, until=lambda view: isinstance(view, WaitView))
    squeeze, full = clock(session, "squeeze"), clock(session, "full")
    assert (squeeze.length, full.length) == (timedelta(hours=24), timedelta(hours=72))
    assert squeeze.started_at == full.started_at
    assert not session.view(squeeze.due_at - timedelta(seconds=1)).go
    assert now < squeeze.due_at
    assert session.tick(squeeze.due_at - timedelta(seconds=1)) == []
    assert [one.title for one in session.tick(squeeze.due_at)] == ["First squeeze"]
    assert session.view(squeeze.due_at).go
    assert squeeze.if_late == "No harm. Keep it open and dry until you get there."


def test_weeps_are_drilled_and_poured_through_before_the_seal_hides_them():
    done = [event.data.get("headline") for event in finished("seal", {}).log.events()]
    assert done.index("Weep holes drilled") < done.index("Cup of water runs out?") < done.index("Lay it, no stretch")
    # The wipe with alcohol is the last thing that touches the strip.
    steps = [headline for headline in done if headline]
    taped = steps.index("Tape edge, plan ends")
    assert steps[taped + 1 : taped + 3] == ["Rag stays white?", "Lay it, no stretch"]
