"""Pieces out of a roll: each layout laid out again, the bound by area, and all orders of strips."""

import random
from itertools import permutations, product

import pytest

from shopmate import calc
from shopmate.errors import InputError
from shopmate.models import sheets as model
from shopmate.models.blocks import Kind

DIRECTIONS = [
    ("roll_width", "bound", "falling", {}),
    ("gap", "length", "rising", {}),
    ("roll_width", "by_area", "falling", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


def roll(**texts):
    return calc.run("roll", {"roll_width": "1270 mm", **texts})


def metres(result, name):
    return result.outputs[name].value_in("m")


@pytest.mark.outside("every layout laid out again: within the roll, no piece on another, each piece there once")
@pytest.mark.parametrize("count", [3, 8, 25, 90])
def test_a_layout_holds_each_piece_once_within_the_roll(count):
    draw = random.Random(count)
    kinds = [Kind(draw.randint(200, 2500), draw.randint(50, 1250), 1, draw.random() < 0.3) for _ in range(count)]
    layout, length, _ = model.shortest(kinds, 1270)
    boxes = []
    for part in layout.parts:
        kind = kinds[part.kind]
        long, wide = (kind.width, kind.length) if part.turned else (kind.length, kind.width)
        assert kind.turns or not part.turned
        assert part.x >= 0
        assert part.x + long <= length
        assert part.y >= 0
        assert part.y + wide <= 1270
        assert all(
            part.x + long <= x or x + a <= part.x or part.y + wide <= y or y + b <= part.y for x, y, a, b in boxes
        )  # fmt: skip
        boxes.append((part.x, part.y, long, wide))
    assert sorted(part.kind for part in layout.parts) == list(range(count))
    assert length * 1270 >= sum(a * b for _, _, a, b in boxes)


@pytest.mark.outside("all orders of pieces put side by side into rows, none of which is shorter")
def test_no_order_of_rows_is_shorter():
    draw = random.Random(31)
    for _ in range(20):
        sizes = [(draw.randint(3, 20), draw.randint(2, 10)) for _ in range(5)]
        shortest = 10**9
        for order in permutations(sizes):
            total, row, room = 0, 0, 12
            for long, wide in order:
                if wide > room:
                    total, row, room = total + row, 0, 12
                row, room = max(row, long), room - wide
            shortest = min(shortest, total + row)
        _, length, proved = model.shortest([Kind(long, wide, 1, False) for long, wide in sizes], 12)
        assert proved
        assert length <= shortest


def comes_out(parts, length, width):
    """Whether these rectangles come out of a piece by cuts from edge to edge: each first cut, each way of dividing them."""
    if len(parts) <= 1:
        return all(long <= length and wide <= width for long, wide in parts)
    if sum(long * wide for long, wide in parts) > length * width:
        return False
    for sides in product((0, 1), repeat=len(parts) - 1):
        one = [part for part, side in zip(parts, (0, *sides), strict=True) if not side]
        other = [part for part, side in zip(parts, (0, *sides), strict=True) if side]
        along = range(max(long for long, _ in one), length) if other else ()
        across = range(max(wide for _, wide in one), width) if other else ()
        if any(comes_out(one, at, width) and comes_out(other, length - at, width) for at in along):
            return True
        if any(comes_out(one, length, at) and comes_out(other, length, width - at) for at in across):
            return True
    return False


@pytest.mark.outside("a recursion over every first cut, length by length, 25 drawn jobs")
def test_the_length_is_the_least_from_which_the_pieces_come_out():
    draw = random.Random(6)
    for _ in range(25):
        pieces = [(draw.randint(2, 7), draw.randint(1, 5)) for _ in range(5)]
        kinds = [Kind(long, wide, 1, False) for long, wide in pieces]
        _, length, proved = model.shortest(kinds, 6)
        assert proved
        assert model.least_length(kinds, 6) <= length
        assert not comes_out(pieces, length - 1, 6)
        assert comes_out(pieces, length, 6)


@pytest.mark.outside("two bounds by hand: area over width, and the longest piece")
def test_the_bound_is_the_greater_of_area_and_longest_piece():
    got = roll(pieces="1@2500x100, 2@800x600")
    assert metres(got, "by_area") == pytest.approx((2.5 * 0.1 + 2 * 0.8 * 0.6) / 1.27)
    assert metres(got, "bound") == pytest.approx(2.5)
    assert metres(got, "longest") == pytest.approx(2.5)
    assert metres(got, "length") == pytest.approx(2.5)
    assert got.outputs["proved"] == "yes"


@pytest.mark.outside("by hand: 18 of 70 mm side by side in 1270 mm, so 28 rows of 100 mm for 500 pieces")
def test_a_length_between_two_rows_is_ruled_out():
    got = roll(pieces="500@100x70")
    assert metres(got, "length") == pytest.approx(2.8)
    assert metres(got, "by_area") < 2.76
    assert got.outputs["proved"] == "yes"


def test_turning_saves_length_where_it_is_allowed_and_not_forbidden():
    pieces = "2@1200x630"
    assert metres(roll(pieces="1@1200x900, 1@1200x300"), "length") == pytest.approx(1.2)
    straight, turned = metres(roll(pieces="3@630x1200"), "length"), metres(roll(pieces="3@630x1200", turn="yes"), "length")
    assert turned < straight
    assert metres(roll(pieces="3@630x1200 along", turn="yes"), "length") == straight
    assert metres(roll(pieces=pieces), "length") == pytest.approx(1.2)


def test_many_pieces_are_told_without_a_proof_there_is_not():
    draw = random.Random(2)
    got = roll(pieces=", ".join(f"1@{draw.randint(300, 2500)}x{draw.randint(100, 1200)}" for _ in range(30)))
    assert (got.outputs["proved"] == "no") == any("there may be a shorter one" in line for line in got.cautions)
    assert metres(got, "length") >= metres(got, "bound")


@pytest.mark.parametrize("pieces", ["1@500x1300", "*@500x300", "1@500x300=4"])
def test_what_cannot_be_cut_from_the_roll_is_named(pieces):
    with pytest.raises(InputError) as caught:
        roll(pieces=pieces)
    assert [problem.field for problem in caught.value.problems] == ["pieces"]


def test_a_full_face_of_a_sheet_comes_out_of_a_usual_roll():
    got = roll(pieces="1@2500x1220")
    assert metres(got, "length") == pytest.approx(2.5)
    assert got.outputs["pieces_count"] == 1
