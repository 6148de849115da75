"""Which edge a cut is measured from, which one it takes off, and which sizes are to be checked."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.ledger.edges import kept_edges
from cutlist.model.plan import Direction, Place, Purpose
from cutlist.model.sawing import SizeCheck, SizeDoubt

if TYPE_CHECKING:
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.edges import Edge
    from cutlist.model.plan import Cut


def riding_edge(ledger: Ledger, cut: Cut) -> Edge:
    """Give the edge of the piece that the distance of a cut begins at."""
    return kept_edges(ledger.pieces[cut.piece], cut)[0]


def edge_off(ledger: Ledger, cut: Cut) -> Edge | None:
    """Give the edge that a clean-up cut takes off; None for any other cut."""
    if cut.purpose is not Purpose.CLEAN_UP:
        return None
    entry = ledger.entries[cut.piece]
    at, opposite = kept_edges(entry.piece, cut)
    if cut.rest is None:
        return opposite
    is_kept_used, is_rest_used = (ledger.is_used(piece.name) for piece in (cut.kept, cut.rest))
    if is_kept_used and is_rest_used:
        # The strip is the piece whose far edge is not clean.
        return opposite if entry.edges[at].is_clean else at
    if not is_kept_used and not is_rest_used:
        # Both are left over: the strip is the smaller.
        is_kept_used = cut.rest.length * cut.rest.width <= cut.kept.length * cut.kept.width
    return opposite if is_kept_used else at


def size_check(ledger: Ledger, cut: Cut, place: Place) -> SizeCheck | None:
    """Say how a panel gets its size that is what the cut leaves; None where it leaves none.

    The distance may begin at an edge that is not clean, and may be off by as much as that edge is,
    or at one of a sheet's own, whose size is never quite that of the list: then the size is marked
    from the opposite edge, unless what comes off needs its own size too.
    """
    if place is Place.STORE or cut.rest is None or not ledger.sizes_panels(cut):
        return None
    entry = ledger.entries[cut.piece]
    at, opposite = kept_edges(entry.piece, cut)
    size = cut.rest.width if cut.direction is Direction.RIP else cut.rest.length
    if not entry.edges[at].is_clean:
        return SizeCheck(size, SizeDoubt.EDGE_NOT_TRUE, opposite)
    is_sheets_own = entry.edges[at].is_own and entry.stock is not None and entry.stock.bought
    if is_sheets_own and not ledger.leaves_panels(cut, cut.kept):
        return SizeCheck(size, SizeDoubt.SHEETS_DIFFER, opposite)
    return SizeCheck(size, SizeDoubt.REMAINDER)
