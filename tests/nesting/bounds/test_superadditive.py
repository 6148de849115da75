"""Tests of the superadditive functions."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlist.nesting.bounds.superadditive import stepped, table, threshold


@pytest.mark.slow
@given(st.integers(2, 64), st.lists(st.integers(1, 64), min_size=1, max_size=5), st.booleans())
def test_superadditive_and_nondecreasing(base: int, sizes: list[int], every: bool) -> None:
    """No two lengths are worth more apart than together, for any function offered."""
    x = np.arange(base + 1, dtype=np.int64)
    values = table(x, base, [min(s, base) for s in sizes], base if every else 0, 9)
    assert (values[:, 0] == 0).all()
    assert (np.diff(values, axis=1) >= 0).all()
    for first in range(1, base):
        for second in range(first, base - first + 1):
            apart = values[:, first] + values[:, second]
            assert (apart <= values[:, first + second]).all()


def test_identity_comes_first() -> None:
    """The area bound is always among the pairs, in lowest terms."""
    values = table(np.array([4, 6, 10], dtype=np.int64), 10, [4, 6], 10, 9)
    assert values[0].tolist() == [2, 3, 5]


def test_rows_differ_by_more_than_a_factor() -> None:
    """A function that is a multiple of another proves nothing new and is dropped."""
    values = table(np.arange(1, 13, dtype=np.int64), 12, [5, 7], 12, 9).astype(float)
    scaled = values / values.max(axis=1)[:, None]
    assert len(np.unique(scaled, axis=0)) == len(values)


def test_threshold_by_hand() -> None:
    """What leaves less than p is full, what is shorter than p is nothing."""
    assert threshold(np.array([26, 25, 24]), 50, 25).tolist() == [50, 25, 0]
    assert threshold(np.array([49, 30, 29, 20]), 50, 21).tolist() == [50, 50, 29, 0]


def test_three_items_above_a_third() -> None:
    """Of lengths just above a third no more than two fit: each counts for a half."""
    assert stepped(np.array([34, 33, 100]), 100, 3).tolist() == [2, 0, 4]
