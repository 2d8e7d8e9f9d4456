"""The kinds of questions a dialogue puts, and how it puts them: the screen and the lines each answer them in their own way."""

from __future__ import annotations

from collections.abc import Generator, Sequence
from dataclasses import dataclass
from typing import TypeAlias, TypeVar, cast

from shopmate.calculator import Measure, Value

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to choose."""

    key: str
    title: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Choose:
    """Which of these? Answered by the key of an item, or None where it is left."""

    title: str
    items: Sequence[Item]
    leave: str = "back"
    """The phrase for leaving it, '' where it cannot be left."""
    explain: str = ""


@dataclass(frozen=True, slots=True)
class Name:
    """What is it called? Answered by a text, or None where it is left."""

    title: str
    offered: str
    place: str = ""
    """Under which what is half typed is kept; '' where it is not."""


@dataclass(frozen=True, slots=True)
class Enter:
    """How much? Answered by the text of a quantity that was read, or None where it is left."""

    title: str
    measure: Measure
    unit: str
    """Of a number typed without one."""
    place: str = ""
    before: Value | None = None
    """The value so far: one that looks like a slip beside it is asked about too."""


@dataclass(frozen=True, slots=True)
class Confirm:
    """Is it meant? Asked before what is not simply taken back; answered by True or False, by False too when nobody answers."""

    text: str
    explain: str
    yes: str
    """What saying yes does, in words for its key."""
    no: str


@dataclass(frozen=True, slots=True)
class Tell:
    """Words that stand until they are read; answered by nothing."""

    words: str


@dataclass(frozen=True, slots=True)
class Say:
    """Words in passing: what was done, or why not; answered by nothing."""

    words: str


Question: TypeAlias = Choose | Name | Enter | Confirm | Tell | Say

Dialogue: TypeAlias = Generator[Question, object, T]
"""Yields questions, is sent their answers, and returns what came of it. It knows the session, but neither screens nor lines."""


def choose(title: str, items: Sequence[Item], *, leave: str = "back", explain: str = "") -> Dialogue[str | None]:
    """Ask which of the items; return its key, None where it is left."""
    return cast("str | None", (yield Choose(title, items, leave, explain)))


def name(title: str, offered: str, place: str = "") -> Dialogue[str | None]:
    """Ask for a name, the one offered to begin with; None where it is left."""
    return cast("str | None", (yield Name(title, offered, place)))


def enter(title: str, measure: Measure, unit: str, place: str = "", before: Value | None = None) -> Dialogue[str | None]:
    """Ask for a quantity; return its text, None where it is left."""
    return cast("str | None", (yield Enter(title, measure, unit, place, before)))


def confirm(question: Confirm) -> Dialogue[bool]:
    """Ask whether it is meant."""
    return bool((yield question))


def tell(words: str) -> Dialogue[None]:
    """Show words until they are read."""
    yield Tell(words)


def say(words: str) -> Dialogue[None]:
    """Say words in passing."""
    yield Say(words)
