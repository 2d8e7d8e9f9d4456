"""What a form declares: the mappings of a file, their keys, and for each what it is for and the shape of its value."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple, TypeAlias

from shopmate.records import dataclass, field, replace

NAME = "[a-z][a-z0-9_]*"
"""Pattern of a name that texts refer to."""
DASHED = "[a-z][a-z0-9-]*"
"""Pattern of the name of a file or a step."""
KEYED = "[a-z0-9][a-z0-9_-]*"
"""Pattern of the key of a choice."""


class Text(NamedTuple):
    """One text."""

    longest: int | None = None
    """Characters that fit; more is a matter of style."""
    may_be_empty: bool = False


class Word(NamedTuple):
    """A text of a given form, read whole: a name where nothing is said of how else to write it."""

    pattern: str = NAME
    fix: str = ""


WHOLE = Word("[0-9]{1,4}", "write a whole number of up to four digits")
"""A whole number."""


class OneOf(NamedTuple):
    """One of some texts."""

    choices: tuple[str, ...]


class Nested(NamedTuple):
    """A mapping of one of some forms."""

    forms: tuple[Form, ...]


class Pairs(NamedTuple):
    """A mapping whose keys are free."""

    value: Shape
    low: int = 0
    high: int | None = None
    key: str | None = None
    """Pattern of its keys."""


class List(NamedTuple):
    """A list."""

    of: Shape
    low: int = 0
    high: int | None = None


class Either(NamedTuple):
    """One of some shapes."""

    shapes: tuple[Shape, ...]


Shape: TypeAlias = Text | Word | OneOf | Nested | Pairs | List | Either
"""What a value may be."""


class Key(NamedTuple):
    """A key of a mapping."""

    name: str
    shape: Shape
    help: str
    """What it is for, one or two sentences for who writes a recipe."""
    is_needed: bool = False
    lack: str = ""
    """What to do where it is missing; '' where there is no more to say than to add it."""


class By(NamedTuple):
    """What goes with one of several keys of which a mapping has exactly one."""

    needed: tuple[str, ...] = ()
    further: tuple[str, ...] = ()
    """Keys that only this one allows, beside those it needs."""
    least_one: tuple[str, ...] = ()
    """Keys of which there is at least one."""


@dataclass(frozen=True, slots=True)
class Form:
    """A kind of mapping: what it is called in a sentence, and its keys in the order they are told in."""

    what: str
    keys: tuple[Key, ...]
    by: Mapping[str, By] = field(default_factory=dict)
    """The keys of which there is exactly one, with what goes with each."""
    both: tuple[str, ...] = ()
    """Keys that stand together or not at all."""

    @property
    def needed(self) -> tuple[str, ...]:
        """The keys it must have."""
        return tuple(key.name for key in self.keys if key.is_needed)

    @property
    def optional(self) -> tuple[str, ...]:
        """The keys it may have."""
        return tuple(key.name for key in self.keys if not key.is_needed)

    def with_keys(self, *keys: Key) -> Form:
        """Return the form with further keys, or with others in place of its own of the same name."""
        own = {key.name: key for key in self.keys} | {key.name: key for key in keys}
        return replace(self, keys=tuple(own.values()))


def needs(name: str, shape: Shape, help: str, lack: str = "") -> Key:
    """Return a key that must be there."""
    return Key(name, shape, help, True, lack)
