"""Bevels and sloping sides: the compound mitre found again from the planes of the sides, limits, inverse pairs, refusals."""

import itertools
import math

import pytest

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("thickness", "face", "rising", {}),
    ("angle", "face", "rising", {}),
    ("angle", "offset", "rising", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


def run(**fields):
    return calc.run("bevel", {"thickness": "18 mm", **fields})


def figures(**fields):
    return {name: value.value for name, value in run(**fields).outputs.items()}


def cross(a, b):
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def between(a, b):
    """Angle in degrees between two vectors."""
    dot = sum(x * y for x, y in zip(a, b, strict=True))
    return math.degrees(math.acos(max(-1.0, min(1.0, dot / math.hypot(*a) / math.hypot(*b)))))


@pytest.mark.outside("vectors: the line in which two planes meet")
@pytest.mark.parametrize("sides", [3, 4, 6, 8, 24])
@pytest.mark.parametrize("slope", [10, 30, 45, 52, 60, 75, 89])
def test_compound_mitre_from_the_planes_of_the_sides(slope, sides):
    # Outward normals of two sides that slope from level, one turned by 360°/n about the plumb line.
    s, turn = math.radians(slope), 2 * math.pi / sides
    one = (math.sin(s), 0.0, math.cos(s))
    next_one = (math.sin(s) * math.cos(turn), math.sin(s) * math.sin(turn), math.cos(s))
    joint = cross(one, next_one)
    up_the_face = (-math.cos(s), 0.0, math.sin(s))
    got = figures(slope=f"{slope}°", sides=str(sides))
    assert got["mitre"] == pytest.approx(between(joint, up_the_face), abs=1e-6)
    assert got["corner"] == pytest.approx(180 - between(one, next_one), abs=1e-6)
    assert got["blade"] == pytest.approx(between(one, next_one) / 2, abs=1e-6)


@pytest.mark.outside("elementary geometry of the two ends")
def test_plumb_sides_take_a_plain_mitre_by_the_blade_and_flat_ones_by_the_swing():
    for sides in (3, 4, 6, 12):
        plumb = figures(slope="90°", sides=str(sides))
        assert plumb["mitre"] == pytest.approx(0, abs=1e-9)
        assert plumb["blade"] == pytest.approx(180 / sides)
    flattest = figures(slope="10°")
    assert flattest["mitre"] == pytest.approx(45, abs=0.5)
    assert flattest["blade"] < 8


def test_the_plain_mitre_would_be_wrong_for_sloping_sides():
    got = figures(slope="60°")
    assert abs(got["mitre"] - 45) > 15
    assert abs(got["blade"] - 45) > 7


def test_bevel_and_slope_are_the_same_box():
    by_bevel, by_slope = figures(angle="30°"), figures(slope="60°")
    assert by_bevel == pytest.approx(by_slope)
    apart = figures(angle="15°", slope="60°")
    assert apart["mitre"] == pytest.approx(by_slope["mitre"])
    assert apart["face"] == pytest.approx(figures(angle="15°")["face"])


def test_face_and_offset_close_the_triangle_and_grow_with_the_bevel():
    rows = [figures(angle=f"{degrees}°") for degrees in range(81)]
    for row in rows:
        assert row["face"] ** 2 == pytest.approx(18**2 + row["offset"] ** 2)
    assert (rows[0]["face"], rows[0]["offset"]) == (18, 0)
    assert all(a["face"] < b["face"] and a["offset"] < b["offset"] for a, b in itertools.pairwise(rows))
    assert all(a["mitre"] < b["mitre"] and a["blade"] > b["blade"] for a, b in itertools.pairwise(rows))


def test_angle_gives_the_thickness_back():
    for degrees in (1, 15, 45, 70):
        got = figures(angle=f"{degrees}°")
        assert math.degrees(math.atan2(got["offset"], 18)) == pytest.approx(degrees)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"angle": "50°"}, "50° is more than most blades tilt"),
        ({"angle": "0°", "sides": "3"}, "60° is more than most blades tilt"),
        ({"slope": "20°", "sides": "3"}, "58.43° is more than most mitre saws swing"),
    ],
)
def test_warns_of_what_saws_do_not_reach(fields, words):
    assert words in " ".join(run(**fields).cautions)


@pytest.mark.parametrize("fields", [{"angle": "45°"}, {"angle": "15°"}, {"slope": "90°"}, {"slope": "60°", "sides": "6"}])
def test_ordinary_settings_are_not_warned_about(fields):
    assert run(**fields).cautions == ()


def test_working_says_how_far_small_errors_open_the_last_joint():
    assert any("each of 16 cuts opens the last joint by 4°" in line for line in run(angle="15°", sides="8").working)


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        ({}, ["angle"]),
        ({"angle": "85°"}, ["angle"]),
        ({"slope": "5°"}, ["slope"]),
        ({"angle": "15°", "sides": "2"}, ["sides"]),
        ({"angle": "15 mm"}, ["angle"]),
    ],
)
def test_refuses_by_name(fields, named):
    with pytest.raises(InputError) as refused:
        run(**fields)
    assert [problem.field for problem in refused.value.problems] == named
    assert all(problem.fix for problem in refused.value.problems)


def test_what_the_saw_is_off_adds_up_over_all_cuts():
    # A quarter of a degree at each of the two ends of four sides.
    got = calc.run("bevel", {"thickness": "18 mm", "angle": "15°"}).outputs
    assert got["opens"].value_in("°") == pytest.approx(0.25 * 2 * 4)
