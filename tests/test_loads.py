"""Lists of parts with mass and place: what is read, what is refused and with which words."""

import pytest

from shopmate.calculator import Measure
from shopmate.errors import EntryError
from shopmate.models.loads import Loads, PlacedLoads, centre

LINE = Loads(Measure("mm", low=-5000, high=5000))
SPACE = PlacedLoads(Measure("mm", low=-20_000, high=20_000))


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("solar 14 kg @ 500 mm; fan 6 kg @ 1800 mm", "solar 14 kg @ 500 mm; fan 6 kg @ 1800 mm"),
        ("14/500; 6/1800 mm", "14 kg @ 500 mm; 6 kg @ 1800 mm"),
        ("14/500;6/1800", "14 kg @ 500 mm; 6 kg @ 1800 mm"),
        ("30/12; 5/48 in", "30 lb @ 12 in; 5 lb @ 48 in"),
        ("panel 2 14kg@50cm", "panel 2 14 kg @ 50 cm"),
        ("fan 1-1/2 lb at -3 in;", "fan 1.5 lb @ -3 in"),
    ],
)
def test_a_list_of_parts_is_read(text, read):
    assert LINE.read(text) == read
    assert LINE.read(read) == read


def test_a_place_has_as_many_figures_as_the_job_has_axes():
    (load,) = SPACE.loads("kitchen 80 kg @ 1.8 m, -500 mm, 300 mm")
    assert [load.at(axis) for axis in range(3)] == [1800, -500, 300]
    (load,) = SPACE.loads("body 400 kg @ 2000")
    assert [load.at(axis) for axis in range(3)] == [2000, 0, 0]


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "the list is empty"),
        ("x @ 3 mm", "part 1: 'x' does not end in a mass"),
        ("fan 6 kg @ 3 mm; solar 14 kg", "part 2: no '@' between mass and place"),
        ("fan 6 kg @ 3 mm, 4 mm", "part 1: its place has 2 figures"),
        ("fan 6 kg @ 9 m", "part 1: 9 m is above the maximum"),
        ("fan 6 mm @ 9 mm", "part 1: 'mm' measures length, not mass"),
        ("fan 6 kg @ ", "part 1: no place after"),
        ("f 1/1;" * 101, "the list has 101 parts"),
        ("f" * 9000, "the list is too long"),
    ],
)
def test_a_list_that_says_no_parts_is_refused(text, what):
    with pytest.raises(EntryError) as caught:
        LINE.read(text)
    assert caught.value.what.startswith(what), caught.value.what


def test_the_centre_of_gravity_is_the_middle_by_mass():
    assert centre([(60, 1000), (14, 500), (6, 1800)]) == (80, pytest.approx(972.5))
