"""A recipe with its figures worked out, as Markdown to pin up or to read without a terminal of its own."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import assert_never, cast

from shopmate import units
from shopmate.errors import EntryError, FieldProblem, InputError
from shopmate.project.events.steps import worked_out
from shopmate.project.place import Place
from shopmate.project.run import Held, Run
from shopmate.recipe import (
    Act,
    AnswerKind,
    Ask,
    Between,
    ChoiceAnswer,
    CountAnswer,
    Do,
    Gate,
    Material,
    MeasureAnswer,
    Recipe,
    Section,
    ShelfAnswer,
    Start,
    Step,
    Wait,
    When,
    WhenClock,
    WhenValue,
    WorkOut,
)
from shopmate.result import Figure, Result
from shopmate.session.values import Values, material_values, unit_of
from shopmate.session.viewer import condition, task
from shopmate.session.way import applicable
from shopmate.units import System
from shopmate.written import markdown

_LINE = "______"
"""A line to write on."""
_BLANK = markdown(_LINE)
"""The same in Markdown."""

_MARKS = (
    "Mark each box: `/` begun, `x` done, `o` for later (all of them done before the end), `-` not applicable, with the reason."
)


def sheet(
    recipe: Recipe,
    texts: Mapping[str, str],
    materials: Mapping[str, Material],
    now: datetime,
    system: System = "metric",
    *,
    working: bool = False,
) -> str:
    """Return a recipe with its figures, from the answers `texts` and, for the rest, its defaults.

    With `working` the other figures, the lines of working and the sources of each calculator stand under it too.
    Raises InputError with every answer that is unknown or cannot be taken.
    """
    return _Sheet(recipe, texts, materials, now, system, working).text()


class _Sheet:
    def __init__(
        self,
        recipe: Recipe,
        texts: Mapping[str, str],
        materials: Mapping[str, Material],
        now: datetime,
        system: System,
        working: bool,
    ) -> None:
        self.recipe, self.working = recipe, working
        self.texts = texts
        self.run = Run("sheet", "", recipe, now, Place(0, 1, 0))
        self.values, self.materials, self.now = Values(self.run, system), materials, now
        self.problems: list[FieldProblem] = []
        self.results: list[Result] = []
        self.warned: set[str] = set()
        """Warnings that stand on the sheet: each is said once."""

    def text(self) -> str:
        asks = [act for act in self.recipe.acts if isinstance(act, Ask)]
        known = list(dict.fromkeys(act.into for act in asks))
        for name in self.texts:
            if name not in known:
                self.problems.append(
                    FieldProblem(name, f"'{self.recipe.name}' asks for no such thing", f"it asks: {', '.join(known)}")
                )
        lines = [f"# {markdown(self.recipe.title)}", "", markdown(self.recipe.about), ""]
        lines += [f"Recipe {self.recipe.name}, version {markdown(self.recipe.version)}, {markdown(self.recipe.date)}.", ""]
        lines += [
            "## Needs",
            "",
            *(f"- {markdown(need)}" for need in self.recipe.needs),
            "",
            "## Answers this sheet is worked out for",
            "",
        ]
        lines += [self.answer_line(step) for step in self.recipe.sections[0].steps if self.applies(step)]
        lines += ["", _MARKS]
        shown = 0
        for index, section in enumerate(self.recipe.sections[1:], 1):
            body = self.section(index, section)
            if body:
                shown += 1
                lines += ["", f"## {shown}. {markdown(section.name)}", "", *body, "- [ ] Section complete"]
        if self.problems:
            raise InputError(*self.problems)
        lines += [
            "",
            "- [ ] Recipe complete, nothing left for later",
            "",
            "## Sources",
            "",
            *(f"- {markdown(source)}" for source in self.recipe.sources),
        ]
        for result in self.results if self.working else ():
            lines += [f"- {result.calculator}: {markdown(source)}" for source in result.sources]
        return "\n".join(lines)

    def answer_line(self, step: Step) -> str:
        act = cast("Ask", step.act)
        given = act.into in self.texts
        self.take(act)
        held = self.run.values.get(act.into)
        shown = markdown(str(self.values.shown(act.into))) if held is not None else _BLANK
        return f"- {markdown(step.headline)} ({act.into}): **{shown}**{'' if given else ' (assumed)'}"

    def take(self, act: Ask) -> None:
        """Put an answer among the values: the one given, else the default, else what is expected."""
        text = self.texts.get(act.into, act.default)
        answer = act.answer
        if text is None:
            if isinstance(answer, MeasureAnswer) and answer.near is not None:
                near = self.values.quantity(answer.near.value, answer.unit)
                if near is not None:
                    self.run.values[act.into] = Held(near)
            return
        try:
            self.answer(act.into, answer, text)
        except EntryError as error:
            self.problems.append(FieldProblem(act.into, error.what, error.fix))

    def answer(self, into: str, answer: AnswerKind, text: str) -> None:
        """Put what an answer gives among the values; EntryError for a text that is none."""
        match answer:
            case ChoiceAnswer(choices):
                if text not in choices:
                    raise EntryError(f"'{text}' is not one of the answers", f"give one of: {', '.join(choices)}")
                self.run.values[into] = Held(text, label=choices[text])
            case ShelfAnswer():
                self.material(into, answer, text)
            case MeasureAnswer() | CountAnswer():
                self.values.kind(answer).read(text)
                quantity = units.parse(text, unit_of(answer))
                places = 0 if isinstance(answer, CountAnswer) else None
                self.run.values[into] = Held(quantity, places=places)
            case _:
                assert_never(answer)

    def material(self, into: str, answer: ShelfAnswer, text: str) -> None:
        material = self.materials.get(text)
        if material is None or material.kind != answer.kind:
            names = [item.name for item in self.materials.values() if item.kind == answer.kind]
            raise EntryError(f"the shelf has no {answer.kind} '{text}'", f"give one of: {', '.join(names)}")
        self.run.values.update(material_values(into, material))

    def section(self, index: int, section: Section) -> list[str]:
        self.run.place = Place(index, 1, 0)
        body: list[str] = []
        count = 0
        for step in section.steps:
            if not self.applies(step):
                continue
            count += 1
            body += self.step(count, step)
        repeated = self.recipe.repeated(index)
        if body and repeated is not None:
            together, repeat = repeated
            names = " and ".join(f"'{markdown(self.recipe.sections[one].name)}'" for one in together if one != index)
            times = f"{self.run.turns(index)} times, once each {markdown(repeat.each)}"
            body = [f"{times}{f', in turn with {names}' if names else ''}. {markdown(repeat.until)}", "", *body]
        return body

    def applies(self, step: Step) -> bool:
        """Return whether a step applies by the answers so far; how clocks will stand is not known on paper."""
        return not _is_known(step.when) or applicable(step, self.run, {}, self.now)

    def step(self, count: int, step: Step) -> list[str]:
        lines = [f"**{caution.signal}:** {markdown(self.values.fill(caution.text))}  " for caution in step.cautions]
        # What hangs on an answer is on the sheet only if it applies; how a clock will stand is known at the work.
        when = "" if _is_known(step.when) else condition(self.recipe, step)
        lead = markdown(f"{when[0].upper()}{when[1:]}: ") + " " if when else ""
        lines.append(f"- [ ] {count}. {lead}**{markdown(step.headline)}** ({task(step)})")
        lines += [f"  {markdown(self.values.fill(detail))}" for detail in step.detail]
        lines += [f"  - {markdown(figure.label)}: **{markdown(str(figure.shown))}**" for figure in self.values.figures(step)]
        return lines + self.act(step.act)

    def act(self, act: Act) -> list[str]:
        """Return what stands under a step by what it does."""
        match act:
            case Do():
                return []
            case Ask():
                self.take(act)
                shown = self.values.shown(act.into)
                expected = f" (expected {markdown(str(shown))})" if shown is not None else ""
                return [f"  - {act.into.replace('_', ' ')}: {_BLANK}{expected}"]
            case WorkOut():
                return self.work_out(act)
            case Gate():
                return self.gate(act)
            case Start():
                length = self.values.quantity(act.time, "min")
                time = str(self.values.display(length)) if length is not None else _BLANK
                return [
                    f"  - {act.kind}, {time} from now: {markdown(act.action)}. Started {_BLANK}, due {_BLANK}",
                    f"  - If late: {markdown(act.if_late)}",
                ]
            case Wait():
                return ["  - Hold point: go on when the clock is due."]
            case _:
                assert_never(act)

    def work_out(self, act: WorkOut) -> list[str]:
        try:
            result = self.values.result(act)
        except InputError as error:
            return [f"  - not worked out: {markdown(str(problem))}" for problem in error.problems]
        self.run.values.update(worked_out(act.into, result))
        read = self.values.presented(act, result)
        lines = [self.figure(act, figure) for figure in read.head]
        lines += [f"  - Note: {markdown(warning)}" for warning in read.warnings if self.working or warning not in self.warned]
        self.warned.update(read.warnings)
        if self.working:
            lines += [self.figure(act, figure) for figure in read.others]
            lines += [f"  - {markdown(line)}" for line in read.working]
        if result.calculator not in [kept.calculator for kept in self.results]:
            self.results.append(result)
        return lines

    def figure(self, act: WorkOut, figure: Figure) -> str:
        large = "**" if figure.name in act.show else ""
        return f"  - {markdown(figure.label)}: {large}{markdown(str(figure.shown))}{large}"

    def gate(self, act: Gate) -> list[str]:
        lines: list[str] = []
        match act.by:
            case WorkOut():
                lines = self.work_out(act.by)
                passes = ", ".join(f"{name} {' or '.join(words)}" for name, words in act.go.items())
            case Between(_, low, high):
                limits = (("at least", low), ("at most", high))
                passes = " and ".join(f"{word} {limit.fill(self.values.shown, _LINE)}" for word, limit in limits if limit)
            case ChoiceAnswer(choices):
                passes = " or ".join(choices[key] for key in act.go[""])
            case _:
                assert_never(act.by)
        return [*lines, f"  - Hold point: passes with {markdown(passes)}. Else: {markdown(act.if_no)}"]


def _is_known(when: When | None) -> bool:
    """Return whether it is known on paper if a step applies; how a clock will stand is known at the work."""
    match when:
        case None | WhenValue():
            return True
        case WhenClock():
            return False
        case _:
            assert_never(when)
