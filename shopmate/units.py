"""Numbers, units and ratios as people at a bench write them: parsed strictly, converted exactly, shown plainly.

A number and its unit are read by the small grammar here; pint only converts, by the definitions in units.txt.
Every number typed stays an exact Fraction.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Literal

from shopmate.errors import EntryError

if TYPE_CHECKING:
    from pint import UnitRegistry

System = Literal["metric", "inch"]
"""The system a project shows its figures in; input takes both."""


@dataclass(frozen=True, slots=True)
class _Unit:
    symbol: str
    dimension: str
    pint: str
    spellings: tuple[str, ...] = ()


_UNITS = (
    _Unit("mm", "length", "millimeter", ("millimetre", "millimeter", "millimetres", "millimeters")),
    _Unit("cm", "length", "centimeter", ("centimetre", "centimeter", "centimetres", "centimeters")),
    _Unit("m", "length", "meter", ("metre", "meter", "metres", "meters")),
    _Unit("in", "length", "inch", ('"', "″", "inch", "inches")),
    _Unit("ft", "length", "foot", ("'", "′", "foot", "feet")),
    _Unit("yd", "length", "yard", ("yard", "yards")),
    _Unit("mm²", "area", "millimeter**2", ("mm2", "mm^2")),
    _Unit("cm²", "area", "centimeter**2", ("cm2", "cm^2")),
    _Unit("m²", "area", "meter**2", ("m2", "m^2")),
    _Unit("in²", "area", "inch**2", ("in2", "in^2", "sq in")),
    _Unit("ft²", "area", "foot**2", ("ft2", "ft^2", "sq ft")),
    _Unit("yd²", "area", "yard**2", ("yd2", "yd^2", "sq yd")),
    _Unit("mL", "volume", "milliliter", ("ml", "cc", "cm³", "cm3", "cm^3")),
    _Unit("L", "volume", "liter", ("l", "litre", "liter", "litres", "liters")),
    _Unit("m³", "volume", "meter**3", ("m3", "m^3")),
    _Unit("in³", "volume", "inch**3", ("in3", "in^3", "cu in")),
    _Unit("ft³", "volume", "foot**3", ("ft3", "ft^3", "cu ft")),
    _Unit("fl oz", "volume", "fluid_ounce", ("floz", "fl. oz", "us fl oz")),
    _Unit("mg", "mass", "milligram"),
    _Unit("g", "mass", "gram", ("gram", "grams", "gramme", "grammes")),
    _Unit("kg", "mass", "kilogram", ("kilo", "kilos")),
    _Unit("oz", "mass", "ounce", ("ounce", "ounces")),
    _Unit("lb", "mass", "pound", ("lbs", "pound", "pounds")),
    _Unit("g/m²", "areal weight", "gram/meter**2", ("g/m2", "g/m^2", "gsm")),
    _Unit("kg/m²", "areal weight", "kilogram/meter**2", ("kg/m2", "kg/m^2")),
    _Unit("oz/yd²", "areal weight", "ounce/yard**2", ("oz/yd2", "oz/yd^2", "oz/sq yd")),
    _Unit("oz/ft²", "areal weight", "ounce/foot**2", ("oz/ft2", "oz/ft^2")),
    _Unit("lb/ft²", "areal weight", "pound/foot**2", ("lb/ft2", "lb/ft^2")),
    _Unit("g/mL", "density", "gram/milliliter", ("g/ml", "g/cc", "g/cm³", "g/cm3", "g/cm^3", "kg/l")),
    _Unit("kg/m³", "density", "kilogram/meter**3", ("kg/m3", "kg/m^3")),
    _Unit("lb/ft³", "density", "pound/foot**3", ("lb/ft3", "lb/ft^3", "pcf")),
    _Unit("°C", "temperature", "degree_Celsius", ("c", "degc", "deg c", "º c", "ºc")),
    _Unit("°F", "temperature", "degree_Fahrenheit", ("f", "degf", "deg f", "º f", "ºf")),
    _Unit("K", "temperature difference", "kelvin", ("°c", "c", "degc", "deg c")),
    _Unit("Δ°F", "temperature difference", "degree_Fahrenheit_difference", ("°f", "f", "degf", "deg f")),
    _Unit("Pa", "pressure", "pascal"),
    _Unit("kPa", "pressure", "kilopascal"),
    _Unit("MPa", "pressure", "megapascal", ("n/mm²", "n/mm2")),
    _Unit("GPa", "pressure", "gigapascal"),
    _Unit("psi", "pressure", "psi", ("lbf/in²", "lbf/in2")),
    _Unit("inHg", "pressure", "inch_of_mercury", ("in hg",)),
    _Unit("N", "force", "newton", ("newton", "newtons")),
    _Unit("kN", "force", "kilonewton"),
    _Unit("lbf", "force", "pound_force"),
    _Unit("s", "time", "second", ("sec", "second", "seconds")),
    _Unit("min", "time", "minute", ("minute", "minutes")),
    _Unit("h", "time", "hour", ("hr", "hrs", "hour", "hours")),
    _Unit("d", "time", "day", ("day", "days")),
    _Unit("°", "angle", "degree", ("deg", "degree", "degrees")),
    _Unit("rad", "angle", "radian"),
    _Unit("%", "fraction", "percent", ("percent", "pct")),
    _Unit("ppm", "concentration", "ppm"),
    _Unit("kJ/mol", "activation energy", "kilojoule/mole"),
    _Unit("W/m²K", "thermal transmittance", "watt/meter**2/kelvin", ("w/m2k", "w/(m²k)", "w/(m2k)")),
    _Unit("W/mK", "thermal conductivity", "watt/meter/kelvin", ("w/(mk)",)),
    _Unit("1/K", "expansion", "1/kelvin", ("/k", "/°c")),
    _Unit("N/m", "line load", "newton/meter"),
    _Unit("", "number", "", ()),
)
_BY_SYMBOL = {unit.symbol: unit for unit in _UNITS}

_NEEDS_NO_UNIT = frozenset({"fraction", "angle", "density", "number", "temperature difference", "time", "activation energy"})
"""Dimensions written in one unit so commonly that a bare number is not doubtful."""

_HALVES = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
           "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}  # fmt: skip
_NUMBER = re.compile(r"[-+−]?[0-9.,/¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]*(?:(?:[ +−-]+)[0-9.,/]+)*")
_DECIMAL = re.compile(r"(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)")
_FRACTION = re.compile(r"([0-9]+)/([0-9]+)")
_MIXED = re.compile(r"([0-9]+)(?: *[-+] *| +)([0-9]+)/([0-9]+)")
_LONGEST = 40
"""A longer text is no number anyone types; it keeps arithmetic on absurd input bounded."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit: a Fraction where the user typed it, a float where a formula made it."""

    value: Fraction | float
    unit: str
    """One of the symbols of this module, such as 'mm', 'g/m²', '°C'; '' for a bare number."""

    def to(self, unit: str) -> Quantity:
        """Return the same quantity in `unit`, exact where it was exact.

        Raises EntryError when `unit` is of another dimension.
        """
        if unit == self.unit:
            return self
        if dimension(unit) != dimension(self.unit):
            raise EntryError(f"{self.unit or 'a bare number'} is no unit of {dimension(unit)}", f"use {_example(unit)}")
        converted = _registry().Quantity(self.value, _BY_SYMBOL[self.unit].pint).to(_BY_SYMBOL[unit].pint).magnitude
        return Quantity(converted, unit)

    def value_in(self, unit: str) -> float:
        """Return the number in `unit` as a float, for formulas."""
        return float(self.to(unit).value)


@dataclass(frozen=True, slots=True)
class Ratio:
    """A mix ratio a:b (first part resin or A, second hardener or B) and whether it is by weight or by volume."""

    a: Fraction
    b: Fraction
    basis: Literal["weight", "volume"]

    def __str__(self) -> str:
        return f"{show_number(self.a)}:{show_number(self.b)} by {self.basis}"


def dimension(unit: str) -> str:
    """Return the name of what `unit` measures, such as 'length'; KeyError for an unknown symbol."""
    return _BY_SYMBOL[unit].dimension


def units_of(unit: str) -> tuple[str, ...]:
    """Return the symbols of all units that measure the same as `unit`."""
    return tuple(item.symbol for item in _UNITS if item.dimension == dimension(unit))


def needs_unit(unit: str) -> bool:
    """Return whether a bare number is doubtful where `unit` is expected, both systems being in daily use."""
    return dimension(unit) not in _NEEDS_NO_UNIT


def has_unit(text: str) -> bool:
    """Return whether a text for a quantity names its unit."""
    return bool(_split(text)[1])


def parse_number(text: str) -> Fraction:
    """Return the exact number meant by `text`: 12, 1.5, 1,5, .5, 3/4, 1-1/2, 1 1/2, 1+1/2, 1½.

    Raises EntryError, with what to type instead, for anything with two readings (1,250 and 1.1/2) or none.
    """
    plain = text.strip()
    if len(plain) > _LONGEST:
        raise EntryError(f"{plain[:12]}... is too long for a number", f"give at most {_LONGEST} characters")
    for sign, fraction in _HALVES.items():
        plain = re.sub(rf"(?<=[0-9]) ?{sign}", f" {fraction}", plain).replace(sign, fraction)
    plain = plain.replace("−", "-").strip()
    negative = plain.startswith("-")
    plain = plain.removeprefix("-").removeprefix("+").strip() if plain[:1] in "+-" else plain
    number = _unsigned(plain, text.strip())
    return -number if negative else number


def parse(text: str, unit: str) -> Quantity:
    """Return the quantity meant by `text`, a number with at most one unit of the dimension of `unit`.

    A number without a unit is in `unit`. The Quantity keeps the unit that was typed. Raises EntryError.
    """
    number_text, unit_text = _split(text)
    if not number_text:
        raise EntryError(
            f"'{text.strip()}' has no number" if text.strip() else "nothing given", f"give a number, such as {_example(unit)}"
        )
    symbol = _symbol(unit_text, unit) if unit_text else unit
    return Quantity(parse_number(number_text), symbol)


def parse_ratio(text: str) -> Ratio:
    """Return the ratio meant by a text such as '2:1 by volume' or '100:45 by weight'; raises EntryError."""
    hint = "write it like '2:1 by volume' or '100:45 by weight'"
    match = re.fullmatch(r"\s*([^:]+):\s*([^:]*?[0-9])\s*(?:by\s+)?(weight|mass|volume)?\s*", text, re.IGNORECASE)
    if match is None:
        raise EntryError(f"'{text.strip()}' is not a ratio", hint)
    if match[3] is None:
        raise EntryError(f"'{text.strip()}' does not say by weight or by volume", hint)
    a, b = parse_number(match[1]), parse_number(match[2])
    if a <= 0 or b <= 0:
        raise EntryError(f"'{text.strip()}' has a part that is not above zero", hint)
    return Ratio(a, b, "volume" if match[3].lower() == "volume" else "weight")


def show_number(number: Fraction | float, places: int | None = None) -> str:
    """Return a number as text: exact (decimal, else fraction) without `places`, rounded to `places` with it."""
    if places is not None:
        return f"{float(number):.{places}f}"
    if isinstance(number, float):
        return repr(number).removesuffix(".0")
    if number.denominator == 1:
        return str(number.numerator)
    odd = number.denominator
    for prime in (2, 5):
        while odd % prime == 0:
            odd //= prime
    if odd == 1:
        digits = next(digits for digits in range(1, 200) if number.denominator and (number * 10**digits).denominator == 1)
        scaled = abs(number * 10**digits).numerator
        whole, part = divmod(scaled, 10**digits)
        return f"{'-' if number < 0 else ''}{whole}.{part:0{digits}d}"
    whole, rest = divmod(abs(number), 1)
    sign = "-" if number < 0 else ""
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"


def show(quantity: Quantity, places: int | None = None) -> str:
    """Return a quantity as text that parses back to itself (exactly so without `places`)."""
    space = "" if quantity.unit in ("°", "") else " "
    return f"{show_number(quantity.value, places)}{space}{quantity.unit}"


def _unsigned(plain: str, typed: str) -> Fraction:
    if re.fullmatch(r"[0-9]{1,3}(?:[,'][0-9]{3})+", plain):
        as_decimal, as_whole = plain.replace(",", ".", 1), plain.replace(",", "").replace("'", "")
        raise EntryError(
            f"{typed} has two readings, {as_decimal} and {as_whole}", f"write {as_whole} or {as_decimal.rstrip('0')}"
        )
    if _DECIMAL.fullmatch(plain):
        return Fraction(plain.replace(",", "."))
    match = _FRACTION.fullmatch(plain)
    if match:
        return _fraction("0", match[1], match[2], typed)
    match = _MIXED.fullmatch(plain)
    if match:
        return _fraction(match[1], match[2], match[3], typed)
    if re.fullmatch(r"[0-9]+[.,][0-9]+/[0-9]+", plain):
        whole, rest = re.split(r"[.,]", plain, maxsplit=1)
        raise EntryError(f"{typed} has two readings", f"write {whole}-{rest} for {whole} and {rest}")
    raise EntryError(f"'{typed}' is not a number", "write 12, 1.5, 3/4 or 1-1/2")


def _fraction(whole: str, top: str, bottom: str, typed: str) -> Fraction:
    if int(bottom) == 0:
        raise EntryError(f"{typed} divides by zero", "give a fraction such as 3/4")
    return int(whole) + Fraction(int(top), int(bottom))


def _split(text: str) -> tuple[str, str]:
    text = text.strip()
    match = _NUMBER.match(text)
    end = match.end() if match else 0
    return text[:end].strip(), text[end:].strip()


def _symbol(unit_text: str, expected: str) -> str:
    wanted = " ".join(unit_text.lower().split())
    fits = [item for item in _UNITS if item.dimension == dimension(expected)]
    for item in fits:
        if unit_text == item.symbol:
            return item.symbol
    for item in fits:
        if wanted == item.symbol.lower() or wanted in item.spellings:
            return item.symbol
    for item in _UNITS:
        if wanted == item.symbol.lower() or wanted in item.spellings:
            raise EntryError(f"'{unit_text}' measures {item.dimension}, not {dimension(expected)}", f"use {_example(expected)}")
    raise EntryError(f"'{unit_text}' is not a unit known here", f"use {_example(expected)}")


def _example(unit: str) -> str:
    same = [item for item in units_of(unit) if item]
    return ", ".join(same) if same else "a bare number"


@cache
def _registry() -> UnitRegistry[Fraction]:
    import pint

    definitions = resources.files("shopmate").joinpath("units.txt").read_text(encoding="utf-8").splitlines()
    return pint.UnitRegistry(definitions, non_int_type=Fraction)
