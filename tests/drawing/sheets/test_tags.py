"""Words on a line: on it, clear of what is there, in the fullest form that has room."""

from __future__ import annotations

import pytest

from cutlist.drawing import theme
from cutlist.drawing.metrics import text_box
from cutlist.drawing.occupied import Occupied
from cutlist.drawing.primitives import Box, Line
from cutlist.drawing.sheets.tags import BALL, NAME, TAG, line_band, place_tag

SHEET = Box(0, 0, 200, 100)
LEVEL = Line(0, 50, 200, 50, theme.WIDE)
UPRIGHT = Line(80, 0, 80, 100, theme.WIDE)


@pytest.mark.parametrize("line", [LEVEL, UPRIGHT])
def test_a_tag_stands_on_the_middle_of_its_line(line: Line) -> None:
    """Along the line, its words inside its patch; it reads along an upright one."""
    placed = place_tag(line, ("3·12", "12"), TAG, SHEET, Occupied())
    assert placed is not None
    box = placed.box
    middle = (box.x + box.width / 2, box.y + box.height / 2)
    assert middle == pytest.approx(((line.x1 + line.x2) / 2, (line.y1 + line.y2) / 2))
    assert placed.text.content == "3·12"
    assert placed.text.upwards is (line is UPRIGHT)
    assert box.inset(-0.5).holds(text_box(placed.text))


def test_a_tag_gives_way_along_its_line() -> None:
    """What stands in the middle is passed by; the line itself is not in its way."""
    taken, band = Occupied(), line_band(LEVEL)
    taken.add(band)
    there = Box(85, 45, 30, 10)
    taken.add(there)
    placed = place_tag(LEVEL, ("3·12",), TAG, SHEET, taken, band)
    assert placed is not None
    assert not placed.box.overlaps(there)
    assert placed.box.overlaps(band)


def test_a_short_line_has_the_shorter_form_or_none() -> None:
    """Seven millimetres hold the cut alone, two hold nothing."""
    words = ("13·112", "112")
    short = place_tag(Line(0, 50, 8, 50, theme.WIDE), words, TAG, SHEET, Occupied())
    assert short is not None
    assert short.text.content == "112"
    assert place_tag(Line(0, 50, 2, 50, theme.WIDE), words, TAG, SHEET, Occupied()) is None


def test_a_ball_stands_on_the_edge_of_the_sheet() -> None:
    """At the right end of a level line, at the upper end of an upright one, upright itself."""
    for line, middle in ((LEVEL, (200, 50)), (UPRIGHT, (80, 0))):
        placed = place_tag(line, ("4",), BALL, SHEET, Occupied(), line_band(line))
        assert placed is not None
        box = placed.box
        assert (box.x + box.width / 2, box.y + box.height / 2) == pytest.approx(middle)
        assert box.width == box.height == BALL.least
        assert not placed.text.upwards


def test_a_ball_goes_to_the_other_end_or_inwards() -> None:
    """Where the first end is taken the second is; a line that ends inside has it near its end."""
    taken = Occupied()
    taken.add(Box(195, 45, 10, 10))
    placed = place_tag(LEVEL, ("4",), BALL, SHEET, taken)
    assert placed is not None
    assert placed.box.x + placed.box.width / 2 == pytest.approx(0)
    inner = place_tag(Line(50, 50, 150, 50, theme.WIDE), ("4",), BALL, SHEET, Occupied())
    assert inner is not None
    assert SHEET.holds(inner.box)
    assert 150 - inner.box.right == pytest.approx(1)


def test_a_ball_is_placed_in_any_case() -> None:
    """A cut without its number would be left out: with no room it stands at its first place."""
    taken = Occupied()
    taken.add(SHEET.inset(-20))
    placed = place_tag(LEVEL, ("4",), BALL, SHEET, taken)
    assert placed is not None
    assert placed.box.x + placed.box.width / 2 == pytest.approx(200)
    assert place_tag(LEVEL, ("4",), NAME, SHEET, taken) is None
