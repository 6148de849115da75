"""The packing problem and its answer, in whole grid units.

One problem holds the parts and the stock of one material and thickness. Lengths lie along x, the
grain of the stock. Nothing here knows names, money or units: ``cost`` is any whole number.
"""

from __future__ import annotations

from dataclasses import dataclass

from cutlist.model.layout import Layout


@dataclass(frozen=True, slots=True)
class Item:
    """A part: ``qty`` equal panels; a ``turnable`` one may also lie with its width along x."""

    length: int
    width: int
    qty: int
    turnable: bool


@dataclass(frozen=True, slots=True)
class Bin:
    """A kind of stock.

    Parameters
    ----------
    length, width
        Usable region: the stock less ``trim`` on each edge.
    cost
        Cost of one; 0 for an offcut on hand.
    available
        At most so many; None for no limit.
    trim
        Unclean margin around the usable region; 0 where the stock's own edges are good.
    edges
        What is unclean at the low and the high end of x, then of y, where that is not the same at
        all of them; where one end is clean it is the low one. None for the trim all around.
    """

    length: int
    width: int
    cost: int
    available: int | None = None
    trim: int = 0
    edges: tuple[int, int, int, int] | None = None


@dataclass(frozen=True, slots=True)
class Problem:
    """Items to cut from bins with a blade of ``kerf``.

    ``reach`` is the largest distance fence to blade, None for no limit. Each cut keeps one side
    against the fence at exactly that distance, so a piece can be divided only where one of the two
    sides is within reach: of the children of a strip at most one may be longer than the reach along
    the strip's axis, and then what is left over of the strip, margins included, must be nothing or
    wider than a kerf.
    """

    items: tuple[Item, ...]
    bins: tuple[Bin, ...]
    kerf: int
    reach: int | None = None


@dataclass(frozen=True, slots=True)
class Nesting:
    """The best layouts found, ``Layout.stock`` being an index into ``Problem.bins``.

    Parameters
    ----------
    layouts
        Distinct layouts with their copies; every item's quantity is met exactly.
    cost
        Total cost of the bins used.
    bound
        A proven lower bound on the cost over all guillotine layouts of the problem.
    sheets, sheets_bound
        Number of bins used that cost something, and a proven lower bound on it.
    steps
        Search steps spent.
    """

    layouts: tuple[Layout, ...]
    cost: int
    bound: int
    sheets: int
    sheets_bound: int
    steps: int
