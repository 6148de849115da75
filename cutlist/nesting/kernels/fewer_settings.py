"""The compiled search for layouts of equal cost that need fewer settings of the saw.

As in the search for fewer sheets, some sheets or parts of them are ruined, filled again, and the
new state is kept late. Here every panel always lies on a sheet; what counts are the settings of a
quick order of all cuts, and panels are put where their distances are set anyway.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from cutlist.nesting.kernels.cut_forest import DISTANCE, TASKS_USED
from cutlist.nesting.kernels.filling import (
    ALONG_X,
    AT_RANDOM,
    RULES,
    PlacingRule,
    add_place,
    axis_of,
    draw,
    gather,
    lie_on,
    open_sheet,
    reachable_axis,
    spare_of,
)
from cutlist.nesting.kernels.nodes import (
    BIN,
    BLANK,
    EXT,
    ITEM,
    KIND,
    NODES_A_PANEL,
    TOP,
    USED,
    copy_row,
    copy_table,
    lift,
    place,
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
from cutlist.nesting.kernels.seen_sizes import is_seen, mark_sizes, see
from cutlist.nesting.kernels.settings_mark import mark_of, mark_room

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import (
        Copies,
        Ints,
        Longs,
        Refill,
        Sheets,
        Sizes,
        Walk,
        Words,
    )
    from cutlist.nesting.kernels.settings_mark import Judged
    from cutlist.nesting.step_parameters import SettingsStepParameters

# Columns of ``run``, the state of a search between calls: mark of the present state, steps done,
# mark of the best one kept.
MARK, STEP, BEST = 0, 1, 2
RUNS = 3
_NEW = 1.0e15  # what a distance that is not set yet counts for a place: more than any area


@njit(cache=True, nogil=True)
def _sort(queue: Ints, length: int, types: Longs, noise: int, rng: Words) -> None:
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
def _lift_alike(
    t: Ints,
    m: Longs,
    size: int,
    queue: Ints,
    length: int,
    stack: Ints,
    chance: int,
    rng: Words,
) -> int:
    """Lift the panels and strips of a sheet that measure ``size`` across or along."""
    for n in range(m[TOP]):
        is_alike = t[n, KIND] >= ITEM and (t[n, EXT] == size or t[n, EXT + 1] == size)
        if is_alike and n > 0 and draw(rng, 1024) < chance:
            length = lift(t, m, n, queue, length, stack)
    return length


@njit(cache=True, nogil=True)
def _refill(
    sheets: Sheets,
    sizes: Sizes,
    refill: Refill,
    length: int,
    count: int,
    choice: PlacingRule,
    matched: bool,
    seen: Longs,
    stamp: int,
    rng: Words,
) -> bool:
    """Place all queued panels, distances set anyway first if ``matched``; say whether all fit.

    ``seen`` and ``stamp`` tell which are; see :mod:`cutlist.nesting.kernels.seen_sizes`.
    """
    tree, meta, types, bins = sheets.tree, sheets.meta, sizes.types, sizes.bins
    blade, queue, places, opened = sizes.blade, refill.queue, refill.places, refill.opened
    rest = np.empty(2, np.int32)
    for i in range(length):
        kind = queue[i]
        tx, ty, turnable = types[kind, 0], types[kind, 1], types[kind, 2]
        best, best_turn, best_axis = -1, 0, 0
        best_mark = 9.0e18
        for c in range(count):
            ex, ey = places[c, 2], places[c, 3]
            for turn in range(1 + turnable):
                dx, dy = (tx, ty) if turn == 0 else (ty, tx)
                if dx > ex or dy > ey:
                    continue
                mark = spare_of(ex, ey, dx, dy, choice.rule)
                if matched:
                    if dx < ex and not is_seen(seen, dx, stamp):
                        mark += _NEW
                    if dy < ey and not is_seen(seen, dy, stamp):
                        mark += _NEW
                if mark >= best_mark or (choice.overlook > 0 and draw(rng, 1024) < choice.overlook):
                    continue
                s = places[c, 0]
                axis = axis_of(tree[s], places[c, 1], dx, dy, choice.split, rng)
                if blade.longest > 0:
                    sheet = bins[meta[s, BIN]]
                    axis = reachable_axis(tree[s], places[c, 1], dx, dy, axis, sheet, blade)
                    if axis < 0:
                        continue
                best, best_turn, best_axis, best_mark = c, turn, axis, mark
        if best < 0:
            s = open_sheet(sheets, sizes, kind, rng)
            if s < 0:
                return False
            opened[0] += 1
            opened[opened[0]] = s
            best = count
            count = add_place(tree[s], s, 0, places, count)
            best_turn, best_axis = lie_on(
                tree[s], tx, ty, turnable, choice.split, bins[meta[s, BIN]], blade, rng
            )
        s, f = places[best, 0], places[best, 1]
        t = tree[s]
        if meta[s, USED] + NODES_A_PANEL > t.shape[0]:
            return False
        dx, dy = (tx, ty) if best_turn == 0 else (ty, tx)
        if matched:
            see(seen, dx, stamp)
            see(seen, dy, stamp)
        found = place(t, meta[s], f, kind, dx, dy, best_axis, rest)
        count -= 1
        places[best] = places[count]
        for j in range(found):
            if min(t[rest[j], EXT], t[rest[j], EXT + 1]) >= choice.least:
                count = add_place(t, s, rest[j], places, count)
    return True


@njit(cache=True, nogil=True)
def search_settings(
    sheets: Sheets,
    sizes: Sizes,
    judged: Judged,
    panels: int,
    walk: Walk,
    tune: SettingsStepParameters,
    kept: Copies,
    rng: Words,
    steps: int,
) -> None:
    """Search for so many steps from a complete state; the best one met goes to ``kept``.

    ``run[MARK]`` and ``run[BEST]`` have to be set.
    """
    # Each array is reached once: every time that it is, its references are counted.
    tree, meta, left, outlay = sheets.tree, sheets.meta, sheets.left, sheets.outlay
    types, bins = sizes.types, sizes.bins
    run, history = walk.run, walk.history
    most = min(tune.most_sheets, meta.shape[0])
    refill = refill_room(sheets, panels)
    queue, places, opened = refill.queue, refill.places, refill.opened
    before = before_room(sheets, most)
    touched, old_tree, old_meta, old_left = before.touched, before.tree, before.meta, before.left
    stack = np.empty(tree.shape[1], np.int32)
    room = mark_room(sheets, judged)
    seen = np.full((room.counting.settings.numbers.shape[0], 2), -1, np.int64)
    least = smallest_side(types)
    for step in range(run[STEP], run[STEP] + steps):
        run[STEP] = step + 1
        length = 0
        copy_row(old_left, left, left.shape[0])
        old_spent = outlay[SPENT]
        count = 0
        ruined = 0
        whole = draw(rng, 1024) < tune.whole
        size = -1
        if not whole and draw(rng, 1024) < tune.alike:
            kind = draw(rng, types.shape[0])
            size = types[kind, draw(rng, 2)]
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
                if size >= 0:
                    length = _lift_alike(t, m, size, queue, length, stack, tune.alike_each, rng)
                else:
                    for _n in range(1 + draw(rng, tune.most_nodes)):
                        n = pick(t, m[TOP], tune.widen, rng)
                        if t[n, KIND] != BLANK:
                            length = lift(t, m, n, queue, length, stack)
                count = gather(t, m, s, least, places, count)
        _sort(queue, length, types, tune.noise if draw(rng, 2) == 0 else 0, rng)
        opened[0] = 0
        if length > 0 and draw(rng, 1024) < tune.fresh:
            s = open_sheet(sheets, sizes, queue[0], rng)
            if s >= 0:
                opened[0] = 1
                opened[1] = s
                count = gather(tree[s], meta[s], s, least, places, count)
        matched = draw(rng, 1024) < tune.match
        if matched:
            mark_sizes(sheets, seen, step)
            for k in range(judged.others.sizes[TASKS_USED]):
                see(seen, judged.others.tasks[k, DISTANCE] + sizes.blade.kerf, step)
        split = ALONG_X + draw(rng, 2) if draw(rng, 1024) < tune.strips else AT_RANDOM
        choice = PlacingRule(draw(rng, RULES), split, tune.overlook, least)
        good = _refill(sheets, sizes, refill, length, count, choice, matched, seen, step, rng)
        mark = 0
        if good:
            mark = mark_of(sheets, sizes, judged, room, tune, rng)
        h = step % history.shape[0]
        if good and (mark <= run[MARK] or mark <= history[h]):
            run[MARK] = mark
            for i in range(ruined):
                close_if_empty(sheets, bins, touched[i])
            for i in range(opened[0]):
                close_if_empty(sheets, bins, opened[1 + i])
            if mark < run[BEST]:
                run[BEST] = mark
                keep_state(sheets, kept)
        else:
            take_back(sheets, opened, before, ruined, old_spent)
        history[h] = run[MARK]
