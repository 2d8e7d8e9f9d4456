"""A face of 2.44 x 1.22 m sheathed in glass: marks and tape that sanding leaves alone, and the air measured for every coat."""

import pytest
from shipped_run import at, clock, figure, finished, worked_out

from shopmate.errors import EntryError
from shopmate.session import GateView
from shopmate.session.demo import follow


def done(session):
    return [event.data.get("headline") for event in session.log.events()]


def test_marks_and_tape_go_on_after_sanding_and_before_the_first_pot():
    headlines = done(finished("glassing", {}))
    order = ["Cloth fitted dry", "Vacuum the plywood", "Bonding areas marked", "Edge masked, lamp low", "Roll the seal coat"]
    assert [headline for headline in headlines if headline in order] == order


@pytest.mark.parametrize(("coats", "times"), [("1", 3), ("2", 4), ("3", 5)])
def test_the_air_is_measured_for_seal_coat_cloth_and_each_fill_coat(coats, times):
    headlines = done(finished("glassing", {"Fill coats": coats}))
    assert headlines.count("Dew point now") == times
    assert headlines.count("Roll out and tip off") == int(coats)


@pytest.mark.parametrize(
    ("bottles", "reached"), [("18 °C", "Pour the resin"), ("17.9 °C", "Bottles in limits"), ("35.1 °C", "Bottles in limits")]
)
@pytest.mark.parametrize("coat", ["Trim the overhang", "Roll out and tip off"])
def test_bottles_that_left_their_limits_since_the_last_coat_stop_the_next(coat, bottles, reached):
    """The data sheet of the slow resin allows 18 to 35 °C [memory: typical shelf]."""
    session, now = at("glassing", coat, {})
    now = follow(
        session,
        now,
        {"Bottle temperature": bottles},
        until=lambda view: view.headline == "Pour the resin" or (isinstance(view, GateView) and view.go is False),
    )
    assert session.view(now).headline == reached


def pot_life(bottles):
    """Return how long the pot of the first fill coat lasts with bottles of that temperature."""
    session, now = at("glassing", "Trim the overhang", {})
    follow(session, now, {"Bottle temperature": bottles}, until=lambda view: view.headline == "Stir two minutes")
    return clock(session, "fill_life").length


def test_a_fill_coat_is_mixed_for_the_warmth_of_its_own_hour():
    assert pot_life("28 °C") < pot_life("20 °C")


def test_the_window_of_the_cloth_runs_while_bubbles_are_looked_for():
    session, now = at("glassing", "Look for bubbles", {})
    assert session.tick(now) == []
    assert clock(session, "green_closes").ended_at is None


def test_the_lamp_judges_cloth_that_was_squeegeed_and_pots_leave_before_the_long_wait():
    """White threads and puddles show only after the squeegee; a full cup left indoors keeps heating [common practice]."""
    order = [
        "Let it soak, squeegee flat",
        "Clear under the lamp?",
        "Touch up white spots",
        "Pots outdoors",
        "Trim the overhang",
    ]
    headlines = [headline for headline in done(finished("glassing", {})) if headline in order]
    pots = headlines.count("Clear under the lamp?")
    assert headlines == [*order[:3] * pots, "Pots outdoors", "Trim the overhang", "Pots outdoors"]


@pytest.mark.outside("areas of the cloth and of the face with its wrap by hand")
@pytest.mark.parametrize(
    ("wrap", "cloth", "rolled"),
    [
        ("0 mm", 2.50 * 1.28, 2.44 * 1.22),  # 30 mm of cloth to trim all round
        ("50 mm", 2.60 * 1.38, 2.54 * 1.32),  # and 50 mm that stay on each edge
    ],
)
def test_cloth_is_wetted_out_to_its_rim_and_coats_go_as_far_as_the_glass_stays(wrap, cloth, rolled):
    """200 g/m² at 45 % glass takes 200 × 55/45 g/m², the seal coat 120, each of two fill coats 110, a tenth lost [computed]."""
    session = finished("glassing", {"Wrap over each edge": wrap})
    epoxy = cloth * (200 * 55 / 45 + 120 + 2 * 110) * 1.1
    assert figure(session, "face.mix", "g") == pytest.approx(epoxy)
    assert figure(session, "stock.resin", "g") + figure(session, "stock.hardener", "g") == pytest.approx(epoxy)
    for pots, needed in (
        ("wet", cloth * 200 * 55 / 45),
        ("seal", rolled * 120),
        ("fill", rolled * 110),
        ("fill_2", rolled * 110),
    ):
        assert figure(session, f"{pots}_plan.total", "g") == pytest.approx(needed * 1.1, rel=0.005), pots


def test_a_wrapped_face_is_cut_and_wetted_out_as_the_calculators_say():
    session = finished("glassing", {"Wrap over each edge": "2 in", "Plies of cloth": "2"}, "inch")
    long, wide = 2440 + 2 * 50.8 + 60, 1220 + 2 * 50.8 + 60
    face = {"length": "2440 mm", "width": "1220 mm", "wrap": "80.8 mm", "side_wrap": "80.8 mm", "roll_width": "1 m", "plies": "2"}
    for output, unit in (("strip_length", "mm"), ("cloth_length", "m")):
        assert figure(session, f"cut.{output}", unit) == pytest.approx(worked_out("cloth", output, unit, **face))
    glass = {"length": f"{long} mm", "width": f"{wide} mm", "cloth": "200 g/m²", "plies": "2", "glass_content": "45 %"}
    assert figure(session, "face.wet_out", "g") == pytest.approx(worked_out("laminate", "wet_out", "g", **glass))


@pytest.mark.parametrize(("wrap", "taken"), [("0 mm", True), ("-1 mm", False), ("170 mm", True), ("171 mm", False)])
def test_a_wrap_is_no_less_than_none_and_no_wider_than_an_edge(wrap, taken):
    """Cloth past the face is 200 mm at most, the strip of 30 mm to trim among it."""
    if taken:
        session, _ = at("glassing", "Pour the resin", {"Wrap over each edge": wrap})
        assert figure(session, "wrap", "mm") == float(wrap.removesuffix(" mm"))
    else:
        with pytest.raises(EntryError):
            at("glassing", "Pour the resin", {"Wrap over each edge": wrap})
