"""The cuts of a sheet, written down flat from its node table: what is cut at which distances.

Strips have tasks, each a distance and what comes off at it; what is left goes on once all are done.
Which devices may make a cut is settled here by the piece that its strip begins as. Where none holds
a piece so large, a guide divides it first into such as they hold; where none can be set so far, a
panel is what is left of its strip, or the guide cuts it off.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, cast

import numpy as np
from numba import njit

from cutlist.nesting.kernels.bench import (
    FAR,
    LEAST_WASTE,
    MARK,
    MOST,
    ONE_CUT,
    at_least_fault,
    farthest,
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
# tasks' own pieces, or a panel, its part counted down from PANEL), the axis that is divided, what
# is over beside the tasks' pieces and a kerf between each two, and whether it is counted from the
# high end.
TASK, TASKS, THEN, AXIS, OVER, FLIPPED = 0, 1, 2, 3, 4, 5
STRIP_FIELDS = 6
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
# What waste says in OFF that comes off an unclean far end.
WHOLE_EDGE, PART_OF_EDGE = 1, 2
# Entries of ``sizes``: strips, tasks, roots, and cuts that no tool may make.
STRIPS_USED, TASKS_USED, ROOTS_USED, UNSAFE = 0, 1, 2, 3
SIZES = 4
# Columns of ``stack``: node, where to hang it; for x, then for y, what :class:`Ends` has.
WHICH, WHERE, LOW, FAR_END, FROM_HIGH, UNCLEAN, UNSURE, BY = range(8)
ENDS = 6
STACK_FIELDS = 14
# Plain numbers of one kind, so that each kernel is compiled once.
NONE, ONE = cast("int", np.int64(0)), cast("int", np.int64(1))
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


class Ends(NamedTuple):
    """What a piece is beyond its node along an axis.

    Parameters
    ----------
    low
        What is unclean at the low end.
    far
        What is there at the other end, less what went with the low one.
    flipped
        1 where it is counted from its high end.
    unclean
        1 where the other end is not clean.
    unsure
        By how much the piece may be smaller than is reckoned, more having gone with an edge.
    by
        One more than the task that cleaned that edge; 0 for none.
    """

    low: int
    far: int
    flipped: int
    unclean: int
    unsure: int
    by: int


class Run(NamedTuple):
    """A piece to be divided along an axis.

    Parameters
    ----------
    axis
        The axis.
    along, least
        Largest and smallest size of the piece across it: the length of every cut.
    flipped
        1 where it is counted from its high end.
    other
        What it is beyond its node along the other axis.
    """

    axis: int
    along: int
    least: int
    flipped: int
    other: Ends


class WritingRoom(NamedTuple):
    """Room to work in, for sheets of so many nodes."""

    stack: Longs
    kids: Longs


@njit(cache=True, nogil=True)
def writing_room(nodes: int) -> WritingRoom:
    """Return the room for sheets of so many nodes."""
    return WritingRoom(
        np.empty((nodes + 1, STACK_FIELDS), np.int64), np.empty((nodes + 1, 3), np.int64)
    )


@njit(cache=True, nogil=True)
def _strip(forest: CutForest, axis: int, flipped: int, where: int, then: int) -> int:
    """Open a strip whose tasks follow, hang it up, and return it."""
    strips, sizes = forest.strips, forest.sizes
    s = int(sizes[STRIPS_USED])
    sizes[STRIPS_USED] = s + 1
    strips[s, TASK] = sizes[TASKS_USED]
    strips[s, TASKS] = 0
    strips[s, THEN] = then
    strips[s, AXIS] = axis
    strips[s, OVER] = -1
    strips[s, FLIPPED] = flipped
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
def _note(row: Longs, at: int, ends: Ends) -> None:
    """Write down what a piece is beyond its node along an axis."""
    row[at + LOW], row[at + FAR_END], row[at + FROM_HIGH] = ends.low, ends.far, ends.flipped
    row[at + UNCLEAN], row[at + UNSURE], row[at + BY] = ends.unclean, ends.unsure, ends.by


@njit(cache=True, nogil=True)
def _ends(row: Longs, at: int) -> Ends:
    """Read what a piece is beyond its node along an axis."""
    return Ends(
        row[at + LOW],
        row[at + FAR_END],
        row[at + FROM_HIGH],
        row[at + UNCLEAN],
        row[at + UNSURE],
        row[at + BY],
    )


@njit(cache=True, nogil=True)
def _clean() -> Ends:
    """Return the ends of a piece that is its node and no more."""
    return Ends(NONE, NONE, NONE, NONE, NONE, NONE)


@njit(cache=True, nogil=True)
def _hand_on(
    t: Ints,
    forest: CutForest,
    run: Run,
    stack: Longs,
    depth: int,
    n: int,
    where: int,
    ends: Ends,
) -> int:
    """Let a node follow where it hangs: a panel at once, what is to be cut by way of the stack.

    ``ends`` tells of it along the run's axis.
    """
    is_clean = ends.low == 0 and ends.unclean == 0
    is_clean = is_clean and run.other.low == 0 and run.other.unclean == 0
    if t[n, NODE_KIND] == ITEM and is_clean:
        part = t[n, ANGLE]
        if where >= 0:
            forest.tasks[where, PART] = part
        elif where == -1:
            forest.roots[forest.sizes[ROOTS_USED]] = PANEL - part
            forest.sizes[ROOTS_USED] += 1
        else:
            forest.strips[-2 - where, THEN] = PANEL - part
        return depth
    row = stack[depth]
    row[WHICH], row[WHERE] = n, where
    _note(row, ENDS * run.axis, ends)
    _note(row, ENDS * (1 - run.axis), run.other)
    return depth + 1


@njit(cache=True, nogil=True)
def _guided(
    forest: CutForest, run: Run, where: int, distance: int, carried: int, guide: int, copies: int
) -> int:
    """Open a strip that a guide divides in two; return the task of the one piece.

    ``carried`` is what goes with it that is not clean. What follows the other is hung up at the
    strip, which is the task's owner.
    """
    s = _strip(forest, run.axis, run.flipped, where, WASTE)
    k = _task(forest, s, distance + carried, GUIDED, 0, copies)
    forest.tasks[k, BY_GUIDE] = guide
    forest.tasks[k, OFF] = carried
    return k


@njit(cache=True, nogil=True)
def _cleaning(
    forest: CutForest,
    bench: Bench,
    axis: int,
    along: int,
    least: int,
    room: int,
    off: int,
    spares: int,
    where: int,
    copies: int,
) -> int:
    """Open a strip whose low edge is cleaned, and return the task; its piece is what is cleaned."""
    s = _strip(forest, axis, 0, where, WASTE)
    if off < bench.kerf:
        # A blade that cuts on one side only is pushed aside: a full kerf goes, if there is so much.
        more = min(bench.kerf - off, spares)
        off, spares = off + more, spares - more
    k = _task(forest, s, room - off, CLEANING, tools_for(bench, along, least, room), copies)
    forest.tasks[k, OFF] = off
    forest.tasks[k, SPARES] = spares
    forest.tasks[k, BY_GUIDE] = guide_for(bench, along, least, room)
    forest.tasks[k, ROOM] = room
    return k


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
def _take_waste_off(
    forest: CutForest, bench: Bench, s: int, regular: int, waste: int, is_unclean: bool, copies: int
) -> None:
    """Write down that waste comes off from the far end until nothing is left but what follows."""
    is_first = True
    while waste > 0:
        step, by = waste, set_to(bench, regular, waste)
        if by == 0:
            step, by = _largest_step(bench, regular, waste)
            if step <= 0:
                forest.sizes[UNSAFE] += copies
                step, by = waste, at_least_fault(bench, waste)
        k = _task(forest, s, step, FIXED, by, copies)
        # The first and largest step takes the unclean edge off whole.
        forest.tasks[k, OFF] = 0 if not is_unclean else WHOLE_EDGE if is_first else PART_OF_EDGE
        is_first = False
        waste -= step + bench.kerf


@njit(cache=True, nogil=True)
def _guide_at_fault(bench: Bench, distance: int) -> int:
    """Return the guide to be told of for a cut that none may make; -1 where it is another saw."""
    tools = at_least_fault(bench, distance)
    for k in range(bench.tools.shape[0]):
        if tools >> k & 1 and bench.tools[k, ONE_CUT]:
            return k
    return -1


@njit(cache=True, nogil=True)
def _peel(
    t: Ints,
    bench: Bench,
    rules: WritingRules,
    copies: int,
    forest: CutForest,
    room: WritingRoom,
    depth: int,
    kids: int,
    group: int,
    run: Run,
    left: int,
    is_far_unclean: bool,
    unsure: int,
    by: int,
    where: int,
) -> int:
    """Write down a strip of the children of one group; ``left`` is what is over, kerf and all."""
    rows, kerf = room.kids, bench.kerf
    count, last, across = 0, -1, left - kerf
    for i in range(kids):
        if rows[i, GROUP] == group:
            count += 1
            last = i
            across += rows[i, SIZE] + kerf
    if count == 1 and left == 0:
        return _hand_on(t, forest, run, room.stack, depth, rows[last, NODE], where, _clean())
    regular = tools_for(bench, run.along, run.least, across)
    guide = guide_for(bench, run.along, run.least, across - unsure)
    long, beyond = 0, -1
    for i in range(kids):
        if rows[i, GROUP] == group and set_to(bench, regular, rows[i, SIZE]) == 0:
            long += 1
            if beyond < 0 or rows[i, SIZE] > rows[beyond, SIZE]:
                beyond = i
    waste = left - kerf
    at_waste = set_to(bench, regular, waste) if waste > 0 else 0
    # A panel beyond reach is what is left once all else is off, if that can be. What is left has
    # to be known for that: not where more may go with an unclean edge than has to. Then what is
    # over stays with it, and comes off its pieces.
    is_rest = carries = False
    # Not even a guide reaches there.
    is_forced = long > 0 and rows[beyond, SIZE] > farthest(bench)
    if long > 0 and (bench.slip == 0 or is_forced):
        is_rest = left == 0 and rules.spares
        if left > 0 and guide >= 0 and is_far_unclean:
            carries = t[rows[beyond, NODE], NODE_KIND] == STRIP
        elif (long == 1 or is_forced) and waste > 0:
            is_rest = at_waste > 0 or guide < 0 or is_forced
    if not (is_rest or carries):
        beyond = -1
    short = across - unsure
    for i in range(kids):
        if rows[i, GROUP] != group or i == beyond:
            continue
        if set_to(bench, regular, rows[i, SIZE]):
            continue
        guide = guide_for(bench, run.along, run.least, short)
        if guide < 0:
            guide = _guide_at_fault(bench, rows[i, SIZE])
            forest.sizes[UNSAFE] += copies if guide >= 0 else 0
        if guide >= 0:
            short -= rows[i, SIZE] + kerf
            k = _guided(forest, run, where, rows[i, SIZE], 0, guide, copies)
            depth = _hand_on(t, forest, run, room.stack, depth, rows[i, NODE], k, _clean())
            where = -2 - int(forest.tasks[k, OWNER])
            rows[i, GROUP] = -1
            count -= 1
    guide = guide_for(bench, run.along, run.least, short)
    if is_rest and waste > 0 and at_waste == 0 and guide >= 0 and waste <= bench.tools[guide, MOST]:
        # The guide takes the waste off from the far end first.
        s = _strip(forest, run.axis, 1 - run.flipped, where, WASTE)
        k = _task(forest, s, waste, GUIDED, 0, copies)
        forest.tasks[k, BY_GUIDE], forest.tasks[k, OFF] = guide, is_far_unclean
        if by > 0:
            forest.tasks[by - 1, SPARES] = 0
        where, left, waste = -2 - s, 0, 0
    over = _clean()
    if carries:
        over = Ends(NONE, left, run.flipped, ONE, unsure, by)
    if count == 0:
        return depth
    if count == 1 and (left == 0 or carries):
        for i in range(kids):
            if rows[i, GROUP] == group:
                last = i
        node = rows[last, NODE]
        return _hand_on(t, forest, run, room.stack, depth, node, where, over)
    is_spare = left == 0 and rules.spares and bench.slip == 0 and beyond < 0
    s = _strip(forest, run.axis, run.flipped, where, SPARE if is_spare else WASTE)
    forest.strips[s, OVER] = left
    for i in range(kids):
        if rows[i, GROUP] != group or i == beyond:
            continue
        tools = set_to(bench, regular, rows[i, SIZE])
        if tools == 0:
            tools = at_least_fault(bench, rows[i, SIZE])
            forest.sizes[UNSAFE] += copies
        k = _task(forest, s, rows[i, SIZE], FIXED, tools, copies)
        depth = _hand_on(t, forest, run, room.stack, depth, rows[i, NODE], k, _clean())
    if beyond >= 0:
        node = rows[beyond, NODE]
        depth = _hand_on(t, forest, run, room.stack, depth, node, -2 - s, over)
        if not carries:
            if by > 0:
                # What is left has to be known: no more goes with the edge than has to.
                forest.tasks[by - 1, SPARES] = 0
            _take_waste_off(forest, bench, s, regular, waste, is_far_unclean, copies)
    elif waste > 0 and not is_far_unclean and rules.frees and bench.slip == 0:
        by = set_to(bench, regular, waste)
        for k in range(bench.tools.shape[0]):
            if waste < bench.tools[k, LEAST_WASTE]:
                by &= ~(1 << k)
        if by:
            _task(forest, s, waste, OPTIONAL, by, copies)
    return depth


@njit(cache=True, nogil=True)
def _children(t: Ints, n: int, axis: int, kerf: int, rows: Longs) -> tuple[int, int]:
    """List what a node is divided into along an axis, the largest first.

    Returns how many there are, and what is left over.
    """
    if t[n, NODE_KIND] == ITEM:
        rows[0, NODE], rows[0, SIZE], rows[0, GROUP] = n, t[n, EXT + axis] - kerf, 0
        return 1, 0
    kids = 0
    child = t[n, FIRST]
    while child >= 0:
        size = t[child, EXT + axis] - kerf
        i = kids
        while i > 0 and rows[i - 1, SIZE] < size:
            rows[i, NODE], rows[i, SIZE] = rows[i - 1, NODE], rows[i - 1, SIZE]
            i -= 1
        rows[i, NODE], rows[i, SIZE] = child, size
        rows[kids, GROUP] = 0
        kids += 1
        child = t[child, NEXT]
    return kids, int(t[t[n, FREE], EXT + axis]) if t[n, FREE] >= 0 else 0


@njit(cache=True, nogil=True)
def _divide(
    t: Ints,
    n: int,
    run: Run,
    ends: Ends,
    where: int,
    bench: Bench,
    rules: WritingRules,
    copies: int,
    forest: CutForest,
    room: WritingRoom,
    depth: int,
) -> int:
    """Write down how a piece is divided along an axis; ``ends`` tells of it along that."""
    rows, kerf, low = room.kids, bench.kerf, ends.low
    kids, spares = _children(t, n, run.axis, kerf, rows)
    across, left = t[n, EXT + run.axis] - kerf + ends.far, spares + ends.far
    unclean, unsure, by = ends.unclean == 1, ends.unsure, ends.by
    regular = tools_for(bench, run.along, run.least, across)
    guide = guide_for(bench, run.along, run.least, across - unsure)
    is_split = regular == 0 and guide >= 0 and (kids > 1 or left > 0)
    more = 0
    if low > 0:
        more = _more_off(bench, run.along, run.least, across, spares)
        is_split = is_split and more == 0
    if low > 0 and not is_split:
        long = 0
        for i in range(kids):
            long += set_to(bench, regular, rows[i, SIZE]) == 0
        first = rows[0, NODE]
        if guide >= 0 and bench.slip == 0 and long > 0 and t[first, NODE_KIND] == STRIP:
            if kids == 1:
                both = Ends(low, left, NONE, ONE, unsure, by)
                return _hand_on(t, forest, run, room.stack, depth, first, where, both)
            if long > 1:
                # The first panel takes the low end with it, and loses it piece by piece.
                k = _guided(forest, run, where, rows[0, SIZE], low, guide, copies)
                one = Ends(NONE, low, ONE, ONE, NONE, NONE)
                depth = _hand_on(t, forest, run, room.stack, depth, first, k, one)
                where = -2 - int(forest.tasks[k, OWNER])
                rows[0, GROUP] = -1
                low = 0
        if low > 0:
            where = _cleaning(
                forest, bench, run.axis, run.along, run.least, low + across, low + more,
                spares - more, where, copies,
            )  # fmt: skip
            left -= more
            unsure += spares - more
            by = where + 1
    if not is_split:
        return _peel(
            t,
            bench,
            rules,
            copies,
            forest,
            room,
            depth,
            kids,
            0,
            run,
            left,
            unclean,
            unsure,
            by,
            where,
        )
    reach = bench.tools[guide, MOST]
    fit = min(largest_across(bench, run.along, run.least), reach)
    groups, placed = 0, 0
    is_far = kids > 1 and rows[0, SIZE] + low > reach
    if is_far:
        # What not even the guide can be set to is left once all else is off.
        rows[0, GROUP] = kids + 1
        placed = 1
    while placed < kids:
        groups += 1
        total, some = low - kerf, 0
        for i in range(kids):
            size = rows[i, SIZE]
            if rows[i, GROUP] == 0 and (some == 0 or total + kerf + size <= fit):
                rows[i, GROUP] = groups
                total += kerf + size
                placed += 1
                some += 1
        is_last = placed == kids and not is_far
        if is_last and low == 0 and (left == 0 or (total + left <= fit and groups > 1)):
            return _peel(
                t, bench, rules, copies, forest, room, depth, kids, groups, run, left, unclean,
                unsure, by, where,
            )  # fmt: skip
        k = _guided(forest, run, where, total - low, low, guide, copies)
        where = -2 - int(forest.tasks[k, OWNER])
        piece = run
        if low > 0:
            piece = Run(run.axis, run.along, run.least, ONE, run.other)
        depth = _peel(
            t,
            bench,
            rules,
            copies,
            forest,
            room,
            depth,
            kids,
            groups,
            piece,
            low,
            low > 0,
            NONE,
            NONE,
            k,
        )
        low = 0
    if is_far:
        depth = _peel(
            t, bench, rules, copies, forest, room, depth, kids, kids + 1, run, left, unclean,
            unsure, by, where,
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
def _more_off(bench: Bench, along: int, least: int, across: int, spares: int) -> int:
    """Return how much more has to go with an edge so that some device holds what is left.

    Nothing where it is held anyway, or with all that is to spare is not.
    """
    if not has_guide(bench) or tools_for(bench, along, least, across):
        return 0
    more = across - largest_across(bench, along, least)
    return int(more) if 0 < more <= spares else 0


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
    if t[0, NODE_KIND] != ITEM and t[0, NODE_KIND] != STRIP:
        return
    x = Ends(trims[0], trims[1], NONE, int(trims[1] > 0), NONE, NONE)
    y = Ends(trims[2], trims[3], NONE, int(trims[3] > 0), NONE, NONE)
    depth = _hand_on(t, forest, Run(NONE, NONE, NONE, NONE, y), stack, 0, 0, -1, x)
    while depth > 0:
        depth -= 1
        row = stack[depth]
        n, where = row[WHICH], row[WHERE]
        is_panel = t[n, NODE_KIND] == ITEM
        axis = int(t[n, ANGLE])
        if is_panel:
            axis = int(row[ENDS + LOW] + row[ENDS + UNCLEAN] > 0)
        own, other = _ends(row, ENDS * axis), _ends(row, ENDS * (1 - axis))
        along = t[n, EXT + 1 - axis] - kerf + other.low + other.far
        least = along - other.unsure
        if n == 0 and not is_panel and other.low > 0 and rules.whole:
            spares = _slack_across(t, n, 1 - axis)
            more = 0
            child = t[n, FIRST]
            while child >= 0:
                size = int(t[child, EXT + axis] - kerf)
                rest = along - other.low
                more = max(more, _more_off(bench, size, size, rest, spares))
                child = t[child, NEXT]
            across = t[n, EXT + axis] - kerf + own.low + own.far
            off = other.low + more
            where = _cleaning(
                forest, bench, 1 - axis, across, across, along, off, spares - more, where, copies
            )
            along -= off
            least = along - (spares - more)
            other = Ends(
                NONE,
                other.far - more,
                other.flipped,
                other.unclean,
                spares - more,
                where + 1,
            )
        run = Run(axis, along, least, own.flipped, other)
        depth = _divide(t, n, run, own, where, bench, rules, copies, forest, room, depth)
