"""The two figures that are proven of a problem, from its covering rows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cutlist.nesting.bounds.cover import CoverRow, cheapest
from cutlist.nesting.bounds.grown import Grown, grow
from cutlist.nesting.bounds.pairs import pair_rows
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.nesting.parameters import BoundParameters
    from cutlist.nesting.problem import Problem


@dataclass(frozen=True, slots=True)
class Bound:
    """What is proven of a problem.

    Parameters
    ----------
    cost
        No guillotine layout of all items costs less.
    sheets
        No guillotine layout of all items uses fewer bins that cost something.
    """

    cost: int
    sheets: int


def lower_bound(problem: Problem, parameters: BoundParameters = USUAL_NESTING.bounds) -> Bound:
    """Bound cost and sheets within some milliseconds.

    Where the stock is proven not to suffice, the bound is what the whole stock costs, bins without
    limit left out; no layout holds all items, so that any figure is true.
    """
    grown = grow(problem)
    if grown.counts.size == 0:
        return Bound(0, 0)
    if not grown.feasible:
        return whole_stock(grown)
    rows = pair_rows(grown, parameters.quick_rows, parameters.quick)
    return bound_of(grown, rows, nodes=parameters.quick_nodes)


def bound_of(grown: Grown, rows: Sequence[CoverRow], nodes: int) -> Bound:
    """Return the bound that follows from ``rows``; ``nodes`` limits the search."""
    cost = cheapest(grown.costs, grown.available, rows, nodes)
    paid = [1 if c > 0 else 0 for c in grown.costs]
    sheets = cheapest(paid, grown.available, rows, nodes)
    if cost is None or sheets is None:
        return whole_stock(grown)
    return Bound(cost, sheets)


def whole_stock(grown: Grown) -> Bound:
    """Return what all bins of limited number cost together."""
    limited = [(c, a) for c, a in zip(grown.costs, grown.available, strict=True) if a is not None]
    return Bound(sum(c * a for c, a in limited), sum(a for c, a in limited if c > 0))
