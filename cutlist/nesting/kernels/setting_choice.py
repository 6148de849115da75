"""Which device makes each cut, and where edges are cleaned: settings for tasks written down flat.

A cut that several devices may make goes to one that is set to its distance anyway. An edge is
cleaned at a distance that is set anyway, too, wherever there is one that leaves enough: all else
kept away from it; or only waste taken off with it; or a panel taken off with it, too wide, and cut
to size when it is turned. Where there is none a new distance is set.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numba import njit

from cutlist.nesting.kernels.bench import (
    BLADE,
    LEAST,
    LEAST_WASTE,
    MARK,
    MOST,
    MOST_TOOLS,
    ONE,
    ONE_CUT,
    WEIGHT,
    all_shared,
    at_least_fault,
)
from cutlist.nesting.kernels.cut_forest import (
    AXIS,
    BY_GUIDE,
    CHILD,
    CLEANING,
    COPIES,
    DISTANCE,
    FIXED,
    GUIDED,
    HOW,
    NEED,
    OFF,
    OPTIONAL,
    OWNER,
    PART,
    ROOM,
    SPARES,
    TASK,
    TASKS,
    TASKS_USED,
    THEN,
    TOOLS,
    UNSAFE,
    WASTE,
)
from cutlist.nesting.kernels.records import Ints, Longs

if TYPE_CHECKING:
    from cutlist.nesting.kernels.bench import Bench
    from cutlist.nesting.kernels.cut_forest import CutForest

# How an edge is cleaned: all else kept, waste kept, or a panel of so much more than this size.
ONLY_WASTE, ALL_ELSE, TOO_WIDE = 0, 1, 2
# Columns of ``of_task``: number of its setting, -1 where it is not cut or a guide cuts it.
NUMBER, FOLLOWING = 0, 1
# Columns of ``of_setting``: distance and tool, and what the count needs; where it is filed.
AT, BY, HEAD, READY, WAITING, SLOT = 0, 1, 2, 3, 4, 5
SETTING_FIELDS = 6


class Settings(NamedTuple):
    """Room for the settings of a forest.

    Parameters
    ----------
    numbers
        Hash table from distance and tool to the number of a setting: rows key, number; its length
        a power of two. It is empty between two choices.
    of_task, of_setting
        Rows whose columns are named above.
    """

    numbers: Longs
    of_task: Ints
    of_setting: Ints


@njit(cache=True, nogil=True)
def settings_room(rows: int) -> Settings:
    """Return the room for forests of so many tasks."""
    slots = 1 << 10
    while slots < 2 * rows:
        slots *= 2
    return Settings(
        np.full((slots, 2), -1, np.int64),
        np.empty((rows, 2), np.int32),
        np.empty((rows, SETTING_FIELDS), np.int32),
    )


@njit(cache=True, nogil=True)
def _slot(settings: Settings, key: int) -> int:
    """Return where a key stands in the table, or would stand."""
    numbers = settings.numbers
    mask = numbers.shape[0] - 1
    at = (key * 40503) & mask
    while numbers[at, 1] >= 0 and numbers[at, 0] != key:
        at = (at + 1) & mask
    return int(at)


@njit(cache=True, nogil=True)
def _setting(settings: Settings, distance: int, tool: int, used: int) -> int:
    """Return the number of a setting; ``used`` for one that is new."""
    key = distance * MOST_TOOLS + tool
    at = _slot(settings, key)
    if settings.numbers[at, 1] < 0:
        settings.numbers[at, 0], settings.numbers[at, 1] = key, used
        row = settings.of_setting[used]
        row[AT], row[BY], row[HEAD], row[READY], row[WAITING] = distance, tool, -1, 0, 0
        row[SLOT] = at
    return int(settings.numbers[at, 1])


@njit(cache=True, nogil=True)
def _known(settings: Settings, bench: Bench, distance: int, tools: int) -> int:
    """Return a setting of some tools that there is at a distance; -1 for none."""
    for tool in range(bench.tools.shape[0]):
        if tools >> tool & 1:
            number = settings.numbers[_slot(settings, distance * MOST_TOOLS + tool), 1]
            if number >= 0:
                return int(number)
    return -1


@njit(cache=True, nogil=True)
def _lightest(bench: Bench, tools: int) -> int:
    """Return the tool among some whose set-up weighs least."""
    best = -1
    for tool in range(bench.tools.shape[0]):
        if tools >> tool & 1 and (
            best < 0 or bench.tools[tool, WEIGHT] < bench.tools[best, WEIGHT]
        ):
            best = tool
    return best


@njit(cache=True, nogil=True)
def _up(distance: int, mark: int) -> int:
    """Return the first mark at or above a distance."""
    return -(-distance // mark) * mark


@njit(cache=True, nogil=True)
def _is_piece(child: Ints) -> bool:
    """Say whether a task takes a piece off that is of use, at a distance of its own."""
    return bool(child[NEED] == FIXED and (child[CHILD] >= 0 or child[PART] >= 0))


@njit(cache=True, nogil=True)
def _how(forest: CutForest, bench: Bench, k: int, distance: int, tool: int, is_forced: bool) -> int:
    """Return how an edge is cleaned by a tool at a distance; -1 if it is not.

    The answer for a panel taken off too wide is its task's number more than ``TOO_WIDE``. Where it
    ``is_forced`` nothing but the reach of the tool counts.
    """
    task, row = forest.tasks[k], bench.tools[tool]
    if not (ONE if is_forced else row[LEAST]) <= distance <= row[MOST]:
        return -1
    spares, off = task[SPARES], task[OFF]
    s = task[CHILD]
    # Blades not alike leave the others wider than reckoned; then their rest has to be waste.
    is_free = s >= 0 and (bench.slip == 0 or forest.strips[s, THEN] == WASTE)
    if is_free and forest.strips[s, AXIS] == forest.strips[task[OWNER], AXIS]:
        for c in range(forest.strips[s, TASK], forest.strips[s, TASK] + forest.strips[s, TASKS]):
            child = forest.tasks[c]
            if _is_piece(child):
                size = child[DISTANCE]
                if size + off <= distance <= size + off + spares:
                    return int(TOO_WIDE + c)
    most = task[ROOM] - off
    if most - spares <= distance <= most:
        return ALL_ELSE
    least = max(off - row[BLADE], ONE if is_forced else row[LEAST_WASTE])
    if least <= distance <= off - row[BLADE] + spares:
        return ONLY_WASTE
    return -1


@njit(cache=True, nogil=True)
def _fresh(forest: CutForest, bench: Bench, k: int, tools: int, is_forced: bool) -> tuple[int, int]:
    """Return tool and distance by which an edge is cleaned where nothing is set that would do."""
    task = forest.tasks[k]
    best, at = -1, 0
    for tool in range(bench.tools.shape[0]):
        row = bench.tools[tool]
        if not tools >> tool & 1:
            continue
        if best >= 0 and bench.tools[best, WEIGHT] <= row[WEIGHT]:
            continue
        most = min(task[ROOM] - task[OFF], row[MOST])
        most -= most % row[MARK]
        if _how(forest, bench, k, most, tool, is_forced) >= 0:
            best, at = tool, most
            continue
        if _how(forest, bench, k, task[ROOM] - task[OFF], tool, is_forced) >= 0:
            best, at = tool, task[ROOM] - task[OFF]
            continue
        s, found = task[CHILD], 0
        first = forest.strips[s, TASK] if s >= 0 else 0
        for c in range(first, first + forest.strips[s, TASKS] if s >= 0 else 0):
            child = forest.tasks[c]
            if _is_piece(child):
                wide = _up(child[DISTANCE] + task[OFF], row[MARK])
                if wide > found and _how(forest, bench, k, wide, tool, is_forced) >= 0:
                    found = wide
                exact = child[DISTANCE] + task[OFF]
                if found == 0 and _how(forest, bench, k, exact, tool, is_forced) >= 0:
                    found = exact
        waste = max(task[OFF] - row[BLADE], ONE if is_forced else row[LEAST_WASTE])
        marked = _up(waste, row[MARK])
        if found == 0 and _how(forest, bench, k, marked, tool, is_forced) >= 0:
            found = marked
        if found == 0 and _how(forest, bench, k, waste, tool, is_forced) >= 0:
            found = waste
        if found > 0:
            best, at = tool, found
    return best, at


@njit(cache=True, nogil=True)
def choose_settings(forest: CutForest, bench: Bench, settings: Settings) -> int:
    """Give every task its setting, and return how many settings there are.

    Edges to be cleaned are told how; those that only a guide cleans become tasks of a guide.
    """
    tasks, of_task, of_setting = forest.tasks, settings.of_task, settings.of_setting
    count = forest.sizes[TASKS_USED]
    used = 0
    cleanings = 0
    for k in range(count):
        of_task[k, NUMBER] = -1
        if tasks[k, HOW] >= 0:
            # It was counted before, beside other cuts.
            tasks[k, HOW], tasks[k, NEED] = -1, CLEANING
        if tasks[k, NEED] == CLEANING:
            cleanings += 1
        tools = tasks[k, TOOLS]
        if tasks[k, NEED] == FIXED and tools & (tools - 1) == 0:
            of_task[k, NUMBER] = _setting(
                settings, tasks[k, DISTANCE], _lightest(bench, tools), used
            )
            used = max(used, of_task[k, NUMBER] + 1)
    for k in range(count):
        if tasks[k, NEED] == FIXED and of_task[k, NUMBER] < 0:
            number = _known(settings, bench, tasks[k, DISTANCE], tasks[k, TOOLS])
            if number < 0:
                tool = _lightest(bench, tasks[k, TOOLS])
                number = _setting(settings, tasks[k, DISTANCE], tool, used)
                used = max(used, number + 1)
            of_task[k, NUMBER] = number
    if cleanings > 0:
        used = _clean(forest, bench, settings, used)
    for k in range(count):
        if tasks[k, NEED] == OPTIONAL:
            of_task[k, NUMBER] = _known(settings, bench, tasks[k, DISTANCE], tasks[k, TOOLS])
    for number in range(used):
        of_setting[number, WAITING] = 0
        settings.numbers[of_setting[number, SLOT], 1] = -1
    for k in range(count):
        if of_task[k, NUMBER] >= 0:
            of_setting[of_task[k, NUMBER], WAITING] += 1
    return int(used)


@njit(cache=True, nogil=True)
def _clean(forest: CutForest, bench: Bench, settings: Settings, used: int) -> int:
    """Choose where edges are cleaned; return how many settings there are then."""
    tasks, of_task, of_setting = forest.tasks, settings.of_task, settings.of_setting
    count = forest.sizes[TASKS_USED]
    begin = 0
    while True:
        # What can be done at settings that there are, the new ones since the last look.
        for k in range(count):
            if tasks[k, NEED] != CLEANING or of_task[k, NUMBER] >= 0:
                continue
            for number in range(begin, used):
                tool = of_setting[number, BY]
                if tasks[k, TOOLS] >> tool & 1:
                    how = _how(forest, bench, k, of_setting[number, AT], tool, False)
                    # A panel taken off too wide needs no skim; that is the best there is.
                    if how > tasks[k, HOW]:
                        of_task[k, NUMBER], tasks[k, HOW] = number, how
                    if how >= TOO_WIDE:
                        break
        begin = used
        # The smallest of the others gets a distance of its own, which may serve larger ones.
        best = -1
        for k in range(count):
            is_open = tasks[k, NEED] == CLEANING and of_task[k, NUMBER] < 0
            if is_open and (best < 0 or tasks[k, DISTANCE] < tasks[best, DISTANCE]):
                best = k
        if best < 0:
            return used
        tool, distance = _fresh(forest, bench, best, tasks[best, TOOLS], False)
        if tool < 0 and tasks[best, BY_GUIDE] >= 0:
            tasks[best, HOW], tasks[best, NEED] = ALL_ELSE, GUIDED
            continue
        is_forced = tool < 0
        if is_forced:
            # No device may: the edge goes all the same, and the plan says so.
            forest.sizes[UNSAFE] += tasks[best, COPIES]
            tool, distance = _fresh(forest, bench, best, all_shared(bench), True)
            if tool < 0:
                distance = tasks[best, DISTANCE]
                tool = at_least_fault(bench, distance)
                if bench.tools[tool, ONE_CUT]:
                    tasks[best, HOW], tasks[best, NEED] = ALL_ELSE, GUIDED
                    tasks[best, BY_GUIDE] = tool
                    continue
        number = _setting(settings, distance, tool, used)
        of_task[best, NUMBER] = number
        tasks[best, HOW] = _how(forest, bench, best, distance, tool, is_forced)
        if tasks[best, HOW] < 0:
            tasks[best, HOW] = ALL_ELSE
        used = max(used, number + 1)
