"""The compiled search with the arrays that it needs from call to call."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.filling import draw
from cutlist.nesting.kernels.pool import Pool
from cutlist.nesting.kernels.records import Copies
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import Longs
    from cutlist.nesting.kernels.state import State
    from cutlist.nesting.kernels.tables import Tables
    from cutlist.nesting.parameters import EngineParameters
    from cutlist.nesting.step_parameters import SheetStepParameters

_NEVER = 1 << 62


class Engine:
    """Runs the kernel on one problem's tables with one stream of random numbers.

    Parameters
    ----------
    tables
        The problem.
    seed
        Any whole number; equal seeds and steps give equal states.
    worth
        What a panel of each item counts while it waits; its area by default. May be replaced.
    parameters
        What it is tuned by.
    """

    def __init__(
        self,
        tables: Tables,
        seed: int,
        worth: Longs | None = None,
        parameters: EngineParameters = USUAL_NESTING.engine,
    ) -> None:
        self.tables = tables
        self.parameters = parameters
        self.worth = tables.types[:, 3].copy() if worth is None else worth
        self.pool = Pool.empty(tables, parameters.pool_sheets, parameters.pool_rows)
        self.steps = 0
        self._rng = np.array([(seed * 0x9E3779B97F4A7C15 + 0x1234567) % 2**64 or 1], np.uint64)
        for _ in range(8):
            draw(self._rng, 2)
        self._kept = Copies(
            np.empty((0, 0, nodes.FIELDS), np.int32), np.empty((0, nodes.METAS), np.int64)
        )

    def search(self, state: State, steps: int, step: SheetStepParameters | None = None) -> None:
        """Search for so many steps, fewer where the aim is met; ``step`` may be an unusual one."""
        if state.run[kernel.AIM] != kernel.PLACE_ALL and self._kept.tree.shape != state.tree.shape:
            self._kept = Copies(np.empty_like(state.tree), np.full_like(state.meta, -1))
        before = int(state.run[kernel.STEP])
        kernel.search(
            state.sheets,
            self.tables.sizes,
            self.worth,
            state.wait,
            state.walk,
            step or self.parameters.step,
            self._kept,
            self.pool,
            self._rng,
            steps,
        )
        self.steps += int(state.run[kernel.STEP]) - before

    def weigh(self, state: State) -> None:
        """Value what waits anew, and forget what was accepted before."""
        mark = int(self.worth[state.wait[: state.run[kernel.WAITING]]].sum())
        self._restart(state, mark)

    def forget(self, state: State) -> None:
        """Accept whatever comes next."""
        self._restart(state, _NEVER)

    def _restart(self, state: State, mark: int) -> None:
        state.run[kernel.MARK] = state.run[kernel.BEST] = mark
        state.history[:] = mark
        self._kept.meta[:] = -1

    def kept(self, state: State) -> State | None:
        """Return the best state kept since ``forget`` or ``weigh``.

        Its cost, the stock left and the panels that wait are counted anew.
        """
        if (self._kept.meta[:, nodes.BIN] < 0).all() or self._kept.meta.shape != state.meta.shape:
            return None
        found = state.copy()
        found.tree[:] = self._kept.tree
        found.meta[:] = self._kept.meta
        used = [int(b) for b in found.meta[:, nodes.BIN] if b >= 0]
        found.count_cost(self.tables)
        found.left[:] = self.tables.stock - np.bincount(used, minlength=len(self.tables.stock))
        need = self.tables.demand.copy()
        for slot in np.flatnonzero(found.meta[:, nodes.BIN] >= 0):
            np.subtract.at(need, found.kinds_on(int(slot)), 1)
        waiting = np.repeat(np.arange(len(need), dtype=np.int32), need)
        found.wait[: len(waiting)] = waiting
        found.run[kernel.WAITING] = len(waiting)
        return found
