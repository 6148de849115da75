"""Which edges of a piece are still those of its sheet, where the sheet's are to be cleaned off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.drawing import theme
from cutlist.drawing.primitives import Line
from cutlist.drawing.wording import length_words
from cutlist.model.edges import Edge

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.drawing.primitives import Box
    from cutlist.drawing.story import Story
    from cutlist.model.job import Job
    from cutlist.model.plan import Piece, Workpiece

__all__ = ["edge_line", "factory_edges", "factory_words", "trim_words"]


def factory_edges(story: Story, piece: Piece) -> tuple[Edge, ...]:
    """Give the edges on the border of the stock from which something has to come off."""
    stock = story.stock_of[piece.name]
    unclean = stock.trims.unclean
    on_border = {
        Edge.LEFT: piece.x == 0,
        Edge.RIGHT: piece.x + piece.length == stock.length,
        Edge.LOWER: piece.y == 0,
        Edge.UPPER: piece.y + piece.width == stock.width,
    }
    return tuple(edge for edge in Edge if on_border[edge] and edge in unclean)


def edge_line(edge: Edge, box: Box, by: float, width_mm: float) -> Line:
    """Give the chain line that marks what comes off an edge, ``by`` inside of it on paper."""
    inner = box.inset(by)
    ends = {
        Edge.LEFT: (inner.x, box.y, inner.x, box.bottom),
        Edge.RIGHT: (inner.right, box.y, inner.right, box.bottom),
        Edge.LOWER: (box.x, inner.bottom, box.right, inner.bottom),
        Edge.UPPER: (box.x, inner.y, box.right, inner.y),
    }
    return Line(*ends[edge], width_mm, theme.CHAIN)


def trim_words(stock: Workpiece, job: Job) -> str:
    """Say what comes off which edges of stock, as ``1/4"``, or ``1/4": left, lower; 1/8": upper``.

    Empty where all are clean.
    """
    by_trim: dict[Fraction, list[str]] = {}
    for edge, trim in stock.trims.unclean.items():
        by_trim.setdefault(trim, []).append(edge)
    groups = [(length_words(trim, job), edges) for trim, edges in by_trim.items()]
    if len(groups) == 1 and len(groups[0][1]) == len(Edge):
        return groups[0][0]
    return "; ".join(f"{words}: {', '.join(edges)}" for words, edges in groups)


def factory_words(story: Story, piece: Piece) -> str:
    """Name a piece's factory edges as the layout shows them; empty where there is none."""
    edges = factory_edges(story, piece)
    return "all" if len(edges) == len(Edge) else ", ".join(edges)
