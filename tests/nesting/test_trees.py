"""Tests of the trees that layouts are made of."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.layouts.reach import is_reachable
from cutlist.nesting.layouts.trees import (
    cells,
    distances,
    extent,
    gathered,
    layout_from,
    leftovers,
    merged,
    ordered,
    other,
    tightened,
)
from cutlist.nesting.problem import Bin, Item, Problem
from tests.nesting.trees import cut_problem, panels_of

# Two panels of 40 by 30 and one of 21 by 30 side by side, and another strip of 20 with one panel of
# 100 by 15; the kerf is 2.
LOWER = Strip(Axis.X, 118, 30, (Cell(0, 40, 30), Cell(0, 40, 30), Cell(1, 21, 30)))
UPPER = Strip(Axis.X, 118, 20, (Strip(Axis.Y, 100, 20, (Cell(2, 100, 15),)),))
SHEET = Strip(Axis.Y, 118, 52, (LOWER, UPPER))


def test_extents_lie_along_an_axis() -> None:
    """The length lies along x, the width along y."""
    assert extent(LOWER, Axis.X) == 118
    assert extent(LOWER, Axis.Y) == 30
    assert other(Axis.X) is Axis.Y
    assert other(Axis.Y) is Axis.X


def test_cells_are_the_panels_below() -> None:
    """All panels come up, as often as they lie there."""
    assert [cell.part for cell in cells(SHEET)] == [0, 0, 1, 2]
    assert cells(Cell(3, 1, 1)) == [Cell(3, 1, 1)]


def test_distances_are_the_sizes_of_what_is_cut_off() -> None:
    """Each strip is divided at its children's sizes; what fills its strip alone is not cut."""
    assert distances([Layout(0, SHEET)]) == {30, 20, 40, 21, 100, 15}
    whole = Strip(Axis.X, 50, 20, (Cell(0, 50, 20),))
    assert distances([Layout(0, whole)]) == set()
    assert distances([Layout(0, Cell(0, 50, 20))]) == set()


def test_leftovers_are_what_a_kerf_more_would_cut_off() -> None:
    """What is left of a strip is less by the kerf that cuts it off, and nothing if that is all."""
    assert sorted(leftovers(SHEET, 2)) == [(11, 30), (16, 20), (100, 3)]
    assert leftovers(Strip(Axis.X, 12, 5, (Cell(0, 10, 5),)), 2) == []
    assert leftovers(Cell(0, 4, 4), 0) == []


def test_one_large_leftover_is_gathered_better_than_two_small_ones() -> None:
    """The sum of squares counts, once for each copy."""
    one = Layout(0, Strip(Axis.X, 30, 10, (Cell(0, 10, 10),)))
    two = Layout(
        0,
        Strip(Axis.X, 30, 10, (Strip(Axis.Y, 20, 10, (Cell(0, 20, 5),)), Cell(0, 1, 10))),
    )
    assert gathered([one], 0) == (20 * 10) ** 2
    assert gathered([two], 0) == (20 * 5) ** 2 + (9 * 10) ** 2
    assert gathered([replace(one, copies=3)], 0) == 3 * gathered([one], 0)


def test_equal_layouts_become_copies() -> None:
    """Copies add up, and the first stays first."""
    first, second = Layout(0, SHEET), Layout(1, SHEET)
    assert merged([first, second, replace(first, copies=4)]) == (
        Layout(0, SHEET, 5),
        Layout(1, SHEET, 1),
    )


def test_a_panel_that_fills_the_region_is_the_whole_layout() -> None:
    """Strips around it vanish."""
    loose = Strip(Axis.X, 50, 40, (Strip(Axis.Y, 50, 40, (Cell(0, 50, 40),)),))
    assert tightened(loose, 50, 40, 3) == Cell(0, 50, 40)


def test_strips_become_no_broader_than_their_panels() -> None:
    """No strip of 20 is cut any more for a panel of 15."""
    found = distances([Layout(0, tightened(SHEET, 118, 52, 2))])
    assert {15, 30} <= found
    assert 20 not in found


def need(node: Strip | Cell, axis: Axis, kerf: int) -> int:
    """Return the least extent along an axis that a node's panels can do with."""
    if isinstance(node, Cell):
        return extent(node, axis)
    needs = [need(child, axis, kerf) for child in node.children]
    return sum(needs) + kerf * (len(needs) - 1) if node.axis is axis else max(needs)


def assert_tight(node: Strip | Cell, kerf: int) -> None:
    """Hold every child of every strip to its need."""
    if isinstance(node, Strip):
        for child in node.children:
            assert extent(child, node.axis) == need(child, node.axis, kerf)
            assert_tight(child, kerf)


@pytest.mark.parametrize("seed", range(60))
def test_tightening_keeps_the_panels(seed: int) -> None:
    """Of a random tree the panels stay, the layout is sound, and no strip has slack to give."""
    problem, (loose,) = cut_problem(Random(seed))
    stock = problem.bins[0]
    tight = layout_from(problem, 0, loose.root)
    assert check_layouts(problem, [tight]) == []
    assert panels_of((tight,)) == panels_of((loose,))
    assert_tight(tight.root, problem.kerf)
    again = tightened(tight.root, stock.length, stock.width, problem.kerf)
    assert ordered(again) == tight.root


@pytest.mark.parametrize("seed", range(30))
def test_the_order_of_children_carries_no_meaning(seed: int) -> None:
    """However the children of all strips are shuffled, they are ordered alike, longest first."""
    random = Random(seed)
    _, (layout,) = cut_problem(random)

    def shuffled(node: Strip | Cell) -> Strip | Cell:
        if isinstance(node, Cell):
            return node
        children = [shuffled(child) for child in node.children]
        random.shuffle(children)
        return replace(node, children=tuple(children))

    def longest_first(node: Strip | Cell) -> bool:
        if isinstance(node, Cell):
            return True
        sizes = [extent(child, node.axis) for child in node.children]
        return sizes == sorted(sizes, reverse=True) and all(map(longest_first, node.children))

    once = ordered(layout.root)
    assert ordered(shuffled(layout.root)) == once
    assert ordered(once) == once
    assert longest_first(once)


def test_a_layout_is_not_tightened_beyond_reach() -> None:
    """A strip of 80 leaves a panel of 70 a rest that can be cut off; one of 72 would not."""
    items = (Item(40, 70, 1, False), Item(30, 72, 1, False))
    problem = Problem(items, (Bin(100, 100, 1),), 3, reach=60)
    columns = (Strip(Axis.Y, 40, 80, (Cell(0, 40, 70),)), Strip(Axis.Y, 30, 80, (Cell(1, 30, 72),)))
    loose = Strip(Axis.Y, 100, 100, (Strip(Axis.X, 100, 80, columns),))
    assert is_reachable(problem, Layout(0, loose))
    assert layout_from(problem, 0, loose) == Layout(0, loose)
    without = layout_from(replace(problem, reach=None), 0, loose)
    assert_tight(without.root, problem.kerf)
    assert not is_reachable(problem, without)
