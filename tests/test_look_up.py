"""A calculator looked up at the bench asks little: what its material, the run and fresh readings know it begins with."""

from datetime import timedelta

import pytest
from conftest import BEGAN

from shopmate import calc
from shopmate.calculator import Choice, Measure
from shopmate.dialogue.form import Form
from shopmate.errors import EntryError
from shopmate.project.project import QUICK, Project
from shopmate.project.run import Held
from shopmate.recipe import FIGURES, READINGS, copied, with_figure
from shopmate.session import Session, demo, find_recipe, shelf
from shopmate.session.at_hand import MATERIAL

SLOW = "epoxy-2to1-slow"


@pytest.fixture
def session(tmp_path):
    opened = Session.create(tmp_path / "a.shopmate", "a", BEGAN, shelf())
    yield opened
    opened.close()


def form(session, name, at=BEGAN):
    known = session.at_hand(name, at)
    return Form(calc.find(name), known.texts, "metric", origins=known.origins, materials=known.materials)


def value(filled, output):
    filled.work_out()
    return filled.result.outputs[output].value


@pytest.mark.parametrize("name", calc.names())
def test_a_calculator_is_asked_with_two_to_four_things_in_the_order_of_the_work(name):
    calculator = calc.find(name)
    asked = [field.name for spot in calculator.asks for field in spot]
    assert 2 <= len(calculator.asks) + (calculator.stock is not None) <= 4
    assert len(asked) == len(set(asked))


@pytest.mark.parametrize("name", [name for name in calc.names() if calc.find(name).stock is not None])
def test_a_material_of_the_shelf_fills_fields_that_take_its_figures(name):
    calculator = calc.find(name)
    stock = calculator.stock
    assert not {field.name for spot in calculator.asks[:1] for field in spot} & {*stock.figures}
    for material in shelf().values():
        if material.kind == stock.kind:
            for field, figure in stock.figures.items():
                assert figure in FIGURES[stock.kind]
                if figure in material.figures:
                    calculator.field(field).kind.read(material.figures[figure])


@pytest.mark.parametrize("name", [name for name in calc.names() if calc.find(name).readings])
def test_a_reading_fills_a_field_of_what_it_measures(name):
    calculator = calc.find(name)
    for field, readings in calculator.readings.items():
        kind = calculator.field(field).kind
        assert isinstance(kind, Measure)
        for reading in readings:
            assert kind.unit == {"temperature": "°C", "fraction": "%"}[READINGS[reading].dimension]


def test_the_material_used_last_stands_there_and_one_digit_takes_another(session):
    filled = form(session, "mix")
    assert (filled.asks_material, filled.names[0], filled.title_of(SLOW)) == (True, SLOW, "Epoxy 2:1 by volume, slow")
    filled.pick(SLOW)
    assert [field.name for field in filled.fields] == [MATERIAL, "total", "filler", "filler_loading"]
    assert filled.field.name == "total"
    # 100 / (1 + 0.97/(2 · 1.15)) = 70.3 g by weight: arithmetic [computed].
    filled.take("100 g")
    assert value(filled, "resin") == pytest.approx(100 / (1 + 0.97 / 2.3))
    session.remember("mix", filled.texts, BEGAN)
    again = form(session, "mix")
    assert (again.field.name, again.offered) == ("total", "100 g")
    assert form(session, "potlife").field.name == "mass"  # of the same kind of material
    again.back()
    again.pick("epoxy-100to45-slow")
    again.take("100 g")
    assert value(again, "resin") == pytest.approx(100 / 1.45)


def test_figures_typed_before_give_way_to_those_of_a_material(session):
    session.remember("mix", {"ratio": "1:1 by weight", "total": "80 g"}, BEGAN)
    filled = form(session, "mix")
    assert (filled.field.name, value(filled, "resin")) == ("total", pytest.approx(40))
    filled.back()
    filled.pick("epoxy-100to45-slow")
    assert (filled.origin(calc.find("mix").field("ratio")), value(filled, "resin")) == ("shelf", pytest.approx(80 / 1.45))


def test_without_a_material_its_figures_are_asked_for_before_the_rest(session):
    filled = form(session, "mix")
    filled.type_figure()
    names = [field.name for field in filled.fields]
    assert names == [MATERIAL, "ratio", "resin_density", "hardener_density", "total", "filler", "filler_loading"]
    assert filled.field.name == "ratio"


def test_a_material_without_a_figure_leaves_its_field_to_be_asked(session):
    bare = with_figure(copied(session.shelf[SLOW], "Bare", session.shelf), "ratio", None)
    filled = Form(calc.find("mix"), {MATERIAL: "bare"}, "metric", materials={"bare": bare})
    assert [field.name for field in filled.fields][-1] == "ratio"


def test_of_several_amounts_the_one_turned_to_is_given_alone(session):
    filled = form(session, "mix")
    filled.pick(SLOW)
    filled.take("150 g")
    filled.back()
    assert filled.turns_to.name == "resin"
    filled.turn()
    filled.work_out("137.4 g")
    assert filled.result.outputs["resin"].value == pytest.approx(137.4)
    filled.take("137.4 g")
    assert {name: filled.texts.get(name) for name in ("total", "resin")} == {"total": None, "resin": "137.4 g"}
    # 137.4 · 0.97 / 2.3 = 57.9 g: arithmetic [computed].
    assert value(filled, "hardener") == pytest.approx(137.4 * 0.97 / 2.3)
    filled.back()
    assert filled.field.name == "resin"
    for name in ("hardener", "total_volume", "total"):
        filled.turn()
        assert filled.field.name == name


def test_an_amount_other_than_the_usual_one_is_not_offered_another_day(session):
    session.remember("mix", {MATERIAL: SLOW, "resin": "137.4 g"}, BEGAN)
    assert (form(session, "mix").field.name, form(session, "mix").offered) == ("total", "")


def test_all_other_fields_are_one_key_away(session):
    filled = form(session, "bead")
    filled.pick("silane-290ml")
    filled.take("6 mm")
    assert {field.name for field in filled.others} >= {"waste", "nozzle", "shape", "cartridge"}
    filled.ask_all()
    assert (filled.field.name, list(filled.others)) == ("cartridge", [])
    assert filled.offered == "290 mL"


def test_nothing_is_missing_before_it_was_come_to(session):
    filled = form(session, "screw")
    filled.work_out()
    assert (filled.waiting, filled.problems) == ((), ())
    filled.forward()
    filled.work_out()
    assert filled.waiting == (calc.find("screw").field("size").title,)
    filled.go_to(len(filled.fields))
    filled.work_out()
    assert len(filled.waiting) == 4
    filled.back_to_problem()
    assert filled.field.name == "size"


def test_a_figure_of_the_material_that_needs_what_was_not_come_to_is_no_problem_yet(session):
    filled = form(session, "laminate")
    filled.pick("glass-200-plain")  # its roll width needs both sides of the face
    filled.work_out("2.44 m")
    assert (filled.result, filled.problems) == (None, [])
    filled.go_to(len(filled.fields))
    filled.work_out()
    assert filled.problems


def test_what_is_wrong_with_a_field_that_was_not_asked_leads_to_it():
    filled = Form(calc.find("takeoff"), {}, "metric")
    filled.go_to(len(filled.fields))
    filled.work_out()
    assert filled.problems
    filled.back_to_problem()
    assert filled.field is not None


def test_fresh_readings_answer_the_dew_point_at_once_and_old_ones_do_not(session):
    session.log_temperature("20 °C", BEGAN, sure=True)
    filled = form(session, "dewpoint")
    assert (filled.field.name, filled.origin(calc.find("dewpoint").field("air"))) == ("humidity", "reading")
    late = BEGAN + timedelta(minutes=30, seconds=1)
    assert form(session, "dewpoint", late).field.name == "air"
    assert form(session, "dewpoint", BEGAN + timedelta(minutes=30)).field.name == "humidity"
    assert form(session, "dewpoint", BEGAN - timedelta(seconds=1)).field.name == "air"  # the computer's clock was set back


def test_the_run_on_the_bench_names_the_material(session):
    session.begin(session.add_part("Panel 1", BEGAN), find_recipe("glassing"), BEGAN)
    session.remember("mix", {MATERIAL: "epoxy-100to45-slow"}, BEGAN)
    assert session.at_hand("mix", BEGAN).texts[MATERIAL] == "epoxy-100to45-slow"
    session.project.run.values["resin"] = Held("epoxy-2to1-medium")
    assert session.at_hand("mix", BEGAN).texts[MATERIAL] == "epoxy-2to1-medium"


def test_those_used_last_and_most_are_near_and_no_other_moves():
    project = Project("a")
    assert project.quick == QUICK
    for name in ("screw", "mix", "dewpoint", "mix", "bead"):
        project.use_calculator(name)
        project.forms[name] = project.forms.pop(name, {})
    project.use_calculator("drill")  # for potlife, the only one that was not used
    assert project.quick == ("mix", "drill", "bead", "dewpoint", "screw")
    project.forms["drill"] = {}
    project.use_calculator("drill")  # the next field of the same look-up
    assert project.look_ups["drill"] == 1
    project.use_calculator("cloth")
    assert project.quick == ("mix", "drill", "bead", "dewpoint", "cloth")
    assert set(QUICK) <= set(calc.names())


def test_a_look_up_is_counted_though_nothing_was_typed(session):
    session.remember("drill", {"diameter": "4 mm"}, BEGAN)
    session.remember("dewpoint", {}, BEGAN, used=True)
    session.remember("dewpoint", {}, BEGAN, used=True)
    session.remember("drill", {"diameter": "4 mm"}, BEGAN, used=True)
    assert session.project.look_ups == {"drill": 2, "dewpoint": 1}


def test_no_field_of_a_calculator_is_named_as_the_material():
    assert not any(field.name == MATERIAL and calc.find(name).stock for name in calc.names() for field in calc.find(name).inputs)


def test_each_kind_of_amount_that_is_given_is_one_of_its_own():
    for name in calc.names():
        for spot in calc.find(name).asks:
            assert not any(isinstance(field.kind, Choice) and field.required for field in spot[1:])
            assert not any(field.required for field in spot) or len(spot) == 1, name


def test_a_material_that_is_no_longer_on_the_shelf_is_asked_for_again(session):
    session.remember("mix", {MATERIAL: "gone", "total": "80 g"}, BEGAN)
    assert form(session, "mix").asks_material
    with pytest.raises(EntryError):
        form(session, "mix").take("gone")


def test_the_same_keys_ask_for_the_same_at_a_step_that_has_poured_another_amount(session):
    """The mix of a poured pot goes by its resin; somebody who types a wanted amount must not have it taken for that."""
    now = follow(session, "glassing", until="Stir two minutes")
    given = session.at_hand("mix", now)
    assert given.origins["ratio"] == "recipe"
    filled = form(session, "mix", now)
    assert (filled.field.name, "resin" in filled.texts, filled.texts[MATERIAL]) == ("total", False, SLOW)


def follow(session, name, until):
    session.begin(session.add_part("Panel 9", BEGAN), find_recipe(name), BEGAN)
    return demo.follow(session, BEGAN, {}, until=lambda view: view.headline == until)
