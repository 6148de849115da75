"""The fewest settings: an order of settings that finishes every node of a forest.

A state is the set of open nodes. Setting the tool once does everything that it can do, so a state
never holds a node that the last setting could still work on. The search is A*, with the number of
visits that each setting still needs as its bound; where it runs out of its allowance, a beam search
finishes the job and the bound reached so far is reported.

The problem is a shortest common supersequence over a forest (Räihä and Ukkonen, Theoretical
Computer Science 16 (1981) 187-198, for strings): NP-hard in general, easy on real cut lists.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from itertools import count

from cutlist.sequencing.forest import NONE, Forest

State = frozenset[int]
#: The settings visited so far, last first: (earlier settings, last setting), or () at the start.
Trail = tuple["Trail", int] | tuple[()]


@dataclass(frozen=True, slots=True)
class Order:
    """Settings in the order of their visits, and a lower bound on how many any order needs."""

    settings: tuple[int, ...]
    bound: int

    @property
    def is_proven(self) -> bool:
        """Whether no order of this forest has fewer settings."""
        return len(self.settings) == self.bound


class Needs:
    """How often each setting must still be visited, counted for every node once.

    ``visits(n)[s]`` is the largest number of separate visits to setting ``s`` that one chain of
    tasks through node ``n`` asks for; ``after(n)[s]`` the same if ``s`` has just been visited.
    ``deep(n)`` is the set of settings that occur below the top of the node.
    """

    def __init__(self, forest: Forest) -> None:
        self._forest = forest
        self._known: dict[int, tuple[dict[int, int], dict[int, int], frozenset[int]]] = {}

    def visits(self, number: int) -> dict[int, int]:
        """Return visits needed for each setting of the node."""
        return self._of(number)[0]

    def deep(self, number: int) -> frozenset[int]:
        """Return the settings that occur below the top of the node."""
        return self._of(number)[2]

    def _of(self, number: int) -> tuple[dict[int, int], dict[int, int], frozenset[int]]:
        known = self._known.get(number)
        if known is None:
            known = self._known[number] = self._count(number)
        return known

    def _count(self, number: int) -> tuple[dict[int, int], dict[int, int], frozenset[int]]:
        node = self._forest.nodes[number]
        visits: dict[int, int] = {}
        after: dict[int, int] = {}
        deep: set[int] = set()
        top = [branch.setting for branch in node.branches]
        for branch in node.branches:
            child_visits, child_after, child_deep = self._of(branch.child)
            deep |= child_visits.keys() | child_deep
            skippable = node.is_spare and top.count(branch.setting) == 1
            for setting, number_of in child_visits.items():
                if setting != branch.setting:
                    _raise(visits, setting, number_of)
                    _raise(after, setting, number_of)
            own = child_after.get(branch.setting, 0)
            # A spare branch may come free as the remainder, without a visit of its own.
            alone = child_visits.get(branch.setting, 0) if skippable else 1 + own
            _raise(visits, branch.setting, alone)
            _raise(after, branch.setting, own)
        if node.then != NONE:
            then_visits, then_after, then_deep = self._of(node.then)
            deep |= then_visits.keys() | then_deep
            for setting, number_of in then_visits.items():
                if setting not in top:
                    _raise(visits, setting, number_of)
                    _raise(after, setting, number_of)
            for setting in set(top):
                merged = then_after.get(setting, 0)
                _raise(visits, setting, 1 + merged)
                only = all(other == setting for other in top)
                _raise(after, setting, merged if only else then_visits.get(setting, 0))
        return visits, after, frozenset(deep)


def _raise(table: dict[int, int], key: int, value: int) -> None:
    if value > table.get(key, 0):
        table[key] = value


class _Search:
    def __init__(self, forest: Forest) -> None:
        self.forest = forest
        self.needs = Needs(forest)

    def close(self, roots: list[int]) -> State:
        return frozenset(n for n in roots if n != NONE and self.forest.nodes[n].branches)

    def step(self, state: State, setting: int) -> State:
        left: set[int] = set()
        for number in state:
            left |= self.forest.advance(number, setting)
        return frozenset(left)

    def bound(self, state: State) -> int:
        total: dict[int, int] = {}
        for number in state:
            for setting, visits in self.needs.visits(number).items():
                _raise(total, setting, visits)
        return sum(total.values()) + self._unforced(state, total)

    def _unforced(self, state: State, total: dict[int, int]) -> int:
        """Count settings needed by spare nodes beyond ``total``: all but one of each node's."""
        claimed: set[int] = {setting for setting, visits in total.items() if visits}
        extra = 0
        for number in state:
            node = self.forest.nodes[number]
            if node.is_spare:
                free = {branch.setting for branch in node.branches} - claimed
                if len(free) > 1:
                    extra += len(free) - 1
                    claimed |= free
        return extra

    def choices(self, state: State) -> list[int]:
        """Return the settings worth trying: one alone where doing it now cannot be wrong."""
        top: set[int] = set()
        deep: set[int] = set()
        must: set[int] = set()
        for number in state:
            deep |= self.needs.deep(number)
            visits = self.needs.visits(number)
            for branch in self.forest.nodes[number].branches:
                top.add(branch.setting)
                if visits.get(branch.setting, 0):
                    must.add(branch.setting)
        for setting in sorted(top):
            # It must be visited at least once, and one visit now does all of it.
            if setting in must and setting not in deep:
                return [setting]
        return sorted(top)


def order_settings(forest: Forest, roots: list[int], *, expansions: int = 4000) -> Order:
    """Return an order of settings that finishes all ``roots``, and its bound.

    Parameters
    ----------
    forest, roots
        The nodes to finish; final roots need nothing.
    expansions
        States the exact search may open before a beam search takes over.
    """
    search = _Search(forest)
    start = search.close(roots)
    exact, bound = _a_star(search, start, expansions)
    if exact is not None:
        return Order(exact, len(exact))
    width = max(1, min(24, 4000 // max(1, len(start))))
    return Order(_beam(search, start, width), bound)


def _a_star(search: _Search, start: State, expansions: int) -> tuple[tuple[int, ...] | None, int]:
    ticket = count()
    floor = search.bound(start)
    heap: list[tuple[int, int, int, State, Trail]] = [(floor, 0, next(ticket), start, ())]
    best: dict[State, int] = {start: 0}
    opened = 0
    while heap:
        reached, minus_depth, _, state, path = heapq.heappop(heap)
        floor = max(floor, reached)
        if not state:
            return _unlink(path), floor
        depth = -minus_depth
        if best[state] < depth:
            continue
        opened += 1
        if opened > expansions:
            return None, floor
        for setting in search.choices(state):
            after = search.step(state, setting)
            if best.get(after, depth + 2) <= depth + 1:
                continue
            best[after] = depth + 1
            value = max(reached, depth + 1 + search.bound(after))
            heapq.heappush(heap, (value, -depth - 1, next(ticket), after, (path, setting)))
    return (), 0


def _unlink(path: Trail) -> tuple[int, ...]:
    settings: list[int] = []
    while path:
        path, setting = path
        settings.append(setting)
    return tuple(reversed(settings))


def _beam(search: _Search, start: State, width: int) -> tuple[int, ...]:
    level: list[tuple[State, Trail]] = [(start, ())]
    while True:
        following: dict[State, Trail] = {}
        for state, path in level:
            if not state:
                return _unlink(path)
            for setting in search.choices(state):
                after = search.step(state, setting)
                if after not in following:
                    following[after] = (path, setting)
        ranked = sorted(
            ((search.bound(state), len(state), index) for index, state in enumerate(following)),
        )[:width]
        states = list(following.items())
        level = [states[index] for _, _, index in ranked]
