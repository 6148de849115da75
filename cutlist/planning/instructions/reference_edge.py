"""Which edge of a piece lies at the fence or the stop, in words where it matters.

It matters where more has to come off one of the two edges than off the other: a piece turned about
would ride the fence on its rough edge, or lose the wrong one.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.model.edges import Edge
from cutlist.model.plan import Direction, Place, Purpose
from cutlist.planning.instructions.devices import Device, device_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cutlist.ledger.lineage import Story
    from cutlist.model.plan import Cut, Piece, Setting

__all__ = ["riding_words", "rough_words", "takes_words", "to_come_off"]

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
    """Say which edge the distance begins at; empty where the opposite one is just like it.

    An oversize piece keeps the edge that it lies with, to be cleaned off later: that one is named
    in any case.
    """
    if setting.place is Place.STORE:
        return ""
    piece = story.pieces[cut.piece]
    at, opposite = _edges(piece, cut)
    rough = to_come_off(story, piece)
    stays_rough = cut.purpose is Purpose.ROUGH and at in rough
    if rough.get(at) == rough.get(opposite) and not stays_rough:
        return ""
    edge = f"{_kind(story, piece, at) if at in rough else 'clean'} {_NAMES[at]}"
    return _WORDS[device_of(story, setting, cut)].format(edge)


def rough_words(story: Story, cut: Cut, size: str) -> str:
    """Say how a panel that the cut leaves gets its ``size`` where the distance cannot give it.

    The distance begins at an edge that is not clean, and may be off by as much as that edge is, or
    at one of a sheet's own, whose size is never quite that of the list: so the size is marked from
    the opposite edge, unless what comes off needs its own size too. Empty where the cut leaves no
    panel of its own size, or where the piece is cut on all sides as it should be.
    """
    piece = story.pieces[cut.piece]
    at, opposite = _edges(piece, cut)
    if not story.sizes_panels(cut):
        return ""
    rough = to_come_off(story, piece)
    if at in rough:
        why = f"its {_NAMES[at]} is {_kind(story, piece, at)}, not true"
    elif _is_sheets_own(story, piece, at) and not story.leaves_panels(cut, cut.kept):
        why = "sheets differ in size"
    else:
        return ""
    end = _NAMES[opposite] if opposite in rough else f"clean {_NAMES[opposite]}"
    return f"{why}: mark {size} from the {end} and cut to the mark"


def _is_sheets_own(story: Story, piece: Piece, edge: Edge) -> bool:
    """Tell whether an edge is still that of a sheet as it was bought."""
    stock = story.stock_of[piece.name]
    return stock.bought and _sides(piece)[edge] == _sides(story.pieces[stock.piece])[edge]


def takes_words(story: Story, cut: Cut) -> str:
    """Say which edge a clean-up cut takes off; empty for any other cut."""
    if cut.purpose is not Purpose.CLEAN_UP:
        return ""
    at, opposite = _edges(story.pieces[cut.piece], cut)
    useful = {*story.divided_by, *story.panel_of}
    is_rest_strip = cut.rest is None or (cut.kept.name in useful and cut.rest.name not in useful)
    if cut.kept.name in useful and not is_rest_strip:
        # Both go on: the strip is the piece whose far edge is not clean.
        is_rest_strip = at not in to_come_off(story, story.pieces[cut.piece])
    return f"takes its {_NAMES[opposite if is_rest_strip else at]} off"


def _edges(piece: Piece, cut: Cut) -> tuple[Edge, Edge]:
    """Give the edge that the distance of a cut begins at, and the opposite one."""
    if cut.direction is Direction.RIP:
        near, far, is_near = Edge.LOWER, Edge.UPPER, cut.kept.y == piece.y
    else:
        near, far, is_near = Edge.LEFT, Edge.RIGHT, cut.kept.x == piece.x
    return (near, far) if is_near else (far, near)


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
