"""The bound over all cut trees against an exhaustive search of all cut trees."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.layouts.reach import is_reachable
from cutlist.nesting.problem import Bin, Problem
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, sequence
from cutlist.sequencing.strips import extent, slack_of, strips_of
from cutlist.sequencing.tree_bound import bound_over_trees
from tests.sequencing.cut_trees import deep_layouts, fewest, layouts
from tests.sequencing.placements import can_finish, placed

Case = tuple[int, int | None, list[Layout]]


def bound_of(chosen: list[Layout], fence: Fence, trim: int = 0) -> int:
    """Return the bound of layouts with the same margin."""
    return bound_over_trees([(layout, EdgeTrims[int].of(trim)) for layout in chosen], fence)


def has_free_cut(strip: Strip, fence: Fence) -> bool:
    """Say whether waste beyond the fence's reach lies beside a child beyond it."""
    sizes = [extent(child, strip.axis) for child in strip.children]
    waste = slack_of(strip, fence.kerf) - fence.kerf
    is_long = any(not fence.reaches(size) for size in sizes)
    return is_long and waste > 0 and not fence.reaches(waste)


@st.composite
def cases(draw: st.DrawFn) -> Case:
    """Draw a kerf, a reach and layouts of up to six panels."""
    kerf = draw(st.integers(0, 2))
    sizes = tuple(draw(st.lists(st.integers(2, 12), min_size=1, max_size=5, unique=True)))
    most = max(sizes)
    reach = draw(st.sampled_from([None, None, most, most + 2]))
    return kerf, reach, draw(layouts(kerf=kerf, sizes=sizes, panels=6))


def row(length: int, *sizes: int, width: int = 5) -> Layout:
    """Return a layout of one strip along x."""
    return Layout(0, Strip(Axis.X, length, width, tuple(Cell(0, size, width) for size in sizes)))


def test_all_others_off_a_child_beyond_reach_together() -> None:
    """At 6 the 4 and the waste of 2 come off the 7 together, and at 4 the waste off the 4.

    The 7 is beyond a reach of 6, the 6 beside it makes the setting that is needed anyway.
    """
    chosen = [row(13, 7, 4), row(23, 6, 4, 6)]
    found = sequence([StockLayout(layout) for layout in chosen], Fence(0, 6))
    assert fewest(chosen, 0, 6, 9) == 2
    assert found.bound <= 2


def test_group_frees_a_child_beyond_reach_early() -> None:
    """At 5 a strip of 1 and a waste of 4 free the 8 beyond reach together: 5, 2, 1 instead of four.

    Peeled, the strip of 1 has to come off before the 8 is free, and 1 is needed again at its end.
    """
    inner = Strip(Axis.Y, 2, 8, (Cell(0, 2, 1),))
    long = Strip(Axis.X, 4, 8, (inner,))
    short = Strip(Axis.X, 4, 1, (Cell(1, 1, 1),))
    chosen = [Layout(0, Strip(Axis.Y, 4, 13, (long, short)))]
    assert fewest(chosen, 0, 5, 9) == 3
    assert bound_of(chosen, Fence(0, 5)) <= 3


@pytest.mark.slow
@given(cases())
@example((1, None, [row(12, 2, 3, 4)]))
@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_cut_tree_beats_the_bound(case: Case) -> None:
    """No way to take the layouts apart, in any order, needs fewer settings than the bound."""
    kerf, reach, chosen = case
    fence = Fence(kerf, reach)
    bound = bound_of(chosen, fence)
    found = sequence([StockLayout(layout) for layout in chosen], fence)
    assert bound <= len(found.settings)
    assert fewest(chosen, kerf, reach, bound) == bound


@st.composite
def far_cases(draw: st.DrawFn) -> Case:
    """Draw layouts with a child beyond the fence's reach, and its strip's waste within it."""
    kerf = draw(st.integers(0, 2))
    sizes = tuple(draw(st.lists(st.integers(2, 12), min_size=2, max_size=5, unique=True)))
    reach = draw(st.integers(min(sizes), max(sizes) - 1))
    chosen = draw(layouts(kerf=kerf, sizes=sizes, panels=6))
    problem = Problem((), (Bin(0, 0, 0),), kerf, reach)
    assume(all(is_reachable(problem, layout) for layout in chosen))
    assume(not any(has_free_cut(s, Fence(kerf, reach)) for lay in chosen for s in strips_of(lay)))
    return kerf, reach, chosen


@pytest.mark.slow
@given(far_cases())
@settings(
    max_examples=250,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
def test_no_cut_tree_beats_the_bound_beside_long_children(case: Case) -> None:
    """Where a child is always the remainder, no way to take the layouts apart beats the bound."""
    kerf, reach, chosen = case
    bound = bound_of(chosen, Fence(kerf, reach))
    assert bound <= len(sequence([StockLayout(lay) for lay in chosen], Fence(kerf, reach)).settings)
    assert fewest(chosen, kerf, reach, bound) == bound


@st.composite
def deep_cases(draw: st.DrawFn) -> Case:
    """Draw layouts of several levels from few sizes, with any reach that can cut them."""
    kerf = draw(st.integers(0, 1))
    sizes = tuple(draw(st.lists(st.integers(1, 9), min_size=2, max_size=4, unique=True)))
    reach = draw(st.one_of(st.none(), st.integers(2, 9)))
    chosen = draw(deep_layouts(kerf=kerf, sizes=sizes))
    problem = Problem((), (Bin(0, 0, 0),), kerf, reach)
    assume(all(is_reachable(problem, layout) for layout in chosen))
    return kerf, reach, chosen


@st.composite
def placements(draw: st.DrawFn, *, trim: bool) -> tuple[int, int, list[Layout], int]:
    """Draw a kerf, a margin, layouts, and a seed for the order of everything on the sheets.

    Sizes are from a wide range, so that waste divided over and over suits none of them.
    """
    kerf = draw(st.integers(0, 3))
    sizes = tuple(draw(st.lists(st.integers(203, 997), min_size=2, max_size=4, unique=True)))
    margin = draw(st.integers(4, 9)) if trim else 0
    chosen = draw(deep_layouts(kerf=kerf, sizes=sizes, stock=(800, 2600), panels=3 if trim else 6))
    assume(chosen)
    return kerf, margin, chosen[:1] if trim else chosen, draw(st.integers(0, 10**6))


@pytest.mark.slow
@given(st.one_of(placements(trim=False), placements(trim=True)))
@settings(
    max_examples=300, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)
def test_no_way_to_cut_the_sheets_beats_the_bound(
    case: tuple[int, int, list[Layout], int],
) -> None:
    """Nor does any way to cut the panels' places apart, edges cleaned whenever it suits."""
    kerf, margin, chosen, seed = case
    bound = bound_of(chosen, Fence(kerf), margin)
    assume(1 < bound <= (3 if margin else 9))
    random = Random(seed)
    shared = tuple(sorted({side for lay in chosen for side in _sides(lay.root)}))
    slabs = [placed(layout, kerf, random, margin, shared) for layout in chosen]
    assert not can_finish(frozenset(slab for slab in slabs if not slab.is_done), bound - 1)


def _sides(tree: Strip | Cell) -> set[int]:
    if isinstance(tree, Cell):
        return {tree.length, tree.width}
    return {side for child in tree.children for side in _sides(child)}


@pytest.mark.slow
@given(deep_cases())
@settings(max_examples=200, deadline=None, suppress_health_check=list(HealthCheck))
def test_no_cut_tree_beats_the_bound_of_nested_strips(case: Case) -> None:
    """Nor with strips in strips, equal ones among them, whatever the fence reaches."""
    kerf, reach, chosen = case
    found = sequence([StockLayout(layout) for layout in chosen], Fence(kerf, reach))
    assert found.bound <= len(found.settings)
    assert fewest(chosen, kerf, reach, found.bound) == found.bound


def test_child_cut_off_with_what_the_blade_takes() -> None:
    """A waste too thin to be a piece still widens the child it is cut off with.

    Strip 12 holds 2, 3 and 4 with two kerfs of 1 and 1 to spare. At 3 the 3 comes off, then the 2
    with its waste, and the 4 remains; at 2 the blade takes the waste: two settings.
    """
    assert fewest([row(12, 2, 3, 4)], 1, None, 9) == 2
    assert bound_of([row(12, 2, 3, 4)], Fence(1)) <= 2


@pytest.mark.parametrize(
    ("chosen", "kerf", "expected"),
    [
        ([row(10, 4, 6)], 0, 1),  # the second child is what remains
        ([row(11, 4, 6)], 1, 1),
        ([row(20, 4, 6)], 0, 2),  # something is left over
        ([row(30, 7, 7, 7)], 0, 1),
        ([row(20, 4, 6), row(20, 6, 4)], 1, 2),
        ([row(60, 9, 20, 3)], 1, 3),
    ],
)
def test_by_hand(chosen: list[Layout], kerf: int, expected: int) -> None:
    """The bound of a single strip is the number of its distinct sizes, less one that remains."""
    assert bound_of(chosen, Fence(kerf)) == expected
    assert fewest(chosen, kerf, None, 9) == expected


def test_grid_cut_the_other_way_round() -> None:
    """A grid may be cut by its rows, too: the bound holds for the same panels drawn as rows.

    Sheet 1 is a grid of two by two panels a × b. Cut by columns, a comes before b; sheet 2 wants b
    before a. Drawn as rows, sheet 1 wants b before a as well, and one setting less is enough.
    """
    a, b, c, d, kerf = 201, 311, 173, 437, 3
    length, width = 1010, 1030
    cell = Cell(0, a, b)
    column = Strip(Axis.Y, a, width, (cell, cell))
    line = Strip(Axis.X, length, b, (cell, cell))
    columns = Layout(0, Strip(Axis.X, length, width, (column, column)))
    rows = Layout(0, Strip(Axis.Y, length, width, (line, line)))
    upper = Strip(Axis.X, length, b, (Cell(0, a, b),))
    lower = Strip(Axis.X, length, c, (Cell(0, d, c),))
    other = Layout(0, Strip(Axis.Y, length, width, (upper, lower)))
    fence = Fence(kerf)
    by_rows = sequence([StockLayout(rows), StockLayout(other)], fence)
    assert len(by_rows.settings) == 4
    by_columns = sequence([StockLayout(columns), StockLayout(other)], fence)
    assert by_columns.bound <= 4 < len(by_columns.settings)


def test_margins_leave_the_sizes_of_panels() -> None:
    """With factory edges, too, panels of three sizes beside waste ask for three distances.

    One sheet for each pair of them, so that none can be a remainder everywhere.
    """
    chosen = [row(211, 31, 53), row(223, 53, 71), row(239, 31, 71)]
    assert bound_of(chosen, Fence(3), 5) == 3
    assert bound_of(chosen, Fence(3)) == 3


def test_columns_cut_in_one_go() -> None:
    """Columns that can be divided at one place share rows: the bound counts on no more.

    Both columns begin with a 20; across both of them 20 comes off, and then 30 and 40 along it.
    """
    first = Strip(Axis.Y, 30, 62, (Cell(0, 30, 20), Cell(1, 30, 41)))
    second = Strip(Axis.Y, 40, 62, (Cell(2, 40, 20), Cell(3, 40, 41)))
    chosen = [Layout(0, Strip(Axis.X, 71, 62, (first, second)))]
    assert bound_of(chosen, Fence(1)) == 2
    assert can_finish(frozenset({placed(chosen[0], 1, Random(0))}), 2)
