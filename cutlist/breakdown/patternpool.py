"""The patterns of one size of sheet, and what they are worth at given prices of the panels."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from cutlist.breakdown.patterns import count_of
from cutlist.breakdown.sliding import Slide, slid, splits_of
from cutlist.model.layout import Layout
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.problem import Bin, Problem
from cutlist.nesting.reach import is_reachable
from cutlist.nesting.sheetfill import SheetFiller
from cutlist.nesting.solve import nest
from cutlist.nesting.state import Tables
from cutlist.nesting.stopping import AfterSteps
from cutlist.nesting.tree import cells, tightened

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from cutlist.breakdown.patterns import Pattern
    from cutlist.breakdown.purchase import Trees
    from cutlist.breakdown.splitting import Splitter
    from cutlist.model.layout import Cell, Strip
    from cutlist.nesting.sheetfill import Filling
    from cutlist.sequencing.fence import Fence

    Counts = NDArray[np.int64]
    Values = NDArray[np.float64]

_EXTENTS = 90  # that a filling looks at along an axis; the time grows with the third power
_LABELS = 3  # sets of panels kept for each sub-rectangle of a filling that is soon done
_MUCH_WORK = 200_000  # pairs of sub-rectangles from which on one set, and one try, has to do
_FRESH = 16  # patterns drawn at random before each look
_MOVED = 6  # patterns whose cuts are moved in one look
_PASSES = 3  # over the cuts of each
_PLACES = 250  # where one cut is tried, drawn by chance among more
_FILLED = 10  # patterns worth most that one look returns
_FEW = 6  # of them where a filling takes long
_LUCKY = 8  # others that it returns, by chance
_NEAR = 100  # patterns that these are drawn from
_LIKE = 3  # of them that tell which panels are scarce
_MOST = 4000  # patterns kept
_HAIR = 1e-6
_ASTRAY = 0.4  # of a value, up or down, in a try
_ASTRAY_TRIES = 3  # to fill the blanks of a pattern
_RECUT_STEPS = 512  # of a search for another tree where the fence does not reach
_WORK_A_STEP = 240  # pairs of sub-rectangles joined while the search makes a step
_STEPS_A_MOVE = 60  # steps of the search that take as long as moving a cut


@dataclass(frozen=True, slots=True)
class Filled:
    """A sheet with what is cut from its blanks.

    Parameters
    ----------
    pattern
        How it is broken down.
    trees
        For each blank that is used its number, from 1, and the layout's tree on its inside.
    counts
        Panels of each item.
    """

    pattern: Pattern
    trees: Trees
    counts: Counts


class PatternPool:
    """Patterns of one size of sheet.

    Parameters
    ----------
    problem
        The parts, the blade's kerf, and the reach that layouts on blanks may count on.
    splitter
        Makes the patterns.
    fence
        The shop.
    rng
        Draws patterns.

    Attributes
    ----------
    spent
        Steps of the search that would have taken as long as all looks so far.
    """

    def __init__(
        self, problem: Problem, splitter: Splitter, fence: Fence, rng: random.Random
    ) -> None:
        self._problem = problem
        self._splitter = splitter
        self._fence = fence
        self._rng = rng
        self._draws = np.random.default_rng(rng.getrandbits(32))
        self._patterns: dict[Pattern, None] = {}
        self._sides: list[tuple[int, int]] = []
        self._owners: list[int] = []
        self._cuts: list[int] = []
        self._recut: dict[tuple[bytes, int, int], Strip | Cell | None] = {}
        self.spent = 0
        # No blank is larger than the largest piece that goes in.
        sheet, longest = splitter.sheet, splitter.limits.longest
        largest = Bin(min(sheet.length, longest), min(sheet.width, longest), 0)
        tables = Tables.of(Problem(problem.items, (largest,), problem.kerf))
        self._filler = SheetFiller(tables, 0, _EXTENTS)

    def add(self, patterns: Iterable[Pattern]) -> None:
        """Add patterns that are not known yet."""
        for pattern in patterns:
            if pattern in self._patterns or len(self._patterns) >= _MOST:
                continue
            slide = Slide(pattern, self._splitter.sheet, self._splitter.limits, self._fence)
            self._owners += [len(self._patterns)] * len(slide.insides)
            self._sides += [(int(length[0]), int(width[0])) for length, width in slide.insides]
            self._cuts.append(count_of(pattern))
            self._patterns[pattern] = None

    def draw(self, number: int) -> None:
        """Add patterns drawn at random."""
        self.add(self._splitter.any_pattern(self._rng) for _ in range(number))

    def look(
        self, values: Values, demand: Counts, cut: float = 0.0
    ) -> tuple[list[Pattern], Values]:
        """Return the patterns worth most, some of them new, and how often they would use each item.

        That is counted without regard for the demand of several blanks together.

        Parameters
        ----------
        values
            Worth of one panel of each item.
        demand
            At most so many of each on one blank.
        cut
            What a pattern is worth less for each of its cuts.
        """
        labels = _LABELS if self._filler.work < _MUCH_WORK else 1
        self._filler.fill(values, demand, labels)
        self.spent += 1 + labels * self._filler.work // _WORK_A_STEP
        self.draw(_FRESH)
        self.add([self._moved(pattern) for pattern in self._foremost(_MOVED, 2, cut)])
        is_quick = self._filler.work < _MUCH_WORK
        best = self._foremost(_FILLED if is_quick else _FEW, _LUCKY if is_quick else _FEW // 2, cut)
        uses = np.zeros(len(demand))
        for pattern in best[:_LIKE]:
            slide = Slide(pattern, self._splitter.sheet, self._splitter.limits, self._fence)
            for length, width in slide.insides:
                filling = self._filler.filling_in(int(length[0]), int(width[0]))
                if filling is not None:
                    uses += filling.counts / _LIKE
        return best, uses

    def filled(self, pattern: Pattern, values: Values, demand: Counts) -> Filled:
        """Fill the blanks of a pattern one after the other, as the last look at these values would.

        Where too few panels are left for that, it makes a difference which blank comes first, and
        what it leaves to the others: several orders are tried, some of them at values that are off.
        """
        splitter = self._splitter
        slide = Slide(pattern, splitter.sheet, splitter.limits, self._fence)
        sides = [(int(length[0]), int(width[0])) for length, width in slide.insides]
        order = sorted(
            (number for number, side in enumerate(sides) if min(side) > 0),
            key=lambda n: -sides[n][0] * sides[n][1],
        )
        trees, is_short = self._begun(sides, order, values, demand)
        tries = [trees]
        if is_short and self._filler.work < _MUCH_WORK:
            tries.append(self._refilled(sides, order[::-1], values, demand))
            for _ in range(_ASTRAY_TRIES):
                off = [self._rng.uniform(1 - _ASTRAY, 1 + _ASTRAY) for _ in values]
                shuffled = self._rng.sample(order, len(order))
                tries.append(self._refilled(sides, shuffled, values * np.array(off), demand))
        found = [Filled(pattern, trees, self._counted(trees)) for trees in tries]
        return max(found, key=lambda one: float(values @ one.counts))

    def _begun(
        self, sides: Sequence[tuple[int, int]], order: Sequence[int], values: Values, demand: Counts
    ) -> tuple[Trees, bool]:
        """Fill blanks as the last look would; tell too whether too few panels were left for one."""
        left = demand.copy()
        trees: list[tuple[int, Strip | Cell]] = []
        for place, number in enumerate(order):
            filling = self._filler.filling_in(*sides[number])
            if filling is not None and (filling.counts > left).any():
                rest = self._refilled(sides, order[place:], values, left)
                return (*trees, *rest), True
            self._lay(trees, number, filling, sides[number], left)
        return tuple(trees), False

    def _refilled(
        self, sides: Sequence[tuple[int, int]], order: Sequence[int], values: Values, demand: Counts
    ) -> Trees:
        """Fill blanks in an order, each with what the ones before leave."""
        left = demand.copy()
        trees: list[tuple[int, Strip | Cell]] = []
        for number in order:
            filling = self._filler.fill_region(values, left, *sides[number])
            self.spent += 1 + self._filler.done // _WORK_A_STEP
            self._lay(trees, number, filling, sides[number], left)
        return tuple(trees)

    def _lay(
        self,
        trees: list[tuple[int, Strip | Cell]],
        number: int,
        filling: Filling | None,
        sides: tuple[int, int],
        left: Counts,
    ) -> None:
        """Add a filling to the trees, and take its panels off those that are left."""
        tree = None if filling is None else self._reachable(filling, *sides)
        if tree is not None:
            trees.append((number + 1, tree))
            left -= self._counted(trees[-1:])

    def _counted(self, trees: Iterable[tuple[int, Strip | Cell]]) -> Counts:
        """Count the panels of each item."""
        parts = [cell.part for _, tree in trees for cell in cells(tree)]
        return np.bincount(parts, minlength=len(self._problem.items)).astype(np.int64)

    def _reachable(self, filling: Filling, length: int, width: int) -> Strip | Cell | None:
        """Return a tree of a filling with every cut within reach; None if there is none.

        Filling knows no reach. Where its tree is beyond it, another one for the same panels is
        looked for, if need be without some of them.
        """
        tree = tightened(filling.tree, length, width, self._problem.kerf)
        bins = (Bin(length, width, 1, 1),)
        problem = Problem(self._problem.items, bins, self._problem.kerf, self._problem.reach)
        if is_reachable(problem, Layout(0, tree)):
            return tree
        key = (filling.counts.tobytes(), length, width)
        if key not in self._recut:
            self._recut[key] = self._other_tree(problem, filling.counts)
        return self._recut[key]

    def _other_tree(self, problem: Problem, counts: NDArray[np.int32]) -> Strip | Cell | None:
        """Search a tree for panels on a blank, again without those that found no place."""
        wanted = counts.tolist()
        for _ in range(2):
            items = tuple(
                replace(item, qty=qty) for item, qty in zip(problem.items, wanted, strict=True)
            )
            self.spent += _RECUT_STEPS
            try:
                rule = AfterSteps(_RECUT_STEPS)
                found = nest(replace(problem, items=items), seed=0, stop=rule)
            except ItemFitsNowhereError as error:
                wanted = [0 if n in error.items else qty for n, qty in enumerate(wanted)]
            except StockTooSmallError as error:
                wanted = [qty - error.short.get(n, 0) for n, qty in enumerate(wanted)]
            else:
                return found.layouts[0].root if found.layouts else None
        return None

    def _foremost(self, most: int, lucky: int, cut: float) -> list[Pattern]:
        """Return the patterns worth most, some others by chance, and the best of each cut count.

        The worth counts scarce panels too often, so that one farther down may be the best; and
        where cuts are paid for one with fewer of them may be.
        """
        best = self._best(_NEAR, cut)
        others = best[most:]
        drawn = self._rng.sample(others, min(lucky, len(others)))
        fewer = {count_of(pattern): pattern for pattern in reversed(best)}
        return list(dict.fromkeys((*best[:most], *drawn, *fewer.values())))

    def _best(self, most: int, cut: float) -> list[Pattern]:
        sides = np.array(self._sides, np.int64).reshape(-1, 2)
        worths = self._filler.worths_in(sides[:, 0], sides[:, 1])
        sums = np.bincount(self._owners, weights=worths, minlength=len(self._patterns))
        order = np.argsort(cut * np.array(self._cuts) - sums, kind="stable")
        patterns = list(self._patterns)
        return [patterns[n] for n in order[:most].tolist()]

    def _worth(self, slide: Slide) -> Values:
        total = sum((self._filler.worths_in(*sides) for sides in slide.insides), np.zeros(1))
        return np.where(slide.is_allowed, total, -1.0)

    def _moved(self, pattern: Pattern) -> Pattern:
        """Return a pattern with its cuts, one after the other, where they are worth most."""
        splitter, limits = self._splitter, self._splitter.limits
        best = float(self._worth(Slide(pattern, splitter.sheet, limits, self._fence))[0])
        for _ in range(_PASSES):
            before = best
            for place in range(len(list(splits_of(pattern, splitter.sheet, limits)))):
                split, piece = list(splits_of(pattern, splitter.sheet, limits))[place]
                sizes = splitter.distances(piece, split.axis)
                self.spent += _STEPS_A_MOVE
                if not len(sizes):
                    continue
                if len(sizes) > _PLACES:
                    sizes = self._draws.choice(sizes, _PLACES, replace=False)
                slide = Slide(pattern, splitter.sheet, limits, self._fence, split, sizes)
                worths = self._worth(slide)
                top = int(np.argmax(worths))
                if worths[top] > best + _HAIR:
                    best = float(worths[top])
                    pattern = slid(pattern, split, int(sizes[top]))
            if best <= before:
                break
        return pattern
