"""The cheapest break-down of a few panels, by trying every pattern and every tree of cuts.

It shares with the search only what patterns, limits and blanks say of themselves.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from cutlist.breakdown.answer import Tariff
from cutlist.breakdown.blanks import BrokenSheet, kinds_of
from cutlist.breakdown.patterns import Blank, Pattern, Split, StoreLimits, count_of
from cutlist.model.layout import Axis
from cutlist.nesting.problem import Problem
from cutlist.sequencing.fence import Fence
from tests.nesting.exhaustive import outlines
from tests.planning.jobs import sheet


def every_pattern(piece: Blank, limits: StoreLimits, most: int) -> Iterator[Pattern]:
    """Yield every pattern of at most so many cuts whose distances are on the mark.

    All blanks go in, and no piece is too small.
    """
    if limits.fits(piece.length, piece.width):
        yield None
    if most == 0:
        return
    for axis in Axis:
        last = piece.size(axis) - limits.kerf - limits.least
        for size in range(limits.mark, last + 1, limits.mark):
            if size < limits.least:
                continue
            one, rest = piece.parted(axis, size, limits)
            for first in every_pattern(one, limits, most - 1):
                for then in every_pattern(rest, limits, most - 1 - count_of(first)):
                    yield Split(axis, size, first, then)


@dataclass(frozen=True, slots=True)
class Best:
    """The cheapest answer: its cost with the store's charge, and its cuts."""

    cost: int
    cuts: int


class EveryBreakDown:
    """Tries everything for one small problem.

    Parameters
    ----------
    problem
        A few panels; its bins are whole sheets, and offcuts with their insides for sizes.
    sheets
        For each bin that is a sheet the whole sheet.
    limits
        The store and the vehicle, the same for all sheets.
    fence
        The shop, without a limit to its reach.
    """

    def __init__(
        self, problem: Problem, sheets: Mapping[int, Blank], limits: StoreLimits, fence: Fence
    ) -> None:
        self._problem = problem
        self._limits = limits
        self._fence = fence
        self._outlines = outlines(problem)
        self._everything = len(self._outlines) - 1
        self._fitting: dict[tuple[int, int], frozenset[int]] = {}
        #: Sets of panels that a bin gives with so many cuts, as bit masks.
        self._gives: dict[tuple[int, int], set[int]] = {}
        for kind, piece in enumerate(problem.bins):
            if kind in sheets:
                for pattern in every_pattern(sheets[kind], limits, limits.max_cuts):
                    own = self._gives.setdefault((kind, count_of(pattern)), set())
                    own |= self._on(sheets[kind], pattern)
            else:
                self._gives[kind, 0] = set(self._inside(piece.length, piece.width))
        # What is part of another set need not be tried.
        self._gives = {
            key: {one for one in sets if not any(one != two and one & two == one for two in sets)}
            for key, sets in self._gives.items()
        }

    def _inside(self, length: int, width: int) -> frozenset[int]:
        """Return the sets of panels that can be cut from a region."""
        if (length, width) not in self._fitting:
            self._fitting[length, width] = frozenset(
                group
                for group, rectangles in enumerate(self._outlines)
                if any(x <= length and y <= width for x, y in rectangles)
            )
        return self._fitting[length, width]

    def _on(self, piece: Blank, pattern: Pattern) -> set[int]:
        """Return the sets of panels that can be cut from the blanks of a sheet."""
        found = {0}
        broken = BrokenSheet(0, sheet(), piece, pattern)
        for kind in kinds_of((broken,), self._limits, self._fence):
            for _ in kind.spots:
                here = self._inside(kind.bin.length, kind.bin.width)
                # What is cut twice is left off one of the two.
                found = {one | other for one in found for other in here}
        return found

    def best(self, tariff: Tariff) -> Best | None:
        """Return the cheapest way to get all panels, and of these the one with fewest cuts."""
        stock = [piece.available for piece in self._problem.bins]
        at_first = (0, (0,) * len(stock))
        reached: dict[tuple[int, tuple[int, ...]], set[int]] = {at_first: {0}}
        found: Best | None = None
        waiting = [(0, *at_first, 0)]
        while waiting:
            group, cuts, used, bought = waiting.pop()
            cost = bought + tariff.rate * max(0, cuts - tariff.free)
            if found is not None and (cost, cuts) >= (found.cost, found.cuts):
                continue
            if group == self._everything:
                found = Best(cost, cuts)
                continue
            for (kind, more), gives in self._gives.items():
                most = stock[kind]
                if most is not None and used[kind] >= most:
                    continue
                then = _one_more(used, kind)
                seen = reached.setdefault((cuts + more, then), set())
                for new in {group | one for one in gives} - seen - {group}:
                    seen.add(new)
                    waiting.append((new, cuts + more, then, bought + tariff.costs[kind]))
        return found


def _one_more(used: Sequence[int], kind: int) -> tuple[int, ...]:
    return tuple(number + (place == kind) for place, number in enumerate(used))
