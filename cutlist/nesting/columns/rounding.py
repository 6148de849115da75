"""A relaxed choice of columns made whole, as far as a cost limit goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.columns.choosing import TOLERANCE
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray


def rounded(
    columns: Sequence[tuple[int, NDArray[np.int32]]],
    uses: NDArray[np.float64],
    demand: NDArray[np.int64],
    stock: NDArray[np.int64],
    costs: Sequence[int],
    areas: NDArray[np.int64],
    cost_limit: int | None = None,
    wanted: float = USUAL_NESTING.columns.wanted,
) -> list[tuple[int, int]]:
    """Return numbers of columns, and how often each, about as often as the relaxed choice uses it.

    Whole parts first; then columns with large fractions as long as most of their panels are still
    wanted and the cost limit lasts.

    Parameters
    ----------
    columns
        For each its bin and its panels of each item.
    uses
        How often the relaxed choice uses each.
    demand, areas
        Panels asked for of each item, and the area of one.
    stock, costs
        How many there are of each bin, and the cost of one.
    cost_limit
        The most that all may cost; None for no limit.
    wanted
        The share of a column's area that counts as most.
    """
    need = demand.copy()
    left = stock.copy()
    times = np.floor(uses + TOLERANCE).astype(np.int64)
    spent = 0
    for c in np.flatnonzero(times):
        which, counts = columns[int(c)]
        times[c] = min(times[c], left[which])
        if cost_limit is not None and costs[which]:
            times[c] = min(times[c], max(0, cost_limit - spent) // costs[which])
        left[which] -= times[c]
        need -= times[c] * counts
        spent += costs[which] * int(times[c])
    need = np.maximum(need, 0)
    parts = uses - times
    for c in np.argsort(-parts, kind="stable"):
        if parts[c] < TOLERANCE:
            break
        which, counts = columns[int(c)]
        dear = cost_limit is not None and spent + costs[which] > cost_limit
        if left[which] < 1 or dear:
            continue
        if int(np.minimum(need, counts) @ areas) >= wanted * int(counts @ areas):
            times[c] += 1
            left[which] -= 1
            spent += costs[which]
            need = np.maximum(need - counts, 0)
    return [(int(c), int(times[c])) for c in np.flatnonzero(times)]
