"""Checks of the laminate calculator: the standard's own form, stacks, coats and losses, and the traps of glass content."""

import itertools
import math

import pytest

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("cloth", "thickness", "rising", {}),
    ("glass_content", "wet_out", "falling", {}),
    ("glass_content", "fibre_volume", "rising", {}),
    ("loss", "mix", "rising", {}),
    ("trim", "cloth_area", "rising", {}),
    ("epoxy_density", "thickness", "falling", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


def run(**texts):
    given = {"area": "1 m²"} if not {"area", "length", "width"} & set(texts) else {}
    return calc.run("laminate", {**given, "cloth": "200 g/m²", **texts})


def figure(name, **texts):
    return run(**texts).outputs[name].value


def numbers(**texts):
    return {name: getattr(q, "value", q) for name, q in run(**texts).outputs.items() if q is not None}


@pytest.mark.outside("the form of ISO 12215-5 annex C (secondary)")
@pytest.mark.parametrize("cloth", [25, 200, 300, 600, 1200])
@pytest.mark.parametrize("percent", [10, 25, 30, 40, 45, 50, 55, 66, 80])
def test_thickness_is_that_of_the_standard(cloth, percent):
    # ISO 12215-5 annex C, from a public transcription [read, secondary]; w in kg/m², not g/m².
    w, psi = cloth / 1000, percent / 100
    assert figure("thickness", cloth=f"{cloth} g/m²", glass_content=f"{percent} %") == pytest.approx(
        w / 3.072 * (2.56 / psi - 1.36), rel=1e-12
    )


@pytest.mark.outside("table computed with the standard's form, to three decimals")
@pytest.mark.parametrize(
    ("cloth", "content", "mm"),
    [("200 g/m²", "50", 0.245), ("200 g/m²", "40", 0.328), ("6 oz/yd²", "48", 0.263), ("300 g/m²", "30", 0.701)],
)
def test_thickness_of_common_cloths(cloth, content, mm):
    # Handbook table to three decimals, computed with the standard's form.
    assert figure("thickness", cloth=cloth, glass_content=content) == pytest.approx(mm, abs=6e-4)


@pytest.mark.parametrize("percent", range(10, 81, 5))
def test_masses_and_volumes_add_up(percent):
    outputs = numbers(glass_content=f"{percent} %")
    assert outputs["cloth_mass"] + outputs["wet_out"] == pytest.approx(outputs["areal_weight"])
    assert outputs["cloth_mass"] / outputs["areal_weight"] == pytest.approx(percent / 100)
    # From volume fraction back to mass fraction, the textbook inverse.
    v = outputs["fibre_volume"]
    assert 2.56 * v / (2.56 * v + 1.20 * (1 - v)) == pytest.approx(percent / 100)
    assert outputs["density"] == pytest.approx(2.56 * v + 1.20 * (1 - v))


def test_glass_content_by_mass_is_not_the_fibre_volume():
    assert figure("fibre_volume", glass_content="50 %") == pytest.approx(0.319, abs=5e-4)
    assert figure("fibre_volume", glass_content="30 %") == pytest.approx(0.167, abs=5e-4)


def test_more_resin_makes_it_thicker_and_heavier():
    for name in ("wet_out", "thickness", "areal_weight", "mix"):
        series = [figure(name, glass_content=f"{percent} %") for percent in range(10, 81)]
        assert all(math.isfinite(x) and x > y > 0 for x, y in itertools.pairwise(series)), name


@pytest.mark.outside("each cloth worked out alone and added up: masses and thicknesses add, contents do not average")
def test_a_stack_of_two_cloths_is_the_sum_of_both_alone():
    texts = {"length": "2.44 m", "width": "1.22 m", "trim": "10 %"}
    mat = numbers(cloth="300 g/m²", glass_content="30 %", plies="2", **texts)
    roving = numbers(cloth="600 g/m²", glass_content="48 %", **texts)
    stack = numbers(cloth="300 g/m²", glass_content="30 %", plies="2", other_plies="1@600 g/m²=48", **texts)
    for name in ("cloth_mass", "cloth_area", "wet_out", "thickness", "areal_weight"):
        assert stack[name] == pytest.approx(mat[name] + roving[name]), name
    assert stack["glass"] == pytest.approx(100 * stack["cloth_mass"] / (stack["cloth_mass"] + stack["wet_out"]))
    assert stack["glass"] != pytest.approx((2 * 30 + 48) / 3, abs=0.5)


def test_plies_of_the_same_cloth_typed_apart_are_the_same_stack():
    together, apart = numbers(cloth="6 oz/yd²", plies="3"), numbers(cloth="6 oz/yd²", other_plies="1@6, 1@6 oz/yd²")
    assert apart == pytest.approx(together)


@pytest.mark.outside("by hand: two strips of 1000 mm less one overlap of 50 mm cover 1220 mm; 2 × 2.44 m × 3 plies")
def test_the_roll_gives_strips_and_the_overlap_takes_cloth_and_epoxy():
    texts = {"length": "2440 mm", "width": "1220 mm", "plies": "3"}
    plain, rolled = numbers(**texts), numbers(roll_width="1000 mm", **texts)
    assert rolled["strips"] == 2
    assert rolled["cloth_length"] == pytest.approx(2 * 2.44 * 3)
    assert rolled["cloth_area"] == pytest.approx(3 * 2.44 * 1.27)
    assert rolled["wet_out"] / plain["wet_out"] == pytest.approx(1.27 / 1.22)
    assert rolled["thickness"] == plain["thickness"]
    wide = numbers(roll_width="1270 mm", **texts)
    assert (wide["strips"], wide["cloth_length"], wide["wet_out"]) == (1, pytest.approx(2.44 * 3), plain["wet_out"])


@pytest.mark.parametrize(
    ("texts", "field"),
    [
        ({"other_plies": "*@300"}, "other_plies"),
        ({"other_plies": "2@300 along"}, "other_plies"),
        ({"other_plies": "2@300=5"}, "other_plies"),
        ({"other_plies": "2@300=96"}, "other_plies"),
        ({"other_plies": "2@5"}, "other_plies"),
        ({"other_plies": "2@300 mm"}, "other_plies"),
        ({"other_plies": "300"}, "other_plies"),
        ({"roll_width": "1 m"}, "roll_width"),
        ({"area": "", "length": "2 m", "width": "1 m", "roll_width": "50 mm", "overlap": "50 mm"}, "overlap"),
    ],
)
def test_a_stack_or_a_roll_that_makes_no_sense_is_refused(texts, field):
    with pytest.raises(InputError) as refused:
        run(**texts)
    assert [problem.field for problem in refused.value.problems] == [field]


@pytest.mark.parametrize(("content", "said"), [("60", "can stay dry"), ("30", "squeegee off")])
def test_the_content_of_any_cloth_of_the_stack_is_looked_at(content, said):
    assert any(said in caution for caution in run(other_plies=f"1@300={content}").cautions)


@pytest.mark.parametrize("typed", ["45", "45 %", "0.45", ".45", "9/20"])
def test_glass_content_as_percent_or_fraction(typed):
    result = run(glass_content=typed)
    assert result.inputs["glass_content"].value == 45
    assert result.inputs["glass_content"].unit == "%"
    assert result.outputs["wet_out"].value == pytest.approx(244.444, abs=1e-3)


@pytest.mark.parametrize("typed", ["0.45 %", "4.5", "1", "0", "-0.4", "95 %", "450", "much"])
def test_glass_content_refused(typed):
    with pytest.raises(InputError, match="glass_content"):
        run(glass_content=typed)


def test_plies_multiply_the_laminate_but_not_the_coats():
    texts = {"seal_coat": "120 g/m²", "fill_coat": "110 g/m²", "fill_coats": "2"}
    one, three = run(**texts).outputs, run(plies="3", **texts).outputs
    for name in ("wet_out", "cloth_mass", "cloth_area", "thickness", "areal_weight"):
        assert three[name].value == pytest.approx(3 * one[name].value), name
    for name in ("seal", "fill", "film", "fibre_volume", "density"):
        assert three[name].value == pytest.approx(one[name].value), name


def test_trim_takes_resin_with_it_but_neither_seal_nor_fill():
    texts = {"seal_coat": "120 g/m²", "fill_coat": "110 g/m²"}
    plain, trimmed = run(**texts).outputs, run(trim="10 %", **texts).outputs
    for name in ("cloth_area", "cloth_mass", "wet_out"):
        assert trimmed[name].value == pytest.approx(1.1 * plain[name].value), name
    for name in ("seal", "fill", "thickness", "areal_weight", "weight_added"):
        assert trimmed[name].value == plain[name].value, name


def test_loss_is_counted_once_on_the_sum():
    texts = {"seal_coat": "120 g/m²", "fill_coat": "110 g/m²", "fill_coats": "2", "loss": "15 %"}
    outputs = numbers(**texts)
    assert outputs["mix"] == pytest.approx(1.15 * (outputs["wet_out"] + outputs["seal"] + outputs["fill"]))


def test_one_fill_coat_when_its_number_is_left_out_and_none_when_it_is_zero():
    assert figure("fill", fill_coat="110 g/m²") == pytest.approx(110)
    assert figure("fill", fill_coat="110 g/m²", fill_coats="0") == 0


def test_coats_are_short_by_half_when_only_the_cloth_is_counted():
    texts = {"length": "2.4 m", "width": "1.2 m", "trim": "10", "loss": "10"}
    cloth_only = run(**texts)
    whole = run(seal_coat="120 g/m²", fill_coat="110 g/m²", fill_coats="2", **texts)
    assert cloth_only.outputs["mix"].value < whole.outputs["mix"].value / 2
    assert any("more epoxy than wetting out the cloth" in caution for caution in cloth_only.cautions)


def test_area_or_sides_in_any_unit():
    by_sides = figure("mix", length="96 in", width="4 ft", cloth="6 oz/yd²")
    assert figure("mix", area="32 ft²", cloth="6 oz/yd²") == pytest.approx(by_sides)
    assert figure("mix", length="2438.4", width="1219.2", cloth="6 oz/yd²") == pytest.approx(by_sides)


@pytest.mark.parametrize(
    ("texts", "fields"),
    [
        ({"area": "", "fill_coats": "2"}, ["length", "width", "fill_coat"]),
        ({"length": "2 m"}, ["width"]),
        ({"area": "2 m²", "width": "1 m"}, ["width"]),
        ({"plies": "0"}, ["plies"]),
        ({"cloth": "200 g"}, ["cloth"]),
        ({"trim": "-1"}, ["trim"]),
    ],
)
def test_says_every_field_that_is_wrong(texts, fields):
    with pytest.raises(InputError) as refused:
        run(**texts)
    assert [problem.field for problem in refused.value.problems] == fields


@pytest.mark.parametrize(
    ("texts", "words"),
    [
        ({"glass_content": "60"}, "can stay dry"),
        ({"glass_content": "30"}, "squeegee off"),
        ({}, "No seal or fill coats"),
        ({"fill_coat": "100 g/m²"}, "No seal coat included"),
        ({"seal_coat": "100 g/m²"}, "No fill coats included"),
        ({}, "No loss included"),
        ({}, "No trim included"),
        ({"area": "4 m²"}, "coat by coat, in small pots"),
    ],
)
def test_warns(texts, words):
    assert any(words in caution for caution in run(**texts).cautions)


def test_full_quantities_for_a_small_face_is_not_warned_about():
    full = {"seal_coat": "120 g/m²", "fill_coat": "110 g/m²", "trim": "10", "loss": "10", "area": "0.5 m²"}
    assert run(**full).cautions == ()
