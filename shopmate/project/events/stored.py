"""A dataclass as the JSON that the log keeps of it, and back, by the types of its fields."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from fractions import Fraction
from functools import partial
from types import NoneType
from typing import Any, Literal, NamedTuple, TypeVar, get_args, get_origin, get_type_hints

from shopmate import units
from shopmate.calculator import Value
from shopmate.project.place import Place
from shopmate.project.run import APART, Held
from shopmate.records import MISSING, fields, is_dataclass
from shopmate.result import Result
from shopmate.steady import Steady
from shopmate.units import Quantity, Ratio

_Thing = TypeVar("_Thing")

FLAT = {"flat": True}
"""Metadata of a field whose own keys stand among those of the others."""


def written(thing: object, *, exact: bool = False) -> dict[str, object]:
    """Return what the log keeps of a dataclass: each field under its name, except what is None and is so by default.

    In a log values stand as texts that are typed; `exact` ones come back as the very same numbers.
    """
    data: dict[str, object] = {}
    for door in _doors(type(thing), exact):
        value = getattr(thing, door.name)
        if door.is_flat:
            data |= door.out(value) or {}
        elif value is not None or not door.may_be_left_out:
            data[door.key] = door.out(value)
    return data


def read(kind: Callable[..., _Thing], data: Mapping[str, Any], *, exact: bool = False, **apart: object) -> _Thing:
    """Return the dataclass of a kind that was written as `data`; keys that are none of its fields are passed over.

    `apart` are the fields that are kept elsewhere. Raises KeyError, TypeError, ValueError or EntryError for data that no such
    thing is written as.
    """
    return kind(
        **{
            door.name: door.back(data if door.is_flat else data[door.key])
            for door in _doors(kind, exact)
            if door.is_flat or door.key in data
        },
        **apart,
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


def _doors(kind: Any, exact: bool) -> tuple[_Door, ...]:
    """Return the doors of a dataclass's fields; a name that Python keeps to itself has an underscore more than its key."""
    if (kind, exact) not in _DOORS:
        hints = get_type_hints(kind, None, _ELSEWHERE)
        _DOORS[kind, exact] = tuple(
            _Door(
                item.name,
                item.name.rstrip("_"),
                *_way(hints[item.name], exact),
                item.metadata == FLAT,
                item.default is not MISSING,
            )
            for item in fields(kind)
            if item.metadata != APART
        )
    return _DOORS[kind, exact]


_ELSEWHERE = {"Recipe": object}
"""Types that are not loaded to keep what has them."""

_DOORS: dict[tuple[Any, bool], tuple[_Door, ...]] = {}
"""The doors of each dataclass met so far: its types are read once."""


def _way(hint: Any, exact: bool) -> _Way:
    """Return how what a type says goes out and comes back; TypeError for a type that has no way yet."""
    if exact and hint in _EXACT:
        return _EXACT[hint]
    if hint in _WAYS:
        return _WAYS[hint]
    kind: Callable[..., object] = hint
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Literal:
        return _Way(_as_it_is, partial(_one_of, inner))
    if NoneType in inner:
        out, back = _way(next(one for one in inner if one is not NoneType), exact)
        return _Way(partial(_unless_none, out), partial(_unless_none, back))
    if origin in (tuple, list, set):
        return _way_of_several(origin, [_way(one, exact) for one in inner if one is not Ellipsis], is_fixed=Ellipsis not in inner)
    if origin in (Mapping, dict):
        return _way_by_key(_KEYS.get(inner[0]) or _way(inner[0], exact), _way(inner[1], exact))
    if is_dataclass(hint):
        return _Way(partial(written, exact=exact), partial(read, kind, exact=exact))
    raise TypeError(f"{hint} has no way to JSON and back; give it one in {__name__}")


def _way_of_several(kind: Any, ways: list[_Way], *, is_fixed: bool) -> _Way:
    """Return the way of a tuple, list or set: of as many as there are, each by the one way, or a pair."""
    if kind is tuple and is_fixed:  # a pair, of which a project can have thousands
        (out, back), (out_too, back_too) = ways
        return _Way(lambda pair: [out(pair[0]), out_too(pair[1])], lambda pair: (back(pair[0]), back_too(pair[1])))
    ((out, back),) = ways
    return _Way(lambda items: [*map(out, items)], lambda items: kind(map(back, items)))


def _way_by_key(key: _Way, value: _Way) -> _Way:
    return _Way(
        lambda items: {key.out(name): value.out(item) for name, item in items.items()},
        lambda items: {key.back(name): value.back(item) for name, item in items.items()},
    )


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


_SMALLEST = timedelta(microseconds=1)

_WAYS: Mapping[object, _Way] = {
    **dict.fromkeys((str, int, bool), _Way(_as_it_is, _as_it_is)),
    float: _Way(_as_it_is, float),
    timedelta: _Way(lambda length: length // _SMALLEST, lambda count: count * _SMALLEST),
    datetime: _Way(datetime.isoformat, datetime.fromisoformat),
    Place: _Way(str, Place.parse),
    Quantity: _Way(_quantity, _quantity_back),
    Steady: _Way(_steady, _steady_back),
    Held: _Way(_held, _held_back),
    Result: _Way(Result.as_json, Result.from_json),
}
"""How what is no dataclass of the events goes to JSON and back."""

_KEYS: Mapping[object, _Way] = {int: _Way(str, int)}
"""How what is no text goes to the key of a JSON object and back."""


def _number(value: Fraction | float) -> str | float:
    return str(value) if isinstance(value, Fraction) else value


def _number_back(data: str | float) -> Fraction | float:
    return Fraction(data) if isinstance(data, str) else data


def _value(value: Value) -> object:
    if isinstance(value, Quantity):
        return {"quantity": [_number(value.value), value.unit]}
    if isinstance(value, Ratio):
        return {"ratio": [str(value.a), str(value.b), value.basis]}
    return value  # also one of no such kind, as the result of an event that something else wrote can have


def _value_back(data: Any) -> Value:
    if not isinstance(data, dict):
        found: Value = data
        return found
    if "quantity" in data:
        value, unit = data["quantity"]
        return Quantity(_number_back(value), unit)
    a, b, basis = data["ratio"]
    return Ratio(Fraction(a), Fraction(b), basis)


def _exactly_held(held: Held) -> list[object]:
    return [_value(held.value), held.label, held.places, held.output_of]


def _exactly_held_back(data: list[Any]) -> Held:
    value, label, places, output_of = data
    return Held(_value_back(value), label, places, tuple(output_of) if output_of is not None else None)


_EXACT: Mapping[object, _Way] = {Quantity: _Way(_value, _value_back), Held: _Way(_exactly_held, _exactly_held_back)}
"""How values go to JSON and come back as the very same numbers."""
