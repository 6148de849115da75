"""Which edges of a piece are still those of its sheet, where the sheet's are to be cleaned off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.model.rack import Edge

if TYPE_CHECKING:
    from cutlist.drawing.story import Story
    from cutlist.model.plan import Piece

__all__ = ["factory_edges", "factory_words"]


def factory_edges(story: Story, piece: Piece) -> tuple[Edge, ...]:
    """Give the edges on the border of the stock; none where the stock has no trim.

    Stock from the rack may have clean edges; the rack says which are not.
    """
    stock = story.stock_of[piece.name]
    if not stock.trim:
        return ()
    on_border = {
        Edge.LEFT: piece.x == 0,
        Edge.RIGHT: piece.x + piece.length == stock.length,
        Edge.LOWER: piece.y == 0,
        Edge.UPPER: piece.y + piece.width == stock.width,
    }
    rack = story.plan.job.rack
    known = None
    if rack is not None and not stock.bought:
        known = next((one.edges for one in rack.offcuts if one.name == stock.stock), None)
    unclean = tuple(Edge) if known is None else known
    return tuple(edge for edge in Edge if on_border[edge] and edge in unclean)


def factory_words(story: Story, piece: Piece) -> str:
    """Name a piece's factory edges as the layout shows them; empty where there is none."""
    edges = factory_edges(story, piece)
    return "all" if len(edges) == len(Edge) else ", ".join(edges)
