"""The cuts of sheets, flat: strips with tasks, and how they are added one by one.

A strip is a piece to be divided along an axis. Its tasks are what comes off it, each at a distance;
what is left goes on once all are done. What a piece is beyond its node, where its ends are not
clean, goes along with it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, cast

import numpy as np
from numba import njit

from cutlist.nesting.kernels.bench import guide_for, tools_for
from cutlist.nesting.kernels.nodes import ANGLE, ITEM
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
def open_strip(forest: CutForest, axis: int, flipped: int, where: int, then: int) -> int:
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
def add_task(forest: CutForest, s: int, distance: int, need: int, tools: int, copies: int) -> int:
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
def read_ends(row: Longs, at: int) -> Ends:
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
def clean_ends() -> Ends:
    """Return the ends of a piece that is its node and no more."""
    return Ends(NONE, NONE, NONE, NONE, NONE, NONE)


@njit(cache=True, nogil=True)
def hand_on(
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
def divide_by_guide(
    forest: CutForest, run: Run, where: int, distance: int, carried: int, guide: int, copies: int
) -> int:
    """Open a strip that a guide divides in two; return the task of the one piece.

    ``carried`` is what goes with it that is not clean. What follows the other is hung up at the
    strip, which is the task's owner.
    """
    s = open_strip(forest, run.axis, run.flipped, where, WASTE)
    k = add_task(forest, s, distance + carried, GUIDED, 0, copies)
    forest.tasks[k, BY_GUIDE] = guide
    forest.tasks[k, OFF] = carried
    return k


@njit(cache=True, nogil=True)
def clean_edge(
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
    s = open_strip(forest, axis, 0, where, WASTE)
    if off < bench.kerf:
        # A blade that cuts on one side only is pushed aside: a full kerf goes, if there is so much.
        more = min(bench.kerf - off, spares)
        off, spares = off + more, spares - more
    k = add_task(forest, s, room - off, CLEANING, tools_for(bench, along, least, room), copies)
    forest.tasks[k, OFF] = off
    forest.tasks[k, SPARES] = spares
    forest.tasks[k, BY_GUIDE] = guide_for(bench, along, least, room)
    forest.tasks[k, ROOM] = room
    return k
