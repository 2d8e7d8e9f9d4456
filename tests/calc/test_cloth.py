"""Strips laid out one by one against the formula, counts that just reach, what wrap adds, and remedies that are enough."""

import itertools
import math
import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("width", "strips", "rising", {}),
    ("roll_width", "strips", "falling", {}),
    ("overlap", "strips", "rising", {}),
    ("length", "cloth_length", "rising", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

FACE = {"width": "1960 mm", "length": "2400 mm", "roll_width": "1000 mm", "overlap": "50 mm"}


def cloth(**fields):
    return calc.run("cloth", {**FACE, **fields})


def figures(**fields):
    return {name: getattr(value, "value", value) for name, value in cloth(**fields).outputs.items()}


def cautions(**fields):
    return " ".join(cloth(**fields).cautions)


def laid(across, roll, overlap):
    """Lay strips one after another, each back over the last by the overlap, until the face is covered; exact fractions."""
    strips, covered = 1, roll
    while covered < across:
        strips, covered = strips + 1, covered + roll - overlap
    return strips


@pytest.mark.outside("strips laid one after another in exact fractions")
@given(
    across=st.integers(min_value=1, max_value=40_000),
    along=st.integers(min_value=1, max_value=40_000),
    roll=st.integers(min_value=100, max_value=5_000),
    overlap=st.integers(min_value=0, max_value=90),
    unit=st.sampled_from(["mm", "in"]),
)
def test_as_many_strips_as_when_laid_one_by_one(across, along, roll, overlap, unit):
    part = 1 if unit == "mm" else 64
    texts = {
        name: f"{number}/{part} {unit}"
        for name, number in (("width", across), ("length", along), ("roll_width", roll), ("overlap", overlap))
    }
    got = figures(**texts)
    millimetres = Fraction(254, 10) / 64 if unit == "in" else 1
    strips, turned = laid(across, roll, overlap), laid(along, roll, overlap)
    assert (got["strips"], got["seams"]) == (strips, strips - 1)
    assert (got["strips_turned"], got["seams_turned"]) == (turned, turned - 1)
    assert got["cloth_length"] == pytest.approx(float(strips * along * millimetres / 1000))
    assert got["cloth_length_turned"] == pytest.approx(float(turned * across * millimetres / 1000))
    assert got["last_width"] == pytest.approx(float((across - (strips - 1) * (roll - overlap)) * millimetres))
    assert got["strips"] == 1 or overlap * millimetres < got["last_width"] <= roll * float(millimetres) * (1 + 1e-9)
    assert got["even_width"] <= roll * float(millimetres) * (1 + 1e-9)


@pytest.mark.outside("exact fractions where a float is over by its last digit")
@pytest.mark.parametrize("strips", [2, 3, 7, 11])
@pytest.mark.parametrize(
    ("roll", "overlap"), [("1.27 m", "0.05 m"), ("0.3 m", "0.1 m"), ("38.1 in", "1.9 in"), ("3.3 ft", "0.1 ft")]
)
def test_a_face_covered_to_the_hair_takes_no_further_strip(strips, roll, overlap):
    number, unit = roll.split()
    wide, lap = Fraction(number), Fraction(overlap.split()[0])
    reach = strips * wide - (strips - 1) * lap
    exact = f"{float(reach):.6f} {unit}"
    assert Fraction(exact.split()[0]) == reach
    assert figures(width=exact, roll_width=roll, overlap=overlap)["strips"] == strips
    assert figures(width=f"{float(reach) + 0.001:.6f} {unit}", roll_width=roll, overlap=overlap)["strips"] == strips + 1


def test_overlap_comes_off_both_sides_of_the_division():
    # 1960/1000 says 2 and leaves 10 mm bare; 1950/(1000 − 50) says 3 where two reach.
    assert figures(width="1960 mm")["strips"] == 3
    assert figures(width="1950 mm")["strips"] == 2


@pytest.mark.parametrize("width", ["1000 mm", "600 mm", "30 mm"])
def test_a_face_no_wider_than_the_roll_has_no_seam(width):
    got = figures(width=width, length="900 mm")
    assert (got["strips"], got["seams"], got["cloth_length"]) == (1, 0, 0.9)
    assert "overlap" not in cautions(width=width, length="900 mm", overlap="10 mm")


def test_wrap_adds_at_both_ends_and_side_wrap_at_both_sides():
    got = figures(width="940 mm", wrap="30 mm")
    assert (got["strips"], got["strip_length"], got["cloth_length"]) == (1, 2460, 2.46)
    assert figures(width="940 mm", side_wrap="30 mm")["strips"] == 1
    assert figures(width="940 mm", side_wrap="31 mm")["strips"] == 2
    # Turned strips run across the same sheet: its ends are the sides of the face.
    both = figures(wrap="30 mm", side_wrap="20 mm")
    turned = figures(width="2400 mm", length="1960 mm", wrap="20 mm", side_wrap="30 mm")
    assert both["cloth_length_turned"] == pytest.approx(turned["cloth_length"])
    assert both["strips_turned"] == turned["strips"]


def test_more_face_or_overlap_never_takes_less_cloth():
    for name, values in (("width", range(500, 6000, 130)), ("overlap", range(0, 900, 25)), ("length", range(500, 6000, 130))):
        lengths = [figures(**{name: f"{value} mm"})["cloth_length"] for value in values]
        assert all(map(math.isfinite, lengths))
        assert lengths == sorted(lengths)


@pytest.mark.parametrize("overlap", ["1000 mm", "1 m"])
def test_an_overlap_as_wide_as_the_roll_is_refused(overlap):
    with pytest.raises(InputError, match=r"overlap: .* so the strips would gain nothing; enter less than the roll's width"):
        cloth(overlap=overlap)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({}, "covers only 10 mm past its seam, a sliver"),
        ({"overlap": "49 mm"}, "49 mm is too little overlap"),
        ({"overlap": "0 mm"}, "edge to edge carry no load"),
        ({}, "Laid the other way, the strips use 5.88 m of cloth instead of 7.20 m, with 2 seams instead of 2"),
        ({}, "No cloth is counted past the face"),
        ({"wrap": "30 mm"}, "at the sides the cloth stops flush. Enter the wrap at each side"),
        ({"side_wrap": "30 mm"}, "at the ends the cloth stops flush. Enter the wrap at each end"),
    ],
)
def test_warns(fields, words):
    assert words in cautions(**fields)


def test_nothing_is_warned_of_where_all_is_well():
    assert not cautions(width="1700 mm", length="2400 mm", wrap="30 mm", side_wrap="30 mm")


def test_strips_cut_alike_as_advised_cover_the_face():
    fields = {"width": "1961 mm", "overlap": "50 mm"}
    strips, wide = map(int, re.search(r"Cut all (\d+) strips (\d+) mm wide", cautions(**fields)).groups())
    assert strips * wide - (strips - 1) * 50 >= 1961
    assert figures(**{**fields, "roll_width": f"{wide} mm"})["strips"] == strips


def test_a_narrower_overlap_as_advised_saves_the_strip():
    fields = {"width": "1930 mm", "overlap": "80 mm"}
    assert figures(**fields)["strips"] == 3
    enough = re.search(r"2 strips with (\d+) mm overlap cover", cautions(**fields))[1]
    assert figures(**{**fields, "overlap": f"{enough} mm"})["strips"] == 2
    assert "strip saved" not in cautions()


def test_turning_as_advised_takes_the_cloth_it_says():
    turned = figures(width=FACE["length"], length=FACE["width"])
    assert turned["cloth_length"] == pytest.approx(figures()["cloth_length_turned"])
    assert "laid the other way" not in cautions(width=FACE["length"], length=FACE["width"])


def test_the_figures_of_the_words_of_strips():
    face = {"width": "1960 mm", "length": "2400 mm", "roll_width": "1000 mm", "overlap": "50 mm"}
    got = calc.run("cloth", face).outputs
    # Three strips with two overlaps cover 3 × 1000 − 2 × 50 either way.
    assert got["last_spare"].value_in("mm") == pytest.approx(2900 - 1960)
    assert got["covered_turned"].value_in("mm") == pytest.approx(2900)
    # Five strips with overlaps of 250 cover 4000 of 3700; four do it with 100 at each of three seams.
    fewer = calc.run("cloth", {**face, "width": "3700 mm", "overlap": "250 mm"}).outputs
    assert fewer["strips"] == 5
    assert fewer["overlap_fewer"].value_in("mm") == (4 * 1000 - 3700) // 3


@pytest.mark.outside("each ply laid strip by strip until the face is covered")
def test_strips_of_staggered_plies_cover_the_face_with_their_seams_apart():
    for width, plies in itertools.product(range(400, 6000, 370), (2, 3, 4)):
        got = figures(width=f"{width} mm", plies=str(plies))
        count, seams = 0, []
        for ply in range(plies):
            reach = 1000 - ply * (got["stagger"] or 0)
            count += 1
            while reach < width:
                seams.append(reach)
                reach += 950
                count += 1
        assert got["strips_all"] == count
        assert got["cloth_length"] == pytest.approx(count * got["strip_length"] / 1000)
        apart = [abs(one - other) for one, other in itertools.combinations(seams, 2)]
        assert not apart or min(apart) >= 950 / plies - 1e-6


def test_a_sliver_in_a_stack_is_mended_without_losing_the_stagger():
    assert any("Cut all" in caution for caution in cloth(width="1960 mm").cautions)
    assert any("first strip of every ply 100 mm narrower" in caution for caution in cloth(width="1960 mm", plies="2").cautions)
