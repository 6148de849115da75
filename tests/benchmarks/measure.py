"""One measured run of the search on one instance."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cutlist.errors import CutlistError
from cutlist.nesting.bounds import improved_bound, lower_bound
from cutlist.nesting.observing import Observer, SearchProgress
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search.knapsack import best_value
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSeconds, AfterSteps, FirstOf, WhenBoundMet, WhenReached

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.nesting.stopping import Standing, StopRule
    from tests.benchmarks.instances import Instance


@dataclass(frozen=True, slots=True)
class Budget:
    """What a run may spend.

    Parameters
    ----------
    seconds, steps
        Of processor time, and of the search; None: no limit.
    seed
        Of the search.
    until_published
        Whether an instance also ends at its published figure.
    """

    seconds: float | None
    steps: int | None
    seed: int
    until_published: bool = False

    def rule(self, published_cost: int | None = None) -> StopRule:
        """Return a fresh rule for one run."""
        limits: list[StopRule] = []
        if self.seconds is not None:
            limits.append(AfterSeconds(self.seconds, time.process_time))
        if self.steps is not None:
            limits.append(AfterSteps(self.steps))
        if not limits:
            limits.append(WhenBoundMet())
        if self.until_published and published_cost is not None:
            limits.append(WhenReached(published_cost))
        return FirstOf(*limits)


@dataclass(frozen=True, slots=True)
class Measured:
    """What came out.

    Parameters
    ----------
    result
        Cost of the best plan, or the value that it cuts; None where there was none.
    bound
        The cost bound that the search reported; None for a value.
    first, best, total
        Seconds of processor time to the first plan, to the best one, and of the whole run.
    wall
        Seconds on the wall clock of the whole run.
    steps
        Search steps spent.
    failure
        Name of the error where there was no plan.
    """

    result: int | None
    bound: int | None
    first: float
    best: float
    total: float
    wall: float
    steps: int
    failure: str = ""


class _Watch(Observer):
    """Notes when the first and the best plan came."""

    def __init__(self) -> None:
        self._wall = time.perf_counter()
        self._started = time.process_time()
        self._first: float | None = None
        self._best = 0.0
        self._cost: int | None = None

    def improved(self, progress: SearchProgress) -> None:  # noqa: ARG002
        """Take the time."""
        self._better()

    def _better(self) -> None:
        self._best = time.process_time() - self._started
        if self._first is None:
            self._first = self._best

    def watching(self, rule: StopRule) -> StopRule:
        """Return the rule, the time being taken at each call that knows of a better plan."""

        def watched(standing: Standing) -> bool:
            if standing.cost is not None and (self._cost is None or standing.cost < self._cost):
                self._cost = standing.cost
                self._better()
            return rule(standing)

        return watched

    def measured(
        self, result: int | None, bound: int | None, steps: int, failure: str = ""
    ) -> Measured:
        """Stop the clocks."""
        total = time.process_time() - self._started
        wall = time.perf_counter() - self._wall
        return Measured(result, bound, self._first or 0.0, self._best, total, wall, steps, failure)


def measure(problem: Problem, budget: Budget, published: int | None = None) -> Measured:
    """Run the search for the least cost once."""
    watch = _Watch()
    try:
        found = nest(problem, seed=budget.seed, stop=budget.rule(published), observer=watch)
    except CutlistError as error:
        failed = watch.measured(None, None, 0, type(error).__name__)
        return replace(failed, bound=lower_bound(problem).cost)
    return watch.measured(found.cost, found.bound, found.steps)


def measure_value(
    problem: Problem, values: Sequence[int], budget: Budget, published: int | None = None
) -> Measured:
    """Run the search for the greatest value once."""
    watch = _Watch()
    rule = watch.watching(budget.rule(None if published is None else -published))
    found = best_value(problem, values, seed=budget.seed, stop=rule)
    return watch.measured(found.value, None, found.steps)


def measure_instance(job: tuple[Instance, Budget]) -> Measured:
    """Run the search on an instance; a plain function, so that processes can be sent here."""
    instance, budget = job
    if instance.values is None:
        return measure(instance.problem, budget, instance.published)
    return measure_value(instance.problem, instance.values, budget, instance.published)


def bound_instance(job: tuple[Instance, float]) -> int:
    """Return the strong bound within so many seconds on the wall clock."""
    instance, seconds = job
    return improved_bound(instance.problem, seconds).cost


def prepare_kernels() -> float:
    """Compile or load the kernels and return the wall-clock seconds that it took."""
    started = time.perf_counter()
    problem = Problem((Item(3, 2, 4, True),), (Bin(7, 5, 1), Bin(4, 4, 0, 1)), 1)
    measure(problem, Budget(None, 2000, 1))
    measure_value(Problem((Item(3, 2, 9, True),), (Bin(7, 5, 1, 1),), 1), [1], Budget(None, 500, 1))
    improved_bound(problem, rounds=3)
    return time.perf_counter() - started
