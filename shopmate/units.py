"""Numbers, units and ratios as people at a bench write them: parsed strictly, converted exactly, shown plainly.

A number and its unit are read by the small grammar here; pint only converts, by the definitions in units.txt.
Every number typed stays an exact Fraction. A text with two readings is refused, with what to type instead.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache, lru_cache
from typing import TYPE_CHECKING, Literal

from shopmate.errors import EntryError
from shopmate.phrases import phrase

if TYPE_CHECKING:
    from pint import UnitRegistry

System = Literal["metric", "inch"]
"""The system a project shows its figures in; input takes both."""


@dataclass(frozen=True, slots=True)
class _Unit:
    symbol: str
    dimension: str
    pint: str
    """Its name in units.txt, or an expression of such names."""
    like: str
    """A number of this unit as the bench might write it, for hints."""
    twin: str = ""
    """The unit named beside it in hints: about as large, of the other system if there is one."""
    spellings: tuple[str, ...] = ()
    """Further ways to write it, in lower case and as `_canonical` leaves them."""


_UNITS = (
    _Unit("mm", "length", "millimeter", "12", "in", ("millimetre", "millimeter", "millimetres", "millimeters")),
    _Unit("cm", "length", "centimeter", "3.8", "in", ("centimetre", "centimeter", "centimetres", "centimeters")),
    _Unit("m", "length", "meter", "2.4", "ft", ("metre", "meter", "metres", "meters")),
    _Unit("in", "length", "inch", "1-1/2", "mm", ('"', "inch", "inches")),
    _Unit("ft", "length", "foot", "8", "m", ("'", "foot", "feet")),
    _Unit("yd", "length", "yard", "5", "m", ("yard", "yards")),
    _Unit("mm²", "area", "millimeter**2", "50", "in²", ("sq mm",)),
    _Unit("cm²", "area", "centimeter**2", "20", "in²", ("sq cm",)),
    _Unit("m²", "area", "meter**2", "1.5", "ft²", ("sq m",)),
    _Unit("in²", "area", "inch**2", "3", "cm²", ("sq in",)),
    _Unit("ft²", "area", "foot**2", "16", "m²", ("sq ft",)),
    _Unit("yd²", "area", "yard**2", "2", "m²", ("sq yd",)),
    _Unit("mL", "volume", "milliliter", "250", "fl oz", ("cc", "cm³")),
    _Unit("L", "volume", "liter", "1.5", "fl oz", ("litre", "liter", "litres", "liters")),
    _Unit("m³", "volume", "meter**3", "0.2", "ft³", ("cu m",)),
    _Unit("in³", "volume", "inch**3", "12", "mL", ("cu in",)),
    _Unit("ft³", "volume", "foot**3", "2", "L", ("cu ft",)),
    _Unit("fl oz", "volume", "fluid_ounce", "8", "mL", ("floz", "us fl oz")),
    _Unit("mg", "mass", "milligram", "500", "g"),
    _Unit("g", "mass", "gram", "120", "oz", ("gram", "grams", "gramme", "grammes")),
    _Unit("kg", "mass", "kilogram", "2.5", "lb", ("kilo", "kilos", "kilogram", "kilograms")),
    _Unit("oz", "mass", "ounce", "4", "g", ("ounce", "ounces")),
    _Unit("lb", "mass", "pound", "5-1/2", "kg", ("lbs", "pound", "pounds")),
    _Unit("g/m²", "areal weight", "gram/meter**2", "200", "oz/yd²", ("gsm",)),
    _Unit("kg/m²", "areal weight", "kilogram/meter**2", "5", "lb/ft²"),
    _Unit("oz/yd²", "areal weight", "ounce/yard**2", "6", "g/m²", ("oz/sq yd",)),
    _Unit("oz/ft²", "areal weight", "ounce/foot**2", "1-1/2", "g/m²", ("oz/sq ft",)),
    _Unit("lb/ft²", "areal weight", "pound/foot**2", "1", "kg/m²", ("lb/sq ft",)),
    _Unit("cm²/kg", "area for a load", "centimeter**2/kilogram", "56.9", "in²/lb", ("sq cm/kg",)),
    _Unit("in²/lb", "area for a load", "inch**2/pound", "4", "cm²/kg", ("sq in/lb",)),
    _Unit("g/mL", "density", "gram/milliliter", "1.1", "lb/ft³", ("g/cc", "g/cm³", "kg/l")),
    _Unit("kg/m³", "density", "kilogram/meter**3", "32", "lb/ft³"),
    _Unit("lb/ft³", "density", "pound/foot**3", "2", "kg/m³", ("pcf", "lb/cu ft")),
    _Unit("°C", "temperature", "degree_Celsius", "20", "°F", ("c", "degc", "deg c", "° c", "celsius")),
    _Unit("°F", "temperature", "degree_Fahrenheit", "68", "°C", ("f", "degf", "deg f", "° f", "fahrenheit")),
    _Unit("K", "temperature difference", "kelvin", "10", "Δ°F", ("kelvin", "°c", "c", "degc", "deg c", "° c", "celsius")),
    _Unit("Δ°F", "temperature difference", "degree_Fahrenheit_difference", "18", "K",
          ("°f", "f", "degf", "deg f", "° f", "fahrenheit")),
    _Unit("Pa", "pressure", "pascal", "500", "psi"),
    _Unit("kPa", "pressure", "kilopascal", "50", "psi"),
    _Unit("MPa", "pressure", "megapascal", "10", "psi", ("n/mm²",)),
    _Unit("GPa", "pressure", "gigapascal", "9", "psi"),
    _Unit("psi", "pressure", "psi", "7", "kPa", ("lbf/in²", "lb/in²")),
    _Unit("inHg", "pressure", "inch_of_mercury", "20", "kPa", ("in hg",)),
    _Unit("N", "force", "newton", "250", "lbf", ("newton", "newtons")),
    _Unit("kN", "force", "kilonewton", "2", "lbf"),
    _Unit("lbf", "force", "pound_force", "50", "N"),
    _Unit("s", "time", "second", "90", "min", ("sec", "secs", "second", "seconds")),
    _Unit("min", "time", "minute", "30", "h", ("mins", "minute", "minutes")),
    _Unit("h", "time", "hour", "1.5", "min", ("hr", "hrs", "hour", "hours")),
    _Unit("d", "time", "day", "7", "h", ("day", "days")),
    _Unit("m/h", "length an hour", "meter/hour", "4", "ft/h"),
    _Unit("ft/h", "length an hour", "foot/hour", "12", "m/h"),
    _Unit("m²/h", "area an hour", "meter**2/hour", "1.5", "ft²/h"),
    _Unit("ft²/h", "area an hour", "foot**2/hour", "16", "m²/h", ("sq ft/h",)),
    _Unit("°", "angle", "degree", "45", "", ("deg", "degree", "degrees")),
    _Unit("rad", "angle", "radian", "0.5", "°", ("radian", "radians")),
    _Unit("%", "fraction", "percent", "15", "", ("percent", "pct")),
    _Unit("ppm", "concentration", "ppm", "50"),
    _Unit("kJ/mol", "activation energy", "kilojoule/mole", "60"),
    _Unit("g/eq", "equivalent weight", "gram/mole", "190", "", ("g/equiv", "g/equivalent")),
    _Unit("g/mol", "molar mass", "gram/mole", "103"),
    _Unit("W/m²K", "thermal transmittance", "watt/meter**2/kelvin", "0.6", "", ("w/m²·k", "w/m² k")),
    _Unit("W/mK", "thermal conductivity", "watt/meter/kelvin", "0.03", "", ("w/m·k", "w/m k")),
    _Unit("1/K", "expansion", "1/kelvin", "0.000024", "µm/m·K", ("/k", "/°c", "1/°c")),
    _Unit("µm/m·K", "expansion", "micrometer/meter/kelvin", "24", "",
          ("µm/mk", "um/m·k", "um/mk", "µm/m·°c", "um/m·°c", "µm/m°c", "um/m°c", "ppm/k", "ppm/°c")),
    _Unit("N/m", "line load", "newton/meter", "100"),
    _Unit("", "number", "", "12"),
)  # fmt: skip
_BY_SYMBOL = {unit.symbol: unit for unit in _UNITS}
_BY_SPELLING: dict[str, list[_Unit]] = {}
for _unit in _UNITS:
    for _spelling in (_unit.symbol.lower(), *_unit.spellings):
        _BY_SPELLING.setdefault(_spelling, []).append(_unit)

_NEEDS_NO_UNIT = frozenset({"fraction", "angle", "number", "temperature difference", "time", "activation energy",
                            "equivalent weight", "molar mass"})  # fmt: skip
"""Dimensions written in one unit so commonly that a bare number is not doubtful."""

_READ_BARE = "g/mL"
"""Liquids are near 1 in this unit and in no other, but a bare 2 or 32 for a foam may be lb/ft³ or kg/m³."""

_SMALLER = {"yd": ("ft", 3), "ft": ("in", 12), "lb": ("oz", 16), "d": ("h", 24), "h": ("min", 60), "min": ("s", 60),
            "m": ("cm", 100), "cm": ("mm", 10), "kg": ("g", 1000), "L": ("mL", 1000)}  # fmt: skip
"""The unit usually written after another, as in 5 ft 3 in, and how many make one of it: to say the sum in a hint."""

_PREFIX_CASE = {"M": "capital M stands for mega", "m": "small m stands for milli", "G": "capital G stands for giga"}
"""Why the first letter of mm, m, mg, g, mL and MPa is taken only in its own case."""

_RUNGS: dict[str, dict[System, tuple[tuple[str, float], ...]]] = {
    "length": {"metric": (("mm", 10_000), ("m", math.inf)), "inch": (("in", 120), ("ft", math.inf))},
    "area": {"metric": (("mm²", 1000), ("cm²", 1000), ("m²", math.inf)), "inch": (("in²", 144), ("ft²", math.inf))},
    "volume": {"metric": (("mL", 1000), ("L", 1000), ("m³", math.inf)), "inch": (("fl oz", 1000), ("ft³", math.inf))},
    "mass": {"metric": (("g", 1000), ("kg", math.inf)), "inch": (("oz", 16), ("lb", math.inf))},
    "areal weight": {"metric": (("g/m²", 2000), ("kg/m²", math.inf)), "inch": (("oz/yd²", 64), ("lb/ft²", math.inf))},
    "area for a load": {"metric": (("cm²/kg", math.inf),), "inch": (("in²/lb", math.inf),)},
    "density": {"metric": (("kg/m³", math.inf),), "inch": (("lb/ft³", math.inf),)},
    "temperature": {"metric": (("°C", math.inf),), "inch": (("°F", math.inf),)},
    "temperature difference": {"metric": (("K", math.inf),), "inch": (("Δ°F", math.inf),)},
    "pressure": {"metric": (("kPa", 1000), ("MPa", 10_000), ("GPa", math.inf)), "inch": (("psi", math.inf),)},
    "force": {"metric": (("N", 1000), ("kN", math.inf)), "inch": (("lbf", math.inf),)},
    "length an hour": {"metric": (("m/h", math.inf),), "inch": (("ft/h", math.inf),)},
    "area an hour": {"metric": (("m²/h", math.inf),), "inch": (("ft²/h", math.inf),)},
}
"""The units each system reads in, small to large, each with the number in it from which the next one is taken."""
_KEPT = (1, 10_000)
"""A unit of the system already is kept while its number lies in this range: a scale's 1500 g stays 1500 g."""

_READ_IN_BOTH = frozenset({"g", "g/mL"})
"""Units that stay whatever the system: a bench scale shows grams, and data sheets give densities in g/mL."""

_PLACES = {"m": 3, "in": 3, "ft": 3, "m²": 3, "ft²": 2, "L": 3, "m³": 3, "ft³": 2, "fl oz": 2, "kg": 3, "oz": 2, "lb": 3,
           "kg/m²": 2, "oz/yd²": 2, "lb/ft²": 2, "lb/ft³": 2, "MPa": 2, "GPa": 2, "kN": 2, "h": 2, "d": 2, "rad": 4}  # fmt: skip
"""Least decimals shown for reading where it is not 1; small numbers get more, for three significant digits."""
_MOST_PLACES = 9
_SMALLEST_FRACTION = Fraction(1, 64)
"""The finest mark of an inch rule."""
_DECIMAL_INCHES_UNDER = Fraction(1, 16)
"""Shims and coats under this are gauged in thousandths of an inch, not read from a rule."""
_FLOAT_NOISE = Fraction(1, 10**9)
"""Relative difference under which a float from a formula counts as equal to the figure shown."""

_NOTHING = 1e-6
"""Under this a figure in a line of working is shown as 0."""

_SIGNS = {"¼": Fraction(1, 4), "½": Fraction(1, 2), "¾": Fraction(3, 4), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3),
          "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5), "⅘": Fraction(4, 5), "⅙": Fraction(1, 6),
          "⅚": Fraction(5, 6), "⅛": Fraction(1, 8), "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8)}  # fmt: skip
_SIGN = f"[{''.join(_SIGNS)}]"
_DASHES = "‐‑–-"
"""Hyphens as typed and as pasted; before a number each is a minus, as is the true minus sign."""
_NUMBER_TEXT = re.compile(rf"[0-9.,/ +{''.join(_SIGNS)}−{_DASHES}]*")
_DECIMAL = re.compile(r"[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+")
_FRACTION = re.compile(rf"(?:([0-9]+)( ?\+ ?|[{_DASHES}]| |(?={_SIGN})))?(?:([0-9]+)/([0-9]+)|({_SIGN}))")
_POWER_OF_TEN = re.compile(r"[-+−]?[0-9.,]+ ?[eE][-+−]?[0-9]")
_LONGEST = 100
"""A longer text is no number anyone types; it keeps arithmetic on absurd input bounded."""
_LONGEST_REPEATED = 30
"""Characters of a refused text that its error repeats."""
_MOST_DECIMALS = 24
"""An exact number that needs more decimals is shown as a fraction, so that it can be typed back."""
_ANY_NUMBER = "write 12, 1.5, 3/4 or 1-1/2"
RATIO_EXAMPLES = ("'2:1 by volume'", "'100:45 by weight'")
"""What a ratio looks like; its words are typed, so they are the same in every language."""


_SHOWN_DECIMAL = re.compile(r"(?<![\w.,'/])(\d*)\.(\d+)(?!\w|[.,]\d)")
"""A decimal to be read: no part of a path or a number of several points, no text quoted as it was typed."""


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
            raise EntryError(_mismatch(self.unit, unit, _BY_SYMBOL[self.unit]), _hint(unit))
        converted = _registry().Quantity(self.value, _BY_SYMBOL[self.unit].pint).to(_BY_SYMBOL[unit].pint).magnitude
        return Quantity(converted, unit)

    def value_in(self, unit: str) -> float:
        """Return the number in `unit` as a float, for formulas; EntryError when `unit` is of another dimension."""
        return float(self.to(unit).value)


RATIO_BASES = ("by volume", "by weight")
"""What a ratio is given by, as it is written after its two parts."""


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
    """Return the symbols of all units that measure the same as `unit`; KeyError for an unknown symbol."""
    return tuple(item.symbol for item in _UNITS if item.dimension == dimension(unit))


def needs_unit(unit: str) -> bool:
    """Return whether a bare number is doubtful where `unit` is expected, both systems being in daily use."""
    return dimension(unit) not in _NEEDS_NO_UNIT and unit != _READ_BARE


def has_unit(text: str) -> bool:
    """Return whether a text for a quantity names a unit, known or not."""
    return bool(_divide(" ".join(text.split()))[1])


def parse_number(text: str) -> Fraction:
    """Return the exact number meant by `text`: 12, 1.5, 1,5, .5, 3/4, 1-1/2, 1 1/2, 1+1/2, 1½.

    Raises EntryError, with what to type instead, for anything with two readings (1,250 and 1.1/2) or none.
    """
    hint = phrase(_ANY_NUMBER)
    return _number(_tidy(text, hint), "", hint)


@lru_cache(maxsize=1024)  # a log is folded anew with every event, and holds the same texts each time
def parse(text: str, unit: str) -> Quantity:
    """Return the quantity meant by `text`, a number with at most one unit of the dimension of `unit`.

    A number without a unit is in `unit`. The Quantity keeps the unit that was typed. Raises EntryError for
    what has two readings or none, KeyError for an unknown `unit`.
    """
    hint = _hint(unit)
    plain = _tidy(text, hint)
    if _POWER_OF_TEN.match(plain):
        raise EntryError(
            phrase("{text} is written with a power of ten", _quoted(plain)), phrase("write all its digits, as in 1200 or 0.005")
        )
    number_text, unit_text = _divide(plain)
    if not any(character.isdigit() or character in _SIGNS for character in number_text):
        raise EntryError(phrase("{text} has no number in front", _quoted(plain)), hint)
    number = _number(number_text, _safe(unit_text), hint)
    return Quantity(number, _symbol(number, unit_text, unit, plain) if unit_text else unit)


def refuse_point(text: str) -> None:
    """Refuse 1.250 where the decimal mark is a comma: it is 1,25 to some there and 1250 to others; raises EntryError."""
    match = re.match(r"\s*([-−]?)([1-9][0-9]{0,2})\.([0-9]{3})(?![0-9.,/])(.*)", text)
    if match is not None:
        sign, whole, part, rest = match.groups()
        readings = [f"{sign}{whole}{part}{rest}", f"{sign}{whole},{part}".rstrip("0").rstrip(",") + rest]
        what = phrase("{text} has two readings, {first} and {second}", _quoted(text.strip()), *readings)
        raise EntryError(what, phrase("write {value} or {other}", *readings))


def parse_ratio(text: str) -> Ratio:
    """Return the ratio meant by a text such as '2:1 by volume' or '100:45 by weight'.

    Raises EntryError unless it has two parts above zero and says by weight (or mass) or by volume.
    """
    plain = _tidy(text, _any_ratio())
    match = re.fullmatch(r"([^:]+):([^:a-z]+)(?:(?:by )?(weight|wt|mass|volume|vol))?", plain, re.IGNORECASE)
    if match is None:
        raise EntryError(phrase("{text} is not a ratio", _quoted(plain)), _any_ratio())
    if match[3] is None:
        raise EntryError(phrase("{text} does not say by weight or by volume", _quoted(plain)), _any_ratio())
    a, b = parse_number(match[1]), parse_number(match[2])
    if a <= 0 or b <= 0:
        raise EntryError(phrase("{text} has a part that is not above zero", _quoted(plain)), _any_ratio())
    return Ratio(a, b, "volume" if match[3].lower().startswith("vol") else "weight")


def _any_ratio() -> str:
    return phrase("write it like {volume} or {weight}", *RATIO_EXAMPLES)


def show_number(number: Fraction | float, places: int | None = None) -> str:
    """Return a number as text: exact (decimal, else fraction) without `places`, rounded to `places` with it (halves away from 0).

    A float counts as the shortest decimal that stands for it; no text has an exponent, infinity is 'inf'.
    """
    if isinstance(number, float) and not math.isfinite(number):
        return str(number)
    if places is None and isinstance(number, float):
        text = format(Decimal(repr(float(number))), "f").removesuffix(".0")
        return "0" if text == "-0" else text
    exact = _exact(number)
    if places is None:
        places = _decimals(exact)
    if places is None:
        whole, rest = divmod(abs(exact), 1)
        return f"{'-' if exact < 0 else ''}{f'{whole} ' if whole else ''}{rest}"
    scaled = math.floor(abs(exact) * 10**places + Fraction(1, 2))
    whole, part = divmod(scaled, 10**places)
    return f"{'-' if exact < 0 and scaled else ''}{whole}{f'.{part:0{places}d}' if places else ''}"


def significant(number: Fraction | float, digits: int = 4) -> str:
    """Return a number for a line of working: to `digits` significant digits, but its whole part in full, and no exponent.

    What is under a millionth, in whatever unit, is the noise of arithmetic: 0.
    """
    if abs(float(number)) < _NOTHING:
        return "0"
    text = f"{float(number):.{digits}g}"
    if "e" not in text:
        return text
    return show_number(number, 0) if abs(float(number)) >= 1 else show_number(float(text))


def show(quantity: Quantity, places: int | None = None) -> str:
    """Return a quantity in its own unit as text that parses back to itself (exactly so without `places`)."""
    return _joined(show_number(quantity.value, places), quantity.unit)


def display(quantity: Quantity, system: System, places: int | None = None) -> str:
    """Return a quantity as text to be read, in a fitting unit of `system`, rounded.

    `places` is how many decimals count in the quantity's own unit; another unit gets as many as keep that
    step, so that 0.1 mm is not lost in inches. Without it the text has at least three significant digits,
    and zeros at its end only where it is rounded: '50 mm' is exact, '50.0 mm' is not.

    Inches read as on a rule, to the nearest 1/64, followed by what is left over: '1 33/64 in + 0.003 in' is
    the sum of the two. '≈ 1 33/64 in' leaves out less than half a step of that remainder. Under 1/16 in they are
    decimal, unless a whole number of 64ths. A quantity that both systems measure alike keeps its unit, and so do
    grams and g/mL, which scales and data sheets show in both.
    """
    return _read_in(quantity, quantity.unit if quantity.unit in _READ_IN_BOTH else None, system, places)


def own_unit(unit: str, system: System) -> str:
    """Return the unit of the same dimension in which `system` reads one `unit`: where typing begins."""
    if not unit:
        return unit
    text = display(Quantity(Fraction(1), unit), system)
    fits = [symbol for symbol in units_of(unit) if symbol and text.endswith(symbol)]
    return max(fits, key=len, default=unit)


def both(quantity: Quantity) -> tuple[str, str]:
    """Return a quantity for reading in metric and in inch units, to check an entry by: ('38.1 mm', '1 1/2 in')."""
    return _read_in(quantity, None, "metric", None), _read_in(quantity, None, "inch", None)


def marked(text: str, mark: str) -> str:
    """Return a text to be read with `mark` as its decimal mark: '.' or ','."""
    return text if mark == "." or "." not in text else _SHOWN_DECIMAL.sub(rf"\g<1>{mark}\g<2>", text)


def _tidy(text: str, hint: str) -> str:
    plain = " ".join(text.replace("⁄", "/").split())
    if not plain:
        raise EntryError(phrase("nothing given"), hint)
    if len(plain) > _LONGEST:
        raise EntryError(phrase("{text} is too long: {count} characters", _quoted(plain), len(plain)), hint)
    if any(character.isdecimal() and not character.isascii() for character in plain):
        raise EntryError(phrase("{text} has digits other than 0 to 9", _quoted(plain)), hint)
    return plain


def _quoted(plain: str) -> str:
    """Return a text as an error repeats it: short, and without characters that would act on a terminal."""
    return f"'{_safe(plain)}'"


def _safe(plain: str) -> str:
    safe = "".join(character if character.isprintable() else "\N{REPLACEMENT CHARACTER}" for character in plain)
    return f"{safe[:_LONGEST_REPEATED]}…" if len(safe) > _LONGEST_REPEATED else safe


def _divide(plain: str) -> tuple[str, str]:
    """Return the number's text and the unit's text; '1/' or '/' goes with the unit in 24 1/K and 24 /K."""
    match = _NUMBER_TEXT.match(plain)
    end = match.end() if match else 0
    number_text, unit_text = plain[:end].strip(), plain[end:].strip()
    if number_text.endswith("/") and f"/{_canonical(unit_text).lower()}" in _BY_SPELLING:
        number_text, unit_text = number_text[:-1].strip(), f"/{unit_text}"
        if number_text.endswith(" 1"):
            number_text, unit_text = number_text[:-2].strip(), f"1{unit_text}"
    return number_text, unit_text


def _number(plain: str, unit_text: str, hint: str) -> Fraction:
    sign, unsigned = ("", plain) if plain[:1] not in f"+−{_DASHES}" else (plain[0], plain[1:].strip())
    negative = sign not in ("", "+")
    if _two_readings(unsigned) is None and _DECIMAL.fullmatch(unsigned):
        number = Fraction(unsigned.replace(",", "."))
        return -number if negative else number
    match = _FRACTION.fullmatch(unsigned)
    if match is None or (negative and "+" in unsigned):
        raise _no_number(plain, unsigned, unit_text, hint)
    whole, part = Fraction(match[1] or 0), _SIGNS.get(match[5] or "")
    if part is None:
        if int(match[4]) == 0:
            raise EntryError(phrase("{text} divides by zero", _quoted(plain)), hint)
        part = Fraction(int(match[3]), int(match[4]))
    if match[1] and part >= 1:
        raise EntryError(
            phrase("{text} has a fraction of one or more after the whole number", _quoted(plain)),
            phrase("write {value} if that is meant", _joined(show_number(whole + part), unit_text)),
        )
    return -(whole + part) if negative else whole + part


def _two_readings(unsigned: str) -> tuple[str, str] | None:
    """Return the readings as a whole number and as a decimal of a text such as 1,250; 0,250 has only one."""
    match = re.fullmatch(r"([1-9][0-9]{0,2}),([0-9]{3})", unsigned)
    return (f"{match[1]}{match[2]}", f"{match[1]}.{match[2]}".rstrip("0").rstrip(".")) if match else None


def _no_number(plain: str, unsigned: str, unit_text: str, hint: str) -> EntryError:
    """Return why a text is not a number and what to type, as near to what was meant as can be said."""
    typed, minus = _quoted(plain), "" if plain == unsigned or plain.startswith("+") else "-"

    def choice(first: str, second: str) -> tuple[str, str]:
        named = [_joined(f"{minus}{reading}", unit_text) for reading in (first, second)]
        return phrase("{text} has two readings, {first} and {second}", typed, *named), phrase("write {value} or {other}", *named)

    if readings := _two_readings(unsigned):
        return EntryError(*choice(*readings))
    match = re.fullmatch(r"([0-9]{1,3}([ ,.])[0-9]{3}(?:\2[0-9]{3})*)(?:(?!\2)[.,]([0-9]+))?", unsigned)
    if match:
        whole = re.sub("[ ,.]", "", match[1])
        number = f"{minus}{whole}.{match[3]}" if match[3] else f"{minus}{whole}"
        return EntryError(
            phrase("{text} has marks between thousands", typed), phrase("write {value}", _joined(number, unit_text))
        )
    match = re.fullmatch(r"([0-9]+)[.,]([0-9]+)/([0-9]*[1-9][0-9]*)", unsigned)
    if match and int(match[2]) < int(match[3]):
        return EntryError(
            *choice(f"{match[1]}-{match[2]}/{match[3]}", show_number(Fraction(f"{match[1]}.{match[2]}") / int(match[3])))
        )
    match = re.fullmatch(rf"([0-9]+) ?[+−{_DASHES}] ?(?:([0-9]+)/([0-9]*[1-9][0-9]*)|({_SIGN}))", unsigned)
    if match:
        part = _SIGNS[match[4]] if match[4] else Fraction(int(match[2]), int(match[3]))
        if part < 1:
            return EntryError(*choice(f"{match[1]}-{part}", show_number(int(match[1]) - part)))
    if unsigned.count("/") > 1:
        return EntryError(phrase("{text} has more than one fraction bar", typed), hint)
    if unsigned[-1:] in tuple(f".,/+−{_DASHES}"):
        return EntryError(
            phrase("{text} stops after '{sign}'", typed, unsigned[-1]),
            phrase("type the rest, or leave out the '{sign}'", unsigned[-1]),
        )
    return EntryError(phrase("{text} is not a number", typed), hint)


def _canonical(unit_text: str) -> str:
    """Return a unit's text with one sign for each meaning: m^2 and m2 as m², curly quotes as straight, 'in.' as in."""
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
    known = _BY_SPELLING.get(canonical.lower(), [])
    fits = next((item for item in known if item.dimension == dimension(expected)), None)
    if fits:
        _check_case(canonical, fits, number)
        return fits.symbol
    if known:
        raise EntryError(_mismatch(unit_text, expected, known[0]), _hint(expected))
    more = re.match(rf"(.*?) ?([-+]? ?[0-9.,{''.join(_SIGNS)}].*)", unit_text)
    if more and more[1]:
        raise EntryError(
            phrase("{text} has more than one number", _quoted(plain)), _sum(number, more[1], more[2]) or _hint(expected)
        )
    others = ", ".join(filter(None, units_of(expected)))
    raise EntryError(
        phrase("{text} is not a unit known here", _quoted(unit_text)),
        phrase("{hint} (units: {names})", _hint(expected), others) if others else _hint(expected),
    )


def _check_case(canonical: str, unit: _Unit, number: Fraction) -> None:
    """Refuse 5 Mm, 5 ML, 5 mPa and the like, which would be off by a factor of a million or more if taken literally."""
    symbol = unit.symbol
    written_as_symbol = canonical.lower() == symbol.lower()
    if written_as_symbol and symbol[0] in "mMg" and unit.dimension != "time" and canonical[0] != symbol[0]:
        fix = phrase("write {value}", _joined(show_number(number), symbol))
        raise EntryError(
            phrase("{text} is not {symbol}: {why}", _quoted(canonical), symbol, phrase(_PREFIX_CASE[canonical[0]])), fix
        )


def _sum(number: Fraction, unit_text: str, rest: str) -> str:
    """Return the hint that says 5 ft 3 in in one unit, or '' when the two are no such pair."""
    first = next(iter(_BY_SPELLING.get(_canonical(unit_text).lower(), [])), None)
    if first is None or first.symbol not in _SMALLER:
        return ""
    smaller, count = _SMALLER[first.symbol]
    try:
        second = parse(rest, smaller)
    except EntryError:
        return ""
    if second.unit != smaller or second.value < 0:
        return ""
    total = number * count + (-second.value if number < 0 else second.value)
    return phrase("write it in one unit: {value}", _joined(show_number(total), smaller))


def _mismatch(typed: str, expected: str, unit: _Unit) -> str:
    if not expected:
        return phrase("{text} is a unit, and a bare number is wanted", _quoted(typed))
    if not typed:
        return phrase("a bare number gives no {what}", phrase(dimension(expected)))
    return phrase("{text} measures {what}, not {wanted}", _quoted(typed), phrase(unit.dimension), phrase(dimension(expected)))


def _hint(unit: str) -> str:
    """Return what to type for `unit`, with an example in the other system too: 'write 12 mm or 1-1/2 in'."""
    own = _BY_SYMBOL[unit]
    examples = [own, _BY_SYMBOL[own.twin]] if own.twin else [own]
    like = [_joined(item.like, item.symbol) for item in examples]
    return phrase("write {value} or {other}", *like) if own.twin else phrase("write {value}", *like)


def _joined(number_text: str, unit: str) -> str:
    return f"{number_text}{'' if unit in ('°', '') else ' '}{unit}"


def _exact(number: Fraction | float) -> Fraction:
    """Return a number as a Fraction; a float as the shortest decimal that stands for it, which is what a reader sees."""
    return Fraction(repr(float(number))) if isinstance(number, float) else Fraction(number)


def _decimals(number: Fraction) -> int | None:
    """Return how many decimals write `number` exactly, or None when none or too many would."""
    rest, places = number.denominator, 0
    for prime in (2, 5):
        power = 0
        while rest % prime == 0:
            rest //= prime
            power += 1
        places = max(places, power)
    return places if rest == 1 and places <= _MOST_DECIMALS else None


def _read_in(quantity: Quantity, unit: str | None, system: System, places: int | None) -> str:
    """Return a quantity for reading in `unit`, or in a fitting unit of `system` where that is None."""
    if isinstance(quantity.value, float) and not math.isfinite(quantity.value):
        return show(quantity)
    shown = quantity.to(unit) if unit is not None else _reading(quantity, system)
    if places is not None:
        places = _same_step(places, quantity.unit, shown.unit)
    if shown.unit == "in":
        return _inches(shown.value, places)
    return _joined(_rounded(shown, places), shown.unit)


def _reading(quantity: Quantity, system: System) -> Quantity:
    rungs = _RUNGS.get(dimension(quantity.unit), {}).get(system, ())
    least, most = _KEPT
    size = abs(_exact(quantity.value))
    if any(symbol == quantity.unit for symbol, _ in rungs) and (size == 0 or least <= size < most):
        return quantity
    for symbol, limit in rungs:
        shown = quantity.to(symbol)
        if abs(_exact(shown.value)) < limit:
            return shown
    return quantity


def _same_step(places: int, own: str, shown: str) -> int:
    """Return how many decimals of `shown` tell at least as much as `places` of `own`."""
    if own == shown:
        return places
    per_unit = abs(_exact(Quantity(Fraction(1), own).to(shown).value) - _exact(Quantity(Fraction(0), own).to(shown).value))
    step, digits = per_unit / 10**places, 0
    while Fraction(1, 10**digits) > step:
        digits += 1
    return digits


def _is_close(number: Fraction | float, shown: Fraction) -> bool:
    exact = _exact(number)
    return abs(exact - shown) <= _FLOAT_NOISE * abs(exact) if isinstance(number, float) else exact == shown


def _rounded(quantity: Quantity, places: int | None) -> str:
    number = quantity.value
    if places is not None:
        return show_number(number, places)
    places = _PLACES.get(quantity.unit, 1)
    while places < _MOST_PLACES and 0 < abs(_exact(number)) < Fraction(100, 10**places):
        places += 1
    text = show_number(number, places)
    return show_number(Fraction(text)) if _is_close(number, Fraction(text)) else text


def _inches(number: Fraction | float, places: int | None) -> str:
    exact = _exact(number)
    marks = round(exact / _SMALLEST_FRACTION) * _SMALLEST_FRACTION
    if abs(exact) < _DECIMAL_INCHES_UNDER and not _is_close(number, marks):
        return _joined(_rounded(Quantity(number, "in"), places), "in")
    whole, rest = divmod(abs(marks), 1)
    sign = "-" if marks < 0 else ""
    text = _joined(f"{sign}{whole} {rest}" if whole and rest else f"{sign}{rest or whole}", "in")
    if _is_close(number, marks):
        return text
    left = show_number(abs(exact - marks), _PLACES["in"] if places is None else places)
    if not Fraction(left):
        return f"≈ {text}"
    return f"{text} {'+' if exact > marks else '−'} {left} in"


@cache
def _registry() -> UnitRegistry[Fraction]:
    from importlib import resources

    import pint

    definitions = resources.files("shopmate").joinpath("units.txt").read_text(encoding="utf-8").splitlines()
    return pint.UnitRegistry(definitions, non_int_type=Fraction)
