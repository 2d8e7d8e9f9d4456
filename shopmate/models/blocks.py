"""Blocks of rectangles joined side by side or one above the other, least waste first: every edge-to-edge layout.

Sizes are whole numbers. Every layout that such cuts can make is a block, and no block in it wastes more than the whole layout:
where the number of sheets or the length of a roll limits the waste, there are few blocks to look at.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from heapq import heappop, heappush

from shopmate.records import dataclass

_MOST_TRIES = 400_000
"""Lots tried before the search stops without proof (our choice). No Threshold needed: it limits the time to a fraction of a
second."""

_A_BLOCK = 4
"""Pairs of blocks tried in the time that one more block takes (our choice). No Threshold needed: it limits the time too."""

Lot = int
"""How many of each kind, each in its own bits with one spare, so that whole lots can be added and compared in one step."""

_Made = tuple[int, int, bool]
"""For a part, its kind, −1 and whether it is turned; for two blocks, their numbers and whether they lie side by side."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Parts of one size: length along the sheet, width across it, how many, and whether they may be turned."""

    length: int
    width: int
    count: int
    turns: bool

    @property
    def area(self) -> int:
        return self.length * self.width

    def lying(self, *, turned: bool) -> tuple[int, int]:
        """Return its length and width as it lies, turned or not."""
        return (self.width, self.length) if turned else (self.length, self.width)

    @property
    def ways(self) -> tuple[tuple[int, int, bool], ...]:
        """Return the ways it may lie: length, width, and whether it is turned."""
        straight = ((self.length, self.width, False),)
        return (*straight, (self.width, self.length, True)) if self.turns and self.length != self.width else straight


@dataclass(frozen=True, slots=True)
class Block:
    """Parts cut out in one piece: one part, or two blocks side by side (along) or one above the other (across)."""

    length: int
    width: int
    kind: int = -1
    turned: bool = False
    first: Block | None = None
    second: Block | None = None
    along: bool = True


class Blocks:
    """Blocks that fit a length and a width, use no more parts than there are, and waste no more than `waste` inside.

    `ended` says whether the search was complete: all blocks that no other block of the same parts beats in both length and
    width. Otherwise it was given up after that many `pairs` of blocks.
    """

    def __init__(self, kinds: Sequence[Kind], length: int, width: int, waste: int, pairs: int) -> None:
        self.kinds, self.length, self.width, self.waste = kinds, length, width, waste
        self.units: list[Lot] = []
        self.whole: Lot = 0
        self._spare, at = 0, 0
        for kind in kinds:
            bits = kind.count.bit_length()
            self.units.append(1 << at)
            self.whole |= kind.count << at
            self._spare |= 1 << (at + bits)
            at += bits + 1
        self.areas: dict[Lot, int] = {}
        self._of: dict[Lot, list[int]] = {}
        self._done: list[tuple[Lot, int, int, int, _Made]] = []
        self._best: dict[Lot, list[tuple[int, int]]] = {}
        self._heap: list[tuple[int, int, Lot, int, int, int, _Made]] = []
        self.ended = self._join(pairs)

    def holds(self, lot: Lot, part: Lot) -> bool:
        """Return whether a lot contains another: no kind has to borrow from its spare bit."""
        return ((lot | self._spare) - part) & self._spare == self._spare

    def counts(self, lot: Lot) -> tuple[int, ...]:
        """Return how many of each kind a lot has."""
        return tuple(
            lot // unit % (1 << (kind.count.bit_length() + 1)) for unit, kind in zip(self.units, self.kinds, strict=True)
        )

    def blocks(self, lot: Lot) -> Iterator[Block]:
        """Yield the blocks found for a lot."""
        yield from (self._built(number) for number in self._of[lot])

    def shortest(self, lot: Lot) -> Block | None:
        """Return the shortest block for a lot, None where there is none."""
        return min(self.blocks(lot), key=lambda block: block.length) if lot in self._of else None

    def _built(self, number: int) -> Block:
        _, length, width, _, (one, other, flag) = self._done[number]
        if other < 0:
            return Block(length, width, one, flag)
        return Block(length, width, first=self._built(one), second=self._built(other), along=flag)

    def _join(self, pairs: int) -> bool:
        """Join each block with all that waste no more than it does, until none are left; False if there are too many."""
        for index, kind in enumerate(self.kinds):
            for length, width, turned in kind.ways if kind.count else ():
                if length <= self.length and width <= self.width:
                    self._push(self.units[index], length, width, kind.area, (index, -1, turned))
        tried = 0
        while self._heap:
            _, _, lot, length, width, area, made = heappop(self._heap)
            if (length, width) not in self._best[lot]:
                continue
            self._keep(lot, length, width, area, made)
            tried += len(self._done)
            if tried + _A_BLOCK * len(self._heap) > pairs:
                for _, _, lot, length, width, area, made in self._heap:
                    self._keep(lot, length, width, area, made)
                return False
            self._join_last()
        return True

    def _keep(self, lot: Lot, length: int, width: int, area: int, made: _Made) -> None:
        self._of.setdefault(lot, []).append(len(self._done))
        self.areas[lot] = area
        self._done.append((lot, length, width, area, made))

    def _join_last(self) -> None:
        """Join the last block with each one before it and with itself, both ways."""
        number = len(self._done) - 1
        lot, length, width, area, _ = self._done[number]
        whole, spare, sheet, waste = self.whole | self._spare, self._spare, self.length * self.width, self.waste
        most_length, most_width, push = self.length, self.width, self._push
        for other, (more, long, wide, extra, _) in enumerate(self._done):
            together, covered = lot + more, area + extra
            if (whole - together) & spare != spare or covered > sheet:
                continue
            along = length + long
            if along <= most_length:
                across = width if width > wide else wide
                if along * across - covered <= waste:
                    push(together, along, across, covered, (number, other, True))
            across = width + wide
            if across <= most_width:
                along = length if length > long else long
                if along * across - covered <= waste:
                    push(together, along, across, covered, (number, other, False))

    def _push(self, lot: Lot, length: int, width: int, area: int, made: _Made) -> None:
        """Add a block to those to be joined, unless another of the same parts is as short and as narrow."""
        have = self._best.setdefault(lot, [])
        for long, wide in have:
            if long <= length and wide <= width:
                return
        have[:] = [(long, wide) for long, wide in have if not (length <= long and width <= wide)]
        have.append((length, width))
        heappush(self._heap, (length * width - area, -area, lot, length, width, area, made))

    def cover(self, sheets: int) -> tuple[list[Lot] | None, bool]:
        """Return one lot for each of `sheets` sheets, together all the parts, and whether the search was complete.

        None from a complete search, here and in the joining, proves that there is no such set of lots: all the sheets together
        may waste no more than `waste`.
        """
        full = self.length * self.width
        slack = sheets * full - sum(kind.area * kind.count for kind in self.kinds)
        found = sorted(((area, lot) for lot, area in self.areas.items() if full - area <= slack), reverse=True)
        order = sorted(range(len(self.kinds)), key=lambda index: -self.kinds[index].area)
        fields = [(1 << self.kinds[index].count.bit_length()) - 1 << self.units[index].bit_length() - 1 for index in order]
        with_part = [[pair for pair in found if pair[1] & field] for field in fields]
        failed: set[tuple[Lot, int]] = set()
        tries = 0

        def go(left: Lot, sheets: int, slack: int) -> list[Lot] | None:
            nonlocal tries
            if not left:
                return []
            if not sheets or (left, sheets) in failed:
                return None
            first = next(place for place, field in enumerate(fields) if left & field)
            for area, lot in with_part[first]:
                tries += 1
                if full - area > slack or tries > _MOST_TRIES:
                    break
                if self.holds(left, lot) and (more := go(left - lot, sheets - 1, slack - full + area)) is not None:
                    return [lot, *more]
            failed.add((left, sheets))
            return None

        return go(self.whole, sheets, slack), tries <= _MOST_TRIES
