"""Bars cut to length with the fewest bars: bounds, a plan by columns, and a search that proves it where the job is small."""

from __future__ import annotations

from collections.abc import Sequence

from shopmate.records import dataclass

_MOST_NODES = 60_000
"""Steps of a search before it is given up unproved (ours). No threshold: it bounds the time, about a second, not what is said."""

_MOST_COLUMNS = 400
"""Patterns that are made before the bound is taken as it is (ours). No threshold: the same."""

_NOISE = 1e-7
"""Differences of prices under this are the noise of floats. No threshold: the noise of floats."""

_DIVES = 4
"""Ways in which a plan is rounded before it is searched (ours). No threshold: it bounds the time."""

Pattern = tuple[int, ...]
"""How many of each part are cut from one bar."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A plan: what is cut from each bar, the least number that any plan takes, and whether the search went to its end."""

    patterns: tuple[Pattern, ...]
    bound: int
    """No plan takes fewer."""


def least_bars(sizes: Sequence[int], counts: Sequence[int], bar: int) -> Cut:
    """Return a plan for so many of each size out of bars of one length, in whole units that the saw cut is counted in.

    Sizes fall and none is over the bar. The bound is that of columns (linear programme over patterns, prices by a knapsack);
    the plan rounds it down again and again and searches what is left; for small jobs the search is exhaustive.
    """
    counts = tuple(counts)
    if not any(counts):
        return Cut((), 0)
    made = _Columns(sizes, counts, bar)
    bound = made.bound()
    best = _longest_first(sizes, counts, bar)
    for skip in range(min(_DIVES, len(sizes) + 1)):
        if len(best) <= bound:
            break
        dived = _dive(sizes, counts, bar, skip)
        best = min(best, dived, key=len)
    if len(best) > bound:
        searched, ended = _search(sizes, counts, bar, len(best) - 1, bound)
        if searched is not None:
            best = searched
        elif ended:
            bound = len(best)
    return Cut(tuple(best), bound)


def best_fill(sizes: Sequence[int], counts: Sequence[int], bar: int) -> Pattern:
    """Return the pattern that leaves the least of one bar."""
    return _knapsack([float(size) for size in sizes], sizes, counts, bar)


def _longest_first(sizes: Sequence[int], counts: Sequence[int], bar: int) -> list[Pattern]:
    """Return a plan that puts the longest part that fits into each bar, as it is done by hand."""
    left, plan = list(counts), []
    while any(left):
        room, pattern = bar, [0] * len(sizes)
        for index, size in enumerate(sizes):
            pattern[index] = min(left[index], room // size)
            room -= pattern[index] * size
            left[index] -= pattern[index]
        plan.append(tuple(pattern))
    return plan


def _knapsack(prices: Sequence[float], sizes: Sequence[int], counts: Sequence[int], bar: int) -> Pattern:
    """Return the pattern of the greatest price that fits one bar: branch and bound by price over size."""
    order = sorted((index for index in range(len(sizes)) if prices[index] > _NOISE), key=lambda i: -prices[i] / sizes[i])
    best, best_price = [0] * len(sizes), 0.0
    taken = [0] * len(sizes)
    nodes = 0

    def go(place: int, room: int, price: float) -> None:
        nonlocal best, best_price, nodes
        nodes += 1
        if price > best_price + _NOISE:
            best, best_price = taken.copy(), price
        if place == len(order) or nodes > _MOST_NODES:
            return
        index = order[place]
        if price + room * prices[index] / sizes[index] <= best_price + _NOISE:
            return
        for count in range(min(counts[index], room // sizes[index]), -1, -1):
            taken[index] = count
            go(place + 1, room - count * sizes[index], price + count * prices[index])
        taken[index] = 0

    go(0, bar, 0.0)
    return tuple(best)


class _Columns:
    """The linear programme over patterns: least sum of x with sum of pattern × x at least the demand, by columns."""

    def __init__(self, sizes: Sequence[int], counts: Sequence[int], bar: int) -> None:
        self.sizes, self.counts, self.bar = sizes, counts, bar
        self.rows = [index for index, count in enumerate(counts) if count]
        self.patterns: list[Pattern] = []
        for index in self.rows:
            alone = [0] * len(sizes)
            alone[index] = min(counts[index], bar // sizes[index])
            self.patterns.append(tuple(alone))
        size = len(self.rows)
        self.inverse = [
            [1 / self.patterns[row][self.rows[row]] if row == column else 0.0 for column in range(size)] for row in range(size)
        ]
        self.use = [counts[index] * self.inverse[row][row] for row, index in enumerate(self.rows)]
        self.least = 0.0

    def bound(self) -> int:
        """Return the least number of bars that the programme allows, rounded up; the patterns in use stay in `patterns`."""
        size = len(self.rows)
        for _ in range(_MOST_COLUMNS):
            prices = [sum(self.inverse[row][column] for row in range(size)) for column in range(size)]
            spread = [0.0] * len(self.sizes)
            for place, index in enumerate(self.rows):
                spread[index] = prices[place]
            pattern = _knapsack(spread, self.sizes, self.counts, self.bar)
            worth = sum(spread[index] * pattern[index] for index in self.rows)
            total = sum(self.use)
            # No plan is under the present one divided by the best price of a bar.
            self.least = max(self.least, total / max(worth, 1.0))
            if worth <= 1 + _NOISE or not self._enter(pattern):
                break
        whole = int(self.least)
        return whole if self.least - whole < _NOISE * (1 + whole) else whole + 1

    def _enter(self, pattern: Pattern) -> bool:
        """Take a pattern into the basis; False where none leaves for it."""
        size = len(self.rows)
        column = [sum(self.inverse[row][place] * pattern[index] for place, index in enumerate(self.rows)) for row in range(size)]
        ratios = [(self.use[row] / column[row], row) for row in range(size) if column[row] > _NOISE]
        if not ratios:
            return False
        step, leaves = min(ratios)
        pivot = column[leaves]
        self.inverse[leaves] = [entry / pivot for entry in self.inverse[leaves]]
        for row in range(size):
            if row != leaves and column[row]:
                factor, of = column[row], self.inverse[leaves]
                self.inverse[row] = [entry - factor * other for entry, other in zip(self.inverse[row], of, strict=True)]
                self.use[row] = max(0.0, self.use[row] - step * factor)
        self.use[leaves] = step
        self.patterns[leaves] = pattern
        return True


def _dive(sizes: Sequence[int], counts: Sequence[int], bar: int, skip: int) -> list[Pattern]:
    """Return a plan that takes the whole part of each pattern's use, again and again, and then the pattern used most."""
    left, plan = list(counts), []
    while any(left):
        columns = _Columns(sizes, left, bar)
        columns.bound()
        ranked = sorted(zip(columns.use, columns.patterns, strict=True), reverse=True)
        taken = [(int(use + _NOISE), pattern) for use, pattern in ranked if int(use + _NOISE)]
        if not taken:
            taken = [(1, ranked[min(skip, len(ranked) - 1)][1])]
            skip = 0
        for times, pattern in taken:
            for _ in range(times):
                cut = tuple(min(have, of) for have, of in zip(left, pattern, strict=True))
                if any(cut):
                    plan.append(cut)
                    left = [have - of for have, of in zip(left, cut, strict=True)]
    return plan


def _search(sizes: Sequence[int], counts: Sequence[int], bar: int, most: int, bound: int) -> tuple[list[Pattern] | None, bool]:
    """Return a plan of at most so many bars, None for none; and whether the search went to its end, which proves there is none.

    Depth first: each bar takes the longest part left and, beside it, each maximal filling.
    """
    nodes, plan = 0, []
    seen: set[tuple[int, tuple[int, ...]]] = set()

    def go(left: tuple[int, ...], bars: int) -> bool:
        nonlocal nodes
        if not any(left):
            return True
        total = sum(size * count for size, count in zip(sizes, left, strict=True))
        if -(-total // bar) > bars or (bars, left) in seen:
            return False
        seen.add((bars, left))
        for pattern in _maximal(sizes, left, bar):
            nodes += 1
            if nodes > _MOST_NODES:
                return False
            plan.append(pattern)
            if go(tuple(have - of for have, of in zip(left, pattern, strict=True)), bars - 1):
                return True
            plan.pop()
        return False

    for bars in range(bound, most + 1):
        plan.clear()
        seen.clear()
        if go(tuple(counts), bars):
            return plan.copy(), True
        if nodes > _MOST_NODES:
            return None, False
    return None, True


def _maximal(sizes: Sequence[int], left: Sequence[int], bar: int) -> list[Pattern]:
    """Return the fillings of one bar that hold its longest part left and to which nothing can be added, the fullest first."""
    first = next(index for index, count in enumerate(left) if count)
    found: list[tuple[int, Pattern]] = []
    taken = [0] * len(sizes)
    taken[first] = 1

    def go(index: int, room: int) -> None:
        if len(found) > _MOST_NODES:
            return
        if index == len(sizes):
            if all(size > room for size, have, of in zip(sizes, left, taken, strict=True) if have > of):
                found.append((room, tuple(taken)))
            return
        base = taken[index]
        for count in range(min(left[index] - base, room // sizes[index]), -1, -1):
            taken[index] = base + count
            go(index + 1, room - count * sizes[index])
        taken[index] = base

    go(first, bar - sizes[first])
    return [pattern for _, pattern in sorted(found, key=lambda item: (item[0], tuple(-count for count in item[1])))]
