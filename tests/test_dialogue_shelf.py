"""The shelf and what is looked up, without screens or lines: what is asked with which offers, saved and recorded."""

import re
from fractions import Fraction

import pytest
from held import Held, Place

from shopmate import calc, paths, tables
from shopmate import recipe as recipes
from shopmate.calculator import RatioKind
from shopmate.dialogue import look_up, shelf
from shopmate.dialogue.asking import Choose, Enter, Name
from shopmate.errors import LogError
from shopmate.project.project import QUICK
from shopmate.session import shelf as materials
from shopmate.units import Quantity

SLOW = "epoxy-2to1-slow"
ALUMINIUM = "aluminium-25-x-3-mm"
SILANE = "silane-290ml"


@pytest.fixture
def desk(home):
    place = Place().begin()
    yield place
    place.close()


def kept():
    return recipes.read_shelf(recipes.read_file(paths.shelf()), str(paths.shelf()))


def edit(desk, material, *answers):
    """Hold the dialogue of the shelf at one material, and leave it."""
    return Held(shelf.keep(desk), material, *answers, None, None)


def test_a_figure_is_asked_for_as_it_stands_and_saved_with_what_goes_with_it(desk):
    held = edit(desk, SLOW, "pot_life", "35 min")
    which, figures, value, again, back = held.asked
    assert which.items[1].title == materials()[which.items[1].key].title
    assert which.items[0].key == ".new"
    assert next(item for item in figures.items if item.key == "pot_life").note == "40 min"
    assert isinstance(value, Enter)
    assert (value.kind, value.unit, value.place) == (recipes.MEASURES["pot_life"], "min", f"shelf:{SLOW} pot_life")
    assert value.before == Quantity(40, "min")
    assert value.title == "Epoxy 2:1 by volume, slow: pot life, now 40 min"
    assert kept()[SLOW].figures["pot_life"] == "35 min"
    done = (
        "Saved: pot life 35 min; also removed: pot life, second + pot temperature, second. Type your data sheet's figures. "
        "A run under way keeps the figures it started with."
    )
    assert held.said == [done]
    assert again.beside.startswith(done)
    assert back.beside == ""
    assert [(each["figure"], each["now"]) for each in desk.events("shelf")] == [
        ("pot_life", "35 min"),
        ("pot_life_2", None),
        ("pot_temperature_2", None),
    ]


def test_a_figure_is_typed_in_the_unit_it_has_else_in_that_of_the_project(desk):
    desk.session.set("system", "inch", desk.now())
    assert edit(desk, ALUMINIUM, "width", None).asked[2].unit == "mm"
    edit(desk, SILANE, ".out", "temperature_low")
    without = edit(desk, SILANE, "temperature_low", None).asked[2]
    assert (without.unit, without.before) == ("°F", None)
    assert without.title.endswith(": temperature low, now no figure")


def test_how_much_is_left_is_asked_for_last_by_what_recipes_use_and_may_be_taken_out_again(desk):
    desk.session.set("system", "inch", desk.now())
    held = edit(desk, SLOW, ".left", "2.5 lb")
    assert (held.asked[1].items[-1].key, held.asked[1].items[-1].note) == (".left", "not entered")
    value = held.asked[2]
    assert (value.kind, value.unit, value.before, value.place) == (recipes.LEFT["resin"], "lb", None, f"shelf:{SLOW} .left")
    assert value.title == "Epoxy 2:1 by volume, slow: left, now no figure"
    assert held.said == ["Saved: left 2.5 lb"]
    assert kept()[SLOW].left == "2.5 lb"
    assert edit(desk, SLOW, ".left", None).asked[2].before == Quantity(Fraction(5, 2), "lb")
    assert edit(desk, SLOW, ".out", ".left").said == ["Saved: left is now blank"]
    assert kept()[SLOW].left == ""
    assert [(each["figure"], each["was"], each["now"]) for each in desk.events("shelf")] == [
        ("left", None, "2.5 lb"),
        ("left", "2.5 lb", None),
    ]


def test_a_ratio_is_asked_for_with_its_basis_and_a_word_is_chosen(desk):
    ratio = edit(desk, SLOW, "ratio", "100:41 by weight").asked[2]
    assert (ratio.kind, ratio.unit, ratio.place) == (RatioKind(), "by volume", f"shelf:{SLOW} ratio")
    assert edit(desk, SLOW, "ratio", None).asked[2].unit == "by weight"
    word = edit(desk, ALUMINIUM, "material", "brass").asked[2]
    assert isinstance(word, Choose)
    assert (kept()[SLOW].figures["ratio"], kept()[ALUMINIUM].figures["material"]) == ("100:41 by weight", "brass")


def test_title_sheet_and_taking_out_have_one_number_for_every_material(desk):
    """Where all figures are needed the number of taking one out stays unused."""
    slow, bar = (edit(desk, material).asked[1].items for material in (SLOW, ALUMINIUM))
    assert [item.key for item in slow[:4]] == [".title", ".sheet", ".out", ".through"]
    assert [item.key for item in bar[:4]] == [".title", ".sheet", "", ".through"]
    assert bar[4].key == "width"


@pytest.mark.parametrize(("which", "title"), [(".title", "Title of "), (".sheet", "Data sheet for ")])
def test_title_and_sheet_are_names_and_stay_where_they_are_not_changed(desk, which, title):
    like = materials()[SLOW]
    before = like.title if which == ".title" else like.sheet
    asked = edit(desk, SLOW, which, before).asked[2]
    assert isinstance(asked, Name)
    assert (asked.title, asked.offered, asked.place) == (f"{title}{like.title}", before, f"shelf:{SLOW} {which}")
    assert not paths.shelf().exists()
    edit(desk, SLOW, which, "  the  can, 2026-05-04 ")
    changed = kept()[SLOW]
    assert (changed.title if which == ".title" else changed.sheet).endswith("the can, 2026-05-04")


def test_only_what_a_material_can_do_without_is_taken_out(desk):
    held = edit(desk, SLOW, ".out", "recoat_closes")
    out = [item.key for item in held.asked[2].items]
    assert "recoat_closes" in out
    assert not set(recipes.NEEDED["resin"]) & set(out)
    assert "recoat_closes" not in kept()[SLOW].figures
    assert "Saved: recoat closes is now blank" in held.said[0]
    assert ".out" not in [item.key for item in edit(desk, ALUMINIUM).asked[1].items]  # all of a bar's are needed


def test_steps_that_miss_a_figure_are_said_once_each_in_lines_and_stand_beside_the_figures_on_a_screen(desk, monkeypatch):
    monkeypatch.setattr(desk.face, "draws", False)
    said = [words for words in edit(desk, SLOW, ".out", "recoat_closes", ".out", None).read if words]
    assert len(said) == 1
    missing = re.findall("No figure yet for .*?\\)[.]", said[0])
    assert len(set(missing)) == len(missing) == said[0].count("No figure yet for ")
    monkeypatch.setattr(desk.face, "draws", True)
    shown = [words for words in edit(desk, SLOW, ".out", None).read if words]
    assert len(shown) == 2  # before and after
    for words in shown:
        assert missing[0] in words
        assert words.count("No figure yet for ") == min(2, len(missing))
        assert (f"And {len(missing) - 2} more" in words) == (len(missing) > 2)


def test_a_new_material_has_the_figures_of_another(desk):
    held = Held(shelf.keep(desk), ".new", "foam-2lb", "Own  foam 1", "packing", "1.15", None, None)
    name = held.asked[2]
    assert (name.offered, name.place) == ("Own foam 1", "new:foam-2lb")
    assert held.asked[3].title == "Own foam 1"
    assert held.said[0] == held.asked[3].beside
    assert f"Its figures are borrowed from {materials()['foam-2lb'].title} until you check them" in held.said[0]
    assert kept()["own-foam-1"].figures == materials()["foam-2lb"].figures | {"packing": "1.15"}


def test_a_name_that_is_taken_is_said_beside_the_list_of_materials(desk):
    held = Held(shelf.keep(desk), ".new", SLOW, "Foam 2lb", None)
    assert "There is already a material foam-2lb" in held.said[0]
    assert held.asked[-1].beside == held.said[0]
    assert not paths.shelf().exists()


@pytest.mark.parametrize("left", [(".new", None), (".new", "foam-2lb", None)])
def test_a_new_material_that_is_left_is_none(desk, left):
    held = Held(shelf.keep(desk), *left, None)
    assert (held.said, paths.shelf().exists()) == ([], False)


def test_what_cannot_be_saved_is_said_and_not_recorded(desk):
    held = edit(desk, SLOW, "recoat_closes", "3 h")
    assert held.said[0].startswith("Not saved: recoat_closes 3 h is below recoat_opens 4 h")
    assert desk.events("shelf") == []


@pytest.mark.parametrize("sure", ["leave", None, "save"])
def test_comments_are_lost_only_once_that_is_chosen(desk, home, sure):
    own = "{material: cloth-own, kind: cloth, title: Own cloth, sheet: made up, figures: {areal_weight: 200 g/m²}}"
    text = f"# mine\nshelf: mine\nmaterials:\n  - {own}\n"
    (home / "shelf.yaml").write_text(text, encoding="utf-8")
    held = edit(desk, "cloth-own", "areal_weight", "300 g/m²", sure)
    assert "loses its comments" in held.asked[3].title
    saved = sure == "save"
    assert held.said[0].startswith("Saved: areal weight 300 g/m²" if saved else "Not saved")
    assert ((home / "shelf.yaml").read_text(encoding="utf-8") == text) is not saved


# Looking up


def fill_in(*texts):
    def fill(question):
        for text in texts:
            question.form.take(text)
        question.form.kept = True

    return fill


def test_a_calculator_is_chosen_filled_in_remembered_and_kept(desk):
    held = Held(look_up.calculators(desk), "drill", fill_in("4 mm"))
    which, fill = held.asked
    assert [item.key for item in which.items] == [*QUICK, *calc.names()]
    assert (fill.form.calculator, fill.form.system, fill.form.texts) == (calc.find("drill"), "metric", {"diameter": "4 mm"})
    assert held.said == ["SAVED to the log"]
    assert [each["texts"] for each in desk.events("form")] == [{"diameter": "4 mm"}]
    assert [(each["calculator"], each["texts"]) for each in desk.events("kept")] == [("drill", {"diameter": "4 mm"})]
    again = Held(look_up.calculator(desk, "drill"), None)
    assert again.asked[0].form.texts == {"diameter": "4 mm"}
    assert (again.said, len(desk.events("kept"))) == ([], 1)


def test_the_list_of_calculators_may_be_left(desk):
    assert Held(look_up.calculators(desk), None).said == []


def test_what_a_full_disk_refused_is_remembered_once_more_at_the_end(desk, monkeypatch):
    def fill(question):
        with monkeypatch.context() as patch:
            patch.setattr(desk.session.log, "append", full)
            question.form.take("4 mm")
        assert question.form.fault == "the disk is full"

    def full(*_, **__):
        raise LogError("the disk is full")

    Held(look_up.calculator(desk, "drill"), fill)
    assert [each["texts"] for each in desk.events("form")] == [{"diameter": "4 mm"}]


def test_tables_are_looked_at_one_after_another(desk):
    held = Held(look_up.tables(), "wood_screws", None, "solvents", None, None)
    assert [item.key for item in held.asked[0].items] == list(tables.names())
    assert [held.asked[index].table for index in (1, 3)] == [tables.load("wood_screws"), tables.load("solvents")]


# What is borrowed


def note(question, key):
    return next(item.note for item in question.items if item.key == key)


def test_each_figure_of_a_copy_is_marked_until_it_is_changed_or_confirmed(desk):
    foam = materials()["foam-2lb"]
    mark, figures = f", borrowed from {foam.title}", ("packing", "1.15", "density", foam.figures["density"])
    held = Held(shelf.keep(desk), ".new", "foam-2lb", "Own foam 1", *figures, None, None)
    first, packing, then, density, last, back = held.asked[3:]
    assert {item.key for item in first.items if item.note.endswith(mark)} == {*foam.figures}
    assert note(first, ".through") == f"{len(foam.figures)} of {len(foam.figures)} to check"
    assert packing.title == f"Own foam 1: packing, now {foam.figures['packing']}{mark}"
    assert (packing.keeps, density.keeps) == (foam.figures["packing"], foam.figures["density"])
    assert note(then, "packing") == "1.15"
    assert note(then, "density") == foam.figures["density"] + mark
    assert note(last, "density") == foam.figures["density"]
    count = len(foam.figures)
    assert note(back, "own-foam-1") == f"{count - 2} of {count} figures{mark.removeprefix(',')}"
    assert {"packing", "density"}.isdisjoint(kept()["own-foam-1"].borrowed)


def test_a_copy_is_gone_through_with_enter_alone_and_taken_up_where_it_was_left(desk):
    new = Held(shelf.keep(desk), ".new", "glass-200-plain", "Roll", ".through", "210 g/m²", None, None, None)
    assert [question.title.split(":")[1].split(",")[0] for question in new.asked[4:6]] == [" areal weight", " roll width"]
    assert kept()["roll"].borrowed == {"roll_width": "glass-200-plain"}
    held = edit(desk, "roll", ".through", lambda question: question.keeps)
    assert [item.key for item in held.asked[1].items[:4]] == [".title", ".sheet", ".out", ".through"]
    assert kept()["roll"].borrowed == {}
    assert kept()["roll"].figures == {**materials()["glass-200-plain"].figures, "areal_weight": "210 g/m²"}
    assert edit(desk, "roll").asked[1].items[3].key == ""


def test_going_through_ends_at_a_figure_that_takes_others_with_it(desk):
    Held(shelf.keep(desk), ".new", SLOW, "Mine", None, None)
    enter = [lambda question: question.keeps] * 3
    held = edit(desk, "mine", ".through", *enter, "31 min")
    assert "also removed: pot life, second + pot temperature, second" in held.said[-1]
    assert held.asked[-2].beside == held.said[-1]


def test_a_typical_figure_is_confirmed_as_a_borrowed_one_is(desk):
    edit(desk, SLOW, "sand", lambda question: question.keeps)
    assert kept()[SLOW].sheet.endswith("; own: sand")
    assert edit(desk, SLOW, "sand", None).asked[2].keeps == ""


def test_a_borrowed_sheet_is_marked_until_it_is_kept(desk):
    edit(desk, "glass-200-plain", ".sheet", "can of May")
    Held(shelf.keep(desk), ".new", "glass-200-plain", "Roll", None, None)
    sheet = note(edit(desk, "roll", ".sheet", lambda question: question.offered).asked[1], ".sheet")
    assert sheet.endswith(f", borrowed from {materials()['glass-200-plain'].title}")
    assert "sheet" not in kept()["roll"].borrowed
    assert not note(edit(desk, "roll").asked[1], ".sheet").endswith(materials()["glass-200-plain"].title)
