"""Patterns by hand and at random: where blanks lie, what their edges lose, the order of cuts."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import box, unary_union

from cutlist.breakdown.patterns import (
    Blank,
    Pattern,
    Split,
    StoreLimits,
    blanks_of,
    count_of,
    cuts_of,
    sizes_of,
    whole,
)
from cutlist.model.edges import EdgeTrims
from cutlist.model.job import Sheet, Store, Vehicle
from cutlist.model.layout import Axis
from cutlist.model.weights import Density
from cutlist.units.grid import Grid
from cutlist.units.system import Units

LIMITS = StoreLimits(kerf=1, accuracy=2, least=1, max_cuts=4, mark=1, openings=((60, 40),))
#: A sheet 96 x 48 with a trim of 3: a crosscut at 36, then the rest is ripped at 30.
SHEET = whole(96, 48, 3)
PATTERN = Split(Axis.X, 36, None, Split(Axis.Y, 30))


def patterns(depth: int = 3) -> st.SearchStrategy[Pattern]:
    """Draw patterns of any shape with small distances."""
    if not depth:
        return st.none()
    below = patterns(depth - 1)
    split = st.builds(Split, st.sampled_from(Axis), st.integers(1, 6), below, below)
    return st.one_of(st.none(), split)


def test_blanks_by_hand() -> None:
    """Each blank begins a kerf after the piece measured; store-cut edges lose the accuracy."""
    assert list(blanks_of(PATTERN, SHEET, LIMITS)) == [
        Blank(0, 0, 36, 48, EdgeTrims(3, 2, 3, 3)),
        Blank(37, 0, 59, 30, EdgeTrims(2, 3, 3, 2)),
        Blank(37, 31, 59, 17, EdgeTrims(2, 3, 2, 3)),
    ]
    assert count_of(PATTERN) == 2
    assert list(sizes_of(PATTERN)) == [36, 30]


def test_strips_come_off_before_any_is_cut_on() -> None:
    """A strip is cut on only when all strips beside it are off; blanks keep their numbers."""
    cross = Split(Axis.Y, 24)
    pattern = Split(Axis.X, 30, cross, Split(Axis.X, 30, cross, cross))
    cuts = cuts_of(pattern, SHEET, LIMITS)
    assert [cut.axis for cut in cuts] == [Axis.X, Axis.X, Axis.Y, Axis.Y, Axis.Y]
    numbers = [tuple(list(each) for each in cut.numbers) for cut in cuts]
    assert numbers == [
        ([1, 2], [3, 4, 5, 6]),
        ([3, 4], [5, 6]),
        ([1], [2]),
        ([3], [4]),
        ([5], [6]),
    ]
    assert [cut.is_first for cut in cuts] == [True, False, False, False, False]


@given(patterns())
def test_blanks_and_kerfs_make_up_the_sheet(pattern: Pattern) -> None:
    """Blanks lie apart inside the sheet, and with one kerf for each cut they cover its area.

    Area and overlap are worked out by the shapely library.
    """
    sheet = whole(200, 150, 0)
    blanks = list(blanks_of(pattern, sheet, LIMITS))
    assume(all(min(blank.length, blank.width) > 0 for blank in blanks))
    shapes = [box(b.x, b.y, b.x + b.length, b.y + b.width) for b in blanks]
    kerfs = sum(cut.piece.across(cut.axis) for cut in cuts_of(pattern, sheet, LIMITS))
    assert len(blanks) == count_of(pattern) + 1
    assert unary_union(shapes).area == sum(shape.area for shape in shapes)
    assert box(0, 0, 200, 150).covers(unary_union(shapes))
    assert sum(shape.area for shape in shapes) + kerfs == 200 * 150


def test_limits_of_a_job_are_whole_units() -> None:
    """The bed is rounded down to the grid, the smallest piece up; no limit is a large number."""
    store = Store(Fraction(1, 8), Fraction(1, 8), None, min_piece=Fraction(13, 16))
    vehicle = Vehicle(Fraction(36), Fraction(60) + Fraction(1, 16))
    limits = StoreLimits.of(store, vehicle, Grid(Fraction(1, 8)), Units.INCH)
    assert (limits.kerf, limits.accuracy, limits.least, limits.mark) == (1, 1, 7, 1)
    assert limits.openings == ((480, 288),)
    assert limits.max_cuts >= 50
    assert limits.up(5) == 5


def test_an_opening_inside_another_is_passed_over() -> None:
    """Only ways in that take something more than another are kept, of equal ones the first."""
    store = Store(Fraction(3), Fraction(0), 4)

    def openings(second: tuple[int, int]) -> tuple[tuple[int, int], ...]:
        size = (Fraction(second[0]), Fraction(second[1]))
        vehicle = Vehicle(Fraction(900), Fraction(1500), None, size)
        return StoreLimits.of(store, vehicle, Grid(Fraction(1)), Units.MM).openings

    assert openings((400, 2500)) == ((1500, 900), (2500, 400))
    assert openings((1500, 800)) == openings((900, 1500)) == ((1500, 900),)
    assert openings((1600, 1000)) == ((1600, 1000),)


def test_how_long_a_piece_may_be() -> None:
    """By hand, for a bed of 60 x 40 and a long narrow way in: by its width, then by its weight."""
    both = replace(LIMITS, openings=((60, 40), (100, 12)))
    assert [both.reach(across) for across in (12, 13, 40, 41, 60, 61, 100, 101)] == [
        *(100, 60, 60, 40, 40, 12, 12, 0)
    ]
    assert both.fits(12, 100)
    assert not both.fits(61, 13)
    light = replace(both, heaviest=600)
    assert [light.reach(across) for across in (6, 12, 30, 61)] == [100, 50, 20, 9]
    assert light.fits(60, 10)
    assert not light.fits(61, 10)


def test_the_weight_of_a_sheet_sets_a_largest_area() -> None:
    """18 mm at 700 kg/m³ are 12.6 kg/m²: with 25.2 kg go 2 m², with a little less not quite.

    On a grid of half a millimetre 2 m² are 8 000 000 squares.
    """
    board = Sheet("full", "mdf", Fraction(18), Fraction(2440), Fraction(1220))
    heavy = replace(board, density=Density(Fraction(700)))
    store, grid = Store(Fraction(3)), Grid(Fraction(1, 2))
    for kg, area in (("25.2", 8_000_000), ("25.19999999", 7_999_999)):
        vehicle = Vehicle(Fraction(2500), Fraction(1300), Fraction(kg))
        limits = StoreLimits.of(store, vehicle, grid, Units.MM)
        assert limits.of_sheet(board).heaviest is None
        found = limits.of_sheet(heavy).heaviest
        assert found == area
    assert (
        StoreLimits.of(store, Vehicle(Fraction(1), Fraction(1)), grid, Units.MM)
        .of_sheet(heavy)
        .heaviest
        is None
    )


def test_a_piece_goes_in_either_way_round() -> None:
    """Length and width of the bed may be swapped."""
    assert LIMITS.fits(60, 40)
    assert LIMITS.fits(40, 60)
    assert not LIMITS.fits(41, 60)
    assert not LIMITS.fits(61, 1)


@given(
    st.lists(st.tuples(st.integers(1, 120), st.integers(1, 120)), min_size=1, max_size=12),
    st.lists(st.tuples(st.integers(1, 100), st.integers(1, 100)), min_size=1, max_size=2),
    st.none() | st.integers(1, 9000),
)
def test_many_pieces_at_once(
    sizes: list[tuple[int, int]], openings: list[tuple[int, int]], heaviest: int | None
) -> None:
    """What is said of an array of pieces is said of each alone; none is longer than the longest."""
    own = tuple((max(one), min(one)) for one in openings)
    limits = replace(LIMITS, openings=own, heaviest=heaviest)
    lengths, widths = (np.array(side) for side in zip(*sizes, strict=True))
    found = limits.fit(lengths, widths).tolist()
    assert found == [limits.fits(*size) for size in sizes]
    assert limits.longest == max(max(one) for one in openings)
    assert all(max(size) <= limits.longest for size, fits in zip(sizes, found, strict=True) if fits)
