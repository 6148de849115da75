"""How often the devices of a shop are set for cuts written down flat: a quick count for the search.

The settings are gone through greedily: what can be cut at one is all cut, and one that nothing
below still waits for goes first. What a guide cuts is cut at once, each cut a set-up of its own.
The count is that of a real order of cuts, so it is never below the fewest; the exact order is
sought elsewhere.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numba import njit

from cutlist.nesting.kernels.bench import WEIGHT
from cutlist.nesting.kernels.cut_forest import (
    BY_GUIDE,
    CHILD,
    COPIES,
    GUIDED,
    HOW,
    NEED,
    OPTIONAL,
    OWNER,
    ROOTS_USED,
    SPARE,
    STRIPS_USED,
    TASK,
    TASKS,
    TASKS_USED,
    THEN,
    UNSAFE,
)
from cutlist.nesting.kernels.filling import draw
from cutlist.nesting.kernels.records import Ints, Longs
from cutlist.nesting.kernels.setting_choice import (
    BY,
    FOLLOWING,
    HEAD,
    NUMBER,
    READY,
    TOO_WIDE,
    WAITING,
    Settings,
    choose_settings,
    settings_room,
)

if TYPE_CHECKING:
    from cutlist.nesting.kernels.bench import Bench
    from cutlist.nesting.kernels.cut_forest import CutForest
    from cutlist.nesting.kernels.records import Words

# Entries of ``tally``: what all set-ups weigh, how many there are, those of a guide among them,
# cuts no tool may make, cuts, 1000 times the sum over settings of n / (n + 1) for their n cuts, and
# cuts that do nothing but clean an edge.
WEIGHS, SETUPS, BY_THE_GUIDE, UNSAFE_CUTS, CUTS, RARITY, SKIMS = 0, 1, 2, 3, 4, 5, 6
TALLIES = 7
# Columns of ``of_strip``: tasks left, whether the remainder is a task's own piece.
LEFT, IS_SPARE = 0, 1


class CountRoom(NamedTuple):
    """Room that a count works in.

    Parameters
    ----------
    settings
        That of the choice of settings.
    of_strip
        Rows whose columns are named above.
    released
        Strips that are there and not yet looked at.
    put_off
        Strips for a guide that came up at a setting: their number, then they themselves.
    tally
        Receives what was counted; see its entries above.
    """

    settings: Settings
    of_strip: Ints
    released: Ints
    put_off: Ints
    tally: Longs


@njit(cache=True, nogil=True)
def count_room(rows: int) -> CountRoom:
    """Return the room for so many cuts in all."""
    return CountRoom(
        settings_room(rows),
        np.empty((rows, 2), np.int32),
        np.empty(2 * rows, np.int32),
        np.zeros(rows + 1, np.int32),
        np.zeros(TALLIES, np.int64),
    )


@njit(cache=True, nogil=True)
def _release(forest: CutForest, room: CountRoom, depth: int, is_set: bool) -> None:
    """Make the tasks of released strips ready, and do at once those that a guide does.

    While a device is set (``is_set``) what is for a guide is put off until it is no more.
    """
    strips, tasks = forest.strips, forest.tasks
    of_task, of_setting = room.settings.of_task, room.settings.of_setting
    while depth > 0:
        depth -= 1
        s = room.released[depth]
        first = strips[s, TASK]
        if strips[s, TASKS] > 0 and tasks[first, NEED] == GUIDED:
            if is_set:
                room.put_off[0] += 1
                room.put_off[room.put_off[0]] = s
                continue
            if tasks[first, CHILD] >= 0:
                room.released[depth] = tasks[first, CHILD]
                depth += 1
        if room.of_strip[s, LEFT] == 0 and strips[s, THEN] >= 0:
            room.released[depth] = strips[s, THEN]
            depth += 1
        for k in range(strips[s, TASK], strips[s, TASK] + strips[s, TASKS]):
            number = of_task[k, NUMBER]
            if number >= 0:
                of_task[k, FOLLOWING] = of_setting[number, HEAD]
                of_setting[number, HEAD] = k
                of_setting[number, READY] += 1


@njit(cache=True, nogil=True)
def _work(forest: CutForest, room: CountRoom, now: int) -> None:
    """Do all that can be done at a setting."""
    strips, tasks = forest.strips, forest.tasks
    of_task, of_setting, of_strip = room.settings.of_task, room.settings.of_setting, room.of_strip
    room.put_off[0] = 0
    while of_setting[now, HEAD] >= 0:
        k = of_setting[now, HEAD]
        of_setting[now, HEAD] = of_task[k, FOLLOWING]
        if of_task[k, NUMBER] < 0:
            continue
        s, depth = tasks[k, OWNER], 0
        rounds = 1
        if of_strip[s, LEFT] == 2 and of_strip[s, IS_SPARE] == 1:
            rounds = 2
        for _ in range(rounds):
            number = of_task[k, NUMBER]
            of_task[k, NUMBER] = -1
            of_setting[number, READY] -= 1
            of_setting[number, WAITING] -= 1
            of_strip[s, LEFT] -= 1
            if tasks[k, CHILD] >= 0:
                room.released[depth] = tasks[k, CHILD]
                depth += 1
            if rounds == 2:
                for other in range(strips[s, TASK], strips[s, TASK] + strips[s, TASKS]):
                    if of_task[other, NUMBER] >= 0:
                        k = other
        if of_strip[s, LEFT] == 0 and strips[s, THEN] >= 0:
            room.released[depth] = strips[s, THEN]
            depth += 1
        _release(forest, room, depth, True)
    for i in range(room.put_off[0]):
        room.released[i] = room.put_off[1 + i]
    _release(forest, room, room.put_off[0], False)


@njit(cache=True, nogil=True)
def _must_be_visited(forest: CutForest, room: CountRoom, number: int) -> bool:
    """Say whether some task that is ready at a setting cannot come free as a remainder."""
    strips, of_task = forest.strips, room.settings.of_task
    k = room.settings.of_setting[number, HEAD]
    while k >= 0:
        if of_task[k, NUMBER] >= 0:
            s = forest.tasks[k, OWNER]
            if room.of_strip[s, IS_SPARE] == 0:
                return True
            same = 0
            for other in range(strips[s, TASK], strips[s, TASK] + strips[s, TASKS]):
                if of_task[other, NUMBER] == number:
                    same += 1
            if same > 1:
                return True
        k = of_task[k, FOLLOWING]
    return False


@njit(cache=True, nogil=True)
def _next(forest: CutForest, room: CountRoom, settings: int, rng: Words) -> int:
    """Return the setting to go on with; -1 where all is done."""
    of_setting = room.settings.of_setting
    best, best_rank = -1, 1 << 30
    for d in range(settings):
        if of_setting[d, READY] == 0:
            continue
        later = of_setting[d, WAITING] - of_setting[d, READY]
        if later > 0:
            rank = 16 * later - min(15, of_setting[d, READY])
        else:
            if _must_be_visited(forest, room, d):
                return d
            rank = (1 << 20) - of_setting[d, READY]
        if rank < best_rank or (rank == best_rank and draw(rng, 2) == 0):
            best, best_rank = d, rank
    return best


@njit(cache=True, nogil=True)
def count_settings(forest: CutForest, bench: Bench, room: CountRoom, rng: Words) -> None:
    """Tally the set-ups of a greedy order of the flat forest; ``rng`` breaks ties."""
    strips, tasks, sizes, tally = forest.strips, forest.tasks, forest.sizes, room.tally
    of_task, of_setting, of_strip = room.settings.of_task, room.settings.of_setting, room.of_strip
    settings = choose_settings(forest, bench, room.settings)
    for entry in range(TALLIES):
        tally[entry] = 0
    tally[UNSAFE_CUTS] = sizes[UNSAFE]
    for d in range(settings):
        n = of_setting[d, WAITING]
        tally[CUTS] += n
        tally[RARITY] += 1000 * n // (n + 1)
    for k in range(sizes[TASKS_USED]):
        if 0 <= tasks[k, HOW] < TOO_WIDE:
            tally[SKIMS] += tasks[k, COPIES]
        if tasks[k, NEED] == GUIDED:
            tally[BY_THE_GUIDE] += tasks[k, COPIES]
            if tasks[k, BY_GUIDE] >= 0:
                tally[WEIGHS] += tasks[k, COPIES] * bench.tools[tasks[k, BY_GUIDE], WEIGHT]
    tally[SETUPS] = tally[BY_THE_GUIDE]
    for s in range(sizes[STRIPS_USED]):
        first, n = strips[s, TASK], strips[s, TASKS]
        of_strip[s, IS_SPARE] = 1 if strips[s, THEN] == SPARE else 0
        last = first + n - 1
        if n > 0 and tasks[last, NEED] == OPTIONAL:
            if of_task[last, NUMBER] < 0:
                n -= 1
            else:
                of_strip[s, IS_SPARE] = 1
        elif n > 0 and tasks[last, NEED] == GUIDED:
            n -= 1
        of_strip[s, LEFT] = n
    depth = 0
    for r in range(sizes[ROOTS_USED]):
        if forest.roots[r] >= 0:
            room.released[depth] = forest.roots[r]
            depth += 1
    _release(forest, room, depth, False)
    while True:
        now = _next(forest, room, settings, rng)
        if now < 0:
            return
        tally[SETUPS] += 1
        tally[WEIGHS] += bench.tools[of_setting[now, BY], WEIGHT]
        _work(forest, room, now)
