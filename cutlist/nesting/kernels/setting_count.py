"""How many settings the saw needs for node tables: a quick count for the compiled search.

The sheets' cuts are written down as a flat forest: strips with tasks, each task a distance and the
strip that it releases. Then settings are gone through greedily: what can be cut at a distance is
all cut, and a distance that nothing below still waits for goes first. The count is that of a real
order of cuts, so it is never below the fewest; the exact order is sought elsewhere.

Not followed up here: rough cuts where the fence does not reach across an edge that is to be
trimmed, and waste that is beyond reach itself.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numba import njit

from cutlist.nesting.kernels.filling import draw
from cutlist.nesting.kernels.nodes import (
    ANGLE,
    EXT,
    FIRST,
    FREE,
    ITEM,
    KIND,
    NEXT,
    STRIP,
    slack,
)
from cutlist.nesting.kernels.records import Ints, Longs

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import Blade, Words

# Columns of ``strips``: first task, number of tasks, and what follows them: the strip that is the
# remainder, or waste, or one of the tasks' own pieces.
TASK, TASKS, THEN = 0, 1, 2
WASTE, SPARE = -1, -2
# Columns of ``tasks``: distance (without kerf), strip released or -1, own strip, what it needs and
# the least distance that would do. A waste is cut only where its distance is set anyway; an edge is
# cleaned at the largest distance in its range that is set anyway, or at the largest that there is.
DISTANCE, CHILD, OWNER, NEED, LEAST = 0, 1, 2, 3, 4
TASK_FIELDS = 5
FIXED, RANGE, OPTIONAL = 0, 1, 2
WORK_FIELDS = 9
# Entries of ``sizes``: strips, tasks, roots.
STRIPS_USED, TASKS_USED, ROOTS_USED = 0, 1, 2
# Entries of ``tally``: distinct distances, tasks, 1000 times the sum over distances of n / (n + 1).
DISTANCES, CUTS, RARITY = 0, 1, 2


class CutForest(NamedTuple):
    """The cuts of some sheets, written down flat.

    Parameters
    ----------
    strips, tasks
        Rows whose columns are named above.
    roots
        Strips that nothing has to be cut before.
    sizes
        How many strips, tasks and roots there are.
    """

    strips: Ints
    tasks: Ints
    roots: Ints
    sizes: Longs

    @classmethod
    def empty(cls, rows: int) -> CutForest:
        """Return no cuts, with room for so many."""
        return cls(
            np.empty((rows, 3), np.int32),
            np.empty((rows, TASK_FIELDS), np.int32),
            np.empty(rows, np.int32),
            np.zeros(3, np.int64),
        )

    def enlarged(self, rows: int) -> CutForest:
        """Return a copy with room for so many cuts more."""
        strips, tasks, roots = (int(n) for n in self.sizes)
        copy = CutForest.empty(max(strips, tasks, roots) + rows)
        copy.strips[:strips] = self.strips[:strips]
        copy.tasks[:tasks] = self.tasks[:tasks]
        copy.roots[:roots] = self.roots[:roots]
        copy.sizes[:] = self.sizes
        return copy


class CountRoom(NamedTuple):
    """Room that a count of settings works in.

    Parameters
    ----------
    numbers
        Hash table from distance to number: rows distance, number; its length a power of two.
    rows
        :data:`WORK_FIELDS` columns with a row for each task, strip and distance.
    stack
        Rows node, unclean margin along x and y, where to hang it; as many as a sheet has nodes.
    tally
        Receives what was counted; see its entries above.
    """

    numbers: Ints
    rows: Ints
    stack: Ints
    tally: Longs


@njit(cache=True, nogil=True)
def count_room(nodes: int, rows: int) -> CountRoom:
    """Return the room for sheets of so many nodes, and so many cuts in all."""
    slots = 1 << 10
    while slots < 2 * rows:
        slots *= 2
    return CountRoom(
        np.empty((slots, 2), np.int32),
        np.empty((rows, WORK_FIELDS), np.int32),
        np.empty((nodes, 4), np.int32),
        np.empty(3, np.int64),
    )


@njit(cache=True, nogil=True)
def _strip(forest: CutForest, then: int) -> int:
    """Open a strip whose tasks follow, and return it."""
    strips, sizes = forest.strips, forest.sizes
    s = int(sizes[STRIPS_USED])
    sizes[STRIPS_USED] = s + 1
    strips[s, TASK] = sizes[TASKS_USED]
    strips[s, TASKS] = 0
    strips[s, THEN] = then
    return s


@njit(cache=True, nogil=True)
def _task(forest: CutForest, s: int, distance: int, need: int) -> int:
    """Add a task to the strip opened last and return it."""
    tasks = forest.tasks
    k = int(forest.sizes[TASKS_USED])
    forest.sizes[TASKS_USED] = k + 1
    forest.strips[s, TASKS] += 1
    tasks[k, DISTANCE] = distance
    tasks[k, CHILD] = -1
    tasks[k, OWNER] = s
    tasks[k, NEED] = need
    tasks[k, LEAST] = distance
    return k


@njit(cache=True, nogil=True)
def _hang(forest: CutForest, where: int, s: int) -> None:
    """Let strip ``s`` be released by a task (from 0), be a root (-1) or be a remainder (below)."""
    if where >= 0:
        forest.tasks[where, CHILD] = s
    elif where == -1:
        forest.roots[forest.sizes[ROOTS_USED]] = s
        forest.sizes[ROOTS_USED] += 1
    else:
        forest.strips[-2 - where, THEN] = s


@njit(cache=True, nogil=True)
def write_down(
    t: Ints, trim: int, blade: Blade, keeps: bool, forest: CutForest, stack: Ints
) -> None:
    """Append the cuts of one sheet to the flat forest.

    ``keeps`` says whether a panel may come out as a remainder; otherwise every one is cut to size.
    ``stack`` is that of :class:`CountRoom`.
    """
    limit, kerf, strips, tasks = blade.longest, blade.kerf, forest.strips, forest.tasks
    where = -1
    if trim > 0:
        for axis in (1, 0):
            distance = t[0, EXT + axis] - kerf + trim
            if limit == 0 or distance + kerf <= limit:
                s = _strip(forest, WASTE)
                _hang(forest, where, s)
                where = _task(forest, s, distance, RANGE)
                tasks[where, LEAST] = distance - slack(t, 0, axis)
    depth = 1
    stack[0, 0], stack[0, 1], stack[0, 2], stack[0, 3] = 0, trim, trim, where
    while depth > 0:
        depth -= 1
        n, where = stack[depth, 0], stack[depth, 3]
        if t[n, KIND] == ITEM:
            for axis in (1, 0):
                if stack[depth, 1 + axis] > 0:
                    s = _strip(forest, WASTE)
                    _hang(forest, where, s)
                    where = _task(forest, s, t[n, EXT + axis] - kerf, FIXED)
            continue
        if t[n, KIND] != STRIP:
            continue
        axis = t[n, ANGLE]
        along = EXT + axis
        x = 0 if axis == 0 else stack[depth, 1]
        y = 0 if axis == 1 else stack[depth, 2]
        margin = stack[depth, 1 + axis]
        left = margin
        if t[n, FREE] >= 0:
            left += t[t[n, FREE], along]
        child = t[n, FIRST]
        if left == 0 and t[child, NEXT] < 0:
            stack[depth, 0], stack[depth, 1], stack[depth, 2] = child, x, y
            stack[depth, 3] = where
            depth += 1
            continue
        s = _strip(forest, SPARE if left == 0 and keeps else WASTE)
        _hang(forest, where, s)
        beyond = False
        while child >= 0:
            size = t[child, along]
            if limit > 0 and size > limit:
                beyond = True
                strips[s, THEN] = WASTE
                where = -2 - s
            else:
                where = _task(forest, s, size - kerf, FIXED)
            stack[depth, 0], stack[depth, 1], stack[depth, 2] = child, x, y
            stack[depth, 3] = where
            depth += 1
            child = t[child, NEXT]
        if left > kerf and beyond:
            waste = left - kerf
            if limit > 0 and waste > limit - kerf:
                waste = limit - kerf
            _task(forest, s, waste, FIXED)
        elif left > kerf and margin == 0 and keeps:
            _task(forest, s, left - kerf, OPTIONAL)


@njit(cache=True, nogil=True)
def count_settings(forest: CutForest, room: CountRoom, rng: Words) -> int:
    """Return the settings of a greedy order of the flat forest; ``rng`` breaks ties."""
    strips, tasks, sizes = forest.strips, forest.tasks, forest.sizes
    index, work, tally = room.numbers, room.rows, room.tally
    number_of_tasks = sizes[TASKS_USED]
    mask = index.shape[0] - 1
    for at in range(index.shape[0]):
        index[at, 1] = -1
    # Columns of work. By task: its distance's number (-1: not cut), the next open one. By strip:
    # tasks left, whether the remainder is a task's. By distance: first open task, open, in all, and
    # the distance itself.
    number, following, left, spare, head, ready, waiting, releases = 0, 1, 2, 3, 4, 5, 6, 7
    length = 8
    distances = 0
    for need in range(3):
        for k in range(number_of_tasks):
            if tasks[k, NEED] != need:
                continue
            distance = tasks[k, DISTANCE]
            if need == RANGE:
                set_anyway = -1
                for d in range(distances):
                    if tasks[k, LEAST] <= work[d, length] <= distance:
                        set_anyway = max(set_anyway, work[d, length])
                if set_anyway >= 0:
                    distance = set_anyway
            at = (distance * 40503) & mask
            while index[at, 1] >= 0 and index[at, 0] != distance:
                at = (at + 1) & mask
            if index[at, 1] < 0:
                if need == OPTIONAL:
                    work[k, number] = -1
                    continue
                index[at, 0], index[at, 1] = distance, distances
                work[distances, length] = distance
                work[distances, head] = -1
                work[distances, ready] = 0
                work[distances, waiting] = 0
                distances += 1
            d = index[at, 1]
            work[k, number] = d
            work[d, waiting] += 1
    tally[DISTANCES], tally[CUTS] = distances, 0
    rare = 0
    for d in range(distances):
        n = work[d, waiting]
        tally[CUTS] += n
        rare += 1000 * n // (n + 1)
    tally[RARITY] = rare
    for s in range(sizes[STRIPS_USED]):
        first, n = strips[s, TASK], strips[s, TASKS]
        work[s, spare] = 1 if strips[s, THEN] == SPARE else 0
        if n > 0 and tasks[first + n - 1, NEED] == OPTIONAL:
            if work[first + n - 1, number] < 0:
                n -= 1
            else:
                work[s, spare] = 1
        work[s, left] = n
    depth = 0
    for r in range(sizes[ROOTS_USED]):
        work[depth, releases] = forest.roots[r]
        depth += 1
    settings = 0
    now = -1
    while True:
        while True:
            while depth > 0:
                depth -= 1
                s = work[depth, releases]
                if work[s, left] == 0 and strips[s, THEN] >= 0:
                    work[depth, releases] = strips[s, THEN]
                    depth += 1
                for k in range(strips[s, TASK], strips[s, TASK] + strips[s, TASKS]):
                    d = work[k, number]
                    if d >= 0:
                        work[k, following] = work[d, head]
                        work[d, head] = k
                        work[d, ready] += 1
            if now < 0 or work[now, head] < 0:
                break
            k = work[now, head]
            work[now, head] = work[k, following]
            if work[k, number] < 0:
                continue
            s = tasks[k, OWNER]
            rounds = 1
            if work[s, left] == 2 and work[s, spare] == 1:
                rounds = 2
            for _ in range(rounds):
                d = work[k, number]
                work[k, number] = -1
                work[d, ready] -= 1
                work[d, waiting] -= 1
                work[s, left] -= 1
                if tasks[k, CHILD] >= 0:
                    work[depth, releases] = tasks[k, CHILD]
                    depth += 1
                if rounds == 2:
                    for other in range(strips[s, TASK], strips[s, TASK] + strips[s, TASKS]):
                        if work[other, number] >= 0:
                            k = other
            if work[s, left] == 0 and strips[s, THEN] >= 0:
                work[depth, releases] = strips[s, THEN]
                depth += 1
        best, best_rank = -1, 1 << 30
        for d in range(distances):
            if work[d, ready] == 0:
                continue
            later = work[d, waiting] - work[d, ready]
            if later > 0:
                rank = 16 * later - min(15, work[d, ready])
            else:
                must = False
                k = work[d, head]
                while k >= 0 and not must:
                    if work[k, number] >= 0:
                        s = tasks[k, OWNER]
                        if work[s, spare] == 0:
                            must = True
                        else:
                            same = 0
                            first = strips[s, TASK]
                            for other in range(first, first + strips[s, TASKS]):
                                if work[other, number] == d:
                                    same += 1
                            must = same > 1
                    k = work[k, following]
                if must:
                    best = d
                    break
                rank = (1 << 20) - work[d, ready]
            if rank < best_rank or (rank == best_rank and draw(rng, 2) == 0):
                best, best_rank = d, rank
        if best < 0:
            return settings
        now = best
        settings += 1
