"""A recipe worked through before anything is done: with given or assumed answers, and what its calculators work out from them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from datetime import datetime
from typing import assert_never

from shopmate import units
from shopmate.errors import EntryError, FieldProblem, InputError
from shopmate.project.events.steps import worked_out
from shopmate.project.place import Place
from shopmate.project.run import Held, Run
from shopmate.recipe import (
    AnswerKind,
    Ask,
    ChoiceAnswer,
    CountAnswer,
    Do,
    Gate,
    Material,
    MeasureAnswer,
    Recipe,
    ShelfAnswer,
    Start,
    Step,
    Wait,
    WhenValue,
    WorkOut,
    of_kind,
)
from shopmate.records import replace
from shopmate.result import Result
from shopmate.session.values import Results, Values, material_values, unit_of
from shopmate.session.way import applicable
from shopmate.units import System


class Draft:
    """The values that a run would have: from answers by name and, for the rest, from the recipe's defaults."""

    def __init__(
        self,
        recipe: Recipe,
        texts: Mapping[str, str],
        materials: Mapping[str, Material],
        now: datetime,
        system: System,
        results: Results | None = None,
    ) -> None:
        self.recipe, self.texts = recipe, texts
        self.run = Run("draft", "", recipe, now, Place(0, 1, 0))
        self.values, self.materials, self.now = Values(self.run, system, {} if results is None else results), materials, now
        self.problems: list[FieldProblem] = []
        """The answers that are not valid."""

    def work_through(self) -> None:
        """Take each answer and work out each result in the order of the recipe, as far as the values allow."""
        for index, section in enumerate(self.recipe.sections):
            self.run.place = Place(index, 1, 0)
            for step in section.steps:
                if self.applies(step):
                    self.take_step(step)

    def unknown_answers(self) -> Iterator[FieldProblem]:
        """Yield the answers given that the recipe does not ask for."""
        known = list(dict.fromkeys(act.into for act in self.recipe.acts if isinstance(act, Ask)))
        for name in self.texts:
            if name not in known:
                yield FieldProblem(name, f"'{self.recipe.name}' asks for no such thing", f"it asks: {', '.join(known)}")

    def take_step(self, step: Step) -> None:
        """Add what a step gives to the values; a step that lacks a figure gives nothing."""
        match step.act:
            case Ask():
                self.take(step.act)
            case (WorkOut() as work_out) | Gate(by=WorkOut() as work_out):
                with suppress(InputError):
                    self.result(work_out)
            case Do() | Gate() | Start() | Wait():
                pass
            case _:
                assert_never(step.act)

    def take(self, act: Ask) -> None:
        """Add an answer to the values: the one given, else the default, else what is expected."""
        text = self.texts.get(act.into, self.values.default(act))
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
        """Add what an answer gives to the values; EntryError for a text that is no answer."""
        match answer:
            case ChoiceAnswer():
                choices = self.values.choices(answer)
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
        """Add the figures of a material to the values; EntryError for a material that is not on the shelf."""
        material = self.materials.get(text)
        if material is None or material.kind != answer.kind:
            names = ", ".join(of_kind(self.materials, answer.kind))
            raise EntryError(f"the shelf has no {answer.kind} '{text}'", f"give one of: {names}")
        self.run.values.update(material_values(into, material))

    def result(self, act: WorkOut) -> Result:
        """Run a step's calculator and add its outputs to the values; raises InputError."""
        result = self.values.result(act)
        self.run.values.update(worked_out(act.into, result))
        return result

    def applies(self, step: Step) -> bool:
        """Return whether a step applies by the answers so far; the state of clocks is not known before the work."""
        return self._applies(step, [when for when in step.when if isinstance(when, WhenValue)])

    def may_apply(self, step: Step) -> bool:
        """Return whether a step applies by the answers so far, or by a figure that is not worked out yet."""
        return self._applies(step, [when for when in step.when if isinstance(when, WhenValue) and when.value in self.run.values])

    def _applies(self, step: Step, conditions: list[WhenValue]) -> bool:
        return applicable(replace(step, when=tuple(conditions)), self.run, {}, self.now)
