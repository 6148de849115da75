"""The search for an order that looks at many states side by side, led from here, compiled below.

It is for what the exact search cannot finish. It runs until it has looked at so many states, or is
told that its time is over; what is left then goes by a simple rule.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from cutlist.sequencing.cycles import disjoint_cycles
from cutlist.sequencing.forest import Forest
from cutlist.sequencing.order_kernels import records as kernel
from cutlist.sequencing.order_kernels.nodes import file_again, put
from cutlist.sequencing.order_kernels.records import Nodes, Scratch, States
from cutlist.sequencing.order_kernels.side_by_side import search
from cutlist.sequencing.order_kernels.states import shift, unclaimed
from cutlist.sequencing.parameters import USUAL, OrderParameters

_Number = TypeVar("_Number", bound=np.generic)


class Beam:
    """States of a forest, side by side.

    Parameters
    ----------
    forest
        Holds the nodes to finish and all that lies below them.
    start
        The open nodes to begin with.
    held
        Settings to be visited once, even if that takes more settings in all.
    width
        Most states to follow side by side.
    choices
        Settings to look at in each state, the likeliest ones; None for all that can do something.
    parameters
        What the search is tuned by.
    """

    def __init__(
        self,
        forest: Forest,
        start: Collection[int],
        *,
        held: Collection[int] = (),
        width: int = 1,
        choices: int | None = None,
        parameters: OrderParameters = USUAL.order,
    ) -> None:
        self._parameters = parameters
        branches = [branch for node in forest.nodes for branch in node.branches]
        self.settings = sorted(forest.settings)
        index = {setting: number for number, setting in enumerate(self.settings)}
        self._held = np.zeros(len(index), np.uint8)
        self._held[[index[setting] for setting in set(held) if setting in index]] = 1
        self._has_pairs = len(index) <= parameters.most_paired
        self._nodes = _nodes(len(forest), len(branches), len(index))
        size = max((len(node.branches) for node in forest.nodes), default=0)
        self._scratch = _scratch(len(index), size, width, has_pairs=self._has_pairs)
        self._fill(forest, index)
        deepest = int(self._nodes.rows[:, kernel.VISITS].max(initial=1))
        self._states = _states(
            1 if width == 1 else 2 * width,
            len(self._nodes.then),
            len(start),
            len(index),
            deepest,
            has_pairs=self._has_pairs,
        )
        self._trail = np.zeros((2 * len(index) + 64, width, 2), np.int64)
        self._run = np.zeros(kernel.RUNS, np.int64)
        self._run[kernel.WIDTH] = width
        self._run[kernel.LIVE] = 1
        self._run[kernel.CHOICES] = len(index) if choices is None else choices
        for place, number in enumerate(sorted(start)):
            shift(self._nodes, self._states, 0, number, 1)
            self._states.nodes[0, place] = number
        self._states.sums[0, kernel.OPEN] = len(start)
        #: How many settings the nodes to begin with need at least.
        self.bound_to_begin_with = self._bound()

    def _fill(self, forest: Forest, index: dict[int, int]) -> None:
        """Take all nodes of the forest over, each after those below it."""
        kinds: dict[object, int] = {}
        for number, node in enumerate(forest.nodes):
            for place, branch in enumerate(node.branches):
                kind = kinds.setdefault((node.axis, branch.end, branch.purpose), len(kinds))
                # A free node's pieces wait for no setting.
                setting = kernel.FREE if node.is_free else index[branch.setting]
                self._scratch.kept[place] = setting, branch.child, kind
            while put(self._nodes, self._scratch, len(node.branches), node.then) == kernel.NO_ROOM:
                self._nodes = _larger_nodes(self._nodes)
            assert self._nodes.used[kernel.NODES] == number + 1

    def _bound(self) -> int:
        """Return how many settings the nodes to begin with need at least."""
        states = self._states
        extra = unclaimed(self._nodes, self._scratch, states, 0, 0)
        least = int(states.sums[0, kernel.LEAST]) + int(extra)
        if not self._has_pairs:
            return least
        once = np.flatnonzero(states.most[0] == 1)
        bits = np.packbits(states.binding[0] > 0, axis=1, bitorder="little")
        before = {int(a): int.from_bytes(bits[a].tobytes(), "little") for a in once}
        alive = sum(1 << int(a) for a in once)
        return least + disjoint_cycles({a: mask & alive for a, mask in before.items()}, alive)

    @property
    def states(self) -> int:
        """Return how many states were looked at."""
        return int(self._run[kernel.EFFORT])

    def run(self, is_over: Callable[[], bool]) -> tuple[int, ...]:
        """Return the settings in the order of their visits.

        Once ``is_over`` says True, asked now and then, or too many states were looked at, the best
        one goes on alone, and each time by the likeliest setting.
        """
        found = self.try_to(is_over, least=self._parameters.least_states)
        while found is None:
            self._run[kernel.CHOICES] = self._run[kernel.WIDTH] = 1
            found = self._searched_on()
        return found

    def try_to(self, is_over: Callable[[], bool], *, least: int = 0) -> tuple[int, ...] | None:
        """Return the same; None where it is over before an end is reached, and ``least`` states."""
        most = self._parameters.beam_states
        while self.states < min(least, most) or (self.states <= most and not is_over()):
            found = self._searched_on()
            if found is not None:
                return found
        return None

    def _searched_on(self) -> tuple[int, ...] | None:
        """Look at some more states; return an order where one is complete."""
        run = self._run
        run[kernel.LIMIT] = self.states + self._parameters.states_between_looks
        while True:
            end = search(self._nodes, self._scratch, self._states, self._trail, self._held, run)
            if end == kernel.DONE:
                return self._unwound()
            if end == kernel.PAUSED:
                return None
            self._grow()

    def _grow(self) -> None:
        nodes, scratch, states, used = self._nodes, self._scratch, self._states, self._nodes.used
        if int(self._run[kernel.LEVEL]) == len(self._trail):
            self._trail = _longer(self._trail, 2 * len(self._trail))
            return
        self._nodes = _larger_nodes(nodes)
        size = len(self._nodes.then)
        self._states = states._replace(
            is_open=np.ascontiguousarray(_longer(states.is_open.T, size).T),
            nodes=np.ascontiguousarray(_longer(states.nodes.T, 2 * states.nodes.shape[1]).T),
        )
        self._scratch = scratch._replace(
            stack=_longer(scratch.stack, 2 * len(scratch.stack)),
            out=_longer(scratch.out, 2 * len(scratch.out)),
            added=_longer(scratch.added, 2 * len(scratch.added)),
            links=_longer(scratch.links, 2 * len(scratch.links)),
        )
        assert used[kernel.NODES] < size

    def _unwound(self) -> tuple[int, ...]:
        settings: list[int] = []
        place = int(self._run[kernel.FOUND])
        for level in range(int(self._run[kernel.LEVEL]) - 1, -1, -1):
            settings.append(self.settings[int(self._trail[level, place, 1])])
            place = int(self._trail[level, place, 0])
        return tuple(reversed(settings))


def _longer(array: NDArray[_Number], length: int) -> NDArray[_Number]:
    larger = np.zeros((length, *array.shape[1:]), array.dtype)
    larger[: len(array)] = array
    return larger


def _nodes(nodes: int, branches: int, settings: int) -> Nodes:
    """Return room for a forest, and for as much again and more."""
    nodes, branches = 2 * nodes + 64, 2 * branches + 256
    return Nodes(
        used=np.zeros(6, np.int64),
        then=np.full(nodes, -1, np.int64),
        branch_at=np.zeros(nodes + 1, np.int64),
        row_at=np.zeros(nodes + 1, np.int64),
        pair_at=np.zeros(nodes + 1, np.int64),
        branches=np.zeros((branches, 3), np.int64),
        rows=np.zeros((8 * nodes + 2 * settings, 4), np.int64),
        pairs=np.zeros((32 * nodes, 2), np.int64),
        freed=np.full((branches, 2), -1, np.int64),
        released=np.zeros(4 * branches, np.int64),
        table=_table(nodes),
    )


def _table(nodes: int) -> kernel.Longs:
    return np.full(1 << (2 * nodes).bit_length(), -1, np.int64)


def _larger_nodes(nodes: Nodes) -> Nodes:
    """Return the same nodes with twice the room."""
    larger = Nodes._make(_longer(array, 2 * len(array)) for array in nodes)
    larger = larger._replace(used=nodes.used, table=_table(len(larger.then)))
    file_again(larger)
    return larger


def _scratch(settings: int, branches: int, width: int, *, has_pairs: bool) -> Scratch:
    hashes = 1 << (4 * width * settings + 16).bit_length()
    paired = settings if has_pairs else 0
    return Scratch(
        needs=np.zeros((settings, 4), np.int64),
        listed=np.zeros(settings + 1, np.int64),
        chosen=np.zeros(settings + 1, np.int64),
        is_pair=np.zeros((paired, paired), np.uint8),
        stamp=np.zeros(settings, np.int64),
        kept=np.zeros((branches + 1, 3), np.int64),
        stack=np.zeros(1024, np.int64),
        out=np.zeros(1024, np.int64),
        added=np.zeros(1024, np.int64),
        head=np.zeros(settings, np.int64),
        links=np.zeros((1024, 2), np.int64),
        hashes=np.zeros(hashes, np.int64),
        hashed=np.zeros(hashes, np.int64),
        best=np.zeros((width + 1, 6), np.int64),
    )


def _states(
    slots: int, nodes: int, opened: int, settings: int, deepest: int, *, has_pairs: bool
) -> States:
    paired = settings if has_pairs else 0
    return States(
        is_open=np.zeros((slots, nodes), np.uint8),
        nodes=np.zeros((slots, 2 * opened + 64), np.int64),
        places=np.zeros((slots, settings, 3), np.int64),
        counts=np.zeros((slots, deepest + 1, settings), np.int64),
        most=np.zeros((slots, settings), np.int64),
        binding=np.zeros((slots, paired, paired), np.int16),
        bound=np.zeros((slots, paired, paired), np.int16),
        sums=np.zeros((slots, 5), np.int64),
    )
