"""Column generation: fillings that the present prices of the panels make worth their bin.

The relaxed choice among all columns known gives each panel a price; filling a bin with the dearest
panels gives new columns (Gilmore & Gomory 1965, doi 10.1287/opre.13.1.94). Filling is a heuristic
here, so that the value reached is no bound.
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

_MOST_WORK = 40_000_000  # pairs of sub-rectangles in one filling
_MOST_BINS = 8
_LABELS = 4
_MOST_ROUNDS = 300
_ROOM = 60_000_000  # bytes for the labels of one filling
_MOST_CHOICE = 8000
_HAIR = 1e-6


class ColumnSearch:
    """The columns of one problem and where each came from."""

    def __init__(self, problem: Problem, tables: Tables) -> None:
        self._problem = problem
        self._tables = tables
        self._costs = [b.cost for b in problem.bins]
        self._stock = [b.available for b in problem.bins]
        self._fillers = [SheetFiller(tables, b) for b in range(len(problem.bins))]
        self._master = Master(tables.demand, self._costs, self._stock)
        self._sources: list[Filling | NDArray[np.int32]] = []
        self.duals = np.zeros(len(problem.items))

    @staticmethod
    def suits(problem: Problem, tables: Tables) -> bool:
        """Say whether filling a bin is quick enough."""
        if len(problem.bins) > _MOST_BINS or len(problem.items) > 200:
            return False
        longest = int((tables.bins[:, 0] + tables.bins[:, 1]).max())
        if longest > 60_000:
            return False
        return all(SheetFiller(tables, b).work <= _MOST_WORK for b in range(len(problem.bins)))

    def take(self, pool: Pool) -> None:
        """Add the sheets of a pool."""
        counts = pool.counts()
        for number in range(len(pool)):
            first, length, which, _ = (int(x) for x in pool.book[number])
            if self._master.add(which, counts[number]):
                self._sources.append(pool.pages[first : first + length].copy())

    def generate(self, ended: Callable[[], bool]) -> float | None:
        """Add columns until none is worth its bin; return the relaxed cost, None if interrupted."""
        value = 0.0
        for _ in range(_MOST_ROUNDS):
            value, self.duals, limits = self._master.solve()
            if ended():
                return None
            if self._add(limits, 0.0, _LABELS) == 0:
                break
        return value

    def _add(self, limits: NDArray[np.float64], slack: float, labels: int) -> int:
        """Add fillings whose bin costs at most ``slack`` more than its panels are worth."""
        added = 0
        for filler in self._fillers:
            need = self._costs[filler.which] - limits[filler.which] - slack
            worths, counts = filler.fill(self.duals, self._tables.demand, labels)
            for label in range(len(worths)):
                if worths[label] <= need + _HAIR * (1 if slack == 0 else -1):
                    break
                if self._master.add(filler.which, counts[label]):
                    self._sources.append(filler.filling(label, counts[label]))
                    added += 1
        return added

    def choose(
        self, budget: int, effort: float, ended: Callable[[], bool]
    ) -> list[tuple[int, NDArray[np.int32]]] | None:
        """Return bins and node tables that hold all panels within the budget, or None."""
        value, self.duals, limits = self._master.solve()
        slack = budget - value
        if slack < -_HAIR * max(1.0, value):
            return None
        slack = max(slack, _HAIR)
        for filler in self._fillers:
            room = filler.cells * (64 + len(self.duals))
            labels = int(min(64, max(_LABELS, _ROOM // max(1, room))))
            self._add(limits, slack, labels)
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
