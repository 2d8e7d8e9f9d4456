"""Read what a step does: each kind of step from the keys it has, every problem noted at its place."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import assert_never

from shopmate import calc, units
from shopmate.calculator import Calculator, Choice, Count, Either, Measure, RatioKind
from shopmate.errors import EntryError, UsageError
from shopmate.models.due import CLOCK_KINDS, closes
from shopmate.recipe import form
from shopmate.recipe.form import ActWord
from shopmate.recipe.keys import KEYED, WHOLE
from shopmate.recipe.known import Texts
from shopmate.recipe.model import (
    TURN,
    Act,
    AnswerKind,
    Ask,
    Between,
    Caution,
    ChoiceAnswer,
    CountAnswer,
    Do,
    Fact,
    Gate,
    MeasureAnswer,
    Near,
    ShelfAnswer,
    Start,
    Template,
    Wait,
    WorkOut,
)  # fmt: skip
from shopmate.recipe.reader import Node
from shopmate.recipe.readings import READING_NAMES, READINGS
from shopmate.recipe.shelf import FIGURES
from shopmate.records import dataclass

REASONS = (
    "Measured again, the first reading was wrong",
    "Tried on a sample, it held",
    "The data sheet allows it",
    "Not loaded, looks only",
)
"""Reasons offered for passing a hold point where the recipe names none of its own."""

_ANSWERS = form.STEPS["ask"].by
_GATES = {key: (*by.needed, *by.further) for key, by in form.STEPS["gate"].by.items()}
"""Forms of a gate, by the key that says what judges it, with the further keys of each."""
_GATE_KEYS = frozenset(key for keys in _GATES.values() for key in keys)


def whole(text: str) -> bool:
    """Return whether a text is a whole number of up to four plain digits."""
    return re.fullmatch(WHOLE.pattern, text) is not None


def _measures_other(answer: AnswerKind, *dimensions: str) -> bool:
    """Return whether an answer is a quantity of none of these dimensions; what is no quantity is noted as without a unit."""
    return isinstance(answer, MeasureAnswer) and units.dimension(answer.unit) not in dimensions


@dataclass(frozen=True, slots=True)
class Acts:
    """Reads the acts of steps."""

    texts: Texts
    compare: bool
    """Whether a default is compared with limits in another unit."""
    kept: bool
    """Whether calculators are not asked what they take and give, and so are not brought before they are needed."""

    def act(self, kind: ActWord, node: Node, entries: Mapping[str, Node]) -> Act:
        """Return what a step of that kind does."""
        match kind:
            case "do":
                return Do(self.texts.quantity_at(entries.get("timer"), "min", "timer"))
            case "ask":
                return self.ask(node, entries)
            case "work out":
                return self.work_out(entries)
            case "gate":
                return self.gate(node, entries)
            case "start":
                return self.start(entries)
            case "wait":
                return self.wait(entries)
        assert_never(kind)

    def into(self, entries: Mapping[str, Node]) -> str:
        """Return the name of what a step gives, noting one that the program or a sum has."""
        into = self.texts.reader.name(entries.get("into"), "into")
        if into == TURN:
            self.texts.reader.wrong(entries["into"], f"'{TURN}' is the number of the turn", "give the value another name")
        elif into in self.texts.known.sums:
            self.texts.reader.wrong(entries["into"], f"'{into}' is the name of a sum", "give the value another name")
        return into

    def ask(self, node: Node, entries: Mapping[str, Node]) -> Ask:
        read, known = self.texts.reader, self.texts.known
        into = self.into(entries)
        answer = self.answer(node, entries)
        default = read.text(entries["default"], "default") if "default" in entries else None
        known.values[into] = None
        known.choices.pop(into, None)
        known.unsure.discard(into)
        if answer is None:
            known.unsure.add(into)
            return Ask(into, CountAnswer(0, 0), default)
        self.give(into, answer)
        if default is not None:
            self.default(entries["default"], default, answer)
        fact, logs = self.fact(into, entries, answer), self.logs_temperature(entries.get("logs"), answer)
        is_air = fact is not None and fact.is_reading and (fact.name, fact.of.text) == ("air", "shop")
        return Ask(
            into,
            answer,
            default,
            is_shop_temperature=logs or is_air,
            pace_of=self.pace_of(entries.get("pace_of"), answer),
            adds_to=self.sum(entries["adds_to"], answer) if "adds_to" in entries else None,
            fact=fact,
        )

    def fact(self, into: str, entries: Mapping[str, Node], answer: AnswerKind) -> Fact | None:
        """Return what an answer tells beyond the run, noting a reading that measures something else."""
        read = self.texts.reader
        name = read.one_of(entries.get("reading"), "reading", READING_NAMES)
        of = self.texts.template(entries.get("of"), "of")
        kind = READINGS[name] if name is not None else None
        if kind is not None and _measures_other(answer, kind.dimension):
            read.wrong(
                entries["reading"], f"the answer is not a {kind.dimension}", f"ask with a unit of {kind.dimension}, or remove it"
            )
        if of is not None and of.text not in ("shop", "part") and of.lone_reference is None:
            read.wrong(
                entries["of"], f"of is '{of.text}'", "write 'shop', 'part', or the material asked for, such as \"{resin}\""
            )
        elif of is None and kind is not None and kind.of == "material":
            read.wrong(entries["reading"], f"{name} of what?", "add 'of', the material asked for, such as \"{resin}\"")
        if kind is None and of is None:
            return None
        return Fact(name or into, of or Template(kind.of if kind is not None else "shop"), is_reading=kind is not None)

    def give(self, into: str, answer: AnswerKind) -> None:
        """Make known what an answer gives to later steps."""
        known = self.texts.known
        match answer:
            case MeasureAnswer():
                known.values[into] = answer.unit
            case CountAnswer():
                known.values[into] = ""
            case ChoiceAnswer():
                known.choices[into] = tuple(answer.choices)
            case ShelfAnswer():
                figures = FIGURES[answer.kind].items()
                known.values |= {f"{into}.{figure}": unit if unit != "ratio" else None for figure, unit in figures}
            case _:
                assert_never(answer)

    def default(self, node: Node, default: str, answer: AnswerKind) -> None:
        """Note a default that is no answer; whether a material is on the shelf is not known here."""
        if Template(default).lone_reference is not None:
            self.texts.references(node, Template(default), answer.unit if isinstance(answer, MeasureAnswer) else None)
            return
        match answer:
            case MeasureAnswer():
                self.texts.quantity(node, Template(default), answer.unit, "default")
                self.within(node, Template(default), answer)
            case CountAnswer():
                if not (whole(default) and answer.low <= int(default) <= answer.high):
                    self.texts.reader.wrong(node, f"default is '{default}'", f"write {answer.low} to {answer.high}")
            case ChoiceAnswer():
                self.texts.reader.one_of(node, "default", tuple(answer.choices))
            case ShelfAnswer():
                pass
            case _:
                assert_never(answer)

    def logs_temperature(self, node: Node | None, answer: AnswerKind) -> bool:
        """Return whether an answer is a reading of the shop too, noting one that is no temperature."""
        logs = self.texts.reader.one_of(node, "logs", ("temperature",)) is not None
        if node is not None and logs and _measures_other(answer, "temperature"):
            self.texts.reader.wrong(node, "logs temperature, but the answer is not one", "ask with 'unit: °C', or remove it")
        return logs

    def pace_of(self, node: Node | None, answer: AnswerKind) -> str | None:
        """Return the clock whose pots give the answer, noting an answer that is neither mass nor time."""
        clock = self.texts.reader.name(node, "pace_of")
        if node is None or not clock:
            return None
        self.texts.known.paces.append((node, clock))
        if _measures_other(answer, "mass", "time"):
            fix = "ask with 'unit: g' or 'unit: min', or remove it"
            self.texts.reader.wrong(node, "a pace is the mass and the time of a pot", fix)
        return clock

    def sum(self, node: Node, answer: AnswerKind) -> str | None:
        """Return the name of the sum an answer adds to, noting an answer that has none or measures something else."""
        name = node.text or ""
        if not isinstance(answer, MeasureAnswer):
            return None  # noted as without a unit
        if units.dimension(answer.unit) == "temperature":
            self.texts.reader.wrong(node, "temperatures cannot be added up", "remove it")
        elif TURN not in self.texts.known.values:
            self.texts.reader.wrong(node, "a sum outside a repeated section", "add 'repeat' to the section, or remove it")
        elif name in self.texts.known.sums and (unit := self.texts.known.values.get(name)) and not _alike(unit, answer.unit):
            self.texts.reader.wrong(node, f"'{name}' adds up {unit}", f"ask with a unit such as {unit}, or give each its own sum")
        return name or None

    def within(self, node: Node, default: Template, answer: MeasureAnswer) -> None:
        """Note a default outside of the limits, as far as these are written out."""
        try:
            value, low, high = (
                units.parse(text.text, answer.unit) if text is not None and not text.references else None
                for text in (default, answer.low, answer.high)
            )
        except EntryError:
            return  # noted where it stands
        if value is None or not (self.compare or all(limit is None or limit.unit == value.unit for limit in (low, high))):
            return
        number = float(value.value)
        if low is not None and number < low.value_in(value.unit):
            self.texts.reader.wrong(
                node, f"default {default.text} is below the minimum answer", f"write {units.show(low)} or more"
            )
        if high is not None and number > high.value_in(value.unit):
            self.texts.reader.wrong(
                node, f"default {default.text} is above the maximum answer", f"write {units.show(high)} or less"
            )

    def answer(self, node: Node, entries: Mapping[str, Node]) -> AnswerKind | None:
        read = self.texts.reader
        kinds = [kind for kind in _ANSWERS if kind in entries]
        if len(kinds) != 1:
            read.wrong(
                node, f"an ask needs exactly one kind of answer, and this has {len(kinds)}", f"use one of: {', '.join(_ANSWERS)}"
            )
            return None
        for key in _ANSWERS["unit"].further:
            if key in entries and kinds != ["unit"]:
                read.wrong(entries[key], f"'{key}' without a unit", "it is for an answer with 'unit'")
        if kinds == ["choices"]:
            return self.choices(entries["choices"])
        if kinds == ["count"]:
            limits = read.texts(entries["count"], "count")
            if len(limits) != 2 or not all(map(whole, limits)):
                return None
            if int(limits[0]) <= int(limits[1]):
                return CountAnswer(int(limits[0]), int(limits[1]))
            read.wrong(
                entries["count"], "count needs a minimum and a maximum", "write [1, 6]: the minimum and maximum, in whole numbers"
            )
            return None
        if kinds == ["shelf"]:
            kind = read.one_of(entries["shelf"], "shelf", tuple(FIGURES))
            return ShelfAnswer(kind) if kind in FIGURES else None
        return self.measure(entries)

    def measure(self, entries: Mapping[str, Node]) -> MeasureAnswer | None:
        read = self.texts.reader
        unit = entries["unit"].text or ""
        try:
            units.dimension(unit)
        except KeyError:
            read.wrong(entries["unit"], f"'{unit}' is not a unit known here", "use a symbol such as mm, m, g, mL, °C, %, min")
            return None
        low, high = (self.texts.quantity_at(entries.get(key), unit, key) for key in ("low", "high"))
        usual = None
        if "usual" in entries:
            pair = [self.texts.quantity_at(item, unit, "usual") for item in read.items(entries["usual"], "usual")]
            if len(pair) == 2 and pair[0] is not None and pair[1] is not None:
                usual = (pair[0], pair[1])
        near = None
        if "near" in entries:
            parts = read.mapping(entries["near"], form.NEAR)
            value = self.texts.quantity_at(parts.get("value"), unit, "value")
            percent = 0.0
            if "within" in parts:
                try:
                    percent = float(units.parse(within := read.text(parts["within"], "within"), "%").value)
                    if not units.has_unit(within):
                        read.wrong(parts["within"], f"within {within} has no unit", f"write {within} %")
                except EntryError as problem:
                    read.entry(parts["within"], problem)
            near = Near(value or Template(""), percent)
        return MeasureAnswer(unit, low, high, usual, near)

    def choices(self, node: Node) -> ChoiceAnswer | None:
        read = self.texts.reader
        low, high = form.CHOICES.low, form.CHOICES.high or 0
        if node.entries is None or not low <= len(node.entries) <= high:
            read.wrong(node, f"choices needs {low} to {high} keys", "write 'key: what is shown', one per line")
            return None
        choices = {}
        for key, (key_node, value) in node.entries.items():
            read.name(key_node, "choice", KEYED)
            read.value(value, key, form.CHOICES.value)
            choices[key] = read.text(value, key)
        return ChoiceAnswer(choices)

    def work_out(self, entries: Mapping[str, Node]) -> WorkOut:
        read = self.texts.reader
        into = self.into(entries)
        name = read.text(entries.get("calculator"), "calculator")
        self.texts.known.unsure.discard(into)
        if self.kept and name in calc.names():
            self.texts.known.unsure.add(into)
            return WorkOut(name, self.given(entries), into, read.texts(entries.get("show"), "show"))
        try:
            calculator = calc.find(name)
        except UsageError as error:
            if "calculator" in entries:
                read.wrong(entries["calculator"], f"there is no calculator '{name}'", str(error).partition("; ")[2])
            self.texts.known.unsure.add(into)
            return WorkOut(name, {}, into, ())
        given = {}
        needed = [item.name for item in calculator.inputs if item.required]
        others = [item.name for item in calculator.inputs if item.name not in needed]
        if "with" in entries:
            for key, value in read.entries(entries["with"], needed, others, f"'with' of {name}").items():
                if template := self.texts.template(value, key):
                    given[key] = template
                    self.field(value, template, calculator, key)
        show = read.texts(entries.get("show"), "show")
        read.best(entries.get("show"), "show", len(show), 0, 2)
        outputs = {output.name: output for output in calculator.outputs}
        for shown in show:
            if shown not in outputs:
                read.wrong(entries["show"], f"{name} does not work out '{shown}'", f"outputs: {', '.join(outputs)}")
        for output in calculator.outputs:
            self.texts.known.values[f"{into}.{output.name}"] = output.unit
        return WorkOut(name, given, into, show)

    def given(self, entries: Mapping[str, Node]) -> dict[str, Template]:
        """Return what a calculator is given, its fields as they are named."""
        values = entries["with"].entries if "with" in entries else None
        return {key: template for key, (_, value) in (values or {}).items() if (template := self.texts.template(value, key))}

    def field(self, node: Node, template: Template, calculator: Calculator, name: str) -> None:
        """Check that what is given to a calculator's field can stand in it."""
        kind = calculator.field(name).kind
        measure = kind.measure if isinstance(kind, Either) else kind
        reference = template.lone_reference
        if reference is not None and self.texts.known.has(reference):
            unit = self.texts.known.values[reference]
            has = units.dimension(unit) if unit is not None else None
            if isinstance(measure, Measure) and not (isinstance(kind, Either) and has is None):
                wanted = units.dimension(measure.unit)
                if has != wanted:
                    self.texts.reader.wrong(
                        node, f"{name} needs {wanted}, but '{{{reference}}}' is {has or 'a name'}", "use another value"
                    )
            elif isinstance(measure, (Choice, RatioKind, Count)) and has not in (None, "number"):
                self.texts.reader.wrong(
                    node, f"{name} needs {kind.describe()}, but '{{{reference}}}' is {has}", "use another value"
                )
        elif not template.references:
            try:
                kind.read(template.text)
            except EntryError as problem:
                self.texts.reader.entry(node, problem)

    def gate(self, node: Node, entries: Mapping[str, Node]) -> Gate:
        read = self.texts.reader
        forms = [key for key in _GATES if key in entries]
        if_no = read.text(entries.get("if_no"), "if_no")
        reasons = self.reasons(entries)
        if len(forms) != 1:
            read.wrong(
                node,
                f"a gate needs exactly one thing to judge by, and this has {len(forms)}",
                "use one of: calculator, value, choices",
            )
            return Gate(if_no, reasons, Between(Template(""), None, None), {})
        form = forms[0]
        for key in entries:
            if key in _GATE_KEYS and key not in _GATES[form]:
                read.wrong(entries[key], f"'{key}' cannot be used in a gate by {form}", f"use: {', '.join(_GATES[form])}")
        if form == "calculator":
            for key in ("with", "into", "go"):
                if key not in entries:
                    read.wrong(node, f"a gate by calculator has no '{key}'", f"add '{key}: ...'")
            work_out = self.work_out(entries)
            go, more = (self.go(entries.get(key), work_out.into) for key in ("go", "more"))
            return Gate(if_no, reasons, work_out, go, more)
        if form == "value":
            return Gate(if_no, reasons, self.between(node, entries), {})
        return Gate(if_no, reasons, *self.judged(node, entries))

    def judged(self, node: Node, entries: Mapping[str, Node]) -> tuple[ChoiceAnswer, dict[str, tuple[str, ...]]]:
        """Return the states of a gate judged by one, and which of them pass."""
        choices, go = self.choices(entries["choices"]), entries.get("go")
        if go is None:
            self.texts.reader.wrong(node, "a gate by choices has no 'go'", "add 'go: key', the answer that passes")
        if go is None or choices is None:
            return choices or ChoiceAnswer({}), {"": ()}
        keys = self.texts.reader.texts(go, "go") if go.items is not None else (self.texts.reader.text(go, "go"),)
        for key in keys:
            if key and key not in choices.choices:
                self.texts.reader.wrong(go, f"'{key}' is not one of the choices", f"write one of: {', '.join(choices.choices)}")
        return choices, {"": keys}

    def between(self, node: Node, entries: Mapping[str, Node]) -> Between:
        """Return a value with its limits, noting limits that do not measure what the value does."""
        read = self.texts.reader
        value = self.texts.template(entries["value"], "value") or Template("")
        low, high = (Template(read.text(entries[key], key)) if key in entries else None for key in ("low", "high"))
        if low is None and high is None:
            read.wrong(node, "a gate by value has no limit", "add 'low: ...' or 'high: ...'")
        name = value.lone_reference
        if value.text and name is None:
            read.wrong(entries["value"], "value does not refer to anything", 'write "{name}", the value to judge')
        elif name is not None and self.texts.known.has(name):
            unit = self.texts.known.values[name]
            if unit is None:
                read.wrong(entries["value"], f"'{{{name}}}' is a name, not a quantity", "judge a name by 'choices'")
            else:
                for key, limit in (("low", low), ("high", high)):
                    if limit is not None:
                        self.texts.quantity(entries[key], limit, unit, key)
        return Between(value, low, high)

    def go(self, node: Node | None, into: str) -> dict[str, tuple[str, ...]]:
        go = {}
        for name, (key, value) in (node.entries or {}).items() if node is not None else ():
            if f"{into}.{name}" not in self.texts.known.values and not self.texts.known.doubtful(into):
                self.texts.reader.wrong(key, f"the calculator does not work out '{name}'", "name one of its outputs")
            go[name] = self.texts.reader.texts(value, name) if value.items is not None else (self.texts.reader.text(value, name),)
        if node is not None and not go:
            self.texts.reader.wrong(node, "go lists no output", "write {verdict: go}")
        return go

    def reasons(self, entries: Mapping[str, Node]) -> tuple[str, ...]:
        """Return the reasons for which a hold point may be passed, the usual ones where the recipe names none."""
        node = entries.get("reasons")
        reasons = self.texts.reader.texts(node, "reasons")
        self.texts.reader.best(node, "reasons", len(reasons), 2, 5)
        return reasons or REASONS

    def start(self, entries: Mapping[str, Node]) -> Start | Do:
        """Return the start of a clock; a plain step where its kind is none, which is noted."""
        read = self.texts.reader
        clock, kind = read.name(entries.get("clock"), "clock"), read.one_of(entries.get("kind"), "kind", CLOCK_KINDS)
        self.texts.known.clocks[clock] = kind
        start = Start(
            clock=clock,
            title=read.text(entries.get("title"), "title"),
            kind=kind or "DO BEFORE",  # where it is none, the recipe is refused
            time=self.texts.quantity_at(entries.get("time"), "min", "time") or Template(""),
            note=read.text(entries.get("note"), "note"),
            action=read.text(entries.get("action"), "action"),
            if_late=read.text(entries.get("if_late"), "if_late"),
            time_to_act=self.texts.quantity_at(entries.get("time_to_act"), "min", "time_to_act") or Template("2 min"),
            consequence=read.text(entries.get("consequence"), "consequence"),
            ages_at=self.texts.quantity_at(entries.get("ages_at"), "°C", "ages_at"),
            at_once=read.one_of(entries.get("at_once"), "at_once", ("yes",)) == "yes",
            goes_on=read.one_of(entries.get("goes_on"), "goes_on", ("yes",)) == "yes",
            spilled=self.spilled(entries.get("spilled")),
        )
        return start if kind is not None else Do()

    def spilled(self, node: Node | None) -> Caution | None:
        """Return what is read once a pot was spilled, noting where no other pot could follow it."""
        text = self.texts.template(node, "spilled")
        if node is None or text is None:
            return None
        if TURN not in self.texts.known.values:
            self.texts.reader.wrong(node, "'spilled' outside a repeated section", "repeat the section, or leave it out")
        return Caution("WARNING", text)

    def wait(self, entries: Mapping[str, Node]) -> Wait:
        clock = self.texts.reader.name(entries.get("clock"), "clock")
        if clock and ((kind := self.texts.known.clocks.get(clock)) is None or closes(kind)):
            self.texts.reader.wrong(
                entries["clock"], f"no NOT BEFORE clock '{clock}' is started earlier", "start it in an earlier step"
            )
        return Wait(clock, self.reasons(entries))


def _alike(unit: str, other: str) -> bool:
    """Return whether two units measure the same kind of quantity."""
    return units.dimension(unit) == units.dimension(other)
