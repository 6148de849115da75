"""The best-valued guillotine layout of a bin with any number of copies of each item.

The dynamic program of P. C. Gilmore and R. E. Gomory ("The theory and computation of knapsack
functions", Operations Research 14, 1966; cited from memory) over the sizes that sums of item sizes
can reach. Dropping the limit on copies can only raise a value, so the result bounds what a real
layout is worth. All values are whole numbers.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from cutlist.nesting.bounds.grown import Grown
    from cutlist.nesting.parameters import BoundParameters


@njit(cache=True, nogil=True)
def _fill(
    value: NDArray[np.int64],
    across: NDArray[np.int64],
    xs: NDArray[np.int64],
    ys: NDArray[np.int64],
    left_x: NDArray[np.int32],
    left_y: NDArray[np.int32],
) -> None:
    """Raise ``value`` (and ``across``, its transpose) to the best over all guillotine cuts.

    ``left_x[i, a]`` is the index of the largest size not above ``xs[i] - xs[a]``.
    """
    for i in range(xs.size):
        for j in range(ys.size):
            best = value[i, j]
            a = 1
            while a < xs.size and 2 * xs[a] <= xs[i]:
                here = across[j, a] + across[j, left_x[i, a]]
                if here > best:
                    best = here
                a += 1
            a = 1
            while a < ys.size and 2 * ys[a] <= ys[j]:
                here = value[i, a] + value[i, left_y[j, a]]
                if here > best:
                    best = here
                a += 1
            value[i, j] = best
            across[j, i] = best


@dataclass(frozen=True, slots=True)
class Orientations:
    """Every way that an item can lie: arrays of lengths, widths and item numbers."""

    lengths: NDArray[np.int64]
    widths: NDArray[np.int64]
    items: NDArray[np.int64]


class Patterns:
    """Values bins at given weights of the items.

    Parameters
    ----------
    grown
        The problem.
    parameters
        ``work`` is the largest number of elementary steps for one valuation. Where the problem
        would need more, all sizes are divided by a whole number and rounded down, which can only
        make more fit.
        Where even that is not enough, ``usable`` is False.
    """

    def __init__(self, grown: Grown, parameters: BoundParameters = USUAL_NESTING.bounds) -> None:
        work, longest = parameters.work, parameters.longest
        self.step = 1
        coarsest = int(min(grown.lengths.min(), grown.widths.min()))
        while True:
            self._build(grown, self.step)
            nx, ny = self.xs.size, self.ys.size
            self.usable = nx * ny * (nx + ny) / 4 <= work and max(nx, ny) <= longest
            if self.usable or self.step >= coarsest:
                break
            self.step = min(coarsest, self.step + max(1, self.step // 4))
        self.left_x = _left_over(self.xs)
        self.left_y = _left_over(self.ys)

    def _build(self, grown: Grown, step: int) -> None:
        """Lay out the grid of sizes, everything divided by ``step``."""
        lengths, widths = grown.lengths // step, grown.widths // step
        free = grown.turnable
        items = np.arange(lengths.size)
        self.lies = Orientations(
            np.concatenate([lengths, widths[free]]),
            np.concatenate([widths, lengths[free]]),
            np.concatenate([items, items[free]]),
        )
        bin_x, bin_y = grown.bin_lengths // step, grown.bin_widths // step
        self.xs = _sums(self.lies.lengths, self.lies.items, grown.counts, int(bin_x.max()))
        self.ys = _sums(self.lies.widths, self.lies.items, grown.counts, int(bin_y.max()))
        self.bins = list(
            zip(
                (np.searchsorted(self.xs, bin_x, side="right") - 1).tolist(),
                (np.searchsorted(self.ys, bin_y, side="right") - 1).tolist(),
                strict=True,
            )
        )

    def value(self, weights: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return the best total weight for every size of the grid."""
        value = np.zeros((self.xs.size, self.ys.size), dtype=np.int64)
        lies = self.lies
        inside = (lies.lengths <= self.xs[-1]) & (lies.widths <= self.ys[-1])
        at_x = np.searchsorted(self.xs, lies.lengths[inside])
        at_y = np.searchsorted(self.ys, lies.widths[inside])
        np.maximum.at(value, (at_x, at_y), weights[lies.items[inside]])
        np.maximum.accumulate(value, axis=0, out=value)
        np.maximum.accumulate(value, axis=1, out=value)
        self._single = value.copy()
        _fill(value, value.T.copy(), self.xs, self.ys, self.left_x, self.left_y)
        return value

    def layout(
        self, value: NDArray[np.int64], weights: NDArray[np.int64], bin_: int
    ) -> NDArray[np.int64]:
        """Return how many copies of each item make up the value of a bin."""
        counts = np.zeros(weights.size, dtype=np.int64)
        todo = [self.bins[bin_]]
        while todo:
            i, j = todo.pop()
            worth = value[i, j]
            if worth == 0:
                continue
            if worth == self._single[i, j]:
                lies = self.lies
                fits = (lies.lengths <= self.xs[i]) & (lies.widths <= self.ys[j])
                found = np.flatnonzero(fits & (weights[lies.items] == worth))[0]
                counts[lies.items[found]] += 1
                continue
            a = np.arange(1, np.searchsorted(self.xs, self.xs[i] // 2, side="right"))
            hit = a[value[a, j] + value[self.left_x[i, a], j] == worth]
            if hit.size:
                todo += [(int(hit[0]), j), (int(self.left_x[i, hit[0]]), j)]
                continue
            a = np.arange(1, np.searchsorted(self.ys, self.ys[j] // 2, side="right"))
            hit = a[value[i, a] + value[i, self.left_y[j, a]] == worth]
            todo += [(i, int(hit[0])), (i, int(self.left_y[j, hit[0]]))]
        return counts


def _sums(
    sizes: NDArray[np.int64],
    items: NDArray[np.int64],
    counts: NDArray[np.int64],
    limit: int,
) -> NDArray[np.int64]:
    """Return the sums up to ``limit``, ascending from 0, that panels can make in a row."""
    most: dict[int, int] = {}
    for size, item in zip(sizes.tolist(), items.tolist(), strict=True):
        most[size] = most.get(size, 0) + int(counts[item])
    mask = (1 << (limit + 1)) - 1
    reached = 1
    for size, count in most.items():
        for _ in range(min(count, limit // size if size else 0)):
            before = reached
            reached |= (reached << size) & mask
            if reached == before:
                break
    bits = np.frombuffer(reached.to_bytes(limit // 8 + 1, "little"), dtype=np.uint8)
    return np.flatnonzero(np.unpackbits(bits, bitorder="little")).astype(np.int64)


def _left_over(sizes: NDArray[np.int64]) -> NDArray[np.int32]:
    """Return, for each size and each part taken from it, the index of the size that remains."""
    left = np.searchsorted(sizes, sizes[:, None] - sizes[None, :], side="right") - 1
    return np.maximum(left, 0).astype(np.int32)
