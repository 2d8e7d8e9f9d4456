"""Four slides of a roof 2.2 m long that rises 450 mm: parallel, packed with shims one by one, run ten times each."""

import pytest
from shipped_run import begun, figure, finished, stopped, used, worked_out

from shopmate.session import find_recipe


def test_racking_and_shims_are_those_of_the_calculators():
    session = finished("slides", {})
    rack = {
        "mode": "guided",
        "slides": "4",
        "slide_length": "350 mm",
        "play": "0.3 mm",
        "roof_length": "2.2 m",
        "hand_offset": "600 mm",
        "friction": "0.2",
    }
    assert figure(session, "rack.binding", "") == pytest.approx(worked_out("roof", "binding", "", **rack))
    assert figure(session, "rack.tilt", "mm") == pytest.approx(worked_out("roof", "tilt", "mm", **rack))
    shim = {"gap": "16.5 mm", "part": "12.9 mm"}
    for output in ("shim", "left", "picked"):
        assert figure(session, f"pack.{output}", "mm") == pytest.approx(worked_out("shim", output, "mm", **shim))


def test_its_figures_are_those_worked_out_by_hand():
    """Drawer rule 2·µ·offset/bearing, tilt by similar triangles, 16.5 − 12.9 filled with 3 + 0.5 mm [computed]."""
    session = finished("slides", {})
    assert figure(session, "rack.binding", "") == pytest.approx(2 * 0.2 * 600 / 350)
    assert figure(session, "rack.tilt", "mm") == pytest.approx(2200 * 0.3 / 350)
    assert figure(session, "pack.shim", "mm") == pytest.approx(3.6)
    assert figure(session, "pack.left", "mm") == pytest.approx(0.1)
    assert session.run.values["pack.pick"].text == "3 mm + 0.5 mm"


def test_in_inches_the_shim_is_picked_from_inch_stock():
    """21/32 in less 1/2 in and 1/128 in: 0.148 in, filled by 1/8 + 1/64 in, 0.2 mm left [computed]."""
    answers = {"Slide and minimum play": "0.508 in", "Smallest gap here": "21/32 in", "Largest gap here": "21/32 in"}
    session = finished("slides", {**answers, "Shim stock": "inch"}, "inch")
    assert session.run.values["pack.pick"].text == "1/8 in + 1/64 in"
    assert figure(session, "pack.left", "mm") == pytest.approx((21 / 32 - 0.508 - 9 / 64) * 25.4)


@pytest.mark.parametrize(
    ("answers", "at"),
    [
        ({}, None),
        ({"Between the outer slides": "450 mm"}, None),
        ({"Between the outer slides": "449 mm"}, "Far enough apart"),
        ({"Handle from the middle": "874 mm"}, None),
        ({"Handle from the middle": "875 mm"}, "Does not jam"),  # 2 x 0.2 x 875/350 is 1
        ({"Play of a slide": "0.31 mm"}, None),
        ({"Play of a slide": "0.32 mm"}, "Tilt small enough"),
        ({"Side rating of one slide": "300 N"}, None),
        ({"Side rating of one slide": "299 N"}, "Rated for the side load"),
        ({"Largest gap here": "17 mm"}, None),
        ({"Largest gap here": "17.1 mm"}, "Parallel enough"),
        ({"Smallest gap here": "16.7 mm", "Largest gap here": "16.7 mm"}, None),
        ({"Smallest gap here": "16.8 mm", "Largest gap here": "16.8 mm"}, "Play small enough"),
        ({"Wood all the way in?": "foam"}, "Wood all the way in?"),
        ({"Runs lightly?": "tight"}, "Runs lightly?"),
        ({"Ten full runs free?": "tight"}, "Ten full runs free?"),
        ({"Play at the rim": "2.1 mm"}, "Rim play small enough"),
    ],
)
def test_what_would_rack_rattle_or_jam_is_held_at_its_limit(answers, at):
    assert stopped("slides", answers) == at


@pytest.mark.parametrize("slides", [2, 4, 6])
def test_each_slide_is_set_and_run_before_the_next_and_all_are_used(slides):
    session = finished("slides", {"Number of slides": str(slides)})
    done = [event.data.get("headline") for event in session.log.events()]
    turns = [headline for headline in done if headline in ("Fixed by its slots", "Run ten times", "Round holes drilled")]
    assert turns == ["Fixed by its slots", "Run ten times"] * slides + ["Round holes drilled"]
    # Nothing runs on slides before stops keep it on them.
    assert done.index("Open stops bolted on") < done.index("Shut stops bolted on") < done.index("Slide lined up")
    (told,) = used(session)
    assert (told["title"], told["amount"]["text"]) == ("Slides", str(slides))


def test_no_clock_runs_where_nothing_cures():
    assert list(finished("slides", {}).project.clocks) == []


def test_what_a_roof_and_its_struts_share_is_asked_once():
    asked = {
        step.act.into for name in ("slides", "struts") for step in find_recipe(name).steps if step.headline == "Rise to open"
    }
    assert asked == {"rise"}
    assert begun("slides").run.value("rise") is None
