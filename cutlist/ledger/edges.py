"""The edges of a piece as the cuts leave them: what has to come off, and where each is from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.model.edges import Edge
from cutlist.model.plan import Direction, Place

if TYPE_CHECKING:
    from cutlist.model.plan import Cut, Piece, Workpiece


class EdgeKind(StrEnum):
    """Where an edge that is not clean comes from, in the words printed; a rack does not tell."""

    FACTORY = "factory"
    ROUGH = "rough"
    STORE_CUT = "store-cut"


@dataclass(frozen=True, slots=True)
class EdgeState:
    """An edge of a piece.

    Parameters
    ----------
    trim
        What has still to come off before it is clean; 0 for a clean edge.
    kind
        What it is as long as it is not clean.
    is_own
        Whether it is still that of the stock as it was bought, or taken off the rack.
    """

    trim: Fraction
    kind: EdgeKind
    is_own: bool = True

    @property
    def is_clean(self) -> bool:
        """Whether nothing has to come off."""
        return self.trim <= 0


#: The state of each edge of a piece.
EdgeStates = Mapping[Edge, EdgeState]

#: The edges that a cut measures between: that at the smaller coordinate first.
ENDS: Final = {
    Direction.RIP: (Edge.LOWER, Edge.UPPER),
    Direction.CROSSCUT: (Edge.LEFT, Edge.RIGHT),
}


def of_stock(workpiece: Workpiece) -> EdgeStates:
    """Give the edges of stock before anything is cut."""
    kind = EdgeKind.FACTORY if workpiece.bought else EdgeKind.ROUGH
    return {
        edge: EdgeState(trim, kind) for edge, trim in zip(Edge, workpiece.trims.each, strict=True)
    }


def of_nothing_known() -> EdgeStates:
    """Give the edges of a piece that comes from no stock of the plan: nothing has to come off."""
    return dict.fromkeys(Edge, EdgeState(Fraction(0), EdgeKind.ROUGH, is_own=False))


def sides(piece: Piece) -> Mapping[Edge, Fraction]:
    """Give the place of each edge."""
    return {
        Edge.LEFT: piece.x,
        Edge.RIGHT: piece.x + piece.length,
        Edge.LOWER: piece.y,
        Edge.UPPER: piece.y + piece.width,
    }


def kept_edges(piece: Piece, cut: Cut) -> tuple[Edge, Edge]:
    """Give the edge of the piece that a cut keeps on ``kept``, and the opposite one."""
    near, far = ENDS[cut.direction]
    is_near = sides(cut.kept)[near] == sides(piece)[near]
    return (near, far) if is_near else (far, near)


def after_cut(
    states: EdgeStates, piece: Piece, made: Piece, cut: Cut, place: Place, accuracy: Fraction
) -> EdgeStates:
    """Give the edges of a piece that a cut makes.

    Parameters
    ----------
    states, piece
        The piece that is cut, and its edges.
    made
        What the cut makes of it: ``kept`` or ``rest``.
    place, accuracy
        Where it is cut, and by how much the store's cuts may be off: at the store the new edge is
        rough by that much; in the shop it is clean, unless less came off than had to.
    """
    near, far = ENDS[cut.direction]
    edges = dict(states)
    for edge, moved in zip((near, far), _moved(piece, made, cut), strict=True):
        if not moved:
            continue
        if place is Place.STORE:
            edges[edge] = EdgeState(accuracy, EdgeKind.STORE_CUT, is_own=False)
            continue
        old = states[edge]
        trim = max(Fraction(0), old.trim - abs(moved)) if old.trim else old.trim
        edges[edge] = EdgeState(trim, old.kind, is_own=False)
    return edges


def _moved(piece: Piece, made: Piece, cut: Cut) -> tuple[Fraction, Fraction]:
    """Give how far the two edges across a cut moved, that at the smaller coordinate first."""
    if cut.direction is Direction.RIP:
        before, size, after, new_size = piece.y, piece.width, made.y, made.width
    else:
        before, size, after, new_size = piece.x, piece.length, made.x, made.length
    shift, growth = after - before, new_size - size
    return shift, shift + growth if shift else growth


def unclean(states: EdgeStates) -> Mapping[Edge, Fraction]:
    """Give what has still to come off the edges that are not clean."""
    return {edge: state.trim for edge, state in states.items() if not state.is_clean}
