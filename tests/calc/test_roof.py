"""The roof against energy, a search for its worst place, and forces worked out from pressure and volume."""

import math

import pytest
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

from shopmate import calc
from shopmate.errors import InputError

G = 9.80665
GUIDED = {
    "mass": "80 kg", "cg": "1.1 m", "rear_at": "2 m", "front_struts": "2", "rear_struts": "2", "front_force": "190 N",
    "rear_force": "150 N", "strut_offset": "120 mm", "height_closed": "350 mm", "rise": "500 mm",
}  # fmt: skip
HINGED = {
    "mode": "hinged", "mass": "40 kg", "cg": "600 mm", "cg_height": "30 mm", "front_force": "500 N", "lid_x": "350 mm",
    "lid_y": "-20 mm", "body_x": "80 mm", "body_y": "-300 mm", "angle_open": "70°", "handle": "1.15 m",
}  # fmt: skip

DIRECTIONS = [
    ("mass", "hand_open_20", "rising", {}),
    ("mass", "prop", "rising", {}),
    ("front_force", "hand_closed_20", "falling", {}),
    ("rear_force", "hand_open_cold", "falling", {}),
    ("progressivity", "hand_closed_hot", "falling", {}),
    ("hot", "latch", "rising", {}),
    ("cold", "hand_open_cold", "falling", {}),
    ("push_limit", "scale_low", "falling", {}),
    ("pull_limit", "scale_high", "rising", {}),
    ("seal", "latch", "rising", {}),
    ("play", "tilt", "rising", {"slide_length": "250 mm", "roof_length": "2.2 m"}),
    ("hand_offset", "binding", "rising", {"slide_length": "250 mm"}),
    ("cg", "rear_ideal", "rising", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


def roof(base=GUIDED, **texts):
    return calc.run("roof", {**base, **texts})


def figure(result, name):
    value = result.outputs[name]
    return value.value if value is not None else None


def guided_hand(height, celsius=20.0, ratio=1.3, offset=0.120, low=0.350, rise=0.500, forces=(190, 150), weight=80 * G):
    """The hand force at a height of the roof over closed, from first principles: metres and newtons."""
    ends = [math.hypot(offset, low), math.hypot(offset, low + rise)]
    length = math.hypot(offset, low + height)
    depth = (ends[1] - length) / (ends[1] - ends[0])
    push = sum(2 * force * (1 + (ratio - 1) * depth) for force in forces) * (273.15 + celsius) / 293.15
    return weight - push * (low + height) / length


@pytest.mark.outside("work done along the travel, integrated with scipy: weight and gas springs keep their energy")
def test_the_work_of_the_hand_is_what_the_weight_takes_less_what_the_struts_give():
    work, _ = quad(guided_hand, 0, 0.5)
    ends = [math.hypot(0.12, 0.35), math.hypot(0.12, 0.85)]
    stroke = ends[1] - ends[0]
    gas = 2 * (190 + 150) * (1 + 1.3) / 2 * stroke
    assert work == pytest.approx(80 * G * 0.5 - gas, rel=1e-9)
    got = roof()
    for name, height in (("closed", 0.0), ("middle", 0.25), ("open", 0.5)):
        for warm, celsius in (("cold", -10), ("20", 20), ("hot", 45)):
            assert figure(got, f"hand_{name}_{warm}") == pytest.approx(guided_hand(height, celsius), rel=1e-9)


@pytest.mark.outside("scipy.optimize.minimize_scalar over the travel")
def test_the_worst_place_is_that_of_a_search():
    got = roof(strut_offset="250 mm", height_closed="76 mm", rise="610 mm", front_force="400 N", rear_force="300 N")
    hot = minimize_scalar(
        lambda h: guided_hand(h, 45, offset=0.25, low=0.076, rise=0.61, forces=(400, 300)), bounds=(0, 0.61), method="bounded"
    ).fun
    assert figure(got, "hand_pull") == pytest.approx(-hot, rel=2e-3)
    assert figure(got, "hand_pull") > -figure(got, "hand_middle_hot")


@pytest.mark.outside("scipy.optimize.brentq on the hand force itself")
@pytest.mark.parametrize("base", [GUIDED, HINGED], ids=["guided", "hinged"])
def test_within_the_window_one_person_is_enough_and_at_its_ends_just_so(base):
    got = roof(base)
    names = ("front_force", "rear_force") if "rear_force" in base else ("front_force",)

    def left(scale, warm):
        """The greatest push cold, or pull hot, at the three places, less its limit."""
        forces = {name: f"{float(base[name].removesuffix(' N')) * scale} N" for name in names}
        hands = [figure(roof(base, **forces), f"hand_{place}_{warm}") for place in ("closed", "middle", "open")]
        return max(hands) - 100 if warm == "cold" else max(-force for force in hands) - 145

    assert figure(got, "scale_low") == pytest.approx(brentq(lambda scale: left(scale, "cold"), 0.3, 3), rel=1e-6)
    assert figure(got, "scale_high") == pytest.approx(brentq(lambda scale: left(scale, "hot"), 0.3, 3), rel=1e-6)


@pytest.mark.outside("the moment of a strut is the change of its energy with the angle, by central differences")
def test_the_moment_of_a_hinged_strut_is_the_change_of_its_energy():
    def length(turn):
        x = 0.35 * math.cos(turn) + 0.02 * math.sin(turn)
        y = 0.35 * math.sin(turn) - 0.02 * math.cos(turn)
        return math.hypot(x - 0.08, y + 0.3)

    def height(turn):
        return 0.6 * math.sin(turn) + 0.03 * math.cos(turn)

    step, weight = 1e-5, 40 * G
    ends = length(0), length(math.radians(70))
    for place, turn in (("closed", 0.0), ("middle", math.radians(35)), ("open", math.radians(70))):
        force = 2 * 500 * (1 + 0.3 * (ends[1] - length(turn)) / (ends[1] - ends[0]))
        lifted = force * (length(turn + step) - length(turn - step)) / (2 * step)
        falls = weight * (height(turn + step) - height(turn - step)) / (2 * step)
        assert figure(roof(HINGED), f"hand_{place}_20") == pytest.approx((falls - lifted) / 1.15, rel=1e-6)


@pytest.mark.outside("balance of moments about any point, by hand")
def test_the_ideal_pairs_hold_the_open_roof_level():
    got = roof(extras="solar 14 kg @ 500 mm; fan 6 kg @ 1800 mm")
    sine = 0.85 / math.hypot(0.12, 0.85)
    front, rear = (2 * figure(got, f"{name}_ideal") * sine for name in ("front", "rear"))
    assert front + rear == pytest.approx(100 * G)
    assert rear * 2 == pytest.approx(G * (80 * 1.1 + 14 * 0.5 + 6 * 1.8))


def test_any_origin_gives_the_same_pairs_and_the_same_racking():
    here, there = roof(handle="500 mm"), roof(cg="600 mm", front_at="-500 mm", rear_at="1.5 m", handle="0 mm")
    for name in ("front_ideal", "rear_ideal", "racking"):
        assert figure(there, name) == pytest.approx(figure(here, name))


def test_leaning_struts_push_sideways_the_most_closed_and_hot():
    pushed = 190 * 1.3 * (273.15 + 45) / 293.15 * 120 / math.hypot(120, 350)
    assert figure(roof(), "side_force_most") == pytest.approx(pushed)


def test_a_weight_beyond_a_pair_tips_and_has_no_ideal():
    got = roof(cg="2.2 m")
    assert figure(got, "rear_ideal") is None
    assert any("tips over it" in line for line in got.cautions)


def test_struts_that_pass_the_hinge_are_over_centre():
    got = roof(HINGED, body_x="400 mm", body_y="20 mm")
    assert got.outputs["verdict"].startswith("over-centre")


def test_a_prop_near_the_hinge_holds_more():
    at_hand, near = (roof(HINGED, props="2", **texts) for texts in ({}, {"prop_at": "400 mm"}))
    assert figure(near, "prop") == pytest.approx(figure(at_hand, "prop") * 1150 / 400)
    assert figure(at_hand, "prop") == pytest.approx(2 * 40 * G * 600 * math.cos(math.radians(70)) / 1150)


def test_a_latch_is_taken_for_twice_its_load():
    got = roof(front_force="300 N", latches="4", seal="50 N")
    assert figure(got, "latch") == pytest.approx((50 - figure(got, "hand_closed_hot")) / 4)
    assert figure(got, "latch_rated") == 2 * figure(got, "latch")


def test_how_much_of_one_persons_force_is_asked_for():
    got = roof({"mass": "45 kg", "front_force": "200 N", "progressivity": "1", "cold": "20 °C", "hot": "20 °C"})
    assert figure(got, "hand_share") == pytest.approx(45 * G - 400)
    assert figure(got, "hand_most") == pytest.approx(45 * G - 400)
    assert figure(got, "mass_lifted") == 45


@pytest.mark.parametrize(
    ("texts", "field"),
    [
        ({"cg": "", "extras": "fan 6 kg @ 1 m"}, "cg"),
        ({"rear_force": ""}, "rear_force"),
        ({"rear_at": ""}, "rear_at"),
        ({"rear_at": "0 mm"}, "rear_at"),
        ({"rise": ""}, "rise"),
        ({"lid_x": "200 mm"}, "lid_x"),
        ({"slides": "2"}, "slide_length"),
        ({"slide_length": "250 mm", "play": "1 mm"}, "roof_length"),
        ({"seal": "100 N"}, "seal"),
        ({"mass": ""}, "cg"),
        ({"rear_struts": "0"}, "rear_force"),
    ],
)
def test_fields_that_do_not_go_together_are_named(texts, field):
    with pytest.raises(InputError) as caught:
        roof(**texts)
    assert field in {problem.field for problem in caught.value.problems}


@pytest.mark.parametrize(
    ("texts", "field"),
    [
        ({"angle_open": "-10°"}, "angle_open"),
        ({"front_force": "", "body_x": "", "body_y": ""}, "body_x"),
        ({"body_y": ""}, "body_y"),
        ({"cg": "-1 m"}, "cg"),
        ({"prop_at": "1 m"}, "prop_at"),
    ],
)
def test_a_hinged_roof_says_what_it_needs(texts, field):
    with pytest.raises(InputError) as caught:
        roof(HINGED, **texts)
    assert field in {problem.field for problem in caught.value.problems}


# One person, friction and how the struts stand


def test_a_strut_roof_asked_of_both_calculators_has_one_answer():
    """Four alike on 230 lb, 10 in aside, 3 to 27 in; and a lid: the names differ, the figures do not."""
    four = calc.run("strut", {"mode": "guided", "mass": "230 lb", "struts": "4", "base_offset": "10 in", "height_closed": "3 in",
                              "rise": "24 in", "force": "300 N", "progressivity": "1.3"})  # fmt: skip
    pairs = roof({"mass": "230 lb", "front_force": "300 N", "rear_force": "300 N", "rear_struts": "2", "rear_at": "2 m",
                  "strut_offset": "10 in", "height_closed": "3 in", "rise": "24 in"})  # fmt: skip
    lid = calc.run("strut", {"mode": "hinged", "mass": "40 kg", "cg_distance": "600 mm", "force": "500 N", "lid_mount": "350 mm",
                             "lid_mount_y": "-20 mm", "body_x": "80 mm", "body_y": "-300 mm", "open_angle": "70°",
                             "handle": "1.15 m"})  # fmt: skip
    hinged = roof(HINGED, cg_height="0 mm")
    for one, other in ((four, pairs), (lid, hinged)):
        for place in ("closed", "middle", "open"):
            for warm, suffix in (("cold", "_cold"), ("20", ""), ("hot", "_hot")):
                assert figure(other, f"hand_{place}_{warm}") == pytest.approx(figure(one, f"hand_{place}{suffix}"), rel=1e-12)
        for theirs, ours in (("stroke", "stroke_used"), ("length_open", "length_open"), ("hand_pull", "hand_pull"),
                             ("from_dead_centre", "from_dead_centre_closed"), ("front_low", "one_person_low"),
                             ("front_high", "one_person_high")):  # fmt: skip
            if figure(one, ours) is None:
                assert figure(other, theirs) is None
            else:
                assert figure(other, theirs) == pytest.approx(figure(one, ours), rel=1e-12), ours
        said = [line for line in one.cautions if "ordinary strut" in line or "dead centre" in line or "Struts lean" in line]
        assert set(said) <= set(other.cautions)
    assert figure(pairs, "side_force_most") == pytest.approx(figure(four, "side_force_most"))


@pytest.mark.outside("scipy.optimize.minimize_scalar over the travel, with forces of the range named and beyond it")
def test_the_forces_named_suit_one_person_at_every_height_and_no_others_do():
    base = {**GUIDED, "progressivity": "1.1"}
    made = roof(base)

    def hardest(celsius, sign, forces):
        """The hardest push (sign 1) or pull (−1), anywhere on the way."""

        def eased(height):
            return -sign * guided_hand(height, celsius, ratio=1.1, forces=forces)

        inside = minimize_scalar(eased, bounds=(0, 0.5), method="bounded").fun
        return -min(inside, eased(0.0), eased(0.5))

    def worst(front, rear):
        return hardest(-10, 1, (front, rear)), hardest(45, -1, (front, rear))

    low, high = (figure(made, f"front_{end}") / 190 for end in ("low", "high"))
    assert figure(made, "rear_low") == math.ceil(figure(made, "rear_low")) == pytest.approx(low * 150, abs=1)
    assert figure(made, "rear_high") == pytest.approx(high * 150, abs=1)
    assert worst(low * 190, low * 150)[0] <= 100.5
    assert worst((low - 0.02) * 190, (low - 0.02) * 150)[0] > 100
    assert worst(high * 190, high * 150)[1] <= 145.5
    assert worst((high + 0.02) * 190, (high + 0.02) * 150)[1] > 145


def test_the_mounts_named_suit_one_person_with_the_forces_named():
    base = {"mass": "60 kg", "front_force": "200 N", "rear_force": "220 N", "rear_struts": "2", "rear_at": "2 m",
            "strut_offset": "250 mm", "height_closed": "100 mm", "rise": "300 mm", "progressivity": "1.1"}  # fmt: skip
    made = roof(base)
    assert made.outputs["verdict"].endswith("no strut suits")
    aside, under = figure(made, "mount_aside"), figure(made, "mount_height")
    there = base | {"strut_offset": f"{aside} mm", "height_closed": f"{under} mm"}
    for end in ("low", "high"):
        moved = roof(there, **{f"{pair}_force": f"{figure(made, f'{pair}_{end}')} N" for pair in ("front", "rear")})
        assert figure(moved, "hand_most") <= 101
        assert figure(moved, "hand_pull") <= 146
        assert figure(moved, "stroke") < figure(moved, "length_open") / 2


def test_friction_of_the_slides_counts_when_it_is_too_heavy():
    """38 N are left to the hand, and 118 N more by the friction of slides that a hand at the front racks."""
    base = {"mass": "60 kg", "cg": "1.1 m", "rear_at": "2 m", "front_force": "150 N", "rear_struts": "2", "rear_force": "125 N",
            "progressivity": "1", "handle": "0 mm", "cold": "20 °C", "hot": "20 °C"}  # fmt: skip
    assert roof(base).outputs["verdict"] == "settles when cold"
    rubbed = roof(base, slide_length="250 mm")
    assert rubbed.outputs["verdict"] == "too heavy; settles when cold"
    assert figure(rubbed, "hand_most") == pytest.approx(figure(rubbed, "hand_open_20") + figure(rubbed, "slide_friction"))
    assert "in line with the weight" in rubbed.cautions[0]


def test_what_pushes_up_when_closed_is_said_with_the_seal():
    got = roof(front_force="300 N", latches="4", seal="50 N")
    assert figure(got, "pushes_up") == pytest.approx(50 - figure(got, "hand_closed_hot")) == 4 * figure(got, "latch")
    assert any(f"pushes up with {figure(got, 'pushes_up'):.0f} N" in line for line in got.cautions)


def test_a_hinged_roof_with_two_pairs_says_how_each_stands():
    rear = {"rear_struts": "2", "rear_force": "100 N", "rear_lid_x": "200 mm", "rear_body_x": "40 mm", "rear_body_y": "-40 mm"}
    got = roof(HINGED, **rear)
    ends = [math.hypot(0.2 * math.cos(turn) - 0.04, 0.2 * math.sin(turn) + 0.04) for turn in (0.0, math.radians(70))]
    assert figure(got, "rear_length_open") == pytest.approx(1000 * ends[1])
    assert figure(got, "rear_stroke") == pytest.approx(1000 * (ends[1] - ends[0]))
    # Twice the triangle of hinge and mounts is strut times arm.
    assert figure(got, "rear_from_dead_centre") == pytest.approx(math.degrees(math.asin(0.04 / ends[0])))
    assert any(line.startswith("Rear pair: Closed, the struts are only 14°") for line in got.cautions)


def test_a_hinged_roof_needs_no_strut_for_its_prop():
    got = roof({"mode": "hinged", "mass": "60 kg", "cg": "600 mm", "angle_open": "60°", "props": "2"})
    assert figure(got, "prop") == pytest.approx(2 * 60 * G * math.cos(math.radians(60)) / 2)


def test_no_prop_holds_a_lid_that_opens_past_upright():
    for angle, holds in (("89°", True), ("91°", False)):
        got = roof({"mode": "hinged", "mass": "60 kg", "cg": "600 mm", "angle_open": angle, "props": "2"})
        assert (figure(got, "prop") is not None) == holds
        assert any("falling over backwards" in line for line in got.cautions) != holds


def test_a_lid_mount_at_the_hinge_lifts_nothing():
    assert roof(HINGED, lid_x="0 mm", lid_y="0 mm").outputs["verdict"].startswith("over-centre")


# From the side


HEAVY = {
    "mass": "100 kg", "cg": "1.2 m", "front_at": "300 mm", "rear_at": "2.1 m", "rear_struts": "2", "front_force": "700 N",
    "rear_force": "700 N", "strut_offset": "450 mm", "height_closed": "150 mm", "rise": "600 mm",
}  # fmt: skip


def pictures(base, **texts):
    result = roof(base, **texts)
    return calc.find("roof").drawn(result.inputs, result.outputs)


def lines_of(picture, name):
    return [curve.points for curve in picture.curves if curve.material == name]


def outline_of(picture, name):
    (found,) = [shape.outline for shape in picture.shapes if shape.material == name]
    return found


@pytest.mark.outside("lengths of the struts from the sides of right triangles, 450 by 150 and by 750 mm [computed]")
def test_struts_beside_slides_are_drawn_as_long_as_they_are():
    side, forces = pictures(HEAVY)
    for name, height in (("strut, closed", 150), ("strut, open", 750)):
        front, rear = lines_of(side, name)
        assert math.dist(*front) == math.dist(*rear) == pytest.approx(math.hypot(450, height))
        assert (front[1], rear[1]) == ((300, height), (2100, height))
        assert 300 < front[0][0] < rear[0][0] < 2100
    assert "Front struts (2) and rear struts (2): 474 mm" in side.words
    assert "875 mm" in side.words
    assert "Hand force" in forces.words


@pytest.mark.outside("mounts of a lid turned about its hinge by a rotation of complex numbers [computed]")
def test_struts_of_a_lid_are_drawn_from_mount_to_mount_and_its_weight_turns_with_it():
    rear = {"rear_struts": "2", "rear_force": "100 N", "rear_lid_x": "200 mm", "rear_body_x": "40 mm", "rear_body_y": "-40 mm"}
    side, _ = pictures(HINGED, angle_closed="5°", **rear)
    for name, degrees in (("strut, closed", 5), ("strut, open", 70)):
        turn = complex(math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
        for (foot, mount), body, lid in zip(lines_of(side, name), ((80, -300), (40, -40)), (350 - 20j, 200 + 0j), strict=True):
            assert foot == body
            assert complex(*mount) == pytest.approx(lid * turn)
        assert any(complex(*points[0]) == pytest.approx((600 + 30j) * turn) for points in lines_of(side, "centre of gravity"))
    # It reaches as far as the hand, and farther where something lies there.
    assert math.dist(*outline_of(side, "roof, closed")[:2]) == pytest.approx(1150)
    farther, _ = pictures(HINGED, extras="lamp 2 kg @ 1300 mm")
    assert math.dist(*outline_of(farther, "roof, closed")[:2]) == pytest.approx(1300)


def test_the_strut_calculator_draws_the_same_lid():
    same = {"mode": "hinged", "mass": "40 kg", "cg_distance": "600 mm", "force": "500 N", "lid_mount": "350 mm",
            "lid_mount_y": "-20 mm", "body_x": "80 mm", "body_y": "-300 mm", "open_angle": "70°", "handle": "1.15 m"}  # fmt: skip
    result = calc.run("strut", same)
    one, _ = calc.find("strut").drawn(result.inputs, result.outputs)
    other, _ = pictures(HINGED, cg_height="0 mm")
    assert one.shapes == other.shapes
    assert [curve.points for curve in one.curves] == [curve.points for curve in other.curves]


@pytest.mark.parametrize(
    ("length", "ends"),
    [
        ("", (300 - 180, 2100 + 180)),  # a tenth of what stands on it over each end
        ("2.4 m", (0, 2400)),
        ("2100 mm", (0, 2100)),
        ("2099 mm", (150.5, 2249.5)),  # too short to begin at the origin: around the pairs
        ("1800 mm", (120, 2280)),  # no longer than the pairs stand apart: as if it were not given
    ],
)
def test_a_roof_is_drawn_from_end_to_end_where_its_length_is_given(length, ends):
    side, _ = pictures(HEAVY, **{"roof_length": length} if length else {})
    across = [x for x, _ in outline_of(side, "roof, closed")]
    assert (min(across), max(across)) == pytest.approx(ends)
    assert ("ends" in side.words) == (length in ("", "1800 mm"))


def test_the_side_view_says_which_way_the_hand_goes():
    heavy = pictures(HEAVY)[0]
    assert {label.text for label in heavy.labels[2:]} == {"hand pulls down, closed, hot", "hand pulls down, open, cold"}
    light = pictures(HEAVY, front_force="200 N", rear_force="200 N")[0]
    assert {label.text for label in light.labels[2:]} == {"hand pushes up, closed, hot", "hand pushes up, open, cold"}
    assert all(label.size.value > 0 for label in (*heavy.labels, *light.labels))


def test_a_roof_is_seen_from_the_side_before_its_struts_are_bought():
    bare = {name: text for name, text in HEAVY.items() if not name.endswith("force")}
    (side,) = pictures(bare)
    assert [label.words("metric") for label in side.labels] == ["front struts (2)", "rear struts (2)"]


def test_without_heights_there_are_only_the_forces():
    upright = {name: text for name, text in HEAVY.items() if name not in ("strut_offset", "height_closed", "rise")}
    for texts in ({}, {"height_closed": "150 mm"}, {"rise": "600 mm"}):
        (only,) = pictures(upright, **texts)
        assert only.words.startswith("Hand force")


def test_the_length_of_the_roof_may_be_given_without_the_play_of_its_slides():
    assert figure(roof(roof_length="2.2 m", slide_length="250 mm"), "tilt") is None
