"""Lifting by hand: the multipliers against their definitions, both ends of the lift, and remedies that are enough."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("hand_distance", "limit", "falling", {}),
    ("twist", "limit", "falling", {}),
    ("rate", "limit", "falling", {}),
    ("mass", "index", "rising", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

PANEL = {"mass": "20 kg", "hand_distance": "40 cm", "start_height": "60 cm", "travel": "60 cm"}
LOW = {"start_height": "20 cm", "travel": "30 cm"}


def lift(**fields):
    return calc.run("lift", {**PANEL, **fields})


def numbers(**fields):
    return {name: getattr(value, "value", value) for name, value in lift(**fields).outputs.items()}


def cautions(**fields):
    return " ".join(lift(**fields).cautions)


@settings(max_examples=80, deadline=None, derandomize=True)
@given(
    reach=st.integers(25, 63),
    start=st.integers(0, 175),
    end=st.integers(0, 175),
    twist=st.integers(0, 135),
    grip=st.sampled_from(["1", "0.95", "0.9"]),
)
def test_limit_is_the_product_of_the_multipliers(reach, start, end, twist, grip):
    found = numbers(
        hand_distance=f"{reach} cm", start_height=f"{start} cm", travel=f"{end - start} cm", twist=f"{twist}°", grip=grip
    )
    way = max(25, abs(end - start))
    # The tables' form: logarithms of each factor, summed.
    common = math.log(23) + math.log(25) - math.log(reach) + math.log(0.82 * way + 4.5) - math.log(way)
    common += math.log1p(-0.0032 * twist) + math.log(float(grip))
    for name, height in (("limit_start", start), ("limit_end", end)):
        assert found[name] == pytest.approx(math.exp(common + math.log1p(-0.003 * abs(height - 75))))
    assert found["limit"] == min(found["limit_start"], found["limit_end"])
    assert 0 < found["limit"] <= 23
    assert found["index"] == pytest.approx(20 / found["limit"])


@pytest.mark.parametrize(
    ("change", "worse"),
    [
        ({"hand_distance": "40 cm"}, {"hand_distance": "50 cm"}),
        ({"start_height": "60 cm"}, {"start_height": "20 cm"}),
        ({"travel": "60 cm"}, {"travel": "90 cm"}),
        ({"twist": "0°"}, {"twist": "45°"}),
        ({"grip": "good", **LOW}, {"grip": "fair", **LOW}),
        ({"grip": "fair"}, {"grip": "poor"}),
        ({"rate": "0.2"}, {"rate": "4"}),
        ({"rate": "4"}, {"rate": "4.1"}),
        ({"duration": "up to 1 h"}, {"duration": "1 to 2 h"}),
        ({"duration": "1 to 2 h"}, {"duration": "2 to 8 h"}),
        ({"placing": "let go"}, {"placing": "with care"}),
    ],
)
def test_a_worse_lift_has_a_lower_limit(change, worse):
    assert numbers(**change)["limit"] > numbers(**worse)["limit"]


@pytest.mark.parametrize(
    "fields",
    [
        {"hand_distance": "63.1 cm"},
        {"start_height": "176 cm", "travel": "0 cm"},
        {"start_height": "120 cm", "travel": "60 cm"},
        {"start_height": "0 cm", "travel": "176 cm"},
        {"twist": "136°"},
        {"rate": "15.1", "start_height": "100 cm", "travel": "0 cm"},
        {"rate": "12.1"},
        {"rate": "8.5", "duration": "2 to 8 h"},
    ],
)
def test_beyond_the_equation_the_limit_is_none_at_all(fields):
    found = numbers(**fields)
    assert (found["limit"], found["index"], found["verdict"]) == (0, None, "out of reach: hoist")
    assert "Out of reach" in cautions(**fields)


def test_nothing_is_gained_nearer_than_25_cm_or_over_less_than_25_cm():
    assert numbers(hand_distance="10 cm")["limit"] == numbers(hand_distance="25 cm")["limit"]
    level = {"start_height": "75 cm", "placing": "let go"}
    assert numbers(**level, travel="5 cm")["limit"] == pytest.approx(numbers(**level, travel="25 cm")["limit"])
    assert numbers(hand_distance="63 cm")["limit"] > 0


def test_lowering_counts_like_lifting():
    up, down = numbers(), numbers(start_height="120 cm", travel="-60 cm")
    assert up["limit"] == down["limit"]
    assert up["limit_start"] == pytest.approx(down["limit_end"])


def test_end_counts_when_set_down_with_care():
    high = {"start_height": "75 cm", "travel": "90 cm"}
    assert numbers(**high)["limit"] == numbers(**high)["limit_end"] < numbers(**high, placing="let go")["limit"]


@pytest.mark.parametrize(("factor", "verdict"), [(0.99, "ok"), (1.01, "hard"), (2.99, "hard"), (3.01, "hoist")])
def test_verdict_by_the_index(factor, verdict):
    mass = f"{numbers()['limit'] * factor:.9f} kg"
    assert numbers(mass=mass)["verdict"] == verdict


def test_the_hand_distance_named_is_enough():
    base = {"mass": "14 kg", "hand_distance": "50 cm"}
    assert numbers(**base)["index"] > 1
    near = int(re.search(r"hands (\d+) cm before", cautions(**base))[1])
    assert numbers(**{**base, "hand_distance": f"{near} cm"})["verdict"] == "ok"
    assert numbers(**{**base, "hand_distance": f"{near + 1} cm"})["verdict"] == "hard"


def test_no_hand_distance_is_named_where_none_is_enough():
    assert "cm before the ankles or nearer" not in cautions(mass="30 kg")


def test_two_people_are_named_only_where_they_are_enough():
    limit = numbers()["limit"]
    said = cautions(mass=f"{limit * 1.3:.6f} kg")
    assert "lift it with two people" in said
    said = cautions(mass=f"{limit * 1.4:.6f} kg")
    assert "lift it with two people" not in said
    assert "Two people are not enough" in said
    assert numbers()["two_people"] == pytest.approx(4 / 3 * limit)
    assert numbers()["two_people"] < 2 * limit  # two do not lift twice as much


def test_reference_masses_and_limits_of_the_method_are_said():
    assert "ISO 11228-1, 20 kg for women" in cautions(mass="22 kg")
    assert "25 kg for men and 20 kg for women" in cautions(mass="26 kg")
    assert "ISO" not in cautions(mass="10 kg")
    assert "two-handed lifts, standing" in cautions(mass="1 kg")


def test_what_costs_most_is_named():
    assert "What costs most is HM 0.42" in cautions(hand_distance="60 cm")
    assert "What costs most" not in cautions(
        mass="23 kg", hand_distance="25 cm", start_height="75 cm", travel="10 cm", grip="good"
    )


def test_a_way_down_through_the_floor_is_refused():
    with pytest.raises(InputError) as caught:
        lift(travel="-70 cm")
    assert [problem.field for problem in caught.value.problems] == ["travel"]


def test_the_figures_of_the_words_of_a_lift():
    box = {"mass": "10 kg", "hand_distance": "40 cm", "start_height": "75 cm", "travel": "50 cm", "grip": "0.95"}
    got = calc.run("lift", box).outputs
    assert got["end_height"].value_in("cm") == pytest.approx(125)
    # 23 kg × 25/H × (1 − 0.003 × 50) × (0.82 + 4.5/50) × 0.95 is 10 kg at H = 42.25 cm, down to a whole one.
    assert got["near_enough"].value_in("cm") == math.floor(23 * 25 * 0.85 * 0.91 * 0.95 / 10)


NIOSH_TABLE_5 = {
    "up to 1 h": "1.00 0.97 0.94 0.91 0.88 0.84 0.80 0.75 0.70 0.60 0.52 0.45 0.41 0.37 0.34 0.31 0.28",
    "1 to 2 h": "0.95 0.92 0.88 0.84 0.79 0.72 0.60 0.50 0.42 0.35 0.30 0.26 0.23 0.21 0.00 0.00 0.00",
    "2 to 8 h": "0.85 0.81 0.75 0.65 0.55 0.45 0.35 0.27 0.22 0.18 0.15 0.13 0.00 0.00 0.00 0.00 0.00",
}
"""Frequency multipliers for 0.2, 0.5 and 1 to 15 lifts a minute, hands at 75 cm or above: NIOSH 94-110 table 5, written down
apart [memory]."""

LAST_LOW = {"up to 1 h": 12, "1 to 2 h": 10, "2 to 8 h": 8}
"""Last rate of the same table that is not 0 with the hands under 75 cm [memory]."""


@pytest.mark.parametrize("duration", NIOSH_TABLE_5)
@pytest.mark.parametrize("height", ["75 cm", "74 cm"])
def test_the_multiplier_of_each_rate_is_that_of_the_published_table(duration, height):
    level = {"start_height": height, "travel": "0 cm"}
    most = numbers(**level, rate="0.2", duration="up to 1 h")["limit"]
    for rate, wanted in zip(("0.2", "0.5", *map(str, range(1, 16))), NIOSH_TABLE_5[duration].split(), strict=True):
        listed = 0.0 if height == "74 cm" and float(rate) > LAST_LOW[duration] else float(wanted)
        assert numbers(**level, rate=rate, duration=duration)["limit"] / most == pytest.approx(listed), rate


def test_a_rate_between_two_lines_counts_as_the_next_one_up_and_says_so():
    high = {"start_height": "80 cm", "travel": "10 cm"}
    between, line = numbers(**high, rate="8.5"), numbers(**high, rate="9")
    assert between["limit"] == line["limit"] > 0
    assert "FM = 0.52 (table: 9 a minute, the next line up from 8.5, up to 1 h)" in lift(**high, rate="8.5").working
    assert "FM = 0.52 (table: 9 a minute, up to 1 h)" in lift(**high, rate="9").working
    assert any("beyond the table" in line for line in lift(**high, rate="16").working)
