"""Cuts carried out: every plan of random layouts keeps the rules of the plan format."""

from __future__ import annotations

import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Purpose
from cutlist.sequencing.cutting import PlacedBox
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, sequence
from tests.sequencing.cut_layouts import Bench, benches, replay

SLOW = [HealthCheck.too_slow, HealthCheck.filter_too_much]


@pytest.mark.slow
@given(st.one_of(benches(), benches(step=4), benches(trim=False)))
@settings(max_examples=400, deadline=None, suppress_health_check=SLOW)
def test_random_layouts_replay(bench: Bench) -> None:
    """Every cut keeps the rules, and all panels come out at their size with clean edges."""
    assert replay(bench, sequence(bench.layouts, bench.fence, expansions=200)) == []


@pytest.mark.slow
@given(benches())
@settings(max_examples=100, deadline=None, suppress_health_check=SLOW)
def test_names_tell_where_pieces_come_from(bench: Bench) -> None:
    """A piece's letter is that of its sheet, and no name is given twice."""
    done = sequence(bench.layouts, bench.fence, expansions=200)
    cuts = [cut for setting in done.settings for cut in setting.cuts]
    names = []
    for cut in cuts:
        made = [box.name for box in (cut.kept, cut.rest) if box is not None]
        assert {sheet_of(name) for name in made} == {sheet_of(cut.piece)}
        names += made
    assert len(set(names)) == len(names)


def sheet_of(name: str) -> str:
    """Return the capitals that a name begins with."""
    match = re.match("[A-Z]+", name)
    assert match
    return match[0]


def test_all_at_one_setting() -> None:
    """Strips of equal width come off two sheets with one setting, rips before crosscuts."""
    strip = Strip(Axis.X, 30, 8, (Cell(0, 8, 8), Cell(0, 8, 8)))
    root = Strip(Axis.Y, 30, 20, (strip, strip))
    done = sequence([StockLayout(Layout(0, root, copies=2))], Fence(1))
    assert [setting.distance for setting in done.settings] == [8]
    cuts = done.settings[0].cuts
    assert [cut.axis for cut in cuts] == [Axis.Y] * 4 + [Axis.X] * 8
    assert [cut.purpose for cut in cuts] == [Purpose.PART] * 12


def test_a_cleaned_piece_keeps_its_letter() -> None:
    """Sheet A becomes A.1 and its edge A.1x when the first factory edge is cleaned off."""
    rows = Strip(Axis.Y, 20, 21, (Cell(0, 20, 10), Cell(0, 20, 10)))
    done = sequence([StockLayout(Layout(0, rows), EdgeTrims.of(3))], Fence(1))
    cuts = [cut for step in done.settings for cut in step.cuts]
    (skim,) = (cut for cut in cuts if cut.purpose is Purpose.CLEAN_UP)
    assert (skim.piece, skim.kept.name) == ("A", "A.1")
    assert skim.rest is not None
    assert (skim.rest.name, min(skim.rest.length, skim.rest.width)) == ("A.1x", 2)
    assert any(cut.piece == "A.1" for cut in cuts)


def test_box_parts() -> None:
    """A part of a box lies where it is said to, along the axis it is said to."""
    box = PlacedBox("A", 10, 20, 30, 40)
    assert (box.size(Axis.X), box.size(Axis.Y)) == (30, 40)
    assert box.part_of(Axis.X, 5, 7, "B") == PlacedBox("B", 15, 20, 7, 40)
    assert box.part_of(Axis.Y, 5, 7, "B") == PlacedBox("B", 10, 25, 30, 7)
