"""The quick count of settings: small sheets whose count is known, and an exact order beside it."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search.settings_search import cut_forest, quick_settings
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, sequence


def row(axis: Axis, length: int, width: int, *children: Strip | Cell) -> Strip:
    """Return a strip."""
    return Strip(axis, length, width, children)


def count(
    *roots: Strip | Cell,
    kerf: int = 1,
    reach: int | None = None,
    trim: int = 0,
    keeps_remainders: bool = True,
) -> int:
    """Return the settings counted for sheets divided like this."""
    bins = tuple(Bin(root.length, root.width, 1, trim=trim) for root in roots)
    problem = Problem((Item(1, 1, 1, False),), bins, kerf, reach)
    layouts = [Layout(i, root) for i, root in enumerate(roots)]
    shop = Fence(kerf, reach, keeps_remainders=keeps_remainders).shop()
    return quick_settings(cut_forest([(problem, layouts)], shop), shop).setups


def panels(axis: Axis, length: int, width: int, *sizes: int) -> Strip:
    """Return a strip of panels of these sizes along its axis."""
    cells = (Cell(0, s, width) if axis is Axis.X else Cell(0, length, s) for s in sizes)
    return row(axis, length, width, *cells)


def test_a_whole_sheet_needs_no_setting() -> None:
    """A panel as large as its sheet is not cut."""
    assert count(Cell(0, 96, 48)) == 0


def test_two_chains_the_other_way_round() -> None:
    """A strip of 20 with panels of 12 beside one of 12 with panels of 20 takes three settings."""
    root = row(Axis.Y, 96, 48, panels(Axis.X, 96, 20, 12, 12), panels(Axis.X, 96, 12, 20, 20))
    assert count(root) == 3


def test_remainder_needs_no_setting() -> None:
    """Of two panels that use a piece up one remains, here the one no other piece needs."""
    assert count(panels(Axis.Y, 96, 47, 30, 16)) == 1
    assert count(panels(Axis.Y, 96, 48, 30, 16)) == 2
    assert count(panels(Axis.Y, 96, 47, 30, 16), panels(Axis.Y, 96, 40, 16)) == 1


def test_no_remainder_where_every_panel_is_cut() -> None:
    """Where panels are not left as remainders, each size takes its setting."""
    exact = panels(Axis.Y, 96, 47, 30, 16)
    assert count(exact, keeps_remainders=False) == 2
    assert count(exact, panels(Axis.Y, 96, 40, 16), keeps_remainders=False) == 2


def test_waste_first_where_its_distance_is_needed() -> None:
    """A waste of 7 is cut first where 7 is set anyway, and frees the 30 as the remainder."""
    sheet = panels(Axis.Y, 96, 49, 30, 10)
    assert count(sheet) == 2
    assert count(sheet, panels(Axis.Y, 96, 20, 7)) == 2


def test_equal_sheets_share_their_settings() -> None:
    """Ten sheets alike take as many settings as one."""
    sheet = panels(Axis.Y, 96, 48, 20, 10)
    assert count(*[sheet] * 10) == count(sheet) == 2


def test_beyond_reach_is_what_remains() -> None:
    """Beside a panel beyond the fence's reach everything else is cut, the waste too."""
    assert count(panels(Axis.X, 96, 48, 60, 20), reach=52) == 2
    assert count(panels(Axis.X, 81, 48, 60, 20), reach=52) == 1


def test_edges_are_cleaned_where_the_fence_stands() -> None:
    """A sheet with waste is cleaned at the 41 of another, the waste going with the edge."""
    loose, full = panels(Axis.Y, 94, 46, 30), panels(Axis.Y, 94, 40, 40)
    assert count(loose, trim=1) == count(full, trim=1) == 4
    assert count(full, loose, trim=1) == 5


def test_edges_to_clean_count() -> None:
    """With a trim both axes are cleaned, and what lies along the far edges is cut to size."""
    assert count(Cell(0, 94, 46), trim=1) == 4
    assert count(Cell(0, 94, 46)) == 0


@st.composite
def trees(draw: st.DrawFn, axis: Axis = Axis.Y, length: int = 60, width: int = 40) -> Strip | Cell:
    """Draw a layout of a piece."""
    room = width if axis is Axis.Y else length
    if room < 8 or draw(st.integers(0, 3)) == 0:
        return Cell(0, length, width)
    children: list[Strip | Cell] = []
    other = Axis.X if axis is Axis.Y else Axis.Y
    while room >= 5 and len(children) < 3:
        size = draw(st.sampled_from([s for s in (5, 7, 9, 12, 19, 25) if s <= room]))
        shape = (length, size) if axis is Axis.Y else (size, width)
        children.append(draw(trees(other, *shape)))
        room -= size + 1
    return row(axis, length, width, *children)


@pytest.mark.slow
@pytest.mark.parametrize("kerf", [1])
@given(st.lists(trees(), min_size=1, max_size=2))
@settings(max_examples=80, deadline=None)
def test_never_below_the_fewest(kerf: int, roots: list[Strip | Cell]) -> None:
    """The count is that of some order, so the exact search never proves more to be needed."""
    layouts = [StockLayout(Layout(0, root)) for root in roots]
    exact = sequence(layouts, Fence(kerf))
    assert count(*roots, kerf=kerf) >= exact.bound
    if exact.bound == len(exact.settings):
        assert count(*roots, kerf=kerf) <= exact.bound + 2
