"""The nodes of a forest in flat arrays: what each needs, and what a setting makes of it.

The same as :mod:`~cutlist.sequencing.forest` and :mod:`~cutlist.sequencing.needs`; but what a node
needs is kept for the settings that occur in it alone, of which there are few.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from cutlist.sequencing.order_kernels.records import (
    AFTER,
    AT_TOP,
    BELOW,
    BRANCHES,
    CHILD,
    FREE,
    NO_ROOM,
    NODES,
    NOTHING,
    PAIRS,
    PLACE,
    RELEASED,
    ROWS,
    SETTING,
    VISITS,
)

if TYPE_CHECKING:
    from cutlist.sequencing.order_kernels.records import Longs, Nodes, Scratch


@njit(cache=True, nogil=True)
def learn(nodes: Nodes, scratch: Scratch, number: int) -> bool:
    """Work out what a node needs whose children are known, and list it; False without room."""
    needs, listed, is_pair = scratch.needs, scratch.listed, scratch.is_pair
    begin, end = nodes.branch_at[number], nodes.branch_at[number + 1]
    then = nodes.then[number]
    if end > begin and nodes.branches[begin, SETTING] == FREE:
        return _learn_free(nodes, scratch, number)
    is_spare = then < 0
    kinds = 0
    for b in range(begin, end):
        if b == begin or nodes.branches[b, SETTING] != nodes.branches[b - 1, SETTING]:
            kinds += 1
    pair = nodes.used[PAIRS]
    if nodes.used[ROWS] + len(needs) > len(nodes.rows):
        return False
    size = 0
    has_room, has_pairs = True, len(is_pair) == len(needs)
    for b in range(begin, end + (0 if is_spare else 1)):
        is_then = b == end
        child = then if is_then else nodes.branches[b, CHILD]
        own = -1 if is_then else nodes.branches[b, SETTING]
        is_skippable, other = False, -1
        if is_spare:
            same = 0
            for c in range(begin, end):
                if nodes.branches[c, SETTING] == own:
                    same += 1
            # A spare branch may come free as the remainder, without a visit of its own; and the
            # setting that takes all others off leaves it free in the same visit.
            is_skippable = same == 1
            if same > 1 and kinds == 1:
                other = own
            elif same == 1 and kinds == 2:
                first = nodes.branches[begin, SETTING]
                other = first if first != own else nodes.branches[end - 1, SETTING]
        if not is_then and needs[own, PLACE] == 0:
            listed[size] = own
            size += 1
        if not is_then:
            needs[own, PLACE] |= AT_TOP
        below, left = 0, 0
        for r in range(nodes.row_at[child], nodes.row_at[child + 1]):
            t, visits, after = nodes.rows[r, 0], nodes.rows[r, VISITS], nodes.rows[r, AFTER]
            if needs[t, PLACE] == 0:
                listed[size] = t
                size += 1
            needs[t, PLACE] |= BELOW
            if t == own:
                below, left = visits, after
            elif is_then:
                if needs[t, PLACE] & AT_TOP:
                    needs[t, VISITS] = max(needs[t, VISITS], 1 + after)
                    needs[t, AFTER] = max(needs[t, AFTER], after if kinds == 1 else visits)
                else:
                    needs[t, VISITS] = max(needs[t, VISITS], visits)
                    needs[t, AFTER] = max(needs[t, AFTER], visits)
            else:
                needs[t, VISITS] = max(needs[t, VISITS], visits)
                needs[t, AFTER] = max(needs[t, AFTER], after if t == other else visits)
        if is_then:
            for c in range(begin, end):
                t = nodes.branches[c, SETTING]
                needs[t, VISITS] = max(needs[t, VISITS], 1)
        else:
            needs[own, VISITS] = max(needs[own, VISITS], below if is_skippable else 1 + left)
            needs[own, AFTER] = max(needs[own, AFTER], left)
        # What has to follow: below each task, and the remainder after all of them.
        for c in range(begin if is_then else b, end if is_then else b + 1):
            if is_skippable or not has_pairs:
                break
            earlier = nodes.branches[c, SETTING]
            for r in range(nodes.row_at[child], nodes.row_at[child + 1]):
                later = nodes.rows[r, 0]
                if nodes.rows[r, VISITS] > 0 and later != earlier and not is_pair[earlier, later]:
                    if pair == len(nodes.pairs):
                        has_room = False
                        break
                    is_pair[earlier, later] = 1
                    nodes.pairs[pair, 0], nodes.pairs[pair, 1] = earlier, later
                    pair += 1
        pair, fits = _bind_as(nodes, scratch, child, pair)
        has_room &= fits
    return _file_needs(nodes, scratch, number, size, pair, has_room)


@njit(cache=True, nogil=True)
def _bind_as(nodes: Nodes, scratch: Scratch, child: int, pair: int) -> tuple[int, bool]:
    """Bind what a child binds; return how many pairs there are then, and whether all have room."""
    is_pair = scratch.is_pair
    for p in range(nodes.pair_at[child], nodes.pair_at[child + 1]):
        earlier, later = nodes.pairs[p, 0], nodes.pairs[p, 1]
        if not is_pair[earlier, later]:
            if pair == len(nodes.pairs):
                return pair, False
            is_pair[earlier, later] = 1
            nodes.pairs[pair, 0], nodes.pairs[pair, 1] = earlier, later
            pair += 1
    return pair, True


@njit(cache=True, nogil=True)
def _file_needs(
    nodes: Nodes, scratch: Scratch, number: int, size: int, pair: int, has_room: bool
) -> bool:
    """List what a node needs, clear the room it was worked out in, and hand on if there was any."""
    needs, listed, is_pair = scratch.needs, scratch.listed, scratch.is_pair
    row = nodes.used[ROWS]
    for p in range(nodes.used[PAIRS], pair):
        is_pair[nodes.pairs[p, 0], nodes.pairs[p, 1]] = 0
    for i in range(size):
        t = listed[i]
        nodes.rows[row + i, 0] = t
        for column in range(1, 4):
            nodes.rows[row + i, column] = needs[t, column]
            needs[t, column] = 0
    if has_room:
        nodes.used[ROWS], nodes.used[PAIRS] = row + size, pair
        nodes.row_at[number + 1], nodes.pair_at[number + 1] = row + size, pair
    return has_room


@njit(cache=True, nogil=True)
def _learn_free(nodes: Nodes, scratch: Scratch, number: int) -> bool:
    """Let a free node need what its two pieces need; False without room.

    No visit that releases the node goes on with them: another device was taken.
    """
    needs, listed = scratch.needs, scratch.listed
    pair = nodes.used[PAIRS]
    if nodes.used[ROWS] + len(needs) > len(nodes.rows):
        return False
    size = 0
    has_room = True
    for which in range(2):
        child = nodes.branches[nodes.branch_at[number], CHILD] if which == 0 else nodes.then[number]
        for r in range(nodes.row_at[child], nodes.row_at[child + 1]):
            t = nodes.rows[r, 0]
            if needs[t, PLACE] == 0:
                listed[size] = t
                size += 1
            needs[t, PLACE] |= nodes.rows[r, PLACE]
            needs[t, VISITS] = max(needs[t, VISITS], nodes.rows[r, VISITS])
            needs[t, AFTER] = max(needs[t, AFTER], nodes.rows[r, VISITS])
        pair, fits = _bind_as(nodes, scratch, child, pair)
        has_room &= fits
    return _file_needs(nodes, scratch, number, size, pair, has_room)


@njit(cache=True, nogil=True)
def hash_of(branches: Longs, then: int) -> int:
    """Return a number that stands for a node's branches and what follows them."""
    key = np.int64(then) + 7
    for i in range(len(branches)):
        for column in range(3):
            key = (key ^ np.int64(branches[i, column])) * np.int64(1099511628211)
            key ^= key >> np.int64(29)
    return int(key)


@njit(cache=True, nogil=True)
def file(nodes: Nodes, number: int) -> None:
    """Note in the table where a node is."""
    own = nodes.branches[nodes.branch_at[number] : nodes.branch_at[number + 1]]
    mask = len(nodes.table) - 1
    place = hash_of(own, nodes.then[number]) & mask
    while nodes.table[place] >= 0:
        place = (place + 1) & mask
    nodes.table[place] = number


@njit(cache=True, nogil=True)
def file_again(nodes: Nodes) -> None:
    """Fill an empty table."""
    for number in range(nodes.used[NODES]):
        file(nodes, number)


@njit(cache=True, nogil=True)
def put(nodes: Nodes, scratch: Scratch, count: int, then: int) -> int:
    """Add a node with the first ``count`` of the branches kept; return its number, or no room."""
    number, begin = nodes.used[NODES], nodes.used[BRANCHES]
    if number + 1 >= len(nodes.then) or begin + count > len(nodes.branches):
        return NO_ROOM
    for i in range(count):
        for column in range(3):
            nodes.branches[begin + i, column] = scratch.kept[i, column]
        nodes.freed[begin + i, 1] = -1
    nodes.then[number] = then
    nodes.branch_at[number + 1] = begin + count
    if not learn(nodes, scratch, number):
        return NO_ROOM
    nodes.used[NODES], nodes.used[BRANCHES] = number + 1, begin + count
    file(nodes, number)
    return int(number)


@njit(cache=True, nogil=True)
def intern(nodes: Nodes, scratch: Scratch, count: int, then: int) -> int:
    """Return the node with the first ``count`` of the branches kept, known or new."""
    kept = scratch.kept
    if count == 0:
        return then
    if then < 0 and count == 1:
        return int(kept[0, CHILD])
    mask = len(nodes.table) - 1
    place = hash_of(kept[:count], then) & mask
    while nodes.table[place] >= 0:
        known = nodes.table[place]
        begin = nodes.branch_at[known]
        is_same = nodes.then[known] == then and nodes.branch_at[known + 1] - begin == count
        for i in range(count if is_same else 0):
            for column in range(3):
                is_same &= nodes.branches[begin + i, column] == kept[i, column]
        if is_same:
            return int(known)
        place = (place + 1) & mask
    return put(nodes, scratch, count, then)


@njit(cache=True, nogil=True)
def advance(nodes: Nodes, scratch: Scratch, number: int, setting: int) -> int:
    """Do all of a node that a setting can do; return the branch that says what is left."""
    branches, stack, out = nodes.branches, scratch.stack, scratch.out
    first = nodes.branch_at[number]
    while branches[first, SETTING] != setting:
        first += 1
    if nodes.freed[first, 1] >= 0:
        return int(first)
    stack[0] = number
    depth, found = 1, 0
    while depth:
        depth -= 1
        here = stack[depth]
        # What another device releases is listed as it is: the visit does not go on with it.
        is_released = here < 0
        if is_released:
            here = -1 - here
        begin, end = nodes.branch_at[here], nodes.branch_at[here + 1]
        if begin == end:
            continue
        if depth + end - begin + 1 > len(stack) or end - begin > len(scratch.kept):
            return NO_ROOM
        if branches[begin, SETTING] == FREE:
            stack[depth], stack[depth + 1] = -1 - branches[begin, CHILD], -1 - nodes.then[here]
            depth += 2
            continue
        kept = NOTHING
        for b in range(begin, begin if is_released else end):
            if branches[b, SETTING] == setting:
                stack[depth] = branches[b, CHILD]
                depth += 1
            else:
                for column in range(3):
                    scratch.kept[kept, column] = branches[b, column]
                kept += 1
        if is_released or kept == end - begin:
            place = 0
            while place < found and out[place] < here:
                place += 1
            if place == found or out[place] != here:
                if found == len(out):
                    return NO_ROOM
                for i in range(found, place, -1):
                    out[i] = out[i - 1]
                out[place] = here
                found += 1
        elif kept or nodes.then[here] >= 0:
            rest = intern(nodes, scratch, kept, nodes.then[here])
            if rest == NO_ROOM:
                return NO_ROOM
            stack[depth] = rest
            depth += 1
    start = nodes.used[RELEASED]
    if start + found > len(nodes.released):
        return NO_ROOM
    for i in range(found):
        nodes.released[start + i] = out[i]
    nodes.freed[first, 0], nodes.freed[first, 1] = start, found
    nodes.used[RELEASED] = start + found
    return int(first)
