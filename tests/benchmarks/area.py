"""The area bound, worked out apart from the package's own bounds."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cutlist.nesting.problem import Problem


def area_bound(problem: Problem) -> int:
    """Return the cost of bins with the area of all panels, filling the best value for money first.

    Fractions of bins are allowed, and the sum is rounded up; kerf belongs to panels and bins.
    """
    kerf = problem.kerf
    need = Fraction(sum((i.length + kerf) * (i.width + kerf) * i.qty for i in problem.items))
    cost = Fraction(0)
    areas = [((b.length + kerf) * (b.width + kerf), b) for b in problem.bins]
    for area, bin_ in sorted(areas, key=lambda pair: Fraction(pair[1].cost, pair[0])):
        used = need / area
        if bin_.available is not None:
            used = min(used, Fraction(bin_.available))
        cost += used * bin_.cost
        need -= used * area
    return ceil(cost)
