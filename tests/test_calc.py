"""What every calculator holds to, run on each file of shopmate/calc: a new one is picked up by being there."""

import json
import math
from decimal import Context
from fractions import Fraction
from pathlib import Path
from typing import get_args

import pytest

from shopmate import calc, units
from shopmate.calculator import Count, Either, Mark, Measure
from shopmate.errors import EntryError, InputError, UsageError
from shopmate.units import Quantity

NONSENSE = "?!"
"""A text that no field can take."""

CALCULATORS = [pytest.param(calc.find(name), id=name) for name in calc.names()]
EXAMPLES = [
    pytest.param(calc.find(name), example, id=f"{name}-{number}")
    for name in calc.names()
    for number, example in enumerate(calc.find(name).examples, start=1)
]
MEASURES = [
    pytest.param(calc.find(name), item, id=f"{name}-{item.name}")
    for name in calc.names()
    for item in calc.find(name).inputs
    if isinstance(item.kind, Measure | Either | Count)
]


def number(value):
    return float(value.value) if isinstance(value, Quantity) else value


def problems_of(calculator, fields):
    with pytest.raises(InputError) as caught:
        calc.run(calculator.name, fields)
    return caught.value.problems


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1 in", "1 in is below the minimum, 1.969 in; enter 1.969 in or more"),
        ("49 mm", "49 mm is below the minimum, 50 mm; enter 50 mm or more"),
        ("7 ft", "7 ft is above the maximum, 6.561 ft; enter 6.561 ft or less"),
        ("2.1 m", "2.1 m is above the maximum, 2 m; enter 2 m or less"),
    ],
)
def test_a_limit_is_said_in_the_unit_typed_and_what_is_said_is_taken(text, said):
    # 50 mm = 1.9685 in, 2 m = 6.5617 ft: arithmetic with 25.4 mm to the inch [computed]
    measure = Measure("mm", low=50, high=2000)
    with pytest.raises(EntryError) as caught:
        measure.read(text)
    assert str(caught.value) == said
    assert measure.read(said.partition("; enter ")[2].rsplit(" or ", 1)[0])


def test_what_is_unusual_is_held_against_the_unit_typed():
    measure = Measure("°C", low=-40, high=60, soft_low=5, soft_high=40)
    assert measure.doubt(units.parse("39 °F", "°C")) == "39 °F is below the usual 41 °F"
    assert measure.doubt(units.parse("110 °F", "°C")) == "110 °F is above the usual 104 °F"


@pytest.mark.parametrize(
    ("measure", "unit", "said"),
    [
        (Measure("mm", low=3, high=2000), "mm", "3 to 2000 mm"),
        (Measure("mm", low=3, high=2000), "in", "0.1182 to 78.74 in"),
        (Measure("°C", low=-40, high=60), "°F", "-40 to 140 °F"),
        (Measure("mm", above=0), "in", "above 0 in"),
        (Measure("g", low=1), "g", "from 1 g"),
        (Measure("%", high=16), "%", "up to 16 %"),
        (Measure("g"), "g", ""),
    ],
)
def test_limits_are_told_in_the_unit_of_the_entry(measure, unit, said):
    assert measure.limits(unit) == said


def typed(value):
    """Return an exact number as a text: as it is where that is short enough to be typed, else to 30 digits."""
    exact = units.show_number(value)
    if len(exact) <= 30:
        return exact
    ratio = Context(prec=30).divide(value.numerator, value.denominator)
    return f"{ratio:f}"[:34]


def measure_of(kind):
    return kind.measure if isinstance(kind, Either) else kind


def beyond(kind):
    """Return texts just outside the hard limits of a kind."""
    if isinstance(kind, Count):
        return [str(kind.low - 1), str(kind.high + 1), f"{kind.low}.5"]
    texts = [typed(Fraction(str(limit)) + step) for limit, step in ((kind.low, -1), (kind.high, 1)) if limit is not None]
    if kind.above is not None:
        texts += [typed(Fraction(str(kind.above))), typed(Fraction(str(kind.above)) - 1)]
    return [f"{text} {kind.unit}".strip() for text in texts]


def test_there_are_calculators():
    assert calc.names()


@pytest.mark.parametrize("calculator", CALCULATORS)
def test_declaration(calculator):
    assert calculator.name in calc.names()
    assert calculator.title
    assert calculator.valid
    for names in ([item.name for item in calculator.inputs], [item.name for item in calculator.outputs]):
        assert len(names) == len(set(names))
        assert all(name.isidentifier() and name == name.lower() for name in names)
    for item in calculator.inputs:
        assert item.title
        assert item.kind.describe()
        if item.default is not None:
            item.kind.read(item.default)
            assert not item.required
    for output in calculator.outputs:
        assert output.title
        if output.unit is not None:
            units.dimension(output.unit)


@pytest.mark.parametrize("calculator", CALCULATORS)
def test_each_output_has_a_figure_that_it_is_held_to(calculator):
    """What words and an output share is the same value, right or wrong: so each output is expected to be something."""
    folder = Path(__file__).parent
    files = (folder / part / name for part, name in (("calc", f"test_{calculator.name}.py"), ("checks", f"{calculator.name}.py")))
    texts = "".join(file.read_text(encoding="utf-8") for file in files if file.exists())
    expected = {name for example in calculator.examples for name in example.outputs}
    assert [item.name for item in calculator.outputs if item.name not in expected and f'"{item.name}"' not in texts] == []


@pytest.mark.parametrize("calculator", CALCULATORS)
def test_sources_are_marked(calculator):
    assert calculator.source
    assert calculator.examples
    for source in (*calculator.source, *(example.source for example in calculator.examples)):
        assert source.text.strip()
        assert source.mark in get_args(Mark)


@pytest.mark.parametrize(("calculator", "example"), EXAMPLES)
def test_worked_example(calculator, example):
    result = calc.run(calculator.name, example.inputs)
    assert example.outputs
    for name in example.outputs:
        got = number(result.outputs[name])
        assert example.holds(name, got), f"{name}: got {got}, expected {example.outputs[name]}; source: {example.source}"


@pytest.mark.parametrize(("calculator", "example"), EXAMPLES)
def test_result_is_complete_and_finite(calculator, example):
    result = calc.run(calculator.name, example.inputs)
    shown = json.loads(json.dumps(result.as_json(), allow_nan=False))
    assert list(shown["outputs"]) == [output.name for output in calculator.outputs]
    for output in calculator.outputs:
        value, unit = shown["outputs"][output.name]["value"], shown["outputs"][output.name]["unit"]
        if output.unit is None:
            # An amount keeps the unit that was typed for it; nothing else has one.
            assert unit is None or isinstance(value, float), output.name
        elif value is not None:
            assert unit == output.unit, output.name
            assert math.isfinite(value), output.name
    assert set(example.inputs) <= set(shown["inputs"])
    assert shown["working"]
    assert all(line.strip() for line in (*shown["working"], *shown["cautions"], *shown["sources"]))
    assert shown["sources"] == [str(source) for source in calculator.source]


@pytest.mark.parametrize(("calculator", "example"), EXAMPLES)
def test_any_unit_gives_the_same_answer(calculator, example):
    before = calc.run(calculator.name, example.inputs).outputs
    for item in calculator.inputs:
        measure = measure_of(item.kind)
        text = example.inputs.get(item.name, item.default)
        if not isinstance(measure, Measure) or not text:
            continue
        value = item.kind.read(text)
        if not isinstance(value, Quantity):
            continue
        for unit in units.units_of(measure.unit):
            other = f"{typed(value.to(unit).value)} {unit}".strip()
            after = calc.run(calculator.name, {**example.inputs, item.name: other}).outputs
            for name, wanted in before.items():
                got, wanted = number(after[name]), number(wanted)
                same = got == wanted
                if isinstance(wanted, float) and isinstance(got, float):
                    same = math.isclose(got, wanted, rel_tol=1e-9, abs_tol=1e-9)
                assert same, f"{item.name}={other}: {name} is {got}, not {wanted}"


@pytest.mark.parametrize(("calculator", "item"), MEASURES)
def test_out_of_range_is_refused_by_name(calculator, item):
    for text in beyond(measure_of(item.kind)):
        problems = problems_of(calculator, {**calculator.examples[0].inputs, item.name: text})
        assert [problem.field for problem in problems] == [item.name], text
        assert problems[0].what
        assert problems[0].fix


@pytest.mark.parametrize(("calculator", "example"), EXAMPLES)
def test_values_read_before_give_the_same_answer_as_their_texts(calculator, example):
    of_texts = calc.run(calculator.name, example.inputs)
    read = {name: value for name, value in of_texts.inputs.items() if name in example.inputs}
    of_values = calc.run(calculator.name, read)
    assert of_values.inputs == of_texts.inputs
    assert of_values.outputs == of_texts.outputs
    assert (of_values.working, of_values.cautions) == (of_texts.working, of_texts.cautions)
    assert of_values.doubts == tuple(doubt for doubt in of_texts.doubts if "no unit given" not in doubt)


@pytest.mark.parametrize(("calculator", "item"), MEASURES)
def test_a_value_out_of_range_is_refused_in_the_words_of_its_text(calculator, item):
    inputs, measure = calculator.examples[0].inputs, measure_of(item.kind)
    unit = measure.unit if isinstance(measure, Measure) else ""
    wrong = [units.parse(text, unit) for text in beyond(measure)]
    wrong += [Quantity(5, "kg" if units.dimension(unit) == "length" else "mm")]
    for value in wrong:
        told = problems_of(calculator, {**inputs, item.name: value})
        assert told == problems_of(calculator, {**inputs, item.name: units.show(value)})


@pytest.mark.parametrize("calculator", CALCULATORS)
def test_every_measure_has_limits(calculator):
    for item in calculator.inputs:
        measure = measure_of(item.kind)
        if isinstance(measure, Measure):
            assert measure.low is not None or measure.above is not None, item.name
            assert measure.high is not None, item.name


@pytest.mark.parametrize("calculator", CALCULATORS)
def test_what_is_usual_lies_within_the_limits(calculator):
    for item in calculator.inputs:
        measure = measure_of(item.kind)
        if isinstance(measure, Measure):
            lowest = measure.low if measure.low is not None else measure.above
            steps = [lowest, measure.soft_low, measure.soft_high, measure.high]
            told = [float(step) for step in steps if step is not None]
            assert told == sorted(told), item.name
            assert len(set(told)) == len(told), item.name


@pytest.mark.parametrize("calculator", CALCULATORS)
def test_unknown_field_is_refused_with_a_suggestion(calculator):
    for item in calculator.inputs:
        wrong = item.name + "z"
        problems = problems_of(calculator, {**calculator.examples[0].inputs, wrong: "1"})
        assert [problem.field for problem in problems] == [wrong]
        assert "did you mean" in problems[0].fix


@pytest.mark.parametrize("calculator", CALCULATORS)
def test_every_problem_is_told_at_once(calculator):
    fields = {item.name: NONSENSE for item in calculator.inputs}
    problems = problems_of(calculator, {**fields, "no_such_field": "1"})
    assert sorted(problem.field for problem in problems) == sorted([*fields, "no_such_field"])


@pytest.mark.parametrize("calculator", CALCULATORS)
def test_missing_fields_are_told_by_name(calculator):
    needed = {item.name for item in calculator.inputs if item.required}
    told = {problem.field for problem in problems_of(calculator, {})}
    assert needed <= told
    assert told


@pytest.mark.parametrize("calculator", CALCULATORS)
def test_bare_number_is_read_in_the_stated_unit_and_said_so(calculator):
    for item in calculator.inputs:
        text = calculator.examples[0].inputs.get(item.name)
        measure = measure_of(item.kind)
        if text is None or not isinstance(measure, Measure) or not isinstance(item.kind.read(text), Quantity):
            continue
        bare = typed(item.kind.read(text).to(measure.unit).value)
        result = calc.run(calculator.name, {**calculator.examples[0].inputs, item.name: bare})
        assert result.inputs[item.name].unit == measure.unit
        said = [doubt for doubt in result.doubts if doubt.startswith(f"{item.name} {bare}: no unit given")]
        assert bool(said) == units.needs_unit(measure.unit)


def test_unknown_calculator_is_refused_with_the_nearest_name():
    name = calc.names()[0]
    with pytest.raises(UsageError, match=f"did you mean {name}"):
        calc.find(f"{name}z")


def test_a_refused_figure_that_a_formula_made_is_told_in_the_units_of_the_system():
    with pytest.raises(InputError) as refused:
        calc.run("gap", {"gap": Quantity(1270.0, "mm"), "leg_a": "1 in", "leg_b": "1 in"}, "inch")
    assert str(refused.value) == "gap: 50 in is above the maximum, 19.68 in; enter 19.68 in or less"


def test_what_is_missing_is_asked_for_in_the_units_of_the_system():
    with pytest.raises(InputError) as refused:
        calc.run("gap", {"gap": "1 in", "leg_a": "1 in"}, "inch")
    assert str(refused.value) == "leg_b: nothing entered; enter leg_b=(in, 0.003938 to 19.68)"
