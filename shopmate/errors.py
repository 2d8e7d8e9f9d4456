"""The errors shopmate raises on purpose: each says what was wrong, where, and what to do."""

from __future__ import annotations

from collections.abc import Sequence

from shopmate.records import dataclass


class ShopmateError(Exception):
    """Base of every error a user can cause or cure; its text is fit to show as it is."""


class UsageError(ShopmateError):
    """The words of a command are wrong: an unknown name, a missing argument (exit code 2)."""


class EntryError(ShopmateError):
    """A text that is not the number, unit, ratio or choice it should be.

    `what` says what is wrong, `fix` what to type instead.
    """

    def __init__(self, what: str, fix: str) -> None:
        super().__init__(f"{what}; {fix}")
        self.what = what
        self.fix = fix


class LogError(ShopmateError):
    """The project file cannot be read or written; the text says which and what to do."""


class DamagedFile(LogError):
    """The project file is there, and no project can be read from it; a backup of it helps."""


class Doubt(ShopmateError):
    """An answer within the limits that looks odd; give it again, sure, if it is meant."""


@dataclass(frozen=True, slots=True)
class FieldProblem:
    """One thing wrong with one field of a calculator."""

    field: str
    what: str
    fix: str

    def __str__(self) -> str:
        return f"{self.field}: {self.what}; {self.fix}"


class InputError(ShopmateError):
    """What a calculator was given cannot be worked out; carries every problem found, not the first."""

    def __init__(self, *problems: FieldProblem) -> None:
        super().__init__("\n".join(map(str, problems)))
        self.problems = problems


class UnknownField(InputError, UsageError):
    """A calculator was given a field that it has not, maybe beside other problems (exit code 2)."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a file, with its place: lines and columns count from 1."""

    file: str
    line: int
    column: int
    what: str
    fix: str
    more: int = 0
    """How many of the same kind follow that are not told one by one."""

    def and_more(self, count: int) -> Problem:
        """Return the problem as the last one told of its kind, with `count` more after it."""
        return Problem(self.file, self.line, self.column, self.what, self.fix, count)

    def __str__(self) -> str:
        more = f" (and {self.more:,} more)" if self.more else ""
        return f"{self.file}:{self.line}:{self.column}: {self.what}{more}; {self.fix}"


class FileProblems(ShopmateError):
    """A recipe or shelf file that cannot be used; carries every problem in it, and what is noted of its style."""

    def __init__(self, problems: Sequence[Problem], notes: Sequence[Problem] = ()) -> None:
        super().__init__("\n".join(map(str, problems)))
        self.problems = tuple(problems)
        self.notes = tuple(notes)

    @property
    def count(self) -> int:
        """How many problems there are, those that are not told one by one included."""
        return sum(1 + problem.more for problem in self.problems)
