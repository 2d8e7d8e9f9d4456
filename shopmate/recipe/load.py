"""Turn a recipe file into a Recipe, or into every problem it has with its place."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache
from pathlib import Path

from shopmate import units
from shopmate.models.due import closes
from shopmate.phrases import phrase
from shopmate.recipe import form, words
from shopmate.recipe.acts import Acts, whole
from shopmate.recipe.beyond import Beyond
from shopmate.recipe.compose import compose
from shopmate.recipe.form import ACT_WORDS, HEADLINE
from shopmate.recipe.keys import DASHED, Form
from shopmate.recipe.known import Known, Texts
from shopmate.recipe.model import (
    SIGNALS,
    TURN,
    Act,
    Caution,
    ChoiceAnswer,
    Do,
    Gate,
    Recipe,
    Repeat,
    Section,
    Signal,
    Start,
    Step,
    Template,
    Wait,
    When,
    WhenClock,
    WhenValue,
    WorkOut,
)  # fmt: skip
from shopmate.recipe.operations import expanded, find_operation, written
from shopmate.recipe.reader import Node, Reader, read_file
from shopmate.records import dataclass, replace

MOST_ASKED = 9
"""Questions of a recipe, so that each has its digit."""

MOST_BY_HAND = 9
"""Steps of a section that somebody does, answers or judges, so that each has its digit."""


def load(path: Path, *, compare: bool = True) -> Recipe:
    """Return the recipe of a file; raises FileProblems with every problem found.

    Without `compare`, defaults are not compared with limits in other units.
    """
    return read(read_file(path), str(path), path.stem, compare=compare)


def read(text: str, file: str, stem: str | None = None, *, compare: bool = True, kept: bool = False) -> Recipe:
    """Return the recipe of a YAML text; `file` names it in problems, `stem` is the name it must have.

    One `kept` with a run was read whole when the run began: its calculators are not asked again what they take and give.
    """
    texts = Texts(Reader(file), Known())
    return _Loading(texts, Acts(texts, compare, kept)).recipe(text, file, stem)


@lru_cache(maxsize=32)
def read_kept(text: str) -> Recipe:
    """Return the recipe of a text that the log keeps with a run, read once."""
    return read(text, "the recipe kept with the run", compare=False, kept=True)


def _is_by_itself(act: Act) -> bool:
    """Return whether a step is worked by the program as long as nothing is wrong: it wants no hand."""
    if isinstance(act, Start):
        return act.at_once
    return isinstance(act, WorkOut | Wait) or (isinstance(act, Gate) and not isinstance(act.by, ChoiceAnswer))


@dataclass(frozen=True, slots=True)
class _Loading:
    texts: Texts
    acts: Acts

    @property
    def reader(self) -> Reader:
        return self.texts.reader

    @property
    def known(self) -> Known:
        return self.texts.known

    def recipe(self, text: str, file: str, stem: str | None) -> Recipe:
        read, root = self.reader, compose(text, file, kept=self.acts.kept)
        used = expanded(root, read, find_operation)
        if used is not root:
            root, text = used, written(used)
        entries = read.mapping(root, form.RECIPE)
        name = read.name(entries.get("recipe"), "recipe", DASHED)
        if stem is not None and "recipe" in entries and name and name != stem:
            read.wrong(entries["recipe"], f"the recipe is named '{name}' but its file is named '{stem}'", "use one name for both")
        title = read.text(entries.get("title"), "title")
        needs = read.texts(entries.get("needs"), "needs")
        asks = read.items(entries.get("asks"), "asks")
        read.best(entries.get("asks"), "asks", len(asks), 1, MOST_ASKED)
        start = Section(phrase("Start"), "read-do", tuple(self.step(item, only=form.ASKED) for item in asks))
        sections = self.sections(read.items(entries.get("sections"), "sections"))
        for node, clock in self.known.paces:
            if clock not in self.known.clocks:
                read.wrong(node, f"no clock '{clock}' is started in this recipe", "name the clock of the pots, such as pot_life")
        beyond = Beyond(self.texts, self.whens, self.step)
        sections = (*sections, *beyond.acceptance(entries.get("accept")))
        sources = tuple(self.source(item) for item in read.items(entries.get("sources"), "sources"))
        recipe = Recipe(
            name=name,
            title=title,
            version=read.text(entries.get("version"), "version"),
            date=read.text(entries.get("date"), "date"),
            about=read.text(entries.get("about"), "about"),
            needs=needs,
            sections=(start, *sections),
            sources=sources,
            text=text,
            uses=beyond.uses(entries.get("uses")),
            makes=beyond.makes(entries.get("makes")),
            after=beyond.states(entries.get("after")),
        )
        read.done()
        return replace(recipe, notes=read.notes)

    def source(self, node: Node) -> str:
        entries = self.reader.mapping(node, form.SOURCE)
        mark = self.reader.one_of(entries.get("mark"), "mark", form.MARKS)
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
        if not whole(text):
            return 1  # noted by its form
        if not 1 <= int(text) <= left:
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
            self.known.sums.add(name)
            unit = (item.entries["unit"][1].text or "") if "unit" in item.entries else ""
            try:
                units.dimension(unit)
                self.known.values[name] = unit
            except KeyError:
                self.known.unsure.add(name)

    def section(self, node: Node, *, within: bool, together: int) -> Section:
        read = self.reader
        entries = read.mapping(node, form.SECTION)
        name = read.text(entries.get("section"), "section")
        mode = read.one_of(entries.get("mode"), "mode", form.MODES)
        repeat = None
        if "repeat" in entries:
            parts = read.mapping(entries["repeat"], form.REPEAT)
            if within:
                read.wrong(entries["repeat"], "a repeat inside another", "put a section in no more than one repeat")
            times = self.texts.template(parts.get("times"), "times")
            if times is not None and not whole(times.text):
                times = Template(f"{{{times.text}}}") if not times.references else times
                self.texts.references(parts["times"], times, "")
            until = read.text(entries.get("until"), "until")
            repeat = Repeat(read.text(parts.get("each"), "each"), times or Template("1"), until, together)
        steps = self.steps(entries.get("steps"), name)
        if mode == "do-confirm" and any(isinstance(step.act, Start) and closes(step.act.kind) for step in steps):
            read.wrong(
                entries["mode"],
                f"the section '{name}' starts a DO BEFORE clock",
                "make it read-do: timed work is not done from memory",
            )
        return Section(name, mode or "read-do", steps, repeat, self.texts.quantity_at(entries.get("takes"), "min", "takes"))

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
            read.wrong(last_caution, "a caution comes after the last step", "put it before the step it is about")
        by_hand = sum(not _is_by_itself(step.act) for step in steps)
        if node is not None and node.items is not None and not (steps and by_hand <= MOST_BY_HAND):
            say = read.note if steps else read.wrong
            say(node, f"the section '{section}' has {by_hand} steps worked by hand", "divide it: up to 9 a section")
        return tuple(steps)

    def caution(self, node: Node, signal: Signal) -> Caution:
        read = self.reader
        entries = read.mapping(node, form.CAUTIONS[signal])
        text = read.text(entries.get(signal), signal)
        if signal in entries:
            if words.gives_order(text):
                read.note(
                    entries[signal], "a caution gives an order", "name the hazard and what it can do; make the action a step"
                )
            self.texts.references(entries[signal], Template(text))
            if signal == "NOTICE" and words.alerts(text):
                read.note(
                    entries[signal], "a NOTICE with an alert sign", "remove the sign: it is for injuries, and a NOTICE is not"
                )
        return Caution(signal, Template(text), read.text(entries.get("reason"), "reason"))

    def step(self, node: Node, only: Form | None = None, cautions: tuple[Caution, ...] = ()) -> Step:
        read = self.reader
        kinds = [kind for kind in ACT_WORDS if node.entries is not None and kind in node.entries]
        if len(kinds) != 1 or (only is not None and kinds != ["ask"]):
            plural = "s" if len(kinds) > 1 else ""
            what = f"a step of the kind{plural} {' and '.join(kinds)}" if kinds else "a step of no kind"
            read.wrong(node, what, f"use one of: {'ask' if only is not None else ', '.join(ACT_WORDS)}")
            return Step("", "", Do())
        kind = kinds[0]
        entries = read.mapping(node, only or form.STEPS[kind])
        headline = read.text(entries[kind], kind)
        self.headline(entries[kind], headline)
        if kind == "start" and "clock" in entries and entries["clock"].text:
            self.known.clocks.setdefault(entries["clock"].text, None)  # an earlier turn may have started it
        when = self.whens(entries["when"]) if "when" in entries else ()
        ends = read.name(entries.get("ends"), "ends") or None
        if ends is not None and ends not in self.known.clocks:
            read.wrong(entries["ends"], f"no clock '{ends}' is started earlier", "start it in an earlier step")
        detail = tuple(self.detail(item) for item in read.items(entries.get("detail"), "detail"))
        read.best(entries.get("detail"), "detail", len(detail), 0, 2)
        figures = self.figures(entries.get("figures"))
        act = self.acts.act(kind, node, entries)
        step_id = read.name(entries["id"], "id", DASHED) if "id" in entries else self.free_id(headline)
        if "id" in entries and step_id in self.known.steps:
            read.wrong(entries["id"], f"the id '{step_id}' is used twice", "give each step its own id")
        self.known.steps.add(step_id)
        can_wait, is_quiet = "can_wait" not in entries, "quiet" in entries
        return Step(step_id, headline, act, detail, figures, cautions, when, ends, can_wait, is_quiet, node.line)

    def free_id(self, headline: str) -> str:
        plain = re.sub(r"[^a-z0-9]+", "-", headline.lower()).strip("-") or "step"
        number = 1
        while (candidate := plain if number == 1 else f"{plain}-{number}") in self.known.steps:
            number += 1
        return candidate

    def headline(self, node: Node, text: str) -> None:
        read = self.reader
        if len(text) > HEADLINE or not words.wraps(text):
            read.note(node, f"the headline '{text}' does not fit two lines of 13", "shorten it: it is read from two metres")
        if "{" in text:
            read.wrong(node, f"the headline '{text}' refers to a value", "write it in the detail or as a figure")
        if words.joins_actions(text):
            read.note(node, f"the headline '{text}' holds two actions", "make it two steps")

    def detail(self, node: Node) -> Template:
        text = self.reader.text(node, "detail")
        if words.joins_actions(text):
            self.reader.note(node, f"the detail '{text}' joins actions", "one action per step: no 'then', no ';'")
        template = Template(text)
        self.texts.references(node, template)
        return template

    def figures(self, node: Node | None) -> dict[str, Template]:
        if node is None:
            return {}
        if node.entries is None:
            self.reader.wrong(node, "figures is not a mapping", "write 'label: \"{value}\"'")
            return {}
        if len(node.entries) > 2:
            self.reader.note(node, f"figures has {len(node.entries)} entries", "show 2 or fewer")
        figures = {}
        for key, (key_node, value) in node.entries.items():
            if len(key) > 16:
                self.reader.note(key_node, f"the label '{key}' has {len(key)} characters", "shorten it to 16 or fewer")
            if template := self.texts.template(value, key):
                figures[key] = template
        return figures

    def whens(self, node: Node) -> tuple[When, ...]:
        """Return the conditions of a step, all of which have to hold."""
        found = (self.when(item) for item in (node.items if node.items else (node,)))
        return tuple(when for when in found if when is not None)

    def when(self, node: Node) -> WhenValue | WhenClock | None:
        read, known = self.reader, self.known
        if node.entries is None or not node.entries:
            read.wrong(node, "when is not a mapping", "write {value: key} or {clock: name, is: running}")
            return None
        if "clock" in node.entries:
            entries = read.mapping(node, form.WHEN_CLOCK)
            clock = read.name(entries.get("clock"), "clock")
            if clock and clock not in known.clocks:
                read.wrong(node, f"no clock '{clock}' is started earlier", "start it in an earlier step")
            stands = read.one_of(entries.get("is"), "is", form.STANDS)
            return WhenClock(clock, stands) if stands is not None else None
        if len(node.entries) > 1:
            read.wrong(node, "when holds several values", "write a list of conditions, one value each")
        name, (key, value) = next(iter(node.entries.items()))
        among = read.texts(value, name) if value.items is not None else (read.text(value, name),)
        if "." in name and (known.doubtful(name) or known.values.get(name, "") is None):
            return WhenValue(name, among)  # what a calculator says in words
        if known.doubtful(name):
            return None
        if name not in known.choices:
            read.wrong(key, f"'{name}' is not a choice asked earlier", "write a choice, a calculator's verdict or a clock")
            return None
        for answer in among:
            if answer not in known.choices[name]:
                read.wrong(value, f"'{answer}' is not an answer to '{name}'", f"write one of: {', '.join(known.choices[name])}")
        return WhenValue(name, among)
