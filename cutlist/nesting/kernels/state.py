"""A search between two calls of the compiled kernel."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.records import LIMIT, SPENT, Sheets, Walk
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import Ints, Longs
    from cutlist.nesting.kernels.tables import Tables

_NEVER = 1 << 62


@dataclass(slots=True)
class State:
    """A search between two calls of the kernel.

    Parameters
    ----------
    sheets
        The open sheets.
    wait
        Panels on no sheet, as many as ``walk.run`` says.
    walk
        Where the search is.
    """

    sheets: Sheets
    wait: Ints
    walk: Walk

    @classmethod
    def empty(cls, tables: Tables, slots: int, memory: int = USUAL_NESTING.engine.memory) -> State:
        """Return a state in which every panel waits.

        Parameters
        ----------
        tables
            The problem.
        slots
            At most so many sheets can be open.
        memory
            Steps that late acceptance looks back.
        """
        wait = tables.waiting()
        run = np.zeros(kernel.RUNS, np.int64)
        run[kernel.WAITING] = len(wait)
        run[kernel.MARK] = run[kernel.BEST] = _NEVER
        sheets = Sheets(
            np.full((slots, tables.node_cap(), nodes.FIELDS), -1, np.int32),
            np.full((slots, nodes.METAS), -1, np.int64),
            tables.stock.copy(),
            np.array([0, _NEVER], np.int64),
        )
        return cls(sheets, wait, Walk(run, np.full(memory, _NEVER, np.int64)))

    @property
    def tree(self) -> Ints:
        """The nodes of all slots."""
        return self.sheets.tree

    @property
    def meta(self) -> Longs:
        """A row for each slot."""
        return self.sheets.meta

    @property
    def left(self) -> Longs:
        """How many of each bin are not used yet."""
        return self.sheets.left

    @property
    def run(self) -> Longs:
        """Marks and counts of the search."""
        return self.walk.run

    @property
    def history(self) -> Longs:
        """The marks of the last steps."""
        return self.walk.history

    @property
    def complete(self) -> bool:
        """Say whether every panel lies on a sheet."""
        return bool(self.run[kernel.WAITING] == 0)

    @property
    def cost(self) -> int:
        """Return the cost of the open sheets."""
        return int(self.sheets.outlay[SPENT])

    def copy(self) -> State:
        """Return an independent copy."""
        return State(
            Sheets(self.tree.copy(), self.meta.copy(), self.left.copy(), self.sheets.outlay.copy()),
            self.wait.copy(),
            Walk(self.run.copy(), self.history.copy()),
        )

    def compacted(self, tables: Tables, slots: int) -> State:
        """Return a copy whose open sheets come first, with room for ``slots`` sheets."""
        open_slots = np.flatnonzero(self.meta[:, nodes.BIN] >= 0)
        fresh = State.empty(tables, max(slots, len(open_slots)), len(self.history))
        fresh.tree[: len(open_slots)] = self.tree[open_slots]
        fresh.meta[: len(open_slots)] = self.meta[open_slots]
        fresh.left[:] = self.left
        fresh.sheets.outlay[:] = self.sheets.outlay
        fresh.wait[:] = self.wait
        fresh.run[:] = self.run
        fresh.history[:] = self.history
        return fresh

    def limit_cost(self, cost: int) -> None:
        """Let the sheets cost at most so much, those that are opened from now on."""
        self.sheets.outlay[LIMIT] = cost

    @property
    def cost_limit(self) -> int:
        """Return what the sheets may cost."""
        return int(self.sheets.outlay[LIMIT])

    def aim_at(self, cost: int, tables: Tables) -> None:
        """Lower the limit of the cost, closing sheets until it is kept; their panels wait.

        Of the sheets whose closing suffices, the one with the least on it for its cost goes; where
        none suffices alone, the dearest goes first.
        """
        self.limit_cost(cost)
        queue = list(self.wait[: self.run[kernel.WAITING]])
        while self.cost > cost:
            excess = self.cost - cost
            slot = min(self._open(), key=lambda s: self._closing_rank(s, excess, tables))
            which = int(self.meta[slot, nodes.BIN])
            queue.extend(self.kinds_on(slot))
            self.meta[slot, nodes.BIN] = -1
            self.left[which] += 1
            self.sheets.outlay[SPENT] -= tables.bins[which, 3]
        self.run[kernel.WAITING] = len(queue)
        self.wait[: len(queue)] = queue

    def count_cost(self, tables: Tables) -> None:
        """Count anew what the open sheets cost."""
        used = [int(b) for b in self.meta[:, nodes.BIN] if b >= 0]
        self.sheets.outlay[SPENT] = int(tables.bins[used, 3].sum())

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
