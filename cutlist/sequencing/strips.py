"""Sizes along a strip, as every part of the sequencing measures them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cutlist.model.layout import Axis, Cell, Layout, Strip


def extent(tree: Strip | Cell, axis: Axis) -> int:
    """Return the size of a tree along an axis."""
    return tree.length if axis is Axis.X else tree.width


def slack_of(strip: Strip, kerf: int) -> int:
    """Return what a strip has left along its axis, its children and a kerf between each two off."""
    used = sum(extent(child, strip.axis) for child in strip.children)
    return extent(strip, strip.axis) - used - (len(strip.children) - 1) * kerf


def needed(tree: Strip | Cell, axis: Axis, kerf: int, reach: int | None) -> int:
    """Return the least extent along an axis that holds the panels of a tree.

    Beside a child beyond the fence's reach nothing is given up: what is left there has to be
    nothing or more than a kerf, as the layout leaves it.
    """
    size = extent(tree, axis)
    if isinstance(tree, Cell) or (
        tree.axis is axis
        and reach is not None
        and any(extent(child, axis) > reach for child in tree.children)
    ):
        return size
    if tree.axis is axis:
        return size - slack_of(tree, kerf)
    return max(needed(child, axis, kerf, reach) for child in tree.children)


def strips_of(layout: Layout) -> Iterator[Strip]:
    """Yield every strip of a layout."""
    waiting = [layout.root]
    while waiting:
        tree = waiting.pop()
        if isinstance(tree, Strip):
            yield tree
            waiting.extend(tree.children)


def sizes_on_mark(layouts: Iterable[Layout], mark: int) -> set[int]:
    """Return the sizes of all strips' children along their strips that lie on a mark."""
    return {
        size
        for layout in layouts
        for strip in strips_of(layout)
        for child in strip.children
        if (size := extent(child, strip.axis)) % mark == 0
    }
