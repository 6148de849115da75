"""The four edges of a piece, and what has to come off each before it is clean."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Any, Final, Generic, TypeVar

from cutlist.model.layout import Axis

#: Lengths in steps of a job's grid, or exact ones in a job's unit.
Length = TypeVar("Length", int, Fraction)

#: A clean edge, in either.
_CLEAN: Final[Any] = 0


class Edge(StrEnum):
    """An edge of a piece that lies with its length from left to right, as a layout draws it.

    In the frame of a sheet the left edge is at x = 0, the lower one at y = 0.
    """

    LEFT = "left"
    RIGHT = "right"
    LOWER = "lower"
    UPPER = "upper"


@dataclass(frozen=True, slots=True)
class EdgeTrims(Generic[Length]):
    """What has to come off each edge, in steps of a grid or in a job's unit; 0 is a clean one."""

    left: Length = _CLEAN
    right: Length = _CLEAN
    lower: Length = _CLEAN
    upper: Length = _CLEAN

    @classmethod
    def of(cls, trim: Length) -> EdgeTrims[Length]:
        """Return the same for all edges."""
        return cls(trim, trim, trim, trim)

    def at(self, edge: Edge) -> Length:
        """Return what comes off one edge."""
        return dict(zip(Edge, self.each, strict=True))[edge]

    @property
    def each(self) -> tuple[Length, Length, Length, Length]:
        """What comes off the left, right, lower and upper edge."""
        return self.left, self.right, self.lower, self.upper

    @property
    def x(self) -> tuple[Length, Length]:
        """What comes off the two ends of the length, the low one first."""
        return self.left, self.right

    @property
    def y(self) -> tuple[Length, Length]:
        """What comes off the two ends of the width, the low one first."""
        return self.lower, self.upper

    @property
    def unclean(self) -> dict[Edge, Length]:
        """What comes off the edges that are not clean."""
        return {edge: trim for edge, trim in zip(Edge, self.each, strict=True) if trim > 0}

    @property
    def are_alike(self) -> bool:
        """Whether the same comes off all edges."""
        return self.left == self.right == self.lower == self.upper

    def along(self, axis: Axis) -> tuple[Length, Length]:
        """Return what comes off the two ends of an axis, the low one first."""
        return self.x if axis is Axis.X else self.y

    def replaced(self, axis: Axis, ends: tuple[Length, Length]) -> EdgeTrims[Length]:
        """Return trims with those at the two ends of an axis changed."""
        if axis is Axis.X:
            return replace(self, left=ends[0], right=ends[1])
        return replace(self, lower=ends[0], upper=ends[1])

    def inside(self, length: Length, width: Length) -> tuple[Length, Length]:
        """Return the size of what is left of a piece; nothing or less where nothing is."""
        return length - self.left - self.right, width - self.lower - self.upper


#: Of a piece whose edges are all clean.
ALL_CLEAN: Final[EdgeTrims[Any]] = EdgeTrims()
