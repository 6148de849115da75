"""The compiled search for an order of settings: many states side by side, level by level."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numba import njit

from cutlist.sequencing.order_kernels.records import (
    ASKED,
    BASE,
    BOUND_PAIRS,
    BY,
    CHOICES,
    COMES,
    DEEPS,
    DONE,
    EFFORT,
    FOUND,
    FROM,
    GOES,
    HASH,
    LEAST,
    LEVEL,
    LIMIT,
    LIVE,
    MUSTS,
    NO_ROOM,
    NOTHING,
    NUMBER,
    OPEN,
    PAUSED,
    RANKS,
    TICK,
    TOPS,
    WIDTH,
)
from cutlist.sequencing.order_kernels.states import (
    copy_list,
    copy_state,
    link_up,
    move,
    settle,
    shift,
    unclaimed,
)

if TYPE_CHECKING:
    from cutlist.sequencing.order_kernels.records import Bytes, Longs, Nodes, Scratch, States


@njit(cache=True, nogil=True)
def worth_trying(scratch: Scratch, states: States, slot: int, is_held: Bytes, most: int) -> int:
    """List as ``chosen`` the settings to go on with from a state; return how many they are.

    A setting that must be visited and occurs nowhere below the top is the only one: one visit now
    does all of it. One that is held waits for as long as something else can be done. Of more than
    ``most`` those are taken that occur least below the top, and most at it.
    """
    places, chosen = states.places[slot], scratch.chosen
    count, has_free = 0, False
    for s in range(len(places)):
        if places[s, MUSTS] and not places[s, DEEPS]:
            chosen[0] = s
            return 1
        has_free |= places[s, TOPS] > 0 and not (is_held[s] and places[s, DEEPS])
    for s in range(len(places)):
        if places[s, TOPS] and not (has_free and is_held[s] and places[s, DEEPS]):
            chosen[count] = s
            count += 1
    for i in range(most if most < count else 0):
        least = i
        for j in range(i + 1, count):
            s, t = chosen[j], chosen[least]
            before = places[t, DEEPS] - 2 * places[t, TOPS]
            if places[s, DEEPS] - 2 * places[s, TOPS] < before:
                least = j
        chosen[i], chosen[least] = chosen[least], chosen[i]
    return min(most, count)


@njit(cache=True, nogil=True)
def is_known(scratch: Scratch, key: int, tick: int) -> bool:
    """Say whether a state was found on this level before, and note it."""
    mask = len(scratch.hashes) - 1
    place = (key ^ (key >> np.int64(32))) & mask
    while scratch.hashed[place] == tick:
        if scratch.hashes[place] == key:
            return True
        place = (place + 1) & mask
    scratch.hashes[place], scratch.hashed[place] = key, tick
    return False


@njit(cache=True, nogil=True)
def is_below(rank: tuple[int, int, int], other: Longs) -> bool:
    """Say whether a rank comes before that of a row of ``best``."""
    for column in range(RANKS):
        if rank[column] != other[column]:
            return bool(rank[column] < other[column])
    return False


@njit(cache=True, nogil=True)
def go_on(
    nodes: Nodes,
    scratch: Scratch,
    states: States,
    trail: Longs,
    run: Longs,
    kept: int,
    are_all: bool,
) -> bool:
    """Make the states kept those of the next level; False without room."""
    best, level = scratch.best, run[LEVEL]
    if are_all:
        # Where all go on they keep the order in which they were found.
        for i in range(1, kept):
            for j in range(i, 0, -1):
                if best[j, NUMBER] < best[j - 1, NUMBER]:
                    for column in range(best.shape[1]):
                        here = best[j, column]
                        best[j, column], best[j - 1, column] = best[j - 1, column], here
    is_alone = run[LIVE] == 1 and kept == 1
    base = run[BASE]
    if not is_alone:
        base = 0 if base else len(states.sums) // 2
    for i in range(kept):
        source, slot, setting = run[BASE] + best[i, FROM], base + i, best[i, BY]
        if not is_alone:
            copy_state(states, slot, source)
            if not link_up(nodes, scratch, states, slot):
                return False
        added = move(nodes, scratch, states, slot, scratch.head[setting], setting)
        if added == NO_ROOM:
            return False
        settle(scratch, states, slot, added)
        trail[level, i, 0], trail[level, i, 1] = best[i, FROM], setting
    run[BASE], run[LIVE], run[LEVEL] = base, kept, level + 1
    return True


@njit(cache=True, nogil=True)
def search(
    nodes: Nodes, scratch: Scratch, states: States, trail: Longs, is_held: Bytes, run: Longs
) -> int:
    """Go on level by level until a state needs nothing more, or ``run`` has had its effort.

    Of each level the states of least bound go on, and among equals those with the fewest settings
    bound to an order, then those that ask for the fewest visits. Without room the level is begun
    again after there is more.
    """
    best = scratch.best
    while True:
        live, base = run[LIVE], run[BASE]
        for i in range(live):
            if states.sums[base + i, OPEN] == 0:
                run[FOUND] = i
                return DONE
        if run[EFFORT] >= run[LIMIT]:
            return PAUSED
        if run[LEVEL] == len(trail):
            return NO_ROOM
        width = run[WIDTH]
        nodes.used[TICK] += 1
        level = nodes.used[TICK]
        number = kept = NOTHING
        for i in range(live):
            slot = base + i
            if not link_up(nodes, scratch, states, slot):
                return NO_ROOM
            count = worth_trying(scratch, states, slot, is_held, run[CHOICES])
            for c in range(count):
                setting = scratch.chosen[c]
                begin = scratch.head[setting]
                if count == 1 and live == 1:
                    best[0, FROM], best[0, BY], kept, number = i, setting, 1, 1
                    break
                added = move(nodes, scratch, states, slot, begin, setting)
                if added == NO_ROOM:
                    return NO_ROOM
                run[EFFORT] += 1
                sums = states.sums[slot]
                if not is_known(scratch, sums[HASH], level):
                    least = sums[LEAST] + unclaimed(nodes, scratch, states, slot, added)
                    rank = (least, sums[BOUND_PAIRS], sums[ASKED])
                    place = min(kept, width)
                    while place > 0 and is_below(rank, best[place - 1]):
                        if place < width:
                            copy_list(best[place], best[place - 1])
                        place -= 1
                    if place < width:
                        for column in range(RANKS):
                            best[place, column] = rank[column]
                        best[place, NUMBER] = number
                        best[place, FROM], best[place, BY] = i, setting
                        kept = min(kept + 1, width)
                    number += 1
                for a in range(added):
                    shift(nodes, states, slot, scratch.added[a], GOES)
                while begin >= 0:
                    shift(nodes, states, slot, scratch.links[begin, 0], COMES)
                    begin = scratch.links[begin, 1]
        run[EFFORT] += 1
        if not go_on(nodes, scratch, states, trail, run, kept, number <= width):
            return NO_ROOM
