"""How many cuts at the store it takes until every piece of a sheet goes in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

from cutlist.breakdown.parameters import USUAL_BREAKDOWN, CutCountParameters
from cutlist.breakdown.patterns import DEFAULT_MAX_CUTS, StoreLimits
from cutlist.model.layout import Axis

#: Of cuts: more than any store makes, where no number of them would do.
TOO_MANY_CUTS = 1 << 20


class FewestCuts:
    """Counts the cuts for pieces of one kind of sheet.

    Parameters
    ----------
    limits
        The store's saw and the vehicle, and how large a piece of the sheet it carries.
    """

    def __init__(
        self,
        limits: StoreLimits,
        parameters: CutCountParameters = USUAL_BREAKDOWN.splitting.cuts,
    ) -> None:
        self._parameters = parameters
        self._limits = limits
        self._fewest: dict[tuple[int, int], int] = {}
        sides = {side for opening in limits.openings for side in opening}
        self._sides = tuple(sorted(sides, reverse=True))
        self._largest = max(self._room(*opening) for opening in limits.openings)

    def of_sheet(self, length: int, width: int) -> int:
        """Return the fewest cuts that get a sheet in, or :data:`TOO_MANY_CUTS`."""
        if self._bound(length, width) > max(self._limits.max_cuts, DEFAULT_MAX_CUTS):
            return TOO_MANY_CUTS
        return self.of_piece(length, width)

    def at_all(self, length: int, width: int) -> int:
        """Return cuts that no way to get a sheet in can do without, wherever they are made.

        Exact for one opening, with any place and any size of piece allowed; else by the area, and
        so for an opening hardly wider than the kerf, whose exactness is not sure.
        """
        limits = replace(self._limits, least=1, mark=1, heaviest=None)
        is_slender = min(min(one) for one in limits.openings) <= self._parameters.slender * max(
            1, limits.kerf
        )
        if is_slender or len(limits.openings) > 1:
            return self._bound(length, width)
        free = FewestCuts(limits)
        fewest = free.of_sheet(length, width)
        return fewest if free._patience() is None else self._bound(length, width)

    def of_piece(self, length: int, width: int) -> int:
        """Return the fewest cuts that get a piece in, or a number beyond any store's."""
        if self._limits.fits(length, width):
            return 0
        key = (length, width)
        if key not in self._fewest:
            least, best = self._bound(length, width), TOO_MANY_CUTS
            for axis in Axis:
                size, across = (length, width) if axis is Axis.X else (width, length)
                for first in islice(self._distances(size, across), self._patience()):
                    rest = size - first - self._limits.kerf
                    if best > 1 + self._bound(first, across) + self._bound(rest, across):
                        best = min(best, self.after(axis, first, length, width))
                    if best == least:
                        break
            self._fewest[key] = best
        return self._fewest[key]

    def _distances(self, size: int, across: int) -> Iterator[int]:
        """Yield the distances to try for a first cut.

        With several ways in the largest blank may leave a rest that takes a cut more than some
        equal ones do.
        """
        yield from self.firsts(size, across)
        if len(self._limits.openings) > 1:
            yield from self.equal(size, across)

    def _patience(self) -> int | None:
        """Return how many distances to try for a piece: all, unless the pieces become too many."""
        return None if len(self._fewest) < self._parameters.most_pieces else 1

    def _room(self, longer: int, shorter: int) -> int:
        """Return the largest area of a blank for an opening, with a kerf beside it each way."""
        kerf, heaviest = self._limits.kerf, self._limits.heaviest
        area = (longer + kerf) * (shorter + kerf)
        if heaviest is None or heaviest >= longer * shorter:
            return area
        # Of all shapes the most slender one loses most.
        return min(area, heaviest + kerf * (longer + heaviest // longer + 1 + kerf))

    def _bound(self, length: int, width: int) -> int:
        """Return a number of cuts that no way to get a piece in can do without, by its area."""
        kerf = self._limits.kerf
        return max(0, -(-(length + kerf) * (width + kerf) // self._largest) - 1)

    def firsts(self, size: int, across: int) -> Iterator[int]:
        """Yield the distances at which a cut leaves the largest blanks of a piece, on the mark."""
        limits = self._limits
        most = limits.down(size - limits.kerf - limits.least)
        for longest in self.longest(across):
            first = min(limits.down(longest), most)
            if longest < size and first >= max(limits.least, longest // 2):
                yield first
        if limits.heaviest is not None and self._bound(size, across) <= self._parameters.few:
            # Where pieces are too heavy, some equal ones take fewer cuts than the largest.
            for parts in self._parameters.equal:
                first = limits.up(-(-(size - (parts - 1) * limits.kerf) // parts))
                if limits.least <= first <= most:
                    yield first

    def equal(self, size: int, across: int) -> Iterator[int]:
        """Yield the distances at which cuts leave as few equal blanks as go in."""
        limits = self._limits
        for longest in self.longest(across):
            parts = max(1, -(-(size + limits.kerf) // (longest + limits.kerf)))
            first = limits.up(-(-(size - (parts - 1) * limits.kerf) // parts))
            first = min(first, limits.down(size - limits.kerf - limits.least))
            if first >= limits.least:
                yield first

    def longest(self, across: int) -> tuple[int, ...]:
        """Return how long blanks are of a piece so wide across: as it is, or once it is cut."""
        reach = self._limits.reach(across)
        return tuple(dict.fromkeys((reach, *self._sides))) if reach else self._sides[::-1]

    def after(self, axis: Axis, first: int, length: int, width: int) -> int:
        """Return the fewest cuts if the first one is this."""
        limits = self._limits
        size = length if axis is Axis.X else width
        rest = size - first - limits.kerf
        if first < limits.least or rest < limits.least:
            return TOO_MANY_CUTS
        if axis is Axis.X:
            return 1 + self.of_piece(first, width) + self.of_piece(rest, width)
        return 1 + self.of_piece(length, first) + self.of_piece(length, rest)
