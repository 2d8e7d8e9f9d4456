"""The limits of a recipe from both sides: what is just within one is read without a word, what is just beyond it is told."""

import pytest
from conftest import EVERY_STEP
from test_recipe import EVERY_KIND

from shopmate import recipe as recipes
from shopmate.errors import FileProblems
from shopmate.session.files import recipe_file


def told(old="", new="", text=EVERY_KIND):
    """Return all that is found wrong or noted of the recipe of every kind with one place of it replaced."""
    assert old in text
    try:
        notes = recipes.read(text.replace(old, new, 1), "every-kind.yaml", "every-kind").notes
    except FileProblems as error:
        return [problem.what for problem in (*error.problems, *error.notes)]
    return [note.what for note in notes]


def letters(number):
    return "x" * number


def test_the_recipe_itself_has_no_problem():
    assert told() == []


@pytest.mark.parametrize(
    ("old", "new", "most", "what"),
    [
        ("title: Lay a made-up cloth", "title: {}", 40, "title"),
        ('version: "1"', "version: {}", 12, "version"),
        ("section: Lay", "section: {}", 30, "section"),
        ("Stop when the weave is full.", "{}", 60, "until"),
        ("each: coat", "each: {}", 12, "each"),
        ("Hardener on the skin can start an allergy for life.", "{}", 120, "WARNING"),
        ("Change them when they tear.", "{}", 60, "detail"),
        ("raw: Raw edge", "raw: {}", 40, "raw"),
        ("if_no: Warm it.", "if_no: {}", 120, "if_no"),
        ("title: Clamp", "title: {}", 18, "title"),
        ("note: It counts from the last clamp.", "note: {}", 60, "note"),
        ("action: Take the clamps off", "action: {}", 40, "action"),
        ("if_late: Nothing is lost.", "if_late: {}", 120, "if_late"),
        ("consequence: The joint opens.", "consequence: {}", 60, "consequence"),
        ("if_no: Warm it.", "if_no: Warm it., reasons: [A second reason, {}]", 50, "reasons"),
    ],
)
def test_how_long_a_text_may_be(old, new, most, what):
    assert told(old, new.format(letters(most))) == []
    assert told(old, new.format(letters(most + 1))) == [f"{what} has {most + 1} characters"]


def test_how_long_the_label_of_a_figure_may_be():
    assert told('{Width: "{width}"}', f'{{{letters(16)}: "{{width}}"}}') == []
    assert told('{Width: "{width}"}', f'{{{letters(17)}: "{{width}}"}}') == [f"the label '{letters(17)}' has 17 characters"]


@pytest.mark.parametrize(
    ("headline", "fits"),
    [
        ("Put on thirty fresh gloves", True),  # 26 characters, two lines of 13 and 12
        ("Put on thirty better gloves", False),  # 27, two lines of 13
        ("Put on unbelievable", True),  # 6 and 12
        ("Put on incorrigibles", True),  # 13
        ("Put on incorrigibility", False),  # 15 in a word
        ("Put on fresher than new", False),  # three lines
    ],
)
def test_a_headline_is_26_characters_in_two_lines(headline, fits):
    found = told("do: Put on fresh gloves", f"do: {headline}")
    assert found == ([] if fits else [f"the headline '{headline}' does not fit two lines of 13"])


def listed(form, number):
    return ", ".join(form.format(index) for index in range(1, number + 1))


@pytest.mark.parametrize(
    ("old", "new", "form", "taken", "refused", "what"),
    [
        ("[Change them when they tear., \"The edge is {edge}, {width} wide.\"]", "[{}]", "line {}", 2, 3, "detail has 3 items"),
        ('{Width: "{width}"}', "{{{}}}", "F{}: '1'", 2, 3, "figures has 3 entries"),
        ("{raw: Raw edge, wrapped: Wrapped edge}\n    default: raw", "{{{}, raw: Raw, wrapped: Wrapped}}\n    default: raw",
         "c{}: C", 7, 8, "choices needs 2 to 9 keys"),
        ("if_no: Warm it.", "if_no: Warm it., reasons: [{}]", "reason {}", 2, 1, "reasons has 1 item"),
        ("if_no: Warm it.", "if_no: Warm it., reasons: [{}]", "reason {}", 5, 6, "reasons has 6 items"),
        ("show: [dew_point]", "show: [{}]", "dew_point", 2, 3, "show has 3 items"),
        ("[Gloves, Cloth]", "[{}]", "Need {}", 1, 0, "needs has 0 items"),
    ],
)  # fmt: skip
def test_how_many_there_may_be(old, new, form, taken, refused, what):
    assert told(old, new.format(listed(form, taken))) == []
    assert what in told(old, new.format(listed(form, refused)))


def test_a_section_has_up_to_nine_steps_worked_by_hand():
    """What the program works by itself counts for none."""
    head, _, _ = EVERY_KIND.partition("    steps:")
    figures = '      - {work out: Pick the shim, calculator: shim, with: {gap: 16 mm, part: "{width}"}, into: pick}\n'
    for number, noted in ((0, False), (9, False), (10, True)):
        steps = "\n".join(f"      - do: Look at it {letters(count)}" for count in range(1, number + 1))
        text = f"{head}    steps:\n{figures}{steps}\nsources:\n  - {{text: Made up, mark: memory}}\n"
        assert told(text=text) == ([f"the section 'Lay' has {number} steps worked by hand"] if noted else [])


def test_a_clock_that_starts_at_once_is_no_step_worked_by_hand():
    head, _, _ = EVERY_KIND.partition("    steps:")
    clock = "{start: Note the %s, %sclock: c%s, title: T, kind: NOT BEFORE, time: 1 h, note: N, action: A, if_late: L"
    clock += ", time_to_act: 1 min, consequence: C}"
    for at_once, noted in (("at_once: yes, ", False), ("", True)):
        steps = [f"{{do: Look at it {letters(count)}}}" for count in range(1, 9)]
        steps += [clock % ("one", at_once, 1), clock % ("two", at_once, 2)]
        listed_steps = "\n".join(f"      - {step}" for step in steps)
        text = f"{head}    steps:\n{listed_steps}\nsources:\n  - {{text: Made up, mark: memory}}\n"
        assert told(text=text) == (["the section 'Lay' has 10 steps worked by hand"] if noted else [])


def test_a_recipe_asks_nine_questions():
    for number, noted in ((9, False), (10, True)):
        more = "\n".join(
            f"  - {{ask: Count {letters(count)}, into: n{count}, count: [1, 6], default: '2'}}" for count in range(5, number + 1)
        )
        found = told("sections:\n", f"{more}\nsections:\n")
        assert found == ([f"asks has {number} items"] if noted else [])


# Answers and their defaults


@pytest.mark.parametrize(
    ("default", "found"),
    [
        ("10 mm", []),
        ("1 cm", []),
        ("9.99 mm", ["default 9.99 mm is below the minimum answer"]),
        ("0.39 in", ["default 0.39 in is below the minimum answer"]),  # 9.906 mm [computed]
        ("0.4 in", []),
        ("3 ft", []),
        ("36 in", []),
        ("36.01 in", ["default 36.01 in is above the maximum answer"]),
        ("914.4 mm", []),  # 3 ft [computed]
        ("914.5 mm", ["default 914.5 mm is above the maximum answer"]),
    ],
)
def test_a_default_lies_within_the_limits_or_on_one(default, found):
    assert told("default: 1-1/2 in", f"default: {default}") == found


def test_without_comparing_only_limits_in_the_default_s_own_unit_are_looked_at():
    def found(old, new):
        try:
            recipes.read(EVERY_KIND.replace(old, new, 1), "x.yaml", compare=False)
        except FileProblems as error:
            return [problem.what for problem in error.problems]
        return []

    assert found("default: 1-1/2 in", "default: 50 ft") == []
    assert found("high: 3 ft", "high: 900 mm") == []
    assert found("default: 1-1/2 in", "default: 9 mm") == []  # the other limit is in feet
    assert found("high: 3 ft\n    usual: [20 mm, 2 ft]\n    default: 1-1/2 in", "default: 9 mm") != []


@pytest.mark.parametrize(
    ("count", "default", "found"),
    [
        ("[1, 6]", "1", []),
        ("[1, 6]", "6", []),
        ("[1, 6]", "0", ["default is '0'"]),
        ("[1, 6]", "7", ["default is '7'"]),
        ("[3, 3]", "3", []),
        ("[4, 3]", "3", ["count needs a minimum and a maximum"]),
        ("[1, 9999]", "9999", []),
        ("[1, 10000]", "1", ["count is '10000'"]),
        ("[1]", "1", ["count has 1 item"]),
        ("[1, 2, 3]", "1", ["count has 3 items"]),
    ],
)
def test_a_count_has_two_limits_and_its_default_lies_within_or_on_one(count, default, found):
    assert told('count: [1, 6], default: "2"', f'count: {count}, default: "{default}"') == found


@pytest.mark.parametrize(
    ("usual", "found"),
    [("[20 mm, 2 ft]", []), ("[20 mm]", ["usual has 1 item"]), ("[20 mm, 2 ft, 3 ft]", ["usual has 3 items"])],
)
def test_what_is_usual_lies_between_two(usual, found):
    assert told("usual: [20 mm, 2 ft]", f"usual: {usual}") == found


def test_what_is_near_is_said_in_per_cent():
    step = every_step("Read the air", EVERY_KIND)
    assert step.act.answer.near.percent == 10.0
    assert told("within: 10 %", "within: 10") == ["within 10 has no unit"]


def every_step(headline, text):
    recipe = recipes.read(text, "every-kind.yaml")
    return next(step for section in recipe.sections for step in section.steps if step.headline == headline)


# Sections that make one turn together


def turns(sections, names=("a", "b", "c")):
    """Return a recipe whose first section is repeated, `sections` of them making one turn."""
    head, _, _ = EVERY_KIND.partition("sections:")
    steps = "\n".join(f"      - do: Look at it {letters(count)}" for count in range(1, 6))
    repeat = f"    repeat: {{each: coat, times: coats, sections: {sections}}}\n    until: Stop when it is full.\n"
    body = "".join(
        f"  - section: {name}\n    mode: read-do\n{repeat if index == 0 else ''}    steps:\n{steps}\n"
        for index, name in enumerate(names)
    )
    return f"{head}sections:\n{body}sources:\n  - {{text: Made up, mark: memory}}\n"


@pytest.mark.parametrize(("sections", "found"), [(1, []), (3, []), (0, ["sections is '0'"]), (4, ["sections is '4'"])])
def test_one_turn_takes_as_many_sections_as_there_are(sections, found):
    assert told(text=turns(sections)) == found


def test_the_sections_of_one_turn_know_how_many_they_are():
    recipe = recipes.read(turns(2), "every-kind.yaml")
    assert [section.repeat.sections if section.repeat else None for section in recipe.sections] == [None, 2, None, None]


@pytest.mark.parametrize(("place", "known"), [("a", True), ("b", True), ("c", False)])
def test_the_number_of_the_turn_is_known_in_its_sections_alone(place, known):
    before, begins, after = turns(2).partition(f"section: {place}\n")
    step = "- do: Look at it x\n"
    text = before + begins + after.replace(step, f'{step}        detail: ["{{turn}}"]\n', 1)
    assert told(text=text) == ([] if known else ["'{turn}' outside a repeated section"])


# Keys that go together


def test_only_a_temperature_is_a_reading_of_the_shop():
    assert told("into: air, unit: °C,", "into: air, unit: °C, logs: temperature,") == []
    assert told("    usual: [20 mm, 2 ft]", "    logs: temperature\n    usual: [20 mm, 2 ft]") == [
        "logs temperature, but the answer is not one"
    ]


@pytest.mark.parametrize(
    ("key", "until"),
    [
        ("needs: ", "asks:"),
        ("asks:", "sections:"),
        ("sections:", "sources:"),
        ("sources:", ""),
    ],
)
def test_what_a_recipe_lists_is_not_empty(key, until):
    before, _, after = EVERY_KIND.partition(f"\n{key}")
    left = "\n" + until + after.partition(f"\n{until}")[2] if until else "\n"
    found = told(text=f"{before}\n{key.strip()} []{left}")
    assert f"{key.strip(': ')} has 0 items" in found


def test_a_condition_is_a_mapping_with_a_value_or_a_clock():
    for when in ("raw", "{}", "[raw]"):
        assert told("{clock: clamp, is: running}", when) == ["when is not a mapping"]
    assert told("{clock: clamp, is: running}", "{edge: raw}") == []
    assert told("{clock: clamp, is: running}", "{edge: raw, width: 1 mm}") == ["when holds several values"]


def pouring(*steps):
    """Return the recipe with steps of these answers in the place of two of its repeated section."""
    lines = "\n".join(f"      - {{ask: Pour {letters(count)}, into: cup{count}, {step}}}" for count, step in enumerate(steps, 1))
    old = "      - {do: Check the squeeze-out, when: {clock: clamp, is: running}}"
    assert old in EVERY_KIND
    return EVERY_KIND.replace(old, lines).replace("      - {do: Take off the clamps, ends: clamp}\n", "")


@pytest.mark.parametrize(
    ("steps", "found"),
    [
        (["unit: g, adds_to: poured"], []),
        (["unit: g, adds_to: width"], ["'width' is the name of another value"]),
        (["unit: g, adds_to: width", "unit: g, adds_to: width"], ["'width' is the name of another value"] * 2),
        (["unit: g, adds_to: edge"], ["'edge' is the name of another value"]),
        (["unit: g, adds_to: No name"], ["adds_to 'No name' is not a name"]),
        (["unit: furlong, adds_to: poured"], ["'furlong' is not a unit known here"]),
        (["unit: furlong, adds_to: poured", "unit: g, low: '{poured}'"], ["'furlong' is not a unit known here"]),
        (["unit: g, adds_to: poured", "unit: g, low: '{poured}'"], []),
        (["unit: g, adds_to: poured", "unit: mm, low: '{poured}'"], ["'{poured}' is mass, not length"]),
        (["unit: g, low: '{poured}'", "unit: g, adds_to: poured"], []),  # an earlier turn has added to it
    ],
)
def test_a_sum_has_a_name_and_a_unit_of_its_own(steps, found):
    assert told(text=pouring(*steps)) == found


def test_a_recipe_listed_again_is_read_again_only_when_its_file_changed(home, monkeypatch):
    folder = home / "recipes"
    folder.mkdir(parents=True)
    path = folder / "mine.yaml"
    path.write_text("recipe: mine\n", encoding="utf-8")
    read = []
    monkeypatch.setattr(recipes, "load", lambda path, **_: read.append(path) or recipes.read(EVERY_STEP.read_text("utf-8"), "x"))
    for _ in range(3):
        assert recipe_file("mine", path, ()).recipe is not None
    assert read == [path]
    path.write_text("recipe: mine, and longer\n", encoding="utf-8")
    recipe_file("mine", path, ())
    assert read == [path, path]
    path.unlink()
    recipe_file("mine", path, ())
    assert read == [path, path, path]
