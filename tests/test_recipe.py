"""Recipes and shelves: what is read, what is refused, and the exact place and words of each problem."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopmate import recipe as recipes
from shopmate.errors import FileProblems, Problem
from shopmate.recipe import (
    Ask,
    Between,
    ChoiceAnswer,
    CountAnswer,
    Do,
    Gate,
    MeasureAnswer,
    Recipe,
    ShelfAnswer,
    Start,
    Template,
    Wait,
    WhenClock,
    WhenValue,
    WorkOut,
    words,
)
from shopmate.recipe.compose import compose
from shopmate.recipe.tree import DEEPEST
from shopmate.text_file import LARGEST

BAD = Path(__file__).parent / "recipes" / "bad"
CASES = sorted(BAD.glob("*.yaml"))

EVERY_KIND = """
recipe: every-kind
title: Lay a made-up cloth
version: "1"
date: "2026-11-25"
about: >-
  One step of every kind,
  over two lines.
needs: [Gloves, Cloth]
asks:
  - ask: Choose the edge
    into: edge
    choices: {raw: Raw edge, wrapped: Wrapped edge}
    default: raw
  - ask: Give the width
    into: width
    unit: mm
    low: 10 mm
    high: 3 ft
    usual: [20 mm, 2 ft]
    default: 1-1/2 in
  - {ask: Choose the resin, into: resin, shelf: resin, default: epoxy-made-up}
  - {ask: Count the coats, into: coats, count: [1, 6], default: "2"}
sections:
  - section: Lay
    mode: read-do
    repeat: {each: coat, times: coats}
    until: Stop when the weave is full.
    steps:
      - WARNING: Hardener on the skin can start an allergy for life.
      - DANGER: The press shuts on what is under it.
        reason: Nothing holds it up while the pin is out.
      - do: Put on fresh gloves
        id: gloves
        detail: [Change them when they tear., "The edge is {edge}, {width} wide."]
        figures: {Width: "{width}"}
        when: {edge: [raw, wrapped]}
      - {ask: Read the air, into: air, unit: °C, near: {value: 20 °C, within: 10 %}}
      - {work out: Work out the dew point, calculator: dewpoint, with: {air: "{air}", humidity: 50 %}, into: dew,
         show: [dew_point]}
      - {gate: Pass the air, if_no: Warm it., value: "{air}", low: "{resin.temperature_low}", high: 95 °F}
      - {gate: Judge the film, if_no: Clean it again., choices: {whole: Film whole, broken: Film breaks}, go: whole}
      - start: Start the clamp time
        clock: clamp
        title: Clamp
        kind: NOT BEFORE
        time: "{resin.clamp}"
        note: It counts from the last clamp.
        action: Take the clamps off
        if_late: Nothing is lost.
        time_to_act: 1 h
        consequence: The joint opens.
      - {do: Check the squeeze-out, when: {clock: clamp, is: running}}
      - {wait: Wait for the clamps, clock: clamp}
      - {do: Take off the clamps, ends: clamp}
sources:
  - {text: Made up, mark: memory}
"""


@pytest.fixture(scope="module")
def every_kind() -> Recipe:
    return recipes.read(EVERY_KIND, "every-kind.yaml", "every-kind")


def found_in(path: Path) -> tuple[tuple[Problem, ...], tuple[Problem, ...]]:
    """Return the problems of a recipe or shelf file, and what is noted of its style."""
    try:
        if path.stem.startswith("shelf-"):
            recipes.read_shelf(recipes.read_file(path), str(path))
            return (), ()
        return (), recipes.load(path).notes
    except FileProblems as error:
        return error.problems, error.notes


def shown(path: Path) -> list[str]:
    """Return the problems and notes of a file as they are shown, the file by its bare name."""
    problems, notes = found_in(path)
    lines = [*map(str, problems), *(f"note: {note}" for note in notes)]
    return [line.replace(str(path), path.name) for line in lines]


@pytest.mark.parametrize("path", CASES, ids=[path.stem for path in CASES])
def test_a_bad_file_gives_exactly_these_messages(path: Path) -> None:
    assert shown(path) == path.with_suffix(".txt").read_text(encoding="utf-8").splitlines()


def test_every_bad_file_has_its_messages_and_there_are_enough() -> None:
    assert {path.stem for path in CASES} == {path.stem for path in BAD.glob("*.txt")}
    assert len(CASES) >= 35


@pytest.mark.parametrize("headline", ["Glue the frame", "Screw down the lid", "Leim die Rippen ein", "Rahmen"])
def test_a_headline_in_other_words_than_the_shipped_ones_is_taken_without_a_note(headline: str) -> None:
    recipe = recipes.read(EVERY_KIND.replace("Put on fresh gloves", headline), "every-kind.yaml", "every-kind")
    assert recipe.notes == ()
    assert recipe.step("gloves").headline == headline


@pytest.mark.parametrize("path", CASES, ids=[path.stem for path in CASES])
def test_problems_stand_in_the_order_of_the_file_and_each_says_what_to_do(path: Path) -> None:
    for problems in found_in(path):
        places = [(problem.line, problem.column) for problem in problems]
        assert places == sorted(places)
        assert all(problem.what and problem.fix and "\n" not in str(problem) for problem in problems)


# What a file is before it is a recipe


def test_a_file_over_the_limit_is_refused_unread_and_one_at_the_limit_is_read(tmp_path: Path) -> None:
    path = tmp_path / "large.yaml"
    path.write_bytes(b"#" * (LARGEST + 1))
    assert shown(path) == ["large.yaml:1:1: the file is over 1 MiB; split it: no recipe is that long"]
    path.write_bytes(b"#" * LARGEST)
    assert shown(path) == ["large.yaml:1:1: the file is empty; start with 'recipe: name', a shelf with 'shelf: name'"]


def test_a_missing_file_and_a_folder_are_refused(tmp_path: Path) -> None:
    missing = tmp_path / "missing.yaml"
    assert shown(missing) == ["missing.yaml:1:1: is not there; give the path of a YAML file"]
    (tmp_path / "folder.yaml").mkdir()
    assert shown(tmp_path / "folder.yaml") == ["folder.yaml:1:1: is a folder; give the path of a YAML file"]


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "every-kind.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + EVERY_KIND.encode())
    assert recipes.load(path).name == "every-kind"


@pytest.mark.parametrize("text", ["2:1", "1:30", "no", "010", "1e3", "~", "null", "0x1F", "1_000", ".inf", "2026-11-25"])
def test_what_yaml_would_guess_stays_the_text_that_was_written(text: str) -> None:
    node = compose(f"value: {text}\n{text}: key\n", "f.yaml")
    value, key = dict(node.entries or {})["value"][1], list(node.entries or {})[1]
    assert (value.text, key) == (text, text)


@pytest.mark.parametrize("depth", [DEEPEST + 1, 200, 500, 900, 1200, 100_000])
@pytest.mark.parametrize("opening", ["[", "{a: ", "- "])
def test_nesting_is_refused_at_any_depth(opening: str, depth: int) -> None:
    closing = {"[": "]", "{a: ": "}", "- ": ""}[opening]
    with pytest.raises(FileProblems, match="nest"):
        compose(opening * depth + "x" + closing * depth, "f.yaml")


def test_nesting_to_the_limit_is_read() -> None:
    assert compose("[" * DEEPEST + "]" * DEEPEST, "f.yaml").items is not None


@pytest.mark.parametrize("ending", ["---\nc: d\n", "...\n---\nc: d\n", "...\nc: d\n"])
def test_a_second_document_is_refused(ending: str) -> None:
    with pytest.raises(FileProblems, match="document"):
        compose(f"a: b\n{ending}", "f.yaml")


def test_one_document_may_open_with_a_directive_and_a_mark() -> None:
    assert compose("%YAML 1.2\n---\na: b\n", "f.yaml").entries is not None


@pytest.mark.parametrize("line_break", ["\n", "\r\n", "\r"])
def test_a_tab_is_named_after_any_break_of_lines_and_beside_any_letter(line_break: str) -> None:
    with pytest.raises(FileProblems, match=r"f\.yaml:2:1: not YAML: a tab where there must be spaces"):
        compose(f"größe 🪵:{line_break}\tb: c\n", "f.yaml")


@given(st.text(st.sampled_from("a:-[]{}\"'#|>&*! \n\r\t\x85\u2028é")))
def test_any_marks_of_yaml_are_read_or_refused_with_a_place(text: str) -> None:
    problems: tuple[Problem, ...] = ()
    try:
        compose(text, "f.yaml")
    except FileProblems as error:
        problems = error.problems
    assert all(problem.line >= 1 and problem.column >= 1 for problem in problems)


@given(st.text())
def test_any_text_is_read_or_refused_with_a_place_in_it(text: str) -> None:
    problems: tuple[Problem, ...] = ()
    try:
        compose(text, "f.yaml")
    except FileProblems as error:
        problems = error.problems
    breaks = sum(text.count(mark) for mark in "\n\r\x85\u2028\u2029")
    assert all(1 <= problem.line <= breaks + 2 and problem.column >= 1 for problem in problems)


@given(st.binary(max_size=200))
def test_bytes_that_are_no_recipe_are_refused(tmp_path_factory: pytest.TempPathFactory, raw: bytes) -> None:
    path = tmp_path_factory.getbasetemp() / "bytes.yaml"
    path.write_bytes(raw)
    assert found_in(path)[0]


# What is read


def test_the_head_of_a_recipe_is_read(every_kind: Recipe) -> None:
    assert (every_kind.name, every_kind.title, every_kind.version) == ("every-kind", "Lay a made-up cloth", "1")
    assert every_kind.about == "One step of every kind, over two lines."
    assert every_kind.needs == ("Gloves", "Cloth")
    assert every_kind.sources == ("Made up [memory]",)
    assert every_kind.text == EVERY_KIND


def test_what_is_asked_becomes_the_section_start(every_kind: Recipe) -> None:
    start = every_kind.sections[0]
    assert (start.name, start.mode) == ("Start", "read-do")
    edge, width, resin, coats = [step.act for step in start.steps]
    assert edge == Ask("edge", ChoiceAnswer({"raw": "Raw edge", "wrapped": "Wrapped edge"}), "raw")
    usual = (Template("20 mm"), Template("2 ft"))
    assert width == Ask("width", MeasureAnswer("mm", Template("10 mm"), Template("3 ft"), usual), "1-1/2 in")
    assert resin == Ask("resin", ShelfAnswer("resin"), "epoxy-made-up")
    assert coats == Ask("coats", CountAnswer(1, 6), "2")


def test_each_kind_of_step_is_read(every_kind: Recipe) -> None:
    kinds = [type(step.act) for step in every_kind.sections[1].steps]
    assert kinds == [Do, Ask, WorkOut, Gate, Gate, Start, Do, Wait, Do]
    gloves, air, dew, passed, film, start, squeeze, wait, off = every_kind.sections[1].steps
    assert gloves.when == (WhenValue("edge", ("raw", "wrapped")),)
    assert gloves.figures == {"Width": Template("{width}")}
    assert isinstance(air.act, Ask)
    assert isinstance(air.act.answer, MeasureAnswer)
    assert air.act.answer.near is not None
    assert (air.act.answer.near.value, air.act.answer.near.percent) == (Template("20 °C"), 10.0)
    assert dew.act == WorkOut("dewpoint", {"air": Template("{air}"), "humidity": Template("50 %")}, "dew", ("dew_point",))
    assert isinstance(passed.act, Gate)
    assert passed.act.by == Between(Template("{air}"), Template("{resin.temperature_low}"), Template("95 °F"))
    assert len(passed.act.reasons) >= 2
    assert isinstance(film.act, Gate)
    assert film.act.go == {"": ("whole",)}
    assert isinstance(start.act, Start)
    assert (start.act.clock, start.act.kind, start.act.time) == ("clamp", "NOT BEFORE", Template("{resin.clamp}"))
    assert squeeze.when == (WhenClock("clamp", "running"),)
    assert isinstance(wait.act, Wait)
    assert wait.act.clock == "clamp"
    assert off.ends == "clamp"


def test_cautions_stand_before_the_step_they_warn_of(every_kind: Recipe) -> None:
    gloves = every_kind.step("gloves")
    assert [caution.signal for caution in gloves.cautions] == ["WARNING", "DANGER"]
    assert gloves.cautions[1].reason == "Nothing holds it up while the pin is out."
    assert all(not step.cautions for step in every_kind.sections[1].steps[1:])


def test_a_repeated_section_says_what_is_counted_and_when_to_stop(every_kind: Recipe) -> None:
    repeat = every_kind.sections[1].repeat
    assert repeat is not None
    assert (repeat.each, repeat.times, repeat.until) == ("coat", Template("{coats}"), "Stop when the weave is full.")


def test_steps_have_ids_of_their_own_and_their_lines(every_kind: Recipe) -> None:
    steps = [step for section in every_kind.sections for step in section.steps]
    assert len({step.id for step in steps}) == len(steps)
    lines = EVERY_KIND.splitlines()
    assert all(step.headline in lines[step.line - 1] for step in steps)


def test_two_steps_of_one_headline_get_two_ids() -> None:
    text = EVERY_KIND.replace("Check the squeeze-out", "Take off the clamps")
    steps = recipes.read(text, "f.yaml").sections[1].steps
    assert [step.id for step in steps if step.headline == "Take off the clamps"] == [
        "take-off-the-clamps",
        "take-off-the-clamps-2",
    ]


def test_an_unknown_step_is_a_key_error(every_kind: Recipe) -> None:
    with pytest.raises(KeyError):
        every_kind.step("no-such-step")


def test_a_problem_in_one_step_is_not_told_again_where_its_value_is_used() -> None:
    text = EVERY_KIND.replace("unit: °C", "unit: degrees").replace("calculator: dewpoint", "calculator: dew")
    with pytest.raises(FileProblems) as caught:
        recipes.read(text, "f.yaml")
    assert [problem.what for problem in caught.value.problems] == [
        "'degrees' is not a unit known here",
        "there is no calculator 'dew'",
    ]


def test_a_template_is_filled_from_values_and_shows_a_gap_for_none() -> None:
    template = Template("{width} by {panel.depth}, {height}")
    assert template.references == ("width", "panel.depth", "height")
    values = {"width": "20 mm", "panel.depth": "1 m"}
    assert template.fill(values.get, "—") == "20 mm by 1 m, —"
    assert template.lone_reference is None
    assert Template("{panel.depth}").lone_reference == "panel.depth"


# The shelf

MATERIAL = """
  - material: {name}
    kind: cloth
    title: {title}
    sheet: made up
    figures: {{areal_weight: 200 g/m², roll_width: 50 in}}
"""


def test_a_shelf_is_read_by_name() -> None:
    shelf = recipes.read_shelf("shelf: mine\nmaterials:" + MATERIAL.format(name="plain-200", title="Plain 200"), "shelf.yaml")
    assert list(shelf) == ["plain-200"]
    assert shelf["plain-200"].figures == {"areal_weight": "200 g/m²", "roll_width": "50 in"}


def test_a_later_shelf_replaces_materials_of_an_earlier_one_and_a_missing_file_is_passed_over(tmp_path: Path) -> None:
    first, second = tmp_path / "first.yaml", tmp_path / "second.yaml"
    first.write_text(
        "shelf: first\nmaterials:" + MATERIAL.format(name="a", title="First a") + MATERIAL.format(name="b", title="First b"),
        encoding="utf-8",
    )
    second.write_text("shelf: second\nmaterials:" + MATERIAL.format(name="b", title="Second b"), encoding="utf-8")
    shelf = recipes.load_shelf(first, tmp_path / "missing.yaml", second)
    assert {name: material.title for name, material in shelf.items()} == {"a": "First a", "b": "Second b"}


def test_the_shipped_shelf_is_sound_and_marked_typical() -> None:
    shelf = recipes.load_shelf(recipes.typical_shelf())
    assert {material.kind for material in shelf.values()} == set(recipes.FIGURES)
    assert all(material.sheet.startswith("typical") for material in shelf.values())


def test_a_shelf_is_told_from_a_recipe() -> None:
    assert recipes.is_shelf("shelf: mine\n", "f.yaml")
    assert not recipes.is_shelf(EVERY_KIND, "f.yaml")
    assert not recipes.is_shelf("- shelf\n", "f.yaml")


# The words of steps and cautions


@pytest.mark.parametrize(
    ("headline", "fits"),
    [
        ("Weigh the hardener", True),
        ("Spread it now", True),
        ("1234567890123 1234567890123", True),
        ("12345678901234", False),
        ("Check one more countersink", False),
    ],
)
def test_a_headline_wraps_to_two_lines_of_thirteen(headline: str, fits: bool) -> None:
    assert words.wraps(headline) is fits


@pytest.mark.parametrize(
    ("line", "joins"),
    [
        ("Stir it, then pour.", True),
        ("Stir it; pour.", True),
        ("Stir it and pour", False),
        ("Mind the top and bottom skins.", False),
        ("Strengthen it with cloth.", False),
        ("Bring the brush and tape.", False),
    ],
)
def test_two_actions_in_a_line_are_seen(line: str, joins: bool) -> None:
    assert words.joins_actions(line) is joins


@pytest.mark.parametrize(
    ("text", "orders"),
    [
        ("Hardener can start an allergy. Always wear gloves.", True),
        ("Do not breathe the dust.", True),
        ("Dust in the lungs stays there: never breathe it.", True),
        ("Hardener on the skin can start an allergy for life.", False),
        ("Dust of cured resin hurts the lungs.", False),
    ],
)
def test_a_caution_that_orders_work_is_seen(text: str, orders: bool) -> None:
    assert words.gives_order(text) is orders


def test_a_recipe_kept_with_a_run_is_not_held_to_what_its_calculators_take_today():
    older = EVERY_KIND.replace("show: [dew_point]", "show: [former]")
    assert older != EVERY_KIND
    with pytest.raises(FileProblems, match="dewpoint does not work out 'former'"):
        recipes.read(older, "x.yaml")
    assert recipes.read(older, "x.yaml", kept=True).sections[1].steps
    gone = EVERY_KIND.replace("calculator: dewpoint", "calculator: former")
    with pytest.raises(FileProblems, match="there is no calculator 'former'"):
        recipes.read(gone, "x.yaml", kept=True)
