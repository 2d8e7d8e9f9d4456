"""The calculators: listed, shown, worked out."""

from __future__ import annotations

import json
import shutil
import sys
import textwrap
from argparse import Namespace
from collections.abc import Mapping

from shopmate import calc, picture
from shopmate.calculator import Calculator, usual_unit
from shopmate.cli import DONE, NO_FIGURE
from shopmate.cli.given import given, order
from shopmate.cli.signs import prints
from shopmate.dialogue.blank import in_usual_unit
from shopmate.errors import UsageError
from shopmate.result import Presentation, Result, shown
from shopmate.units import System, in_system, own_unit, written
from shopmate.written import json_text

_PICTURE_COLUMNS, _PICTURE_ROWS = (40, 120), 16
"""Least and most columns, and least rows, in which a picture is drawn."""


def run(arguments: Namespace) -> int:
    """List the calculators, show one, or work one out; return the exit code, NO_FIGURE where what was asked for has none."""
    if arguments.json and arguments.picture:
        raise UsageError("--json prints one object and no picture; leave one of the two out")
    if arguments.json and arguments.system:
        raise UsageError("--json prints the units that are declared; leave --system out")
    if arguments.name is None:
        width = max(map(len, calc.names()), default=0)
        for name in calc.names():
            print(f"{name:<{width}}  {calc.find(name).title}")
        return DONE
    if not arguments.fields and not arguments.json and not arguments.picture:
        _show_calculator(calc.find(arguments.name), arguments.system)
        return DONE
    result = _worked_out(calc.find(arguments.name), given(calc.find(arguments.name), arguments.fields), arguments.system)
    if arguments.json:
        shown = result.as_json(calc.find(result.calculator).outputs)
        print(json_text(json.dumps(shown, ensure_ascii=False, indent=2)))
    else:
        _say_result(result, arguments.system)
    if arguments.picture:
        _draw(result, arguments.system or "metric")
    return DONE if result.has_figure else NO_FIGURE


def _worked_out(calculator: Calculator, texts: Mapping[str, str], system: System | None) -> Result:
    """Return what the texts come to; where a system is named, bare numbers and refusals are in its units."""
    if system is None:
        return calc.run(calculator.name, texts)
    kinds = {field.name: field.kind for field in calculator.inputs}
    given = {name: in_usual_unit(kinds[name], text, system) if name in kinds else text for name, text in texts.items()}
    return calc.run(calculator.name, given, system)


def _show_calculator(calculator: Calculator, system: System | None) -> None:
    read = system or "metric"
    print(f"{calculator.name}: {calculator.title}\n{order(calculator)}\n\nfields:")
    for field in calculator.inputs:
        need = f"default {field.default}" if field.default is not None else "may be left out" if field.optional else "needed"
        print(f"  {field.name}: {field.title} ({field.kind.describe(usual_unit(field.kind, system) if system else '')}; {need})")
        if field.help:
            print(f"      {in_system(field.help, read)}")
    print("\noutputs:")
    for output in calculator.outputs:
        print(f"  {output.name}: {output.title}{f' ({written(own_unit(output.unit, read))})' if output.unit else ''}")
    print(f"\nvalid: {in_system(calculator.valid, read)}\n\nsources:")
    for source in calculator.source:
        print(f"  {source}")


def _say_result(result: Result, system: System | None) -> None:
    """Print a result: its warnings to stderr, in their place where both go to one screen."""
    for field in calc.find(result.calculator).inputs:
        if field.name in result.inputs:
            print(f"  {field.title}: {shown(result.inputs[field.name], None)}")
    read = Presentation(result, calc.find(result.calculator).outputs, system)
    for figure in read.head:
        print(f"{figure.name} = {figure.shown}  ({figure.label})")
    sys.stdout.flush()
    for line in read.warnings:
        print(f"caution: {line}", file=sys.stderr, flush=True)
    for figure in read.others:
        print(f"{figure.name} = {figure.shown}  ({figure.label})")
    for title, lines in (("working", read.working), ("sources", read.sources)):
        print(f"{title}:")
        for line in lines:
            print(f"  {line}")


def _draw(result: Result, system: System) -> None:
    """Print the pictures of a result, each with its words, or say that there is none."""
    pictures = calc.find(result.calculator).drawn(result.inputs, result.outputs)
    if not pictures:
        print(f"shopmate: there is no picture of this result of {result.calculator}", file=sys.stderr)
        return
    size = shutil.get_terminal_size()
    columns, rows = max(_PICTURE_COLUMNS[0], min(size.columns, _PICTURE_COLUMNS[1])), max(_PICTURE_ROWS, size.lines - 2)
    for seen in pictures:
        print("picture:")
        for line in picture.draw(seen, columns, rows, not prints(picture.SIGNS), system, words=False):
            print(line)
        print("\n".join(textwrap.wrap(seen.said(system), columns)))
