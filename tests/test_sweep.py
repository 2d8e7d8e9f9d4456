"""Every calculator over the whole of each input's range: finite, plain words, the same in any unit, the way physics goes."""

import ast
import json
import math
import re
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopmate import calc, units
from shopmate.calculator import Choice, Count, Either, Measure, RatioKind
from shopmate.errors import EntryError, InputError
from shopmate.picture import draw
from shopmate.result import Result
from shopmate.units import Quantity

NO_WORDS = re.compile(r"(?<![A-Za-z])(?:nan|inf|None(?! of))(?![A-Za-z])|[{}]|\d[eE][-+]?\d|\d\.\d{10,}")
"""What no line that a person reads holds: a name of the program's inside, a power of ten, the noise of a float."""

EXAMPLES = [
    pytest.param(name, dict(example.inputs), id=f"{name}-{number}")
    for name in calc.names()
    for number, example in enumerate(calc.find(name).examples, start=1)
]


def measure_of(kind):
    kind = kind.measure if isinstance(kind, Either) else kind
    return kind if isinstance(kind, Measure) else None


def example_with(name, field):
    """Return the inputs of the first worked example that gives a field, or of the first of all."""
    examples = [dict(example.inputs) for example in calc.find(name).examples]
    return next((inputs for inputs in examples if field in inputs), examples[0])


def grid(measure, steps=4, powers=3):
    """Return exact numbers over the range of a measure: both limits (or just over an open one), evenly and by decades between."""
    high = Fraction(str(measure.high))
    low = Fraction(str(measure.low if measure.low is not None else measure.above))
    first = low if measure.low is not None else low + (high - low) / 10_000
    even = [low + (high - low) * Fraction(step, steps) for step in range(1, steps)]
    decades = [high / 10**power for power in range(1, powers + 1)] if high > 0 else []
    return sorted({first, high, *even, *(number for number in decades if number > first)})


def typed(number, unit=""):
    """Return an exact number with its unit as a person could type it, cut off after 30 digits."""
    text = units.show_number(number)
    if len(text) > 30:
        text = f"{number.numerator * 10**24 // number.denominator}".replace("-", "")
        text = f"{'-' if number < 0 else ''}{text.zfill(25)[:-24]}.{text.zfill(25)[-24:]}"
    return f"{text} {unit}".strip()


def texts_of(kind):
    """Return texts over the whole of what a field takes."""
    texts = []
    if measure := measure_of(kind):
        texts += [typed(number, measure.unit) for number in grid(measure)]
    choice = kind.choice if isinstance(kind, Either) else kind
    if isinstance(choice, Choice):
        texts += choice.names()
    if isinstance(kind, Count):
        texts += [str(number) for number in sorted({kind.low, min(kind.low + 1, kind.high), kind.high})]
    return texts


def answer(name, texts):
    """Return the result, or the problems it was refused for: each names a field, says what is wrong and what to do."""
    try:
        return calc.run(name, texts)
    except InputError as refused:
        problems = refused.problems
    for problem in problems:
        assert problem.field in {item.name for item in calc.find(name).inputs}, problem
        assert problem.what, problem
        assert problem.fix, problem
    assert problems
    return problems


def plain(value):
    return float(value.value) if isinstance(value, Quantity) else value


def figures(name, **texts):
    return {output: plain(value) for output, value in calc.run(name, texts).outputs.items()}


def assert_sound(result):
    """Hold a result to finite numbers, JSON and lines that can be read."""
    shown = json.loads(json.dumps(result.as_json(), allow_nan=False))
    assert set(shown["outputs"]) == {output.name for output in calc.find(result.calculator).outputs}
    for line in (*result.working, *result.cautions, *result.doubts):
        assert not NO_WORDS.search(line), line


MEASURES = [
    pytest.param(name, item.name, example_with(name, item.name), id=f"{name}-{item.name}")
    for name in calc.names()
    for item in calc.find(name).inputs
    if measure_of(item.kind)
]


@pytest.mark.parametrize(("name", "inputs"), EXAMPLES)
def test_each_input_over_its_whole_range(name, inputs):
    for item in calc.find(name).inputs:
        for text in texts_of(item.kind):
            result = answer(name, {**inputs, item.name: text})
            if isinstance(result, Result):
                assert_sound(result)
            else:
                assert not any(NO_WORDS.search(str(problem)) for problem in result), result


@pytest.mark.parametrize(("name", "field", "inputs"), MEASURES)
def test_the_unit_typed_makes_no_difference_at_any_point(name, field, inputs):
    measure = measure_of(calc.find(name).field(field).kind)
    for number in grid(measure, steps=3, powers=1):
        stated = Quantity(number, measure.unit)
        before = answer(name, {**inputs, field: typed(number, measure.unit)})
        for unit in units.units_of(measure.unit):
            text = typed(Fraction(stated.to(unit).value), unit)
            after = answer(name, {**inputs, field: text})
            where = f"{typed(number, measure.unit)} as {text}"
            if not isinstance(before, Result) or not isinstance(after, Result):
                assert not isinstance(before, Result), where
                assert not isinstance(after, Result), where
                assert [problem.field for problem in before] == [problem.field for problem in after], where
                continue
            for output, value in before.outputs.items():
                wanted, got = plain(value), plain(after.outputs[output])
                if isinstance(wanted, float) and isinstance(got, float):
                    assert math.isclose(got, wanted, rel_tol=1e-9, abs_tol=1e-9), (where, output, wanted, got)
                else:
                    assert got == wanted, (where, output, wanted, got)


@pytest.mark.parametrize(("name", "field", "inputs"), [row for row in MEASURES if calc.find(row.values[0]).pictures])
def test_the_picture_is_drawn_or_told_in_words_at_every_point(name, field, inputs):
    calculator = calc.find(name)
    measure = measure_of(calculator.field(field).kind)
    for number in grid(measure, steps=2, powers=2):
        result = answer(name, {**inputs, field: typed(number, measure.unit)})
        for picture in calculator.drawn(result.inputs, result.outputs) if isinstance(result, Result) else ():
            assert picture.words
            assert not NO_WORDS.search(picture.words), picture.words
            lines = draw(picture, 38, 12, False, "inch")
            assert lines
            assert all(len(line) <= 38 for line in lines)
            assert not any(NO_WORDS.search(line) for line in lines), lines


@pytest.mark.parametrize("name", calc.names())
def test_a_density_in_the_other_unit_is_asked_about_or_refused(name):
    """Where a bare number is taken, no usual figure passes for one when typed in another unit: 72 lb/ft³ for 1.15 g/mL."""
    for item in calc.find(name).inputs:
        measure = measure_of(item.kind)
        if measure is None or units.dimension(measure.unit) != "density" or units.needs_unit(measure.unit):
            continue
        ends = [measure.soft_low or measure.low or measure.above, measure.soft_high or measure.high]
        for unit in units.offered(measure.unit):
            for end in ends if unit != measure.unit else ():
                misread = typed(Fraction(Quantity(Fraction(str(end)), measure.unit).to(unit).value))
                try:
                    asked = measure.doubt(measure.read(misread))
                except EntryError:
                    continue
                assert asked, f"{item.name}: {end:g} {measure.unit} typed in {unit} is {misread} and passes for {measure.unit}"


def directions(name):
    """Return the rows of DIRECTIONS of a calculator's own file of tests; it is read, not run."""
    path = Path(__file__).parent / "calc" / f"test_{name}.py"
    for node in ast.parse(path.read_text(encoding="utf-8")).body if path.exists() else ():
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "DIRECTIONS":
            return ast.literal_eval(node.value)
    return []


@pytest.mark.parametrize(
    ("name", "field", "output", "direction", "beside"), [(name, *row) for name in calc.names() for row in directions(name)]
)
def test_output_goes_the_way_physics_goes(name, field, output, direction, beside):
    base = {**calc.find(name).examples[0].inputs, **beside}
    values = []
    for number in grid(measure_of(calc.find(name).field(field).kind), steps=24):
        result = answer(name, {**base, field: typed(number, measure_of(calc.find(name).field(field).kind).unit)})
        if isinstance(result, Result) and (value := plain(result.outputs[output])) is not None:
            values.append(value if direction == "rising" else -value)
    assert len(values) >= 6, "too few points to tell"
    assert values[-1] > values[0]
    for first, second in pairwise(values):
        assert second >= first or math.isclose(second, first, rel_tol=1e-12), (first, second)


@pytest.mark.parametrize("name", calc.names())
def test_every_calculator_says_which_way_an_output_goes(name):
    assert directions(name)


# Pairs that undo each other, or that say the same by two ways.


@pytest.mark.parametrize("ratio", ["100:45 by weight", "2:1 by volume", "5:1 by volume"])
def test_total_resin_and_hardener_name_the_same_pot(ratio):
    densities = {"ratio": ratio, "resin_density": "1.15", "hardener_density": "0.97"}
    pot = figures("mix", total="250 g", **densities)
    for amount in ("resin", "hardener"):
        again = figures("mix", **densities, **{amount: f"{pot[amount]:.15f} g"})
        assert again["total"] == pytest.approx(250, rel=1e-12)
        assert again["phr"] == pytest.approx(pot["phr"], rel=1e-12)


@pytest.mark.parametrize("width", [10, 25, 60])
@pytest.mark.parametrize("thickness", ["0.5", "1", "3"])
def test_the_bead_that_just_fills_holds_what_the_bond_line_does(width, thickness):
    line = {"width": f"{width} mm", "thickness": f"{thickness} mm", "length": "10 m"}
    fills = f"{figures('bondline', **line)['bead']:.15f} mm"
    laid = figures("bondline", **line, bead=fills)
    assert laid["coverage"] == pytest.approx(1, rel=1e-12)
    # The same volume as a round bead, and as the rectangle it is pressed to, from the other calculator.
    round_one = figures("bead", cartridge="300 mL", diameter=fills, length="10 m", waste="0 %")
    pressed = figures("bead", cartridge="300 mL", shape="rectangle", base=line["width"], height=line["thickness"], length="10 m")
    assert round_one["volume"] == pytest.approx(laid["volume"], rel=1e-12)
    assert pressed["volume"] == pytest.approx(laid["volume"], rel=1e-12)


@pytest.mark.parametrize("series", ["all", "inch", "fractional", "number", "letter", "metric"])
def test_the_drills_up_and_down_bracket_the_hole_and_the_nearest_is_one_of_them(series):
    for tenths in range(60, 100, 3):
        if series == "number":
            tenths //= 2
        hole = {"diameter": f"{tenths / 10 + 0.013} mm", "series": series}
        up, down, near = (figures("drill", **hole, round=way) for way in ("up", "down", "nearest"))
        assert down["diameter"] < tenths / 10 + 0.013 < up["diameter"]
        assert near["drill"] in (up["drill"], down["drill"])
        assert abs(near["difference"]) == min(abs(up["difference"]), abs(down["difference"]))


def test_a_surface_at_the_least_temperature_has_the_margin_asked_for():
    for air, humidity, margin in (("20 °C", "65 %", "3 K"), ("50 °F", "80 %", "5 K"), ("35 °C", "40 %", "9 °F")):
        at = {"air": air, "humidity": humidity, "margin": margin}
        least = figures("dewpoint", **at)["surface_least"]
        got = figures("dewpoint", **at, surface=f"{least:.12f} °C")
        assert got["margin"] == pytest.approx(units.parse(margin, "K").value_in("K"), abs=1e-9)
        assert got["margin_rule"] == "kept"


def test_cloth_and_epoxy_make_up_the_laminate_by_mass_and_by_volume():
    got = figures("laminate", area="1 m²", cloth="300 g/m²", plies="3", glass_content="48 %")
    assert got["cloth_mass"] + got["wet_out"] == pytest.approx(got["areal_weight"])
    assert got["areal_weight"] == pytest.approx(got["density"] * got["thickness"] * 1000)
    assert got["fibre_volume"] * got["thickness"] * 2.56 * 1000 == pytest.approx(got["cloth_mass"])


def test_two_fillets_of_half_the_length_take_the_mix_of_one():
    whole, half = (figures("fillet", length=length, radius="10 mm", loss="12 %") for length in ("4 m", "2 m"))
    assert whole["mix"] == pytest.approx(2 * half["mix"])


def test_the_same_filler_weighs_and_fills_the_same_in_mix_and_in_thicken():
    densities = {"ratio": "100:45 by weight", "resin_density": "1.10", "hardener_density": "1.10"}
    for filler in ("fumed silica", "wood flour", "phenolic spheres"):
        pot = figures("mix", total="200 g", filler=filler, filler_loading="12 %", **densities)
        alone = {} if filler == "fumed silica" else {"silica": "0 %"}
        dab = figures("thicken", epoxy="200 g", filler=filler, loading="12 %", epoxy_density="1.10", **alone)
        for name in ("filler", "total", "volume", "density"):
            assert dab[name] == pytest.approx(pot[name], rel=1e-12), (filler, name)


@pytest.mark.parametrize("degrees", [30, 60, 90, 120, 150])
def test_a_cove_and_a_round_over_of_one_radius_and_angle_have_one_section(degrees):
    cove = figures("fillet", length="3 m", radius="12 mm", angle=f"{degrees}°")
    edge = figures("edge", length="3 m", radius="12 mm", angle=f"{degrees}°")
    assert edge["section"] == pytest.approx(cove["section"], rel=1e-12)
    assert edge["volume"] == pytest.approx(cove["volume"], rel=1e-12)


def test_what_gap_and_shim_take_off_they_leave():
    lap = figures("gap", gap="16 mm", leg_a="12 mm", leg_b="11 mm")
    assert lap["overlap"] + lap["clearance_a"] + lap["clearance_b"] == pytest.approx(16)
    for text in ("12.7 mm", "1/2 in", "9 mm"):
        packed = figures("shim", gap="16 mm", part=text)
        assert packed["shim"] + units.parse(text, "mm").value_in("mm") == pytest.approx(16)


def test_strips_of_cloth_less_their_laps_cover_the_face():
    for width in range(300, 6000, 190):
        got = figures("cloth", width=f"{width} mm", length="2 m", roll_width="1 m", overlap="50 mm")
        assert 1000 * got["strips"] - 50 * got["seams"] >= width
        assert got["strips"] == 1 or 1000 * (got["strips"] - 1) - 50 * (got["seams"] - 1) < width
        assert got["seams"] == got["strips"] - 1


def test_foam_by_sizes_and_by_volume_is_the_same_and_its_parts_add_up():
    mould = {"density": "2 lb/ft³", "waste": "12 %", "ratio": "110:100 by weight"}
    sizes = figures("foam", length="1.2 m", width="0.5 m", depth="40 mm", **mould)
    volume = figures("foam", volume="24 L", **mould)
    for name in ("in_place", "to_mix", "part_a", "part_b"):
        assert volume[name] == pytest.approx(sizes[name], rel=1e-12), name
    assert sizes["part_a"] + sizes["part_b"] == pytest.approx(sizes["to_mix"])
    assert sizes["part_a"] / sizes["part_b"] == pytest.approx(1.1)


def test_a_lift_at_its_own_limit_has_the_index_one():
    at = {"hand_distance": "40 cm", "start_height": "75 cm", "travel": "50 cm", "grip": "fair"}
    limit = figures("lift", mass="10 kg", **at)["limit"]
    assert figures("lift", mass=f"{limit:.15f} kg", **at)["index"] == pytest.approx(1)


def test_a_spill_of_the_volume_at_the_limit_brings_the_room_to_the_limit():
    at = figures("vapour", solvent="ethanol", volume="10 mL", room="50 m³")
    full = figures("vapour", solvent="ethanol", volume=f"{at['volume_at_limit']:.12f} mL", room="50 m³")
    assert full["concentration"] == pytest.approx(at["limit"])


def test_mass_and_weight_ask_for_the_same_strut_and_for_the_same_tape():
    newtons = f"{20 * 9.80665} N"
    for mode in ({"mode": "guided", "angle": "60°"}, {"mode": "hinged", "cg_distance": "0.5 m", "arm": "0.15 m"}):
        assert figures("strut", mass="20 kg", **mode)["force"] == pytest.approx(figures("strut", weight=newtons, **mode)["force"])
    assert figures("tape", mass="20 kg", width="25 mm")["area"] == pytest.approx(
        figures("tape", load=newtons, width="25 mm")["area"]
    )


def test_a_bevel_named_by_angle_or_by_slope_is_one_bevel():
    by_angle, by_slope = (figures("bevel", thickness="18 mm", **by) for by in ({"angle": "30°"}, {"slope": "60°"}))
    for name in ("face", "offset"):
        assert by_slope[name] == pytest.approx(by_angle[name])


# Anything typed into any field.


def plausible(kind):
    """Return a strategy for texts that a person might give to a field of this kind, within its limits or not."""
    if isinstance(kind, Either):
        return st.one_of(plausible(kind.choice), plausible(kind.measure))
    if isinstance(kind, Choice):
        return st.sampled_from([*kind.names(), "", "none of these"])
    if isinstance(kind, Count):
        return st.integers(kind.low - 1, kind.high + 1).map(str)
    if isinstance(kind, RatioKind):
        parts = st.integers(0, 200)
        return st.builds("{}:{} by {}".format, parts, parts, st.sampled_from(["weight", "volume", ""]))
    if isinstance(kind, Measure):
        low = float(kind.low if kind.low is not None else kind.above)
        number = st.floats(low - 1, float(kind.high) + 1, allow_nan=False).map(lambda value: f"{value:.6f}")
        limits = st.sampled_from([f"{low:.6f}", f"{float(kind.high):.6f}"])
        unit = st.sampled_from([*units.units_of(kind.unit), "", "kg", "1/2"])
        return st.builds(lambda text, unit: f"{text} {unit}".strip(), number | limits, unit)
    return st.sampled_from(["8h@25C 16h@12C", "1, 2, 3", "6.4 mm", ""])


GARBAGE = st.one_of(
    st.text(max_size=30),
    st.sampled_from(
        ["-0", "1e9", "nan", "inf", "1/0", "0/5", "½", "1,250.5", "½ ½", "3 kg 2", "-1-1/2 in", "\x00", "٣ mm", "{total}"]
    ),
)


@pytest.mark.parametrize("name", calc.names())
@settings(max_examples=40)
@given(data=st.data())
def test_whatever_is_typed_is_answered_or_refused_in_words(name, data):
    calculator = calc.find(name)
    base = data.draw(st.sampled_from([{}, *(dict(example.inputs) for example in calculator.examples)]))
    chosen = data.draw(st.lists(st.sampled_from(calculator.inputs), max_size=4, unique_by=lambda item: item.name))
    typed_texts = {item.name: data.draw(st.one_of(plausible(item.kind), plausible(item.kind), GARBAGE)) for item in chosen}
    result = answer(name, {**base, **typed_texts})
    if isinstance(result, Result):
        assert_sound(result)
