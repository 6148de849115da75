"""How a sheet is broken down at the store: a tree of cuts, and the blanks it leaves.

All in grid units, in the frame of the sheet. A pattern is the cut that is made first, or None for a
piece that stays as it is. Each cut goes from edge to edge: the piece at its low end is the one
measured, what is beyond the kerf is the rest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

import numpy as np

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis
from cutlist.units.masses import cubic_metres
from cutlist.units.system import Units

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from cutlist.model.job import Stock, Store, Vehicle
    from cutlist.units.grid import Grid

#: Distances at the store are multiples of it: what its tape and its operator read at a glance.
STORE_MARK = {Units.INCH: Fraction(1, 8), Units.MM: Fraction(1)}
#: As many cuts in a sheet as a store makes that gives no number.
DEFAULT_MAX_CUTS = 60


@dataclass(frozen=True, slots=True)
class StoreLimits:
    """The store's saw and the vehicle.

    Parameters
    ----------
    kerf, accuracy
        Of the store's saw: what an edge cut there has to lose before it is a clean one.
    least
        Shortest side of a piece that a cut leaves.
    max_cuts
        Most cuts in a sheet.
    mark
        Distances at the store are multiples of it.
    openings
        Longer and shorter side of the largest piece that goes into the vehicle, for each way in.
    load
        What the vehicle carries: the area of a piece times the thickness and the density of its
        sheet is at most this. None for no limit.
    heaviest
        Largest area of a piece that is not too heavy, where the sheet and its density are known;
        None for no limit.
    """

    kerf: int
    accuracy: int
    least: int
    max_cuts: int
    mark: int
    openings: tuple[tuple[int, int], ...]
    load: Fraction | None = None
    heaviest: int | None = None

    @classmethod
    def of(cls, store: Store | None, vehicle: Vehicle, grid: Grid, units: Units) -> StoreLimits:
        """Return the limits in units of a grid that holds the store's lengths and its mark.

        Without a store there are no cuts.
        """
        unit = grid.unit
        openings = [sorted((x // unit, y // unit)) for x, y in vehicle.openings]
        load = vehicle.max_load_kg
        in_vehicle = cls(
            kerf=0,
            accuracy=0,
            least=1,
            max_cuts=0,
            mark=1,
            openings=tuple((longer, shorter) for shorter, longer in _largest(openings)),
            load=None if load is None else load / cubic_metres(unit, unit, Fraction(1), units),
        )
        if store is None:
            return in_vehicle
        return replace(
            in_vehicle,
            kerf=grid.to_int(store.kerf),
            accuracy=grid.to_int(store.accuracy),
            least=max(1, -(-store.min_piece // unit)),
            max_cuts=DEFAULT_MAX_CUTS if store.max_cuts is None else store.max_cuts,
            mark=grid.to_int(STORE_MARK[units]),
        )

    def of_sheet(self, sheet: Stock) -> StoreLimits:
        """Return the limits for the pieces of a sheet: its density tells how large they may be."""
        if self.load is None or sheet.density is None:
            return self
        area = self.load / (sheet.thickness * sheet.density.kg_per_m3)
        return replace(self, heaviest=int(area))

    def fits(self, length: int, width: int) -> bool:
        """Say whether a piece goes in, one way or the other, and is not too heavy."""
        if self.heaviest is not None and length * width > self.heaviest:
            return False
        longer, shorter = max(length, width), min(length, width)
        return any(longer <= one[0] and shorter <= one[1] for one in self.openings)

    def reach(self, across: int) -> int:
        """Return how long a piece may be that is so wide across; 0 where it is too wide."""
        longest = max(
            longer if across <= shorter else shorter if across <= longer else 0
            for longer, shorter in self.openings
        )
        return longest if self.heaviest is None else min(longest, self.heaviest // across)

    def down(self, size: int) -> int:
        """Return the distance on the mark before it."""
        return size // self.mark * self.mark

    @property
    def apart(self) -> int:
        """How far apart at least panels lie on either side of a cut."""
        return self.kerf + 2 * self.accuracy

    @property
    def longest(self) -> int:
        """Longest side of a piece that goes in."""
        return max(longer for longer, _ in self.openings)

    def fit(self, lengths: NDArray[np.int64], widths: NDArray[np.int64]) -> NDArray[np.bool_]:
        """Say of several pieces at once whether each goes in and is not too heavy."""
        longer, shorter = np.maximum(lengths, widths), np.minimum(lengths, widths)
        is_in: NDArray[np.bool_] = np.zeros(longer.shape, np.bool_)
        for most, least in self.openings:
            is_in |= (longer <= most) & (shorter <= least)
        if self.heaviest is not None:
            is_in &= lengths * widths <= self.heaviest
        return is_in

    def up(self, size: int) -> int:
        """Return the next distance on the mark."""
        return -(-size // self.mark) * self.mark


def _largest(openings: Sequence[Sequence[int]]) -> Iterator[Sequence[int]]:
    """Yield the openings that lie inside no other one; sides in order, the shorter first."""
    for number, own in enumerate(openings):
        if not any(
            all(side <= other for side, other in zip(own, into, strict=True))
            and (own != into or place < number)
            for place, into in enumerate(openings)
            if place != number
        ):
            yield own


@dataclass(frozen=True, slots=True)
class Split:
    """A cut that divides a piece along ``axis``: ``size`` of it is measured, then comes the kerf.

    ``first`` and ``rest`` say how the two pieces are cut on.
    """

    axis: Axis
    size: int
    first: Split | None = None
    rest: Split | None = None

    @property
    def count(self) -> int:
        """Number of cuts."""
        return 1 + count_of(self.first) + count_of(self.rest)


Pattern = Split | None


def count_of(pattern: Pattern) -> int:
    """Return the number of cuts of a pattern."""
    return 0 if pattern is None else pattern.count


def sizes_of(pattern: Pattern) -> Iterator[int]:
    """Yield the distance of every cut."""
    if pattern is not None:
        yield pattern.size
        yield from sizes_of(pattern.first)
        yield from sizes_of(pattern.rest)


@dataclass(frozen=True, slots=True)
class Blank:
    """A piece of a sheet at its place, and what has to come off its edges."""

    x: int
    y: int
    length: int
    width: int
    trims: EdgeTrims[int]

    def size(self, axis: Axis) -> int:
        """Return the extent along an axis."""
        return self.length if axis is Axis.X else self.width

    def across(self, axis: Axis) -> int:
        """Return the extent across an axis: the length of a cut that divides it along the axis."""
        return self.width if axis is Axis.X else self.length

    def parted(self, axis: Axis, size: int, limits: StoreLimits) -> tuple[Blank, Blank]:
        """Return the piece measured and the rest of a cut."""
        low, high = self.trims.along(axis)
        kept = self.trims.replaced(axis, (low, limits.accuracy))
        left = self.trims.replaced(axis, (limits.accuracy, high))
        start = size + limits.kerf
        if axis is Axis.X:
            first = replace(self, length=size, trims=kept)
            rest = replace(self, x=self.x + start, length=self.length - start, trims=left)
        else:
            first = replace(self, width=size, trims=kept)
            rest = replace(self, y=self.y + start, width=self.width - start, trims=left)
        return first, rest


def whole(length: int, width: int, trim: int) -> Blank:
    """Return a whole sheet."""
    return Blank(0, 0, length, width, EdgeTrims[int].of(trim))


def blanks_of(pattern: Pattern, piece: Blank, limits: StoreLimits) -> Iterator[Blank]:
    """Yield the blanks that a pattern makes of a piece, each measured piece before its rest."""
    if pattern is None:
        yield piece
        return
    first, rest = piece.parted(pattern.axis, pattern.size, limits)
    yield from blanks_of(pattern.first, first, limits)
    yield from blanks_of(pattern.rest, rest, limits)


@dataclass(frozen=True, slots=True)
class StoreCut:
    """One cut at the store: the piece, and the two it becomes, each with its blanks' numbers.

    ``is_first`` marks the cut that divides the whole sheet.
    """

    axis: Axis
    piece: Blank
    first: Blank
    rest: Blank
    numbers: tuple[range, range]
    is_first: bool


def cuts_of(pattern: Pattern, piece: Blank, limits: StoreLimits) -> list[StoreCut]:
    """Return the cuts in the order in which they are made; blanks are numbered from 1.

    Strips come off one after the other, each measured from the sheet's edge or the cut before, and
    are then cut in turn.
    """
    cuts: list[StoreCut] = []
    waiting = [(pattern, piece, 1)]
    while waiting:
        split, here, number = waiting.pop(0)
        later = []
        while split is not None:
            first, rest = here.parted(split.axis, split.size, limits)
            middle = number + count_of(split.first) + 1
            end = middle + count_of(split.rest) + 1
            numbers = (range(number, middle), range(middle, end))
            cuts.append(StoreCut(split.axis, here, first, rest, numbers, not cuts))
            later.append((split.first, first, number))
            following = split.rest
            here, number = rest, middle
            if following is not None and following.axis is not split.axis:
                later.append((following, here, number))
                following = None
            split = following
        waiting.extend(later)
    return cuts
