from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import box as shape
from shapely.ops import unary_union

from cutlist.drawing.occupied import Occupied, neighbourhoods
from cutlist.drawing.primitives import Box

BOXES = st.builds(
    Box, st.integers(0, 60), st.integers(0, 60), st.integers(1, 25), st.integers(1, 25)
)


@given(st.lists(BOXES, max_size=12), BOXES)
def test_a_place_is_free_if_nothing_lies_on_it(taken: list[Box], asked: Box) -> None:
    """The grid gives the same answer as looking at every box."""
    occupied = Occupied()
    for one in taken:
        occupied.add(one)
    assert occupied.is_free(asked) is not any(asked.overlaps(one) for one in taken)


def test_the_box_to_ignore_takes_no_place() -> None:
    """A tag may lie on its own line."""
    occupied = Occupied()
    line = Box(0, 5, 50, 0.6)
    occupied.add(line)
    assert occupied.is_free(Box(10, 4, 5, 2), ignoring=line)
    assert not occupied.is_free(Box(10, 4, 5, 2))


@given(st.lists(BOXES, min_size=1, max_size=12))
def test_neighbourhoods_are_the_connected_regions(boxes: list[Box]) -> None:
    """As many groups as a general geometry library finds regions in the union, grown a little."""
    groups = neighbourhoods([("#1", one) for one in boxes], 0.5)
    grown = unary_union(
        [shape(b.x - 0.25, b.y - 0.25, b.right + 0.25, b.bottom + 0.25) for b in boxes]
    )
    regions = 1 if grown.geom_type == "Polygon" else len(grown.geoms)
    assert len(groups) == regions
    assert sorted(id(box) for group in groups for _, box in group) == sorted(map(id, boxes))


def test_marks_are_not_mixed() -> None:
    """Neighbours of different marks stay apart."""
    box = Box(0, 0, 5, 5)
    assert len(neighbourhoods([("#1", box), ("#2", box)], 0.5)) == 2
