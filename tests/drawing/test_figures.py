"""Boxes with large figures."""

from __future__ import annotations

import pytest

from cutlist.drawing.frame import Flow
from cutlist.drawing.pages.figures import add_figures
from cutlist.drawing.paper import A4
from cutlist.drawing.primitives import Rect, Text
from tests.drawing.checks import assert_legible


@pytest.mark.parametrize("size_pt", [8.0, 9.5])
@pytest.mark.parametrize("count", [1, 2, 3])
def test_boxes_share_the_width_and_hold_their_text(count: int, size_pt: float) -> None:
    """However long figures and notes, the lettering stays inside its box."""
    flow = Flow(A4, "Cutting plan")
    notes = ("6 sheets", "3 trips of at most 180 lb; by weight alone 2 would do " * 3)
    add_figures(flow, [("to pay", "1,234,567,890.00", notes)] * count, size_pt=size_pt)
    (page,) = flow.finish()
    assert_legible(page)
    boxes = [item.box for item in page.items if isinstance(item, Rect)]
    assert len(boxes) == count
    assert sum(box.width for box in boxes) + 4 * (count - 1) == pytest.approx(flow.room.width)
    lowest = max(item.y for item in page.items if isinstance(item, Text))
    assert lowest < boxes[0].bottom
