"""A dataclass as the JSON that the log keeps of it, and back, by the types of its fields."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from functools import partial
from types import NoneType
from typing import Any, Literal, NamedTuple, TypeVar, get_args, get_origin, get_type_hints

from shopmate import units
from shopmate.project.place import Place
from shopmate.project.run import Held
from shopmate.records import MISSING, fields, is_dataclass
from shopmate.result import Result
from shopmate.steady import Steady
from shopmate.units import Quantity

_Thing = TypeVar("_Thing")

FLAT = {"flat": True}
"""Metadata of a field whose own keys stand among those of the others."""


def written(thing: object) -> dict[str, object]:
    """Return what the log keeps of a dataclass: each field under its name, except what is None and is so by default."""
    data: dict[str, object] = {}
    for door in _doors(type(thing)):
        value = getattr(thing, door.name)
        if door.is_flat:
            data |= door.out(value) or {}
        elif value is not None or not door.may_be_left_out:
            data[door.key] = door.out(value)
    return data


def read(kind: Callable[..., _Thing], data: Mapping[str, Any]) -> _Thing:
    """Return the dataclass of a kind that was written as `data`; keys that are none of its fields are passed over.

    Raises KeyError, TypeError, ValueError or EntryError for data that no such thing is written as.
    """
    return kind(
        **{
            door.name: door.back(data if door.is_flat else data[door.key])
            for door in _doors(kind)
            if door.is_flat or door.key in data
        }
    )


class _Way(NamedTuple):
    """How a value goes out to JSON and comes back."""

    out: Callable[[Any], Any]
    back: Callable[[Any], object]


class _Door(NamedTuple):
    """One field of a dataclass, as JSON goes through it."""

    name: str
    key: str
    out: Callable[[Any], Any]
    back: Callable[[Any], object]
    is_flat: bool
    may_be_left_out: bool


def _doors(kind: Any) -> tuple[_Door, ...]:
    """Return the doors of a dataclass's fields; a name that Python keeps to itself has an underscore more than its key."""
    if kind not in _DOORS:
        hints = get_type_hints(kind)
        _DOORS[kind] = tuple(
            _Door(item.name, item.name.rstrip("_"), *_way(hints[item.name]), item.metadata == FLAT, item.default is not MISSING)
            for item in fields(kind)
        )
    return _DOORS[kind]


_DOORS: dict[Any, tuple[_Door, ...]] = {}
"""The doors of each dataclass met so far: its types are read once."""


def _way(hint: Any) -> _Way:
    """Return how what a type says goes out and comes back; TypeError for a type that has no way yet."""
    if hint in _WAYS:
        return _WAYS[hint]
    kind: Callable[..., object] = hint
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Literal:
        return _Way(_as_it_is, partial(_one_of, inner))
    if NoneType in inner:
        out, back = _way(next(one for one in inner if one is not NoneType))
        return _Way(partial(_unless_none, out), partial(_unless_none, back))
    if origin is tuple:
        out, back = _way(inner[0])
        return _Way(lambda items: [*map(out, items)], lambda items: tuple(map(back, items)))
    if origin is Mapping:
        out, back = _way(inner[1])
        return _Way(
            lambda items: {name: out(item) for name, item in items.items()},
            lambda items: {name: back(item) for name, item in items.items()},
        )
    if is_dataclass(hint):
        return _Way(written, partial(read, kind))
    raise TypeError(f"{hint} has no way to JSON and back; give it one in {__name__}")


def _as_it_is(value: object) -> object:
    return value


def _one_of(among: tuple[object, ...], value: object) -> object:
    if value not in among:
        raise ValueError(f"{value!r} is none of {among}")
    return value


def _unless_none(way: Callable[[object], object], value: object) -> object:
    return way(value) if value is not None else None


def _quantity(value: Quantity) -> dict[str, object]:
    return {"text": units.show(value), "unit": value.unit}


def _quantity_back(data: Mapping[str, Any]) -> Quantity:
    return units.parse(data["text"], data["unit"])


def _steady(steady: Steady) -> dict[str, object]:
    return {"boot": steady.boot, "steady_s": round(steady.seconds, 3)}


def _steady_back(data: Mapping[str, Any]) -> Steady | None:
    return Steady(data["boot"], float(data["steady_s"])) if "boot" in data else None


def _held(held: Held) -> dict[str, object]:
    if held.quantity is not None:
        return _quantity(held.quantity)
    return {"text": held.text, "unit": None} if held.label is None else {"text": held.text, "label": held.label}


def _held_back(data: Mapping[str, Any]) -> Held:
    return Held(data["text"] if data.get("unit") is None else _quantity_back(data), data.get("label"))


_WAYS: Mapping[object, _Way] = {
    **dict.fromkeys((str, int, bool), _Way(_as_it_is, _as_it_is)),
    float: _Way(_as_it_is, float),
    datetime: _Way(datetime.isoformat, datetime.fromisoformat),
    Place: _Way(str, Place.parse),
    Quantity: _Way(_quantity, _quantity_back),
    Steady: _Way(_steady, _steady_back),
    Held: _Way(_held, _held_back),
    Result: _Way(Result.as_json, Result.from_json),
}
"""How what is no dataclass of the events goes to JSON and back."""
