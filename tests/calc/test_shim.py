"""Shims: never thicker than the room, the fullest of all stacks, exact where floats are not, and alternatives named."""

import itertools
import re
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopmate import calc
from shopmate.errors import InputError

DIRECTIONS = [
    ("gap", "shim", "rising", {}),
    ("part", "shim", "falling", {"gap": "450 mm"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

STOCK = "0.5, 1, 1.5, 2, 3 mm"


def run(**fields):
    return calc.run("shim", {"gap": "16 mm", "part": "12.7 mm", "stock": STOCK, **fields})


def figures(**fields):
    return {name: getattr(value, "value", value) for name, value in run(**fields).outputs.items()}


def cautions(**fields):
    return " ".join(run(**fields).cautions)


def thickness(name):
    """Return the sum in tenths of a mm that a name such as '2 × 1 mm + 0.5 mm' says."""
    total = Fraction(0)
    for piece in [] if name == "none" else name.split(" + "):
        count, number = re.fullmatch(r"(?:(\d) × )?([\d.]+) mm", piece).groups()
        total += int(count or 1) * Fraction(number) * 10
    return total


@pytest.mark.outside("every sum of pieces, listed")
@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    wanted=st.integers(0, 120),
    stock=st.lists(st.integers(1, 60), min_size=1, max_size=6, unique=True),
    most=st.integers(1, 4),
)
def test_the_pick_is_the_fullest_that_goes_in_and_the_next_above_the_thinnest_that_does_not(wanted, stock, most):
    # Another route: the set of sums that up to `most` pieces reach, grown piece by piece, in tenths of a mm.
    reached = {0}
    for _ in range(most):
        reached |= {total + piece for total, piece in itertools.product(reached, stock)}
    listed = ", ".join(f"{piece / 10} mm" for piece in stock)
    got = figures(gap=f"{12.7 + wanted / 10:.1f} mm", stock=listed, pieces=str(most))
    under = max(total for total in reached if total <= wanted)
    assert thickness(got["pick"]) == under <= wanted
    assert got["left"] == pytest.approx((wanted - under) / 10)
    assert got["left"] >= 0
    assert got["pieces"] <= most
    above = min((total for total in reached if total > wanted), default=None)
    assert thickness(got["above"]) == (above or 0)
    assert got["above_by"] == (None if above is None else pytest.approx((above - wanted) / 10))
    singles = [piece for piece in stock if piece <= wanted]
    assert thickness(got["single"]) == max(singles, default=0)


@pytest.mark.outside("decimal arithmetic, exact")
@pytest.mark.parametrize(("gap", "part"), [("13.1 mm", "12.8 mm"), ("0.7 mm", "0.4 mm"), ("1.1 in", "0.8 in")])
def test_a_piece_that_just_fits_goes_in_whatever_floats_say(gap, part):
    unit = gap.split()[1]
    assert float(gap.split()[0]) - float(part.split()[0]) != 0.3  # What plain float arithmetic makes of it.
    got = figures(gap=gap, part=part, stock=f"0.3 {unit}", pieces="1")
    assert got["pick"] == f"0.3 {unit}"
    assert got["left"] == 0


def test_more_pieces_leave_no_more():
    for tenths in range(0, 120, 7):
        left = [figures(gap=f"{12.7 + tenths / 10:.1f} mm", pieces=str(pieces))["left"] for pieces in (1, 2, 3, 4)]
        assert left == sorted(left, reverse=True)


def test_fewest_pieces_for_the_same_thickness():
    assert figures(gap="15.7 mm", pieces="4")["pick"] == "3 mm"
    assert figures(gap="16.7 mm", pieces="4")["pick"] in ("3 mm + 1 mm", "2 × 2 mm")


def test_nearest_may_be_above_and_says_so():
    never, nearest = figures(), figures(fit="nearest")
    assert (never["pick"], nearest["pick"]) == ("3 mm", "3 mm + 0.5 mm")
    assert nearest["left"] == pytest.approx(-0.2)
    assert "bind a slide" in cautions(fit="nearest")
    assert "bind a slide" not in cautions()
    assert any("next size down: '3 mm'" in line for line in run(fit="nearest").working)
    assert figures(fit="nearest", pieces="1")["pick"] == "3 mm"


def test_of_two_as_near_the_one_that_goes_in_is_taken():
    got = figures(part="14.75 mm", stock="1, 1.5 mm", fit="nearest", pieces="1")
    assert (got["pick"], got["left"], got["above_by"]) == ("1 mm", 0.25, 0.25)


def test_alternatives_stand_in_the_working():
    lines = run(gap="16.4 mm").working
    assert "single piece: '3 mm', 0.700 mm left" in lines
    assert "next size up: '3 mm + 1 mm', 0.300 mm too thick" in lines


def test_nothing_wanted_and_nothing_that_goes_in():
    flush = figures(gap="12.7 mm")
    assert (flush["shim"], flush["pick"], flush["left"], flush["pieces"]) == (0, "none", 0, 0)
    assert cautions(gap="12.7 mm") == ""
    thin = figures(gap="13 mm")
    assert (thin["pick"], thin["left"]) == ("none", pytest.approx(0.3))
    assert "Nothing in stock is thin enough" in cautions(gap="13 mm")


@pytest.mark.parametrize("gap", ["19.9 mm", "24 mm", "30.25 mm"])
def test_the_piece_advised_on_top_fills_it(gap):
    more = re.search(r"add a piece of ([\d.]+) mm", cautions(gap=gap))[1]
    got = figures(gap=gap, stock=f"{STOCK}, {more} mm", pieces="3")
    assert got["left"] <= 0.01


def test_a_high_stack_is_warned_about_with_the_single_piece():
    said = cautions(gap="23.2 mm", pieces="4")
    assert "A stack of 4 pieces can creep and slip" in said
    assert "or use a single piece and leave 7.50 mm" in said


@pytest.mark.parametrize(
    ("stock", "pick"),
    [
        ("metric", "3 mm"),
        ("Inch", "1/8 in"),
        ("1/8, 1/16 in", "1/8 in"),
        ("1/16 in", "2 × 1/16 in"),
        ("0.1 in", "0.1 in"),
        ("1/8 in, 3.3 mm", "3.3 mm"),
    ],
)
def test_stock_by_name_or_list_in_either_unit(stock, pick):
    assert figures(stock=stock)["pick"] == pick


def test_metric_stock_is_taken_unless_told():
    given = calc.run("shim", {"gap": "16 mm", "part": "12.7 mm"})
    assert given.inputs["stock"] == "0.5 mm, 1 mm, 1.5 mm, 2 mm, 3 mm, 5 mm"
    assert given.outputs["pick"] == "3 mm"


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        ({"gap": "12 mm"}, ["part"]),
        ({"stock": "imperial"}, ["stock"]),
        ({"stock": "0.5, 1"}, ["stock"]),
        ({"pieces": "5"}, ["pieces"]),
        ({"fit": "tight", "part": "-1 mm"}, ["part", "fit"]),
    ],
)
def test_refuses_by_name(fields, named):
    with pytest.raises(InputError) as refused:
        run(**fields)
    assert [problem.field for problem in refused.value.problems] == named
    assert all(problem.fix for problem in refused.value.problems)


def test_what_is_picked_is_thick_so_much():
    assert (
        calc.run("shim", {"gap": "16 mm", "part": "12.7 mm", "stock": "0.5, 1, 1.5, 2, 3 mm"}).outputs["picked"].value_in("mm")
        == 3
    )
