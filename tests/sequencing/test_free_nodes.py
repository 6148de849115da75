"""Nodes that a guide divides: orders and bounds beside a brute force over all orders of cuts."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass
from random import Random

import pytest

from cutlist.model.layout import Axis
from cutlist.sequencing.forest import Branch, Forest
from cutlist.sequencing.order import order_settings


@dataclass(frozen=True, slots=True)
class Want:
    """What a piece needs: cuts in any order, then something of what remains.

    With ``is_free`` it is divided at no setting at all, into the first cut's piece and the rest;
    with ``is_spare`` the last cut is not made.
    """

    cuts: tuple[tuple[int, Want], ...] = ()
    then: Want | None = None
    is_free: bool = False
    is_spare: bool = False


def wants(random: Random, cuts: int) -> Want:
    """Return a random want of at most so many cuts."""
    if cuts <= 0 or random.random() < 0.1:
        return Want()
    is_free = random.random() < 0.35
    number = 1 if is_free else random.randint(1, min(3, cuts))
    share = (cuts - number) // (number + 1)
    made = tuple((random.randint(1, 4), wants(random, share)) for _ in range(number))
    if not is_free and number > 1 and random.random() < 0.4:
        return Want(made, None, is_spare=True)
    return Want(made, wants(random, share), is_free)


def pieces(want: Want) -> tuple[Want, ...]:
    """Return the pieces that wait for a setting once all is done that waits for none."""
    if want.is_free or (want.is_spare and len(want.cuts) == 1):
        then = pieces(want.then) if want.then else ()
        return (*pieces(want.cuts[0][1]), *then)
    if not want.cuts:
        return pieces(want.then) if want.then else ()
    return (want,)


def bench(all_of_them: Iterable[Want]) -> tuple[Want, ...]:
    """Return equal benches as one."""
    return tuple(sorted((one for want in all_of_them for one in pieces(want)), key=repr))


def fewest(roots: Iterable[Want]) -> int:
    """Return the fewest settings, by breadth-first search over single cuts."""
    waiting: deque[tuple[int, int, tuple[Want, ...]]] = deque([(0, 0, bench(roots))])
    seen = set()
    while waiting:
        used, now, there = waiting.popleft()
        if not there:
            return used
        if (now, there) in seen:
            continue
        seen.add((now, there))
        for place, want in enumerate(there):
            for index, (setting, child) in enumerate(want.cuts):
                left = want.cuts[:index] + want.cuts[index + 1 :]
                rest = Want(left, want.then, is_spare=want.is_spare)
                after = bench((*there[:place], *there[place + 1 :], child, rest))
                if setting == now:
                    waiting.appendleft((used, now, after))
                else:
                    waiting.append((used + 1, setting, after))
    raise AssertionError("every bench can be finished")


def node_of(forest: Forest, want: Want) -> int:
    """Build a want's node."""
    if not want.cuts:
        return node_of(forest, want.then) if want.then else forest.waste
    branches = [Branch(setting, node_of(forest, child)) for setting, child in want.cuts]
    if want.is_spare:
        return forest.work(Axis.X, branches)
    then = node_of(forest, want.then) if want.then else forest.waste
    if want.is_free:
        return forest.guided(Axis.X, branches[0], then)
    return forest.work(Axis.X, branches, then)


@pytest.mark.parametrize("block", range(6))
def test_orders_beside_all_orders(block: int) -> None:
    """The exact search finds the fewest, the quick one no fewer, and no bound lies above."""
    free = 0
    for seed in range(100 * block, 100 * block + 100):
        random = Random(seed)
        roots = [wants(random, random.randint(2, 6)) for _ in range(random.randint(1, 2))]
        forest = Forest()
        numbers = [node_of(forest, root) for root in roots]
        free += any(node.is_free for node in forest.nodes)
        least = fewest(roots)
        found = order_settings(forest, numbers)
        assert found.bound <= least <= len(found.settings), seed
        assert len(found.settings) == least, seed
        quick = order_settings(forest, numbers, expansions=0)
        assert quick.bound <= least <= len(quick.settings), seed
    assert free > 30
