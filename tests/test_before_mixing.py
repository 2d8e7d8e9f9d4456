"""What stands between a builder and the mixing: damp, cold and wet wood hold, by value, and pass by a reason alone."""

from datetime import timedelta
from pathlib import Path

import pytest
from conftest import BEGAN, materials

from shopmate import calc
from shopmate.clock import aged_due
from shopmate.errors import Doubt
from shopmate.log import Log
from shopmate.session import CautionView, EnterView, FinishedView, GateView, NotNow, Session, find_recipe
from shopmate.session.demo import follow

EPOXY = {"Choose the glue": "epoxy"}
CARTRIDGE = {"Choose the glue": "cartridge"}


def at(recipe, headline, given):
    """Follow a recipe up to a step, with answers by headline, and return the session and the time; holds are passed."""
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.name("Rehearsal", "metric", BEGAN)
    session.begin(session.add_part("Part", BEGAN), find_recipe(recipe), BEGAN)
    now = follow(session, BEGAN, given, until=lambda view: view.headline == headline and not isinstance(view, CautionView))
    return session, now


HOLDS = [
    ("bonding", "Pass the humidity", EPOXY, {"Read the humidity": "90 %"}),
    ("bonding", "Pass the humidity", CARTRIDGE, {"Read the humidity": "90 %"}),
    ("surface-prep", "Pass the humidity", {}, {"Read the humidity": "90 %"}),
    # Air of 20 °C and 50 % has its dew point at 9.3 °C: 20 °C of now passes, 12 °C of tonight does not.
    ("bonding", "Pass the tacky time", EPOXY, {"Give the coldest": "12 °C"}),
    ("bonding", "Pass the tacky time", CARTRIDGE, {"Give the coldest": "12 °C"}),
    ("surface-prep", "Pass the tacky time", {}, {"Give the coldest": "12 °C"}),
    # Dry enough at 15 °C, and colder than the 18 °C of the resin's sheet.
    ("bonding", "Pass the coldest", EPOXY, {"Give the coldest": "15 °C"}),
    ("surface-prep", "Pass the coldest", {}, {"Give the coldest": "14 °C", "Give the low limit": "15 °C"}),
    ("bonding", "Pass the temperature", EPOXY, {"Read the surface": "36 °C"}),
    ("surface-prep", "Pass the temperature", {}, {"Read the surface": "36 °C"}),
    ("bonding", "Pass the moisture", EPOXY, {"Measure the moisture": "17 %"}),
    ("bonding", "Pass the moisture", CARTRIDGE, {"Measure the moisture": "7 %"}),
    ("surface-prep", "Pass the moisture", {"Choose the surface": "wood"}, {"Measure the moisture": "17 %"}),
    ("bonding", "Pass the resin warmth", EPOXY, {"Read the resin warmth": "11 °C"}),
    ("bonding", "Pass the air", EPOXY, {"Read the air": "41 °C", "Read the surface": "30 °C", "Give the coldest": "25 °C"}),
]


def passed(recipe, gate, given):
    """Follow a recipe until a hold point is passed, and return what the log keeps of it."""
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.begin(session.add_part("Part", BEGAN), find_recipe(recipe), BEGAN)
    found = []

    def is_passed(_):
        found[:] = [event.data for event in session.log.events() if event.data.get("headline") == gate]
        return bool(found)

    follow(session, BEGAN, given, until=is_passed)
    return found[0]


@pytest.mark.parametrize(("recipe", "gate", "way", "bad"), HOLDS, ids=[f"{r} {g} {'-'.join(b)}" for r, g, _, b in HOLDS])
def test_a_value_out_of_its_limits_holds_and_passes_by_a_reason_alone(recipe, gate, way, bad):
    assert "reason" not in passed(recipe, gate, way), "it holds for no cause"
    session, now = at(recipe, gate, {**way, **bad})
    view = session.view(now)
    assert (type(view), view.go) == (GateView, False)
    with pytest.raises(NotNow):
        session.done(now)
    with pytest.raises(NotNow):
        session.override("  ", now)
    held = session.run.place
    session.override("Tried it before", now)
    assert session.run.place > held
    assert session.run.marks[held].shown == "passed: Tried it before"


LIMITS = [
    ("Humidity in limits", {"Humidity": "90 %"}),
    ("Surface in limits", {"Surface temperature": "36 °C"}),
    # Dry enough at 15 °C, and colder than the 18 °C of the resin's data sheet.
    ("Low in limits", {"Tonight's low": "15 °C"}),
    ("Bottles in limits", {"Bottle temperature": "11 °C"}),
    # Air of 20 °C and 80 % has its dew point at 16.4 °C: 18 °C of now does not pass, nor 18 °C of tonight where 21 °C does.
    ("Dew point now", {"Humidity": "80 %", "Surface temperature": "18 °C"}),
    ("Dew point tonight", {"Humidity": "80 %", "Surface temperature": "21 °C", "Tonight's low": "18 °C"}),
    ("Dry enough", {"Wood moisture": "14 %"}),
]


@pytest.mark.parametrize("recipe", ["fillet", "glassing"])
@pytest.mark.parametrize(("gate", "bad"), LIMITS, ids=[gate for gate, _ in LIMITS])
def test_a_reading_out_of_its_limits_stops_there_and_passes_by_a_reason_alone(recipe, gate, bad):
    session, now = at(recipe, gate, bad)
    view = session.view(now)
    assert (type(view), view.go) == (GateView, False)
    with pytest.raises(NotNow):
        session.done(now)
    with pytest.raises(NotNow):
        session.override("  ", now)
    held = session.run.place
    session.override("Tried it before", now)
    assert session.run.place > held
    assert session.run.marks[held].shown == "passed: Tried it before"


@pytest.mark.parametrize("recipe", ["fillet", "glassing"])
@pytest.mark.parametrize(("gate", "bad"), LIMITS, ids=[gate for gate, _ in LIMITS])
def test_a_reading_within_its_limits_costs_no_key(recipe, gate, bad):
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.begin(session.add_part("Part", BEGAN), find_recipe(recipe), BEGAN)
    shown = []

    def ends(view):
        shown.append(view.headline)
        return isinstance(view, FinishedView)

    follow(session, BEGAN, {}, until=ends)
    assert bad.keys() <= set(shown)
    assert gate not in shown


def test_a_bond_without_bare_wood_is_not_asked_for_its_moisture():
    session, _ = at("bonding", "Judge the faces", {**EPOXY, "Choose the faces": "sealed"})
    assert "moisture" not in session.run.values
    session, _ = at("bonding", "Judge the faces", EPOXY)
    assert "moisture" in session.run.values


def test_the_pot_lasts_what_was_worked_out_for_its_mass_and_warmth_not_what_the_sheet_says():
    given = {**EPOXY, "Decide the batch": "90 g", "Read the resin warmth": "28 °C", "Read the air": "24 °C"}
    session, _ = at("bonding", "Pour the hardener", given)
    (pot,) = [clock for clock in session.clocks if clock.name == "pot"]
    sheet = {"sheet_time": "40 min", "sheet_mass": "100 g", "sheet_temperature": "25 °C"}
    sheet |= {"sheet_time_2": "61 min", "sheet_temperature_2": "20 °C"}
    result = calc.run("potlife", {**sheet, "mass": "90 g", "temperature": "28 °C", "room": "24 °C"})
    assert pot.length / timedelta(minutes=1) == pytest.approx(result.outputs["empty_by"].value_in("min"))
    assert pot.length < timedelta(minutes=40)


def test_out_of_the_range_of_the_model_the_time_of_the_pot_is_asked_for():
    session, now = at("bonding", "Start the pot life", {**EPOXY, "Read the resin warmth": "10 °C"})
    view = session.view(now)
    assert isinstance(view, EnterView)
    assert "type the one of the data sheet" in view.problems[0]


def test_clamps_of_epoxy_follow_the_air_that_was_read_and_those_of_a_cartridge_the_wall():
    session, now = at("bonding", "Clean the squeeze-out", {**EPOXY, "Read the air": "20 °C"})
    (clamp,) = [clock for clock in session.clocks if clock.name == "clamp"]
    assert clamp.aging is not None
    assert (clamp.aging.celsius, clamp.aging.needed) == (25.0, timedelta(hours=24))
    assert clamp.due_at == aged_due(clamp.started_at, clamp.aging, "NOT BEFORE", [(BEGAN, 20.0)])
    assert clamp.length > timedelta(hours=24)
    with pytest.raises(Doubt):
        session.log_temperature("45 °C", now)
    session.log_temperature("30 °C", now)
    assert session.project.clocks[clamp.key].due_at < clamp.due_at
    session, now = at("bonding", "Clean the squeeze-out", CARTRIDGE)
    (clamp,) = [clock for clock in session.clocks if clock.name == "clamp"]
    assert (clamp.aging, clamp.length) == (None, timedelta(hours=24))
