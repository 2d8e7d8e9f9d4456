"""A bar or a skin bonded: the dry run against the open time, the test bead before the half hour, cautions where they belong."""

from datetime import timedelta

import pytest
from shipped_run import at, clock, figure, finished, stopped

from shopmate.session import find_recipe

EPOXY = {"Glue": "epoxy"}


def done(session):
    return [event.data.get("headline") for event in session.log.events()]


@pytest.mark.outside("four fifths of the open time by hand")
@pytest.mark.parametrize(
    ("answers", "longest"),
    [
        ({}, 12.0),  # 15 min on the shelf, at its own 20 °C: 0.8 × 15
        ({"Surface temperature": "33 °C", "Air temperature": "30 °C"}, 6.0),  # 10 K over the data sheet's 23 °C: half of it
    ],
)
def test_the_dry_run_may_take_four_fifths_of_the_open_time(answers, longest):
    """Laying the glue and closing it fit in 80 % of the open time at that warmth [common practice]."""
    for minutes, held in ((longest, None), (longest + 0.1, "Can you close in time?")):
        assert stopped("bonding", {**answers, "Time to glue and close": f"{minutes:g} min"}) == held


def test_the_dry_run_of_epoxy_is_measured_by_the_open_time_of_the_resin():
    session = finished("bonding", EPOXY)
    longest = figure(session, "span.dry_run", "min")
    assert longest == pytest.approx(0.8 * figure(session, "span.close_within", "min"))
    assert clock(session, "open").length.total_seconds() / 60 == pytest.approx(longest / 0.8)
    for minutes, held in ((longest - 0.1, None), (longest + 0.1, "Can you close in time?")):
        assert stopped("bonding", {**EPOXY, "Time to glue and close": f"{minutes:g} min"}) == held


def test_the_nozzle_is_cut_and_tried_before_the_half_hour_of_bare_metal_begins():
    session, now = at("bonding", "Lay the beads", {})
    order = ["Can you close in time?", "Width of a test bead", "Bead fills the joint", "Degrease the metal", "Start 30 min clock"]
    assert [headline for headline in done(session) if headline in order] == order
    assert session.project.clocks[clock(session, "clean_bare").key].due_at > now


@pytest.mark.parametrize(("glue", "is_told"), [("cartridge", True), ("epoxy", False)])
def test_isocyanate_is_told_of_only_where_a_cartridge_is_used(glue, is_told):
    session, _ = at("bonding", "Clean the squeeze-out", {"Glue": glue})
    steps = [
        step
        for section in find_recipe("bonding").sections
        for step in section.steps
        if any("Isocyanate" in caution.text.text for caution in step.cautions)
    ]
    assert [step.headline for step in steps] == ["Width of a test bead"]
    assert ("Width of a test bead" in done(session)) is is_told


@pytest.mark.parametrize("glue", ["cartridge", "epoxy"])
def test_a_part_may_be_lifted_for_dry_spots_while_the_open_time_runs(glue):
    session, now = at("bonding", "Squeeze-out all along?", {"Glue": glue})
    close = clock(session, "open")
    assert close.ended_at is None
    assert now < close.due_at
    for when, late in ((close.due_at, None), (close.due_at + timedelta(minutes=1), timedelta(minutes=1))):
        session.judge("even", when)
        assert session.project.clocks[close.key].ended_at == when
        assert session.project.clocks[close.key].late == late
        session.take_back(when)


def test_fire_is_warned_of_where_solvent_wipes_wood_or_metal_and_dust_only_for_metal():
    told = {"Solvent vapour": set(), "Chlorinated solvent": set()}
    for section in find_recipe("bonding").sections:
        for step in section.steps:
            for words, headlines in told.items():
                if any(words in caution.text.text for caution in step.cautions):
                    headlines.add(step.headline)
    assert told["Solvent vapour"] == {"Degrease the metal", "Plane a fresh face", "Pots outdoors", "Tools cleaned"}
    assert told["Chlorinated solvent"] == {"Degrease the metal"}


def test_bare_wood_is_planed_once_it_is_dry_enough_and_no_metal_is_degreased_for_it():
    wood = {"Bonded to": "wood", "Piece": "skin"}
    order = ["Wood moisture", "Plane a fresh face", "Vacuum the wood", "Water drop soaks in?"]
    headlines = done(finished("bonding", wood))
    assert [headline for headline in headlines if headline in order] == order
    assert "Degrease the metal" not in headlines
    for moisture, held in (("16 %", None), ("16.1 %", "Dry enough")):
        assert stopped("bonding", {**wood, "Wood moisture": moisture}) == held
