"""Unclean edges followed cut by cut in another way than the ledger does, to hold it against."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from cutlist.ledger.edges import unclean
from cutlist.ledger.ledger import read_ledger
from cutlist.model.edges import Edge
from cutlist.model.plan import Cut, Direction, Place, Plan

#: For each edge of a piece that is not clean, what has to come off it, in the job's unit.
Unclean = Mapping[Edge, Fraction]

#: The edges on either side of a cut: that of the piece nearer to the origin, then the other's.
_FACING: Final = {
    Direction.RIP: (Edge.UPPER, Edge.LOWER),
    Direction.CROSSCUT: (Edge.RIGHT, Edge.LEFT),
}


def edges_of(plan: Plan) -> dict[str, Unclean]:
    """Give the unclean edges of each piece by its name, as the ledger has them."""
    return {name: unclean(entry.edges) for name, entry in read_ledger(plan).entries.items()}


def followed_edges(plan: Plan) -> dict[str, Unclean]:
    """Follow every cut and give the unclean edges of each piece there is at any time, by its name.

    The stock brings those that are told of it. A cut makes a clean edge on either side, or at the
    store one that is rough by the store's accuracy.
    """
    rough = Fraction(0) if plan.job.store is None else plan.job.store.accuracy
    edges: dict[str, Unclean] = {one.piece: one.trims.unclean for one in plan.workpieces}
    for setting in plan.settings:
        fresh = rough if setting.place is Place.STORE else Fraction(0)
        for cut in setting.cuts:
            _divide(edges, cut, fresh)
    return edges


def _divide(edges: dict[str, Unclean], cut: Cut, rough: Fraction) -> None:
    before = edges[cut.piece]
    rest = cut.rest
    is_first = rest is None or (cut.kept.x, cut.kept.y) < (rest.x, rest.y)
    near, far = _FACING[cut.direction]
    pairs = [(cut.kept, near if is_first else far)]
    if rest is not None:
        pairs.append((rest, far if is_first else near))
    for piece, facing in pairs:
        own = {edge: trim for edge, trim in before.items() if edge is not facing}
        edges[piece.name] = own | ({facing: rough} if rough else {})
