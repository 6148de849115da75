"""The cuts of a sheet, written down flat from its node table: what is cut at which distances.

Strips have tasks, each a distance and what comes off at it; what is left goes on once all are done.
Which devices may make a cut is settled here by the piece that its strip begins as. Where none holds
a piece so large, a guide divides it first into such as they hold; where none can be set so far, a
panel is what is left of its strip, or the guide cuts it off.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numba import njit

from cutlist.nesting.kernels.bench import (
    FAR,
    LEAST_WASTE,
    MARK,
    MOST,
    at_least_fault,
    guide_for,
    has_guide,
    largest_across,
    set_to,
    tools_for,
)
from cutlist.nesting.kernels.nodes import ANGLE, EXT, FIRST, FREE, ITEM, NEXT, STRIP
from cutlist.nesting.kernels.nodes import KIND as NODE_KIND
from cutlist.nesting.kernels.records import Ints, Longs

if TYPE_CHECKING:
    from cutlist.nesting.kernels.bench import Bench

# Columns of ``strips``: first task, number of tasks, what follows them (a strip, waste, one of the
# tasks' own pieces, or a panel, its part counted down from PANEL), the axis that is divided, and what
# is over beside the tasks' pieces and a kerf between each two.
TASK, TASKS, THEN, AXIS, OVER = 0, 1, 2, 3, 4
STRIP_FIELDS = 5
WASTE, SPARE, PANEL = -1, -2, -3
# Columns of ``tasks``: distance, strip released or -1, own strip, what it needs; of an edge to be
# cleaned what comes off at least and what is to spare; the panel that comes off, or -1; the tools
# that may do it, as bits; the guide that may, or -1; how often the sheet is cut; how an edge is
# cleaned, which is for the choice of settings to say.
DISTANCE, CHILD, OWNER, NEED, OFF, SPARES, PART, TOOLS, BY_GUIDE, COPIES, HOW, ROOM = range(12)
TASK_FIELDS = 12
# What a task needs: its distance; any distance that cleans an edge; nothing, being waste that is
# taken off only where its distance is set anyway; a guide of its own.
FIXED, CLEANING, OPTIONAL, GUIDED = 0, 1, 2, 3
# Entries of ``sizes``: strips, tasks, roots, and cuts that no tool may make.
STRIPS_USED, TASKS_USED, ROOTS_USED, UNSAFE = 0, 1, 2, 3
SIZES = 4
# What is still unclean along an axis: nothing, the far end, both ends.
CLEAN, ONE_END, BOTH_ENDS = 0, 1, 2
# Columns of ``stack``: node, what is unclean along x and along y, where to hang it.
STACK_FIELDS = 4
# Columns of ``kids``: node, size, group.
NODE, SIZE, GROUP = 0, 1, 2


class CutForest(NamedTuple):
    """The cuts of some sheets, written down flat.

    Parameters
    ----------
    strips, tasks
        Rows whose columns are named above.
    roots
        Strips that nothing has to be cut before; a panel alone as ``THEN`` has it.
    sizes
        How many strips, tasks and roots there are, and how many cuts no tool may make.
    """

    strips: Ints
    tasks: Ints
    roots: Ints
    sizes: Longs

    @classmethod
    def empty(cls, rows: int) -> CutForest:
        """Return no cuts, with room for so many."""
        return cls(
            np.empty((rows, STRIP_FIELDS), np.int32),
            np.empty((rows, TASK_FIELDS), np.int32),
            np.empty(rows, np.int32),
            np.zeros(SIZES, np.int64),
        )

    def enlarged(self, rows: int) -> CutForest:
        """Return a copy with room for so many cuts more."""
        strips, tasks, roots = (int(n) for n in self.sizes[:UNSAFE])
        copy = CutForest.empty(max(strips, tasks, roots) + rows)
        copy.strips[:strips] = self.strips[:strips]
        copy.tasks[:tasks] = self.tasks[:tasks]
        copy.roots[:roots] = self.roots[:roots]
        copy.sizes[:] = self.sizes
        return copy


class WritingRules(NamedTuple):
    """How the cuts of a sheet are written down.

    Parameters
    ----------
    spares
        Whether the last panel of a strip may be what is left of it.
    frees
        Whether waste may be taken off at a distance that is set anyway, to leave a panel.
    whole
        Whether an edge across all strips is cleaned on the whole sheet, not on each of them.
    """

    spares: bool
    frees: bool
    whole: bool


class WritingRoom(NamedTuple):
    """Room to work in, for sheets of so many nodes."""

    stack: Ints
    kids: Ints


@njit(cache=True, nogil=True)
def writing_room(nodes: int) -> WritingRoom:
    """Return the room for sheets of so many nodes."""
    return WritingRoom(
        np.empty((nodes + 1, STACK_FIELDS), np.int32), np.empty((nodes + 1, 3), np.int32)
    )


@njit(cache=True, nogil=True)
def _strip(forest: CutForest, axis: int, where: int, then: int) -> int:
    """Open a strip whose tasks follow, hang it up, and return it."""
    strips, sizes = forest.strips, forest.sizes
    s = int(sizes[STRIPS_USED])
    sizes[STRIPS_USED] = s + 1
    strips[s, TASK] = sizes[TASKS_USED]
    strips[s, TASKS] = 0
    strips[s, THEN] = then
    strips[s, AXIS] = axis
    strips[s, OVER] = -1
    if where >= 0:
        forest.tasks[where, CHILD] = s
    elif where == -1:
        forest.roots[sizes[ROOTS_USED]] = s
        sizes[ROOTS_USED] += 1
    else:
        strips[-2 - where, THEN] = s
    return s


@njit(cache=True, nogil=True)
def _task(forest: CutForest, s: int, distance: int, need: int, tools: int, copies: int) -> int:
    """Add a task to the strip opened last and return it."""
    tasks = forest.tasks
    k = int(forest.sizes[TASKS_USED])
    forest.sizes[TASKS_USED] = k + 1
    forest.strips[s, TASKS] += 1
    tasks[k, DISTANCE] = distance
    tasks[k, CHILD] = -1
    tasks[k, OWNER] = s
    tasks[k, NEED] = need
    tasks[k, OFF] = 0
    tasks[k, SPARES] = 0
    tasks[k, PART] = -1
    tasks[k, TOOLS] = tools
    tasks[k, BY_GUIDE] = -1
    tasks[k, COPIES] = copies
    tasks[k, HOW] = -1
    tasks[k, ROOM] = 0
    return k


@njit(cache=True, nogil=True)
def _guided(forest: CutForest, axis: int, where: int, distance: int, guide: int, copies: int) -> int:
    """Open a strip that a guide divides in two; return the task of the one piece.

    What follows the other is hung up at the strip, which is the task's owner.
    """
    s = _strip(forest, axis, where, WASTE)
    k = _task(forest, s, distance, GUIDED, 0, copies)
    forest.tasks[k, BY_GUIDE] = guide
    return k


@njit(cache=True, nogil=True)
def _hand_on(
    t: Ints, forest: CutForest, stack: Ints, depth: int, n: int, x: int, y: int, where: int
) -> int:
    """Let a node follow where it hangs: a panel at once, what is to be cut by way of the stack."""
    if t[n, NODE_KIND] == ITEM and x == CLEAN and y == CLEAN:
        part = t[n, ANGLE]
        if where >= 0:
            forest.tasks[where, PART] = part
        elif where == -1:
            forest.roots[forest.sizes[ROOTS_USED]] = PANEL - part
            forest.sizes[ROOTS_USED] += 1
        else:
            forest.strips[-2 - where, THEN] = PANEL - part
        return depth
    stack[depth, 0], stack[depth, 1], stack[depth, 2], stack[depth, 3] = n, x, y, where
    return depth + 1


@njit(cache=True, nogil=True)
def _cleaning(
    forest: CutForest,
    bench: Bench,
    axis: int,
    along: int,
    room: int,
    off: int,
    spares: int,
    where: int,
    copies: int,
) -> int:
    """Open a strip whose low edge is cleaned, and return the task; its piece is what is cleaned."""
    s = _strip(forest, axis, where, WASTE)
    k = _task(forest, s, room - off, CLEANING, tools_for(bench, along, room), copies)
    forest.tasks[k, OFF] = off
    forest.tasks[k, SPARES] = spares if has_guide(bench) else 0
    forest.tasks[k, BY_GUIDE] = guide_for(bench, along, room)
    forest.tasks[k, ROOM] = room
    return k


@njit(cache=True, nogil=True)
def _strip_of_group(
    t: Ints,
    bench: Bench,
    rules: WritingRules,
    copies: int,
    forest: CutForest,
    room: WritingRoom,
    depth: int,
    kids: int,
    group: int,
    axis: int,
    along: int,
    across: int,
    left: int,
    is_far_unclean: bool,
    x: int,
    y: int,
    where: int,
) -> int:
    """Write down a strip of the children of one group; ``left`` is what is over, kerf and all."""
    rows, kerf = room.kids, bench.kerf
    count, last = 0, -1
    for i in range(kids):
        if rows[i, GROUP] == group:
            count += 1
            last = i
    if count == 1 and left == 0:
        return _hand_on(t, forest, room.stack, depth, rows[last, NODE], x, y, where)
    regular = tools_for(bench, along, across)
    guide = guide_for(bench, along, across)
    long, beyond = 0, -1
    for i in range(kids):
        if rows[i, GROUP] == group and set_to(bench, regular, rows[i, SIZE]) == 0:
            long += 1
            if beyond < 0 or rows[i, SIZE] > rows[beyond, SIZE]:
                beyond = i
    waste = left - kerf
    at_waste = set_to(bench, regular, waste) if waste > 0 else 0
    # A panel beyond reach is what is left once all else is off, if that can be. What is left has
    # to be known for that: not where more may go with an unclean edge than has to.
    is_rest = False
    if long > 0 and bench.slip == 0:
        is_known = guide < 0 or not is_far_unclean
        is_rest = left == 0 and rules.spares
        is_rest = is_rest or (
            long == 1 and waste > 0 and is_known and (at_waste > 0 or guide < 0)
        )
    if not is_rest:
        beyond = -1
    for i in range(kids):
        if rows[i, GROUP] != group or i == beyond:
            continue
        if set_to(bench, regular, rows[i, SIZE]) == 0 and guide >= 0:
            k = _guided(forest, axis, where, rows[i, SIZE], guide, copies)
            depth = _hand_on(t, forest, room.stack, depth, rows[i, NODE], x, y, k)
            where = -2 - int(forest.tasks[k, OWNER])
            rows[i, GROUP] = -1
            count -= 1
            last = -1
    if count == 0:
        return depth
    if count == 1 and left == 0:
        for i in range(kids):
            if rows[i, GROUP] == group:
                last = i
        return _hand_on(t, forest, room.stack, depth, rows[last, NODE], x, y, where)
    is_spare = left == 0 and rules.spares and bench.slip == 0 and beyond < 0
    s = _strip(forest, axis, where, SPARE if is_spare else WASTE)
    forest.strips[s, OVER] = left
    for i in range(kids):
        if rows[i, GROUP] != group or i == beyond:
            continue
        tools = set_to(bench, regular, rows[i, SIZE])
        if tools == 0:
            tools = at_least_fault(bench, rows[i, SIZE])
            forest.sizes[UNSAFE] += copies
        k = _task(forest, s, rows[i, SIZE], FIXED, tools, copies)
        depth = _hand_on(t, forest, room.stack, depth, rows[i, NODE], x, y, k)
    if beyond >= 0:
        depth = _hand_on(t, forest, room.stack, depth, rows[beyond, NODE], x, y, -2 - s)
        while waste > 0:
            if at_waste == 0:
                step, by = _largest_step(bench, regular, waste)
                if step <= 0:
                    forest.sizes[UNSAFE] += copies
                    step, by = waste, at_least_fault(bench, waste)
            else:
                step, by = waste, at_waste
            k = _task(forest, s, step, FIXED, by, copies)
            forest.tasks[k, OFF] = 1 if is_far_unclean else 0
            waste -= step + kerf
            at_waste = set_to(bench, regular, waste)
    elif waste > 0 and not is_far_unclean and rules.frees and bench.slip == 0:
        by = set_to(bench, regular, waste)
        for k in range(bench.tools.shape[0]):
            if waste < bench.tools[k, LEAST_WASTE]:
                by &= ~(1 << k)
        if by:
            _task(forest, s, waste, OPTIONAL, by, copies)
    return depth


@njit(cache=True, nogil=True)
def _largest_step(bench: Bench, tools: int, waste: int) -> tuple[int, int]:
    """Return the largest distance at which a part of some waste comes off, and by which tool."""
    best, by = 0, 0
    for k in range(bench.tools.shape[0]):
        if tools >> k & 1:
            most = min(bench.tools[k, MOST], waste - bench.kerf - bench.tools[k, LEAST_WASTE])
            most -= most % bench.tools[k, MARK]
            if most > best:
                best, by = most, 1 << k
    return best, by


@njit(cache=True, nogil=True)
def _run(
    t: Ints,
    n: int,
    axis: int,
    along: int,
    across: int,
    far: int,
    x: int,
    y: int,
    where: int,
    bench: Bench,
    rules: WritingRules,
    copies: int,
    forest: CutForest,
    room: WritingRoom,
    depth: int,
) -> int:
    """Write down how a piece with a clean low end is divided along an axis."""
    rows, kerf = room.kids, bench.kerf
    kids, left = 0, far
    if t[n, NODE_KIND] == ITEM:
        rows[0, NODE], rows[0, SIZE], rows[0, GROUP] = n, t[n, EXT + axis] - kerf, 0
        kids = 1
    else:
        if t[n, FREE] >= 0:
            left += t[t[n, FREE], EXT + axis]
        child = t[n, FIRST]
        while child >= 0:
            size = t[child, EXT + axis] - kerf
            # The largest first, as they are put into groups.
            i = kids
            while i > 0 and rows[i - 1, SIZE] < size:
                rows[i, NODE], rows[i, SIZE] = rows[i - 1, NODE], rows[i - 1, SIZE]
                i -= 1
            rows[i, NODE], rows[i, SIZE] = child, size
            rows[kids, GROUP] = 0
            kids += 1
            child = t[child, NEXT]
    is_one = kids == 1 and left == 0
    if is_one or tools_for(bench, along, across) or guide_for(bench, along, across) < 0:
        return _strip_of_group(
            t, bench, rules, copies, forest, room, depth, kids, 0,
            axis, along, across, left, far > 0, x, y, where,
        )  # fmt: skip
    guide, fit = guide_for(bench, along, across), largest_across(bench, along)
    groups, placed = 0, 0
    while placed < kids:
        groups += 1
        total, some = -kerf, 0
        for i in range(kids):
            size = rows[i, SIZE]
            if rows[i, GROUP] == 0 and (some == 0 or total + kerf + size <= fit):
                rows[i, GROUP] = groups
                total += kerf + size
                placed += 1
                some += 1
        is_last = placed == kids
        over = 0
        if is_last and (left == 0 or (total + left <= fit and groups > 1)):
            over = left
        else:
            k = _guided(forest, axis, where, total, guide, copies)
            where = -2 - int(forest.tasks[k, OWNER])
            depth = _strip_of_group(
                t, bench, rules, copies, forest, room, depth, kids, groups,
                axis, along, total, 0, False, x, y, k,
            )  # fmt: skip
            continue
        depth = _strip_of_group(
            t, bench, rules, copies, forest, room, depth, kids, groups,
            axis, along, total + over, over, far > 0, x, y, where,
        )  # fmt: skip
    return depth


@njit(cache=True, nogil=True)
def _slack_across(t: Ints, n: int, axis: int) -> int:
    """Return by how much a strip may lose of its size across its own axis."""
    least = FAR
    child = t[n, FIRST]
    while child >= 0:
        free = t[child, FREE] if t[child, NODE_KIND] == STRIP else -1
        least = min(least, t[free, EXT + axis] if free >= 0 else 0)
        child = t[child, NEXT]
    return int(least)


@njit(cache=True, nogil=True)
def write_down(
    t: Ints,
    trims: Longs,
    bench: Bench,
    rules: WritingRules,
    copies: int,
    forest: CutForest,
    room: WritingRoom,
) -> None:
    """Append the cuts of one sheet to the flat forest.

    Parameters
    ----------
    t
        The sheet's node table.
    trims
        What is unclean at the low and the high end of x, then of y; where one end is clean it is
        the low one.
    bench, rules
        The shop, and how the cuts are written down.
    copies
        Sheets that are cut so.
    forest, room
        What is written to, and room to work in.
    """
    stack, kerf = room.stack, bench.kerf
    x = BOTH_ENDS if trims[0] > 0 else ONE_END if trims[1] > 0 else CLEAN
    y = BOTH_ENDS if trims[2] > 0 else ONE_END if trims[3] > 0 else CLEAN
    if t[0, NODE_KIND] != ITEM and t[0, NODE_KIND] != STRIP:
        return
    depth = _hand_on(t, forest, stack, 0, 0, x, y, -1)
    while depth > 0:
        depth -= 1
        n, x, y, where = stack[depth, 0], stack[depth, 1], stack[depth, 2], stack[depth, 3]
        is_panel = t[n, NODE_KIND] == ITEM
        axis = (1 if y != CLEAN else 0) if is_panel else t[n, ANGLE]
        length = t[n, EXT] - kerf + (trims[0] if x == BOTH_ENDS else 0)
        width = t[n, EXT + 1] - kerf + (trims[2] if y == BOTH_ENDS else 0)
        length += trims[1] if x != CLEAN else 0
        width += trims[3] if y != CLEAN else 0
        other = y if axis == 0 else x
        if n == 0 and not is_panel and other == BOTH_ENDS and rules.whole:
            across, along = (width, length) if axis == 0 else (length, width)
            off = trims[2] if axis == 0 else trims[0]
            spares = _slack_across(t, n, 1 - axis)
            where = _cleaning(
                forest, bench, 1 - axis, along, across, off, spares, where, copies
            )
            if axis == 0:
                y, width = ONE_END, width - off
            else:
                x, length = ONE_END, length - off
        own = x if axis == 0 else y
        across, along = (length, width) if axis == 0 else (width, length)
        if own == BOTH_ENDS:
            off = trims[0] if axis == 0 else trims[2]
            spares = 0
            if not is_panel and t[n, FREE] >= 0:
                spares = t[t[n, FREE], EXT + axis]
            where = _cleaning(forest, bench, axis, along, across, off, spares, where, copies)
            across -= off
        far = 0
        if own != CLEAN:
            far = trims[1] if axis == 0 else trims[3]
        if axis == 0:
            x = CLEAN
        else:
            y = CLEAN
        depth = _run(
            t, n, axis, along, across, far, x, y, where, bench, rules, copies, forest, room, depth
        )
