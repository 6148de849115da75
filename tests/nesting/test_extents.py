"""Extents of pieces along an axis: all sums of panel sizes, or a sample of them."""

from __future__ import annotations

from itertools import product

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from cutlist.nesting.layouts.extents import Extents


def sums(sizes: list[int], counts: list[int], room: int) -> set[int]:
    """Return every sum of so many panels within the room, by trying all numbers of each."""
    found = {
        sum(size * number for size, number in zip(sizes, numbers, strict=True))
        for numbers in product(*(range(count + 1) for count in counts))
    }
    return {total for total in found if 0 < total <= room}


@st.composite
def panels(draw: st.DrawFn) -> tuple[list[int], list[int]]:
    """Draw up to four sizes, with how many there are of each."""
    number = draw(st.integers(1, 4))
    sizes = draw(st.lists(st.integers(1, 25), min_size=number, max_size=number))
    counts = draw(st.lists(st.integers(0, 3), min_size=number, max_size=number))
    return sizes, counts


@given(panels(), st.integers(1, 80))
def test_all_sums_of_sizes(drawn: tuple[list[int], list[int]], room: int) -> None:
    """With room for all of them they are the sums, and each length is given the one below it."""
    sizes, counts = drawn
    extents = Extents(sizes, counts, room, 10_000)
    chosen, below = extents.some(np.random.default_rng(0))
    assert extents.all
    assert chosen.tolist() == sorted(sums(sizes, counts, room))
    for length in range(room + 1):
        smaller = [index for index, extent in enumerate(chosen.tolist()) if extent <= length]
        assert below[length] == (smaller[-1] if smaller else -1)


@given(panels(), st.integers(30, 80), st.integers(2, 12), st.integers(0, 99))
def test_a_sample_of_them(
    drawn: tuple[list[int], list[int]], room: int, most: int, seed: int
) -> None:
    """A sample rises, holds sums alone, every size that fits, and the largest sum of all."""
    sizes, counts = drawn
    counts = [count + 1 for count in counts]
    possible = sums(sizes, counts, room)
    extents = Extents(sizes, counts, room, most)
    chosen, _ = extents.some(np.random.default_rng(seed))
    assert (np.diff(chosen) > 0).all()
    assert set(chosen.tolist()) <= possible
    assert {size for size in sizes if size <= room} <= set(chosen.tolist())
    assert max(possible) in chosen
    assert extents.all == (len(possible) <= most)
    # What has to be there comes on top of the number asked for: each size, and the largest sum.
    assert len(chosen) <= max(most, len(set(sizes)) + most // 2 + 2)


def test_multiples_and_what_they_leave() -> None:
    """Of 60 in steps of 7 the sample has the sevens, and the sums just below what they leave."""
    extents = Extents([7, 5, 9], [8, 9, 9], 60, 40)
    chosen, _ = extents.some(np.random.default_rng(1))
    assert not extents.all
    possible = sorted(sums([7, 5, 9], [8, 9, 9], 60))
    for multiple in (9, 18, 27, 36, 45, 54):
        assert multiple in chosen
        assert max((s for s in possible if s <= 60 - multiple), default=multiple) in chosen


def test_another_sample_each_time() -> None:
    """Samples differ, so that in time all extents are looked at."""
    extents = Extents([7, 11, 13], [9, 9, 9], 200, 30)
    rng = np.random.default_rng(2)
    samples = {tuple(extents.some(rng)[0].tolist()) for _ in range(8)}
    assert len(samples) > 1


def test_no_panel_within_the_room() -> None:
    """Then there is no extent, and none below any length."""
    chosen, below = Extents([9], [0], 5, 10).some(np.random.default_rng(0))
    assert chosen.tolist() == []
    assert set(below.tolist()) == {-1}
