"""Calculators and published tables in lines: fields asked one by one, the result with its working, tables row by row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from shopmate import calc, units
from shopmate.calculator import (
    Calculator,
    Choice,
    Either,
    Field,
    Measure,
    Measures,
    RatioKind,
    doubt,
    last_value,
)
from shopmate.dialogue.asking import Item
from shopmate.errors import EntryError, InputError, ShopmateError
from shopmate.phrases import phrase
from shopmate.plain.lines import BACK, Lines, chosen, numbers, wanted, with_unit
from shopmate.result import Result, present
from shopmate.tables import Table, heading
from shopmate.units import System

if TYPE_CHECKING:
    from shopmate.plain.bench import Plain

_ROWS = 10
"""Rows of a table said at once."""


# Calculators


def calculators(plain: Plain) -> None:
    """Ask for a calculator and fill in its fields; the result can be kept in the log."""
    names = calc.names()
    name = plain.lines.choose(phrase("Calculators"), [Item(name, calc.find(name).title) for name in names])
    if name is None:
        return
    session = plain.session
    form = Form(plain.lines, calc.find(name), session.project.forms.get(name, {}), session.project.system)
    kept = form.fill()
    session.remember(name, form.texts, plain.now())
    if kept:
        session.keep(name, form.texts, plain.now())
        plain.lines.say(phrase("KEPT in the log."))
    plain.say_again()


class Form:
    """The fields of one calculator, asked one after another; `last` are the texts used before, `system` shows the result."""

    def __init__(self, lines: Lines, calculator: Calculator, last: Mapping[str, str], system: System) -> None:
        self.lines, self.calculator, self.system = lines, calculator, system
        self.last = {field.name: last[field.name] for field in calculator.inputs if last.get(field.name)}
        self.texts = dict(self.last)
        """The text of each field filled in, fit to be given as `last` another time."""

    def fill(self) -> bool:
        """Ask for all fields and say the result; return whether it is to be kept. Left early, nothing is."""
        fields = self.calculator.inputs
        self.lines.say(phrase("{calculator}, {count} fields", self.calculator.title, len(fields)))
        at = 0
        while True:
            while at < len(fields):
                step = self.ask(fields[at], at)
                if step is None:
                    return False
                at = max(0, at + step)
            try:
                result = calc.run(self.calculator.name, self.texts)
            except InputError as error:
                at = self.say_problems(error)
                continue
            except ShopmateError as error:
                self.lines.say(str(error))
                at = 0
                continue
            self.say_result(result)
            kept = self.after(result)
            if kept is not None:
                return kept
            at = len(fields) - 1

    def ask(self, field: Field, at: int) -> int | None:
        """Ask for one field; return 1 to go on, -1 for the field before, None to leave."""
        say = self.lines.say
        say(phrase("Field {number} of {count}: {field}", at + 1, len(self.calculator.inputs), field.title))
        if field.help:
            say(field.help, 2)
        names = self.names(field)
        items = [Item(name, name) for name in names]
        self.lines.list(items)
        doubted = ""
        while True:
            keys = self.keys(field, len(names), doubted, at)
            text = self.lines.ask(lambda keys=keys: keys)  # type: ignore[misc]
            if text == BACK:
                return None
            if text == "-" and at:
                return -1
            if text == "+" and field.optional and field.name in self.texts:
                del self.texts[field.name]
                self.last.pop(field.name, None)
                say(phrase("Cleared."))
                return 1
            if not text and not doubted:
                if self.offered(field) or field.optional:
                    return 1
                say(phrase("This field is needed."))
                continue
            before = last_value(field, self.texts)
            try:
                if text == "0" and isinstance(field.kind, Either):
                    given, question = self.lines.value(field.title, field.kind.measure, self.unit(field), before), None
                else:
                    given = self.read(field, text or doubted, items)
                    question = doubt(field.kind, field.kind.read(given), before) if given is not None else None
                if given is None:
                    continue
            except EntryError as error:
                say(phrase("Not taken: {problem}", error))
                doubted = ""
                continue
            if question and doubted != given:
                doubted = given
                say(question)
                continue
            self.texts[field.name] = given
            self.last.pop(field.name, None)
            say(f"{field.title}: {given}")
            return 1

    def names(self, field: Field) -> Sequence[str]:
        """Return the names a field can be given."""
        kind = field.kind.choice if isinstance(field.kind, Either) else field.kind
        return kind.names() if isinstance(kind, Choice) else ()

    def keys(self, field: Field, names: int, doubted: str, at: int) -> str:
        """Return what can be typed for a field."""
        kind, offered, parts = field.kind, self.offered(field), []
        if doubted:
            parts.append(phrase("[Enter] yes, it is meant"))
        elif offered:
            parts.append(self.enter_key(field, offered))
        elif field.optional:
            parts.append(phrase("[Enter] skips it"))
        if names:
            parts.append(numbers(names))
        if isinstance(kind, Either):
            parts.append(phrase("[0] or a unit with it: a figure"))
        elif not names:
            unit, own = (kind.unit, self.unit(field)) if isinstance(kind, Measure) else ("", "")
            parts.append(wanted(kind.describe(), unit, own, beside=bool(parts)))
        if field.optional and field.name in self.texts:
            parts.append(phrase("[+] clear"))
        if at:
            parts.append(phrase("[-] field before"))
        return ", ".join([*parts, phrase("[/] leave")])

    def enter_key(self, field: Field, offered: str) -> str:
        """Return what Enter takes for a field, with where that comes from."""
        if field.name in self.last:
            return phrase("[Enter] {answer} (last time)", offered)
        return phrase("[Enter] {answer}" if field.name in self.texts else "[Enter] {answer} (default)", offered)

    def read(self, field: Field, text: str, items: Sequence[Item]) -> str | None:
        """Return the text of a field as typed, with its unit; None where it is left. Raises EntryError."""
        kind = field.kind
        if items and (item := chosen(text, items)) is not None:
            return item.key
        if isinstance(kind, Either) and text.isdecimal():
            raise EntryError(phrase("{text} is none of the numbers", text), phrase("type 0 for a figure, or a unit with it"))
        text = with_unit(text.replace("-", ";") if isinstance(kind, Measures) else text, self.unit(field))
        whole = self.lines.ratio(text) if isinstance(kind, RatioKind) else text
        if whole is not None:
            kind.read(whole)
        return whole

    def unit(self, field: Field) -> str:
        """Return the unit of a number typed without one."""
        kind = field.kind
        measure = kind.measure if isinstance(kind, Either | Measures) else kind
        return units.own_unit(measure.unit, self.system) if isinstance(measure, Measure) else ""

    def offered(self, field: Field) -> str:
        """Return the text that Enter takes."""
        return self.texts.get(field.name) or field.default or ""

    def say_problems(self, error: InputError) -> int:
        """Say why nothing comes of the fields; return which field to begin with again."""
        titles = {field.name: field.title for field in self.calculator.inputs}
        for problem in error.problems:
            self.lines.say(f"{titles.get(problem.field, problem.field)}: {problem.what}; {problem.fix}")
        places = [at for at, name in enumerate(titles) if name in {problem.field for problem in error.problems}]
        return min(places, default=0)

    def say_result(self, result: Result) -> None:
        """Say what comes of the fields, with its cautions."""
        say = self.lines.say
        say(phrase("Result of {calculator}:", self.calculator.title))
        read = present(result, self.calculator.outputs, self.system)
        warnings = (phrase("Caution: {caution}", warning) for warning in read.warnings)
        for line in (*map(str, read.head), *warnings, *map(str, read.others)):
            say(line, 2)

    def after(self, result: Result) -> bool | None:
        """Ask what to do with the result: True to keep it, False to leave it, None to go back to the fields."""
        make = self.calculator.picture
        picture = make(result.inputs, result.outputs) if make is not None else None
        seen = [phrase("[2] the picture in words")] if picture is not None else []
        first = phrase("[Enter] keep in the log, [1] working and sources")
        keys = ", ".join([first, *seen, phrase("[-] last field, [/] leave")])
        while True:
            text = self.lines.ask(lambda: keys)
            if text == "":
                return True
            if text == BACK:
                return False
            if text == "-":
                return None
            if text == "1":
                self.say_working(result)
            elif text == "2" and picture is not None:
                self.lines.say(picture.words)
            else:
                self.lines.say(phrase("'{text}' does nothing here.", text))

    def say_working(self, result: Result) -> None:
        """Say the working, where it is valid, and the sources."""
        for title, lines in (("Working", result.working), ("Valid", (self.calculator.valid,)), ("Sources", result.sources)):
            self.lines.say(f"{phrase(title)}:")
            for line in lines:
                self.lines.say(line, 2, as_written=True)


# Tables


def tables(plain: Plain) -> None:
    """Say published tables, one after another, until there are enough."""
    from shopmate import tables as published

    items = [Item(name, name.replace("_", " "), published.load(name).title) for name in published.names()]
    while (name := plain.lines.choose(phrase("Tables"), items)) is not None:
        say_table(plain.lines, published.load(name))
    plain.say_again()


def say_table(lines: Lines, table: Table) -> None:
    """Say a table row by row, each cell with the name of its column, the sources last."""
    count = len(table.rows)
    lines.say(phrase("{table}, {count} rows", table.title, count) if count > 1 else phrase("{table}, 1 row", table.title))
    for number, row in enumerate(table.rows, 1):
        cells = (f"{heading(column)} {row[column]}" for column in table.columns if row[column])
        lines.say(f"{number}: {', '.join(cells)}", as_written=True)
        if number % _ROWS == 0 and number < count:
            keys = phrase("Row {number} of {count}. [Enter] more, [/] enough", number, count)
            if lines.ask(lambda keys=keys: keys) != "":  # type: ignore[misc]
                break
    lines.say(f"{phrase('Sources')}:")
    for key, source in table.sources.items():
        lines.say(f"{key}: {source}", 2, as_written=True)
