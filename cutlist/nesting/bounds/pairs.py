"""Covering rows from pairs of superadditive functions, one along each axis."""

from __future__ import annotations

from copy import copy
from math import isqrt
from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.bounds.cover import CoverRow
from cutlist.nesting.bounds.superadditive import table

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from cutlist.nesting.bounds.grown import Grown
    from cutlist.nesting.parameters import PairParameters

_EXACT = float(2**53)
"""Whole numbers below this are exact in the floating-point products."""


def _most_parameters(tuned: PairParameters, sizes: int) -> int:
    """Return how many parameters to try of each family, given the number of sizes."""
    most, least = tuned.most_parameters, tuned.least_parameters
    return min(most, max(least, tuned.cells // (4 * max(1, sizes))))


def _most_functions(tuned: PairParameters, items: int) -> int:
    """Return how many functions to keep along each axis, given the number of items."""
    wanted = isqrt(40 * tuned.cells // max(1, items))
    return min(tuned.functions, max(tuned.least_functions, wanted))


def pair_rows(grown: Grown, keep: int, tuned: PairParameters) -> list[CoverRow]:
    """Return the strongest rows, at most ``keep`` for cost and as many for the number of bins.

    Parameters
    ----------
    grown
        A feasible problem with at least one item.
    keep
        Number of rows wanted.
    tuned
        How much to try.

    Returns
    -------
    list[CoverRow]
        The first is the area, after it the strongest ones.
    """
    along = _AxisFunctions(grown, grown.lengths, grown.widths, grown.bin_lengths, tuned)
    across = _AxisFunctions(grown, grown.widths, grown.lengths, grown.bin_widths, tuned)
    along = _best(grown, along, across, tuned)
    across = _best(grown, across, along, tuned)
    totals = _totals(grown, along, across, tuned)
    # one capacity per pair and bin
    capacities = along.bins[:, None, :] * across.bins[None, :, :]
    chosen: dict[tuple[int, int], None] = {(0, 0): None}
    for costs in (grown.costs, tuple(1 if c > 0 else 0 for c in grown.costs)):
        strength = _fractional_cost(costs, grown.available, capacities, totals)
        order = np.argsort(-strength, axis=None, kind="stable")[:keep]
        for flat in order:
            chosen[divmod(int(flat), totals.shape[1])] = None
    return [CoverRow(tuple(int(v) for v in capacities[j, k]), int(totals[j, k])) for j, k in chosen]


class _AxisFunctions:
    """The functions along one axis, evaluated at item sizes and at the bins' sizes."""

    def __init__(
        self,
        grown: Grown,
        sizes: NDArray[np.int64],
        other: NDArray[np.int64],
        bins: NDArray[np.int64],
        tuned: PairParameters,
    ) -> None:
        base = int(bins.max())
        turned = np.where(grown.turnable, other, sizes)
        x, back = np.unique(np.concatenate([sizes, turned, bins]), return_inverse=True)
        # a size beyond the base never lies along this axis; its value is not used
        most = _most_parameters(tuned, x.size)
        lying = {int(s) for s in (*sizes, *turned)}
        values = table(np.minimum(x, base), base, lying, tuned.small, most)
        n = len(sizes)
        values = values[values.max(axis=1) < 2**40].astype(np.float64)
        self.straight = values[:, back[:n]]
        self.turned = values[:, back[n : 2 * n]]
        self.bins = values[:, back[2 * n :]]

    def only(self, index: NDArray[np.intp]) -> _AxisFunctions:
        """Return the functions of these numbers alone."""
        part = copy(self)
        part.straight, part.turned = self.straight[index], self.turned[index]
        part.bins = self.bins[index]
        return part


def _best(
    grown: Grown, one: _AxisFunctions, other: _AxisFunctions, tuned: PairParameters
) -> _AxisFunctions:
    """Keep the functions of ``one`` that do best with a sample of those across; the first stays."""
    most = _most_functions(tuned, grown.counts.size)
    if len(one.bins) <= most:
        return one
    sample = np.unique(np.linspace(0, len(other.bins) - 1, tuned.sample).astype(np.intp))
    probe = other.only(sample)
    full = np.outer(one.bins.max(axis=1), probe.bins.max(axis=1))
    strength = (_totals(grown, one, probe, tuned) / full).max(axis=1)
    order = np.argsort(-strength, kind="stable")[: most - 1]
    return one.only(np.concatenate([[0], np.sort(order[order != 0])]))


def _totals(
    grown: Grown, along: _AxisFunctions, across: _AxisFunctions, tuned: PairParameters
) -> NDArray[np.float64]:
    """Return the total weight of all items for each pair of functions, exactly."""
    counts = grown.counts.astype(np.float64)
    fixed = ~grown.turnable
    totals = (along.straight[:, fixed] * counts[fixed]) @ across.straight[:, fixed].T
    free = grown.turnable
    if free.any():
        a, b = along.straight[:, free], along.turned[:, free]
        c, d = across.straight[:, free], across.turned[:, free]
        q = counts[free]
        step = max(1, tuned.cells // max(1, c.size))
        for start in range(0, len(a), step):
            block = slice(start, start + step)
            least = np.minimum(
                a[block, None, :] * c[None, :, :],
                b[block, None, :] * d[None, :, :],
            )
            totals[block] += least @ q
    # a pair whose total may have been rounded proves nothing
    largest = np.outer(along.bins.max(axis=1), across.bins.max(axis=1)) * counts.sum()
    return np.where(largest < _EXACT, totals, 0.0)


def _fractional_cost(
    costs: tuple[int, ...],
    available: tuple[int | None, ...],
    capacities: NDArray[np.float64],
    totals: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Return the cost of filling up with fractions of bins, per pair; infinite where impossible."""
    price = np.array(costs, dtype=np.float64)
    limit = np.array([np.inf if a is None else a for a in available])
    with np.errstate(divide="ignore", invalid="ignore"):
        value = np.where(capacities > 0, price / capacities, np.inf)
    order = np.argsort(value, axis=2, kind="stable")
    need = totals.copy()
    spent = np.zeros_like(need)
    for rank in range(len(costs)):
        index = order[:, :, rank : rank + 1]
        capacity = np.take_along_axis(capacities, index, axis=2)[:, :, 0]
        with np.errstate(divide="ignore", invalid="ignore"):
            used = np.where(capacity > 0, need / capacity, 0.0)
        used = np.minimum(used, limit[index[:, :, 0]])
        spent += used * price[index[:, :, 0]]
        need = np.maximum(need - used * capacity, 0.0)
    return np.where(need > 1e-6 * totals, np.inf, spent)
