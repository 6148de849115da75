"""Blanks as stock for the layouts: bins, trims turned to the cleaner end, equal ones together."""

from __future__ import annotations

from cutlist.breakdown.blanks import (
    BrokenSheet,
    cleanable,
    kinds_of,
    with_pattern,
    without_idle,
)
from cutlist.breakdown.patterns import Blank, Split, StoreLimits, whole
from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis
from cutlist.nesting.problem import Bin
from cutlist.sequencing.fence import Fence
from tests.planning.jobs import sheet

LIMITS = StoreLimits(kerf=1, accuracy=2, least=1, max_cuts=4, mark=1, openings=((60, 40),))
HALVES = Split(Axis.X, 40)
#: A sheet 81 x 40 without a trim, cut into two blanks of 40 x 40.
BROKEN = BrokenSheet(0, sheet("full", (81, 40)), whole(81, 40, 0), HALVES)


def test_equal_blanks_are_one_kind() -> None:
    """Left and right half are mirror images: one bin, twice, with the clean end low."""
    (kind,) = kinds_of((BROKEN,), LIMITS, Fence(1))
    assert kind.bin == Bin(38, 40, 0, 2, edges=(0, 2, 0, 0))
    assert kind.trims == EdgeTrims(0, 2, 0, 0)
    assert [(spot.sheet, spot.number) for spot in kind.spots] == [(0, 1), (0, 2)]
    assert [spot.mirrored for spot in kind.spots] == [frozenset(), frozenset({Axis.X})]


def test_nothing_between_the_margins() -> None:
    """A blank that is all margin is no stock."""
    thin = with_pattern(BROKEN, Split(Axis.X, 2))
    (kind,) = kinds_of((thin,), LIMITS, Fence(1))
    assert [spot.number for spot in kind.spots] == [2]


def test_margins_beyond_reach_are_a_piece() -> None:
    """Where the fence does not reach across, what comes off is more than a kerf; clean stays so."""
    blank = Blank(0, 0, 50, 30, EdgeTrims(0, 2, 2, 5))
    assert cleanable(blank, Fence(3)) == blank.trims
    assert cleanable(blank, Fence(3, reach=40)) == EdgeTrims(0, 4, 4, 5)


def test_a_clean_up_is_at_a_mark() -> None:
    """A blank of any size is cleaned at a mark of the fence: a little more comes off the edge."""
    odd = BrokenSheet(0, BROKEN.sheet, whole(83, 40, 1), HALVES)
    fence = Fence(1, mark=4)
    kinds = kinds_of((odd,), LIMITS, fence)
    assert len(kinds) == 2
    for kind in kinds:
        for axis, size in ((Axis.X, kind.bin.length), (Axis.Y, kind.bin.width)):
            low, high = kind.trims.along(axis)
            assert 1 <= low <= 1 + 4
            assert (size + high) % 4 == 0


def test_sheets_without_use_are_not_bought() -> None:
    """A sheet stays as long as one of its blanks is among the first that are used."""
    kinds = kinds_of((BROKEN, BROKEN), LIMITS, Fence(1))
    assert without_idle((BROKEN, BROKEN), kinds, [2]) == (BROKEN,)
    assert without_idle((BROKEN, BROKEN), kinds, [3]) == (BROKEN, BROKEN)
    assert without_idle((BROKEN, BROKEN), kinds, [0]) == ()


def test_the_cuts_of_a_sheet() -> None:
    """A sheet that stays whole takes none; each split takes one, wherever it stands."""
    assert with_pattern(BROKEN, None).cuts == 0
    assert BROKEN.cuts == 1
    thirds = Split(Axis.X, 40, Split(Axis.Y, 20), Split(Axis.Y, 20, None, Split(Axis.Y, 9)))
    broken = with_pattern(BROKEN, thirds)
    assert broken.cuts == 4
    assert len(broken.blanks(LIMITS)) == 5
