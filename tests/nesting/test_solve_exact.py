"""The search beside the exhaustive planner, on problems small enough to try every tree of cuts."""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest

from cutlist.nesting.bounds import improved_bound
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from tests.nesting.exhaustive import cheapest_plan

CASES = 300
STEPS = 4000


def small_problem(random: Random) -> Problem:
    """Draw one to six panels, fixed and turnable, and up to three bins of any kind."""
    bins = tuple(
        Bin(
            random.randint(5, 18),
            random.randint(5, 18),
            random.choice((0, 3, 5, 8)) if number else random.randint(1, 9),
            random.choice((None, None, 1, 2)),
            random.choice((0, 0, 1, 3)),
        )
        for number in range(random.randint(1, 3))
    )
    items = []
    left = random.randint(1, 6)
    while left:
        qty = random.randint(1, left)
        left -= qty
        items.append(Item(random.randint(1, 11), random.randint(1, 11), qty, random.random() < 0.5))
    return Problem(tuple(items), bins, random.choice((0, 0, 1, 2)))


def features(problem: Problem) -> set[str]:
    """Return what is special about a problem."""
    found = {
        "turned" if any(item.turnable for item in problem.items) else "fixed",
        "kerf" if problem.kerf else "no kerf",
    }
    if len({bin_.cost for bin_ in problem.bins}) > 1:
        found.add("prices")
    if any(bin_.trim for bin_ in problem.bins):
        found.add("trim")
    if all(bin_.available is not None for bin_ in problem.bins):
        found.add("all stock limited")
    return found


@pytest.mark.slow
def test_the_search_finds_the_optimum_of_small_problems() -> None:
    """Costs equal those of all trees of cuts, bounds are at most that; no plan means none is there.

    Every kind of problem comes up often enough, also among those with more than one sheet.
    """
    random = Random(1)
    seen = Counter[str]()
    for _ in range(CASES):
        problem = small_problem(random)
        optimum = cheapest_plan(problem)
        bound = improved_bound(problem, rounds=60)
        try:
            found = nest(problem, seed=1, stop=AfterSteps(STEPS))
        except (ItemFitsNowhereError, StockTooSmallError) as error:
            assert optimum is None, problem
            seen[type(error).__name__] += 1
            continue
        assert check_layouts(problem, found.layouts) == []
        assert optimum is not None
        assert max(found.bound, bound.cost) <= optimum[0], problem
        assert max(found.sheets_bound, bound.sheets) <= optimum[1], problem
        assert found.cost == optimum[0], problem
        seen.update(features(problem))
        if optimum[1] > 1:
            seen["several sheets"] += 1
    wanted = (
        "turned", "fixed", "kerf", "no kerf", "prices", "trim", "all stock limited",
        "several sheets", "ItemFitsNowhereError", "StockTooSmallError",
    )  # fmt: skip
    assert {name: seen[name] for name in wanted if seen[name] < 10} == {}, seen
