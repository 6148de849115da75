"""Offcuts that save no money stay in the rack."""

from __future__ import annotations

import pytest

from cutlist.nesting.failures import StockTooSmallError
from cutlist.nesting.problem import Bin, Item, Nesting, Problem
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps, FirstOf, StopRule
from cutlist.planning.packing.idle_offcuts import spared

SHEET = Bin(100, 50, 7)
LARGE, SMALL = Bin(60, 50, 0, 1), Bin(30, 20, 0, 1)


def pack(problem: Problem, is_reached: StopRule) -> Nesting:
    """Search for a while."""
    return nest(problem, seed=1, stop=FirstOf(AfterSteps(3000), is_reached))


def plan(problem: Problem) -> Nesting:
    """Return a plan with everything on the rack allowed."""
    return nest(problem, seed=1, stop=AfterSteps(3000))


def offcuts_used(problem: Problem, found: Nesting) -> list[int]:
    """Return the numbers of the offcuts that a plan cuts up."""
    return sorted({one.stock for one in found.layouts if problem.bins[one.stock].cost == 0})


@pytest.mark.parametrize("panels", [5, 6])
def test_an_offcut_that_saves_nothing_stays(panels: int) -> None:
    """One sheet holds ten panels: with fewer nothing on hand is needed."""
    problem = Problem((Item(20, 25, panels, False),), (SHEET, SMALL), 0)
    less, found = spared(problem, plan(problem), pack)
    assert found.cost == 7
    assert offcuts_used(problem, found) == []
    assert less.bins[0] == SHEET


def test_an_offcut_that_saves_a_sheet_is_used() -> None:
    """Ten panels fill the sheet; the eleventh comes from the rack."""
    problem = Problem((Item(20, 25, 11, False),), (SHEET, LARGE), 0)
    less, found = spared(problem, plan(problem), pack)
    assert found.cost == 7
    assert offcuts_used(problem, found) == [1]
    assert less == problem


def test_of_two_the_larger_one_stays() -> None:
    """One more panel than the sheet holds comes out of either offcut: the small one is cut up."""
    problem = Problem((Item(20, 20, 11, False),), (SHEET, LARGE, SMALL), 0)
    whole = plan(problem)
    assert whole.cost == 7
    _, found = spared(problem, whole, pack)
    assert found.cost == 7
    assert offcuts_used(problem, found) == [2] or offcuts_used(problem, whole) == [2]


def test_where_nothing_is_bought_nothing_changes() -> None:
    """A plan from the rack alone is free already; what it does not use stays out of later plans."""
    problem = Problem((Item(20, 20, 2, False),), (SHEET, LARGE, SMALL), 0)
    whole = plan(problem)
    less, found = spared(problem, whole, pack)
    assert found == whole
    used = offcuts_used(problem, whole)
    left = [number for number, one in enumerate(less.bins) if one.available == 0]
    assert sorted(used + left) == [1, 2]


def test_scarce_sheets_are_no_failure() -> None:
    """Where the offcut is all that makes the stock suffice, it is used."""
    scarce = Bin(100, 50, 7, 1)
    problem = Problem((Item(20, 25, 11, False),), (scarce, LARGE), 0)
    with pytest.raises(StockTooSmallError):
        plan(Problem(problem.items, (scarce,), 0))
    _, found = spared(problem, plan(problem), pack)
    assert offcuts_used(problem, found) == [1]
