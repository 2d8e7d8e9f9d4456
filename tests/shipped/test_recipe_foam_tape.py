"""A bar on foam tape and screws: tape or adhesive, warmth, clean faces, and nothing that can be moved once it touches."""

from datetime import timedelta

import pytest
from shipped_run import at, clock, figure, finished, stopped, used, worked_out

LONG = {"Bond length": "6 m", "Foam tape": "foam-tape-19-mm", "Mass on the bar": "3 kg"}


def test_a_bar_of_6_m_is_chosen_its_tape_by_the_calculators():
    session = finished("foam-tape", LONG)
    grows = worked_out("expansion", "joint", "mm", length="6 m", dt="50 K", material_a="aluminium", material_b="3.5 µm/m·K")
    assert figure(session, "grows.joint", "mm") == pytest.approx(grows)
    given = {
        "mass": "3 kg",
        "width": "19 mm",
        "rule": "57 cm²/kg",
        "length_mismatch": f"{grows} mm",
        "surface_mismatch": "0.3 mm",
    }
    for output, unit in (("thickness", "mm"), ("elastic", "mm"), ("length", "mm"), ("press", "N"), ("press_mass", "kg")):
        assert figure(session, f"hold.{output}", unit) == pytest.approx(worked_out("tape", output, unit, **given))


def test_its_figures_are_those_worked_out_by_hand():
    """Aluminium 24, plywood 3.5 millionths; tape takes 3 times its thickness, adhesive half; 15 psi [computed]."""
    session = finished("foam-tape", LONG)
    end = (24 - 3.5) * 1e-6 * 6000 * 50 / 2
    assert figure(session, "grows.movement_each_end", "mm") == pytest.approx(end)
    assert figure(session, "hold.thickness", "mm") == pytest.approx(end / 3)
    assert figure(session, "hold.elastic", "mm") == pytest.approx(2 * end)
    assert figure(session, "hold.length", "mm") == pytest.approx(3 * 5700 / 19)
    assert figure(session, "hold.press", "N") == pytest.approx(15 * 0.00689476 * 19 * 25, rel=0.001)


def test_the_same_bar_in_feet_and_pounds_needs_the_same_tape():
    inch = {"Bond length": "19 ft 8 7/32 in", "Mass on the bar": "6.614 lb", "Widest gap under bar": "0.012 in"}
    session = finished("foam-tape", inch, "inch")
    assert figure(session, "hold.thickness", "mm") == pytest.approx((24 - 3.5) * 1e-6 * 6000 * 50 / 6, rel=0.001)
    assert figure(session, "hold.length", "mm") == pytest.approx(900, rel=0.001)


@pytest.mark.parametrize(
    ("answers", "at_step"),
    [
        ({"Face fit for tape?": "rough"}, "Face fit for tape?"),
        ({"Face fit for tape?": "wet"}, "Face fit for tape?"),
        ({"Hottest in the sun": "70 °C"}, None),
        ({"Hottest in the sun": "71 °C"}, "Cool enough for tape"),
        ({"Widest gap under bar": "0.55 mm"}, None),  # half of 1.1 mm
        ({"Widest gap under bar": "0.56 mm"}, "Tape thick enough"),
        ({"Bond length": "6.4 m"}, None),
        ({"Bond length": "6.5 m"}, "Tape thick enough"),  # grows by more than 3 × 1.1 mm at each end
        ({"Bond length": "0.9 m", "Mass on the bar": "3 kg"}, None),
        ({"Bond length": "0.9 m", "Mass on the bar": "3.1 kg"}, "Enough tape for load"),
        ({"Bar": "aluminium-3-4-x-1-16-in", "Foam tape": "foam-tape-3-4-in"}, None),
        ({"Straight onto its pins?": "forced"}, "Straight onto its pins?"),
        ({"Bar temperature": "10 °C"}, None),
        ({"Bar temperature": "9.5 °C"}, "Bar warm enough"),
        ({"Face rag still white?": "grey"}, "Face rag still white?"),
        ({"Ready to peel liner?": "wait"}, "Ready to peel liner?"),
        ({"No gap under the edge?": "gap"}, "No gap under the edge?"),
    ],
)
def test_tape_is_not_asked_to_do_what_it_cannot(answers, at_step):
    assert stopped("foam-tape", answers) == at_step


def test_everything_is_tried_dry_before_the_liner_comes_off():
    done = [event.data.get("headline") for event in finished("foam-tape", {}).log.events()]
    order = [
        "Gloves on",
        "Washed, film unbroken?",
        "P100 mask on",
        "Pilots drilled",
        "Face smooth, 220 grit",
        "Straight onto its pins?",
        "Bar wiped",
        "Rag into the lidded can",
        "Lay tape, no stretch",
        "Ready to peel liner?",
        "Face rag still white?",
        "Rags laid outdoors",
        "Lower it, pull liner",
        "Press it hard, twice",
        "No gap under the edge?",
        "Screws in by hand",
        "Ends and top sealed",
    ]
    assert [headline for headline in done if headline in order] == order


def test_filled_holes_are_washed_before_they_are_sanded():
    done = [event.data.get("headline") for event in finished("foam-tape", {"Screws go into": "core"}).log.events()]
    assert done.index("Core filled and cured") < done.index("Filled holes washed") < done.index("Face smooth, 220 grit")
    solid = [event.data.get("headline") for event in finished("foam-tape", {}).log.events()]
    assert "Filled holes washed" not in solid


def test_the_roll_loses_the_length_of_the_bar():
    (tape,) = used(finished("foam-tape", LONG))
    assert (tape["title"], tape["amount"]["text"]) == ("Foam tape 19 mm × 1.1 mm", "6.3 m")


def test_the_face_is_wiped_and_its_clock_started_once_the_tape_is_on_the_bar():
    """Cut back at every hole of 6 m of bar, the tape alone takes longer than a wiped face stays clean [common practice]."""
    session, now = at("foam-tape", "Roll it down hard", LONG)
    assert not session.project.clocks
    session, now = at("foam-tape", "Peel 100 mm of liner", LONG)
    assert clock(session, "clean").started_at < now


def test_a_wiped_face_that_waited_is_wiped_again():
    session, now = at("foam-tape", "Lower it, pull liner", {})
    clean = clock(session, "clean")
    assert (clean.kind, clean.length) == ("DO BEFORE", timedelta(minutes=30))
    assert now < clean.due_at
    assert clean.if_late.startswith("Wipe the face again before the bar touches it.")
    late = clean.due_at + timedelta(minutes=1)
    session.tick(late)
    session.done(late)
    assert [mark.late_s for mark in session.run.marks.values() if mark.late_s]


def test_the_bar_is_loaded_after_three_days():
    session = finished("foam-tape", {})
    full = clock(session, "full")
    assert (full.kind, full.length) == ("NOT BEFORE", timedelta(hours=72))
    assert full.if_late == "No harm. The bond only gets stronger."
    (waited,) = [event for event in session.log.events() if event.data.get("headline") == "Wait for full bond"]
    assert waited.at >= full.due_at
