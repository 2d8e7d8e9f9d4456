"""Four panels glued into a box, corner by corner: glue, screws and hands by the figures, square at every stage."""

import math
from datetime import timedelta

import pytest
from conftest import BEGAN
from shipped_run import at, begun, clock, figure, finished, stopped, used, worked_out

from shopmate.session.demo import follow

EPOXY = {"ratio": "2:1 by volume", "resin_density": "1.15 g/mL", "hardener_density": "0.97 g/mL"}
DENSITY = (2 * 1.15 + 0.97) / 3
WARM = {"Air temperature": "33 °C", "Surface temperature": "35 °C", "Tonight's low": "25 °C"}
HANDS = {"Taking it off the box": "hands"}
LARGE = {"Joint length, all corners": "9.6 m", "Longest corner": "2.4 m", "Width of frame wood": "45 mm"}


def test_glue_screws_and_hands_are_what_the_calculators_say():
    session = finished("assembly", LARGE)
    joint = {"width": "45 mm", "thickness": "0.5 mm"}
    for name, more in (("epoxy", {"length": "9.6 m"}), ("one", {"length": "2.4 m", "waste": "20 %"})):
        volume = worked_out("bondline", "volume_needed", "mL", **joint, **more)
        total = worked_out("mix", "total", "g", **EPOXY, total_volume=f"{volume} mL")
        assert figure(session, f"{name}.total", "g") == pytest.approx(total)
    spacing = worked_out("pattern", "spacing", "mm", length="2.4 m", end="50 mm", spacing="150 mm")
    assert figure(session, "row.spacing", "mm") == pytest.approx(spacing)
    hands = {"start_height": "75 cm", "travel": "25 cm", "hand_distance": "30 cm", "placing": "with care"}
    limit = worked_out("lift", "limit", "kg", mass="20 kg", people="2", **hands)
    assert figure(session, "lift.limit", "kg") == pytest.approx(limit)


@pytest.mark.outside("volume, density and shares multiplied by hand")
def test_epoxy_silica_and_screws_are_those_worked_out_by_hand():
    """0.5 mm × 38 mm × 4.8 m, parts of 1.15, 1.15 and 0.97 g/mL, a tenth lost, 4.5 % silica, screws 150 mm apart [computed]."""
    session = finished("assembly", {})
    epoxy = 0.5 * 38 * 4.8 * DENSITY
    assert figure(session, "epoxy.total", "g") == pytest.approx(epoxy)
    told = {one["title"]: float(one["amount"]["text"].split()[0]) for one in used(session)}
    assert told == {
        "Epoxy 2:1 by volume, slow": pytest.approx(epoxy * 1.1, rel=0.001),
        "Fumed silica": pytest.approx(epoxy * 1.1 * 0.045, rel=0.001),
    }
    assert figure(session, "row.spacing", "mm") == pytest.approx(1100 / math.ceil(1100 / 150))


def test_the_same_box_in_inches_takes_the_same_glue():
    inch = {"Joint length, all corners": "189 in", "Longest corner": "47 1/4 in", "Width of frame wood": "1 1/2 in"}
    assert figure(finished("assembly", inch, "inch"), "epoxy.total", "g") == pytest.approx(0.5 * 38 * 4.8 * DENSITY, rel=0.005)


@pytest.mark.parametrize("answers", [{}, LARGE])
def test_each_of_four_corners_gets_its_own_pot_and_its_own_open_time(answers):
    session = finished("assembly", answers)
    lives, opened = ([one for one in session.project.clocks.values() if one.name == name] for name in ("glue_life", "open"))
    assert len(lives) == len(opened) == 4
    for life, close in zip(lives, opened, strict=True):
        assert life.started_at < close.started_at < life.ended_at < close.ended_at
        assert close.late is None
    assert figure(session, "glue_mixed", "g") == pytest.approx(figure(session, "glue_plan.total", "g"), rel=0.01)


def test_a_corner_that_closes_late_is_pulled_scraped_and_glued_again():
    session, now = at("assembly", "Closed and still square?", {})
    close = clock(session, "open")
    assert now < close.due_at
    for when, late in ((close.due_at, None), (close.due_at + timedelta(minutes=1), timedelta(minutes=1))):
        session.judge("good", when)
        assert session.project.clocks[close.key].late == late
        session.take_back(when)
    assert close.if_late == "Pull that corner apart, scrape both faces and clean them. Mix a fresh pot and glue it again."


def test_a_corner_that_takes_two_pots_keeps_the_open_time_of_the_first():
    session = begun("assembly")
    seen = []

    def second(view):
        seen.append(view.headline)
        return seen.count("Spread one face") == 2

    follow(session, BEGAN, {"All of it spread?": "more"}, until=second)
    assert "Push the corner shut" not in seen
    assert seen.count("Wet both corner faces") == 2
    assert len([one for one in session.project.clocks.values() if one.name == "open"]) == 1


@pytest.mark.parametrize(("answer", "opened"), [("next", True), ("last", False)])
def test_a_next_corner_is_opened_only_where_there_is_one(answer, opened):
    done = [event.data.get("headline") for event in finished("assembly", {"All of it spread?": answer}).log.events()]
    assert ("Open the next corner" in done) is opened


@pytest.mark.parametrize(
    ("off", "lifted"),
    [("hands", ["Lifted straight off"]), ("hoist", ["Hoist tried", "Hoisted straight off"]), ("stays", [])],
)
def test_it_stays_on_its_box_a_day_longer_and_comes_off_as_planned(off, lifted):
    session = finished("assembly", {"Taking it off the box": off})
    done = [event.data.get("headline") for event in session.log.events()]
    ways = ["Lifted straight off", "Hoist tried", "Hoisted straight off"]
    assert [headline for headline in done if headline in ways] == lifted
    waited = [one.length for one in session.project.clocks.values() if one.name == "lift_off"]
    assert waited == [timedelta(days=1)] * bool(lifted)


def test_it_is_held_until_the_glue_is_hard_and_the_screws_come_out_green():
    """24 h and 4 h at 25 °C on the shelf; at 20 °C Arrhenius with 55 kJ/mol makes each 1.46 times as long [computed]."""
    session = finished("assembly", {})
    held, out = clock(session, "held_clamps"), clock(session, "turn_out")
    slower = math.exp(55_000 / 8.314 * (1 / 293.15 - 1 / 298.15))
    assert held.length / timedelta(hours=24) == pytest.approx(slower, rel=0.001)
    assert out.length / timedelta(hours=4) == pytest.approx(slower, rel=0.001)
    done = [event.data.get("headline") for event in session.log.events()]
    order = [
        "Light enough to stand up",
        "Rated for the whole part",
        "Gloves off, cuffs tight",
        "Wood all the way in?",
        "First panel braced plumb",
        "Drilled and screwed",
        "Square, closed dry",
        "One corner in time?",
        "Open the first corner",
    ]
    order += ["Still square, wet", "Wait for green glue", "Back the screws out", "Test dab hard?", "Clamps off", "Stayed square"]
    order += ["Leave it on the box a day", "Slings steep enough", "Hoist tried", "Hoisted straight off"]
    assert [headline for headline in done if headline in order] == order


@pytest.mark.parametrize(
    ("answers", "held"),
    [
        ({"Box diagonals off by": "3 mm"}, None),
        ({"Box diagonals off by": "3.1 mm"}, "Box square enough"),
        ({"Diagonals off by, dry": "3.1 mm"}, "Square, closed dry"),
        ({"Diagonals off by, wet": "3.1 mm"}, "Still square, wet"),
        ({"Diagonals off by, free": "3.1 mm"}, "Stayed square"),
        ({"Out of plumb by": "1.1 mm"}, "Plumb enough"),
        ({"Twist of the top edge": "2.1 mm"}, "Top edge flat"),
        ({"Gap off by": "1 mm"}, None),
        ({"Gap off by": "1.1 mm"}, "Same gap all round"),
        # Two people may lift 22.4 kg this way: 16.8 kg each, of which two together get two thirds [computed by lift].
        ({"Heaviest panel": "22.4 kg"}, None),
        ({"Heaviest panel": "22.5 kg"}, "Light enough to stand up"),
        ({"Heaviest panel": "40 kg", "People to lift it": "4"}, "Light enough to stand up"),
        # 50 mm of panel under the washer leaves 25 mm of a 75 mm screw.
        ({"Screw length": "75 mm"}, None),
        ({"Screw length": "74 mm"}, "Screw bites deep enough"),
        # 80 % of the 90 min on the shelf [common practice].
        ({"Time to glue and close": "72 min"}, None),
        ({"Time to glue and close": "72.1 min"}, "One corner in time?"),
        # Ten degrees above the 25 °C of the data sheet the open time is halved [common practice].
        ({**WARM, "Time to glue and close": "36.1 min"}, "One corner in time?"),
        # Held as the panels are, and lifted as far.
        ({**HANDS, "The part's weight": "22.4 kg"}, None),
        ({**HANDS, "The part's weight": "22.5 kg"}, "Whole part light enough"),
        ({**HANDS, "The part's weight": "80 kg", "People to lift it": "4"}, "Whole part light enough"),
        ({"The part's weight": "80 kg", "Lowest hoist rating": "80 kg"}, None),
        ({"The part's weight": "80 kg", "Lowest hoist rating": "79 kg"}, "Rated for the whole part"),
        ({"Sling angle from level": "45 °"}, None),
        ({"Sling angle from level": "44 °"}, "Slings steep enough"),
        ({"Taking it off the box": "stays", "Can it be lifted off?": "stuck"}, None),
        ({"Film under every drip?": "bare"}, "Film under every drip?"),
        ({"Can it be lifted off?": "stuck"}, "Can it be lifted off?"),
        ({"Wood all the way in?": "foam"}, "Wood all the way in?"),
        ({"Closes by hand?": "forced"}, "Closes by hand?"),
        ({"Still comes off?": "binds"}, "Still comes off?"),
        ({"Closed and still square?": "off"}, "Closed and still square?"),
        ({"Spacers and braces in?": "shifted"}, "Spacers and braces in?"),
        ({"Test dab hard?": "soft"}, "Test dab hard?"),
    ],
)
def test_what_would_set_crooked_or_stick_holds_it_up_at_its_limit(answers, held):
    assert stopped("assembly", answers) == held
