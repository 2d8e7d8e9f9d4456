"""A quantity as typed: a number with no more than one unit, of the dimension expected; anything else is refused with advice."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from shopmate.errors import EntryError
from shopmate.phrases import phrase
from shopmate.units.known import BY_SPELLING, Unit, dimension, joined, units_of
from shopmate.units.numbers import (
    DASHES,
    NUMBER_TEXT,
    SIGNS,
    as_fraction,
    number_meant,
    on_a_rule,
    quoted,
    safe,
    show_number,
    tidy,
)
from shopmate.units.quantity import Quantity, hint_for, mismatch

_SMALLER = {"yd": ("ft", 3), "ft": ("in", 12), "lb": ("oz", 16), "gal": ("qt", 4), "qt": ("pt", 2), "wk": ("d", 7),
            "d": ("h", 24), "h": ("min", 60), "min": ("s", 60), "m": ("cm", 100), "cm": ("mm", 10),
            "kg": ("g", 1000), "L": ("mL", 1000)}  # fmt: skip
"""For a unit, the smaller one usually written after it, as in 5 ft 3 in, and how many of those make one."""
_PREFIX_CASE = {"M": "capital M stands for mega", "m": "small m stands for milli", "G": "capital G stands for giga"}
"""Why the first letter of mm, m, mg, g, mL and MPa is accepted only in the right case."""
_GAUGE = re.compile(r"(?:ga(?:uge)?|gage)\.?", re.IGNORECASE)
"""How a sheet-metal gauge is written."""
_HALVED = ("in", "ft", "yd")
"""Units of length divided into halves, quarters and so on, on rules and in speech."""
_WEIGHED_IN_HALVES = ("oz", "lb", "fl oz")
"""Other units that people give in halves and quarters."""
_SECOND = re.compile(rf"([^0-9{''.join(SIGNS)}]+?) ?([-+−]? ?[0-9.,{''.join(SIGNS)}].*)")
"""A unit followed by a second number."""
_LAST_UNIT = re.compile(r"(?:[^\W\d_][^\s\d]*|[\"']+)$")
_POWER_OF_TEN = re.compile(r"[-+−]?[0-9.,]+ ?[eE][-+−]?[0-9]")


@lru_cache(maxsize=1024)  # a log is folded anew with every event, and holds the same texts each time
def parse(text: str, unit: str) -> Quantity:
    """Return the quantity meant by `text`, a number with no more than one unit, of the dimension of `unit`.

    A number without a unit is in `unit`. If that is a metric length, a fraction as on an inch rule is refused: 5/8 usually
    means inches, and in mm would be a twenty-fifth of that. The Quantity keeps the unit that was typed. Raises EntryError for
    a text that can be read in two ways or in none, KeyError for an unknown `unit`.
    """
    hint = hint_for(unit)
    plain = tidy(text, hint)
    if _POWER_OF_TEN.match(plain):
        raise EntryError(
            phrase("{text} is written with a power of ten", quoted(plain)), phrase("type all its digits, as in 1200 or 0.005")
        )
    number_text, unit_text = divide(plain)
    if not any(character.isdigit() or character in SIGNS for character in number_text):
        raise EntryError(phrase("{text} has no number in front", quoted(plain)), hint)
    number = number_meant(number_text, safe(unit_text), hint)
    added = _sum(number, unit_text, dimension(unit))
    if added is not None:
        return added
    if not unit_text and may_be_inches(plain, unit):
        readings = joined(plain, "in"), joined(show_number(number), unit)
        raise EntryError(
            phrase("{text} could be {first} or {second}", quoted(plain), *readings),
            phrase("type {value} or {other}", *readings),
        )
    return Quantity(number, _symbol(number, unit_text, unit, plain) if unit_text else unit)


def has_unit(text: str) -> bool:
    """Return whether a text for a quantity names a unit, known or not."""
    return bool(divide(" ".join(text.split()))[1])


def unit_behind(text: str) -> str:
    """Return the unit at the end of a text, known or not, '' if it ends with a number; it applies to all numbers without one."""
    found = _LAST_UNIT.search(text.strip())
    return found[0] if found else ""


def may_be_inches(text: str, unit: str) -> bool:
    """Return whether a text contains a fraction as on an inch rule, with no unit, where a metric length is expected.

    Each part of a list divided by ';' is looked at. No unit is added to such a text: reading it gives both meanings.
    """
    is_metric_length = dimension(unit) == "length" and unit not in _HALVED
    return is_metric_length and any(map(on_a_rule, text.split(";")))


def takes_fraction(unit: str) -> bool:
    """Return whether numbers in `unit` are written with fractions: any length, ounces and pounds."""
    return dimension(unit) == "length" or unit in _WEIGHED_IN_HALVES


def refuse_point(text: str) -> None:
    """Raise EntryError for 1.250 where the decimal mark is a comma: it means 1,25 to some and 1250 to others."""
    match = re.match(r"\s*([-−]?)([1-9][0-9]{0,2})\.([0-9]{3})(?![0-9.,/])(.*)", text)
    if match is not None:
        sign, whole, part, rest = match.groups()
        readings = [f"{sign}{whole}{part}{rest}", f"{sign}{whole},{part}".rstrip("0").rstrip(",") + rest]
        what = phrase("{text} could be {first} or {second}", quoted(text.strip()), *readings)
        raise EntryError(what, phrase("type {value} or {other}", *readings))


def divide(plain: str) -> tuple[str, str]:
    """Return the text of the number and of the unit; in 24 1/K and 24 /K, '1/' and '/' belong to the unit."""
    match = NUMBER_TEXT.match(plain)
    end = match.end() if match else 0
    number_text, unit_text = plain[:end].strip(), plain[end:].strip()
    if number_text.endswith("/") and f"/{_canonical(unit_text).lower()}" in BY_SPELLING:
        number_text, unit_text = number_text[:-1].strip(), f"/{unit_text}"
        if number_text.endswith(" 1"):
            number_text, unit_text = number_text[:-2].strip(), f"1{unit_text}"
    return number_text, unit_text


def _canonical(unit_text: str) -> str:
    """Return the text of a unit with one spelling for each meaning: m^2 and m2 as m², curly quotes as straight, 'in.' as in."""
    text = unit_text
    for sign, plain in (("’’", '"'), ("''", '"'), ("″", '"'), ("”", '"'), ("′", "'"), ("’", "'"), ("º", "°"), ("˚", "°"),
                        ("℃", "°C"), ("℉", "°F"), ("μ", "µ"), ("⋅", "·"), ("/(", "/"), ("**", ""), ("^", "")):  # fmt: skip
        text = text.replace(sign, plain)
    text = re.sub(r"(?<=[A-Za-z])2", "²", re.sub(r"(?<=[A-Za-z])3", "³", text))
    text = re.sub(r"(?<=[A-Za-z])\.(?= |$)", "", text)
    text = re.sub(r" ?([/·]) ?", r"\1", text)
    return text.removesuffix(")") if "/(" in unit_text else text


def _symbol(number: Fraction, unit_text: str, expected: str, plain: str) -> str:
    canonical = _canonical(unit_text)
    known = BY_SPELLING.get(canonical.lower(), [])
    fits = next((item for item in known if item.dimension == dimension(expected)), None)
    if fits:
        _check_case(canonical, fits, number)
        return fits.symbol
    if known:
        raise EntryError(mismatch(unit_text, expected, known[0]), hint_for(expected))
    if re.search(f"[0-9{''.join(SIGNS)}]", unit_text):
        raise EntryError(phrase("{text} has more than one number", quoted(plain)), hint_for(expected))
    if _GAUGE.fullmatch(unit_text) and dimension(expected) == "length":
        raise _no_thickness(number, plain)
    others = ", ".join(filter(None, units_of(expected)))
    raise EntryError(
        phrase("{text} is not a unit shopmate knows", quoted(unit_text)),
        phrase("{hint} (units: {names})", hint_for(expected), others) if others else hint_for(expected),
    )


def _no_thickness(number: Fraction, plain: str) -> EntryError:
    """Return the error for a sheet gauge typed as a thickness: the same gauge differs between steel and aluminium."""
    from shopmate.units.gauge import thicknesses  # read for this error only

    sheet = thicknesses(number)
    if sheet is None:
        return EntryError(phrase("{text} is not a sheet-metal gauge", quoted(plain)), hint_for("mm"))
    readings = [joined(f"{inches:.4f}", "in") for inches in sheet]
    what = phrase("{text} is {first} in steel but {second} in aluminium", quoted(plain), *readings)
    return EntryError(what, phrase("type {value} or {other}", *readings))


def _check_case(canonical: str, unit: Unit, number: Fraction) -> None:
    """Refuse 5 Mm, 5 ML, 5 mPa and the like, which would be off by a factor of a million or more if taken literally."""
    symbol = unit.symbol
    written_as_symbol = canonical.lower() == symbol.lower()
    if written_as_symbol and symbol[0] in "mMg" and unit.dimension != "time" and canonical[0] != symbol[0]:
        fix = phrase("type {value}", joined(show_number(number), symbol))
        raise EntryError(
            phrase("{text} is not {symbol}: {why}", quoted(canonical), symbol, phrase(_PREFIX_CASE[canonical[0]])), fix
        )


def _sum(number: Fraction, unit_text: str, expected: str) -> Quantity | None:
    """Return the sum of 12 ft 6 in or 1 h 30 in the smaller of the two units; None if a text is no such pair."""
    more = _SECOND.fullmatch(unit_text)
    known = BY_SPELLING.get(_canonical(more[1]).lower(), []) if more else []
    first = next((item for item in known if item.dimension == expected), None)
    if more is None or first is None or first.symbol not in _SMALLER:
        return None
    smaller, count = _SMALLER[first.symbol]
    try:
        second = parse(more[2], smaller)
    except EntryError:
        return None
    if second.unit != smaller or more[2].startswith(tuple(f"+−{DASHES}")):
        return None
    part = as_fraction(second.value)
    return Quantity(number * count + (-part if number < 0 else part), smaller)
