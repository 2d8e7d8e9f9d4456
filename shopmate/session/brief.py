"""A recipe on two pages: boxes to tick, figures to go by, cautions in their place, and lines to write on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime
from textwrap import wrap
from typing import assert_never

from shopmate.errors import InputError
from shopmate.project.place import Place
from shopmate.recipe import (
    Ask,
    Between,
    ChoiceAnswer,
    Do,
    Gate,
    Material,
    MeasureAnswer,
    Recipe,
    Section,
    Start,
    Step,
    Template,
    Wait,
    WorkOut,
)
from shopmate.session.draft import Draft
from shopmate.session.needs import needs, shown, shown_span, time_ahead
from shopmate.session.values import large
from shopmate.units import System
from shopmate.written import markdown

WIDTH = 100
"""Columns of a line."""

_LINE, _BOX = "…………", "☐"


def brief(
    recipe: Recipe, texts: Mapping[str, str], materials: Mapping[str, Material], now: datetime, system: System = "metric"
) -> str:
    """Return a recipe in brief, from the answers `texts` and, for the rest, its defaults.

    Raises InputError with every answer that is unknown or cannot be taken.
    """
    return "\n".join(_Brief(recipe, texts, materials, now, system).lines())


class _Brief(Draft):
    """A draft that is written down in brief as it is worked through."""

    def __init__(
        self, recipe: Recipe, texts: Mapping[str, str], materials: Mapping[str, Material], now: datetime, system: System
    ) -> None:
        super().__init__(recipe, texts, materials, now, system)
        self.cautioned: set[str] = set()
        """Cautions that stand on the sheet: each is said once."""

    def lines(self) -> Iterator[str]:
        """Yield all lines."""
        self.problems += self.unknown_answers()
        start, *sections = self.recipe.sections
        answers = [f"{markdown(step.headline)} **{self.answered(step)}**" for step in start.steps if self.applies(step)]
        bodies = [text for index, section in enumerate(sections, 1) if (text := self.section(index, section))]
        if self.problems:
            raise InputError(*self.problems)
        yield from self.head(answers)
        for number, text in enumerate(bodies, 1):
            yield from _wrapped(number, text)
        end = f"Every word, the working and the sources: shopmate sheet {self.recipe.name} --working"
        yield from ("", *wrap(markdown(f"The data sheets in hand override this sheet. {end}"), WIDTH))

    def head(self, answers: list[str]) -> Iterator[str]:
        """Yield what it is, what it takes and the answers it is worked out for."""
        recipe = self.recipe
        yield f"# {markdown(recipe.title)}"
        yield ""
        self.run.place = Place(0, 1, 0)
        time = shown_span(time_ahead(self.values, {}, self.now))
        told = (
            f"{recipe.name} {markdown(recipe.version)}, {markdown(recipe.date)}", "Part ………………………… Begun …………………………",
            *((f"After: {markdown(', '.join(recipe.after))}",) if recipe.after else ()),
            *((f"Makes: {markdown(recipe.makes)}",) if recipe.makes else ()),
            *((f"Time: {markdown(time)}",) if time else ()),
        )  # fmt: skip
        yield from wrap(". ".join(told) + ".", WIDTH)
        yield ""
        used = (f"**{markdown(shown(need, self.values))}**" for need in needs(self.values))
        yield from wrap(f"Needs: {'; '.join((*used, *map(markdown, recipe.needs)))}.", WIDTH)
        yield ""
        yield from wrap(f"For: {'; '.join(answers)}.", WIDTH)

    def answered(self, step: Step) -> str:
        """Return the answer that the sheet is worked out for, a line to write on where there is none."""
        assert isinstance(step.act, Ask)
        self.take(step.act)
        return markdown(self.values.shown(step.act.into) or _LINE)

    def section(self, index: int, section: Section) -> str:
        """Return a section in one paragraph, '' where nothing of it applies."""
        self.run.place = Place(index, 1, 0)
        told = [text for step in section.steps if self.applies(step) and (text := self.step(section, step))]
        if not told:
            return ""
        repeated = self.recipe.repeated(index)
        times = f" ({self.run.turns(index)} ×, each {repeated[1].each})" if repeated is not None else ""
        return f"**{markdown(section.name)}{times}** {'  '.join(told)}"

    def step(self, section: Section, step: Step) -> str:
        """Return a step in brief, after what it warns of."""
        new = (one for one in step.cautions if self.is_new(one.text.text))
        cautions = [f"**{one.signal}:** {markdown(self.values.fill(one.text))}" for one in new]
        figures = ", ".join(f"{figure.label} {figure.shown}" for figure in self.values.figures(step))
        told = self.act(section, step)
        figures = f" ({markdown(figures)})" if figures and told else ""
        return "  ".join(filter(None, (*cautions, f"{told}{figures}" if told else "")))

    def is_new(self, caution: str) -> bool:
        """Return whether a caution does not stand on the sheet yet, and note it."""
        is_new = caution not in self.cautioned
        self.cautioned.add(caution)
        return is_new

    def act(self, section: Section, step: Step) -> str:
        """Return a step by what it does; '' for a limit that stands beside its answer."""
        act, name = step.act, markdown(step.headline)
        match act:
            case Do():
                return f"{_BOX} {name}"
            case Ask():
                self.take(act)
                unit = f" {act.answer.unit}" if isinstance(act.answer, MeasureAnswer) else ""
                return f"{_BOX} {name} {_LINE}{unit}{self.limits(section, act.into)}"
            case WorkOut():
                return self.worked_out(act, name)
            case Gate():
                return self.gate(section, act, name)
            case Start():
                length = self.values.quantity(act.time, "min")
                time = self.values.display(length) if length is not None else _LINE
                return f"{_BOX} {markdown(act.title)}: {act.kind} {markdown(str(time))} → {_LINE}"
            case Wait():
                return f"{_BOX} {name}"
            case _:
                assert_never(act)

    def gate(self, section: Section, act: Gate, name: str) -> str:
        """Return a hold point by what judges it."""
        match act.by:
            case WorkOut():
                return f"{_BOX} {self.worked_out(act.by, name) or name}"
            case Between(value, low, high):
                is_beside = self.is_asked(section, value.lone_reference or "")
                return "" if is_beside else f"{_BOX} {name}{self.between(low, high)}"
            case ChoiceAnswer(choices):
                return f"{_BOX} {name} ({markdown(' / '.join(choices[key] for key in act.go['']))})"
            case _:
                assert_never(act.by)

    def worked_out(self, act: WorkOut, name: str) -> str:
        """Return the figures of a calculator that its step shows, '' where they are not worked out."""
        try:
            result = self.result(act)
        except InputError:
            return ""
        figures = large(act, self.values.presented(act, result))
        return f"{name}: **{markdown(', '.join(str(figure.shown) for figure in figures))}**"

    def limits(self, section: Section, name: str) -> str:
        """Return the limits of an answer that a hold point of its section holds it to."""
        found = (step.act.by for step in section.steps if isinstance(step.act, Gate) and self.applies(step))
        mine = (by for by in found if isinstance(by, Between) and by.value.lone_reference == name)
        return "".join(self.between(by.low, by.high) for by in mine)

    def is_asked(self, section: Section, name: str) -> bool:
        """Return whether an answer of that name is asked for in the section."""
        return any(isinstance(step.act, Ask) and step.act.into == name and self.applies(step) for step in section.steps)

    def between(self, low: Template | None, high: Template | None) -> str:
        """Return limits in brief."""
        least, most = (markdown(limit.fill(self.values.shown, _LINE)) if limit is not None else "" for limit in (low, high))
        if least and most:
            return f" ({least} to {most})"
        return f" ({f'{least} or more' if least else f'up to {most}'})" if least or most else ""


def _wrapped(number: int, text: str) -> list[str]:
    """Return a section with its number, a blank line before it."""
    return ["", *wrap(f"**{number}** {text}", WIDTH, break_long_words=False, break_on_hyphens=False)]
