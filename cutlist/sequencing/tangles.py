"""Settings that have to come before one another: what that costs beyond one visit each.

If some chain of tasks has setting a before b, and another has b before a, then no order visits both
just once. More generally, settings that need one visit each can be visited once each only if the
relation "before" has no cycle among them. Vertex-disjoint cycles each cost one visit more, so their
number is a bound. Of two states with equal bounds the one with fewer bound pairs is the freer one.

Relations are lists of bit masks: bit b of ``before[a]`` says that a comes before b.
"""

from __future__ import annotations

from collections.abc import Iterator


def disjoint_cycles(before: dict[int, int], alive: int) -> int:
    """Return the number of vertex-disjoint cycles found among the settings in ``alive``."""
    found = 0
    alive = _peeled(before, alive)
    while alive:
        cycle = _short_cycle(before, alive)
        found += 1
        alive = _peeled(before, alive & ~cycle)
    return found


def pairs(before: dict[int, int], alive: int) -> int:
    """Return how many ordered pairs of the settings in ``alive`` are bound to an order."""
    return sum((mask & alive).bit_count() for a, mask in before.items() if alive >> a & 1)


def _peeled(before: dict[int, int], alive: int) -> int:
    """Return the settings that are left once those on no cycle are taken off, end by end."""
    while True:
        preceded = 0
        preceding = 0
        for a in _bits(alive):
            followers = before.get(a, 0) & alive
            preceded |= followers
            if followers:
                preceding |= 1 << a
        left = alive & preceded & preceding
        if left == alive:
            return alive
        alive = left


def _short_cycle(before: dict[int, int], alive: int) -> int:
    """Return a cycle among ``alive``, all of which have forerunners and followers there."""
    for a in _bits(alive):
        for b in _bits(before[a] & alive):
            if before[b] >> a & 1:
                return 1 << a | 1 << b
    path = [next(_bits(alive))]
    seen = 1 << path[0]
    while True:
        following = next(_bits(before[path[-1]] & alive))
        if seen >> following & 1:
            cycle = path[path.index(following) :]
            return sum(1 << setting for setting in cycle)
        path.append(following)
        seen |= 1 << following


def _bits(mask: int) -> Iterator[int]:
    while mask:
        lowest = mask & -mask
        mask ^= lowest
        yield lowest.bit_length() - 1
