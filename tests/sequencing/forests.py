"""Small forests as plain data, and their fewest settings found one single cut at a time.

The search here knows nothing of :class:`cutlist.sequencing.forest.Forest`: pieces are a multiset,
each move is one cut, and turning to another setting costs one. It makes none of the shortcuts that
the program makes (equal pieces as one, doing everything that a setting can do).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import product

from hypothesis import strategies as st

from cutlist.model.layout import Axis
from cutlist.sequencing.forest import NONE, Branch, Forest


@dataclass(frozen=True, slots=True)
class Task:
    """What a piece needs: ``cuts`` in any order, each a setting and what comes off there.

    ``then`` is what the remainder needs after all of them; with ``is_spare`` the last of ``cuts``
    is not made, the remainder being its piece. Without cuts there is nothing to do.
    """

    cuts: tuple[tuple[int, Task], ...] = ()
    then: Task | None = None
    is_spare: bool = False


DONE = Task()


def count(task: Task) -> int:
    """Count the cuts written down in a task."""
    below = sum(1 + count(child) for _, child in task.cuts)
    return below + (count(task.then) if task.then else 0)


def settled(task: Task) -> Task:
    """Return what a piece really needs: itself, its only spare piece, or its remainder's task."""
    while True:
        if task.is_spare and len(task.cuts) == 1:
            task = task.cuts[0][1]
        elif not task.cuts and task.then is not None:
            task = task.then
        else:
            return task


def after(task: Task, index: int) -> tuple[Task, Task]:
    """Make one cut: the piece that comes off, and what remains."""
    left = task.cuts[:index] + task.cuts[index + 1 :]
    return settled(task.cuts[index][1]), settled(Task(left, task.then, task.is_spare))


def fewest(tasks: tuple[Task, ...]) -> int:
    """Return the fewest settings that finish all tasks, by breadth-first search over cuts."""
    start = _bench(settled(task) for task in tasks)
    waiting: deque[tuple[int, int, tuple[Task, ...]]] = deque([(0, NONE, start)])
    seen: set[tuple[int, tuple[Task, ...]]] = set()
    while waiting:
        used, setting, bench = waiting.popleft()
        if not bench:
            return used
        if (setting, bench) in seen:
            continue
        seen.add((setting, bench))
        for place, task in enumerate(bench):
            if place and bench[place - 1] == task:
                continue
            for index, (distance, _) in enumerate(task.cuts):
                pair = after(task, index)
                following = _bench((*bench[:place], *bench[place + 1 :], *pair))
                if distance == setting:
                    waiting.appendleft((used, setting, following))
                else:
                    waiting.append((used + 1, distance, following))
    raise AssertionError("every bench can be finished")


def _bench(tasks: Iterator[Task] | tuple[Task, ...]) -> tuple[Task, ...]:
    return tuple(sorted((task for task in tasks if task.cuts), key=_key))


@lru_cache(maxsize=200_000)
def _key(task: Task) -> str:
    return repr(task)


def follows(tasks: tuple[Task, ...], settings: tuple[int, ...]) -> bool:
    """Whether the settings, in this order, finish all tasks; each task stands by itself."""
    return all(_finishes(settled(task), settings) for task in tasks)


@lru_cache(maxsize=200_000)
def _finishes(task: Task, settings: tuple[int, ...]) -> bool:
    if not task.cuts:
        return True
    for start, setting in enumerate(settings):
        for index, (distance, _) in enumerate(task.cuts):
            if distance == setting:
                off, rest = after(task, index)
                if _finishes(off, settings[start:]) and _finishes(rest, settings[start:]):
                    return True
    return False


def add_task(forest: Forest, task: Task) -> int:
    """Build a task's node."""
    if not task.cuts:
        return add_task(forest, task.then) if task.then else forest.waste
    branches = [Branch(setting, add_task(forest, child)) for setting, child in task.cuts]
    if task.is_spare:
        return forest.work(Axis.X, branches)
    return forest.work(Axis.X, branches, add_task(forest, task.then) if task.then else forest.waste)


def chain(settings: str | tuple[int, ...]) -> Task:
    """Return the task whose cuts must be made in this order, each on what the last one kept."""
    numbers = [ord(setting) if isinstance(setting, str) else setting for setting in settings]
    task = DONE
    for number in reversed(numbers):
        task = Task(((number, task),), DONE)
    return task


def every_task(cuts: int, settings: int) -> tuple[Task, ...]:
    """Return all tasks of exactly so many cuts over settings 1 to ``settings``."""
    return _every_task(cuts, settings)


@cache
def _every_task(cuts: int, settings: int) -> tuple[Task, ...]:
    if cuts == 0:
        return (DONE,)
    found: set[Task] = set()
    for below in range(cuts):
        for branches in _every_bunch(cuts - below, settings):
            found |= {Task(branches, then) for then in _every_task(below, settings)}
            if below == 0 and len(branches) > 1:
                found.add(Task(branches, None, is_spare=True))
    return tuple(sorted(found, key=_key))


@cache
def _every_bunch(
    cuts: int, settings: int, bound: str = ""
) -> tuple[tuple[tuple[int, Task], ...], ...]:
    """Return all bunches of branches, in order of their text, that hold so many cuts together."""
    if cuts == 0:
        return ((),)
    bunches = []
    for size in range(cuts):
        for setting, task in product(range(1, settings + 1), _every_task(size, settings)):
            text = f"{setting} {_key(task)}"
            if text >= bound:
                for others in _every_bunch(cuts - 1 - size, settings, text):
                    bunches.append(((setting, task), *others))
    return tuple(bunches)


def every_forest(cuts: int, settings: int) -> Iterator[tuple[Task, ...]]:
    """Yield all forests of one or two tasks that hold so many cuts together."""
    for task in every_task(cuts, settings):
        yield (task,)
    for first in range(1, cuts // 2 + 1):
        yield from product(every_task(first, settings), every_task(cuts - first, settings))


@st.composite
def tasks(draw: st.DrawFn, *, cuts: int, settings: int) -> Task:
    """Draw a task of at most so many cuts."""
    if cuts == 0 or draw(st.integers(0, 5)) == 0:
        return DONE
    branches = []
    left = cuts
    for _ in range(draw(st.integers(1, min(3, cuts)))):
        if left == 0:
            break
        child = draw(tasks(cuts=draw(st.integers(0, left - 1)), settings=settings))
        branches.append((draw(st.integers(1, settings)), child))
        left -= 1 + count(child)
    if len(branches) > 1 and draw(st.booleans()):
        return Task(tuple(branches), None, is_spare=True)
    return Task(tuple(branches), draw(tasks(cuts=left, settings=settings)))


@st.composite
def forests(draw: st.DrawFn, *, cuts: int = 9, settings: int = 4) -> tuple[Task, ...]:
    """Draw a forest of one to four tasks with at most so many cuts together."""
    drawn = []
    for _ in range(draw(st.integers(1, 4))):
        drawn.append(draw(tasks(cuts=cuts, settings=settings)))
        cuts -= count(drawn[-1])
    return tuple(drawn)
