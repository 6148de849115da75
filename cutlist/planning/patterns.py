"""How a sheet is broken down at the store: a tree of cuts, and the blanks it leaves.

All in grid units, in the frame of the sheet. A pattern is the cut that is made first, or None for a
piece that stays as it is. Each cut goes from edge to edge: the piece at its low end is the one
measured, what is beyond the kerf is the rest.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING

from cutlist.model.job import Units
from cutlist.model.layout import Axis
from cutlist.sequencing.runs import Margins

if TYPE_CHECKING:
    from cutlist.grid import Grid
    from cutlist.model.job import Store, Vehicle

#: Distances at the store are multiples of it: what its tape and its operator read at a glance.
STORE_MARK = {Units.INCH: Fraction(1, 8), Units.MM: Fraction(1)}
#: As many cuts in a sheet as a store makes that gives no number.
MANY_CUTS = 60


@dataclass(frozen=True, slots=True)
class Limits:
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
    bed
        Longer and shorter side of the largest piece that goes in.
    """

    kerf: int
    accuracy: int
    least: int
    max_cuts: int
    mark: int
    bed: tuple[int, int]

    @classmethod
    def of(cls, store: Store, vehicle: Vehicle, grid: Grid, units: Units) -> Limits:
        """Return the limits in units of a grid that holds the store's lengths and its mark."""
        unit = grid.unit
        bed = sorted((vehicle.bed_length // unit, vehicle.bed_width // unit))
        return cls(
            kerf=grid.to_int(store.kerf),
            accuracy=grid.to_int(store.accuracy),
            least=max(1, -(-store.min_piece // unit)),
            max_cuts=MANY_CUTS if store.max_cuts is None else store.max_cuts,
            mark=grid.to_int(STORE_MARK[units]),
            bed=(bed[1], bed[0]),
        )

    def fits(self, length: int, width: int) -> bool:
        """Say whether a piece goes in, one way or the other."""
        return max(length, width) <= self.bed[0] and min(length, width) <= self.bed[1]

    def up(self, size: int) -> int:
        """Return the next distance on the mark."""
        return -(-size // self.mark) * self.mark


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
    margins: Margins

    def size(self, axis: Axis) -> int:
        """Return the extent along an axis."""
        return self.length if axis is Axis.X else self.width

    def across(self, axis: Axis) -> int:
        """Return the extent across an axis: the length of a cut that divides it along the axis."""
        return self.width if axis is Axis.X else self.length

    def parted(self, axis: Axis, size: int, limits: Limits) -> tuple[Blank, Blank]:
        """Return the piece measured and the rest of a cut."""
        low, high = self.margins.along(axis)
        kept = self.margins.replaced(axis, (low, limits.accuracy))
        left = self.margins.replaced(axis, (limits.accuracy, high))
        start = size + limits.kerf
        if axis is Axis.X:
            first = replace(self, length=size, margins=kept)
            rest = replace(self, x=self.x + start, length=self.length - start, margins=left)
        else:
            first = replace(self, width=size, margins=kept)
            rest = replace(self, y=self.y + start, width=self.width - start, margins=left)
        return first, rest


def whole(length: int, width: int, trim: int) -> Blank:
    """Return a whole sheet."""
    return Blank(0, 0, length, width, Margins.of(trim))


def blanks_of(pattern: Pattern, piece: Blank, limits: Limits) -> Iterator[Blank]:
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


def cuts_of(pattern: Pattern, piece: Blank, limits: Limits) -> list[StoreCut]:
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
