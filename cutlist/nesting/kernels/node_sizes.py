"""Sizes read off a node table: what a node is divided into, and what it may lose."""

from __future__ import annotations

from typing import TYPE_CHECKING

from numba import njit

from cutlist.nesting.kernels.bench import FAR
from cutlist.nesting.kernels.cut_forest import GROUP, NODE, SIZE
from cutlist.nesting.kernels.nodes import EXT, FIRST, FREE, ITEM, KIND, NEXT, STRIP

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import Ints, Longs


@njit(cache=True, nogil=True)
def children_along(t: Ints, n: int, axis: int, kerf: int, rows: Longs) -> tuple[int, int]:
    """List what a node is divided into along an axis, the largest first.

    Returns how many there are, and what is left over.
    """
    if t[n, KIND] == ITEM:
        rows[0, NODE], rows[0, SIZE], rows[0, GROUP] = n, t[n, EXT + axis] - kerf, 0
        return 1, 0
    kids = 0
    child = t[n, FIRST]
    while child >= 0:
        size = t[child, EXT + axis] - kerf
        i = kids
        while i > 0 and rows[i - 1, SIZE] < size:
            rows[i, NODE], rows[i, SIZE] = rows[i - 1, NODE], rows[i - 1, SIZE]
            i -= 1
        rows[i, NODE], rows[i, SIZE] = child, size
        rows[kids, GROUP] = 0
        kids += 1
        child = t[child, NEXT]
    return kids, int(t[t[n, FREE], EXT + axis]) if t[n, FREE] >= 0 else 0


@njit(cache=True, nogil=True)
def slack_across(t: Ints, n: int, axis: int) -> int:
    """Return by how much a strip may lose of its size across its own axis."""
    least = FAR
    child = t[n, FIRST]
    while child >= 0:
        free = t[child, FREE] if t[child, KIND] == STRIP else -1
        least = min(least, t[free, EXT + axis] if free >= 0 else 0)
        child = t[child, NEXT]
    return int(least)
