"""Strips made a little wider or narrower than their layout says, for the saw's sake.

Where every panel shall be cut to size, a strip that its panels fill to the last hair needs room.
Such a strip lies within another one that fixes its extent. If the strip around that has waste to
spare, the one between is cut a little wide, and everything in it is cut to size afterwards. A full
kerf is left to come off where there is so much: a blade that cuts on one side only is pushed aside
(common practice).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from cutlist.model.edges import ALL_CLEAN, EdgeTrims
from cutlist.model.layout import Axis, Cell, Strip
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.strips import extent, needed, slack_of


def widened(tree: Strip | Cell, sizes: Collection[int], fence: Fence) -> Strip | Cell:
    """Return the tree with strips made wider that hold full strips; panels keep their size.

    Parameters
    ----------
    tree
        A layout's root.
    sizes
        Distances that are set anyway, on the scale: one of them is taken where it serves.
    fence
        The shop.
    """
    if isinstance(tree, Cell):
        return tree
    reach = fence.layout_reach
    spare = slack_of(tree, fence.kerf) - 1
    if reach is not None and any(extent(child, tree.axis) > reach for child in tree.children):
        # Beside a child beyond reach the waste stays as it is.
        spare = 0
    children: list[Strip | Cell] = []
    for child in tree.children:
        more = 0
        if isinstance(child, Strip) and any(_is_full(inner, fence) for inner in child.children):
            more = _more(extent(child, tree.axis), spare, sizes, fence)
            spare -= more
            children.append(widened(_wider(child, tree.axis, more), sizes, fence))
            continue
        children.append(widened(child, sizes, fence))
    return replace(tree, children=tuple(children))


def on_marks(tree: Strip | Cell, fence: Fence, trims: EdgeTrims[int] = ALL_CLEAN) -> Strip | Cell:
    """Return the tree with every strip that is wider than its panels need on a mark.

    Where a layout leaves a strip wider than it need be, no size asks for a distance off the scale.
    Beside a child beyond the fence's reach that holds only where more than a kerf is left, with
    what is still to clean off the far end by the ``trims`` of the piece.
    """
    if isinstance(tree, Cell):
        return tree
    reach, mark = fence.layout_reach, fence.common_mark
    is_long = reach is not None and any(extent(c, tree.axis) > reach for c in tree.children)
    left = slack_of(tree, fence.kerf) + trims.along(tree.axis)[1]
    inside = trims.replaced(tree.axis, (0, 0))
    children: list[Strip | Cell] = []
    for child in tree.children:
        size = extent(child, tree.axis)
        less = size % mark
        spare = size - needed(child, tree.axis, fence.kerf, reach)
        is_free = not is_long or (reach is not None and size <= reach and left + less > fence.kerf)
        if less and less <= spare and is_free:
            child = narrowed(child, tree.axis, less)
            left += less
        children.append(on_marks(child, fence, inside))
    return replace(tree, children=tuple(children))


def narrowed(tree: Strip | Cell, axis: Axis, by: int) -> Strip | Cell:
    """Return a tree with so much of its waste along an axis given up."""
    if not by:
        return tree
    assert isinstance(tree, Strip), "a panel gives nothing up"
    children = tree.children
    if tree.axis is not axis:
        children = tuple(narrowed(child, axis, by) for child in children)
    size = extent(tree, axis) - by
    if axis is Axis.X:
        return replace(tree, length=size, children=children)
    return replace(tree, width=size, children=children)


def _is_full(tree: Strip | Cell, fence: Fence) -> bool:
    return isinstance(tree, Strip) and len(tree.children) > 1 and not slack_of(tree, fence.kerf)


def _more(size: int, spare: int, sizes: Collection[int], fence: Fence) -> int:
    """Return how much wider than ``size`` a strip is cut; 0 where there is not enough to spare."""
    reach = fence.layout_reach
    most = size + spare if reach is None else min(size + spare, reach)
    least = size + max(1, fence.kerf)
    in_use = [distance for distance in sizes if least <= distance <= most]
    distance = min(in_use) if in_use else -(-least // fence.common_mark) * fence.common_mark
    return distance - size if distance <= most else 0


def _wider(strip: Strip, axis: Axis, more: int) -> Strip:
    """Return a strip with a larger extent across its own axis."""
    if not more:
        return strip
    children: list[Strip | Cell] = []
    for child in strip.children:
        length, width = child.length, child.width
        if axis is Axis.X:
            length += more
        else:
            width += more
        if isinstance(child, Cell):
            children.append(Strip(axis, length, width, (child,)))
        else:
            children.append(replace(child, length=length, width=width))
    if axis is Axis.X:
        return replace(strip, length=strip.length + more, children=tuple(children))
    return replace(strip, width=strip.width + more, children=tuple(children))
