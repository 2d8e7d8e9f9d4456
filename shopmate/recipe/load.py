"""Turn a recipe file into a Recipe, or into every problem it has with its place."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from shopmate import calc, units
from shopmate.calculator import Calculator, Choice, Count, Either, Measure, RatioKind
from shopmate.errors import EntryError, UsageError
from shopmate.phrases import phrase
from shopmate.recipe import words
from shopmate.recipe.model import (
    SIGNALS,
    TURN,
    Act,
    AnswerKind,
    Ask,
    Between,
    Caution,
    ChoiceAnswer,
    CountAnswer,
    Do,
    Gate,
    MeasureAnswer,
    Near,
    Recipe,
    Repeat,
    Section,
    ShelfAnswer,
    Signal,
    Start,
    Step,
    Template,
    Wait,
    WhenClock,
    WhenValue,
    WorkOut,
)
from shopmate.recipe.reader import Node, Reader, compose, read_file
from shopmate.recipe.shelf import FIGURES

HEADLINE = 26
"""Characters of a headline: two lines of block letters on an 80-column screen."""
DETAIL = 60
"""Characters of a detail line."""
REASONS = (
    "Measured again, the first reading was wrong",
    "Tried on a sample, it held",
    "The data sheet allows it",
    "Not loaded, looks only",
)
"""Reasons offered for passing a hold point where the recipe names none of its own."""

_ACTS = ("do", "ask", "work out", "gate", "start", "wait")
_COMMON = ("id", "detail", "figures", "when", "ends")
_ANSWERS = ("unit", "choices", "count", "shelf")
_GATES = {
    "calculator": ("with", "into", "go", "show"),
    "value": ("low", "high"),
    "choices": ("go",),
}
"""Forms of a gate, by the key that says what judges it, with the further keys of each."""
_GATE_KEYS = frozenset(key for keys in _GATES.values() for key in keys)
_KEYS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "do": ((), ("can_wait",)),
    "ask": (("into",), (*_ANSWERS, "low", "high", "usual", "near", "default", "logs", "pace_of", "adds_to")),
    "work out": (("calculator", "with", "into"), ("show",)),
    "gate": (("if_no",), ("calculator", "with", "into", "show", "value", "low", "high", "choices", "go", "reasons")),
    "start": (("clock", "title", "kind", "time", "note", "action", "if_late", "time_to_act", "consequence"), ("ages_at",)),
    "wait": (("clock",), ("reasons",)),
}
"""Keys each kind of step needs and may have, besides its own and the common ones."""


@dataclass(slots=True)
class _Known:
    """What earlier steps of the file have given: the values and clocks that later texts may refer to."""

    values: dict[str, str | None] = field(default_factory=dict)
    """Reference -> unit of the quantity ("" for a bare number), None for a name, a ratio or a verdict."""
    choices: dict[str, tuple[str, ...]] = field(default_factory=dict)
    clocks: dict[str, str] = field(default_factory=dict)
    """Name -> DO BEFORE or NOT BEFORE."""
    steps: set[str] = field(default_factory=set)
    unsure: set[str] = field(default_factory=set)
    """Values given by a step that has a problem itself; what refers to them is not judged."""
    sums: dict[str, bool] = field(default_factory=dict)
    """Names of sums -> whether the step that adds to it was read; in its turns it is known from the start."""
    paces: list[tuple[Node, str]] = field(default_factory=list)
    """Clocks whose pots give a pace; they may be started later in the file, since the pots of earlier runs count."""

    def has(self, reference: str) -> bool:
        """Return whether a reference can be judged and its value is given."""
        return reference in self.values and not self.doubtful(reference)

    def doubtful(self, reference: str) -> bool:
        """Return whether a reference is to a value of a step that has a problem itself."""
        return reference.partition(".")[0] in self.unsure


def load(path: Path, *, compare: bool = True) -> Recipe:
    """Return the recipe of a file; raises FileProblems with every problem found.

    Without `compare`, defaults are not compared with limits in other units, which takes the conversion of units.
    """
    return read(read_file(path), str(path), path.stem, compare=compare)


def read(text: str, file: str, stem: str | None = None, *, compare: bool = True) -> Recipe:
    """Return the recipe of a YAML text; `file` names it in problems, `stem` is the name it must have."""
    return _Loading(Reader(file), _Known(), compare).recipe(text, file, stem)


@dataclass(slots=True)
class _Loading:
    reader: Reader
    known: _Known
    compare: bool
    """Whether a default is compared with limits in another unit."""

    def recipe(self, text: str, file: str, stem: str | None) -> Recipe:
        read, root = self.reader, compose(text, file)
        entries = read.entries(
            root, ("recipe", "title", "version", "date", "about", "needs", "asks", "sections", "sources"), (), "a recipe"
        )
        name = read.name(entries.get("recipe"), "recipe", "[a-z][a-z0-9-]*")
        if stem is not None and "recipe" in entries and name and name != stem:
            read.wrong(entries["recipe"], f"the recipe is named '{name}' but its file '{stem}'", "give both one name")
        if (date := entries.get("date")) and not re.fullmatch(r"\d{4}-\d{2}-\d{2}", read.text(date, "date")):
            read.wrong(date, f"date is '{date.text}'", "write it as YYYY-MM-DD, in quotes")
        title = read.text(entries.get("title"), "title", 40)
        needs = read.texts(entries.get("needs"), "needs", low=1)
        asks = read.items(entries.get("asks"), "asks", 1, 9)
        start = Section(phrase("Start"), "read-do", tuple(self.step(item, only="ask") for item in asks))
        for item, step in zip(asks, start.steps, strict=True):
            if isinstance(step.act, Ask) and step.act.default is None:
                read.wrong(item, f"'{step.headline}' has no default", "add 'default: ...', so that a sheet can be worked out")
        sections = self.sections(read.items(entries.get("sections"), "sections", low=1))
        for node, clock in self.known.paces:
            if clock not in self.known.clocks:
                read.wrong(node, f"no clock '{clock}' is started in this recipe", "name the clock of the pots, such as pot_life")
        sources = tuple(self.source(item) for item in read.items(entries.get("sources"), "sources", low=1))
        recipe = Recipe(
            name=name,
            title=title,
            version=read.text(entries.get("version"), "version", 12),
            date=read.text(entries.get("date"), "date"),
            about=read.text(entries.get("about"), "about"),
            needs=needs,
            sections=(start, *sections),
            sources=sources,
            text=text,
        )
        read.done()
        return recipe

    def source(self, node: Node) -> str:
        entries = self.reader.entries(node, ("text", "mark"), (), "a source")
        mark = self.reader.one_of(entries.get("mark"), "mark", ("read", "computed", "common practice", "memory"))
        return f"{self.reader.text(entries.get('text'), 'text')} [{mark}]"

    def sections(self, nodes: Sequence[Node]) -> tuple[Section, ...]:
        """Return the sections; those that make one turn together know its number and its sums."""
        sections: list[Section] = []
        together = 0
        for index, node in enumerate(nodes):
            within = together > 0
            if not within and node.entries is not None and "repeat" in node.entries:
                together = self.together(node.entries["repeat"][1], len(nodes) - index)
                self.known.values[TURN] = ""
                for item in nodes[index : index + together]:
                    self.announce(item)
            sections.append(self.section(node, within=within, together=together))
            together = max(0, together - 1)
            if not together:
                self.known.values.pop(TURN, None)
        return tuple(sections)

    def together(self, repeat: Node, left: int) -> int:
        """Return how many sections make one turn of a repeat, of those left in the file."""
        if repeat.entries is None or "sections" not in repeat.entries:
            return 1
        node = repeat.entries["sections"][1]
        text = self.reader.text(node, "sections")
        if not _whole(text) or not 1 <= int(text) <= left:
            self.reader.wrong(node, f"sections is '{text}'", f"write 1 to {left}: how many sections from here make one turn")
            return 1
        return int(text)

    def announce(self, node: Node) -> None:
        """Make the sums of a repeated section known before its steps, since an earlier turn may have added to them."""
        steps = node.entries["steps"][1] if node.entries is not None and "steps" in node.entries else None
        for item in steps.items or () if steps is not None else ():
            if item.entries is None or "adds_to" not in item.entries:
                continue
            entry = item.entries["adds_to"][1]
            name = self.reader.name(entry, "adds_to")
            if not name or name in self.known.sums:
                continue  # noted as no name, or where it is added to twice
            if name in self.known.values or name in self.known.choices:
                self.reader.wrong(entry, f"'{name}' is the name of another value", "give the sum a name of its own")
                continue
            self.known.sums[name] = False
            unit = (item.entries["unit"][1].text or "") if "unit" in item.entries else ""
            try:
                units.dimension(unit)
                self.known.values[name] = unit
            except KeyError:
                self.known.unsure.add(name)

    def section(self, node: Node, *, within: bool, together: int) -> Section:
        read = self.reader
        entries = read.entries(node, ("section", "mode", "steps"), ("repeat", "until"), "a section")
        name = read.text(entries.get("section"), "section", 30)
        mode = read.one_of(entries.get("mode"), "mode", ("read-do", "do-confirm"))
        repeat = None
        if "repeat" in entries:
            parts = read.entries(entries["repeat"], ("each", "times"), ("sections",), "repeat")
            if within:
                read.wrong(entries["repeat"], "a repeat within another", "a section is part of one repeat at the most")
            times = self.template(parts.get("times"), "times")
            if times is not None and not _whole(times.text):
                times = Template(f"{{{times.text}}}") if not times.references else times
                self.references(parts["times"], times, "")
            if "until" not in entries:
                read.wrong(entries["repeat"], "a repeated section has no 'until'", "add 'until: ...', when to stop")
            until = read.text(entries.get("until"), "until", DETAIL)
            repeat = Repeat(read.text(parts.get("each"), "each", 12), times or Template("1"), until, together)
        elif "until" in entries:
            read.wrong(entries["until"], "'until' stands in a section without 'repeat'", "add 'repeat', or remove it")
        steps = self.steps(entries.get("steps"), name)
        if mode == "do-confirm" and any(isinstance(step.act, Start) and step.act.kind == "DO BEFORE" for step in steps):
            read.wrong(
                entries["mode"],
                f"the section '{name}' starts a DO BEFORE clock",
                "make it read-do: nothing timed is done from skill",
            )
        return Section(name, "do-confirm" if mode == "do-confirm" else "read-do", steps, repeat)

    def steps(self, node: Node | None, section: str) -> tuple[Step, ...]:
        read, steps, cautions = self.reader, [], []
        last_caution = node
        for item in read.items(node, "steps"):
            signal = next((word for word in SIGNALS if item.entries and word in item.entries), None)
            if signal is not None:
                cautions.append(self.caution(item, signal))
                last_caution = item
                continue
            steps.append(self.step(item, cautions=tuple(cautions)))
            cautions = []
        if cautions and last_caution is not None:
            read.wrong(last_caution, "a caution stands after the last step", "put it before the step it warns of")
        if node is not None and node.items is not None and not 5 <= len(steps) <= 9:
            read.wrong(node, f"the section '{section}' has {len(steps)} steps", "divide or join it: 5 to 9 steps a section")
        return tuple(steps)

    def caution(self, node: Node, signal: Signal) -> Caution:
        read = self.reader
        entries = read.entries(node, (signal,), ("reason",), f"a {signal}")
        text = read.text(entries.get(signal), signal, 120)
        if signal in entries:
            if words.gives_order(text):
                read.wrong(
                    entries[signal], "a caution tells to do something", "say the hazard and what it does; make the action a step"
                )
            self.references(entries[signal], Template(text))
            if signal == "NOTICE" and words.alerts(text):
                read.wrong(
                    entries[signal], "NOTICE with an alert sign", "remove it: the sign is for injuries, a NOTICE is for none"
                )
        if signal == "DANGER" and "reason" not in entries:
            read.wrong(node, "DANGER without a reason", "add 'reason: why death or serious injury will result', or write WARNING")
        return Caution(signal, Template(text), read.text(entries.get("reason"), "reason"))

    def step(self, node: Node, only: str | None = None, cautions: tuple[Caution, ...] = ()) -> Step:
        read = self.reader
        kinds = [kind for kind in _ACTS if node.entries is not None and kind in node.entries]
        if len(kinds) != 1 or (only is not None and kinds != [only]):
            what = (
                f"a step of the kinds {' and '.join(kinds)}"
                if len(kinds) > 1
                else f"a step of the kind {kinds[0]}"
                if kinds
                else ""
            )
            read.wrong(node, what or "a step of no kind", f"make it one of: {only or ', '.join(_ACTS)}")
            return Step("", "", Do())
        kind = kinds[0]
        required, optional = _KEYS[kind]
        entries = read.entries(node, (kind, *required), (*optional, *_COMMON), f"a step of the kind '{kind}'")
        headline = read.text(entries[kind], kind)
        self.headline(entries[kind], headline)
        when = self.when(entries["when"]) if "when" in entries else None
        ends = read.name(entries.get("ends"), "ends") or None
        if ends is not None and ends not in self.known.clocks:
            read.wrong(entries["ends"], f"no clock '{ends}' is started before", "start it in an earlier step")
        detail = tuple(self.detail(item) for item in read.items(entries.get("detail"), "detail", 0, 2))
        figures = self.figures(entries.get("figures"))
        act = self.act(kind, node, entries)
        step_id = read.name(entries["id"], "id", "[a-z][a-z0-9-]*") if "id" in entries else self.free_id(headline)
        if "id" in entries and step_id in self.known.steps:
            read.wrong(entries["id"], f"the id '{step_id}' stands twice", "give each step its own id")
        self.known.steps.add(step_id)
        can_wait = read.one_of(entries.get("can_wait"), "can_wait", ("no",)) != "no"
        return Step(step_id, headline, act, detail, figures, cautions, when, ends, can_wait, node.line)

    def free_id(self, headline: str) -> str:
        plain = re.sub(r"[^a-z0-9]+", "-", headline.lower()).strip("-") or "step"
        number = 1
        while (candidate := plain if number == 1 else f"{plain}-{number}") in self.known.steps:
            number += 1
        return candidate

    def headline(self, node: Node, text: str) -> None:
        read = self.reader
        if len(text) > HEADLINE or not words.wraps(text):
            read.wrong(node, f"the headline '{text}' does not fit two lines of 13", "shorten it: it is read from two metres")
        if "{" in text:
            read.wrong(node, f"the headline '{text}' refers to a value", "write it in the detail or as a figure")
        if text and not words.starts_with_verb(text):
            read.wrong(node, f"the headline '{text}' starts with no verb", "start with what to do: Mix, Check, Spread ...")
        if words.joins_actions(text) or words.starts_with_two_verbs(text):
            read.wrong(node, f"the headline '{text}' holds two actions", "make it two steps")

    def detail(self, node: Node) -> Template:
        text = self.reader.text(node, "detail", DETAIL)
        if words.joins_actions(text):
            self.reader.wrong(node, f"the detail '{text}' joins actions", "one action a step: no 'then', no ';', no second verb")
        template = Template(text)
        self.references(node, template)
        return template

    def figures(self, node: Node | None) -> dict[str, Template]:
        if node is None:
            return {}
        if node.entries is None:
            self.reader.wrong(node, "figures is no mapping", "write 'label: \"{value}\"'")
            return {}
        if len(node.entries) > 2:
            self.reader.wrong(node, f"figures has {len(node.entries)} entries", "show at most 2 large figures")
        figures = {}
        for key, (key_node, value) in node.entries.items():
            if len(key) > 16:
                self.reader.wrong(key_node, f"the label '{key}' has {len(key)} characters", "write at most 16")
            if template := self.template(value, key):
                figures[key] = template
        return figures

    def when(self, node: Node) -> WhenValue | WhenClock | None:
        read, known = self.reader, self.known
        if node.entries is None or not node.entries:
            read.wrong(node, "when is no mapping", "write {value: key} or {clock: name, is: running}")
            return None
        if "clock" in node.entries:
            entries = read.entries(node, ("clock", "is"), (), "when")
            clock = read.name(entries.get("clock"), "clock")
            if clock and clock not in known.clocks:
                read.wrong(node, f"no clock '{clock}' is started before", "start it in an earlier step")
            stands = read.one_of(entries.get("is"), "is", ("running", "over", "none"))
            return WhenClock(clock, "running" if stands == "running" else "over" if stands == "over" else "none")
        if len(node.entries) > 1:
            read.wrong(node, "when holds several values", "one condition a step")
        name, (key, value) = next(iter(node.entries.items()))
        if known.doubtful(name):
            return None
        if name not in known.choices:
            read.wrong(key, f"'{name}' is no choice asked before", "when takes a choice or a clock")
            return None
        among = read.texts(value, name) if value.items is not None else (read.text(value, name),)
        for answer in among:
            if answer not in known.choices[name]:
                read.wrong(value, f"'{answer}' is no answer to '{name}'", f"write one of: {', '.join(known.choices[name])}")
        return WhenValue(name, among)

    def act(self, kind: str, node: Node, entries: Mapping[str, Node]) -> Act:
        if kind == "ask":
            return self.ask(node, entries)
        if kind == "work out":
            return self.work_out(entries)
        if kind == "gate":
            return self.gate(node, entries)
        if kind == "start":
            return self.start(entries)
        if kind == "wait":
            return self.wait(entries)
        return Do()

    def into(self, entries: Mapping[str, Node]) -> str:
        """Return the name of what a step gives, noting one that the program or a sum has."""
        into = self.reader.name(entries.get("into"), "into")
        if into == TURN:
            self.reader.wrong(entries["into"], f"'{TURN}' is the number of the turn", "give the value another name")
        elif into in self.known.sums:
            self.reader.wrong(entries["into"], f"'{into}' is the name of a sum", "give the value another name")
        return into

    def ask(self, node: Node, entries: Mapping[str, Node]) -> Ask:
        into = self.into(entries)
        answer = self.answer(node, entries)
        default = self.reader.text(entries["default"], "default") if "default" in entries else None
        self.known.values[into] = None
        self.known.choices.pop(into, None)
        self.known.unsure.discard(into)
        if answer is None:
            self.known.unsure.add(into)
            return Ask(into, CountAnswer(0, 0), default)
        if isinstance(answer, MeasureAnswer):
            self.known.values[into] = answer.unit
            if default is not None:
                self.quantity(entries["default"], Template(default), answer.unit, "default")
                self.within(entries["default"], Template(default), answer)
        elif isinstance(answer, CountAnswer):
            self.known.values[into] = ""
            if default is not None and not (_whole(default) and answer.low <= int(default) <= answer.high):
                self.reader.wrong(entries["default"], f"default is '{default}'", f"write {answer.low} to {answer.high}")
        elif isinstance(answer, ChoiceAnswer):
            self.known.choices[into] = tuple(answer.choices)
            if default is not None:
                self.reader.one_of(entries["default"], "default", tuple(answer.choices))
        else:
            for figure, unit in FIGURES[answer.kind].items():
                self.known.values[f"{into}.{figure}"] = unit if unit != "ratio" else None
        logs = self.reader.one_of(entries.get("logs"), "logs", ("temperature",))
        if logs and not (isinstance(answer, MeasureAnswer) and units.dimension(answer.unit) == "temperature"):
            self.reader.wrong(entries["logs"], "logs temperature, but the answer is none", "ask with 'unit: °C', or remove it")
        pace_of = self.reader.name(entries.get("pace_of"), "pace_of") or None
        if pace_of is not None:
            self.known.paces.append((entries["pace_of"], pace_of))
            if not (isinstance(answer, MeasureAnswer) and units.dimension(answer.unit) in ("mass", "time")):
                self.reader.wrong(
                    entries["pace_of"],
                    "a pace is the mass and the time of a pot",
                    "ask with 'unit: g' or 'unit: min', or remove it",
                )
        adds_to = self.sum(entries["adds_to"], answer) if "adds_to" in entries else None
        return Ask(into, answer, default, is_shop_temperature=bool(logs), pace_of=pace_of, adds_to=adds_to)

    def sum(self, node: Node, answer: AnswerKind) -> str | None:
        """Return the name of the sum an answer adds to, noting an answer that has none or a second one for it."""
        name = node.text or ""
        if not isinstance(answer, MeasureAnswer):
            self.reader.wrong(node, "only quantities are added", "ask with 'unit', or remove it")
        elif units.dimension(answer.unit) == "temperature":
            self.reader.wrong(node, "temperatures are not added", "remove it")
        elif TURN not in self.known.values:
            self.reader.wrong(node, "a sum outside of a repeated section", "add 'repeat' to the section, or remove it")
        elif self.known.sums.get(name):
            self.reader.wrong(node, f"two steps add to '{name}'", "give each sum a name of its own")
        elif name in self.known.sums:
            self.known.sums[name] = True
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
            self.reader.wrong(node, f"default {default.text} is under the least answer taken", f"write {units.show(low)} or more")
        if high is not None and number > high.value_in(value.unit):
            self.reader.wrong(
                node, f"default {default.text} is over the greatest answer taken", f"write {units.show(high)} or less"
            )

    def answer(self, node: Node, entries: Mapping[str, Node]) -> AnswerKind | None:
        read = self.reader
        kinds = [kind for kind in _ANSWERS if kind in entries]
        if len(kinds) != 1:
            read.wrong(node, f"an ask with {len(kinds)} kinds of answer", f"give it one of: {', '.join(_ANSWERS)}")
            return None
        for key in ("low", "high", "usual", "near"):
            if key in entries and kinds != ["unit"]:
                read.wrong(entries[key], f"'{key}' without a unit", "limits are for an answer with 'unit'")
        if kinds == ["choices"]:
            return self.choices(entries["choices"])
        if kinds == ["count"]:
            limits = read.texts(entries["count"], "count", 2, 2)
            if len(limits) != 2:
                return None
            if all(map(_whole, limits)) and int(limits[0]) <= int(limits[1]):
                return CountAnswer(int(limits[0]), int(limits[1]))
            read.wrong(entries["count"], "count has no limits", "write [1, 6]: the least and the greatest whole number")
            return None
        if kinds == ["shelf"]:
            kind = read.one_of(entries["shelf"], "shelf", tuple(FIGURES))
            return ShelfAnswer(kind) if kind in FIGURES else None
        return self.measure(entries)

    def measure(self, entries: Mapping[str, Node]) -> MeasureAnswer | None:
        read = self.reader
        unit = entries["unit"].text or ""
        try:
            units.dimension(unit)
        except KeyError:
            read.wrong(entries["unit"], f"'{unit}' is not a unit known here", "use a symbol such as mm, m, g, mL, °C, %, min")
            return None
        low, high = (self.quantity_at(entries.get(key), unit, key) for key in ("low", "high"))
        usual = None
        if "usual" in entries:
            pair = [self.quantity_at(item, unit, "usual") for item in read.items(entries["usual"], "usual", 2, 2)]
            if len(pair) == 2 and pair[0] is not None and pair[1] is not None:
                usual = (pair[0], pair[1])
        near = None
        if "near" in entries:
            parts = read.entries(entries["near"], ("value", "within"), (), "near")
            value = self.quantity_at(parts.get("value"), unit, "value")
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
        read = self.reader
        if node.entries is None or not 2 <= len(node.entries) <= 9:
            read.wrong(node, "choices are not 2 to 9 keys", "write 'key: what is shown', one a line")
            return None
        choices = {}
        for key, (key_node, value) in node.entries.items():
            read.name(key_node, "choice", "[a-z][a-z0-9_-]*")
            choices[key] = read.text(value, key, 40)
        return ChoiceAnswer(choices)

    def work_out(self, entries: Mapping[str, Node]) -> WorkOut:
        read = self.reader
        into = self.into(entries)
        name = read.text(entries.get("calculator"), "calculator")
        self.known.unsure.discard(into)
        try:
            calculator = calc.find(name)
        except UsageError as error:
            if "calculator" in entries:
                read.wrong(entries["calculator"], f"there is no calculator '{name}'", str(error).partition("; ")[2])
            self.known.unsure.add(into)
            return WorkOut(name, {}, into, ())
        given = {}
        needed = [item.name for item in calculator.inputs if not item.optional and item.default is None]
        others = [item.name for item in calculator.inputs if item.name not in needed]
        if "with" in entries:
            for key, value in read.entries(entries["with"], needed, others, f"'with' of {name}").items():
                if template := self.template(value, key):
                    given[key] = template
                    self.field(value, template, calculator, key)
        show = read.texts(entries.get("show"), "show", 0, 2)
        outputs = {output.name: output for output in calculator.outputs}
        for shown in show:
            if shown not in outputs:
                read.wrong(entries["show"], f"{name} works out no '{shown}'", f"outputs: {', '.join(outputs)}")
        for output in calculator.outputs:
            self.known.values[f"{into}.{output.name}"] = output.unit
        return WorkOut(name, given, into, show)

    def field(self, node: Node, template: Template, calculator: Calculator, name: str) -> None:
        """Check that what is given to a calculator's field can stand in it."""
        kind = calculator.field(name).kind
        measure = kind.measure if isinstance(kind, Either) else kind
        reference = template.lone_reference
        if reference is not None and self.known.has(reference):
            unit = self.known.values[reference]
            has = units.dimension(unit) if unit is not None else None
            if isinstance(measure, Measure) and not (isinstance(kind, Either) and has is None):
                wanted = units.dimension(measure.unit)
                if has != wanted:
                    self.reader.wrong(
                        node, f"{name} takes {wanted}, '{{{reference}}}' is {has or 'a name'}", "give another value"
                    )
            elif isinstance(measure, (Choice, RatioKind, Count)) and has not in (None, "number"):
                self.reader.wrong(node, f"{name} takes {kind.describe()}, '{{{reference}}}' is {has}", "give another value")
        elif not template.references:
            try:
                kind.read(template.text)
            except EntryError as problem:
                self.reader.entry(node, problem)

    def gate(self, node: Node, entries: Mapping[str, Node]) -> Gate:
        read = self.reader
        forms = [key for key in _GATES if key in entries]
        if_no = read.text(entries.get("if_no"), "if_no", 120)
        reasons = read.texts(entries.get("reasons"), "reasons", 2, 5, 50) or REASONS
        if len(forms) != 1:
            read.wrong(node, f"a gate judged by {len(forms)} things", "give it one of: calculator, value, choices")
            return Gate(if_no, reasons, Between(Template(""), None, None), {})
        form = forms[0]
        for key in entries:
            if key in _GATE_KEYS and key not in _GATES[form]:
                read.wrong(entries[key], f"'{key}' is of no use to a gate by {form}", f"it takes: {', '.join(_GATES[form])}")
        if form == "calculator":
            for key in ("with", "into", "go"):
                if key not in entries:
                    read.wrong(node, f"a gate by calculator has no '{key}'", f"add '{key}: ...'")
            work_out = self.work_out(entries)
            return Gate(if_no, reasons, work_out, self.go(entries.get("go"), work_out.into))
        if form == "value":
            return Gate(if_no, reasons, self.between(node, entries), {})
        choices = self.choices(entries["choices"])
        keys: tuple[str, ...] = ()
        if "go" not in entries:
            read.wrong(node, "a gate by choices has no 'go'", "add 'go: key', the answer that passes")
        elif choices is not None:
            keys = read.texts(entries["go"], "go") if entries["go"].items is not None else (read.text(entries["go"], "go"),)
            for key in keys:
                if key and key not in choices.choices:
                    read.wrong(entries["go"], f"'{key}' is none of the choices", f"write one of: {', '.join(choices.choices)}")
        return Gate(if_no, reasons, choices or ChoiceAnswer({}), {"": keys})

    def between(self, node: Node, entries: Mapping[str, Node]) -> Between:
        """Return a value with its limits, noting limits that do not measure what the value does."""
        read = self.reader
        value = self.template(entries["value"], "value") or Template("")
        low, high = (Template(read.text(entries[key], key)) if key in entries else None for key in ("low", "high"))
        if low is None and high is None:
            read.wrong(node, "a gate by value has no limit", "add 'low: ...' or 'high: ...'")
        name = value.lone_reference
        if value.text and name is None:
            read.wrong(entries["value"], "value is no reference", 'write "{name}", the value to judge')
        elif name is not None and self.known.has(name):
            unit = self.known.values[name]
            if unit is None:
                read.wrong(entries["value"], f"'{{{name}}}' is a name, not a quantity", "judge a name by 'choices'")
            else:
                for key, limit in (("low", low), ("high", high)):
                    if limit is not None:
                        self.quantity(entries[key], limit, unit, key)
        return Between(value, low, high)

    def go(self, node: Node | None, into: str) -> dict[str, tuple[str, ...]]:
        go = {}
        for name, (key, value) in (node.entries or {}).items() if node is not None else ():
            if f"{into}.{name}" not in self.known.values and not self.known.doubtful(into):
                self.reader.wrong(key, f"the calculator works out no '{name}'", "name one of its outputs")
            go[name] = self.reader.texts(value, name) if value.items is not None else (self.reader.text(value, name),)
        if node is not None and not go:
            self.reader.wrong(node, "go says nothing", "write {verdict: go}")
        return go

    def start(self, entries: Mapping[str, Node]) -> Start:
        read = self.reader
        clock = read.name(entries.get("clock"), "clock")
        kind = read.one_of(entries.get("kind"), "kind", ("DO BEFORE", "NOT BEFORE"))
        self.known.clocks[clock] = kind
        return Start(
            clock=clock,
            title=read.text(entries.get("title"), "title", 18),
            kind="NOT BEFORE" if kind == "NOT BEFORE" else "DO BEFORE",
            time=self.quantity_at(entries.get("time"), "min", "time") or Template(""),
            note=read.text(entries.get("note"), "note", DETAIL),
            action=read.text(entries.get("action"), "action", 40),
            if_late=read.text(entries.get("if_late"), "if_late", 120),
            time_to_act=self.quantity_at(entries.get("time_to_act"), "min", "time_to_act") or Template("2 min"),
            consequence=read.text(entries.get("consequence"), "consequence", DETAIL),
            ages_at=self.quantity_at(entries.get("ages_at"), "°C", "ages_at"),
        )

    def wait(self, entries: Mapping[str, Node]) -> Wait:
        clock = self.reader.name(entries.get("clock"), "clock")
        if clock and self.known.clocks.get(clock) != "NOT BEFORE":
            self.reader.wrong(entries["clock"], f"no NOT BEFORE clock '{clock}' is started before", "start it in an earlier step")
        return Wait(clock, self.reader.texts(entries.get("reasons"), "reasons", 2, 5, 50) or REASONS)

    def template(self, node: Node | None, what: str) -> Template | None:
        if node is None:
            return None
        template = Template(self.reader.text(node, what))
        self.references(node, template)
        return template

    def references(self, node: Node, template: Template, unit: str | None = None) -> None:
        """Note references to what no earlier step gives, or that measure something else than `unit`."""
        known = self.known
        for reference in template.references:
            if known.doubtful(reference):
                continue
            if reference == TURN and reference not in known.values:
                self.reader.wrong(
                    node, f"'{{{TURN}}}' outside of a repeated section", "use it in a section with 'repeat', or leave it out"
                )
            elif reference not in known.values:
                self.reader.wrong(node, f"nothing before gives '{{{reference}}}'", "ask for it or work it out in an earlier step")
            elif unit is not None:
                has = known.values[reference]
                if has is None or units.dimension(has) != units.dimension(unit):
                    is_a = units.dimension(has) if has is not None else "a name"
                    self.reader.wrong(node, f"'{{{reference}}}' is {is_a}, not {units.dimension(unit)}", "refer to another value")
        if "{" in re.sub(r"\{[a-z][a-z0-9_.]*\}", "", template.text):
            self.reader.wrong(node, "a '{' that opens no reference", "write {name} or {name.part}")

    def quantity_at(self, node: Node | None, unit: str, what: str) -> Template | None:
        if node is None:
            return None
        template = Template(self.reader.text(node, what))
        self.quantity(node, template, unit, what)
        return template

    def quantity(self, node: Node, template: Template, unit: str, what: str) -> None:
        """Note a text that is no quantity in the dimension of `unit`."""
        if "{" in template.text:
            self.references(node, template, unit)
            if template.references and template.lone_reference is None:
                self.reader.wrong(node, f"{what} is more than one reference", 'write "{name}" alone, or a number with its unit')
            return
        if not template.text:
            return  # noted as empty
        try:
            units.parse(template.text, unit)
        except EntryError as problem:
            self.reader.entry(node, problem)
            return
        if unit and not units.has_unit(template.text):
            self.reader.wrong(node, f"{what} {template.text} has no unit", f"write {template.text} {unit}")


def _whole(text: str) -> bool:
    """Return whether a text is a whole number of up to four plain digits."""
    return re.fullmatch(r"[0-9]{1,4}", text) is not None
