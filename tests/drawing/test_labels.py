from __future__ import annotations

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from cutlist.drawing import theme
from cutlist.drawing.metrics import text_box
from cutlist.drawing.primitives import Box, Role
from cutlist.drawing.sheets.labels import grain_arrow, label_panel, number_panel

NAMES = st.sampled_from(["end", "drawer front", "upper left-hand cabinet door with a window"])


@given(st.floats(1, 120), st.floats(1, 120), NAMES)
@example(4.0, 58.0, "end")
def test_a_label_stays_inside_and_legible(width: float, height: float, name: str) -> None:
    """Whatever the panel, lettering never leaves it, never overlaps, never gets too small."""
    box = Box(20, 30, width, height)
    label = label_panel(box, name, '23 5/8" × 14 1/2"', "A1a", role=Role.PANEL_TEXT)
    assume(label)
    assert label is not None
    assert theme.TINY <= label.size_pt <= theme.LABEL_MAX
    boxes = [text_box(text) for text in label.texts]
    assert all(box.holds(one, 1e-6) for one in boxes)
    assert not any(
        one.overlaps(other, 1e-6) for i, one in enumerate(boxes) for other in boxes[i + 1 :]
    )
    said = " ".join(text.content for text in label.texts)
    assert all(word in said for word in name.split())
    assert "A1a" in said


@pytest.mark.parametrize(
    ("size", "rows", "upwards"),
    [((60, 40), 3, False), ((20, 60), 3, True), ((120, 3.2), 1, False), ((3.2, 120), 1, True)],
)
def test_the_form_follows_the_panel(size: tuple[float, float], rows: int, upwards: bool) -> None:
    """Three rows in a roomy panel, one along a thin strip, turned in an upright one."""
    label = label_panel(Box(0, 0, *size), "end", "600 × 400 mm", "A1a", role=Role.PANEL_TEXT)
    assert label is not None
    assert len(label.texts) == rows
    assert {text.upwards for text in label.texts} == {upwards}


def test_a_tiny_panel_is_left_to_the_key() -> None:
    """Where the full label has no room the number may still have some; below that neither."""
    small = Box(0, 0, 6, 4)
    assert label_panel(small, "divider", "60 × 40 mm", "A3c", role=Role.PANEL_TEXT) is None
    assert number_panel(small, "#1", "A3c", role=Role.CALLOUT) is not None
    assert number_panel(Box(0, 0, 30, 1.2), "#1", "A3c", role=Role.CALLOUT) is None


@pytest.mark.parametrize(("size", "drawn"), [((60, 40), True), ((60, 3), True), ((5, 5), False)])
def test_the_grain_arrow_leaves_room_for_the_label(size: tuple[float, float], drawn: bool) -> None:
    """The arrow is level, inside the panel and outside the room left for lettering."""
    box = Box(0, 0, *size)
    found = grain_arrow(box)
    assert (found is not None) is drawn
    if found is not None:
        line, room = found
        assert line.y1 == line.y2
        assert box.holds(Box(line.x1, line.y1, line.x2 - line.x1, 0))
        assert box.holds(room)
        assert not room.overlaps(Box(line.x1, line.y1 - 0.1, line.x2 - line.x1, 0.2))
