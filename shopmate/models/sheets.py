"""Rectangles cut from sheets with cuts from edge to edge: the fewest sheets, or the shortest length of a roll.

Sizes are whole numbers, and the saw cut is added to each part and to the sheet, which is exact: n a + (n - 1) k <= W is
n (a + k) <= W + k.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from shopmate.models.blocks import Block, Blocks, Kind
from shopmate.models.parts import in_mm, shown
from shopmate.picture import Point, rectangle
from shopmate.records import dataclass, replace

_MOST_PAIRS = 400_000
"""Pairs of blocks joined for one question before the search stops without proof (our choice). No Threshold needed: it limits the
time to a fraction of a second."""

_FEW = 18
"""Maximum parts for which all blocks are tried; with more, sheets are filled one by one until this many are left (our choice). No
Threshold needed: it limits the time."""

_PICKED, _LARGEST, _PICKED_PAIRS = 16, 4, 100_000
"""Parts looked at together to fill one sheet of many, how many of them are the largest left, and pairs of blocks joined for it
(our choice). No Threshold needed: it limits the time."""

_MOST_FILLS = 8
"""Maximum sheets filled in that way in one job (our choice). No Threshold needed: it limits the time."""

_TRIES, _TRIES_OF_A_ROLL = 150_000, 600_000
"""Positions tried by the quick methods, in all orders together (our choice). No Threshold needed: it limits the time."""

_LEAST_TRIES, _OF_A_SMALL_JOB = 5, 5_000
"""Minimum orders tried, and what the tries are divided by to get the orders per part of a small job (our choice). No Threshold
needed: it limits the time."""

Counts = tuple[int, ...]
"""How many of each kind."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A part and its position."""

    kind: int
    x: int
    y: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Rest:
    """A piece of the sheet, still to be cut or left over."""

    x: int
    y: int
    length: int
    width: int


@dataclass(frozen=True, slots=True)
class Saw:
    """A cut from edge to edge of a piece: `at` from its left end (a crosscut) or from its lower edge (a rip)."""

    is_rip: bool
    at: int
    piece: Rest


@dataclass(frozen=True, slots=True)
class Layout:
    """One sheet: where each part lies, the cuts in order, and what is left over."""

    parts: tuple[Placed, ...]
    cuts: tuple[Saw, ...]
    rests: tuple[Rest, ...]


def places(parts: Sequence[Placed], kinds: Sequence[Kind], between: int, unit: str) -> str:
    """Return in words where each part lies, measured from the lower left corner, as a rule of that unit shows it.

    `between` is counted in each part but does not belong to it: a saw cut, or a gap.
    """
    said = []
    for part in _from_the_corner(parts):
        long, wide = (shown(size - between, unit) for size in kinds[part.kind].lying(turned=part.turned))
        turned = " turned" if part.turned else ""
        said.append(f"{long} x {wide} at ({shown(part.x, unit)}, {shown(part.y, unit)}){turned}")
    return ", ".join(said)


def boxes(parts: Sequence[Placed], kinds: Sequence[Kind], between: int, left: float = 0.0) -> list[tuple[Point, ...]]:
    """Return the outlines of the parts in mm, in the order of `places`; `left` is where the sheet begins in the picture."""
    found = []
    for part in _from_the_corner(parts):
        long, wide = kinds[part.kind].lying(turned=part.turned)
        found.append(box(Rest(part.x, part.y, long, wide), between, left))
    return found


def box(rest: Rest, between: int, left: float = 0.0) -> tuple[Point, ...]:
    """Return the outline of a piece in mm."""
    x, y = left + in_mm(rest.x), in_mm(rest.y)
    return rectangle(x, y, x + in_mm(rest.length - between), y + in_mm(rest.width - between))


def _from_the_corner(parts: Sequence[Placed]) -> list[Placed]:
    return sorted(parts, key=lambda part: (part.x, part.y))


def fits(kind: Kind, length: int, width: int) -> bool:
    """Return whether a part fits a sheet, turned if it may be."""
    return any(along <= length and across <= width for along, across, _ in kind.ways)


def _area(kinds: Sequence[Kind]) -> int:
    return sum(kind.area * kind.count for kind in kinds)


def _parts(kinds: Sequence[Kind]) -> int:
    return sum(kind.count for kind in kinds)


def _less(kinds: Sequence[Kind], taken: Sequence[int]) -> list[Kind]:
    """Return the kinds, with the number taken of each subtracted."""
    return [replace(kind, count=kind.count - of) for kind, of in zip(kinds, taken, strict=True)]


def fewest(kinds: Sequence[Kind], length: int, width: int) -> tuple[list[Layout], bool]:
    """Return sheets that hold all the parts, each of which fits a sheet, and whether it is proved that fewer sheets won't do.

    Blocks that waste no more than fewer sheets allow either beat the result of the quick method or prove it. The proof is for
    edge-to-edge cuts.
    """
    if not _parts(kinds):
        return [], True
    least = least_by_size(kinds, length, width)
    best = _quick(kinds, length, width)
    if len(best) > least and _parts(kinds) > _FEW:
        best = min(best, _one_by_one(kinds, length, width), key=len)
    proved = True
    tried = range(least, len(best) + (_parts(kinds) <= _FEW))
    for sheets in tried:
        blocks = Blocks(kinds, length, width, sheets * length * width - _area(kinds), _MOST_PAIRS // max(1, len(tried) - 1))
        lots, ended = blocks.cover(sheets)
        if lots is not None:
            made = [laid(_widest_rest(blocks, lot), length, width) for lot in lots]
            better = len(made) < len(best) or _largest_rest(made) >= _largest_rest(best)
            return made if better else best, proved
        if sheets < len(best):
            proved = proved and ended and blocks.ended
    return best, proved


def least_by_size(kinds: Sequence[Kind], length: int, width: int) -> int:
    """Return a lower bound for the sheets, however they are cut: by area, and by parts longer than half or a third of a side.

    Sizes are weighed by dual feasible functions, whose sum over the parts of one sheet never exceeds 1 (Fekete and
    Schepers, general lower bounds for bin packing [memory]); of the ways a part may lie, the lightest counts.
    """
    weighed_by = [_weights(kinds, size) for size in (length, width)]
    least = 0
    for along, whole_along in weighed_by[0]:
        for across, whole_across in weighed_by[1]:
            total = sum(
                kind.count * min(along[long] * across[wide] for long, wide, _ in kind.ways if long <= length and wide <= width)
                for kind in kinds
                if kind.count
            )
            least = max(least, -(-total // (whole_along * whole_across)))
    return least


_STEPS = 4
"""How many functions weigh the part sizes, by halves, by thirds and so on (our choice). No Threshold needed: it limits the
time."""

_MOST_CUTOFFS = 6
"""How many cut-off sizes are tried; a part below the cut-off does not count (our choice). No Threshold needed: it limits the
time."""


def _weights(kinds: Sequence[Kind], whole: int) -> list[tuple[dict[int, int], int]]:
    """Return the weight of each part length and of the whole length for each of several functions, in whole numbers."""
    sizes = sorted({size for kind in kinds if kind.count for size in (kind.length, kind.width) if size <= whole})
    found = [({size: size for size in sizes}, whole)]
    for step in range(1, _STEPS + 1):
        weights = {size: size * step if (step + 1) * size % whole == 0 else (step + 1) * size // whole * whole for size in sizes}
        found.append((weights, whole * step))
    cutoffs = [size for size in sizes if 2 * size <= whole]
    for cutoff in cutoffs[:: max(1, len(cutoffs) // _MOST_CUTOFFS)]:
        weights = {size: whole if size > whole - cutoff else 0 if size < cutoff else size for size in sizes}
        found.append((weights, whole))
    return found


def _one_by_one(kinds: Sequence[Kind], length: int, width: int) -> list[Layout]:
    """Return sheets filled one after another, each from some of the largest parts left and some of the others."""
    left, made = list(kinds), []
    for _ in range(_MOST_FILLS):
        if _parts(left) <= _FEW:
            break
        layout, taken = _filled_from(left, length, width)
        times = min(kind.count // of for kind, of in zip(left, taken, strict=True) if of)
        made += [layout] * times
        left = _less(left, [of * times for of in taken])
    rest = fewest(left, length, width)[0] if _parts(left) <= _FEW else _quick(left, length, width)
    return made + rest


def _filled_from(kinds: Sequence[Kind], length: int, width: int) -> tuple[Layout, Counts]:
    """Return one sheet filled as well as blocks of some of the parts can fill it, and how many of each it holds."""
    parts = [index for index, kind in enumerate(kinds) for _ in range(kind.count)]
    parts.sort(key=lambda index: -kinds[index].area)
    others = parts[_LARGEST:]
    spread = [others[place * len(others) // (_PICKED - _LARGEST)] for place in range(_PICKED - _LARGEST)]
    picked = [*parts[:_LARGEST], *spread]
    some = [replace(kind, count=picked.count(index)) for index, kind in enumerate(kinds)]
    return _fullest(some, length, width)


def _fullest(kinds: Sequence[Kind], length: int, width: int) -> tuple[Layout, Counts]:
    blocks = Blocks(kinds, length, width, length * width, _PICKED_PAIRS)
    lot = max(blocks.areas, key=lambda lot: (blocks.areas[lot], lot))
    return laid(_widest_rest(blocks, lot), length, width), blocks.counts(lot)


def _widest_rest(blocks: Blocks, lot: int) -> Block:
    """Return the block for a lot that leaves the largest rectangle of the sheet beside it."""

    def rest(block: Block) -> int:
        return max((blocks.length - block.length) * blocks.width, (blocks.width - block.width) * blocks.length)

    return max(blocks.blocks(lot), key=rest)


def _largest_rest(layouts: Sequence[Layout]) -> int:
    return max((rest.length * rest.width for layout in layouts for rest in layout.rests), default=0)


def fill(kinds: Sequence[Kind], length: int, width: int) -> tuple[Layout, Counts] | None:
    """Return the sheet with the largest area of parts on it, and how many of each; None where none fits."""
    few = [
        replace(kind, count=min(kind.count, length * width // kind.area) if fits(kind, length, width) else 0) for kind in kinds
    ]
    if not _parts(few):
        return None
    best = _fullest(few, length, width)
    layout = max(_quick(few, length, width), key=lambda layout: _held(layout, kinds))
    if _held(layout, kinds) <= _held(best[0], kinds):
        return best
    return layout, tuple(sum(part.kind == index for part in layout.parts) for index in range(len(kinds)))


def _held(layout: Layout, kinds: Sequence[Kind]) -> int:
    return sum(kinds[part.kind].area for part in layout.parts)


def laid(block: Block, length: int, width: int) -> Layout:
    """Return where the parts of a block lie in a sheet, the cuts in order, and what is left over.

    What is left beside the block is cut off first, the larger of two such pieces whole, then one strip after another, the
    widest first.
    """
    parts: list[Placed] = []
    cuts: list[Saw] = []
    rests: list[Rest] = []

    def cut(piece: Rest, is_rip: bool, at: int) -> tuple[Rest, Rest]:
        cuts.append(Saw(is_rip, at, piece))
        if is_rip:
            above = replace(piece, y=piece.y + at, width=piece.width - at)
            return replace(piece, width=at), above
        return replace(piece, length=at), replace(piece, x=piece.x + at, length=piece.length - at)

    def go(block: Block, piece: Rest) -> None:
        rip, cross = not block.along, block.along
        over, beside = _size(piece, rip) - _size(block, rip), _size(piece, cross) - _size(block, cross)
        if beside and over * _size(piece, cross) > beside * _size(piece, rip):
            piece, rest = cut(piece, rip, _size(block, rip))
            rests.append(rest)
        if beside:
            piece, rest = cut(piece, cross, _size(block, cross))
            rests.append(rest)
        strips: list[tuple[Block, Rest]] = []
        for strip in sorted(_chain(block), key=lambda strip: -_size(strip, rip)):
            if _size(strip, rip) < _size(piece, rip):
                first, piece = cut(piece, rip, _size(strip, rip))
            else:
                first, piece = piece, replace(piece, length=0)
            strips.append((strip, first))
        if piece.length:
            rests.append(piece)
        for strip, first in strips:
            if strip is block:
                parts.append(Placed(strip.kind, first.x, first.y, strip.turned))
            else:
                go(strip, first)

    go(block, Rest(0, 0, length, width))
    return Layout(tuple(parts), tuple(cuts), tuple(rests))


def _size(of: Block | Rest, ripped: bool) -> int:
    """Return the dimension that rips divide, or the one that crosscuts divide."""
    return of.width if ripped else of.length


def _chain(block: Block) -> list[Block]:
    """Return the blocks joined in a row in one direction."""
    if block.first is None or block.second is None:
        return [block]
    return [
        part
        for half in (block.first, block.second)
        for part in (_chain(half) if half.first is not None and half.along == block.along else [half])
    ]


class _Piece:
    """A rectangle of a sheet: free, or holding a part at its corner with two smaller ones beside it."""

    __slots__ = ("cuts", "inner", "length", "part", "width", "x", "y")

    def __init__(self, x: int, y: int, length: int, width: int) -> None:
        self.x, self.y, self.length, self.width = x, y, length, width
        self.part: Placed | None = None
        self.cuts: tuple[Saw, ...] = ()
        self.inner: tuple[_Piece, ...] = ()

    def take(self, kind: int, long: int, wide: int, turned: bool, rip: bool) -> tuple[_Piece, ...]:
        """Put a part into the corner, ripped or crosscut first, and return the pieces that stay free."""
        x, y, over, beside = self.x, self.y, self.length - long, self.width - wide
        self.part = Placed(kind, x, y, turned)
        above = _Piece(x, y + wide, self.length if rip else long, beside)
        right = _Piece(x + long, y, over, wide if rip else self.width)
        ripped = (Saw(True, wide, Rest(x, y, above.length, self.width)),) if beside else ()
        crossed = (Saw(False, long, Rest(x, y, self.length, right.width)),) if over else ()
        self.cuts = ripped + crossed if rip else crossed + ripped
        self.inner = tuple(piece for piece in (right, above) if piece.length and piece.width)
        return self.inner

    def walk(self) -> Iterator[_Piece]:
        yield self
        for piece in self.inner:
            yield from piece.walk()

    def layout(self) -> Layout:
        pieces = list(self.walk())
        return Layout(
            tuple(piece.part for piece in pieces if piece.part is not None),
            tuple(cut for piece in pieces for cut in piece.cuts),
            tuple(Rest(piece.x, piece.y, piece.length, piece.width) for piece in pieces if piece.part is None),
        )


def _quick(kinds: Sequence[Kind], length: int, width: int) -> list[Layout]:
    """Return the best of many orders of filling sheets part by part: fewest sheets, then the emptiest last sheet."""
    parts = [index for index, kind in enumerate(kinds) for _ in range(kind.count)]
    if not parts:
        return []
    best: list[_Piece] | None = None
    score: tuple[int, int] | None = None
    for attempt, order in enumerate(_orders(parts, kinds, _TRIES)):
        made = _filled(order, kinds, length, width, _RULES[attempt % len(_RULES)])
        used = sum(kinds[piece.part.kind].area for piece in made[-1].walk() if piece.part is not None)
        if score is None or (len(made), used) < score:
            best, score = made, (len(made), used)
    assert best is not None
    return [sheet.layout() for sheet in best]


def _orders(parts: Sequence[int], kinds: Sequence[Kind], tries: int) -> Iterator[list[int]]:
    """Yield the orders of parts to try: by size in five ways, then with some swapped, the same every time."""
    sizes: list[list[int]] = [
        [kind.area for kind in kinds],
        [max(kind.length, kind.width) for kind in kinds],
        [min(kind.length, kind.width) for kind in kinds],
        [kind.width for kind in kinds],
        [kind.length for kind in kinds],
    ]
    seed = 1
    for attempt in range(
        max(_LEAST_TRIES, min(tries // _OF_A_SMALL_JOB * len(parts), tries // (len(parts) * (len(parts) + len(sizes)))))
    ):
        size = sizes[attempt % len(sizes)]
        order = sorted(parts, key=size.__getitem__, reverse=True)
        for _ in range(0 if attempt < len(sizes) * len(_RULES) else 1 + len(order) // 6):
            seed = (seed * 1103515245 + 12345) % 2147483648
            one, other = seed % len(order), (seed >> 8) % len(order)
            order[one], order[other] = order[other], order[one]
        yield order


_RULES = ("long rest", "rip", "cross", "short rest")
"""Which cut comes first beside a part: the one that keeps the larger leftover whole, always a rip, always a crosscut, or the
one that keeps the smaller leftover whole."""


def _filled(order: Sequence[int], kinds: Sequence[Kind], length: int, width: int, rule: str) -> list[_Piece]:
    """Return sheets filled one part at a time in that order, each part where it leaves the least space beside it."""
    sheets: list[_Piece] = []
    free: list[_Piece] = []
    for index in order:
        best: tuple[int, int, _Piece, int, int, bool] | None = None
        for place, piece in enumerate(free):
            for along, across, turned in kinds[index].ways:
                over, beside = piece.length - along, piece.width - across
                if over >= 0 and beside >= 0 and (best is None or min(over, beside) < best[0]):
                    best = min(over, beside), place, piece, along, across, turned
        if best is None:
            sheet = _Piece(0, 0, length, width)
            sheets.append(sheet)
            along, across, turned = next(way for way in kinds[index].ways if way[0] <= length and way[1] <= width)
            free += sheet.take(index, along, across, turned, _rips(rule, length - along, width - across, length, width))
            continue
        _, place, piece, along, across, turned = best
        free.pop(place)
        rip = _rips(rule, piece.length - along, piece.width - across, piece.length, piece.width)
        free += piece.take(index, along, across, turned, rip)
    return sheets


def _rips(rule: str, over: int, beside: int, length: int, width: int) -> bool:
    """Return whether a part is ripped before it is crosscut."""
    if rule in ("rip", "cross"):
        return rule == "rip"
    return (beside * length >= over * width) == (rule == "long rest")


_STRETCHES = (0, 2, 5, 10, 20, 40, 100)
"""Where to look for shorter layouts between the bound and a known layout, in % of the way (our choice). No Threshold needed: it
limits the time, because a search that may waste little is quick."""


def shortest(kinds: Sequence[Kind], width: int) -> tuple[Layout, int, bool]:
    """Return pieces laid out on a roll of that width, the length used, and whether no edge-to-edge layout can be shorter."""
    kinds = _widened(kinds, width)
    least = least_length(kinds, width)
    layout, most = _quickest(kinds, width, least)
    for stretch in _STRETCHES if most > least else ():
        length = least + (most - least) * stretch // 100
        blocks = Blocks(kinds, length, width, length * width - _area(kinds), _MOST_PAIRS)
        block = blocks.shortest(blocks.whole)
        if block is not None and (block.length < most or blocks.ended):
            return laid(block, block.length, width), block.length, blocks.ended or block.length <= least
        if not blocks.ended:
            return layout, most, False
    return layout, most, True


def least_length(kinds: Sequence[Kind], width: int) -> int:
    """Return a lower bound for the length of any layout: the longest piece, or the area divided by the width.

    Widths are weighed by dual feasible functions as for sheets; of the ways a piece may lie, the lightest counts. Pieces pushed
    together end at a sum of lengths, so the shortest layout is a multiple of the common divisor of all lengths.
    """
    found = [min(long for long, wide, _ in kind.ways if wide <= width) for kind in kinds if kind.count]
    for weights, whole in _weights(kinds, width):
        total = sum(
            kind.count * min(long * weights[wide] for long, wide, _ in kind.ways if wide <= width) for kind in kinds if kind.count
        )
        found.append(-(-total // whole))
    step = math.gcd(*(long for kind in kinds if kind.count for long, wide, _ in kind.ways if wide <= width))
    return -(-max(found) // step) * step


def _widened(kinds: Sequence[Kind], width: int) -> list[Kind]:
    """Return the kinds, each as wide as it can be made without losing any layout, if none may be turned.

    The pieces beside a piece can only fill the largest sum of widths that the rest of the roll has room for.
    """
    wider = list(kinds)
    if any(kind.turns and kind.length != kind.width for kind in kinds) or _parts(kinds) > _FEW:
        return wider
    for index, kind in enumerate(wider):
        sums = 1  # a bit for each width that some of the others come to
        for other, more in enumerate(wider):
            for _ in range(more.count - (other == index)):
                sums |= sums << more.width
        room = sums & ((2 << max(0, width - kind.width)) - 1)
        if kind.count == 1 or room == 1:
            wider[index] = replace(kind, width=width - room.bit_length() + 1)
    return wider


def _quickest(kinds: Sequence[Kind], width: int, least: int) -> tuple[Layout, int]:
    """Return the shortest layout from many orders of placing pieces one by one, each as near the start of the roll as it fits."""
    best: tuple[int, Layout] | None = None
    for order in _orders([index for index, kind in enumerate(kinds) for _ in range(kind.count)], kinds, _TRIES_OF_A_ROLL):
        made = _unrolled(order, kinds, width)
        if best is None or made[0] < best[0]:
            best = made
        if best[0] <= least:
            break
    assert best is not None
    return best[1], best[0]


def _unrolled(order: Sequence[int], kinds: Sequence[Kind], width: int) -> tuple[int, Layout]:
    """Return pieces placed one by one, each as near the start of the roll as it fits, and the length used."""
    edge = [(0, 0, width)]  # from y, so far along, so wide
    parts: list[Placed] = []
    for index in order:
        best: tuple[int, int, int, int, int, bool] | None = None
        for along, across, turned in kinds[index].ways:
            for place in range(len(edge)):
                start, y, last, room = 0, edge[place][0], place, 0
                while last < len(edge) and room < across:
                    start, room = max(start, edge[last][1]), room + edge[last][2]
                    last += 1
                if room >= across and (best is None or (start + along, y) < best[:2]):
                    best = start + along, y, start, along, across, turned
        assert best is not None
        end, y, start, _, across, turned = best
        parts.append(Placed(index, start, y, turned))
        edge = _raised(edge, y, across, end)
    return max(at for _, at, _ in edge), Layout(tuple(parts), (), ())


def _raised(edge: Sequence[tuple[int, int, int]], y: int, across: int, end: int) -> list[tuple[int, int, int]]:
    """Return the edge of what is laid out, after adding a piece that starts at y across the roll and ends at `end`."""
    new: list[tuple[int, int, int]] = []
    for begin, at, wide in edge:
        stop = begin + wide
        if begin < y:
            new.append((begin, at, min(stop, y) - begin))
        if begin <= y < stop or (not any(piece[0] == y and piece[1] == end for piece in new) and begin == y):
            new.append((y, end, across))
        if stop > y + across:
            after = max(begin, y + across)
            new.append((after, at, stop - after))
    return [piece for piece in new if piece[2] > 0]
