"""One measured run of the search on one instance."""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

from cutlist.errors import CutlistError
from cutlist.nesting.bounds import improved_bound, lower_bound
from cutlist.nesting.observing import Observer, Progress
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.solve import nest
from cutlist.nesting.stopping import AfterSeconds, AfterSteps, FirstOf, WhenBoundMet

if TYPE_CHECKING:
    from tests.benchmarks.instances import Instance


@dataclass(frozen=True, slots=True)
class Budget:
    """What a run may spend: seconds, steps or both (None: no limit), and its seed."""

    seconds: float | None
    steps: int | None
    seed: int


@dataclass(frozen=True, slots=True)
class Measured:
    """What came out.

    Parameters
    ----------
    cost
        Of the best plan; None where there was none.
    bound
        The cost bound that the search reported.
    first, best, total
        Seconds to the first plan, to the best one, and of the whole run.
    steps
        Search steps spent.
    failure
        Name of the error where there was no plan.
    """

    cost: int | None
    bound: int
    first: float
    best: float
    total: float
    steps: int
    failure: str = ""


class _Watch(Observer):
    """Notes when the first and the best plan came."""

    def __init__(self) -> None:
        self.started = time.perf_counter()
        self.first: float | None = None
        self.best = 0.0

    def improved(self, progress: Progress) -> None:  # noqa: ARG002
        """Take the time."""
        self.best = time.perf_counter() - self.started
        if self.first is None:
            self.first = self.best


def measure(problem: Problem, budget: Budget) -> Measured:
    """Run the search once."""
    rules = [WhenBoundMet()] if budget.seconds is None and budget.steps is None else []
    stop = FirstOf(
        *rules,
        *([AfterSeconds(budget.seconds)] if budget.seconds is not None else []),
        *([AfterSteps(budget.steps)] if budget.steps is not None else []),
    )
    watch = _Watch()
    try:
        found = nest(problem, seed=budget.seed, stop=stop, observer=watch)
    except CutlistError as error:
        total = time.perf_counter() - watch.started
        bound = lower_bound(problem).cost
        return Measured(None, bound, 0.0, 0.0, total, 0, type(error).__name__)
    total = time.perf_counter() - watch.started
    return Measured(found.cost, found.bound, watch.first or 0.0, watch.best, total, found.steps)


def measure_instance(job: tuple[Instance, Budget]) -> Measured:
    """Run the search on an instance; a plain function, so that processes can be sent here."""
    instance, budget = job
    return measure(instance.problem, budget)


def bound_instance(job: tuple[Instance, float]) -> int:
    """Return the strong bound within so many seconds."""
    instance, seconds = job
    return improved_bound(instance.problem, seconds).cost


def warm_up() -> float:
    """Compile or load the kernels and return the seconds that it took."""
    started = time.perf_counter()
    problem = Problem((Item(3, 2, 4, True),), (Bin(7, 5, 1), Bin(4, 4, 0, 1)), 1)
    measure(problem, Budget(None, 2000, 1))
    improved_bound(problem, rounds=3)
    return time.perf_counter() - started
