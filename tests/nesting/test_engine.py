"""Tests of the compiled search between its calls: panels, stock and cost always add up."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.state import State
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.layouts.trees import layouts_of
from cutlist.nesting.problem import Bin, Item, Problem
from tests.nesting.problems import problems
from tests.nesting.trees import assert_accounted

relaxed = settings(
    max_examples=80, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True
)
PROBLEM = Problem(
    tuple(Item(17 + 5 * i, 41 - 3 * i, 3, i % 2 == 0) for i in range(9)),
    (Bin(100, 80, 7), Bin(60, 60, 3, 2)),
    2,
)


def begun(problem: Problem, seed: int) -> tuple[Engine, State]:
    """Return an engine and a state after a first filling."""
    engine = Engine(Tables.of(problem), seed)
    state = State.empty(engine.tables, 8)
    engine.search(state, 1)
    return engine, state


@relaxed
@given(problems(reach=True), st.integers(0, 99), st.floats(0, 1))
def test_every_state_is_accounted_for(problem: Problem, seed: int, share: float) -> None:
    """Whatever the goal, after some steps each panel lies soundly on a sheet or waits."""
    engine, state = begun(problem, seed)
    assert_accounted(problem, state)
    goal = int(share * state.cost)
    state.aim_at(goal, engine.tables)
    engine.weigh(state)
    for _ in range(4):
        engine.search(state, 60)
        assert_accounted(problem, state)
        assert state.cost <= goal


def test_the_search_lowers_what_waits() -> None:
    """With a goal in reach, all panels come to lie on sheets."""
    engine, state = begun(PROBLEM, 1)
    state.aim_at(35, engine.tables)
    engine.weigh(state)
    before = state.run[kernel.MARK]
    assert before > 0
    engine.search(state, 20_000)
    assert state.run[kernel.BEST] < before


def test_equal_seeds_walk_alike() -> None:
    """Steps in one call or in two lead to the same state; another seed leads elsewhere."""

    def walked(seed: int, *bouts: int) -> State:
        engine, state = begun(PROBLEM, seed)
        state.aim_at(20, engine.tables)
        engine.weigh(state)
        for steps in bouts:
            engine.search(state, steps)
        return state

    one, two, other = walked(5, 700), walked(5, 300, 400), walked(6, 700)
    assert np.array_equal(one.tree, two.tree)
    assert np.array_equal(one.wait, two.wait)
    assert layouts_of(PROBLEM, one) != layouts_of(PROBLEM, other)


@pytest.mark.parametrize("steps", [1, 10, 333])
def test_steps_are_counted(steps: int) -> None:
    """A goal out of reach takes all the steps that are given."""
    engine, state = begun(PROBLEM, 1)
    state.aim_at(7, engine.tables)
    engine.weigh(state)
    before = engine.steps
    engine.search(state, steps)
    assert engine.steps - before == steps


def test_what_waits_counts_by_its_worth() -> None:
    """The mark of a state is the worth of the panels that wait, their area by default."""
    engine, state = begun(PROBLEM, 1)
    state.aim_at(7, engine.tables)
    waiting = state.wait[: state.run[kernel.WAITING]]
    engine.weigh(state)
    assert state.run[kernel.MARK] == engine.tables.types[waiting, 3].sum()
    engine.worth = np.arange(1, 10, dtype=np.int64)
    engine.weigh(state)
    assert state.run[kernel.MARK] == engine.worth[waiting].sum()
