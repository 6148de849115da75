"""What is bought, what is paid, and what lies where in an answer."""

from __future__ import annotations

import pytest

from cutlist.breakdown.answer import BreakDownAnswer, LaidOutSheet, Tariff
from cutlist.breakdown.blanks import BrokenSheet, kinds_of
from cutlist.breakdown.patterns import Pattern, Split, StoreLimits, whole
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.problem import Bin, Item, Nesting, Problem
from cutlist.sequencing.fence import Fence
from tests.planning.jobs import sheet

LIMITS = StoreLimits(kerf=0, accuracy=0, least=1, max_cuts=4, mark=1, openings=((60, 40),))


def broken(pattern: Pattern, kind: int = 0) -> BrokenSheet:
    """Return a sheet of 100 x 40."""
    return BrokenSheet(kind, sheet(), whole(100, 40, 0), pattern)


@pytest.mark.parametrize(
    ("free", "rate", "cost"), [(0, 3, 29), (2, 3, 23), (4, 3, 20), (9, 3, 20), (0, 0, 20)]
)
def test_cuts_beyond_the_free_ones_cost(free: int, rate: int, cost: int) -> None:
    """Two sheets at 7 and one at 6 with three cuts together; free cuts never give money back."""
    twice = Split(Axis.X, 50, Split(Axis.Y, 20))
    sheets = (broken(twice), broken(None), broken(Split(Axis.X, 50), 1))
    tariff = Tariff((7, 6, 0), free, rate)
    assert tariff.of_sheets(sheets) == 20
    assert tariff.of(sheets) == cost
    assert tariff.of(()) == 0


def test_what_lies_where() -> None:
    """Copies of a layout go to the blanks of its kind in their order, those on offcuts apart.

    Both sheets are halved: blanks 1 and 2 of each are one kind, of which three are used.
    """
    sheets = (broken(Split(Axis.X, 50)), broken(Split(Axis.X, 50)))
    kinds = kinds_of(sheets, LIMITS, Fence(0))
    assert [len(kind.spots) for kind in kinds] == [4]
    items = (Item(50, 40, 2, turnable=False), Item(50, 20, 2, turnable=False))
    rows = Strip(Axis.Y, 50, 40, (Cell(1, 50, 20), Cell(1, 50, 20)))
    layouts = (Layout(0, Cell(0, 50, 40), 2), Layout(0, rows), Layout(2, Cell(1, 50, 20)))
    bins = (kinds[0].bin, Bin(9, 9, 0, 1), Bin(50, 20, 0, 1))
    found = BreakDownAnswer(
        sheets, kinds, Problem(items, bins, 0), Nesting(layouts, 14, 0, 2, 0, 0)
    )
    laid, on_offcuts = found.laid()
    assert laid == [
        LaidOutSheet(sheets[0], ((1, Cell(0, 50, 40)), (2, Cell(0, 50, 40)))),
        LaidOutSheet(sheets[1], ((1, rows),)),
    ]
    assert on_offcuts == ((1, Cell(1, 50, 20)),)
