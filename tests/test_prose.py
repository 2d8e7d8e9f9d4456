"""Figures in texts as an inch project reads them, against the definitions of the units and in every text there is."""

import re
from fractions import Fraction
from pathlib import Path

import pytest
from conftest import BEGAN, materials
from said_figures import wrong_equations

from shopmate import calc, paths, recipe, units
from shopmate.errors import InputError
from shopmate.log import Log
from shopmate.recipe import Gate, Start
from shopmate.result import Presentation
from shopmate.session import FinishedView, Session
from shopmate.session.demo import follow
from shopmate.units import in_system, working_in

INCH = Fraction(254, 10)
"""Millimetres in an inch, by definition of both."""

READ = [
    # Lengths by 25.4 mm an inch [computed]; the nearest round fraction as rules and sheets have it [common practice].
    ("60 mm each side", "2 3/8 in each side"),
    ("3 mm", "1/8 in"),
    ("25 mm", "1 in"),
    ("24.6 mm", "31/32 in"),
    ("18 mm", "23/32 in"),
    ("25.0 mm", "63/64 in"),
    ("2.98 mm", "1/8 in"),
    ("0.5 mm thick", "0.02 in thick"),
    ("0.02 mm off", "0.001 in off"),
    ("0.002 mm off", "0.0001 in off"),
    ("0 mm", "0 in"),
    ("±2 mm", "±5/64 in"),
    ("6 m long", "20 ft long"),
    ("2.44 × 1.22 m", "96 × 48 in"),
    ("2.44 m × 1.22 m", "96 in × 48 in"),
    ("2440 x 1220 mm", "96 x 48 in"),
    ("2 × 5 mm", "2 × 3/16 in"),
    ("3 to 5 mm", "1/8 to 3/16 in"),
    ("6, 9 or 12 mm", "1/4, 11/32 or 15/32 in"),
    ("between 6 and 8 mm", "between 1/4 and 5/16 in"),
    ("in a row 10, 100 mm apart", "in a row 10, 4 in apart"),
    # Others by the definitions of pound, pound-force and degree Fahrenheit [computed].
    ("15 to 30 °C", "59 to 86 °F"),
    ("-10 °C", "14 °F"),
    ("cold to −60 and hot to 80 °C", "cold to −60 and hot to 176 °F"),
    ("0 °C", "32 °F"),
    ("100 kg", "220 lb"),
    ("145 N", "32.6 lbf"),
    ("2 to 5 kN", "450 to 1100 lbf"),
    ("200 g/m²", "6 oz/yd²"),
    ("10 to 35 kPa", "1.5 to 5.1 psi"),
    # What differs by so many degrees differs by 9/5 as many of the other; no 32 is added.
    ("3 °C or more above the dew point", "5.4 °F or more above the dew point"),
    ("5 K", "9 °F"),
    ("by 8.7 °C", "by 15.7 °F"),
    ("within 5 °C", "within 9 °F"),
    ("time halves for +10 °C", "time halves for +18 °F"),
    ("from -10 °C to +40 °C", "from 14 °F to +104 °F"),
    ("10 to 25 °C above the cure", "18 to 45 °F above the cure"),
    # What is given in both stays one figure.
    ("145 N (33 lbf) (EN 1005-3)", "33 lbf (EN 1005-3)"),
    ("the head is 2.95 mm (0.116 in) high", "the head is 0.116 in high"),
]

AS_IT_STANDS = [
    "120 g of mix at 1.15 g/mL",
    "write '30 mm' or '1-1/2 in'",
    "6 oz/yd² is 203 g/m²",
    "203 g/m² is 6 oz/yd²",
    "12 mL per metre",
    "20 inHg",
    "M5 screws, 2:1 by volume, F2/F1 1.3, {gap} mm",
    "2 h at 45° and 12 %",
    "422 N/mm²",
]


@pytest.mark.parametrize(("text", "wanted"), READ)
def test_figures_are_read_in_inch_units_as_round_as_they_were_written(text, wanted):
    assert in_system(text, "inch") == wanted
    assert in_system(text, "metric") == text


@pytest.mark.parametrize("text", AS_IT_STANDS)
def test_what_both_systems_read_and_what_is_quoted_stands_as_it_is(text):
    assert in_system(text, "inch") == text


def test_apostrophes_quote_nothing():
    assert in_system("the shop's 7 °C and the tape's 3 mm", "inch") == "the shop's 45 °F and the tape's 1/8 in"


@pytest.mark.outside("25.4 mm an inch, in exact fractions")
@pytest.mark.parametrize("decimals", [0, 1, 2])
def test_no_length_is_read_further_off_than_it_was_written(decimals):
    for number in range(1, 4000):
        written = Fraction(number, 10**decimals)
        text = f"{float(written):.{decimals}f} mm"
        read = units.parse(in_system(text, "inch"), "in").to("in").value * INCH
        assert read > 0
        # Half a step of what is written, two parts in a hundred of a round figure, or half a mark of the rule.
        assert abs(read - written) <= max(Fraction(1, 2 * 10**decimals), written / 50, INCH / 128)
        assert abs(read - written) <= max(written * Fraction(6, 100), INCH / (128 if written > INCH / 16 else 2000))


def test_lines_of_working_keep_the_units_they_were_calculated_in():
    line = "each strip = length + 2 × wrap = 2438.4 + 2 × 0.0 = 2438.4 mm; 3 cover 2900 mm"
    assert working_in(line, "inch") == "each strip = length + 2 × wrap = 2438.4 + 2 × 0.0 = 2438.4 mm = 96 in; 3 cover 114 in"
    assert working_in(line, "metric") == line


@pytest.mark.parametrize(
    "line",
    [
        "length = 295.0 mL / 40.32 mm² = 7 times",
        "pressure = 100 psi = 100 psi = 689.5 kPa",
        "mass = 0.5 × 20 g = 10 g",
        "drill = #32 = 2.946 mm (0.1160 in)",
        "rate here = 3 × √2 = 4.24 mm per root day",
    ],
)
def test_what_is_gone_on_from_or_given_in_inches_is_not_said_again(line):
    assert working_in(line, "inch") == line


# Every text there is


def results(name):
    """Yield the results of the worked examples and of both sides of each limit."""
    calculator = calc.find(name)
    texts = [example.inputs for example in calculator.examples]
    texts += [side for threshold in calculator.thresholds for side in threshold.sides(texts[0])]
    for given in texts:
        try:
            yield calc.run(name, given)
        except InputError:
            continue


def said_by(name):
    """Yield what a calculator says beside figures and working."""
    calculator = calc.find(name)
    yield calculator.valid
    yield from (field.help for field in calculator.inputs)
    yield from (output.title for output in calculator.outputs)
    for result in results(name):
        yield from result.cautions


def said_by_recipes():
    """Yield the texts of the shipped recipes."""
    for path in sorted(paths.shipped_recipes().glob("*.yaml")):
        read = recipe.load(path)
        yield from (read.about, *read.needs)
        for section in read.sections:
            for step in section.steps:
                yield from (step.headline, *(detail.text for detail in step.detail))
                yield from (caution.text.text for caution in step.cautions)
                if isinstance(step.act, Gate):
                    yield step.act.if_no
                if isinstance(step.act, Start):
                    yield from (step.act.note, step.act.action, step.act.if_late, step.act.consequence)


LEFT = re.compile(r"(?<!')\d (?:mm|cm|m|m²|mm²|cm²|mL|L|kg|t|g/m²|kg/m³|°C|K|N|kN|N/mm²|k?Pa|MPa|GPa|W)(?![\w²³/·'])")
"""A figure in metric units that no inch project reads."""
IN_BOTH = re.compile(
    r"[\d.]+ mL per metre|\d+ lb/ft³ is \d+ kg/m³|\d+ kg/m³ is \d+ lb/ft³|oz/yd² is \d+ g/m²"
    r"|#\d+, [\d.]+ mm"  # screws are named by both
    r"|10 in for 25 cm and 51 lb for 23 kg|1/320 mm|(?:Pick|Shims to use):? [\d.]+ mm(?: \+ [\d.]+ mm)?"
)
"""What says how one system is the other, rates in words, and shims picked from a stock of metric sizes."""


@pytest.mark.parametrize("name", calc.names())
def test_nothing_that_a_calculator_says_is_left_in_metric_units(name):
    left = {text for text in (in_system(text, "inch") for text in said_by(name)) if LEFT.search(IN_BOTH.sub("", text))}
    assert not left


def test_nothing_that_a_recipe_says_is_left_in_metric_units():
    texts = list(said_by_recipes())
    assert sum(bool(LEFT.search(text)) for text in texts) >= 10
    assert not [text for text in texts if LEFT.search(in_system(text, "inch"))]


@pytest.mark.parametrize("path", sorted(paths.shipped_recipes().glob("*.yaml")), ids=lambda path: path.stem)
def test_a_recipe_followed_in_an_inch_project_shows_no_metric_figure(path):
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.name("Rehearsal", "inch", BEGAN)
    session.begin(session.add_part("Part", BEGAN), recipe.load(path), BEGAN)
    read, names = [], {material.title for material in materials().values()}

    def seen(view):
        result = getattr(view, "result", None)
        lines = [view.headline, *view.frame.detail, *map(str, view.frame.figures), getattr(view, "default_read", "")]
        lines += [f"{row.value} {row.note}" for row in view.frame.rows]
        lines += [*(option.label for option in getattr(view, "options", ())), *getattr(view, "reasons", ())]
        if result is not None:
            lines += [*result.warnings, *map(str, (*result.head, *result.others))]
        read.extend(line for line in lines if not any(name in line for name in names))
        return isinstance(view, FinishedView)

    follow(session, BEGAN, {}, until=seen)
    assert sum(bool(re.search(r"\d (?:in|ft|°F|oz/yd²)\b", line)) for line in read) >= LEAST.get(path.stem, 5)
    assert not {line for line in read if LEFT.search(IN_BOTH.sub("", line))}


LEAST = {"surface-prep": 0, "edges": 4, "end-of-day": 4, "yearly-check": 4}
"""Lines with figures of recipes that have few on the way they are followed here."""


DEGREES = re.compile(r"(?:\S+ ){0,2}[+±]?[-−]?\d+(?:\.\d+)?(?: to [-−]?\d+)? °C(?: \S+){0,4}")
COMPARES = re.compile(
    r"\b(?:by|within|rises?|falls?|than|above|below|warmer|colder|hotter|cooler|higher|lower|apart|away|more|less|off|each|per)\b|[+±]"
)
"""Words of which those of a difference are some."""
APART = {
    "softens again 10 to 25 °C above its cure temperature",
    "time per 10 °C",
    "At least 5 °C away from the first.",
    "m bar 40 °C warmer grows 0.8 mm",
    "must be 3 °C above the present dew",
    "at least 3 °C above the dew point.",
}
"""The differences among them, read with no 32 °F added; each new one is looked at and listed here."""


def test_each_difference_of_degrees_in_a_text_is_told_from_a_temperature():
    texts = [text for name in calc.names() for text in said_by(name)] + list(said_by_recipes())
    found = {}
    for text in texts:
        for match in DEGREES.finditer(text):
            if COMPARES.search(match[0]):
                first = Fraction(re.search(r"[-−]?\d+(?:\.\d+)?", match[0])[0].replace("−", "-"))
                read = Fraction(re.search(r"[-−]?\d+(?:\.\d+)?", in_system(match[0], "inch"))[0].replace("−", "-"))
                found[match[0]] = abs(read - first * 9 / 5) < abs(read - (first * 9 / 5 + 32))
    assert len(found) > 20
    assert {text for text, apart in found.items() if apart} == APART


@pytest.mark.parametrize("name", calc.names())
def test_every_line_of_working_stays_true_as_arithmetic(name):
    lines = {line for result in results(name) for line in result.working}
    for line in sorted(lines):
        read = working_in(line, "inch")
        assert wrong_equations(line) or not wrong_equations(read), (line, read)


def test_most_lines_that_come_to_a_length_or_force_say_it_in_inch_units():
    lines = [line for name in calc.names() for result in results(name) for line in result.working]
    come_to = [line for line in lines if re.search(r"(?<! in)(?<! psi) = [\d.]+ (?:mm|N|kg|kPa|m²)$", line)]
    assert len(come_to) > 200
    assert all(re.search(r" = [\d. /]+ (?:in|ft|lbf|lb|oz|psi|ft²|in²)$", working_in(line, "inch")) for line in come_to)


TOO_FINE = re.compile(r" in \+ 0\.|\d[eE][-+]?\d|(?<!\d)(?!0\.000)\d+\.\d{4,} in\b")
"""Inches that no rule, caliper or drill chart shows; under half a thousandth more decimals keep a figure from reading as zero."""


@pytest.mark.parametrize("name", calc.names())
@pytest.mark.parametrize("system", ["metric", "inch"])
def test_no_inch_figure_is_finer_than_a_caliper(name, system):
    for result in results(name):
        read = Presentation(result, calc.find(name).outputs, system)
        told = [*map(str, read.head), *map(str, read.others), *read.cautions, *read.working]
        assert not [text for text in told if TOO_FINE.search(text)]
