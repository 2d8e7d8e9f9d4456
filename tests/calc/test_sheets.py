"""Parts out of sheets against a recursion over every first cut, and each layout sawn again cut by cut."""

import random
from itertools import compress, product

import pytest

from shopmate import calc
from shopmate.errors import InputError
from shopmate.models import sheets as model
from shopmate.models.blocks import Kind
from shopmate.models.worth import Worth, most_valuable

DIRECTIONS = [
    ("kerf", "sheets", "rising", {"parts": "8@1220x610"}),
    ("trim", "sheets", "rising", {"parts": "8@1218x608"}),
    ("trim", "used", "rising", {"parts": "1@600x300"}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""


def cut(**texts):
    return calc.run("sheets", {"sheet": "2440 x 1220", **texts})


def comes_out(parts, length, width):
    """Whether these rectangles come out of a sheet by cuts from edge to edge: each first cut, each way of dividing them."""
    if not parts:
        return True
    if any(min(long, wide) > min(length, width) or max(long, wide) > max(length, width) for long, wide, _ in parts):
        return False
    if len(parts) == 1:
        ((long, wide, turns),) = parts
        return (long <= length and wide <= width) or (turns and wide <= length and long <= width)
    for sides in product((0, 1), repeat=len(parts) - 1):
        one = [part for part, side in zip(parts, (0, *sides), strict=True) if not side]
        other = [part for part, side in zip(parts, (0, *sides), strict=True) if side]
        if not other:
            continue
        sums = {0}
        for long, wide, turns in one:
            sums |= {at + size for at in sums for size in ((long, wide) if turns else (long,))}
        if any(0 < at < length and comes_out(one, at, width) and comes_out(other, length - at, width) for at in sums):
            return True
        sums = {0}
        for long, wide, turns in one:
            sums |= {at + size for at in sums for size in ((long, wide) if turns else (wide,))}
        if any(0 < at < width and comes_out(one, length, at) and comes_out(other, length, width - at) for at in sums):
            return True
    return False


def jobs(count):
    draw = random.Random(12)
    for _ in range(count):
        kinds = [(draw.randint(3, 14), draw.randint(3, 14), draw.random() < 0.7) for _ in range(draw.randint(3, 5))]
        yield kinds, draw.randint(14, 24), draw.randint(14, 18)


@pytest.mark.outside("a recursion over every first cut and every way of dividing the parts, 60 drawn jobs")
def test_one_sheet_is_enough_exactly_where_some_first_cut_leads_there():
    enough = 0
    for kinds, length, width in jobs(60):
        made, proved = model.fewest([Kind(long, wide, 1, turns) for long, wide, turns in kinds], length, width)
        assert proved
        assert (len(made) == 1) == comes_out(kinds, length, width), (kinds, length, width)
        enough += len(made) == 1
    assert 15 < enough < 45


def sawn(layout, kinds, length, width):
    """The pieces that a sheet comes apart into when its cuts are made in their order, each through the piece at its place."""
    pieces = {(0, 0): (length, width)}
    for saw in layout.cuts:
        x, y = saw.piece.x, saw.piece.y
        long, wide = pieces[x, y]
        assert (saw.piece.length, saw.piece.width) == (long, wide)
        assert 0 < saw.at < (wide if saw.is_rip else long)
        if saw.is_rip:
            pieces[x, y], pieces[x, y + saw.at] = (long, saw.at), (long, wide - saw.at)
        else:
            pieces[x, y], pieces[x + saw.at, y] = (saw.at, wide), (long - saw.at, wide)
    return pieces


@pytest.mark.outside("the sheet sawn again, cut by cut: the pieces are the parts and the rests, and nothing else")
@pytest.mark.parametrize("count", [4, 9, 30, 120])
def test_the_cuts_in_their_order_give_the_parts(count):
    draw = random.Random(count)
    kinds = [Kind(draw.randint(80, 900), draw.randint(80, 500), 1, draw.random() < 0.8) for _ in range(count)]
    made, _ = model.fewest(kinds, 2443, 1223)
    seen = []
    for layout in made:
        pieces = sawn(layout, kinds, 2443, 1223)
        for part in layout.parts:
            kind = kinds[part.kind]
            assert pieces.pop((part.x, part.y)) == ((kind.width, kind.length) if part.turned else (kind.length, kind.width))
            assert kind.turns or not part.turned
            seen.append(part.kind)
        assert {(rest.x, rest.y): (rest.length, rest.width) for rest in layout.rests} == pieces
    assert sorted(seen) == list(range(count))


def apart(draw, length, width, count, waste):
    """Pieces that a sheet is cut into, each a little smaller than it came off."""
    pieces = [(length, width)]
    while len(pieces) < count:
        pieces.sort(key=lambda piece: piece[0] * piece[1])
        long, wide = pieces.pop()
        share = draw.uniform(0.25, 0.75)
        if draw.random() < long / (long + wide):
            pieces += [(round(long * share), wide), (long - round(long * share), wide)]
        else:
            pieces += [(long, round(wide * share)), (long, wide - round(wide * share))]
    return [(long - round(long * draw.uniform(0, waste)), wide - round(wide * draw.uniform(0, waste))) for long, wide in pieces]


@pytest.mark.outside("parts that whole sheets were cut into: they come out of as many sheets again")
@pytest.mark.parametrize(("sheets", "parts"), [(1, 10), (2, 6), (2, 8), (3, 5), (3, 6)])
@pytest.mark.parametrize("waste", [0.0, 0.04, 0.1])
def test_parts_cut_from_sheets_come_out_of_as_many(sheets, parts, waste):
    draw = random.Random(100 * sheets + parts)
    pieces = [piece for _ in range(sheets) for piece in apart(draw, 2443, 1223, parts, waste)]
    kinds = [Kind(long, wide, 1, draw.random() < 0.6) for long, wide in pieces]
    made, proved = model.fewest(kinds, 2443, 1223)
    assert len(made) == sheets
    assert proved


@pytest.mark.outside("a recursion over every first cut: the fewest groups that each come out of one sheet, 25 drawn jobs")
def test_the_fewest_sheets_are_those_of_every_division_into_groups():
    draw = random.Random(77)
    for _ in range(25):
        kinds = [(draw.randint(4, 14), draw.randint(3, 11), draw.random() < 0.5) for _ in range(5)]
        if any(max(long, wide) > 16 or min(long, wide) > 12 or (not turns and wide > 12) for long, wide, turns in kinds):
            continue
        one = {group for group in product((0, 1), repeat=5) if comes_out(list(compress(kinds, group)), 16, 12)}
        fewest = {(0,) * 5: 0}
        for lot in sorted(product((0, 1), repeat=5), key=sum)[1:]:
            rests = [tuple(a - b for a, b in zip(lot, group, strict=True)) for group in one if any(group)]
            fewest[lot] = 1 + min(fewest[rest] for rest in rests if min(rest) >= 0)
        parts = [Kind(long, wide, 1, turns) for long, wide, turns in kinds]
        made, proved = model.fewest(parts, 16, 12)
        assert proved
        assert len(made) == fewest[(1,) * 5], kinds
        assert model.least_by_size(parts, 16, 12) <= len(made)


@pytest.mark.outside("all lots of up to three kinds tried one by one")
def test_no_lot_that_comes_out_of_a_sheet_is_worth_more():
    draw = random.Random(4)
    for _ in range(25):
        kinds = [
            Worth(draw.randint(4, 12), draw.randint(4, 12), draw.randint(1, 2), draw.randint(1, 60)) for _ in range(3)
        ]  # fmt: skip
        best = 0
        for lot in product(*(range(kind.count + 1) for kind in kinds)):
            parts = [(kind.length, kind.width, False) for kind, count in zip(kinds, lot, strict=True) for _ in range(count)]
            if comes_out(parts, 16, 14):
                best = max(best, sum(kind.value * count for kind, count in zip(kinds, lot, strict=True)))
        _, value, proved = most_valuable(kinds, 16, 14)
        assert proved
        assert value == best


def test_a_job_of_forty_parts_is_answered_without_a_proof_it_has_not():
    draw = random.Random(8)
    parts = ", ".join(f"1@{draw.randint(150, 1300)}x{draw.randint(100, 700)}" for _ in range(40))
    got = cut(parts=parts)
    assert got.outputs["sheets"] >= got.outputs["bound"]
    assert (got.outputs["proved"] == "no") == any("there may be a better one" in line for line in got.cautions)


def test_the_saw_cuts_that_take_a_sheet_are_told_with_what_would_save_it():
    got = cut(parts="4@1220x610")
    assert "parts 2 mm smaller each way, 1 sheet would do" in got.cautions[0]
    assert cut(parts="4@1218x608").outputs["sheets"] == 1


def test_an_offcut_is_used_before_a_sheet_is_bought():
    got = cut(parts="1@800x500, 1@700x400", stock="1@900x600")
    assert got.outputs["layout"].startswith("offcut 900 x 600: 800 x 500 at (0, 0)")
    assert cut(parts="1@800x500", stock="1@900x600").outputs["sheets"] == 0


@pytest.mark.outside("by hand: 4 parts of 800 x 500, one in each of three offcuts; and parts that no offcut holds need sheets")
def test_many_offcuts_alike_are_cut_alike_and_what_is_left_is_proved():
    got = cut(parts="4@800x500", stock="3@900x600").outputs
    assert got["layout"].startswith("offcut 900 x 600, offcut 900 x 600, offcut 900 x 600: 800 x 500 at (0, 0); sheet 1: ")
    assert got["sheets"] == 1
    large = cut(parts="3@1230x700, 2@300x200", stock="2@400x300").outputs
    assert (large["sheets"], large["proved"]) == (3, "yes")


def test_offcuts_are_kept_from_the_size_that_is_asked_for():
    assert cut(parts="1@2440x800").outputs["offcuts"] == "2440 x 417 of sheet 1"
    assert cut(parts="1@2440x800", keep="500x500").outputs["offcuts"] == "none worth keeping"


def test_grain_fixed_keeps_every_part_as_it_is_written():
    parts = "2@1200x1000, 1@300x1190"
    assert cut(parts=parts).outputs["sheets"] == 1
    assert cut(parts=parts, grain="fixed").outputs["sheets"] == 2


@pytest.mark.parametrize(
    ("texts", "field"),
    [
        ({"parts": "*@600x300"}, "parts"),
        ({"parts": "2@600x300=5"}, "parts"),
        ({"parts": "2@600x300", "sheet": "150 x 150", "trim": "100"}, "trim"),
        ({"parts": "2@600x300", "goal": "value", "stock": "1@900x600"}, "stock"),
        ({"parts": "*@20x20", "goal": "value"}, "parts"),
    ],
)
def test_what_does_not_go_together_is_named(texts, field):
    with pytest.raises(InputError) as caught:
        cut(**texts)
    assert field in {problem.field for problem in caught.value.problems}


def test_a_full_size_sheet_is_used_well_where_sizes_are_many():
    draw = random.Random(3)
    parts = ", ".join(f"*@{draw.randint(200, 1500)}x{draw.randint(120, 800)}" for _ in range(12))
    got = cut(parts=parts, goal="value").outputs
    assert got["sheets"] == 1
    assert got["used"].value > 0.9
    assert got["value"].value == pytest.approx(got["used"].value * 2.44 * 1.22, rel=1e-3)
