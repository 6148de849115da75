"""What the compiled search for an order works on: flat arrays and their columns."""

from __future__ import annotations

from typing import NamedTuple, TypeAlias, cast

import numpy as np
from numpy.typing import NDArray

#: All whole numbers are of one kind, so that each kernel is compiled once.
Bytes: TypeAlias = NDArray[np.uint8]
Counts: TypeAlias = NDArray[np.int16]
Longs: TypeAlias = NDArray[np.int64]

# Columns of ``branches``, and of ``rows`` with the bits of its last.
SETTING, CHILD, KIND = 0, 1, 2
# The setting of a task that waits for none.
FREE = -1
VISITS, AFTER, PLACE = 1, 2, 3
AT_TOP, BELOW = 1, 2
# What ``used`` counts.
NODES, BRANCHES, ROWS, PAIRS, RELEASED, TICK = 0, 1, 2, 3, 4, 5
# Columns of ``sums`` and of ``places``.
OPEN, LEAST, ASKED, BOUND_PAIRS, HASH = 0, 1, 2, 3, 4
TOPS, DEEPS, MUSTS = 0, 1, 2
# What ``run`` holds.
LEVEL, LIVE, BASE, WIDTH, EFFORT, LIMIT, CHOICES, FOUND = 0, 1, 2, 3, 4, 5, 6, 7
RUNS = 8
# Columns of ``best``, the first three the rank of a state.
RANKS, NUMBER, FROM, BY = 3, 3, 4, 5
# Whether a node comes into a state or goes out of it, and nothing. A plain number as an argument
# would have its kernel compiled once more for itself.
COMES, GOES = cast("int", np.int64(1)), cast("int", np.int64(-1))
NOTHING = cast("int", np.int64(0))
# How the search ended.
DONE, PAUSED, NO_ROOM = 0, 1, -2


class Nodes(NamedTuple):
    """A forest: what belongs to node ``i`` lies from ``…_at[i]`` to ``…_at[i + 1]``.

    ``branches`` has setting, child and kind of each task; ``rows`` what the node needs of each
    setting below it: visits, those left after a visit now, where it occurs. ``pairs`` lists the
    settings that it binds, the earlier one first. ``freed`` says for the first branch at a setting
    where in ``released`` the nodes stand that are left, and how many; -1 where nobody asked yet.
    """

    used: Longs
    then: Longs
    branch_at: Longs
    row_at: Longs
    pair_at: Longs
    branches: Longs
    rows: Longs
    pairs: Longs
    freed: Longs
    released: Longs
    table: Longs


class Scratch(NamedTuple):
    """Room to work in: by setting, by pair of settings, and lists."""

    needs: Longs
    listed: Longs
    chosen: Longs
    is_pair: Bytes
    stamp: Longs
    kept: Longs
    stack: Longs
    out: Longs
    added: Longs
    head: Longs
    links: Longs
    hashes: Longs
    hashed: Longs
    best: Longs


class States(NamedTuple):
    """The states of a level and of the next, one in each slot.

    ``is_open`` says which nodes are in it and ``nodes`` lists them, rising. ``places`` counts for
    each setting the nodes that have it at the top, below, and must visit it; ``counts`` those that
    need so many visits, ``most`` the largest number. ``binding`` counts the nodes that bind one
    setting before another, ``bound`` the same by the later one.
    """

    is_open: Bytes
    nodes: Longs
    places: Longs
    counts: Longs
    most: Longs
    binding: Counts
    bound: Counts
    sums: Longs
