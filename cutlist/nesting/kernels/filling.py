"""Filling free nodes with panels: the randomised best-fit construction of the search, compiled.

For the arrays see :mod:`cutlist.nesting.kernels.records`; ``sheet`` is the row of a bin.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numba import njit

from cutlist.nesting.kernels.nodes import (
    ANGLE,
    BIN,
    BLANK,
    EXT,
    FIRST,
    KIND,
    NEXT,
    NODES_A_PANEL,
    PARENT,
    TOP,
    USED,
    clear,
    place,
)
from cutlist.nesting.kernels.records import LIMIT, SPENT

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import (
        Blade,
        Ints,
        Longs,
        Refill,
        Sheets,
        Sizes,
        Words,
    )

# Rules by which a panel picks its free node.
BY_AREA, BY_SHORT_SIDE, BY_LONG_SIDE, RULES = 0, 1, 2, 3
# Rules by which what is left over of a free node is split.
ALONG_SHORTER, ALONG_LONGER, AT_RANDOM, ALONG_X, ALONG_Y = 0, 1, 2, 3, 4


class PlacingRule(NamedTuple):
    """How a panel's place is chosen in one step.

    Parameters
    ----------
    rule
        By which a panel picks its free node.
    split
        By which what is left over of the node is split.
    overlook
        Chance in 1024 of overlooking a better place.
    least
        Least extent of any panel: smaller free nodes hold none.
    """

    rule: int
    split: int
    overlook: int
    least: int


@njit(cache=True, nogil=True)
def draw(rng: Words, n: int) -> int:
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
def within_reach(t: Ints, f: int, dx: int, dy: int, split: int, sheet: Longs, blade: Blade) -> bool:
    """Say whether a panel on ``f``, first split along ``split``, leaves every cut within reach."""
    limit, kerf = blade.longest, blade.kerf
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
def axis_of(t: Ints, f: int, dx: int, dy: int, rule: int, rng: Words) -> int:
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
def reachable_axis(t: Ints, f: int, dx: int, dy: int, axis: int, sheet: Longs, blade: Blade) -> int:
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
    blade: Blade,
    rng: Words,
) -> tuple[int, int]:
    """Return how a panel lies on a fresh sheet that it fits: whether turned, and the first cut."""
    turn = draw(rng, 2) if turnable > 0 else 0
    axis = 0
    for _ in range(2):
        dx, dy = (tx, ty) if turn == 0 else (ty, tx)
        if dx <= t[0, EXT] and dy <= t[0, EXT + 1]:
            axis = axis_of(t, 0, dx, dy, split, rng)
            if blade.longest == 0:
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
def add_place(t: Ints, s: int, n: int, places: Ints, count: int) -> int:
    """Append a free node of sheet ``s`` to ``places`` and return the new count."""
    places[count, 0], places[count, 1] = s, n
    places[count, 2], places[count, 3] = t[n, EXT], t[n, EXT + 1]
    return count + 1


@njit(cache=True, nogil=True)
def gather(t: Ints, m: Longs, s: int, least: int, places: Ints, count: int) -> int:
    """Append the free nodes of sheet ``s`` that some panel may fit to ``places``."""
    for n in range(m[TOP]):
        if t[n, KIND] == BLANK and t[n, EXT] >= least and t[n, EXT + 1] >= least:
            count = add_place(t, s, n, places, count)
    return count


@njit(cache=True, nogil=True)
def open_sheet(sheets: Sheets, sizes: Sizes, kind: int, rng: Words) -> int:
    """Open a sheet that a panel fits and whose cost is within the limit; return its slot, or -1.

    Among several bins now and then a random one is taken, else the one with the least cost for its
    area.
    """
    # Reading arrays where they are used lets the compiler drop most counting of their references.
    slot = -1
    for s in range(sheets.meta.shape[0]):
        if sheets.meta[s, BIN] < 0:
            slot = s
            break
    if slot < 0:
        return -1
    dx, dy, turnable = sizes.types[kind, 0], sizes.types[kind, 1], sizes.types[kind, 2]
    longest = sizes.blade.longest
    money = sheets.outlay[LIMIT] - sheets.outlay[SPENT]
    best = -1
    rank = 0.0
    loose = sizes.bins.shape[0] > 1 and draw(rng, 2) == 0
    for b in range(sizes.bins.shape[0]):
        if sheets.left[b] <= 0 or sizes.bins[b, 3] > money:
            continue
        ex, ey = sizes.bins[b, 0], sizes.bins[b, 1]
        fits = False
        for turn in range(1 + turnable):
            ux, uy = (dx, dy) if turn == 0 else (dy, dx)
            if ux <= ex and uy <= ey:
                if longest == 0:
                    fits = True
                else:
                    t = sheets.tree[slot]
                    clear(t, sheets.meta[slot], -1, ex, ey)
                    for split in range(2):
                        if within_reach(t, 0, ux, uy, split, sizes.bins[b], sizes.blade):
                            fits = True
        if not fits:
            continue
        mark = sizes.bins[b, 3] / (float(ex) * ey)
        if loose:
            mark = float(draw(rng, 1024))
        if best < 0 or mark < rank:
            best = b
            rank = mark
    if best < 0:
        return -1
    clear(sheets.tree[slot], sheets.meta[slot], best, sizes.bins[best, 0], sizes.bins[best, 1])
    sheets.left[best] -= 1
    sheets.outlay[SPENT] += sizes.bins[best, 3]
    return slot


@njit(cache=True, nogil=True)
def fill(
    sheets: Sheets,
    sizes: Sizes,
    refill: Refill,
    length: int,
    count: int,
    choice: PlacingRule,
    missed: Longs,
    stamp: int,
    rng: Words,
) -> int:
    """Place the first ``length`` queued panels one by one on the first ``count`` places.

    Those that find no place move to the front of the queue; their number is returned. A sheet is
    opened where nothing fits and its cost is within the limit. ``missed`` is stamped for each item
    that found no place, so that it is not tried again.
    """
    # Each array is reached once: every time that it is, its references are counted.
    tree, meta, types, bins = sheets.tree, sheets.meta, sizes.types, sizes.bins
    blade, queue, places, opened = sizes.blade, refill.queue, refill.places, refill.opened
    rule, split, overlook, least = choice.rule, choice.split, choice.overlook, choice.least
    longest = blade.longest
    rest = np.empty(2, np.int32)
    free = 0  # slots
    for s in range(meta.shape[0]):
        if meta[s, BIN] < 0:
            free += 1
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
            ex, ey = places[c, 2], places[c, 3]
            for turn in range(1 + turnable):
                dx, dy = (tx, ty) if turn == 0 else (ty, tx)
                if dx > ex or dy > ey:
                    continue
                mark = spare_of(ex, ey, dx, dy, rule)
                if mark >= best_mark or (overlook > 0 and draw(rng, 1024) < overlook):
                    continue
                s = places[c, 0]
                axis = -1
                if longest > 0:
                    sheet = bins[meta[s, BIN]]
                    axis = axis_of(tree[s], places[c, 1], dx, dy, split, rng)
                    axis = reachable_axis(tree[s], places[c, 1], dx, dy, axis, sheet, blade)
                    if axis < 0:
                        continue
                best, best_turn, best_axis, best_mark = c, turn, axis, mark
        if best < 0 and free > 0:
            s = open_sheet(sheets, sizes, kind, rng)
            if s >= 0:
                free -= 1
                opened[0] += 1
                opened[opened[0]] = s
                best = count
                count = add_place(tree[s], s, 0, places, count)
                best_turn, best_axis = lie_on(
                    tree[s], tx, ty, turnable, split, bins[meta[s, BIN]], blade, rng
                )
        if best < 0 or meta[places[best, 0], USED] + NODES_A_PANEL > tree.shape[1]:
            missed[kind] = stamp
            queue[waiting] = kind
            waiting += 1
            continue
        s, f = places[best, 0], places[best, 1]
        t = tree[s]
        dx, dy = (tx, ty) if best_turn == 0 else (ty, tx)
        if longest == 0:
            best_axis = axis_of(t, f, dx, dy, split, rng)
        found = place(t, meta[s], f, kind, dx, dy, best_axis, rest)
        count -= 1
        places[best] = places[count]
        for j in range(found):
            if min(t[rest[j], EXT], t[rest[j], EXT + 1]) >= least:
                count = add_place(t, s, rest[j], places, count)
    return waiting
