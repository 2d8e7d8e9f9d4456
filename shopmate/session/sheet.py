"""A recipe with its figures worked out, as Markdown to pin up or to read without a terminal of its own."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import cast

from shopmate import units
from shopmate.errors import EntryError, FieldProblem, InputError
from shopmate.recipe import (
    Ask,
    Between,
    ChoiceAnswer,
    CountAnswer,
    Gate,
    Material,
    MeasureAnswer,
    Recipe,
    Section,
    ShelfAnswer,
    Start,
    Step,
    Wait,
    WhenClock,
    WhenValue,
    WorkOut,
)
from shopmate.result import Figure, Result
from shopmate.session.events import worked_out
from shopmate.session.place import Place
from shopmate.session.project import Project
from shopmate.session.run import Held, Run
from shopmate.session.view import Viewer, condition, material_values, task
from shopmate.units import System

_BLANK = "\\_\\_\\_\\_\\_\\_"
"""A line to write on."""

_MARKS = (
    "Mark each box: `/` begun, `x` done, `o` for later (all of them done before the end), `-` not applicable, with the reason."
)


def sheet(
    recipe: Recipe, texts: Mapping[str, str], materials: Mapping[str, Material], now: datetime, system: System = "metric"
) -> str:
    """Return a recipe with its figures, from the answers `texts` and, for the rest, its defaults.

    Raises InputError with every answer that is unknown or cannot be taken.
    """
    return _Sheet(recipe, texts, materials, now, system).text()


class _Sheet:
    def __init__(
        self, recipe: Recipe, texts: Mapping[str, str], materials: Mapping[str, Material], now: datetime, system: System
    ) -> None:
        self.recipe = recipe
        self.texts = texts
        self.run = Run("sheet", "", recipe, now, Place(0, 1, 0))
        self.viewer = Viewer(Project(recipe.title, system=system), self.run, materials, now)
        self.problems: list[FieldProblem] = []
        self.results: list[Result] = []

    def text(self) -> str:
        asks = [step.act for section in self.recipe.sections for step in section.steps if isinstance(step.act, Ask)]
        known = list(dict.fromkeys(act.into for act in asks))
        for name in self.texts:
            if name not in known:
                self.problems.append(
                    FieldProblem(name, f"'{self.recipe.name}' asks for no such thing", f"it asks: {', '.join(known)}")
                )
        lines = [f"# {self.recipe.title}", "", self.recipe.about, ""]
        lines += [f"Recipe {self.recipe.name}, version {self.recipe.version}, {self.recipe.date}.", ""]
        lines += ["## Needs", "", *(f"- {need}" for need in self.recipe.needs), "", "## Answers this sheet is worked out for", ""]
        lines += [self.answer_line(step) for step in self.recipe.sections[0].steps if self.applies(step)]
        lines += ["", _MARKS]
        shown = 0
        for index, section in enumerate(self.recipe.sections[1:], 1):
            body = self.section(index, section)
            if body:
                shown += 1
                lines += ["", f"## {shown}. {section.name}", "", *body, "- [ ] Section complete"]
        if self.problems:
            raise InputError(*self.problems)
        lines += [
            "",
            "- [ ] Recipe complete, nothing left for later",
            "",
            "## Sources",
            "",
            *(f"- {source}" for source in self.recipe.sources),
        ]
        for result in self.results:
            lines += [f"- {result.calculator}: {source}" for source in result.sources]
        return "\n".join(lines)

    def answer_line(self, step: Step) -> str:
        act = cast("Ask", step.act)
        given = act.into in self.texts
        self.take(act)
        held = self.run.values.get(act.into)
        shown = self.viewer.shown(act.into) if held is not None else _BLANK
        return f"- {step.headline} ({act.into}): **{shown}**{'' if given else ' (assumed)'}"

    def take(self, act: Ask) -> None:
        """Put an answer among the values: the one given, else the default, else what is expected."""
        text = self.texts.get(act.into, act.default)
        answer = act.answer
        if text is None:
            if isinstance(answer, MeasureAnswer) and answer.near is not None:
                near = self.viewer.quantity(answer.near.value, answer.unit)
                if near is not None:
                    self.run.values[act.into] = Held(near)
            return
        try:
            if isinstance(answer, ChoiceAnswer):
                if text not in answer.choices:
                    raise EntryError(f"'{text}' is not one of the answers", f"give one of: {', '.join(answer.choices)}")
                self.run.values[act.into] = Held(text, label=answer.choices[text])
            elif isinstance(answer, ShelfAnswer):
                self.material(act, answer, text)
            else:
                kind, unit = self.viewer.limits(answer)
                kind.read(text)
                quantity = units.parse(text, unit)
                self.run.values[act.into] = Held(quantity, places=0 if isinstance(answer, CountAnswer) else None)
        except EntryError as error:
            self.problems.append(FieldProblem(act.into, error.what, error.fix))

    def material(self, act: Ask, answer: ShelfAnswer, text: str) -> None:
        material = self.viewer.shelf.get(text)
        if material is None or material.kind != answer.kind:
            names = [item.name for item in self.viewer.shelf.values() if item.kind == answer.kind]
            raise EntryError(f"the shelf has no {answer.kind} '{text}'", f"give one of: {', '.join(names)}")
        self.run.values.update(material_values(act.into, material))

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
            names = " and ".join(f"'{self.recipe.sections[one].name}'" for one in together if one != index)
            times = f"{self.run.turns(index)} times, once each {repeat.each}"
            body = [f"{times}{f', in turn with {names}' if names else ''}. {repeat.until}", "", *body]
        return body

    def applies(self, step: Step) -> bool:
        """Return whether a step applies by the answers so far; how clocks will stand is not known on paper."""
        if not isinstance(step.when, WhenValue):
            return True
        held = self.run.values.get(step.when.value)
        return held is not None and held.text in step.when.among

    def step(self, count: int, step: Step) -> list[str]:
        lines = [f"**{caution.signal}:** {self.viewer.fill(caution.text)}  " for caution in step.cautions]
        # What hangs on an answer is on the sheet only if it applies; how a clock will stand is known at the work.
        when = condition(self.recipe, step) if isinstance(step.when, WhenClock) else ""
        lead = f"{when[0].upper()}{when[1:]}: " if when else ""
        lines.append(f"- [ ] {count}. {lead}**{step.headline}** ({task(step)})")
        lines += [f"  {self.viewer.fill(detail)}" for detail in step.detail]
        lines += [f"  - {figure.label}: **{figure.shown}**" for figure in self.viewer.figures(step)]
        act = step.act
        if isinstance(act, Ask):
            self.take(act)
            shown = self.viewer.shown(act.into)
            expected = f" (expected {shown})" if shown is not None else ""
            lines.append(f"  - {act.into.replace('_', ' ')}: {_BLANK}{expected}")
        elif isinstance(act, WorkOut):
            lines += self.work_out(act)
        elif isinstance(act, Gate):
            lines += self.gate(act)
        elif isinstance(act, Start):
            length = self.viewer.quantity(act.time, "min")
            time = str(self.viewer.display(length)) if length is not None else _BLANK
            lines += [
                f"  - {act.kind}, {time} from now: {act.action}. Started {_BLANK}, due {_BLANK}",
                f"  - If late: {act.if_late}",
            ]
        elif isinstance(act, Wait):
            lines.append("  - Hold point: go on when the clock is due.")
        return lines

    def work_out(self, act: WorkOut) -> list[str]:
        try:
            result = self.viewer.result(act)
        except InputError as error:
            return [f"  - not worked out: {problem}" for problem in error.problems]
        self.run.values.update(worked_out(act.into, result))
        read = self.viewer.presented(act, result)
        lines = [self.figure(act, figure) for figure in read.head]
        lines += [f"  - Note: {warning}" for warning in read.warnings]
        lines += [self.figure(act, figure) for figure in read.others]
        lines += [f"  - {line}" for line in read.working]
        if result.calculator not in [kept.calculator for kept in self.results]:
            self.results.append(result)
        return lines

    def figure(self, act: WorkOut, figure: Figure) -> str:
        large = "**" if figure.name in act.show else ""
        return f"  - {figure.label}: {large}{figure.shown}{large}"

    def gate(self, act: Gate) -> list[str]:
        lines: list[str] = []
        if isinstance(act.by, WorkOut):
            lines = self.work_out(act.by)
            passes = ", ".join(f"{name} {' or '.join(words)}" for name, words in act.go.items())
        elif isinstance(act.by, Between):
            low, high = (
                limit.fill(self.viewer.shown, _BLANK) if limit is not None else "" for limit in (act.by.low, act.by.high)
            )
            passes = " and ".join(text for text in (f"at least {low}" if low else "", f"at most {high}" if high else "") if text)
        else:
            passes = " or ".join(act.by.choices[key] for key in act.go[""])
        return [*lines, f"  - Hold point: passes with {passes}. Else: {act.if_no}"]
