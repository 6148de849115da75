"""Searches side by side: the cheapest answer, the same every time."""

from __future__ import annotations

import pytest

from cutlist.nesting.allowance import Allowance
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.observing import Observer
from cutlist.nesting.problem import Bin, Item, Nesting, Problem
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from cutlist.planning.packing.parallel import nest_side_by_side
from cutlist.planning.terms.parameters import SEARCHES

ITEMS = (Item(7, 5, 3, True), Item(4, 3, 5, True), Item(9, 2, 4, False), Item(3, 3, 6, False))


def side_by_side(problem: Problem, steps: int = 600) -> Nesting:
    """Pack a problem with so many steps for each search."""
    return nest_side_by_side(
        problem, seed=3, allowance=Allowance(steps=steps * SEARCHES), observer=Observer()
    )


def test_takes_the_cheapest() -> None:
    """The answer costs no more than that of any search alone, and is whole."""
    problem = Problem(ITEMS, (Bin(14, 11, 3), Bin(9, 8, 2, 2)), kerf=1)
    found = side_by_side(problem)
    alone = nest(problem, seed=3, stop=AfterSteps(600))
    assert found.cost <= alone.cost
    assert found.bound <= found.cost
    assert found.steps >= SEARCHES
    assert check_layouts(problem, found.layouts) == []
    assert sum(x.copies * problem.bins[x.stock].cost for x in found.layouts) == found.cost


def test_same_seed_same_answer() -> None:
    """With a budget in steps the threads do not show in the answer."""
    problem = Problem(ITEMS, (Bin(14, 11, 3),), kerf=1)
    assert side_by_side(problem) == side_by_side(problem)


def test_failures_pass() -> None:
    """What no search can do is raised as by one search."""
    with pytest.raises(ItemFitsNowhereError):
        side_by_side(Problem((Item(20, 2, 1, True),), (Bin(14, 11, 3),), kerf=1))
    with pytest.raises(StockTooSmallError) as caught:
        side_by_side(Problem((Item(10, 10, 3, True),), (Bin(14, 11, 3, 2),), kerf=1))
    assert caught.value.short == {0: 1}


def test_all_searches_are_charged() -> None:
    """Steps are charged once for each search, also where none of them finds a way."""
    allowance = Allowance(steps=2000)
    problem = Problem(ITEMS, (Bin(14, 11, 3),), kerf=1)
    found = nest_side_by_side(problem, seed=3, allowance=allowance)
    assert 0 < allowance.spent == found.steps <= 2000 + SEARCHES * 1000
    short = Allowance(steps=2000)
    # Six panels of 7 × 4 and a kerf of 1 fill two bins of 14 × 11 by area, but do not fit.
    wide = Problem((Item(8, 4, 6, False),), (Bin(14, 15, 3, 1),), kerf=0)
    with pytest.raises(StockTooSmallError) as caught:
        nest_side_by_side(wide, seed=3, allowance=short)
    assert not caught.value.proven
    assert short.spent >= 2000
