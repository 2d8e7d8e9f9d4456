"""Where figures come from: each calculator is checked against the outside at least three times, each figure names its source."""

import ast
import importlib
import re
from pathlib import Path
from typing import get_args

import checks
import pytest

import shopmate
from shopmate import calc, tables
from shopmate.calculator import Mark

LEAST = 3
"""Outside checks that a calculator has at the least: cases of tests/checks and tests marked `outside`."""

FOLDER = Path(__file__).parent
PACKAGE = Path(shopmate.__file__).parent
MODULES = [*sorted((PACKAGE / "calc").glob("*.py")), *sorted((PACKAGE / "models").glob("*.py"))]
PUBLIC = [
    *MODULES,
    *sorted((PACKAGE / "tables").glob("*.py")),
    *(PACKAGE / f"{name}.py" for name in ("calculator", "units", "errors", "picture") if (PACKAGE / f"{name}.py").exists()),
]

AMOUNT = re.compile(r"[\d.]+(?: to [\d.]+)? \S+")
"""A figure or a range with its unit, as a constant for texts."""

KNOWN = re.compile(
    r"\b(?:read|computed|common practice|memory|exact|exactly|definition|arithmetic|our (?:own|choice|estimate)|noise)\b"
)
"""What the docstring of a figure says of it: a mark, or that it needs none: exact, of our own choosing, a float's noise."""


def cases_of(name):
    try:
        return importlib.import_module(f"checks.{name}").CASES
    except ModuleNotFoundError:
        return {}


def comparisons(name):
    """Return {test of a calculator's own file: what it compares with} of those marked as a comparison with the outside."""
    path = FOLDER / "calc" / f"test_{name}.py"
    tree = ast.parse(path.read_text(encoding="utf-8")) if path.exists() else ast.Module([], [])
    return {
        node.name: (ast.literal_eval(mark.args[0]), any(isinstance(part, ast.Assert) for part in ast.walk(node)))
        for node in tree.body
        if isinstance(node, ast.FunctionDef)
        for mark in node.decorator_list
        if isinstance(mark, ast.Call) and ast.unparse(mark.func) == "pytest.mark.outside"
    }


@pytest.mark.parametrize("name", calc.names())
def test_at_least_three_checks_against_the_outside(name):
    cases, live = cases_of(name), comparisons(name)
    assert len(cases) + len(live) >= LEAST, f"{len(cases)} cases and {len(live)} comparisons"


@pytest.mark.parametrize("name", calc.names())
def test_each_comparison_names_what_with_and_asserts(name):
    for test, (what, asserts) in comparisons(name).items():
        assert what.strip(), test
        assert asserts, test


def test_cases_name_their_source_and_how_it_was_come_by():
    for case in checks.cases().values():
        assert case.source.strip(), case.id
        assert case.mark.replace("-", " ") in get_args(Mark), case.id


@pytest.mark.parametrize("name", calc.names())
def test_sources_have_words_and_a_mark(name):
    calculator = calc.find(name)
    for source in (*calculator.source, *(example.source for example in calculator.examples)):
        assert len(source.text.split()) >= 2, source
        assert source.mark in get_args(Mark), source
    assert len({str(source) for source in calculator.source}) == len(calculator.source)
    assert len(calculator.examples) >= 2


@pytest.mark.parametrize("name", tables.names())
def test_sources_of_tables_have_words(name):
    for text in tables.load(name).sources.values():
        assert len(text.split()) >= 3, text


def constants(tree):
    """Return (names, value, docstring) of each constant of a module; constants that follow one another share the string after."""
    found, open_group = [], []
    for node in tree.body:
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            target = node.targets[0] if isinstance(node, ast.Assign) else node.target
            names = [item.id for item in ast.walk(target) if isinstance(item, ast.Name)]
            if names != ["__all__"]:
                open_group.append((names, node.value))
            continue
        string = node.value.value if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) else None
        found += [(names, value, string) for names, value in open_group]
        open_group = []
    return [*found, *((names, value, None) for names, value in open_group)]


def called(value):
    return value.func.id if isinstance(value, ast.Call) and isinstance(value.func, ast.Name) else None


def is_figure(value):
    """Return whether a constant is a figure: a number, or a text of one with its unit, alone, in a tuple or in arithmetic."""
    if isinstance(value, ast.Constant):
        return (isinstance(value.value, int | float) and not isinstance(value.value, bool)) or (
            isinstance(value.value, str) and AMOUNT.fullmatch(value.value) is not None
        )
    if isinstance(value, ast.Tuple | ast.List):
        return any(map(is_figure, value.elts))
    if isinstance(value, ast.Dict):
        return any(map(is_figure, value.values))
    if isinstance(value, ast.BinOp):
        return is_figure(value.left) or is_figure(value.right)
    if isinstance(value, ast.UnaryOp):
        return is_figure(value.operand)
    return called(value) in ("Fraction", "Quantity", "range")


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_each_constant_says_what_it_is_and_each_figure_where_it_comes_from(path):
    missing = []
    for names, value, string in constants(ast.parse(path.read_text(encoding="utf-8"))):
        parts = value.elts if isinstance(value, ast.Tuple) else [value]
        declared = all(isinstance(part, ast.Call) and not is_figure(part) for part in parts)
        if not string and not declared:
            missing.append(f"{names}: no docstring under it")
        elif is_figure(value) and not KNOWN.search(" ".join((string or "").split())):
            missing.append(f"{names}: does not say where it comes from: {string}")
    assert not missing, "\n".join(missing)


@pytest.mark.parametrize("path", PUBLIC, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_what_is_public_is_described(path):
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert ast.get_docstring(tree), "the file opens with no docstring"
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            assert ast.get_docstring(node), node.name
