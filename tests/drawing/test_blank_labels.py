"""Names and sizes in the blanks of a sketch for the store."""

from __future__ import annotations

import pytest

from cutlist.drawing.metrics import text_box
from cutlist.drawing.occupied import Occupied
from cutlist.drawing.primitives import Box
from cutlist.drawing.sheets.blank_labels import letter_blank

SIZE = "1000 × 1253 mm"


@pytest.mark.parametrize(
    "box",
    [
        Box(0, 0, 90, 60),
        Box(10, 10, 90, 8),
        Box(10, 10, 8, 90),
        Box(0, 0, 25, 25),
        Box(0, 0, 22, 40),
    ],
)
def test_name_and_size_stand_inside(box: Box) -> None:
    """Both fit, apart from each other, in tall, low, narrow and small blanks."""
    lettered = letter_blank(box, "A2", SIZE, taken=Occupied(), fixed=Occupied())
    assert lettered is not None
    assert lettered.has_size
    assert not lettered.on_arrow
    assert " ".join(text.content for text in lettered.texts) == f"A2 {SIZE}"
    boxes = [text_box(text) for text in lettered.texts]
    assert all(box.holds(one) for one in boxes)
    assert not any(a.overlaps(b) for a in boxes for b in boxes if a is not b)


def test_the_name_is_as_large_as_it_can_be() -> None:
    """In a large blank it is read from some steps away."""
    lettered = letter_blank(Box(0, 0, 90, 60), "A2", SIZE, taken=Occupied(), fixed=Occupied())
    assert lettered is not None
    assert lettered.texts[0].size_pt == 26.0


def test_a_name_may_lie_upon_an_arrow_but_not_upon_a_distance() -> None:
    """A low strip whose whole length an arrow takes: the name covers it beside the figures."""
    box = Box(0, 0, 60, 6)
    taken, fixed = Occupied(), Occupied()
    taken.add(Box(0, 2.5, 60, 1.0))
    figures = Box(22, 1, 16, 4)
    for places in (taken, fixed):
        places.add(figures)
    lettered = letter_blank(box, "B7", SIZE, taken=taken, fixed=fixed)
    assert lettered is not None
    assert lettered.on_arrow
    assert all(not text_box(text).overlaps(figures) for text in lettered.texts)


def test_no_room_is_told() -> None:
    """Where not even the least name fits there is none."""
    assert letter_blank(Box(0, 0, 3, 2), "A2", SIZE, taken=Occupied(), fixed=Occupied()) is None
