"""How stock is divided: a tree of strips and cells on the job's integer grid.

Frame: x runs along the sheet's length (its grain), y along its width. A strip divides its extent
along one axis; between two neighbouring children lies one kerf, and what is left over at the far
end is waste. Sizes are whole grid units. The order of children carries no meaning: strips of one
piece can be cut in any order.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Axis(StrEnum):
    """The axis along which a strip is divided: ``x`` by crosscuts, ``y`` by rips."""

    X = "x"
    Y = "y"


@dataclass(frozen=True, slots=True)
class Cell:
    """One panel as it lies on the sheet: ``part`` is an index, ``length`` its extent along x."""

    part: int
    length: int
    width: int


@dataclass(frozen=True, slots=True)
class Strip:
    """A rectangle divided along ``axis``.

    Parameters
    ----------
    axis
        Direction in which the children follow one another.
    length, width
        Extent along x and along y.
    children
        At least one. Across the axis every child has exactly the strip's extent; along it the
        children and one kerf between each two fit into the strip's extent.
        A child strip is divided along the other axis.
    """

    axis: Axis
    length: int
    width: int
    children: tuple[Strip | Cell, ...]


@dataclass(frozen=True, slots=True)
class Layout:
    """A way to divide one piece of stock, and how many are divided so.

    Parameters
    ----------
    stock
        Index into the stock of the problem it belongs to.
    root
        Covers the usable region: the stock less its trim on each edge.
    copies
        Number of pieces of stock divided in this way.
    """

    stock: int
    root: Strip | Cell
    copies: int = 1
