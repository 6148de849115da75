"""The four edges of a piece, and what has to come off each before it is clean."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction


class Edge(StrEnum):
    """An edge of a piece that lies with its length from left to right, as a layout draws it.

    In the frame of a sheet the left edge is at x = 0, the lower one at y = 0.
    """

    LEFT = "left"
    RIGHT = "right"
    LOWER = "lower"
    UPPER = "upper"


@dataclass(frozen=True, slots=True)
class EdgeTrims:
    """What has to come off each edge; 0 is a clean one."""

    left: Fraction = Fraction(0)
    right: Fraction = Fraction(0)
    lower: Fraction = Fraction(0)
    upper: Fraction = Fraction(0)

    @classmethod
    def of(cls, trim: Fraction) -> EdgeTrims:
        """Return the same for all edges."""
        return cls(trim, trim, trim, trim)

    def at(self, edge: Edge) -> Fraction:
        """Return what comes off one edge."""
        return dict(zip(Edge, self.each, strict=True))[edge]

    @property
    def each(self) -> tuple[Fraction, Fraction, Fraction, Fraction]:
        """What comes off the left, right, lower and upper edge."""
        return self.left, self.right, self.lower, self.upper

    @property
    def unclean(self) -> dict[Edge, Fraction]:
        """What comes off the edges that are not clean."""
        return {edge: trim for edge, trim in zip(Edge, self.each, strict=True) if trim > 0}

    def inside(self, length: Fraction, width: Fraction) -> tuple[Fraction, Fraction]:
        """Return the size of what is left of a piece; nothing or less where nothing is."""
        return length - self.left - self.right, width - self.lower - self.upper
