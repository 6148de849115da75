"""The compiled search: ruin some sheets or parts of them, fill them again, accept late.

Accepting late: a new state is kept where it is no worse than the present one or than the one that
was present a fixed number of steps ago (Burke & Bykov 2017, doi 10.1016/j.ejor.2016.07.012, cited
from memory).
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from cutlist.nesting.kernels.filling import RULES, draw, fill, gather
from cutlist.nesting.kernels.nodes import (
    ANGLE,
    BIN,
    BLANK,
    ITEM,
    KIND,
    TOP,
    Ints,
    Longs,
    copy_row,
    copy_table,
    lift,
)
from cutlist.nesting.kernels.ruin import (
    close_if_empty,
    close_sheet,
    keep_state,
    pick,
    pick_sheet,
    smallest_side,
    take_back,
)

# Columns of ``run``, the state of a search between calls.
WAITING, MARK, STEP, BEST, AIM = 0, 1, 2, 3, 4
RUNS = 5
# Aims: place all that waits; let the least worth wait.
PLACE_ALL, CHOOSE = 0, 1
# Columns of ``tune``, the parameters of the search (chances in 1024).
WHOLE, MOST_SHEETS, MOST_NODES, CLIMB, SKIP = 0, 1, 2, 3, 4
NOISE, STRIPS, MEASURES = 5, 6, 7
TUNES = 8


@njit(cache=True, nogil=True)
def _order(
    queue: Ints, length: int, types: Longs, worth: Longs, tune: Longs, rng: NDArray[np.uint64]
) -> None:
    """Sort the queue by falling size, by a random measure of size and with noise (Shell sort)."""
    noise = tune[NOISE]
    measure = draw(rng, tune[MEASURES])
    keys = np.empty(length)
    for i in range(length):
        kind = queue[i]
        dx, dy = float(types[kind, 0]), float(types[kind, 1])
        if measure <= 1:
            key = dx * dy
        elif measure == 2:
            key = max(dx, dy)
        elif measure == 3:
            key = min(dx, dy)
        elif measure == 4:
            key = dx
        elif measure == 5:
            key = dy
        elif measure == 6:
            key = float(worth[kind])
        else:
            key = worth[kind] / (dx * dy)
        keys[i] = key * (1024 + draw(rng, noise + 1))
    gap = 1
    while gap < length // 3:
        gap = 3 * gap + 1
    while gap > 0:
        for i in range(gap, length):
            key, kind = keys[i], queue[i]
            j = i
            while j >= gap and keys[j - gap] < key:
                keys[j] = keys[j - gap]
                queue[j] = queue[j - gap]
                j -= gap
            keys[j] = key
            queue[j] = kind
        gap //= 3


@njit(cache=True, nogil=True)
def _record(
    t: Ints,
    m: Longs,
    types: Longs,
    codes: NDArray[np.uint64],
    floors: Longs,
    table: NDArray[np.uint64],
    book: Longs,
    pages: Ints,
    filed: Longs,
) -> None:
    """Put a sheet into the pool unless its panels are there already or cover too little.

    ``floors`` is the least area for each bin; ``filed`` counts the sheets in ``book`` (rows: first
    page, pages, bin, area) and the pages.
    """
    area = 0
    code = codes[types.shape[0] + m[BIN]]
    for n in range(m[TOP]):
        if t[n, KIND] == ITEM:
            area += types[t[n, ANGLE], 3]
            code += codes[t[n, ANGLE]]
    if area < floors[m[BIN]]:
        return
    mask = np.uint64(table.shape[0] - 1)
    at = code & mask
    while table[at] != 0:
        if table[at] == code:
            return
        at = (at + np.uint64(1)) & mask
    number, first, top = filed[0], filed[1], m[TOP]
    if number == book.shape[0] or first + top > pages.shape[0]:
        return
    table[at] = code
    copy_table(pages[first:], t, top)
    book[number, 0], book[number, 1], book[number, 2], book[number, 3] = first, top, m[BIN], area
    filed[0] = number + 1
    filed[1] = first + top


@njit(cache=True, nogil=True)
def search(
    tree: Ints,
    meta: Longs,
    bins: Longs,
    left: Longs,
    purse: Longs,
    types: Longs,
    worth: Longs,
    blade: Longs,
    wait: Ints,
    run: Longs,
    history: Longs,
    tune: Longs,
    rng: NDArray[np.uint64],
    kept_tree: Ints,
    kept_meta: Longs,
    codes: NDArray[np.uint64],
    floors: Longs,
    table: NDArray[np.uint64],
    book: Longs,
    pages: Ints,
    filed: Longs,
    steps: int,
) -> None:
    """Search for so many steps, or until nothing waits.

    ``wait[:run[WAITING]]`` are the panels on no sheet; ``kept_tree`` and ``kept_meta`` receive the
    best state where not all panels have to be placed.
    """
    slots, cap = meta.shape[0], tree.shape[1]
    most = tune[MOST_SHEETS]
    spare = np.empty((most, cap, tree.shape[2]), np.int32)
    touched = np.empty(most, np.int64)
    old_meta = np.empty((most, meta.shape[1]), np.int64)
    old_left = np.empty(left.shape[0], np.int64)
    queue = np.empty(wait.shape[0], np.int32)
    spots = np.empty((4 * wait.shape[0] + 2 * slots + 16, 4), np.int32)
    opened = np.empty(slots + 1, np.int32)
    stack = np.empty(cap, np.int32)
    missed = np.full(types.shape[0], -1, np.int64)
    least = smallest_side(types)
    for step in range(run[STEP], run[STEP] + steps):
        if run[WAITING] == 0:
            return
        run[STEP] = step + 1
        length = run[WAITING]
        copy_row(queue, wait, length)
        copy_row(old_left, left, left.shape[0])
        old_spent = purse[0]
        count = 0
        ruined = 0
        whole = draw(rng, 1024) < tune[WHOLE]
        wanted = 1 + draw(rng, most)
        for _ in range(3 * wanted):
            if ruined == wanted:
                break
            s = pick_sheet(meta, touched, ruined, rng)
            if s < 0:
                continue
            touched[ruined] = s
            copy_row(old_meta[ruined], meta[s], meta.shape[1])
            top = meta[s, TOP]
            copy_table(spare[ruined], tree[s], top)
            ruined += 1
            if whole:
                length = lift(tree[s], meta[s], 0, queue, length, stack)
                close_sheet(meta, bins, left, purse, s)
            else:
                for _n in range(1 + draw(rng, tune[MOST_NODES])):
                    n = pick(tree[s], meta[s, TOP], tune[CLIMB], rng)
                    if tree[s, n, KIND] != BLANK:
                        length = lift(tree[s], meta[s], n, queue, length, stack)
                count = gather(tree[s], meta[s], s, least, spots, count)
        _order(queue, length, types, worth, tune, rng)
        opened[0] = 0
        strips = draw(rng, 1024) < tune[STRIPS]
        rule = 1 if strips else draw(rng, RULES)
        split = 3 + draw(rng, 2) if strips else draw(rng, 3)
        waiting = fill(
            tree,
            meta,
            bins,
            left,
            purse,
            types,
            blade,
            queue,
            length,
            spots,
            count,
            opened,
            missed,
            step,
            least,
            rule,
            split,
            tune[SKIP],
            rng,
        )
        if floors[0] > 0:
            for i in range(ruined):
                s = touched[i]
                if meta[s, BIN] >= 0:
                    _record(tree[s], meta[s], types, codes, floors, table, book, pages, filed)
            for i in range(opened[0]):
                s = opened[1 + i]
                _record(tree[s], meta[s], types, codes, floors, table, book, pages, filed)
        mark = 0
        for i in range(waiting):
            mark += worth[queue[i]]
        h = step % history.shape[0]
        if mark <= run[MARK] or mark <= history[h]:
            run[MARK] = mark
            run[WAITING] = waiting
            copy_row(wait, queue, waiting)
            for i in range(ruined):
                close_if_empty(tree, meta, bins, left, purse, touched[i])
            if mark < run[BEST]:
                run[BEST] = mark
                if run[AIM] != PLACE_ALL:
                    keep_state(tree, meta, kept_tree, kept_meta)
        else:
            take_back(tree, meta, opened, touched, ruined, spare, old_meta)
            copy_row(left, old_left, left.shape[0])
            purse[0] = old_spent
        history[h] = run[MARK]
