"""How clean the four edges of a piece are.

Each edge carries two lengths: what has still to come off before it lies clear of the stock's
factory edge by the stock's trim, and what has still to come off because the store cut it. An edge
is clean when both are nothing; so a factory edge with a trim of 0 is clean from the start. One with
a trim may be straight all the same, and ride the fence before it is cleaned.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from cutlist.model.edges import EdgeTrims
from cutlist.model.plan import Direction

ZERO = Fraction(0)


class Side(StrEnum):
    """One of the two edges of a piece across a cut: at its smaller or at its larger coordinate."""

    LOW = "low"
    HIGH = "high"

    @property
    def other(self) -> Side:
        """The edge opposite."""
        return Side.HIGH if self is Side.LOW else Side.LOW


@dataclass(frozen=True, slots=True)
class AuditedEdge:
    """What has still to come off: by the ``factory`` edge's trim, by the ``store``'s accuracy.

    ``is_straight`` says of stock whose own edges may ride the fence.
    """

    factory: Fraction
    store: Fraction = ZERO
    is_straight: bool = False

    @property
    def clean(self) -> bool:
        """Whether nothing has to come off."""
        return self.factory <= 0 and self.store <= 0

    @property
    def may_ride(self) -> bool:
        """Whether a distance may be measured from it: it is clean, or a straight factory edge."""
        return self.store <= 0 and (self.factory <= 0 or self.is_straight)

    @property
    def kind(self) -> str:
        """Name of the edge for a message."""
        return "a store-cut" if self.store > 0 else "a factory" if self.factory > 0 else "a clean"

    def cut_back(self, taken: Fraction, rough: Fraction) -> AuditedEdge:
        """Return the edge that a cut leaves ``taken`` further in, ``rough`` being its accuracy."""
        return replace(
            self,
            factory=max(ZERO, self.factory - taken),
            store=max(ZERO, self.store - taken, rough),
        )


@dataclass(frozen=True, slots=True)
class Edges:
    """The edges at the smaller and larger x, then at the smaller and larger y."""

    x_low: AuditedEdge
    x_high: AuditedEdge
    y_low: AuditedEdge
    y_high: AuditedEdge

    def at(self, direction: Direction, side: Side) -> AuditedEdge:
        """Return the edge on one side of a cut: a rip divides along y, a crosscut along x."""
        if direction is Direction.RIP:
            return self.y_low if side is Side.LOW else self.y_high
        return self.x_low if side is Side.LOW else self.x_high

    def each(self) -> tuple[tuple[str, AuditedEdge], ...]:
        """Return all four with the words that say where they lie."""
        return (
            ("start of the length", self.x_low),
            ("end of the length", self.x_high),
            ("start of the width", self.y_low),
            ("end of the width", self.y_high),
        )


def new_edges(trims: EdgeTrims[Fraction], *, are_straight: bool = False) -> Edges:
    """Return the edges of whole stock, which may be straight before they are cleaned."""
    return Edges(*(AuditedEdge(max(ZERO, trim), is_straight=are_straight) for trim in trims.each))


def after_cut(
    edges: Edges, direction: Direction, side: Side, taken: Fraction, rough: Fraction
) -> Edges:
    """Return the edges of a piece that a cut made.

    Parameters
    ----------
    edges
        Edges of the piece that was cut.
    direction, side
        Where the new piece has its sawn edge.
    taken
        How far the sawn edge lies inside the edge that was there before.
    rough
        By how much the cut may be off; 0 for a cut at the shop.
    """
    sawn = edges.at(direction, side).cut_back(taken, rough)
    if direction is Direction.RIP:
        return replace(edges, y_low=sawn) if side is Side.LOW else replace(edges, y_high=sawn)
    return replace(edges, x_low=sawn) if side is Side.LOW else replace(edges, x_high=sawn)
