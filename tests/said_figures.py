"""Reads the figures out of a sentence, and holds each to what is known or to the arithmetic it stands in."""

import itertools
import math
import re
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from importlib import resources

import pint

from shopmate import units
from shopmate.units import Quantity
from shopmate.units.known import UNITS

SYMBOLS = sorted((unit.symbol for unit in UNITS if unit.symbol), key=len, reverse=True)
UNIT = "|".join(map(re.escape, SYMBOLS))
NUMBER = r"\d+(?:\.\d+)?"
EDGE = r"(?![\w²³%/°·]|\.\d|(?<= in) (?:a|the)\b)"
"""What may not follow a unit: a letter or sign of a longer one, such as min/g; nor is '10 in a row' inches."""

FIGURE = re.compile(rf"(?<![\w.,#/])(?P<number>{NUMBER})(?: ?(?P<unit>{UNIT}){EDGE}|(?![\w.]\w))")
"""A number with the unit that follows it, if one does."""

SHARED = re.compile(r" (?:to|or|and) ")
"""What stands between two numbers that share the unit of the second: 45 to 50 %."""

FUNCTIONS = {
    "sin": math.sin,
    "cos": math.cos,
    "tan": math.tan,
    "asin": lambda x: math.asin(x) * 180 / math.pi,
    "acos": lambda x: math.acos(x) * 180 / math.pi,
    "atan": lambda x: math.atan(x) * 180 / math.pi,
    "exp": math.exp,
    "ln": math.log,
    "√": math.sqrt,
}
TOKEN = re.compile(
    rf"(?P<fraction>(?:\d+ )?\d+/\d+)(?= in\b)|(?P<number>{NUMBER})|(?P<constant>π)|(?P<function>{'|'.join(FUNCTIONS)})\b|√"
    r"|(?P<power>[²³]|⁻?[⁰¹⁴-⁹]+)|(?P<operator>[-+−×·÷/^()])|(?P<word>[^\W\d_]\w*)|(?P<other>\S)"
)
AFTER = re.compile(rf" ?({UNIT}){EDGE}")
"""The unit after a number."""

SUPERSCRIPT = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
REMARK = re.compile(r"\((?![^()]*(?:sin|cos|tan|exp|ln)\b)[^()]*[A-Za-z]{3,}[^()]*\)")
"""Words in parentheses, which are no factor."""


@dataclass(frozen=True)
class Figure:
    """A number as printed, the unit it carries, and where it stands in the line."""

    text: str
    unit: str
    span: tuple[int, int]

    @property
    def value(self):
        return float(self.text)

    @property
    def step(self):
        """The last digit printed."""
        return 10.0 ** -len(self.text.partition(".")[2])

    @property
    def loose(self):
        """How far the figure may be off what it stands for: rounded up or down, to two digits where it ends in zeros."""
        if "." in self.text:
            return self.step
        zeros = len(self.text) - len(self.text.rstrip("0"))
        return 10.0 ** min(zeros, max(len(self.text) - 2, 0))


@cache
def figures(line):
    """Return the figures of a line; a number before 'to' has the unit that follows the range."""
    found = [Figure(match["number"], match["unit"] or "", match.span()) for match in FIGURE.finditer(line)]
    for index in range(len(found) - 2, -1, -1):
        this, after = found[index], found[index + 1]
        if not this.unit and after.unit and SHARED.fullmatch(line[this.span[1] : after.span[0]]):
            found[index] = Figure(this.text, after.unit, this.span)
    if re.search(r" (?:to|per) 100 g", line):
        # Grams to 100 g are per cent.
        return [replace(item, unit="%") if item.unit == "g" and item.text != "100" else item for item in found]
    return found


def stands_for(figure, value, unit):
    """Return whether a figure is this value in its own unit, rounded as printed."""
    if units.dimension(unit) != units.dimension(figure.unit):
        return False
    if not math.isfinite(value):
        return False
    return abs(abs(Quantity(value, unit).value_in(figure.unit)) - figure.value) < figure.loose * (1 + 1e-6)


# What a line works out.


class _Registry:
    def __init__(self):
        lines = resources.files("shopmate.units").joinpath("units.txt").read_text(encoding="utf-8").splitlines()
        self.made = pint.UnitRegistry(lines)
        self.of = {unit.symbol: unit.pint for unit in UNITS}

    def quantity(self, value, symbol):
        return self.made.Quantity(value, self.of[symbol]) if symbol else value


REGISTRY = _Registry()


class NoSense(Exception):
    """These tokens are no expression."""


def tokens(line):
    """Return the tokens of a line as (kind, text, unit, span), without remarks and the words that only say what a number is of.

    A word after an operator, or of one letter, stands for a number: there the arithmetic breaks off.
    """
    bare, found, at = REMARK.sub(lambda match: " " * len(match[0]), line), [], 0
    while match := TOKEN.search(bare, at):
        kind, text, unit, at = match.lastgroup, match[0], "", match.end()
        if text == "√":
            kind = "function"
        if kind in ("number", "fraction") and (after := AFTER.match(bare, at)):
            unit, at = after[1], after.end()
        if kind == "word":
            stands_for_number = (len(text) == 1 and text not in "aJ") or (
                found and found[-1][0] == "operator" and found[-1][1] != ")"
            )
            kind = "break" if stands_for_number else "prose"
        if kind != "prose":
            found.append((kind, text, unit, (match.start(), at)))
    return found


class Expression:
    """A list of tokens as arithmetic: evaluated with units or without, and with each number moved by half its last digit."""

    def __init__(self, parts):
        self.parts = parts
        self.numbers = [index for index, part in enumerate(parts) if part[0] in ("number", "fraction")]

    def value(self, with_units, moved=None):
        """Return what it comes to; NoSense where it is none."""
        self.at, self.with_units, self.moved = 0, with_units, moved
        try:
            result = self._sum()
        except (pint.errors.PintError, ZeroDivisionError, ValueError, OverflowError, TypeError, AttributeError) as error:
            raise NoSense from error
        if self.at != len(self.parts):
            raise NoSense
        return result

    def _next(self, *texts):
        if self.at < len(self.parts) and self.parts[self.at][0] == "operator" and self.parts[self.at][1] in texts:
            self.at += 1
            return self.parts[self.at - 1][1]
        return None

    def _sum(self):
        result = self._product()
        while sign := self._next("+", "-", "−"):
            other = self._product()
            result = result + other if sign == "+" else result - other
        return result

    def _product(self):
        result = self._power()
        while True:
            if sign := self._next("×", "·", "÷", "/"):
                other = self._power()
                result = result * other if sign in "×·" else result / other
            elif self._multiplies():
                result = result * self._power()
            else:
                return result

    def _multiplies(self):
        """Return whether what follows is a factor without a sign: 2 π r(...), not 1.06 mm (0.0419 in)."""
        if self.at >= len(self.parts):
            return False
        kind, text = self.parts[self.at][:2]
        return kind in ("function", "constant") or (text == "(" and not self.parts[self.at - 1][2])

    def _power(self):
        base = self._unit()
        while self.at < len(self.parts) and self.parts[self.at][0] == "power":
            base = base ** int(self.parts[self.at][1].translate(SUPERSCRIPT))
            self.at += 1
        return base ** self._unit() if self._next("^") else base

    def _unit(self):
        if self._next("-", "−"):
            return -self._power()
        if self._next("("):
            result = self._sum()
            if not self._next(")"):
                raise NoSense
            return result
        if self.at >= len(self.parts):
            raise NoSense
        kind, text, unit, _ = self.parts[self.at]
        self.at += 1
        if kind == "constant":
            return math.pi
        if kind == "function":
            argument = self._power()
            if hasattr(argument, "to_base_units"):
                argument = argument.to_base_units().magnitude
            return FUNCTIONS[text](argument)
        if kind == "fraction":
            return REGISTRY.quantity(float(sum(map(Fraction, text.split()))), unit if self.with_units else "")
        if kind != "number":
            raise NoSense
        number = float(text)
        if self.moved == self.at - 1:
            number += self._half_step(text)
        if unit == "°" or (self.with_units and unit):
            return REGISTRY.quantity(number, unit)
        return number

    def reach(self, with_units):
        """Return the value and how far its numbers, each rounded as printed, can move it."""
        value = self.value(with_units)
        return value, sum(abs(_bare(self.value(with_units, index)) - _bare(value)) for index in self.numbers)

    def _half_step(self, text):
        """Return half of the last digit printed; a whole number among others has four significant ones, or counts."""
        if "." in text or len(self.numbers) == 1:
            return 0.5 * 10.0 ** -len(text.partition(".")[2])
        return 0.5 * 10.0 ** min(0, len(text) - 4)


def _bare(value):
    return float(value.to_base_units().magnitude) if hasattr(value, "to_base_units") else float(value)


def _dimension(value):
    return value.dimensionality if hasattr(value, "dimensionality") else REGISTRY.made.Quantity(1.0, "").dimensionality


def _agree(left, right):
    """Return whether two expressions come to the same, with their units or as bare numbers."""
    for with_units in (True, False):
        try:
            (one, off), (other, slack) = left.reach(with_units), right.reach(with_units)
        except NoSense:
            continue
        if _dimension(one) == _dimension(other):
            one, other = _bare(one), _bare(other)
            if abs(one - other) <= (off + slack) * (1 + 1e-6) + 1e-9 * abs(one):
                return True
    return False


OPERATORS = set("-+−×·÷/^")


def _longest(parts, from_end):
    """Return the longest expression at the end or at the start of some tokens, None where there is none that is whole."""
    for length in range(len(parts), 0, -1):
        edge = parts[-length - 1 : -length] if from_end else parts[length : length + 1]
        if edge and (edge[0][0] == "break" or edge[0][1] in OPERATORS):
            continue
        expression = Expression(parts[-length:] if from_end else parts[:length])
        if not expression.numbers:
            continue
        try:
            expression.value(False)
        except NoSense:
            continue
        return expression
    return None


def _shortest(parts):
    """Return the number that a list of tokens starts with."""
    return parts[:1] if parts[0][0] == "number" else []


@cache
def equations(line):
    """Return the pairs of expressions that a line says are equal, each with whether it comes out."""
    return tuple((one, other, _agree(one, other)) for one, other in _pairs(line))


def _pairs(line):
    last = []
    for clause in re.finditer(r"[^;]+", line):
        pieces = [(match.start() + clause.start(), match[0]) for match in re.finditer(r"[^=]+", clause[0])]
        sides = [[(*part[:3], (part[3][0] + at, part[3][1] + at)) for part in tokens(text)] for at, text in pieces]
        if last and sides[0] and sides[0][0][1] in OPERATORS:
            # '... = 3.2393; × 8 h = 25.91 h' works on with what came out.
            sides[0] = [*_shortest(last), *sides[0]]
        last = sides[-1]
        for left, right in itertools.pairwise(sides):
            one, other = _longest(left, True), _longest(right, False)
            if one is not None and other is not None:
                yield one, other


def worked_out(line):
    """Return the places of the line's numbers that an equation of it bears out."""
    agreed = [(one, other) for one, other, comes_out in equations(line) if comes_out]
    return {expression.parts[index][3] for pair in agreed for expression in pair for index in expression.numbers}


def wrong_equations(line):
    """Return the equations of a line that do not come out, as they stand in it."""
    return [
        line[one.parts[0][3][0] : other.parts[-1][3][1]]
        for one, other, comes_out in equations(line)
        if len(one.numbers) > 1 and not comes_out
    ]
