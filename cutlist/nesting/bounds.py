"""Lower bounds on what any plan of a problem must use."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
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


def lower_bound(problem: Problem) -> Bound:
    """Bound cost and sheets by area, every item and every bin being one kerf larger.

    Where the stock cannot suffice, the bound is what the whole stock costs.
    """
    kerf = problem.kerf
    need = sum((i.length + kerf) * (i.width + kerf) * i.qty for i in problem.items)
    areas = [((b.length + kerf) * (b.width + kerf), b) for b in problem.bins]
    cost = Fraction(0)
    left = need
    for area, bin_ in sorted(areas, key=lambda pair: Fraction(pair[1].cost, pair[0])):
        if left <= 0:
            break
        most = Fraction(left, area)
        used = most if bin_.available is None else min(most, Fraction(bin_.available))
        cost += used * bin_.cost
        left -= ceil(used * area)
    sheets = 0
    left = need
    for area, bin_ in sorted(areas, key=lambda pair: (pair[1].cost > 0, -pair[0])):
        if left <= 0:
            break
        most_whole = -(-left // area)
        count = most_whole if bin_.available is None else min(most_whole, bin_.available)
        sheets += count if bin_.cost > 0 else 0
        left -= count * area
    return Bound(ceil(cost), sheets)
