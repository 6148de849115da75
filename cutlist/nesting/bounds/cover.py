"""The cheapest bins that satisfy a set of covering inequalities.

Every bound of this package comes down to one form. Give each item a weight, and let the capacity
of a bin be at least the weight of any set of items that one such bin can hold. Then the bins of a
plan have capacities that add up to the total weight of the items or more. A :class:`CoverRow` is
one such inequality, in whole numbers, and the cheapest whole numbers of bins that satisfy all rows
bound the cost of every plan from below.
"""

from __future__ import annotations

from dataclasses import dataclass
from heapq import heappop, heappush
from math import gcd
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence


@dataclass(frozen=True, slots=True)
class CoverRow:
    """The bins' ``capacities``, times their numbers, add up to ``total`` or more."""

    capacities: tuple[int, ...]
    total: int


def cheapest(
    costs: Sequence[int],
    available: Sequence[int | None],
    rows: Sequence[CoverRow],
    nodes: int = 2000,
) -> int | None:
    """Bound the cost of bins that satisfy all rows from below.

    Parameters
    ----------
    costs, available
        Of each kind of bin; a cost is not negative, None means no limit.
    rows
        The inequalities.
    nodes
        Size of the search. When it is spent the bound found so far is returned, which may be
        below the cheapest cost but never above it.

    Returns
    -------
    int | None
        The bound; None where the stock available cannot satisfy the rows.
    """
    if len(costs) == 1:
        return _one_kind(costs[0], available[0], rows)
    # in units of the common divisor, what a row asks for is rounded up to a possible sum
    unit = gcd(*costs) or 1
    costs = [cost // unit for cost in costs]
    # dear bins are decided first, so that cheap ones are left to fill up with
    order = sorted(range(len(costs)), key=lambda b: -costs[b])
    search = _CoverSearch(
        [costs[b] for b in order],
        [available[b] for b in order],
        [[row.capacities[b] for b in order] for row in rows],
    )
    least = search.run([row.total for row in rows], nodes)
    return None if least is None else least * unit


def _one_kind(cost: int, available: int | None, rows: Sequence[CoverRow]) -> int | None:
    """Solve the case of a single kind of bin."""
    count = 0
    for row in rows:
        if row.total <= 0:
            continue
        if row.capacities[0] <= 0:
            return None
        count = max(count, -(-row.total // row.capacities[0]))
    if available is not None and count > available:
        return None
    return count * cost


class _CoverSearch:
    """Best-first search over the numbers of bins of each kind, decided in turn."""

    def __init__(
        self,
        costs: list[int],
        available: list[int | None],
        capacities: list[list[int]],
    ) -> None:
        self.costs = costs
        self.available = available
        self.capacities = capacities
        kinds = range(len(costs))
        # per row the kinds from the best value for money to the worst; free ones first
        self.by_value = [
            sorted(
                (b for b in kinds if row[b] > 0),
                key=lambda b: costs[b] / row[b],
            )
            for row in capacities
        ]

    def run(self, totals: list[int], nodes: int) -> int | None:
        """Return the least cost, or the best bound when ``nodes`` are spent."""
        start = self._rest(0, 0, totals)
        if start is None:
            return None
        serial = 0
        # (bound, serial, kind being decided, its number so far, cost so far, still needed per row)
        heap: list[tuple[int, int, int, int, int, list[int]]] = [(start, 0, 0, 0, 0, totals)]
        while heap:
            bound, _, kind, count, spent, needs = heappop(heap)
            if nodes <= 0 or kind == len(self.costs) or all(need <= 0 for need in needs):
                return bound
            nodes -= 1
            limit = self.available[kind]
            children = [(kind + 1, 0, spent, needs)]
            if limit is None or count < limit:
                more = [n - row[kind] for n, row in zip(needs, self.capacities, strict=True)]
                if any(n > m and n > 0 for n, m in zip(needs, more, strict=True)):
                    children.append((kind, count + 1, spent + self.costs[kind], more))
            for child_kind, child_count, child_spent, child_needs in children:
                rest = self._rest(child_kind, child_count, child_needs)
                if rest is not None:
                    serial += 1
                    child = (child_kind, child_count, child_spent, child_needs)
                    heappush(heap, (max(bound, child_spent + rest), serial, *child))
        return None

    def _rest(self, kind: int, count: int, needs: list[int]) -> int | None:
        """Bound what is still to be spent when kinds below ``kind`` are decided.

        Each row alone, with fractions of bins: fill up with the best value for money.
        """
        worst = 0
        for row, by_value, total in zip(self.capacities, self.by_value, needs, strict=True):
            need = total
            spent = 0
            for b in by_value:
                if need <= 0:
                    break
                if b < kind:
                    continue
                limit = self.available[b]
                if limit is not None:
                    if b == kind:
                        limit -= count
                    if limit * row[b] < need:
                        need -= limit * row[b]
                        spent += limit * self.costs[b]
                        continue
                spent += -(-self.costs[b] * need // row[b])
                need = 0
            if need > 0:
                return None
            worst = max(worst, spent)
        return worst
