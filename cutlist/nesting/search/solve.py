"""The search for the cheapest sheets: a first plan, then lower and lower goals."""

from __future__ import annotations

import time
from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from cutlist.errors import StoppedError
from cutlist.nesting.bounds import Bound, improved_bound, lower_bound
from cutlist.nesting.columns.pricing import Pricing
from cutlist.nesting.columns.starting_states import node_table, state_of
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.state import State
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.layouts.reach import fits
from cutlist.nesting.layouts.trees import layouts_of
from cutlist.nesting.observing import Observer, SearchProgress
from cutlist.nesting.parameters import USUAL_NESTING
from cutlist.nesting.problem import Nesting
from cutlist.nesting.search.sampling import plan_from_samples
from cutlist.nesting.stopping import Standing

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.model.layout import Layout
    from cutlist.nesting.parameters import NestingParameters
    from cutlist.nesting.problem import Problem
    from cutlist.nesting.stopping import StopRule


def nest(
    problem: Problem,
    *,
    seed: int,
    stop: StopRule,
    observer: Observer | None = None,
    start: Sequence[Layout] = (),
    parameters: NestingParameters = USUAL_NESTING,
) -> Nesting:
    """Put all panels on the cheapest bins that the search finds before ``stop`` says so.

    The search ends by itself once the bound is met. With a stop rule that counts steps alone, equal
    seeds give equal answers. Where there are layouts to ``start`` from it goes on from these:
    panels that are on them too often are taken off, the others find their places first of all.
    All of it is tuned by ``parameters``.

    Raises
    ------
    ItemFitsNowhereError
        An item fits no bin.
    StockTooSmallError
        The limited stock does not suffice, or no way was found to make it.
    StoppedError
        Stopped before there was a first complete plan.
    """
    lost = [
        i
        for i, item in enumerate(problem.items)
        if item.qty > 0 and not any(fits(problem, item, b) for b in problem.bins)
    ]
    if lost:
        raise ItemFitsNowhereError(lost)
    if not any(item.qty for item in problem.items):
        return Nesting((), 0, 0, 0, 0, 0)
    return _SheetSearch(problem, seed, stop, observer or Observer(), start, parameters).run()


class _SheetSearch:
    """One run: its state, its best plan, its clock."""

    def __init__(
        self,
        problem: Problem,
        seed: int,
        stop: StopRule,
        observer: Observer,
        start: Sequence[Layout],
        parameters: NestingParameters,
    ) -> None:
        self.parameters = parameters
        self.tuned = parameters.search
        self.memory = parameters.engine.memory
        self.round = parameters.engine.round_steps
        self.problem = problem
        self.start = start
        self.bound = Bound(0, 0)
        self.seed = seed
        self.tables = Tables.of(problem)
        self.engine = Engine(self.tables, seed, parameters=parameters.engine)
        self.stop = stop
        self.observer = observer
        self.started = time.monotonic()
        self.ticked = self.started
        self.best: State | None = None
        self.pricing: Pricing | None = None
        self.has_proven = False

    def run(self) -> Nesting:
        """Search until the bound is met or the search is stopped."""
        state = self._first()
        self._keep(state)
        # A first plan takes less time than the bound.
        self.bound = lower_bound(self.problem, self.parameters.bounds)
        assert self.best is not None
        if len(state.wait) >= self.parameters.sampling.from_panels and not self._is_proven():
            state = plan_from_samples(
                self.problem, self.engine, self.seed, state, self._ended, self.parameters
            )
            if state.complete:
                self._keep(state)
        while not (self._is_proven() or self._ended()):
            slots = int((self.best.meta[:, nodes.BIN] >= 0).sum())
            extra = 0 if len(self.problem.bins) == 1 else slots + 4
            state = self.best.compacted(self.tables, slots + extra)
            state.aim_at(self.best.cost - 1, self.tables)
            self.engine.weigh(state)
            state = self._pursue(state)
            if state.complete:
                self._keep(state)
        return self._answer()

    def _is_proven(self) -> bool:
        return self.best is not None and self.best.cost <= self.bound.cost

    def _standing(self) -> Standing:
        cost = None if self.best is None else self.best.cost
        return Standing(self.engine.steps, cost, self.bound.cost)

    def _progress(self) -> SearchProgress:
        seconds = time.monotonic() - self.started
        if self.best is None:
            return SearchProgress(None, None, self.bound.cost, seconds, self.engine.steps)
        sheets = _sheets(self.problem, self.best)
        return SearchProgress(self.best.cost, sheets, self.bound.cost, seconds, self.engine.steps)

    def _ended(self) -> bool:
        now = time.monotonic()
        if now - self.ticked > self.tuned.tick:
            self.ticked = now
            self.observer.ticked(self._progress())
        return self.stop(self._standing())

    def _first(self) -> State:
        """Return a complete state, however dear."""
        state = self._begun() if self.start else self._constructed()
        if state.complete:
            return state
        slots = min(int(self.tables.demand.sum()), int(self.tables.stock.sum()))
        state = state.compacted(self.tables, slots)
        self.engine.weigh(state)
        proven = self._stock_proven_short()
        while not (state.complete or proven or self._ended()):
            self.engine.search(state, self.round)
        if not state.complete:
            short = Counter(int(k) for k in state.wait[: state.run[kernel.WAITING]])
            raise StockTooSmallError(
                dict(sorted(short.items())), proven=proven, steps=self.engine.steps
            )
        return state

    def _begun(self) -> State:
        """Return the state that the search starts from."""
        sheets = [
            (layout.stock, node_table(layout.root, self.problem.kerf))
            for layout in self.start
            for _ in range(layout.copies)
        ]
        return state_of(self.tables, sheets, self.memory)

    def _constructed(self) -> State:
        """Return a state by construction, complete unless the stock is short."""
        area = int((self.tables.types[:, 3] * self.tables.demand).sum())
        panels = int(self.tables.demand.sum())
        least = int((self.tables.bins[:, 0] * self.tables.bins[:, 1]).min())
        slots = min(panels, 3 * area // (2 * least) + 4)
        while True:
            state = State.empty(self.tables, slots, self.memory)
            self.engine.search(state, 1)
            if state.complete:
                return state
            if slots == panels or (state.meta[:, nodes.BIN] < 0).any():
                return state
            slots = min(panels, 2 * slots)

    def _stock_proven_short(self) -> bool:
        room = int((self.tables.bins[:, 0] * self.tables.bins[:, 1] * self.tables.stock).sum())
        return room < int((self.tables.types[:, 3] * self.tables.demand).sum())

    def _pursue(self, state: State) -> State:
        """Search until nothing waits or the run ends; return the state reached.

        Now and then the fillings seen are priced, more are generated, and a choice among them is
        tried; the prices also tell the search which panels are hard to place.
        """
        cost_limit = state.cost_limit
        self._set_floors()
        start = self.engine.steps
        pause = self.tuned.first_pause
        steps_for_pricing = self.tuned.steps_for_pricing[len(self.problem.bins) > 1]
        while not (state.complete or self._ended() or self._is_proven()):
            self.engine.search(state, self.round)
            spent = self.engine.steps - start
            if 0 <= spent - (pause - self.tuned.fresh) < self.round:
                self.engine.pool.clear()
            if state.complete or spent < pause:
                continue
            chosen = self._attempt(cost_limit)
            self._reprice(state)
            paid = self.engine.steps - start
            pause = paid + max(self.tuned.pause, int(steps_for_pricing * (paid - spent)))
            if chosen is None:
                continue
            if chosen.complete:
                return chosen
            chosen = chosen.compacted(self.tables, len(state.meta))
            chosen.limit_cost(cost_limit)
            self.engine.weigh(chosen)
            if chosen.run[kernel.MARK] < state.run[kernel.MARK]:
                state = chosen
        return state

    def _set_floors(self) -> None:
        """File sheets that are nearly as full as those of the best plan are on average."""
        assert self.best is not None
        rooms = self.tables.bins[:, 0] * self.tables.bins[:, 1]
        used = [int(b) for b in self.best.meta[:, nodes.BIN] if b >= 0]
        full = float(self.tables.types[:, 3] @ self.tables.demand) / float(rooms[used].sum())
        self.engine.pool.floors[:] = np.maximum(1, rooms * (self.tuned.full * full)).astype(
            np.int64
        )

    def _attempt(self, cost_limit: int) -> State | None:
        """Return a state made of whole fillings, complete if possible; None if interrupted."""
        if self.pricing is None:
            if not Pricing.suits(self.problem, self.parameters.columns):
                return None
            self.pricing = Pricing(self.problem, self.engine, self.seed, self.parameters.columns)
        state = self.pricing.attempt(cost_limit, self._ended)
        if self.pricing.is_hopeless and not self.has_proven:
            self._prove()
        return state

    def _prove(self) -> None:
        """Bound the cost as well as can be done, once: the search may be at its end."""
        self.has_proven = True
        if int(self.tables.demand.sum()) > self.tuned.provable or self.best is None:
            return
        strong = improved_bound(
            self.problem,
            rounds=self.tuned.proof_rounds,
            upper=self.best.cost,
            parameters=self.parameters.bounds,
        )
        cost, sheets = max(self.bound.cost, strong.cost), max(self.bound.sheets, strong.sheets)
        self.bound = replace(self.bound, cost=cost, sheets=sheets)

    def _reprice(self, state: State) -> None:
        """Let panels that are dear to place weigh more than their area says."""
        if self.pricing is None or self.pricing.duals.max() <= 0:
            return
        areas = self.tables.types[:, 3]
        duals = self.pricing.duals
        fair = float(areas @ self.tables.demand) / float(duals @ self.tables.demand)
        self.engine.worth = np.maximum(1, (500 * (areas + fair * duals))).astype(np.int64)
        self.engine.weigh(state)

    def _keep(self, state: State) -> None:
        if self.best is None or state.cost < self.best.cost:
            self.best = state.copy()
            self.observer.improved(self._progress())

    def _answer(self) -> Nesting:
        if self.best is None:
            raise StoppedError("stopped before there was a plan")
        return Nesting(
            layouts_of(self.problem, self.best),
            self.best.cost,
            self.bound.cost,
            _sheets(self.problem, self.best),
            self.bound.sheets,
            self.engine.steps,
        )


def _sheets(problem: Problem, state: State) -> int:
    """Return how many open sheets cost something."""
    return sum(1 for b in state.meta[:, nodes.BIN] if b >= 0 and problem.bins[int(b)].cost > 0)
