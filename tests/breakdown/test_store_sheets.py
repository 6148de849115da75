"""What can be bought and broken down: patterns for parts and layouts; parts that fit nowhere."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.breakdown.patterns import Split, StoreLimits, count_of
from cutlist.breakdown.store_sheets import StoreSheets
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.weights import Density
from cutlist.nesting.problem import Bin, Item, Problem
from tests.planning.jobs import sheet

LIMITS = StoreLimits(kerf=1, accuracy=1, least=4, max_cuts=4, mark=1, openings=((60, 40),))
STRIPS = Strip(Axis.X, 100, 40, (Cell(0, 50, 40), Cell(0, 40, 40)))


def store(*items: Item, limits: StoreLimits = LIMITS, heavy: bool = False) -> StoreSheets:
    """Return sheets of 100 x 40 and 50 x 40, and an offcut of 90 x 10 between them."""
    problem = Problem(items, (Bin(100, 40, 9), Bin(90, 10, 0, 1), Bin(50, 40, 5)), 1)
    density = Density(Fraction(1000)) if heavy else None
    stock = (replace(sheet("long"), density=density), None, sheet("short"))
    return StoreSheets(problem, stock, ((100, 40, 0), (90, 10, 0), (50, 40, 0)), limits)


def test_sheets_and_offcuts() -> None:
    """Each sheet has its own maker of patterns; offcuts have none."""
    sheets = store(Item(50, 40, 2, turnable=False), Item(30, 10, 3, turnable=True))
    assert list(sheets.splitters) == [0, 2]
    assert sheets.offcuts == (1,)
    assert [sheets.splitters[kind].sheet.length for kind in (0, 2)] == [100, 50]
    assert [sheets.splitters[kind].fewest for kind in (0, 2)] == [1, 0]
    assert sheets.panels == 5
    assert [sheets.area(item) for item in (0, 1)] == [2000, 300]
    broken = sheets.broken(2, None)
    assert (broken.kind, broken.sheet.name, broken.cuts) == (2, "short", 0)
    assert broken.whole == sheets.splitters[2].sheet


def test_a_heavy_sheet_has_limits_of_its_own() -> None:
    """Where only one sheet's weight is known its blanks alone are kept small.

    18 mm at 1000 kg/m³: a load of 27 000 in the same units is an area of 1500.
    """
    light = replace(LIMITS, load=Fraction(27_000_000))
    sheets = store(Item(30, 30, 1, turnable=False), limits=light, heavy=True)
    assert sheets.splitters[0].limits.heaviest == 1500
    assert sheets.splitters[2].limits.heaviest is None
    assert sheets.splitters[0].fewest > sheets.splitters[2].fewest == 0


def test_a_sheet_follows_a_layout() -> None:
    """Its strips stay whole on blanks of their own; what cannot be followed is cut in a plain way.

    The strip of 50 takes 51 with the store's edge.
    """
    sheets = store(Item(50, 40, 1, turnable=False), Item(40, 40, 1, turnable=False))
    followed = sheets.following(Layout(0, STRIPS))
    assert followed.pattern == Split(Axis.X, 51)
    assert sheets.following(Layout(2, Cell(0, 50, 40))).pattern is None
    plain = sheets.following(Layout(0, Cell(0, 100, 40)))
    assert plain.pattern == sheets.splitters[0].seeds()[0]


def test_patterns_that_hold_a_part() -> None:
    """They have a blank for it, those with fewest cuts first, and are worked out once."""
    sheets = store(Item(59, 40, 1, turnable=False), Item(70, 9, 1, turnable=False))
    found = sheets.holding(0, 0)
    assert found
    assert sheets.holding(0, 0) is found
    assert [count_of(one) for one in found] == sorted(count_of(one) for one in found)
    own = sheets.splitters[0]
    for pattern in found:
        blanks = sheets.broken(0, pattern).blanks(LIMITS)
        assert any(own.holds(blank, sheets.problem.items[0]) for blank in blanks)
    assert sheets.holding(2, 0) == []
    assert sheets.holding(0, 1) == []


@pytest.mark.parametrize(
    ("item", "is_lost"),
    [
        (Item(59, 40, 1, turnable=False), False),  # on a blank 60 long
        (Item(70, 9, 1, turnable=False), False),  # on the offcut alone
        (Item(70, 11, 1, turnable=False), True),  # longer than the car, wider than the offcut
        (Item(9, 70, 1, turnable=True), False),
        (Item(9, 70, 1, turnable=False), True),
        (Item(70, 11, 0, turnable=False), False),  # none is asked for
    ],
)
def test_parts_that_fit_nowhere(item: Item, is_lost: bool) -> None:
    """A part is lost where neither an offcut nor a blank of any sheet holds it."""
    assert store(Item(5, 5, 1, turnable=False), item).parts_that_fit_nowhere() == [1] * is_lost
