"""Among orders with as many settings, one that is pleasant to work by.

One device is used as long as it can, rips come before crosscuts and large distances before small
ones, and what is set moves on in one direction. One setting after the other is taken out and put in
elsewhere, as long as all pieces are still finished; no setting is ever added.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

from cutlist.model.layout import Axis
from cutlist.sequencing.forest import Forest
from cutlist.sequencing.parameters import USUAL, TidyParameters, never
from cutlist.sequencing.tools import tool_and_distance

Rank = tuple[int, int, int]


def tidied(
    forest: Forest,
    roots: Sequence[int],
    settings: Sequence[int],
    *,
    is_over: Callable[[], bool] = never,
    parameters: TidyParameters = USUAL.tidy,
) -> tuple[int, ...]:
    """Return the settings in a tidier order that finishes the roots as well.

    Parameters
    ----------
    forest, roots
        The nodes to finish.
    settings
        An order that finishes them.
    is_over
        Asked before each change; True ends the work.
    parameters
        What it is tuned by.
    """
    return _Tidying(forest, roots, parameters.looks).run(tuple(settings), is_over)


class _Tidying:
    def __init__(self, forest: Forest, roots: Sequence[int], looks: int) -> None:
        self._forest = forest
        self._start = forest.opened(roots)
        self._looks = looks
        axes: dict[int, set[Axis | None]] = {}
        for node in forest.nodes:
            for branch in () if node.is_free else node.branches:
                axes.setdefault(branch.setting, set()).add(node.axis)
        #: The axis of a setting's cuts where all have the same.
        self._axis = {setting: next(iter(a)) for setting, a in axes.items() if len(a) == 1}

    def run(self, order: tuple[int, ...], is_over: Callable[[], bool]) -> tuple[int, ...]:
        rank = self._rank(order)
        while self._looks > 0 and not is_over():
            better = self._better(order, rank)
            if better is None:
                break
            order, rank = better
        return order

    def _better(self, order: tuple[int, ...], rank: Rank) -> tuple[tuple[int, ...], Rank] | None:
        """Return the first tidier order found by moving one setting."""
        for place, setting in enumerate(order):
            others = order[:place] + order[place + 1 :]
            for other in range(len(order)):
                if other == place or self._looks <= 0:
                    continue
                self._looks -= len(order)
                trial = (*others[:other], setting, *others[other:])
                trial_rank = self._rank(trial)
                if trial_rank < rank and self._finishes(trial):
                    return trial, trial_rank
        return None

    def _rank(self, order: tuple[int, ...]) -> Rank:
        tools = [tool_and_distance(setting)[0] for setting in order]
        last = dict[int, int]()
        rises = []
        for setting in order:
            tool, distance = tool_and_distance(setting)
            if tool in last:
                rises.append(distance > last[tool])
            last[tool] = distance
        axes = [self._axis[setting] for setting in order if setting in self._axis]
        return (
            sum(a != b for a, b in pairwise(tools)),
            sum(a != b for a, b in pairwise(rises)) + sum(a != b for a, b in pairwise(axes)),
            sum(rises),
        )

    def _finishes(self, order: tuple[int, ...]) -> bool:
        """Say whether an order finishes everything, each of its settings doing some of it."""
        state = self._start
        for setting in order:
            after: set[int] = set()
            for number in state:
                after |= self._forest.advance(number, setting)
            self._looks -= len(state)
            if after == state:
                return False
            state = frozenset(after)
        return not state
