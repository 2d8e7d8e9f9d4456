"""The form of a calculator without a face: what becomes of texts, names and keys, and what is remembered of them."""

from fractions import Fraction

import pytest
from conftest import materials
from every_field import SAMPLE, offer_sample

from shopmate import calc
from shopmate import recipe as recipes
from shopmate.calculator import Choice, Count, Either, Measure, Measures, RatioKind, measure_of, usual_unit
from shopmate.dialogue.blank import Blank
from shopmate.dialogue.form import Form
from shopmate.errors import EntryError, LogError
from shopmate.session.at_hand import MATERIAL
from shopmate.units import Quantity

GIVEN = {"length": "2400 mm", "temperature": "20 °C"}
FIELDS = [field.name for field in SAMPLE.inputs]


@pytest.fixture(autouse=True)
def sample(monkeypatch):
    offer_sample(monkeypatch)


def form(last=None, system="metric", **more):
    return Form(SAMPLE, last or {}, system, **more)


def at(name, last=None, system="metric"):
    found = form(last, system)
    found.go_to(FIELDS.index(name))
    return found


def test_texts_are_taken_field_by_field_and_come_to_a_result():
    filled = form()
    asked = []
    for text in ("2400", "21.5 °C", "oak", "hard", "100:45 by weight", "3", "inner"):
        asked.append(filled.field.name)
        assert filled.take(text) == ""
    assert asked == FIELDS
    assert (filled.field, filled.at) == (None, len(FIELDS))
    assert filled.texts == dict(zip(FIELDS, ("2400", "21.5 °C", "oak", "hard", "100:45 by weight", "3", "inner"), strict=True))
    filled.work_out()
    assert filled.result.outputs["reach"] == Quantity(7200.0, "mm")
    assert (filled.waiting, filled.problems) == ((), ())


def test_what_is_still_waited_for_is_named_once_and_the_text_being_typed_counts():
    filled = form({"temperature": "20 °C"})
    filled.work_out()
    assert (filled.result, filled.waiting) == (None, ())
    filled.work_out("25 mm")
    assert (filled.result.outputs["reach"], filled.waiting) == (Quantity(25.0, "mm"), ())
    assert "length" not in filled.texts
    filled.work_out(None)  # it has no meaning yet
    assert (filled.result, filled.waiting) == (None, ("Length",))
    filled = at("coats", GIVEN)
    filled.work_out(None)
    assert (filled.result, filled.waiting) == (None, ("Coats",))


def test_each_text_says_where_it_is_from():
    filled = form({"length": "25 mm", "face": "outer", "no such field": "1"})
    origins = {field.name: filled.origin(field) for field in SAMPLE.inputs}
    assert origins == {
        "length": "last time", "temperature": "", "wood": "default", "stiffness": "default",
        "ratio": "default", "coats": "default", "face": "last time",
    }  # fmt: skip
    assert filled.offered == "25 mm"
    filled.take("26")
    assert filled.origin(SAMPLE.field("length")) == "typed"
    assert "no such field" not in filled.texts


@pytest.mark.parametrize(("name", "may"), [("length", False), ("wood", True), ("face", True)])
def test_only_a_field_that_is_required_and_empty_cannot_be_passed(name, may):
    assert at(name).may_pass is may
    assert at(name, GIVEN).may_pass


@pytest.mark.parametrize(
    ("last", "text", "question"),
    [
        ({}, "4000 mm", "4000 mm is above the usual 3000 mm"),
        ({"length": "120 mm"}, "1200 mm", "1200 mm is 10 times the last, 120 mm"),
        ({"length": "254 mm"}, "10 mm", "10 mm is 25.4 times smaller than the last, 254 mm"),
    ],
)
def test_an_odd_value_is_asked_about_once_and_meant_when_it_comes_again(last, text, question):
    filled = form(last)
    assert question in filled.take(text)
    assert (filled.texts, filled.at) == (last, 0)
    assert filled.take(text) == ""
    assert (filled.texts["length"], filled.at) == (text, 1)


def test_another_text_takes_the_question_back():
    filled = form()
    assert filled.take("4000 mm")
    with pytest.raises(EntryError):
        filled.take("4000 g")
    assert filled.take("4000 mm")
    assert filled.take("4001 mm")
    assert filled.take("25 mm") == ""


def test_a_text_of_last_time_that_is_no_longer_taken_is_no_measure_of_slips():
    assert form({"length": "9000 mm"}).take("900 mm") == ""


def test_what_a_field_does_not_take_leaves_it_as_it_was():
    filled = form({"length": "25 mm"})
    with pytest.raises(EntryError, match="above the maximum"):
        filled.take("9000 mm")
    assert (filled.texts, filled.at) == ({"length": "25 mm"}, 0)


def test_a_name_is_picked_at_its_field_and_going_on_is_another_key():
    filled = at("wood")
    assert filled.names[:2] == ("birch", "spruce")
    filled.pick("oak")
    assert (filled.texts, filled.field.name) == ({"wood": "oak"}, "wood")
    filled.forward()
    assert filled.field.name == "stiffness"
    filled.back()
    assert filled.field.name == "wood"


def test_a_figure_is_typed_in_place_of_a_name_and_gone_back_from_to_the_names():
    filled = at("stiffness")
    assert (filled.names, filled.may_be_figure) == (("soft", "hard"), True)
    filled.by_figure = True
    assert (filled.names, filled.may_be_figure, filled.may_go_back) == ((), False, True)
    filled.back()
    assert (filled.names, filled.field.name) == (("soft", "hard"), "stiffness")
    filled.by_figure = True
    assert filled.take("9.5 GPa") == ""
    assert (filled.texts, filled.field.name, filled.by_figure) == ({"stiffness": "9.5 GPa"}, "ratio", False)


def test_there_is_nothing_before_the_first_field():
    assert not form().may_go_back
    assert at("temperature").may_go_back


def test_only_what_may_stay_empty_is_cleared():
    filled = at("face", {"face": "outer", "coats": "2"})
    assert filled.may_clear
    filled.clear()
    assert (filled.texts, filled.field.name, filled.may_clear) == ({"coats": "2"}, "face", False)
    assert not at("coats", {"coats": "2"}).may_clear
    assert not at("length", GIVEN).may_clear


def test_what_does_not_go_together_is_said_by_title_and_gone_back_to():
    filled = at("face", {**GIVEN, "stiffness": "hard", "coats": "6"})
    filled.forward()
    filled.work_out()
    assert (filled.result, filled.problems) == (None, ["Coats: too many on a hard one; enter 5 or fewer"])
    filled.back_to_problem()
    assert filled.field.name == "coats"
    filled.take("5")
    filled.work_out()
    assert filled.result.outputs["reach"] == Quantity(12000.0, "mm")


def test_each_text_that_is_taken_is_remembered_and_a_full_disk_is_told_until_it_is_over():
    kept, full = [], [False]

    def remember(texts):
        if full[0]:
            raise LogError("the disk is full")
        kept.append(dict(texts))

    filled = form(remember=remember)
    filled.take("25 mm")
    assert (kept, filled.fault) == ([{"length": "25 mm"}], "")
    full[0] = True
    filled.take("20 °C")
    assert (len(kept), filled.fault) == (1, "the disk is full")
    full[0] = False
    filled.pick("oak")
    assert (kept[-1], filled.fault) == ({"length": "25 mm", "temperature": "20 °C", "wood": "oak"}, "")


def test_what_is_half_typed_keeps_the_place_it_has_on_disk():
    assert form().place(SAMPLE.field("coats")) == "form:sample coats"


# How a value is typed

LIST = Measures(Measure("mm", low=0))


@pytest.mark.parametrize(
    ("kind", "units", "dash", "letters", "below_zero"),
    [
        (Measure("°C", low=-40, high=60), ("°C", "°F"), "-", False, True),
        (Measure("K"), ("K", "Δ°F"), "-", False, True),
        (Measure("°C", above=0), ("°C", "°F"), "-", False, False),
        (Measure("", low=1), (), "-", False, False),
        (Either(Choice(("soft",)), Measure("N", above=0)), ("N", "kN", "lbf"), "-", False, False),
        (RatioKind(), ("by volume", "by weight"), ":", False, False),
        (LIST, ("mm", "cm", "m", "in", "ft", "yd"), ";", True, False),
        (Count(1, 9), (), "-", False, False),
    ],
)
def test_a_keypad_types_each_kind_of_value(kind, units, dash, letters, below_zero):
    blank = Blank(kind)
    assert (blank.units, blank.dash, blank.letters, blank.below_zero) == (units, dash, letters, below_zero)


@pytest.mark.parametrize(
    ("kind", "metric", "inch"),
    [
        (Measure("mm", low=0), "mm", "in"),
        (LIST, "mm", "in"),
        (Either(Choice(("soft",)), Measure("°C")), "°C", "°F"),
        (RatioKind(), "by volume", "by volume"),
        (Count(), "", ""),
    ],
)
def test_a_bare_number_is_in_the_unit_the_project_shows(kind, metric, inch):
    assert (usual_unit(kind, "metric"), usual_unit(kind, "inch")) == (metric, inch)


@pytest.mark.parametrize(
    ("kind", "unit", "typed", "read"),
    [
        (Measure("mm"), "in", "1-1/2", "1-1/2 in"),
        (Measure("mm"), "in", "40 mm", "40 mm"),
        (Measure("°C", low=-40), "°C", "-5", "-5 °C"),
        (LIST, "mm", "1-0.5-0.5", "1;0.5;0.5 mm"),
        (RatioKind(), "by weight", "100-45 by volume", "100:45 by volume"),
        (Count(), "", "3", "3"),
        (Measure("mm"), "mm", "", ""),
    ],
)
def test_a_line_is_read_with_its_dashes_and_unit(kind, unit, typed, read):
    assert Blank(kind, unit).line(typed) == read


def test_limits_are_said_in_the_unit_shown_those_of_a_list_too():
    blank = Blank(Measure("mm", low=0, high=254), "in")
    assert (blank.limits, blank.wanted) == ("0 to 10 in", "in, 0 to 10")
    assert Blank(Measure("mm", above=25.4), "in").wanted == "in, above 1"
    assert (Blank(Measure("mm"), "in").wanted, Blank(Measure("mm"), "mm").wanted) == ("in", "mm")
    tolerances = Blank(Measures(Measure("mm", low=0, high=254)), "in")
    assert tolerances.limits == tolerances.wanted == "list such as 1, 0.5, 0.5 in; each in, 0 to 10"
    assert Blank(Either(Choice(("oak",)), Measure("mm", high=254)), "in").wanted == "one of: oak; or a figure: in, up to 10"
    assert Blank(Count(1, 9)).limits == "whole number, 1 to 9"


def test_the_value_before_is_asked_about_as_a_quantity_not_as_a_text():
    blank = Blank(Measure("mm"), "mm", Quantity(Fraction(2), "in"))
    assert "10 times" in blank.question("508 mm")
    assert blank.doubted == "508 mm"
    assert blank.question("508 mm") == ""
    assert blank.doubted == ""


def bead(system, nozzle):
    found = Form(calc.find("bead"), {"shape": "round", "nozzle": nozzle, "push": "10", "cartridge": "300 mL"}, system)
    found.work_out()
    return found.problems


def test_what_a_calculator_refuses_is_told_in_the_units_of_the_form():
    (metric,), (inch,) = bead("metric", "20 mm"), bead("inch", "20 mm")
    assert metric.endswith("the bead would be 63 mm; enter a smaller bore or a lower gun speed, for a bead of 50 mm or less")
    assert inch.endswith("the bead would be 2 1/2 in; enter a smaller bore or a lower gun speed, for a bead of 2 in or less")


def test_a_refused_text_keeps_the_unit_it_was_typed_in():
    assert bead("inch", "80 mm") == bead("metric", "80 mm")
    assert "80 mm is above the maximum, 50 mm; enter 50 mm or less" in bead("inch", "80 mm")[0]


def test_a_figure_from_the_shelf_that_is_borrowed_is_marked_where_enter_keeps_it_and_not_once_it_is_typed():
    slow = materials()["epoxy-2to1-slow"]
    copy = recipes.confirmed(recipes.copied(slow, "My epoxy", {}), "ratio")
    shelf = {copy.name: copy, slow.name: slow}
    filled = Form(calc.find("pots"), {MATERIAL: copy.name}, "metric", materials=shelf)
    filled.ask_all()
    filled.go_to([field.name for field in filled.fields].index("sheet_time"))
    assert filled.offered_from == f"40 min (from the shelf, borrowed from {slow.title})"
    assert filled.take("35") == ""
    assert filled.lender(filled.calculator.field("sheet_time")) == ""
    assert filled.lender(filled.calculator.field("ratio")) == ""
    assert filled.lender(filled.calculator.field("sheet_mass")) == f"borrowed from {slow.title}"
    own = Form(calc.find("pots"), {MATERIAL: slow.name}, "metric", materials=shelf)
    assert {own.lender(field) for field in own.calculator.inputs} == {""}


def begins_in(filled, name):
    """The unit that typing begins in at a field."""
    filled.ask_all()
    filled.go_to([field.name for field in filled.fields].index(name))
    return filled.blank.unit


def test_a_unit_chosen_for_one_length_is_offered_for_the_next_where_its_usual_lengths_fit_and_only_in_that_form():
    panel = Form(calc.find("laminate"), {}, "metric")
    assert begins_in(panel, "length") == "mm"
    assert panel.take("2.44 m") == ""
    assert begins_in(panel, "width") == "m"  # usual up to 3 m
    assert begins_in(panel, "overlap") == "mm"  # usual up to 150 mm
    assert panel.take("50 mm") == ""  # as offered, so nothing was chosen
    assert begins_in(panel, "roll_width") == "m"
    assert panel.take("50 in") == ""
    assert begins_in(panel, "overlap") == "in"
    assert begins_in(Form(calc.find("laminate"), {}, "metric"), "width") == "mm"


def test_a_length_typed_in_the_unit_offered_chooses_none_and_no_other_dimension_takes_it():
    bond = Form(calc.find("bondline"), {}, "metric")
    begins_in(bond, "width")
    assert bond.take("40 mm") == ""
    assert begins_in(bond, "length") == "m"
    others = [field.name for field in bond.fields if measure_of(field.kind) and measure_of(field.kind).unit not in ("mm", "m")]
    units = {name: begins_in(bond, name) for name in others}
    begins_in(bond, "width")
    assert bond.take("1-1/2 in") == ""
    assert {name: begins_in(bond, name) for name in others} == units
    assert units
