"""A fraction without a unit is refused: the builder means inches, and it would be read as millimetres."""

import pytest

from shopmate import calc, units
from shopmate.dialogue.blank import Blank
from shopmate.errors import EntryError, InputError

RULE = ["1/2", "3/4", "5/8", "11/16", "5/32", "1/64", "1 1/2", "1-1/2", "1+1/2", "-1/2", "½", "1¾", "2/4"]
"""As an inch is divided on a rule."""

NOT_RULE = ["1/3", "2/3", "1/5", "1/10", "⅓", "1/128", "12", "0.5", "1/1"]


@pytest.mark.parametrize("unit", ["mm", "cm", "m"])
@pytest.mark.parametrize("text", RULE)
def test_a_fraction_of_a_rule_is_no_metric_length(text, unit):
    with pytest.raises(EntryError, match="could be") as refused:
        units.parse(text, unit)
    assert refused.value.fix.startswith(f"type {text} in or ")
    assert refused.value.fix.endswith(f" {unit}")


def test_both_readings_are_named_and_either_is_taken():
    with pytest.raises(EntryError) as refused:
        units.parse("5/8", "mm")
    assert str(refused.value) == "'5/8' could be 5/8 in or 0.625 mm; type 5/8 in or 0.625 mm"
    assert units.parse("5/8 in", "mm").value_in("mm") == pytest.approx(15.875)
    assert units.parse("0.625 mm", "mm").value_in("mm") == pytest.approx(0.625)
    assert units.parse("5/8 mm", "mm").value_in("mm") == pytest.approx(0.625)


@pytest.mark.parametrize("text", NOT_RULE)
def test_other_numbers_are_in_the_unit_of_the_field(text):
    assert units.parse(text, "mm").unit == "mm"


@pytest.mark.parametrize(
    ("text", "unit"), [("1/2", "in"), ("1/2", "ft"), ("3/4", "kg"), ("1/2", "h"), ("1/2", "%"), ("1/2", "m²")]
)
def test_inches_and_what_is_no_length_are_taken(text, unit):
    assert units.parse(text, unit).unit == unit


@pytest.mark.parametrize(("name", "field"), [("screw", "length"), ("shim", "gap"), ("fillet", "radius")])
def test_a_calculator_refuses_it(name, field):
    with pytest.raises(InputError, match=f"{field}: '1/2' could be 1/2 in or 0.5 mm"):
        calc.run(name, {field: "1/2"})


def test_a_drill_is_the_one_thing_that_is_called_so():
    assert calc.run("drill", {"diameter": "1/2"}).outputs["diameter"].value_in("in") == pytest.approx(0.5)


def test_in_a_list_too():
    stock = next(field for field in calc.find("shim").inputs if field.name == "stock").kind
    assert Blank(stock, "mm").line("1/4;1/8") == "1/4;1/8"
    assert Blank(stock, "in").line("1/4;1/8") == "1/4;1/8 in"
    with pytest.raises(EntryError):
        stock.read("1/4;1/8")
