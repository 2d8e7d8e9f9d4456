"""The kinds of questions a dialogue puts, and how it puts them: the screen and the lines each answer them in their own way."""

from __future__ import annotations

from collections.abc import Callable, Generator, Sequence
from typing import Literal, TypeAlias, TypeVar

from shopmate.calculator import Kind, Value
from shopmate.dialogue.form import Form
from shopmate.errors import LogError, ShopmateError
from shopmate.guide import Topic
from shopmate.records import dataclass
from shopmate.tables import Table

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to choose."""

    key: str
    title: str
    note: str = ""


UNUSED = Item("", "")
"""Stands among items where a number is left unused, so that those after it keep theirs."""


Filling: TypeAlias = Callable[[], Item | str]
"""Reads, as long as that takes, one more item, or words to explain with, '' for none. Called in a thread of its own."""


def fill(filling: Sequence[Filling], take: Callable[[Item | str | Exception | None], bool]) -> None:
    """Give what is read to `take`, one after another and None at the end, until it returns False; for a thread of its own.

    So that no file, however slow, keeps an alarm waiting. A fault of ours is given too, and ends it.
    """
    try:
        for each in filling:
            if not take(each()):
                return
    except Exception as error:
        take(error)
    else:
        take(None)


@dataclass(frozen=True, slots=True)
class Choose:
    """Which of these? Answered by the key of an item, or None where it is left."""

    title: str
    items: Sequence[Item]
    leave: str = "back"
    """The phrase for leaving it, '' where it cannot be left."""
    explain: str = ""
    beside: str = ""
    """What a screen shows under the items as long as they stand; lines have said it before (`Say.drawn`)."""
    filling: Sequence[Filling] = ()
    """What there is to choose from, still to be read, in its order; beside items it reads words to explain with alone."""
    other: Item | None = None
    """Something else that has a key of its own on a screen; last in lines."""
    near: int = 0
    """How many of the first items a screen opens by one digit, where it opens the others by two."""


@dataclass(frozen=True, slots=True)
class Name:
    """What is it called? Answered by a text, or None where it is left."""

    title: str
    offered: str
    place: str = ""
    """Under which what is half typed is kept; '' where it is not."""


@dataclass(frozen=True, slots=True)
class Enter:
    """How much? Answered by the text of a value that was read, with its unit, or None where it is left."""

    title: str
    kind: Kind
    """What may be typed: a quantity, or a ratio."""
    unit: str
    """Of a number typed without one; of a ratio the basis."""
    place: str = ""
    before: Value | None = None
    """The value so far: one that looks like a slip beside it is asked about too."""
    keeps: str = ""
    """What Enter answers where nothing is typed; '' where it answers nothing."""


@dataclass(frozen=True, slots=True)
class Ready:
    """All of this read, shall it be done? Answered by the key of what is chosen, or None where it is left."""

    title: str
    lines: Sequence[str]
    yes: Item
    """What Enter does."""
    other: Item
    """What 1 does instead."""


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
    drawn: bool = False
    """Whether a screen draws it by itself, so that only lines say it."""


@dataclass(frozen=True, slots=True)
class Fill:
    """The form of a calculator, filled in and its result seen; answered by nothing, the form has it all."""

    form: Form


@dataclass(frozen=True, slots=True)
class Look:
    """A table, looked at until it is left; answered by nothing."""

    table: Table


@dataclass(frozen=True, slots=True)
class Recall:
    """Lines of the log, looked at until they are left; answered by nothing."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Read:
    """A topic of the guide, read until it is left; answered by nothing."""

    topic: Topic


Shown = Literal["clocks", "keys", "section"]


@dataclass(frozen=True, slots=True)
class Show:
    """Something that a screen and lines each show in a way of their own, until it is left; answered by nothing."""

    what: Shown


Question: TypeAlias = Choose | Name | Enter | Ready | Confirm | Tell | Say | Fill | Look | Read | Recall | Show

Dialogue: TypeAlias = Generator[Question, object, T]
"""Yields questions, is sent their answers, and returns what came of it. It knows the session, but neither screens nor lines."""


def choose(
    title: str,
    items: Sequence[Item],
    *,
    leave: str = "back",
    explain: str = "",
    beside: str = "",
    filling: Sequence[Filling] = (),
) -> Dialogue[str | None]:
    """Ask which of the items; return its key, None where it is left."""
    answer = yield Choose(title, items, leave, explain, beside, filling)
    return answer if isinstance(answer, str) else None


def name(title: str, offered: str, place: str = "") -> Dialogue[str | None]:
    """Ask for a name, the one offered to begin with; None where it is left."""
    answer = yield Name(title, offered, place)
    return " ".join(answer.split()) if isinstance(answer, str) else None


def enter(
    title: str, kind: Kind, unit: str, place: str = "", before: Value | None = None, keeps: str = ""
) -> Dialogue[str | None]:
    """Ask for a quantity or a ratio; return its text, None where it is left."""
    answer = yield Enter(title, kind, unit, place, before, keeps)
    return answer if isinstance(answer, str) else None


def ready(title: str, lines: Sequence[str], yes: Item, other: Item) -> Dialogue[str | None]:
    """Ask, once what is needed is read, whether it shall be done; return the key of what is chosen, None where it is left."""
    answer = yield Ready(title, lines, yes, other)
    return answer if isinstance(answer, str) else None


def confirm(question: Confirm) -> Dialogue[bool]:
    """Ask whether it is meant."""
    return bool((yield question))


def tell(words: str) -> Dialogue[None]:
    """Show words until they are read."""
    yield Tell(words)


def say(words: str, *, drawn: bool = False) -> Dialogue[None]:
    """Say words in passing; what is `drawn` on a screen is said in lines alone."""
    yield Say(words, drawn)


def show(what: Shown) -> Dialogue[None]:
    """Show something until it is left."""
    yield Show(what)


def outcome(act: Callable[[], str]) -> tuple[bool, Tell | Say]:
    """Do something with the session; return whether it was done, and its word or why it was not.

    What could not be written stands until it is read.
    """
    try:
        return True, Say(act())
    except LogError as error:
        return False, Tell(str(error))
    except ShopmateError as error:
        return False, Say(str(error))


def attempt(act: Callable[[], str]) -> Dialogue[bool]:
    """Do something with the session and say what came of it; return whether it was done.

    Any other error that a dialogue does not catch ends it, and whoever holds the dialogue tells it.
    """
    done, said = outcome(act)
    yield said
    return done
