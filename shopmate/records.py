"""Dataclasses at a fraction of their cost at the start: what the library compiles for each class is shared here by all.

The library compiles seven methods a class. Some eighty classes stand before the first step, and making them took 45 ms of
the 310 in which it came, against 190 of an empty application. Here __init__ alone is compiled, for the first that is made.
The library itself, with the readers of source code that it imports, comes when one of its own functions asks for the fields.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import partial
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Protocol, TypeVar

if TYPE_CHECKING:
    from dataclasses import MISSING as MISSING
    from dataclasses import dataclass as dataclass
    from dataclasses import field as field
    from dataclasses import fields as fields
    from dataclasses import is_dataclass as is_dataclass
    from dataclasses import replace as replace

T = TypeVar("T")

_NO_FIELDS: Mapping[str, _Field] = {}


class _Missing:
    """What stands in the place of a default that there is not."""


class _Field:
    """A field of a dataclass: what it is without a value given, whether it is compared, and what is noted of it."""

    __slots__ = ("compare", "default", "default_factory", "metadata", "name", "type")

    def __init__(
        self,
        *,
        default: object = _Missing,
        default_factory: object = _Missing,
        compare: bool = True,
        metadata: Mapping[str, object] | None = None,
    ) -> None:
        self.name = self.type = ""
        self.default, self.default_factory, self.compare, self.metadata = default, default_factory, compare, metadata


class _Record(Protocol):
    """Any of the classes made here."""

    _record_fields: Mapping[str, _Field]
    _values: Callable[[_Record], object]
    """Returns the values of the fields: a tuple, or the value of the only one."""
    __match_args__: tuple[str, ...]


def _dataclass(*, slots: bool = False, frozen: bool = False, order: bool = False) -> Callable[[type[T]], type[T]]:
    """Make a class a dataclass; its fields, and what may be asked of it, are those of one that the library made."""
    methods = _ALL | (_FROZEN if frozen else _OPEN) | (_ORDERED if order else {})
    return partial(_made, methods=methods, slots=slots, frozen=frozen)


def _is_dataclass(thing: object) -> bool:
    """Return whether it is a class made here, or an instance of one."""
    return hasattr(thing, "_record_fields")


def _fields(record: _Record) -> tuple[_Field, ...]:
    """Return the fields of a dataclass or of an instance of one, in their order."""
    return tuple(record._record_fields.values())


def _replace(record: _Record, **changes: object) -> object:
    """Return a copy with other values of some fields."""
    return type(record)(**{name: getattr(record, name) for name in record._record_fields} | changes)


if not TYPE_CHECKING:
    MISSING, dataclass, field, fields, is_dataclass, replace = _Missing, _dataclass, _Field, _fields, _is_dataclass, _replace


def _made(cls: type[T], methods: dict[str, object], slots: bool, frozen: bool) -> type[T]:
    """Return a class with its fields, slots where asked for, and methods; those that it has of its own stay."""
    own = _own(cls)
    fields = {name: item for base in reversed(cls.__mro__) for name, item in vars(base).get("_record_fields", _NO_FIELDS).items()}
    fields |= own
    made = _with_slots(cls, own) if slots else cls
    names = [name for name, item in fields.items() if item.compare]
    given = {
        "_record_fields": fields,
        "_values": operator.attrgetter(*names) if names else staticmethod(_no_values),
        "__init__": _first(made, fields, frozen),
        "__match_args__": tuple(fields),
        "__dataclass_fields__": _AsTheLibrary(),
    }
    for name, method in (given | methods).items():
        if name not in vars(cls):
            setattr(made, name, method)
    return made


def _own(cls: type) -> dict[str, _Field]:
    """Return the fields that a class has beside those of its bases, and leave of their defaults in it what is a value."""
    own = {}
    for name, kind in cls.__annotations__.items():
        if kind.startswith("ClassVar"):
            continue
        item = vars(cls).get(name, _Missing)
        if not isinstance(item, _Field):
            item = _Field(default=item)
        elif item.default is _Missing:
            delattr(cls, name)
        else:
            setattr(cls, name, item.default)
        if type(item.default).__hash__ is None:
            raise ValueError(f"mutable default {type(item.default)} for field {name} is not allowed: use default_factory")
        item.name, item.type = name, kind
        own[name] = item
    return own


def _with_slots(cls: type[T], own: Mapping[str, _Field]) -> type[T]:
    """Return the class anew with a slot for each of its own fields: slots cannot be given to a class that there is."""
    kept = {name: value for name, value in vars(cls).items() if name not in (*own, "__dict__", "__weakref__")}
    make: Callable[..., type[T]] = type(cls)
    return make(cls.__name__, cls.__bases__, kept | {"__slots__": tuple(own), "__qualname__": cls.__qualname__})


class _AsTheLibrary:
    """The fields as the library knows those of its own classes, for its functions: made when one of them asks."""

    def __get__(self, record: _Record | None, made: type[_Record]) -> object:
        library, given = _library(), []
        for item in made._record_fields.values():
            known = {"default": item.default, "default_factory": item.default_factory}
            known = {name: value for name, value in known.items() if value is not _Missing}
            given.append((item.name, item.type, library.field(compare=item.compare, metadata=item.metadata, **known)))
        return vars(library.make_dataclass(made.__name__, given, init=False, repr=False, eq=False))["__dataclass_fields__"]


def _library() -> ModuleType:
    """Return the library, for what only it makes."""
    return import_module("dataclasses")


def _first(made: type, fields: Mapping[str, _Field], frozen: bool) -> Callable[..., None]:
    """Return an __init__ that compiles the class's own once the first is made: of many there is none before the first step."""

    def __init__(record: object, *given: object, **named: object) -> None:
        own = _init(fields.values(), frozen)
        type.__setattr__(made, "__init__", own)
        own(record, *given, **named)

    return __init__


def _init(fields: Iterable[_Field], frozen: bool) -> Callable[..., None]:
    """Return the method that takes the fields in their order, with their defaults."""
    known: dict[str, object] = {"_set": object.__setattr__, "_NONE": _Missing}
    compiled: dict[str, Callable[..., None]] = {}
    takes, does = ["self"], []
    for field in fields:
        name = value = field.name
        if field.default is not _Missing:
            known[f"_{name}"] = field.default
            takes.append(f"{name}=_{name}")
        elif field.default_factory is not _Missing:
            known[f"_{name}"] = field.default_factory
            takes.append(f"{name}=_NONE")
            value = f"_{name}() if {name} is _NONE else {name}"
        else:
            takes.append(name)
        does.append(f" _set(self, {name!r}, {value})" if frozen else f" self.{name} = {value}")
    exec("\n".join([f"def __init__({', '.join(takes)}):", *does, " pass"]), known, compiled)
    return compiled["__init__"]


def _no_values(record: _Record) -> object:
    return ()


def _repr(record: _Record) -> str:
    shown = (f"{name}={getattr(record, name)!r}" for name in record.__match_args__)
    return f"{type(record).__qualname__}({', '.join(shown)})"


def _hash(record: _Record) -> int:
    return hash(record._values(record))


def _keep(record: _Record, name: str, *value: object) -> None:
    raise _library().FrozenInstanceError(f"{type(record).__qualname__} keeps its '{name}'")


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
