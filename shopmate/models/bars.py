"""Cutting parts from the fewest bars: a lower bound, a plan by column generation, an exhaustive search for small jobs."""

from __future__ import annotations

from collections.abc import Sequence

from shopmate.records import dataclass

_MOST_NODES = 300_000
"""Maximum steps for all knapsacks of a job, and again for its search; beyond that the plan is not proved best (our choice). No
Threshold needed: it limits the time to about half a second."""

_A_KNAPSACK, _A_CLOSE_LOOK = 1_000, 30_000
"""Steps allowed for one knapsack, and for one that has to prove no pattern has a better price (our choice). No Threshold needed:
it bounds the time."""

_MOST_COLUMNS = 400
"""Patterns made before the current bound is accepted (our choice). No Threshold needed: it limits the time."""

_NOISE = 1e-7
"""Prices that differ by less count as equal. No Threshold needed: it covers floating-point rounding noise."""

_DIVES = 4
"""How many rounded plans are tried before the search (our choice). No Threshold needed: it bounds the time."""

Pattern = tuple[int, ...]
"""How many of each part are cut from one bar."""


class _Budget:
    """The number of steps a search may still make."""

    __slots__ = ("left",)

    def __init__(self, left: int) -> None:
        self.left = left


@dataclass(frozen=True, slots=True)
class Cut:
    """A plan: what is cut from each bar, and how many bars every plan needs."""

    patterns: tuple[Pattern, ...]
    bound: int
    """Minimum number of bars for any plan."""


def least_bars(sizes: Sequence[int], counts: Sequence[int], bar: int) -> Cut:
    """Return a plan for `counts` parts of `sizes` cut from bars of one length; whole units, the saw cut included.

    Sizes come longest first, none longer than the bar. The bound comes from a linear programme over patterns, with prices from
    a knapsack. The plan rounds its solution down until nothing is left; for small jobs the search is exhaustive.
    """
    counts = tuple(counts)
    if not any(counts):
        return Cut((), 0)
    budget = _Budget(_MOST_NODES)
    bound = _Columns(sizes, counts, bar, budget).bound()
    best = _longest_first(sizes, counts, bar)
    for skip in range(min(_DIVES, len(sizes) + 1)):
        if len(best) <= bound or budget.left <= 0:
            break
        dived = _dive(sizes, counts, bar, skip, budget)
        best = min(best, dived, key=len)
    if len(best) > bound:
        searched, ended = _search(sizes, counts, bar, len(best) - 1, bound)
        if searched is not None:
            best = searched
        elif ended:
            bound = len(best)
    return Cut(tuple(best), bound)


def least_beside(sizes: Sequence[int], counts: Sequence[int], bar: int, offcuts: Sequence[int]) -> int:
    """Return the minimum number of new bars for any plan that may also use offcuts of these lengths.

    At the prices of the bound without offcuts: (total demand − the part the offcuts can hold) / what one bar can hold.
    """
    if not any(counts):
        return 0
    columns = _Columns(sizes, counts, bar, _Budget(_MOST_NODES))
    columns.bound()
    prices = columns.prices
    most = {room: _knapsack(prices, sizes, counts, room, _A_KNAPSACK)[1] for room in {*offcuts, bar}}
    demand = sum(price * count for price, count in zip(prices, counts, strict=True)) - sum(most[room] for room in offcuts)
    return max(0, _next_whole(demand / max(most[bar], 1.0)))


def _next_whole(least: float) -> int:
    """Return the number rounded up to a whole one, ignoring the noise of floats."""
    whole = int(least)
    return whole if least - whole < _NOISE * (1 + whole) else whole + 1


def best_fill(sizes: Sequence[int], counts: Sequence[int], bar: int) -> Pattern:
    """Return the pattern that leaves the shortest offcut of one bar."""
    return _knapsack([float(size) for size in sizes], sizes, counts, bar, _A_CLOSE_LOOK)[0]


def _longest_first(sizes: Sequence[int], counts: Sequence[int], bar: int) -> list[Pattern]:
    """Return the plan a person would make by hand: always cut the longest part that still fits."""
    left, plan = list(counts), []
    while any(left):
        room, pattern = bar, [0] * len(sizes)
        for index, size in enumerate(sizes):
            pattern[index] = min(left[index], room // size)
            room -= pattern[index] * size
            left[index] -= pattern[index]
        plan.append(tuple(pattern))
    return plan


def _knapsack(
    prices: Sequence[float], sizes: Sequence[int], counts: Sequence[int], bar: int, most: int
) -> tuple[Pattern, float, int]:
    """Return the best-priced pattern that fits one bar, a price no pattern exceeds, and the steps made.

    Branch and bound by price per length; branches not reached within `most` steps count at their bound.
    """
    order = sorted((index for index in range(len(sizes)) if prices[index] > _NOISE), key=lambda i: -prices[i] / sizes[i])
    best, best_price, ceiling = [0] * len(sizes), 0.0, 0.0
    taken = [0] * len(sizes)
    nodes = 0

    def go(place: int, room: int, price: float) -> None:
        nonlocal best, best_price, ceiling, nodes
        if price > best_price + _NOISE:
            best, best_price = taken.copy(), price
        if place == len(order):
            return
        index = order[place]
        bound = price + room * prices[index] / sizes[index]
        if bound <= best_price + _NOISE:
            return
        if nodes >= most:
            ceiling = max(ceiling, bound)
            return
        nodes += 1
        for count in range(min(counts[index], room // sizes[index]), -1, -1):
            taken[index] = count
            go(place + 1, room - count * sizes[index], price + count * prices[index])
        taken[index] = 0

    go(0, bar, 0.0)
    return tuple(best), max(best_price + _NOISE, ceiling), nodes


class _Columns:
    """The linear programme over patterns, by column generation: fewest bars whose patterns cover the demand."""

    def __init__(self, sizes: Sequence[int], counts: Sequence[int], bar: int, budget: _Budget) -> None:
        self.sizes, self.counts, self.bar, self.budget = sizes, counts, bar, budget
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
        self.prices: list[float] = [0.0] * len(sizes)
        """Price of each size at the latest bound."""

    def bound(self) -> int:
        """Return the programme's lower bound on bars, rounded up; the patterns in use stay in `patterns`."""
        size = len(self.rows)
        for _ in range(_MOST_COLUMNS):
            spread = [0.0] * len(self.sizes)
            for place, index in enumerate(self.rows):
                spread[index] = max(0.0, sum(self.inverse[row][place] for row in range(size)))
            self.prices = spread
            pattern = self._best_priced(spread)
            if pattern is None or not self._enter(pattern):
                break
        return _next_whole(self.least)

    def _best_priced(self, prices: Sequence[float]) -> Pattern | None:
        """Return a pattern worth more than one bar, None where none is found; raise the lower bound from the prices.

        If no pattern exceeds price p, every plan needs at least (price of the whole demand) / p bars (Farley [memory]).
        """
        whole = sum(price * count for price, count in zip(prices, self.counts, strict=True))
        for most in (_A_KNAPSACK, _A_CLOSE_LOOK):
            if self.budget.left <= 0:
                return None
            pattern, ceiling, nodes = _knapsack(prices, self.sizes, self.counts, self.bar, most)
            self.budget.left -= nodes
            self.least = max(self.least, whole / max(ceiling, 1.0))
            if sum(price * count for price, count in zip(prices, pattern, strict=True)) > 1 + 2 * _NOISE:
                return pattern
            if nodes < most:
                return None
        return None

    def _enter(self, pattern: Pattern) -> bool:
        """Bring a pattern into the basis; False where no other can leave."""
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


def _dive(sizes: Sequence[int], counts: Sequence[int], bar: int, skip: int, budget: _Budget) -> list[Pattern]:
    """Return a plan that rounds each pattern's use down to whole bars, solves again for what is left, and repeats."""
    left = list(counts)
    plan: list[Pattern] = []
    while any(left):
        if budget.left <= 0:
            return plan + _longest_first(sizes, left, bar)
        columns = _Columns(sizes, left, bar, budget)
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
    """Return a plan of no more than `most` bars, or None, and whether the search finished; None then proves there is none.

    Depth first: each bar gets the longest part left, with every filling that has no room for another part.
    """
    budget = _Budget(_MOST_NODES)
    plan: list[Pattern] = []
    seen: set[tuple[int, tuple[int, ...]]] = set()

    def go(left: tuple[int, ...], bars: int) -> bool:
        if not any(left):
            return True
        total = sum(size * count for size, count in zip(sizes, left, strict=True))
        if -(-total // bar) > bars or (bars, left) in seen:
            return False
        seen.add((bars, left))
        for pattern in _maximal(sizes, left, bar, budget):
            if budget.left <= 0:
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
        if budget.left <= 0:
            return None, False
    return None, True


def _maximal(sizes: Sequence[int], left: Sequence[int], bar: int, budget: _Budget) -> list[Pattern]:
    """Return every filling of one bar that has the longest part left and no room for another, fullest first.

    Some are missing if the budget runs out; the caller has to check it.
    """
    first = next(index for index, count in enumerate(left) if count)
    rest = [index for index in range(first, len(sizes)) if left[index]]
    found: list[tuple[int, Pattern]] = []
    taken = [0] * len(sizes)
    taken[first] = 1

    def go(place: int, room: int, passed: int) -> None:
        """Fill from size number `place` onwards; `passed` is the shortest part left out, which must not fit at the end."""
        budget.left -= 1
        if budget.left <= 0:
            return
        if place == len(rest):
            if room < passed:
                found.append((room, tuple(taken)))
            return
        index = rest[place]
        base = taken[index]
        have = left[index] - base
        for count in range(min(have, room // sizes[index]), -1, -1):
            taken[index] = base + count
            go(place + 1, room - count * sizes[index], passed if count == have else min(passed, sizes[index]))
        taken[index] = base

    go(0, bar - sizes[first], bar + 1)
    return [pattern for _, pattern in sorted(found, key=lambda item: (item[0], tuple(-count for count in item[1])))]
