"""How layouts lie on stock whose edges are not alike.

Its inside is the bin, as of a blank. A layout counts from the cleaner end along each axis.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cutlist.breakdown.blanks import cleanable, mirrored_along
from cutlist.breakdown.patterns import Blank
from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis

if TYPE_CHECKING:
    from cutlist.model.job import Stock
    from cutlist.sequencing.fence import Fence
    from cutlist.units.grid import Grid


@dataclass(frozen=True, slots=True)
class Orientation:
    """What comes off the stock, as a layout counts, and along which axes that is mirrored."""

    trims: EdgeTrims[int]
    mirrored: frozenset[Axis]


def orientation_on(stock: Stock, grid: Grid, fence: Fence) -> Orientation | None:
    """Return how layouts lie on a piece of stock; None where the same comes off all its edges."""
    trims = EdgeTrims(*(grid.to_int(trim) for trim in stock.trims.each))
    if trims.are_alike:
        return None
    size = (grid.to_int(stock.length), grid.to_int(stock.width))
    trims = cleanable(Blank(0, 0, *size, trims), fence)
    mirrored = mirrored_along(trims)
    for axis in Axis:
        low, high = sorted(trims.along(axis))
        trims = trims.replaced(axis, (low, high))
    return Orientation(trims, mirrored)
