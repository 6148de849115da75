"""Layout and order chosen together: at the least cost the layouts with the fewest settings.

One setting serves all materials, so the layouts of a group are searched with the cuts of all other
groups in view: what is set for them anyway is free. Groups take turns; each turn several searches
run side by side, and what they find is looked at with an order of its cuts.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

from cutlist.model.layout import Layout
from cutlist.nesting.allowance import Allowance
from cutlist.nesting.layouts.trees import cuts_of, leftovers
from cutlist.nesting.search.settings_search import SettingsSearch, cut_forest, quick_settings
from cutlist.planning.dividing.groups import Group
from cutlist.planning.terms.parameters import SEARCHES, USUAL, SettingsParameters
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.load import SetupLoad
from cutlist.sequencing.sequence import StockLayout, glance

#: Layouts of one group, in its problem's own numbers.
Solution = tuple[Layout, ...]


@dataclass(frozen=True, slots=True)
class Rank:
    """What solutions are compared by, the first difference deciding; less is better.

    Parameters
    ----------
    cost
        Sum of all groups' costs.
    load
        What set-ups come to in a quick order of all cuts; in a large job in a quicker one.
    scattered
        Minus the sum of the squared areas of leftovers worth keeping.
    cuts
        Number of cuts.
    """

    cost: int
    load: SetupLoad
    scattered: int
    cuts: int

    def __lt__(self, other: Rank) -> bool:
        """Say whether this one is better."""
        return self._key() < other._key()

    def _key(self) -> tuple[bool, int, SetupLoad, int, int]:
        is_unsafe = self.load.unsafe > 0
        return is_unsafe, self.cost, self.load, self.scattered, self.cuts


@dataclass(frozen=True, slots=True)
class Choice:
    """One solution for each group, and their rank together."""

    solutions: tuple[Solution, ...]
    rank: Rank


def stock_layouts(groups: Sequence[Group], solutions: Sequence[Solution]) -> list[StockLayout]:
    """Return the layouts of all groups as the sequencing reads them."""
    return [
        StockLayout(group.in_job(layout), trims=group.trims(layout.stock))
        for group, solution in zip(groups, solutions, strict=True)
        for layout in solution
    ]


def cost_of(group: Group, solution: Solution) -> int:
    """Return what the layouts of a group cost, in its problem's unit."""
    bins = group.problem.bins
    return group.base + sum(layout.copies * bins[layout.stock].cost for layout in solution)


class JointSearch:
    """Searches the layouts of all groups for the fewest settings at no more cost.

    Parameters
    ----------
    groups
        The groups of a job.
    fence
        The saws.
    solutions
        For each group complete layouts to begin with.
    seed
        With equal seeds and no early end, equal rounds give equal choices.
    keep
        For each group the longer and the shorter side of the least leftover worth keeping.
    most
        For each group what its layouts may cost, None for no more than those to begin with. Where
        one is given, settings count before cost.
    """

    def __init__(
        self,
        groups: Sequence[Group],
        fence: Fence,
        solutions: Sequence[Solution],
        *,
        seed: int,
        keep: Sequence[tuple[int, int]],
        most: Sequence[int | None] | None = None,
        parameters: SettingsParameters = USUAL.settings,
    ) -> None:
        limits = most or [None] * len(groups)
        self._parameters = parameters
        self._settings_first = any(limit is not None for limit in limits)
        self._groups = tuple(groups)
        self._fence = fence
        self._shop = fence.shop()
        self._keep = tuple(keep)
        self._searches = [
            [
                SettingsSearch(
                    group.problem,
                    solution,
                    self._shop,
                    seed=seed + parameters.seed_step * number,
                    keep=least,
                    most=limit,
                    scale=fence.common_mark,
                    whole=number % 2 == 0,
                )
                for number in range(SEARCHES)
            ]
            for group, solution, limit, least in zip(groups, solutions, limits, keep, strict=True)
        ]
        self._panels = [sum(item.qty for item in group.problem.items) for group in groups]
        self._seen: set[tuple[Solution, ...]] = set()
        self._rounds = 0
        self.best = Choice(tuple(solutions), self._rank(tuple(solutions)))

    @property
    def steps(self) -> int:
        """Return the steps of all searches so far."""
        return sum(search.steps for searches in self._searches for search in searches)

    def cost(self, index: int) -> int:
        """Return what the layouts chosen for a group cost."""
        return cost_of(self._groups[index], self.best.solutions[index])

    def round(self, allowance: Allowance) -> None:
        """Search every group once more and keep what is better.

        Parameters
        ----------
        allowance
            Ends the round early; it is charged with the steps of all searches.
        """
        steps, left, before = self._parameters.round_steps, allowance.steps_left, self.steps
        if left is not None:
            steps = min(steps, left // SEARCHES)
        for index in range(len(self._groups)):
            if allowance.is_over():
                break
            share = steps * self._panels[index] // sum(self._panels)
            least = min(steps, self._parameters.least_steps)
            self._turn(index, max(least, share), allowance.is_late)
        self._rounds += 1
        allowance.spend(self.steps - before)

    def _turn(self, index: int, steps: int, is_over: Callable[[], bool]) -> None:
        """Search one group beside the others' present layouts."""
        others = [
            (group.problem, solution)
            for number, (group, solution) in enumerate(
                zip(self._groups, self.best.solutions, strict=True)
            )
            if number != index
        ]
        searches = self._searches[index]
        every = self._parameters.larger_every
        larger = self._rounds % every == every - 1
        for number, search in enumerate(searches):
            if number == 0 or self._rounds % self._parameters.return_every == 0:
                search.restart(self.best.solutions[index])

        def run(number: int) -> Solution:
            slack = number if not larger else 0
            work = cut_forest(others, self._shop, whole=searches[number].whole)
            return searches[number].search(work, steps, is_over, larger=larger, slack=slack)

        with ThreadPoolExecutor(SEARCHES) as pool:
            found = list(pool.map(run, range(SEARCHES)))
        for solution in found:
            chosen = self.best.solutions
            trial = (*chosen[:index], solution, *chosen[index + 1 :])
            if trial not in self._seen:
                rank = self._rank(trial)
                if self._is_better(rank):
                    self.best = Choice(trial, rank)

    def _is_better(self, rank: Rank) -> bool:
        best = self.best.rank
        if self._settings_first and rank.load != best.load:
            return rank.load < best.load
        return rank < best

    def _rank(self, solutions: tuple[Solution, ...]) -> Rank:
        self._seen.add(solutions)
        scattered = cuts = cost = 0
        for group, solution, least in zip(self._groups, solutions, self._keep, strict=True):
            cost += cost_of(group, solution)
            for layout in solution:
                cuts += layout.copies * cuts_of(layout.root, self._fence.kerf)
                for piece in leftovers(layout.root, self._fence.kerf):
                    if max(piece) >= least[0] and min(piece) >= least[1]:
                        scattered -= layout.copies * (piece[0] * piece[1]) ** 2
        return Rank(cost, self._load(solutions), scattered, cuts)

    def _load(self, solutions: Sequence[Solution]) -> SetupLoad:
        if sum(self._panels) <= self._parameters.most_looked_at:
            return glance(stock_layouts(self._groups, solutions), self._fence)
        problems = [group.problem for group in self._groups]
        loads = []
        for whole in (True, False):
            work = zip(problems, solutions, strict=True)
            tally = quick_settings(cut_forest(work, self._shop, whole=whole), self._shop)
            loads.append(SetupLoad(tally.unsafe, 0, tally.weight, tally.setups, tally.skims))
        return min(loads)
