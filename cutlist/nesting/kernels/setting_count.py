"""How many settings the saw needs for node tables: a quick count for the compiled search.

The sheets' cuts are written down as a flat forest: strips with tasks, each task a distance and the
strip that it releases. Then settings are gone through greedily: what can be cut at a distance is
all cut, and a distance that nothing below still waits for goes first. The count is that of a real
order of cuts, so it is never below the fewest; the exact order is sought elsewhere.

Not followed up here: rough cuts where the fence does not reach across an edge that is to be
trimmed, and waste that is beyond reach itself.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

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
    Ints,
    Longs,
    slack,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

# Columns of ``strips``: first task, number of tasks, and what follows them: the strip that is the
# remainder, or waste, or one of the tasks' own pieces.
TASK, TASKS, THEN = 0, 1, 2
WASTE, SPARE = -1, -2
# Columns of ``tasks``: distance (without kerf), strip released or -1, own strip, how free it is and
# the least distance that would do. A waste is cut only where its distance is set anyway; an edge is
# cleaned at the largest distance in its range that is set anyway, or at the largest that there is.
DISTANCE, CHILD, OWNER, FREEDOM, LEAST = 0, 1, 2, 3, 4
TASK_FIELDS = 5
FIXED, RANGE, OPTIONAL = 0, 1, 2
WORK_FIELDS = 9
# Entries of ``sizes``: strips, tasks, roots.
STRIPS_USED, TASKS_USED, ROOTS_USED = 0, 1, 2


@njit(cache=True, nogil=True)
def _strip(strips: Ints, sizes: Longs, then: int) -> int:
    """Open a strip whose tasks follow, and return it."""
    s = int(sizes[STRIPS_USED])
    sizes[STRIPS_USED] = s + 1
    strips[s, TASK] = sizes[TASKS_USED]
    strips[s, TASKS] = 0
    strips[s, THEN] = then
    return s


@njit(cache=True, nogil=True)
def _task(strips: Ints, tasks: Ints, sizes: Longs, s: int, distance: int, freedom: int) -> int:
    """Add a task to the strip opened last and return it."""
    k = int(sizes[TASKS_USED])
    sizes[TASKS_USED] = k + 1
    strips[s, TASKS] += 1
    tasks[k, DISTANCE] = distance
    tasks[k, CHILD] = -1
    tasks[k, OWNER] = s
    tasks[k, FREEDOM] = freedom
    tasks[k, LEAST] = distance
    return k


@njit(cache=True, nogil=True)
def _hang(strips: Ints, tasks: Ints, roots: Ints, sizes: Longs, where: int, s: int) -> None:
    """Let strip ``s`` be released by a task (from 0), be a root (-1) or be a remainder (below)."""
    if where >= 0:
        tasks[where, CHILD] = s
    elif where == -1:
        roots[sizes[ROOTS_USED]] = s
        sizes[ROOTS_USED] += 1
    else:
        strips[-2 - where, THEN] = s


@njit(cache=True, nogil=True)
def write_down(
    t: Ints,
    trim: int,
    blade: Longs,
    strips: Ints,
    tasks: Ints,
    roots: Ints,
    sizes: Longs,
    stack: Ints,
) -> None:
    """Append the cuts of one sheet to the flat forest.

    ``blade`` holds the longest extent within reach (0: no limit), the kerf, and 1 where every panel
    is cut to size, so that none comes out as a remainder.
    ``stack`` has a row for each node: node, unclean margin along x and y, where to hang it.
    """
    limit, kerf, keeps = blade[0], blade[1], blade[2] == 0
    where = -1
    if trim > 0:
        for axis in (1, 0):
            distance = t[0, EXT + axis] - kerf + trim
            if limit == 0 or distance + kerf <= limit:
                s = _strip(strips, sizes, WASTE)
                _hang(strips, tasks, roots, sizes, where, s)
                where = _task(strips, tasks, sizes, s, distance, RANGE)
                tasks[where, LEAST] = distance - slack(t, 0, axis)
    depth = 1
    stack[0, 0], stack[0, 1], stack[0, 2], stack[0, 3] = 0, trim, trim, where
    while depth > 0:
        depth -= 1
        n, where = stack[depth, 0], stack[depth, 3]
        if t[n, KIND] == ITEM:
            for axis in (1, 0):
                if stack[depth, 1 + axis] > 0:
                    s = _strip(strips, sizes, WASTE)
                    _hang(strips, tasks, roots, sizes, where, s)
                    where = _task(strips, tasks, sizes, s, t[n, EXT + axis] - kerf, FIXED)
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
        s = _strip(strips, sizes, SPARE if left == 0 and keeps else WASTE)
        _hang(strips, tasks, roots, sizes, where, s)
        beyond = False
        while child >= 0:
            size = t[child, along]
            if limit > 0 and size > limit:
                beyond = True
                strips[s, THEN] = WASTE
                where = -2 - s
            else:
                where = _task(strips, tasks, sizes, s, size - kerf, FIXED)
            stack[depth, 0], stack[depth, 1], stack[depth, 2] = child, x, y
            stack[depth, 3] = where
            depth += 1
            child = t[child, NEXT]
        if left > kerf and beyond:
            waste = left - kerf
            if limit > 0 and waste > limit - kerf:
                waste = limit - kerf
            _task(strips, tasks, sizes, s, waste, FIXED)
        elif left > kerf and margin == 0 and keeps:
            _task(strips, tasks, sizes, s, left - kerf, OPTIONAL)


@njit(cache=True, nogil=True)
def count_settings(
    strips: Ints,
    tasks: Ints,
    roots: Ints,
    sizes: Longs,
    index: Ints,
    work: Ints,
    rng: NDArray[np.uint64],
    tally: Longs,
) -> int:
    """Return the settings of a greedy order of the flat forest.

    Parameters
    ----------
    index
        Hash table from distance to number: rows distance, number; its length a power of two.
    work
        Scratch of :data:`WORK_FIELDS` columns with a row for each task, strip and distance.
    rng
        Breaks ties.
    tally
        Receives: distinct distances, tasks, 1000 times the sum over distances of n / (n + 1).
    """
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
    for freedom in range(3):
        for k in range(number_of_tasks):
            if tasks[k, FREEDOM] != freedom:
                continue
            distance = tasks[k, DISTANCE]
            if freedom == RANGE:
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
                if freedom == OPTIONAL:
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
    tally[0], tally[1] = distances, 0
    rare = 0
    for d in range(distances):
        n = work[d, waiting]
        tally[1] += n
        rare += 1000 * n // (n + 1)
    tally[2] = rare
    for s in range(sizes[STRIPS_USED]):
        first, n = strips[s, TASK], strips[s, TASKS]
        work[s, spare] = 1 if strips[s, THEN] == SPARE else 0
        if n > 0 and tasks[first + n - 1, FREEDOM] == OPTIONAL:
            if work[first + n - 1, number] < 0:
                n -= 1
            else:
                work[s, spare] = 1
        work[s, left] = n
    depth = 0
    for r in range(sizes[ROOTS_USED]):
        work[depth, releases] = roots[r]
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
