"""Layouts from the search's node tables: tight trees of strips and cells in one fixed order."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.kernels.nodes import ANGLE, BIN, EXT, FIRST, ITEM, KIND, NEXT, TOP
from cutlist.nesting.layouts.reach import is_reachable

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from cutlist.nesting.kernels.state import State
    from cutlist.nesting.problem import Problem

_AXES = (Axis.X, Axis.Y)


def extent(node: Strip | Cell, axis: Axis) -> int:
    """Return the extent of a node along an axis."""
    return node.length if axis is Axis.X else node.width


def other(axis: Axis) -> Axis:
    """Return the other axis."""
    return Axis.Y if axis is Axis.X else Axis.X


def cells(node: Strip | Cell) -> list[Cell]:
    """Return the panels below a node."""
    if isinstance(node, Cell):
        return [node]
    return [cell for child in node.children for cell in cells(child)]


def distances(layouts: Iterable[Layout]) -> set[int]:
    """Return the distinct distances at which the layouts are cut."""
    found = set[int]()
    nodes = [layout.root for layout in layouts]
    while nodes:
        node = nodes.pop()
        if isinstance(node, Strip):
            nodes.extend(node.children)
            sizes = {extent(child, node.axis) for child in node.children}
            if len(node.children) > 1 or extent(node, node.axis) not in sizes:
                found |= sizes
    return found


def leftovers(node: Strip | Cell, kerf: int) -> list[tuple[int, int]]:
    """Return length and width of what is left over in each strip."""
    if isinstance(node, Cell):
        return []
    left = extent(node, node.axis) - _total(node.children, node.axis, kerf) - kerf
    found = [piece for child in node.children for piece in leftovers(child, kerf)]
    if left > 0:
        found.append((left, node.width) if node.axis is Axis.X else (node.length, left))
    return found


def cuts_of(node: Strip | Cell, kerf: int) -> int:
    """Return how many cuts a tree takes: one for each child, unless the last is the remainder."""
    if isinstance(node, Cell):
        return 0
    spare = extent(node, node.axis) == _total(node.children, node.axis, kerf)
    return len(node.children) - spare + sum(cuts_of(child, kerf) for child in node.children)


def gathered(layouts: Iterable[Layout], kerf: int) -> int:
    """Return how well what is left over is gathered: the sum of the squared offcut areas."""
    return sum(
        layout.copies * (length * width) ** 2
        for layout in layouts
        for length, width in leftovers(layout.root, kerf)
    )


def merged(layouts: Sequence[Layout]) -> tuple[Layout, ...]:
    """Return the layouts with equal ones merged into copies, in order of first appearance."""
    copies = Counter[tuple[int, Strip | Cell]]()
    for layout in layouts:
        copies[layout.stock, layout.root] += layout.copies
    return tuple(Layout(stock, root, count) for (stock, root), count in copies.items())


def layouts_of(problem: Problem, state: State) -> tuple[Layout, ...]:
    """Return what lies on the open sheets of a search, equal layouts merged."""
    drawn = list[Layout]()
    for slot in range(len(state.meta)):
        if state.meta[slot, BIN] >= 0:
            which = int(state.meta[slot, BIN])
            table = [[int(x) for x in row] for row in state.tree[slot, : state.meta[slot, TOP]]]
            drawn.append(layout_from(problem, which, _node(table, 0, problem.kerf)))
    return merged(drawn)


def loose_layout(problem: Problem, state: State, slot: int) -> Layout:
    """Return what lies on one open sheet of a search, its strips as wide as they were made."""
    table = [[int(x) for x in row] for row in state.tree[slot, : state.meta[slot, TOP]]]
    return Layout(int(state.meta[slot, BIN]), ordered(_node(table, 0, problem.kerf)))


def layout_from(problem: Problem, which: int, loose: Strip | Cell) -> Layout:
    """Return a tree as a layout of bin ``which``, tightened unless that breaks the reach."""
    stock = problem.bins[which]
    tight = Layout(which, ordered(tightened(loose, stock.length, stock.width, problem.kerf)))
    if problem.reach is None or is_reachable(problem, tight):
        return tight
    return Layout(which, ordered(loose))


def _node(table: list[list[int]], n: int, kerf: int) -> Strip | Cell:
    row = table[n]
    length, width = row[EXT] - kerf, row[EXT + 1] - kerf
    if row[KIND] == ITEM:
        return Cell(row[ANGLE], length, width)
    children = []
    child = row[FIRST]
    while child >= 0:
        children.append(_node(table, child, kerf))
        child = table[child][NEXT]
    return Strip(_AXES[row[ANGLE]], length, width, tuple(children))


def _total(children: Sequence[Strip | Cell], axis: Axis, kerf: int) -> int:
    return sum(extent(child, axis) + kerf for child in children) - kerf


def _strip(axis: Axis, along: int, across: int, children: Sequence[Strip | Cell]) -> Strip:
    length, width = (along, across) if axis is Axis.X else (across, along)
    return Strip(axis, length, width, tuple(children))


def tightened(root: Strip | Cell, length: int, width: int, kerf: int) -> Strip | Cell:
    """Return the tree on a region with every strip only as broad as its panels need.

    The room won joins what is left over in the strip around it. On the region itself the cut that
    leaves the better gathered offcuts comes first.
    """
    small = _shrunk(root, kerf)
    if (small.length, small.width) == (length, width) and isinstance(small, Cell):
        return small
    tries = list[Strip]()
    for axis in _AXES:
        along, across = (length, width) if axis is Axis.X else (width, length)
        if isinstance(small, Strip) and small.axis is axis:
            tries.append(_stretched(small, along, across))
        elif extent(small, axis) < along:
            tries.append(_stretched(_strip(axis, 0, 0, [small]), along, across))
    return max(tries, key=lambda t: sum((a * b) ** 2 for a, b in leftovers(t, kerf)))


def _shrunk(node: Strip | Cell, kerf: int) -> Strip | Cell:
    """Return the tree with least extents, children not yet flush across; no strip of one child."""
    if isinstance(node, Cell):
        return node
    children = [_shrunk(child, kerf) for child in node.children]
    if len(children) == 1:
        return children[0]
    across = max(extent(child, other(node.axis)) for child in children)
    return _strip(node.axis, _total(children, node.axis, kerf), across, children)


def _stretched(strip: Strip, along: int, across: int) -> Strip:
    """Return the strip at the given extents, its children flush across."""
    axis = strip.axis
    flush = list[Strip | Cell]()
    for child in strip.children:
        size, breadth = extent(child, axis), extent(child, other(axis))
        if isinstance(child, Strip) and child.axis is not axis:
            flush.append(_stretched(child, across, size))
        elif isinstance(child, Strip) and breadth == across:
            flush.extend(_stretched(child, size, across).children)
        else:
            inner = child if isinstance(child, Cell) else _stretched(child, size, breadth)
            flush.append(inner if breadth == across else _strip(other(axis), across, size, [inner]))
    return _strip(axis, along, across, flush)


def ordered(node: Strip | Cell) -> Strip | Cell:
    """Return the tree with the children of every strip in one fixed order, longest first."""
    return _ordered(node)[0]


def _ordered(node: Strip | Cell) -> tuple[Strip | Cell, tuple[object, ...]]:
    if isinstance(node, Cell):
        return node, (0, node.part, node.length, node.width)
    pairs = [_ordered(child) for child in node.children]
    pairs.sort(key=lambda pair: (-extent(pair[0], node.axis), pair[1]))
    strip = Strip(node.axis, node.length, node.width, tuple(child for child, _ in pairs))
    return strip, (1, node.axis, node.length, node.width, *(key for _, key in pairs))
