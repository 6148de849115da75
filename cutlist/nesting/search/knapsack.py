"""The most valuable panels that a limited stock can give: the constrained guillotine knapsack."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutlist.model.layout import Layout
from cutlist.nesting.columns.sheet_filling import SheetFiller
from cutlist.nesting.columns.starting_states import node_table, state_of
from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.layouts.reach import is_reachable
from cutlist.nesting.layouts.trees import layouts_of, tightened
from cutlist.nesting.parameters import USUAL_NESTING
from cutlist.nesting.stopping import Standing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from cutlist.nesting.kernels.state import State
    from cutlist.nesting.parameters import NestingParameters
    from cutlist.nesting.problem import Problem
    from cutlist.nesting.stopping import StopRule


@dataclass(frozen=True, slots=True)
class BestPanels:
    """The most valuable panels found: their layouts, their value, the steps it took."""

    layouts: tuple[Layout, ...]
    value: int
    steps: int


def best_value(
    problem: Problem,
    values: Sequence[int],
    *,
    seed: int,
    stop: StopRule,
    parameters: NestingParameters = USUAL_NESTING,
) -> BestPanels:
    """Choose the panels of greatest total value that the bins give; the cost does not count.

    Bins of unlimited number are taken as many as there are panels. The search ends when ``stop``
    says so, to which the value found is told as a negative cost, or when nothing is left out.

    Parameters
    ----------
    problem
        Quantities are upper limits here.
    values
        Worth of one panel of each item, at least 0.
    """
    return _ValueSearch(problem, values, seed, stop, parameters).run()


class _ValueSearch:
    """One run: fillings at changing prices, and ruin and recreate between them."""

    def __init__(
        self,
        problem: Problem,
        values: Sequence[int],
        seed: int,
        stop: StopRule,
        parameters: NestingParameters,
    ) -> None:
        self.parameters = parameters
        self.tuned = parameters.value
        self.problem = problem
        self.tables = Tables.of(problem)
        self.values = np.array(values, np.int64)
        self.total = int(self.values @ self.tables.demand)
        self.engine = Engine(self.tables, seed, self.values, parameters.engine)
        self.rng = np.random.default_rng(seed)
        self.stop = stop
        self.best: State | None = None
        self.value = -1
        self.slots = [
            b
            for b in sorted(
                range(len(problem.bins)),
                key=lambda b: (-problem.bins[b].length * problem.bins[b].width, b),
            )
            for _ in range(min(int(self.tables.stock[b]), int(self.tables.demand.sum())))
        ]
        fillers = [
            SheetFiller(self.tables, b, parameters.columns.filling)
            for b in range(len(problem.bins))
        ]
        self.fillers = [f if 0 < f.work <= self.tuned.most_work else None for f in fillers]
        self.prices = np.zeros(len(values))

    def run(self) -> BestPanels:
        """Fill at rising numbers of labels, learn prices, search; until told to stop."""
        labels = 1
        priced = False
        while not self._ended():
            state = self._filled(labels, priced)
            self._note(state)
            if priced or labels < self.tuned.priced_labels:
                labels = min(self.tuned.most_labels, 2 * labels)
            elif not self._ended():
                self._learn()
                self._search_on(state)
            priced = labels >= self.tuned.priced_labels and not priced
        assert self.best is not None
        return BestPanels(layouts_of(self.problem, self.best), self.value, self.engine.steps)

    def _ended(self) -> bool:
        if self.best is None:
            return False
        return self.value == self.total or self.stop(
            Standing(self.engine.steps, -self.value, -self.total)
        )

    def _worth(self, priced: bool) -> NDArray[np.float64]:
        worth = self.values.astype(np.float64)
        if priced:
            worth = np.maximum(worth - self.prices, 0) + 1e-6 * worth
        return worth

    def _filled(self, labels: int, priced: bool) -> State:
        """Fill the bins one after the other with what is left."""
        demand = self.tables.demand.copy()
        worth = self._worth(priced)
        sheets: list[tuple[int, NDArray[np.int32]]] = []
        for which in self.slots:
            filler = self.fillers[which]
            if filler is None or not demand.any():
                break
            room = filler.cells * (64 + len(worth))
            _, found = filler.fill(worth, demand, min(labels, max(1, self.tuned.room // room)))
            for label in np.argsort(-(found @ self.values), kind="stable"):
                filling = filler.filling(int(label), found[label])
                stock = self.problem.bins[which]
                root = tightened(filling.tree, stock.length, stock.width, self.problem.kerf)
                if is_reachable(self.problem, Layout(which, root)):
                    sheets.append((which, node_table(root, self.problem.kerf)))
                    demand -= found[label]
                    break
        state = state_of(self.tables, sheets, self.parameters.engine.memory)
        state.run[kernel.AIM] = kernel.CHOOSE
        self.engine.weigh(state)
        return state.compacted(self.tables, min(len(self.slots), len(state.wait)))

    def _learn(self) -> None:
        """Move the prices by subgradients: what a filling without limits overuses grows dearer."""
        limits = self.tables.demand
        filler = self.fillers[self.slots[0]]
        if filler is None or len(self.slots) > 1:
            self.prices = self.values * self.rng.uniform(0, self.tuned.guess, len(self.values))
            return
        free = np.full(len(limits), 63, np.int64)
        self.prices[:] = 0
        step = self.tuned.first_step
        for _ in range(self.tuned.lessons):
            worth = np.maximum(self.values - self.prices, 0)
            reached, found = filler.fill(worth, free, 1)
            if len(reached) == 0 or self._ended():
                return
            over = found[0] - limits
            gap = float(reached[0] + self.prices @ limits) - self.tuned.aim * self.value
            norm = float(over @ over)
            if norm == 0 or gap <= 0:
                return
            self.prices = np.maximum(0, self.prices + step * gap / norm * over)
            step *= self.tuned.step_factor
        self.prices *= self.rng.uniform(*self.tuned.spread)

    def _search_on(self, state: State) -> None:
        """Let the search go on from a state for a while."""
        usual = self.engine.parameters.step
        step = usual._replace(measures=8, most_sheets=min(usual.most_sheets, len(self.slots)))
        for _ in range(self.tuned.calls):
            self.engine.search(state, self.engine.parameters.round_steps, step)
            if self._ended():
                break
        kept = self.engine.kept(state)
        if kept is not None:
            self._note(kept)

    def _note(self, state: State) -> None:
        """Remember the state if it is worth more than any before."""
        value = 0
        for slot in range(len(state.meta)):
            if state.meta[slot, 0] >= 0:
                value += int(self.values[state.kinds_on(slot)].sum())
        if value > self.value:
            self.value = value
            self.best = state.copy()
