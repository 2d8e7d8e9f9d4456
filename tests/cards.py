"""The card of each calculator: what it takes, gives, says and draws. `python tests/cards.py --write` renews them all.

A card is no proof of a figure; the worked examples and the checks compare those with a source. It holds the rest: where a
range, a unit, a decimal, a line, a caution or a corner of a picture changes or is lost, the card shows it, and the change is
read before it is kept. A calculator without a card is not held to one.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from shopmate import calc
from shopmate.calculator import Calculator, Choice, Either, Field, Measure, Output
from shopmate.errors import InputError
from shopmate.picture import Picture, Point
from shopmate.result import Presentation, Result

FOLDER = Path(__file__).with_suffix("")
A_TABLE = 10
"""Names of which a field has more are those of a table, which has tests of its own."""


def made(name: str) -> str:
    """Return the text of a calculator's card as the calculator is now."""
    calculator = calc.find(name)
    inputs = [dict(example.inputs) for example in calculator.examples]
    lines = [calculator.title, "", "Takes", *map(_taken, calculator.inputs), "", "Gives", *map(_given, calculator.outputs)]
    for number, texts in enumerate(inputs, 1):
        lines += ["", f"Example {number}: {_listed(texts)}", *_answer(calculator, texts), *_drawn(calculator, texts)]
    lines += ["", "Example 1 in an inch project", *_in_inches(calculator, inputs[0])]
    first = _figures(calculator, inputs[0])
    for field, option in _options(calculator):
        other = [line for line in _figures(calculator, {**inputs[0], field: option}) if line not in first]
        lines += ["", f"Example 1 with {field}={option}", *(other or ["   the same"])]
    for threshold in calculator.thresholds:
        short, beyond = threshold.sides(inputs[0])
        near, far = _warnings(calculator, short), _warnings(calculator, beyond)
        lines += ["", f"Beyond a limit: {_listed({name: text for name, text in beyond.items() if inputs[0].get(name) != text})}"]
        lines += [line for line in far if line not in near] + [f"   no more: {line.strip()}" for line in near if line not in far]
    return "\n".join(lines) + "\n"


def _taken(field: Field) -> str:
    measure = field.kind.measure if isinstance(field.kind, Either) else field.kind
    notes = [field.kind.describe()]
    if isinstance(measure, Measure):
        notes += [f"asked about under {measure.soft_low:g}"] if measure.soft_low is not None else []
        notes += [f"asked about over {measure.soft_high:g}"] if measure.soft_high is not None else []
    notes += [f"default {field.default}"] if field.default is not None else []
    return f"   {field.name}: {'; '.join([*notes, *(['required'] if field.required else [])])}"


def _given(output: Output) -> str:
    return f"   {output.name}: {output.title}{'' if output.unit is None else f', {output.unit or 1} to {output.places} decimals'}"


def _listed(texts: Mapping[str, str]) -> str:
    return ", ".join(f"{name}={text}" for name, text in texts.items())


def _options(calculator: Calculator) -> Iterator[tuple[str, str]]:
    """Yield every name that may stand in a field, other than that of the first example; not those of a long table."""
    for field in calculator.inputs:
        choice = field.kind.choice if isinstance(field.kind, Either) else field.kind
        if isinstance(choice, Choice) and len(choice.names()) <= A_TABLE:
            usual = calculator.examples[0].inputs.get(field.name, field.default)
            yield from ((field.name, option) for option in choice.names() if option != usual)


def _run(calculator: Calculator, texts: Mapping[str, str]) -> Result | list[str]:
    """Return the result, or the lines of a refusal."""
    try:
        return calc.run(calculator.name, texts)
    except InputError as refused:
        return [f"   refused: {problem}" for problem in refused.problems]


def _figures(calculator: Calculator, texts: Mapping[str, str]) -> list[str]:
    result = _run(calculator, texts)
    if not isinstance(result, Result):
        return result
    shown = Presentation(result, calculator.outputs, "metric")
    return [*(f"   {figure}" for figure in (*shown.head, *shown.others)), *_warnings(calculator, texts)]


def _warnings(calculator: Calculator, texts: Mapping[str, str]) -> list[str]:
    result = _run(calculator, texts)
    return [f"   ! {line}" for line in (*result.doubts, *result.cautions)] if isinstance(result, Result) else result


def _answer(calculator: Calculator, texts: Mapping[str, str]) -> list[str]:
    result = _run(calculator, texts)
    working = result.working if isinstance(result, Result) else ()
    return [*_figures(calculator, texts), *(f"   . {line}" for line in working)]


def _in_inches(calculator: Calculator, texts: Mapping[str, str]) -> list[str]:
    """Return all that an inch project says of the result, its picture in words."""
    result = _run(calculator, texts)
    if not isinstance(result, Result):
        return result
    shown = Presentation(result, calculator.outputs, "inch")
    lines = [f"   {figure}" for figure in (*shown.head, *shown.others)] + [f"   ! {line}" for line in shown.warnings]
    lines += [f"   . {line}" for line in shown.working]
    return lines + [f"   | {seen.said('inch')}" for seen in calculator.drawn(result.inputs, result.outputs)]


def _drawn(calculator: Calculator, texts: Mapping[str, str]) -> list[str]:
    result = _run(calculator, texts)
    pictures = calculator.drawn(result.inputs, result.outputs) if isinstance(result, Result) else ()
    return [f"   | {line}" for picture in pictures for line in _parts(picture)]


def _parts(picture: Picture) -> Iterator[str]:
    """Yield what a picture is made of, in its unit."""
    scale = "to scale" if picture.to_scale else "not to scale"
    yield f"{picture.words} [{_box((picture.low, picture.high))} {picture.unit}, {scale}, {picture.least:.4g} to be seen]"
    for shape in picture.shapes:
        outline = shape.outline
        yield f"{shape.material} ({shape.texture}): {len(outline)} corners, {_box(outline)}, {_area(outline):.4g}"
    for curve in picture.curves:
        yield f"{curve.material} ({curve.mark}): {len(curve.points)} points, {_box(curve.points)}, {_area(curve.points):.4g}"
    for label in picture.labels:
        yield f"'{label.words('metric')}' at {label.at[0]:.4g}, {label.at[1]:.4g}"
    if picture.foot:
        yield f"under it: {' | '.join(picture.foot)}"


def _box(points: Sequence[Point]) -> str:
    across, up = zip(*points, strict=True)
    return f"{min(across):.4g} to {max(across):.4g} across, {min(up):.4g} to {max(up):.4g} up"


def _area(points: Sequence[Point]) -> float:
    """Return the area within an outline, of a curve that between it and its chord."""
    pairs = zip(points, [*points[1:], points[0]], strict=True)
    return abs(sum(one[0] * other[1] - other[0] * one[1] for one, other in pairs)) / 2


if __name__ == "__main__":
    if sys.argv[1:] != ["--write"]:
        raise SystemExit(__doc__)
    FOLDER.mkdir(exist_ok=True)
    for calculator_name in calc.names():
        (FOLDER / f"{calculator_name}.txt").write_text(made(calculator_name), encoding="utf-8")
