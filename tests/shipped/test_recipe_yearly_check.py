"""The yearly check: moisture, seal, push and play against last year, and no head under a roof that is not propped."""

import pytest
from shipped_run import figure, finished, stopped, worked_out

MOVED = "What lifts and guides it"


def test_the_seal_is_held_to_what_the_gap_calculator_allows():
    most = worked_out("gap", "at_most", "mm", gap="30 mm", leg_a="22 mm", leg_b="22 mm", seal="10 mm")
    assert most == pytest.approx(8)  # a fifth squeezed, of 10 mm [common practice]
    session = finished("yearly-check", {"Maximum seal height shut": "8 mm", "Seal height shut, worst": "7.5 mm"})
    assert figure(session, "seal_most", "mm") == 8
    assert figure(session, "seal_shut", "mm") == 7.5


@pytest.mark.parametrize(
    ("answers", "headline"),
    [
        ({}, None),
        ({"Seal height shut, worst": "8 mm"}, None),
        ({"Seal height shut, worst": "8.1 mm"}, "Seal still squeezed"),
        ({"Taps clear all over?": "dull"}, "Taps clear all over?"),
        ({"No wetter than before?": "wetter"}, "No wetter than before?"),
        ({"Roof stays up by itself?": "sinks"}, "Roof stays up by itself?"),
        ({MOVED: "both", "Roof stays up by itself?": "sinks"}, "Roof stays up by itself?"),
        ({MOVED: "slides", "Roof stays up by itself?": "sinks"}, None),
        ({MOVED: "none", "Roof stays up by itself?": "sinks"}, None),
        ({MOVED: "both", "Play under 3 mm?": "over"}, "Play under 3 mm?"),
        ({MOVED: "slides", "Play under 3 mm?": "over"}, "Play under 3 mm?"),
        ({MOVED: "struts", "Play under 3 mm?": "over"}, None),
        ({"Dry inside after rain?": "wet"}, "Dry inside after rain?"),
    ],
)
def test_what_was_found_stops_it_with_what_to_do(answers, headline):
    assert stopped("yearly-check", answers) == headline


def test_nobody_is_under_the_roof_before_it_stands_on_props():
    session = finished("yearly-check", {})
    order = [
        "One person calls moves",
        "Props in and locked",
        "Part washed",
        "Seal cleaned",
        "Look at the rods",
        "Push to open it now",
        "Propped for the studs",
        "Nip up ball studs",
    ]
    done = [event.data.get("headline") for event in session.log.events()]
    assert [headline for headline in done if headline in order] == order


@pytest.mark.parametrize("moved", ["both", "slides"])
def test_slides_are_run_with_the_props_out_and_their_screws_reached_with_them_in(moved):
    done = [event.data.get("headline") for event in finished("yearly-check", {MOVED: moved}).log.events()]
    order = ["Slides brushed", "Props out, weight held", "Play under 3 mm?", "Prop it for the screws", "Screws nipped up"]
    assert [headline for headline in done if headline in order] == order


@pytest.mark.parametrize(("moved", "propped"), [("both", True), ("struts", True), ("slides", True), ("none", False)])
def test_what_hangs_on_struts_or_slides_is_propped_first(moved, propped):
    done = [event.data.get("headline") for event in finished("yearly-check", {MOVED: moved}).log.events()]
    assert ("Props in and locked" in done) is propped
    assert ("Look at the rods" in done) is (moved in ("both", "struts"))
