"""Tests of layouts written into the search's tables."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from random import Random

import pytest

from cutlist.model.layout import Axis, Cell, Strip
from cutlist.nesting.columns.starting_states import node_table, state_of
from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.engine import Engine
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.layouts.trees import layout_from, layouts_of, merged
from cutlist.nesting.problem import Bin, Item, Problem
from tests.nesting.trees import assert_accounted, cut_problem, panels_of, waiting_in


def test_a_panel_alone_is_one_row() -> None:
    """Extents are larger by the kerf, the item is named, and there is nothing around it."""
    (row,) = node_table(Cell(7, 50, 40), 3).tolist()
    assert row[nodes.KIND] == nodes.ITEM
    assert row[nodes.ANGLE] == 7
    assert row[nodes.EXT : nodes.EXT + 2] == [53, 43]
    assert row[nodes.PARENT] == -1


def test_what_is_left_of_a_strip_is_one_blank() -> None:
    """Two panels of 20 and a kerf of 2 leave 56 of 100, its own kerf included."""
    rows = node_table(Strip(Axis.X, 100, 10, (Cell(0, 20, 10), Cell(0, 20, 10))), 2)
    kinds = Counter(rows[:, nodes.KIND].tolist())
    assert kinds == {nodes.STRIP: 1, nodes.ITEM: 2, nodes.BLANK: 1}
    (blank,) = rows[rows[:, nodes.KIND] == nodes.BLANK].tolist()
    assert blank[nodes.EXT : nodes.EXT + 2] == [102 - 2 * 22, 12]
    full = node_table(Strip(Axis.X, 42, 10, (Cell(0, 20, 10), Cell(0, 20, 10))), 2)
    assert nodes.BLANK not in full[:, nodes.KIND]


@pytest.mark.parametrize("seed", range(40))
def test_planted_layouts_come_back(seed: int) -> None:
    """Random layouts, written down and read again, are the same but for their slack."""
    problem, layouts = cut_problem(Random(seed), sheets=3)
    tables = Tables.of(problem)
    state = state_of(tables, [(0, node_table(one.root, problem.kerf)) for one in layouts])
    assert state.complete
    assert_accounted(problem, state)
    assert layouts_of(problem, state) == merged(
        [layout_from(problem, 0, one.root) for one in layouts]
    )


@pytest.mark.parametrize("seed", range(20))
def test_surplus_panels_are_taken_off(seed: int) -> None:
    """Sheets that hold more than is wanted lose the surplus, and what they do not hold waits."""
    random = Random(seed)
    problem, layouts = cut_problem(random, sheets=2)
    items = tuple(replace(item, qty=random.randint(0, 3)) for item in problem.items)
    problem = replace(problem, items=items)
    copies = [one for one in layouts for _ in range(random.randint(0, 3))]
    rows = [(0, node_table(one.root, problem.kerf)) for one in copies]
    state = state_of(Tables.of(problem), rows)
    assert_accounted(problem, state)
    held = panels_of(merged(copies))
    short = sum(max(0, item.qty - held[n]) for n, item in enumerate(problem.items))
    assert waiting_in(state) == short


def test_a_sheet_that_nothing_is_wanted_of_stays_closed() -> None:
    """It costs nothing and its stock stays there."""
    problem = Problem((Item(30, 20, 1, False),), (Bin(30, 20, 6, 3),), 0)
    rows = node_table(Cell(0, 30, 20), 0)
    state = state_of(Tables.of(problem), [(0, rows), (0, rows)])
    assert state.complete
    assert state.cost == 6
    assert state.left.tolist() == [2]


@pytest.mark.parametrize("seed", range(10))
def test_the_search_goes_on_from_planted_sheets(seed: int) -> None:
    """Planted tables are as good as those that the search made itself."""
    problem, layouts = cut_problem(Random(seed), sheets=2)
    tables = Tables.of(problem)
    state = state_of(tables, [(0, node_table(layouts[0].root, problem.kerf))])
    state = state.compacted(tables, 3)
    engine = Engine(tables, seed)
    engine.weigh(state)
    engine.search(state, 3000)
    assert_accounted(problem, state)
