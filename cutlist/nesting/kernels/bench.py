"""What the devices of a shop may do, for the compiled kernels.

Fence, stop and guide make a cut by its length, by the size of the piece across it, and by the
distance that is kept. What is asked here is decided by the length and by the size that the piece
has before anything is cut off it: other cuts only make it smaller, and a smaller piece is held by
whatever holds a larger one, but for one too small for a guide.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, cast

import numpy as np
from numba import njit

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import Longs

# Columns of ``tools``: what kind of device; least and largest distance; finest mark; what a set-up
# weighs; 1 where it is set anew for every cut; longest cut; shortest edge or side; edge that is
# steady at a fence; least distance at which waste by itself is taken off; kerf.
KIND, LEAST, MOST, MARK, WEIGHT, ONE_CUT, LONGEST, SMALLEST, STEADY, LEAST_WASTE, BLADE = range(11)
FENCE, STOP, GUIDE = 0, 1, 2
# Columns of ``pieces``: the tool, and the largest piece across the cut by along it.
TOOL, ACROSS, ALONG = 0, 1, 2
# No size reaches it.
FAR = cast("int", np.int64(1 << 40))
# A plain number of the kind of all others: each kernel is compiled once.
ONE = cast("int", np.int64(1))
#: At most so many tools: their numbers fit into the low bits of a key.
MOST_TOOLS = 8


class Bench(NamedTuple):
    """The shop; lengths in grid units, no kerf added.

    Parameters
    ----------
    tools, pieces
        Rows whose columns are named above.
    kerf
        Of the widest blade, which the layouts reckon with.
    slip
        By how much that is more than the kerf of the narrowest blade; 0 where all are alike.
    """

    tools: Longs
    pieces: Longs
    kerf: int
    slip: int


@njit(cache=True, nogil=True)
def widest(bench: Bench, tool: int, along: int, least: int) -> int:
    """Return the largest size across a cut that the tool makes; -1 for none.

    The cut is ``along`` at most, and ``least`` at least.
    """
    tools = bench.tools
    if along > tools[tool, LONGEST]:
        return -1
    if tools[tool, KIND] == STOP:
        most = -1
        found = False
        for p in range(bench.pieces.shape[0]):
            if bench.pieces[p, TOOL] == tool:
                found = True
                if along <= bench.pieces[p, ALONG]:
                    most = max(most, bench.pieces[p, ACROSS])
        return most if found else FAR
    if least < tools[tool, SMALLEST]:
        return -1
    if tools[tool, KIND] == FENCE and least < tools[tool, STEADY]:
        return least
    return FAR


@njit(cache=True, nogil=True)
def tools_for(bench: Bench, along: int, least: int, across: int) -> int:
    """Return the tools, as bits, that may cut a piece; not those set anew for every cut."""
    found = 0
    along += 8 * bench.slip
    across += 8 * bench.slip
    for k in range(bench.tools.shape[0]):
        if bench.tools[k, ONE_CUT] == 0 and widest(bench, k, along, least) >= across:
            found |= 1 << k
    return found


@njit(cache=True, nogil=True)
def set_to(bench: Bench, tools: int, distance: int) -> int:
    """Return those of some tools that can be set to a distance for a piece of that size.

    What guides a piece by its size across the cut needs so much of it to the last.
    """
    found = 0
    for k in range(bench.tools.shape[0]):
        row = bench.tools[k]
        if not tools >> k & 1 or not row[LEAST] <= distance <= row[MOST]:
            continue
        if row[KIND] == FENCE or distance >= row[SMALLEST]:
            found |= 1 << k
    return found


@njit(cache=True, nogil=True)
def guide_for(bench: Bench, along: int, least: int, across: int) -> int:
    """Return the guide, set anew for every cut, that may be laid on a piece; -1 for none."""
    for k in range(bench.tools.shape[0]):
        row = bench.tools[k]
        if row[ONE_CUT] and row[SMALLEST] <= min(least, across) and along <= row[LONGEST]:
            return k
    return -1


@njit(cache=True, nogil=True)
def has_guide(bench: Bench) -> bool:
    """Say whether there is a guide that is set anew for every cut."""
    return bool(all_shared(bench) != (1 << bench.tools.shape[0]) - 1)


@njit(cache=True, nogil=True)
def farthest(bench: Bench) -> int:
    """Return the largest distance that any tool can be set to."""
    most = 0
    for k in range(bench.tools.shape[0]):
        most = max(most, bench.tools[k, MOST])
    return most


@njit(cache=True, nogil=True)
def largest_across(bench: Bench, along: int, least: int) -> int:
    """Return the largest piece across a cut so long that any tool makes but a guide; -1: none."""
    most = -1
    for k in range(bench.tools.shape[0]):
        if bench.tools[k, ONE_CUT] == 0:
            most = max(most, widest(bench, k, along + 8 * bench.slip, least))
    return most if most < 0 or most >= FAR else most - 8 * bench.slip


@njit(cache=True, nogil=True)
def at_least_fault(bench: Bench, distance: int) -> int:
    """Return the tool to be told of for a cut that none may make.

    Not one that is set anew for every cut, if there is another; one that reaches the distance, if
    any does; of those the one that makes the longest cuts.
    """
    best, best_rank = 0, -1
    for k in range(bench.tools.shape[0]):
        row = bench.tools[k]
        rank = 4 * (distance <= row[MOST]) + 2 * (row[ONE_CUT] == 0) + (row[LONGEST] == FAR)
        if rank > best_rank:
            best, best_rank = k, rank
    return best


@njit(cache=True, nogil=True)
def all_shared(bench: Bench) -> int:
    """Return, as bits, all tools but those set anew for every cut."""
    found = 0
    for k in range(bench.tools.shape[0]):
        if bench.tools[k, ONE_CUT] == 0:
            found |= 1 << k
    return found


@njit(cache=True, nogil=True)
def guide_at_fault(bench: Bench, distance: int) -> int:
    """Return the guide to be told of for a cut that none may make; -1 where it is another saw."""
    tool = at_least_fault(bench, distance)
    return tool if bench.tools[tool, ONE_CUT] else -1
