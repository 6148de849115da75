"""Sheets broken down at the store as stock for the layouts: each blank's inside is a bin.

A blank's edges are not alike: some are the sheet's own, some the store cut. A layout may be looked
at from either end, so that along each axis the cleaner end is its low one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutlist.breakdown.patterns import Blank, Pattern, StoreLimits, blanks_of, count_of
from cutlist.model.edges import EdgeTrims
from cutlist.model.job import Sheet
from cutlist.model.layout import Axis, Layout
from cutlist.nesting.problem import Bin
from cutlist.sequencing.fence import Fence


@dataclass(frozen=True, slots=True)
class BrokenSheet:
    """A sheet that is bought, and how it is broken down; ``kind`` is its number in the group."""

    kind: int
    sheet: Sheet
    whole: Blank
    pattern: Pattern

    @property
    def cuts(self) -> int:
        """Number of cuts at the store."""
        return count_of(self.pattern)

    def blanks(self, limits: StoreLimits) -> tuple[Blank, ...]:
        """Return its blanks, in the order of their numbers."""
        return tuple(blanks_of(self.pattern, self.whole, limits))


@dataclass(frozen=True, slots=True)
class BlankPlace:
    """A blank: the number of its sheet, its own on the sheet from 1, and how layouts lie on it."""

    sheet: int
    number: int
    blank: Blank
    mirrored: frozenset[Axis]


@dataclass(frozen=True, slots=True)
class BlankKind:
    """Blanks that are all the same to a layout."""

    bin: Bin
    trims: EdgeTrims[int]
    sheet: Sheet
    spots: tuple[BlankPlace, ...]


def kinds_of(
    sheets: Sequence[BrokenSheet], limits: StoreLimits, fence: Fence
) -> tuple[BlankKind, ...]:
    """Return the blanks of some sheets by kind; those with nothing between their trims left out.

    Their bins cost nothing: the sheets are bought.
    """
    found: dict[tuple[int, int, EdgeTrims[int]], list[BlankPlace]] = {}
    for index, broken in enumerate(sheets):
        for number, blank in enumerate(broken.blanks(limits), start=1):
            trims = cleanable(blank, fence)
            mirrored = mirrored_along(trims)
            for axis in Axis:
                low, high = sorted(trims.along(axis))
                if low:
                    # The edge goes off with the fence on the far side, at one of its marks.
                    low += (blank.size(axis) - low) % fence.common_mark
                trims = trims.replaced(axis, (low, high))
            length, width = trims.inside(blank.length, blank.width)
            if length > 0 and width > 0:
                spot = BlankPlace(index, number, blank, mirrored)
                found.setdefault((length, width, trims), []).append(spot)
    return tuple(
        BlankKind(
            Bin(length, width, 0, len(spots), edges=(*trims.x, *trims.y)),
            trims,
            sheets[spots[0].sheet].sheet,
            tuple(spots),
        )
        for (length, width, trims), spots in found.items()
    )


def mirrored_along(trims: EdgeTrims[int]) -> frozenset[Axis]:
    """Return the axes along which a layout counts from the high end, which is the cleaner one."""
    return frozenset(axis for axis in Axis if trims.along(axis)[0] > trims.along(axis)[1])


def cleanable(blank: Blank, fence: Fence) -> EdgeTrims[int]:
    """Return a blank's trims, large enough to be taken off.

    Where the fence stands on the far side, an edge is taken off as a piece of its own.
    """
    if fence.reaches(blank.length) and fence.reaches(blank.width):
        return blank.trims
    return EdgeTrims(*(max(trim, fence.least_off) if trim else 0 for trim in blank.trims.each))


def times_used(layouts: Sequence[Layout], kinds: Sequence[BlankKind]) -> list[int]:
    """Return how often layouts use each kind of blank; what lies on offcuts does not count."""
    used = Counter[int]()
    for layout in layouts:
        used[layout.stock] += layout.copies
    return [used[number] for number in range(len(kinds))]


def without_idle(
    sheets: Sequence[BrokenSheet], kinds: Sequence[BlankKind], used: Sequence[int]
) -> tuple[BrokenSheet, ...]:
    """Return the sheets of which some blank is used, of each kind the first ``used`` ones."""
    needed = {
        spot.sheet for kind, count in zip(kinds, used, strict=True) for spot in kind.spots[:count]
    }
    return tuple(sheet for index, sheet in enumerate(sheets) if index in needed)


def with_pattern(sheet: BrokenSheet, pattern: Pattern) -> BrokenSheet:
    """Return the sheet broken down in another way."""
    return replace(sheet, pattern=pattern)
