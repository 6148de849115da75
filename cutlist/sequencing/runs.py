"""What is cut along one axis of one piece, and which of its edges are clean."""

from __future__ import annotations

from dataclasses import dataclass

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Strip
from cutlist.sequencing.strips import extent


@dataclass(frozen=True, slots=True)
class Run:
    """Children to be cut one after the other along an axis.

    Parameters
    ----------
    axis
        The axis.
    children
        For each its size along the axis and its node.
    room
        Size of the piece along the axis.
    low, high
        Unclean trims at its two ends.
    along
        Size of the piece across the axis: the length of every cut.
    """

    axis: Axis
    children: tuple[tuple[int, int], ...]
    room: int
    low: int
    high: int
    along: int

    def slack(self, kerf: int) -> int:
        """Return what is to spare between the trims if every cut takes this kerf."""
        used = sum(size for size, _ in self.children) + (len(self.children) - 1) * kerf
        return self.room - self.low - self.high - used

    def least_beside(self, size: int, kerf: int) -> int:
        """Return the smallest piece that a child of this size is cut off, the others gone before.

        Beside it lies what is to spare, or one other child where the waste went first.
        """
        others = [other for other, _ in self.children]
        others.remove(size)
        beside = [kerf + min(others)] if others else []
        spare = self.slack(kerf) + self.high
        return size + min([*beside, *([spare] if spare > 0 else [])], default=1)


def along_of(tree: Strip | Cell, axis: Axis, trims: EdgeTrims[int]) -> int:
    """Return the length of the cuts that divide a tree, its trims included, along an axis."""
    other = Axis.Y if axis is Axis.X else Axis.X
    return extent(tree, other) + sum(trims.along(other))


def run_of(
    tree: Strip | Cell, axis: Axis, trims: EdgeTrims[int], children: tuple[tuple[int, int], ...]
) -> Run:
    """Return the run that divides a tree along an axis, its trims included."""
    low, high = trims.along(axis)
    room = extent(tree, axis) + low + high
    return Run(axis, children, room, low, high, along_of(tree, axis, trims))
