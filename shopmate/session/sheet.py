"""A recipe in full, with all figures worked out, as Markdown to read away from the terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import assert_never, cast

from shopmate.errors import InputError
from shopmate.project.place import Place
from shopmate.recipe import (
    Act,
    Ask,
    Between,
    ChoiceAnswer,
    Do,
    Gate,
    Material,
    Recipe,
    Section,
    Start,
    Step,
    Wait,
    WorkOut,
)
from shopmate.result import Figure, Result
from shopmate.session.draft import Draft
from shopmate.session.needs import needs, shown, shown_span, time_ahead
from shopmate.session.viewer import by_clock, condition, task
from shopmate.units import System
from shopmate.written import markdown

_LINE = "______"
"""A line to write on."""
_BLANK = markdown(_LINE)
"""That line in Markdown."""

_MARKS = (
    "Mark each box: `/` begun, `x` done, `o` for later (all of them done before the end), `-` not applicable, with the reason."
)


def sheet(
    recipe: Recipe,
    texts: Mapping[str, str],
    materials: Mapping[str, Material],
    now: datetime,
    system: System = "metric",
) -> str:
    """Return a recipe with its figures and their working, from the answers `texts` and, for the rest, its defaults.

    Raises InputError with every answer that is unknown or not valid.
    """
    return _Sheet(recipe, texts, materials, now, system).text()


class _Sheet(Draft):
    """A draft of the recipe, written out while it is worked through."""

    def __init__(
        self,
        recipe: Recipe,
        texts: Mapping[str, str],
        materials: Mapping[str, Material],
        now: datetime,
        system: System,
    ) -> None:
        super().__init__(recipe, texts, materials, now, system)
        self.results: list[Result] = []

    def text(self) -> str:
        self.problems += self.unknown_answers()
        answers = [self.answer_line(step) for step in self.recipe.sections[0].steps if self.applies(step)]
        lines: list[str] = []
        shown = 0
        for index, section in enumerate(self.recipe.sections[1:], 1):
            body = self.section(index, section)
            if body:
                shown += 1
                lines += ["", f"## {shown}. {markdown(section.name)}", "", *body, "- [ ] Section complete"]
        if self.problems:
            raise InputError(*self.problems)
        lines = [*self.head(answers), *lines]
        lines += [
            "",
            "- [ ] Recipe complete, nothing left for later",
            "",
            "## Sources",
            "",
            *(f"- {markdown(source)}" for source in self.recipe.sources),
        ]
        for result in self.results:
            lines += [f"- {result.calculator}: {markdown(source)}" for source in result.sources]
        return "\n".join(lines)

    def head(self, answers: Sequence[str]) -> Iterator[str]:
        """Yield what comes before the sections: what the recipe is, what it needs, and the answers it is worked out for."""
        recipe = self.recipe
        yield from (f"# {markdown(recipe.title)}", "", markdown(self.values.said(recipe.about)), "")
        yield from (f"Recipe {recipe.name}, version {markdown(recipe.version)}, {markdown(recipe.date)}.", "")
        for word, states in (("After", ", ".join(recipe.after)), ("Makes", recipe.makes)):
            if states:
                yield from (f"{word}: {markdown(states)}.", "")
        self.run.place = Place(0, 1, 0)
        if time := shown_span(time_ahead(self.values, {}, self.now)):
            yield from (f"Time: {markdown(time)}.", "")
        yield from ("## Needs", "")
        yield from (f"- **{markdown(shown(used, self.values))}**" for used in needs(self.values))
        yield from (f"- {markdown(self.values.said(need))}" for need in recipe.needs)
        yield from ("", "## Answers this sheet is worked out for", "", *answers, "", _MARKS)

    def answer_line(self, step: Step) -> str:
        act = cast("Ask", step.act)
        given = act.into in self.texts
        self.take(act)
        held = self.run.values.get(act.into)
        shown = markdown(str(self.values.shown(act.into))) if held is not None else _BLANK
        return f"- {markdown(self.values.said(step.headline))} ({act.into}): **{shown}**{'' if given else ' (assumed)'}"

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
            body = [f"{times}{f', in turn with {names}' if names else ''}. {markdown(self.values.said(repeat.until))}", "", *body]
        return body

    def step(self, count: int, step: Step) -> list[str]:
        lines = [f"**{caution.signal}:** {markdown(self.values.fill(caution.text))}  " for caution in step.cautions]
        # What hangs on an answer is on the sheet only if it applies; how a clock will stand is known at the work.
        when = self.values.said(condition(self.recipe, by_clock(step)))
        lead = markdown(f"{when[0].upper()}{when[1:]}: ") + " " if when else ""
        lines.append(f"- [ ] {count}. {lead}**{markdown(self.values.said(step.headline))}** ({task(step)})")
        lines += [f"  {markdown(self.values.fill(detail))}" for detail in step.detail]
        lines += [f"  - {markdown(figure.label)}: **{markdown(str(figure.shown))}**" for figure in self.values.figures(step)]
        return lines + self.act(step.act)

    def act(self, act: Act) -> list[str]:
        """Return the lines under a step, according to what it does."""
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
                    f"  - {act.kind}, {time} from now: {markdown(self.values.said(act.action))}. Started {_BLANK}, due {_BLANK}",
                    f"  - If late: {markdown(self.values.said(act.if_late))}",
                    *([f"  - If it spills: **WARNING:** {markdown(self.values.fill(act.spilled.text))}"] if act.spilled else []),
                ]
            case Wait():
                return ["  - Hold point: go on when the clock is due."]
            case _:
                assert_never(act)

    def work_out(self, act: WorkOut) -> list[str]:
        try:
            result = self.result(act)
        except InputError as error:
            return [f"  - not worked out: {markdown(str(problem))}" for problem in error.problems]
        read = self.values.presented(act, result)
        lines = [self.figure(act, figure) for figure in read.head]
        lines += [f"  - Note: {markdown(warning)}" for warning in read.warnings]
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
                limits = ((low, "or more"), (high, "or less"))
                passes = " and ".join(f"{self.values.fill(limit, _LINE)} {words}" for limit, words in limits if limit)
            case ChoiceAnswer():
                passes = " or ".join(self.values.choices(act.by)[key] for key in act.go[""])
            case _:
                assert_never(act.by)
        return [*lines, f"  - Hold point: passes with {markdown(passes)}. Else: {markdown(self.values.said(act.if_no))}"]
