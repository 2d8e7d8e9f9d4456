"""Bars cut to length against integer programmes, counting by hand and each plan laid out again."""

import random
from collections import Counter
from fractions import Fraction
from itertools import product

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from shopmate import calc
from shopmate.errors import InputError
from shopmate.models import bars as model
from shopmate.models.parts import Parts

DIRECTIONS = [
    ("kerf", "bars", "rising", {"stock": "2410 mm", "parts": "40@600"}),
    ("trim", "bars", "rising", {"parts": "40@600"}),
    ("trim", "usable", "falling", {}),
    ("stock", "bars", "falling", {"parts": "10@900"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


def cut(**texts):
    return calc.run("bars", texts).outputs


def fewest(sizes, counts, bar):
    """The least number of bars by an integer programme over all patterns that fit."""
    ranges = [range(min(count, bar // size) + 1) for size, count in zip(sizes, counts, strict=True)]
    patterns = [p for p in product(*ranges) if any(p) and sum(a * b for a, b in zip(p, sizes, strict=True)) <= bar]
    rows = np.array(patterns).T
    found = milp(
        np.ones(len(patterns)), constraints=LinearConstraint(rows, lb=np.array(counts)), integrality=np.ones(len(patterns)),
        bounds=Bounds(0, sum(counts)),
    )  # fmt: skip
    return round(found.fun)


def jobs():
    draw = random.Random(20)
    for _ in range(40):
        kinds = draw.randint(2, 5)
        sizes = sorted(draw.sample(range(180, 1900), kinds), reverse=True)
        yield sizes, [draw.randint(1, 6) for _ in sizes], draw.choice((1900, 2440, 3000))


@pytest.mark.outside("scipy.optimize.milp over every pattern of 40 drawn jobs")
def test_no_plan_of_an_integer_programme_takes_fewer_bars():
    for sizes, counts, bar in jobs():
        made = model.least_bars(sizes, counts, bar)
        assert len(made.patterns) == fewest(sizes, counts, bar), (sizes, counts, bar)
        assert made.bound <= len(made.patterns)


@pytest.mark.outside("each plan added up and laid into its bars again")
def test_a_plan_cuts_each_part_once_and_stays_within_its_bars():
    for sizes, counts, bar in jobs():
        patterns = model.least_bars(sizes, counts, bar).patterns
        assert [sum(column) for column in zip(*patterns, strict=True)] == counts
        assert all(sum(a * b for a, b in zip(pattern, sizes, strict=True)) <= bar for pattern in patterns)


@pytest.mark.outside("exact fractions of an inch: four of 24 in and three saw cuts of 1/8 in are 96 3/8 in")
@pytest.mark.parametrize(("stock", "bars"), [("96-3/8 in", 1), ("96-23/64 in", 2)])
def test_a_part_fits_to_the_64th_of_an_inch(stock, bars):
    assert Fraction(4 * 24) + 3 * Fraction(1, 8) == Fraction(771, 8)
    assert cut(stock=stock, parts="4@24 in", kerf="1/8 in")["bars"] == bars


@pytest.mark.outside("scipy.optimize.milp over every pattern of bars and of offcuts, 25 drawn jobs")
def test_the_bound_beside_offcuts_is_under_the_best_plan():
    draw = random.Random(9)
    reached = 0
    for sizes, counts, bar in list(jobs())[:25]:
        rooms = [draw.randint(200, bar) for _ in range(draw.randint(1, 3))]
        ranges = [range(min(count, bar // size) + 1) for size, count in zip(sizes, counts, strict=True)]
        patterns = [(p, sum(a * b for a, b in zip(p, sizes, strict=True))) for p in product(*ranges)]
        # A column for each pattern of a bar, then one for each pattern of each offcut, which is cut once.
        columns = [(p, None) for p, long in patterns if long <= bar]
        columns += [(p, place) for place, room in enumerate(rooms) for p, long in patterns if long <= room]
        cost = np.array([place is None for _, place in columns], dtype=float)
        demand = LinearConstraint(np.array([p for p, _ in columns]).T, lb=np.array(counts))
        once = LinearConstraint(np.array([[place == at for _, place in columns] for at in range(len(rooms))]), ub=1)
        found = milp(cost, constraints=[demand, once], integrality=np.ones(len(columns)), bounds=Bounds(0, sum(counts)))
        least = model.least_beside(sizes, counts, bar, rooms)
        assert least <= round(found.fun), (sizes, counts, bar, rooms)
        reached += least == round(found.fun)
    assert reached >= 15


def test_as_many_kinds_as_a_list_takes_are_cut_with_a_proof():
    draw = random.Random(4 * 77 + 60)
    sizes = sorted(draw.sample(range(100, 2400), 60), reverse=True)
    counts = [draw.randint(1, 8) for _ in sizes]
    made = model.least_bars(sizes, counts, 6000)
    assert [sum(column) for column in zip(*made.patterns, strict=True)] == counts
    assert len(made.patterns) == made.bound


def test_the_plan_in_words_holds_every_part():
    got = cut(stock="2440", parts="4@600, 4@450, 4@300", offcuts="1@700, 2@500")
    said = Counter()
    for line in got["plan"].split("; "):
        times, _, pieces = line.partition(": ")
        for piece in pieces.split(" + "):
            said[piece] += int(times.split()[0])
    assert said == {"600 mm": 4, "450 mm": 4, "300 mm": 4}
    assert len(got["left"].split(", ")) == sum(int(line.split()[0]) for line in got["plan"].split("; "))


def test_offcuts_are_used_first_and_never_cost_a_bar():
    without = cut(stock="2440", parts="8@600")["bars"]
    with_some = cut(stock="2440", parts="8@600", offcuts="2@700")
    assert with_some["bars"] <= without
    assert with_some["plan"].startswith("2 offcuts of 700 mm: 600 mm")
    assert cut(stock="2440", parts="1@600", offcuts="1@700")["bars"] == 0


def test_equal_lengths_typed_apart_are_one_kind():
    assert cut(stock="2440", parts="2@600 mm, 2@60 cm")["plan"] == "1 bar: 600 mm + 600 mm + 600 mm + 600 mm"


@pytest.mark.parametrize(
    ("texts", "field"),
    [
        ({"parts": "1@2500"}, "parts"),
        ({"parts": "*@600"}, "parts"),
        ({"parts": "2@600 along"}, "parts"),
        ({"stock": "150", "trim": "100"}, "trim"),
        ({"parts": "2@600 = 3"}, "parts"),
    ],
)
def test_what_cannot_be_cut_is_named(texts, field):
    with pytest.raises(InputError) as caught:
        cut(**{"stock": "2440", "parts": "2@600", **texts})
    assert field in {problem.field for problem in caught.value.problems}


def test_a_job_of_many_kinds_is_answered_with_a_bound():
    draw = random.Random(5)
    text = ", ".join(f"{draw.randint(1, 9)}@{size}" for size in draw.sample(range(150, 2400), 40))
    got = cut(stock="2440", parts=text)
    assert got["bars"] >= got["bound"] > 0
    assert sum(part.count for part in Parts(calc.find("bars").field("parts").kind.measure).parts(text)) == got["parts_count"]
