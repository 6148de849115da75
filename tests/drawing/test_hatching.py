from __future__ import annotations

from math import hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, box

from cutlist.drawing.hatching import arrow_head, hatch_lines
from cutlist.drawing.primitives import Box, Hatch

#: Whole thousandths of a millimetre: shapely clips wrongly at a place such as 1e-309.
PLACES = st.integers(0, 100_000).map(lambda places: places / 1000)
SIDES = st.floats(0.1, 60)


@pytest.mark.slow
@given(PLACES, PLACES, SIDES, SIDES)
def test_hatch_is_the_family_of_lines_clipped_to_the_box(
    x: float, y: float, width: float, height: float
) -> None:
    """The lines are those that a general geometry library clips to the box."""
    found = hatch_lines(Hatch(Box(x, y, width, height), 2.0, 0.18))
    outline = box(x, y, x + width, y + height)
    step = 2.0 * sqrt(2)
    whole = 0.0
    for k in range(200):
        line = LineString([(-300, k * step + 300), (300, k * step - 300)])
        whole += line.intersection(outline).length
    drawn = sum(hypot(x2 - x1, y2 - y1) for x1, y1, x2, y2 in found)
    assert drawn == pytest.approx(whole, abs=1e-6)
    assert all(outline.buffer(1e-6).contains(LineString([(a, b), (c, d)])) for a, b, c, d in found)


def test_arrow_head_points_away_from_its_line() -> None:
    """The tip is the end itself, the other corners lie behind it on both sides."""
    tip, left, right = arrow_head(10, 5, 0, 5, 0.2)
    assert tip == (10, 5)
    assert left[0] == right[0] < 10
    assert left[1] + right[1] == pytest.approx(10)
