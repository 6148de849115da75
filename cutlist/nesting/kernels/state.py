"""The arrays that a compiled search works on, made from a problem."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.kernels import nodes

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from cutlist.nesting.problem import Problem

UNLIMITED = 1 << 40
_NEVER = 1 << 62


@dataclass(frozen=True, slots=True)
class Tables:
    """What does not change during a search.

    Parameters
    ----------
    types
        Per item: extents with one kerf added, 1 where turnable, area.
    bins
        Per bin: extents with one kerf added, trim, cost.
    stock
        Per bin: how many there are.
    blade
        Longest extent within reach (0: no limit), kerf.
    demand
        Per item: its quantity.
    """

    types: NDArray[np.int64]
    bins: NDArray[np.int64]
    stock: NDArray[np.int64]
    blade: NDArray[np.int64]
    demand: NDArray[np.int64]

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
        bins = [(b.length + kerf, b.width + kerf, b.trim, b.cost) for b in problem.bins]
        stock = [UNLIMITED if b.available is None else b.available for b in problem.bins]
        limit = 0 if problem.reach is None else problem.reach + kerf
        return cls(
            np.array(types, np.int64).reshape(-1, 4),
            np.array(bins, np.int64).reshape(-1, 4),
            np.array(stock, np.int64),
            np.array([limit, kerf], np.int64),
            np.array([i.qty for i in problem.items], np.int64),
        )

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

    def waiting(self) -> NDArray[np.int32]:
        """Return all panels, each as the index of its item."""
        return np.repeat(np.arange(len(self.demand), dtype=np.int32), self.demand)


@dataclass(slots=True)
class State:
    """A search between two calls of the kernel; see ``kernel.search`` for the arrays."""

    tree: NDArray[np.int32]
    meta: NDArray[np.int64]
    left: NDArray[np.int64]
    purse: NDArray[np.int64]
    wait: NDArray[np.int32]
    run: NDArray[np.int64]
    history: NDArray[np.int64]

    @classmethod
    def empty(cls, tables: Tables, slots: int, memory: int) -> State:
        """Return a state in which every panel waits and at most ``slots`` sheets can be open."""
        cap = tables.node_cap()
        wait = tables.waiting()
        meta = np.full((slots, nodes.METAS), -1, np.int64)
        run = np.zeros(kernel.RUNS, np.int64)
        run[kernel.WAITING] = len(wait)
        run[kernel.MARK] = run[kernel.BEST] = _NEVER
        return cls(
            np.full((slots, cap, nodes.FIELDS), -1, np.int32),
            meta,
            tables.stock.copy(),
            np.array([0, _NEVER], np.int64),
            wait,
            run,
            np.full(memory, _NEVER, np.int64),
        )

    @property
    def complete(self) -> bool:
        """Say whether every panel lies on a sheet."""
        return bool(self.run[kernel.WAITING] == 0)

    @property
    def cost(self) -> int:
        """Return the cost of the open sheets."""
        return int(self.purse[0])

    def copy(self) -> State:
        """Return an independent copy."""
        return State(
            self.tree.copy(),
            self.meta.copy(),
            self.left.copy(),
            self.purse.copy(),
            self.wait.copy(),
            self.run.copy(),
            self.history.copy(),
        )

    def compacted(self, tables: Tables, slots: int) -> State:
        """Return a copy whose open sheets come first, with room for ``slots`` sheets."""
        open_slots = np.flatnonzero(self.meta[:, nodes.BIN] >= 0)
        fresh = State.empty(tables, max(slots, len(open_slots)), len(self.history))
        fresh.tree[: len(open_slots)] = self.tree[open_slots]
        fresh.meta[: len(open_slots)] = self.meta[open_slots]
        fresh.left[:] = self.left
        fresh.purse[:] = self.purse
        fresh.wait[:] = self.wait
        fresh.run[:] = self.run
        fresh.history[:] = self.history
        return fresh

    def aim_at(self, budget: int, tables: Tables) -> None:
        """Lower the budget, closing sheets until it is kept; their panels wait.

        Of the sheets whose closing suffices, the one with the least on it for its cost goes; where
        none suffices alone, the dearest goes first.
        """
        self.purse[1] = budget
        queue = list(self.wait[: self.run[kernel.WAITING]])
        while self.purse[0] > budget:
            excess = int(self.purse[0]) - budget
            slot = min(self._open(), key=lambda s: self._closing_rank(s, excess, tables))
            which = int(self.meta[slot, nodes.BIN])
            queue.extend(self.kinds_on(slot))
            self.meta[slot, nodes.BIN] = -1
            self.left[which] += 1
            self.purse[0] -= tables.bins[which, 3]
        self.run[kernel.WAITING] = len(queue)
        self.wait[: len(queue)] = queue

    def _open(self) -> list[int]:
        return [int(s) for s in np.flatnonzero(self.meta[:, nodes.BIN] >= 0)]

    def _closing_rank(self, slot: int, excess: int, tables: Tables) -> tuple[int, int, int]:
        cost = int(tables.bins[int(self.meta[slot, nodes.BIN]), 3])
        used = int(tables.types[self.kinds_on(slot), 3].sum())
        return (0, used, slot) if cost >= excess else (1, -cost, slot)

    def kinds_on(self, slot: int) -> list[int]:
        """Return the items of the panels on a sheet, one entry each."""
        rows = self.tree[slot, : self.meta[slot, nodes.TOP]]
        return [int(k) for k in rows[rows[:, nodes.KIND] == nodes.ITEM, nodes.ANGLE]]
