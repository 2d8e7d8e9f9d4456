"""Nodes of a YAML file, texts with their places, and what walks them and collects every problem."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple, TypeVar

from shopmate.errors import EntryError, FileProblems, Problem
from shopmate.recipe.keys import NAME, Form, List, OneOf, Shape, Text, Word
from shopmate.records import dataclass, field
from shopmate.text_file import gathered, read_text, shortened

Named = TypeVar("Named", bound=str)


class Node(NamedTuple):
    """A text, list or mapping of a file with the place it stands at (line and column from 1)."""

    line: int
    column: int
    text: str | None = None
    items: tuple[Node, ...] | None = None
    entries: Mapping[str, tuple[Node, Node]] | None = None
    """Key text -> key node and value node."""
    file: str = ""
    """Where it stands in another file than the one that is read: that of an operation."""

    @property
    def shape(self) -> str:
        """What the node is, in a user's words."""
        return "a text" if self.text is not None else "a list" if self.items is not None else "a mapping"


@dataclass(slots=True)
class Reader:
    """Walks the nodes of one file and collects every problem instead of stopping at the first.

    A problem keeps the file from being used; a note is a matter of style alone.
    """

    file: str
    kept: bool = False
    """Whether the text is one kept in the log, which was read before."""
    problems: list[Problem] = field(default_factory=list)
    noted: list[Problem] = field(default_factory=list)
    _seen: set[Problem] = field(default_factory=set)
    """All that was told, of which a large file may have very many."""

    def wrong(self, node: Node, what: str, fix: str) -> None:
        """Note a problem at the place of `node`."""
        self._tell(self.problems, node, what, fix)

    def note(self, node: Node, what: str, fix: str) -> None:
        """Note a matter of style at the place of `node`."""
        self._tell(self.noted, node, what, fix)

    def _tell(self, told: list[Problem], node: Node, what: str, fix: str) -> None:
        """Add a problem once: a text is read by its form, and again by what makes something of it."""
        problem = Problem(node.file or self.file, node.line, node.column, shortened(self._used(node, what)), fix)
        if problem not in self._seen:
            self._seen.add(problem)
            told.append(problem)

    def _used(self, node: Node, what: str) -> str:
        """Return what is wrong, with the recipe that uses the operation it stands in."""
        return f"{what} (used by {Path(self.file).name})" if node.file and node.file != self.file else what

    def entries(
        self, node: Node, required: Iterable[str], optional: Iterable[str], what: str, lacks: Mapping[str, str] | None = None
    ) -> dict[str, Node]:
        """Return the values of a mapping by key, noting missing and unknown keys of this `what`."""
        if node.entries is None:
            self.wrong(node, f"{what} is {node.shape}", f"write a mapping with the keys {', '.join([*required] or optional)}")
            return {}
        known = [*required, *optional]
        for name, (key, _) in node.entries.items():
            if name not in known:
                self.wrong(key, f"'{name}' is not a key of {what}", f"use: {', '.join(known)}")
        for name in required:
            if name not in node.entries:
                self.wrong(node, f"{what} has no '{name}'", (lacks or {}).get(name) or f"add '{name}: ...'")
        return {name: value for name, (_, value) in node.entries.items() if name in known}

    def mapping(self, node: Node, form: Form) -> dict[str, Node]:
        """Return the values of a mapping by key, noting what is not of its form; what is nested is read where it is used."""
        entries = self.entries(node, form.needed, form.optional, form.what, {key.name: key.lack for key in form.keys})
        for key in form.keys:
            if key.name in entries:
                self.value(entries[key.name], key.name, key.shape)
        there = [name for name in form.both if name in entries]
        for name in form.both if there else ():
            if name not in entries:
                self.wrong(entries[there[0]], f"'{there[0]}' without '{name}'", f"add '{name}: ...', or remove it")
        return entries

    def value(self, node: Node, what: str, shape: Shape) -> None:
        """Note a value that is not of its shape, as far as it is texts."""
        match shape:
            case Text(longest, may_be_empty):
                if node.text != "" or not may_be_empty:
                    self.text(node, what, longest)
            case Word(pattern, ""):
                self.name(node, what, pattern)
            case Word(pattern, fix):
                if (text := self.text(node, what)) and not re.fullmatch(pattern, text):
                    self.wrong(node, f"{what} is '{text}'", fix)
            case OneOf(choices):
                self.one_of(node, what, choices)
            case List(of, low, high):
                for item in self.items(node, what, low, high):
                    self.value(item, what, of)
            case _:
                pass

    def text(self, node: Node | None, what: str, longest: int | None = None) -> str:
        """Return a text, noting when it is none or empty, and as a matter of style when it has over `longest` characters."""
        if node is None:
            return ""
        if node.text is None:
            self.wrong(node, f"{what} is {node.shape}", "write one text (quote it if it holds ': ' or starts with a sign)")
            return ""
        text = " ".join(node.text.split())
        if not text:
            self.wrong(node, f"{what} is empty", "write a text")
        if longest is not None and len(text) > longest:
            self.note(node, f"{what} has {len(text)} characters", f"shorten it to {longest} or fewer")
        return text

    def items(self, node: Node | None, what: str, low: int = 0, high: int | None = None) -> tuple[Node, ...]:
        """Return the items of a list, noting when it is none or of a wrong length."""
        if node is None:
            return ()
        if node.items is None:
            self.wrong(node, f"{what} is {node.shape}", "write a list, each item on a line after '- '")
            return ()
        count = len(node.items)
        if count < low or (high is not None and count > high):
            number = f"{low} or more" if high is None else f"{low}" if low == high else f"{low} to {high}"
            self.wrong(node, f"{what} has {count} item{'' if count == 1 else 's'}", f"write {number}")
        return node.items

    def texts(
        self, node: Node | None, what: str, low: int = 0, high: int | None = None, longest: int | None = None
    ) -> tuple[str, ...]:
        """Return the texts of a list."""
        return tuple(self.text(item, what, longest) for item in self.items(node, what, low, high))

    def best(self, node: Node | None, what: str, count: int, low: int, high: int) -> None:
        """Note as a matter of style that a list or mapping of `count` parts is not `low` to `high` long."""
        if node is not None and not low <= count <= high:
            self.note(node, f"{what} has {count} item{'' if count == 1 else 's'}", f"write {low} to {high}")

    def one_of(self, node: Node | None, what: str, choices: Sequence[Named]) -> Named | None:
        """Return which of `choices` a text is; None where there is no text, or none of them, which is a problem."""
        text = self.text(node, what)
        chosen = next((choice for choice in choices if choice == text), None)
        if node is not None and text and chosen is None:
            self.wrong(node, f"{what} is '{text}'", f"write one of: {', '.join(choices)}")
        return chosen

    def name(self, node: Node | None, what: str, pattern: str = NAME) -> str:
        """Return a name that other places refer to."""
        text = self.text(node, what)
        if node is not None and text and not re.fullmatch(pattern, text):
            self.wrong(node, f"{what} '{text}' is not a name", "use lower-case letters, digits and _ or -, a letter first")
        return text

    def entry(self, node: Node, problem: EntryError) -> None:
        """Note what a parser of numbers or units found wrong with the text of `node`, which one writes, not types."""
        self.wrong(node, problem.what, re.sub(r"^type\b", "write", problem.fix))

    def done(self) -> None:
        """Raise FileProblems, in the order of the file, if there is a problem."""
        if self.problems:
            raise FileProblems(gathered(self.problems), self.notes)

    @property
    def notes(self) -> tuple[Problem, ...]:
        """The matters of style, in the order of the file."""
        return gathered(self.noted)


def read_file(path: Path) -> str:
    """Return the text of a file; FileProblems when it cannot be read, is too large or not UTF-8."""
    fix = "give the path of a YAML file"
    try:
        return read_text(path, fix)
    except FileNotFoundError:
        raise refuse(str(path), 1, 1, "is not there", fix) from None


def refuse(file: str, line: int, column: int, what: str, fix: str) -> FileProblems:
    """Return why a file is not read at all."""
    return FileProblems([Problem(file, line, column, what, fix)])
