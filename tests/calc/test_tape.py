"""Foam tape: the load it holds, the movement it takes, and the traps of newtons, kilograms and pounds."""

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("mass", "area", "rising", {}),
    ("rule", "area", "rising", {}),
    ("width", "length", "falling", {}),
    ("surface_mismatch", "thickness", "rising", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


def tape(**fields):
    return calc.run("tape", {"width": "25 mm", **fields})


def numbers(**fields):
    return {name: getattr(value, "value", value) for name, value in tape(**fields).outputs.items()}


def cautions(**fields):
    return " ".join(tape(**fields).cautions)


def problems(**fields):
    with pytest.raises(InputError) as caught:
        tape(**fields)
    return {problem.field: problem for problem in caught.value.problems}


@settings(max_examples=60, deadline=None, derandomize=True)
@given(grams=st.integers(10, 900_000), tenths=st.integers(30, 3000), rule=st.integers(5, 1000))
def test_area_is_length_times_width_and_bears_the_load_at_the_stress_of_the_rule(grams, tenths, rule):
    got = numbers(mass=f"{grams} g", width=f"{tenths / 10} mm", rule=f"{rule} cm²/kg")
    assert got["length"] * tenths / 10 / 100 == pytest.approx(got["area"])
    assert got["area"] == pytest.approx(rule * grams / 1000)
    # Back from stress and area to newtons: kPa × cm² is a tenth of a newton.
    assert got["stress"] * got["area"] / 10 == pytest.approx(grams / 1000 * 9.80665)


def test_load_in_newtons_is_not_kilograms():
    assert numbers(load="50 N")["area"] == pytest.approx(numbers(mass="5.0986 kg")["area"], rel=1e-5)
    assert numbers(load="11.0231 lbf")["area"] == pytest.approx(numbers(mass="5 kg")["area"], rel=1e-5)
    assert problems(load="5 kg").keys() == {"load"}
    assert problems(mass="50 N").keys() == {"mass"}


def test_rule_for_each_kilogram_is_not_one_for_each_pound():
    # 4 in²/lb is 4 × 6.4516 cm² for 0.453 592 37 kg.
    by_kilogram = numbers(mass="5 kg")["area"]
    assert numbers(mass="11.0231 lb", rule="4 in²/lb")["area"] == pytest.approx(4 * 11.0231 * 6.4516, rel=1e-9)
    assert by_kilogram == pytest.approx(4 * 11.0231 * 6.4516, rel=2e-4)
    # cm² for each lb taken for cm² for each kg: less than half the tape, and told.
    assert "less tape than the rule" in cautions(mass="5 kg", rule="25.8 cm²/kg")
    assert "less tape than the rule" not in cautions(mass="5 kg", rule="4 in²/lb")
    assert "no unit given" in tape(mass="5 kg", rule="57").doubts[0]


def test_movement_is_sheared_and_unevenness_is_filled():
    # A third of a movement along the tape, twice a gap across it: the two are not to be taken for one another.
    assert numbers(mass="1 kg", length_mismatch="0.6 mm")["thickness"] == pytest.approx(0.2)
    assert numbers(mass="1 kg", surface_mismatch="0.6 mm")["thickness"] == pytest.approx(1.2)
    assert numbers(mass="1 kg", length_mismatch="6 mm", surface_mismatch="0.6 mm")["thickness"] == pytest.approx(2)
    assert numbers(mass="1 kg", length_mismatch="3 mm", surface_mismatch="0.6 mm")["thickness"] == pytest.approx(1.2)
    assert numbers(mass="1 kg")["thickness"] is None


def test_shrinkage_shears_the_tape_like_growth():
    # Expansion gives a movement below zero where the bar shrinks.
    assert numbers(mass="1 kg", length_mismatch="-0.6 mm")["thickness"] == pytest.approx(0.2)
    assert numbers(mass="1 kg", length_mismatch="-0.6 mm")["elastic"] == pytest.approx(1.2)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(hundredths=st.integers(1, 2000))
def test_the_least_thickness_travels_just_the_movement(hundredths):
    moved = 3 * hundredths / 100
    got = numbers(mass="1 kg", length_mismatch=f"{moved:.2f} mm", thickness=f"{hundredths / 100} mm")
    assert got["travel"] == pytest.approx(moved)
    assert got["thickness"] == pytest.approx(hundredths / 100)
    assert got["verdict"] == "ok"
    assert (
        numbers(mass="1 kg", length_mismatch=f"{moved + 0.01:.2f} mm", thickness=f"{hundredths / 100} mm")["verdict"]
        == "too thin"
    )


@pytest.mark.parametrize("mismatch", [{"length_mismatch": "2.35 mm"}, {"surface_mismatch": "0.51 mm"}])
def test_the_tape_that_a_verdict_asks_for_is_thick_enough(mismatch):
    enough = re.search(r"needs to be ([\d.]+) mm", cautions(mass="1 kg", thickness="0.5 mm", **mismatch))[1]
    assert numbers(mass="1 kg", thickness=f"{enough} mm", **mismatch)["verdict"] == "ok"


def test_nothing_is_judged_that_was_not_given():
    assert numbers(mass="1 kg", thickness="1 mm")["verdict"] is None
    assert numbers(mass="1 kg", length_mismatch="1 mm")["travel"] is None
    assert "No movement included" in cautions(mass="1 kg", thickness="1 mm")
    assert "No movement included" not in cautions(mass="1 kg", length_mismatch="0 mm")


def test_pressing_adds_up_to_15_psi_on_the_whole_tape():
    got = numbers(mass="5 kg", width="1 in")
    # 15 lbf on each square inch, by definition of psi; 25 mm of an inch-wide tape is 25/25.4 in².
    assert got["press"] == pytest.approx(15 * 4.4482216 * 25 / 25.4)
    assert got["press_all"] * 1000 == pytest.approx(got["press"] * got["length"] / 25)
    assert "at least 66 N, like standing 6.7 kg" in cautions(mass="5 kg", width="1 in")


def test_falling_cold_and_waiting_are_always_told():
    said = cautions(mass="1 kg")
    for words in ("fall on someone", "72 h", "10 °C or warmer", "data sheet"):
        assert words in said


def test_exactly_one_load():
    assert "keep one" in problems(mass="1 kg", load="10 N")["mass"].fix
    assert "mass the tape carries" in problems()["mass"].fix


def test_the_press_is_that_of_a_mass():
    got = calc.run("tape", {"mass": "5 kg", "rule": "4 in²/lb", "width": "25 mm"}).outputs["press_mass"].value_in("kg")
    # 15 psi on 25 × 25 mm, up to a tenth.
    assert got == pytest.approx(math.ceil(15 * 6894.757 * 0.025**2 / 9.80665 * 10) / 10)
