"""Room to cut the last panel of a full strip to size, on layouts worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Purpose
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, sequence
from cutlist.sequencing.widening import on_marks, widened
from tests.sequencing.cut_layouts import Bench, benches, replay

#: In a row 21 wide lie a panel as wide and a column of two panels: 10 + kerf + 10.
PAIR = Strip(Axis.Y, 12, 21, (Cell(1, 12, 10), Cell(1, 12, 10)))
ROW = Strip(Axis.X, 60, 21, (Cell(0, 30, 21), PAIR))
KEEP, CUT = Fence(1), Fence(1, keeps_remainders=False)


def sheet(width: int, *rows: Strip) -> Strip:
    """Return a sheet 60 long with rows from its low edge on."""
    return Strip(Axis.Y, 60, width, rows)


def test_a_full_column_gets_room() -> None:
    """The row is cut a kerf wider, the panel beside the column to its width afterwards."""
    found = widened(sheet(40, ROW), (), CUT)
    assert isinstance(found, Strip)
    assert (found.length, found.width) == (60, 40)
    assert found.children == (
        Strip(
            Axis.X,
            60,
            22,
            (Strip(Axis.Y, 30, 22, (Cell(0, 30, 21),)), replace(PAIR, width=22)),
        ),
    )


def test_a_distance_in_use_is_taken() -> None:
    """Of the distances that are set anyway the first with a kerf to spare serves."""
    found = widened(sheet(40, ROW), (21, 24, 30), CUT)
    assert isinstance(found, Strip)
    assert [child.width for child in found.children] == [24]


def test_loose_strips_lie_on_marks() -> None:
    """A strip wider than its panels need is set on a mark; a tight one keeps its size."""
    loose = Strip(Axis.X, 60, 23, (Cell(0, 30, 21),))
    fence = Fence(1, None, 4)
    tree = sheet(60, Strip(Axis.X, 60, 23, (Strip(Axis.Y, 30, 23, (Cell(0, 30, 20),)),)), ROW)
    found = on_marks(tree, fence)
    assert isinstance(found, Strip)
    assert [child.width for child in found.children] == [20, 21]
    assert on_marks(tree, Fence(1)) == tree
    assert on_marks(loose, fence) == loose


def test_marks_beside_a_child_beyond_reach() -> None:
    """Beside a child beyond reach a strip is set on a mark where more than a kerf is left then.

    Of 60 the children and a kerf leave nothing, or 9 with a margin of 9 at the far end; a strip of
    18 that could as well be 16 leaves 2 or 11, of which a kerf of 3 takes more than 2.
    """
    fence = Fence(3, 30, 4)
    inner = Strip(Axis.Y, 18, 40, (Cell(0, 18, 40),))
    loose = replace(inner, children=(Strip(Axis.X, 18, 40, (Cell(0, 15, 40),)),))
    tree = Strip(Axis.X, 60, 40, (loose, Cell(1, 39, 40)))
    assert on_marks(tree, fence) == tree
    found = on_marks(tree, fence, EdgeTrims(5, 9))
    assert isinstance(found, Strip)
    assert [child.length for child in found.children] == [16, 39]
    assert on_marks(tree, fence, EdgeTrims(lower=5, upper=9)) == tree


def test_without_waste_nothing_is_widened() -> None:
    """A sheet that its rows fill stays as it is, and so does one with too little to spare."""
    for width in (21, 22):
        tree = sheet(width, ROW)
        assert widened(tree, (), CUT) == tree
    tight = sheet(43, ROW, ROW)
    assert widened(tight, (), CUT) == tight


def test_each_panel_gets_its_own_cut() -> None:
    """With room, both panels of the column are kept at the fence; without the wish, one is left.

    The row is cut to 30, which the panel's length sets anyway, instead of 22.
    """
    for fence, cuts_at_10 in ((KEEP, 1), (CUT, 2)):
        done = sequence([StockLayout(Layout(0, sheet(40, ROW)))], fence)
        assert sum(len(s.cuts) for s in done.settings if s.distance == 10) == cuts_at_10
    done = sequence([StockLayout(Layout(0, sheet(40, ROW)))], CUT)
    rough = [s.distance for s in done.settings for c in s.cuts if c.purpose is Purpose.ROUGH]
    assert rough == [30]


def test_waste_is_not_cut_first() -> None:
    """Where remainders are not kept, no panel comes out by taking the waste off at its size."""
    layouts = [
        StockLayout(Layout(0, Strip(Axis.X, 16, 5, (Cell(0, 4, 5), Cell(1, 6, 5))))),
        StockLayout(Layout(0, Strip(Axis.X, 14, 5, (Cell(0, 4, 5),) * 3))),
    ]
    assert [s.distance for s in sequence(layouts, KEEP).settings] == [4]
    assert sorted(s.distance for s in sequence(layouts, CUT).settings) == [4, 6]


@pytest.mark.slow
@given(benches())
@settings(
    max_examples=150,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
def test_random_layouts_replay(bench: Bench) -> None:
    """Whatever the layouts, reach and trim: every cut keeps the rules."""
    fence = replace(bench.fence, keeps_remainders=False)
    assert replay(bench, sequence(bench.layouts, fence, expansions=200)) == []
