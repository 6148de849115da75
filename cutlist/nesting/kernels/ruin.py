"""Ruining sheets of a state, and taking it back: what the compiled searches share."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from cutlist.nesting.kernels.filling import draw
from cutlist.nesting.kernels.nodes import (
    BIN,
    BLANK,
    ITEM,
    KIND,
    PARENT,
    TOP,
    Ints,
    Longs,
    copy_row,
    copy_table,
)


@njit(cache=True, nogil=True)
def smallest_side(types: Longs) -> int:
    """Return the least extent of any panel."""
    least = types[0, 0]
    for k in range(types.shape[0]):
        least = min(least, types[k, 0], types[k, 1])
    return int(least)


@njit(cache=True, nogil=True)
def pick(t: Ints, top: int, climb: int, rng: NDArray[np.uint64]) -> int:
    """Return a random panel's node, or a strip around it."""
    n = 0
    for _ in range(64):
        n = draw(rng, top)
        if t[n, KIND] == ITEM:
            break
    if t[n, KIND] != ITEM:
        return 0
    while t[n, PARENT] >= 0 and draw(rng, 1024) < climb:
        n = t[n, PARENT]
    return n


@njit(cache=True, nogil=True)
def pick_sheet(meta: Longs, touched: Longs, ruined: int, rng: NDArray[np.uint64]) -> int:
    """Return a random open sheet that is not among the first ``touched``, or -1 by chance."""
    s = draw(rng, meta.shape[0])
    if meta[s, BIN] < 0:
        return -1
    for i in range(ruined):
        if touched[i] == s:
            return -1
    return s


@njit(cache=True, nogil=True)
def close_sheet(meta: Longs, bins: Longs, left: Longs, purse: Longs, s: int) -> None:
    """Put a sheet back, and take its cost out of what is spent."""
    left[meta[s, BIN]] += 1
    purse[0] -= bins[meta[s, BIN], 3]
    meta[s, BIN] = -1


@njit(cache=True, nogil=True)
def close_if_empty(tree: Ints, meta: Longs, bins: Longs, left: Longs, purse: Longs, s: int) -> None:
    """Put an open sheet back if nothing lies on it."""
    if meta[s, BIN] >= 0 and tree[s, 0, KIND] == BLANK:
        close_sheet(meta, bins, left, purse, s)


@njit(cache=True, nogil=True)
def take_back(
    tree: Ints,
    meta: Longs,
    opened: Ints,
    touched: Longs,
    ruined: int,
    spare: Ints,
    old_meta: Longs,
) -> None:
    """Close what was opened and give the ruined sheets their old trees."""
    for i in range(opened[0]):
        meta[opened[1 + i], BIN] = -1
    for i in range(ruined):
        s = touched[i]
        copy_row(meta[s], old_meta[i], meta.shape[1])
        copy_table(tree[s], spare[i], meta[s, TOP])


@njit(cache=True, nogil=True)
def keep_state(tree: Ints, meta: Longs, kept_tree: Ints, kept_meta: Longs) -> None:
    """Copy the open sheets."""
    copy_table(kept_meta, meta, meta.shape[0])
    for s in range(meta.shape[0]):
        if meta[s, BIN] >= 0:
            copy_table(kept_tree[s], tree[s], meta[s, TOP])
