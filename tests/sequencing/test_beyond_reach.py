"""Blades of several widths and a short reach: every piece still comes out exact."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Purpose
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import Sequenced, StockLayout, sequence
from cutlist.sequencing.tools import Tool
from tests.sequencing.cut_layouts import Bench, benches, replay

WIDE = Tool(3, 30)
THIN = Tool(2, 50)
SHOP = Fence(3, 50, tools=(WIDE, THIN))


def row(length: int, *sizes: int) -> Strip:
    """Return a strip along x of panels 200 wide: long enough to ride any fence."""
    return Strip(Axis.X, length, 200, tuple(Cell(0, size, 200) for size in sizes))


def made(root: Strip, fence: Fence = SHOP) -> Sequenced:
    """Sequence one layout."""
    return sequence([StockLayout(Layout(0, root))], fence)


def test_what_stands_for_several_saws() -> None:
    """Layouts count on the widest kerf, and on less than the reach where blades differ."""
    assert not SHOP.has_one_kerf
    assert SHOP.layout_reach == 44
    one = replace(SHOP, tools=(WIDE, replace(THIN, kerf=3)))
    assert one.has_one_kerf
    assert one.layout_reach == 50
    assert SHOP.farthest() == 50
    assert replace(SHOP, tools=(WIDE, replace(THIN, reach=None))).farthest() is None
    assert Fence(3, 40).farthest() == 40
    assert replace(SHOP, tools=(replace(WIDE, mark=4), replace(THIN, mark=6))).common_mark == 12


def test_thin_blade_beside_a_child_beyond_reach() -> None:
    """40 + kerf of 3 + 90 fill 133. Only the thin blade reaches 40, and leaves 91 for 90.

    One unit cannot be taken off 90 by any blade, so the 40 comes off 41 wide and is cut again.
    """
    done = made(row(133, 40, 90))
    cuts = [(s.tool, s.distance, c.purpose) for s in done.settings for c in s.cuts]
    assert cuts == [(1, 41, Purpose.ROUGH), (1, 40, Purpose.PART)]
    sizes = sorted(piece.box.length for piece in done.pieces if piece.part == 0)
    assert sizes == [40, 90]


def test_the_widest_blade_leaves_the_remainder_exact() -> None:
    """Where the widest blade makes the cut the child beyond reach remains, as laid out."""
    done = made(row(123, 30, 90), replace(SHOP, tools=(WIDE, replace(THIN, reach=45))))
    assert [(s.tool, s.distance) for s in done.settings] in ([(0, 30)], [(1, 31), (1, 30)])
    assert sorted(piece.box.length for piece in done.pieces if piece.part == 0) == [30, 90]


def test_one_thin_blade_among_wide_ones() -> None:
    """30 + 40 + 30 on 106: the 40 needs the thin blade, so it is left to be the remainder."""
    done = made(row(106, 30, 40, 30))
    assert [(s.tool, s.distance, len(s.cuts)) for s in done.settings] == [(0, 30, 2)]
    assert sorted(piece.box.length for piece in done.pieces if piece.part == 0) == [30, 30, 40]


@pytest.mark.slow
@given(st.one_of(benches(saws=True), benches(saws=True, step=4), benches(saws=True, trim=False)))
@settings(
    max_examples=400,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)
def test_random_layouts_replay(bench: Bench) -> None:
    """Whatever saws cut them, layouts come apart by the rules."""
    assert replay(bench, sequence(bench.layouts, bench.fence, expansions=200)) == []
