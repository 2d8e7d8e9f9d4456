"""What a field takes and refuses, each limit from both sides; what is asked about; what calculators ask of their fields."""

import math
import re

import pytest

from shopmate import calc, units
from shopmate.calculator import (
    Choice,
    Count,
    Either,
    Example,
    Field,
    Measure,
    Measures,
    RatioKind,
    Source,
    doubt,
    plain,
    slip,
)
from shopmate.errors import EntryError, InputError
from shopmate.models.fields import given, in_unit, missing, refuse, round_up, together
from shopmate.units import Quantity, Ratio

LENGTH = Measure("mm", low=50, high=2000)


def refusal(kind, text):
    with pytest.raises(EntryError) as caught:
        kind.read(text)
    return str(caught.value)


# A quantity


@pytest.mark.parametrize("text", ["50 mm", "5 cm", "2000 mm", "2 m"])
def test_a_limit_itself_is_taken(text):
    assert LENGTH.read(text) == units.parse(text, "mm")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("49.99 mm", "49.99 mm is below the minimum, 50 mm; enter 50 mm or more"),
        ("4.999 cm", "4.999 cm is below the minimum, 5 cm; enter 5 cm or more"),
        ("2000.01 mm", "2000.01 mm is above the maximum, 2000 mm; enter 2000 mm or less"),
        ("2.001 m", "2.001 m is above the maximum, 2 m; enter 2 m or less"),
    ],
)
def test_what_is_beyond_a_limit_is_refused_with_what_is_taken(text, said):
    assert refusal(LENGTH, text) == said


def test_what_may_not_be_nought_may_be_as_little_as_one_likes():
    above = Measure("g", above=0, high=100)
    assert refusal(above, "0 g") == "0 g is not above 0 g; enter more than 0 g"
    assert refusal(above, "-1 g") == "-1 g is not above 0 g; enter more than 0 g"
    assert above.read("0.001 g") == units.parse("0.001 g", "g")


def test_a_number_without_limits_is_taken_whatever_it_is():
    assert Measure("g").read("-1000000 g").value == -1_000_000


def test_a_limit_of_25_4_is_not_exceeded_by_one_inch():
    # 25.4 is no float; an inch is 25.4 mm exactly [memory].
    assert Measure("mm", low=1, high=25.4).read("1 in").unit == "in"
    assert Measure("mm", low=25.4, high=50).read("1 in").unit == "in"


@pytest.mark.parametrize("inches", [*range(1, 100), 1000, -5])
def test_a_limit_of_whole_inches_is_said_in_whole_inches(inches):
    # 25.4 mm to the inch [memory]; floats make 24.999999999999996 of some of them.
    limit = round(25.4 * inches, 4)
    assert Measure("mm", low=limit).limits("in") == f"from {inches} in"
    assert Measure("mm", high=limit).limits("in") == f"up to {inches} in"


@pytest.mark.parametrize("inches", [1.001, 1.003, 10.03, 100.3, 1.005])
def test_the_noise_of_floats_moves_no_limit(inches):
    # 1.003 / 0.001 is 1002.9999999999999 in floats [computed].
    limit = round(25.4 * inches, 6)
    assert Measure("mm", low=limit).limits("in") == f"from {inches} in"
    assert Measure("mm", high=limit).limits("in") == f"up to {inches} in"


@pytest.mark.parametrize("limit", [3, 7, 60, 77, 250, 1234, 5000])
@pytest.mark.parametrize("unit", ["in", "ft", "yd", "cm"])
def test_a_limit_that_is_said_is_taken_and_is_near_the_limit(limit, unit):
    for kind, words in ((Measure("mm", low=limit), "from "), (Measure("mm", high=limit), "up to ")):
        said = kind.limits(unit).removeprefix(words)
        assert kind.read(said)
        assert units.parse(said, "mm").value_in("mm") == pytest.approx(limit, rel=1e-3)


def test_a_limit_of_nought_is_nought_in_every_unit():
    assert Measure("mm", low=0, high=25.4).limits("in") == "0 to 1 in"
    assert Measure("°C", low=0).limits("°F") == "from 32 °F"


def test_a_limit_in_its_own_unit_is_said_as_it_is_and_in_another_to_four_digits():
    kind = Measure("mm", low=1234.56)
    assert kind.limits("mm") == "from 1234.56 mm"
    assert kind.limits("cm") == "from 123.5 cm"
    assert refusal(kind, "1 mm") == "1 mm is below the minimum, 1234.56 mm; enter 1234.56 mm or more"


def test_limits_between_and_above_are_told():
    assert Measure("mm", above=0, high=10).limits("mm") == "0 to 10 mm"
    assert Measure("mm", above=2).limits("mm") == "above 2 mm"


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        (LENGTH, "mm, 50 to 2000"),
        (Measure("mm", above=0, high=10), "mm, 0 to 10"),
        (Measure("mm", above=0), "mm, above 0"),
        (Measure("mm", low=3), "mm, from 3"),
        (Measure("mm", high=3), "mm, up to 3"),
        (Measure(""), "a number"),
        (Count(1, 20), "whole number, 1 to 20"),
        (Choice(("one", "two")), "one of: one, two"),
        (RatioKind(), "ratio by volume or by weight, such as '2:1 by volume' or '100:45 by weight'"),
        (Either(Choice(("pine",)), Measure("kg/m³", low=1)), "one of: pine; or a figure: kg/m³, from 1"),
        (Measures(LENGTH), "list such as 1, 0.5, 0.5 mm; each mm, 50 to 2000"),
        (Measures(Measure(""), named={"half": "1"}), "half, or list such as 1, 0.5, 0.5; each a number"),
    ],
)
def test_what_a_field_takes_is_said(kind, said):
    assert kind.describe() == said


# A count, a name, either


def test_a_count_is_whole_and_within_its_limits():
    pieces = Count(2, 20)
    assert [pieces.read(text) for text in ("2", "20", "4.0")] == [2, 20, 4]
    for text in ("1", "21", "2.5", "-3"):
        assert refusal(pieces, text) == f"{text} is not a whole number from 2 to 20; enter 2 to 20"
    assert (Count().read("1"), Count().read("1000")) == (1, 1000)
    assert refusal(Count(), "0")
    assert refusal(Count(), "1001")


def test_a_name_is_taken_in_any_case_and_spacing():
    wood = Choice(lambda: ("douglas fir", "spruce"))
    assert {wood.read(text) for text in ("Douglas Fir", "douglas-fir", "douglasfir", " DOUGLAS  fir ")} == {"douglas fir"}
    assert refusal(wood, "oak") == "'oak' is not one of the choices; enter one of: douglas fir, spruce"


def test_either_a_name_or_a_figure():
    density = Either(Choice(("pine",)), Measure("kg/m³", low=100))
    assert density.read("Pine") == "pine"
    assert density.read("450 kg/m³") == Quantity(450, "kg/m³")
    assert refusal(density, "oak") == "'oak' is not one of the choices; enter one of: pine"
    assert refusal(density, "50 kg/m³") == (
        "50 kg/m³ is below the minimum, 100 kg/m³; enter 100 kg/m³ or more, or enter one of: pine"
    )


# Several quantities

PLIES = Measures(Measure("mm", above=0, high=50), most=3, named={"two": "1 mm, 1 mm"})


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("1 mm", "1 mm"),
        ("1, 0.5, 0.5 mm", "1 mm, 0.5 mm, 0.5 mm"),
        ("1; 0.5; 0.5 mm", "1 mm, 0.5 mm, 0.5 mm"),
        ("1,5 mm", "1.5 mm"),
        ("1,5, 2 mm", "1.5 mm, 2 mm"),
        ("1,2,3 mm", "1 mm, 2 mm, 3 mm"),
        ("0.5,1 mm", "0.5 mm, 1 mm"),
        ("1/4,1/8 in", "1/4 in, 1/8 in"),
        ("1 mm, 1/4 in", "1 mm, 1/4 in"),
        ("1 mm, 2 mm,", "1 mm, 2 mm"),
        ("Two", "1 mm, 1 mm"),
    ],
)
def test_a_list_is_read_with_its_units_and_either_decimal_mark(text, shown):
    wanted = tuple(units.parse(part, "mm") for part in shown.split(", "))
    assert PLIES.quantities(PLIES.read(text)) == wanted


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1, 1, 1, 1 mm", "4 in the list; enter 3 or fewer"),
        ("1, 2", "'2' has no unit; type a unit after each, or one unit at the end: 1, 0.5, 0.5 mm"),
        ("1 mm, 2", "'2' has no unit; type a unit after each, or one unit at the end: 1, 0.5, 0.5 mm"),
        ("1, 2 mm, 1 in", "'1' has no unit; type a unit after each, or one unit at the end: 1, 0.5, 0.5 mm"),
        ("1, 60 mm", "60 mm is above the maximum, 50 mm; enter 50 mm or less"),
        ("x, 1 mm", "'x' has no number in front; type 12 mm or 1-1/2 in"),
    ],
)
def test_a_list_that_is_too_long_or_has_two_readings_is_refused(text, said):
    assert refusal(PLIES, text) == said


def test_a_list_of_what_both_systems_measure_alike_needs_no_unit():
    assert Measures(Measure("min", above=0)).quantities("5, 10") == (Quantity(5, "min"), Quantity(10, "min"))
    assert len(Measures(Measure("min", above=0)).quantities(", ".join(["1"] * 20))) == 20
    assert refusal(Measures(Measure("min", above=0)), ", ".join(["1"] * 21)) == "21 in the list; enter 20 or fewer"


# What is asked about


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("5 °C", None),
        ("40 °C", None),
        ("4.9 °C", "4.9 °C is below the usual 5 °C"),
        ("40.1 °C", "40.1 °C is above the usual 40 °C"),
        ("41 °F", None),  # 5 °C
        ("40.9 °F", "40.9 °F is below the usual 41 °F"),
    ],
)
def test_what_is_unusual_is_asked_about_and_a_limit_itself_is_usual(text, said):
    kind = Measure("°C", low=-40, high=60, soft_low=5, soft_high=40)
    value = kind.read(text)
    assert kind.doubt(value) == said
    assert doubt(kind, value) == (f"{said}; is that right?" if said else None)
    assert doubt(Either(Choice(("cold",)), kind), value) == (f"{said}; is that right?" if said else None)


def test_what_was_worked_out_and_is_unusual_is_told_in_as_many_digits_as_are_read():
    assert Measure("g", soft_high=1000).doubt(Quantity(1912.4967253333336, "g")) == "1912 g is above the usual 1000 g"


def test_without_soft_limits_nothing_is_unusual_nor_is_a_name():
    assert doubt(LENGTH, LENGTH.read("50 mm")) is None
    assert doubt(Choice(("pine",)), "pine") is None


@pytest.mark.parametrize(
    ("value", "before", "words"),
    [
        ("1019 mm", "100 mm", "1019 mm is 10 times the last, 100 mm"),
        ("981 mm", "100 mm", "981 mm is 10 times the last, 100 mm"),
        ("1021 mm", "100 mm", None),
        ("979 mm", "100 mm", None),
        ("10 mm", "101.9 mm", "10 mm is 10 times smaller than the last, 101.9 mm"),
        ("10 mm", "102.1 mm", None),
        ("259 mm", "10 mm", "259 mm is 25.4 times the last, 10 mm"),  # 25.4 x 1.02 = 25.908
        ("259.1 mm", "10 mm", None),
        ("1 mm", "25.8 mm", "1 mm is 25.4 times smaller than the last, 25.8 mm"),
        ("-1000 mm", "100 mm", "-1000 mm is 10 times the last, 100 mm"),
        ("1 in", "254 mm", "1 in is 10 times smaller than the last, 254 mm"),
    ],
)
def test_a_slip_is_told_within_two_per_cent_of_ten_or_25_4_times(value, before, words):
    assert slip(units.parse(value, "mm"), units.parse(before, "mm")) == words


def test_what_cannot_be_set_beside_the_last_is_no_slip():
    ten = units.parse("10 mm", "mm")
    for before in (None, "10", units.parse("0 mm", "mm"), units.parse("1 g", "g")):
        assert slip(ten, before) is None
    assert slip("10", ten) is None
    assert slip(units.parse("20 °C", "°C"), units.parse("2 °C", "°C")) is None


def test_the_unusual_is_told_before_a_slip():
    kind = Measure("mm", low=0, high=2000, soft_high=500)
    last = units.parse("90 mm", "mm")
    assert doubt(kind, units.parse("900 mm", "mm"), last) == "900 mm is above the usual 500 mm; is that right?"
    assert doubt(kind, units.parse("9 mm", "mm"), last) == "9 mm is 10 times smaller than the last, 90 mm; is that right?"


# What calculators ask of their fields


def test_a_field_may_stay_empty_unless_it_is_required_or_has_a_default():
    assert Field("a", "A", LENGTH).optional
    assert not Field("a", "A", LENGTH, required=True).optional
    assert not Field("a", "A", LENGTH, default="60 mm").optional


def test_fields_that_do_not_go_together_are_named():
    fields = {"one": 1, "two": None, "none": None}
    assert [problem.field for problem in given(fields, "what", "fix")] == ["one"]
    assert [problem.field for problem in missing(fields, "what", "fix")] == ["two", "none"]
    assert [problem.field for problem in together(fields, "what", "fix")] == ["two", "none"]
    assert together({"one": None, "two": None}, "what", "fix") == []
    assert together({"one": 1, "two": 2}, "what", "fix") == []


def test_what_is_wrong_between_fields_is_refused_all_at_once():
    refuse()
    with pytest.raises(InputError) as caught:
        refuse(*missing({"one": None, "two": None}, "nothing given", "give it"))
    assert [problem.field for problem in caught.value.problems] == ["one", "two"]


def test_an_optional_quantity_in_a_unit():
    assert in_unit(units.parse("1 in", "mm"), "mm") == pytest.approx(25.4)
    assert in_unit(None, "mm") is None


@pytest.mark.parametrize(
    ("number", "whole"),
    [(3.0, 3), (3 * (1 + 5e-10), 3), (3 * (1 + 2e-9), 4), (3.01, 4), (2.5, 3), (0.0, 0), (1e-6, 1)],
)
def test_the_noise_of_floats_makes_no_piece_more(number, whole):
    assert round_up(number) == whole


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (Quantity(2, "mm"), {"value": 2.0, "unit": "mm"}),
        (Ratio(2, 1, "volume"), {"value": "2:1 by volume", "unit": None}),
        ("ok", {"value": "ok", "unit": None}),
        (3, {"value": 3, "unit": ""}),
        (None, {"value": None, "unit": None}),
    ],
)
def test_a_value_in_json(value, shown):
    assert plain(value) == shown


def test_a_worked_example_holds_within_its_tolerance():
    source = Source("made up", "memory")
    assert str(source) == "made up [memory]"
    example = Example({}, {"load": 100.0, "verdict": "ok", "none": "x"}, source, rel=0.01)
    assert example.holds("load", 101.0)
    assert example.holds("load", 99.0)
    assert not example.holds("load", 101.1)
    assert not example.holds("load", 98.9)
    assert not example.holds("load", None)
    assert example.holds("verdict", "ok")
    assert not example.holds("verdict", "no")
    assert Example({}, {"load": 0.0}, source, abs=0.5).holds("load", 0.5)
    assert not Example({}, {"load": 0.0}, source, abs=0.5).holds("load", 0.6)
    assert Example({}, {"load": 1.0}, source).holds("load", 1 + 1e-7)
    assert not Example({}, {"load": 1.0}, source).holds("load", 1 + math.ldexp(1, -18))


FIELDS = [(name, field) for name in calc.names() for field in calc.find(name).inputs if isinstance(field.kind, Measure)]


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_no_limit_is_shown_with_an_exponent_or_as_zero_that_is_none(system):
    assert len(FIELDS) > 200
    for name, field in FIELDS:
        kind, unit = field.kind, units.own_unit(field.kind.unit, system)
        bounds = [bound for bound in (kind.low, kind.above, kind.high, kind.soft_low, kind.soft_high) if bound is not None]
        said = [kind.limit(bound, each, math.floor) for bound in bounds for each in (unit, *units.offered(kind.unit))]
        for text in (*said, kind.describe(), kind.describe(unit), kind.limits(unit)):
            assert not re.search(r"\de[-+]?\d", text), (name, field.name, text)
        for bound in bounds:
            number = kind.limit(bound, unit, math.floor).split()[0]
            assert (float(number) == 0) is (units.parse(f"{bound!r}", kind.unit).value_in(unit) == 0), (name, field.name)


def test_a_tiny_limit_is_written_out():
    kind = Measure("mm", above=0.001, high=0.002)
    assert kind.limits("in") == "0.00003938 to 0.00007874 in"
    assert Measure("mm", low=0.00001, high=5_000_000).describe() == "mm, 0.00001 to 5000000"
