"""A frame for a full sheet followed to its end: glue and clamping force, a clock for each rail, and what holds it up."""

from datetime import timedelta

import pytest
from conftest import BEGAN
from shipped_run import at, begun, clock, figure, finished, stopped, used, worked_out

from shopmate.session.demo import follow

WARM = {"Air temperature": "32 °C", "Surface temperature": "33 °C", "Tonight's low": "25 °C"}
PSI = 6894.757
"""Pascals in a psi, from the exact pound and inch [computed]."""


def test_a_full_sheet_takes_the_glue_and_the_force_of_its_calculators():
    session = finished("frame", {"Rails": "6"})
    rail = {"width": "38 mm", "thickness": "0.8 mm", "length": "38 mm", "waste": "50 %"}
    assert figure(session, "rail.volume_needed", "mL") == pytest.approx(worked_out("bondline", "volume_needed", "mL", **rail))
    ends = {"length": "38 mm", "width": "38 mm", "glue": "PVA", "wood": "softwood"}
    assert figure(session, "squeeze.force", "N") == pytest.approx(worked_out("clamp", "force", "N", **ends))
    glue, screws = used(session)
    assert glue["title"] == "Water-resistant PVA wood glue"
    assert float(glue["amount"]["text"].removesuffix(" mL")) == pytest.approx(6 * figure(session, "rail.volume_needed", "mL"))
    assert (screws["title"], screws["amount"]["text"]) == ("Pocket screws, coarse", "24")


@pytest.mark.outside("areas and pressures multiplied by hand")
def test_the_glue_and_the_force_are_those_worked_out_by_hand():
    """Two ends of 38 × 38 mm, 0.2 mm on each part and half again, 150 psi for PVA on softwood [read, in the clamp sheet]."""
    session = finished("frame", {})
    assert figure(session, "rail.volume_needed", "mL") == pytest.approx(2 * 38 * 38 * (0.2 + 0.2) * 1.5 / 1000)
    assert figure(session, "squeeze.force", "N") == pytest.approx(150 * PSI * 0.038**2, rel=0.001)


def test_a_frame_in_inches_is_the_same_frame():
    inch = {"Face length": "96 in", "Face width": "48 in", "Core thickness": "1 1/2 in", "Width of frame wood": "1 1/2 in"}
    session = finished("frame", inch, "inch")
    assert figure(session, "squeeze.force", "N") == pytest.approx(150 * PSI * 0.0381**2, rel=0.001)
    assert figure(session, "length", "mm") == pytest.approx(2438.4)


def test_each_rail_has_its_own_open_time_and_screws_end_it():
    session = finished("frame", {})
    rails = [one for one in session.project.clocks.values() if one.name == "open"]
    assert len(rails) == 7
    # The short end of 5 to 10 min for PVA [common practice]; colder than 23 °C nothing is added.
    assert {one.length for one in rails} == {timedelta(minutes=5)}
    assert all(one.ended_at < one.due_at and one.late is None for one in rails)


def test_a_rail_closed_after_its_open_time_is_late_and_told_to_be_planed():
    session, now = at("frame", "Drive four screws", {})
    open_time = clock(session, "open")
    assert now < open_time.due_at
    for when, late in ((open_time.due_at, None), (open_time.due_at + timedelta(minutes=1), timedelta(minutes=1))):
        session.done(when)
        assert session.project.clocks[open_time.key].late == late
        session.take_back(when)
    assert (
        open_time.if_late
        == "Pull both joints apart, plane off the skinned glue, brush on fresh. Don't just scrape the old glue and wet it again."
    )


@pytest.mark.parametrize(
    ("answers", "held"),
    [
        ({"Diagonals differ by": "3 mm"}, None),
        ({"Diagonals differ by": "3.1 mm"}, "Square enough dry"),
        ({"Time to glue and close": "4 min"}, None),
        ({"Time to glue and close": "4.1 min"}, "One rail in time?"),
        # Ten degrees above the 23 °C of the label the open time is halved: 2.5 min, and a fifth stays in hand [common practice].
        ({**WARM, "Time to glue and close": "2 min"}, None),
        ({**WARM, "Time to glue and close": "2.1 min"}, "One rail in time?"),
        ({"Surface temperature": "10 °C", "Air temperature": "12 °C", "Tonight's low": "10 °C"}, None),
        ({"Surface temperature": "9.9 °C", "Air temperature": "12 °C", "Tonight's low": "10 °C"}, "Surface in limits"),
        ({"Wood moisture": "16 %"}, None),
        ({"Wood moisture": "16.1 %"}, "Dry enough"),
        ({"Trial joint holds?": "through"}, "Trial joint holds?"),
        ({"Blocks in, all flat?": "missing"}, "Blocks in, all flat?"),
        ({"Bead all round?": "dry"}, "Bead all round?"),
        ({"Test dab hard?": "soft"}, "Test dab hard?"),
    ],
)
def test_what_would_spoil_the_frame_holds_it_up_at_its_limit(answers, held):
    assert stopped("frame", answers) == held


def test_square_again_while_the_glue_is_soft():
    session = begun("frame")
    now = follow(session, BEGAN, {}, until=lambda view: view.headline == "Diagonals differ by" and has_glue(session))
    session.answer("3.1 mm", now, sure=True)
    assert session.view(now).headline == "Square enough wet"
    assert session.view(now).go is False


def has_glue(session):
    return any(one.name == "open" for one in session.project.clocks.values())


@pytest.mark.parametrize(("glue", "hours"), [("wood-glue-pva", 1), ("wood-glue-polyurethane", 4)])
def test_it_stays_clamped_as_long_as_its_glue_needs(glue, hours):
    """One hour for PVA [common practice], four for polyurethane [memory], from the last joint on."""
    session = finished("frame", {"Glue": glue})
    clamps = clock(session, "clamp_up_clamps")
    assert (clamps.kind, clamps.length) == ("NOT BEFORE", timedelta(hours=hours))
    done = {event.data.get("headline"): event.at for event in session.log.events()}
    assert done["Clamps off"] >= clamps.due_at


@pytest.mark.parametrize(("kind", "warned"), [("pva", False), ("polyurethane", True)])
def test_only_polyurethane_glue_is_brushed_with_a_mask_on(kind, warned):
    session = begun("frame")
    follow(session, BEGAN, {"Kind of glue": kind}, until=lambda view: view.headline == "Brush glue on both parts")
    done = [event.data.get("headline") for event in session.log.events()]
    assert ("Mask on" in done) is warned
    assert ("squeeze.force" in session.run.values) is not warned
