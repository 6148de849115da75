"""Tests of priced fillings: never better than what is possible, and mostly as good."""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING

import pytest

from cutlist.nesting.columns.generation import ColumnSearch
from cutlist.nesting.columns.starting_states import state_of
from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.state import State
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.problem import Bin, Item, Problem
from tests.nesting.bounds.instances import ROLLS, Roll
from tests.nesting.exhaustive import cheapest_plan
from tests.nesting.trees import assert_accounted

if TYPE_CHECKING:
    from cutlist.nesting.columns.generation import Sheets

EFFORT = 20


def never() -> bool:
    """Go on."""
    return False


def search_of(problem: Problem, *, pricing: bool = True) -> ColumnSearch:
    """Return a search for columns that has not begun."""
    return ColumnSearch(problem, Tables.of(problem), pricing=pricing)


def chosen(columns: ColumnSearch, budget: int) -> Sheets | None:
    """Return sheets that hold all panels within the budget, or None."""
    near = columns.near(budget)
    return None if near is None else columns.choose(near, budget, EFFORT, never)


@pytest.mark.parametrize("lengthwise", [True, False])
@pytest.mark.parametrize("roll", ROLLS, ids=lambda roll: roll.name)
def test_rolls(roll: Roll, lengthwise: bool) -> None:
    """In one dimension the generated fillings suffice for the published optimum."""
    problem = roll.problem(lengthwise=lengthwise)
    columns = search_of(problem)
    assert columns.generate(never, 20)
    demand = [item.qty for item in problem.items]
    assert float(columns.duals @ demand) == pytest.approx(roll.linear, abs=5e-3)
    sheets = chosen(columns, roll.optimum)
    assert sheets is not None
    state = state_of(Tables.of(problem), sheets)
    assert state.complete
    assert state.cost == roll.optimum
    assert chosen(columns, roll.optimum - 1) is None


def small_problem(random: Random) -> Problem:
    """Draw up to six panels on one or two kinds of sheets, with kerf, some turnable."""
    bins = tuple(
        Bin(random.randint(10, 18), random.randint(10, 18), random.randint(2, 9))
        for _ in range(random.randint(1, 2))
    )
    items = tuple(
        Item(random.randint(3, 10), random.randint(3, 10), random.randint(1, 2), flag)
        for flag in (True, False, random.random() < 0.5)
    )
    return Problem(items, bins, random.randint(0, 2))


@pytest.mark.slow
def test_small_problems_beside_every_tree_of_cuts() -> None:
    """Nothing is chosen below the optimum, and at the optimum nearly always a whole plan."""
    random = Random(3)
    met = 0
    for _ in range(60):
        problem = small_problem(random)
        optimum = cheapest_plan(problem)
        assert optimum is not None
        columns = search_of(problem)
        columns.generate(never)
        assert chosen(columns, optimum[0] - 1) is None
        sheets = chosen(columns, optimum[0])
        if sheets is not None:
            state = state_of(Tables.of(problem), sheets)
            assert state.complete
            assert state.cost <= optimum[0]
            assert_accounted(problem, state)
            met += 1
    assert met >= 50


def test_rounding_keeps_to_stock_and_budget() -> None:
    """Rounding never uses more bins than there are, nor spends more where told to spend less."""
    items = tuple(Item(22 + 7 * i, 47 - 5 * i, 9, True) for i in range(5))
    problem = Problem(items, (Bin(100, 70, 10), Bin(60, 50, 1, 3)), 1)
    columns = search_of(problem)
    columns.generate(never)
    dear = state_of(Tables.of(problem), columns.rounded())
    assert_accounted(problem, dear)
    assert int(dear.left[1]) >= 0
    assert dear.cost > 20
    cheap = columns.rounded(dear.cost - 5)
    state = state_of(Tables.of(problem), cheap)
    assert_accounted(problem, state)
    assert state.cost <= dear.cost


def test_without_pricing_only_sheets_seen_are_used() -> None:
    """The sheets of a pool become columns, once each, and nothing else does."""
    items = tuple(Item(17 + 5 * i, 41 - 3 * i, 3, True) for i in range(6))
    problem = Problem(items, (Bin(100, 80, 7),), 2)
    tables = Tables.of(problem)
    engine = Engine(tables, 1)
    engine.pool.floors[:] = 4000
    state = State.empty(tables, 8)
    engine.search(state, 50)
    state.aim_at(state.cost - 7, tables)
    engine.weigh(state)
    engine.search(state, 5000)
    seen = {tuple(row) for row in engine.pool.counts().tolist()}
    columns = search_of(problem, pricing=False)
    columns.take(engine.pool)
    columns.take(engine.pool)
    assert columns.generate(never)
    sheets = columns.rounded()
    assert sheets
    for which, rows in sheets:
        alone = state_of(tables, [(which, rows)])
        held = tuple(alone.kinds_on(0).count(kind) for kind in range(len(items)))
        assert held in seen


def test_being_told_to_end_is_no_answer() -> None:
    """An interrupted generation says None, neither yes nor no."""
    problem = Problem((Item(30, 20, 9, False),), (Bin(100, 70, 10),), 1)
    assert search_of(problem).generate(lambda: True) is None


def test_only_what_can_be_filled_quickly_suits() -> None:
    """A usual sheet in tenths of a millimetre suits; one in nanometres, or a hundred kinds, not."""
    items = (Item(500, 300, 2, False),)
    assert ColumnSearch.suits(Problem(items, (Bin(24400, 12200, 1),), 30))
    assert not ColumnSearch.suits(Problem(items, (Bin(10**9, 10**9, 1),), 30))
    many = tuple(Bin(1000 + n, 500, 1) for n in range(100))
    assert not ColumnSearch.suits(Problem(items, many, 30))


def test_columns_stay_within_reach() -> None:
    """With a short fence, every sheet chosen can be cut."""
    items = (Item(60, 30, 4, True), Item(25, 20, 8, True))
    problem = Problem(items, (Bin(100, 90, 3),), 2, reach=50)
    columns = search_of(problem)
    columns.generate(never)
    assert_accounted(problem, state_of(Tables.of(problem), columns.rounded()))
