from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from random import Random

import pytest
from hypothesis import HealthCheck, assume, given, settings

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.failures import ItemFitsNowhereError, StockTooSmallError
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.layouts.reach import fits
from cutlist.nesting.observing import Observer, SearchProgress
from cutlist.nesting.problem import Bin, Item, Nesting, Problem
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from tests.nesting.problems import problems
from tests.nesting.trees import cut_problem

relaxed = settings(
    max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True
)


def plan(problem: Problem, seed: int = 1, steps: int = 3000) -> Nesting:
    """Nest with a budget of steps."""
    return nest(problem, seed=seed, stop=AfterSteps(steps))


def assert_sound(problem: Problem, nesting: Nesting) -> None:
    """Hold all layouts of an answer and its figures to the problem."""
    assert check_layouts(problem, nesting.layouts) == []
    cost = sum(problem.bins[layout.stock].cost * layout.copies for layout in nesting.layouts)
    assert cost == nesting.cost
    assert nesting.bound <= nesting.cost
    assert nesting.sheets_bound <= nesting.sheets


@pytest.mark.slow
@relaxed
@given(problems())
def test_random_problems_are_answered_soundly(problem: Problem) -> None:
    """Every answer to a random problem passes the strict check."""
    assert_sound(problem, plan(problem))


@pytest.mark.slow
@relaxed
@given(problems(reach=True))
def test_no_layout_is_beyond_reach(problem: Problem) -> None:
    """With a fence that reaches only so far, each layout can still be cut.

    Too little stock there is only where some panel lies on limited stock alone.
    """
    assume(all(any(fits(problem, item, b) for b in problem.bins) for item in problem.items))
    endless = [one for one in problem.bins if one.available is None]
    if all(any(fits(problem, item, one) for one in endless) for item in problem.items):
        assert_sound(problem, plan(problem))
    else:
        with suppress(StockTooSmallError):
            assert_sound(problem, plan(problem))


@pytest.mark.slow
@relaxed
@given(problems())
def test_same_seed_same_answer(problem: Problem) -> None:
    """Seed and steps determine the answer to the last bit."""
    assert plan(problem, seed=7) == plan(problem, seed=7)


def test_an_exact_fill_is_one_cell() -> None:
    """A panel as large as the sheet is the whole layout."""
    nesting = plan(Problem((Item(50, 40, 2, False),), (Bin(50, 40, 3),), 2))
    (layout,) = nesting.layouts
    assert layout.root == Cell(0, 50, 40)
    assert layout.copies == 2
    assert (nesting.cost, nesting.bound) == (6, 6)


def test_flush_panels_pay_no_kerf_at_the_edge() -> None:
    """Two panels and one kerf fill the sheet exactly."""
    nesting = plan(Problem((Item(49, 40, 2, False),), (Bin(100, 40, 1),), 2))
    assert nesting.sheets == 1


def test_one_grid_unit_too_much_takes_a_second_sheet() -> None:
    """Two panels and one kerf exceed the sheet by one unit."""
    nesting = plan(Problem((Item(49, 40, 2, False),), (Bin(99, 40, 1),), 2))
    assert nesting.sheets == 2


def test_offcuts_on_hand_save_a_sheet() -> None:
    """A panel that the only sheet cannot take lies on the free offcut."""
    items = (Item(100, 50, 1, False), Item(30, 20, 1, True))
    bins = (Bin(100, 50, 10), Bin(20, 30, 0, 1))
    nesting = plan(Problem(items, bins, 3))
    assert (nesting.cost, nesting.sheets) == (10, 1)
    assert {layout.stock for layout in nesting.layouts} == {0, 1}


def test_the_cheaper_mix_is_bought() -> None:
    """One large and one small sheet cost less than two large ones."""
    items = (Item(90, 90, 1, False), Item(40, 40, 1, False))
    bins = (Bin(100, 100, 100), Bin(50, 50, 30))
    assert plan(Problem(items, bins, 0)).cost == 130


def test_an_item_that_fits_nowhere_is_named() -> None:
    """The error carries the indices of the items that fit no bin."""
    problem = Problem((Item(10, 10, 1, True), Item(101, 10, 1, False)), (Bin(100, 100, 1),), 0)
    with pytest.raises(ItemFitsNowhereError) as caught:
        plan(problem)
    assert caught.value.items == (1,)


def test_stock_that_does_not_suffice_is_told() -> None:
    """With one sheet for two panels, one panel is short, and that is proven by area."""
    problem = Problem((Item(60, 100, 2, False),), (Bin(100, 100, 1, 1),), 0)
    with pytest.raises(StockTooSmallError) as caught:
        plan(problem)
    assert caught.value.short == {0: 1}
    assert caught.value.proven


def test_a_panel_beyond_reach_needs_a_wide_rest() -> None:
    """A rest narrower than the kerf cannot be cut off a panel that is beyond reach."""
    tight = Problem((Item(98, 20, 1, False),), (Bin(100, 50, 1),), 3, reach=60)
    with pytest.raises(ItemFitsNowhereError):
        plan(tight)
    wide = replace(tight, bins=(Bin(102, 50, 1),))
    assert_sound(wide, plan(wide))


@pytest.mark.slow
def test_without_search_the_stock_is_still_kept_to() -> None:
    """First plans use no more offcuts than there are."""
    random = Random(1)
    for seed in range(60):
        bins = [Bin(random.randint(40, 120), random.randint(40, 120), random.randint(5, 50))]
        for _ in range(random.randint(1, 3)):
            size = random.randint(20, 100), random.randint(20, 100)
            bins.append(Bin(*size, random.choice((0, 0, 3, 10)), random.randint(1, 2)))
        items = [
            Item(
                random.randint(5, bins[0].length),
                random.randint(5, bins[0].width),
                random.randint(1, 4),
                random.random() < 0.5,
            )
            for _ in range(random.randint(3, 9))
        ]
        problem = Problem(tuple(items), tuple(bins), random.randint(0, 3))
        assert_sound(problem, plan(problem, seed, steps=0))


class _Costs(Observer):
    """Notes the costs it hears of."""

    def __init__(self) -> None:
        self.costs = list[int]()

    def improved(self, progress: SearchProgress) -> None:
        """Note the cost."""
        assert progress.cost is not None
        self.costs.append(progress.cost)


def test_the_observer_hears_falling_costs() -> None:
    """Each plan that is told of is cheaper than the one before, and the last is the answer."""
    items = tuple(Item(20 + 3 * i, 60 - 5 * i, 4, True) for i in range(9))
    problem = Problem(items, (Bin(100, 80, 7),), 1)
    observer = _Costs()
    nesting = nest(problem, seed=3, stop=AfterSteps(5000), observer=observer)
    assert observer.costs == sorted(set(observer.costs), reverse=True)
    assert observer.costs[-1] == nesting.cost


@pytest.mark.parametrize("seed", range(8))
def test_from_layouts_to_start_from(seed: int) -> None:
    """Whatever lies there at first, too much or too little, the answer is sound and whole.

    From a complete plan the answer is never dearer than that.
    """
    random = Random(seed)
    problem, layouts = cut_problem(random, 2)
    problem = replace(problem, bins=(replace(problem.bins[0], cost=10),))
    begun = random.choices(layouts, k=random.randint(1, 3))
    found = nest(problem, seed=seed, stop=AfterSteps(1500), start=begun)
    assert_sound(problem, found)
    whole = nest(problem, seed=seed, stop=AfterSteps(1), start=layouts)
    assert_sound(problem, whole)
    assert whole.cost <= 20


def test_a_complete_start_needs_no_search() -> None:
    """Layouts that hold all panels are the answer where nothing cheaper can be; copies count."""
    root = Strip(Axis.X, 20, 10, (Cell(0, 10, 10), Cell(0, 10, 10)))
    problem = Problem((Item(10, 10, 6, False),), (Bin(20, 10, 5),), 0)
    found = nest(problem, seed=0, stop=AfterSteps(9), start=[Layout(0, root, 3)])
    assert found.layouts == (Layout(0, root, 3),)
    assert (found.cost, found.bound) == (15, 15)


def test_what_lies_too_often_is_taken_off() -> None:
    """Of four panels on two sheets two are asked for: one sheet is left, the other is not used."""
    root = Strip(Axis.X, 20, 10, (Cell(0, 10, 10), Cell(0, 10, 10)))
    problem = Problem((Item(10, 10, 2, False),), (Bin(20, 10, 5),), 0)
    found = nest(problem, seed=0, stop=AfterSteps(500), start=[Layout(0, root, 2)])
    assert_sound(problem, found)
    assert found.cost == 5


def test_what_is_on_no_layout_finds_a_place() -> None:
    """Beside one panel that lies the other lies down, in the room its strip has left."""
    root = Strip(Axis.X, 20, 10, (Cell(0, 9, 10),))
    items = (Item(9, 10, 1, False), Item(11, 10, 1, False))
    problem = Problem(items, (Bin(20, 10, 0, 1),), 0)
    found = nest(problem, seed=0, stop=AfterSteps(500), start=[Layout(0, root)])
    assert_sound(problem, found)
    (layout,) = found.layouts
    assert isinstance(layout.root, Strip)
    assert {child.length for child in layout.root.children} == {9, 11}


def test_a_start_that_leaves_too_little_stock() -> None:
    """Where the one bin cannot hold all, what is over is told as without a start."""
    root = Strip(Axis.X, 20, 10, (Cell(0, 9, 10), Cell(0, 9, 10)))
    problem = Problem((Item(9, 10, 3, False),), (Bin(20, 10, 0, 1),), 0)
    with pytest.raises(StockTooSmallError) as caught:
        nest(problem, seed=0, stop=AfterSteps(500), start=[Layout(0, root)])
    assert caught.value.short == {0: 1}
    assert caught.value.proven
