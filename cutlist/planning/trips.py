"""The fewest trips that take everything home."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil, lcm

from cutlist.model.weights import Trip

#: Pieces tried on a trip before a number of trips is given up; a tenth of a second.
_TRIES = 20_000
#: Pieces beyond which fewer trips than first fit takes are not looked for.
_MOST_PIECES = 60


def trips(pieces: Iterable[tuple[str, Fraction]], max_load_kg: Fraction) -> tuple[Trip, ...]:
    """Share pieces out to trips.

    First the heaviest first, each to the first trip that still takes it: at most 11/9 of the fewest
    trips and one more (Johnson 1973; from memory). Where the whole weight would go on fewer, these
    are looked for by trying, as long as that takes no great while. A piece heavier than the load
    goes by itself.

    Parameters
    ----------
    pieces
        Name and weight of each.
    max_load_kg
        What the vehicle carries.
    """
    pieces = tuple(pieces)
    order = sorted(range(len(pieces)), key=lambda index: -pieces[index][1])
    alone = [index for index in order if pieces[index][1] > max_load_kg]
    order = order[len(alone) :]
    # Whole numbers from here on: they are quicker than fractions, and as exact.
    parts = lcm(max_load_kg.denominator, *(pieces[index][1].denominator for index in order))
    weights = [int(pieces[index][1] * parts) for index in order]
    most = int(max_load_kg * parts)
    made = _first_fit(weights, most)
    least = ceil(Fraction(sum(weights), most))
    if len(weights) <= _MOST_PIECES:
        for count in range(least, max(made, default=-1) + 1):
            found = _Packing(weights, count, most).found()
            if found is not None:
                made = found
                break
    loads: list[list[int]] = [[index] for index in alone]
    first = len(loads)
    for index, trip in zip(order, made, strict=True):
        while first + trip >= len(loads):
            loads.append([])
        loads[first + trip].append(index)
    return tuple(
        Trip(
            tuple(pieces[index][0] for index in sorted(load)),
            sum((pieces[index][1] for index in load), Fraction(0)),
        )
        for load in loads
    )


def _first_fit(weights: Sequence[int], most: int) -> list[int]:
    """Give the trip of each piece, the heaviest first."""
    room: list[int] = []
    made = []
    for kg in weights:
        trip = next((index for index, left in enumerate(room) if kg <= left), len(room))
        if trip == len(room):
            room.append(most)
        room[trip] -= kg
        made.append(trip)
    return made


class _Packing:
    """Looks for a way to share pieces, the heaviest first, out to a number of trips."""

    def __init__(self, weights: Sequence[int], count: int, most: int) -> None:
        self._weights = weights
        self._room = [most] * count
        self._way: list[int] = []
        self._tries = 0

    def found(self) -> list[int] | None:
        """Return the trip of each piece; None if there is no way, or none was found in time."""
        return self._way if self._place(0) else None

    def _place(self, index: int) -> bool:
        if index == len(self._weights):
            return True
        kg = self._weights[index]
        # A piece as heavy as the last goes on no earlier trip; trips with as much room are alike.
        is_copy = index > 0 and self._weights[index - 1] == kg
        first = self._way[-1] if is_copy else 0
        tried = set()
        for trip in range(first, len(self._room)):
            left = self._room[trip]
            if kg > left or left in tried:
                continue
            tried.add(left)
            self._tries += 1
            if self._tries > _TRIES:
                return False
            self._room[trip] = left - kg
            self._way.append(trip)
            if self._place(index + 1):
                return True
            self._way.pop()
            self._room[trip] = left
        return False
