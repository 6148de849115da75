"""Clean-ups at distances that are set anyway, on layouts worked out by hand and on random ones."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlist.model.edges import EdgeTrims
from cutlist.model.job import SawKind
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Purpose
from cutlist.sequencing.choice import Chooser
from cutlist.sequencing.cleaning import (
    Way,
    best_in,
    clean_up_distances,
    clean_up_range,
    groups,
    guided_distance,
    last_in,
    narrowed,
    rough_ranges,
    ways,
)
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, sequence
from cutlist.sequencing.tools import Tool
from tests.sequencing.cut_layouts import Bench, benches, replay

FENCE = Fence(1)
#: 50 + kerf + 20 of 80 long, 9 wide: 9 to spare along x.
ROW = Strip(Axis.X, 80, 9, (Cell(0, 50, 9), Cell(1, 20, 9)))


def test_range_of_a_clean_up() -> None:
    """A piece with a trim of 2 at both ends is cleaned to 73 at least, to 82 at most."""
    assert clean_up_range(ROW, Axis.X, 2, 13, FENCE, Chooser(FENCE)) == (73, 82)
    assert clean_up_range(ROW, Axis.Y, 2, 84, FENCE, Chooser(FENCE)) == (11, 11)
    short = Fence(1, 75)
    assert clean_up_range(ROW, Axis.X, 2, 13, short, Chooser(short)) == (73, 75)
    short = Fence(1, 40)
    assert clean_up_range(ROW, Axis.X, 2, 13, short, Chooser(short)) is None


def test_ranges_of_rough_cuts() -> None:
    """One child, the other, or both together come off first, the trim with them."""
    found = set(rough_ranges(ROW, 2, 13, FENCE, Chooser(FENCE)))
    assert found == {(52, 61), (22, 31), (73, 82)}
    short = Fence(1, 40)
    assert not list(rough_ranges(ROW, 2, 13, short, Chooser(short)))


def test_groups() -> None:
    """Every choice of children with what it takes up, a kerf between each two."""
    found = sorted((used, sorted(group.elements())) for used, group in groups([4, 4, 9], 1))
    assert found == [(4, [4]), (9, [4, 4]), (9, [9]), (14, [4, 9]), (19, [4, 4, 9])]
    many = list(range(100, 120))
    assert list(groups(many, 1)) == [(size, Counter((size,))) for size in many]


def test_waste_goes_first() -> None:
    """A narrowed strip keeps its children; across it they are narrowed in turn."""
    found = narrowed(Strip(Axis.Y, 80, 30, (ROW,)), Axis.X, 9)
    assert found == Strip(Axis.Y, 71, 30, (Strip(Axis.X, 71, 9, ROW.children),))
    assert narrowed(Cell(0, 4, 5), Axis.X, 0) == Cell(0, 4, 5)


def test_one_new_distance_for_several_pieces_of_stock() -> None:
    """Two pieces of different length are cleaned at one distance that suits both."""
    longer = Strip(Axis.X, 90, 9, (Cell(0, 50, 9), Cell(2, 25, 9)))
    stock = [(Layout(0, ROW), EdgeTrims[int].of(2)), (Layout(1, longer), EdgeTrims[int].of(2))]
    found = clean_up_distances(stock, (), (Axis.X,), FENCE, Chooser(FENCE))
    assert len(found) == 1
    assert 78 <= max(found) <= 82 or 52 <= max(found) <= 61
    assert clean_up_distances(stock, (60,), (Axis.X,), FENCE, Chooser(FENCE)) == {60}


def test_best_in_gives_up_least() -> None:
    """The largest distance in the range is taken; outside there is none."""
    assert best_in((3, 5, 8, 9), (4, 8), 1) == 8
    assert best_in((3, 9), (4, 8), 1) is None


def test_a_mark_goes_before_what_lies_between_two() -> None:
    """Where the range holds a mark of the fence, a distance between two marks does not serve."""
    assert best_in((5, 6, 7), (5, 8), 3) == 6
    assert best_in((5, 7, 8), (5, 8), 3) is None
    assert best_in((5, 7, 8), (7, 8), 3) == 8
    assert [last_in(span, 3) for span in ((5, 8), (6, 6), (7, 8))] == [6, 6, 8]


def test_stock_between_marks_is_cleaned_at_a_mark() -> None:
    """Of 100 and a margin of 3 remain 97; with waste to give the fence goes to 96, else to 97."""
    fence = Fence(1, None, 4)
    for panel, expected in ((90, 96), (96, 96), (97, 97)):
        layout = Layout(0, Strip(Axis.X, 97, 20, (Cell(0, panel, 20),)))
        found = sequence([StockLayout(layout, trims=EdgeTrims(3, 0))], fence)
        first = found.settings[0]
        assert (first.distance, first.cuts[0].purpose) == (expected, Purpose.CLEAN_UP)
        (made,) = (one for one in found.pieces if one.part == 0)
        assert (made.box.x, made.box.length) == (100 - expected if panel < 97 else 3, panel)


def test_a_clean_up_shares_a_setting() -> None:
    """A sheet of one panel 30 x 20 is cleaned at the 36 that another one needs: no setting more.

    Untrimmed stock 36 long makes the setting; on the trimmed piece, 44 long, 30 and the trim of 2
    lie within 36, and what comes off is more than the trim.
    """
    trimmed = Strip(Axis.X, 40, 20, (Cell(0, 30, 20),))
    other = Strip(Axis.X, 60, 20, (Cell(1, 36, 20),))
    done = sequence(
        [StockLayout(Layout(0, trimmed), EdgeTrims.of(2)), StockLayout(Layout(1, other))], FENCE
    )
    assert sorted(setting.distance for setting in done.settings) == [20, 22, 30, 36]
    clean_ups = [
        (setting.distance, cut.piece)
        for setting in done.settings
        for cut in setting.cuts
        if cut.purpose is Purpose.CLEAN_UP
    ]
    assert {distance for distance, _ in clean_ups} == {22, 36}


@pytest.mark.slow
@given(st.one_of(benches(sheets=2), benches(reach=False), benches(step=4)))
@settings(
    max_examples=200,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
def test_random_layouts_replay(bench: Bench) -> None:
    """Whatever the reach and the scale, clean-ups keep the rules."""
    assert replay(bench, sequence(bench.layouts, bench.fence, expansions=200)) == []


def test_distances_stay_on_the_scale() -> None:
    """A distance between the marks is not taken for a clean-up that could stand on one."""
    fence = Fence(4, None, 4)
    trimmed = Strip(Axis.X, 40, 20, (Cell(0, 28, 20),))
    other = Strip(Axis.X, 60, 20, (Cell(1, 37, 20),))
    done = sequence(
        [StockLayout(Layout(0, trimmed), EdgeTrims.of(4)), StockLayout(Layout(1, other))], fence
    )
    clean_ups = [
        setting.distance
        for setting in done.settings
        for cut in setting.cuts
        if cut.purpose is Purpose.CLEAN_UP
    ]
    assert all(distance % 4 == 0 for distance in clean_ups)


def test_a_guide_takes_factory_edges_off_at_one_setting() -> None:
    """With a track saw both edges of sheets of any size go at one setting: the trim less a kerf.

    The sheets are full, so that no clean-up can be made at another distance.
    """
    table = Tool(2, kind=SawKind.TABLE_SAW)
    track = Tool(2, kind=SawKind.TRACK_SAW)
    layouts = [
        StockLayout(Layout(0, Cell(0, 80, 50)), EdgeTrims.of(5)),
        StockLayout(Layout(1, Cell(1, 70, 40)), EdgeTrims.of(5)),
    ]
    alone = sequence(layouts, Fence(2, tools=(table,)))
    assert len(alone.settings) == 8
    done = sequence(layouts, Fence(2, tools=(table, track)))
    assert (done.settings[0].tool, done.settings[0].distance) == (1, 3)
    assert [cut.purpose for cut in done.settings[0].cuts] == [Purpose.CLEAN_UP] * 4
    assert len(done.settings) == 5
    panels = {(p.box.x, p.box.y, p.box.length, p.box.width) for p in done.pieces if p.part >= 0}
    assert panels == {(5, 5, 80, 50), (5, 5, 70, 40)}


def test_room_for_the_guide() -> None:
    """A trim no wider than the kerf needs waste to give; the guide stands on its marks."""
    track = Tool(2, kind=SawKind.TRACK_SAW, mark=2)
    full = Cell(0, 80, 50)
    loose = Strip(Axis.X, 80, 50, (Cell(0, 70, 50),))
    assert guided_distance(full, Axis.X, (6, 6), 62, FENCE, track) == 4
    assert guided_distance(full, Axis.X, (5, 5), 60, FENCE, track) is None
    assert guided_distance(loose, Axis.X, (5, 5), 60, FENCE, track) == 4
    assert guided_distance(loose, Axis.X, (2, 2), 54, FENCE, track) == 2
    short = replace(track, longest_cut=53)
    assert guided_distance(loose, Axis.X, (2, 2), 54, FENCE, short) is None
    # Nobody sets less than a sliver: where there is waste to give, so much goes off.
    assert guided_distance(loose, Axis.X, (2, 2), 54, replace(FENCE, sliver=5), track) == 6
    assert guided_distance(loose, Axis.X, (2, 2), 54, replace(FENCE, sliver=11), track) is None


def test_ways() -> None:
    """Untrimmed stock needs no way; a guide is one more."""
    assert ways(FENCE, is_trimmed=False) == (Way(),)
    assert len(ways(FENCE, is_trimmed=True)) == 4
    shop = Fence(2, tools=(Tool(2), Tool(2, kind=SawKind.CIRCULAR_SAW)))
    assert ways(shop, is_trimmed=True)[4:] == (Way(guide=1),)
    assert ways(shop, is_trimmed=True, is_quick=True) == (Way(), Way(guide=1))
