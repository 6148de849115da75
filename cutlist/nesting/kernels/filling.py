"""Filling free nodes with panels: the randomised best-fit construction of the search, compiled.

Types are rows ``dx, dy, turnable, area`` and bins rows ``dx, dy, trim, cost``; extents include one
kerf. ``blade`` holds the longest extent within reach (0: no limit) and the kerf.
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from cutlist.nesting.kernels.nodes import (
    ANGLE,
    BIN,
    BLANK,
    EXT,
    FIRST,
    KIND,
    NEXT,
    PARENT,
    SPARE,
    TOP,
    USED,
    Ints,
    Longs,
    clear,
    place,
)

# Rules by which a panel picks its free node.
BY_AREA, BY_SHORT_SIDE, BY_LONG_SIDE, RULES = 0, 1, 2, 3
# Rules by which what is left over of a free node is split.
ALONG_SHORTER, ALONG_LONGER, AT_RANDOM, ALONG_X, ALONG_Y = 0, 1, 2, 3, 4


@njit(cache=True, nogil=True)
def draw(rng: NDArray[np.uint64], n: int) -> int:
    """Return a whole number from 0 to n - 1 (n below 2**31)."""
    x = rng[0]
    x ^= x << np.uint64(13)
    x ^= x >> np.uint64(7)
    x ^= x << np.uint64(17)
    rng[0] = x
    return int((np.int64(x >> np.uint64(33)) * n) >> 31)


@njit(cache=True, nogil=True)
def _bare(left: int, kerf: int) -> bool:
    """Say whether so much left over cannot be cut off a piece that is itself beyond reach."""
    return 0 < left <= kerf


@njit(cache=True, nogil=True)
def within_reach(t: Ints, f: int, dx: int, dy: int, split: int, sheet: Longs, blade: Longs) -> bool:
    """Say whether a panel on ``f``, first split along ``split``, leaves every cut within reach."""
    limit, kerf = blade[0], blade[1]
    trim = sheet[2]
    if dx == t[f, EXT]:
        split = 1
    elif dy == t[f, EXT + 1]:
        split = 0
    other = 1 - split
    d, e = (dx, dy) if split == 0 else (dy, dx)
    d_room, e_room = t[f, EXT + split], t[f, EXT + other]
    if d == d_room == sheet[split] and d > limit and _bare(trim, kerf):
        return False
    if e == e_room == sheet[other] and e > limit and _bare(trim, kerf):
        return False
    p = t[f, PARENT]
    if p >= 0:
        axis = t[p, ANGLE]
        margin = trim if t[p, EXT + axis] == sheet[axis] else 0
        taken = False
        child = t[p, FIRST]
        while child >= 0:
            taken = taken or t[child, EXT + axis] > limit
            child = t[child, NEXT]
        size = d if axis == split else e_room
        left = margin + (d_room - d if axis == split else 0)
        if size > limit and (taken or _bare(margin, kerf)):
            return False
        if (size > limit or taken) and _bare(left, kerf):
            return False
    if (p < 0 or t[p, ANGLE] != split) and limit < d < d_room:
        margin = trim if d_room == sheet[split] else 0
        if _bare(margin, kerf) or _bare(d_room - d + margin, kerf):
            return False
    if limit < e < e_room:
        margin = trim if e_room == sheet[other] else 0
        if _bare(margin, kerf) or _bare(e_room - e + margin, kerf):
            return False
    return True


@njit(cache=True, nogil=True)
def axis_of(t: Ints, f: int, dx: int, dy: int, rule: int, rng: NDArray[np.uint64]) -> int:
    """Return the axis of the first cut around a panel on ``f``."""
    if rule == AT_RANDOM:
        return draw(rng, 2)
    if rule == ALONG_X:
        return 0
    if rule == ALONG_Y:
        return 1
    longer = t[f, EXT] - dx > t[f, EXT + 1] - dy
    if rule == ALONG_LONGER:
        longer = not longer
    return 0 if longer else 1


@njit(cache=True, nogil=True)
def reachable_axis(t: Ints, f: int, dx: int, dy: int, axis: int, sheet: Longs, blade: Longs) -> int:
    """Return the axis of the first cut, the other one where it has to be, -1 where neither does."""
    if within_reach(t, f, dx, dy, axis, sheet, blade):
        return axis
    return 1 - axis if within_reach(t, f, dx, dy, 1 - axis, sheet, blade) else -1


@njit(cache=True, nogil=True)
def lie_on(
    t: Ints,
    tx: int,
    ty: int,
    turnable: int,
    split: int,
    sheet: Longs,
    blade: Longs,
    rng: NDArray[np.uint64],
) -> tuple[int, int]:
    """Return how a panel lies on a fresh sheet that it fits: whether turned, and the first cut."""
    turn = draw(rng, 2) if turnable > 0 else 0
    axis = 0
    for _ in range(2):
        dx, dy = (tx, ty) if turn == 0 else (ty, tx)
        if dx <= t[0, EXT] and dy <= t[0, EXT + 1]:
            axis = axis_of(t, 0, dx, dy, split, rng)
            if blade[0] == 0:
                break
            able = reachable_axis(t, 0, dx, dy, axis, sheet, blade)
            if able >= 0:
                return turn, able
            axis = 1 - axis
        turn = 1 - turn
    return turn, axis


@njit(cache=True, nogil=True)
def spare_of(ex: int, ey: int, dx: int, dy: int, rule: int) -> float:
    """Return how much a panel leaves of a place, by a rule; less is better."""
    if rule == BY_AREA:
        return float(ex) * ey
    if rule == BY_SHORT_SIDE:
        return float(min(ex - dx, ey - dy))
    return float(max(ex - dx, ey - dy))


@njit(cache=True, nogil=True)
def add_spot(t: Ints, s: int, n: int, spots: Ints, count: int) -> int:
    """Append a free node of sheet ``s`` to ``spots`` and return the new count."""
    spots[count, 0], spots[count, 1] = s, n
    spots[count, 2], spots[count, 3] = t[n, EXT], t[n, EXT + 1]
    return count + 1


@njit(cache=True, nogil=True)
def gather(t: Ints, m: Longs, s: int, least: int, spots: Ints, count: int) -> int:
    """Append the free nodes of sheet ``s`` that some panel may fit to ``spots``."""
    for n in range(m[TOP]):
        if t[n, KIND] == BLANK and t[n, EXT] >= least and t[n, EXT + 1] >= least:
            count = add_spot(t, s, n, spots, count)
    return count


@njit(cache=True, nogil=True)
def open_sheet(
    tree: Ints,
    meta: Longs,
    bins: Longs,
    left: Longs,
    purse: Longs,
    dx: int,
    dy: int,
    turnable: int,
    blade: Longs,
    rng: NDArray[np.uint64],
) -> int:
    """Open a sheet that the panel fits and the purse can pay; return its slot, or -1.

    ``purse`` holds the spent and the most that may be spent. Among several bins now and then a
    random one is taken, else the one with the least cost for its area.
    """
    slot = -1
    for s in range(meta.shape[0]):
        if meta[s, BIN] < 0:
            slot = s
            break
    if slot < 0:
        return -1
    best = -1
    rank = 0.0
    loose = bins.shape[0] > 1 and draw(rng, 2) == 0
    for b in range(bins.shape[0]):
        if left[b] <= 0 or purse[0] + bins[b, 3] > purse[1]:
            continue
        fits = False
        for turn in range(1 + turnable):
            ux, uy = (dx, dy) if turn == 0 else (dy, dx)
            if ux <= bins[b, 0] and uy <= bins[b, 1]:
                if blade[0] == 0:
                    fits = True
                else:
                    clear(tree[slot], meta[slot], -1, bins[b, 0], bins[b, 1])
                    for split in range(2):
                        if within_reach(tree[slot], 0, ux, uy, split, bins[b], blade):
                            fits = True
        if not fits:
            continue
        mark = bins[b, 3] / (float(bins[b, 0]) * bins[b, 1])
        if loose:
            mark = float(draw(rng, 1024))
        if best < 0 or mark < rank:
            best = b
            rank = mark
    if best < 0:
        return -1
    clear(tree[slot], meta[slot], best, bins[best, 0], bins[best, 1])
    left[best] -= 1
    purse[0] += bins[best, 3]
    return slot


@njit(cache=True, nogil=True)
def fill(
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
    missed: Longs,
    stamp: int,
    least: int,
    rule: int,
    split: int,
    skip: int,
    rng: NDArray[np.uint64],
) -> int:
    """Place the queued panels one by one on the free nodes in ``spots``.

    Those that find no place move to the front of ``queue``; their number is returned. A sheet is
    opened where nothing fits and the purse allows; ``opened[0]`` counts them, the slots follow.
    ``skip`` is the chance in 1024 of overlooking a better place.
    """
    rest = np.empty(2, np.int32)
    waiting = 0
    for i in range(length):
        kind = queue[i]
        if missed[kind] == stamp:
            queue[waiting] = kind
            waiting += 1
            continue
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
                if mark >= best_mark or (skip > 0 and draw(rng, 1024) < skip):
                    continue
                s = spots[c, 0]
                axis = -1
                if blade[0] > 0:
                    sheet = bins[meta[s, BIN]]
                    axis = axis_of(tree[s], spots[c, 1], dx, dy, split, rng)
                    axis = reachable_axis(tree[s], spots[c, 1], dx, dy, axis, sheet, blade)
                    if axis < 0:
                        continue
                best, best_turn, best_axis, best_mark = c, turn, axis, mark
        if best < 0:
            s = open_sheet(tree, meta, bins, left, purse, tx, ty, turnable, blade, rng)
            if s >= 0:
                opened[0] += 1
                opened[opened[0]] = s
                best = count
                count = add_spot(tree[s], s, 0, spots, count)
                best_turn, best_axis = lie_on(
                    tree[s], tx, ty, turnable, split, bins[meta[s, BIN]], blade, rng
                )
        if best < 0 or meta[spots[best, 0], USED] + SPARE > tree.shape[1]:
            missed[kind] = stamp
            queue[waiting] = kind
            waiting += 1
            continue
        s, f = spots[best, 0], spots[best, 1]
        dx, dy = (tx, ty) if best_turn == 0 else (ty, tx)
        if blade[0] == 0:
            best_axis = axis_of(tree[s], f, dx, dy, split, rng)
        found = place(tree[s], meta[s], f, kind, dx, dy, best_axis, rest)
        count -= 1
        spots[best] = spots[count]
        for j in range(found):
            if min(tree[s, rest[j], EXT], tree[s, rest[j], EXT + 1]) >= least:
                count = add_spot(tree[s], s, rest[j], spots, count)
    return waiting
