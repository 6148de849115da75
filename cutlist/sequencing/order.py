"""The fewest settings: an order of settings that finishes every node of a forest.

A state is the set of open nodes. Setting the tool once does everything that it can do, so a state
never holds a node that the last setting could still work on. The search is A*, with the number of
visits that each setting still needs as its bound; where it runs out of its allowance, or the job is
too large for it, a search that follows some states side by side (:mod:`~cutlist.sequencing.beam`)
finishes the job, and the bound reached so far is reported.

The problem is a shortest common supersequence over a forest (Räihä and Ukkonen, Theoretical
Computer Science 16 (1981) 187-198, for strings): NP-hard in general, easy on real cut lists.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from itertools import count

from cutlist.sequencing.beam import Beam
from cutlist.sequencing.cycles import disjoint_cycles
from cutlist.sequencing.forest import Forest
from cutlist.sequencing.needs import Needs, as_mask
from cutlist.sequencing.parameters import USUAL, OrderParameters, never

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


def order_settings(
    forest: Forest,
    roots: Collection[int],
    *,
    expansions: int | None = None,
    width: int | None = None,
    held: Collection[int] = (),
    is_over: Callable[[], bool] = never,
    parameters: OrderParameters = USUAL.order,
) -> Order:
    """Return an order of settings that finishes all ``roots``, and its bound.

    What waits for no setting is left out of both.

    Parameters
    ----------
    forest, roots
        The nodes to finish; final roots need nothing.
    expansions
        States the exact search may open before another one takes over.
    width
        Most states that this one follows side by side.
    held
        Settings that shall be visited once, even if that takes more settings in all: while an
        open node has work for them farther below, others go first, if there is work for any.
    is_over
        Asked now and then; once it says True some order is found quickly.
    parameters
        What the search is tuned by, and the usual ``expansions`` and ``width``.
    """
    expansions = parameters.exact_states if expansions is None else expansions
    width = parameters.width if width is None else width
    start = forest.opened(roots)
    if not start:
        return Order((), 0)
    if len(forest.settings) > parameters.exact_settings:
        return _side_by_side(forest, start, held, width, is_over, parameters)
    moves = _Moves(forest, held)
    exact, bound = _a_star(moves, start, expansions, is_over, parameters)
    if held:
        # The best of the orders that hold them back proves nothing of the others.
        bound = moves.bound(start)
    if exact is not None:
        return Order(exact, bound if held else len(exact))
    order = _side_by_side(forest, start, held, width, is_over, parameters)
    return Order(order.settings, bound)


def _side_by_side(
    forest: Forest,
    start: State,
    held: Collection[int],
    width: int,
    is_over: Callable[[], bool],
    parameters: OrderParameters,
) -> Order:
    """Follow many states side by side; in a large job fewer at first, and more while there is time.

    A search with many states, that may find no end, is worth beginning where one with half of them
    has left enough of the states that may be looked at.
    """
    effort = len(forest.settings) ** 2 * (parameters.beam_state_effort + len(start)) * width
    if effort <= parameters.beam_effort:
        beam = Beam(forest, start, held=held, width=width, parameters=parameters)
        return Order(beam.run(is_over), beam.bound_to_begin_with)
    best: tuple[int, ...] | None = None
    bound = spent = 0
    some = parameters.hurried_choices
    for wide, choices in ((1, some), *((2**n, None) for n in range(width.bit_length() + 1))):
        beam = Beam(
            forest, start, held=held, width=min(wide, width), choices=choices, parameters=parameters
        )
        bound = beam.bound_to_begin_with
        found = beam.run(is_over) if best is None else beam.try_to(is_over)
        spent += beam.states
        if found is not None and (best is None or len(found) < len(best)):
            best = found
        if found is None or spent + 2 * beam.states > parameters.beam_states or is_over():
            break
    assert best is not None
    return Order(best, bound)


class _Moves:
    """Moves between states, and bounds them."""

    def __init__(self, forest: Forest, held: Collection[int] = ()) -> None:
        self._forest = forest
        self._needs = Needs(forest)
        index = self._needs.index
        self._held = sum(1 << index[setting] for setting in set(held) if setting in index)

    @property
    def num_settings(self) -> int:
        return len(self._needs.settings)

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


def _a_star(
    moves: _Moves,
    start: State,
    expansions: int,
    is_over: Callable[[], bool],
    parameters: OrderParameters,
) -> tuple[tuple[int, ...] | None, int]:
    ticket = count()
    floor = moves.bound(start)
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
        if opened > expansions or effort > parameters.exact_effort:
            return None, floor
        if opened % parameters.states_between_looks_exactly == 0 and is_over():
            return None, floor
        for setting, after in moves.following(state):
            if best.get(after, depth + 2) <= depth + 1:
                continue
            best[after] = depth + 1
            effort += parameters.exact_state_effort + len(after) + 2 * moves.num_settings
            value = max(reached, depth + 1 + moves.bound(after))
            heapq.heappush(heap, (value, -depth - 1, next(ticket), after, (trail, setting)))
    return (), 0


def _unwind(trail: Trail) -> tuple[int, ...]:
    settings: list[int] = []
    while trail:
        trail, setting = trail
        settings.append(setting)
    return tuple(reversed(settings))
