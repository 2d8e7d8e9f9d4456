"""A quantity for reading: in a suitable unit of the project's system, rounded to what the hand can use."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from shopmate.units.known import System, dimension, written
from shopmate.units.numbers import as_fraction, show_number
from shopmate.units.quantity import Quantity
from shopmate.units.shown import Shown, shown

_RUNGS: dict[str, dict[System, tuple[tuple[str, float], ...]]] = {
    "length": {"metric": (("mm", 10_000), ("m", math.inf)), "inch": (("in", 120), ("ft", math.inf))},
    "area": {"metric": (("mm²", 1000), ("cm²", 1000), ("m²", math.inf)), "inch": (("in²", 144), ("ft²", math.inf))},
    "volume": {"metric": (("mL", 1000), ("L", 1000), ("m³", math.inf)), "inch": (("fl oz", 1000), ("ft³", math.inf))},
    "mass": {"metric": (("g", 1000), ("kg", math.inf)), "inch": (("oz", 16), ("lb", math.inf))},
    "areal weight": {"metric": (("g/m²", 2000), ("kg/m²", math.inf)), "inch": (("oz/yd²", 64), ("lb/ft²", math.inf))},
    "area per load": {"metric": (("cm²/kg", math.inf),), "inch": (("in²/lb", math.inf),)},
    "density": {"metric": (("kg/m³", math.inf),), "inch": (("lb/ft³", math.inf),)},
    "temperature": {"metric": (("°C", math.inf),), "inch": (("°F", math.inf),)},
    "temperature difference": {"metric": (("K", math.inf),), "inch": (("Δ°F", math.inf),)},
    "pressure": {"metric": (("kPa", 1000), ("MPa", 10_000), ("GPa", math.inf)), "inch": (("psi", math.inf),)},
    "force": {"metric": (("N", 1000), ("kN", math.inf)), "inch": (("lbf", math.inf),)},
    "length per hour": {"metric": (("m/h", math.inf),), "inch": (("ft/h", math.inf),)},
    "area per hour": {"metric": (("m²/h", math.inf),), "inch": (("ft²/h", math.inf),)},
    "flow": {"metric": (("mL/h", 1000), ("L/h", 1000), ("m³/h", math.inf)),
             "inch": (("fl oz/h", 100), ("ft³/h", 100), ("ft³/min", math.inf))},
    "mass an hour": {"metric": (("g/h", math.inf),), "inch": (("oz/h", math.inf),)},
    "coverage": {"metric": (("m²/kg", math.inf),), "inch": (("ft²/lb", math.inf),)},
    "coverage by volume": {"metric": (("m²/L", math.inf),), "inch": (("ft²/gal", math.inf),)},
    "thermal transmittance": {"metric": (("W/m²K", math.inf),), "inch": (("Btu/h·ft²·°F", math.inf),)},
    "thermal conductivity": {"metric": (("W/mK", math.inf),), "inch": (("Btu·in/h·ft²·°F", math.inf),)},
    "thermal resistance": {"metric": (("m²K/W", math.inf),), "inch": (("h·ft²·°F/Btu", math.inf),)},
    "line load": {"metric": (("N/m", math.inf),), "inch": (("lbf/ft", math.inf),)},
    "expansion": {"metric": (("µm/m·K", math.inf),), "inch": (("µin/in·°F", math.inf),)},
    "power": {"metric": (("W", math.inf),), "inch": (("Btu/h", math.inf),)},
    "energy": {"metric": (("J", math.inf),), "inch": (("ft·lbf", math.inf),)},
    "moment": {"metric": (("N·m", math.inf),), "inch": (("lbf·ft", math.inf),)},
}  # fmt: skip
"""The units each system uses, small to large, each with the number from which the next larger unit is used."""
_KEPT = (1, 10_000)
"""Range of numbers for which a unit that belongs to the system is kept: 1500 g on a scale stays 1500 g."""
_READ_IN_BOTH = frozenset({"g", "g/mL"})
"""Units that stay the same in both systems: a bench scale shows grams, and data sheets give densities in g/mL."""
_FILM: dict[System, str] = {"metric": "µm", "inch": "mil"}
"""Units in which data sheets and comb gauges give the thickness of paint; what is given in one of them is read in one of them."""
_PLACES = {"m": 3, "in": 3, "ft": 3, "m²": 3, "ft²": 2, "L": 3, "m³": 3, "ft³": 2, "fl oz": 2, "kg": 3, "oz": 2, "lb": 3,
           "kg/m²": 2, "oz/yd²": 2, "lb/ft²": 2, "lb/ft³": 2, "MPa": 2, "GPa": 2, "kN": 2, "h": 2, "d": 2, "rad": 4}  # fmt: skip
"""Minimum decimals for reading, if not 1; small numbers get more, for three significant digits."""
_ONE_DECIMAL_FROM = {"lb": 0, "kg": 10, "d": 0}
"""From this number on, a figure that is not round has one decimal: no scale for parts is finer, no cure is kept to the hour."""
_MOST_PLACES = 9
FINEST_MARK = Fraction(1, 64)
"""The finest division of an inch rule."""
DECIMAL_INCHES_UNDER = Fraction(1, 16)
"""Shims and coats thinner than this are gauged in thousandths of an inch, not read from a rule."""
_THOU_PLACES = 3
"""Decimals of an inch that a caliper or a feeler gauge shows."""
_FLOAT_NOISE = Fraction(1, 10**9)
"""Relative difference below which a float from a formula counts as equal to the figure shown."""
_SHOWN_DECIMAL = re.compile(r"(?<![\w.,'/])(\d*)\.(\d+)(?!\w|[.,]\d)")
"""A decimal in text to be read: not part of a path, of a number with several points, or of text quoted as typed."""


def display(quantity: Quantity, system: System, places: int | None = None, *, gauged: bool = False) -> Shown:
    """Return a quantity for reading, in a suitable unit of `system`, rounded.

    `places` is the number of decimals that count in the quantity's own unit; another unit gets as many as keep that step, so
    that 0.1 mm is not lost in inches. Without `places` the text has three or more significant digits, and zeros at the end only
    if it is rounded: '50 mm' is exact, '50.0 mm' is not. A figure that is not round has only the decimals that the hand can
    use: 20 kg is 44.1 lb.

    Inches read as on a rule, to the nearest 1/64, or to 1/32 if `places` is no finer than that. Below 1/16 in they are in
    thousandths, unless they are whole 64ths; so is anything `gauged`, such as drills and screw heads. A quantity that both
    systems measure in the same unit keeps it, and so do grams and g/mL, which scales and data sheets show in both. What is
    given in µm or mil is a film, and reads in the one of them that belongs to the system.
    """
    return _read_in(quantity, _kept(quantity.unit, system), system, places, gauged=gauged)


def own_unit(unit: str, system: System) -> str:
    """Return the unit in which `system` shows one `unit`; typing starts in that unit."""
    return _kept(unit, system) or fitting(Quantity(Fraction(1), unit), system).unit if unit else unit


def _kept(unit: str, system: System) -> str | None:
    """Return the unit in which `system` reads whatever is given in `unit`; None where its size decides."""
    if unit in _READ_IN_BOTH:
        return unit
    return _FILM[system] if unit in _FILM.values() else None


def both(quantity: Quantity) -> tuple[Shown, Shown]:
    """Return a quantity in metric and in inch units, to check an entry: 38.1 mm and 1 1/2 in."""
    return _read_in(quantity, None, "metric", None), _read_in(quantity, None, "inch", None)


def marked(text: str, mark: str) -> str:
    """Return a text for reading with `mark` as the decimal mark: '.' or ','."""
    return text if mark == "." or "." not in text else _SHOWN_DECIMAL.sub(rf"\g<1>{mark}\g<2>", text)


def _read_in(quantity: Quantity, unit: str | None, system: System, places: int | None, *, gauged: bool = False) -> Shown:
    """Return a quantity for reading in `unit`, or if that is None, in a suitable unit of `system`."""
    if isinstance(quantity.value, float) and not math.isfinite(quantity.value):
        return shown(quantity)
    read = quantity.to(unit) if unit is not None else fitting(quantity, system)
    if places is not None:
        places = _same_step(places, quantity.unit, read)
    return Shown(_inches(read.value, places, gauged=gauged) if read.unit == "in" else _rounded(read, places), written(read.unit))


def fitting(quantity: Quantity, system: System) -> Quantity:
    """Return the same quantity in the unit of `system` that suits its size; in its own unit if `system` has none."""
    rungs = _RUNGS.get(dimension(quantity.unit), {}).get(system, ())
    least, most = _KEPT
    size = abs(as_fraction(quantity.value))
    if any(symbol == quantity.unit for symbol, _ in rungs) and (size == 0 or least <= size < most):
        return quantity
    for symbol, limit in rungs:
        shown = quantity.to(symbol)
        if abs(as_fraction(shown.value)) < limit:
            return shown
    return quantity


def _same_step(places: int, own: str, read: Quantity) -> int:
    """Return how many decimals of `read` are no coarser than `places` decimals of `own`; `places` for zero."""
    if own == read.unit or not read.value:
        return places
    one, nought = (as_fraction(Quantity(Fraction(number), own).to(read.unit).value) for number in (1, 0))
    step, digits = abs(one - nought) / 10**places, 0
    while Fraction(1, 10**digits) > step:
        digits += 1
    return digits


def _is_close(number: Fraction | float, shown: Fraction) -> bool:
    exact = as_fraction(number)
    return abs(exact - shown) <= _FLOAT_NOISE * abs(exact) if isinstance(number, float) else exact == shown


def _rounded(quantity: Quantity, places: int | None) -> str:
    number = quantity.value
    if places is not None:
        return show_number(number, places)
    text = show_number(number, _telling(number, _PLACES.get(quantity.unit, 1)))
    if _is_close(number, Fraction(text)):
        return show_number(Fraction(text))
    big = _ONE_DECIMAL_FROM.get(quantity.unit)
    return show_number(number, _telling(number, 1)) if big is not None and abs(as_fraction(number)) >= big else text


def _telling(number: Fraction | float, places: int) -> int:
    """Return so many decimals, or as many more as three significant digits take."""
    while places < _MOST_PLACES and 0 < abs(as_fraction(number)) < Fraction(100, 10**places):
        places += 1
    return places


def _inches(number: Fraction | float, places: int | None, *, gauged: bool) -> str:
    exact = as_fraction(number)
    if (gauged or abs(exact) < DECIMAL_INCHES_UNDER) and not _is_close(number, round(exact / FINEST_MARK) * FINEST_MARK):
        return _thousandths(number, places)
    coarser = FINEST_MARK * 2
    return inches(exact, coarser if places is not None and Fraction(1, 10**places) > coarser else FINEST_MARK)


def _thousandths(number: Fraction | float, places: int | None) -> str:
    """Return inches to the thousandth, or to fewer `places`; to more only if the text would read as zero."""
    text = show_number(number, _THOU_PLACES if places is None else min(places, _THOU_PLACES))
    if number and not Fraction(text):
        return _rounded(Quantity(number, "in"), places)
    return show_number(Fraction(text)) if places is None and _is_close(number, Fraction(text)) else text


def inches(number: Fraction, mark: Fraction) -> str:
    """Return inches to the nearest `mark` on a rule: '1 33/64'."""
    marks = round(number / mark) * mark
    whole, rest = divmod(abs(marks), 1)
    return f"{'-' if marks < 0 else ''}{f'{whole} {rest}' if whole and rest else rest or whole}"
