"""Tests of the arrays that the compiled search works on."""

from __future__ import annotations

from random import Random

import numpy as np
import pytest

from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.state import State
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.layouts.trees import layouts_of
from cutlist.nesting.problem import Bin, Item, Problem
from tests.nesting.trees import assert_accounted, cut_problem, waiting_in

MIXED = Problem(
    (Item(40, 30, 6, True), Item(25, 25, 5, True), Item(60, 15, 4, False)),
    (Bin(100, 60, 9), Bin(70, 50, 4, 2, 1), Bin(60, 60, 0, 1)),
    2,
    reach=80,
)


def filled(problem: Problem, steps: int = 200) -> tuple[Engine, State]:
    """Return an engine and a state in which it has laid every panel out."""
    tables = Tables.of(problem)
    engine = Engine(tables, 1)
    state = State.empty(tables, int(tables.demand.sum()))
    engine.search(state, steps)
    assert state.complete
    return engine, state


def test_tables_hold_extents_with_one_kerf_more() -> None:
    """Items and bins grow by the kerf, a square does not turn, no limit is a large number."""
    tables = Tables.of(MIXED)
    assert tables.types.tolist() == [[42, 32, 1, 1344], [27, 27, 0, 729], [62, 17, 0, 1054]]
    assert tables.bins.tolist() == [
        [102, 62, 0, 9, 0, 0, 0, 0],
        [72, 52, 1, 4, 1, 1, 1, 1],
        [62, 62, 0, 0, 0, 0, 0, 0],
    ]
    assert tables.stock[1:].tolist() == [2, 1]
    assert tables.stock[0] > 10**9
    assert tables.blade == (82, 2)
    assert tables.demand.tolist() == [6, 5, 4]


def test_no_reach_is_nought() -> None:
    """Without a limit the blade reaches everywhere."""
    tables = Tables.of(Problem((Item(4, 3, 1, False),), (Bin(9, 9, 1),), 1))
    assert tables.blade == (0, 1)


def test_every_panel_waits_under_its_item() -> None:
    """The panels of an item follow one another."""
    tables = Tables.of(MIXED)
    assert tables.waiting().tolist() == [0] * 6 + [1] * 5 + [2] * 4


def test_an_empty_state_has_all_panels_waiting() -> None:
    """No sheet is open and nothing is spent."""
    state = State.empty(Tables.of(MIXED), 3)
    assert not state.complete
    assert state.cost == 0
    assert waiting_in(state) == 15
    assert_accounted(MIXED, state)


@pytest.mark.parametrize("seed", range(20))
def test_a_sheet_has_room_for_its_tree(seed: int) -> None:
    """The nodes of a sheet never outgrow the table, however small the panels."""
    problem, _ = cut_problem(Random(seed), sheets=2)
    _, state = filled(problem)
    assert_accounted(problem, state)
    cap = Tables.of(problem).node_cap()
    assert state.tree.shape[1] == cap
    assert state.meta[state.meta[:, nodes.BIN] >= 0, nodes.TOP].max() <= cap


def test_copies_are_independent() -> None:
    """Emptying a state leaves its copy as it was."""
    _, state = filled(MIXED)
    copy = state.copy()
    before = layouts_of(MIXED, copy)
    state.aim_at(0, Tables.of(MIXED))
    assert layouts_of(MIXED, copy) == before
    assert_accounted(MIXED, copy)


def test_compacting_keeps_the_layouts() -> None:
    """Open sheets come first, in order, and more slots may be asked for."""
    tables = Tables.of(MIXED)
    _, state = filled(MIXED)
    open_sheets = int((state.meta[:, nodes.BIN] >= 0).sum())
    for slots in (0, open_sheets + 3):
        compact = state.compacted(tables, slots)
        assert len(compact.meta) == max(slots, open_sheets)
        assert (compact.meta[:open_sheets, nodes.BIN] >= 0).all()
        assert layouts_of(MIXED, compact) == layouts_of(MIXED, state)
        assert_accounted(MIXED, compact)


@pytest.mark.parametrize("budget", [0, 1, 4, 8, 9, 13, 10**6])
def test_a_lower_budget_closes_sheets(budget: int) -> None:
    """The cost falls to the budget; the panels of what is closed wait, its stock is there again."""
    tables = Tables.of(MIXED)
    _, state = filled(MIXED)
    before = state.cost
    state.aim_at(budget, tables)
    assert state.cost <= budget
    assert state.cost == before or budget < before
    assert_accounted(MIXED, state)


def test_the_sheet_with_the_least_on_it_is_closed() -> None:
    """Of three equal sheets the one with the single small panel goes."""
    problem = Problem((Item(50, 40, 4, False), Item(20, 20, 1, False)), (Bin(50, 80, 5),), 0)
    tables = Tables.of(problem)
    _, state = filled(problem)
    assert state.cost == 15
    state.aim_at(14, tables)
    assert state.cost == 10
    assert state.wait[: waiting_in(state)].tolist() == [1]


def test_kinds_on_a_sheet() -> None:
    """Every panel of a sheet is named by its item."""
    problem = Problem((Item(50, 40, 2, False), Item(50, 20, 2, False)), (Bin(50, 120, 5),), 0)
    _, state = filled(problem)
    (slot,) = np.flatnonzero(state.meta[:, nodes.BIN] >= 0)
    assert sorted(state.kinds_on(int(slot))) == [0, 0, 1, 1]
