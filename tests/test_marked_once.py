"""What is said of a calculator's result is marked once by the face that says it: no warning brings a mark of its own."""

import re

import pytest

from shopmate import calc
from shopmate.cli import main
from shopmate.errors import InputError
from shopmate.result import Presentation

MARKED = re.compile(r"^\W*(?:caution|warning|danger|notice|missing)\b\s*:|^\s*!|!\s*!|!\s*$", re.IGNORECASE)
"""A mark that a face sets before a warning, or an exclamation that would stand beside it."""


def asked(name):
    """Yield what a calculator is asked in its examples and on both sides of each limit that decides."""
    declared = calc.find(name)
    yield from (example.inputs for example in declared.examples)
    for threshold in declared.thresholds:
        yield from threshold.sides(declared.examples[0].inputs)


def warnings(name, texts, system):
    """Return what is warned of beside a result, or why it is refused, without the mark of a face."""
    try:
        result = calc.run(name, texts)
    except InputError as refused:
        return [str(problem) for problem in refused.problems]
    return Presentation(result, calc.find(name).outputs, system).warnings


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("name", calc.names())
def test_no_warning_brings_the_mark_that_a_face_sets_before_it(name, system):
    said = {line for texts in asked(name) for line in warnings(name, texts, system)}
    assert not [line for line in said if MARKED.search(line)]


@pytest.mark.parametrize("name", calc.names())
def test_the_command_marks_each_warning_once(name, capsys):
    examples = calc.find(name).examples
    for example in examples:
        main(["calc", name, *(f"{field}={text}" for field, text in example.inputs.items())])
    printed = capsys.readouterr().err.splitlines()
    warned = [line for example in examples for line in warnings(name, example.inputs, "metric")]
    assert [line.count("caution:") for line in printed] == [1] * len(warned)


@pytest.mark.parametrize("name", calc.names())
def test_no_warning_of_a_result_is_said_twice(name):
    for texts in asked(name):
        said = list(warnings(name, texts, "metric"))
        assert len(set(said)) == len(said), texts


@pytest.mark.parametrize("line", ["Caution: hot", "caution: caution: hot", "! hot", "hot!", "! ! hot", "Missing: x"])
def test_a_mark_is_known_wherever_it_would_be_doubled(line):
    assert MARKED.search(line)
    assert not MARKED.search("Caution near the edge, 3 mm left")
