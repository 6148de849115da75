"""A first answer to what to buy: soon found, or told what is short, or stopped."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from random import Random

import pytest

from cutlist.breakdown.answer import BreakDownAnswer, Tariff
from cutlist.breakdown.first_answer import FirstAnswer
from cutlist.breakdown.patterns import StoreLimits, sizes_of
from cutlist.breakdown.placing import Placer
from cutlist.breakdown.store_sheets import StoreSheets
from cutlist.errors import StoppedError
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.failures import StockTooSmallError
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.nesting.search.solve import nest
from cutlist.nesting.stopping import AfterSteps
from cutlist.sequencing.fence import Fence
from tests.planning.jobs import sheet

LIMITS = StoreLimits(kerf=1, accuracy=1, least=4, max_cuts=4, mark=1, openings=((150, 100),))
FENCE = Fence(1)


def store(
    items: tuple[Item, ...],
    small: int | None = None,
    large: int | None = 0,
    offcuts: int = 0,
) -> StoreSheets:
    """Return so many sheets of 200 x 100 and of 240 x 120, None for any number, and offcuts."""
    bins = (Bin(200, 100, 30, small), Bin(240, 120, 50, large), Bin(60, 50, 0, offcuts))
    sizes = ((200, 100, 0), (240, 120, 0), (60, 50, 0))
    return StoreSheets(Problem(items, bins, 1), (sheet(), sheet("large"), None), sizes, LIMITS)


def never() -> bool:
    """Go on."""
    return False


class Search:
    """A search with all that it needs."""

    def __init__(self, sheets: StoreSheets, seed: int = 0) -> None:
        self.sheets = sheets
        self.tariff = Tariff(tuple(piece.cost for piece in sheets.problem.bins))
        self.placer = Placer(sheets, FENCE, self.tariff, seed)
        self.first = FirstAnswer(sheets, self.placer, seed)

    @property
    def steps(self) -> int:
        """Return all steps spent."""
        return self.first.steps + self.placer.steps

    def run(
        self, layouts: tuple[Layout, ...] | None = None, was_asked: Callable[[], bool] = never
    ) -> BreakDownAnswer:
        """Search from layouts on whole sheets."""
        if layouts is None:
            whole = nest(self.sheets.problem, seed=0, stop=AfterSteps(500))
            layouts = whole.layouts
        return self.first.search(self.first.beginning(layouts), was_asked)


def random_items(seed: int) -> tuple[Item, ...]:
    """Return some parts that every blank for the car holds in some turn."""
    random = Random(seed)
    return tuple(
        Item(random.randint(20, 120), random.randint(15, 80), random.randint(1, 5), True)
        for _ in range(random.randint(2, 5))
    )


@pytest.mark.parametrize("seed", range(10))
def test_an_answer_within_few_steps(seed: int) -> None:
    """Panels that lie on whole sheets lie on broken ones within few looks, whatever they cost."""
    search = Search(store(random_items(seed), large=None, offcuts=2))
    found = search.run()
    assert check_layouts(found.problem, found.nesting.layouts) == []
    assert found.nesting.cost == search.tariff.of(found.sheets)
    assert all(
        LIMITS.fits(blank.length, blank.width)
        for one in found.sheets
        for blank in one.blanks(LIMITS)
    )
    assert search.steps <= 60_000


def test_equal_seeds_find_the_same() -> None:
    """The same seed gives the same answer and the same steps."""
    one, other = (Search(store(random_items(3), large=None), 4) for _ in range(2))
    assert one.run() == other.run()
    assert one.steps == other.steps


def test_beginning_follows_whole_layouts() -> None:
    """It buys what the layouts buy, and the first mix keeps their strips together.

    Two strips of 120 and 78 divide the sheet: the cut comes a unit beyond the first, or the second,
    for the store's edge to be cleaned.
    """
    items = (Item(120, 80, 2, turnable=False), Item(76, 80, 2, turnable=False))
    search = Search(store(items, offcuts=1))
    strips = (
        Strip(Axis.Y, 120, 100, (Cell(0, 120, 80),)),
        Strip(Axis.Y, 76, 100, (Cell(1, 76, 80),)),
    )
    layouts = (Layout(0, Strip(Axis.X, 200, 100, strips), 2), Layout(2, Cell(0, 60, 50), 1))
    begin = search.first.beginning(layouts)
    assert begin.counts == (2, 0)
    assert [one.kind for one in begin.openings[0]] == [0, 0]
    first = begin.openings[0][0].pattern
    assert first == begin.openings[0][1].pattern
    assert next(iter(sizes_of(first))) == 121
    assert all(len(opening) == 2 for opening in begin.openings)
    assert len(set(begin.openings)) == len(begin.openings)
    found = search.run(layouts)
    assert found.sheets == begin.openings[0]
    assert (begin.mix, begin.short, begin.lacking, begin.lost) == ((), None, (), ())


def test_more_is_bought_where_the_cut_takes_too_much() -> None:
    """Whole, a sheet holds two panels of 99 x 90; cut and cleaned it still does, but not of 100.

    Both edges of the cut lose 1, and its kerf is 1: 99 + 1 + 1 + 1 + 99 is more than 200.
    """
    close = Search(store((Item(98, 90, 2, turnable=False),)))
    assert len(close.run().sheets) == 1
    search = Search(store((Item(99, 90, 2, turnable=False),)))
    whole = nest(search.sheets.problem, seed=0, stop=AfterSteps(500))
    assert whole.sheets == 1
    assert len(search.run(whole.layouts).sheets) == 2


def test_what_is_short_is_named() -> None:
    """Five panels, of which a sheet gives two, and a small one: of two sheets one is left over."""
    search = Search(store((Item(10, 10, 1, turnable=True), Item(95, 85, 5, turnable=False)), 2))
    begin = search.first.beginning(())
    with pytest.raises(StockTooSmallError) as caught:
        search.first.search(begin, never)
    assert caught.value.short == {1: 1}
    assert not caught.value.proven


def test_stopped_before_the_first_look() -> None:
    """Who asks at once gets no answer and is told so."""
    search = Search(store(random_items(0)))
    with pytest.raises(StoppedError):
        search.run(was_asked=lambda: True)
    assert search.steps == 0


@pytest.mark.parametrize("small", [1, None])
@pytest.mark.parametrize("after", [1, 2, 3])
def test_stopped_on_the_way(small: int | None, after: int) -> None:
    """Who asks between two looks is not told that the stock falls short, even if it does."""
    search = Search(store((Item(95, 85, 40, turnable=False),), small))
    asked = count()
    with pytest.raises(StoppedError):
        search.first.search(
            search.first.beginning((Layout(0, Cell(0, 95, 85), 1),)), lambda: next(asked) >= after
        )


def test_a_part_as_long_as_the_car_takes() -> None:
    """Beginning with nothing, a sheet is bought with a blank as long as goes in."""
    search = Search(store((Item(149, 60, 1, turnable=False), Item(60, 89, 2, turnable=False))))
    found = search.first.search(search.first.beginning(()), never)
    assert check_layouts(found.problem, found.nesting.layouts) == []
    assert any(
        max(blank.length, blank.width) == 150
        for one in found.sheets
        for blank in one.blanks(LIMITS)
    )
