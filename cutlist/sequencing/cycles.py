"""Settings that have to come before one another: what that costs beyond one visit each.

If some chain of tasks has setting a before b, and another has b before a, then no order visits both
just once. More generally, settings that need one visit each can be visited once each only if the
relation "before" has no cycle among them. Vertex-disjoint cycles each cost one visit more, so their
number is a bound. Of two states with equal bounds the one with fewer bound pairs is the freer one.

Relations are lists of bit masks: bit b of ``before[a]`` says that a comes before b.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np


def disjoint_cycles(before: dict[int, int], alive: int) -> int:
    """Return the number of vertex-disjoint cycles found among the settings in ``alive``.

    Cycles of two are looked for first, those bound to the fewest others before the rest.
    """
    if not any(mask & alive for a, mask in before.items() if alive >> a & 1):
        return 0
    after = _backwards(before, alive)
    found = 0
    mutual = {a: mask & after[a] for a, mask in before.items() if alive >> a & 1}
    partners = {a: (mask & alive).bit_count() for a, mask in mutual.items() if mask & alive}
    for a in sorted(partners, key=lambda a: (partners[a], a)):
        others = mutual[a] & alive
        if alive >> a & 1 and others:
            b = min(_bits(others), key=lambda b: (partners[b], b))
            alive &= ~(1 << a | 1 << b)
            found += 1
    alive = _peeled(before, after, alive)
    while alive:
        found += 1
        alive = _peeled(before, after, alive & ~_cycle(before, alive))
    return found


def pairs(before: dict[int, int], alive: int) -> int:
    """Return how many ordered pairs of the settings in ``alive`` are bound to an order."""
    return sum((mask & alive).bit_count() for a, mask in before.items() if alive >> a & 1)


def _backwards(before: dict[int, int], alive: int) -> list[int]:
    """Return for each setting those of ``alive`` that come before it."""
    size = alive.bit_length()
    octets = (size + 7) // 8
    rows = [before.get(a, 0) & alive if alive >> a & 1 else 0 for a in range(size)]
    packed = np.frombuffer(b"".join(row.to_bytes(octets, "little") for row in rows), np.uint8)
    matrix = np.unpackbits(packed.reshape(size, octets), axis=1, bitorder="little")[:, :size]
    columns = np.packbits(matrix.T, axis=1, bitorder="little")
    return [int.from_bytes(column.tobytes(), "little") for column in columns]


def _peeled(before: dict[int, int], after: list[int], alive: int) -> int:
    """Return the settings that are left once those on no cycle are taken off, end by end."""
    while True:
        left = 0
        for a in _bits(alive):
            if before.get(a, 0) & alive and after[a] & alive:
                left |= 1 << a
        if left == alive:
            return alive
        alive = left


def _cycle(before: dict[int, int], alive: int) -> int:
    """Return a cycle among ``alive``, all of which have followers there."""
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
