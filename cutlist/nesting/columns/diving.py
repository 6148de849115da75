"""Diving: columns fixed one after the other, the rest priced anew each time.

The relaxed choice of columns says which fillings suit each other. One of them is fixed, what is
left is relaxed and priced again, and so on down (Sadykov, Vanderbeck, Pessoa, Tahiri & Uchoa 2019,
"Primal heuristics for branch and price: the assets of diving methods"; from memory). A fixing that
lifts the relaxed cost above the cost limit is taken back a limited number of times. What is left
when few sheets are missing goes to the search, which is good at small problems.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from cutlist.nesting.columns.choosing import TOLERANCE, RelaxedChoice, choose
from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.state import State
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import NDArray

    from cutlist.nesting.columns.generation import ColumnSearch, Sheets
    from cutlist.nesting.parameters import EngineParameters


class Diver:
    """Dives with one set of columns towards one cost limit."""

    def __init__(
        self,
        search: ColumnSearch,
        near: NDArray[np.intp],
        cost_limit: int,
        engine: EngineParameters = USUAL_NESTING.engine,
    ) -> None:
        self._engine = engine
        self._search = search
        self._parameters = search.parameters.diving
        self._problem = search.problem
        self._tables = search.tables
        self._cost_limit = cost_limit
        self._costs = [b.cost for b in self._problem.bins]
        self._choice = RelaxedChoice(
            self._tables.demand, self._costs, [b.available for b in self._problem.bins]
        )
        self._numbers: list[int] = []
        for c in near:
            self._take(int(c))

    def _take(self, number: int) -> None:
        which, counts = self._search.columns[number]
        if self._choice.add(which, counts):
            self._numbers.append(number)

    def dive(self, rng: np.random.Generator, ended: Callable[[], bool]) -> Sheets:
        """Return sheets within the cost limit that hold all panels, or as many as were reached."""
        fixed = list[int]()
        tabu = set[int]()
        back = 0
        asked = False
        best: Sheets = []
        least = np.inf
        while not ended():
            residual, left, spent = self._rest(fixed)
            value = self._relaxed(residual, left, spent, ended)
            if value > self._cost_limit - spent + TOLERANCE * max(1, self._cost_limit):
                if not fixed or back == self._parameters.taken_back:
                    break
                back += 1
                tabu.add(fixed.pop())
                continue
            uses = self._choice.uses()
            if value <= TOLERANCE:
                return self._sheets(fixed)
            if not asked and self._is_near_end(spent, self._parameters.choice_sheets):
                asked = True
                rest = self._chosen(value, residual, left, spent, ended)
                if rest is not None:
                    return self._sheets(fixed + rest)
            if self._is_near_end(spent, self._parameters.tail_sheets):
                sheets, waiting = self._tail(residual, left, self._cost_limit - spent, rng)
                if waiting < least:
                    least, best = waiting, self._sheets(fixed) + sheets
                if waiting == 0:
                    return best
                if back == self._parameters.taken_back or not fixed:
                    break
                back += 1
                tabu.add(fixed.pop())
                continue
            chosen = self._pick(uses, tabu, residual, left, rng)
            if not chosen:
                break
            fixed += chosen
        return best or self._sheets(fixed)

    def _rest(self, fixed: list[int]) -> tuple[NDArray[np.int64], NDArray[np.int64], int]:
        """Return the demand and the stock left, and the cost of what is fixed."""
        residual = self._tables.demand.copy()
        left = self._tables.stock.copy()
        spent = 0
        for c in fixed:
            which, counts = self._choice.columns[c]
            residual -= counts
            left[which] -= 1
            spent += self._costs[which]
        return np.maximum(residual, 0), left, spent

    def _relaxed(
        self,
        residual: NDArray[np.int64],
        left: NDArray[np.int64],
        spent: int,
        ended: Callable[[], bool],
    ) -> float:
        """Return the relaxed cost of the rest, after pricing where it is above the cost limit."""
        self._choice.require(residual, left)
        allowed = self._cost_limit - spent + TOLERANCE * max(1, self._cost_limit)
        value = 0.0
        for _ in range(self._parameters.rounds):
            value, duals, limits = self._choice.solve()
            if value <= allowed or ended():
                return value
            priced = self._search.price(duals, limits, residual, 0.0, self._parameters.labels)
            before = len(self._numbers)
            for number in priced.numbers:
                self._take(number)
            if len(self._numbers) == before or value > allowed * max(1.0, priced.ratio):
                return value
        return self._choice.solve()[0]

    def _pick(
        self,
        uses: NDArray[np.float64],
        tabu: set[int],
        residual: NDArray[np.int64],
        left: NDArray[np.int64],
        rng: np.random.Generator,
    ) -> list[int]:
        """Return columns to fix: all that are whole, or the one that costs least to round up."""
        tuned = self._parameters
        sure = [int(c) for c in np.flatnonzero(uses >= tuned.sure) if int(c) not in tabu]
        if sure:
            return [c for c in sure for _ in range(int(uses[c] + 1 - tuned.sure))]
        noisy = uses * rng.uniform(1 - tuned.noise, 1.0, len(uses))
        order = [int(c) for c in np.argsort(-noisy, kind="stable")[: tuned.trials + len(tabu)]]
        trials = [c for c in order if c not in tabu and uses[c] > TOLERANCE][: tuned.trials]
        best, least = -1, np.inf
        for c in trials:
            which, counts = self._choice.columns[c]
            taken = left.copy()
            taken[which] -= 1
            self._choice.require(np.maximum(residual - counts, 0), taken)
            value = self._costs[which] + self._choice.solve()[0] - tuned.use_bonus * float(noisy[c])
            if value < least:
                best, least = c, value
        return [] if best < 0 else [best]

    def _is_near_end(self, spent: int, sheets: int) -> bool:
        """Say whether at most so many sheets are left to fill."""
        return self._cost_limit - spent <= sheets * max(self._costs)

    def _chosen(
        self,
        value: float,
        residual: NDArray[np.int64],
        left: NDArray[np.int64],
        spent: int,
        ended: Callable[[], bool],
    ) -> list[int] | None:
        """Return columns that hold the rest within the cost limit; None where none were found."""
        _, duals, limits = self._choice.solve()
        slack = max(self._cost_limit - spent - value, TOLERANCE)
        for number in self._search.price(
            duals, limits, residual, slack, self._parameters.choice_labels
        ).numbers:
            self._take(number)
        able = dict[tuple[int, bytes], int]()
        clipped: list[tuple[int, NDArray[np.int32]]] = []
        for c, (which, counts) in enumerate(self._choice.columns):
            held = np.minimum(counts, residual).astype(np.int32)
            is_near = self._costs[which] - limits[which] - float(duals @ held) <= slack + TOLERANCE
            if is_near and (which, held.tobytes()) not in able:
                able[which, held.tobytes()] = c
                clipped.append((which, held))
        uses = choose(
            residual,
            clipped,
            self._costs,
            [int(n) for n in left],
            self._cost_limit - spent,
            self._parameters.choice_nodes,
            ended,
        )
        if uses is None:
            return None
        return [c for c, times in zip(able.values(), uses, strict=True) for _ in range(times)]

    def _tail(
        self,
        residual: NDArray[np.int64],
        left: NDArray[np.int64],
        cost_limit: int,
        rng: np.random.Generator,
    ) -> tuple[Sheets, float]:
        """Search the rest; return its sheets and the area that found no place."""
        items = tuple(
            replace(i, qty=int(q)) for i, q in zip(self._problem.items, residual, strict=True)
        )
        tables = Tables.of(replace(self._problem, items=items))
        tables.stock[:] = left
        engine = Engine(tables, int(rng.integers(1 << 31)), parameters=self._engine)
        cheap = max(1, min(c for c in self._costs if c > 0))
        state = State.empty(
            tables,
            cost_limit // cheap + int(left[np.array(self._costs) == 0].sum()),
            self._engine.memory,
        )
        state.limit_cost(cost_limit)
        engine.weigh(state)
        engine.search(state, self._parameters.tail_steps)
        self._search.spent += engine.steps
        sheets: Sheets = []
        for slot in np.flatnonzero(state.meta[:, nodes.BIN] >= 0):
            top = int(state.meta[slot, nodes.TOP])
            sheets.append((int(state.meta[slot, nodes.BIN]), state.tree[slot, :top].copy()))
        return sheets, float(state.run[kernel.MARK]) if state.run[kernel.WAITING] else 0.0

    def _sheets(self, fixed: list[int]) -> Sheets:
        """Return the sheets of fixed columns that can be cut within reach."""
        return self._search.sheets((self._numbers[c], 1) for c in fixed)
