"""The patterns of one size of sheet, and what they are worth at given prices of the panels."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from cutlist.breakdown.moved_cuts import MovedCut, splits_of, with_cut_at
from cutlist.breakdown.parameters import USUAL_BREAKDOWN, PatternPoolParameters
from cutlist.breakdown.patterns import count_of
from cutlist.model.layout import Layout
from cutlist.nesting.columns.sheet_filling import SheetFiller
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.kernels.tables import Tables
from cutlist.nesting.layouts.reach import is_reachable
from cutlist.nesting.layouts.trees import cells, tightened
from cutlist.nesting.parameters import USUAL_NESTING
from cutlist.nesting.problem import Bin, Problem
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from numpy.typing import NDArray

    from cutlist.breakdown.answer import Trees
    from cutlist.breakdown.patterns import Pattern, Split
    from cutlist.breakdown.splitting import Splitter
    from cutlist.model.layout import Cell, Strip
    from cutlist.nesting.columns.sheet_filling import Filling
    from cutlist.sequencing.fence import Fence

    Counts = NDArray[np.int64]
    Values = NDArray[np.float64]
    Sides = tuple[tuple[int, int], ...]

_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class FilledPattern:
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

    @classmethod
    def of(
        cls, pattern: Pattern, trees: Sequence[tuple[int, Strip | Cell]], items: int
    ) -> FilledPattern:
        """Return a sheet with the panels of its trees counted, of so many items."""
        parts = [cell.part for _, tree in trees for cell in cells(tree)]
        return cls(pattern, tuple(trees), np.bincount(parts, minlength=items).astype(np.int64))


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
        self,
        problem: Problem,
        splitter: Splitter,
        fence: Fence,
        rng: random.Random,
        parameters: PatternPoolParameters = USUAL_BREAKDOWN.choice.pool,
    ) -> None:
        self._parameters = parameters
        self._problem = problem
        self._splitter = splitter
        self._fence = fence
        self._rng = rng
        self._draws = np.random.default_rng(rng.getrandbits(32))
        self._patterns: dict[Pattern, Sides] = {}
        self._recut: dict[tuple[bytes, int, int], Strip | Cell | None] = {}
        self.spent = 0
        # No blank is larger than the largest piece that goes in.
        sheet, longest = splitter.sheet, splitter.limits.longest
        largest = Bin(min(sheet.length, longest), min(sheet.width, longest), 0)
        tables = Tables.of(Problem(problem.items, (largest,), problem.kerf))
        self._filler = SheetFiller(
            tables, 0, replace(USUAL_NESTING.columns.filling, most_extents=parameters.extents)
        )

    def add(self, patterns: Iterable[Pattern]) -> None:
        """Add patterns that are not known yet."""
        for pattern in patterns:
            if pattern in self._patterns or len(self._patterns) >= self._parameters.most:
                continue
            self._patterns[pattern] = self._sides_of(pattern)

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
        labels = self._parameters.labels if self._filler.work < self._parameters.much_work else 1
        self._filler.fill(values, demand, labels)
        self.spent += 1 + labels * self._filler.work // self._filler.parameters.pairs_a_step
        self.draw(self._parameters.fresh)
        self.add(
            [self._moved(pattern) for pattern in self._foremost(self._parameters.moved, 2, cut)]
        )
        is_quick = self._filler.work < self._parameters.much_work
        best = self._foremost(
            self._parameters.filled if is_quick else self._parameters.filled_if_slow,
            self._parameters.lucky if is_quick else self._parameters.filled_if_slow // 2,
            cut,
        )
        uses = np.zeros(len(demand))
        for pattern in best[: self._parameters.telling]:
            for sides in self._patterns[pattern]:
                filling = self._filler.filling_in(*sides)
                if filling is not None:
                    uses += filling.counts / self._parameters.telling
        return best, uses

    def filled(self, pattern: Pattern, values: Values, demand: Counts) -> FilledPattern:
        """Fill the blanks of a pattern one after the other, as the last look at these values would.

        Where too few panels are left for that, it makes a difference which blank comes first, and
        what it leaves to the others: several orders are tried, some of them at values that are off.
        """
        sides = self._patterns.get(pattern) or self._sides_of(pattern)
        order = sorted(
            (number for number, side in enumerate(sides) if min(side) > 0),
            key=lambda n: -sides[n][0] * sides[n][1],
        )
        trees, is_short = self._begun(sides, order, values, demand)
        tries = [trees]
        if is_short and self._filler.work < self._parameters.much_work:
            tries.append(self._refilled(sides, order[::-1], values, demand))
            for _ in range(self._parameters.stray_tries):
                off = [
                    self._rng.uniform(1 - self._parameters.stray, 1 + self._parameters.stray)
                    for _ in values
                ]
                shuffled = self._rng.sample(order, len(order))
                tries.append(self._refilled(sides, shuffled, values * np.array(off), demand))
        items = len(self._problem.items)
        found = [FilledPattern.of(pattern, trees, items) for trees in tries]
        return max(found, key=lambda one: float(values @ one.counts))

    def _begun(
        self, sides: Sides, order: Sequence[int], values: Values, demand: Counts
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
        self, sides: Sides, order: Sequence[int], values: Values, demand: Counts
    ) -> Trees:
        """Fill blanks in an order, each with what the ones before leave."""
        left = demand.copy()
        trees: list[tuple[int, Strip | Cell]] = []
        for number in order:
            filling = self._filler.fill_region(values, left, *sides[number])
            self.spent += 1 + self._filler.done // self._filler.parameters.pairs_a_step
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
            left -= FilledPattern.of(None, trees[-1:], len(left)).counts

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
            self.spent += self._parameters.recut_steps
            try:
                rule = AfterSteps(self._parameters.recut_steps)
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
        best = self._best(self._parameters.near, cut)
        others = best[most:]
        drawn = self._rng.sample(others, min(lucky, len(others)))
        fewer = {count_of(pattern): pattern for pattern in reversed(best)}
        return list(dict.fromkeys((*best[:most], *drawn, *fewer.values())))

    def _best(self, most: int, cut: float) -> list[Pattern]:
        patterns = list(self._patterns)
        blanks = [len(sides) for sides in self._patterns.values()]
        flat = np.array([side for sides in self._patterns.values() for side in sides], np.int64)
        flat = flat.reshape(-1, 2)
        worths = self._filler.worths_in(flat[:, 0], flat[:, 1])
        owners = np.repeat(np.arange(len(patterns)), blanks)
        sums = np.bincount(owners, weights=worths, minlength=len(patterns))
        # A pattern makes a cut fewer than blanks.
        order = np.argsort(cut * (np.array(blanks) - 1) - sums, kind="stable")
        return [patterns[n] for n in order[:most].tolist()]

    def _moved_cut(
        self, pattern: Pattern, split: Split | None = None, sizes: Counts | None = None
    ) -> MovedCut:
        own = self._splitter
        return MovedCut(pattern, own.sheet, own.limits, self._fence, split, sizes)

    def _sides_of(self, pattern: Pattern) -> Sides:
        """Return the inside of each blank of a pattern."""
        insides = self._moved_cut(pattern).insides
        return tuple((int(length[0]), int(width[0])) for length, width in insides)

    def _worth(self, slide: MovedCut) -> Values:
        total = sum((self._filler.worths_in(*sides) for sides in slide.insides), np.zeros(1))
        return np.where(slide.is_allowed, total, -1.0)

    def _moved(self, pattern: Pattern) -> Pattern:
        """Return a pattern with its cuts, one after the other, where they are worth most."""
        splitter, limits = self._splitter, self._splitter.limits
        best = float(self._worth(self._moved_cut(pattern))[0])
        for _ in range(self._parameters.passes):
            before = best
            for place in range(count_of(pattern)):
                split, piece = list(splits_of(pattern, splitter.sheet, limits))[place]
                sizes = splitter.distances(piece, split.axis)
                self.spent += self._parameters.steps_a_move
                if not len(sizes):
                    continue
                if len(sizes) > self._parameters.places:
                    sizes = self._draws.choice(sizes, self._parameters.places, replace=False)
                worths = self._worth(self._moved_cut(pattern, split, sizes))
                top = int(np.argmax(worths))
                if worths[top] > best + _HAIR:
                    best = float(worths[top])
                    pattern = with_cut_at(pattern, split, int(sizes[top]))
            if best <= before:
                break
        return pattern
