"""A recipe on two pages: boxes to tick, figures to work to, cautions where they apply, and lines to write on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime
from textwrap import wrap
from typing import assert_never

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
    MeasureAnswer,
    Recipe,
    Section,
    Start,
    Step,
    Template,
    Wait,
    WhenValue,
    WorkOut,
)
from shopmate.session.draft import Draft
from shopmate.session.judging import value_names
from shopmate.session.needs import needs, shown, shown_span, time_ahead
from shopmate.session.values import large
from shopmate.session.viewer import by_clock, condition
from shopmate.units import System, own_unit, written
from shopmate.written import markdown

WIDTH = 100
"""Width of a line in columns."""

SPELLED_WIDTH = 106
"""The same where signs are spelled out, which makes a line longer: the sheet stays on its two pages."""

_STAYS = "\N{NO-BREAK SPACE}"
"""A space at which no line is broken; no recipe contains it."""

_LINE, _BOX = "…………", f"☐{_STAYS}"

_SPELLED_LINE = "......"
"""A line to write on in seven bits, where each sign of the other would become three points."""


def brief(
    recipe: Recipe,
    texts: Mapping[str, str],
    materials: Mapping[str, Material],
    now: datetime,
    system: System = "metric",
    spell: Callable[[str], str] = str,
) -> str:
    """Return a recipe in brief, from the answers `texts` and, for the rest, its defaults.

    `spell` writes a text in characters that the output can show; lines are broken after that. Raises InputError with every
    answer that is unknown or not valid.
    """
    paragraphs = _Brief(recipe, texts, materials, now, system).paragraphs()
    width = WIDTH if spell(_BOX) == _BOX else SPELLED_WIDTH
    return "\n".join(line for hang, text in paragraphs for line in _lines(spell(text), hang, width))


class _Brief(Draft):
    """A draft of the recipe, written out in brief while it is worked through."""

    def __init__(
        self, recipe: Recipe, texts: Mapping[str, str], materials: Mapping[str, Material], now: datetime, system: System
    ) -> None:
        super().__init__(recipe, texts, materials, now, system)
        self.told: set[str] = set()
        """Cautions and remedies already on the page: each is given once."""
        self.last: dict[str, str] = {}
        """The figure last expected under each headline: it is given again only when it changes."""
        self.here: set[str] = set()
        """Figures already in the section."""
        self.expected: set[str] = set()
        """Values that have no reading yet, and values worked out from them."""

    def paragraphs(self) -> Iterator[tuple[int, str]]:
        """Yield all paragraphs, each with the indent of its second and later lines; an empty paragraph is a blank line."""
        self.problems += self.unknown_answers()
        start, *sections = self.recipe.sections
        answers = [f"{self.name(step)} **{self.answered(step)}**" for step in start.steps if self.applies(step)]
        bodies = [text for index, section in enumerate(sections, 1) if (text := self.section(index, section))]
        if self.problems:
            raise InputError(*self.problems)
        yield from ((0, text) for text in self.head(answers))
        yield 0, ""
        for number, text in enumerate(bodies, 1):
            yield len(lead := f"{number}. "), f"{lead}{text}"
        yield 0, ""
        end = f"Every word, working and source: shopmate sheet {self.recipe.name} --working"
        yield 0, markdown(f"Data sheets override this sheet. {end}")

    def head(self, answers: list[str]) -> Iterator[str]:
        """Yield what the recipe is, what it needs and the answers it is worked out for, paragraph by paragraph."""
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
        yield ". ".join(told) + "."
        yield ""
        used = (f"**{markdown(shown(need, self.values))}**" for need in needs(self.values))
        yield f"Needs: {'; '.join((*used, *map(self.said, recipe.needs)))}."
        yield ""
        yield f"For: {'; '.join(answers)}."

    def answered(self, step: Step) -> str:
        """Return the answer that the page is worked out for, or a line to write on if there is none."""
        assert isinstance(step.act, Ask)
        self.take(step.act)
        return markdown(self.values.shown(step.act.into) or _LINE)

    def section(self, index: int, section: Section) -> str:
        """Return a section in one paragraph, '' if no step of it applies."""
        self.run.place = Place(index, 1, 0)
        self.here, told, open_until = set(), [], ""
        for at, step in enumerate(section.steps):
            # Asked at each step in turn, as a step may hang on an answer of this section.
            if not self.applies(step):
                continue
            when = self.when(step)
            # A condition that holds to the end of the section is given at the first of its steps.
            text = self.step(section, step, when if when != open_until else "")
            told += [text] if text else []
            open_until = when if all(self.when(later) == when for later in section.steps[at:] if self.applies(later)) else ""
        if not told:
            return ""
        repeated = self.recipe.repeated(index)
        times = f" ({self.run.turns(index)} ×, each {repeated[1].each})" if repeated is not None else ""
        return f"**{markdown(section.name)}{times}** {'  '.join(told)}"

    def when(self, step: Step) -> str:
        """Return the condition on a clock that a step depends on, '' if none."""
        return self.said(condition(self.recipe, by_clock(step)))

    def step(self, section: Section, step: Step, when: str) -> str:
        """Return a step in brief, after its cautions, with the condition `when` it is done."""
        spilled = step.act.spilled if isinstance(step.act, Start) else None
        new = (one for one in (*step.cautions, *([spilled] if spilled is not None else [])) if self.is_new(one.text.text))
        cautions = [f"**{one.signal}:** {markdown(self.values.fill(one.text))}" for one in new]
        figures = ", ".join(f"{figure.label} {figure.shown}" for figure in self.values.figures(step))
        told = self.act(section, step)
        if told and when:
            told = f"{markdown(when[0].upper() + when[1:])}: {told}"
        if told and figures and figures not in self.here:
            told = f"{told} ({self.foreseen(step.figures.values())}{markdown(figures)})"
        self.here |= {figures, *(str(figure.shown) for figure in self.values.figures(step))}
        if told:
            told += "".join(self.remedies(section, step.act))
        return "  ".join(filter(None, (*cautions, told)))

    def name(self, step: Step) -> str:
        """Return the headline of a step."""
        return self.said(step.headline)

    def said(self, text: str) -> str:
        """Return a text of the recipe in the units of the page."""
        return markdown(self.values.said(text))

    def foreseen(self, templates: Iterable[Template]) -> str:
        """Return what goes before a figure that depends on a reading still to be taken, '' before any other figure."""
        return "expected " if value_names(templates) & self.expected else ""

    def is_new(self, words: str) -> bool:
        """Return whether a caution or a remedy is not on the page yet, and remember it."""
        is_new = words not in self.told
        self.told.add(words)
        return is_new

    def changes(self, name: str, expected: str) -> bool:
        """Return whether the figure expected under a headline differs from the last one there, and note it."""
        before, self.last[name] = self.last.get(name), expected
        return before != expected

    def act(self, section: Section, step: Step) -> str:
        """Return a step by what it does; '' for a limit shown beside its answer, and for a plan already given."""
        act, name = step.act, self.name(step)
        match act:
            case Do():
                return f"{_BOX}{name}"
            case Ask():
                return f"{_BOX}{name} {_LINE}{self.reading(step, act)}{self.limits(section, act.into)}"
            case WorkOut():
                return self.noted(act) if self.decides(act) or self.stands(section, act) else self.worked_out(act, name)
            case Gate():
                return self.gate(section, act, name)
            case Start():
                length = self.values.quantity(act.time, "min")
                time = markdown(str(self.values.display(length))) if length is not None else _LINE
                return f"{_BOX}{self.said(act.title)}: {act.kind} {self.foreseen((act.time,))}{time} → {_LINE}"
            case Wait():
                return f"{_BOX}{name}"
            case _:
                assert_never(act)

    def reading(self, step: Step, act: Ask) -> str:
        """Return the unit of an answer and, if it was not given, what is expected, unless a figure of the step says so."""
        self.take(act)
        held, expected = self.run.value(act.into), ""
        if act.into not in self.texts and held is not None:
            self.expected.add(act.into)
            near = act.answer.near if isinstance(act.answer, MeasureAnswer) else None
            if near is None or near.value not in step.figures.values():
                expected = f" (expected {markdown(str(self.values.shown(act.into)))})"
                expected = expected if self.changes(self.name(step), expected) else ""
        unit = f" {written(own_unit(act.answer.unit, self.values.system))}" if isinstance(act.answer, MeasureAnswer) else ""
        return f"{unit}{expected}"

    def gate(self, section: Section, act: Gate, name: str) -> str:
        """Return a hold point according to how it is judged."""
        match act.by:
            case WorkOut():
                told = self.worked_out(act.by, name)
                # One that is judged anew at each turn says at the first what its plan said.
                is_new = self.is_new(f"{act.by.into}{told.removeprefix(name)}")
                return f"{_BOX}{told}" if is_new else ""
            case Between(value, low, high):
                is_beside = self.is_asked(section, value.lone_reference or "")
                return "" if is_beside else f"{_BOX}{name}{self.between(low, high)}"
            case ChoiceAnswer():
                return f"{_BOX}{name} ({' / '.join(self.values.choices(act.by)[key] for key in act.go[''])})"
            case _:
                assert_never(act.by)

    def remedies(self, section: Section, act: Act) -> Iterator[str]:
        """Yield what to do if a hold point stays shut, or one that limits an answer, unless already said."""
        gates = [act] if isinstance(act, Gate) else self.held_to(section, act.into) if isinstance(act, Ask) else []
        yield from (f" Else: {self.said(gate.if_no)}" for gate in gates if self.is_new(gate.if_no))

    def worked_out(self, act: WorkOut, name: str) -> str:
        """Return the figures of a calculator that its step shows, or a line to write on if they are not worked out."""
        try:
            result = self.result(act)
        except InputError:
            return f"{name}: {_LINE}"
        found = list(large(act, self.values.presented(act, result)))
        # One alone is what the step is named for.
        figures = ", ".join(f"{one.label} {one.shown}" if len(found) > 1 else str(one.shown) for one in found)
        stands = figures in self.here
        self.here.add(figures)
        if not (foreseen := self.foreseen(act.given.values())):
            return f"{name}: **{markdown(figures)}**"
        self.expected.add(act.into)
        # A figure expected above is not given again: the line is for what the reading gives.
        is_new = self.changes(name, figures) and not stands
        return f"{name}: {_LINE} ({foreseen}{markdown(figures)})" if is_new else f"{name}: {_LINE}"

    def stands(self, section: Section, act: WorkOut) -> bool:
        """Return whether a clock or a figure of a step in the section gives all that a calculator's step shows."""
        try:
            found = [one.shown for one in large(act, self.values.presented(act, self.result(act)))]
        except InputError:
            return False
        steps = [step for step in section.steps if self.applies(step)]
        given = {str(figure.shown) for step in steps for figure in self.values.figures(step)}
        clocks = (self.values.quantity(step.act.time, "min") for step in steps if isinstance(step.act, Start))
        given |= {str(self.values.display(length)) for length in clocks if length is not None}
        # A bare number is like any other.
        return all(one.unit and str(one) in given for one in found)

    def decides(self, act: WorkOut) -> bool:
        """Return whether a calculator only says which steps come next: on paper the limits of the reading say it."""
        conditions = (when for step in self.recipe.steps for when in step.when if isinstance(when, WhenValue))
        return any(when.into == act.into for when in conditions)

    def noted(self, act: WorkOut) -> str:
        """Note what a step works out that other steps give; it needs no words of its own."""
        if self.foreseen(act.given.values()):
            self.expected.add(act.into)
        return ""

    def limits(self, section: Section, name: str) -> str:
        """Return the limits that a hold point of its section sets for an answer."""
        found = (gate.by for gate in self.held_to(section, name))
        return "".join(self.between(by.low, by.high) for by in found if isinstance(by, Between))

    def held_to(self, section: Section, name: str) -> list[Gate]:
        """Return the hold points of a section that set limits for an answer, whatever is worked out from it decides."""
        gates = (step.act for step in section.steps if isinstance(step.act, Gate) and self.may_apply(step))
        return [gate for gate in gates if isinstance(gate.by, Between) and gate.by.value.lone_reference == name]

    def is_asked(self, section: Section, name: str) -> bool:
        """Return whether an answer of that name is asked for in the section."""
        return any(isinstance(step.act, Ask) and step.act.into == name and self.applies(step) for step in section.steps)

    def between(self, low: Template | None, high: Template | None) -> str:
        """Return limits in brief."""
        least, most = (markdown(self.values.fill(limit, _LINE)) if limit is not None else "" for limit in (low, high))
        if least and most:
            number, _, unit = least.rpartition(" ")
            return f" ({number if number and most.endswith(f' {unit}') else least} to {most})"
        return f" ({f'{least} or more' if least else f'up to {most}'})" if least or most else ""


def _lines(text: str, hang: int, width: int) -> list[str]:
    """Return a paragraph in lines; a word with a hyphen stays whole, because the break would read as a space after the hyphen."""
    # A box spelled out is wide, and stands out without a second space before it.
    kept = text.replace("  [ ]", " [ ]").replace("[ ] ", f"[{_STAYS}]{_STAYS}").replace("." * 3 * len(_LINE), _SPELLED_LINE)
    lines = wrap(kept, width, subsequent_indent=" " * hang, break_long_words=False, break_on_hyphens=False)
    return [line.replace(_STAYS, " ") for line in lines] or [""]
