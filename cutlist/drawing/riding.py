"""Which edge of a piece lies at the fence or the stop, in words where it matters.

It matters where more has to come off one of the two edges than off the other: a piece turned about
would ride the fence on its rough edge, or lose the wrong one.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.drawing.devices import Device, device_of
from cutlist.model.edges import Edge
from cutlist.model.plan import Direction, Place

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cutlist.drawing.story import Story
    from cutlist.model.plan import Cut, Piece, Setting

__all__ = ["riding_words", "to_come_off"]

_WORDS: Final = {
    Device.FENCE: "{} to the fence",
    Device.STOP: "{} to the stop",
    Device.GUIDE: "from the {}",
}
_NAMES: Final = {
    Edge.LEFT: "left end",
    Edge.RIGHT: "right end",
    Edge.LOWER: "lower edge",
    Edge.UPPER: "upper edge",
}


def riding_words(story: Story, setting: Setting, cut: Cut) -> str:
    """Say which edge the distance begins at; empty where the opposite one is just like it."""
    if setting.place is Place.STORE:
        return ""
    piece = story.pieces[cut.piece]
    if cut.direction is Direction.RIP:
        both = (Edge.LOWER, Edge.UPPER)
        at = both[0] if cut.kept.y == piece.y else both[1]
    else:
        both = (Edge.LEFT, Edge.RIGHT)
        at = both[0] if cut.kept.x == piece.x else both[1]
    rough = to_come_off(story, piece)
    if rough.get(both[0]) == rough.get(both[1]):
        return ""
    edge = f"{_kind(story, piece, at) if at in rough else 'clean'} {_NAMES[at]}"
    return _WORDS[device_of(story, setting, cut)].format(edge)


def to_come_off(story: Story, piece: Piece) -> Mapping[Edge, Fraction]:
    """Say how much has still to come off the edges that are not clean, the stock's and the store's.

    Without an entry an edge is clean.
    """
    stock, store = story.stock_of[piece.name], story.plan.job.store
    accuracy = store.accuracy if store is not None else Fraction(0)
    whole, blank = _origin(story, piece)
    here = _sides(piece)
    trims = stock.trims.unclean
    left = {}
    for edge in Edge:
        needed = trims.get(edge, Fraction(0)) if blank[edge] == whole[edge] else accuracy
        left[edge] = needed - abs(here[edge] - blank[edge])
    return {edge: amount for edge, amount in left.items() if amount > 0}


def _kind(story: Story, piece: Piece, edge: Edge) -> str:
    """Say where an edge that is not clean comes from; the rack does not tell."""
    whole, blank = _origin(story, piece)
    if blank[edge] != whole[edge]:
        return "store-cut"
    return "factory" if story.stock_of[piece.name].bought else "rough"


def _origin(story: Story, piece: Piece) -> tuple[Mapping[Edge, Fraction], Mapping[Edge, Fraction]]:
    """Give the sides of the stock, and of the blank that the store cut from it, if any."""
    stock = story.stock_of[piece.name]
    whole = story.pieces[stock.piece]
    blank = next((one for one in story.blanks(stock.piece) if _inside(one, piece)), whole)
    return _sides(whole), _sides(blank)


def _sides(piece: Piece) -> Mapping[Edge, Fraction]:
    """Give the place of each edge."""
    return {
        Edge.LEFT: piece.x,
        Edge.RIGHT: piece.x + piece.length,
        Edge.LOWER: piece.y,
        Edge.UPPER: piece.y + piece.width,
    }


def _inside(whole: Piece, piece: Piece) -> bool:
    """Tell whether a piece lies within another."""
    return (
        whole.x <= piece.x
        and whole.y <= piece.y
        and piece.x + piece.length <= whole.x + whole.length
        and piece.y + piece.width <= whole.y + whole.width
    )
