"""Tests of plans for hundreds and thousands of panels, made from the sheets of samples."""

from __future__ import annotations

import numpy as np
import pytest

from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.state import State
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.parameters import SamplingParameters
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search.sampling import plan_from_samples
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from tests.benchmarks.area import area_bound
from tests.benchmarks.scale import shop_order
from tests.nesting.trees import assert_accounted

SIZES = ((49, 38), (53, 22), (24, 17), (34, 44), (57, 29), (22, 47), (41, 31), (29, 19))


def order(copies: int, *bins: Bin) -> Problem:
    """Return an order of eight parts."""
    return Problem(tuple(Item(a, b, copies, False) for a, b in SIZES), bins, 1)


def never() -> bool:
    """Go on."""
    return False


def plan(problem: Problem, seed: int = 1, *, ended: bool = False) -> tuple[Engine, State]:
    """Return a plan in copies, and the engine that it was made with."""
    tables = Tables.of(problem)
    engine = Engine(tables, seed)
    first = State.empty(tables, int(tables.demand.sum()))
    Engine(tables, seed).search(first, 1)
    return engine, plan_from_samples(problem, engine, seed, first, lambda: ended)


def test_many_copies_are_planned_close_to_their_area() -> None:
    """Eight parts in a hundred copies each: all lie on sheets, few more than the area needs."""
    problem = order(100, Bin(100, 80, 1))
    assert 100 * len(SIZES) >= SamplingParameters().from_panels
    engine, state = plan(problem)
    assert state.complete
    assert_accounted(problem, state)
    assert state.cost <= 1.12 * area_bound(problem)
    assert engine.steps > 0


@pytest.mark.slow
def test_copies_grow_with_the_order() -> None:
    """Ten times the panels take at most a little more than ten times the sheets."""
    _, small = plan(order(100, Bin(100, 80, 1)))
    _, large = plan(order(1000, Bin(100, 80, 1)))
    assert large.complete
    assert large.cost <= 10.2 * small.cost


@pytest.mark.slow
@pytest.mark.parametrize("stock", [0, 7])
def test_limited_stock_is_not_overdrawn(stock: int) -> None:
    """Free offcuts are used as far as they go."""
    problem = order(90, Bin(100, 80, 5), Bin(90, 70, 0, stock))
    _, state = plan(problem)
    assert state.complete
    assert_accounted(problem, state)


def test_a_plan_that_is_told_to_end_is_still_sound() -> None:
    """Every panel lies on a sheet or waits, although no sample was searched."""
    problem = order(90, Bin(100, 80, 5))
    _, state = plan(problem, ended=True)
    assert_accounted(problem, state)


@pytest.mark.slow
def test_equal_seeds_give_equal_plans() -> None:
    """The samples are drawn from the seed alone."""
    problem = order(80, Bin(100, 80, 1))
    (one, first), (two, second) = plan(problem, 3), plan(problem, 3)
    assert one.steps == two.steps
    assert np.array_equal(first.tree, second.tree)
    assert np.array_equal(first.meta, second.meta)


@pytest.mark.slow
@pytest.mark.parametrize(("panels", "parts"), [(2000, 5), (2000, 60), (700, 700)])
def test_large_orders_come_close_to_their_area(panels: int, parts: int) -> None:
    """Few parts in many copies, or all panels different: within a tenth of the area at once.

    The order is one of cabinet-like parts on sheets of 2440 by 1220.
    """
    problem = shop_order(panels, parts, 1, turned=True)
    found = nest(problem, seed=1, stop=AfterSteps(1000))
    area = area_bound(problem)
    assert area <= found.bound <= found.cost <= 1.1 * area
