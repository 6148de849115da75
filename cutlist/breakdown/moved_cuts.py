"""A pattern looked at with one of its cuts at many places at once, by arrays.

What a blank is good for depends on its inside alone: the blank less what its edges lose.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, TypeVar

import numpy as np

from cutlist.breakdown.patterns import Split
from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from cutlist.breakdown.patterns import Blank, Pattern, StoreLimits
    from cutlist.sequencing.fence import Fence

    Sizes = NDArray[np.int64]

_T = TypeVar("_T")


def splits_of(pattern: Pattern, piece: Blank, limits: StoreLimits) -> Iterator[tuple[Split, Blank]]:
    """Yield every cut of a pattern with the piece that it divides."""
    if pattern is not None:
        yield pattern, piece
        first, rest = piece.parted(pattern.axis, pattern.size, limits)
        yield from splits_of(pattern.first, first, limits)
        yield from splits_of(pattern.rest, rest, limits)


def with_cut_at(pattern: Pattern, split: Split, size: int) -> Pattern:
    """Return the pattern with one of its cuts at another distance."""
    if pattern is None:
        return None
    if pattern is split:
        return replace(pattern, size=size)
    return replace(
        pattern,
        first=with_cut_at(pattern.first, split, size),
        rest=with_cut_at(pattern.rest, split, size),
    )


class MovedCut:
    """The blanks of a pattern with one cut at each of several distances.

    Parameters
    ----------
    pattern, sheet
        The pattern and the whole sheet.
    limits, fence
        Store and vehicle, and the shop.
    split
        The cut that is moved, as an object of the pattern; None for none.
    sizes
        Where it is moved to.

    Attributes
    ----------
    insides
        Length and width of each blank between what its edges lose, one entry for each distance;
        they may be negative.
    is_allowed
        For each distance whether all blanks go in and no piece is too small.
    """

    def __init__(
        self,
        pattern: Pattern,
        sheet: Blank,
        limits: StoreLimits,
        fence: Fence,
        split: Split | None = None,
        sizes: Sizes | None = None,
    ) -> None:
        self._limits = limits
        self._fence = fence
        self._split = split
        self._sizes = np.zeros(1, np.int64) if sizes is None else sizes
        self.insides: list[tuple[Sizes, Sizes]] = []
        self.is_allowed = np.ones(len(self._sizes), np.bool_)
        length = np.full(len(self._sizes), sheet.length, np.int64)
        width = np.full(len(self._sizes), sheet.width, np.int64)
        self._divide(pattern, (length, width), sheet.trims)

    def _divide(self, pattern: Pattern, sides: tuple[Sizes, Sizes], trims: EdgeTrims[int]) -> None:
        if pattern is None:
            self.is_allowed &= self._limits.fit(*sides)
            self.insides.append(usable(sides, trims, self._fence))
            return
        axis = 0 if pattern.axis is Axis.X else 1
        size = self._sizes if pattern is self._split else np.int64(pattern.size)
        first = size + np.zeros_like(sides[axis])
        rest = sides[axis] - first - self._limits.kerf
        self.is_allowed &= (first >= self._limits.least) & (rest >= self._limits.least)
        low, high = trims.along(pattern.axis)
        rough = self._limits.accuracy
        kept = trims.replaced(pattern.axis, (low, rough))
        left = trims.replaced(pattern.axis, (rough, high))
        self._divide(pattern.first, _with(sides, axis, first), kept)
        self._divide(pattern.rest, _with(sides, axis, rest), left)


def _with(pair: tuple[Sizes, Sizes], place: int, item: Sizes) -> tuple[Sizes, Sizes]:
    return (item, pair[1]) if place == 0 else (pair[0], item)


def usable(sides: tuple[Sizes, Sizes], trims: EdgeTrims[int], fence: Fence) -> tuple[Sizes, Sizes]:
    """Return length and width of blanks between what their edges lose.

    The same as the bins of :func:`cutlist.breakdown.blanks.kinds_of`.

    Parameters
    ----------
    sides
        Length and width of each blank.
    trims
        What is to be cleaned off their edges.
    fence
        The shop.
    """
    mark = fence.common_mark
    near = (_between(sides[0], trims.x, mark), _between(sides[1], trims.y, mark))
    if fence.reach is None:
        return near
    is_far = (sides[0] > fence.reach) | (sides[1] > fence.reach)
    if not is_far.any():
        return near
    least = fence.least_off
    wide = EdgeTrims(*(max(trim, least) if trim else 0 for trim in trims.each))
    return (
        np.where(is_far, _between(sides[0], wide.x, mark), near[0]),
        np.where(is_far, _between(sides[1], wide.y, mark), near[1]),
    )


def _between(size: Sizes, ends: tuple[int, int], mark: int) -> Sizes:
    low, high = sorted(ends)
    # The edge at the low end goes off with the fence on the far side, at one of its marks.
    off = low + (size - low) % mark if low else 0
    return size - off - high
