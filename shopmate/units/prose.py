"""Figures in a text: written once, in metric units, and shown in inch units at the same precision."""

from __future__ import annotations

import re
from fractions import Fraction

from shopmate.units.known import System, dimension, joined
from shopmate.units.numbers import show_number, significant
from shopmate.units.quantity import Quantity
from shopmate.units.reading import DECIMAL_INCHES_UNDER, FINEST_MARK, display, fitting, inches

_METRIC = ("mm", "cm", "m", "mm²", "cm²", "m²", "mL", "L", "m³", "kg", "g/m²", "kg/m²", "cm²/kg", "kg/m³", "°C", "K", "Pa",
           "kPa", "MPa", "GPa", "N", "kN", "N·m", "N/m", "J", "W", "m/h", "m²/h", "mL/h", "L/h", "m³/h", "m²/kg", "m²/L",
           "W/m²K", "W/mK", "m²K/W", "µm/m·K")  # fmt: skip
"""The units that are converted; units of both systems (g, g/mL, min, %) and units that only formulas use are not."""
_INCH = ("in", "ft", "in²", "ft²", "lbf", "lb", "oz", "psi", "°F", "in²/lb", "oz/yd²", "lb/ft³")


def _any(symbols: tuple[str, ...]) -> str:
    return "|".join(map(re.escape, sorted(symbols, key=len, reverse=True)))


_NUMBER = r"\d+(?:\.\d+)?"
_SIZE = rf"(?:\d+\.\d+|\d{{3,}}) × (?={_NUMBER})"
"""The first side of a face; a small whole number is a count of pieces."""
_LISTED = rf"(?:{_NUMBER}, )*{_NUMBER} (?:or|and) (?=[-−]?{_NUMBER})"
"""All of a list but the last; without 'or' or 'and', a number before a comma means something else."""
_FIGURES = re.compile(
    r"(?P<quoted>(?<!\w)'[^'\n]*'(?!\w))"
    rf"|(?<![\w.,/:=#{{-])(?P<numbers>[-−]?(?:{_LISTED})?(?:{_SIZE})*[-−]?{_NUMBER}"
    rf"(?:(?: to | x |–)[-−]?{_NUMBER})*) (?P<unit>{_any(_METRIC)})(?![\w²³/·}}'’])"
    rf"(?P<twin> \((?:about |≈ )?[\d ./-]+ (?:{_any(_INCH)})\))?"
)
_ONE = re.compile(rf"[-−]?{_NUMBER}")
_A_METRE = re.compile(r" (?:a|an|per|for each|each) (?:metre|square metre|litre|kilogram|kg|m|m²|m³|L)\b")
"""A rate in words: its figure can't be converted without the unit it is per."""
_APART_AFTER = re.compile(
    r"(?: or (?:more|less))? (?:above|below|warmer|colder|hotter|cooler|higher|lower|apart|away|more|less|off)\b"
)
_APART_BEFORE = re.compile(
    r"(?:\b(?:by|within|per|every|rises?|falls?|warmer|colder|hotter|cooler)(?: about| some| up to)? |(?<!to )[+±] ?)$",
    re.IGNORECASE,
)
"""Words that make degrees a difference, so that 32 °F is not added: '3 °C above the dew point', 'hotter by 10 °C'."""
_SAME = re.compile(rf" (?:is|for) {_NUMBER} (?:{_any(_INCH)})\b")
_SAME_BEFORE = re.compile(rf"{_NUMBER} (?:{_any(_INCH)}) (?:is|for) $")
"""A text that gives one unit in terms of another: '6 oz/yd² is 203 g/m²'."""
_CALCULATED = re.compile(r"[=÷√]|\d × \S|\w × [^\d\s]")
_OUTCOME = re.compile(
    rf"= (?P<number>[-−]?{_NUMBER}) (?P<unit>{_any(_METRIC)})"
    rf"(?![\w²³/·]| \([\d ./-]+ (?:{_any(_INCH)})\)| (?:per|and|to|or) |[^;]* [×÷/=√] )"
)
"""The result of a calculation: a figure after an equals sign that ends the calculation, with no inch figure after it."""
_GIVEN = re.compile(rf"{_NUMBER} (?:{_any(_INCH)}) $")
_DIGITS = 4
"""Significant digits of the result in a line of working, except inches, which read as in the headline."""
_ROUND, _FAR = Fraction(2, 100), Fraction(6, 100)
"""Maximum error as a share of the figure: for a round one (25, 100), and for any at all."""
_KEPT_DIGITS = Fraction(5, 10_000)
"""Share by which any figure may be off: the fourth significant digit is the last that counts."""
_THOUSANDTH = Fraction(1, 1000)
"""The finest step in decimals of an inch, except for figures that would become zero."""
_MARKS = tuple(Fraction(1, 2**power) for power in range(7))
"""The divisions of an inch rule, coarse to fine."""
_FINEST = 9
"""Maximum decimals tried."""


def in_system(text: str, system: System) -> str:
    """Return a text written in metric units with its figures in `system`; the metric system leaves it as it is.

    A figure keeps about the precision it was written with: 3 mm becomes 1/8 in, 25 mm 1 in, 24.6 mm 31/32 in, 15 °C 59 °F. All
    figures of a list or range have one unit. Degrees above or below something, or by which it differs, are a difference, and so
    is K; both become °F. An inch figure in brackets after a metric one replaces it. Left alone: text in quotes, g and g/mL,
    rates in words ('12 mL per metre').
    """
    return _FIGURES.sub(_reread, text) if system == "inch" else text


def working_in(line: str, system: System) -> str:
    """Return a line of working written in metric units as it reads in `system`.

    A clause that only states something is converted like any text. One that calculates keeps its units, because the formula and
    its bare numbers only hold in those; the result in `system` follows it: '= 2438.4 mm = 96 in'.
    """
    if system == "metric":
        return line
    clauses = line.split("; ")
    return "; ".join(
        _OUTCOME.sub(_restated, clause) if _CALCULATED.search(clause) else in_system(clause, system) for clause in clauses
    )


def _reread(match: re.Match[str]) -> str:
    text, after = match.string, match.end()
    if match["quoted"] or _A_METRE.match(text, after) or _SAME.match(text, after) or _SAME_BEFORE.search(text[: match.start()]):
        return match[0]
    if match["twin"]:
        return match["twin"][2:-1]
    unit = _kept_apart(match)
    texts = [number[0].replace("−", "-") for number in _ONE.finditer(match["numbers"])]
    target = fitting(Quantity(max(map(Fraction, texts), key=abs), unit), "inch").unit
    read = iter([_number(text, unit, target) for text in texts])
    numbers = _ONE.sub(lambda _: next(read), match["numbers"])
    return joined(numbers, target)


def _kept_apart(match: re.Match[str]) -> str:
    """Return the unit of the figures matched: K for a difference in degrees."""
    if match["unit"] != "°C":
        return match["unit"]
    lone = _ONE.fullmatch(match["numbers"]) is not None
    before = match.string[: match.start()]
    apart = _APART_AFTER.match(match.string, match.end()) or (lone and _APART_BEFORE.search(before))
    return "K" if apart else "°C"


def _number(text: str, unit: str, target: str) -> str:
    """Return a number written in `unit` converted to `target`, as round as allowed."""
    exact = Fraction(text)
    value, nought = (Fraction(Quantity(number, unit).to(target).value) for number in (exact, Fraction(0)))
    scale = abs(Fraction(Quantity(Fraction(1), unit).to(target).value) - nought)
    room = max(_room(text, dimension(unit) == "temperature") * scale, _KEPT_DIGITS * abs(value))
    if target == "in" and abs(value) >= DECIMAL_INCHES_UNDER:
        return inches(value, next((mark for mark in _MARKS if _is_within(value, mark, room)), FINEST_MARK))
    room = max(room, _THOUSANDTH / 2) if target == "in" else room
    for power in range(-4, _FINEST):
        step = Fraction(10) ** -power
        if _is_within(value, step, room):
            return show_number(round(value / step) * step, max(power, 0))
    return show_number(value, _FINEST)


def _is_within(value: Fraction, step: Fraction, room: Fraction) -> bool:
    """Return whether a value may be rounded to a step: the change is no more than `room`, and the result isn't zero."""
    steps = round(value / step)
    return abs(steps * step - value) <= room and (steps != 0 or value == 0)


def _room(text: str, is_temperature: bool) -> Fraction:
    """Return how far the converted figure may be off the number as written, in the unit of that number."""
    value, (whole, _, decimals) = abs(Fraction(text)), text.partition(".")
    half_step = Fraction(1, 2) / Fraction(10) ** len(decimals)
    if is_temperature:
        return half_step
    noughts = 0 if decimals else len(whole) - len(whole.rstrip("0"))
    return min(_FAR * value, max(half_step, min(half_step * Fraction(10) ** noughts, _ROUND * value)))


def _restated(match: re.Match[str]) -> str:
    if _GIVEN.search(match.string[: match.start()]):
        return match[0]
    read = fitting(Quantity(Fraction(match["number"].replace("−", "-")), match["unit"]), "inch")
    told = str(display(read, "inch")) if read.unit == "in" else joined(significant(read.value, _DIGITS), read.unit)
    return f"{match[0]} = {told}"
