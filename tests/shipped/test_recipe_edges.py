"""Edges rounded for cloth and sawn at an angle: where the cut ends, what is added to the length, and what holds it up."""

import math

import pytest
from conftest import BEGAN
from shipped_run import begun, figure, finished, stopped, worked_out

from shopmate.session import FinishedView
from shopmate.session.demo import follow

PLANE = {"Edge to make": "plane"}
RIP = {"Edge to make": "rip"}


@pytest.mark.parametrize(("radius", "corner"), [("10 mm", None), ("12 mm", "105 °"), ("1/2 in", "120 °")])
def test_a_round_ends_where_its_calculator_says(radius, corner):
    way = {"Edge radius": radius} | ({} if corner is None else {**PLANE, "Outside corner angle": corner})
    fields = {"length": "1 m", "radius": radius} | ({} if corner is None else {"angle": corner})
    session = finished("edges", way)
    for output in ("setback", "arc"):
        assert figure(session, f"round.{output}", "mm") == pytest.approx(worked_out("edge", output, "mm", **fields))


def test_a_bevel_is_as_wide_and_as_far_out_as_its_calculator_says():
    session = finished("edges", {**RIP, "Thickness to saw": "50 mm", "Bevel from square": "22.5 °"})
    for output in ("face", "offset"):
        alone = worked_out("bevel", output, "mm", thickness="50 mm", angle="22.5 °")
        assert figure(session, f"cut.{output}", "mm") == pytest.approx(alone)


@pytest.mark.outside("plane geometry by hand, and a bevel of 18 mm at 15 degrees in the trade's notes")
def test_rounds_and_bevels_are_those_worked_out_by_hand():
    """The tangent from the corner to a circle, the quarter of its round; 18.6 and 4.8 mm of 18 mm at 15° [computed]."""
    square = finished("edges", {})
    assert figure(square, "round.setback", "mm") == pytest.approx(10)
    assert figure(square, "round.arc", "mm") == pytest.approx(10 * math.pi / 2)
    blunt = finished("edges", {**PLANE, "Outside corner angle": "120 °"})
    assert figure(blunt, "round.setback", "mm") == pytest.approx(10 / math.sqrt(3))
    sawn = finished("edges", RIP)
    assert figure(sawn, "cut.face", "mm") == pytest.approx(18.6, abs=0.05)
    assert figure(sawn, "cut.offset", "mm") == pytest.approx(4.8, abs=0.05)


def test_an_edge_in_inches_is_the_same_edge():
    session = finished("edges", {**RIP, "Thickness to saw": "3/4 in", "Bevel from square": "15 °"}, "inch")
    assert figure(session, "cut.offset", "in") == pytest.approx(0.75 * math.tan(math.radians(15)))


@pytest.mark.parametrize(
    ("answers", "held"),
    [
        ({"Edge radius": "10 mm"}, None),
        ({"Edge radius": "9.9 mm"}, "Edge round enough"),
        ({**PLANE, "Edge radius": "9.9 mm"}, "Edge round enough"),
        ({**RIP, "Bevel from square": "45 °"}, None),
        ({**RIP, "Bevel from square": "45.1 °"}, "Blade tilts that far"),
        ({"Solid wood, no metal?": "metal"}, "Solid wood, no metal?"),
        ({**RIP, "Test cut true?": "off"}, "Test cut true?"),
        ({"Wood clean and whole?": "burnt"}, "Wood clean and whole?"),
    ],
)
def test_what_would_spoil_the_edge_or_hurt_holds_it_up_at_its_limit(answers, held):
    assert stopped("edges", answers) == held


ROUTED = ["Depth tried on scrap", "Ends cut first", "Long edges cut last"]
PLANED = ["First flat at half angle", "Flats halved again", "Flats faired round"]
SAWN = ["Blade set by the gauge", "Fence and guards set", "Push block in hand", "Test cut true?", "Rip the wide board"]


@pytest.mark.parametrize(("way", "cuts"), [({}, ROUTED), (PLANE, PLANED), (RIP, SAWN)])
def test_each_kind_of_edge_is_cut_its_own_way_after_guards_and_goggles(way, cuts):
    done = [event.data.get("headline") for event in finished("edges", way).log.events()]
    assert [headline for headline in done if headline in {*ROUTED, *PLANED, *SAWN}] == cuts
    assert done.index("Goggles and ear muffs on") < done.index("Guards on, blades sharp") < done.index(cuts[0])
    assert done.index("P100 mask on") < done.index("Squeeze-out washed") < done.index(cuts[0])


@pytest.mark.parametrize(("way", "routed"), [({}, True), (PLANE, False), (RIP, False)])
def test_only_a_router_is_warned_of(way, routed):
    session, said = begun("edges"), set()

    def is_over(view):
        said.update(caution.text.text for caution in session.run.cautions)
        return isinstance(view, FinishedView)

    follow(session, BEGAN, way, until=is_over)
    assert any("router that grabs" in text for text in said) is routed
    done = [event.data.get("headline") for event in session.log.events()]
    assert done.count("Work clamped or guided") == 1


def test_it_leaves_the_part_edged_and_no_clock_behind():
    session = finished("edges", {})
    (event,) = [event for event in session.log.events() if event.kind == "finished"]
    assert event.data["makes"] == "edged"
    assert session.project.clocks == {}
