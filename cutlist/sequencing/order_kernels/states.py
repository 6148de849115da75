"""States of the search, with all that they are ranked by kept up to date as nodes come and go.

A state is a set of open nodes. For each is counted how many of its nodes need each setting so and
so often, and how many of them bind one setting before another. So a setting is tried by letting the
few nodes come and go that it changes, and taking that back.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from cutlist.sequencing.order_kernels.nodes import advance
from cutlist.sequencing.order_kernels.records import (
    ASKED,
    AT_TOP,
    BELOW,
    BOUND_PAIRS,
    COMES,
    DEEPS,
    GOES,
    HASH,
    LEAST,
    MUSTS,
    NO_ROOM,
    OPEN,
    PLACE,
    SETTING,
    TICK,
    TOPS,
    VISITS,
)

if TYPE_CHECKING:
    from cutlist.sequencing.order_kernels.records import (
        Bytes,
        Counts,
        Longs,
        Nodes,
        Scratch,
        States,
    )


@njit(cache=True, nogil=True)
def copy_list(target: Bytes | Longs, source: Bytes | Longs) -> None:
    """Copy all entries; assigning slices would take longer to compile."""
    for i in range(len(source)):
        target[i] = source[i]


@njit(cache=True, nogil=True)
def copy_rows(target: Longs | Counts, source: Longs | Counts) -> None:
    """Copy all rows."""
    for i in range(len(source)):
        for j in range(source.shape[1]):
            target[i, j] = source[i, j]


@njit(cache=True, nogil=True)
def copy_state(states: States, slot: int, source: int) -> None:
    """Make a slot hold the same state as another."""
    copy_list(states.is_open[slot], states.is_open[source])
    copy_list(states.nodes[slot], states.nodes[source])
    copy_list(states.most[slot], states.most[source])
    copy_list(states.sums[slot], states.sums[source])
    copy_rows(states.places[slot], states.places[source])
    copy_rows(states.counts[slot], states.counts[source])
    copy_rows(states.binding[slot], states.binding[source])
    copy_rows(states.bound[slot], states.bound[source])


@njit(cache=True, nogil=True)
def shift(nodes: Nodes, states: States, slot: int, number: int, sign: int) -> None:
    """Let a node come into a state, or go out of it: ``sign`` is 1 or -1."""
    counts, most, sums = states.counts[slot], states.most[slot], states.sums[slot]
    binding, bound, places = states.binding[slot], states.bound[slot], states.places[slot]
    states.is_open[slot, number] = sign > 0
    mixed = (np.int64(number) + 1) * np.int64(-7046029254386353131)
    mixed = (mixed ^ (mixed >> np.int64(31))) * np.int64(-4658895280553007687)
    sums[HASH] += sign * (mixed ^ (mixed >> np.int64(29)))
    for r in range(nodes.row_at[number], nodes.row_at[number + 1]):
        s, visits, place = nodes.rows[r, 0], nodes.rows[r, VISITS], nodes.rows[r, PLACE]
        if place & AT_TOP:
            places[s, TOPS] += sign
            if visits > 0:
                places[s, MUSTS] += sign
        if place & BELOW:
            places[s, DEEPS] += sign
        if visits == 0:
            continue
        sums[ASKED] += sign * visits
        visits = min(visits, len(counts) - 1)
        counts[visits, s] += sign
        before = most[s]
        after = before
        if sign > 0:
            after = max(before, visits)
        else:
            while after > 0 and counts[after, s] == 0:
                after -= 1
        if after == before:
            continue
        most[s] = after
        sums[LEAST] += after - before
        if (before == 1) != (after == 1) and len(binding) == len(most):
            # Only settings that are needed just once count as bound to an order.
            changed = 0
            for t in range(len(most)):
                if most[t] == 1 and t != s:
                    changed += (binding[s, t] > 0) + (bound[s, t] > 0)
            sums[BOUND_PAIRS] += changed if after == 1 else -changed
    for p in range(nodes.pair_at[number], nodes.pair_at[number + 1]):
        a, b = nodes.pairs[p, 0], nodes.pairs[p, 1]
        binding[a, b] += sign
        bound[b, a] += sign
        if binding[a, b] == (1 if sign > 0 else 0) and most[a] == 1 and most[b] == 1:
            sums[BOUND_PAIRS] += sign


@njit(cache=True, nogil=True)
def unclaimed(nodes: Nodes, scratch: Scratch, states: States, slot: int, added: int) -> int:
    """Count settings that spare nodes need beyond those needed anyway: all but one of each's.

    The state's nodes are those of its list that are still open, and the first ones ``added``.
    """
    most, stamp = states.most[slot], scratch.stamp
    nodes.used[TICK] += 1
    tick = nodes.used[TICK]
    extra = place = new = 0
    count = states.sums[slot, OPEN]
    while place < count or new < added:
        is_new = place == count or (new < added and scratch.added[new] < states.nodes[slot, place])
        if is_new:
            number = scratch.added[new]
            new += 1
        else:
            number = states.nodes[slot, place]
            place += 1
            if not states.is_open[slot, number]:
                continue
        if nodes.then[number] >= 0:
            continue
        free, last = 0, -1
        for b in range(nodes.branch_at[number], nodes.branch_at[number + 1]):
            s = nodes.branches[b, SETTING]
            if s != last and most[s] == 0 and stamp[s] != tick:
                free += 1
            last = s
        if free > 1:
            extra += free - 1
            for b in range(nodes.branch_at[number], nodes.branch_at[number + 1]):
                stamp[nodes.branches[b, SETTING]] = tick
    return extra


@njit(cache=True, nogil=True)
def move(
    nodes: Nodes, scratch: Scratch, states: States, slot: int, begin: int, setting: int
) -> int:
    """Visit a setting in a state; ``begin`` heads the links of the nodes that it works on.

    Returns how many nodes came in, listed as ``added`` and rising; less than 0 without room.
    """
    links, added = scratch.links, scratch.added
    link, room = begin, 0
    while link >= 0:
        first = advance(nodes, scratch, links[link, 0], setting)
        if first == NO_ROOM:
            return NO_ROOM
        room += nodes.freed[first, 1]
        link = links[link, 1]
    if states.sums[slot, OPEN] + room > min(states.nodes.shape[1], len(added)):
        return NO_ROOM
    link = begin
    while link >= 0:
        shift(nodes, states, slot, links[link, 0], GOES)
        link = links[link, 1]
    count = 0
    link = begin
    while link >= 0:
        first = advance(nodes, scratch, links[link, 0], setting)
        start = nodes.freed[first, 0]
        for i in range(start, start + nodes.freed[first, 1]):
            number = nodes.released[i]
            if states.is_open[slot, number]:
                continue
            shift(nodes, states, slot, number, COMES)
            place = count
            while place > 0 and added[place - 1] > number:
                added[place] = added[place - 1]
                place -= 1
            added[place] = number
            count += 1
        link = links[link, 1]
    return count


@njit(cache=True, nogil=True)
def link_up(nodes: Nodes, scratch: Scratch, states: States, slot: int) -> bool:
    """Link for each setting the open nodes that have it at the top; False without room."""
    head, links = scratch.head, scratch.links
    for s in range(len(head)):
        head[s] = -1
    size = 0
    for i in range(states.sums[slot, OPEN]):
        number = states.nodes[slot, i]
        begin, end = nodes.branch_at[number], nodes.branch_at[number + 1]
        if size + end - begin > len(links):
            return False
        for b in range(begin, end):
            s = nodes.branches[b, SETTING]
            if b == begin or s != nodes.branches[b - 1, SETTING]:
                links[size, 0], links[size, 1] = number, head[s]
                head[s] = size
                size += 1
    return True


@njit(cache=True, nogil=True)
def settle(scratch: Scratch, states: States, slot: int, added: int) -> None:
    """List the nodes of a state anew after a move that brought in the first ones ``added``."""
    listed, new = states.nodes[slot], scratch.added
    count = 0
    for i in range(states.sums[slot, OPEN]):
        if states.is_open[slot, listed[i]]:
            listed[count] = listed[i]
            count += 1
    place, total = count - 1, count + added
    states.sums[slot, OPEN] = total
    for target in range(total - 1, -1, -1):
        if added and (place < 0 or listed[place] < new[added - 1]):
            added -= 1
            listed[target] = new[added]
        else:
            listed[target] = listed[place]
            place -= 1
