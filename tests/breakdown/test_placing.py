"""Looks at mixes of sheets: equal ones together, idle ones left, what lies already goes on."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import pytest

from cutlist.breakdown.answer import BreakDownAnswer, LaidOutSheet, Tariff
from cutlist.breakdown.patterns import Pattern, Split, StoreLimits
from cutlist.breakdown.placing import Placer, PlacingResult
from cutlist.breakdown.store_sheets import StoreSheets
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.layouts.trees import cells
from cutlist.nesting.problem import Bin, Item, Problem
from cutlist.sequencing.fence import Fence
from tests.planning.jobs import sheet

if TYPE_CHECKING:
    from cutlist.breakdown.answer import Trees

#: Sheets of 20 x 10 and of 30 x 10, and an offcut of 9 x 4; blanks of up to 15 x 10 go in.
LIMITS = StoreLimits(kerf=0, accuracy=0, least=1, max_cuts=4, mark=1, openings=((15, 10),))
SMALL, LARGE = sheet("small", (20, 10)), sheet("large", (30, 10))
TARIFF = Tariff((7, 9, 0), free=1, rate=2)
HALF = Split(Axis.X, 10)
THIRD = Split(Axis.X, 5)


def sheets_for(*items: Item, offcuts: int = 1) -> StoreSheets:
    """Return what can be bought for some parts."""
    bins = (Bin(20, 10, 7), Bin(30, 10, 9), Bin(9, 4, 0, offcuts))
    return StoreSheets(
        Problem(items, bins, 0), (SMALL, LARGE, None), ((20, 10, 0), (30, 10, 0), (9, 4, 0)), LIMITS
    )


def look(
    sheets: StoreSheets, mix: list[LaidOutSheet], on_offcuts: Trees = (), seed: int = 0
) -> PlacingResult:
    """Look at a mix."""
    return Placer(sheets, Fence(0), TARIFF, seed).place(mix, on_offcuts)


def laid(sheets: StoreSheets, kind: int, pattern: Pattern, trees: Trees = ()) -> LaidOutSheet:
    """Return a sheet broken down, with what lies on it."""
    return LaidOutSheet(sheets.broken(kind, pattern), trees)


def assert_sound(found: BreakDownAnswer) -> None:
    """Hold an answer to its problem and to its cost."""
    assert check_layouts(found.problem, found.nesting.layouts) == []
    assert found.nesting.cost == TARIFF.of(found.sheets)
    assert found.nesting.sheets == len(found.sheets)
    assert (found.nesting.bound, found.nesting.sheets_bound) == (0, 0)


def test_equal_sheets_come_to_lie_together() -> None:
    """Sheets are put by kind, and those broken down alike next to each other, as they first came.

    What lies on each goes with it.
    """
    sheets = sheets_for(Item(10, 10, 6, turnable=False), Item(15, 10, 4, turnable=False))
    large = laid(sheets, 1, Split(Axis.X, 15))
    half, third = laid(sheets, 0, HALF), laid(sheets, 0, Split(Axis.X, 10, Split(Axis.X, 4)))
    found = look(sheets, [large, half, third, half, large, half]).found
    assert found is not None
    assert_sound(found)
    together = [half, half, half, large, large]
    assert list(found.sheets) == [one.sheet for one in together]
    wide = sheets_for(Item(10, 10, 7, turnable=False), Item(15, 10, 4, turnable=False))
    full = look(wide, [large, half, third, half, large, half]).found
    assert full is not None
    assert list(full.sheets) == [one.sheet for one in (half, half, half, third, large, large)]


def test_a_sheet_without_use_is_left() -> None:
    """Of three sheets the panels need one; it alone is bought, and its cut is free."""
    sheets = sheets_for(Item(10, 10, 2, turnable=False))
    found = look(sheets, [laid(sheets, 0, HALF) for _ in range(3)]).found
    assert found is not None
    assert_sound(found)
    assert found.sheets == (sheets.broken(0, HALF),)
    assert found.nesting.cost == 7


def test_what_lies_on_an_offcut_needs_no_sheet() -> None:
    """Panels that are on the offcut stay there, and the sheet with nothing else is left."""
    sheets = sheets_for(Item(9, 2, 2, turnable=False))
    tree = Strip(Axis.Y, 9, 4, (Cell(0, 9, 2), Cell(0, 9, 2)))
    found = look(sheets, [laid(sheets, 0, HALF)], ((0, tree),)).found
    assert found is not None
    assert_sound(found)
    assert found.sheets == ()
    assert found.nesting.layouts == (Layout(0, tree),)
    assert found.nesting.cost == 0
    assert found.laid() == ([], ((0, tree),))


def test_what_lies_already_stays() -> None:
    """A complete answer to begin with is the answer, each tree on the blank where it was."""
    sheets = sheets_for(Item(5, 10, 2, turnable=False), Item(10, 5, 4, turnable=False))
    columns = Strip(Axis.X, 10, 10, (Cell(0, 5, 10), Cell(0, 5, 10)))
    rows = Strip(Axis.Y, 10, 10, (Cell(1, 10, 5), Cell(1, 10, 5)))
    begin = [laid(sheets, 0, HALF, ((2, columns), (1, rows))), laid(sheets, 1, HALF, ((1, rows),))]
    found = look(sheets, begin).found
    assert found is not None
    assert_sound(found)
    placed, on_offcuts = found.laid()
    assert on_offcuts == ()
    assert [one.sheet for one in placed] == [one.sheet for one in begin]
    assert Counter(tree for one in placed for _, tree in one.trees) == Counter(
        {columns: 1, rows: 2}
    )
    assert [len(one.trees) for one in placed] == [2, 1]


def test_what_is_missing_is_added_to_what_lies() -> None:
    """Half of the panels lie already; the rest find their places beside them."""
    items = (Item(5, 10, 3, turnable=False), Item(10, 5, 2, turnable=False))
    sheets = sheets_for(*items)
    rows = Strip(Axis.Y, 10, 10, (Cell(1, 10, 5), Cell(1, 10, 5)))
    begin = [laid(sheets, 0, HALF, ((1, rows),)), laid(sheets, 0, HALF)]
    found = look(sheets, begin).found
    assert found is not None
    assert_sound(found)
    assert rows in [layout.root for layout in found.nesting.layouts]


def test_panels_that_lie_too_often_are_taken_off() -> None:
    """Two panels are asked for and four lie there: two are left, and one sheet is enough."""
    sheets = sheets_for(Item(10, 10, 2, turnable=False))
    both = ((1, Cell(0, 10, 10)), (2, Cell(0, 10, 10)))
    found = look(sheets, [laid(sheets, 0, HALF, both), laid(sheets, 0, HALF, both)]).found
    assert found is not None
    assert_sound(found)
    assert len(found.sheets) == 1


def test_what_found_no_place_is_told() -> None:
    """One panel too many is lacking; a part that fits no blank is lost, and all panels lack."""
    sheets = sheets_for(Item(10, 10, 3, turnable=False))
    seen = look(sheets, [laid(sheets, 0, HALF)])
    assert seen == PlacingResult(None, (0,), ())
    mixed = sheets_for(Item(5, 10, 2, turnable=False), Item(12, 10, 1, turnable=False))
    seen = look(mixed, [laid(mixed, 0, HALF)])
    assert seen == PlacingResult(None, (0, 0, 1), (1,))


def test_steps_are_counted() -> None:
    """A look in vain takes its steps, a longer one as many times more; one that is lost few."""
    sheets = sheets_for(Item(10, 10, 3, turnable=False), offcuts=2)
    placer = Placer(sheets, Fence(0), TARIFF, 0)
    assert placer.steps == 0
    placer.place([laid(sheets, 0, HALF)])
    assert placer.steps == placer.usual
    placer.place([laid(sheets, 0, HALF)], times=3)
    assert placer.steps == 4 * placer.usual
    placer.place([laid(sheets, 0, Split(Axis.X, 8, None, Split(Axis.X, 6)))])
    assert 4 * placer.usual < placer.steps < 5 * placer.usual
    many = sheets_for(Item(1, 1, 400, turnable=False))
    assert Placer(many, Fence(0), TARIFF, 0).usual > placer.usual


@pytest.mark.parametrize("seed", range(3))
def test_equal_seeds_look_alike(seed: int) -> None:
    """The same seed and mix give the same answer."""
    sheets = sheets_for(Item(7, 3, 6, turnable=True), Item(4, 4, 5, turnable=True))
    mix = [laid(sheets, 0, HALF), laid(sheets, 1, Split(Axis.X, 15))]
    assert look(sheets, mix, seed=seed) == look(sheets, mix, seed=seed)


def test_the_parts_of_an_answer() -> None:
    """Each layout's copies go to the spots of its blanks in order, the others to offcuts."""
    sheets = sheets_for(Item(5, 10, 4, turnable=False), Item(9, 4, 1, turnable=False))
    found = look(sheets, [laid(sheets, 0, THIRD), laid(sheets, 0, HALF)]).found
    assert found is not None
    assert_sound(found)
    placed, on_offcuts = found.laid()
    held = Counter(
        cell.part for one in placed for _, tree in one.trees for cell in cells(tree)
    ) + Counter(cell.part for _, tree in on_offcuts for cell in cells(tree))
    assert held == {0: 4, 1: 1}
    for one in placed:
        numbers = [number for number, _ in one.trees]
        assert len(set(numbers)) == len(numbers)
        blanks = one.sheet.blanks(LIMITS)
        for number, tree in one.trees:
            blank = blanks[number - 1]
            assert (tree.length, tree.width) == (blank.length, blank.width)
