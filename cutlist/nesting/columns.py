"""Column generation: fillings that the present prices of the panels make worth their bin.

The relaxed choice among all columns known gives each panel a price; filling a bin with the dearest
panels gives new columns (Gilmore & Gomory 1965, doi 10.1287/opre.13.1.94, cited from memory).
Filling is a heuristic here, so that the value reached is no bound.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from cutlist.model.layout import Layout
from cutlist.nesting.master import Master, choose
from cutlist.nesting.plant import rows_of
from cutlist.nesting.reach import is_reachable
from cutlist.nesting.sheetfill import Filling, SheetFiller
from cutlist.nesting.tree import tightened

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from cutlist.nesting.pool import Pool
    from cutlist.nesting.problem import Problem
    from cutlist.nesting.state import Tables

_MOST_GRID = 200_000  # length and width of a bin together, in grid units
_MOST_LABELS = 64
_PATIENCE = 4  # fillings in vain before giving up, where each looks at a sample of extents
_MOST_BINS = 8
_LABELS = 4
_WORK = 150_000_000  # pairs of sub-rectangles in one bout of pricing
_MOST_ROUNDS = 300
_ROOM = 60_000_000  # bytes for the labels of one filling
_MOST_CHOICE = 8000
_HAIR = 1e-6
_WANTED = 0.97  # share of a filling's area that must still be wanted


class ColumnSearch:
    """The columns of one problem and where each came from."""

    def __init__(self, problem: Problem, tables: Tables, *, pricing: bool = True) -> None:
        self._problem = problem
        self._tables = tables
        self._costs = [b.cost for b in problem.bins]
        self._stock = [b.available for b in problem.bins]
        bins = range(len(problem.bins)) if pricing else ()
        self._fillers = [SheetFiller(tables, b) for b in bins]
        self._master = Master(tables.demand, self._costs, self._stock)
        self._sources: list[Filling | NDArray[np.int32]] = []
        self.duals = np.zeros(len(problem.items))

    @staticmethod
    def suits(problem: Problem) -> bool:
        """Say whether filling a bin is quick enough."""
        longest = max(b.length + b.width for b in problem.bins)
        return len(problem.bins) <= _MOST_BINS and longest <= _MOST_GRID

    def take(self, pool: Pool) -> None:
        """Add the sheets of a pool."""
        counts = pool.counts()
        for number in range(len(pool)):
            first, length, which, _ = (int(x) for x in pool.book[number])
            if self._master.add(which, counts[number]):
                self._sources.append(pool.pages[first : first + length].copy())

    def generate(self, ended: Callable[[], bool], effort: int = 1) -> bool | None:
        """Add columns until none is worth its bin or the effort is spent.

        Returns whether none is worth its bin now; None if interrupted.
        """
        idle = 0
        patience = 1 if all(filler.exhaustive for filler in self._fillers) else _PATIENCE
        work = sum(filler.work for filler in self._fillers)
        rounds = int(min(_MOST_ROUNDS, max(8, _WORK // max(1, work))))
        for _ in range(rounds * effort):
            _, self.duals, limits = self._master.solve()
            if ended():
                return None
            idle = 0 if self._add(limits, 0.0, _LABELS) else idle + 1
            if idle == patience:
                return True
        return False

    def _add(self, limits: NDArray[np.float64], slack: float, labels: int) -> int:
        """Add fillings whose bin costs at most ``slack`` more than its panels are worth."""
        added = 0
        for filler in self._fillers:
            need = self._costs[filler.which] - limits[filler.which] - slack
            room = filler.cells * (64 + len(self.duals))
            some = int(min(labels, max(1, _ROOM // max(1, room))))
            worths, counts = filler.fill(self.duals, self._tables.demand, some)
            for label in range(len(worths)):
                if worths[label] <= need + _HAIR * (1 if slack == 0 else -1):
                    break
                if self._master.add(filler.which, counts[label]):
                    self._sources.append(filler.filling(label, counts[label]))
                    added += 1
        return added

    def rounded(self, budget: int | None = None) -> list[tuple[int, NDArray[np.int32]]]:
        """Return bins and node tables that use the columns about as often as the relaxed choice.

        Whole parts first; then columns with large fractions as long as most of their panels are
        still wanted and the budget lasts.
        """
        self._master.solve()
        shares = self._master.shares()
        columns = self._master.columns
        areas = self._tables.types[:, 3]
        need = self._tables.demand.copy()
        left = self._tables.stock.copy()
        times = np.floor(shares + _HAIR).astype(np.int64)
        for c in np.flatnonzero(times):
            which, counts = columns[int(c)]
            times[c] = min(times[c], left[which])
            left[which] -= times[c]
            need -= times[c] * counts
        spent = sum(self._costs[columns[int(c)][0]] * int(times[c]) for c in np.flatnonzero(times))
        need = np.maximum(need, 0)
        parts = shares - times
        for c in np.argsort(-parts, kind="stable"):
            if parts[c] < _HAIR:
                break
            which, counts = columns[int(c)]
            spent = sum(
                self._costs[columns[int(k)][0]] * int(times[k]) for k in np.flatnonzero(times)
            )
            dear = budget is not None and spent + self._costs[which] > budget
            if left[which] < 1 or dear:
                continue
            wanted = int(np.minimum(need, counts) @ areas)
            if wanted >= _WANTED * int(counts @ areas):
                times[c] += 1
                left[which] -= 1
                spent += self._costs[which]
                need = np.maximum(need - counts, 0)
        sheets: list[tuple[int, NDArray[np.int32]]] = []
        for c in np.flatnonzero(times):
            rows = self._rows(int(c))
            if rows is not None:
                sheets += [(columns[int(c)][0], rows)] * int(times[c])
        return sheets

    def choose(
        self, budget: int, effort: float, ended: Callable[[], bool]
    ) -> list[tuple[int, NDArray[np.int32]]] | None:
        """Return bins and node tables that hold all panels within the budget, or None."""
        value, self.duals, limits = self._master.solve()
        slack = budget - value
        if slack < -_HAIR * max(1.0, value):
            return None
        slack = max(slack, _HAIR)
        self._add(limits, slack, _MOST_LABELS)
        columns = self._master.columns
        short = np.array(
            [
                self._costs[which] - limits[which] - float(self.duals @ counts)
                for which, counts in columns
            ]
        )
        near = np.flatnonzero(short <= slack + _HAIR)
        near = near[np.argsort(short[near], kind="stable")][:_MOST_CHOICE]
        chosen = choose(
            self._tables.demand,
            [columns[int(c)] for c in near],
            self._costs,
            self._stock,
            budget,
            effort,
            ended,
        )
        if chosen is None:
            return None
        sheets: list[tuple[int, NDArray[np.int32]]] = []
        for c, times in zip(near, chosen, strict=True):
            rows = self._rows(int(c)) if times else None
            if rows is not None:
                sheets += [(columns[int(c)][0], rows)] * times
        return sheets

    def _rows(self, column: int) -> NDArray[np.int32] | None:
        """Return a column's node table; None where it cannot be cut within reach."""
        source = self._sources[column]
        if not isinstance(source, Filling):
            return source
        stock = self._problem.bins[source.bin]
        root = tightened(source.tree, stock.length, stock.width, self._problem.kerf)
        if not is_reachable(self._problem, Layout(source.bin, root)):
            return None
        return rows_of(root, self._problem.kerf)
