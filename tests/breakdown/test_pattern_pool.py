"""Patterns at given prices: fillings that can be cut, cuts moved to where they are worth more."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from random import Random

import numpy as np
import pytest
from numpy.typing import NDArray

from cutlist.breakdown.blanks import BrokenSheet, kinds_of
from cutlist.breakdown.pattern_pool import FilledPattern, PatternPool
from cutlist.breakdown.patterns import (
    Pattern,
    Split,
    StoreLimits,
    blanks_of,
    count_of,
    sizes_of,
    whole,
)
from cutlist.breakdown.splitting import Splitter
from cutlist.model.layout import Axis, Layout
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.layouts.trees import cells
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.sequencing.fence import Fence
from tests.planning.jobs import sheet

LIMITS = StoreLimits(kerf=2, accuracy=1, least=5, max_cuts=4, mark=1, openings=((60, 45), (90, 20)))
SHEET = whole(100, 60, 1)


class Pool:
    """A pool of patterns for random parts on one sheet, and what it was told."""

    def __init__(self, seed: int, reach: int | None = None, qty: int = 3) -> None:
        random = Random(seed)
        items = tuple(
            Item(random.randint(14, 50), random.randint(9, 35), qty, random.random() < 0.5)
            for _ in range(4)
        )
        self.fence = Fence(random.randint(0, 2), reach, random.choice((1, 2)))
        bins = (Bin(98, 58, 10, None, 1),)
        self.problem = Problem(items, bins, self.fence.kerf, self.fence.layout_reach)
        self.splitter = Splitter(SHEET, LIMITS, items, self.fence.kerf)
        self.pool = PatternPool(self.problem, self.splitter, self.fence, random)
        self.values = np.array([random.uniform(0.5, 2) * i.length * i.width for i in items])
        self.demand = np.full(4, qty, np.int64)

    def look(self) -> list[Pattern]:
        """Return the best patterns at the pool's prices."""
        return self.pool.look(self.values, self.demand)[0]

    def filled(self, pattern: Pattern, demand: NDArray[np.int64] | None = None) -> FilledPattern:
        """Fill a pattern."""
        return self.pool.filled(pattern, self.values, self.demand if demand is None else demand)

    def worth(self, pattern: Pattern) -> float:
        """Return what is on a filled pattern."""
        return float(self.values @ self.filled(pattern).counts)

    def assert_can_be_cut(self, filled: FilledPattern) -> None:
        """Check each tree strictly against the inside of its blank, and the counts."""
        broken = BrokenSheet(0, sheet(), SHEET, filled.pattern)
        insides = {
            spot.number: kind.bin
            for kind in kinds_of((broken,), LIMITS, self.fence)
            for spot in kind.spots
        }
        held = Counter[int]()
        for number, tree in filled.trees:
            here = Counter(cell.part for cell in cells(tree))
            held += here
            items = tuple(replace(i, qty=here[n]) for n, i in enumerate(self.problem.items))
            room = replace(insides[number], available=1)
            alone = replace(self.problem, items=items, bins=(room,))
            assert check_layouts(alone, [Layout(0, tree)]) == []
        assert [held[n] for n in range(4)] == filled.counts.tolist()


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("reach", [None, 30])
def test_what_is_filled_can_be_cut(seed: int, reach: int | None) -> None:
    """Every tree lies inside its blank and within reach, and no more is cut than is asked for."""
    own = Pool(seed, reach)
    own.pool.add(own.splitter.seeds())
    patterns = own.look()
    assert patterns
    for few in (own.demand, np.array([1, 0, 2, 1])):
        for pattern in patterns:
            filled = own.filled(pattern, few)
            assert filled.pattern == pattern
            assert (filled.counts <= few).all()
            own.assert_can_be_cut(filled)


@pytest.mark.parametrize("seed", range(4))
def test_patterns_looked_at_are_within_limits(seed: int) -> None:
    """Wherever cuts were moved, all blanks go in, and the store makes so many cuts at its marks."""
    own = Pool(seed)
    own.pool.add(own.splitter.seeds())
    for _ in range(3):
        looked_at = list(own.look())
        assert looked_at
        for pattern in looked_at:
            assert count_of(pattern) <= LIMITS.max_cuts
            assert all(size % LIMITS.mark == 0 for size in sizes_of(pattern))
            for blank in blanks_of(pattern, SHEET, LIMITS):
                assert LIMITS.fits(blank.length, blank.width)
                assert min(blank.length, blank.width) >= LIMITS.least


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(6))
def test_a_moved_pattern_is_never_worth_less(seed: int) -> None:
    """The best after a look is worth at least what any was before, and the best ten come first.

    There are so many panels that no blank takes them from another.
    """
    own = Pool(seed, qty=60)
    seeds = own.splitter.seeds()
    own.pool.add(seeds)
    before = 0.0
    for _ in range(3):
        found = own.look()
        worths = [own.worth(pattern) for pattern in found]
        assert worths[:10] == pytest.approx(sorted(worths, reverse=True)[:10])
        assert worths[0] >= before - 1e-6
        assert worths[0] >= max(own.worth(pattern) for pattern in seeds) - 1e-6
        before = worths[0]


def test_a_cut_is_moved_by_hand() -> None:
    """Panels of 40 x 50: halves of a sheet hold one each, a cut 41 from the edge makes room for it.

    The other blank, 97 - 41 - 1 - 2 = 57 long inside, holds one of 57, which no half does.
    """
    limits = replace(LIMITS, kerf=1, accuracy=1, least=5, openings=((60, 60),))
    piece = whole(100, 60, 0)
    items = (Item(40, 50, 9, turnable=False), Item(57, 50, 9, turnable=False))
    problem = Problem(items, (Bin(100, 60, 10),), 1)
    splitter = Splitter(piece, limits, items, 1)
    pool = PatternPool(problem, splitter, Fence(1), Random(0))
    pool.add([Split(Axis.X, 49)])
    values, demand = np.array([40.0, 57.0]), np.array([9, 9])
    best, uses = pool.look(values, demand)
    assert isinstance(best[0], Split)
    assert best[0].size in (41, 58)
    assert pool.filled(best[0], values, demand).counts.tolist() == [1, 1]
    assert (uses > 0).any()


def test_the_largest_blank_is_filled_first() -> None:
    """The only large panel goes on the large blank; with none left the blank takes small ones."""
    limits = replace(LIMITS, kerf=0, accuracy=0, openings=((60, 60),))
    items = (Item(60, 60, 1, turnable=False), Item(30, 30, 9, turnable=False))
    problem = Problem(items, (Bin(90, 60, 10),), 0)
    splitter = Splitter(whole(90, 60, 0), limits, items, 0)
    pool = PatternPool(problem, splitter, Fence(0), Random(0))
    pattern = Split(Axis.X, 30)
    pool.add([pattern])
    values = np.array([100.0, 10.0])
    pool.look(values, np.array([1, 9]))
    full = pool.filled(pattern, values, np.array([1, 9]))
    assert full.counts.tolist() == [1, 2]
    assert [number for number, _ in full.trees] == [2, 1]
    assert pool.filled(pattern, values, np.array([0, 9])).counts.tolist() == [0, 6]
    assert pool.filled(pattern, values, np.array([0, 3])).counts.tolist() == [0, 3]


def test_a_known_pattern_is_not_added_again() -> None:
    """What is added twice is one pattern, and looks go on spending steps."""
    own = Pool(1)
    own.pool.add(own.splitter.seeds())
    spent = own.pool.spent
    own.pool.add(own.splitter.seeds())
    assert own.pool.spent == spent == 0
    found = own.look()
    assert len(set(found)) == len(found)
    assert own.pool.spent > 0
