"""How layouts lie on stock whose edges are not alike.

Its inside is the bin, as of a blank. A layout counts from the cleaner end along each axis.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cutlist.breakdown.blanks import cleanable, mirrored_along
from cutlist.breakdown.patterns import Blank
from cutlist.model.layout import Axis
from cutlist.sequencing.runs import Margins

if TYPE_CHECKING:
    from cutlist.model.job import Stock
    from cutlist.sequencing.fence import Fence
    from cutlist.units.grid import Grid


@dataclass(frozen=True, slots=True)
class Lying:
    """What comes off the stock, as a layout counts, and along which axes that is mirrored."""

    margins: Margins
    mirrored: frozenset[Axis]


def lying_on(stock: Stock, grid: Grid, fence: Fence) -> Lying | None:
    """Return how layouts lie on a piece of stock; None where the same comes off all its edges."""
    left, right, lower, upper = (grid.to_int(trim) for trim in stock.trims.each)
    if left == right == lower == upper:
        return None
    margins = Margins((left, right), (lower, upper))
    size = (grid.to_int(stock.length), grid.to_int(stock.width))
    margins = cleanable(Blank(0, 0, *size, margins), fence)
    mirrored = mirrored_along(margins)
    for axis in Axis:
        low, high = sorted(margins.along(axis))
        margins = margins.replaced(axis, (low, high))
    return Lying(margins, mirrored)
