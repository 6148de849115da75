"""Tests of the pool of good sheets."""

from __future__ import annotations

import numpy as np
import pytest

from cutlist.nesting.columns.starting_states import state_of
from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.pool import Pool
from cutlist.nesting.kernels.state import State
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.problem import Bin, Item, Problem
from tests.nesting.trees import assert_accounted

PROBLEM = Problem(
    tuple(Item(17 + 5 * i, 41 - 3 * i, 3, i % 2 == 0) for i in range(9)),
    (Bin(100, 80, 7), Bin(60, 60, 3)),
    2,
)
FLOOR = 0.7


def file_sheets(engine: Engine) -> None:
    """Search for a cost that is out of reach, filing the good sheets that come up."""
    rooms = engine.tables.bins[:, 0] * engine.tables.bins[:, 1]
    engine.pool.floors[:] = (FLOOR * rooms).astype(np.int64)
    state = State.empty(engine.tables, 12)
    engine.search(state, 50)
    state.aim_at(state.cost * 2 // 3, engine.tables)
    engine.weigh(state)
    engine.search(state, 6000)


@pytest.fixture
def engine() -> Engine:
    """Return an engine whose pool has been filled by a search."""
    engine = Engine(Tables.of(PROBLEM), 1)
    file_sheets(engine)
    return engine


def test_a_fresh_pool_is_empty() -> None:
    """It holds no sheet and counts none."""
    pool = Pool.empty(Tables.of(PROBLEM), 10, 100)
    assert pool.sheets == 0
    assert pool.counts().shape == (0, 9)


def test_only_full_sheets_are_filed(engine: Engine) -> None:
    """The panels of each sheet reach the floor of its bin, and their area is noted."""
    pool = engine.pool
    assert pool.sheets > 10
    book = pool.book[: pool.sheets]
    assert (book[:, 3] >= pool.floors[book[:, 2]]).all()
    areas = pool.counts() @ engine.tables.types[:, 3]
    assert areas.tolist() == book[:, 3].tolist()


def test_no_set_of_panels_is_filed_twice(engine: Engine) -> None:
    """Bin and panels together are distinct."""
    pool = engine.pool
    keys = {
        (int(which), row.tobytes())
        for which, row in zip(pool.book[: pool.sheets, 2], pool.counts(), strict=True)
    }
    assert len(keys) == pool.sheets


def test_filed_sheets_can_be_used_again(engine: Engine) -> None:
    """Every page is a sound layout of the panels that are counted on it."""
    pool = engine.pool
    counts = pool.counts()
    assert len(counts) == pool.sheets > 0
    for number in range(pool.sheets):
        first, length, which, _ = (int(x) for x in pool.book[number])
        rows = pool.pages[first : first + length]
        state = state_of(engine.tables, [(which, rows)])
        assert_accounted(PROBLEM, state)
        held = np.bincount(state.kinds_on(0), minlength=len(PROBLEM.items))
        assert held.tolist() == counts[number].tolist()
        assert state.meta[0, nodes.BIN] == which


def test_clearing_forgets(engine: Engine) -> None:
    """After clearing, the same search files the same sheets once more."""
    filed = engine.pool.counts()
    engine.pool.clear()
    assert engine.pool.sheets == 0
    again = Engine(engine.tables, 1)
    again.pool = engine.pool
    file_sheets(again)
    assert np.array_equal(again.pool.counts(), filed)


def test_a_floor_of_nought_files_nothing() -> None:
    """Until floors are set, no sheet is good enough."""
    tables = Tables.of(PROBLEM)
    engine = Engine(tables, 1)
    engine.search(State.empty(tables, 12), 500)
    assert engine.pool.sheets == 0
