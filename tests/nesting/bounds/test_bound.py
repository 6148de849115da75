"""Tests of the two bounds: never above a plan, and as strong as published values say."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlist.nesting.bounds import Bound, improved_bound, lower_bound
from cutlist.nesting.problem import Bin, Item, Problem
from tests.nesting.bounds.feasible import Feasible, cut_apart, feasible_problems
from tests.nesting.bounds.instances import ORDERS, ROLLS, Order, Roll
from tests.nesting.exhaustive import cheapest_plan


@pytest.mark.slow
@settings(max_examples=300, deadline=None)
@given(feasible_problems())
def test_quick_bound_is_below_every_plan(feasible: Feasible) -> None:
    """Sheets cut apart at random are a plan, so that the bound is at most what they cost."""
    bound = lower_bound(feasible.problem)
    assert bound.cost <= feasible.cost
    assert bound.sheets <= feasible.sheets


@pytest.mark.slow
@settings(max_examples=150, deadline=None)
@given(feasible_problems(cuts=9))
def test_strong_bound_is_below_every_plan(feasible: Feasible) -> None:
    """The same for the strong bound, which is never the weaker one."""
    quick = lower_bound(feasible.problem)
    strong = improved_bound(feasible.problem, rounds=60)
    assert quick.cost <= strong.cost <= feasible.cost
    assert quick.sheets <= strong.sheets <= feasible.sheets


@st.composite
def small_problems(draw: st.DrawFn) -> Problem:
    """Return a problem of at most six panels for the exhaustive planner."""
    size = st.integers(1, 12)
    bins = tuple(
        Bin(
            draw(st.integers(4, 16)),
            draw(st.integers(4, 16)),
            draw(st.sampled_from([0, 3, 5, 8])),
            draw(st.sampled_from([None, 1, 2])),
        )
        for _ in range(draw(st.integers(1, 3)))
    )
    items: list[Item] = []
    left = 6
    while left > 0 and (not items or draw(st.booleans())):
        qty = draw(st.integers(1, left))
        left -= qty
        items.append(Item(draw(size), draw(size), qty, draw(st.booleans())))
    return Problem(tuple(items), bins, draw(st.integers(0, 2)))


@pytest.mark.slow
@settings(max_examples=200, deadline=None)
@given(small_problems())
def test_bounds_are_below_the_exhaustive_optimum(problem: Problem) -> None:
    """Neither bound exceeds the optimum over all trees of cuts."""
    optimum = cheapest_plan(problem)
    quick, strong = lower_bound(problem), improved_bound(problem, rounds=60)
    if optimum is not None:
        assert quick.cost <= strong.cost <= optimum[0]
        assert quick.sheets <= strong.sheets <= optimum[1]


def test_small_problems_are_mostly_closed() -> None:
    """The strong bound is not merely true: it meets most optima of random small problems."""
    random = Random(1)
    met = tried = 0
    while tried < 60:
        items = tuple(
            Item(random.randint(2, 12), random.randint(2, 12), random.randint(1, 2), False)
            for _ in range(3)
        )
        problem = Problem(items, (Bin(12, 12, 4), Bin(9, 6, 2)), 1)
        optimum = cheapest_plan(problem)
        if optimum is None:
            continue
        tried += 1
        met += improved_bound(problem, rounds=60).cost == optimum[0]
    assert met >= 45


@pytest.mark.parametrize("lengthwise", [True, False])
@pytest.mark.parametrize("roll", ROLLS, ids=lambda roll: roll.name)
def test_rolls(roll: Roll, lengthwise: bool) -> None:
    """The strong bound of a roll is its linear program, rounded up; all these have no gap."""
    problem = roll.problem(lengthwise=lengthwise)
    assert improved_bound(problem) == Bound(roll.optimum, roll.optimum)
    assert lower_bound(problem).cost <= roll.optimum


@pytest.mark.slow
@pytest.mark.parametrize("order", ORDERS, ids=lambda order: order.name)
def test_orders(order: Order) -> None:
    """The strong bound meets the proven optimum of each of these orders."""
    problem = order.problem()
    assert improved_bound(problem, rounds=200).cost == order.optimum
    assert lower_bound(problem).cost <= order.optimum


def test_no_items_cost_nothing() -> None:
    """Nothing to cut needs nothing."""
    assert lower_bound(Problem((), (Bin(5, 5, 1),), 0)) == Bound(0, 0)
    empty = Problem((Item(9, 9, 0, False),), (Bin(5, 5, 1),), 0)
    assert improved_bound(empty) == Bound(0, 0)


def test_stock_that_cannot_suffice() -> None:
    """Where no plan exists the bound is what the limited stock costs."""
    bins = (Bin(10, 10, 7, 2), Bin(3, 3, 0, 4))
    short = Problem((Item(10, 10, 3, False),), bins, 0)
    assert lower_bound(short) == improved_bound(short) == Bound(14, 2)
    too_large = Problem((Item(11, 10, 1, False),), bins, 0)
    assert lower_bound(too_large) == improved_bound(too_large) == Bound(14, 2)


def test_offcuts_are_free_but_limited() -> None:
    """Three offcuts take three panels; the fourth needs a sheet."""
    bins = (Bin(10, 10, 0, 3), Bin(20, 10, 9))
    assert lower_bound(Problem((Item(10, 10, 3, False),), bins, 0)) == Bound(0, 0)
    assert lower_bound(Problem((Item(10, 10, 4, False),), bins, 0)) == Bound(9, 1)


def test_cost_is_a_sum_of_prices() -> None:
    """Area asks for 1.1 sheets: at prices 5 and 7 no plan costs between 7 and 10."""
    bins = (Bin(10, 10, 5), Bin(14, 10, 7))
    problem = Problem((Item(1, 1, 141, False),), bins, 0)
    assert lower_bound(problem) == Bound(10, 2)


def test_kerf_counts() -> None:
    """Four panels fill a sheet without kerf; with one, no two fit side by side."""
    items = (Item(5, 5, 4, False),)
    assert lower_bound(Problem(items, (Bin(10, 10, 1),), 0)).cost == 1
    assert lower_bound(Problem(items, (Bin(10, 10, 1),), 1)).cost == 4


def test_turning_both_ways_is_weighed() -> None:
    """Panels that fit four to a sheet only when turned need two sheets when they may not turn."""
    bins = (Bin(12, 8, 1),)
    assert lower_bound(Problem((Item(5, 4, 4, False),), bins, 0)).cost == 1
    assert lower_bound(Problem((Item(4, 5, 4, False),), bins, 0)).cost == 2
    assert lower_bound(Problem((Item(4, 5, 4, True),), bins, 0)).cost == 1


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(feasible_problems(), st.integers(2, 5))
def test_prices_scale_the_bound(feasible: Feasible, factor: int) -> None:
    """All prices times a number: the bound times that number, the count of sheets unchanged."""
    bins = tuple(replace(b, cost=factor * b.cost) for b in feasible.problem.bins)
    before = lower_bound(feasible.problem)
    after = lower_bound(replace(feasible.problem, bins=bins))
    assert after.cost == factor * before.cost
    assert after.sheets == before.sheets


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(feasible_problems())
def test_merging_lines_changes_nothing(feasible: Feasible) -> None:
    """A part given in several lines, in any order, has the same bound as in one."""
    items = feasible.problem.items
    doubled = replace(feasible.problem, items=tuple(replace(i, qty=2 * i.qty) for i in items))
    repeated = replace(feasible.problem, items=(*items, *reversed(items)))
    assert lower_bound(doubled) == lower_bound(repeated)


def test_many_different_panels_stay_quick() -> None:
    """A thousand different sizes are bounded, and the bound holds."""
    feasible = cut_apart(Random(7), (Bin(2440, 1220, 50), Bin(1220, 1220, 28)), 3, 12, 60)
    assert len(feasible.problem.items) > 500
    bound = lower_bound(feasible.problem)
    assert 0 < bound.cost <= feasible.cost
    assert bound.sheets <= feasible.sheets


def test_a_known_plan_saves_the_work() -> None:
    """With the cost of a plan given, a bound that reaches it is returned at once."""
    problem = ROLLS[0].problem()
    assert improved_bound(problem, rounds=1, upper=1).cost == lower_bound(problem).cost
