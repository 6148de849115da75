"""Patterns found for a sheet: as few cuts as brute force finds, and every blank within limits."""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from cutlist.breakdown.fewest_cuts import TOO_MANY_CUTS
from cutlist.breakdown.patterns import (
    DEFAULT_MAX_CUTS,
    Pattern,
    Split,
    StoreLimits,
    blanks_of,
    count_of,
    sizes_of,
    whole,
)
from cutlist.breakdown.splitting import Splitter
from cutlist.model.layout import Axis, Cell, Strip
from cutlist.nesting.problem import Item

LIMITS = StoreLimits(kerf=1, accuracy=1, least=2, max_cuts=5, mark=1, openings=((60, 40),))
ITEMS = (Item(30, 12, 4, turnable=True), Item(22, 17, 3, turnable=False))


def splitter(limits: StoreLimits = LIMITS, length: int = 96, width: int = 48) -> Splitter:
    """Return the splitter of a sheet with a trim of 1."""
    return Splitter(whole(length, width, 1), limits, ITEMS, 1)


def brute_force(length: int, width: int, limits: StoreLimits) -> int:
    """Return the fewest cuts after which every piece fits, trying every place of every cut."""

    @cache
    def fewest(x: int, y: int) -> int:
        if limits.fits(x, y):
            return 0
        best = TOO_MANY_CUTS
        for size, make in ((x, lambda s: (s, y)), (y, lambda s: (x, s))):
            for first in range(limits.least, size - limits.kerf - limits.least + 1):
                rest = size - first - limits.kerf
                best = min(best, 1 + fewest(*make(first)) + fewest(*make(rest)))
        return best

    return min(TOO_MANY_CUTS, fewest(length, width))


def is_within(pattern: Pattern, own: Splitter, limits: StoreLimits) -> bool:
    """Say whether every blank goes in, no piece is too small, and there are not too many cuts."""
    blanks = list(blanks_of(pattern, own.sheet, limits))
    return (
        all(limits.fits(blank.length, blank.width) for blank in blanks)
        and all(min(blank.length, blank.width) >= limits.least for blank in blanks)
        and count_of(pattern) <= limits.max_cuts
    )


@given(
    st.integers(4, 26),
    st.integers(4, 26),
    st.integers(3, 16),
    st.integers(3, 16),
    st.integers(0, 2),
    st.integers(1, 4),
)
def test_fewest_cuts_by_brute_force(
    length: int, width: int, bed_x: int, bed_y: int, kerf: int, least: int
) -> None:
    """No tree of cuts, whatever its places, takes fewer than are counted; most often as many.

    Brute force stands for what is true; a number above it would refuse a sheet without need.
    """
    bed = (max(bed_x, bed_y), min(bed_x, bed_y))
    limits = replace(LIMITS, kerf=kerf, least=min(least, bed[1]), openings=(bed,))
    found = Splitter(whole(length, width, 0), limits, (), 0).fewest
    true = brute_force(length, width, limits)
    assert found >= true
    if limits.least == 1 and true <= DEFAULT_MAX_CUTS:
        assert found == true


@pytest.mark.slow
@example((7, 11), (3, 3), (11, 2), 2, None)
@given(
    st.tuples(st.integers(4, 26), st.integers(4, 26)),
    st.tuples(st.integers(3, 16), st.integers(3, 16)),
    st.tuples(st.integers(3, 16), st.integers(2, 8)),
    st.integers(0, 2),
    st.sampled_from((None, 40, 80, 150)),
)
def test_fewest_cuts_for_two_ways_in(
    sheet: tuple[int, int],
    bed: tuple[int, int],
    second: tuple[int, int],
    kerf: int,
    heaviest: int | None,
) -> None:
    """As many as brute force finds with two ways in; with a largest weight at most a quarter more.

    Of many cuts, 15 and more, there may be one too many in a great while (2 of 101,503 tried).
    None is ever counted too few, and there are always patterns of that number within the limits.
    """
    openings = tuple((max(one), min(one)) for one in (bed, second))
    limits = replace(LIMITS, kerf=kerf, least=1, max_cuts=60, openings=openings, heaviest=heaviest)
    own = Splitter(whole(*sheet, 0), limits, (), 0)
    true = brute_force(*sheet, limits)
    assume(true <= DEFAULT_MAX_CUTS)
    assert true <= own.fewest
    off = true // 15 if heaviest is None else max(1, true // 4)
    assert own.fewest <= true + off
    least = replace(limits, max_cuts=own.fewest)
    patterns = Splitter(whole(*sheet, 0), least, (), 0).seeds()
    assert patterns
    for pattern in patterns:
        assert count_of(pattern) == own.fewest
        blanks = list(blanks_of(pattern, own.sheet, limits))
        assert all(limits.fits(blank.length, blank.width) for blank in blanks)


def test_a_cut_off_the_mark_is_not_counted_on() -> None:
    """Halves of 41 would do, but 40 is the last mark before: what is left is 42, and is cut too."""
    limits = replace(LIMITS, mark=4, openings=((41, 41),))
    own = splitter(limits, length=83, width=41)
    assert own.fewest == 2
    assert all(is_within(pattern, own, limits) for pattern in own.seeds())
    assert own.seeds()


def test_light_pieces_by_hand() -> None:
    """A sheet of 80 x 40 that goes in whole but is too heavy is cut into lighter pieces.

    With a kerf of 2, halves are 39 x 40 or 80 x 19, so 1520 at least. A strip 18 x 40 and three
    60 x 12 are the lightest four, 720.
    """
    for heaviest, cuts in ((3200, 0), (3199, 1), (1520, 1), (1519, 2), (720, 3), (719, 4)):
        limits = replace(LIMITS, kerf=2, openings=((80, 40),), heaviest=heaviest)
        assert Splitter(whole(80, 40, 0), limits, (), 0).fewest == cuts
        assert brute_force(80, 40, replace(limits, least=1)) == cuts


def test_a_sheet_that_goes_in_is_not_cut() -> None:
    """No cut is made in what fits."""
    own = splitter(length=58, width=39)
    assert own.fewest == 0
    assert own.seeds() == [None]
    assert own.any_pattern(random.Random(0)) is None


def test_plain_patterns_begin_with_the_fewest_cuts() -> None:
    """Equal blanks and largest ones are among them, and all are within the limits."""
    own = splitter()
    seeds = own.seeds()
    assert own.fewest == 2
    assert count_of(seeds[0]) == 2
    assert all(is_within(pattern, own, LIMITS) for pattern in seeds)
    assert any(40 in sizes_of(pattern) for pattern in seeds)


@given(st.integers(0, 400), st.integers(45, 70), st.integers(25, 44), st.integers(3, 7))
def test_random_patterns_are_within_limits(seed: int, long: int, short: int, cuts: int) -> None:
    """Whatever is drawn at random, each blank goes in and the store can make it."""
    limits = replace(LIMITS, openings=((long, short),), max_cuts=cuts)
    own = splitter(limits)
    assume(own.is_possible)
    assert is_within(own.any_pattern(random.Random(seed)), own, limits)


def test_a_blank_for_a_part() -> None:
    """A part as large as the bed lets it be gets a blank; one that is larger gets none."""
    own = splitter()
    large = Item(56, 36, 1, turnable=False)
    found = own.holding(large)
    assert found
    for pattern in found:
        assert is_within(pattern, own, LIMITS)
        assert any(own.holds(blank, large) for blank in blanks_of(pattern, own.sheet, LIMITS))
    assert own.holding(Item(61, 10, 1, turnable=False)) == []
    assert own.holding(Item(10, 41, 1, turnable=True))


def test_a_pattern_follows_a_layout() -> None:
    """Strips that fit the bed together stay together, with room for what the edges lose."""
    strips = (Cell(0, 38, 46), Cell(0, 30, 46), Cell(1, 6, 46))
    pattern = splitter().after(Strip(Axis.X, 94, 46, strips))
    # 1 trimmed, 38 for the strip, 1 for the store's edge; then at least 1, 30, a kerf, 6 and 1.
    assert pattern == Split(Axis.X, 40, None, Split(Axis.X, 40))
    assert splitter().after(Cell(0, 94, 46)) is False


def test_too_few_cuts_are_told() -> None:
    """Where the store makes too few cuts there is no pattern."""
    own = splitter(replace(LIMITS, max_cuts=1))
    assert not own.is_possible
    assert own.fewest == 2


def test_a_very_fine_grid() -> None:
    """In units a million times as fine patterns are found as fast, and within the limits."""
    fine = 1_000_000
    limits = StoreLimits(fine, fine, 2 * fine, 5, fine, ((60 * fine, 40 * fine),))
    items = [replace(item, length=item.length * fine, width=item.width * fine) for item in ITEMS]
    own = Splitter(whole(96 * fine, 48 * fine, fine), limits, items, fine)
    for seed in range(20):
        assert is_within(own.any_pattern(random.Random(seed)), own, limits)


@pytest.mark.slow
@given(
    st.tuples(st.integers(4, 26), st.integers(4, 26)),
    st.lists(st.tuples(st.integers(2, 16), st.integers(2, 16)), min_size=1, max_size=2),
    st.tuples(st.integers(0, 2), st.integers(1, 4), st.integers(1, 4)),
    st.sampled_from((None, 20, 60, 150)),
)
def test_cuts_that_none_can_do_without(
    sheet: tuple[int, int],
    beds: list[tuple[int, int]],
    store: tuple[int, int, int],
    heaviest: int | None,
) -> None:
    """Never more than the fewest that brute force finds, with one or two ways in and by weight.

    Brute force cuts at any place, on the mark or off it. Where nothing but one way in limits that
    is not slender, they are the same. Sheets for which the store makes too few cuts are not asked
    about, nor are ways in that are hardly wider than the store's blade.
    """
    kerf, least, mark = store
    assume(kerf + 1 < min(min(bed) for bed in beds))
    openings = tuple((max(one), min(one)) for one in beds)
    limits = replace(
        LIMITS, kerf=kerf, least=least, mark=mark, openings=openings, heaviest=heaviest, max_cuts=60
    )
    true = brute_force(*sheet, limits)
    assume(true <= limits.max_cuts)
    found = Splitter(whole(*sheet, 0), limits, ITEMS, 1).fewest_at_all
    assert found <= true
    is_wide = min(openings[0]) > 4 * max(1, kerf)
    if len(openings) == 1 and is_wide and heaviest is None and least == 1:
        assert found == true


@given(
    st.tuples(st.integers(30, 96), st.integers(20, 60)),
    st.tuples(st.integers(0, 2), st.integers(0, 3), st.integers(1, 6), st.sampled_from((1, 2, 4))),
    st.sampled_from(Axis),
)
def test_distances_with_a_purpose(
    size: tuple[int, int], store: tuple[int, int, int, int], axis: Axis
) -> None:
    """They rise, are on the mark, leave pieces large enough, and one serves each sum of panels.

    The blank measured is the shortest on the mark whose inside holds the sum, and so is the rest.
    """
    kerf, accuracy, least, mark = store
    limits = replace(LIMITS, kerf=kerf, accuracy=accuracy, least=least, mark=mark)
    own = Splitter(whole(*size, 1), limits, ITEMS, 1)
    piece = own.sheet
    found = own.distances(piece, axis).tolist()
    most = piece.size(axis) - kerf - least
    assert found == sorted(set(found))
    assert all(one % mark == 0 and least <= one <= most for one in found)
    allowed = [one for one in range(mark, most + 1, mark) if one >= least]
    sizes = {30, 12, 22} if axis is Axis.X else {30, 12, 17}
    for panels in (*sizes, 12 + 1 + 30):
        holding = [one for one in allowed if one - 1 - accuracy >= panels]
        if holding:
            first = holding[0]
            # It may be too short to be cut off at all: then no sum is served by a shorter one.
            assert first in found or first - 1 - accuracy - panels >= mark
        beyond = [one for one in allowed if piece.size(axis) - one - kerf - accuracy - 1 >= panels]
        if beyond and piece.size(axis) - beyond[-1] - kerf - accuracy - 1 - panels < mark:
            assert beyond[-1] in found


def test_distances_by_hand() -> None:
    """A sheet of 50 x 20 with a trim of 1 for panels 12 long: sums are 12, 25 and 38, with kerfs.

    Measured, they take 1 more at the sheet's edge and 2 at the store's: 15, 28, 41. As the rest
    they leave 50 - 1 - 15 = 34, 21, 8. As large as goes in is 30, or 16 across the car's bed.
    """
    limits = StoreLimits(1, 2, 3, 5, 1, ((30, 16),))
    own = Splitter(whole(50, 20, 1), limits, (Item(12, 20, 3, turnable=False),), 1)
    assert own.distances(own.sheet, Axis.X).tolist() == [8, 15, 16, 21, 28, 30, 34, 41]
    assert isinstance(own.distances(own.sheet, Axis.Y), np.ndarray)
    # Where 4 go off each rough edge of a blank beyond the fence's reach, 12 take 20 or leave 29.
    items = (Item(12, 20, 1, turnable=False),)
    far = Splitter(whole(50, 20, 1), limits, items, 1, least_off=4)
    assert far.distances(far.sheet, Axis.X).tolist() == [15, 16, 20, 29, 30, 34]
    tight = Splitter(whole(4, 20, 1), limits, (Item(12, 20, 3, turnable=False),), 1)
    assert tight.distances(tight.sheet, Axis.X).tolist() == []


@given(st.integers(0, 300), st.sampled_from((2, 4, 8)), st.sampled_from((1, 2)))
def test_random_patterns_are_on_the_mark(seed: int, mark: int, least: int) -> None:
    """No distance at the store is between two of its marks."""
    own = splitter(replace(LIMITS, mark=mark, least=least, max_cuts=6))
    assume(own.is_possible)
    rng = random.Random(seed)
    for _ in range(4):
        assert all(size % mark == 0 for size in sizes_of(own.any_pattern(rng)))
