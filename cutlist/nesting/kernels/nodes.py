"""Cut trees in flat arrays: nodes are made, filled and lifted inside compiled kernels.

A sheet is a table ``t[node, field]`` of int32. A node is free (nothing on it), an item (a panel) or
a strip: children along one axis in a linked list, and at most one free node for all that is left
over, since the order of children carries no meaning. Node 0 is the root. Extents include one kerf
each, which turns kerf into plain packing. ``m`` is the sheet's row of ``meta``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from numba import njit

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import Ints, Longs

# Fields of a node. ANGLE is the axis of a strip (0: x, 1: y), or the type of an item.
KIND, ANGLE, EXT, PARENT, FIRST, NEXT, PREV, FREE = 0, 1, 2, 4, 5, 6, 7, 8
FIELDS = 9
UNUSED, BLANK, ITEM, STRIP = -1, 0, 1, 2

# Columns of a sheet's row of ``meta``: bin (-1: closed), nodes ever used, head of the list of
# released nodes, nodes in use.
BIN, TOP, HEAD, USED = 0, 1, 2, 3
METAS = 4
NODES_A_PANEL = 4  # a placement makes at most so many


@njit(cache=True, nogil=True)
def copy_row(target: Longs | Ints, source: Longs | Ints, count: int) -> None:
    """Copy the first entries; assigning slices would compile three times as long."""
    for i in range(count):
        target[i] = source[i]


@njit(cache=True, nogil=True)
def copy_table(target: Longs | Ints, source: Longs | Ints, rows: int) -> None:
    """Copy the first rows."""
    for i in range(rows):
        for j in range(source.shape[1]):
            target[i, j] = source[i, j]


@njit(cache=True, nogil=True)
def clear(t: Ints, m: Longs, which: int, dx: int, dy: int) -> None:
    """Open the sheet as one free node of ``dx`` by ``dy`` cut from bin ``which``."""
    t[0, KIND] = BLANK
    t[0, EXT] = dx
    t[0, EXT + 1] = dy
    t[0, PARENT] = -1
    t[0, FIRST] = -1
    t[0, NEXT] = -1
    t[0, PREV] = -1
    t[0, FREE] = -1
    m[BIN] = which
    m[TOP] = 1
    m[HEAD] = -1
    m[USED] = 1


@njit(cache=True, nogil=True)
def _new(t: Ints, m: Longs, like: int, parent: int) -> int:
    """Return a fresh node with the extents of ``like``."""
    n = int(m[HEAD])
    if n >= 0:
        m[HEAD] = t[n, NEXT]
    else:
        n = int(m[TOP])
        m[TOP] = n + 1
    m[USED] += 1
    t[n, EXT] = t[like, EXT]
    t[n, EXT + 1] = t[like, EXT + 1]
    t[n, PARENT] = parent
    t[n, FIRST] = -1
    t[n, NEXT] = -1
    t[n, PREV] = -1
    t[n, FREE] = -1
    return n


@njit(cache=True, nogil=True)
def _release(t: Ints, m: Longs, n: int) -> None:
    """Give the node back."""
    t[n, KIND] = UNUSED
    t[n, NEXT] = m[HEAD]
    m[HEAD] = n
    m[USED] -= 1


@njit(cache=True, nogil=True)
def _link(t: Ints, p: int, n: int) -> None:
    """Put ``n`` in front of the children of ``p``."""
    first = t[p, FIRST]
    t[n, NEXT] = first
    t[n, PREV] = -1
    if first >= 0:
        t[first, PREV] = n
    t[p, FIRST] = n


@njit(cache=True, nogil=True)
def _unlink(t: Ints, p: int, n: int) -> None:
    """Take ``n`` out of the children of ``p``."""
    after = t[n, NEXT]
    before = t[n, PREV]
    if before >= 0:
        t[before, NEXT] = after
    else:
        t[p, FIRST] = after
    if after >= 0:
        t[after, PREV] = before


@njit(cache=True, nogil=True)
def lift(t: Ints, m: Longs, node: int, lifted: Ints, count: int, stack: Ints) -> int:
    """Free the node: its panels are appended to ``lifted``, its room joins its neighbours'.

    Returns the new count of lifted panels.
    """
    depth = 1
    stack[0] = node
    while depth > 0:
        depth -= 1
        n = stack[depth]
        if t[n, KIND] == ITEM:
            lifted[count] = t[n, ANGLE]
            count += 1
        elif t[n, KIND] == STRIP:
            child = t[n, FIRST]
            while child >= 0:
                stack[depth] = child
                depth += 1
                child = t[child, NEXT]
            if t[n, FREE] >= 0:
                _release(t, m, t[n, FREE])
        if n != node:
            _release(t, m, n)
    t[node, FIRST] = -1
    t[node, FREE] = -1
    t[node, KIND] = BLANK
    while t[node, PARENT] >= 0:
        p = t[node, PARENT]
        _unlink(t, p, node)
        free = t[p, FREE]
        along = EXT + t[p, ANGLE]
        if free >= 0:
            t[node, along] += t[free, along]
            _release(t, m, free)
        t[p, FREE] = node
        if t[p, FIRST] >= 0:
            break
        _release(t, m, node)
        t[p, KIND] = BLANK
        t[p, FREE] = -1
        node = p
    return count


@njit(cache=True, nogil=True)
def _fill(t: Ints, p: int, n: int) -> None:
    """Turn the free node ``n`` of ``p`` into a child."""
    if p >= 0:
        t[p, FREE] = -1
        _link(t, p, n)


@njit(cache=True, nogil=True)
def place(t: Ints, m: Longs, f: int, kind: int, dx: int, dy: int, split: int, rest: Ints) -> int:
    """Put a panel of type ``kind`` and extents ``dx``, ``dy`` on the free node ``f``.

    ``split`` is the axis of the first cut. The free nodes left are written to ``rest``; their
    number is returned.
    """
    ex = t[f, EXT]
    ey = t[f, EXT + 1]
    p = t[f, PARENT]
    if dx == ex and dy == ey:
        _fill(t, p, f)
        t[f, KIND] = ITEM
        t[f, ANGLE] = kind
        return 0
    if dx == ex:
        split = 1
    elif dy == ey:
        split = 0
    first, second = (dx, dy) if split == 0 else (dy, dx)
    along = EXT + split
    across = EXT + 1 - split
    if p >= 0 and t[p, ANGLE] == split:
        child = _new(t, m, f, p)
        _link(t, p, child)
        t[f, along] -= first
        rest[0] = f
    else:
        _fill(t, p, f)
        t[f, KIND] = STRIP
        t[f, ANGLE] = split
        t[f, FIRST] = -1
        child = _new(t, m, f, f)
        _link(t, f, child)
        left = _new(t, m, f, f)
        t[left, KIND] = BLANK
        t[left, along] -= first
        t[f, FREE] = left
        rest[0] = left
    t[child, along] = first
    if second == t[child, across]:
        t[child, KIND] = ITEM
        t[child, ANGLE] = kind
        return 1
    t[child, KIND] = STRIP
    t[child, ANGLE] = 1 - split
    left = _new(t, m, child, child)
    t[left, KIND] = BLANK
    t[left, across] -= second
    t[child, FREE] = left
    panel = _new(t, m, child, child)
    t[panel, across] = second
    t[panel, KIND] = ITEM
    t[panel, ANGLE] = kind
    _link(t, child, panel)
    rest[1] = left
    return 2


@njit(cache=True, nogil=True)
def slack(t: Ints, n: int, axis: int) -> int:
    """Return by how much the node may shrink along an axis: waste along its whole far edge."""
    if t[n, KIND] != STRIP:
        return 0
    if t[n, ANGLE] == axis:
        return int(t[t[n, FREE], EXT + axis]) if t[n, FREE] >= 0 else 0
    least = int(t[n, EXT + axis])
    child = t[n, FIRST]
    while child >= 0:
        free = t[child, FREE] if t[child, KIND] == STRIP else -1
        least = min(least, int(t[free, EXT + axis]) if free >= 0 else 0)
        child = t[child, NEXT]
    return least


@njit(cache=True, nogil=True)
def tighten(t: Ints, m: Longs, n: int) -> None:
    """Shrink a strip by its slack along its parent's axis; the room goes to the parent's leftover.

    The sheet's table has room for one node more.
    """
    p = t[n, PARENT]
    axis = t[p, ANGLE]
    along = EXT + axis
    by = slack(t, n, axis)
    child = t[n, FIRST]
    while child >= 0:
        free = t[child, FREE]
        t[child, along] -= by
        t[free, along] -= by
        if t[free, along] == 0:
            _release(t, m, free)
            t[child, FREE] = -1
        child = t[child, NEXT]
    t[n, along] -= by
    if t[n, FREE] >= 0:
        t[t[n, FREE], along] -= by
    if t[p, FREE] >= 0:
        t[t[p, FREE], along] += by
        return
    left = _new(t, m, p, p)
    t[left, KIND] = BLANK
    t[left, along] = by
    t[p, FREE] = left
