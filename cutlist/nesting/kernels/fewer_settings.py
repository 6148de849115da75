"""The compiled search for layouts of equal cost that need fewer settings of the saw.

As in the search for fewer sheets, some sheets or parts of them are ruined, filled again, and the
new state is kept late. Here every panel always lies on a sheet; what counts are the settings of a
quick order of all cuts, and panels are put where their distances are set anyway.
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from cutlist.nesting.kernels.filling import (
    ALONG_X,
    AT_RANDOM,
    RULES,
    add_spot,
    axis_of,
    draw,
    gather,
    lie_on,
    open_sheet,
    reachable_axis,
    spare_of,
)
from cutlist.nesting.kernels.nodes import (
    ANGLE,
    BIN,
    BLANK,
    EXT,
    FIRST,
    ITEM,
    KIND,
    NEXT,
    SPARE,
    STRIP,
    TOP,
    USED,
    Ints,
    Longs,
    copy_row,
    copy_table,
    lift,
    place,
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
from cutlist.nesting.kernels.setting_count import DISTANCE, WORK_FIELDS, count_settings, write_down

# Columns of ``run``, the state of a search between calls: mark of the present state, steps done,
# mark of the best one kept.
MARK, STEP, BEST = 0, 1, 2
RUNS = 3
# Columns of ``tune``: chances in 1024 of ruining whole sheets, of lifting all of a size, of
# climbing, of overlooking a place, of matching distances, of strips; most sheets and most panels a
# sheet; noise; weights of rare distances, of cuts, of leftovers; the chance of a fresh sheet.
WHOLE, ALIKE, CLIMB, SKIP, MATCH, STRIPS, MOST_SHEETS, MOST_NODES = 0, 1, 2, 3, 4, 5, 6, 7
NOISE, RARE, CUTS, LEFTOVER, FRESH = 8, 9, 10, 11, 12
TUNES = 13
SETTING = 1_000_000
_NEW = 1.0e15


@njit(cache=True, nogil=True)
def _sort(queue: Ints, length: int, types: Longs, noise: int, rng: NDArray[np.uint64]) -> None:
    """Sort the queue by falling size, or with panels of one size beside each other."""
    measure = draw(rng, 6)
    keys = np.empty(length)
    for i in range(length):
        kind = queue[i]
        dx, dy = float(types[kind, 0]), float(types[kind, 1])
        if measure == 0:
            key = dx * dy
        elif measure == 1:
            key = max(dx, dy)
        elif measure == 2:
            key = dx
        elif measure == 3:
            key = dy
        elif measure == 4:
            key = min(dx, dy)
        else:
            key = 1.0
        keys[i] = key * (1024 + draw(rng, noise + 1))
    for i in range(1, length):
        key, kind = keys[i], queue[i]
        j = i
        while j >= 1 and keys[j - 1] < key:
            keys[j] = keys[j - 1]
            queue[j] = queue[j - 1]
            j -= 1
        keys[j] = key
        queue[j] = kind


@njit(cache=True, nogil=True)
def _is_seen(seen: Longs, size: int, stamp: int) -> bool:
    """Say whether a size is in the hash table ``seen``: rows of size and stamp."""
    mask = seen.shape[0] - 1
    at = (size * 40503) & mask
    while seen[at, 1] == stamp:
        if seen[at, 0] == size:
            return True
        at = (at + 1) & mask
    return False


@njit(cache=True, nogil=True)
def _see(seen: Longs, size: int, stamp: int) -> None:
    """Put a size into the hash table, which counts as empty where another stamp stands."""
    mask = seen.shape[0] - 1
    at = (size * 40503) & mask
    while seen[at, 1] == stamp and seen[at, 0] != size:
        at = (at + 1) & mask
    seen[at, 0], seen[at, 1] = size, stamp


@njit(cache=True, nogil=True)
def _mark_sizes(tree: Ints, meta: Longs, seen: Longs, stamp: int) -> None:
    """Stamp all sizes along which strips are cut."""
    for s in range(meta.shape[0]):
        if meta[s, BIN] < 0:
            continue
        t = tree[s]
        for n in range(meta[s, TOP]):
            if t[n, KIND] == STRIP:
                along = EXT + t[n, ANGLE]
                child = t[n, FIRST]
                while child >= 0:
                    _see(seen, t[child, along], stamp)
                    child = t[child, NEXT]


@njit(cache=True, nogil=True)
def _refill(
    tree: Ints,
    meta: Longs,
    bins: Longs,
    left: Longs,
    purse: Longs,
    types: Longs,
    blade: Longs,
    queue: Ints,
    length: int,
    spots: Ints,
    count: int,
    opened: Ints,
    least: int,
    seen: Longs,
    stamp: int,
    rule: int,
    split: int,
    matched: bool,
    skip: int,
    rng: NDArray[np.uint64],
) -> bool:
    """Place all queued panels, distances set anyway first if ``matched``; say whether all fit.

    ``rule`` and ``split`` are those of the filling.
    """
    rest = np.empty(2, np.int32)
    for i in range(length):
        kind = queue[i]
        tx, ty, turnable = types[kind, 0], types[kind, 1], types[kind, 2]
        best, best_turn, best_axis = -1, 0, 0
        best_mark = 9.0e18
        for c in range(count):
            ex, ey = spots[c, 2], spots[c, 3]
            for turn in range(1 + turnable):
                dx, dy = (tx, ty) if turn == 0 else (ty, tx)
                if dx > ex or dy > ey:
                    continue
                mark = spare_of(ex, ey, dx, dy, rule)
                if matched:
                    if dx < ex and not _is_seen(seen, dx, stamp):
                        mark += _NEW
                    if dy < ey and not _is_seen(seen, dy, stamp):
                        mark += _NEW
                if mark >= best_mark or (skip > 0 and draw(rng, 1024) < skip):
                    continue
                s = spots[c, 0]
                axis = axis_of(tree[s], spots[c, 1], dx, dy, split, rng)
                if blade[0] > 0:
                    sheet = bins[meta[s, BIN]]
                    axis = reachable_axis(tree[s], spots[c, 1], dx, dy, axis, sheet, blade)
                    if axis < 0:
                        continue
                best, best_turn, best_axis, best_mark = c, turn, axis, mark
        if best < 0:
            s = open_sheet(tree, meta, bins, left, purse, tx, ty, turnable, blade, rng)
            if s < 0:
                return False
            opened[0] += 1
            opened[opened[0]] = s
            best = count
            count = add_spot(tree[s], s, 0, spots, count)
            best_turn, best_axis = lie_on(
                tree[s], tx, ty, turnable, split, bins[meta[s, BIN]], blade, rng
            )
        s, f = spots[best, 0], spots[best, 1]
        if meta[s, USED] + SPARE > tree.shape[1]:
            return False
        dx, dy = (tx, ty) if best_turn == 0 else (ty, tx)
        if matched:
            _see(seen, dx, stamp)
            _see(seen, dy, stamp)
        found = place(tree[s], meta[s], f, kind, dx, dy, best_axis, rest)
        count -= 1
        spots[best] = spots[count]
        for j in range(found):
            if min(tree[s, rest[j], EXT], tree[s, rest[j], EXT + 1]) >= least:
                count = add_spot(tree[s], s, rest[j], spots, count)
    return True


@njit(cache=True, nogil=True)
def _lift_alike(
    t: Ints,
    m: Longs,
    size: int,
    queue: Ints,
    length: int,
    stack: Ints,
    chance: int,
    rng: NDArray[np.uint64],
) -> int:
    """Lift the panels and strips of a sheet that measure ``size`` across or along."""
    for n in range(m[TOP]):
        is_alike = t[n, KIND] >= ITEM and (t[n, EXT] == size or t[n, EXT + 1] == size)
        if is_alike and n > 0 and draw(rng, 1024) < chance:
            length = lift(t, m, n, queue, length, stack)
    return length


@njit(cache=True, nogil=True)
def _leftover(tree: Ints, meta: Longs, keep: Longs) -> float:
    """Return the sum of the squared areas of leftovers of at least the size worth keeping."""
    gathered = 0.0
    for s in range(meta.shape[0]):
        if meta[s, BIN] < 0:
            continue
        t = tree[s]
        for n in range(meta[s, TOP]):
            if t[n, KIND] == BLANK:
                long, short = max(t[n, EXT], t[n, EXT + 1]), min(t[n, EXT], t[n, EXT + 1])
                area = float(long) * short
                if long >= keep[0] and short >= keep[1]:
                    gathered += area * area
    return gathered


@njit(cache=True, nogil=True)
def scratch(cap: int, rows: int) -> tuple[Longs, Ints, Ints, Ints, Longs]:
    """Return the room that a count of settings works in, for sheets of ``cap`` nodes."""
    slots = 1 << 10
    while slots < 2 * rows:
        slots *= 2
    return (
        np.empty(3, np.int64),
        np.empty((cap, 4), np.int32),
        np.empty((slots, 2), np.int32),
        np.empty((rows, WORK_FIELDS), np.int32),
        np.empty(3, np.int64),
    )


@njit(cache=True, nogil=True)
def marked(
    tree: Ints,
    meta: Longs,
    bins: Longs,
    blade: Longs,
    keep: Longs,
    tune: Longs,
    rng: NDArray[np.uint64],
    strips: Ints,
    tasks: Ints,
    roots: Ints,
    others: Longs,
    sizes: Longs,
    deep: Ints,
    index: Ints,
    work: Ints,
    tally: Longs,
) -> int:
    """Return the mark of a state: its settings above all; the less the better."""
    copy_row(sizes, others, 3)
    for s in range(meta.shape[0]):
        if meta[s, BIN] >= 0 and tree[s, 0, KIND] != BLANK:
            trim = bins[meta[s, BIN], 2]
            write_down(tree[s], trim, blade, strips, tasks, roots, sizes, deep)
    settings = count_settings(strips, tasks, roots, sizes, index, work, rng, tally)
    mark = settings * SETTING + tune[RARE] * tally[2] + tune[CUTS] * tally[1]
    if tune[LEFTOVER] > 0:
        room = float(bins[0, 0]) * bins[0, 1]
        share = _leftover(tree, meta, keep) / (room * room)
        mark -= int(1000.0 * tune[LEFTOVER] * share)
    return int(mark)


@njit(cache=True, nogil=True)
def regroup(
    tree: Ints,
    meta: Longs,
    bins: Longs,
    left: Longs,
    purse: Longs,
    types: Longs,
    blade: Longs,
    keep: Longs,
    panels: int,
    run: Longs,
    history: Longs,
    tune: Longs,
    rng: NDArray[np.uint64],
    kept_tree: Ints,
    kept_meta: Longs,
    strips: Ints,
    tasks: Ints,
    roots: Ints,
    others: Longs,
    steps: int,
) -> None:
    """Search for so many steps from a complete state; the best one met goes to ``kept_tree``.

    ``strips``, ``tasks`` and ``roots`` begin with the cuts of other materials, ``others`` counts
    them. ``keep`` is the longer and the shorter side of the least leftover worth keeping, with a
    kerf. ``run[MARK]`` and ``run[BEST]`` have to be set.
    """
    slots, cap = meta.shape[0], tree.shape[1]
    most = min(tune[MOST_SHEETS], slots)
    spare = np.empty((most, cap, tree.shape[2]), np.int32)
    touched = np.empty(most, np.int64)
    old_meta = np.empty((most, meta.shape[1]), np.int64)
    old_left = np.empty(left.shape[0], np.int64)
    queue = np.empty(panels, np.int32)
    spots = np.empty((4 * panels + 2 * slots + 16, 4), np.int32)
    opened = np.empty(slots + 1, np.int32)
    stack = np.empty(cap, np.int32)
    sizes, deep, index, work, tally = scratch(cap, tasks.shape[0])
    seen = np.full((index.shape[0], 2), -1, np.int64)
    least = smallest_side(types)
    for step in range(run[STEP], run[STEP] + steps):
        run[STEP] = step + 1
        length = 0
        copy_row(old_left, left, left.shape[0])
        old_spent = purse[0]
        count = 0
        ruined = 0
        whole = draw(rng, 1024) < tune[WHOLE]
        size = -1
        if not whole and draw(rng, 1024) < tune[ALIKE]:
            kind = draw(rng, types.shape[0])
            size = types[kind, draw(rng, 2)]
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
                if size >= 0:
                    length = _lift_alike(tree[s], meta[s], size, queue, length, stack, 700, rng)
                else:
                    for _n in range(1 + draw(rng, tune[MOST_NODES])):
                        n = pick(tree[s], meta[s, TOP], tune[CLIMB], rng)
                        if tree[s, n, KIND] != BLANK:
                            length = lift(tree[s], meta[s], n, queue, length, stack)
                count = gather(tree[s], meta[s], s, least, spots, count)
        _sort(queue, length, types, tune[NOISE] if draw(rng, 2) == 0 else 0, rng)
        opened[0] = 0
        if length > 0 and draw(rng, 1024) < tune[FRESH]:
            kind = queue[0]
            dx, dy, turnable = types[kind, 0], types[kind, 1], types[kind, 2]
            s = open_sheet(tree, meta, bins, left, purse, dx, dy, turnable, blade, rng)
            if s >= 0:
                opened[0] = 1
                opened[1] = s
                count = gather(tree[s], meta[s], s, least, spots, count)
        matched = draw(rng, 1024) < tune[MATCH]
        if matched:
            _mark_sizes(tree, meta, seen, step)
            for k in range(others[1]):
                _see(seen, tasks[k, DISTANCE] + blade[1], step)
        split = ALONG_X + draw(rng, 2) if draw(rng, 1024) < tune[STRIPS] else AT_RANDOM
        good = _refill(
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
            least,
            seen,
            step,
            draw(rng, RULES),
            split,
            matched,
            tune[SKIP],
            rng,
        )
        mark = 0
        if good:
            mark = marked(
                tree,
                meta,
                bins,
                blade,
                keep,
                tune,
                rng,
                strips,
                tasks,
                roots,
                others,
                sizes,
                deep,
                index,
                work,
                tally,
            )
        h = step % history.shape[0]
        if good and (mark <= run[MARK] or mark <= history[h]):
            run[MARK] = mark
            for i in range(ruined):
                close_if_empty(tree, meta, bins, left, purse, touched[i])
            for i in range(opened[0]):
                close_if_empty(tree, meta, bins, left, purse, opened[1 + i])
            if mark < run[BEST]:
                run[BEST] = mark
                keep_state(tree, meta, kept_tree, kept_meta)
        else:
            take_back(tree, meta, opened, touched, ruined, spare, old_meta)
            copy_row(left, old_left, left.shape[0])
            purse[0] = old_spent
        history[h] = run[MARK]
