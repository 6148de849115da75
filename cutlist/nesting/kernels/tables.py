"""A problem as arrays: what does not change during a search."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.kernels.records import Blade, Sizes

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import Ints, Longs
    from cutlist.nesting.problem import Problem

_UNLIMITED = 1 << 40  # of a bin, where its number has no limit


@dataclass(frozen=True, slots=True)
class Tables:
    """The arrays of a problem.

    Parameters
    ----------
    sizes
        What the kernels know of panels, stock and saw.
    stock
        Per bin: how many there are.
    demand
        Per item: its quantity.
    """

    sizes: Sizes
    stock: Longs
    demand: Longs

    @classmethod
    def of(cls, problem: Problem) -> Tables:
        """Return the tables of a problem."""
        kerf = problem.kerf
        types = [
            (
                i.length + kerf,
                i.width + kerf,
                int(i.turnable and i.length != i.width),
                (i.length + kerf) * (i.width + kerf),
            )
            for i in problem.items
        ]
        bins = [
            (b.length + kerf, b.width + kerf, b.trim, b.cost, *(b.edges or (b.trim,) * 4))
            for b in problem.bins
        ]
        stock = [_UNLIMITED if b.available is None else b.available for b in problem.bins]
        return cls(
            Sizes(
                np.array(types, np.int64).reshape(-1, 4),
                np.array(bins, np.int64).reshape(-1, 8),
                Blade.of(problem),
            ),
            np.array(stock, np.int64),
            np.array([i.qty for i in problem.items], np.int64),
        )

    @property
    def types(self) -> Longs:
        """Per item: extents, 1 where turnable, area."""
        return self.sizes.types

    @property
    def bins(self) -> Longs:
        """Per bin: extents, trim, cost, what is unclean at either end of x and y."""
        return self.sizes.bins

    @property
    def blade(self) -> Blade:
        """The saw."""
        return self.sizes.blade

    def node_cap(self) -> int:
        """Return how many nodes a sheet needs at most."""
        room = int((self.bins[:, 0] * self.bins[:, 1]).max())
        panels = 0
        for k in np.argsort(self.types[:, 3], kind="stable"):
            area = int(self.types[k, 3])
            some = min(int(self.demand[k]), room // area)
            panels += some
            room -= some * area
            if some < self.demand[k]:
                break
        return min(6 * panels + 16, 9000)

    def waiting(self) -> Ints:
        """Return all panels, each as the index of its item."""
        return np.repeat(np.arange(len(self.demand), dtype=np.int32), self.demand)
