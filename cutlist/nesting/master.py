"""Which fillings of which bins meet the demand at least cost: relaxed, and in whole numbers."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

import numpy as np
from ortools.linear_solver import pywraplp
from ortools.sat.python import cp_model

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

_LOOK = 0.05  # seconds between two looks at the clock


class Master:
    """The relaxed choice of columns: demand met, stock kept, at least cost."""

    def __init__(
        self, demand: NDArray[np.int64], costs: Sequence[int], stock: Sequence[int | None]
    ) -> None:
        self._solver = pywraplp.Solver.CreateSolver("GLOP")
        self._objective = self._solver.Objective()
        self._objective.SetMinimization()
        infinity = self._solver.infinity()
        self._rows = [self._solver.Constraint(float(d), infinity) for d in demand]
        self._limits = [
            None if most is None else self._solver.Constraint(-infinity, float(most))
            for most in stock
        ]
        self._costs = [float(c) for c in costs]
        self._infinity = infinity
        dear = 10.0 * max([1.0, *self._costs])
        for row in self._rows:
            missing = self._solver.NumVar(0, infinity, "")
            self._objective.SetCoefficient(missing, dear)
            row.SetCoefficient(missing, 1)
        self._shares: list[pywraplp.Variable] = []
        self.columns: list[tuple[int, NDArray[np.int32]]] = []
        self._known = set[tuple[int, bytes]]()

    def add(self, which: int, counts: NDArray[np.int32]) -> bool:
        """Add a column unless it is known."""
        key = (which, counts.tobytes())
        if key in self._known:
            return False
        self._known.add(key)
        self.columns.append((which, counts))
        share = self._solver.NumVar(0, self._infinity, "")
        self._shares.append(share)
        self._objective.SetCoefficient(share, self._costs[which])
        for k in np.flatnonzero(counts):
            self._rows[int(k)].SetCoefficient(share, float(counts[k]))
        limit = self._limits[which]
        if limit is not None:
            limit.SetCoefficient(share, 1)
        return True

    def solve(self) -> tuple[float, NDArray[np.float64], NDArray[np.float64]]:
        """Return the least cost, the worth of a panel of each item and of one bin more of each."""
        self._solver.Solve()
        duals = np.array([row.dual_value() for row in self._rows])
        limits = [0.0 if row is None else row.dual_value() for row in self._limits]
        return self._objective.Value(), np.maximum(duals, 0.0), np.array(limits)

    def shares(self) -> NDArray[np.float64]:
        """Return how often the relaxed choice uses each column; after ``solve``."""
        return np.array([share.solution_value() for share in self._shares])


def choose(
    demand: NDArray[np.int64],
    columns: Sequence[tuple[int, NDArray[np.int32]]],
    costs: Sequence[int],
    stock: Sequence[int | None],
    budget: int,
    effort: float,
    ended: Callable[[], bool],
) -> list[int] | None:
    """Return how often to use each column so that the demand is met within the budget, or None.

    ``effort`` is the solver's own count of time, so that the answer does not depend on the
    machine's load unless ``ended`` says to stop.
    """
    model = cp_model.CpModel()
    uses = []
    for which, counts in columns:
        held = np.flatnonzero(counts)
        most = max(-(-int(demand[k]) // int(counts[k])) for k in held)
        limit = stock[which]
        uses.append(model.new_int_var(0, most if limit is None else min(most, limit), ""))
    for k in range(len(demand)):
        able = [(use, int(c[1][k])) for use, c in zip(uses, columns, strict=True) if c[1][k]]
        if not able:
            return None
        model.add(sum(use * count for use, count in able) >= int(demand[k]))
    for which, limit in enumerate(stock):
        if limit is not None:
            own = [use for use, c in zip(uses, columns, strict=True) if c[0] == which]
            model.add(sum(own) <= limit)
    spent = [use * costs[c[0]] for use, c in zip(uses, columns, strict=True)]
    model.add(sum(spent) <= budget)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = effort
    # Left on, the solver takes Ctrl-C for itself and never gives it back.
    solver.parameters.catch_sigint_signal = False
    done = threading.Event()

    def watch() -> None:
        while not done.wait(_LOOK):
            if ended():
                solver.stop_search()

    watcher = threading.Thread(target=watch, daemon=True)
    watcher.start()
    status = solver.solve(model)
    done.set()
    watcher.join()
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    return [solver.value(use) for use in uses]
