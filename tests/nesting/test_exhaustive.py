"""Tests of the exhaustive planner that other tests rely on."""

from __future__ import annotations

import pytest

from cutlist.nesting.problem import Bin, Item, Problem
from tests.nesting.exhaustive import cheapest_plan, outlines


def test_pinwheel_needs_a_second_sheet() -> None:
    """Four panels around a hole fill a square, but no edge-to-edge cut divides them."""
    items = (Item(3, 2, 2, False), Item(2, 3, 2, False))
    assert cheapest_plan(Problem(items, (Bin(5, 5, 1),), 0)) == (2, 2)
    assert cheapest_plan(Problem(items, (Bin(6, 5, 1),), 0)) == (1, 1)


def test_kerf_lies_between_panels_only() -> None:
    """Two panels and one kerf fill a sheet exactly; one unit less and they do not fit."""
    items = (Item(5, 4, 2, False),)
    assert cheapest_plan(Problem(items, (Bin(11, 4, 1),), 1)) == (1, 1)
    assert cheapest_plan(Problem(items, (Bin(10, 4, 1),), 1)) == (2, 2)


def test_turning_only_where_allowed() -> None:
    """A panel longer than the sheet is wide fits only the way that its grain allows."""
    assert cheapest_plan(Problem((Item(3, 8, 1, False),), (Bin(8, 3, 1),), 0)) is None
    assert cheapest_plan(Problem((Item(3, 8, 1, True),), (Bin(8, 3, 1),), 0)) == (1, 1)


def test_cost_and_sheets_are_separate_minima() -> None:
    """One dear sheet or two cheap ones: the cost takes the two, the count takes the one."""
    bins = (Bin(8, 4, 10), Bin(4, 4, 3))
    assert cheapest_plan(Problem((Item(4, 4, 2, False),), bins, 0)) == (6, 1)


def test_limited_stock() -> None:
    """An offcut on hand is used once; what remains is bought, or cannot be had."""
    items = (Item(4, 4, 2, False),)
    assert cheapest_plan(Problem(items, (Bin(4, 4, 0, 1), Bin(9, 9, 7)), 0)) == (7, 1)
    assert cheapest_plan(Problem(items, (Bin(4, 4, 0, 2), Bin(9, 9, 7)), 0)) == (0, 0)
    assert cheapest_plan(Problem(items, (Bin(4, 4, 0, 1),), 0)) is None


def test_outlines_hold_no_other() -> None:
    """Two unlike panels have the two rectangles that one can find by hand."""
    found = outlines(Problem((Item(3, 2, 1, False), Item(1, 4, 1, False)), (), 0))
    assert sorted(found[3]) == [(3, 6), (4, 4)]


def test_too_many_panels_are_refused() -> None:
    """The planner says so instead of running for hours."""
    with pytest.raises(ValueError, match="too many"):
        outlines(Problem((Item(1, 1, 8, False),), (), 0))
