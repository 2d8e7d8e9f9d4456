"""Nose and axle load against equilibrium solved with scipy and against exact fractions, the verdicts, and how loads are read."""

import random
from fractions import Fraction

import pytest
from scipy.linalg import solve

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("axle", "nose_load", "rising", {"coupling": "-15 m"}),
    ("axle", "axle_load", "falling", {"coupling": "-15 m"}),
    ("target", "axle_wanted", "rising", {}),
    ("target", "shift", "rising", {"moving": "60 kg"}),
    ("moving", "shift", "falling", {"target": "10 %"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

LOADED = {"parts": "body 300 kg @ 1800 mm; battery 60 kg @ 600 mm; rack 40 kg @ 3000 mm", "axle": "1850 mm"}


def balance(**fields):
    return calc.run("balance", {**LOADED, **fields})


def figure(name, **fields):
    value = balance(**fields).outputs[name]
    return None if value is None else float(value.value)


def verdict(**fields):
    return balance(**fields).outputs["verdict"]


def cautions(**fields):
    return " ".join(balance(**fields).cautions)


def drawn(seed):
    """Return masses in kg, places in mm, coupling and axle of a trailer drawn at random."""
    draws = random.Random(seed)
    loads = [(draws.randint(1, 900), draws.randint(-800, 6000)) for _ in range(draws.randint(1, 12))]
    coupling = draws.randint(-1500, 500)
    return loads, coupling, coupling + draws.randint(300, 9000)


def texts(loads, coupling, axle):
    parts = "; ".join(f"part {mass} kg @ {place} mm" for mass, place in loads)
    return {"parts": parts, "coupling": f"{coupling} mm", "axle": f"{axle} mm"}


@pytest.mark.outside("equilibrium of forces and moments, solved with scipy.linalg.solve [computed]")
def test_nose_and_axle_carry_the_weight_and_its_moment():
    for seed in range(40):
        loads, coupling, axle = drawn(seed)
        total, moment = sum(mass for mass, _ in loads), sum(mass * place for mass, place in loads)
        nose, wheels = solve([[1, 1], [coupling, axle]], [total, moment])
        fields = texts(loads, coupling, axle)
        assert figure("nose_load", **fields) == pytest.approx(nose, abs=1e-6)
        assert figure("axle_load", **fields) == pytest.approx(wheels, abs=1e-6)
        assert figure("nose_share", **fields) == pytest.approx(100 * nose / total, abs=1e-6)


@pytest.mark.outside("exact fractions: the load moved by the shift, then balanced again")
def test_the_load_moved_by_the_shift_or_the_axle_put_there_gives_the_share():
    for seed in range(40):
        loads, coupling, axle = drawn(seed)
        fields = texts(loads, coupling, axle) | {"target": "6 %", "moving": f"{loads[0][0]} kg"}
        shift = Fraction(figure("shift", **fields)).limit_denominator(10**9)
        moved = [(loads[0][0], loads[0][1] - shift), *loads[1:]]
        total = sum(mass for mass, _ in moved)
        cg = sum(mass * place for mass, place in moved) / total
        assert float((axle - cg) / (axle - coupling)) == pytest.approx(0.06, abs=1e-7)
        wanted = Fraction(figure("axle_wanted", **fields)).limit_denominator(10**9)
        as_it_is = Fraction(sum(mass * place for mass, place in loads), total)
        assert float((wanted - as_it_is) / (wanted - coupling)) == pytest.approx(0.06, abs=1e-7)


@pytest.mark.outside("a pound is 0.45359237 kg and an inch 25.4 mm by definition; moments in lb and in")
def test_pounds_and_inches_balance_alike():
    # 700 lb × 72 in + 100 lb × 30 in over 800 lb is 66.75 in; the axle at 71 in leaves 800 × 4.25 / 71 = 47.89 lb on the nose.
    got = calc.run("balance", {"parts": "body 700 lb @ 6 ft; battery 100 lb @ 30 in", "axle": "71 in"}).outputs
    assert got["cg"].value_in("in") == pytest.approx(66.75)
    assert got["nose_load"].value_in("lb") == pytest.approx(800 * 4.25 / 71)
    assert got["axle_load"].value_in("lb") == pytest.approx(800 * 66.75 / 71)


def test_the_verdict_goes_by_share_minimum_and_limit():
    assert verdict(minimum="20 kg") == "ok"
    assert verdict() == "light"
    assert "23.8 kg is less than the 25 kg minimum" in cautions()
    assert verdict(minimum="0 kg", axle="1800 mm") == "light"
    assert verdict(axle="1900 mm") == "heavy"
    assert verdict(minimum="20 kg", nose_limit="23 kg") == "heavy"
    assert verdict(minimum="20 kg", nose_limit="24 kg") == "ok"
    assert verdict(axle="1700 mm") == "tail heavy"
    assert "Do not tow it like this" in cautions(axle="1700 mm")


def test_the_band_typed_is_the_one_that_counts():
    # 5.946 % of the mass is on the nose.
    for band in ("5 to 7 %", "5-7 %", "5 – 7 %", "5 %-7 %"):
        assert verdict(minimum="0 kg", band=band) == "ok", band
    assert verdict(minimum="0 kg", band="10 to 15 %") == "light"
    assert verdict(minimum="0 kg", band="3 to 5 %") == "heavy"
    for wrong in ("7 to 5 %", "5 %", "5 to 6 to 7 %", "5 to 70 %", "some"):
        with pytest.raises(InputError) as caught:
            balance(band=wrong)
        assert [problem.field for problem in caught.value.problems] == ["band"], wrong


def test_without_an_axle_there_is_a_centre_of_gravity():
    got = calc.run("balance", {"parts": LOADED["parts"]})
    assert got.outputs["cg"].value_in("mm") == pytest.approx(1740)
    assert [got.outputs[name] for name in ("nose_load", "axle_load", "verdict", "shift", "moved_10")] == [None] * 5
    assert "Enter the axle" in got.cautions[0]


def test_sides_and_heights_are_told_where_they_are_known():
    wide = {"parts": "body 400 kg @ 2 m, 0 mm; kitchen 80 kg @ 1800 mm, -500 mm; tank 50 kg @ 2.2 m", "axle": "2100 mm"}
    # What has no place to the side is on the middle line: −80 × 500 / 530.
    assert figure("cg_y", **wide) == pytest.approx(-40_000 / 530)
    assert figure("right_share", **wide) is None
    assert figure("right_share", **wide, track="1500 mm") == pytest.approx(50 - 100 * 40_000 / 530 / 1500)
    assert figure("cg_z", **wide) is None
    some = {"parts": "body 400 kg @ 2 m, 0 mm, 500 mm; tank 50 kg @ 2.2 m", "axle": "2100 mm"}
    assert figure("cg_z", **some) is None
    assert any("enter the height of every load" in line for line in balance(**some).working)
    assert figure("cg_y") is None


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        ({"axle_front": "2 m"}, ["axle_front"]),
        ({"axle": "", "axle_front": "2 m"}, ["axle_rear"]),
        ({"axle": "", "axle_front": "3 m", "axle_rear": "3 m"}, ["axle_rear"]),
        ({"axle": "", "track": "1.5 m", "target": "6 %"}, ["track", "target"]),
        ({"axle": "200 mm"}, ["axle"]),
        ({"axle": "", "axle_front": "100 mm", "axle_rear": "300 mm"}, ["axle_front"]),
        ({"axle": "14 m"}, ["axle"]),
        ({"moving": "40 kg"}, ["target"]),
        ({"parts": ""}, ["parts"]),
        ({"parts": "body 300 kg"}, ["parts"]),
    ],
)
def test_what_does_not_go_together_is_refused(fields, named):
    with pytest.raises(InputError) as caught:
        balance(**fields)
    assert [problem.field for problem in caught.value.problems] == named


def test_a_hundred_loads_balance():
    many = {"parts": "; ".join(f"a {mass} kg @ 2 m" for mass in range(1, 101)), "axle": "2200 mm"}
    assert figure("mass", **many) == 5050
    assert figure("nose_load", **many) == pytest.approx(5050 * 200 / 2200)
    assert balance(**many).working[0] == "mass = Σ mass = 5050 kg"
    assert balance().working[0] == "mass = 300 + 60 + 40 = 400 kg"


def test_the_picture_shows_coupling_axle_and_centre_of_gravity():
    calculator = calc.find("balance")
    result = balance()
    picture = calculator.drawn(result.inputs, result.outputs)[0]
    at = {label.text: label.at[0] for label in picture.labels}
    assert (at["nose"], at["axle"], at["centre of gravity at"]) == (0, 1850, 1740)
    assert {"body", "battery", "rack"} <= at.keys()
    assert "23.8 kg" in picture.words
    assert "376.2 kg" in picture.words
    none = calc.run("balance", {"parts": LOADED["parts"]})
    assert calculator.drawn(none.inputs, none.outputs) == ()
    pair = calc.run("balance", {"parts": "body 1000 kg @ 3 m", "axle_front": "2.8 m", "axle_rear": "3.6 m"})
    shapes = calculator.drawn(pair.inputs, pair.outputs)[0].shapes
    assert sum(shape.material == "wheel" for shape in shapes) == 2
