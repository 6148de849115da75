"""Tests of the preparation of a problem for its bounds."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from cutlist.nesting.bounds.grown import grow, largest_sum
from cutlist.nesting.problem import Bin, Item, Problem


@given(st.dictionaries(st.integers(1, 12), st.integers(1, 4), max_size=4), st.integers(0, 40))
def test_largest_sum_equals_enumeration(sizes: dict[int, int], limit: int) -> None:
    """The largest reachable sum is what trying all numbers of copies gives."""
    sums = (
        sum(size * n for size, n in zip(sizes, copies, strict=True))
        for copies in product(*(range(count + 1) for count in sizes.values()))
    )
    assert largest_sum(sizes, limit) == max(s for s in sums if s <= limit)


def test_kerf_grows_items_and_bins() -> None:
    """Three panels and two kerfs use the sheet to the last unit."""
    grown = grow(Problem((Item(10, 5, 3, False),), (Bin(34, 5, 1),), 2))
    assert grown.lengths.tolist() == [12]
    assert grown.bin_lengths.tolist() == [36]
    assert grown.bin_widths.tolist() == [7]


def test_bins_shrink_to_what_can_be_reached() -> None:
    """A margin that no sum of panels reaches does not count."""
    grown = grow(Problem((Item(10, 5, 3, False),), (Bin(39, 9, 1), Bin(9, 9, 1)), 0))
    assert grown.bin_lengths.tolist() == [30, 0]
    assert grown.bin_widths.tolist() == [5, 0]


def test_only_useful_orientations_stay() -> None:
    """A panel that fits one way only is fixed that way, and equal panels are merged."""
    items = (Item(3, 8, 1, True), Item(8, 3, 2, False), Item(2, 3, 1, True), Item(3, 2, 1, True))
    grown = grow(Problem(items, (Bin(9, 3, 1),), 0))
    assert grown.lengths.tolist() == [3, 8]
    assert grown.widths.tolist() == [2, 3]
    assert grown.counts.tolist() == [2, 3]
    assert grown.turnable.tolist() == [True, False]
    assert grown.feasible


def test_a_panel_that_fits_nowhere_is_told() -> None:
    """A bin of which there is none does not count."""
    grown = grow(Problem((Item(5, 5, 1, True),), (Bin(4, 9, 1), Bin(9, 9, 1, 0)), 0))
    assert not grown.feasible
