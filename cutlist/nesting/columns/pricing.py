"""When the search stands still: price what it saw, generate more, dive, choose."""

from __future__ import annotations

from math import gcd
from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.columns.diving import Diver
from cutlist.nesting.columns.generation import ColumnSearch
from cutlist.nesting.columns.starting_states import state_of
from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from cutlist.nesting.columns.generation import Sheets
    from cutlist.nesting.kernels.engine import Engine
    from cutlist.nesting.kernels.state import State
    from cutlist.nesting.parameters import ColumnParameters
    from cutlist.nesting.problem import Problem


class Pricing:
    """All fillings of one problem, and attempts to make a plan of them.

    ``is_hopeless`` tells whether the last attempt found no relaxed choice within its cost limit;
    since fillings are found by a heuristic, that proves nothing.
    """

    def __init__(
        self,
        problem: Problem,
        engine: Engine,
        seed: int,
        parameters: ColumnParameters = USUAL_NESTING.columns,
    ) -> None:
        self._parameters = parameters
        self._problem = problem
        self._engine = engine
        self._columns = ColumnSearch(problem, engine.tables, parameters=parameters)
        self._rng = np.random.default_rng(seed)
        self._attempts = 0
        self.is_hopeless = False

    @staticmethod
    def suits(problem: Problem, parameters: ColumnParameters = USUAL_NESTING.columns) -> bool:
        """Say whether filling a bin is quick enough."""
        return ColumnSearch.suits(problem, parameters)

    @property
    def duals(self) -> NDArray[np.float64]:
        """Return the price of a panel of each item; all 0 before the first attempt."""
        return self._columns.duals

    def attempt(self, cost_limit: int, ended: Callable[[], bool]) -> State | None:
        """Return a state of whole fillings within the cost limit, complete if possible.

        The search's pool is emptied. None if interrupted, or where nothing was within the limit.
        """
        columns = self._columns
        columns.take(self._engine.pool)
        self._engine.pool.clear()
        before = columns.spent
        state = self._attempted(cost_limit, ended)
        self._engine.steps += columns.spent - before
        return None if state is None or state.cost > cost_limit else state

    def _attempted(self, cost_limit: int, ended: Callable[[], bool]) -> State | None:
        columns = self._columns
        settled = columns.generate(ended, cost_limit=cost_limit)
        if settled is None:
            return None
        self._attempts += 1
        best = self._state_of(columns.rounded(cost_limit))
        grain = gcd(*(b.cost for b in self._problem.bins)) or 1
        least = grain * int(np.ceil(columns.relaxed() / grain - 1e-6))
        cost_limit = cost_limit // grain * grain
        self.is_hopeless = least > cost_limit
        if not settled or self.is_hopeless or (best.complete and best.cost <= cost_limit):
            return best
        steps = (cost_limit - least) // grain
        tuned = self._parameters
        targets = sorted(
            {least + steps * n // (tuned.targets - 1) * grain for n in range(tuned.targets)}
        )
        for target in targets:
            near = None if ended() else columns.near(target, self._attempts)
            if near is None:
                continue
            chosen = columns.choose(near, target, tuned.choice_nodes, ended)
            if chosen is not None:
                return self._state_of(chosen)
            for _ in range(tuned.dives if target == targets[-1] else 1):
                if ended():
                    return best
                state = self._state_of(
                    Diver(columns, near, target, self._engine.parameters).dive(self._rng, ended)
                )
                if state.complete:
                    return state
                best = min(best, state, key=lambda one: (one.cost > cost_limit, self._waiting(one)))
        if columns.relaxed() <= cost_limit and not ended():
            columns.vary(cost_limit, self._rng, ended)
        return best

    def _state_of(self, sheets: Sheets) -> State:
        return state_of(self._engine.tables, sheets, self._engine.parameters.memory)

    def _waiting(self, state: State) -> int:
        """Return the worth of the panels on no sheet."""
        waiting = state.wait[: state.run[kernel.WAITING]]
        return int(self._engine.worth[waiting].sum())
