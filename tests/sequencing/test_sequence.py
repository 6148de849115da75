"""The entrance of sequencing: layouts in, settings and their bound out."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import NONE
from cutlist.sequencing.sequence import StockLayout, glance, sequence
from tests.sequencing.cut_layouts import Bench, benches

SLOW = [HealthCheck.too_slow, HealthCheck.filter_too_much]


@pytest.mark.slow
@given(benches())
@settings(max_examples=100, deadline=None, suppress_health_check=SLOW)
def test_bound_and_order_agree(bench: Bench) -> None:
    """The bound is at most the settings made, and a quick look finds no fewer than a long one."""
    done = sequence(bench.layouts, bench.fence)
    assert done.bound <= len(done.settings) <= glance(bench.layouts, bench.fence).setups


@pytest.mark.slow
@given(benches())
@settings(max_examples=60, deadline=None, suppress_health_check=SLOW)
def test_more_copies_need_no_more_settings(bench: Bench) -> None:
    """Another sheet of the same layouts is cut with the same settings."""
    more = tuple(
        replace(entry, layout=replace(entry.layout, copies=entry.layout.copies + 1))
        for entry in bench.layouts
    )
    once = sequence(bench.layouts, bench.fence, expansions=200)
    again = sequence(more, bench.fence, expansions=200)
    assert [s.distance for s in once.settings] == [s.distance for s in again.settings]
    assert once.bound == again.bound


def test_sheets_count_through_the_copies() -> None:
    """Pieces left name their sheet's number, counted over layouts and copies in order."""
    layouts = [
        StockLayout(Layout(0, Cell(0, 20, 10), copies=2)),
        StockLayout(Layout(1, Strip(Axis.X, 30, 10, (Cell(1, 12, 10),)))),
    ]
    done = sequence(layouts, Fence(1))
    assert [(piece.sheet, piece.part, piece.box.name) for piece in done.pieces] == [
        (0, 0, "A"),
        (1, 0, "B"),
        (2, 1, "C1"),
        (2, NONE, "C2"),
    ]


def test_a_trim_leaves_a_modest_bound() -> None:
    """With factory edges a true bound is claimed all the same: at least one setting is needed."""
    done = sequence([StockLayout(Layout(0, Cell(0, 20, 10)), EdgeTrims.of(2))], Fence(1))
    assert 1 <= done.bound <= len(done.settings)
