"""Which edges of stock, and of what is left of it, are to be cleaned off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.drawing import theme
from cutlist.drawing.primitives import Line
from cutlist.ledger.edges import unclean
from cutlist.model.edges import Edge
from cutlist.telling.wording import length_words

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.drawing.primitives import Box
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.job import Job
    from cutlist.model.plan import Piece, Workpiece

__all__ = ["edge_line", "trim_words", "unclean_words"]


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


def unclean_words(story: Ledger, piece: Piece) -> str:
    """Name the edges of a piece from which something has to come off; empty where all are clean.

    They are the sheet's own where it has a trim, and those that the store cut, as the layout shows
    them.
    """
    edges = tuple(unclean(story.entries[piece.name].edges))
    return "all" if len(edges) == len(Edge) else ", ".join(edges)
