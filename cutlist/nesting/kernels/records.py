"""What the compiled kernels work on, as named tuples of arrays and numbers.

A named tuple goes into a kernel as one argument, and its parts are as quick to reach there as
arguments of their own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

if TYPE_CHECKING:
    from cutlist.nesting.problem import Problem

Ints = NDArray[np.int32]
Longs = NDArray[np.int64]
Reals = NDArray[np.float64]
Words = NDArray[np.uint64]

# Entries of ``Sheets.outlay``: what the open sheets cost, and the most that they may cost.
SPENT, LIMIT = 0, 1


class Blade(NamedTuple):
    """What is known of the saw.

    Parameters
    ----------
    longest
        Longest extent within reach, with one kerf; 0 for no limit.
    kerf
        Of the blade.
    """

    longest: int
    kerf: int

    @classmethod
    def of(cls, problem: Problem) -> Blade:
        """Return the blade of a problem."""
        longest = 0 if problem.reach is None else problem.reach + problem.kerf
        return cls(longest, problem.kerf)


class Sizes(NamedTuple):
    """Panels, stock and saw; extents are grown by one kerf each.

    Parameters
    ----------
    types
        Per item: extents, 1 where turnable, area.
    bins
        Per bin: extents, trim, cost, what is unclean at the low and the high end of x and of y.
    blade
        The saw.
    """

    types: Longs
    bins: Longs
    blade: Blade


class Sheets(NamedTuple):
    """Sheets with what lies on them, each in a slot of its own.

    Parameters
    ----------
    tree
        Per slot a table of nodes; see :mod:`cutlist.nesting.kernels.nodes`.
    meta
        Per slot a row about its sheet, the bin being -1 where none is open.
    left
        Per bin: how many are not used yet.
    outlay
        What the open sheets cost, and the most that they may cost.
    """

    tree: Ints
    meta: Longs
    left: Longs
    outlay: Longs


class Copies(NamedTuple):
    """Open sheets copied for keeping; ``tree`` and ``meta`` as in :class:`Sheets`."""

    tree: Ints
    meta: Longs


class Walk(NamedTuple):
    """Where a search is between two calls; columns of ``run`` are the search's own.

    Parameters
    ----------
    run
        Marks and counts.
    history
        The marks of the last steps, each at its number modulo the length.
    """

    run: Longs
    history: Longs


class Refill(NamedTuple):
    """What is to be placed in a step, and where.

    Parameters
    ----------
    queue
        Panels lifted and waiting, as items.
    places
        Free nodes that some panel may fit: slot, node, extents.
    opened
        Number of sheets opened in this step, then their slots.
    """

    queue: Ints
    places: Ints
    opened: Ints


class Before(NamedTuple):
    """What a step has to give back where it is not accepted.

    Parameters
    ----------
    touched
        Slots of the ruined sheets.
    tree, meta
        These sheets as they were.
    left
        The stock as it was.
    """

    touched: Longs
    tree: Ints
    meta: Longs
    left: Longs
