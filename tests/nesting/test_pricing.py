"""Tests of dives and of whole attempts at a budget."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from cutlist.nesting.columns.diving import Diver
from cutlist.nesting.columns.generation import ColumnSearch
from cutlist.nesting.columns.pricing import Pricing
from cutlist.nesting.columns.starting_states import state_of
from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from tests.nesting.exhaustive import cheapest_plan
from tests.nesting.trees import assert_accounted, waiting_in

QUARTERS = Problem((Item(50, 40, 28, False),), (Bin(100, 80, 3),), 0)


def never() -> bool:
    """Go on."""
    return False


def dived(problem: Problem, budget: int, seed: int) -> int:
    """Dive once, hold the outcome to the problem, and return how many panels wait."""
    columns = ColumnSearch(problem, Tables.of(problem))
    columns.generate(never, 1, budget)
    near = columns.near(budget)
    assert near is not None
    sheets = Diver(columns, near, budget).dive(np.random.default_rng(seed), never)
    state = state_of(columns.tables, sheets)
    assert_accounted(problem, state)
    assert state.cost <= budget
    return waiting_in(state)


@pytest.mark.parametrize("seed", range(6))
def test_dives_keep_to_the_budget(seed: int) -> None:
    """With the money of a plan found otherwise, at most a few panels are left over."""
    random = Random(seed)
    items = tuple(
        Item(random.randint(12, 45), random.randint(12, 45), random.randint(1, 4), seed % 2 == 0)
        for _ in range(10)
    )
    problem = Problem(items, (Bin(60, 60, 3),), seed % 3)
    budget = nest(problem, seed=1, stop=AfterSteps(5000)).cost
    assert dived(problem, budget, seed) <= sum(item.qty for item in items) // 8


def test_a_dive_finds_what_is_there() -> None:
    """Four panels fill a sheet exactly: seven sheets for 28."""
    assert dived(QUARTERS, 21, 1) == 0


def test_a_dive_is_not_begun_above_the_budget() -> None:
    """Where even the relaxed choice costs more, nothing is near."""
    columns = ColumnSearch(QUARTERS, Tables.of(QUARTERS))
    columns.generate(never, 20)
    assert columns.near(20) is None


def test_an_attempt_tells_that_there_is_no_hope() -> None:
    """Seven sheets are needed by area; six are hopeless, seven are found."""
    engine = Engine(Tables.of(QUARTERS), 1)
    pricing = Pricing(QUARTERS, engine, 1)
    short = pricing.attempt(18, never)
    assert pricing.is_hopeless
    assert short is None or not short.complete
    found = pricing.attempt(21, never)
    assert not pricing.is_hopeless
    assert found is not None
    assert found.complete
    assert_accounted(QUARTERS, found)


def test_an_attempt_can_be_interrupted() -> None:
    """Told to stop at once, it returns nothing rather than a guess."""
    pricing = Pricing(QUARTERS, Engine(Tables.of(QUARTERS), 1), 1)
    assert pricing.attempt(21, lambda: True) is None


@pytest.mark.parametrize("seed", range(25))
def test_no_attempt_is_cheaper_than_all_trees(seed: int) -> None:
    """On few panels an attempt below the exhaustive optimum is never complete."""
    random = Random(seed)
    bins = tuple(
        Bin(random.randint(8, 14), random.randint(8, 14), random.randint(2, 9)) for _ in range(2)
    )
    items = tuple(
        Item(random.randint(2, 8), random.randint(2, 8), 1, random.random() < 0.5)
        for _ in range(random.randint(2, 5))
    )
    problem = Problem(items, bins, random.randint(0, 1))
    plan = cheapest_plan(problem)
    assert plan is not None
    optimum = plan[0]
    engine = Engine(Tables.of(problem), seed)
    state = Pricing(problem, engine, seed).attempt(optimum - 1, never)
    assert state is None or not state.complete
