"""Sheets chosen by what the panels are worth, beside every break-down of a few panels."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from random import Random

import numpy as np
import pytest

from cutlist.breakdown.answer import LaidOutSheet, Tariff
from cutlist.breakdown.blanks import BrokenSheet, kinds_of
from cutlist.breakdown.patterns import Blank, Split, StoreLimits, count_of, whole
from cutlist.breakdown.sheet_choice import ChosenSheet, SheetChooser
from cutlist.breakdown.splitting import Splitter
from cutlist.model.layout import Axis, Cell, Layout
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.layouts.trees import cells
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.sequencing.fence import Fence
from tests.breakdown.breakdowns import EveryBreakDown
from tests.planning.jobs import sheet

LIMITS = StoreLimits(kerf=1, accuracy=1, least=2, max_cuts=3, mark=2, openings=((16, 14),))
ROUNDS, NODES, ENOUGH = 12, 300, 10**6


def never() -> bool:
    """Go on."""
    return False


@dataclass(frozen=True, slots=True)
class Task:
    """A small problem with all that a search is told of it."""

    problem: Problem
    sheets: dict[int, Blank]
    limits: StoreLimits
    tariff: Tariff
    fence: Fence

    def search(self, rounds: int = ROUNDS, seed: int = 0) -> SheetChooser:
        """Return a search that has priced its columns."""
        splitters = {
            kind: Splitter(piece, self.limits, self.problem.items, self.problem.kerf)
            for kind, piece in self.sheets.items()
        }
        chooser = SheetChooser(self.problem, splitters, self.fence, tariff=self.tariff, seed=seed)
        chooser.generate(rounds, never)
        return chooser

    def paid(self, chosen: list[ChosenSheet]) -> int:
        """Return what a choice costs with its cuts at the store."""
        own = sum(self.tariff.costs[one.kind] * one.times for one in chosen)
        return own + self.tariff.rate * max(0, cuts_of(chosen) - self.tariff.free)

    def assert_sound(self, chosen: list[ChosenSheet]) -> None:
        """Hold a choice to the stock, to the panels asked for, and to its layouts."""
        used = Counter[int]()
        held = np.zeros(len(self.problem.items), np.int64)
        for one in chosen:
            assert one.times > 0
            used[one.kind] += one.times
            held += one.times * one.filled.counts
            self.assert_can_be_cut(one)
        assert (held >= [item.qty for item in self.problem.items]).all()
        for kind, piece in enumerate(self.problem.bins):
            assert piece.available is None or used[kind] <= piece.available

    def assert_can_be_cut(self, one: ChosenSheet) -> None:
        """Check the tree on each blank against the inside of that blank, and the counts."""
        if one.kind in self.sheets:
            broken = BrokenSheet(one.kind, sheet(), self.sheets[one.kind], one.filled.pattern)
            insides = {
                spot.number: kind.bin
                for kind in kinds_of((broken,), self.limits, self.fence)
                for spot in kind.spots
            }
        else:
            insides = {0: self.problem.bins[one.kind]}
        held = Counter[int]()
        for number, tree in one.filled.trees:
            here = Counter(cell.part for cell in cells(tree))
            held += here
            items = tuple(replace(i, qty=here[n]) for n, i in enumerate(self.problem.items))
            room = replace(insides[number], available=1)
            alone = Problem(items, (room,), self.problem.kerf, self.problem.reach)
            assert check_layouts(alone, [Layout(0, tree)]) == []
        assert [held[n] for n in range(len(self.problem.items))] == one.filled.counts.tolist()
        assert len({number for number, _ in one.filled.trees}) == len(one.filled.trees)


def cuts_of(chosen: list[ChosenSheet]) -> int:
    """Return the cuts at the store of a choice."""
    return sum(one.times * count_of(one.filled.pattern) for one in chosen)


def random_task(seed: int) -> Task:
    """Return up to five panels on one or two kinds of sheets, and perhaps an offcut."""
    random = Random(seed)
    sizes = [(24, 16), (30, 12), (20, 20)]
    random.shuffle(sizes)
    number = random.randint(1, 2)
    trim = random.choice((0, 0, 1))
    sheets = {kind: whole(*sizes[kind], trim) for kind in range(number)}
    bins = [
        Bin(
            piece.length - 2 * trim,
            piece.width - 2 * trim,
            random.randint(20, 40),
            random.choice((None, None, 1)) if kind else None,
            trim,
        )
        for kind, piece in sheets.items()
    ]
    if random.random() < 0.5:
        bins.append(Bin(random.randint(8, 12), random.randint(6, 10), 0, 1))
    items = tuple(
        Item(random.randint(4, 12), random.randint(3, 9), random.choice((1, 1, 2)), flag)
        for flag in (True, False, random.random() < 0.5)
    )
    limits = replace(
        LIMITS,
        accuracy=random.choice((0, 1)),
        openings=random.choice((((16, 14),), ((14, 12), (24, 8)))),
    )
    costs = tuple(one.cost for one in bins)
    tariff = Tariff(costs, random.randint(0, 3), random.choice((0, 3, 7)))
    problem = Problem(items, tuple(bins), random.choice((0, 1)))
    return Task(problem, sheets, limits, tariff, Fence(1))


@pytest.mark.slow
def test_few_panels_beside_every_break_down() -> None:
    """No choice is cheaper than the best there is, most are that, and all can be cut.

    The relaxed choice costs no more than the choice in whole numbers.
    """
    met = 0
    for seed in range(16):
        task = random_task(seed)
        chooser = task.search()
        chooser.vary(never)
        chooser.generate(ROUNDS, never)
        chosen = chooser.cheapest(ENOUGH, NODES, never)
        assert chosen is not None
        task.assert_sound(chosen)
        relaxed, for_cuts = chooser.relaxed()
        assert 0 <= for_cuts <= relaxed <= task.paid(chosen) + 1e-6
        best = EveryBreakDown(task.problem, task.sheets, task.limits, task.fence).best(task.tariff)
        assert best is not None
        assert task.paid(chosen) >= best.cost
        met += task.paid(chosen) == best.cost
    assert met >= 15


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(30, 36))
@pytest.mark.parametrize("reach", [None, 9])
def test_rounded_choices_keep_to_stock_and_budget(seed: int, reach: int | None) -> None:
    """Near the relaxed choice no more is spent than is allowed, and every sheet can be cut.

    So it is where the fence reaches only so far, on blanks and on offcuts.
    """
    task = random_task(seed)
    if reach is not None:
        problem = replace(task.problem, reach=reach)
        task = replace(task, problem=problem, fence=Fence(problem.kerf, reach))
    chooser = task.search(4)
    for most in (0, 30, 75):
        used = Counter[int]()
        for one in chooser.rounded(most):
            used[one.kind] += one.times
            task.assert_can_be_cut(one)
        assert sum(task.tariff.costs[kind] * times for kind, times in used.items()) <= most
        for kind, piece in enumerate(task.problem.bins):
            assert piece.available is None or used[kind] <= piece.available


#: A sheet that a crosscut at 10 divides into two blanks of 10 x 10, each as large as goes in.
HALVES = replace(LIMITS, kerf=0, accuracy=0, mark=1, openings=((10, 10),))
HALVED = whole(20, 10, 0)


def halved(
    items: tuple[Item, ...],
    tariff: Tariff,
    available: tuple[int | None, ...] = (None,),
    offcuts: tuple[Bin, ...] = (),
    more: tuple[Blank, ...] = (),
) -> Task:
    """Return a task on sheets of 20 x 10, on others, and on offcuts."""
    sheets = dict(enumerate((HALVED, *more)))
    bins = [
        Bin(piece.length, piece.width, cost, most)
        for piece, cost, most in zip(sheets.values(), tariff.costs, available, strict=False)
    ]
    problem = Problem(items, (*bins, *offcuts), 0)
    return Task(problem, sheets, HALVES, tariff, Fence(0))


def test_offcuts_are_used_before_a_sheet_is_bought() -> None:
    """Six panels of 10 x 5 lie on one sheet and on an offcut of 10 x 10, which costs nothing."""
    items = (Item(10, 5, 6, turnable=False),)
    task = halved(items, Tariff((9, 0)), offcuts=(Bin(10, 10, 0, 1),))
    chooser = task.search()
    chosen = chooser.cheapest(ENOUGH, NODES, never)
    assert chosen is not None
    task.assert_sound(chosen)
    assert sorted((one.kind, one.times) for one in chosen) == [(0, 1), (1, 1)]
    assert chooser.relaxed() == pytest.approx((9, 0))
    # Without the offcut, half of a second sheet is wanted.
    alone = halved(items, Tariff((9,))).search()
    assert alone.relaxed() == pytest.approx((13.5, 0))
    without = alone.cheapest(ENOUGH, NODES, never)
    assert without is not None
    assert sum(one.times for one in without) == 2


def test_limited_stock_is_kept() -> None:
    """Of the cheap sheets there is one; the second that is needed is a dear one, or there is none.

    Each holds two panels of 10 x 10.
    """
    items = (Item(10, 10, 4, turnable=False),)
    task = halved(items, Tariff((5, 8)), (1, None), more=(HALVED,))
    chosen = task.search().cheapest(ENOUGH, NODES, never)
    assert chosen is not None
    task.assert_sound(chosen)
    assert sorted((one.kind, one.times) for one in chosen) == [(0, 1), (1, 1)]
    few = halved(items, Tariff((5, 8)), (1, 0), more=(HALVED,))
    assert few.search().cheapest(ENOUGH, NODES, never) is None


def test_nothing_is_chosen_for_too_little_money() -> None:
    """Two sheets at 9 with a cut each at 2, of which one is free, cost 20 and not 19."""
    task = halved((Item(10, 10, 4, turnable=False),), Tariff((9,), 1, 2))
    chooser = task.search()
    assert chooser.cheapest(19, NODES, never) is None
    chosen = chooser.cheapest(20, NODES, never)
    assert chosen is not None
    assert task.paid(chosen) == 20


def test_fewer_cuts_that_are_paid_win() -> None:
    """A sheet of 10 x 10 goes in whole for 6; half of one of 20 x 10 costs 5 and a cut at 3.

    With a cut free, one sheet with a cut is the cheaper buy of the two; without, it is not.
    """
    items = (Item(10, 10, 2, turnable=False),)
    for free, kinds in ((1, [0]), (0, [1])):
        task = halved(items, Tariff((10, 6), free, 3), (None, None), more=(whole(10, 10, 0),))
        chosen = task.search().cheapest(ENOUGH, NODES, never)
        assert chosen is not None
        assert [one.kind for one in chosen] == kinds
        assert task.paid(chosen) == (10 if free else 12)


def test_of_equal_sheets_that_with_fewer_cuts_is_kept() -> None:
    """What lies on a sheet with two cuts and then on one with one is broken down with one."""
    task = halved((Item(10, 10, 1, turnable=False),), Tariff((9,)))
    own = Splitter(HALVED, HALVES, task.problem.items, 0)
    chooser = SheetChooser(task.problem, {0: own}, task.fence, tariff=task.tariff, seed=0)
    tree = Cell(0, 10, 10)
    twice = BrokenSheet(0, sheet(), HALVED, Split(Axis.X, 10, None, Split(Axis.X, 5)))
    once = replace(twice, pattern=Split(Axis.X, 10))
    for broken, cuts in ((twice, 2), (once, 1), (twice, 1)):
        chooser.add([LaidOutSheet(broken, ((1, tree),))])
        (chosen,) = chooser.cheapest(ENOUGH, NODES, never) or []
        assert count_of(chosen.filled.pattern) == cuts
        assert chosen.filled.trees == ((1, tree),)


def test_a_search_that_is_over_prices_nothing() -> None:
    """Told at once that it is over it says that it is not settled, and knows no choice."""
    task = halved((Item(10, 10, 2, turnable=False),), Tariff((9,)))
    chooser = task.search(0)
    assert not chooser.generate(5, lambda: True)
    assert chooser.cheapest(ENOUGH, NODES, never) is None
    # Before there is a column, a panel is dearer than any sheet.
    assert chooser.relaxed()[0] > 2 * 9
    assert chooser.generate(50, never)
    assert chooser.relaxed() == pytest.approx((9, 0))
    assert chooser.spent > 0


def test_equal_seeds_price_alike() -> None:
    """The same seed gives the same choice to the last tree, and the same steps."""
    first, second = (random_task(2).search(seed=5) for _ in range(2))
    assert first.spent == second.spent
    one, other = (chooser.cheapest(ENOUGH, NODES, never) or [] for chooser in (first, second))
    assert [(c.kind, c.times, c.filled.pattern, c.filled.trees) for c in one] == [
        (c.kind, c.times, c.filled.pattern, c.filled.trees) for c in other
    ]
