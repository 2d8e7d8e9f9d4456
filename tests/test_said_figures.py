"""Figures in words: each number with a unit in a caution, verdict or working line is one that the calculator knows."""

import ast
import importlib
import random
import re
import sys
from functools import cache
from pathlib import Path
from types import ModuleType

import pytest
from said_figures import SYMBOLS, figures, stands_for, worked_out, wrong_equations
from test_sweep import answer, texts_of
from test_thresholds import docstrings

import shopmate
from shopmate import calc, tables
from shopmate.calculator import Threshold
from shopmate.result import Result
from shopmate.units import Quantity, Ratio

AS_THEY_STAND = {
    "expansion": {r"^stress": "the product of GPa and K⁻¹ is said in MPa"},
    "foam": {r"by volume = ": "the two sides of a ratio stand beside one another"},
    "gap": {r"the seal is not touched": "what is not squeezed is said as 0 %"},
    "panel": {r"^(?:face|skins|bar) = ": "a unit after the last of several numbers is that of all"},
}
"""Working lines that are not held to their arithmetic: what is found in them, and why."""

DRAWS = 150
"""Runs of each calculator with several fields drawn at random, beside those that change one field of an example."""

NUMBERS = re.compile(r"[\d.]+")

FACTORS = (1000, 1003)
"""What a figure is multiplied by to see that it is missed: a prefix of a unit, and near it, where no round figure
meets it and no angle comes to itself again."""

PACKAGE = Path(shopmate.__file__).parent


@cache
def tree(module):
    return ast.parse(Path(importlib.import_module(module).__file__).read_text(encoding="utf-8"))


@cache
def modules_of(name):
    """Return the calculator's module, and the models and tables that it imports."""
    module, found = f"shopmate.calc.{name}", []
    for node in ast.walk(tree(module)):
        if isinstance(node, ast.ImportFrom) and re.match(r"shopmate\.(?:models|tables)\b", node.module or ""):
            inner = [f"{node.module}.{item.name}" for item in node.names]
            found += [path if (PACKAGE.parent / f"{path.replace('.', '/')}.py").exists() else node.module for path in inner]
    return (module, *dict.fromkeys(found))


@cache
def literals(name):
    """Return (number, unit) of each figure that stands in a text of the source: no formula made it."""
    found = set()
    for module in modules_of(name):
        for node in ast.walk(tree(module)):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found |= {(float(item.text), item.unit) for item in figures(node.value)}
    return found


IN_UNIT = re.compile(r"\bin (\S+?)[;,.:)]?\s")
"""How the docstring under a constant names its unit."""


@cache
def constants(name):
    """Return (value, unit) of each constant of the calculator and of the models it imports; unit None where none is named."""
    found, said = [], {}
    for module in modules_of(name):
        said |= docstrings(tree(module))
    for module in modules_of(name):
        for key, value in vars(importlib.import_module(module)).items():
            for item in value if isinstance(value, tuple) else (value,):
                if isinstance(item, Threshold | Quantity):
                    found.append((float(item.value), item.unit))
                elif isinstance(item, int | float) and not isinstance(item, bool):
                    named = IN_UNIT.search(f"{said.get(key, '')} ")
                    found.append((float(item), named[1] if named and ("/" in named[1] or named[1] in SYMBOLS) else None))
    return tuple((value, unit) for value, unit in found if unit in (None, "", *SYMBOLS))


COLUMNS = {
    "low_g": "%", "high_g": "%",
    "g_ml": "g/mL", "lb_ft3": "lb/ft³", "kg_m3": "kg/m³", "um_m_k": "µm/m·K", "w_m_k": "W/mK", "mm": "mm", "in": "in",
    "psi": "psi", "lbf": "lbf", "gpa": "GPa", "um_m": "µm/m", "mpa": "MPa", "kpa": "kPa", "s": "s", "min": "min", "h": "h",
}  # fmt: skip
"""The unit that the last words of a column's name say; g of a filler are those to 100 g of epoxy."""


@cache
def from_tables(name):
    """Return (value, unit) of the numbers of the tables that the calculator reads; unit None where the column names none."""
    names = {node.value for module in modules_of(name) for node in ast.walk(tree(module)) if isinstance(node, ast.Constant)}
    found = set()
    for table in set(tables.names()) & {item for item in names if isinstance(item, str)}:
        for row in tables.load(table).rows:
            for column, cell in row.items():
                unit = next((unit for words, unit in COLUMNS.items() if column.endswith(f"_{words}")), None)
                found |= {(float(item.text), item.unit or unit) for item in figures(cell)}
    return found


def known(result):
    """Return (value, unit) of what the result was given and says."""
    found = []
    for value in (*result.inputs.values(), *result.outputs.values()):
        if isinstance(value, Quantity):
            found.append((float(value.value), value.unit))
            if value.unit == "K":
                # A difference in kelvin is said in °C.
                found.append((float(value.value), "°C"))
            if not value.unit:
                # A part of one is said in per cent.
                found.append((float(value.value) * 100, "%"))
        elif isinstance(value, Ratio):
            found += [(float(value.a), ""), (float(value.b), "")]
        elif isinstance(value, int):
            found.append((float(value), ""))
        elif isinstance(value, str):
            found += [(float(item.text), item.unit) for item in figures(value)]
    return found


def is_known(name, result, figure):
    if (figure.value, figure.unit) in literals(name):
        return True
    if any(stands_for(figure, value, unit) for value, unit in known(result)):
        return True
    for value, unit in (*constants(name), *from_tables(name)):
        sizes = (value, value * 100) if unit is None and figure.unit == "%" else (value,)
        if any(stands_for(figure, size, figure.unit if unit is None else unit) for size in sizes):
            return True
    return False


def lines(result):
    verdicts = [value for value in result.outputs.values() if isinstance(value, str)]
    return [*((line, False) for line in (*result.cautions, *verdicts)), *((line, True) for line in result.working)]


def as_it_stands(name, line):
    return any(re.search(pattern, line) for pattern in AS_THEY_STAND.get(name, {}))


def unknown(name, result, line, is_working):
    """Return the figures of a line, with a unit, that no input, output, constant or arithmetic of the line bears out."""
    held = {at for at, _ in worked_out(line)} if is_working and not as_it_stands(name, line) else set()
    return [
        figure for figure in figures(line) if figure.unit and figure.span[0] not in held and not is_known(name, result, figure)
    ]


# Runs of each calculator, and which figures of its source they reach.


def is_refusal(node):
    """Return whether a part of the source is a text of what is refused, or of a picture: these are no lines of a result."""
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        return node.func.id in ("FieldProblem", "EntryError", "Picture", "Label", "Curve")
    if isinstance(node, ast.FunctionDef):
        return node.returns is not None and re.search(r"FieldProblem|Picture", ast.unparse(node.returns)) is not None
    return isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) in ("what", "fix")


class Sites(ast.NodeTransformer):
    """Wraps each value that a text puts in front of a unit, so that it tells when it is reached."""

    def __init__(self):
        self.found = {}

    def visit(self, node):
        return node if is_refusal(node) else super().visit(node)

    def visit_JoinedStr(self, node):
        self.generic_visit(node)
        for part, after in zip(node.values, node.values[1:], strict=False):
            unit = figures(f"1{after.value}") if isinstance(after, ast.Constant) else []
            if isinstance(part, ast.FormattedValue) and unit and unit[0].unit and unit[0].span[0] == 0:
                place = len(self.found)
                self.found[place] = f"line {part.lineno}: {{{ast.unparse(part.value)}}}{after.value[:20]}"
                part.value = ast.Call(ast.Name("_reached", ast.Load()), [ast.Constant(place), part.value], [])
        return node


def runs(name):
    """Yield texts for a calculator: each field of each example over its range, both sides of each limit, and draws."""
    declared = calc.find(name)
    for example in declared.examples:
        for item in declared.inputs:
            for text in texts_of(item.kind):
                yield {**example.inputs, item.name: text}
    for threshold in declared.thresholds:
        yield from threshold.sides(declared.examples[0].inputs)
    chance = random.Random(name)
    for _ in range(DRAWS):
        inputs = dict(chance.choice(declared.examples).inputs)
        for item in chance.sample(declared.inputs, min(len(declared.inputs), chance.randint(2, 6))):
            inputs[item.name] = chance.choice([*texts_of(item.kind), ""])
        yield inputs


@cache
def swept(name):
    """Return the results of the runs of a calculator, and the figures of its source that none of them reached."""
    module = importlib.import_module(f"shopmate.calc.{name}")
    sites, reached = Sites(), set()
    source = ast.fix_missing_locations(sites.visit(ast.parse(Path(module.__file__).read_text(encoding="utf-8"))))
    told = ModuleType(module.__name__)
    told.__file__ = module.__file__
    vars(told)["_reached"] = lambda place, value: (reached.add(place), value)[1]
    sys.modules[module.__name__] = told
    try:
        exec(compile(source, module.__file__, "exec"), vars(told))
        results = [result for inputs in runs(name) if isinstance(result := answer(name, inputs), Result)]
    finally:
        sys.modules[module.__name__] = module
    return results, [text for place, text in sites.found.items() if place not in reached]


def wrong(name):
    """Return what is wrong with the figures that a calculator says, one line each."""
    results, missed = swept(name)
    found = {}
    for result in results:
        for line, is_working in lines(result):
            for figure in unknown(name, result, line, is_working):
                found.setdefault(re.sub(NUMBERS, "#", line), f"{figure.text} {figure.unit} is no output: {line}")
    return [*found.values(), *(f"no run reaches it: {text}" for text in missed)]


@pytest.mark.parametrize("name", calc.names())
def test_each_figure_said_is_reached_and_is_one_that_is_known(name):
    found = wrong(name)
    assert not found, "\n".join(found)


@pytest.mark.parametrize("name", calc.names())
def test_each_equation_of_a_working_line_comes_out(name):
    found = {
        re.sub(NUMBERS, "#", equation): f"{equation} in: {line}"
        for result in swept(name)[0]
        for line in result.working
        for equation in wrong_equations(line)
        if not as_it_stands(name, line)
    }
    assert not found, "\n".join(found.values())


def planted(line, figure, factor):
    """Return the line with one of its figures so many times too large."""
    start, end = figure.span
    text = f"{figure.value * factor:.{len(figure.text.partition('.')[2])}f}"
    return line[:start] + line[start:end].replace(figure.text, text, 1) + line[end:]


@pytest.mark.parametrize("name", calc.names())
def test_a_figure_a_thousand_times_too_large_is_noticed_wherever_it_is_said(name):
    noticed, everywhere = set(), {}
    for result in swept(name)[0]:
        for line, is_working in lines(result):
            for number, figure in enumerate(figures(line)):
                place = re.sub(NUMBERS, "#", line), number
                if not figure.unit or not figure.value or place in noticed or (figure.value, figure.unit) in literals(name):
                    continue
                everywhere[place] = line
                if any(unknown(name, result, planted(line, figure, factor), is_working) for factor in FACTORS):
                    noticed.add(place)
    missed = [
        f"figure {number + 1} of: {line}" for (pattern, number), line in everywhere.items() if (pattern, number) not in noticed
    ]
    assert not missed, "\n".join(missed)
