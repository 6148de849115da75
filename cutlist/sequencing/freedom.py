"""A lower bound on settings over all orders *and* all equivalent ways to take the layouts apart.

The order search peels strips one at a time, with the child at the fence. The same layout may also
be divided in other ways: the waste first, several strips together, measured from the far side, or
a grid of panels by its rows instead of its columns. So nothing is said here about which cut has to
come before which; what is counted is the distances that cannot be done without. A strip of n
pieces, its waste being one of them, takes n - 1 cuts, and a distance for each size but one that
comes out as the remainder. A grid cut the other way round divides each of its strips more than
once, but into the same pieces.

A cut between two groups of pieces sets a distance that is no child's size (a *group* size), and in
return lets one more child come out as a remainder. That pays only if the group's size is a setting
that serves something else too. The strips where that can happen are left out; every other strip is
counted, since exchanging the group's setting for the freed child's never needs more settings.

Not covered are trees that cut the waste of a strip into further pieces.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import product
from math import prod

from cutlist.model.layout import Axis, Layout, Strip
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import NONE, Branch, Forest
from cutlist.sequencing.order import least_settings
from cutlist.sequencing.strips import extent, slack_of, strips_of

_MANY_GROUPS = 4096


@dataclass(frozen=True, slots=True)
class _Run:
    """A strip along its axis: its children's sizes with counts, sorted, and its waste piece.

    The waste is the slack less a kerf; None without slack. Where the blade takes all of the slack
    it is 0 or negative: no piece of its own, yet a child may be cut off together with it.

    ``beyond`` is the child beyond the fence's reach, not among the others, or 0. Every cut of such
    a strip has to keep the side without it, so it is the remainder of them all.
    """

    children: tuple[tuple[int, int], ...]
    waste: int | None
    beyond: int = 0


def bound_over_trees(layouts: Iterable[Layout], fence: Fence, expansions: int) -> int:
    """Return a lower bound on settings for stock whose own edges are clean.

    Parameters
    ----------
    layouts
        The distinct layouts; where a child is beyond the fence's reach, the strip's waste is not.
    fence
        The saw.
    expansions
        Allowance of the order search on the relaxed forest.
    """
    runs = {_run(strip, fence) for layout in layouts for strip in strips_of(layout)}
    forest = Forest()
    nodes = [_node(forest, run) for run in runs - _doubtful(runs, fence)]
    return least_settings(forest, nodes, expansions=expansions)


def _node(forest: Forest, run: _Run) -> int:
    """Return the node of a strip whose pieces need no further cuts."""
    waste = forest.waste
    branches = [Branch(size, waste) for size, number in run.children for _ in range(number)]
    if not run.beyond:
        return forest.work(Axis.X, branches, NONE if run.waste is None else waste)
    if run.waste is not None:
        branches.append(Branch(run.waste, waste))
    return forest.work(Axis.X, branches, waste)


def _run(strip: Strip, fence: Fence) -> _Run:
    sizes = Counter(extent(child, strip.axis) for child in strip.children)
    beyond = next((size for size in sizes if not fence.reaches(size)), 0)
    slack = slack_of(strip, fence.kerf)
    children = tuple(sorted(item for item in sizes.items() if item[0] != beyond))
    return _Run(children, slack - fence.kerf if slack else None, beyond)


def _doubtful(runs: set[_Run], fence: Fence) -> set[_Run]:
    """Return the runs in which a group's size may serve as a setting elsewhere too.

    Beside a child beyond reach any group is reason enough: it frees that child in one visit, before
    the group itself is divided.
    """
    uses: dict[int, set[object]] = {}
    groups: dict[_Run, set[int]] = {}
    unlisted: set[_Run] = set()
    doubtful: set[_Run] = set()
    for run in runs:
        for size, _ in run.children:
            uses.setdefault(size, set()).add(size)
        if prod(number + 1 for _, number in run.children) > _MANY_GROUPS:
            unlisted.add(run)
            continue
        groups[run] = set()
        for size, user in _groups(run, fence.kerf):
            if fence.reaches(size):
                groups[run].add(size)
                uses.setdefault(size, set()).add(user)
                if run.beyond and user != size:
                    doubtful.add(run)
    for run, sizes in groups.items():
        # Where a run's groups are too many to list, any size may be one of theirs.
        if any(len(uses[size]) > 1 for size in sizes) or (sizes and unlisted):
            doubtful.add(run)
    return doubtful | unlisted


def _groups(run: _Run, kerf: int) -> Iterator[tuple[int, object]]:
    """Yield the size of each group that can be cut off together, and what that is a use for.

    Measured from the far side, the cut that leaves one child stands for the child's own. Any other
    cut between two groups is a use by itself: two of one run may share their size, too. Beside a
    child beyond the fence's reach all others may come off together, and its waste is cut as a
    child is.
    """
    pieces = run.children if run.waste is None else (*run.children, (run.waste, 1))
    numbers = [number for _, number in pieces]
    total = sum(numbers) + (1 if run.beyond else 0)
    for taken in product(*(range(number + 1) for number in numbers)):
        members = sum(taken)
        size = sum(t * s for t, (s, _) in zip(taken, pieces, strict=True)) + (members - 1) * kerf
        is_waste = members == 1 and run.waste is not None and taken[-1] == 1
        if size <= 0 or members == total or (members < 2 and not is_waste):
            continue
        if run.beyond:
            yield size, size if is_waste else (run, taken)
            continue
        left = tuple(number - t for number, t in zip(numbers, taken, strict=True))
        child = [s for (s, _), n in zip(run.children, left, strict=False) if n]
        yield size, child[0] if total - members == 1 and child else (run, min(taken, left))
