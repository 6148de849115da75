"""The fewest elements that hold one set of each family, against trying all choices."""

from __future__ import annotations

import os
import signal
import time
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlist.sequencing.cover import fewest_elements

FAMILIES = st.lists(st.lists(st.integers(0, 255), min_size=1, max_size=4), max_size=5)


def by_hand(families: list[list[int]]) -> int:
    """Return the fewest elements over all choices of one set from each family."""
    least = 10**9
    for choice in product(*families):
        union = 0
        for each in choice:
            union |= each
        least = min(least, union.bit_count())
    return least


@given(FAMILIES)
@settings(max_examples=200, deadline=None)
def test_against_all_choices(families: list[list[int]]) -> None:
    """Of small families the fewest elements are found."""
    assert fewest_elements(families) == by_hand(families)


@pytest.mark.parametrize(
    ("families", "expected"),
    [
        ([], 0),
        ([[0b1]], 1),
        ([[0b01, 0b10], [0b10, 0b100]], 1),
        ([[0b011, 0b100], [0b011, 0b1000]], 2),
        ([[0b01, 0]], 0),
    ],
)
def test_small_families(families: list[list[int]], expected: int) -> None:
    """Worked out by hand: a shared element counts once, an empty set costs nothing."""
    assert fewest_elements(families) == expected


def test_vertices_of_a_graph() -> None:
    """Edges as families of single ends make it the vertex cover: 6 for the Petersen graph.

    Its largest independent set has 4 of the 10 vertices (any textbook on graphs; from memory).
    """
    outer = [(i, (i + 1) % 5) for i in range(5)]
    spokes = [(i, i + 5) for i in range(5)]
    inner = [(i + 5, (i + 2) % 5 + 5) for i in range(5)]
    families = [[1 << a, 1 << b] for a, b in outer + spokes + inner]
    assert fewest_elements(families) == 6


def test_an_interrupt_still_comes_to_the_caller() -> None:
    """Whoever listens for Ctrl-C hears it after a solve as before."""
    heard: list[int] = []
    before = signal.signal(signal.SIGINT, lambda number, _: heard.append(number))
    try:
        fewest_elements([[0b011, 0b101], [0b110, 0b1001], [0b1100]])
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(0.01)
    finally:
        signal.signal(signal.SIGINT, before)
    assert heard == [signal.SIGINT]
