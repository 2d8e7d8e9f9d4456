"""Numbers, units and ratios: what is read, what is refused and with which words, how it converts and how it is shown."""

from __future__ import annotations

import math
import re
import subprocess
import sys
import unicodedata
from collections.abc import Callable
from fractions import Fraction

import pint
import pytest
import scales
from hypothesis import given, settings
from hypothesis import strategies as st

from shopmate import units
from shopmate.errors import EntryError
from shopmate.units import Quantity, Ratio, Shown
from shopmate.units.gauge import thicknesses
from shopmate.units.known import UNITS as KNOWN
from shopmate.units.scales import SCALES

DEFAULT_REGISTRY_NAME = {
    "mm": "millimeter", "cm": "centimeter", "m": "meter", "in": "inch", "ft": "foot", "yd": "yard",
    "mm²": "millimeter**2", "cm²": "centimeter**2", "m²": "meter**2", "in²": "inch**2", "ft²": "foot**2", "yd²": "yard**2",
    "mL": "milliliter", "L": "liter", "m³": "meter**3", "in³": "inch**3", "ft³": "foot**3", "fl oz": "US_fluid_ounce",
    "mg": "milligram", "g": "gram", "kg": "kilogram", "oz": "avoirdupois_ounce", "lb": "avoirdupois_pound",
    "g/m²": "gram/meter**2", "kg/m²": "kilogram/meter**2",
    "oz/yd²": "ounce/yard**2", "oz/ft²": "ounce/foot**2", "lb/ft²": "pound/foot**2",
    "cm²/kg": "centimeter**2/kilogram", "in²/lb": "inch**2/avoirdupois_pound",
    "g/mL": "gram/milliliter", "kg/m³": "kilogram/meter**3", "lb/ft³": "pound/foot**3",
    "°C": "degree_Celsius", "°F": "degree_Fahrenheit", "K": "kelvin", "Δ°F": "delta_degree_Fahrenheit",
    "Pa": "pascal", "kPa": "kilopascal", "MPa": "megapascal", "GPa": "gigapascal", "psi": "pound_force_per_square_inch",
    "inHg": "inch_Hg", "N": "newton", "kN": "kilonewton", "lbf": "force_pound",
    "s": "second", "min": "minute", "h": "hour", "d": "day", "°": "degree", "rad": "radian", "%": "percent", "ppm": "ppm",
    "kJ/mol": "kilojoule/mole", "g/eq": "gram/mole", "g/mol": "gram/mole",
    "W/m²K": "watt/meter**2/kelvin", "W/mK": "watt/meter/kelvin",
    "1/K": "1/kelvin", "µm/m·K": "micrometer/meter/kelvin", "N/m": "newton/meter",
    "m/h": "meter/hour", "ft/h": "foot/hour", "m²/h": "meter**2/hour", "ft²/h": "foot**2/hour", "": "dimensionless",
    "µm": "micrometer", "mil": "thou", "cL": "centiliter", "pt": "US_pint", "qt": "US_liquid_quart", "gal": "US_liquid_gallon",
    "lb/gal": "avoirdupois_pound/US_liquid_gallon", "bar": "bar", "mbar": "millibar", "kgf/cm²": "kilogram_force/centimeter**2",
    "wk": "week", "m³/h": "meter**3/hour", "L/min": "liter/minute", "L/h": "liter/hour", "mL/h": "milliliter/hour",
    "mL/min": "milliliter/minute", "ft³/min": "foot**3/minute", "ft³/h": "foot**3/hour", "fl oz/h": "US_fluid_ounce/hour",
    "pt/min": "US_pint/minute", "pt/h": "US_pint/hour", "g/h": "gram/hour", "oz/h": "avoirdupois_ounce/hour", "1/h": "1/hour",
    "1/min": "1/minute",
    "µm/m": "micrometer/meter", "1/m": "1/meter", "N·m": "newton*meter", "lbf·ft": "force_pound*foot",
    "N·m²": "newton*meter**2", "m²K/W": "meter**2*kelvin/watt", "J": "joule", "W": "watt", "Btu/h": "Btu_it/hour",
    "ft·lbf": "foot*force_pound", "lbf/ft": "force_pound/foot",
    "Btu/h·ft²·°F": "Btu_it/hour/foot**2/delta_degree_Fahrenheit", "µin/in·°F": "microinch/inch/delta_degree_Fahrenheit",
    "Btu·in/h·ft²·°F": "Btu_it*inch/hour/foot**2/delta_degree_Fahrenheit",
    "h·ft²·°F/Btu": "hour*foot**2*delta_degree_Fahrenheit/Btu_it", "m²/kg": "meter**2/kilogram",
    "ft²/lb": "foot**2/avoirdupois_pound", "m²/L": "meter**2/liter", "ft²/gal": "foot**2/US_liquid_gallon",
    "g/m²h": "gram/meter**2/hour",
}  # fmt: skip
"""Each unit by its name in pint's default registry, written down here apart from the definitions under test."""

UNITS = tuple(DEFAULT_REGISTRY_NAME)
PAIRS = [(a, b) for a in UNITS for b in units.units_of(a)]

# No clock and no stored failures: the same examples on every run.
steady = settings(derandomize=True, deadline=None, database=None, max_examples=150)

fractions = st.fractions(min_value=-(10**15), max_value=10**15, max_denominator=10**15)
bench_fractions = st.fractions(min_value=-10_000, max_value=10_000, max_denominator=1000)
bench_floats = st.floats(min_value=-1e6, max_value=1e6, allow_subnormal=False).filter(lambda x: x == 0 or abs(x) > 1e-6)
awkward_text = st.text("0123456789.,/+-−–½¾' \"″eE:xinmftgzkMPaG°CFK%²³µ·()\u00a0\t\n\x1b٣１∞~", max_size=24)


def q(value: str | int | Fraction, unit: str) -> Quantity:
    return Quantity(Fraction(value), unit)


def refused(read: Callable[[], object]) -> str | None:
    """Return the words of a refusal, or None when the text was read; any other exception is a failure."""
    try:
        read()
    except EntryError as error:
        return str(error)
    return None


def refusal(text: str, unit: str) -> EntryError:
    with pytest.raises(EntryError) as caught:
        units.parse(text, unit)
    return caught.value


READ = [
    # What a keypad alone can type.
    ("12", "mm", q(12, "mm")),
    ("1.5", "in", q("3/2", "in")),
    ("1,5", "in", q("3/2", "in")),
    (".5", "in", q("1/2", "in")),
    (",5", "in", q("1/2", "in")),
    ("3/4", "in", q("3/4", "in")),
    ("3/2", "in", q("3/2", "in")),
    ("1-1/2", "in", q("3/2", "in")),
    ("1+1/2", "in", q("3/2", "in")),
    ("-5", "°C", q(-5, "°C")),
    ("+5", "°C", q(5, "°C")),
    ("-1-1/2", "in", q("-3/2", "in")),
    ("0", "mm", q(0, "mm")),
    ("-0", "mm", q(0, "mm")),
    ("007", "mm", q(7, "mm")),
    ("1.250", "mm", q("5/4", "mm")),
    ("1,25", "mm", q("5/4", "mm")),
    ("1,2500", "mm", q("5/4", "mm")),
    ("0,250", "mm", q("1/4", "mm")),
    ("1250,125", "mm", q("10001/8", "mm")),
    ("0.1", "mm", q("1/10", "mm")),
    # From a full keyboard, or pasted.
    ("1 1/2", "in", q("3/2", "in")),
    ("  1  1/2  ", "in", q("3/2", "in")),
    ("1\u00a01⁄2 in", "in", q("3/2", "in")),
    ("1 + 1/2", "in", q("3/2", "in")),
    ("1–1/2 in", "in", q("3/2", "in")),
    ("½", "in", q("1/2", "in")),
    ("1½", "in", q("3/2", "in")),
    ("1 ½", "in", q("3/2", "in")),
    ("1-½", "in", q("3/2", "in")),
    ("-2⅜", "in", q("-19/8", "in")),
    ("−40 °F", "°C", q(-40, "°F")),
    ("–40F", "°C", q(-40, "°F")),
    # With a unit, which need not be the field's.
    ("1.5in", "mm", q("3/2", "in")),
    ('1.5"', "mm", q("3/2", "in")),
    ("1-1/2″", "mm", q("3/2", "in")),
    ("1½”", "mm", q("3/2", "in")),
    ("1/2''", "mm", q("1/2", "in")),
    ("6'", "mm", q(6, "ft")),
    ("6 ft.", "mm", q(6, "ft")),
    ("38mm", "in", q(38, "mm")),
    ("3.8 cm", "in", q("19/5", "cm")),
    ("8h", "min", q(8, "h")),
    ("30 min", "h", q(30, "min")),
    ("90sec", "min", q(90, "s")),
    ("30 MIN", "h", q(30, "min")),
    ("2 days", "h", q(2, "d")),
    ("12 IN", "mm", q(12, "in")),
    ("2 Metres", "mm", q(2, "m")),
    ("250 ml", "L", q(250, "mL")),
    ("250 cm3", "L", q(250, "mL")),
    ("8 fl oz", "mL", q(8, "fl oz")),
    ("8 Fl. Oz.", "mL", q(8, "fl oz")),
    ("2 KG", "g", q(2, "kg")),
    ("5-1/2 lbs", "kg", q("11/2", "lb")),
    ("6 oz/yd2", "g/m²", q(6, "oz/yd²")),
    ("6oz/yd^2", "g/m²", q(6, "oz/yd²")),
    ("6 oz / sq yd", "g/m²", q(6, "oz/yd²")),
    ("200 gsm", "oz/yd²", q(200, "g/m²")),
    # In two units, the second the one usually written after the first.
    ("5 ft 3 in", "mm", q("63", "in")),
    ("5' 3-1/2\"", "mm", q("127/2", "in")),
    ("5'3", "mm", q("63", "in")),
    ("-5 ft 3 in", "mm", q("-63", "in")),
    ("5 ft 0 in", "mm", q("60", "in")),
    ("5 yd 2 ft", "m", q("17", "ft")),
    ("2 m 40 cm", "mm", q("240", "cm")),
    ("3 cm 8 mm", "mm", q("38", "mm")),
    ("2 kg 500 g", "g", q("2500", "g")),
    ("1 L 250 mL", "mL", q("1250", "mL")),
    ("2 d 3 h", "h", q("51", "h")),
    ("5 min 30 s", "min", q("330", "s")),
    ("1h30", "h", q("90", "min")),
    ("2 lb 3 oz", "g", q("35", "oz")),
    ("12 ft 6 in", "mm", q(150, "in")),
    ("12 feet 6-1/2 inches", "mm", q("301/2", "in")),
    ("8' 6\"", "mm", q(102, "in")),
    ("2 gal 1 qt", "L", q(9, "qt")),
    ("1 week 2 days", "h", q(9, "d")),
    ("2 lb/ft3", "kg/m³", q(2, "lb/ft³")),
    ("2 pcf", "kg/m³", q(2, "lb/ft³")),
    ("1.1 g/cm³", "kg/m³", q("11/10", "g/mL")),
    ("70 F", "°C", q(70, "°F")),
    ("21℃", "°F", q(21, "°C")),
    ("21 º C", "°F", q(21, "°C")),
    ("10 °C", "K", q(10, "K")),
    ("18 F", "K", q(18, "Δ°F")),
    ("50 kPA", "psi", q(50, "kPa")),
    ("10 MPA", "psi", q(10, "MPa")),
    ("10 N/mm2", "psi", q(10, "MPa")),
    ("9 gpa", "psi", q(9, "GPa")),
    ("250 n", "lbf", q(250, "N")),
    ("45°", "rad", q(45, "°")),
    ("45 deg", "°", q(45, "°")),
    ("15%", "%", q(15, "%")),
    ("15", "%", q(15, "%")),
    ("0.6 W/(m² K)", "W/m²K", q("3/5", "W/m²K")),
    ("0.5 W/(m²·K)", "W/m²K", q("1/2", "W/m²K")),
    ("0.000024 1/K", "1/K", q("3/125000", "1/K")),
    ("1/2 /K", "1/K", q("1/2", "1/K")),
    ("24 um/m·°C", "1/K", q(24, "µm/m·K")),
    ("1/3", "", q("1/3", "")),
]


@pytest.mark.parametrize(("text", "unit", "wanted"), READ)
def test_reads_exactly(text: str, unit: str, wanted: Quantity) -> None:
    got = units.parse(text, unit)
    assert got == wanted
    assert type(got.value) is Fraction


@pytest.mark.parametrize("sign", "¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞")
def test_reads_every_fraction_sign_as_unicode_defines_it(sign: str) -> None:
    """The numeric values of the Unicode Character Database, as Python's unicodedata carries them [computed]."""
    wanted = Fraction(unicodedata.numeric(sign)).limit_denominator(10)
    assert units.parse_number(sign) == wanted
    assert units.parse_number(f"12{sign}") == 12 + wanted


def test_a_text_of_a_hundred_characters_is_read_and_a_longer_one_is_not() -> None:
    assert units.parse_number("9" * 100) == 10**100 - 1
    with pytest.raises(EntryError, match="is too long: 101 characters"):
        units.parse_number("9" * 101)


def test_thirty_characters_of_a_refused_text_are_repeated() -> None:
    assert refusal("x" * 30, "mm").what == f"'{'x' * 30}' has no number in front"
    assert refusal("x" * 31, "mm").what == f"'{'x' * 30}…' has no number in front"


REFUSED = [
    ("", "mm", "nothing entered; type 12 mm or 1-1/2 in"),
    (" \t", "in", "nothing entered; type 1-1/2 in or 12 mm"),
    ("mm", "mm", "'mm' has no number in front; type 12 mm or 1-1/2 in"),
    ("abc", "g", "'abc' has no number in front; type 120 g or 4 oz"),
    ("∞", "mm", "'∞' has no number in front; type 12 mm or 1-1/2 in"),
    ("nan", "°C", "'nan' has no number in front; type 20 °C or 68 °F"),
    ("inf", "in", "'inf' has no number in front; type 1-1/2 in or 12 mm"),
    ("~5", "mm", "'~5' has no number in front; type 12 mm or 1-1/2 in"),
    ("-", "°C", "'-' has no number in front; type 20 °C or 68 °F"),
    ("18 ga", "mm", "'18 ga' is 0.0478 in in steel but 0.0403 in in aluminium; type 0.0478 in or 0.0403 in"),
    ("18 gauge", "in", "'18 gauge' is 0.0478 in in steel but 0.0403 in in aluminium; type 0.0478 in or 0.0403 in"),
    ("3.5 ga", "mm", "'3.5 ga' is not a sheet-metal gauge; type 12 mm or 1-1/2 in"),
    ("18 ga", "g", "'ga' is not a unit shopmate knows; type 120 g or 4 oz (units: mg, g, kg, oz, lb)"),
    ("1,250", "mm", "'1,250' could be 1250 or 1.25; type 1250 or 1.25"),
    ("-1,250 mm", "mm", "'-1,250' could be -1250 mm or -1.25 mm; type -1250 mm or -1.25 mm"),
    ("12,000 g", "g", "'12,000' could be 12000 g or 12 g; type 12000 g or 12 g"),
    ("1 250", "mm", "'1 250' has thousands separators; type 1250"),
    ("1,250,000", "mm", "'1,250,000' has thousands separators; type 1250000"),
    ("1.250,5 g", "g", "'1.250,5' has thousands separators; type 1250.5 g"),
    ("1,250.5 g", "g", "'1,250.5' has thousands separators; type 1250.5 g"),
    ("1.1/2", "in", "'1.1/2' could be 1-1/2 or 0.55; type 1-1/2 or 0.55"),
    ("1,1/2 in", "mm", "'1,1/2' could be 1-1/2 in or 0.55 in; type 1-1/2 in or 0.55 in"),
    ("1 - 1/2", "in", "'1 - 1/2' could be 1-1/2 or 0.5; type 1-1/2 or 0.5"),
    ("3 - 1/4", "in", "'3 - 1/4' could be 3-1/4 or 2.75; type 3-1/4 or 2.75"),
    ("1 - ½", "in", "'1 - ½' could be 1-1/2 or 0.5; type 1-1/2 or 0.5"),
    ("1−1/2", "in", "'1−1/2' could be 1-1/2 or 0.5; type 1-1/2 or 0.5"),
    ("-1+1/2", "in", "'-1+1/2' could be -1-1/2 or -0.5; type -1-1/2 or -0.5"),
    ("1 2/2", "in", "the fraction in '1 2/2' is not less than 1; type 2 if that's what you want"),
    ("1.5/2", "in", "'1.5/2' is not a number; type 1-1/2 in or 12 mm"),
    ("1.2/2", "in", "'1.2/2' is not a number; type 1-1/2 in or 12 mm"),
    ("1 - 2/2", "in", "'1 - 2/2' is not a number; type 1-1/2 in or 12 mm"),
    ("1 - 3/2", "in", "'1 - 3/2' is not a number; type 1-1/2 in or 12 mm"),
    ("1-3/2 in", "in", "the fraction in '1-3/2' is not less than 1; type 2.5 in if that's what you want"),
    ("1.", "mm", "'1.' stops after '.'; type the rest, or leave out the '.'"),
    ("1, mm", "mm", "'1,' stops after ','; type the rest, or leave out the ','"),
    ("3/", "in", "'3/' stops after '/'; type the rest, or leave out the '/'"),
    ("12/", "in", "'12/' stops after '/'; type the rest, or leave out the '/'"),
    ("3/ in", "in", "'3/' stops after '/'; type the rest, or leave out the '/'"),
    ("1-", "in", "'1-' stops after '-'; type the rest, or leave out the '-'"),
    (".", "in", "'.' has no number in front; type 1-1/2 in or 12 mm"),
    ("/2", "in", "'/2' is not a number; type 1-1/2 in or 12 mm"),
    ("1/0", "in", "'1/0' divides by zero; type 1-1/2 in or 12 mm"),
    ("1-1/0", "in", "'1-1/0' divides by zero; type 1-1/2 in or 12 mm"),
    ("1/2/3", "in", "'1/2/3' has more than one fraction bar; type 1-1/2 in or 12 mm"),
    ("1/½", "in", "'1/½' is not a number; type 1-1/2 in or 12 mm"),
    ("½5", "in", "'½5' is not a number; type 1-1/2 in or 12 mm"),
    ("1.5½", "in", "'1.5½' is not a number; type 1-1/2 in or 12 mm"),
    ("1/2.5", "in", "'1/2.5' is not a number; type 1-1/2 in or 12 mm"),
    ("1.2.3", "mm", "'1.2.3' is not a number; type 12 mm or 1-1/2 in"),
    ("--1", "mm", "'--1' is not a number; type 12 mm or 1-1/2 in"),
    ("+-1", "mm", "'+-1' is not a number; type 12 mm or 1-1/2 in"),
    ("10-20 mm", "mm", "'10-20' is not a number; type 12 mm or 1-1/2 in"),
    ("1e3", "mm", "'1e3' is written with a power of ten; type all its digits, as in 1200 or 0.005"),
    ("2.4E-5 1/K", "1/K", "'2.4E-5 1/K' is written with a power of ten; type all its digits, as in 1200 or 0.005"),
    ("0x10", "mm", "'0x10' has more than one number; type 12 mm or 1-1/2 in"),
    ("1_000", "mm", "'1_000' has more than one number; type 12 mm or 1-1/2 in"),
    ("4 in x 6 in", "in", "'4 in x 6 in' has more than one number; type 1-1/2 in or 12 mm"),
    ("5 ft 3 mm", "mm", "'5 ft 3 mm' has more than one number; type 12 mm or 1-1/2 in"),
    ("5 ft -3 in", "mm", "'5 ft -3 in' has more than one number; type 12 mm or 1-1/2 in"),
    ("1:30", "h", "'1:30' has more than one number; type 1.5 h or 30 min"),
    ("١٢", "mm", "'١٢' has digits other than 0 to 9; type 12 mm or 1-1/2 in"),
    ("１2 mm", "mm", "'１2 mm' has digits other than 0 to 9; type 12 mm or 1-1/2 in"),
    ("9" * 101, "mm", f"'{'9' * 30}…' is too long: 101 characters; type 12 mm or 1-1/2 in"),
    ("5 \x1b[2J", "mm", "'5 [U+001B][2J' has more than one number; type 12 mm or 1-1/2 in"),
    (
        "5 furlongs",
        "mm",
        "'furlongs' is not a unit shopmate knows; type 12 mm or 1-1/2 in (units: mm, cm, m, in, ft, yd, µm, mil)",
    ),
    (
        "5 torr",
        "kPa",
        "'torr' is not a unit shopmate knows; type 50 kPa or 7 psi (units: Pa, kPa, MPa, GPa, psi, inHg, bar, mbar, kgf/cm²)",
    ),
    ("5 kg", "mm", "'kg' measures mass, not length; type 12 mm or 1-1/2 in"),
    ("8 oz", "mL", "'oz' measures mass, not volume; type 250 mL or 8 fl oz"),
    ("50 lb", "N", "'lb' measures mass, not force; type 250 N or 50 lbf"),
    ("30 m", "min", "'m' measures length, not time; type 30 min or 1.5 h"),
    ("70°", "°C", "'°' measures angle, not temperature; type 20 °C or 68 °F"),
    ("293 K", "°C", "'K' measures temperature difference, not temperature; type 20 °C or 68 °F"),
    ("6 oz", "oz/yd²", "'oz' measures mass, not areal weight; type 6 oz/yd² or 200 g/m²"),
    ("5 mm", "", "'mm' is a unit, but no unit is needed here; type 12"),
    ("5 Mm", "mm", "'Mm' is not mm: capital M stands for mega; type 5 mm"),
    ("5 MM", "mm", "'MM' is not mm: capital M stands for mega; type 5 mm"),
    ("1/3 M", "m", "'M' is not m: capital M stands for mega; type 1/3 m"),
    ("5 M2", "m²", "'M²' is not m²: capital M stands for mega; type 5 m²"),
    ("5 G", "g", "'G' is not g: capital G stands for giga; type 5 g"),
    ("5 Mg", "mg", "'Mg' is not mg: capital M stands for mega; type 5 mg"),
    ("5 ML", "mL", "'ML' is not mL: capital M stands for mega; type 5 mL"),
    ("5 mPa", "MPa", "'mPa' is not MPa: small m stands for milli; type 5 MPa"),
]


@pytest.mark.parametrize(("text", "unit", "message"), REFUSED)
def test_refuses_and_says_what_to_type(text: str, unit: str, message: str) -> None:
    assert str(refusal(text, unit)) == message


@pytest.mark.parametrize(("text", "unit", "message"), [row for row in REFUSED if re.search("; type (?!the)", row[2])])
def test_what_a_refusal_says_to_type_is_taken(text: str, unit: str, message: str) -> None:
    fix = refusal(text, unit).fix.removeprefix("type ").removeprefix("it in one unit: ")
    fix = fix.partition(" (units")[0].removesuffix(" if that's what you want").removeprefix("all its digits, as in ")
    for example in fix.split(" or "):
        units.parse(example, unit)


@pytest.mark.parametrize("unit", UNITS)
def test_the_hint_of_every_unit_begins_with_that_unit(unit: str) -> None:
    examples = refusal("", unit).fix.removeprefix("type ").split(" or ")
    assert units.parse(examples[0], unit).unit == unit
    assert all(units.has_unit(example) == bool(unit) for example in examples)
    assert all(units.dimension(units.parse(example, unit).unit) == units.dimension(unit) for example in examples)


@pytest.mark.parametrize("text", ["5 mm", "12 12", "", "1,250", "٣", "1e3", "9" * 101])
def test_a_bare_number_is_read_as_strictly(text: str) -> None:
    with pytest.raises(EntryError):
        units.parse_number(text)


@pytest.mark.parametrize(
    ("text", "wanted"),
    [("12", False), ("1 1/2", False), ("", False), ("½", False), ("1-", False), ("12mm", True), ('1/2"', True), ("5 foo", True),
     ("2 1/K", True), ("2 /K", True), ("3/", False)],
)  # fmt: skip
def test_tells_whether_a_unit_was_typed(text: str, wanted: bool) -> None:
    assert units.has_unit(text) is wanted


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("2:1 by volume", Ratio(Fraction(2), Fraction(1), "volume")),
        ("2 to 1 by vol.", Ratio(Fraction(2), Fraction(1), "volume")),
        ("2:1 v/v", Ratio(Fraction(2), Fraction(1), "volume")),
        ("5:1 parts by volume", Ratio(Fraction(5), Fraction(1), "volume")),
        ("100:45 w/w", Ratio(Fraction(100), Fraction(45), "weight")),
        ("100:45 pbw", Ratio(Fraction(100), Fraction(45), "weight")),
        ("100 to 45.5 by wt.", Ratio(Fraction(100), Fraction(91, 2), "weight")),
        ("100:45 by weight", Ratio(Fraction(100), Fraction(45), "weight")),
        ("100 : 45 By Mass", Ratio(Fraction(100), Fraction(45), "weight")),
        ("3:½ vol", Ratio(Fraction(3), Fraction(1, 2), "volume")),
        ("2,5:1wt", Ratio(Fraction(5, 2), Fraction(1), "weight")),
        ("1-1/2:1 volume", Ratio(Fraction(3, 2), Fraction(1), "volume")),
    ],
)
def test_reads_ratios(text: str, wanted: Ratio) -> None:
    assert units.parse_ratio(text) == wanted


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "nothing entered"),
        ("2 by volume", "'2 by volume' is not a ratio"),
        ("100/30 by weight", "'100/30 by weight' is not a ratio"),
        ("2:1", "'2:1' does not say by weight or by volume"),
        ("2:1:1 by volume", "'2:1:1 by volume' is not a ratio"),
        ("2:1 by luck", "'2:1 by luck' is not a ratio"),
        ("2:0 by volume", "one part of '2:0 by volume' is zero or less"),
        ("-2:1 by volume", "one part of '-2:1 by volume' is zero or less"),
        ("1,000:450 by weight", "'1,000' could be 1000 or 1"),
        ("2 g:1 g by weight", "'2 g:1 g by weight' is not a ratio"),
        ("two:1 by weight", "'two' is not a number"),
    ],
)
def test_refuses_ratios(text: str, what: str) -> None:
    with pytest.raises(EntryError) as caught:
        units.parse_ratio(text)
    assert caught.value.what == what
    assert caught.value.fix


@steady
@given(st.builds(Ratio, *[st.fractions(min_value=Fraction(1, 1000), max_value=1000, max_denominator=1000)] * 2,
                 st.sampled_from(["weight", "volume"])))  # fmt: skip
def test_a_ratio_shown_reads_back(ratio: Ratio) -> None:
    assert units.parse_ratio(str(ratio)) == ratio


@settings(steady, max_examples=600)
@given(st.one_of(st.text(max_size=130), awkward_text), st.sampled_from(UNITS))
def test_any_text_is_read_or_refused_in_printable_words(text: str, unit: str) -> None:
    units.has_unit(text)
    for read in (lambda: units.parse(text, unit), lambda: units.parse_number(text), lambda: units.parse_ratio(text)):
        words = refused(read)
        assert words is None or (words.isprintable() and 10 < len(words) < 400)


@steady
@given(awkward_text, st.sampled_from(UNITS))
def test_what_is_read_reads_the_same_when_shown(text: str, unit: str) -> None:
    try:
        quantity = units.parse(text, unit)
    except EntryError:
        return
    assert units.parse(units.show(quantity), unit) == quantity


@settings(steady, max_examples=500)
@given(fractions, st.sampled_from(PAIRS))
def test_an_exact_quantity_shown_reads_back_to_itself(value: Fraction, pair: tuple[str, str]) -> None:
    unit, field = pair
    assert units.parse(units.show(Quantity(value, unit)), field) == Quantity(value, unit)


@steady
@given(bench_floats, st.sampled_from(UNITS))
def test_a_float_shown_reads_back_to_itself(value: float, unit: str) -> None:
    assert float(units.parse(units.show(Quantity(value, unit)), unit).value) == value


@settings(steady, max_examples=300)
@given(fractions, st.sampled_from(PAIRS))
def test_conversion_there_and_back_is_exact(value: Fraction, pair: tuple[str, str]) -> None:
    unit, other = pair
    there = Quantity(value, unit).to(other)
    assert type(there.value) is Fraction
    assert there.to(unit) == Quantity(value, unit)


@steady
@given(bench_fractions, bench_fractions, st.sampled_from(PAIRS))
def test_the_unit_does_not_change_which_is_more(one: Fraction, two: Fraction, pair: tuple[str, str]) -> None:
    unit, other = pair
    assert (one < two) == (Quantity(one, unit).to(other).value < Quantity(two, unit).to(other).value)


@pytest.mark.parametrize(
    ("given_", "unit", "wanted"),
    [
        (q(1, "in"), "mm", Fraction("25.4")),
        (q("25.4", "mm"), "in", Fraction(1)),
        (q("3/2", "in"), "mm", Fraction("38.1")),
        (q(1, "yd"), "in", Fraction(36)),
        (q(1, "lb"), "g", Fraction("453.59237")),
        (q(1, "lb"), "oz", Fraction(16)),
        (q(128, "fl oz"), "in³", Fraction(231)),
        (q(1, "ft³"), "in³", Fraction(1728)),
        (q(1, "L"), "mL", Fraction(1000)),
        (q(1, "g/mL"), "kg/m³", Fraction(1000)),
        (q(1, "oz/ft²"), "oz/yd²", Fraction(9)),
        (q(32, "°F"), "°C", Fraction(0)),
        (q(212, "°F"), "°C", Fraction(100)),
        (q(-40, "°C"), "°F", Fraction(-40)),
        (q(70, "°F"), "°C", Fraction(190, 9)),
        (q(10, "K"), "Δ°F", Fraction(18)),
        (q(1, "d"), "min", Fraction(1440)),
        (q(24, "µm/m·K"), "1/K", Fraction("0.000024")),
    ],
)
def test_converts_exactly_by_definition(given_: Quantity, unit: str, wanted: Fraction) -> None:
    """The definitions themselves: 1959 inch and pound, gallon of 231 in³, °F = 9/5 °C + 32 [memory]."""
    assert given_.to(unit).value == wanted


@pytest.mark.parametrize(
    ("unit", "si", "factor"),
    [
        ("psi", "Pa", 6.894757e3),
        ("inHg", "Pa", 3.386389e3),
        ("lbf", "N", 4.448222),
        ("oz", "kg", 2.834952e-2),
        ("fl oz", "m³", 2.957353e-5),
        ("ft³", "m³", 2.831685e-2),
        ("yd²", "m²", 8.361274e-1),
        ("lb/ft³", "kg/m³", 1.601846e1),
        ("lb/ft²", "kg/m²", 4.882428),
        ("oz/yd²", "kg/m²", 3.390575e-2),
        ("oz/ft²", "kg/m²", 3.051517e-1),
        ("°", "rad", 1.745329e-2),
    ],
)
def test_factors_of_the_published_table(unit: str, si: str, factor: float) -> None:
    """NIST SP 811 (2008), appendix B.8, seven digits [memory]."""
    assert Quantity(Fraction(1), unit).value_in(si) == pytest.approx(factor, rel=5e-7)


@pytest.mark.parametrize(
    ("gauge", "steel", "aluminium"),
    [(7, 0.1793, 0.1443), (10, 0.1345, 0.1019), (12, 0.1046, 0.0808), (16, 0.0598, 0.0508), (20, 0.0359, 0.0320),
     (22, 0.0299, 0.0253), (26, 0.0179, 0.0159), (30, 0.0120, 0.0100)],
)  # fmt: skip
def test_sheet_gauges_are_those_of_the_published_tables(gauge: int, steel: float, aluminium: float) -> None:
    """Handbook tables of the manufacturers' standard gauge and of the American wire gauge, in inches [memory]."""
    assert thicknesses(Fraction(gauge)) == pytest.approx((steel, aluminium), abs=6e-5)


@pytest.fixture(scope="module")
def default_registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


def test_every_unit_is_compared_with_the_default_registry() -> None:
    assert {symbol for unit in UNITS for symbol in units.units_of(unit)} == set(UNITS)
    assert {unit.symbol for unit in KNOWN} == set(UNITS)


@pytest.mark.parametrize(("unit", "other"), [(a, b) for a, b in PAIRS if a != b])
def test_converts_as_the_default_registry_does(default_registry: pint.UnitRegistry[float], unit: str, other: str) -> None:
    """pint's default definitions, which this project does not load: both ways, as every pair comes in both orders [computed]."""
    there = default_registry.Quantity(17.25, DEFAULT_REGISTRY_NAME[unit]).to(DEFAULT_REGISTRY_NAME[other]).magnitude
    assert Quantity(Fraction("17.25"), unit).value_in(other) == pytest.approx(there, rel=1e-12)
    assert Quantity(17.25, unit).value_in(other) == pytest.approx(there, rel=1e-12)


def test_conversion_to_another_dimension_is_refused() -> None:
    with pytest.raises(EntryError, match=r"^'mm' measures length, not mass; type 120 g or 4 oz$"):
        q(1, "mm").to("g")
    with pytest.raises(EntryError, match="not temperature difference"):
        q(1, "°C").value_in("K")
    with pytest.raises(EntryError, match="length needs a unit"):
        q(1, "").to("mm")


def test_the_table_of_scales_is_what_pint_makes_of_the_definitions() -> None:
    assert scales.TABLE.read_text(encoding="utf-8") == scales.made(), "run: python tests/scales.py --write"


def test_a_unit_that_the_table_lacks_is_converted_by_its_definition(monkeypatch: pytest.MonkeyPatch) -> None:
    by_table = q("1.5", "in").to("mm"), q(21, "°C").to("°F"), q(70, "°F").to("°C")
    for unit in ("in", "°F"):
        monkeypatch.delitem(SCALES, unit)
    assert (q("1.5", "in").to("mm"), q(21, "°C").to("°F"), q(70, "°F").to("°C")) == by_table


def test_reading_converting_and_showing_load_no_pint() -> None:
    script = """
import sys
from shopmate import units
from shopmate.errors import EntryError
from shopmate.units.known import UNITS
assert units.has_unit('1-1/2 in') and units.needs_unit('mm')
quantity = units.parse('1-1/2 in', 'mm')
units.parse_ratio('2:1 by volume')
assert units.show(quantity) == '1.5 in' and str(units.display(quantity, 'inch')) == '1 1/2 in'
try:
    units.parse('5 ft 3 in', 'mm')
except EntryError as error:
    assert '63 in' in str(error)
assert quantity.to('mm').value * 10 == 381 and str(units.display(quantity, 'metric')) == '38.1 mm'
for known in UNITS:
    for other in units.units_of(known.symbol):
        units.Quantity(17.25, known.symbol).to(other)
before = 'pint' in sys.modules
import shopmate.units.definitions
print(before, 'pint' in sys.modules)
"""
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert (done.stdout.split(), done.stderr) == (["False", "True"], "")


@pytest.mark.parametrize(
    ("number", "places", "wanted"),
    [
        (Fraction(3), None, "3"),
        (Fraction(-3, 2), None, "-1.5"),
        (Fraction(1, 64), None, "0.015625"),
        (Fraction(1, 3), None, "1/3"),
        (Fraction(-7, 3), None, "-2 1/3"),
        (Fraction(1, 2**24), None, f"0.{5**24:024d}"),  # 1/2²⁴ = 5²⁴/10²⁴, the longest decimal shown [computed]
        (Fraction(1, 2**25), None, "1/33554432"),
        (Fraction(1, 5**24), None, f"0.{2**24:024d}"),
        (Fraction(1, 5**25), None, f"1/{5**25}"),
        (Fraction(1, 2**300), None, f"1/{2**300}"),
        (1e-7, None, "0.0000001"),
        (1e16, None, "10000000000000000"),
        (2.0, None, "2"),
        (-0.0, None, "0"),
        (math.inf, None, "inf"),
        (math.nan, 2, "nan"),
        (Fraction(1, 8), 2, "0.13"),
        (Fraction(-1, 8), 2, "-0.13"),
        (0.125, 2, "0.13"),
        (2.675, 2, "2.68"),
        (-0.04, 1, "-0.04"),
        (0.0004, 1, "0.0"),
        (0.0005, 1, "0.001"),
        (Fraction(10**400), 1, f"{10**400}.0"),
        (9.96, 1, "10.0"),
        (1234.5, 0, "1235"),
    ],
)
def test_shows_numbers(number: Fraction | float, places: int | None, wanted: str) -> None:
    assert units.show_number(number, places) == wanted


DISPLAYED = [
    (q("3/2", "in"), "38.1 mm", "1 1/2 in"),
    (q("38.1", "mm"), "38.1 mm", "1 1/2 in"),
    (Quantity(38.1, "mm"), "38.1 mm", "1 1/2 in"),
    (Quantity(0.1 + 0.2, "mm"), "0.3 mm", "0.012 in"),
    (q(38, "mm"), "38 mm", "1 1/2 in"),
    (q("38.58", "mm"), "38.6 mm", "1 33/64 in"),
    (q("38.5", "mm"), "38.5 mm", "1 33/64 in"),
    (q(-38, "mm"), "-38 mm", "-1 1/2 in"),
    (q(25, "mm"), "25 mm", "63/64 in"),
    (q("1/64", "in"), "0.397 mm", "1/64 in"),
    (q("0.35", "mm"), "0.35 mm", "0.014 in"),
    (q(0, "mm"), "0 mm", "0 in"),
    (q("1/3", "in"), "8.47 mm", "21/64 in"),
    (Quantity(49.98, "mm"), "50.0 mm", "1 31/32 in"),
    (Quantity(25.40001, "mm"), "25.4 mm", "1 in"),
    (q("3.8", "cm"), "38 mm", "1 1/2 in"),
    (q(8, "ft"), "2438.4 mm", "8 ft"),
    (q("2.44", "m"), "2.44 m", "96 1/16 in"),
    (q(50, "ft"), "15.24 m", "50 ft"),
    (q(12345, "mm"), "12.345 m", "40.502 ft"),
    (q(500, "cm²"), "500 cm²", "77.5 in²"),
    (q(32, "ft²"), "2.973 m²", "32 ft²"),
    (q(8, "fl oz"), "236.6 mL", "8 fl oz"),
    (q(2, "ft³"), "56.634 L", "2 ft³"),
    (q(1500, "g"), "1500 g", "3.31 lb"),
    (q("0.4", "kg"), "400 g", "14.11 oz"),
    (q(4, "oz"), "113.4 g", "4 oz"),
    (q(6, "oz/yd²"), "203.4 g/m²", "6 oz/yd²"),
    (q(2, "lb/ft³"), "32.0 kg/m³", "2 lb/ft³"),
    (q("1.1", "g/mL"), "1100 kg/m³", "68.67 lb/ft³"),
    (q(70, "°F"), "21.1 °C", "70 °F"),
    (q(20, "°C"), "20 °C", "68 °F"),
    (q(10, "K"), "10 °C", "18 °F"),
    (q(7, "psi"), "48.3 kPa", "7 psi"),
    (q(9, "GPa"), "9 GPa", "1305339.6 psi"),
    (q(2500, "N"), "2500 N", "562.0 lbf"),
    (q(50, "lbf"), "222.4 N", "50 lbf"),
    (q(90, "min"), "90 min", "90 min"),
    (q("22.5", "°"), "22.5°", "22.5°"),
    (q(15, "%"), "15 %", "15 %"),
    (Quantity(2.4e-05, "1/K"), "24 µm/m·K", "13.3 µin/in·°F"),
    (q("1/3", ""), "0.333", "0.333"),
    (Quantity(math.inf, "mm"), "inf mm", "inf mm"),
]


@pytest.mark.parametrize(
    ("number", "digits", "wanted"),
    [
        (0, 4, "0"),
        (1e-6, 4, "0.000001"),
        (-9.99e-7, 4, "0"),
        (1e-4, 1, "0.0001"),
        (123456.7, 4, "123457"),
        (30.9023, 3, "30.9"),
        (1.150, 4, "1.15"),
        (-0.2146018, 4, "-0.2146"),
        (13194.4, 4, "13194"),
        (9999.96, 4, "10000"),
        (1e15, 4, "1000000000000000"),
        (8.5841e-5, 4, "0.00008584"),
        (-3.1e-15, 4, "0"),
        (Fraction(1, 3), 2, "0.33"),
    ],
)
def test_significant_digits_are_kept_without_an_exponent(number, digits, wanted):
    assert units.significant(number, digits) == wanted


def test_a_line_of_working_has_four_significant_digits_if_nothing_else_is_said() -> None:
    assert units.significant(1 / 3) == "0.3333"


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (q("3/8", "in"), Shown("0.375", "in")),
        (Ratio(Fraction(100), Fraction(45), "weight"), Shown("100:45", "by weight")),
        (3, Shown("3")),
        ("go", Shown("go")),
        ("5/32 in", Shown("5/32", "in")),  # a drill
        ("4.2 mm", Shown("4.2", "mm")),
        ("3/8in", Shown("3/8in")),
        ("#29", Shown("#29")),
        (".5 mm", Shown(".5 mm")),
    ],
)
def test_a_value_is_shown_in_parts(value: Quantity | Ratio | str | int, shown: Shown) -> None:
    assert units.shown(value) == shown


def test_the_parts_of_a_value_are_put_together() -> None:
    assert str(Shown("1 1/2", "in")) == "1 1/2 in"
    assert str(Shown("45", "°")) == "45°"


# Which unit a figure is read in: a little under and a little over the size from which the next unit is taken.
# The sizes in the other system by the definitions of the units [computed].
READ_IN = [
    ("393.70 in", "mm", "393.71 in", "m", "metric"),  # 10 m = 393.7008 in
    ("3047.9 mm", "in", "3048 mm", "ft", "inch"),  # 120 in
    ("1.550 in²", "mm²", "1.551 in²", "cm²", "metric"),  # 1000 mm² = 1.550003 in²
    ("155.00 in²", "cm²", "155.01 in²", "m²", "metric"),
    ("929.03 cm²", "in²", "929.0304 cm²", "ft²", "inch"),  # 1 ft²
    ("33.81 fl oz", "mL", "33.82 fl oz", "L", "metric"),  # 1 L = 33.8140 fl oz
    ("35.31 ft³", "L", "35.32 ft³", "m³", "metric"),  # 1 m³ = 35.3147 ft³
    ("29.57 L", "fl oz", "29.58 L", "ft³", "inch"),  # 1000 fl oz = 29.5735 L
    ("35.27 oz", "g", "35.28 oz", "kg", "metric"),  # 1 kg = 35.2740 oz
    ("0.45359 kg", "oz", "0.4536 kg", "lb", "inch"),  # 1 lb = 0.45359237 kg
    ("58.98 oz/yd²", "g/m²", "58.99 oz/yd²", "kg/m²", "metric"),  # 2 kg/m² = 58.9870 oz/yd²
    ("2169.9 g/m²", "oz/yd²", "2170 g/m²", "lb/ft²", "inch"),  # 64 oz/yd² = 2169.968 g/m²
    ("145.03 psi", "kPa", "145.04 psi", "MPa", "metric"),  # 1 MPa = 145.0377 psi
    ("1450377 psi", "MPa", "1450378 psi", "GPa", "metric"),
    ("224.80 lbf", "N", "224.81 lbf", "kN", "metric"),  # 1 kN = 224.8089 lbf
    # A unit of the system already is kept from 1 to 10 000, and at 0.
    ("0.999 m", "mm", "1 m", "m", "metric"),
    ("9999 cm²", "cm²", "10000 cm²", "m²", "metric"),
    ("0.999 L", "mL", "1 L", "L", "metric"),
    ("0.9 ft", "in", "1 ft", "ft", "inch"),
    ("-0.999 m", "mm", "-1 m", "m", "metric"),
    ("0.001 m", "mm", "0 m", "m", "metric"),
]


@pytest.mark.parametrize(("under", "one", "over", "other", "system"), READ_IN)
def test_the_unit_changes_with_the_size(under: str, one: str, over: str, other: str, system: units.System) -> None:
    for text, unit in ((under, one), (over, other)):
        typed = text.partition(" ")[2]
        shown = units.both(units.parse(text, typed))[("metric", "inch").index(system)]
        assert shown.unit == unit, text


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("33.3", "mm g kg/m³ g/m² °C N kPa ° %"),
        ("33.3", "psi lbf °F"),
        ("33.33", "ft² ft³ oz oz/yd² lb/ft² lb/ft³ kg/m² MPa GPa kN h"),
        ("33.333", "m m² L m³ ft"),
        ("33.3", "kg lb d"),
        ("33.3333", "rad"),
    ],
)
def test_how_many_decimals_each_unit_is_read_with(text: str, wanted: str) -> None:
    for unit in wanted.split():
        value = Quantity(100 / 3, unit)
        assert f"{text}{'' if unit == '°' else ' '}{unit}" in map(str, units.both(value)), unit


@pytest.mark.parametrize(
    ("quantity", "inch", "metric"),
    [
        (Quantity(20, "kg"), "44.1 lb", "20 kg"),
        (Quantity(2, "kg"), "4.41 lb", "2 kg"),
        (Quantity(97, "lb"), "97 lb", "44.0 kg"),
        (Quantity(21, "lb"), "21 lb", "9.525 kg"),  # under 10 kg a scale shows grams
        (Quantity(Fraction("1.375"), "lb"), "1.375 lb", "623.7 g"),  # typed so, it is shown so
        (Quantity(517 / 24, "d"), "21.5 d", "21.5 d"),
        (Quantity(Fraction("12.25"), "d"), "12.25 d", "12.25 d"),
        (Quantity(1.354, "d"), "1.35 d", "1.35 d"),
        (Quantity(0.00123, "d"), "0.00123 d", "0.00123 d"),
        (Quantity(Fraction(1, 10_000), "lb"), "0.0016 oz", "0.0454 g"),
    ],
)
def test_what_is_not_round_where_it_is_read_has_the_decimals_that_a_hand_can_use(
    quantity: Quantity, inch: str, metric: str
) -> None:
    assert (str(units.display(quantity, "inch")), str(units.display(quantity, "metric"))) == (inch, metric)


@pytest.mark.parametrize(("value", "shown"), [(0, "0.0 fl oz"), (0.04, "0.001 fl oz"), (1, "0.034 fl oz")])
def test_with_places_nought_has_no_more_of_them_in_another_unit_and_nothing_small_reads_as_nought(
    value: float, shown: str
) -> None:
    assert str(units.display(Quantity(value, "mL"), "inch", 1)) == shown


def test_fluid_ounces_are_read_with_two_decimals() -> None:
    assert str(units.display(Quantity(100 / 3, "fl oz"), "inch")) == "33.33 fl oz"


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (10.04, "10.0 mm"),
        (9.96, "9.96 mm"),
        (0.1234, "0.123 mm"),
        (0.01234, "0.0123 mm"),
        (1 / 3e6, "0.000000333 mm"),
        (1 / 3e7, "0.000000033 mm"),  # nine decimals and no more
    ],
)
def test_small_figures_have_three_significant_digits(value: float, shown: str) -> None:
    assert str(units.display(Quantity(value, "mm"), "metric")) == shown


def test_what_differs_by_a_billionth_is_the_noise_of_a_float_and_more_is_a_difference() -> None:
    for factor, metric, inch in ((1 + 5e-10, "25.4 mm", "1 in"), (1 + 2e-9, "25.4 mm", "1 in")):
        assert tuple(map(str, units.both(Quantity(25.4 * factor, "mm")))) == (metric, inch)
    assert str(units.display(Quantity(50 * (1 + 5e-10), "mm"), "metric")) == "50 mm"
    assert str(units.display(Quantity(50 * (1 + 2e-9), "mm"), "metric")) == "50.0 mm"
    assert str(units.display(Quantity(50 * Fraction(10**10 + 1, 10**10), "mm"), "metric")) == "50.0 mm"  # typed so, it is meant


@pytest.mark.parametrize(
    ("inches", "shown"),
    [
        ("0.0624", "0.062 in"),
        ("0.0626", "1/16 in"),
        ("0.0635", "1/16 in"),
        ("-0.0624", "-0.062 in"),
        ("0.0004", "0.0004 in"),
        ("0.0005", "0.001 in"),
        ("-0.0635", "-1/16 in"),
        ("3/64", "3/64 in"),
    ],
)
def test_under_a_sixteenth_of_an_inch_figures_are_decimal(inches: str, shown: str) -> None:
    """What is thinner is gauged, not measured with a rule [common practice]."""
    assert str(units.display(q(inches, "in"), "inch")) == shown


@pytest.mark.parametrize(
    ("unit", "metric", "inch"),
    [("mm", "mm", "in"), ("m²", "m²", "ft²"), ("kg/m³", "kg/m³", "lb/ft³"), ("°C", "°C", "°F"), ("g", "g", "g"), ("min",) * 3,
     ("", "", ""), ("µm", "µm", "mil"), ("mil", "µm", "mil"), ("in", "mm", "in"), ("lbf", "N", "lbf"), ("°", "°", "°")],
)  # fmt: skip
def test_typing_begins_in_the_unit_of_the_system(unit: str, metric: str, inch: str) -> None:
    assert (units.own_unit(unit, "metric"), units.own_unit(unit, "inch")) == (metric, inch)


@pytest.mark.parametrize(("quantity", "metric", "inch"), DISPLAYED)
def test_shows_for_reading_in_both_systems(quantity: Quantity, metric: str, inch: str) -> None:
    assert tuple(map(str, units.both(quantity))) == (metric, inch)
    if quantity.unit not in ("g", "g/mL"):
        assert (str(units.display(quantity, "metric")), str(units.display(quantity, "inch"))) == (metric, inch)


@pytest.mark.parametrize(
    ("quantity", "shown"), [(q(1500, "g"), "1500 g"), (q("46.5", "g"), "46.5 g"), (q("1.15", "g/mL"), "1.15 g/mL")]
)
def test_shows_what_scales_and_data_sheets_show_in_both_systems(quantity: Quantity, shown: str) -> None:
    assert str(units.display(quantity, "metric")) == str(units.display(quantity, "inch")) == shown


@pytest.mark.parametrize(
    ("quantity", "places", "metric", "inch"),
    [
        (Quantity(38.5, "mm"), 1, "38.5 mm", "1 33/64 in"),
        (Quantity(38.58, "mm"), 1, "38.6 mm", "1 33/64 in"),
        (Quantity(38.0, "mm"), 0, "38 mm", "1 1/2 in"),
        (Quantity(38.0, "mm"), 2, "38.00 mm", "1 1/2 in"),
        (Quantity(0.351, "mm"), 2, "0.35 mm", "0.014 in"),
        (Quantity(100.04, "g"), 1, "100.0 g", "100.0 g"),
        (Quantity(12345.6, "mm"), 1, "12.3456 m", "40.5039 ft"),
        (Quantity(1.25, "kg"), 0, "1 kg", "3 lb"),
        (Quantity(21.04, "°C"), 1, "21.0 °C", "69.9 °F"),
        (Quantity(5.0, "min"), 0, "5 min", "5 min"),
    ],
)
def test_places_keep_their_step_in_another_unit(quantity: Quantity, places: int, metric: str, inch: str) -> None:
    read = units.display(quantity, "metric", places), units.display(quantity, "inch", places)
    assert tuple(map(str, read)) == (metric, inch)


@pytest.mark.parametrize(
    ("film", "metric", "inch"),
    [(q(125, "µm"), "125 µm", "4.92 mil"), (q(5, "mil"), "127 µm", "5 mil"), (q(1200, "µm"), "1200 µm", "47.2 mil"),
     (q("0.125", "mm"), "0.125 mm", "0.005 in")],
)  # fmt: skip
def test_a_film_reads_as_on_a_comb_gauge(film: Quantity, metric: str, inch: str) -> None:
    """Paint makers' sheets give films in µm and in mils, and comb gauges are marked in both [common practice]."""
    assert (str(units.display(film, "metric")), str(units.display(film, "inch"))) == (metric, inch)


def test_the_key_goes_through_what_is_asked_for_and_its_twin_too() -> None:
    lengths = ("mm", "cm", "m", "in", "ft", "yd")
    assert units.offered("mm") == units.offered("in") == lengths
    assert units.offered("µm") == units.offered("mil") == (*lengths, "µm", "mil")


def read_back(text: str, unit: str) -> tuple[Quantity, Fraction]:
    """Return what a person reads from a text for display, and the step it is rounded to: that of a rule for inches."""
    read = units.parse(text, unit)
    decimals = re.search(r"\.([0-9]+)[^0-9]*$", text)
    whole = Fraction(1, 64) if read.unit == "in" else Fraction(1)
    return read, Fraction(1, 10 ** len(decimals[1])) if decimals else whole


@settings(steady, max_examples=600)
@given(st.one_of(bench_fractions, bench_floats), st.sampled_from(UNITS), st.sampled_from(["metric", "inch"]))
def test_what_is_displayed_is_the_quantity_within_the_rounding_it_shows(
    value: Fraction | float, unit: str, system: units.System
) -> None:
    text = str(units.display(Quantity(value, unit), system))
    shown, step = read_back(text, unit)
    true = Fraction(Quantity(value, unit).to(shown.unit).value)
    assert abs(shown.value - true) <= step / 2 + abs(true) / 10**9
    if shown.unit != "in":
        assert abs(shown.value - true) <= max(abs(true) / 200, Fraction(1, 10**9))
    elif "." in text:  # gauged to the thousandth, and nothing reads as zero
        assert abs(shown.value - true) <= Fraction(1, 2000) + abs(true) / 10**9
        assert shown.value or abs(true) <= Fraction(1, 10**9)


@settings(steady, max_examples=400)
@given(st.one_of(bench_fractions, bench_floats), st.sampled_from(UNITS), st.sampled_from(["metric", "inch"]), st.integers(0, 4))
def test_displayed_with_places_it_is_within_half_a_step(
    value: Fraction | float, unit: str, system: units.System, places: int
) -> None:
    text = str(units.display(Quantity(value, unit), system, places))
    shown, _ = read_back(text, unit)
    back = shown.to(unit)
    step = Fraction(1, 10**places)
    if shown.unit == "in":
        mark = Fraction(1, 1000) if "." in text else Fraction(1, 64)
        step = max(step, Fraction(Quantity(mark, "in").to(unit).value))
    assert abs(back.value - Fraction(value)) <= step / 2 * (1 + Fraction(1, 10**6)) + abs(Fraction(value)) / 10**9


@pytest.mark.parametrize(
    ("unit", "doubtful"),
    [
        ("mm", True),
        ("g", True),
        ("°C", True),
        ("psi", True),
        ("lb/ft³", True),
        ("kg/m³", True),
        ("g/mL", False),
        ("min", False),
        ("°", False),
        ("%", False),
        ("", False),
    ],
)
def test_a_bare_number_is_doubtful_where_both_systems_are_in_use(unit: str, doubtful: bool) -> None:
    assert units.needs_unit(unit) is doubtful
