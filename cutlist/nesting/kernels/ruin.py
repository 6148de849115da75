"""Ruining sheets of a state, and taking it back: what the compiled searches share."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from cutlist.nesting.kernels.filling import draw
from cutlist.nesting.kernels.nodes import (
    BIN,
    BLANK,
    ITEM,
    KIND,
    PARENT,
    TOP,
    copy_row,
    copy_table,
)
from cutlist.nesting.kernels.records import SPENT, Before, Refill

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import Copies, Ints, Longs, Sheets, Words


@njit(cache=True, nogil=True)
def refill_room(sheets: Sheets, panels: int) -> Refill:
    """Return the room for refilling in a problem of so many panels."""
    slots = sheets.tree.shape[0]
    return Refill(
        np.empty(panels, np.int32),
        np.empty((4 * panels + 2 * slots + 16, 4), np.int32),
        np.empty(slots + 1, np.int32),
    )


@njit(cache=True, nogil=True)
def before_room(sheets: Sheets, most: int) -> Before:
    """Return the room for what has to be given back where at most so many sheets are ruined."""
    return Before(
        np.empty(most, np.int64),
        np.empty((most, sheets.tree.shape[1], sheets.tree.shape[2]), np.int32),
        np.empty((most, sheets.meta.shape[1]), np.int64),
        np.empty(sheets.left.shape[0], np.int64),
    )


@njit(cache=True, nogil=True)
def smallest_side(types: Longs) -> int:
    """Return the least extent of any panel."""
    least = types[0, 0]
    for k in range(types.shape[0]):
        least = min(least, types[k, 0], types[k, 1])
    return int(least)


@njit(cache=True, nogil=True)
def pick(t: Ints, top: int, widen: int, rng: Words) -> int:
    """Return a random panel's node, or a strip around it.

    ``widen`` is the chance in 1024 of going on from a node to the strip that it lies in.
    """
    n = 0
    for _ in range(64):
        n = draw(rng, top)
        if t[n, KIND] == ITEM:
            break
    if t[n, KIND] != ITEM:
        return 0
    while t[n, PARENT] >= 0 and draw(rng, 1024) < widen:
        n = t[n, PARENT]
    return n


@njit(cache=True, nogil=True)
def pick_sheet(meta: Longs, touched: Longs, ruined: int, rng: Words) -> int:
    """Return a random open sheet that is not among the first ``touched``, or -1 by chance."""
    s = draw(rng, meta.shape[0])
    if meta[s, BIN] < 0:
        return -1
    for i in range(ruined):
        if touched[i] == s:
            return -1
    return s


@njit(cache=True, nogil=True)
def close_sheet(sheets: Sheets, bins: Longs, s: int) -> None:
    """Put a sheet back, and take its cost out of what is spent."""
    sheets.left[sheets.meta[s, BIN]] += 1
    sheets.outlay[SPENT] -= bins[sheets.meta[s, BIN], 3]
    sheets.meta[s, BIN] = -1


@njit(cache=True, nogil=True)
def close_if_empty(sheets: Sheets, bins: Longs, s: int) -> None:
    """Put an open sheet back if nothing lies on it."""
    if sheets.meta[s, BIN] >= 0 and sheets.tree[s, 0, KIND] == BLANK:
        close_sheet(sheets, bins, s)


@njit(cache=True, nogil=True)
def take_back(sheets: Sheets, opened: Ints, before: Before, ruined: int, spent: int) -> None:
    """Close what was opened, and give ruined sheets, stock and cost back as they were."""
    meta = sheets.meta
    for i in range(opened[0]):
        meta[opened[1 + i], BIN] = -1
    for i in range(ruined):
        s = before.touched[i]
        copy_row(meta[s], before.meta[i], meta.shape[1])
        copy_table(sheets.tree[s], before.tree[i], meta[s, TOP])
    copy_row(sheets.left, before.left, before.left.shape[0])
    sheets.outlay[SPENT] = spent


@njit(cache=True, nogil=True)
def keep_state(sheets: Sheets, kept: Copies) -> None:
    """Copy the open sheets."""
    copy_table(kept.meta, sheets.meta, sheets.meta.shape[0])
    for s in range(sheets.meta.shape[0]):
        if sheets.meta[s, BIN] >= 0:
            copy_table(kept.tree[s], sheets.tree[s], sheets.meta[s, TOP])
