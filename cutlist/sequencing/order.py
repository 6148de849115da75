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
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import count

from cutlist.sequencing.cycles import disjoint_cycles, pairs
from cutlist.sequencing.forest import NONE, Forest
from cutlist.sequencing.needs import Needs, as_mask

State = frozenset[int]
#: The settings visited so far, last first: (earlier settings, last setting), or () at the start.
Trail = tuple["Trail", int] | tuple[()]

#: What a search may do before it has to end, in looks at a node: about a second's worth. A state
#: costs as much as so many nodes beside its own.
_EXACT_EFFORT = 1_500_000
_BEAM_EFFORT = 16_000_000
_STATE_EFFORT = 100
_BEAM_STATE_EFFORT = 30
_WIDEST_BEAM = 60


@dataclass(frozen=True, slots=True)
class Order:
    """Settings in the order of their visits, and a lower bound on how many any order needs."""

    settings: tuple[int, ...]
    bound: int

    @property
    def is_proven(self) -> bool:
        """Whether no order of this forest has fewer settings."""
        return len(self.settings) == self.bound


def order_settings(
    forest: Forest,
    roots: list[int],
    *,
    expansions: int = 1500,
    width: int = _WIDEST_BEAM,
    held: Collection[int] = (),
) -> Order:
    """Return an order of settings that finishes all ``roots``, and its bound.

    Parameters
    ----------
    forest, roots
        The nodes to finish; final roots need nothing.
    expansions
        States the exact search may open before a beam search takes over.
    width
        Most states that the beam search follows side by side.
    held
        Settings that shall be visited once, even if that takes more settings in all: while an
        open node has work for them farther below, others go first, if there is work for any.
    """
    search = _Search(forest, held)
    start = search.close(roots)
    exact, bound = _a_star(search, start, expansions)
    if held:
        # The best of the orders that hold them back proves nothing of the others.
        bound = search.bound(start)
    if exact is not None:
        return Order(exact, bound if held else len(exact))
    # A beam of one state looks at some settings on each of some more levels than settings.
    narrowest = search.num_settings**2 * (_BEAM_STATE_EFFORT + len(start))
    return Order(_beam(search, start, max(1, min(width, _BEAM_EFFORT // narrowest))), bound)


class _Search:
    """Moves between states, and bounds them."""

    def __init__(self, forest: Forest, held: Collection[int] = ()) -> None:
        self._forest = forest
        self._needs = Needs(forest)
        index = self._needs.index
        self._held = sum(1 << index[setting] for setting in set(held) if setting in index)

    @property
    def num_settings(self) -> int:
        return len(self._needs.settings)

    def close(self, roots: list[int]) -> State:
        return frozenset(n for n in roots if n != NONE and self._forest.nodes[n].branches)

    def following(self, state: State) -> Iterator[tuple[int, State]]:
        """Yield each setting worth trying with the state it leads to.

        A setting that must be visited and occurs nowhere below the top is the only one yielded:
        one visit now does all of it.
        """
        needs = self._needs
        top = deep = must = 0
        for number in state:
            needs.learn(number)
            top |= needs.top[number]
            deep |= needs.deep[number]
            must |= needs.must[number]
        certain = must & ~deep
        if certain:
            top = certain & -certain
        # Each is held for as long as something else can be done.
        top = top & ~(self._held & deep) or top
        workable: dict[int, list[int]] = {}
        for number in state:
            mask = needs.top[number] & top
            while mask:
                lowest = mask & -mask
                mask ^= lowest
                workable.setdefault(lowest, []).append(number)
        for lowest in sorted(workable):
            setting = needs.settings[lowest.bit_length() - 1]
            numbers = workable[lowest]
            released = [self._forest.advance(number, setting) for number in numbers]
            yield setting, state.difference(numbers).union(*released)

    def bound(self, state: State) -> int:
        """Return how many settings the state needs at least."""
        least, before, single = self._counted(state)
        return least + disjoint_cycles(before, single)

    def least(self, state: State) -> int:
        """Return a quick bound, without the settings that cannot all be visited just once."""
        return self._total(state)[0]

    def bonds(self, state: State) -> tuple[int, int]:
        """Return how little freedom is left, and how much work.

        That is the pairs of settings that are bound to an order, and the visits that all nodes ask
        for one by one.
        """
        if not state:
            return 0, 0
        _, before, single = self._counted(state)
        return pairs(before, single), int(self._needs.visits(sorted(state)).sum())

    def _total(self, state: State) -> tuple[int, int]:
        """Return the visits needed, and the settings needed just once."""
        if not state:
            return 0, 0
        needs = self._needs
        numbers = sorted(state)
        total = needs.visits(numbers).max(axis=0)
        least = int(total.sum())
        spares = [needs.spare[n] for n in numbers if needs.spare[n]]
        if spares:
            least += _unclaimed(spares, as_mask(total > 0))
        return least, as_mask(total == 1)

    def _counted(self, state: State) -> tuple[int, dict[int, int], int]:
        """Return the visits needed, the settings needed just once, and precedences among them."""
        least, single = self._total(state)
        before: dict[int, int] = {}
        for number in state:
            for setting, mask in self._needs.before[number].items():
                if mask & single and single >> setting & 1:
                    before[setting] = before.get(setting, 0) | mask
        return least, before, single


def _unclaimed(spares: list[int], claimed: int) -> int:
    """Count settings that spare nodes need beyond those claimed: all but one of each node's."""
    extra = 0
    for own in spares:
        free = own & ~claimed
        missing = free.bit_count() - 1
        if missing > 0:
            extra += missing
            claimed |= free
    return extra


def _a_star(search: _Search, start: State, expansions: int) -> tuple[tuple[int, ...] | None, int]:
    ticket = count()
    floor = search.bound(start)
    heap: list[tuple[int, int, int, State, Trail]] = [(floor, 0, next(ticket), start, ())]
    best: dict[State, int] = {start: 0}
    opened = 0
    effort = 0
    while heap:
        reached, minus_depth, _, state, trail = heapq.heappop(heap)
        floor = max(floor, reached)
        if not state:
            return _unwind(trail), floor
        depth = -minus_depth
        if best[state] < depth:
            continue
        opened += 1
        if opened > expansions or effort > _EXACT_EFFORT:
            return None, floor
        for setting, after in search.following(state):
            if best.get(after, depth + 2) <= depth + 1:
                continue
            best[after] = depth + 1
            effort += _STATE_EFFORT + len(after) + 2 * search.num_settings
            value = max(reached, depth + 1 + search.bound(after))
            heapq.heappush(heap, (value, -depth - 1, next(ticket), after, (trail, setting)))
    return (), 0


def _unwind(trail: Trail) -> tuple[int, ...]:
    settings: list[int] = []
    while trail:
        trail, setting = trail
        settings.append(setting)
    return tuple(reversed(settings))


def _beam(search: _Search, start: State, width: int) -> tuple[int, ...]:
    level: list[tuple[State, Trail]] = [(start, ())]
    while True:
        found: dict[State, Trail] = {}
        for state, trail in level:
            if not state:
                return _unwind(trail)
            for setting, after in search.following(state):
                found.setdefault(after, (trail, setting))
        states = list(found.items())
        if len(states) > width:
            states = _best(search, states, width)
        level = states


def _best(
    search: _Search, states: list[tuple[State, Trail]], width: int
) -> list[tuple[State, Trail]]:
    """Return the states of least bound, and among equals those with the most freedom left."""
    leasts = [search.least(state) for state, _ in states]
    limit = sorted(leasts)[width - 1]
    ranked = [
        (least, *search.bonds(states[i][0]), i) for i, least in enumerate(leasts) if least <= limit
    ]
    return [states[i] for *_, i in sorted(ranked)[:width]]
