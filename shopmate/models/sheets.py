"""Rectangles cut out of sheets by cuts from edge to edge: the fewest sheets, the shortest length of a roll.

Sizes are whole numbers, and the saw cut is counted in each part and in the sheet, which makes it exact: n a + (n - 1) k <= W is
n (a + k) <= W + k.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product

from shopmate.records import dataclass, replace

_MOST_PAIRS = 60_000
"""Pairs of sub-lots that are joined before the exact method is left (ours). No threshold: it bounds the time, about a second."""

_MOST_SHAPES = 400_000
"""Joints tried in all, likewise (ours). No threshold: the same."""

_TRIES = 400_000
"""Places tried by the quick method, over all its orders (ours). No threshold: the same."""

_LEAST_TRIES = 5
"""Orders tried of a job of many parts (ours). No threshold: the same."""

Counts = tuple[int, ...]
"""How many of each kind."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Parts of one size: length along the sheet and width across it, how many, whether they may be turned, what one is worth."""

    length: int
    width: int
    count: int
    turns: bool

    @property
    def area(self) -> int:
        return self.length * self.width

    @property
    def ways(self) -> tuple[tuple[int, int, bool], ...]:
        """Its length and width as it may lie, and whether it is turned so."""
        straight = ((self.length, self.width, False),)
        return (*straight, (self.width, self.length, True)) if self.turns and self.length != self.width else straight


@dataclass(frozen=True, slots=True)
class Block:
    """Parts that hang together: one part, or two blocks side by side (along) or one above the other (across)."""

    length: int
    width: int
    kind: int = -1
    turned: bool = False
    first: Block | None = None
    second: Block | None = None
    along: bool = True


@dataclass(frozen=True, slots=True)
class Placed:
    """A part where it lies."""

    kind: int
    x: int
    y: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Saw:
    """A cut from edge to edge: across the length at x (a crosscut), or along it at y (a rip), of a piece that begins at x, y."""

    is_rip: bool
    at: int
    x: int
    y: int


@dataclass(frozen=True, slots=True)
class Rest:
    """A rectangle that is left over."""

    x: int
    y: int
    length: int
    width: int


@dataclass(frozen=True, slots=True)
class Layout:
    """One sheet: what lies where, the cuts in their order, and what is left."""

    parts: tuple[Placed, ...]
    cuts: tuple[Saw, ...]
    rests: tuple[Rest, ...]


def fits(kind: Kind, length: int, width: int) -> bool:
    """Return whether a part comes out of a sheet in one of its ways."""
    return any(along <= length and across <= width for along, across, _ in kind.ways)


def counts_of(kinds: Sequence[Kind]) -> Counts:
    """Return how many of each kind there are."""
    return tuple(kind.count for kind in kinds)


class Shapes:
    """All blocks of each sub-lot of the parts that no other is better than, by cuts from edge to edge within a sheet."""

    def __init__(self, kinds: Sequence[Kind], length: int, width: int) -> None:
        self.kinds, self.length, self.width = kinds, length, width
        self.of: dict[Counts, list[Block]] = {}
        self.joints = 0

    @staticmethod
    def pairs(counts: Counts) -> int:
        """Return how many pairs of sub-lots there are to join."""
        found = 1
        for count in counts:
            found *= (count + 1) * (count + 2) // 2
        return found

    def make(self) -> bool:
        """Work out the shapes of every sub-lot; False where that would take too long."""
        counts = counts_of(self.kinds)
        if self.pairs(counts) > _MOST_PAIRS:
            return False
        lots = sorted(product(*(range(count + 1) for count in counts)), key=sum)
        return all(self._lot(lot) for lot in lots)

    def _lot(self, lot: Counts) -> bool:
        """Work out the shapes of one sub-lot, all smaller ones being known; False where it takes too long."""
        if not any(lot):
            self.of[lot] = []
            return True
        if sum(lot) == 1:
            index = lot.index(1)
            ways = [Block(along, across, index, turned) for along, across, turned in self.kinds[index].ways]
            self.of[lot] = [ways[place] for *_, place in self._best([(way.length, way.width, at) for at, way in enumerate(ways)])]
            return True
        # Sizes first, with what they are joined of; a block is made only of those that none is as short and as narrow as.
        sizes: list[tuple[int, int, int]] = []
        joints: list[tuple[Block, Block, bool]] = []
        for part in product(*(range(count + 1) for count in lot)):
            rest = tuple(have - of for have, of in zip(lot, part, strict=True))
            if part > rest or not any(part):
                continue
            for one in self.of[part]:
                for other in self.of[rest]:
                    if (long := one.length + other.length) <= self.length:
                        sizes.append((long, max(one.width, other.width), len(joints)))
                        joints.append((one, other, True))
                    if (wide := one.width + other.width) <= self.width:
                        sizes.append((max(one.length, other.length), wide, len(joints)))
                        joints.append((one, other, False))
        self.joints += len(joints)
        kept = self._best(sizes)
        self.of[lot] = [
            Block(long, wide, first=joints[place][0], second=joints[place][1], along=joints[place][2])
            for long, wide, place in kept
        ]
        return self.joints <= _MOST_SHAPES

    def _best(self, found: list[tuple[int, int, int]]) -> list[tuple[int, int, int]]:
        """Return the sizes within the sheet that none is as short and as narrow as, the shortest first."""
        kept: list[tuple[int, int, int]] = []
        for size in sorted(found):
            if size[0] <= self.length and size[1] <= self.width and (not kept or size[1] < kept[-1][1]):
                kept.append(size)
        return kept


def fewest(kinds: Sequence[Kind], length: int, width: int) -> tuple[list[Layout], bool]:
    """Return the sheets that hold all parts, each of which fits one, and whether no fewer will do by cuts from edge to edge."""
    if not any(kind.count for kind in kinds):
        return [], True
    least = least_by_size(kinds, length, width)
    shapes = Shapes(kinds, length, width)
    if shapes.make():
        return [laid(block, length, width) for block in _covers(shapes)], True
    sheets = _quick(kinds, length, width)
    return sheets, len(sheets) <= least


def least_by_size(kinds: Sequence[Kind], length: int, width: int) -> int:
    """Return how many sheets there are at the least: by area, and by parts over half a sheet both ways, which take one each."""
    area = sum(kind.area * kind.count for kind in kinds)
    big = sum(
        kind.count
        for kind in kinds
        if all(2 * along > length and 2 * across > width for along, across, _ in kind.ways if along <= length and across <= width)
    )
    return max(-(-area // (length * width)), big)


def _covers(shapes: Shapes) -> list[Block]:
    """Return the fewest blocks that hold all parts, those that hold most first."""
    whole = counts_of(shapes.kinds)
    areas = [kind.area for kind in shapes.kinds]
    fit = [
        (sum(area * count for area, count in zip(areas, lot, strict=True)), lot) for lot, blocks in shapes.of.items() if blocks
    ]
    fit.sort(reverse=True)
    best: dict[Counts, tuple[int, Counts]] = {tuple(0 for _ in whole): (0, whole)}
    for lot in sorted(product(*(range(count + 1) for count in whole)), key=sum):
        if not any(lot):
            continue
        first = next(index for index, count in enumerate(lot) if count)
        for _, part in fit:
            if part[first] and all(of <= have for of, have in zip(part, lot, strict=True)):
                rest = tuple(have - of for have, of in zip(lot, part, strict=True))
                known = best.get(lot)
                if rest in best and (known is None or best[rest][0] + 1 < known[0]):
                    best[lot] = best[rest][0] + 1, part
    found, lot = [], whole
    while any(lot):
        part = best[lot][1]
        found.append(part)
        lot = tuple(have - of for have, of in zip(lot, part, strict=True))
    size = {lot: area for area, lot in fit}
    return [_widest_rest(shapes, lot) for lot in sorted(found, key=lambda lot: -size[lot])]


def _widest_rest(shapes: Shapes, lot: Counts) -> Block:
    """Return the block of a sub-lot beside which the largest rectangle of the sheet is left."""

    def rest(block: Block) -> int:
        return max((shapes.length - block.length) * shapes.width, (shapes.width - block.width) * shapes.length)

    return max(shapes.of[lot], key=rest)


def fill(kinds: Sequence[Kind], length: int, width: int) -> tuple[Layout, Counts] | None:
    """Return the sheet that holds the most of the parts by area, and how many of each; None where none fits."""
    few = [Kind(kind.length, kind.width, min(kind.count, length * width // kind.area), kind.turns) for kind in kinds]
    shapes = Shapes(few, length, width)
    if shapes.make():
        areas = [kind.area for kind in kinds]
        held = [lot for lot, blocks in shapes.of.items() if blocks]
        if not held:
            return None
        lot = max(held, key=lambda lot: sum(area * count for area, count in zip(areas, lot, strict=True)))
        return laid(_widest_rest(shapes, lot), length, width), lot
    made = _quick([kind if fits(kind, length, width) else replace(kind, count=0) for kind in few], length, width)
    if not made:
        return None
    used = max(made, key=lambda layout: sum(kinds[part.kind].area for part in layout.parts))
    return used, tuple(sum(part.kind == index for part in used.parts) for index in range(len(kinds)))


def laid(block: Block, length: int, width: int) -> Layout:
    """Return where the parts of a block lie in a sheet, the cuts in their order, and what is left.

    At each piece the larger rest is cut off first, so that it stays whole.
    """
    parts: list[Placed] = []
    cuts: list[Saw] = []
    rests: list[Rest] = []

    def go(block: Block, x: int, y: int, long: int, wide: int) -> None:
        over, beside = long - block.length, wide - block.width
        if beside * long >= over * wide:
            _cut_off(cuts, rests, Rest(x, y + block.width, long, beside), Saw(True, y + block.width, x, y))
            _cut_off(cuts, rests, Rest(x + block.length, y, over, block.width), Saw(False, x + block.length, x, y))
        else:
            _cut_off(cuts, rests, Rest(x + block.length, y, over, wide), Saw(False, x + block.length, x, y))
            _cut_off(cuts, rests, Rest(x, y + block.width, block.length, beside), Saw(True, y + block.width, x, y))
        if block.first is None or block.second is None:
            parts.append(Placed(block.kind, x, y, block.turned))
        elif block.along:
            cuts.append(Saw(False, x + block.first.length, x, y))
            go(block.first, x, y, block.first.length, block.width)
            go(block.second, x + block.first.length, y, block.second.length, block.width)
        else:
            cuts.append(Saw(True, y + block.first.width, x, y))
            go(block.first, x, y, block.length, block.first.width)
            go(block.second, x, y + block.first.width, block.length, block.second.width)

    go(block, 0, 0, length, width)
    return Layout(tuple(parts), tuple(cuts), tuple(rests))


def _cut_off(cuts: list[Saw], rests: list[Rest], rest: Rest, saw: Saw) -> None:
    """Add a cut and what it leaves, where it leaves anything."""
    if rest.length and rest.width:
        cuts.append(saw)
        rests.append(rest)


class _Piece:
    """A rectangle of a sheet: free, or holding a part at its corner with two smaller ones beside it."""

    __slots__ = ("cuts", "inner", "length", "part", "width", "x", "y")

    def __init__(self, x: int, y: int, length: int, width: int) -> None:
        self.x, self.y, self.length, self.width = x, y, length, width
        self.part: Placed | None = None
        self.cuts: tuple[Saw, ...] = ()
        self.inner: tuple[_Piece, ...] = ()

    def take(self, kind: int, long: int, wide: int, turned: bool, rip: bool) -> tuple[_Piece, ...]:
        """Put a part into the corner, ripped or crosscut off first, and return the pieces that stay free."""
        x, y, over, beside = self.x, self.y, self.length - long, self.width - wide
        self.part = Placed(kind, x, y, turned)
        above = _Piece(x, y + wide, self.length if rip else long, beside)
        right = _Piece(x + long, y, over, wide if rip else self.width)
        ripped = (Saw(True, y + wide, x, y),) if beside else ()
        crossed = (Saw(False, x + long, x, y),) if over else ()
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
    """Return sheets filled part by part in many orders, the best of them: few sheets, the last one least used."""
    parts = [index for index, kind in enumerate(kinds) for _ in range(kind.count)]
    if not parts:
        return []
    best: list[_Piece] | None = None
    score: tuple[int, int] | None = None
    for attempt, order in enumerate(_orders(parts, kinds)):
        made = _filled(order, kinds, length, width, _RULES[attempt % len(_RULES)])
        used = sum(kinds[piece.part.kind].area for piece in made[-1].walk() if piece.part is not None)
        if score is None or (len(made), used) < score:
            best, score = made, (len(made), used)
    assert best is not None
    return [sheet.layout() for sheet in best]


def _orders(parts: Sequence[int], kinds: Sequence[Kind]) -> Iterator[list[int]]:
    """Yield parts in the orders that are tried: by size in five ways, then with some exchanged, the same at each run."""
    sizes: list[list[int]] = [
        [kind.area for kind in kinds],
        [max(kind.length, kind.width) for kind in kinds],
        [min(kind.length, kind.width) for kind in kinds],
        [kind.width for kind in kinds],
        [kind.length for kind in kinds],
    ]
    seed = 1
    for attempt in range(max(_LEAST_TRIES, _TRIES // (len(parts) * (len(parts) + len(sizes))))):
        size = sizes[attempt % len(sizes)]
        order = sorted(parts, key=size.__getitem__, reverse=True)
        for _ in range(0 if attempt < len(sizes) * len(_RULES) else 1 + len(order) // 6):
            seed = (seed * 1103515245 + 12345) % 2147483648
            one, other = seed % len(order), (seed >> 8) % len(order)
            order[one], order[other] = order[other], order[one]
        yield order


_RULES = ("long rest", "rip", "cross", "short rest")
"""Which cut comes first beside a part: that which leaves the larger rest whole, always one kind, or the smaller."""


def _filled(order: Sequence[int], kinds: Sequence[Kind], length: int, width: int, rule: str) -> list[_Piece]:
    """Return sheets with the parts of an order put in one by one, each where least is left beside it."""
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
    """Return whether a part is ripped off before it is crosscut."""
    if rule in ("rip", "cross"):
        return rule == "rip"
    return (beside * length >= over * width) == (rule == "long rest")


def shortest(kinds: Sequence[Kind], width: int) -> tuple[Layout, int, bool]:
    """Return pieces laid out on a roll of that width, the length they take, and whether none is shorter by straight cuts."""
    least = max([*(kind.length for kind in kinds if kind.count), -(-sum(kind.area * kind.count for kind in kinds) // width)])
    most = sum(max(along for along, _, _ in kind.ways) * kind.count for kind in kinds)
    shapes = Shapes(kinds, most, width)
    if shapes.make():
        block = min(shapes.of[counts_of(kinds)], key=lambda block: block.length)
        return laid(block, block.length, width), block.length, True
    best: tuple[int, Layout] | None = None
    for order in _orders([index for index, kind in enumerate(kinds) for _ in range(kind.count)], kinds):
        made = _unrolled(order, kinds, width)
        if best is None or made[0] < best[0]:
            best = made
        if best[0] <= least:
            break
    assert best is not None
    return best[1], best[0], best[0] <= least


def _unrolled(order: Sequence[int], kinds: Sequence[Kind], width: int) -> tuple[int, Layout]:
    """Return pieces put one by one to where the roll begins soonest, and the length that takes."""
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
    """Return the edge of what is laid out, with a piece that ends at `end` from y on over its width."""
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
