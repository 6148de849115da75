"""Which fillings of which bins meet the demand at least cost: relaxed, and in whole numbers."""

from __future__ import annotations

import threading
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from ortools.linear_solver import pywraplp

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

#: What two figures of a solver may differ by, for each unit or of it all, and count as equal.
TOLERANCE = 1e-6
_LOOK = 0.05  # seconds between two looks at the clock, which change nothing but when it ends
_TIE = 0.5  # of one unit of cost: what all the work that can be needed counts where it is free


@dataclass(frozen=True, slots=True)
class WorkCharge:
    """What else has to be paid for columns.

    Parameters
    ----------
    pieces
        For each column how many pieces of work it takes.
    free
        So many of all of them are free.
    rate
        Cost of each further one.
    """

    pieces: Sequence[int]
    free: int
    rate: int


class RelaxedChoice:
    """The relaxed choice of columns: demand met, stock kept, at least cost.

    Parameters
    ----------
    demand
        Panels of each item.
    costs, stock
        Of each bin what one costs, and how many there are; None for no limit.
    free, rate
        Pieces of work that are free, and the cost of each further one.

    Attributes
    ----------
    paid, piece
        What all work costs in the last relaxed choice, and what a piece more of it would.
    """

    def __init__(
        self,
        demand: NDArray[np.int64],
        costs: Sequence[int],
        stock: Sequence[int | None],
        *,
        free: int = 0,
        rate: int = 0,
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
        self._rate = float(rate)
        self.paid = self.piece = 0.0
        self._paid = self._solver.NumVar(0, infinity, "")
        self._objective.SetCoefficient(self._paid, self._rate)
        self._work = self._solver.Constraint(-infinity, float(free))
        self._work.SetCoefficient(self._paid, -1)
        dear = 10.0 * max([1.0, *self._costs])
        for row in self._rows:
            missing = self._solver.NumVar(0, infinity, "")
            self._objective.SetCoefficient(missing, dear)
            row.SetCoefficient(missing, 1)
        self._uses: list[pywraplp.Variable] = []
        self.columns: list[tuple[int, NDArray[np.int32]]] = []
        self._known = dict[tuple[int, bytes], int]()

    def number(self, which: int, counts: NDArray[np.int32]) -> int | None:
        """Return the number of a column, None where it is not known."""
        return self._known.get((which, counts.tobytes()))

    def add(self, which: int, counts: NDArray[np.int32], pieces: int = 0) -> bool:
        """Add a column, which takes so many pieces of work, unless it is known."""
        key = (which, counts.tobytes())
        if key in self._known:
            return False
        self._known[key] = len(self.columns)
        self.columns.append((which, counts))
        use = self._solver.NumVar(0, self._infinity, "")
        self._uses.append(use)
        self._objective.SetCoefficient(use, self._costs[which])
        for k in np.flatnonzero(counts):
            self._rows[int(k)].SetCoefficient(use, float(counts[k]))
        limit = self._limits[which]
        if limit is not None:
            limit.SetCoefficient(use, 1)
        self.lighten(len(self._uses) - 1, pieces)
        return True

    def lighten(self, number: int, pieces: int) -> None:
        """Let a column take so many pieces of work."""
        if self._rate:
            self._work.SetCoefficient(self._uses[number], float(pieces))

    def require(self, demand: NDArray[np.int64], stock: NDArray[np.int64]) -> None:
        """Ask for another demand, with other limits of the limited bins."""
        for row, number in zip(self._rows, demand.tolist(), strict=True):
            row.SetLb(float(number))
        for limit, most in zip(self._limits, stock.tolist(), strict=True):
            if limit is not None:
                limit.SetUb(float(most))

    def solve(self) -> tuple[float, NDArray[np.float64], NDArray[np.float64]]:
        """Return the least cost, the worth of a panel of each item and of one bin more of each."""
        self._solver.Solve()
        duals = np.array([row.dual_value() for row in self._rows])
        limits = [0.0 if row is None else row.dual_value() for row in self._limits]
        if self._rate:
            self.paid = self._rate * self._paid.solution_value()
            self.piece = max(0.0, -self._work.dual_value())
        return self._objective.Value(), np.maximum(duals, 0.0), np.array(limits)

    def uses(self) -> NDArray[np.float64]:
        """Return how often the relaxed choice uses each column; after ``solve``."""
        return np.array([use.solution_value() for use in self._uses])


def choose(
    demand: NDArray[np.int64],
    columns: Sequence[tuple[int, NDArray[np.int32]]],
    costs: Sequence[int],
    stock: Sequence[int | None],
    cost_limit: int,
    effort: int,
    ended: Callable[[], bool],
    charge: WorkCharge | None = None,
) -> list[int] | None:
    """Return how often to use each column so that the demand is met within the cost limit, or None.

    ``effort`` is the most nodes of the solver's search tree, so that the answer does not depend on
    the machine's load unless ``ended`` says to stop. Any answer does, unless there is a ``charge``:
    then the cheapest is looked for, and of these the one with the least work.
    """
    solver = pywraplp.Solver.CreateSolver("SCIP")
    solver.SetSolverSpecificParametersAsString(f"limits/nodes = {effort}\n")
    infinity = solver.infinity()
    rows = [solver.Constraint(float(d), infinity) for d in demand]
    limits = [None if m is None else solver.Constraint(-infinity, float(m)) for m in stock]
    spent = solver.Constraint(-infinity, float(cost_limit))
    uses = []
    for which, counts in columns:
        held = np.flatnonzero(counts)
        most = max((-(-int(demand[k]) // int(counts[k])) for k in held), default=0)
        use = solver.IntVar(0, most, "")
        uses.append(use)
        for k in held:
            rows[int(k)].SetCoefficient(use, float(counts[k]))
        limit = limits[which]
        if limit is not None:
            limit.SetCoefficient(use, 1)
        spent.SetCoefficient(use, float(costs[which]))
    if charge is not None:
        solver.SetSolverSpecificParametersAsString(f"limits/nodes = {effort}\nlimits/gap = 0\n")
        _set_charge(solver, spent, uses, [costs[which] for which, _ in columns], charge)
    done = threading.Event()

    def watch() -> None:
        while not done.wait(_LOOK):
            if ended():
                solver.InterruptSolve()

    watcher = threading.Thread(target=watch, daemon=True)
    watcher.start()
    status = solver.Solve()
    done.set()
    watcher.join()
    if status not in (pywraplp.Solver.OPTIMAL, pywraplp.Solver.FEASIBLE):
        return None
    return [round(use.solution_value()) for use in uses]


def _set_charge(
    solver: pywraplp.Solver,
    spent: pywraplp.Constraint,
    uses: Sequence[pywraplp.Variable],
    costs: Sequence[int],
    charge: WorkCharge,
) -> None:
    """Add what the work costs to what is spent, and look for the least."""
    paid = solver.NumVar(0, solver.infinity(), "")
    work = solver.Constraint(-solver.infinity(), float(charge.free))
    work.SetCoefficient(paid, -1.0)
    spent.SetCoefficient(paid, float(charge.rate))
    objective = solver.Objective()
    objective.SetMinimization()
    objective.SetCoefficient(paid, float(charge.rate))
    hair = _TIE / max(
        1.0, sum(use.Ub() * pieces for use, pieces in zip(uses, charge.pieces, strict=True))
    )
    for use, cost, pieces in zip(uses, costs, charge.pieces, strict=True):
        work.SetCoefficient(use, float(pieces))
        objective.SetCoefficient(use, cost + hair * pieces)
