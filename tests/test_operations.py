"""Operations: what a recipe becomes where it uses them, what is refused and at which place."""

import pytest
from small_recipe import small_recipe

from shopmate import cli
from shopmate import recipe as recipes
from shopmate.errors import FileProblems
from shopmate.recipe import Ask, Do, Start, Wait
from shopmate.recipe.compose import compose
from shopmate.recipe.operations import written
from shopmate.session import recipe_files

RECIPE = small_recipe(
    "lay",
    """
asks:
  - {ask: Give the length, into: length, unit: m, default: 2 m}
  - {ask: Choose the resin, into: resin, shelf: resin, default: epoxy-2to1-slow}
sections:
  - use: coat
    with: {material: "{resin}", job: Seal, over: "{length}"}
    as: seal
    between:
      - do: Roll it out
  - section: Look
    mode: do-confirm
    steps:
      - {do: Look at the face, figures: {Used: "{seal.mixed}"}}
      - do: Wipe the edge
      - do: Turn the lamp
      - do: Close the door
      - do: Sweep the floor
  - use: coat
    with: {material: "{resin}", job: Fill, over: "{length}", wash: "yes"}
""",
)

COAT = """
operation: coat
about: One coat of a made-up resin.
takes: {material: needed, job: needed, over: needed, wash: "no"}
gives: {mixed: used, pot: pot}
sections:
  - section: "{job} coat"
    mode: read-do
    steps:
      - {do: Put on gloves, detail: ["{job}: {over} to go, {material.pot_mass} a pot."]}
      - {do: Wash the film, only: {wash: "yes"}}
      - {ask: Give the mass, into: used, unit: g, default: 10 g}
      - start: Start the pot
        clock: pot
        title: Pot
        kind: DO BEFORE
        time: "{material.pot_life}"
        note: It goes off.
        action: Empty it
        if_late: Throw it away.
        time_to_act: 2 min
        consequence: It sets.
      - between: here
      - {do: Empty the cup, ends: pot, figures: {Mixed: "{used}"}}
"""


@pytest.fixture
def folder(home):
    """The user's own recipes, with the recipe and its operation."""
    own = home / "recipes"
    (own / "operations").mkdir(parents=True)
    (own / "lay.yaml").write_text(RECIPE, encoding="utf-8")
    (own / "operations" / "coat.yaml").write_text(COAT, encoding="utf-8")
    return own


def problems(path):
    with pytest.raises(FileProblems) as caught:
        recipes.load(path)
    return [str(problem) for problem in caught.value.problems]


def test_a_recipe_has_the_sections_of_its_operations_in_place_of_their_use(folder):
    got = recipes.load(folder / "lay.yaml")
    assert [section.name for section in got.sections] == ["Start", "Seal coat", "Look", "Fill coat"]
    seal, fill = got.sections[1], got.sections[3]
    assert [step.headline for step in seal.steps] == [
        "Put on gloves", "Give the mass", "Start the pot", "Roll it out", "Empty the cup",
    ]  # fmt: skip
    assert [step.headline for step in fill.steps] == [
        "Put on gloves", "Wash the film", "Give the mass", "Start the pot", "Empty the cup",
    ]  # fmt: skip


ADDED = """      - do: Roll it out
    after:
      - section: Press it down
        mode: read-do
        steps:
          - do: Press it down
"""

IN_TURNS = """    mode: read-do
    repeat: {each: pot, times: "2", sections: "{together}"}
    until: Stop.
    steps:
      - {do: Put on"""


def test_sections_given_for_after_the_work_come_last_and_may_belong_to_its_turn(folder):
    coat = COAT.replace("    mode: read-do\n    steps:\n      - {do: Put on", IN_TURNS)
    coat = coat.replace('wash: "no"}', 'wash: "no", together: "1"}') + "  - after: here\n"
    (folder / "operations" / "coat.yaml").write_text(coat, encoding="utf-8")
    recipe = RECIPE.replace("job: Seal,", 'job: Seal, together: "2",').replace("      - do: Roll it out\n", ADDED)
    (folder / "lay.yaml").write_text(recipe, encoding="utf-8")
    got = recipes.load(folder / "lay.yaml")
    assert [section.name for section in got.sections] == ["Start", "Seal coat", "Press it down", "Look", "Fill coat"]
    assert [got.repeated(index)[0] for index in (1, 2, 4)] == [range(1, 3), range(1, 3), range(4, 5)]
    assert got.repeated(3) is None


def test_what_an_operation_is_given_stands_in_its_texts(folder):
    step = recipes.load(folder / "lay.yaml").sections[1].steps[0]
    assert step.detail[0].text == "Seal: {length} to go, {resin.pot_mass} a pot."


def test_the_names_of_an_operation_are_its_own_and_what_it_gives_is_found_under_its_prefix(folder):
    got = recipes.load(folder / "lay.yaml")
    seal, look, fill = got.sections[1:]
    asked = [step.act for step in (*seal.steps, *fill.steps) if isinstance(step.act, Ask)]
    assert [ask.into for ask in asked] == ["seal_used", "coat_used"]
    started = [step.act for step in (*seal.steps, *fill.steps) if isinstance(step.act, Start)]
    assert [start.clock for start in started] == ["seal_pot", "coat_pot"]
    assert started[0].time.text == "{resin.pot_life}"
    assert [step.ends for step in (seal.steps[-1], fill.steps[-1])] == ["seal_pot", "coat_pot"]
    assert seal.steps[-1].figures["Mixed"].text == "{seal_used}"
    assert look.steps[0].figures["Used"].text == "{seal_used}"


def test_what_a_run_keeps_is_whole_without_the_operation(folder):
    got = recipes.load(folder / "lay.yaml")
    (folder / "operations" / "coat.yaml").unlink()
    again = recipes.read(got.text, "kept", "lay", kept=True)
    assert [section.name for section in again.sections] == [section.name for section in got.sections]
    assert [step.headline for section in again.sections for step in section.steps] == [
        step.headline for section in got.sections for step in section.steps
    ]


def test_a_list_of_recipes_follows_an_operation_that_changes(folder):
    assert next(file for file in recipe_files() if file.name == "lay").recipe is not None
    (folder / "operations" / "coat.yaml").write_text(COAT.replace("Empty the cup", "Throw the cup away"), encoding="utf-8")
    changed = next(file for file in recipe_files() if file.name == "lay").recipe
    assert changed.sections[1].steps[-1].headline == "Throw the cup away"


def test_nodes_are_written_as_they_were_read():
    text = '"a":\n  - "b: c"\n  - "d":\n      - "1"\n      - "ü \\" \\\\"\n    "e": "x"\n"f":\n  "g": []\n'
    root = compose(text, "made")
    assert written(root) == text
    assert written(compose(written(root), "made")) == text


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("use: coat\n    with: {material: \"{resin}\", job: Seal", "use: cote\n    with: {material: \"{resin}\", job: Seal",
         "lay.yaml:12:10: there is no operation 'cote'; write it as operations/cote.yaml, or use another"),
        ("job: Seal, ", "", "lay.yaml:12:5: the operation 'coat' is not given 'job'; add 'with: {job: ...}'"),
        ("job: Seal, ", "job: Seal, colour: red, ",
         "lay.yaml:13:52: the operation 'coat' has no 'colour'; use: material, job, over, wash"),
        ("as: seal", "as: Seal", "lay.yaml:14:9: as 'Seal' is not a name; use lower-case letters, digits and _ or -, a letter "
         "first"),
        ("{seal.mixed}", "{seal.mass}", "lay.yaml:20:48: no earlier step gives '{seal.mass}'; ask for it or work it out in an "
        "earlier "
         "step"),
        ("with: {material: \"{resin}\", job: Fill, over: \"{length}\", wash: \"yes\"}", "with: 12",
         "lay.yaml:26:11: with is a text; write a mapping of what the operation takes"),
    ],
)  # fmt: skip
def test_a_use_that_is_wrong_is_told_at_its_place(folder, old, new, said):
    assert old in RECIPE
    (folder / "lay.yaml").write_text(RECIPE.replace(old, new, 1), encoding="utf-8")
    assert f"{folder}/{said}" in problems(folder / "lay.yaml")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("operation: coat", "operation: cote", "2:12: the operation is named 'cote' but its file is named 'coat' "
         "(used by lay.yaml); use one name for both"),
        ("{material.pot_life}", "{material.pot_lfe}", None),
        ("gives: {mixed: used, pot: pot}", "gives: {mixed: usd}",
         "5:16: no step of the operation gives 'usd' (used by lay.yaml); name what a step gives: its into, adds_to or clock"),
        ("only: {wash: \"yes\"}", "only: {wsh: \"yes\"}",
         "11:36: the operation has no 'wsh' (used by lay.yaml); use one of: material, job, over, wash"),
        ("do: Put on gloves", "doo: Put on gloves", "10:9: a step of no kind (used by lay.yaml); use one of: do, ask, work "
        "out, gate, start, "
         "wait"),
        ("      - between: here\n", "", None),
    ],
)  # fmt: skip
def test_what_is_wrong_in_an_operation_is_told_there_with_the_recipe_that_uses_it(folder, old, new, said):
    assert old in COAT
    (folder / "operations" / "coat.yaml").write_text(COAT.replace(old, new, 1), encoding="utf-8")
    found = problems(folder / "lay.yaml")
    if said is not None:
        assert f"{folder}/operations/coat.yaml:{said}" in found
    assert found


def test_an_operation_that_uses_itself_is_refused(folder):
    text = COAT.replace("sections:\n", "sections:\n  - {use: coat, with: {material: x, job: y, over: z}}\n", 1)
    (folder / "operations" / "coat.yaml").write_text(text, encoding="utf-8")
    assert any("the operation 'coat' uses itself (used by lay.yaml)" in line for line in problems(folder / "lay.yaml"))


def test_an_operation_may_use_another(folder):
    outer = COAT.replace("operation: coat", "operation: outer").replace("sections:\n", "sections:\n  - {use: inner}\n", 1)
    inner = """
operation: inner
about: Five made-up steps.
sections:
  - section: Inner
    mode: do-confirm
    steps: [{do: One}, {do: Two}, {do: Three}, {do: Four}, {do: Five, id: five}]
"""
    (folder / "operations" / "outer.yaml").write_text(outer, encoding="utf-8")
    (folder / "operations" / "inner.yaml").write_text(inner, encoding="utf-8")
    (folder / "lay.yaml").write_text(RECIPE.replace("use: coat", "use: outer"), encoding="utf-8")
    got = recipes.load(folder / "lay.yaml")
    assert [section.name for section in got.sections] == ["Start", "Inner", "Seal coat", "Look", "Inner", "Fill coat"]
    assert [got.sections[1].steps[4].id, got.sections[4].steps[4].id] == ["inner-five", "inner-2-five"]
    assert all(isinstance(step.act, Do) for step in got.sections[1].steps)
    assert not any(isinstance(act, Wait) for act in got.acts)


def test_a_use_may_hang_on_a_choice_and_its_steps_do(folder):
    asked = "asks:\n  - {ask: Choose the side, into: side, choices: {one: One, both: Both}, default: one}\n"
    text = RECIPE.replace("asks:\n", asked, 1).replace('wash: "yes"}', 'wash: "yes"}\n    when: {side: both}')
    (folder / "lay.yaml").write_text(text, encoding="utf-8")
    got = recipes.load(folder / "lay.yaml")
    assert {step.when for step in got.sections[3].steps} == {(recipes.WhenValue("side", ("both",)),)}
    assert {step.when for step in got.sections[1].steps} == {()}


def test_check_of_an_operation_reads_it_where_recipes_use_it(folder, capsys):
    path = folder / "operations" / "coat.yaml"
    assert cli.main(["check", str(path)]) == 0
    path.write_text(COAT.replace("pot_life", "pot_lfe").replace("mixed: used", "mixed: usd"), encoding="utf-8")
    capsys.readouterr()
    assert cli.main(["check", str(path)]) == 1
    said = capsys.readouterr().out
    assert f"{path}:5:16: no step of the operation gives 'usd'" in said
    assert "'{resin.pot_lfe}'" in said
