"""Patterns with a cut at many places at once, beside the same patterns one by one."""

from __future__ import annotations

from dataclasses import replace
from math import lcm

import numpy as np
from hypothesis import assume, given
from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from cutlist.breakdown.blanks import BrokenSheet, kinds_of
from cutlist.breakdown.moved_cuts import MovedCut, splits_of, usable, with_cut_at
from cutlist.breakdown.patterns import (
    Blank,
    Pattern,
    Split,
    StoreLimits,
    blanks_of,
    sizes_of,
    whole,
)
from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.tools import Tool
from tests.planning.jobs import sheet

LIMITS = StoreLimits(kerf=1, accuracy=2, least=2, max_cuts=9, mark=1, openings=((40, 30),))
#: A crosscut at 40, then the rest is ripped at 30 and the upper strip crosscut at 20.
PATTERN = Split(Axis.X, 40, None, Split(Axis.Y, 30, None, Split(Axis.X, 20)))


@st.composite
def fences(draw: DrawFn) -> Fence:
    """Draw a shop: one saw, or two whose scales differ, with or without a reach."""
    kerf = draw(st.integers(0, 4))
    reach = draw(st.none() | st.integers(1, 80))
    marks = draw(st.lists(st.sampled_from((1, 2, 3, 4, 6)), min_size=1, max_size=2))
    if len(marks) == 1:
        return Fence(kerf, reach, marks[0])
    tools = tuple(Tool(kerf, reach, mark) for mark in marks)
    return Fence(kerf, reach, min(marks), tools)


@st.composite
def blanks(draw: DrawFn) -> Blank:
    """Draw a blank whose four edges lose different amounts, some of them nothing."""
    ends = st.tuples(st.integers(0, 5), st.integers(0, 5))
    return Blank(
        0,
        0,
        draw(st.integers(1, 60)),
        draw(st.integers(1, 60)),
        EdgeTrims(*draw(ends), *draw(ends)),
    )


@st.composite
def patterns(draw: DrawFn, depth: int = 3) -> Pattern:
    """Draw a pattern of any shape; its pieces may be too small or of no size at all."""
    if not depth or draw(st.integers(0, 3)) == 0:
        return None
    below = patterns(depth - 1)
    return Split(draw(st.sampled_from(Axis)), draw(st.integers(1, 30)), draw(below), draw(below))


def limits_of(accuracy: int, least: int, heaviest: int | None) -> StoreLimits:
    """Return limits with two ways in."""
    openings = ((40, 30), (70, 9))
    return replace(LIMITS, accuracy=accuracy, least=least, openings=openings, heaviest=heaviest)


def insides(one: MovedCut, place: int = 0) -> list[tuple[int, int]]:
    """Return length and width of every blank between its trims, at one of the distances."""
    return [(int(length[place]), int(width[place])) for length, width in one.insides]


@given(st.lists(blanks(), min_size=1, max_size=4), fences())
def test_the_inside_of_a_blank_is_its_bin(drawn: list[Blank], fence: Fence) -> None:
    """What arrays say of blanks is what the layouts get as bins; nothing is no bin."""
    stock = sheet()
    for blank in drawn:
        sides = (np.array([blank.length]), np.array([blank.width]))
        length, width = usable(sides, blank.trims, fence)
        kinds = kinds_of((BrokenSheet(0, stock, blank, None),), LIMITS, fence)
        found = [(kind.bin.length, kind.bin.width) for kind in kinds]
        inside = (int(length[0]), int(width[0]))
        assert found == ([inside] if min(inside) > 0 else [])


@given(
    st.tuples(st.integers(0, 4), st.integers(0, 4)),
    st.lists(st.tuples(st.integers(1, 60), st.integers(1, 60)), min_size=1, max_size=9),
    fences(),
)
def test_many_blanks_at_once(
    ends: tuple[int, int], sizes: list[tuple[int, int]], fence: Fence
) -> None:
    """Near and far blanks in one array get what each gets alone."""
    trims = EdgeTrims(*ends, *reversed(ends))
    lengths, widths = (np.array(side) for side in zip(*sizes, strict=True))
    together = usable((lengths, widths), trims, fence)
    for place in range(len(sizes)):
        one = (lengths[place : place + 1], widths[place : place + 1])
        alone = usable(one, trims, fence)
        assert [side[place] for side in together] == [side[0] for side in alone]


def test_an_inside_by_hand() -> None:
    """50 long with 2 off each end and a scale of 4: the fence stands at 48, then 2 more come off.

    Beyond a reach of 40 with a kerf of 4 at least 5 come off each end: 45 is no mark, 44 is. Where
    a second saw has a scale of 10, only 40 is a mark of both.
    """
    trims = EdgeTrims(2, 2)
    sides = (np.array([50]), np.array([30]))
    assert [int(side[0]) for side in usable(sides, trims, Fence(4, mark=4))] == [46, 30]
    far = usable(sides, trims, Fence(4, reach=40, mark=4))
    assert [int(side[0]) for side in far] == [39, 30]
    saws = Fence(4, 40, 4, (Tool(4, 40, 4), Tool(4, 40, 10)))
    assert saws.common_mark == lcm(4, 10)
    assert [int(side[0]) for side in usable(sides, trims, saws)] == [35, 30]


@given(
    st.tuples(st.integers(20, 90), st.integers(20, 60), st.integers(0, 3)),
    st.tuples(st.integers(0, 3), st.integers(1, 5), st.sampled_from((None, 200, 600))),
    fences(),
)
def test_without_a_cut_there_is_one_inside(
    size: tuple[int, int, int], own: tuple[int, int, int | None], fence: Fence
) -> None:
    """A sheet that is not broken down has no cut to move and is one blank."""
    own_limits, piece = limits_of(*own), whole(*size)
    assert list(splits_of(None, piece, own_limits)) == []
    assert len(MovedCut(None, piece, own_limits, fence).insides) == 1


@given(
    patterns(),
    st.tuples(st.integers(20, 90), st.integers(20, 60), st.integers(0, 3)),
    st.tuples(st.integers(0, 3), st.integers(1, 5), st.sampled_from((None, 200, 600))),
    fences(),
    st.data(),
)
def test_a_moved_cut_beside_the_moved_pattern(
    pattern: Pattern,
    size: tuple[int, int, int],
    own: tuple[int, int, int | None],
    fence: Fence,
    data: st.DataObject,
) -> None:
    """At each distance it tells what the pattern with the cut there tells, and its blanks."""
    own_limits = limits_of(*own)
    piece = whole(*size)
    cuts = list(splits_of(pattern, piece, own_limits))
    assume(cuts)
    split, _ = data.draw(st.sampled_from(cuts))
    sizes = data.draw(st.lists(st.integers(1, 70), min_size=1, max_size=8, unique=True))
    one = MovedCut(pattern, piece, own_limits, fence, split, np.array(sizes))
    for place, distance in enumerate(sizes):
        moved = with_cut_at(pattern, split, distance)
        alone = MovedCut(moved, piece, own_limits, fence)
        assert insides(one, place) == insides(alone)
        assert bool(one.is_allowed[place]) == bool(alone.is_allowed[0])
        assert bool(one.is_allowed[place]) == is_allowed(moved, piece, own_limits)


def is_allowed(pattern: Pattern, piece: Blank, limits: StoreLimits) -> bool:
    """Say of every piece of a pattern whether it is large enough, of every blank that it goes in.

    It asks only what patterns and limits say of single pieces.
    """
    if pattern is None:
        return limits.fits(piece.length, piece.width)
    pair = piece.parted(pattern.axis, pattern.size, limits)
    if any(one.size(pattern.axis) < limits.least for one in pair):
        return False
    return all(
        is_allowed(below, one, limits)
        for below, one in zip((pattern.first, pattern.rest), pair, strict=True)
    )


@given(patterns(), fences())
def test_blanks_in_order(pattern: Pattern, fence: Fence) -> None:
    """Insides follow one another as blanks are numbered."""
    piece = whole(80, 60, 1)
    found = insides(MovedCut(pattern, piece, LIMITS, fence))
    made = list(blanks_of(pattern, piece, LIMITS))
    assert len(found) == len(made)
    if all(min(blank.length, blank.width) > 0 for blank in made):
        kinds = kinds_of((BrokenSheet(0, sheet(), piece, pattern),), LIMITS, fence)
        for kind in kinds:
            for spot in kind.spots:
                assert found[spot.number - 1] == (kind.bin.length, kind.bin.width)
        kept = {spot.number for kind in kinds for spot in kind.spots}
        assert all(min(found[n - 1]) <= 0 for n in range(1, len(made) + 1) if n not in kept)


def test_cuts_with_their_pieces() -> None:
    """By hand: each cut with what it divides, and only the cut asked for is moved."""
    piece = whole(96, 48, 0)
    cuts = list(splits_of(PATTERN, piece, LIMITS))
    assert [split.size for split, _ in cuts] == [40, 30, 20]
    assert [(one.length, one.width) for _, one in cuts] == [(96, 48), (55, 48), (55, 17)]
    second, third = cuts[1][0], cuts[2][0]
    assert list(sizes_of(with_cut_at(PATTERN, second, 28))) == [40, 28, 20]
    assert list(sizes_of(with_cut_at(PATTERN, third, 7))) == [40, 30, 7]
    assert with_cut_at(None, second, 7) is None
    assert list(splits_of(None, piece, LIMITS)) == []
