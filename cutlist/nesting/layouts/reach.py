"""Whether a layout can be cut with a fence that reaches only so far."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.model.layout import Axis, Cell, Layout, Strip

if TYPE_CHECKING:
    from cutlist.nesting.problem import Bin, Item, Problem


def is_reachable(problem: Problem, layout: Layout) -> bool:
    """Say whether every cut of a layout keeps a side within reach against the fence.

    In a strip, at most one child may be longer than the reach along the strip's axis. What is left
    over of such a strip, and its margins, must be nothing or wider than a kerf: a narrower rest
    cannot lie against the fence, and the other side is beyond reach.
    """
    if problem.reach is None:
        return True
    trim = problem.bins[layout.stock].trim
    return _holds(layout.root, problem.kerf, problem.reach, trim, trim)


def _holds(node: Strip | Cell, kerf: int, reach: int, trim_x: int, trim_y: int) -> bool:
    """Check a node whose both ends along each axis still carry the given margins."""
    if isinstance(node, Cell):
        bare_x = node.length > reach and 0 < trim_x <= kerf
        bare_y = node.width > reach and 0 < trim_y <= kerf
        return not bare_x and not bare_y
    along = node.axis is Axis.X
    trim = trim_x if along else trim_y
    sizes = [child.length if along else child.width for child in node.children]
    left = (node.length if along else node.width) - sum(sizes) - kerf * (len(sizes) - 1) + trim
    beyond = sum(size > reach for size in sizes)
    if beyond > 1 or (beyond == 1 and (0 < trim <= kerf or 0 < left <= kerf)):
        return False
    below_x, below_y = (0, trim_y) if along else (trim_x, 0)
    return all(_holds(child, kerf, reach, below_x, below_y) for child in node.children)


def fits(problem: Problem, item: Item, stock: Bin) -> bool:
    """Say whether one panel can be cut from one piece of stock at all."""
    sizes = [(item.length, item.width)]
    if item.turnable:
        sizes.append((item.width, item.length))
    return any(
        _fits_along(problem, length, stock.length, stock.trim)
        and _fits_along(problem, width, stock.width, stock.trim)
        for length, width in sizes
    )


def _fits_along(problem: Problem, size: int, room: int, trim: int) -> bool:
    if size > room:
        return False
    if problem.reach is None or size <= problem.reach:
        return True
    return not (0 < trim <= problem.kerf or 0 < room - size + trim <= problem.kerf)
