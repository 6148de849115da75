"""Covering rows from column generation: weights for the items that make the strongest row.

The linear program over all layouts of all bins has as its dual: give each item a weight such that
no layout outweighs the cost of its bin, and make the total weight large. Layouts are added as they
prove too heavy. Any weights, finished or not, give a true row once each bin's capacity under them
is known (A. A. Farley, "A note on bounding a class of linear programming problems", Operations
Research 38, 1990; cited from memory), so that the generation can be stopped at any time.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from ortools.linear_solver import pywraplp

from cutlist.nesting.bounds.cover import CoverRow
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

    from cutlist.nesting.bounds.grown import Grown
    from cutlist.nesting.bounds.patterns import Patterns
    from cutlist.nesting.parameters import BoundParameters


@dataclass(frozen=True, slots=True)
class Step:
    """One round of the generation.

    Parameters
    ----------
    row
        A true covering row.
    ceiling
        What the linear program can still reach, infinite at first: no row that follows proves
        more than this when fractions of bins are allowed.
    """

    row: CoverRow
    ceiling: float


class _DualProgram:
    """The dual program over the layouts added so far."""

    def __init__(self, grown: Grown, costs: tuple[int, ...]) -> None:
        self.costs = costs
        self.solver = pywraplp.Solver.CreateSolver("GLOP")
        objective = self.solver.Objective()
        objective.SetMaximization()
        most = 100.0 * max(1, *costs)
        self.weights = [self.solver.NumVar(0.0, most, "") for _ in grown.counts]
        for weight, count in zip(self.weights, grown.counts.tolist(), strict=True):
            objective.SetCoefficient(weight, float(count))
        # a limited bin may be worth more than it costs: the difference is its rent
        self.rents = [self.solver.NumVar(0.0, most, "") for _ in costs]
        for rent, available in zip(self.rents, grown.available, strict=True):
            if available is None:
                rent.SetUb(0.0)
            else:
                objective.SetCoefficient(rent, -float(available))
        self.value = float("inf")
        self.weight = np.zeros(len(self.weights))
        self.rent = np.zeros(len(costs))

    def cuts_off(self, bin_: int, counts: NDArray[np.int64]) -> bool:
        """Tell whether the present weights make this layout heavier than its bin is dear."""
        limit = self.costs[bin_] + self.rent[bin_]
        return self.value == float("inf") or float(counts @ self.weight) > limit + 1e-9 * (
            1 + limit
        )

    def add(self, bin_: int, counts: NDArray[np.int64]) -> None:
        """Demand that this layout does not outweigh its bin."""
        row = self.solver.Constraint(-self.solver.infinity(), float(self.costs[bin_]))
        for item in np.flatnonzero(counts):
            row.SetCoefficient(self.weights[item], float(counts[item]))
        row.SetCoefficient(self.rents[bin_], -1.0)

    def solve(self) -> bool:
        """Find the best weights; False where the solver gives up."""
        if self.solver.Solve() != pywraplp.Solver.OPTIMAL:
            return False
        self.value = self.solver.Objective().Value()
        self.weight = np.maximum([v.solution_value() for v in self.weights], 0.0)
        self.rent = np.array([v.solution_value() for v in self.rents])
        return True


def column_steps(
    grown: Grown,
    costs: tuple[int, ...],
    patterns: Patterns,
    start: NDArray[np.float64],
    parameters: BoundParameters = USUAL_NESTING.bounds,
) -> Iterator[Step]:
    """Generate layouts, yielding a row for every set of weights tried.

    Ends by itself when the linear program is solved; the caller may stop at any time.

    Parameters
    ----------
    grown, costs
        The problem, and the cost to be minimised, of each of its bins.
    patterns
        Values bins at given weights.
    start
        First weights, in any scale; those of a good row save many rounds.
    parameters
        What it is tuned by.
    """
    program = _DualProgram(grown, costs)
    centre = trial = start
    best = 0.0
    near = parameters.near
    while trial.max() > 0.0:
        scale = parameters.scale / float(trial.max())
        whole = np.floor(trial * scale).astype(np.int64)
        value = patterns.value(whole)
        row = CoverRow(tuple(int(value[x, y]) for x, y in patterns.bins), int(whole @ grown.counts))
        yield Step(row, program.value)
        strength, price = fractional_cost(row, costs, grown.available)
        if price is None:
            return
        if strength > best:
            best = strength
            centre = whole.astype(np.float64) * price
        found = False
        for bin_, capacity in enumerate(row.capacities):
            if capacity > 0:
                counts = patterns.layout(value, whole, bin_)
                if program.cuts_off(bin_, counts):
                    program.add(bin_, counts)
                    found = True
        if found:
            if not program.solve():
                return
            near = parameters.near
        elif near == 0.0:
            return
        else:
            near = 0.0
        if program.value - best <= 1e-6 * program.value:
            return
        trial = np.asarray(near * centre + (1.0 - near) * program.weight, dtype=np.float64)


def fractional_cost(
    row: CoverRow, costs: tuple[int, ...], available: tuple[int | None, ...]
) -> tuple[float, float | None]:
    """Return the least cost to satisfy a row with fractions of bins, and the price of weight.

    The price is that of the last unit, so that weights times it are the dual weights; None where
    the row cannot be satisfied at all.
    """
    order = [b for b in range(len(costs)) if row.capacities[b] > 0]
    order.sort(key=lambda b: costs[b] / row.capacities[b])
    need, spent = row.total, 0.0
    for b in order:
        limit, capacity = available[b], row.capacities[b]
        if limit is None or limit * capacity >= need:
            return spent + costs[b] * need / capacity, costs[b] / capacity
        need -= limit * capacity
        spent += limit * costs[b]
    return float("inf"), None
