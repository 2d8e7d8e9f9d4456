"""The drill calculator: the way it rounds, sizes met from either unit, and what it says when a series ends."""

import pytest

from shopmate import calc
from shopmate.errors import InputError
from shopmate.tables.drills import drills

DIRECTIONS = [
    ("diameter", "diameter", "rising", {"series": "all", "round": "up"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


def drill(diameter, **texts):
    return calc.run("drill", {"diameter": diameter, **texts})


def name(diameter, **texts):
    return drill(diameter, **texts).outputs["drill"]


def test_clearance_rounded_to_nearest_would_be_too_small():
    # The largest #6 thread is 0.142 in (ASME B18.6.1) [read]: 9/64 in is nearest and does not let it pass.
    assert name("0.142 in", series="fractional", round="nearest") == "9/64 in"
    assert name("0.142 in", series="fractional", round="up") == "5/32 in"
    assert "5/32 in" in drill("0.142 in", series="fractional").cautions[0]


def test_nearest_over_the_wanted_size_needs_no_caution():
    result = drill("0.0917 in", series="fractional")
    assert result.outputs["drill"] == "3/32 in"
    assert result.outputs["difference"].value > 0
    assert result.cautions == ()


@pytest.mark.parametrize("series", ["fractional", "number", "letter", "metric", "inch", "all"])
@pytest.mark.parametrize("way", ["nearest", "up", "down"])
def test_every_drill_finds_itself_from_either_unit(series, way):
    for item in drills(series)[::7]:
        for text in (f"{float(item.diameter)!r} mm", f"{float(item.diameter) / 25.4!r} in"):
            got = drill(text, series=series, round=way).outputs
            assert got["diameter"].value == pytest.approx(float(item.diameter), rel=1e-12)
            assert got["difference"].value == pytest.approx(0, abs=1e-9)


def test_equal_sizes_are_both_told():
    result = drill("1/4 in", series="inch")
    assert result.outputs["drill"] == "1/4 in"
    assert "1/4 in and E are the same size" in result.working
    assert name("1/4 in", series="letter") == "E"


def test_numbers_run_downward_and_end_under_the_letters():
    # Sorted by label, #10 would stand beside #1, and #1, the largest, under #2.
    assert name("0.2215 in", series="number", round="up") == "#1"
    assert name("0.2275 in", series="number", round="down") == "#2"
    assert name("0.192 in", series="number", round="up") == "#10"
    # Between #1 (0.228) and A (0.234) there is no drill; 15/64 in (0.2344) lies just over A.
    assert name("0.229 in", series="inch", round="up") == "A"
    assert name("0.2341 in", series="inch", round="up") == "15/64 in"
    assert name("0.2339 in", series="inch", round="down") == "#1"


@pytest.mark.parametrize(
    ("number", "inches"),
    [("#5", "0.2055"), ("#10", "0.1935"), ("#18", "0.1695"), ("#25", "0.1495"), ("#28", "0.1405"), ("#69", "0.0292")],
)
def test_sizes_to_the_ten_thousandth_are_not_rounded_to_the_thousandth(number, inches):
    # ASME B94.11M in nf6x-eetools [read; #10 and #69 memory]; a data package in use rounds these six to three decimals.
    got = drill(f"{inches} in", series="number").outputs
    assert got["drill"] == number
    assert got["difference"].value == pytest.approx(0, abs=1e-9)


def test_all_takes_the_metric_drills_in():
    # 5.9 mm is 0.2323 in, nearer to 0.2312 than A, 0.234 in.
    assert name("0.2312 in", series="inch") == "A"
    assert name("0.2312 in", series="all") == "5.9 mm"


@pytest.mark.parametrize(
    ("diameter", "texts", "known"),
    [
        ("25.5 mm", {}, "1 in"),
        ("10 mm", {"series": "number"}, "#1"),
        ("3 mm", {"series": "letter"}, "A"),
        ("20 mm", {"series": "metric", "round": "up"}, "13 mm"),
        ("0.1 mm", {"series": "all", "round": "down"}, "#80"),
    ],
)
def test_a_size_outside_the_series_is_refused_with_its_end(diameter, texts, known):
    with pytest.raises(InputError) as caught:
        drill(diameter, **texts)
    (problem,) = caught.value.problems
    assert problem.field == "diameter"
    assert known in problem.what
    assert "another series" in problem.fix


def test_the_end_of_a_series_can_be_had_by_going_the_other_way():
    assert name("10 mm", series="number", round="down") == "#1"
    assert name("3 mm", series="letter", round="up") == "A"


def test_a_far_drill_is_pointed_out():
    assert not drill("5.8 mm", series="letter", round="up").cautions
    assert any("Another series" in line for line in drill("5 mm", series="letter", round="up").cautions)


@pytest.mark.parametrize("text", ["0", "-3 mm", "27 mm", "3 kg", "1,250 mm", ""])
def test_bad_diameters_are_refused(text):
    with pytest.raises(InputError) as caught:
        drill(text)
    assert caught.value.problems[0].field == "diameter"


def test_the_next_drills_down_and_up():
    got = calc.run("drill", {"diameter": "0.142 in", "round": "up", "series": "inch"}).outputs
    # 9/64 in and #27, which is 0.144 in.
    assert got["below"].value_in("mm") == pytest.approx(25.4 * 9 / 64)
    assert got["above"].value_in("mm") == pytest.approx(25.4 * 0.144)


@pytest.mark.outside("sizes of ASME B94.11M: #7 0.201, #60 0.040, F 0.257 and Z 0.413 in [read]; a quarter inch by definition")
@pytest.mark.parametrize(
    ("typed", "name", "inches"),
    [("#7", "#7", 0.201), ("No. 7", "#7", 0.201), ("no 60", "#60", 0.040), ("F", "F", 0.257), ("letter z", "Z", 0.413),
     ("1/4", "1/4 in", 0.25), ("16/64", "1/4 in", 0.25), ("E", "1/4 in", 0.25)],
)  # fmt: skip
def test_a_drill_is_asked_by_its_name(typed, name, inches):
    result = calc.run("drill", {"diameter": typed})
    assert result.outputs["drill"] == name
    assert result.outputs["diameter"].value_in("in") == pytest.approx(inches)
    assert result.outputs["difference"].value_in("mm") == 0
    assert not result.doubts


def test_the_metric_drill_for_a_named_one_is_found():
    # 0.201 in is 5.105 mm [computed].
    assert calc.run("drill", {"diameter": "#7", "series": "metric"}).outputs["drill"] == "5.1 mm"


def test_a_bare_number_is_still_millimetres_and_no_other_word_is_a_drill():
    assert calc.run("drill", {"diameter": "7"}).outputs["drill"] == "7 mm"
    assert "no unit given" in calc.run("drill", {"diameter": "7"}).doubts[0]
    for typed in ("#81", "0/4", "1/0", "1/3", "ab", "#"):
        with pytest.raises(InputError):
            calc.run("drill", {"diameter": typed})
