"""Dataclasses at a quarter of what the library's cost at the start: what it compiles for each class is shared here by all.

The library compiles seven methods a class. Some eighty classes stand before the first step, and making them took 45 ms of
the 310 in which it came, against 190 of an empty application. Here __init__ alone is compiled, for the first that is made.
"""

from __future__ import annotations

import dataclasses
import operator
from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Protocol, TypeVar

if TYPE_CHECKING:
    from dataclasses import dataclass as dataclass

T = TypeVar("T")


def _dataclass(*, slots: bool = False, frozen: bool = False, order: bool = False) -> Callable[[type[T]], type[T]]:
    """Make a class a dataclass; its fields, and what may be asked of it, are those of one that the library made."""
    methods = _ALL | (_FROZEN if frozen else _OPEN) | (_ORDERED if order else {})
    return partial(_made, methods=methods, slots=slots, frozen=frozen)


if not TYPE_CHECKING:
    dataclass = _dataclass


def _made(cls: type[T], methods: dict[str, object], slots: bool, frozen: bool) -> type[T]:
    """Return a class with its fields, slots where asked for, and methods; those that it has of its own stay."""
    cls.__doc__ = cls.__doc__ or cls.__name__  # else the library works out a signature to say
    made = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots)(cls)
    assert dataclasses.is_dataclass(made)
    fields = dataclasses.fields(made)
    names = [field.name for field in fields if field.compare]
    values = operator.attrgetter(*names) if names else staticmethod(_no_values)
    for name, method in ({"_values": values, "__init__": _first(made, fields, frozen)} | methods).items():
        if name not in vars(cls):
            setattr(made, name, method)
    return made


def _first(made: type, fields: Sequence[dataclasses.Field[object]], frozen: bool) -> Callable[..., None]:
    """Return an __init__ that compiles the class's own once the first is made: of many there is none before the first step."""

    def __init__(record: object, *given: object, **named: object) -> None:
        own = _init(fields, frozen)
        type.__setattr__(made, "__init__", own)
        own(record, *given, **named)

    return __init__


def _init(fields: Sequence[dataclasses.Field[object]], frozen: bool) -> Callable[..., None]:
    """Return the method that takes the fields in their order, with their defaults."""
    known: dict[str, object] = {"_set": object.__setattr__, "_NONE": dataclasses.MISSING}
    compiled: dict[str, Callable[..., None]] = {}
    takes, does = ["self"], []
    for field in fields:
        name = value = field.name
        if field.default is not dataclasses.MISSING:
            known[f"_{name}"] = field.default
            takes.append(f"{name}=_{name}")
        elif field.default_factory is not dataclasses.MISSING:
            known[f"_{name}"] = field.default_factory
            takes.append(f"{name}=_NONE")
            value = f"_{name}() if {name} is _NONE else {name}"
        else:
            takes.append(name)
        does.append(f" _set(self, {name!r}, {value})" if frozen else f" self.{name} = {value}")
    exec("\n".join([f"def __init__({', '.join(takes)}):", *does, " pass"]), known, compiled)
    return compiled["__init__"]


class _Record(Protocol):
    """Any of the classes made here."""

    _values: Callable[[_Record], object]
    """Returns the values of the fields: a tuple, or the value of the only one."""
    __match_args__: tuple[str, ...]


def _no_values(record: _Record) -> object:
    return ()


def _repr(record: _Record) -> str:
    shown = (f"{name}={getattr(record, name)!r}" for name in record.__match_args__)
    return f"{type(record).__qualname__}({', '.join(shown)})"


def _hash(record: _Record) -> int:
    return hash(record._values(record))


def _keep(record: _Record, name: str, *value: object) -> None:
    raise dataclasses.FrozenInstanceError(f"{type(record).__qualname__} keeps its '{name}'")


def _state(record: _Record) -> list[object]:
    return [getattr(record, name) for name in record.__match_args__]


def _take_state(record: _Record, state: Sequence[object]) -> None:
    for name, value in zip(record.__match_args__, state, strict=True):
        object.__setattr__(record, name, value)


def _compared(by: Callable[..., object]) -> Callable[[_Record, _Record], object]:
    """Return the method that compares two of the same class by their values."""

    def compare(one: _Record, other: _Record) -> object:
        return by(one._values(one), other._values(other)) if type(one) is type(other) else NotImplemented

    return compare


_ALL: dict[str, object] = {"__repr__": _repr, "__eq__": _compared(operator.eq)}
_OPEN = {"__hash__": None}
_FROZEN = {
    "__hash__": _hash, "__setattr__": _keep, "__delattr__": _keep, "__getstate__": _state, "__setstate__": _take_state,
}  # fmt: skip
_ORDERED = {f"__{by.__name__}__": _compared(by) for by in (operator.lt, operator.le, operator.gt, operator.ge)}
"""The methods of all, of those that change and those that do not, and of those with an order."""
