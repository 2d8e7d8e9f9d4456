"""Gas struts: balance by vectors and by virtual work, hand forces at three temperatures, over-centre, remedies that suffice."""

import math
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("mass", "force", "rising", {}),
    ("margin", "force", "rising", {}),
    ("angle", "force", "falling", {}),
    ("friction", "force", "rising", {}),
    ("cg_distance", "force", "rising", {"mode": "hinged", "angle": "", "cg_distance": "0.5 m", "arm": "0.15 m"}),
    ("arm", "force", "falling", {"mode": "hinged", "angle": "", "cg_distance": "0.5 m", "arm": "0.15 m"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

G = 9.80665
GUIDED = {"mode": "guided", "mass": "30 kg", "base_offset": "300 mm", "height_closed": "350 mm", "rise": "250 mm"}
LID = {
    "mode": "hinged",
    "mass": "18 kg",
    "cg_distance": "450 mm",
    "lid_mount": "250 mm",
    "body_x": "50 mm",
    "body_y": "-200 mm",
    "open_angle": "75°",
}
UPRIGHT = {"mode": "guided", "weight": "300 N", "struts": "1", "angle": "90°"}


def strut(base, **fields):
    return calc.run("strut", {**base, **fields})


def numbers(result):
    return {name: getattr(value, "value", value) for name, value in result.outputs.items()}


def got(base, **fields):
    return numbers(strut(base, **fields))


def cautions(base, **fields):
    return " ".join(strut(base, **fields).cautions)


def problems(base, **fields):
    with pytest.raises(InputError) as caught:
        strut(base, **fields)
    return {problem.field: problem for problem in caught.value.problems}


def lid_mount(turn, along=0.25, off=0.0):
    return np.array([along * math.cos(turn) - off * math.sin(turn), along * math.sin(turn) + off * math.cos(turn)])


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    along=st.integers(150, 600),
    off=st.integers(-60, 20),
    x=st.integers(-100, 100),
    y=st.integers(-500, -120),
    turn=st.integers(-20, 60),
)
def test_hinged_balance_agrees_with_vectors_in_space(along, off, x, y, turn):
    fields = {"lid_mount": f"{along} mm", "lid_mount_y": f"{off} mm", "body_x": f"{x} mm", "body_y": f"{y} mm"}
    found = got({**LID, "open_angle": ""}, lid_angle=f"{turn}°", **fields)
    mount = np.append(lid_mount(math.radians(turn), along / 1000, off / 1000), 0)
    push = mount - np.array([x / 1000, y / 1000, 0])
    arm = np.cross(mount, push / np.linalg.norm(push))[2]
    weight = np.cross(0.45 * np.array([math.cos(math.radians(turn)), math.sin(math.radians(turn)), 0]), [0, -18 * G, 0])[2]
    assert found["arm_closed"] == pytest.approx(1000 * arm, rel=1e-9, abs=1e-9)
    if found["force_closed"] is not None:
        assert 2 * found["force_closed"] * arm + weight == pytest.approx(0, abs=1e-9)
    else:
        assert arm < 0.06 * np.linalg.norm(mount)


@pytest.mark.parametrize(("end", "turn"), [("closed", 0.0), ("open", math.radians(75))])
@pytest.mark.parametrize("off", [0.0, -0.04])
def test_hinged_hand_force_is_the_slope_of_the_potential_energy(end, turn, off):
    """Virtual work: what the hand does in a small turn is what weight and gas take up, by finite differences."""
    body, force, ratio, handle = np.array([0.05, -0.2]), 250.0, 1.3, 0.8
    out, closed = (np.linalg.norm(lid_mount(angle, off=off) - body) for angle in (math.radians(75), 0.0))

    def energy(angle):
        pressed = out - np.linalg.norm(lid_mount(angle, off=off) - body)
        gas = force * (pressed + (ratio - 1) * pressed**2 / (2 * (out - closed)))
        return 18 * G * 0.45 * math.sin(angle) + 2 * gas

    hand = (energy(turn + 1e-5) - energy(turn - 1e-5)) / 2e-5 / handle
    fields = {"force": "250 N", "progressivity": "1.3", "handle": "800 mm", "lid_mount_y": f"{off * 1000} mm"}
    assert got(LID, **fields)[f"hand_{end}"] == pytest.approx(hand, abs=1e-4)


def test_guided_hand_force_is_the_slope_of_the_potential_energy():
    force, ratio, whole = 160.0, 1.25, 0.3
    out = math.hypot(0.3, 0.6)

    def energy(height):
        pressed = out - math.hypot(0.3, height)
        return 30 * G * height + 2 * force * (pressed + (ratio - 1) * pressed**2 / (2 * whole))

    found = got(GUIDED, force="160 N", progressivity="1.25", stroke="300 mm")
    for name, height in (("closed", 0.35), ("middle", 0.475), ("open", 0.6)):
        slope = (energy(height + 1e-6) - energy(height - 1e-6)) / 2e-6
        assert found[f"hand_{name}"] == pytest.approx(slope, abs=1e-4), name


@settings(max_examples=50, deadline=None, derandomize=True)
@given(force=st.integers(50, 600), ratio=st.integers(100, 160), cold=st.integers(-40, 20), hot=st.integers(20, 70))
def test_hand_force_is_finite_and_falls_with_heat_everywhere(force, ratio, cold, hot):
    for base in (GUIDED, LID):
        found = got(base, force=f"{force} N", progressivity=f"{ratio / 100}", cold=f"{cold} °C", hot=f"{hot} °C")
        for place in ("closed", "middle", "open"):
            low, mid, high = (found[f"hand_{place}{suffix}"] for suffix in ("_cold", "", "_hot"))
            assert low >= mid >= high
            assert math.isfinite(low + mid + high)


def test_the_force_to_buy_covers_the_worst_place_between_the_ends():
    turns = np.linspace(0, math.radians(75), 61)
    body = np.array([0.05, -0.2])
    mounts = [lid_mount(turn) for turn in turns]
    lengths = np.array([np.linalg.norm(mount - body) for mount in mounts])
    moments = np.array([np.dot([-mount[1], mount[0]], mount - body) for mount in mounts])
    shape = 1 + 0.3 * (lengths[-1] - lengths) / (lengths[-1] - lengths[0])
    needed = 18 * G * 0.45 * np.cos(turns) / (2 * moments / lengths * shape)
    assert 0 < int(np.argmax(needed)) < 60
    assert got(LID, margin="0 %", progressivity="1.3")["force"] == pytest.approx(needed.max())


@pytest.mark.parametrize("base", [GUIDED, UPRIGHT])
@pytest.mark.parametrize("ratio", ["1", "1.3"])
def test_the_force_to_buy_without_margin_leaves_nothing_to_lift_anywhere(base, ratio):
    bought = got(base, margin="0 %", progressivity=ratio)["force"]
    found = got(base, force=f"{bought:.12f} N", progressivity=ratio)
    left = [found[f"hand_{place}"] for place in ("closed", "middle", "open")]
    assert max(left) <= 1e-6
    weaker = got(base, force=f"{bought * 0.99:.12f} N", progressivity=ratio)
    assert max(weaker[f"hand_{place}"] for place in ("closed", "middle", "open")) > 0


def test_gas_force_goes_with_kelvin_not_celsius():
    found = got(UPRIGHT, force="400 N", cold="-10 °C", hot="40 °C")
    assert found["force_cold"] == pytest.approx(400 * 263.15 / 293.15)
    assert found["force_hot"] == pytest.approx(400 * 313.15 / 293.15)
    assert found["force_cold"] > 300  # by degrees Celsius it would be −200 N


def test_pressure_acts_on_the_rod():
    found = got(UPRIGHT, force="540 N", rod="10 mm")
    assert found["gas_pressure"] == pytest.approx(540 / (math.pi * 25))


def test_margin_is_counted_once_on_the_force():
    plain, more = got(GUIDED, margin="0 %"), got(GUIDED, margin="20 %")
    assert more["force"] == pytest.approx(1.2 * plain["force"])
    assert [more[name] for name in ("force_closed", "force_open", "side_force")] == pytest.approx(
        [plain[name] for name in ("force_closed", "force_open", "side_force")]
    )
    said = next(line for line in strut(GUIDED, margin="20 %").working if line.startswith("F1 to buy"))
    assert said.endswith(f"= {plain['force']:.1f} × 1.20 = {more['force']:.1f} N each")
    assert got(GUIDED, margin="20 %", force="200 N")["hand_open"] == got(GUIDED, margin="0 %", force="200 N")["hand_open"]


def test_kilograms_are_not_newtons():
    assert got(GUIDED)["force"] == pytest.approx(G * got({**GUIDED, "mass": ""}, weight="30 N")["force"])


def test_one_force_does_not_balance_all_places():
    base = {"mode": "guided", "weight": "294.2 N", "base_offset": "0.2 m", "height_closed": "0.1 m", "rise": "0.4 m"}
    found = got(base)
    assert found["force_closed"] > 2 * found["force_open"]
    assert found["hand_open"] < -300
    assert "315 mm of stroke from a strut 539 mm long" in " ".join(strut(base).cautions)
    assert "ordinary strut" not in cautions(GUIDED)


@pytest.mark.parametrize(
    ("fields", "where"),
    [
        ({**LID, "body_y": "20 mm"}, "0 to 42 % of the travel"),
        ({**LID, "open_angle": "130°", "body_x": "-100 mm", "body_y": "-250 mm"}, "to 100 % of the travel"),
        ({**GUIDED, "height_closed": "-50 mm"}, "Over centre at 0 to"),
    ],
)
def test_over_centre_has_no_force_but_says_where(fields, where):
    found = got(fields)
    assert found["verdict"] == "over-centre"
    assert [found[name] for name in ("force", "force_closed", "force_open", "hand_closed", "hand_open_cold")] == [None] * 5
    assert where in cautions(fields)


def test_over_centre_closed_holds_the_lid_shut_with_a_strut_chosen():
    found = got({**LID, "body_y": "20 mm"}, force="250 N")
    assert found["arm_closed"] < 0
    assert found["hand_closed"] > 18 * G * 0.45 / 0.9  # more than the bare lid
    assert found["force"] is None


def test_near_dead_centre_gives_no_absurd_force():
    found = got({**LID, "body_y": "-5 mm"})
    assert found["verdict"] == "near dead centre"
    assert found["force"] is None


def test_friction_that_eats_the_lift_jams():
    flat = {"mode": "guided", "mass": "30 kg", "angle": "20°"}
    assert got(flat, friction="0.4")["verdict"] == "jams"
    assert got(flat, friction="0.4")["force"] is None
    rough = got(flat, friction="0.2", margin="0 %")
    slope = math.radians(20)
    assert rough["force"] == pytest.approx(30 * G / 2 / (math.sin(slope) - 0.2 * math.cos(slope)))
    assert rough["friction_force"] > 0


VERDICTS = [
    ({"force": "300 N", "progressivity": "1"}, "drops when cold, lifts by itself when hot"),
    ({"force": "200 N", "progressivity": "1"}, "drops"),
    ({"force": "310 N", "progressivity": "1"}, "drops when cold, lifts by itself"),
    ({"force": "400 N", "progressivity": "1"}, "lifts by itself"),
    ({"force": "300 N", "progressivity": "1", "cold": "20 °C", "hot": "20 °C"}, "holds"),
]


@pytest.mark.parametrize(("fields", "verdict"), VERDICTS)
def test_verdict_of_an_upright_strut(fields, verdict):
    assert got(UPRIGHT, **fields)["verdict"] == verdict


GOOD = {"mode": "guided", "mass": "30 kg", "base_offset": "300 mm", "height_closed": "120 mm", "rise": "300 mm"}
"""Struts shallow when closed and steep when open: little lever under the latch, much under the open roof."""


def test_the_force_named_for_an_open_roof_in_the_cold_is_enough():
    base = {**GOOD, "progressivity": "1.2"}
    weak = cautions(base, force="150 N")
    new, aged = map(int, re.search(r"Struts of (\d+) N hold the roof while they are new; struts of (\d+) N", weak).groups())
    assert got(base, force="150 N")["verdict"] == "drops"
    assert got(base, force=f"{new} N")["verdict"] == "holds"
    assert got(base, force=f"{new - 1} N")["verdict"] == "drops when cold"
    assert got(base, force=f"{aged * 0.85:.6f} N")["hand_open_cold"] < 0
    assert "lost 15 %" in cautions(base, force=f"{new} N")
    assert "lost 15 %" not in cautions(base, force=f"{aged} N")


def test_the_force_named_for_a_closed_roof_in_the_heat_is_enough():
    base = {**GOOD, "progressivity": "1.2"}
    most = int(re.search(r"struts of no more than (\d+) N", cautions(base, force="500 N"))[1])
    assert got(base, force="500 N")["verdict"] == "lifts by itself, hard to pull down"
    assert "lifts" not in got(base, force=f"{most} N")["verdict"]
    assert "lifts by itself when hot" in got(base, force=f"{most + 1} N")["verdict"]


def test_no_force_is_promised_where_none_does_both():
    assert "no strut force keeps the roof both closed when hot and open when cold" in cautions(LID, force="250 N")
    assert "no strut force" not in cautions({**GOOD, "progressivity": "1.2"}, force="500 N")


def test_losing_a_strut_is_told():
    found = got(GOOD, force="200 N")
    steep = 420 / math.hypot(300, 420)
    assert found["hand_one_lost"] == pytest.approx(30 * G - 200 * steep)
    assert f"comes down with a force of {found['hand_one_lost']:.0f} N" in cautions(GOOD, force="200 N")
    assert got(UPRIGHT)["hand_one_lost"] is None


def test_a_heavy_rest_is_said_to_need_another_person():
    assert "second person" in cautions(GUIDED, mass="90 kg", force="200 N")
    assert "second person" not in cautions(GUIDED, force="200 N")


def test_stored_energy_is_the_work_of_pressing_the_rod_in():
    found = got(GUIDED, force="200 N", progressivity="1.4", stroke="250 mm")
    steps = (np.arange(10_000) + 0.5) / 10_000
    assert found["stored_energy"] == pytest.approx(np.mean(200 * (1 + 0.4 * steps)) * 0.25)


def test_safety_is_said_every_time():
    for base in (GUIDED, LID, UPRIGHT, {**LID, "body_y": "20 mm"}):
        said = cautions(base)
        for word in ("Prop the roof", "never drill, heat, cut", "licensed", "can pinch"):
            assert word in said


def test_what_was_assumed_is_said():
    said = cautions(LID)
    assert "900 mm from the hinge" in said
    assert "typical (1.2 to 1.5)" in said
    known = cautions(LID, handle="900 mm", progressivity="1.3")
    assert "is assumed to push" not in known
    assert "typical (1.2 to 1.5)" not in known


def test_a_lone_place_says_nothing_of_the_open_roof():
    found = got({"mode": "guided", "mass": "30 kg", "angle": "60°"})
    assert [found[name] for name in ("hand_open", "hand_middle", "force_open")] == [None] * 3
    assert "Only the closed position is known" in cautions({"mode": "guided", "mass": "30 kg", "angle": "60°"})


@pytest.mark.parametrize(
    ("base", "fields", "wrong"),
    [
        (GUIDED, {"weight": "300 N"}, {"weight"}),
        (GUIDED, {"mass": ""}, {"mass"}),
        (GUIDED, {"angle": "60°"}, {"angle"}),
        (GUIDED, {"rise": ""}, {"rise"}),
        (GUIDED, {"rise": "", "base_offset": "", "height_closed": ""}, {"angle"}),
        (GUIDED, {"arm": "100 mm", "cg_distance": "1 m", "mass": ""}, {"arm", "cg_distance", "mass"}),
        (LID, {"friction": "0.1", "angle": "60°"}, {"friction", "angle"}),
        (LID, {"arm": "100 mm"}, {"arm", "open_angle"}),
        (LID, {"cg_distance": "", "body_x": ""}, {"cg_distance", "body_x"}),
        (LID, {"lid_angle": "75°"}, {"open_angle"}),
        (LID, {"stroke": "100 mm"}, {"stroke"}),
        (LID, {"gas_volume": "50 mL"}, {"rod", "stroke"}),
        (LID, {"gas_volume": "50 mL", "rod": "8 mm", "stroke": "300 mm", "progressivity": "1.3"}, {"gas_volume"}),
        (LID, {"gas_volume": "10 mL", "rod": "8 mm", "stroke": "300 mm"}, {"gas_volume"}),
    ],
)
def test_fields_that_do_not_go_together_are_told_with_what_to_do(base, fields, wrong):
    found = problems(base, **fields)
    assert set(found) == wrong
    assert all(problem.what and problem.fix for problem in found.values())


def test_a_stroke_too_short_is_told_with_both_in_millimetres():
    long, short = (np.linalg.norm(lid_mount(turn) - np.array([0.05, -0.2])) for turn in (math.radians(75), 0.0))
    said = problems(LID, stroke="100 mm")["stroke"].what
    assert said == f"the travel needs {1000 * (long - short):.1f} mm and the strut has 100.0 mm"


def test_struts_are_counted_with_the_usual_progressivity_where_none_is_given():
    assert got(LID)["progressivity_used"] == 1.3
    assert "use F2/F1 = 1.3, which is typical" in cautions(LID)


# The order of the cautions.


def order(said, *words):
    """Check that cautions which hold these words come in their order."""
    places = [next(place for place, caution in enumerate(said) if word in caution) for word in words]
    assert places == sorted(set(places)), said


def test_what_can_fall_on_a_person_comes_before_the_build_and_that_before_what_is_assumed():
    for force in ("150 N", "500 N"):
        said = strut({**GOOD, "progressivity": "1.2"}, force=force).cautions
        order(
            said,
            "the open roof comes down" if force == "150 N" else "springs up",
            "no safety device",
            "pushes its slide sideways",
        )
    order(strut(LID).cautions, "no safety device", "is always under pressure", "hand forces use F2/F1")
    order(strut(LID, force="250 N").cautions, "springs up", "no strut force", "no safety device")


def test_worn_struts_are_told_of_after_the_ones_in_hand():
    said = strut({**GOOD, "progressivity": "1.2"}, force="230 N").cautions
    assert any("lost 15 %" in caution for caution in said)
    if any("one strut fails" in caution for caution in said):
        order(said, "one strut fails", "lost 15 %", "no safety device")


def test_struts_that_give_no_figure_are_told_of_first():
    for body_y, words in (("20 mm", "Over centre"), ("-5 mm", "Near dead centre")):
        order(strut({**LID, "body_y": body_y}).cautions, words, "no safety device", "is always under pressure")
        assert words in strut({**LID, "body_y": body_y}).cautions[0]


def test_the_figures_of_the_words_of_struts():
    found = got({"mode": "guided", "mass": "30 kg", "struts": "2", "angle": "60°", "margin": "15 %"})
    lever = math.sin(math.radians(60))
    load, pushed = 30 * G, 30 * G / (2 * lever) * 1.15 * 1.3
    cold, hot = 263.15 / 293.15, 318.15 / 293.15
    assert found["weight_lifted"] == pytest.approx(load)
    assert found["hand_closed_cold"] == pytest.approx(load - 2 * pushed * cold * lever)
    assert found["hand_closed_hot"] == pytest.approx(load - 2 * pushed * hot * lever)
    assert found["hand_most"] == pytest.approx(found["hand_closed_cold"])
    assert found["side_force_most"] == pytest.approx(pushed * hot / 2)
    assert found["stays_closed"] == math.floor(load / (2 * lever * 1.3 * hot))
    assert found["from_dead_centre_closed"] == pytest.approx(60)
    assert got({"mode": "hinged", "mass": "20 kg", "cg_distance": "0.5 m", "arm": "0.15 m"})["hand_reach"] == pytest.approx(1000)


def test_the_figures_of_the_words_of_a_lid():
    found = got(LID)

    def mount(turn):
        return 0.25 * math.cos(math.radians(turn)), 0.25 * math.sin(math.radians(turn))

    closed, opened = (math.dist(mount(turn), (0.05, -0.2)) for turn in (0, 75))
    assert found["stroke_used"] == pytest.approx((opened - closed) * 1000)
    # The strut's arm is twice the triangle of hinge and mounts over its length; cold gas at −10 °C.
    x, y = mount(75)
    arm = abs(x * -0.2 - y * 0.05) / opened
    moment, cold = 18 * G * 0.45 * math.cos(math.radians(75)), 263.15 / 293.15
    holds = moment / (2 * arm * cold)
    assert (found["holds_new"], found["holds_worn"]) == (math.floor(holds) + 1, math.floor(holds / 0.85) + 1)
    worn = (moment - 2 * found["force"] * 0.85 * cold * arm) / (found["hand_reach"] / 1000)
    assert found["hand_open_worn"] == pytest.approx(worn)
    # The acute angle between the strut and the line from the hinge to its mount on the lid.
    assert found["from_dead_centre_open"] == pytest.approx(math.degrees(math.asin(arm / 0.25)))


def test_a_lid_known_closed_only_has_its_rods_in():
    found = got({**LID, "open_angle": ""}, force="250 N", progressivity="1.3")
    assert found["push_closed"] == pytest.approx(250 * 1.3)


def test_where_along_the_travel_no_force_lifts_is_told_in_steps_of_a_sixtieth():
    found = got({**LID, "body_y": "20 mm"})
    assert (found["stuck_from"], found["stuck_to"]) == pytest.approx((0, 100 * 25 / 60))


def test_cold_and_heat_part_the_hand_as_they_part_the_gas():
    found, cold, hot = got(LID), 263.15 / 293.15, 318.15 / 293.15
    for place in ("closed", "middle", "open"):
        off = [found[f"hand_{place}{end}"] - found[f"hand_{place}"] for end in ("_cold", "_hot")]
        assert off[1] / off[0] == pytest.approx((1 - hot) / (1 - cold)), place
    x, y = 0.25 * math.cos(math.radians(75)), 0.25 * math.sin(math.radians(75))
    arm = abs(x * -0.2 - y * 0.05) / math.dist((x, y), (0.05, -0.2))
    load = 18 * G * 0.45 * math.cos(math.radians(75)) - 2 * found["force"] * hot * arm
    assert found["hand_open_hot"] == pytest.approx(load / (found["hand_reach"] / 1000))
    assert found["hand_closed_hot"] < found["hand_middle_hot"] < found["hand_middle_cold"]


# One person's hands


def test_a_roof_that_cannot_be_shut_by_hand_says_so_first():
    """230 lb on four struts 10 in aside, 3 to 27 in: bought by the force to carry it closed, they hold it up with 3.3 kN."""
    roof = {"mode": "guided", "mass": "230 lb", "struts": "4", "base_offset": "10 in", "height_closed": "3 in", "rise": "24 in"}
    result = calc.run("strut", roof)
    assert "hard to pull down" in result.outputs["verdict"]
    assert result.outputs["hand_pull"].value_in("N") > 2800
    assert "cannot be closed by hand" in result.cautions[0]
    assert "use struts with a lower F2/F1, get a second person or a hoist" in result.cautions[0]


def test_the_struts_named_for_one_person_suit_at_every_height_and_temperature():
    roof = {"mode": "guided", "mass": "30 kg", "struts": "2", "base_offset": "0 mm", "height_closed": "500 mm", "rise": "300 mm",
            "progressivity": "1.2", "cold": "-10 °C", "hot": "40 °C"}  # fmt: skip
    made = got(roof, force="400 N")
    low, high = made["one_person_low"], made["one_person_high"]
    assert low < high
    for force in (low, (low + high) / 2, high):
        fine = got(roof, force=f"{force} N")
        assert fine["hand_most"] <= 100
        assert fine["hand_pull"] <= 145
    assert got(roof, force=f"{low - 1} N")["hand_most"] > 100
    assert got(roof, force=f"{high + 1} N")["hand_pull"] > 145


def test_the_mounts_named_for_one_person_do_with_the_struts_named():
    roof = {"mode": "guided", "mass": "60 kg", "struts": "4", "base_offset": "250 mm", "height_closed": "100 mm",
            "rise": "300 mm", "progressivity": "1.1"}  # fmt: skip
    made = got(roof)
    assert made["mount_aside"] < 250 < made["mount_height"] + 200
    moved = roof | {"base_offset": f"{made['mount_aside']} mm", "height_closed": f"{made['mount_height']} mm"}
    for force in (made["one_person_low"], made["one_person_high"]):
        fine = got(moved, force=f"{force} N")
        assert (fine["hand_most"] <= 100, fine["hand_pull"] <= 145) == (True, True)
        assert fine["stroke_used"] < fine["length_open"] / 2
