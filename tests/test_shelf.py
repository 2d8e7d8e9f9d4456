"""The shelf: kinds, limits, the steps that miss a figure, and saving a material in a file that a user wrote."""

import errno
import functools
import json
import os
import re
from dataclasses import replace
from pathlib import Path

import pytest
import yaml
from conftest import every_step, materials

from shopmate import paths
from shopmate import recipe as recipes
from shopmate import session as sessions
from shopmate.errors import Doubt, EntryError, FileProblems, ShopmateError
from shopmate.recipe import Material

OWN = """\
# My shelf
shelf: mine
materials:
  # bought in May
  - material: epoxy-own
    kind: resin
    title: "Own epoxy"
    sheet: Sheet of 2026-05-01
    figures:
      ratio: 2:1 by volume
      resin_density: 1.15 g/mL
      hardener_density: 0.97 g/mL
      pot_life: 30 min   # on the can
      cure: 7 d
  - material: cloth-own  # the last roll
    kind: cloth
    title: Own cloth
    sheet: 'Sheet of 2026-05-02'
    figures:
      areal_weight: 200 g/m²
# the end
"""


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "shelf.yaml"
    path.write_text(OWN, encoding="utf-8")
    return path


def read(path: Path):
    return recipes.read_shelf(recipes.read_file(path), str(path))


def text(path: Path) -> str:
    return path.read_bytes().decode()


# Reading


def test_the_title_offered_for_a_new_material_has_the_first_number_that_is_not_taken():
    epoxy = Material("epoxy", "resin", "Epoxy", "A sheet", {})
    taken = {}
    for number in (1, 2, 3):
        assert recipes.own_title(epoxy, taken) == f"Own resin {number}"
        made = recipes.copied(epoxy, recipes.own_title(epoxy, taken), taken)
        taken[made.name] = made


@pytest.mark.parametrize(
    ("sheet", "short"),
    [
        ("Sheet of 2026-05-01", "Sheet of 2026-05-01"),
        ("typical of slow epoxies", "typical"),
        ("typical of slow epoxies; own: pot_life, cure", "typical; own: pot_life, cure"),
    ],
)
def test_where_the_figures_are_from_is_said_in_short(sheet, short):
    assert recipes.sheet_in_short(Material("epoxy", "resin", "Epoxy", sheet, {}), {}) == short


def test_every_figure_has_a_measure_and_every_needed_figure_is_one_of_its_kind():
    for kind, figures in recipes.FIGURES.items():
        assert set(recipes.NEEDED[kind]) <= set(figures)
        for name, unit in figures.items():
            assert unit is None or unit == "ratio" or recipes.MEASURES[name].unit == unit
    assert set(recipes.MEASURES) <= {name for figures in recipes.FIGURES.values() for name in figures}


SHEETS_SAY = {
    "resin_density": "> 0 | 1 to 1.3 | 3 g/mL", "hardener_density": "> 0 | 0.9 to 1.2 | 3 g/mL",
    "pot_life": "> 0 | 5 to 240 | 1440 min", "pot_mass": "> 0 | 50 to 500 | 5000 g", "pot_temperature": "0 | 18 to 30 | 60 °C",
    "pot_life_2": "> 0 | 5 to 240 | 1440 min", "pot_temperature_2": "0 | 12 to 40 | 60 °C",
    "thin_film": "> 0 | 10 to 480 | 1440 min", "open_time": "> 0 | 3 to 240 | 1440 min",
    "recoat_opens": "> 0 | 0.5 to 24 | 720 h", "recoat_closes": "> 0 | 2 to 96 | 720 h", "sand": "> 0 | 2 to 96 | 720 h",
    "clamp": "> 0 | 0.5 to 96 | 720 h", "cure": "> 0 | 4 to 340 | 2000 h",
    "temperature_low": "-40 | 0 to 30 | 60 °C", "temperature_high": "-40 | 20 to 50 | 100 °C",
    "humidity_low": "0 | 0 to 60 | 100 %", "humidity_high": "0 | 40 to 100 | 100 %",
    "cartridge": "> 0 | 30 to 1000 | 5000 mL", "bond_thickness": "> 0 | 0.1 to 5 | 50 mm",
    "areal_weight": "> 0 | 25 to 1500 | 5000 g/m²", "roll_width": "> 0 | 25 to 2600 | 10000 mm",
    "width": "> 0 | 6 to 150 | 3000 mm", "thickness": "> 0 | 0.25 to 12 | 200 mm",
    "density": "> 0 | 24 to 130 | 1000 kg/m³", "density_a": "0.8 | 0.95 to 1.3 | 1.6 g/mL",
    "density_b": "0.8 | 0.95 to 1.3 | 1.6 g/mL", "packing": "1 | 1.05 to 1.2 | 3 ", "lift": "> 0 | 10 to 100 | 1000 mm",
    "work_time": "> 0 | 15 to 300 | 3600 s", "rise_time": "> 0 | 1 to 30 | 240 min",
    "load_rule": "> 0 | 50 to 200 | 1000 cm²/kg", "dwell": "> 0 | 0.25 to 96 | 720 h",
}  # fmt: skip
"""What is taken at all and, between the bars, what data sheets of that kind usually give [memory]."""


@pytest.mark.parametrize(("figure", "says"), SHEETS_SAY.items())
def test_what_data_sheets_usually_give_is_taken_and_what_is_odd_is_asked_about(figure, says):
    least, usual, last = says.split(" | ")
    most, _, unit = last.partition(" ")
    measure = recipes.MEASURES[figure]

    def asked(number):
        return measure.doubt(measure.read(f"{number:g} {unit}".strip())) is not None

    low, high = (float(number) for number in usual.split(" to "))
    bottom, top = float(least.removeprefix("> ")), float(most)
    assert not asked(low)
    assert not asked(high)
    below, above = low - 0.01 * (abs(low) or 1), high + 0.01 * high
    if below > bottom:
        assert asked(below)
    if above < top:
        assert asked(above)
    open_below = least.startswith("> ")
    for number, taken in (
        (bottom, not open_below),
        (bottom + 1e-4, True),
        (top, True),
        (bottom - 0.01, False),
        (top * 1.001, False),
    ):
        if taken:
            asked(number)
            continue
        with pytest.raises(EntryError):
            asked(number)


def test_every_figure_is_held_to_what_sheets_say():
    assert SHEETS_SAY.keys() == recipes.MEASURES.keys()


def test_no_typical_figure_is_refused_or_odd():
    path = recipes.typical_shelf()
    for material in read(path).values():
        for name, figure in material.figures.items():
            if name in recipes.MEASURES:
                measure = recipes.MEASURES[name]
                assert measure.doubt(measure.read(figure)) is None, (material.name, name)


def test_typical_materials_of_every_kind_have_what_the_shipped_recipes_ask():
    known = [file.recipe for file in sessions.recipe_files() if file.recipe is not None]
    assert known
    for material in materials().values():
        assert recipes.misses(material, known) == []


@pytest.mark.parametrize(
    ("old", "new", "place", "words"),
    [
        ("7 d", "400 d", "14:13", "400 d is above the maximum, 83.33 d"),
        ("200 g/m²", "0 g/m²", "20:21", "0 g/m² is not above 0 g/m²"),
        ("cure: 7 d", "humidity_high: 120 %", "14:22", "120 % is above the maximum, 100 %"),
        (
            "cure: 7 d",
            "recoat_opens: 4 h\n      recoat_closes: 90 min",
            "15:22",
            "recoat_closes 90 min is below recoat_opens 4 h",
        ),
    ],
)
def test_what_no_sheet_gives_is_refused_at_its_place(file, old, new, place, words):
    file.write_text(OWN.replace(old, new), encoding="utf-8")
    with pytest.raises(FileProblems) as error:
        read(file)
    (problem,) = error.value.problems
    assert f"{problem.line}:{problem.column}" == place
    assert problem.what == words


@pytest.mark.parametrize(
    ("low", "high", "wrong"),
    [("4 h", "4 h", False), ("4 h", "239 min", True), ("4 h", "240 min", False), ("0.5 h", "1 h", False)],
)
def test_a_window_closes_no_sooner_than_it_opens(file, low, high, wrong):
    file.write_text(OWN.replace("cure: 7 d", f"recoat_opens: {low}\n      recoat_closes: {high}"), encoding="utf-8")
    if not wrong:
        read(file)
        return
    with pytest.raises(FileProblems, match="is below recoat_opens"):
        read(file)


@pytest.mark.parametrize(("letters", "noted"), [(40, False), (41, True)])
def test_the_title_of_a_material_is_forty_characters(file, letters, noted, monkeypatch):
    notes = []
    monkeypatch.setattr(recipes.reader.Reader, "note", lambda self, node, what, fix: notes.append(what))
    file.write_text(OWN.replace('"Own epoxy"', "x" * letters), encoding="utf-8")
    read(file)
    assert notes == (["title has 41 characters"] if noted else [])


def test_packing_is_a_number_without_a_unit():
    foam = materials()["foam-2lb"]
    assert foam.figures["packing"] == "1.1"
    assert recipes.FIGURES["foam"]["packing"] == ""


@pytest.mark.parametrize("blank", ["", "\n\n", "# mine\n", "# mine", "  # mine\r\n\r\n# and more\r\n"])
def test_a_shelf_of_nothing_but_comments_is_empty_and_keeps_them_when_a_material_is_put_on_it(file, blank):
    file.write_bytes(blank.encode())
    assert read(file) == {}
    assert recipes.load_shelf(file) == {}
    for material in list(materials().values())[:2]:
        recipes.save_material(file, material)
    assert text(file).startswith(blank)
    assert len(read(file)) == 2
    assert text(file).replace("\r\n", "").count("\n") == (0 if "\r\n" in blank else text(file).count("\n"))


def test_an_empty_file_is_told_how_a_shelf_begins_too(capsys, file):
    from shopmate import cli

    file.write_text("# mine\n", encoding="utf-8")
    assert cli.main(["check", str(file)]) == 1
    assert "start with 'recipe: name', a shelf with 'shelf: name'" in capsys.readouterr().out


# Steps that miss a figure


WITHOUT = [(kind, figure) for kind, figures in recipes.FIGURES.items() for figure in figures]


@functools.cache
def shipped():
    """What stands in the YAML of each shipped recipe, with the operations it uses, by the recipe's name."""
    return {recipe.name: yaml.safe_load(recipe.text) for recipe in shipped_recipes()}


@functools.cache
def shipped_recipes():
    return [recipes.load(path) for path in sorted(paths.shipped_recipes().glob("*.yaml"))]


def referring(part, name):
    """Whether a part of a recipe's YAML holds a reference to `name`."""
    return f"{{{name}}}" in json.dumps(part, ensure_ascii=False)


@pytest.mark.parametrize(("kind", "figure"), WITHOUT, ids=lambda text: text)
def test_each_figure_taken_out_names_the_recipe_and_the_step_that_uses_it(kind, figure):
    """What uses it is found in the YAML itself, the steps by the text of their first key."""
    material = recipes.Material("bare", kind, "Bare", "Sheet", {name: "1" for name in recipes.FIGURES[kind] if name != figure})
    wanted = set()
    for recipe, whole in shipped().items():
        steps = [*whole.get("asks", ()), *(step for section in whole["sections"] for step in section["steps"])]
        names = {step["into"] for step in steps if step.get("shelf") == kind}
        for step in steps:
            # What is offered only is asked for where it is not known.
            if any(referring({**step, "default": ""}, f"{name}.{figure}") for name in names):
                headline = next(step[key] for key in ("do", "ask", "work out", "gate", "start", "wait") if key in step)
                wanted.add(f"{recipe}: {headline} ({figure})")
    # A second pot life only makes the first one's figures better: without it nothing is missing.
    missed = set(recipes.misses(material, shipped_recipes()))
    assert missed == (set() if figure in ("pot_life_2", "pot_temperature_2") else wanted)


def test_the_figures_that_recipes_use_are_of_every_kind_they_ask_for():
    known = [file.recipe for file in sessions.recipe_files() if file.recipe is not None]
    used = {kind for kind in recipes.FIGURES if recipes.misses(recipes.Material("bare", kind, "Bare", "Sheet", {}), known)}
    asked = {
        step.act.answer.kind
        for recipe in known
        for section in recipe.sections
        for step in section.steps
        if isinstance(step.act, recipes.Ask) and isinstance(step.act.answer, recipes.ShelfAnswer)
    }
    assert used == asked
    assert "resin" in used


def test_a_step_that_refers_to_a_missing_figure_is_named():
    steps = [step for section in every_step().sections for step in section.steps]
    (ask,) = [step for step in steps if isinstance(step.act, recipes.Ask) and isinstance(step.act.answer, recipes.ShelfAnswer)][
        :1
    ]
    kind = ask.act.answer.kind
    bare = recipes.Material("bare", kind, "Bare", "Sheet", {})
    notes = recipes.misses(bare, [every_step()])
    assert notes
    for note in notes:
        title, _, figures = note.removesuffix(")").rpartition(" (")
        name, _, headline = title.partition(": ")
        assert name == every_step().name
        (step,) = [step for step in steps if step.headline == headline][:1]
        for figure in figures.split(", "):
            assert f"{{{ask.act.into}.{figure}}}" in every_step().text
            assert step.line > ask.line
    full = replace(bare, figures=dict.fromkeys(recipes.FIGURES[kind], "1"))
    assert recipes.misses(full, [every_step()]) == []
    assert recipes.misses(replace(bare, kind="tape"), [every_step()]) == []


def test_a_missing_recoat_time_is_missed_by_the_fillet_and_the_check_tells_it(capsys, file, home):
    from shopmate import cli

    assert cli.main(["check", str(file)]) == 0
    out, err = capsys.readouterr()
    assert out == ""
    assert "no problems in 1 file" in err
    notes = [line for line in err.splitlines() if line.startswith("note: ")]
    assert any("epoxy-own has no figure for fillet: " in line and "recoat_opens" in line for line in notes)
    assert not any("cloth-own has no figure for fillet: " in line for line in notes)


# Changing


def test_the_figures_keep_the_order_of_their_kind_and_a_typical_sheet_names_the_users():
    epoxy = materials()["epoxy-2to1-slow"]
    one = recipes.with_figure(epoxy, "cure", "5 d")
    two = recipes.with_figure(one, "sand", "30 h")
    assert two.figures["sand"] == "30 h"
    assert list(two.figures) == [name for name in recipes.FIGURES["resin"] if name in epoxy.figures]
    assert two.sheet == "typical values, not from a product: use your data sheet; own: sand, cure"
    assert recipes.with_figure(two, "cure", None).sheet.endswith("; own: sand")
    assert "cure" not in recipes.with_figure(two, "cure", None).figures


@pytest.mark.parametrize("figure", ["pot_life", "pot_mass", "pot_temperature"])
def test_a_typical_second_pot_life_goes_with_the_first_and_the_users_stays(figure, file):
    epoxy = materials()["epoxy-2to1-slow"]
    changed = recipes.with_figure(epoxy, figure, "31 min")
    assert set(epoxy.figures) - set(changed.figures) == {"pot_life_2", "pot_temperature_2"}
    second = recipes.with_figure(epoxy, "pot_life_2", "50 min")
    assert recipes.with_figure(second, figure, "31 min").figures["pot_life_2"] == "50 min"
    own = recipes.with_figure(read(file)["epoxy-own"], "pot_life_2", "50 min")
    assert recipes.with_figure(own, figure, "31 min").figures["pot_life_2"] == "50 min"


def test_a_material_is_typical_until_all_its_figures_are_the_users():
    cloth = recipes.with_sheet(materials()["glass-200-plain"], "Sheet of May")
    assert cloth.sheet == "typical but for own figures by Sheet of May"
    cloth = recipes.with_figure(cloth, "areal_weight", "205 g/m²")
    assert cloth.sheet == "typical but for own figures by Sheet of May; own: areal_weight"
    assert recipes.with_sheet(cloth, "Sheet of June").sheet == "typical but for own figures by Sheet of June; own: areal_weight"
    assert recipes.with_figure(cloth, "roll_width", "1000 mm").sheet == "Sheet of May"
    assert recipes.with_figure(cloth, "roll_width", None).sheet == "Sheet of May"


def test_the_sheet_of_a_users_own_material_stays(file):
    own = read(file)["epoxy-own"]
    assert recipes.with_figure(own, "cure", "5 d").sheet == own.sheet


# Saving


def test_only_the_line_of_the_figure_changes_and_the_comments_stay(file):
    own = read(file)["epoxy-own"]
    recipes.save_material(file, recipes.with_figure(own, "pot_life", "25 min"))
    assert text(file) == OWN.replace("pot_life: 30 min   # on the can", "pot_life: 25 min   # on the can")
    assert [path.name for path in file.parent.iterdir()] == ["shelf.yaml"]


def test_a_figure_is_added_after_the_others_and_taken_out_with_its_line(file):
    own = read(file)["epoxy-own"]
    recipes.save_material(file, recipes.with_figure(own, "clamp", "12 h"))
    assert text(file) == OWN.replace("      cure: 7 d\n", "      cure: 7 d\n      clamp: 12 h\n")
    recipes.save_material(file, recipes.with_figure(own, "cure", None))
    assert text(file) == OWN.replace("      cure: 7 d\n", "")


def test_title_and_sheet_are_quoted_where_yaml_needs_it(file):
    own = replace(read(file)["cloth-own"], title="Cloth: 'own' # 2", sheet='Sheet of "2026-05-03"')
    recipes.save_material(file, own)
    assert read(file)["cloth-own"] == own
    assert "# the last roll" in text(file)
    assert "# bought in May" in text(file)


def test_a_new_material_comes_last_and_the_rest_stays_as_it_was(file):
    foam = materials()["foam-2lb"]
    recipes.save_material(file, foam)
    assert text(file).startswith(OWN)
    assert list(read(file)) == ["epoxy-own", "cloth-own", "foam-2lb"]
    assert read(file)["foam-2lb"] == foam


def test_the_first_material_makes_the_file_and_its_folder(tmp_path):
    path = tmp_path / "new" / "shelf.yaml"
    for material in materials().values():
        recipes.save_material(path, material)
    assert read(path) == materials()


def test_line_ends_of_another_system_stay(file):
    file.write_bytes(OWN.replace("\n", "\r\n").encode())
    own = read(file)["epoxy-own"]
    recipes.save_material(file, recipes.with_figure(recipes.with_figure(own, "pot_life", "25 min"), "clamp", "12 h"))
    assert text(file).replace("\r\n", "").count("\n") == 0
    assert read(file)["epoxy-own"].figures["clamp"] == "12 h"


def test_a_last_line_without_an_end_gets_one_and_the_comments_stay(file):
    before = OWN.removesuffix("# the end\n").removesuffix("\n")
    file.write_text(before, encoding="utf-8")
    own = read(file)["cloth-own"]
    recipes.save_material(file, replace(own, name="cloth-two"))
    assert text(file).startswith(f"{before}\n  - material: cloth-two\n")


FLOW = """\
# all in one line
shelf: mine
materials:
  - {material: cloth-own, kind: cloth, title: Own cloth, sheet: made up, figures: {areal_weight: 200 g/m², roll_width: 1 m}}
"""


def test_a_form_that_cannot_keep_its_comments_is_asked_about_and_a_copy_stays(file):
    file.write_text(FLOW, encoding="utf-8")
    own = recipes.with_figure(read(file)["cloth-own"], "areal_weight", "300 g/m²")
    with pytest.raises(Doubt, match=r"shelf\.yaml\.before"):
        recipes.save_material(file, own)
    assert text(file) == FLOW
    recipes.save_material(file, own, sure=True)
    assert read(file) == {"cloth-own": own}
    copy = file.with_name("shelf.yaml.before")
    assert text(copy) == FLOW
    file.write_text(FLOW, encoding="utf-8")
    copy.write_text("an older one", encoding="utf-8")
    recipes.save_material(file, own, sure=True)
    assert text(copy) == "an older one"
    assert text(file.with_name("shelf.yaml.before-2")) == FLOW


def test_a_form_without_comments_is_written_anew_without_asking(file):
    file.write_text(FLOW.partition("\n")[2], encoding="utf-8")
    own = recipes.with_figure(read(file)["cloth-own"], "roll_width", None)
    recipes.save_material(file, own)
    assert read(file) == {"cloth-own": own}


@pytest.mark.parametrize(
    ("figure", "value"), [("pot_life", "25 mm"), ("pot_life", "25 parsec"), ("ratio", "2:1"), ("cure", "0 h")]
)
def test_a_figure_that_is_none_is_refused_and_the_file_stays(file, figure, value):
    own = read(file)["epoxy-own"]
    with pytest.raises(EntryError):
        recipes.save_material(file, recipes.with_figure(own, figure, value))
    assert text(file) == OWN


def test_a_figure_that_is_needed_cannot_be_taken_out(file):
    own = read(file)["epoxy-own"]
    with pytest.raises(EntryError, match="figures of a resin has no 'pot_life'"):
        recipes.save_material(file, recipes.with_figure(own, "pot_life", None))
    assert text(file) == OWN


def test_a_file_with_problems_is_not_written_over(file):
    file.write_text(OWN.replace("kind: cloth", "kind: carpet"), encoding="utf-8")
    with pytest.raises(FileProblems, match=r"shelf\.yaml:16:11"):
        recipes.save_material(file, materials()["foam-2lb"])
    assert "kind: carpet" in text(file)


@pytest.mark.parametrize("failing", ["fsync", "replace"])
def test_a_disk_that_fails_leaves_the_shelf_as_it_was(file, monkeypatch, failing):
    def fail(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(*((os, "fsync") if failing == "fsync" else (Path, "replace")), fail)
    own = read(file)["epoxy-own"]
    with pytest.raises(ShopmateError, match=r"cannot be written: No space left on device; the old file is unchanged"):
        recipes.save_material(file, recipes.with_figure(own, "pot_life", "25 min"))
    assert text(file) == OWN
    assert [path.name for path in file.parent.iterdir()] == ["shelf.yaml"]


def test_a_shelf_that_is_a_link_stays_one(file, tmp_path):
    link = tmp_path / "link.yaml"
    try:
        link.symlink_to(file)
    except OSError:
        pytest.skip("no links on this system")
    recipes.save_material(link, recipes.with_figure(read(file)["epoxy-own"], "pot_life", "25 min"))
    assert link.is_symlink()
    assert read(file)["epoxy-own"].figures["pot_life"] == "25 min"


def test_the_users_entry_outranks_the_typical_one_of_its_name(home):
    own = recipes.with_figure(materials()["epoxy-2to1-slow"], "pot_life", "33 min")
    recipes.save_material(paths.shelf(), own)
    assert sessions.shelf()["epoxy-2to1-slow"] == own
    assert set(sessions.shelf()) == set(materials())


BLOCK = "- material: cloth-own\n    kind: cloth\n    title: Own\n    sheet: made up\n    figures:\n      areal_weight: 200 g/m²\n"
FORMS = {
    "indented": f"# mine\nshelf: mine\nmaterials:\n  {BLOCK}",
    "flush left": f"# mine\nshelf: mine\nmaterials:\n{BLOCK.replace('    ', '  ')}",
    "far from the dash": f"# mine\nshelf: mine\nmaterials:\n{BLOCK.replace('- ', '-   ')}",
    "its name last": f"# mine\nmaterials:\n  {BLOCK}shelf: mine\n",
    "a folded text": f"# mine\nshelf: mine\nmaterials:\n  {BLOCK}".replace("made up", ">-\n      made\n      up"),
    "no last line end": f"# mine\nshelf: mine\nmaterials:\n  {BLOCK}".rstrip(),
    "marks of a document": f"---\n# mine\nshelf: mine\nmaterials:\n  {BLOCK}...\n",
    "no list yet": "# mine\nshelf: mine\nmaterials: []\n",
}


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("change", ["figure", "another figure", "sheet", "new"])
def test_in_any_form_the_file_says_what_was_saved_and_no_comment_goes_unasked(file, form, change):
    file.write_text(FORMS[form], encoding="utf-8")
    before = read(file)
    saved = materials()["foam-2lb"]
    if "cloth-own" in before:
        own = before["cloth-own"]
        saved = {
            "figure": recipes.with_figure(own, "areal_weight", "6 oz/yd²"),
            "another figure": recipes.with_figure(own, "roll_width", "1 m"),
            "sheet": recipes.with_sheet(own, 'it\'s: "x" # y \\'),
            "new": saved,
        }[change]
    try:
        recipes.save_material(file, saved)
        assert "# mine" in text(file)
    except Doubt:
        assert text(file) == FORMS[form]
        recipes.save_material(file, saved, sure=True)
        assert text(file.with_name("shelf.yaml.before")) == FORMS[form]
    assert read(file) == {**before, saved.name: saved}


# What a change says in the log


def test_what_changed_is_told_by_figure_and_the_mark_of_own_figures_is_no_change_of_the_sheet():
    slow = materials()["epoxy-2to1-slow"]
    assert recipes.changes(slow, slow) == []
    assert recipes.changes(slow, recipes.with_figure(slow, "sand", "20 h")) == [("sand", "24 h", "20 h")]
    assert recipes.changes(slow, recipes.with_figure(slow, "sand", None)) == [("sand", "24 h", None)]
    assert recipes.changes(slow, replace(slow, title="Own")) == [("title", slow.title, "Own")]
    ((name, was, now),) = recipes.changes(slow, recipes.with_sheet(slow, "can of May"))
    assert (name, was, now) == ("sheet", slow.sheet, "typical but for own figures by can of May")
    told = recipes.changes(None, slow)
    assert ("title", None, slow.title) in told
    assert {name: now for name, was, now in told if was is None} == {"title": slow.title, "sheet": slow.sheet, **slow.figures}


def test_a_material_saved_while_a_project_is_open_is_in_its_log_and_on_its_shelf(small, now):
    slow = materials()["epoxy-2to1-slow"]
    small.save_material(recipes.with_figure(slow, "sand", "20 h"), now())
    # The file is what was, even where another program changed it meanwhile.
    recipes.save_material(paths.shelf(), recipes.with_figure(slow, "sand", "22 h"))
    small.save_material(recipes.with_figure(slow, "sand", "18 h"), now())
    told = [event.data["shown"] for event in small.log.events() if event.kind == "shelf"]
    assert told == ["sand: 20 h, was 24 h", "sand: 18 h, was 22 h"]
    assert small.shelf["epoxy-2to1-slow"].figures["sand"] == "18 h"
    assert all(small.log.events()[number - 1].kind != "shelf" for number in small.project.undo)


# What is borrowed


def cloth_copied(title="My cloth", like="glass-200-plain"):
    return recipes.copied(materials()[like], title, materials())


def test_a_copied_material_borrows_every_figure_and_a_sheet_that_names_a_product():
    cloth = cloth_copied()
    assert cloth.borrowed == dict.fromkeys(cloth.figures, "glass-200-plain")
    named = Material("cloth-own", "cloth", "Cloth", "can of May", {"areal_weight": "200 g/m²"})
    assert recipes.copied(named, "Other", {}).borrowed == {"areal_weight": "cloth-own", "sheet": "cloth-own"}
    mixed = recipes.with_sheet(materials()["glass-200-plain"], "can of May")
    assert "sheet" in recipes.copied(mixed, "Other", {}).borrowed


def test_a_copy_of_a_copy_names_the_material_that_a_figure_is_from():
    cloth = recipes.with_figure(cloth_copied(), "areal_weight", "205 g/m²")
    again = recipes.copied(cloth, "Again", materials())
    assert again.borrowed == {"areal_weight": "my-cloth", "roll_width": "glass-200-plain"}
    shelf = {**materials(), cloth.name: cloth}
    assert recipes.lender(again, "areal_weight", shelf) == "borrowed from My cloth"
    assert recipes.lender(again, "areal_weight", {}) == "borrowed from my-cloth"
    assert recipes.sheet_in_short(again, shelf) == (
        f"1 of 2 figures borrowed from My cloth; 1 of 2 figures borrowed from {materials()['glass-200-plain'].title}"
    )


@pytest.mark.parametrize("text", ["205 g/m²", None])
def test_a_figure_changed_confirmed_or_taken_out_is_no_longer_borrowed_and_no_longer_typical(text):
    cloth = cloth_copied()
    assert recipes.unconfirmed(cloth) == ["areal_weight", "roll_width"]
    changed = recipes.confirmed(cloth, "areal_weight") if text is None else recipes.with_figure(cloth, "areal_weight", text)
    assert changed.borrowed == {"roll_width": "glass-200-plain"}
    assert recipes.unconfirmed(changed) == ["roll_width"]
    assert changed.sheet.endswith("; own: areal_weight")
    gone = recipes.with_figure(changed, "roll_width", None)
    assert (gone.borrowed, recipes.unconfirmed(gone)) == ({}, [])


def test_a_borrowed_sheet_is_the_users_once_named_or_confirmed():
    own = Material("cloth-own", "cloth", "Cloth", "can of May", {"areal_weight": "200 g/m²"})
    copy = recipes.copied(own, "Other", {})
    for changed in (recipes.with_sheet(copy, "can of June"), recipes.confirmed(copy, "sheet")):
        assert changed.borrowed == {"areal_weight": "cloth-own"}
    assert recipes.confirmed(copy, "sheet").sheet == "can of May"


def test_a_borrowed_second_pot_life_goes_when_the_first_is_changed_and_stays_when_that_is_confirmed():
    slow = materials()["epoxy-2to1-slow"]
    named = recipes.copied(replace(slow, sheet="can of May"), "Other", materials())
    changed = recipes.with_figure(named, "pot_life", "31 min")
    assert not {"pot_life_2", "pot_temperature_2"} & {*changed.figures, *changed.borrowed}
    for kept in (recipes.confirmed(named, "pot_life"), recipes.with_figure(named, "pot_life", slow.figures["pot_life"])):
        assert kept.figures == slow.figures
        assert "pot_life" not in kept.borrowed
    own = recipes.confirmed(recipes.confirmed(named, "pot_life_2"), "pot_temperature_2")
    assert recipes.with_figure(own, "pot_life", "31 min").figures["pot_life_2"] == slow.figures["pot_life_2"]


@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_the_file_keeps_what_is_borrowed_and_gives_it_back_line_by_line(tmp_path, ending):
    file = tmp_path / "shelf.yaml"
    file.write_bytes(f"# mine{ending}".encode())
    cloth = cloth_copied()
    recipes.save_material(file, cloth)
    assert text(file).count("glass-200-plain") == 2
    for name in ("areal_weight", "roll_width"):
        assert read(file)["my-cloth"].borrowed == cloth.borrowed
        cloth = recipes.confirmed(cloth, name)
        recipes.save_material(file, cloth)
    assert read(file)["my-cloth"] == cloth
    assert text(file).startswith("# mine")
    assert "borrowed" not in text(file)
    assert file.read_bytes().count(b"\r") == (file.read_bytes().count(b"\n") if ending == "\r\n" else 0)


@pytest.mark.parametrize(
    ("lines", "problem"),
    [
        ("    borrowed:\n      cure: glass-200-plain\n", "'cure' is not a key of 'borrowed'; use: areal_weight, sheet"),
        ("    borrowed:\n      areal_weight: Glass 200\n", "areal_weight 'Glass 200' is not a name"),
        ("    borrowed: all\n", "'borrowed' is a text; write a mapping with the keys areal_weight, sheet"),
    ],
)
def test_what_is_wrong_with_what_is_borrowed_is_told(lines, problem):
    shelf = (
        "shelf: mine\nmaterials:\n  - material: cloth-own\n    kind: cloth\n    title: Own cloth\n    sheet: made up\n"
        "    figures:\n      areal_weight: 200 g/m²\n"
    )
    assert recipes.read_shelf(shelf, "shelf.yaml")["cloth-own"].borrowed == {}
    with pytest.raises(FileProblems, match=re.escape(problem)):
        recipes.read_shelf(shelf + lines, "shelf.yaml")


def test_check_and_a_command_tell_what_is_still_borrowed_and_no_longer_once_it_is_confirmed(capsys, home):
    from shopmate import cli

    slow = recipes.copied(materials()["epoxy-2to1-slow"], "My epoxy", materials())
    for name in slow.figures:
        if name not in ("cure", "pot_life"):
            slow = recipes.confirmed(slow, name)
    recipes.save_material(paths.shelf(), slow)
    words = "My epoxy: pot life, cure borrowed from Epoxy 2:1 by volume, slow; check your data sheet."
    assert cli.main(["check", str(paths.shelf())]) == 0
    assert f"note: {paths.shelf()}: {words}" in capsys.readouterr().err
    used = words.replace(", cure", "")  # no pot goes by the time of full cure
    assert cli.main(["calc", "pots", "my-epoxy", "150 g", "temperature=20 °C"]) == 0
    assert f"note: {used}" in capsys.readouterr().err
    for given in (["sheet_time=40 min"], []):
        if not given:
            recipes.save_material(paths.shelf(), recipes.confirmed(slow, "pot_life"))
        assert cli.main(["calc", "pots", "my-epoxy", "150 g", "temperature=20 °C", *given]) == 0
        assert "borrowed" not in capsys.readouterr().err
