"""Column generation: fillings that the present prices of the panels make worth their bin.

The relaxed choice among all columns known gives each panel a price; filling a bin with the dearest
panels gives new columns (Gilmore & Gomory 1965, doi 10.1287/opre.13.1.94, cited from memory).
Filling is a heuristic here, so that the value reached is no bound.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutlist.model.layout import Layout
from cutlist.nesting.columns.choosing import TOLERANCE, RelaxedChoice, choose
from cutlist.nesting.columns.rounding import rounded
from cutlist.nesting.columns.sheet_filling import Filling, SheetFiller
from cutlist.nesting.columns.starting_states import node_table
from cutlist.nesting.kernels import nodes
from cutlist.nesting.layouts.reach import is_reachable
from cutlist.nesting.layouts.trees import tightened
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from numpy.typing import NDArray

    from cutlist.nesting.kernels.pool import Pool
    from cutlist.nesting.kernels.state import State
    from cutlist.nesting.kernels.tables import Tables
    from cutlist.nesting.parameters import ColumnParameters
    from cutlist.nesting.problem import Problem

    Sheets = list[tuple[int, NDArray[np.int32]]]


@dataclass(frozen=True, slots=True)
class Priced:
    """What pricing found.

    Parameters
    ----------
    numbers
        The columns worth their bin, new and known.
    added
        How many of them are new.
    ratio
        Worth of the best filling for its bin's cost; the relaxed cost divided by it is a bound on
        the cost as far as the fillings found are the best there are (Farley 1990,
        doi 10.1287/opre.38.5.922; from memory).
    """

    numbers: list[int]
    added: int
    ratio: float


class ColumnSearch:
    """The columns of one problem and where each came from.

    ``duals`` are the prices of the items at the last relaxed choice, ``spent`` the steps of the
    search that would have taken as long as the pricing so far.
    """

    def __init__(
        self,
        problem: Problem,
        tables: Tables,
        *,
        pricing: bool = True,
        parameters: ColumnParameters = USUAL_NESTING.columns,
    ) -> None:
        self.parameters = parameters
        self.problem = problem
        self.tables = tables
        self._costs = [b.cost for b in problem.bins]
        self._stock = [b.available for b in problem.bins]
        bins = range(len(problem.bins)) if pricing else ()
        self._fillers = [SheetFiller(tables, b, parameters.filling) for b in bins]
        self._choice = RelaxedChoice(tables.demand, self._costs, self._stock)
        self._sources: list[Filling | NDArray[np.int32]] = []
        self.duals = np.zeros(len(problem.items))
        self._limits = np.zeros(len(problem.bins))
        self.spent = 0

    @staticmethod
    def suits(problem: Problem, parameters: ColumnParameters = USUAL_NESTING.columns) -> bool:
        """Say whether filling a bin is quick enough."""
        longest = max(b.length + b.width for b in problem.bins)
        return len(problem.bins) <= parameters.most_bins and longest <= parameters.most_grid

    def take(self, pool: Pool, most: int | None = None) -> None:
        """Add the sheets of a pool, at most so many, those with the most on them."""
        counts = pool.counts()
        fullest = np.argsort(-pool.book[: pool.sheets, 3], kind="stable")[:most]
        for number in np.sort(fullest).tolist():
            first, length, which, _ = (int(x) for x in pool.book[number])
            if self._choice.add(which, counts[number]):
                self._sources.append(pool.pages[first : first + length].copy())

    def take_sheets(self, state: State) -> None:
        """Add the sheets of a state, so that every panel on it is on some column."""
        for slot in np.flatnonzero(state.meta[:, nodes.BIN] >= 0).tolist():
            kinds = state.kinds_on(slot)
            counts = np.bincount(kinds, minlength=len(self.duals)).astype(np.int32)
            if self._choice.add(int(state.meta[slot, nodes.BIN]), counts):
                self._sources.append(state.tree[slot, : state.meta[slot, nodes.TOP]].copy())

    def generate(
        self, ended: Callable[[], bool], effort: int = 1, cost_limit: int | None = None
    ) -> bool | None:
        """Add columns until none is worth its bin or the effort is spent.

        Where the relaxed cost is above ``cost_limit`` still, fillings are looked at more closely.
        Returns whether none is worth its bin now; None if interrupted.
        """
        idle = 0
        tuned = self.parameters
        labels = tuned.labels
        patience = 1 if all(filler.exhaustive for filler in self._fillers) else tuned.patience
        work = sum(filler.work for filler in self._fillers)
        rounds = effort * int(
            min(tuned.most_rounds, max(tuned.least_rounds, tuned.work // max(1, work)))
        )
        while rounds > 0:
            rounds -= (labels // tuned.labels) ** 2
            value, self.duals, limits = self._choice.solve()
            if ended():
                return None
            is_within = cost_limit is None or value <= cost_limit + TOLERANCE * max(1, cost_limit)
            if labels > tuned.labels and is_within:
                return True
            if self.price(self.duals, limits, self.tables.demand, 0.0, labels).added:
                idle = 0
                continue
            idle += 1
            if idle == patience:
                if is_within or labels >= tuned.most_labels:
                    return True
                labels, idle = 4 * labels, 0
        return False

    @property
    def columns(self) -> list[tuple[int, NDArray[np.int32]]]:
        """Return all columns known: a bin and the number of panels of each item."""
        return self._choice.columns

    def price(
        self,
        duals: NDArray[np.float64],
        limits: NDArray[np.float64],
        demand: NDArray[np.int64],
        slack: float,
        labels: int,
    ) -> Priced:
        """Find fillings whose bin costs at most ``slack`` more than its panels are worth."""
        numbers = list[int]()
        added = 0
        ratio = 0.0
        work = sum(filler.work for filler in self._fillers)
        self.spent += work * labels // self.parameters.filling.pairs_a_step
        for filler in self._fillers:
            cost = self._costs[filler.which] - limits[filler.which]
            room = filler.cells * (64 + len(self.duals))
            some = int(min(labels, max(1, self.parameters.room // max(1, room))))
            worths, counts = filler.fill(duals, demand, some)
            if len(worths):
                ratio = max(ratio, float(worths[0]) / max(cost, TOLERANCE))
            for label in range(len(worths)):
                if worths[label] <= cost - slack + TOLERANCE * (1 if slack == 0 else -1):
                    break
                if self._choice.add(filler.which, counts[label]):
                    self._sources.append(filler.filling(label, counts[label]))
                    added += 1
                number = self._choice.number(filler.which, counts[label])
                assert number is not None
                numbers.append(number)
        return Priced(numbers, added, ratio)

    def rounded(self, cost_limit: int | None = None) -> Sheets:
        """Return bins and node tables that use the columns about as often as the relaxed choice.

        See :func:`cutlist.nesting.columns.rounding.rounded`.
        """
        self._choice.solve()
        return self.sheets(
            rounded(
                self.columns,
                self._choice.uses(),
                self.tables.demand,
                self.tables.stock,
                self._costs,
                self.tables.types[:, 3],
                cost_limit,
                self.parameters.wanted,
            )
        )

    def sheets(self, uses: Iterable[tuple[int, int]]) -> Sheets:
        """Return columns, each so many times, as bins and node tables, where within reach."""
        sheets: Sheets = []
        for c, times in uses:
            rows = self._rows(c) if times else None
            if rows is not None:
                sheets += [(self.columns[c][0], rows)] * times
        return sheets

    def relaxed(self) -> float:
        """Return the relaxed cost of the columns known, and learn the prices."""
        value, self.duals, self._limits = self._choice.solve()
        return value

    def near(self, cost_limit: int, attempt: int = 1) -> NDArray[np.intp] | None:
        """Return the columns that a choice within the limit may use, best first, after pricing.

        A choice within the cost limit can lose no more than the limit exceeds the relaxed cost, so
        that no column of it may. Later attempts look at more of them. None where the relaxed cost
        is above the cost limit.
        """
        value = self.relaxed()
        slack = cost_limit - value
        if slack < -TOLERANCE * max(1.0, value):
            return None
        slack = max(slack, TOLERANCE)
        used = np.flatnonzero(self._choice.uses() > TOLERANCE)
        self.price(self.duals, self._limits, self.tables.demand, slack, self.parameters.most_labels)
        short = np.array(
            [
                self._costs[which] - self._limits[which] - float(self.duals @ counts)
                for which, counts in self.columns
            ]
        )
        short[used] = -TOLERANCE  # what the relaxed choice uses comes first
        near = np.flatnonzero(short <= slack + TOLERANCE)
        return near[np.argsort(short[near], kind="stable")][
            : attempt * self.parameters.most_chosen_from
        ]

    def vary(self, cost_limit: int, rng: np.random.Generator, ended: Callable[[], bool]) -> int:
        """Add columns near the relaxed choice, found at prices that are a little off.

        Fillings of the same worth hide one another; other prices bring others to light. Returns how
        many were added.
        """
        tuned, off = self.parameters, self.parameters.varied_by
        slack = max(0.0, cost_limit - self.relaxed())
        added = 0
        for _ in range(tuned.varied):
            if ended():
                break
            duals = self.duals * rng.uniform(1 - off, 1 + off, len(self.duals))
            room = slack + off * max(self._costs)
            added += self.price(
                duals, self._limits, self.tables.demand, room, tuned.varied_labels
            ).added
        return added

    def choose(
        self, near: NDArray[np.intp], cost_limit: int, effort: int, ended: Callable[[], bool]
    ) -> Sheets | None:
        """Return bins and node tables that hold all panels within the cost limit, or None."""
        chosen = choose(
            self.tables.demand,
            [self.columns[int(c)] for c in near],
            self._costs,
            self._stock,
            cost_limit,
            effort,
            ended,
        )
        return None if chosen is None else self.sheets(zip(near.tolist(), chosen, strict=True))

    def _rows(self, column: int) -> NDArray[np.int32] | None:
        """Return a column's node table; None where it cannot be cut within reach."""
        source = self._sources[column]
        if not isinstance(source, Filling):
            return source
        stock = self.problem.bins[source.bin]
        root = tightened(source.tree, stock.length, stock.width, self.problem.kerf)
        if not is_reachable(self.problem, Layout(source.bin, root)):
            return None
        return node_table(root, self.problem.kerf)
