"""A calculator's form as it is filled in: which field is asked, what becomes of a text, and what all of them come to."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Literal

from shopmate import calc
from shopmate.calculator import Calculator, Choice, Either, Field, Value, usual_unit
from shopmate.dialogue.blank import Blank
from shopmate.errors import EntryError, FieldProblem, InputError, ShopmateError
from shopmate.picture import Picture
from shopmate.result import Result
from shopmate.units import System, in_system


class Form:
    """The fields of one calculator with what is filled in; every face asks it, and tells it what was typed.

    `last` are texts used before, offered as the values to begin with; `system` is what results are shown in and bare
    numbers are typed in; `remember` is called with the texts whenever one is taken.
    """

    def __init__(
        self,
        calculator: Calculator,
        last: Mapping[str, str],
        system: System,
        remember: Callable[[Mapping[str, str]], None] = lambda texts: None,
    ) -> None:
        self.calculator, self.system = calculator, system
        self._remember = remember
        self.texts: dict[str, str] = {field.name: last[field.name] for field in calculator.inputs if last.get(field.name)}
        """The text of each field filled in, fit to be given as `last` another time."""
        self._last = set(self.texts)
        self.kept = False
        """Whether the result is to be kept in the log."""
        self.fault = ""
        """Why what was taken last could not be remembered; '' where it was."""
        self.result: Result | None = None
        """What the fields come to, None while they come to nothing."""
        self.pictures: tuple[Picture, ...] = ()
        """The result drawn, none where there is nothing to draw."""
        self.waiting: Sequence[str] = ()
        """The titles of the fields without which there is no result yet."""
        self.problems: Sequence[str] = ()
        """What is wrong with fields that are all filled in."""
        self._wrong = 0
        self.go_to(0)

    # The field that is asked

    def go_to(self, at: int) -> None:
        """Ask for the field of that number, from 0; one past the last is the end."""
        self.at = max(0, at)
        self.by_figure = False
        """Whether a figure is typed in place of a name from the list."""
        fields = self.calculator.inputs
        self.field: Field | None = fields[self.at] if self.at < len(fields) else None
        """The field that is asked, None at the end."""
        last = fields[min(self.at, len(fields) - 1)]
        self.blank = Blank(last.kind, usual_unit(last.kind, self.system), self._value(last))
        """The value that is asked for; at the end the last one."""

    def _value(self, field: Field) -> Value | None:
        """Return what a field is given so far, None where it has no text or one that it no longer takes."""
        try:
            return field.kind.read(self.texts.get(field.name, ""))
        except EntryError:
            return None

    @property
    def names(self) -> tuple[str, ...]:
        """The names one of which is chosen now; none where a text is typed."""
        kind = self.field.kind if self.field is not None and not self.by_figure else None
        choice = kind.choice if isinstance(kind, Either) else kind
        return choice.names() if isinstance(choice, Choice) else ()

    @property
    def may_be_figure(self) -> bool:
        """Whether a figure can be typed in place of the names."""
        return self.field is not None and isinstance(self.field.kind, Either) and not self.by_figure

    @property
    def offered(self) -> str:
        """The text that Enter keeps, '' where there is none."""
        return self.given(self.field) if self.field is not None else ""

    @property
    def may_pass(self) -> bool:
        """Whether the result can do without another text for this field."""
        return self.field is None or bool(self.offered) or not self.field.required

    @property
    def may_clear(self) -> bool:
        """Whether what was given for this field can be taken out again."""
        return self.field is not None and self.field.optional and self.field.name in self.texts

    @property
    def may_go_back(self) -> bool:
        """Whether there is something to go back to: the field before, or the names of this one."""
        return self.at > 0 or self.by_figure

    def given(self, field: Field) -> str:
        """Return the text that a field counts with, '' where it has none."""
        return self.texts.get(field.name) or field.default or ""

    def origin(self, field: Field) -> Literal["typed", "last time", "default", ""]:
        """Return where that text comes from, '' where there is none."""
        if field.name in self.texts:
            return "last time" if field.name in self._last else "typed"
        return "default" if field.default else ""

    def place(self, field: Field) -> str:
        """Return the place at which what is half typed for a field is kept."""
        return f"form:{self.calculator.name} {field.name}"

    def help(self, field: Field) -> str:
        """Return the sentence that helps with a field, in the units of the system."""
        return in_system(field.help, self.system)

    @property
    def valid(self) -> str:
        """Where the calculator is valid, in the units of the system."""
        return in_system(self.calculator.valid, self.system)

    # What is done to it

    def take(self, text: str) -> str:
        """Take a text for this field and go to the next; return the question about one that looks odd instead, else ''.

        Raises EntryError for what the field does not take.
        """
        question = self.blank.question(text)
        if not question:
            self.pick(text)
            self.go_to(self.at + 1)
        return question

    def pick(self, name: str) -> None:
        """Take a name for this field and stay at it."""
        assert self.field is not None
        self._set(self.field, name)

    def clear(self) -> None:
        """Take out what was given for this field."""
        assert self.field is not None
        self._set(self.field, None)
        self.go_to(self.at)

    def _set(self, field: Field, text: str | None) -> None:
        if text is None:
            del self.texts[field.name]
        else:
            self.texts[field.name] = text
        self._last.discard(field.name)
        try:
            self._remember(self.texts)
        except ShopmateError as error:
            self.fault = str(error)
        else:
            self.fault = ""

    def forward(self) -> None:
        """Go to the next field, with what this one has."""
        self.go_to(self.at + 1)

    def back(self) -> None:
        """Go back to the names of this field, or to the field before."""
        self.go_to(self.at if self.by_figure else self.at - 1)

    def back_to_problem(self) -> None:
        """Go to the first field with a problem."""
        self.go_to(self._wrong)

    # What it comes to

    def work_out(self, typed: str | None = "") -> None:
        """Work out the result, with the text being `typed` for this field: '' where nothing is, None where it has no meaning."""
        texts = {**self.texts, self.field.name: typed} if self.field is not None and typed else self.texts
        waiting = [self.field.title] if self.field is not None and typed is None else []
        for field in self.calculator.inputs:
            if not texts.get(field.name) and field.required:
                waiting.append(field.title)
        self.result, self.pictures, self.problems, self._wrong = None, (), (), 0
        self.waiting = tuple(dict.fromkeys(waiting))
        if self.waiting:
            return
        try:
            self.result = result = calc.run(self.calculator.name, texts, self.system)
        except InputError as error:
            self.problems = [self._told(problem) for problem in error.problems]
            wrong = {problem.field for problem in error.problems}
            self._wrong = min((at for at, field in enumerate(self.calculator.inputs) if field.name in wrong), default=0)
        except ShopmateError as error:
            self.problems = [str(error)]
        else:
            self.pictures = self.calculator.drawn(result.inputs, result.outputs)

    def _told(self, problem: FieldProblem) -> str:
        title = next((field.title for field in self.calculator.inputs if field.name == problem.field), problem.field)
        return f"{title}: {problem.what}; {problem.fix}"
