"""Which sheets to buy and how to break each down: columns priced and chosen.

A column is a sheet with a pattern and with what is cut from its blanks. A relaxed choice among the
columns known gives each panel a price. At these prices one filling of the largest piece that goes
in tells what every smaller blank is worth, and so at once what each pattern is worth; the best are
moved, cut by cut, to where they are worth more, and what is worth more than its sheet becomes a
column (Gilmore & Gomory 1965, doi 10.1287/opre.13.1.94, cited from memory, with the break-down as
the first stage of the cutting). An integer program then chooses among the columns.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutlist.breakdown.parameters import USUAL_BREAKDOWN, SheetChoiceParameters
from cutlist.breakdown.pattern_pool import FilledPattern, PatternPool
from cutlist.breakdown.patterns import count_of
from cutlist.model.layout import Layout
from cutlist.nesting.columns.choosing import RelaxedChoice, WorkCharge, choose
from cutlist.nesting.columns.rounding import rounded
from cutlist.nesting.columns.sheet_filling import SheetFiller
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.layouts.reach import is_reachable
from cutlist.nesting.layouts.trees import tightened

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from cutlist.breakdown.answer import LaidOutSheet, Tariff, Trees
    from cutlist.breakdown.patterns import Pattern
    from cutlist.breakdown.splitting import Splitter
    from cutlist.nesting.problem import Problem
    from cutlist.sequencing.fence import Fence

_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class ChosenSheet:
    """A sheet of a choice, so many times: its kind among the problem's bins, and what is on it."""

    kind: int
    filled: FilledPattern
    times: int


class SheetChooser:
    """Searches the cheapest choice of sheets, each broken down and filled.

    Parameters
    ----------
    problem
        The parts, with whole sheets and offcuts for bins; ``reach`` is that of layouts on blanks.
    splitters
        For each bin that is a sheet what makes its patterns; the others are offcuts, used whole.
    fence
        The shop.
    tariff
        What sheets and cuts cost.
    seed
        With equal seeds and no early end, equal answers.
    parameters
        What it is tuned by.
    """

    def __init__(
        self,
        problem: Problem,
        splitters: Mapping[int, Splitter],
        fence: Fence,
        *,
        tariff: Tariff,
        seed: int,
        parameters: SheetChoiceParameters = USUAL_BREAKDOWN.choice,
    ) -> None:
        self._parameters = parameters
        self._problem = problem
        self._costs = [one.cost for one in problem.bins]
        self._stock = [one.available for one in problem.bins]
        tables = Tables.of(problem)
        self._tables = tables
        self._demand = tables.demand
        self._rng = rng = random.Random(seed)
        self._pools: dict[int, PatternPool] = {}
        for kind, splitter in splitters.items():
            pool = PatternPool(problem, splitter, fence, rng, parameters.pool)
            pool.add(splitter.seeds())
            for item in problem.items:
                pool.add(splitter.holding(item))
            pool.draw(self._parameters.first_patterns)
            self._pools[kind] = pool
        self._offcuts = [
            SheetFiller(tables, kind) for kind in range(len(problem.bins)) if kind not in splitters
        ]
        self._tariff = tariff
        areas = tables.types[:, 3].astype(np.float64)
        self._least_values = (
            self._parameters.little * max([1, *self._costs]) / float(areas.max()) * areas
        )
        self._choice = RelaxedChoice(
            self._demand, self._costs, self._stock, free=tariff.free, rate=tariff.rate
        )
        self._columns: list[FilledPattern] = []
        self._offcut_work = 0

    @property
    def spent(self) -> int:
        """Steps of the search that would have taken as long as all that was done so far."""
        return self._offcut_work + sum(pool.spent for pool in self._pools.values())

    def add(self, laid: Sequence[LaidOutSheet], on_offcuts: Trees = ()) -> None:
        """Let sheets be looked at as they are broken down, and as what lies on them.

        Parameters
        ----------
        laid
            Sheets, some of them with what lies on them.
        on_offcuts
            Trees on offcuts, which are numbered in the order of their bins.
        """
        items = len(self._demand)
        for one in laid:
            self._pools[one.sheet.kind].add([one.sheet.pattern])
            if one.trees:
                self._take(one.sheet.kind, FilledPattern.of(one.sheet.pattern, one.trees, items))
        for number, tree in on_offcuts:
            self._take(self._offcuts[number].which, FilledPattern.of(None, ((0, tree),), items))

    def generate(self, rounds: int, is_over: Callable[[], bool]) -> bool:
        """Add columns in so many rounds; return whether no more are found worth their sheet."""
        idle = 0
        for _ in range(rounds):
            _, prices, limits = self._choice.solve()
            added = sum(self._from_offcut(filler, prices, limits) for filler in self._offcuts)
            for kind in self._pools:
                if is_over():
                    return False
                added += self._from_sheet(kind, prices, prices, float(limits[kind]))
            idle = 0 if added else idle + 1
            if idle == self._parameters.idle:
                return True
        return False

    def vary(self, is_over: Callable[[], bool]) -> None:
        """Add columns found at prices that are off, worth nearly as much as their sheet.

        Columns of the same worth hide one another, and a whole choice may need others than the
        relaxed one.
        """
        _, prices, limits = self._choice.solve()
        for kind, pool in self._pools.items():
            if is_over():
                return
            pool.draw(self._parameters.first_patterns)
            off = [
                self._rng.uniform(1 - self._parameters.stray, 1 + self._parameters.stray)
                for _ in prices
            ]
            room = float(limits[kind]) + (1 - self._parameters.nearly) * self._costs[kind]
            self._from_sheet(kind, prices * np.array(off), prices, room)

    def _from_offcut(
        self, filler: SheetFiller, prices: NDArray[np.float64], limits: NDArray[np.float64]
    ) -> int:
        piece = self._problem.bins[filler.which]
        worths, counts = filler.fill(prices, self._demand, self._parameters.labels)
        self._offcut_work += (
            1 + self._parameters.labels * filler.work // filler.parameters.pairs_a_step
        )
        added = 0
        for label in np.flatnonzero(worths > _HAIR - limits[filler.which]).tolist():
            loose = filler.filling(label, counts[label]).tree
            tree = tightened(loose, piece.length, piece.width, self._problem.kerf)
            if is_reachable(self._problem, Layout(filler.which, tree)):
                filled = FilledPattern(None, ((0, tree),), counts[label].astype(np.int64))
                added += self._take(filler.which, filled)
        return added

    def _from_sheet(
        self,
        kind: int,
        values: NDArray[np.float64],
        prices: NDArray[np.float64],
        room: float,
    ) -> int:
        """Add sheets of a kind found at some values, and at prices worth more than they cost.

        They may cost ``room`` more with their cuts. Return how many there are.
        """
        cut = self._choice.piece
        cost = self._costs[kind] - room
        pool = self._pools[kind]
        # Panels whose price is 0 at present are cut from what is left all the same.
        values = values + self._least_values
        known: set[Pattern] = set()
        added = 0
        for _ in range(self._parameters.scarcer):
            best, uses = pool.look(values, self._demand, cut)
            taken = 0
            for pattern in best:
                if pattern in known:
                    continue
                known.add(pattern)
                filled = pool.filled(pattern, values, self._demand)
                worth = float(prices @ filled.counts) - cut * count_of(pattern)
                is_worth_it = worth > cost + _HAIR * max(1.0, cost)
                taken += self._take(kind, filled, is_worth_it=is_worth_it)
                if taken == self._parameters.taken:
                    break
            added += taken
            scarce = uses > self._demand
            if not scarce.any():
                break
            values[scarce] *= self._demand[scarce] / uses[scarce]
        return added

    def _take(self, kind: int, filled: FilledPattern, *, is_worth_it: bool = True) -> bool:
        """Add a column if it is worth it and not known; of equal ones keep that with fewer cuts."""
        counts = filled.counts.astype(np.int32)
        number = self._choice.number(kind, counts)
        if number is None:
            if not is_worth_it:
                return False
            self._columns.append(filled)
            return self._choice.add(kind, counts, count_of(filled.pattern))
        if count_of(filled.pattern) < count_of(self._columns[number].pattern):
            self._columns[number] = filled
            self._choice.lighten(number, count_of(filled.pattern))
        return False

    def relaxed(self) -> tuple[float, float]:
        """Return the cost of the relaxed choice among all columns, and how much is for cuts."""
        cost, _, _ = self._choice.solve()
        return cost, self._choice.paid

    def cheapest(
        self, most: int, nodes: int, is_over: Callable[[], bool]
    ) -> list[ChosenSheet] | None:
        """Return a choice that meets the demand for at most so much; None where none was found.

        It is the cheapest as far as the solver comes with so many ``nodes``, fewer among many
        columns.
        """
        columns = self._choice.columns
        cuts = [count_of(filled.pattern) for filled in self._columns]
        charge = WorkCharge(cuts, self._tariff.free, self._tariff.rate)
        nodes = min(nodes, 1 + self._parameters.choice_work // max(1, len(columns)))
        uses = choose(self._demand, columns, self._costs, self._stock, most, nodes, is_over, charge)
        return None if uses is None else self._used(enumerate(uses))

    def rounded(self, most: int) -> list[ChosenSheet]:
        """Return sheets for at most so much that come near the relaxed choice.

        They need not hold all panels.
        """
        self._choice.solve()
        uses = rounded(
            self._choice.columns,
            self._choice.uses(),
            self._demand,
            self._tables.stock,
            self._costs,
            self._tables.types[:, 3],
            most,
            wanted=0.0,
        )
        return self._used(uses)

    def _used(self, uses: Iterable[tuple[int, int]]) -> list[ChosenSheet]:
        columns = self._choice.columns
        return [ChosenSheet(columns[c][0], self._columns[c], times) for c, times in uses if times]
