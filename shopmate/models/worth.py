"""The most valuable parts that edge-to-edge cuts get out of one sheet, with or without limits on how many of each."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from heapq import heappop, heappush

from shopmate.models.blocks import Block, Blocks, Kind
from shopmate.models.sheets import Counts
from shopmate.records import dataclass


@dataclass(frozen=True, slots=True)
class Worth:
    """The size of a part as it lies, and its value; `count` is None for as many as fit."""

    length: int
    width: int
    count: int | None
    value: int


def most_valuable(kinds: Sequence[Worth], length: int, width: int) -> tuple[Block | None, int, bool]:
    """Return the block of greatest value that one sheet holds, its value, and whether no other is worth more.

    The most promising blocks are joined first: the value of a block plus the most that the rest of the sheet can still be worth
    without the limits on counts (Viswanathan and Bagchi, best-first search for cutting stock [memory]).
    """
    kinds = [kind for kind in kinds if kind.length <= length and kind.width <= width and kind.count != 0]
    if not kinds:
        return None, 0, True
    most = [kind.count if kind.count is not None else (length // kind.length) * (width // kind.width) for kind in kinds]
    rest = _Rest(kinds, length, width)
    if not rest.is_small:
        return _by_waste(kinds, most, length, width)
    if all(kind.count is None for kind in kinds):
        return rest.block(length, width), rest.worth(length, width), True
    heap: list[tuple[int, int, _Valued]] = []
    for index, kind in enumerate(kinds):
        counts = tuple(int(index == other) for other in range(len(kinds)))
        alone = _Valued(Block(kind.length, kind.width, index), kind.value, counts)
        heappush(heap, (-(kind.value + rest.beside(kind.length, kind.width)), len(heap), alone))
    best, made = heap[0][2], len(heap)
    done: list[_Valued] = []
    seen: set[tuple[int, int, Counts]] = set()
    while heap:
        promise, _, valued = heappop(heap)
        if -promise <= best.value:
            return best.block, best.value, True
        done.append(valued)
        for more in done:
            counts = tuple(one + two for one, two in zip(valued.counts, more.counts, strict=True))
            if any(count > limit for count, limit in zip(counts, most, strict=True)):
                continue
            value = valued.value + more.value
            for block in _beside(valued.block, more.block, length, width):
                key = block.length, block.width, counts
                if key in seen:
                    continue
                seen.add(key)
                joined = _Valued(block, value, counts)
                if value > best.value:
                    best = joined
                bound = value + rest.beside(block.length, block.width)
                if bound > best.value:
                    made += 1
                    heappush(heap, (-bound, made, joined))
        if made > _MOST_BLOCKS:
            return best.block, best.value, False
    return best.block, best.value, True


def _by_waste(kinds: Sequence[Worth], most: Sequence[int], length: int, width: int) -> tuple[Block, int, bool]:
    """Return the most valuable of the blocks that waste least, its value, and whether these are all the blocks there are."""
    parts = [Kind(kind.length, kind.width, count, turns=False) for kind, count in zip(kinds, most, strict=True)]
    blocks = Blocks(parts, length, width, length * width, _MOST_PAIRS)
    value, lot = max(
        (sum(kind.value * count for kind, count in zip(kinds, blocks.counts(lot), strict=True)), lot) for lot in blocks.areas
    )
    return next(blocks.blocks(lot)), value, blocks.ended


_MOST_PAIRS = 400_000
"""Maximum pairs of blocks joined if there are too many sizes for the search by value (our choice). No Threshold needed: it limits
the time."""

_MOST_BLOCKS = 60_000
"""Maximum blocks before the search stops without proof (our choice). No Threshold needed: it limits the time to about a
second."""

_MOST_POINTS = 400
"""Maximum different lengths, or widths, that sums of parts can make; with more, the search is not started (our choice). No
Threshold needed: it limits the time."""


@dataclass(frozen=True, slots=True)
class _Valued:
    block: Block
    value: int
    counts: Counts


def _beside(one: Block, other: Block, length: int, width: int) -> Iterator[Block]:
    """Return two blocks joined side by side and one above the other, if that fits the sheet."""
    if one.length + other.length <= length:
        yield Block(one.length + other.length, max(one.width, other.width), first=one, second=other)
    if one.width + other.width <= width:
        yield Block(max(one.length, other.length), one.width + other.width, first=one, second=other, along=False)


class _Rest:
    """What a sheet can be worth with no limits on counts: the whole sheet, and the rest beside a block in its corner."""

    def __init__(self, kinds: Sequence[Worth], length: int, width: int) -> None:
        self.kinds, self.length, self.width = kinds, length, width
        self.lengths = _sums({kind.length for kind in kinds}, length)
        self.widths = _sums({kind.width for kind in kinds}, width)
        self.is_small = max(len(self.lengths), len(self.widths)) <= _MOST_POINTS
        self._worth: dict[tuple[int, int], int] = {}
        self._beside: dict[tuple[int, int], int] = {}

    def worth(self, length: int, width: int) -> int:
        """Return the greatest value of a rectangle without limits on counts: one part, or the best cut into two."""
        long = self.lengths[bisect_right(self.lengths, length) - 1]
        wide = self.widths[bisect_right(self.widths, width) - 1]
        if (long, wide) in self._worth:
            return self._worth[long, wide]
        best = max((kind.value for kind in self.kinds if kind.length <= long and kind.width <= wide), default=0)
        for cut in self.lengths[1 : bisect_right(self.lengths, long // 2)]:
            best = max(best, self.worth(cut, wide) + self.worth(long - cut, wide))
        for cut in self.widths[1 : bisect_right(self.widths, wide // 2)]:
            best = max(best, self.worth(long, cut) + self.worth(long, wide - cut))
        self._worth[long, wide] = best
        return best

    def block(self, length: int, width: int) -> Block | None:
        """Return the block that is worth most in a rectangle without limits on counts; None where nothing fits."""
        long = self.lengths[bisect_right(self.lengths, length) - 1]
        wide = self.widths[bisect_right(self.widths, width) - 1]
        best = self.worth(long, wide)
        for index, kind in enumerate(self.kinds):
            if kind.length <= long and kind.width <= wide and kind.value == best:
                return Block(kind.length, kind.width, index)
        for cut in self.lengths[1 : bisect_right(self.lengths, long // 2)]:
            if self.worth(cut, wide) + self.worth(long - cut, wide) == best:
                return self._both(self.block(cut, wide), self.block(long - cut, wide), along=True)
        for cut in self.widths[1 : bisect_right(self.widths, wide // 2)]:
            if self.worth(long, cut) + self.worth(long, wide - cut) == best:
                return self._both(self.block(long, cut), self.block(long, wide - cut), along=False)
        return None

    @staticmethod
    def _both(one: Block | None, other: Block | None, *, along: bool) -> Block | None:
        if one is None or other is None:
            return one or other
        if along:
            return Block(one.length + other.length, max(one.width, other.width), first=one, second=other)
        return Block(max(one.length, other.length), one.width + other.width, first=one, second=other, along=False)

    def beside(self, length: int, width: int) -> int:
        """Return the most that a sheet can be worth beside a block in its corner, which may be joined on either side."""
        key = length, width
        if key not in self._beside:
            best = 0
            for to in self.lengths[bisect_right(self.lengths, length) :]:
                best = max(best, self.worth(to - length, width) + self.beside(to, width))
            for to in self.widths[bisect_right(self.widths, width) :]:
                best = max(best, self.worth(length, to - width) + self.beside(length, to))
            self._beside[key] = best
        return self._beside[key]


def _sums(sizes: set[int], most: int) -> list[int]:
    """Return all sums of sizes from 0 up to `most`; if there are too many to work with, stop just past that number."""
    found = {0}
    grown = [0]
    while grown and len(found) <= _MOST_POINTS:
        grown = [at + size for at in grown for size in sizes if at + size <= most]
        grown = [at for at in dict.fromkeys(grown) if at not in found]
        found.update(grown)
    return sorted(found)
