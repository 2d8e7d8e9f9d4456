"""A skin on a full sheet followed to its end: glue by the area, screws and weight, open time, and what holds it up."""

import math
from datetime import timedelta

import pytest
from shipped_run import at, clock, figure, finished, stopped, used, worked_out

CORE = {"Bonded onto": "core"}
WARM = {"Air temperature": "33 °C", "Surface temperature": "35 °C", "Tonight's low": "25 °C"}
SHEET_M2 = 2.44 * 1.22
EPOXY = {"ratio": "2:1 by volume", "resin_density": "1.15 g/mL", "hardener_density": "0.97 g/mL"}


def test_a_skin_over_foam_takes_what_its_calculators_say():
    session = finished("skins", CORE)
    face = {"width": "1.22 m", "thickness": "0.3 mm", "length": "2.44 m"}
    volume = worked_out("bondline", "volume_needed", "mL", **face)
    assert figure(session, "line.volume_needed", "mL") == pytest.approx(volume)
    assert figure(session, "epoxy.total", "g") == pytest.approx(
        worked_out("mix", "total", "g", **EPOXY, total_volume=f"{volume} mL")
    )
    screws = {"length": "12.9 m", "end": "50 mm", "spacing": "150 mm"}
    assert figure(session, "row.spacing", "mm") == pytest.approx(worked_out("pattern", "spacing", "mm", **screws))
    pressed = {"length": "2.44 m", "width": "1.22 m", "pressure": "1 kPa"}
    assert figure(session, "press.weight_wanted", "kg") == pytest.approx(worked_out("clamp", "weight_wanted", "kg", **pressed))


@pytest.mark.outside("areas, densities and pressures multiplied by hand")
def test_glue_silica_weight_and_screws_are_those_worked_out_by_hand():
    """0.3 mm over the face, three parts of 1.15, 1.15 and 0.97 g/mL, a tenth lost, 4.5 % silica, 1 kPa [computed]."""
    session = finished("skins", CORE)
    epoxy = SHEET_M2 * 0.3 * 1000 * (2 * 1.15 + 0.97) / 3
    assert figure(session, "epoxy.total", "g") == pytest.approx(epoxy)
    assert figure(session, "press.weight_wanted", "kg") == pytest.approx(SHEET_M2 * 1000 / 9.80665)
    told = {one["title"]: one["amount"] for one in used(session)}
    # Weighed pot by pot, to a tenth of a gram.
    assert float(told["Epoxy 2:1 by volume, slow"]["text"].split()[0]) == pytest.approx(epoxy * 1.1, abs=0.3)
    assert float(told["Fumed silica"]["text"].split()[0]) == pytest.approx(epoxy * 1.1 * 0.045)
    assert int(told["Screws with washers, waxed"]["text"]) == math.ceil((12900 - 2 * 50) / 150) + 1


def test_on_the_frame_alone_only_its_lines_get_glue():
    session = finished("skins", {})
    assert figure(session, "line.volume_needed", "mL") == pytest.approx(38 * 0.3 * 12.9)
    assert "press.weight_wanted" not in session.run.values


@pytest.mark.parametrize("metres", [10, 12.9, 100])
def test_screws_are_counted_along_all_the_frame_lines_of_a_panel(metres):
    """A full sheet in bays below 400 mm has 2 × 2.44 + 7 × 1.144 m of them; the recipe asks for no more than 100 m [computed]."""
    session = finished("skins", {"Frame lines, total": f"{metres} m"})
    told = {one["title"]: one["amount"]["text"] for one in used(session)}
    assert int(told["Screws with washers, waxed"]) == math.ceil((metres * 1000 - 2 * 50) / 150) + 1


def test_the_same_sheet_in_inches_takes_the_same_glue():
    inch = {"Face length": "96 1/16 in", "Face width": "48 1/32 in", **CORE}
    assert figure(finished("skins", inch, "inch"), "epoxy.total", "g") == pytest.approx(SHEET_M2 * 0.3 * 1090, rel=0.002)


def test_what_is_weighed_is_what_was_planned_and_the_open_time_starts_once():
    session = finished("skins", CORE)
    pots = [one for one in session.project.clocks.values() if one.name == "glue_life"]
    assert len(pots) == 3
    assert figure(session, "glue_mixed", "g") == pytest.approx(figure(session, "glue_plan.total", "g"), rel=0.01)
    assert clock(session, "open").length == timedelta(minutes=90)
    assert clock(session, "open").late is None


def test_a_skin_that_comes_down_late_is_told_to_be_lifted_and_scraped():
    session, now = at("skins", "Drive the waxed screws", {})
    down = clock(session, "open")
    assert now < down.due_at
    for when, late in ((down.due_at, None), (down.due_at + timedelta(minutes=1), timedelta(minutes=1))):
        session.done(when)
        assert session.project.clocks[down.key].late == late
        session.take_back(when)
    assert down.if_late.startswith("Lift the skin off, scrape both faces")


@pytest.mark.parametrize(
    ("answers", "held"),
    [
        # Closing that takes the 72 min whole is in time by itself, and leaves none to mix and spread.
        ({"Time to close": "72 min"}, "All spread in time?"),
        ({"Time to close": "72.1 min"}, "Skin on in time?"),
        # Ten degrees above the 25 °C of the data sheet the open time is halved; 80 % of it [common practice].
        ({**WARM, "Time to close": "36 min"}, "All spread in time?"),
        ({**WARM, "Time to close": "36.1 min"}, "Skin on in time?"),
        # 80 % of 90 min less 15 min to close are left to mix and spread 1071 g in three pots.
        ({**CORE, "Time for that pot": "16.7 min"}, None),
        ({**CORE, "Time for that pot": "16.8 min"}, "All spread in time?"),
        ({"Frame flush and flat?": "low"}, "Frame flush and flat?"),
        ({"All hidden parts in?": "missing"}, "All hidden parts in?"),
        ({"Bead at every edge?": "dry"}, "Bead at every edge?"),
        ({"Rings clear all over?": "hollow"}, "Rings clear all over?"),
    ],
)
def test_what_would_spoil_the_bond_holds_it_up_at_its_limit(answers, held):
    assert stopped("skins", answers) == held


def test_it_stays_pressed_for_the_clamp_time_of_its_resin_longer_in_a_shop_that_is_cooler():
    """24 h at 25 °C on the shelf; at 20 °C Arrhenius with 55 kJ/mol makes it 35 h [computed]."""
    clamps = clock(finished("skins", {}), "clamp_up_clamps")
    assert clamps.kind == "NOT BEFORE"
    slower = math.exp(55_000 / 8.314 * (1 / 293.15 - 1 / 298.15))
    assert clamps.length / timedelta(hours=24) == pytest.approx(slower, rel=0.001)


@pytest.mark.parametrize("base", ["frame", "core"])
def test_day_old_epoxy_is_washed_with_the_mask_on_before_the_skin_is_trimmed(base):
    done = [event.data.get("headline") for event in finished("skins", {"Bonded onto": base}).log.events()]
    last_mask = len(done) - 1 - done[::-1].index("P100 mask on")
    assert (
        done.index("Rings clear all over?") < last_mask < done.index("Squeeze-out washed") < done.index("Overhang trimmed flush")
    )
