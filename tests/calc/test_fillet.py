"""Checks of the fillet calculator: the real curve integrated, the traps of the angle, and what it warns of."""

import itertools
import math

import pytest
from scipy.integrate import quad

from shopmate import calc, tables
from shopmate.errors import InputError

DIRECTIONS = [
    ("radius", "section", "rising", {}),
    ("angle", "section", "falling", {}),
    ("angle", "leg", "falling", {}),
    ("length", "mix", "rising", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


def run(**texts):
    return calc.run("fillet", {"length": "1 m", "radius": "12 mm", **texts})


def figure(name, **texts):
    return run(**texts).outputs[name].value


def integrated_section(radius: float, degrees: float) -> float:
    """Area in mm² between the bisector's upper panel and the arc, doubled, by scipy's quadrature.

    The corner lies at the origin with the bisector along x; the arc's centre is on it at r/sin(θ/2).
    """
    half = math.radians(degrees) / 2
    centre = radius / math.sin(half)
    tangent = radius / math.tan(half) * math.cos(half)
    face = centre - radius

    def height(x: float) -> float:
        panel = x * math.tan(half)
        arc = math.sqrt(max(radius**2 - (x - centre) ** 2, 0.0)) if x > face else 0.0
        return panel - arc

    area, _ = quad(height, 0, tangent, points=[face], epsabs=1e-10, epsrel=1e-10, limit=200)
    return 2 * area


@pytest.mark.outside("scipy.integrate.quad between panel and arc")
@pytest.mark.parametrize("radius", [6, 8, 12, 20, 50])
@pytest.mark.parametrize("degrees", [5, 20, 45, 60, 75, 90, 110, 120, 135, 150, 170, 175])
def test_section_is_the_integral_of_the_real_curve(radius, degrees):
    got = figure("section", radius=f"{radius} mm", angle=f"{degrees}°")
    assert got == pytest.approx(integrated_section(radius, degrees), rel=1e-6)


@pytest.mark.parametrize("degrees", [20, 60, 90, 135, 170])
def test_leg_throat_and_face_close_the_figure(degrees):
    # Distance corner to centre both ways: along the bisector, and by the tangent point.
    leg, throat = (figure(name, angle=f"{degrees}°") for name in ("leg", "throat"))
    assert (throat + 12) ** 2 == pytest.approx(leg**2 + 12**2)
    chord = 2 * leg * math.sin(math.radians(degrees) / 2)
    assert figure("face", angle=f"{degrees}°") == pytest.approx(24 * math.asin(chord / 24))


def test_section_falls_as_the_corner_opens_and_grows_with_the_square_of_the_radius():
    sections = [figure("section", angle=f"{degrees}°") for degrees in range(5, 176, 5)]
    assert all(first > second > 0 for first, second in itertools.pairwise(sections))
    assert figure("section", radius="24 mm") == pytest.approx(4 * figure("section", radius="12 mm"))


def test_angle_is_the_included_one_not_the_bend_out_of_line():
    included = figure("section", angle="120°", radius="10 mm")
    assert included == pytest.approx(5.375, rel=1e-3)
    assert figure("section", angle="60°", radius="10 mm") > 10 * included


def test_angle_in_degrees_or_radians_is_the_same_corner_and_a_bare_number_is_degrees():
    assert figure("section", angle="1.5707963267948966 rad") == pytest.approx(figure("section", angle="90"))
    with pytest.raises(InputError, match=r"angle: 1\.57 is below the minimum, 5 °"):
        run(angle="1.57")


def test_inch_and_metric_give_the_same_mix():
    metric = figure("mix", length="3048 mm", radius="12.7 mm", density="1150 kg/m³", loss="15 %")
    inch = figure("mix", length="10 ft", radius='1/2"', density="1.15 g/mL", loss="15")
    assert metric == pytest.approx(inch)


def test_the_default_density_is_the_rule_of_mixtures_over_the_table_of_fillers():
    fillers = tables.load("fillers")
    parts = {"wood flour": 30, "fumed silica": 2}
    volume = 100 / 1.10 + sum(grams / float(fillers.row("filler", name)["particle_g_ml"]) for name, grams in parts.items())
    assert figure("mix") / figure("volume") == pytest.approx((100 + 32) / volume, rel=1e-3)


def test_loss_is_added_to_the_mix_and_not_to_the_volume():
    assert figure("volume", loss="15 %") == figure("volume")
    assert figure("mix", loss="15 %") == pytest.approx(1.15 * figure("mix"))


@pytest.mark.parametrize(
    ("texts", "words"),
    [
        ({"radius": "5 mm"}, "cloth won't turn a corner below 6 to 8 mm"),
        ({"radius": "7 mm"}, "only light cloth"),
        ({"sheet": "9 mm"}, "18 to 27 mm"),
        ({"angle": "20"}, "very sharp"),
        ({"angle": "160"}, "the included angle is 20°"),
        ({}, "no waste added"),
        ({"length": "40 m"}, "smaller pots"),
    ],
)
def test_warns(texts, words):
    assert any(words in caution for caution in run(**texts).cautions)


def test_an_ordinary_fillet_is_not_warned_about():
    assert run(radius="12 mm", sheet="6 mm", loss="15 %").cautions == ()


@pytest.mark.parametrize(
    "texts", [{"radius": "0 mm"}, {"angle": "180"}, {"angle": "0"}, {"length": "-1 m"}, {"loss": "-5"}, {"density": "12"}]
)
def test_refuses_what_no_corner_can_be(texts):
    with pytest.raises(InputError) as refused:
        run(**texts)
    assert [problem.field for problem in refused.value.problems] == list(texts)


def test_working_can_be_followed_on_paper():
    lines = run(length="4.8 m", density="1.15", loss="15").working
    assert "section = r²(cot(θ/2) − (π−θ)/2) = 12² × 0.2146 = 30.9 mm²" in lines
    assert any("= 196.2 g" in line for line in lines)


def test_the_figures_of_the_words_of_a_fillet():
    got = calc.run("fillet", {"length": "1 m", "radius": "8 mm", "angle": "120°", "sheet": "6 mm"}).outputs
    assert got["bend"].value_in("°") == pytest.approx(60)
    assert (got["radius_low"].value_in("mm"), got["radius_high"].value_in("mm")) == pytest.approx((2 * 6, 3 * 6))
