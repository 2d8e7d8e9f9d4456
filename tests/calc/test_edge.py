"""Rounded edges: the section integrated, the blank walked along the real profile, darts from the real surface, the traps."""

import itertools
import math
import re

import pytest
from scipy.integrate import quad

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("radius", "section", "rising", {}),
    ("angle", "section", "falling", {}),
    ("length", "volume", "rising", {}),
    ("face", "blank", "rising", {"lap": "30 mm"}),
    ("turn", "excess", "rising", {"lap": "50 mm"}),
    ("curve", "rise", "falling", {"chord": "500 mm"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

ANGLES = [5, 20, 45, 60, 90, 110, 120, 150, 175]


def run(**fields):
    return calc.run("edge", {"radius": "12 mm", "length": "1 m", **fields})


def figures(**fields):
    return {name: getattr(value, "value", value) for name, value in run(**fields).outputs.items()}


def cautions(**fields):
    return " ".join(run(**fields).cautions)


def profile(radius, degrees, lap, steps=4000):
    """Points from the tangent point on the face round the edge and down the lap, x outward along the face, y down."""
    bend = math.pi - math.radians(degrees)
    points = [(radius * math.sin(bend * k / steps), radius * (1 - math.cos(bend * k / steps))) for k in range(steps + 1)]
    x, y = points[-1]
    return [*points, (x + lap * math.cos(bend), y + lap * math.sin(bend))]


def walked(points):
    return sum(math.dist(a, b) for a, b in itertools.pairwise(points))


@pytest.mark.parametrize("degrees", ANGLES)
@pytest.mark.parametrize("radius", [1, 12, 60])
def test_section_is_the_integral_between_faces_and_arc(radius, degrees):
    # In polar form about the centre: from the arc out to the face, over half the bend, twice.
    half_bend = math.radians(180 - degrees) / 2
    area, _ = quad(lambda phi: radius**2 * (1 / math.cos(phi) ** 2 - 1), 0, half_bend, epsabs=1e-12, epsrel=1e-12)
    assert figures(radius=f"{radius} mm", angle=f"{degrees}°")["section"] == pytest.approx(area, rel=1e-6)


@pytest.mark.parametrize("degrees", ANGLES)
def test_blank_is_the_way_along_the_profile_of_both_edges(degrees):
    fields = {"radius": "4 mm", "angle": f"{degrees}°", "face": "600 mm", "lap": "30 mm"}
    got = figures(**fields)
    # The corner of the faces lies one tangent length past the tangent point, found here from the arc's end.
    bend = math.pi - math.radians(degrees)
    x, y = profile(4, degrees, 0)[-1]
    corner = x - y / math.tan(bend)
    way = 600 - 2 * corner + 2 * walked(profile(4, degrees, 30))
    assert got["setback"] == pytest.approx(corner)
    assert got["blank"] == pytest.approx(way, rel=1e-6)


@pytest.mark.parametrize("degrees", [45, 90, 120])
@pytest.mark.parametrize("plan", [0, 50, 400])
def test_darts_take_what_flat_cloth_has_more_than_the_folded_edge(degrees, plan):
    got = figures(radius="8 mm", angle=f"{degrees}°", lap="50 mm", turn="75°", darts="3")
    points = profile(8, degrees, 50)
    flat, folded = (plan + walked(points)) * math.radians(75), (plan + points[-1][0]) * math.radians(75)
    assert got["excess"] == pytest.approx(flat - folded, rel=1e-6)
    assert got["dart"] == pytest.approx((flat - folded) / 3, rel=1e-6)


@pytest.mark.parametrize(("curve", "chord"), [(1000, 500), (1000, 2000), (40, 10), (1_000_000, 1)])
def test_rise_is_the_height_of_the_arc_and_gives_its_radius_back(curve, chord):
    rise = figures(curve=f"{curve} mm", chord=f"{chord} mm")["rise"]
    assert chord**2 / (8 * rise) + rise / 2 == pytest.approx(curve, rel=1e-9)


def test_short_form_of_the_rise_would_be_low():
    assert figures(curve="1000 mm", chord="500 mm")["rise"] > 1.015 * 500**2 / (8 * 1000)


def test_turn_follows_from_curve_and_chord_unless_given():
    by_curve = figures(lap="30 mm", curve="1000 mm", chord="1000 mm")
    assert by_curve["excess"] == pytest.approx(figures(lap="30 mm", turn="60°")["excess"])
    assert figures(lap="30 mm", curve="1000 mm", chord="1000 mm", turn="90°")["excess"] == pytest.approx(1.5 * by_curve["excess"])


def test_angle_is_the_interior_one_not_the_bend():
    assert figures(angle="60°")["section"] > 10 * figures(angle="120°")["section"]
    assert figures(angle="120°")["mitre"] == pytest.approx(30)
    assert figures(angle="60°")["mitre"] == pytest.approx(60)


def test_wider_angle_less_section_and_radius_counts_squared():
    sections = [figures(angle=f"{degrees}°")["section"] for degrees in range(5, 176, 5)]
    assert all(a > b > 0 for a, b in itertools.pairwise(sections))
    assert figures(radius="24 mm")["section"] == pytest.approx(4 * figures()["section"])


def test_sharp_edge_has_no_section_and_its_blank_is_face_and_laps():
    got = figures(radius="0", face="600 mm", lap="30 mm")
    assert (got["section"], got["volume"], got["blank"]) == (0, 0, 660)


def test_what_is_not_asked_for_stays_empty():
    got = figures()
    assert [got[name] for name in ("blank", "excess", "dart", "rise")] == [None] * 4
    assert run(radius="2 mm").cautions == ()  # No cloth, no caution about cloth.


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"radius": "5 mm", "lap": "30 mm"}, "Round the edge to 10 mm"),
        ({"radius": "8 mm", "lap": "30 mm"}, "round the edge to 10 mm"),
        ({"lap": "20 mm"}, "Use 25 mm"),
        ({"lap": "86 mm", "turn": "90°"}, "cut 6 darts"),
    ],
)
def test_each_advice_ends_its_caution(fields, words):
    said = cautions(**fields)
    assert words in said
    kind, number = ("darts", "6") if "darts" in words else ("lap", "25 mm") if "25" in words else ("radius", "10 mm")
    assert re.search(r"\d+", words)[0] == number.split()[0]
    assert run(**{**fields, kind: number}).cautions == ()


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        ({"face": "600 mm"}, ["lap"]),
        ({"face": "20 mm", "lap": "30 mm"}, ["face"]),
        ({"turn": "90°"}, ["lap"]),
        ({"curve": "1 m"}, ["chord"]),
        ({"chord": "1 m"}, ["curve"]),
        ({"curve": "1 m", "chord": "2.1 m"}, ["chord"]),
        ({"face": "20 mm", "chord": "1 m"}, ["lap", "face", "curve"]),
        ({"angle": "180°"}, ["angle"]),
        ({"angle": "1.57"}, ["angle"]),
    ],
)
def test_refuses_by_name_all_at_once(fields, named):
    with pytest.raises(InputError) as refused:
        run(**fields)
    assert [problem.field for problem in refused.value.problems] == named
    assert all(problem.fix for problem in refused.value.problems)


def test_the_turn_of_an_arc_that_its_chord_tells():
    # A chord as long as the radius spans 60 degrees.
    got = calc.run("edge", {"radius": "10 mm", "length": "1 m", "lap": "30 mm", "curve": "500 mm", "chord": "500 mm"}).outputs
    assert got["turned"].value_in("°") == pytest.approx(60)


# Radius from chord and rise, and strips of a roll.


@pytest.mark.outside("points on a circle: chord and rise measured off it")
@pytest.mark.parametrize("degrees", [2, 30, 90, 179, 180, 270, 350])
def test_the_radius_of_a_curve_comes_back_from_its_chord_and_rise(degrees):
    half = math.radians(degrees) / 2
    chord, rise = 2 * 800 * math.sin(half), 800 * (1 - math.cos(half))
    got = calc.run("edge", {"chord": f"{chord:.9f} mm", "rise": f"{rise:.9f} mm"}).outputs
    assert got["curve_radius"].value_in("mm") == pytest.approx(800, rel=1e-6)
    assert got["turned"].value_in("°") == pytest.approx(degrees, rel=1e-6)
    # Nothing is said of an edge that was not given.
    assert got["section"] is got["blank"] is got["tape"] is None


def test_chord_and_rise_in_inches_and_with_an_edge():
    got = calc.run("edge", {"chord": "24 in", "rise": "2 in"}).outputs
    assert got["curve_radius"].value_in("in") == pytest.approx(37)  # 24²/16 + 1
    both = figures(chord="500 mm", rise="31.754 mm", lap="50 mm")
    assert both["curve_radius"] == pytest.approx(1000, rel=1e-4)
    assert both["excess"] == pytest.approx(figures(chord="500 mm", curve="1 m", lap="50 mm")["excess"], rel=1e-4)
    assert figures(curve="1 m", chord="500 mm")["curve_radius"] == pytest.approx(1000)


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        ({"chord": "500 mm"}, ["curve"]),
        ({"rise": "5 mm"}, ["chord"]),
        ({"chord": "500 mm", "rise": "5 mm", "curve": "1 m"}, ["rise"]),
        ({"radius": "5 mm"}, ["length"]),
        ({}, ["radius", "length"]),
        ({"chord": "500 mm", "rise": "5 mm", "lap": "50 mm"}, ["lap"]),
        ({"radius": "5 mm", "length": "1 m", "roll_width": "1 m"}, ["lap"]),
        ({"radius": "5 mm", "length": "1 m", "lap": "30 mm", "roll_width": "40 mm"}, ["overlap"]),
    ],
)
def test_what_a_curve_or_a_roll_lacks_is_named(fields, named):
    with pytest.raises(InputError) as refused:
        calc.run("edge", fields)
    assert [problem.field for problem in refused.value.problems] == named


@pytest.mark.outside("strips laid one after another along the edge until its end is reached")
@pytest.mark.parametrize("length", [900, 1000, 1001, 1950, 1951, 2440, 6000])
def test_strips_cut_across_the_roll_reach_along_the_edge(length):
    got = figures(length=f"{length} mm", lap="50 mm", roll_width="1 m")
    reached, laid = 0, 0
    while reached < length:
        reached += 1000 if not laid else 950
        laid += 1
    assert got["strips_across"] == laid
    assert got["cloth_across"] * 1000 == pytest.approx(laid * got["tape"])


def test_a_blank_wider_than_the_roll_is_made_of_strips_with_seams():
    sheet = {"length": "2.44 m", "radius": "10 mm", "face": "1.22 m", "lap": "50 mm", "roll_width": "1 m"}
    got = figures(**sheet)
    # 1220 − 20 + 31.4 + 100 = 1331 mm: two strips of 1 m with a seam, 4.88 m off the roll.
    assert (got["strips"], got["side_by_side"]) == (2, 0)
    assert got["cloth_length"] == pytest.approx(4.88)
    # The same count as that of a face so wide.
    face = calc.run("cloth", {"width": f"{got['blank']:.6f} mm", "length": "2.44 m", "roll_width": "1 m"}).outputs
    assert face["strips"] == got["strips"]
    assert figures(**{**sheet, "roll_width": "1.4 m"})["strips"] == 1
    assert figures(**{**sheet, "face": "30 mm"})["side_by_side"] == 7
    assert figures(lap="50 mm")["strips"] is None
