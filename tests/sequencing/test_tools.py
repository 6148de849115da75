"""Saws in grid units: numbers of settings, marks, and what is safe with each kind."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlist.model.sawing import Device, Hazard
from cutlist.sequencing.tools import Tool, setting_of, tool_and_distance
from cutlist.units.grid import MAX_COUNT


@given(st.integers(0, 7), st.integers(1, MAX_COUNT))
def test_setting_and_back(tool: int, distance: int) -> None:
    """Each saw and distance on the grid has its own number, that of the first saw the distance."""
    setting = setting_of(tool, distance)
    assert tool_and_distance(setting) == (tool, distance)
    assert (setting == distance) == (tool == 0)


def test_reach() -> None:
    """A saw reaches its largest distance, and not nothing."""
    tool = Tool(1, 40)
    assert [tool.reaches(distance) for distance in (0, 1, 40, 41)] == [False, True, True, False]
    assert Tool(1).reaches(10**9)


TABLE = Tool(3, smallest_piece=300, steady_edge=600, thinnest_strip=10)
SLED = Tool(
    3,
    device=Device.STOP,
    longest_cut=600,
    largest_pieces=((1500, 600), (2500, 300)),
    smallest_piece=150,
)
TRACK = Tool(2, device=Device.GUIDE, longest_cut=2700, smallest_piece=200)


@pytest.mark.parametrize(
    ("tool", "along", "across", "distance", "hazards"),
    [
        # Common practice: a long narrow strip is never crosscut along the fence, a square may be.
        (TABLE, 300, 2400, 700, {Hazard.UNSTEADY}),
        (TABLE, 300, 300, 100, set()),
        (TABLE, 2400, 1200, 700, set()),
        # Common practice: an edge of 600 mm (24 in) is steady, whatever the piece is across.
        (TABLE, 600, 2400, 700, set()),
        (TABLE, 599, 2400, 700, {Hazard.UNSTEADY}),
        # Table-saw manuals: under 300 mm (12 in) along the fence is short.
        (TABLE, 299, 200, 100, {Hazard.TOO_SMALL}),
        (TABLE, 200, 299, 100, {Hazard.TOO_SMALL, Hazard.UNSTEADY}),
        (TABLE, 2400, 1200, 10, set()),
        (TABLE, 2400, 1200, 9, {Hazard.TOO_THIN}),
        # On a sled the piece lies along the bar with its size across the cut.
        (SLED, 600, 1500, 9, set()),
        (SLED, 300, 2500, 9, set()),
        (SLED, 301, 1501, 9, {Hazard.TOO_LARGE}),
        (SLED, 300, 2501, 9, {Hazard.TOO_LARGE}),
        (SLED, 601, 1500, 700, {Hazard.TOO_LONG, Hazard.TOO_LARGE}),
        (SLED, 300, 149, 100, {Hazard.TOO_SMALL}),
        # A guide lies on the piece, whichever way round.
        (TRACK, 200, 2400, 700, set()),
        (TRACK, 2700, 199, 100, {Hazard.TOO_SMALL}),
        (TRACK, 2701, 1200, 100, {Hazard.TOO_LONG}),
    ],
)
def test_hazards(tool: Tool, along: int, across: int, distance: int, hazards: set[Hazard]) -> None:
    """Each kind has its own rules; a limit is the last value that is safe."""
    assert set(tool.hazards(along, across, distance)) == hazards
