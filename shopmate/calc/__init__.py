"""Find and run the calculators: each file in this folder is one and needs no other registration."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from importlib import import_module
from pkgutil import iter_modules

from shopmate import units
from shopmate.calculator import Calculator, Either, Field, Measure, Value, taken, usual_unit
from shopmate.errors import EntryError, FieldProblem, InputError, UnknownField, UsageError
from shopmate.result import Result
from shopmate.units import Quantity, System

__all__ = ["find", "names", "run"]


@cache
def names() -> tuple[str, ...]:
    """Return the names of all calculators, in alphabetical order, without loading them."""
    return tuple(sorted(module.name for module in iter_modules(__path__)))


def find(name: str) -> Calculator:
    """Return the calculator with that name; UsageError suggests the nearest one."""
    if name not in names():
        near = _nearest(name, names())
        raise UsageError(f"there is no calculator '{name}'; {f'did you mean {near}?' if near else 'see: shopmate calc'}")
    calculator = import_module(f"{__name__}.{name}").CALCULATOR
    assert isinstance(calculator, Calculator)
    return calculator


def run(name: str, given: Mapping[str, Value], system: System | None = None) -> Result:
    """Run calculator `name` on what was entered in its fields: forms, commands and recipe steps all come through here.

    Texts are parsed strictly. They, and values that are parsed already, are checked for dimension and range, computed, and
    returned as a Result that shows the inputs as understood. Raises UsageError for an unknown calculator, and InputError with
    every problem found in the fields. A problem is told in units of `system` (None: as declared), but whatever was typed
    keeps the unit it was typed in.
    """
    calculator = find(name)
    values, doubts, problems = _read(calculator, given, system)
    if problems:
        known = {item.name for item in calculator.inputs}
        raise InputError(*problems) if given.keys() <= known else UnknownField(*problems)
    try:
        answer = calculator.compute(**{item.name: values.get(item.name) for item in calculator.inputs})
    except InputError as error:
        raise InputError(*(_told(problem, system) for problem in error.problems)) from None
    outputs: dict[str, Value | None] = {}
    for output in calculator.outputs:
        value = answer.values[output.name]
        if isinstance(value, Quantity) and output.unit:
            value = value.to(output.unit)
        elif isinstance(value, float) or (isinstance(value, int) and output.unit):
            value = Quantity(value, output.unit or "")
        outputs[output.name] = value
    return Result(
        calculator=name,
        inputs=values,
        outputs=outputs,
        working=answer.working,
        cautions=answer.cautions,
        sources=tuple(map(str, calculator.source)),
        doubts=tuple(doubts),
        has_figure=answer.has_figure,
    )


def _read(
    calculator: Calculator, given: Mapping[str, Value], system: System | None
) -> tuple[dict[str, Value], list[str], list[FieldProblem]]:
    known = [item.name for item in calculator.inputs]
    problems = [_unknown(name, known) for name in given if name not in known]
    values: dict[str, Value] = {}
    doubts: list[str] = []
    for item in calculator.inputs:
        entry = given.get(item.name, "")
        text = entry.strip() if isinstance(entry, str) else None
        value = entry if text is None else text or item.default or ""
        if value == "":
            if item.required:
                wanted = item.kind.describe(usual_unit(item.kind, system) if system else "")
                problems.append(FieldProblem(item.name, "nothing entered", f"enter {item.name}=({wanted})"))
            continue
        try:
            values[item.name] = taken(item.kind, value)
        except EntryError as error:
            problems.append(_refused(item, value, system, error))
            continue
        if text != "":  # nobody doubts a default
            doubts += _doubts(item, values[item.name], text)
    return values, doubts, problems


def _refused(item: Field, value: Value, system: System | None, error: EntryError) -> FieldProblem:
    """Return why a value is refused: in the unit typed, or in that of `system` if a formula made the value."""
    if system and isinstance(value, Quantity) and isinstance(value.value, float):
        try:
            taken(item.kind, value.to(units.own_unit(value.unit, system)))
        except EntryError as told:
            error = told
    return FieldProblem(item.name, error.what, error.fix)


def _told(problem: FieldProblem, system: System | None) -> FieldProblem:
    """Return a calculator's problem with its figures in units of `system`."""
    what, fix = (units.in_system(text, system or "metric") for text in (problem.what, problem.fix))
    return FieldProblem(problem.field, what, fix)


def _doubts(item: Field, value: Value, text: str | None) -> list[str]:
    """Return why a value may not be what was meant; `text` is what was typed, None if the value was not typed."""
    measure = item.kind.measure if isinstance(item.kind, Either) else item.kind
    if not isinstance(value, Quantity) or not isinstance(measure, Measure):
        return []
    found = []
    # A kind that finds another unit in a bare text knows what is meant: a drill of 1/4 is in inches.
    is_bare = text is not None and value.unit == measure.unit and not units.has_unit(text)
    if is_bare and units.needs_unit(measure.unit):
        found.append(f"{item.name} {text}: no unit given, read as {measure.unit}")
    if doubt := measure.doubt(value):
        found.append(f"{item.name}: {doubt}")
    return found


def _unknown(name: str, known: list[str]) -> FieldProblem:
    near = _nearest(name, known)
    return FieldProblem(name, "no such field", f"did you mean {near}?" if near else f"fields: {', '.join(known)}")


def _nearest(name: str, known: Sequence[str]) -> str:
    """Return the known name closest to a mistyped one, '' if none is close."""
    from difflib import get_close_matches  # which nothing but a mistyped name needs

    return next(iter(get_close_matches(name, known, n=1)), "")
