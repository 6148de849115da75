"""Packing one problem with several seeds at once, on as many cores.

The compiled search lets go of the interpreter, so threads do.
"""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

from cutlist.nesting.allowance import Allowance
from cutlist.nesting.failures import StockTooSmallError
from cutlist.nesting.observing import Observer
from cutlist.nesting.problem import Nesting, Problem
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import FirstOf, Standing, StopRule
from cutlist.planning.terms.parameters import SEARCHES, USUAL


@dataclass(slots=True)
class _WhenOneIsDone:
    """Stops the others once one search has proven that nothing cheaper exists."""

    is_done: bool = False

    def __call__(self, standing: Standing) -> bool:
        """Say whether a search is done, and remember if this is the one."""
        if standing.cost is not None and standing.cost <= standing.bound:
            self.is_done = True
        return self.is_done


def nest_side_by_side(
    problem: Problem,
    *,
    seed: int,
    allowance: Allowance,
    observer: Observer | None = None,
    also: StopRule | None = None,
    seed_step: int = USUAL.packing.seed_step,
) -> Nesting:
    """Pack a problem :data:`SEARCHES` times and return the cheapest answer.

    Its steps are those of all searches; they are charged to the allowance.

    Parameters
    ----------
    problem
        The problem.
    seed
        The searches use seeds made from it, ``seed_step`` apart.
    allowance
        What they may take together. Where it is in time, one search that is done ends the others.
    observer
        Hears of all searches, from their threads.
    also
        Ends a search, too; it is asked by all of them.

    Raises
    ------
    ItemFitsNowhereError
        An item fits no bin.
    StockTooSmallError
        No search found a way to make the stock suffice.
    StoppedError
        Stopped before there was a first complete plan.
    """
    one_is_done = _WhenOneIsDone()

    def run(number: int) -> Nesting | StockTooSmallError:
        rules = [allowance.rule(SEARCHES)]
        rules += [also] if also is not None else []
        rules += [one_is_done] if allowance.is_timed else []
        try:
            return nest(
                problem, seed=seed + seed_step * number, stop=FirstOf(*rules), observer=observer
            )
        except StockTooSmallError as error:
            return error

    with ThreadPoolExecutor(SEARCHES) as pool:
        answers = list(pool.map(run, range(SEARCHES)))
    allowance.spend(sum(answer.steps for answer in answers))
    found = [answer for answer in answers if isinstance(answer, Nesting)]
    if not found:
        raise _failure(answers)
    return _merged(found)


def _merged(found: Sequence[Nesting]) -> Nesting:
    best = min(found, key=lambda answer: answer.cost)
    return replace(
        best,
        bound=max(answer.bound for answer in found),
        sheets_bound=max(answer.sheets_bound for answer in found),
        steps=sum(answer.steps for answer in found),
    )


def _failure(answers: Sequence[Nesting | StockTooSmallError]) -> StockTooSmallError:
    """Return the failure that leaves fewest panels over."""
    failures = [answer for answer in answers if isinstance(answer, StockTooSmallError)]
    return min(failures, key=lambda error: sum(error.short.values()))
