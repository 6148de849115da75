"""Tests of what a fence that reaches only so far can cut."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.layouts.reach import fits, is_reachable
from cutlist.nesting.problem import Bin, Item, Problem


def problem(length: int, *, trim: int = 0, reach: int | None = 60, kerf: int = 3) -> Problem:
    """Return a sheet of so many by 50 with one part that does not matter."""
    return Problem((Item(1, 1, 1, False),), (Bin(length, 50, 1, None, trim),), kerf, reach)


def row(length: int, *sizes: int) -> Layout:
    """Return panels of these lengths side by side on a sheet 50 wide."""
    return Layout(0, Strip(Axis.X, length, 50, tuple(Cell(0, size, 50) for size in sizes)))


@pytest.mark.parametrize(
    ("length", "sizes", "possible"),
    [
        (200, (60, 60), True),  # nothing beyond reach
        (64, (61,), False),  # a rest of 3 is all kerf: it cannot lie against the fence
        (65, (61,), True),  # a rest of 4 can
        (61, (61,), True),  # nothing to cut off
        (130, (61, 61), False),  # two of them: one side of the cut between is beyond
        (121, (61, 57), True),  # what is left over is nothing
        (124, (61, 57), False),  # what is left over is all kerf
    ],
)
def test_one_panel_of_a_strip_may_be_beyond_reach(
    length: int, sizes: tuple[int, ...], possible: bool
) -> None:
    """It is what remains when all else is cut off, if the last rest is nothing or wide enough."""
    kerfs = 3 * (len(sizes) - 1)
    assert sum(sizes) + kerfs <= length
    assert is_reachable(problem(length), row(length, *sizes)) is possible


def test_no_limit_reaches_everything() -> None:
    """Without a limit, every layout can be cut."""
    assert is_reachable(problem(130, reach=None), row(130, 61, 61))


@pytest.mark.parametrize(("trim", "possible"), [(0, True), (2, False), (3, False), (4, True)])
def test_margins_are_cut_off_too(trim: int, possible: bool) -> None:
    """A margin as wide as the kerf or narrower cannot lie against the fence."""
    stock = problem(61, trim=trim)
    assert is_reachable(stock, row(61, 61)) is possible
    assert is_reachable(stock, Layout(0, Cell(0, 61, 50))) is possible


def test_a_whole_sheet_as_one_panel_needs_no_cut() -> None:
    """Without margins a panel as large as the sheet is there already."""
    assert is_reachable(problem(200), Layout(0, Cell(0, 200, 50)))


@pytest.mark.parametrize(
    ("length", "room", "trim", "reach", "possible"),
    [
        (50, 50, 0, None, True),
        (51, 50, 0, None, False),
        (48, 50, 0, 40, False),
        (46, 50, 0, 40, True),
        (50, 50, 0, 40, True),
        (50, 50, 2, 40, False),
        (50, 50, 4, 40, True),
        (40, 41, 0, 40, True),
    ],
)
def test_a_panel_on_a_sheet(
    length: int, room: int, trim: int, reach: int | None, possible: bool
) -> None:
    """A panel fits if its size does and what has to come off can be cut off, with a kerf of 3."""
    item = Item(length, 5, 1, False)
    stock = Bin(room, 5 + 30, 1, None, trim)
    one = Problem((item,), (stock,), 3, reach)
    assert fits(one, item, stock) is possible
    turned = Item(5, length, 1, True)
    assert fits(replace(one, items=(turned,)), turned, stock) is possible
    if length > 35:
        fixed = replace(turned, turnable=False)
        assert not fits(replace(one, items=(fixed,)), fixed, stock)
