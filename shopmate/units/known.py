"""The units known here: symbols, spellings and dimensions, which ones may be left off a number, and which ones hints show."""

from __future__ import annotations

from typing import Literal

from shopmate.records import dataclass

System = Literal["metric", "inch"]
"""The system a project shows its figures in; input takes both."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit that may be typed, and how hints show it."""

    symbol: str
    dimension: str
    pint: str
    """Its name in units.txt, or an expression of such names."""
    like: str
    """An example of a number in this unit, for hints."""
    twin: str = ""
    """The unit shown beside it in hints: about the same size, from the other system if there is one."""
    spellings: tuple[str, ...] = ()
    """Other ways to write it, in lower case and with one spelling for each meaning: m², not m^2."""
    offered: bool = True
    """Whether the key that changes the unit offers it; others have to be typed, so that the usual ones take few presses."""


UNITS = (
    Unit("mm", "length", "millimeter", "12", "in", ("millimetre", "millimeter", "millimetres", "millimeters")),
    Unit("cm", "length", "centimeter", "3.8", "in", ("centimetre", "centimeter", "centimetres", "centimeters")),
    Unit("m", "length", "meter", "2.4", "ft", ("metre", "meter", "metres", "meters")),
    Unit("in", "length", "inch", "1-1/2", "mm", ('"', "inch", "inches")),
    Unit("ft", "length", "foot", "8", "m", ("'", "foot", "feet")),
    Unit("yd", "length", "yard", "5", "m", ("yard", "yards")),
    Unit("µm", "length", "micrometer", "400", "mil", ("um", "micron", "microns"), offered=False),
    Unit("mil", "length", "mil", "16", "µm", ("thou", "mils", "thous"), offered=False),
    Unit("mm²", "area", "millimeter**2", "50", "in²", ("sq mm",)),
    Unit("cm²", "area", "centimeter**2", "20", "in²", ("sq cm",)),
    Unit("m²", "area", "meter**2", "1.5", "ft²", ("sq m",)),
    Unit("in²", "area", "inch**2", "3", "cm²", ("sq in",)),
    Unit("ft²", "area", "foot**2", "16", "m²", ("sq ft",)),
    Unit("yd²", "area", "yard**2", "2", "m²", ("sq yd",)),
    Unit("mL", "volume", "milliliter", "250", "fl oz", ("cc", "cm³")),
    Unit("L", "volume", "liter", "1.5", "fl oz", ("litre", "liter", "litres", "liters")),
    Unit("cL", "volume", "centiliter", "25", "fl oz", ("centilitre", "centiliter", "centilitres", "centiliters"), offered=False),
    Unit("m³", "volume", "meter**3", "0.2", "ft³", ("cu m",)),
    Unit("in³", "volume", "inch**3", "12", "mL", ("cu in",)),
    Unit("ft³", "volume", "foot**3", "2", "L", ("cu ft",)),
    Unit("fl oz", "volume", "fluid_ounce", "8", "mL", ("floz", "us fl oz")),
    Unit("pt", "volume", "pint", "1", "mL", ("us pt", "pint", "pints"), offered=False),
    Unit("qt", "volume", "quart", "1", "L", ("us qt", "quart", "quarts"), offered=False),
    Unit("gal", "volume", "gallon", "1/2", "L", ("us gal", "gallon", "gallons"), offered=False),
    Unit("mg", "mass", "milligram", "500", "g"),
    Unit("g", "mass", "gram", "120", "oz", ("gram", "grams", "gramme", "grammes")),
    Unit("kg", "mass", "kilogram", "2.5", "lb", ("kilo", "kilos", "kilogram", "kilograms")),
    Unit("oz", "mass", "ounce", "4", "g", ("ounce", "ounces")),
    Unit("lb", "mass", "pound", "5-1/2", "kg", ("lbs", "pound", "pounds")),
    Unit("g/m²", "areal weight", "gram/meter**2", "200", "oz/yd²", ("gsm",)),
    Unit("kg/m²", "areal weight", "kilogram/meter**2", "5", "lb/ft²"),
    Unit("oz/yd²", "areal weight", "ounce/yard**2", "6", "g/m²", ("oz/sq yd",)),
    Unit("oz/ft²", "areal weight", "ounce/foot**2", "1-1/2", "g/m²", ("oz/sq ft",)),
    Unit("lb/ft²", "areal weight", "pound/foot**2", "1", "kg/m²", ("lb/sq ft", "psf")),
    Unit("cm²/kg", "area per load", "centimeter**2/kilogram", "56.9", "in²/lb", ("sq cm/kg",)),
    Unit("in²/lb", "area per load", "inch**2/pound", "4", "cm²/kg", ("sq in/lb",)),
    Unit("g/mL", "density", "gram/milliliter", "1.1", "lb/ft³", ("g/cc", "g/cm³", "kg/l")),
    Unit("kg/m³", "density", "kilogram/meter**3", "32", "lb/ft³"),
    Unit("lb/ft³", "density", "pound/foot**3", "2", "kg/m³", ("pcf", "lb/cu ft")),
    Unit("lb/gal", "density", "pound/gallon", "9.2", "g/mL", ("ppg", "lb/us gal"), offered=False),
    Unit("°C", "temperature", "degree_Celsius", "20", "°F", ("c", "degc", "deg c", "° c", "celsius")),
    Unit("°F", "temperature", "degree_Fahrenheit", "68", "°C", ("f", "degf", "deg f", "° f", "fahrenheit")),
    Unit("K", "temperature difference", "kelvin", "10", "Δ°F", ("kelvin", "°c", "c", "degc", "deg c", "° c", "celsius")),
    Unit("Δ°F", "temperature difference", "degree_Fahrenheit_difference", "18", "K",
          ("°f", "f", "degf", "deg f", "° f", "fahrenheit")),
    Unit("Pa", "pressure", "pascal", "500", "psi", ("n/m²",)),
    Unit("kPa", "pressure", "kilopascal", "50", "psi", ("kn/m²",)),
    Unit("MPa", "pressure", "megapascal", "10", "psi", ("n/mm²",)),
    Unit("GPa", "pressure", "gigapascal", "9", "psi"),
    Unit("psi", "pressure", "psi", "7", "kPa", ("lbf/in²", "lb/in²")),
    Unit("inHg", "pressure", "inch_of_mercury", "20", "kPa", ("in hg",)),
    Unit("bar", "pressure", "bar", "0.8", "psi", ("bars",), offered=False),
    Unit("mbar", "pressure", "millibar", "800", "inHg", ("hpa", "millibar", "millibars"), offered=False),
    Unit("kgf/cm²", "pressure", "kilogram_force/centimeter**2", "1", "psi", ("kg/cm²", "kp/cm²"), offered=False),
    Unit("N", "force", "newton", "250", "lbf", ("newton", "newtons")),
    Unit("kN", "force", "kilonewton", "2", "lbf"),
    Unit("lbf", "force", "pound_force", "50", "N"),
    Unit("s", "time", "second", "90", "min", ("sec", "secs", "second", "seconds")),
    Unit("min", "time", "minute", "30", "h", ("mins", "minute", "minutes")),
    Unit("h", "time", "hour", "1.5", "min", ("hr", "hrs", "hour", "hours")),
    Unit("d", "time", "day", "7", "h", ("day", "days")),
    Unit("wk", "time", "week", "2", "d", ("week", "weeks"), offered=False),
    Unit("m/h", "length per hour", "meter/hour", "4", "ft/h"),
    Unit("ft/h", "length per hour", "foot/hour", "12", "m/h"),
    Unit("m²/h", "area per hour", "meter**2/hour", "1.5", "ft²/h"),
    Unit("ft²/h", "area per hour", "foot**2/hour", "16", "m²/h", ("sq ft/h",)),
    Unit("m³/h", "flow", "meter**3/hour", "200", "ft³/min", ("cu m/h",)),
    Unit("L/min", "flow", "liter/minute", "50", "ft³/min", offered=False),
    Unit("L/h", "flow", "liter/hour", "2", "ft³/h", offered=False),
    Unit("mL/h", "flow", "milliliter/hour", "200", "fl oz/h"),
    Unit("mL/min", "flow", "milliliter/minute", "3", "fl oz/h", offered=False),
    Unit("ft³/min", "flow", "foot**3/minute", "120", "m³/h", ("cfm", "cu ft/min")),
    Unit("ft³/h", "flow", "foot**3/hour", "70", "L/h", ("cu ft/h",), offered=False),
    Unit("fl oz/h", "flow", "fluid_ounce/hour", "7", "mL/h", offered=False),
    Unit("pt/min", "flow", "pint/minute", "0.03", "mL/min", ("us pt/min", "us pint/min", "pint/min"), offered=False),
    Unit("pt/h", "flow", "pint/hour", "1/2", "mL/h", ("us pt/h", "us pint/h", "pint/h", "pints/h"), offered=False),
    Unit("g/h", "mass an hour", "gram/hour", "40", "oz/h"),
    Unit("oz/h", "mass an hour", "ounce/hour", "1-1/2", "g/h", offered=False),
    Unit("1/h", "rate", "1/hour", "4", "", ("/h", "an hour", "per hour")),
    Unit("1/min", "rate", "1/minute", "2", "", ("/min", "a minute", "per minute"), offered=False),
    Unit("°", "angle", "degree", "45", "", ("deg", "degree", "degrees")),
    Unit("rad", "angle", "radian", "0.5", "°", ("radian", "radians")),
    Unit("%", "fraction", "percent", "15", "", ("percent", "pct")),
    Unit("ppm", "concentration", "ppm", "50"),
    Unit("kJ/mol", "activation energy", "kilojoule/mole", "60"),
    Unit("g/eq", "equivalent weight", "gram/mole", "190", "", ("g/equiv", "g/equivalent")),
    Unit("g/mol", "molar mass", "gram/mole", "103"),
    Unit("W/m²K", "thermal transmittance", "watt/meter**2/kelvin", "0.6", "Btu/h·ft²·°F", ("w/m²·k", "w/m² k")),
    Unit("Btu/h·ft²·°F", "thermal transmittance", "btu/hour/foot**2/degree_Fahrenheit_difference", "0.1", "W/m²K",
          ("btu/hr·ft²·°f", "btu/(h·ft²·°f)", "btu/h ft² °f", "btu/h·ft²·f")),
    Unit("W/mK", "thermal conductivity", "watt/meter/kelvin", "0.03", "Btu·in/h·ft²·°F", ("w/m·k", "w/m k")),
    Unit("Btu·in/h·ft²·°F", "thermal conductivity", "btu*inch/hour/foot**2/degree_Fahrenheit_difference", "0.2", "W/mK",
          ("btu·in/hr·ft²·°f", "btu·in/(h·ft²·°f)", "btu in/h ft² °f", "btu·in/h·ft²·f")),
    Unit("1/K", "expansion", "1/kelvin", "0.000024", "µm/m·K", ("/k", "/°c", "1/°c")),
    Unit("µm/m·K", "expansion", "micrometer/meter/kelvin", "24", "",
          ("µm/mk", "um/m·k", "um/mk", "µm/m·°c", "um/m·°c", "µm/m°c", "um/m°c", "ppm/k", "ppm/°c")),
    Unit("µin/in·°F", "expansion", "micro_inch/inch/degree_Fahrenheit_difference", "13", "µm/m·K",
          ("µin/in°f", "uin/in·°f", "uin/in°f", "µin/in·f", "ppm/°f")),
    Unit("µm/m", "strain", "micrometer/meter", "400", "", ("um/m", "microstrain")),
    Unit("1/m", "curvature", "1/meter", "0.01", "", ("/m",)),
    Unit("N·m", "moment", "newton*meter", "50", "lbf·ft", ("nm", "n m")),
    Unit("lbf·ft", "moment", "pound_force*foot", "40", "N·m", ("lbf ft", "lb·ft")),
    Unit("N·m²", "bending stiffness", "newton*meter**2", "5000", "", ("nm²", "n m²")),
    Unit("m²K/W", "thermal resistance", "kelvin*meter**2/watt", "0.13", "h·ft²·°F/Btu", ("m²·k/w", "m² k/w")),
    Unit("h·ft²·°F/Btu", "thermal resistance", "hour*foot**2*degree_Fahrenheit_difference/btu", "10", "m²K/W",
          ("hr·ft²·°f/btu", "h ft² °f/btu", "h·ft²·f/btu")),
    Unit("J", "energy", "joule", "60", "ft·lbf", ("joule", "joules")),
    Unit("ft·lbf", "energy", "foot*pound_force", "45", "J", ("ft lbf", "ft·lb")),
    Unit("W", "power", "watt", "200", "Btu/h", ("watt", "watts")),
    Unit("Btu/h", "power", "btu/hour", "700", "W", ("btu/hr",)),
    Unit("m²/kg", "coverage", "meter**2/kilogram", "7", "ft²/lb", ("sq m/kg",)),
    Unit("ft²/lb", "coverage", "foot**2/pound", "35", "m²/kg", ("sq ft/lb",)),
    Unit("m²/L", "coverage by volume", "meter**2/liter", "8", "ft²/gal", ("sq m/l",)),
    Unit("ft²/gal", "coverage by volume", "foot**2/gallon", "300", "m²/L", ("sq ft/gal",)),
    Unit("g/m²h", "vapour flow", "gram/meter**2/hour", "0.5", "", ("g/m²·h", "g/(m²h)")),
    Unit("N/m", "line load", "newton/meter", "100", "lbf/ft"),
    Unit("lbf/ft", "line load", "pound_force/foot", "7", "N/m"),
    Unit("", "number", "", "12"),
)  # fmt: skip
BY_SYMBOL = {unit.symbol: unit for unit in UNITS}
BY_SPELLING: dict[str, list[Unit]] = {}
for _unit in UNITS:
    for _spelling in (_unit.symbol.lower(), *_unit.spellings):
        BY_SPELLING.setdefault(_spelling, []).append(_unit)

_NEEDS_NO_UNIT = frozenset({"fraction", "angle", "number", "temperature difference", "time", "activation energy",
                            "equivalent weight", "molar mass"})  # fmt: skip
"""Dimensions so commonly written in one unit that a bare number is clear."""

_WRITTEN = {"K": "°C", "Δ°F": "°F"}
"""A thermometer shows no kelvin: 3 °C above the dew point. What it is the difference of, the words beside it say."""

_READ_BARE = "g/mL"
"""The one unit in which liquids are near 1, so a bare 1.1 is clear; a bare 2 or 32 for a foam may be lb/ft³ or kg/m³."""


def dimension(unit: str) -> str:
    """Return the name of what `unit` measures, such as 'length'; KeyError for an unknown symbol."""
    return BY_SYMBOL[unit].dimension


def units_of(unit: str) -> tuple[str, ...]:
    """Return the symbols of all units that measure the same as `unit`; KeyError for an unknown symbol."""
    return tuple(item.symbol for item in UNITS if item.dimension == dimension(unit))


def offered(unit: str) -> tuple[str, ...]:
    """Return the symbols of the units that the key goes through where `unit` is asked for; KeyError for an unknown symbol.

    What is asked for is among them, and its twin, however seldom it is wanted elsewhere.
    """
    asked = {unit, BY_SYMBOL[unit].twin}
    return tuple(symbol for symbol in units_of(unit) if BY_SYMBOL[symbol].offered or symbol in asked)


def needs_unit(unit: str) -> bool:
    """Return whether a bare number is unclear where `unit` is expected, because both systems are in daily use."""
    return dimension(unit) not in _NEEDS_NO_UNIT and unit != _READ_BARE


def written(unit: str) -> str:
    """Return how a unit is written for reading: a difference in degrees like the degrees it is measured in."""
    return _WRITTEN.get(unit, unit)


def joined(number_text: str, unit: str) -> str:
    """Return a number and its unit written together."""
    return f"{number_text}{'' if unit in ('°', '') else ' '}{written(unit)}"
