"""What is drawn along the edges of a sheet: what comes off them, what bears on the fence."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.primitives import Box, Line
from cutlist.model.edges import Edge

if TYPE_CHECKING:
    from collections.abc import Collection

__all__ = ["BAR_ROOM", "clear_of", "edge_bar", "edge_line"]

#: Width of the bar along an edge, how far its middle lies outside, and the room for both, mm.
_BAR: Final = 1.0
_AWAY: Final = 1.1
BAR_ROOM: Final = _AWAY + _BAR / 2


def edge_line(edge: Edge, box: Box, by: float, width_mm: float) -> Line:
    """Give the chain line that marks what comes off an edge, ``by`` inside of it on paper."""
    return _along(edge, box, box.inset(by), width_mm, theme.CHAIN)


def edge_bar(edge: Edge, box: Box) -> Line:
    """Give the heavy bar beside the edge that bears on a fence or a stop."""
    return _along(edge, box, box.inset(-_AWAY), _BAR, ())


def clear_of(edges: Collection[Edge], box: Box, by: float) -> Box:
    """Give what lies clear of the lines along some edges."""
    left, right, upper, lower = (
        by if edge in edges else 0.0 for edge in (Edge.LEFT, Edge.RIGHT, Edge.UPPER, Edge.LOWER)
    )
    return Box(box.x + left, box.y + upper, box.width - left - right, box.height - upper - lower)


def _along(edge: Edge, box: Box, at: Box, width_mm: float, dash_mm: tuple[float, ...]) -> Line:
    ends = {
        Edge.LEFT: (at.x, box.y, at.x, box.bottom),
        Edge.RIGHT: (at.right, box.y, at.right, box.bottom),
        Edge.LOWER: (box.x, at.bottom, box.right, at.bottom),
        Edge.UPPER: (box.x, at.y, box.right, at.y),
    }
    return Line(*ends[edge], width_mm, dash_mm)
