"""What to buy: whole packs against exact fractions and against counting them out one by one, units, and what is refused."""

import math
import random
from decimal import ROUND_CEILING, Decimal
from fractions import Fraction

import pytest

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("waste", "need", "rising", {}),
    ("waste", "need", "rising", {"basis": "of bought"}),
    ("area", "net", "rising", {"net": "", "pack": "", "coverage": "7.1 m²/kg"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


def takeoff(**fields):
    return calc.run("takeoff", fields)


def figure(name, **fields):
    value = takeoff(**fields).outputs[name]
    return None if value is None else float(value.value)


def problems(**fields):
    with pytest.raises(InputError) as caught:
        takeoff(**fields)
    return {item.field: item for item in caught.value.problems}


@pytest.mark.outside("exact fractions: the fewest packs that cover the need, and what they leave")
def test_packs_are_the_fewest_that_do_and_what_is_left_is_exact():
    draws = random.Random(12)
    for _ in range(300):
        net, pack = Fraction(draws.randint(0, 50_000), 10), Fraction(draws.randint(1, 5_000), 10)
        waste, have = Fraction(draws.randint(0, 400), 10), Fraction(draws.randint(0, 9_000), 10)
        basis = draws.choice(["added", "of bought"])
        need = net * (1 + waste / 100) if basis == "added" else net / (1 - waste / 100)
        packs = max(0, math.ceil((need - have) / pack))
        texts = {"net": f"{float(net)} g", "pack": f"{float(pack)} g", "have": f"{float(have)} g", "waste": f"{float(waste)} %"}
        assert figure("packs", **texts, basis=basis) == packs, texts
        assert figure("need", **texts, basis=basis) == pytest.approx(float(need))
        assert figure("left", **texts, basis=basis) == pytest.approx(float(packs * pack + have - need), abs=1e-6)
        assert figure("buy", **texts, basis=basis) == pytest.approx(float(max(Fraction(0), need - have)), abs=1e-6)


@pytest.mark.outside("decimal arithmetic, rounded up")
def test_packs_that_just_do_are_enough():
    for net, waste, pack in (("2.0", "10", "1.1"), ("3.3", "0", "1.1"), ("0.7", "0", "0.1"), ("1000", "15", "11.5")):
        wanted = (Decimal(net) * (1 + Decimal(waste) / 100) / Decimal(pack)).to_integral_value(ROUND_CEILING)
        assert figure("packs", net=f"{net} m²", waste=f"{waste} %", pack=f"{pack} m²") == wanted
        assert figure("left", net=f"{net} m²", waste=f"{waste} %", pack=f"{pack} m²") == pytest.approx(0, abs=1e-9)


@pytest.mark.outside("boxes filled one screw at a time")
def test_screws_are_counted_into_boxes():
    for net in (1, 12, 95, 100, 180, 401):
        wanted, boxes, inside = max(net + 5, Fraction(105 * net, 100)), 0, 0
        while inside < wanted:
            boxes, inside = boxes + 1, inside + 200
        assert figure("packs", net=str(net), material="screws", pack="200") == boxes
        assert figure("need", net=str(net), material="screws") == pytest.approx(float(wanted))


@pytest.mark.outside("a US gallon is 231 in³, an inch 25.4 mm by definition; 8.2 m²/kg from a handbook [read]")
def test_units_are_those_of_the_net_amount():
    gallons = takeoff(net="2 gal", waste="10 %", pack="1 qt").outputs
    assert (gallons["need"].unit, float(gallons["need"].value)) == ("gal", pytest.approx(2.2))
    assert gallons["need"].value_in("mL") == pytest.approx(2.2 * 231 * 2.54**3)
    assert gallons["packs"].value == 9
    paint = takeoff(area="300 sq ft", coverage="300 ft²/gal", waste="0 %").outputs
    assert paint["net"].value_in("gal") == pytest.approx(1)
    assert paint["net"].unit == "mL"
    assert takeoff(area="10 m²", coverage="8.2 m²/kg", waste="0 %").outputs["net"].value_in("g") == pytest.approx(1219.5, abs=0.1)


def test_the_usual_waste_is_used_where_none_is_typed():
    assert figure("waste", net="10 m²", material="curved cloth") == 20
    assert figure("waste", net="10 m²", material="curved cloth", waste="12 %") == 12
    assert figure("need", net="0", material="screws") == 0
    # Five spare screws at least, of what is counted; grams of them have no such number.
    assert figure("need", net="20", material="stainless screws") == 25
    assert figure("need", net="20 g", material="stainless screws") == pytest.approx(22)


def test_what_is_in_stock_is_bought_no_more():
    assert figure("packs", net="100 mL", waste="0 %", pack="290 mL", have="290 mL") == 0
    assert figure("left", net="100 mL", waste="0 %", pack="290 mL", have="290 mL") == pytest.approx(190)
    assert figure("left", net="100 mL", waste="0 %") is None
    stock = "opened foam"
    assert any(stock in line for line in takeoff(net="100 mL", waste="0 %", have="50 mL").cautions)
    assert not any(stock in line for line in takeoff(net="12 m", waste="0 %", have="5 m").cautions)


def test_waste_is_counted_once():
    assert any("Count waste once" in line for line in takeoff(net="100 mL", waste="1 %").cautions)
    assert any("No waste added" in line for line in takeoff(net="100 mL", waste="0 %").cautions)


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        ({"waste": "5 %"}, {"net"}),
        ({"net": "5 m"}, {"waste"}),
        ({"net": "5 m", "area": "2 m²", "waste": "5 %"}, {"area"}),
        ({"area": "2 m²", "waste": "5 %"}, {"coverage"}),
        ({"coverage": "2 m²/kg", "waste": "5 %"}, {"area"}),
        ({"net": "5 m", "waste": "100 %", "basis": "of bought"}, {"waste"}),
        ({"net": "5 m", "waste": "5 %", "pack": "2 kg", "have": "3"}, {"pack", "have"}),
        ({"net": "5 m", "waste": "5 %", "pack": "0 m"}, {"pack"}),
        ({"net": "-1", "waste": "5 %"}, {"net"}),
        ({"net": "20 °C", "waste": "5 %"}, {"net"}),
        ({"area": "2 m²", "coverage": "5 m²", "waste": "5 %"}, {"coverage"}),
    ],
)
def test_what_does_not_go_together_is_refused(fields, named):
    assert problems(**fields).keys() == named
    assert all(item.what and item.fix for item in problems(**fields).values())


def test_a_coverage_has_limits_in_either_unit():
    for unit in ("m²/kg", "m²/L"):
        for number, is_taken in (("0.009", False), ("0.01", True), ("1000", True), ("1001", False)):
            fields = {"area": "1 m²", "coverage": f"{number} {unit}", "waste": "0 %"}
            if is_taken:
                assert figure("net", **fields) == pytest.approx(1000 / float(number))
            else:
                assert problems(**fields).keys() == {"coverage"}


def test_nearly_all_wasted_is_worked_out():
    assert figure("need", net="5 m", waste="99 %", basis="of bought") == pytest.approx(500)
    assert figure("need", net="5 m", waste="100 %") == pytest.approx(10)
