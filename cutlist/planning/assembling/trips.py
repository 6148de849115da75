"""The fewest trips that take everything home."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from math import ceil, lcm
from types import MappingProxyType

from cutlist.model.weights import Trip

#: Pieces tried on a trip before a number of trips is given up; a tenth of a second.
_TRIES = 20_000
#: Pieces beyond which fewer trips than first fit takes are not looked for.
_MOST_PIECES = 60


def trips(
    pieces: Iterable[tuple[str, Fraction]],
    max_load_kg: Fraction,
    sheet_of: Mapping[str, str] = MappingProxyType({}),
) -> tuple[Trip, ...]:
    """Share pieces out to trips.

    First the heaviest first, each to the first trip that still takes it: at most 11/9 of the fewest
    trips and one more (Johnson 1973; from memory). Where the whole weight would go on fewer, these
    are looked for by trying, as long as that takes no great while. Last, pieces
    of one sheet are brought onto one trip, as far as moving one or exchanging two does it. A piece
    heavier than the load goes by itself.

    Parameters
    ----------
    pieces
        Name and weight of each.
    max_load_kg
        What the vehicle carries.
    sheet_of
        By the name of a piece the sheet that it is cut from.
    """
    pieces = tuple(pieces)
    order = sorted(range(len(pieces)), key=lambda index: -pieces[index][1])
    alone = [index for index in order if pieces[index][1] > max_load_kg]
    order = order[len(alone) :]
    # Whole numbers from here on: they are quicker than fractions, and as exact.
    parts = lcm(max_load_kg.denominator, *(pieces[index][1].denominator for index in order))
    weights = [int(pieces[index][1] * parts) for index in order]
    most = int(max_load_kg * parts)
    # What no sheet is known of is a sheet of its own.
    sheets = [sheet_of.get(pieces[index][0], pieces[index][0]) for index in order]
    ways = [_by_sheets(weights, sheets, most), _fewest(weights, most)]
    if len(weights) <= _MOST_PIECES:
        for way in ways:
            _Gathering(way, weights, sheets, most).gather()
    # The fewest trips, and each sheet on the fewest of them.
    made = min(ways, key=lambda way: (len(set(way)), len(set(zip(sheets, way, strict=True)))))
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
        if load
    )


def _fewest(weights: Sequence[int], most: int) -> list[int]:
    """Give the trip of each piece, the heaviest first: as few as are found."""
    made = _first_fit(weights, most)
    if len(weights) <= _MOST_PIECES:
        for count in range(ceil(Fraction(sum(weights), most)), max(made, default=-1) + 1):
            found = _TripPacking(weights, count, most).found()
            if found is not None:
                return found
    return made


def _by_sheets(weights: Sequence[int], sheets: Sequence[str], most: int) -> list[int]:
    """Give the trip of each piece where all that is cut from a sheet goes as one, if it may."""
    whole: dict[str, int] = {}
    for kg, sheet in zip(weights, sheets, strict=True):
        whole[sheet] = whole.get(sheet, 0) + kg
    units: dict[tuple[str, int], int] = {}
    unit_of = []
    for index, (kg, sheet) in enumerate(zip(weights, sheets, strict=True)):
        # What is too heavy together goes piece by piece.
        unit_of.append((sheet, -1 if whole[sheet] <= most else index))
        units[unit_of[-1]] = whole[sheet] if whole[sheet] <= most else kg
    order = sorted(units, key=lambda unit: -units[unit])
    made = dict(zip(order, _fewest([units[unit] for unit in order], most), strict=True))
    return [made[unit] for unit in unit_of]


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


class _Gathering:
    """Brings the pieces of a sheet together on one trip.

    Parameters
    ----------
    trips
        The trip of each piece; it is changed in place.
    weights, sheets
        Of each piece its weight, and the sheet that it is cut from.
    most
        What the vehicle carries.
    """

    def __init__(
        self, trips: list[int], weights: Sequence[int], sheets: Sequence[str], most: int
    ) -> None:
        self._trips = trips
        self._weights = weights
        self._sheets = sheets
        self._room = [most] * (max(trips, default=-1) + 1)
        for trip, kg in zip(trips, weights, strict=True):
            self._room[trip] -= kg
        self._count = Counter(zip(sheets, trips, strict=True))

    def gather(self) -> None:
        """Exchange two pieces, or move one, as long as some sheet is spread over fewer trips."""
        pieces = range(len(self._trips))
        while any(self._is_changed(one, other) for one in pieces for other in pieces):
            pass

    def _is_changed(self, one: int, other: int) -> bool:
        """Bring a piece to the trip of another one of its sheet, alone or in exchange."""
        begin, end = self._trips[one], self._trips[other]
        if begin == end or self._sheets[one] != self._sheets[other]:
            return False
        if self._weights[one] <= self._room[end] and self._gain(one, end) > 0:
            self._move(one, end)
            return True
        for third, trip in enumerate(self._trips):
            more = self._weights[one] - self._weights[third]
            if trip != end or self._sheets[third] == self._sheets[one]:
                continue
            if more > self._room[end] or -more > self._room[begin]:
                continue
            if self._gain(one, end) + self._gain(third, begin) > 0:
                self._move(one, end)
                self._move(third, begin)
                return True
        return False

    def _gain(self, piece: int, trip: int) -> int:
        """Return how many trips fewer a piece's sheet is spread over once it is on another one."""
        sheet = self._sheets[piece]
        left = self._count[sheet, self._trips[piece]] == 1
        return int(left) - int(self._count[sheet, trip] == 0)

    def _move(self, piece: int, trip: int) -> None:
        sheet, kg = self._sheets[piece], self._weights[piece]
        self._count[sheet, self._trips[piece]] -= 1
        self._room[self._trips[piece]] += kg
        self._trips[piece] = trip
        self._count[sheet, trip] += 1
        self._room[trip] -= kg


class _TripPacking:
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
