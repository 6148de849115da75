"""The compiled search: ruin some sheets or parts of them, fill them again, accept late.

Accepting late: a new state is kept where it is no worse than the present one or than the one that
was present a fixed number of steps ago (Burke & Bykov 2017, doi 10.1016/j.ejor.2016.07.012, cited
from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from cutlist.nesting.kernels.filling import (
    ALONG_X,
    AT_RANDOM,
    BY_SHORT_SIDE,
    RULES,
    PlacingRule,
    draw,
    fill,
    gather,
)
from cutlist.nesting.kernels.nodes import (
    ANGLE,
    BIN,
    BLANK,
    ITEM,
    KIND,
    TOP,
    copy_row,
    copy_table,
    lift,
)
from cutlist.nesting.kernels.records import SPENT
from cutlist.nesting.kernels.ruin import (
    before_room,
    close_if_empty,
    close_sheet,
    keep_state,
    pick,
    pick_sheet,
    refill_room,
    smallest_side,
    take_back,
)

if TYPE_CHECKING:
    from cutlist.nesting.kernels.pool import Pool
    from cutlist.nesting.kernels.records import Copies, Ints, Longs, Sheets, Sizes, Walk, Words
    from cutlist.nesting.step_parameters import SheetStepParameters

# Columns of ``run``, the state of a search between calls.
WAITING, MARK, STEP, BEST, AIM = 0, 1, 2, 3, 4
RUNS = 5
# Aims: place all that waits; let the least worth wait.
PLACE_ALL, CHOOSE = 0, 1


@njit(cache=True, nogil=True)
def _order(
    queue: Ints, length: int, types: Longs, worth: Longs, tune: SheetStepParameters, rng: Words
) -> None:
    """Sort the queue by falling size, by a random measure of size and with noise (Shell sort)."""
    measure = draw(rng, tune.measures)
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
        keys[i] = key * (1024 + draw(rng, tune.noise + 1))
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
def _record(t: Ints, m: Longs, types: Longs, pool: Pool) -> None:
    """Put a sheet into the pool unless its panels are there already or cover too little."""
    codes, table, book, filed = pool.codes, pool.table, pool.book, pool.filed
    area = 0
    code = codes[types.shape[0] + m[BIN]]
    for n in range(m[TOP]):
        if t[n, KIND] == ITEM:
            area += types[t[n, ANGLE], 3]
            code += codes[t[n, ANGLE]]
    if area < pool.floors[m[BIN]]:
        return
    mask = np.uint64(table.shape[0] - 1)
    at = code & mask
    while table[at] != 0:
        if table[at] == code:
            return
        at = (at + np.uint64(1)) & mask
    number, first, top = filed[0], filed[1], m[TOP]
    if number == book.shape[0] or first + top > pool.pages.shape[0]:
        return
    table[at] = code
    copy_table(pool.pages[first:], t, top)
    book[number, 0], book[number, 1], book[number, 2], book[number, 3] = first, top, m[BIN], area
    filed[0] = number + 1
    filed[1] = first + top


@njit(cache=True, nogil=True)
def search(
    sheets: Sheets,
    sizes: Sizes,
    worth: Longs,
    wait: Ints,
    walk: Walk,
    tune: SheetStepParameters,
    kept: Copies,
    pool: Pool,
    rng: Words,
    steps: int,
) -> None:
    """Search for so many steps, or until nothing waits.

    ``wait[:run[WAITING]]`` are the panels on no sheet, ``worth`` what a panel of each item counts
    there; ``kept`` receives the best state where not all panels have to be placed.
    """
    # Each array is reached once: every time that it is, its references are counted.
    tree, meta, left, outlay = sheets.tree, sheets.meta, sheets.left, sheets.outlay
    types, bins, floors = sizes.types, sizes.bins, pool.floors
    run, history = walk.run, walk.history
    most = tune.most_sheets
    refill = refill_room(sheets, wait.shape[0])
    queue, places, opened = refill.queue, refill.places, refill.opened
    before = before_room(sheets, most)
    touched, old_tree, old_meta, old_left = before.touched, before.tree, before.meta, before.left
    stack = np.empty(tree.shape[1], np.int32)
    missed = np.full(types.shape[0], -1, np.int64)
    least = smallest_side(types)
    for step in range(run[STEP], run[STEP] + steps):
        if run[WAITING] == 0:
            return
        run[STEP] = step + 1
        length = run[WAITING]
        copy_row(queue, wait, length)
        copy_row(old_left, left, left.shape[0])
        old_spent = outlay[SPENT]
        count = 0
        ruined = 0
        whole = draw(rng, 1024) < tune.whole
        wanted = 1 + draw(rng, most)
        for _ in range(3 * wanted):
            if ruined == wanted:
                break
            s = pick_sheet(meta, touched, ruined, rng)
            if s < 0:
                continue
            t, m = tree[s], meta[s]
            touched[ruined] = s
            copy_row(old_meta[ruined], m, meta.shape[1])
            copy_table(old_tree[ruined], t, m[TOP])
            ruined += 1
            if whole:
                length = lift(t, m, 0, queue, length, stack)
                close_sheet(sheets, bins, s)
            else:
                for _n in range(1 + draw(rng, tune.most_nodes)):
                    n = pick(t, m[TOP], tune.widen, rng)
                    if t[n, KIND] != BLANK:
                        length = lift(t, m, n, queue, length, stack)
                count = gather(t, m, s, least, places, count)
        _order(queue, length, types, worth, tune, rng)
        opened[0] = 0
        strips = draw(rng, 1024) < tune.strips
        rule = BY_SHORT_SIDE if strips else draw(rng, RULES)
        split = ALONG_X + draw(rng, 2) if strips else draw(rng, AT_RANDOM + 1)
        choice = PlacingRule(rule, split, tune.overlook, least)
        waiting = fill(sheets, sizes, refill, length, count, choice, missed, step, rng)
        if floors[0] > 0:
            for i in range(ruined):
                s = touched[i]
                if meta[s, BIN] >= 0:
                    _record(tree[s], meta[s], types, pool)
            for i in range(opened[0]):
                s = opened[1 + i]
                _record(tree[s], meta[s], types, pool)
        mark = 0
        for i in range(waiting):
            mark += worth[queue[i]]
        h = step % history.shape[0]
        if mark <= run[MARK] or mark <= history[h]:
            run[MARK] = mark
            run[WAITING] = waiting
            copy_row(wait, queue, waiting)
            for i in range(ruined):
                close_if_empty(sheets, bins, touched[i])
            if mark < run[BEST]:
                run[BEST] = mark
                if run[AIM] != PLACE_ALL:
                    keep_state(sheets, kept)
        else:
            take_back(sheets, opened, before, ruined, old_spent)
        history[h] = run[MARK]
