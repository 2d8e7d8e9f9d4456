"""The schemas of recipes and operations: fresh, and of one mind with the reader on every good, bad and changed file."""

import copy
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import schema as made
import yaml
from jsonschema import Draft202012Validator

from shopmate import cli, paths
from shopmate import recipe as recipes
from shopmate.errors import FileProblems, Problem
from shopmate.recipe.form import ACT_WORDS, STEPS

HERE = Path(__file__).parent / "recipes"
SHIPPED = paths.shipped_recipes()
GOOD = [*sorted(SHIPPED.glob("*.yaml")), *(path for path in sorted((HERE / "good").glob("*.yaml")))]
OPERATIONS = sorted((SHIPPED / "operations").glob("*.yaml"))
BAD = [path for path in sorted((HERE / "bad").glob("*.yaml")) if not path.stem.startswith("shelf-")]


class Core(yaml.SafeLoader):
    """Reads YAML by the core schema of YAML 1.2, as editors do."""


Core.yaml_implicit_resolvers = {}
for kind, pattern, first in (
    ("null", r"~|null|", "~n"),
    ("bool", r"true|false", "tf"),
    ("int", r"[-+]?[0-9]+|0x[0-9a-fA-F]+", "-+0123456789"),
    ("float", r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?", "-+.0123456789"),
):
    Core.add_implicit_resolver(f"tag:yaml.org,2002:{kind}", re.compile(f"^(?:{pattern})$"), [*first, ""])


def validator(name: str) -> Draft202012Validator:
    return Draft202012Validator(json.loads(paths.schema(name).read_text(encoding="utf-8")))


VALIDATORS = {name: validator(name) for name in made.FORMS}


def faults(name: str, value: object) -> list[str]:
    return [f"{error.json_path}: {error.message[:200]}" for error in VALIDATORS[name].iter_errors(value)]


def loaded(path: Path) -> object:
    return yaml.load(path.read_text(encoding="utf-8"), Core)


@pytest.mark.parametrize("name", made.FORMS)
def test_the_schema_that_is_shipped_is_that_of_the_form(name: str) -> None:
    assert paths.schema(name).read_text(encoding="utf-8") == made.schema(name), "tests/docs.py --write"


@pytest.mark.outside("jsonschema: the schema of schemas")
@pytest.mark.parametrize("name", made.FORMS)
def test_the_schema_is_one(name: str) -> None:
    Draft202012Validator.check_schema(VALIDATORS[name].schema)


def test_each_kind_of_step_has_its_form() -> None:
    assert set(STEPS) == set(ACT_WORDS)


@pytest.mark.parametrize("path", GOOD, ids=[path.stem for path in GOOD])
def test_a_good_recipe_passes(path: Path) -> None:
    assert faults("recipe", loaded(path)) == []


@pytest.mark.parametrize("path", OPERATIONS, ids=[path.stem for path in OPERATIONS])
def test_a_shipped_operation_passes(path: Path) -> None:
    assert faults("operation", loaded(path)) == []


NOT_YAML = {
    "yaml-colon-in-text", "yaml-control-character", "yaml-indent", "yaml-list-as-key", "yaml-not-utf8", "yaml-sign-first",
    "yaml-tab", "yaml-two-documents", "yaml-unclosed-bracket", "yaml-unclosed-quote",
}  # fmt: skip
"""What a parser of YAML refuses before a schema is asked."""

CALCULATORS = "what a calculator takes and gives is declared with it, and units make one thing of another"
NAMES = "a name has to be given by an earlier step: a schema sees one place at a time"
NUMBERS = "a quantity and its unit are read, and compared with another"
UNSEEN = {
    "calculator-fields-wrong": CALCULATORS,
    "calculator-unknown": CALCULATORS,
    "calculator-values-of-another-kind": CALCULATORS,
    "caution-after-the-last-step": "no rule for the last item of a list",
    "clock-in-do-confirm": "the kind of a clock, in a step, decides about the section around it",
    "default-no-choice": "the default is a key of the same step's choices, which are free",
    "default-no-count": NUMBERS,
    "default-outside-limits": NUMBERS,
    "ends-unknown-clock": NAMES,
    "gate-calculator-go-wrong": CALCULATORS,
    "gate-value-is-a-name": NAMES,
    "gate-value-no-reference": "a text may hold references anywhere",
    "id-twice": "two ids in one file are compared",
    "limit-of-another-kind": NUMBERS,
    "limit-without-unit": NUMBERS,
    "name-is-not-the-file-s": "a schema does not know the name of the file",
    "reference-not-closed": "a text may hold references anywhere",
    "reference-to-what-comes-later": NAMES,
    "reference-unknown": NAMES,
    "repeat-times-no-count": NAMES,
    "repeat-times-unknown": NAMES,
    "start-time-of-another-kind": NUMBERS,
    "texts-stay-texts": "editors make numbers of some texts",
    "unit-unknown": "units are combined of others",
    "wait-for-a-do-before": NAMES,
    "wait-for-no-clock": NAMES,
    "yaml-repeated-key": "a parser of YAML has dropped one of the two",
    "yaml-tag": "a parser of YAML has followed it",
}
"""The bad files whose fault no schema sees, and why."""


def is_refused(path: Path) -> bool:
    try:
        recipes.load(path)
    except FileProblems:
        return True
    return False


@pytest.mark.parametrize("path", BAD, ids=[path.stem for path in BAD])
def test_a_bad_recipe_is_refused_unless_it_is_told_why_not(path: Path) -> None:
    if path.stem in NOT_YAML:
        with pytest.raises((yaml.YAMLError, UnicodeDecodeError)):
            loaded(path)
        return
    assert (faults("recipe", loaded(path)) != []) == (is_refused(path) and path.stem not in UNSEEN)


def test_every_file_that_is_excepted_is_a_bad_one() -> None:
    assert NOT_YAML | set(UNSEEN) <= {path.stem for path in BAD}
    assert all(is_refused(path) for path in BAD if path.stem in UNSEEN)


SHAPE = re.compile(
    r"(is (a text|a list|a mapping)|is empty|'.*' is not a key of .*|has no '.*'|has \d+ items?)( \(used by .*\))?$"
)
"""What the reader says where a key or the shape of a value is wrong, which a schema sees as well."""


def changes(node: object, within: tuple[object, ...] = ()) -> Iterator[tuple[str, tuple[object, ...]]]:
    """Yield what can be done to each key of each mapping beneath, and the way to it."""
    if isinstance(node, list):
        for place, item in enumerate(node):
            yield from changes(item, (*within, place))
    if isinstance(node, dict):
        yield from ((change, (*within, name)) for name in node for change in ("leave out", "empty", "other shape"))
        yield "add", (*within, "spare")
        for name, value in node.items():
            yield from changes(value, (*within, name))


def kind(change: str, way: tuple[object, ...], root: object) -> tuple[object, ...]:
    """Return what a change has in common with others like it: the keys beside the one that is changed."""
    for name in way[:-1]:
        root = root[name]  # type: ignore[index]
    assert isinstance(root, dict)
    return change, way[-1], *root


def changed(root: dict[str, object], change: str, way: tuple[object, ...]) -> dict[str, object]:
    """Return a recipe with one change at the end of a way."""
    root = copy.deepcopy(root)
    node: object = root
    for name in way[:-1]:
        node = node[name]  # type: ignore[index]
    assert isinstance(node, dict)
    match change:
        case "leave out":
            del node[way[-1]]
        case "empty":
            node[way[-1]] = type(node[way[-1]])() if isinstance(node[way[-1]], dict | list) else ""
        case "other shape":
            node[way[-1]] = "text" if isinstance(node[way[-1]], dict | list) else [node[way[-1]]]
        case "add":
            node[way[-1]] = "text"
    return root


def test_reader_and_schema_are_of_one_mind_about_every_key_and_shape() -> None:
    apart = []
    root = loaded(HERE / "good" / "every-step.yaml")
    every = {kind(change, way, root): (change, way) for change, way in changes(root)}
    assert len(every) > 300
    for change, way in every.values():
        recipe = changed(root, change, way)
        is_fault = faults("recipe", recipe) != []
        problems: tuple[Problem, ...] = ()
        try:
            recipes.read(yaml.safe_dump(recipe, allow_unicode=True), "every-step.yaml", "every-step", compare=False)
        except FileProblems as error:
            problems = error.problems
        about_shape = [problem.what for problem in problems if SHAPE.search(problem.what) and "'with' of" not in problem.what]
        if (is_fault and not problems) or (about_shape and not is_fault):
            apart.append((change, way, is_fault, [problem.what for problem in problems]))
    assert apart == []


@pytest.mark.parametrize("words", [["recipe"], ["operation"]])
def test_a_schema_is_printed_and_so_is_its_place(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["schema", *words]) == 0
    assert json.loads(capsys.readouterr().out) == VALIDATORS[words[0]].schema
    assert cli.main(["schema", *words, "--path"]) == 0
    assert Path(capsys.readouterr().out.strip()) == paths.schema(words[0])
