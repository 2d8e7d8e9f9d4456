"""The limits that decide what a calculator says: each is declared, and its words come and go from one side to the other."""

import ast
import importlib
import re
from fractions import Fraction
from pathlib import Path

import pytest

import shopmate
from shopmate import calc
from shopmate.calculator import Measure, Threshold
from shopmate.errors import InputError
from shopmate.units import Quantity

NEAR = 0.01
"""How near to the limit both sides lie, as a share of it."""

EXEMPT = re.compile(r"\bNo Threshold needed: \S+(?: \S+)+\.")
"""What the docstring under a constant says that is compared and is no limit of what is said, with the reason."""

PLAIN = {-1, 0, 1, 2, 100}
"""Numbers that a comparison may hold without a name: none, one, a pair, the whole in per cent."""

PACKAGE = Path(shopmate.__file__).parent
MODULES = {
    f"shopmate.{folder}.{path.stem}": path
    for folder in ("calc", "models")
    for path in sorted((PACKAGE / folder).glob("*.py"))
    if path.stem != "__init__"
}
TREES = {name: ast.parse(path.read_text(encoding="utf-8")) for name, path in MODULES.items()}

THRESHOLDS = [
    pytest.param(name, threshold, id=f"{name}-{number}")
    for name in calc.names()
    for number, threshold in enumerate(calc.find(name).thresholds, start=1)
]


def sides(name, threshold):
    return threshold.sides(calc.find(name).examples[0].inputs)


def said(name, texts):
    """Return all that is said of the inputs, or why they are refused."""
    try:
        result = calc.run(name, texts)
    except InputError as refused:
        return str(refused)
    verdicts = [value for value in result.outputs.values() if isinstance(value, str)]
    return "\n".join((*result.doubts, *result.cautions, *result.working, *verdicts))


def figure(name, threshold, texts):
    """Return the figure that is compared with the limit, in its unit; None where it is refused and none comes out."""
    declared = calc.find(name)
    if texts.get(threshold.of):
        value = declared.field(threshold.of).kind.read(texts[threshold.of])
    else:
        try:
            value = calc.run(name, texts).outputs[threshold.of]
        except InputError:
            return None
    return value.value_in(threshold.unit) if isinstance(value, Quantity) else value


@pytest.mark.parametrize(("name", "threshold"), THRESHOLDS)
def test_the_words_come_beyond_the_limit(name, threshold):
    short, beyond = sides(name, threshold)
    assert threshold.words not in said(name, short)
    assert threshold.words in said(name, beyond)


@pytest.mark.parametrize(("name", "threshold"), THRESHOLDS)
def test_both_sides_lie_close_to_the_limit(name, threshold):
    texts = sides(name, threshold)
    if not threshold.of:
        kind = calc.find(name).field(threshold.by).kind
        if isinstance(kind, Measure):
            before, after = (kind.read(text).value_in(kind.unit) for text in (threshold.short, threshold.beyond))
            assert before != after
            assert abs(after - before) <= NEAR * max(abs(before), abs(after))
        return
    off = [value - threshold.value for side in texts if (value := figure(name, threshold, side)) is not None]
    # Of what is counted the next number is as near as it gets.
    near = 1 if isinstance(off[0], int) else NEAR * abs(threshold.value)
    assert all(abs(number) <= near for number in off), off
    if len(off) == 1:
        return
    assert min(off) <= 0 <= max(off), off
    assert off[0] != off[1]
    if texts[0].get(threshold.of):
        assert 0 in [round(number, 12) for number in off], off


def test_sources_of_limits_have_words_and_a_mark():
    for name in calc.names():
        for threshold in calc.find(name).thresholds:
            assert len(threshold.source.text.split()) >= 2, threshold
            assert threshold.words.strip(), threshold


def is_number(value):
    return isinstance(value, int | float | Fraction | Quantity) and not isinstance(value, bool)


def is_figure(value):
    return is_number(value) or (isinstance(value, tuple | list) and any(map(is_number, value)))


def compared(tree):
    """Yield each expression that is compared, or chosen from by max and min."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare):
            yield from (node.left, *node.comparators)
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("max", "min"):
            yield from node.args


def docstrings(tree):
    """Return the docstring under each constant of a module; constants that follow one another share the one after them."""
    found, open_group = {}, []
    for node in tree.body:
        if isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            open_group += [item.id for target in targets for item in ast.walk(target) if isinstance(item, ast.Name)]
            continue
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            found |= dict.fromkeys(open_group, str(node.value.value))
        open_group = []
    return found


def origins(tree, module):
    """Return {name in this module: (module, name) of the constant}, for its own and for what it imports from the models."""
    names = {name: (module, name) for name in docstrings(tree)}
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("shopmate.models"):
            for item in node.names:
                source = f"{node.module}.{item.name}"
                if source in TREES:
                    names |= {f"{item.asname or item.name}.{name}": (source, name) for name in docstrings(TREES[source])}
                else:
                    names[item.asname or item.name] = (node.module, item.name)
    return names


def declared():
    """Return (module, name) of each constant that is the value of a Threshold."""
    return {
        origins(tree, module).get(ast.unparse(node.args[0]))
        for module, tree in TREES.items()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == Threshold.__name__ and node.args
    }


def undeclared(module):
    """Return the numbers that a module compares and that are neither in a Threshold nor exempt, as one line each."""
    tree, found = TREES[module], []
    known, covered = origins(tree, module), declared()
    for expression in compared(tree):
        for node in ast.walk(expression):
            text = ast.unparse(node) if isinstance(node, ast.Name | ast.Attribute) else ""
            if text in known and known[text] not in covered:
                source, name = known[text]
                figure_of = getattr(importlib.import_module(source), name, None)
                if is_figure(figure_of) and not EXEMPT.search(" ".join(docstrings(TREES[source]).get(name, "").split())):
                    found.append(f"{text} is compared: put it in a Threshold, or say 'No Threshold needed: reason.' under it")
            elif isinstance(node, ast.Constant) and is_number(node.value) and node.value not in PLAIN:
                found.append(f"line {node.lineno}: {node.value} is compared: give it a name")
    return sorted(set(found))


def unlisted(name):
    """Return the names of thresholds of a calculator's module that its declaration does not list."""
    module = importlib.import_module(f"shopmate.calc.{name}")
    listed = {id(threshold) for threshold in calc.find(name).thresholds}
    return [key for key, value in vars(module).items() if isinstance(value, Threshold) and id(value) not in listed]


@pytest.mark.parametrize("module", MODULES)
def test_each_limit_that_is_compared_is_declared(module):
    found = undeclared(module)
    assert not found, "\n".join(found)


@pytest.mark.parametrize("name", calc.names())
def test_each_threshold_of_the_module_is_listed(name):
    assert not unlisted(name)


PLANTED = '''
_LIMIT = 3.0
"""Something [memory]."""
_FREE = 4.0
"""Something. No Threshold needed: floating-point rounding noise."""
_HELD = Threshold(5.0, "g", SOURCE, "words", "total", "5 g", "6 g")
def compute(total):
    return total > 1 and (_LIMIT < total or total * 2 > _FREE or max(total, 7.5) > _HELD.value)
'''


def test_an_undeclared_limit_is_found(monkeypatch):
    monkeypatch.setitem(TREES, "planted", ast.parse(PLANTED))
    values = {"_LIMIT": 3.0, "_FREE": 4.0, "_HELD": calc}
    monkeypatch.setattr(importlib, "import_module", lambda _: type("Planted", (), values))
    lines = undeclared("planted")
    assert [line.split(" is compared")[0] for line in lines] == ["_LIMIT", "line 8: 7.5"]


def test_a_limit_of_the_models_is_held_by_the_threshold_that_takes_it(monkeypatch):
    monkeypatch.setitem(TREES, "shopmate.models.planted", ast.parse('BIG = 500.0\n"""Big [memory]."""\n'))
    user = "from shopmate.models.planted import BIG\nfrom shopmate.models import planted\nx = 1 > BIG\ny = 2 > planted.BIG\n"
    monkeypatch.setitem(TREES, "user", ast.parse(user))
    monkeypatch.setattr(importlib, "import_module", lambda _: type("Planted", (), {"BIG": 500.0}))
    assert [line.split(" ")[0] for line in undeclared("user")] == ["BIG", "planted.BIG"]
    monkeypatch.setitem(TREES, "other", ast.parse(f"{user}_BIG = Threshold(planted.BIG, 'g')\n"))
    assert not undeclared("user")
