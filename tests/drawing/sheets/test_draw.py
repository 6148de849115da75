"""A sketch on paper: everything to scale, in its place, and what had no room is told."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.drawing import theme
from cutlist.drawing.metrics import text_box
from cutlist.drawing.primitives import Box, Fill, Hatch, Line, Rect, Role, Text
from cutlist.drawing.sheets.arrows import distance_arrows, grain_arrow
from cutlist.drawing.sheets.draw import Drawn, draw
from cutlist.drawing.sheets.looks import CLOSE_BY, FAR_OFF, SMALL, Look
from cutlist.drawing.sheets.sketch import CutMark, Label, Named, Shape, Sketch, Use
from cutlist.drawing.sheets.view import View
from cutlist.model.edges import Edge
from cutlist.model.plan import Piece

#: 2000 × 1000 mm at 1:10.
ROOM = Box(20, 30, 200, 100)
LOOKS = pytest.mark.parametrize("look", [CLOSE_BY, FAR_OFF, SMALL], ids=["close", "far", "small"])


def piece(name: str, x: int, y: int, length: int, width: int) -> Piece:
    """Give a piece at its place."""
    return Piece(name, Fraction(x), Fraction(y), Fraction(length), Fraction(width))


LEFT, LOWER, UPPER = (
    piece("A1", 0, 0, 1200, 1000),
    piece("A2", 1204, 0, 796, 600),
    piece("A3", 1204, 604, 796, 396),
)


def sketch(look: Look = CLOSE_BY) -> Sketch:
    """Describe a sheet of a panel, an offcut to keep and waste, with both its cuts."""
    return Sketch(
        Fraction(2000),
        Fraction(1000),
        look,
        shapes=(
            Shape(LEFT, Use.PANEL, Label("end", ("1200 × 1000 mm", "A1")), has_arrow=True),
            Shape(LOWER, Use.KEPT, Label("keep", ("796 × 600 mm", "A2"))),
            Shape(UPPER, Use.WASTE, Label("waste A3", is_bold=False)),
        ),
        cuts=(
            CutMark(False, Fraction(1202), Fraction(0), Fraction(1000), words=("1·1", "1")),
            CutMark(True, Fraction(602), Fraction(1204), Fraction(2000), words=("2·2", "2")),
        ),
        sides=("2000 mm", "1000 mm"),
    )


def drawn(one: Sketch, *, callout_room: float = 0.0) -> Drawn:
    """Draw a sketch at 1:10."""
    return draw(one, View(one.length, one.width, ROOM), callout_room=callout_room)


def of(found: Drawn, kind: type, role: Role) -> list[object]:
    """Give the items of a kind and role."""
    return [item for item in found.items if isinstance(item, kind) and item.role is role]


def ends(line: object) -> list[float]:
    """Give both ends of a line."""
    assert isinstance(line, Line)
    return [line.x1, line.y1, line.x2, line.y2]


@LOOKS
def test_pieces_and_cuts_are_to_scale(look: Look) -> None:
    """At 1:10, y upwards: the panel fills 120 × 100 mm, the waste lies at the upper right."""
    found = drawn(sketch(look))
    (panel,) = of(found, Rect, Role.PANEL)
    assert isinstance(panel, Rect)
    box = panel.box
    assert [box.x, box.y, box.width, box.height] == pytest.approx([20, 30, 120, 100])
    (waste,) = of(found, Hatch, Role.WASTE)
    assert isinstance(waste, Hatch)
    box = waste.box
    assert [box.x, box.y, box.width, box.height] == pytest.approx([140.4, 30, 79.6, 39.6])
    upright, level = of(found, Line, Role.CUT_LINE)
    assert isinstance(upright, Line)
    assert [upright.x1, upright.y1, upright.x2, upright.y2] == pytest.approx(
        [140.2, 30, 140.2, 130]
    )
    assert isinstance(level, Line)
    assert [level.x1, level.y1, level.x2, level.y2] == pytest.approx([140.4, 69.8, 220, 69.8])


@LOOKS
def test_the_outline_is_drawn_before_and_after_what_lies_on_it(look: Look) -> None:
    """White first, under all; its line again above the fills, below the numbers on its edge."""
    items = drawn(sketch(look)).items
    assert items[0] == Rect(ROOM, look.outline, Fill.WHITE, role=Role.SHEET)
    again = items.index(Rect(ROOM, look.outline))
    fills = [i for i, item in enumerate(items) if isinstance(item, Hatch)]
    words = [i for i, item in enumerate(items) if isinstance(item, Text)]
    assert max(fills) < again < min(words)


@LOOKS
def test_no_lettering_overlaps_other(look: Look) -> None:
    """Labels, numbers on lines, names and figures all keep apart."""
    one = replace(
        sketch(look),
        names=(Named(piece("A2-3", 1204, 0, 796, 1000), "A2+A3"),),
        edges=tuple((edge, Fraction(10)) for edge in Edge),
    )
    boxes = [text_box(item) for item in drawn(one).items if isinstance(item, Text)]
    assert len(boxes) > 6
    assert not any(a.overlaps(b, 0.05) for i, a in enumerate(boxes) for b in boxes[i + 1 :])


def test_everything_said_is_there() -> None:
    """Each label, each number, each figure once; an arrow along the panel's length."""
    found = drawn(sketch())
    said = [item.content for item in found.items if isinstance(item, Text)]
    for words in ("end", "A1", "keep", "waste A3", "1·1", "2·2", "2000 mm", "1000 mm"):
        assert said.count(words) == 1, words
    assert found.has_arrows
    assert not found.numbered
    assert not found.unlettered
    assert not found.tags_homeless


def test_equal_edges_make_a_frame_and_single_ones_a_line() -> None:
    """20 mm off every edge is a chain-dotted frame 2 mm inside; off one edge a line there."""
    every = drawn(replace(sketch(), edges=tuple((edge, Fraction(20)) for edge in Edge)))
    (frame,) = (i for i in every.items if isinstance(i, Rect) and i.dash_mm == theme.CHAIN)
    assert frame.box == ROOM.inset(2)
    one = drawn(replace(sketch(), edges=((Edge.UPPER, Fraction(20)),)))
    (line,) = (i for i in one.items if isinstance(i, Line) and i.dash_mm == theme.CHAIN)
    assert [line.y1, line.y2] == pytest.approx([32, 32])


def test_a_thin_trim_is_drawn_to_be_seen() -> None:
    """A millimetre would be 0.1 mm on paper: the line stands off the outline all the same."""
    found = drawn(replace(sketch(), edges=((Edge.LEFT, Fraction(1)),)))
    (line,) = (i for i in found.items if isinstance(i, Line) and i.dash_mm == theme.CHAIN)
    assert line.x1 - ROOM.x == pytest.approx(CLOSE_BY.edge_inset)


def test_lettering_keeps_clear_of_an_edge_to_clean() -> None:
    """A name that would reach the chain line along the edge stands beside it, smaller."""
    shape = Shape(piece("A", 0, 0, 2000, 1000), Use.BLANK, Label("rack 1"))
    one = Sketch(Fraction(2000), Fraction(1000), CLOSE_BY, (shape,))
    small = Box(0, 0, 16, 8)
    edges = ((Edge.LEFT, Fraction(400)), (Edge.RIGHT, Fraction(400)))
    free = draw(one, View(one.length, one.width, small))
    bound = draw(replace(one, edges=edges), View(one.length, one.width, small))
    (before,) = (i for i in free.items if isinstance(i, Text))
    after = [i for i in bound.items if isinstance(i, Text)]
    assert all(Box(3.2, 0, 9.6, 8).holds(text_box(text)) for text in after)
    assert all(text.size_pt < before.size_pt for text in after)


def tiny(count: int) -> Sketch:
    """Describe slips of 15 × 15 mm beside each other: at 1:10 not even a number fits on them."""
    slips = tuple(
        Shape(
            piece(f"A{number}", 19 * number, 0, 15, 15),
            Use.PANEL,
            Label("slip", ("15 × 15 mm", f"A{number}"), "slip, 15 × 15 mm", f"A{number}"),
        )
        for number in range(count)
    )
    return replace(sketch(), shapes=slips, cuts=())


def test_what_has_no_room_is_numbered() -> None:
    """One number for all pieces of a subject; they are told by their places in the sketch."""
    found = drawn(tiny(5), callout_room=6.0)
    assert found.numbered == (("#1", (0, 1, 2, 3, 4)),)
    assert found.pointers == 5
    assert found.unplaced == 0
    said = [item.content for item in found.items if isinstance(item, Text)]
    assert "#1 ×5" in said


def test_a_leader_needs_room_beside_the_sheet() -> None:
    """Without the room nothing is drawn there, and the drawing tells that it is needed."""
    found = drawn(tiny(5))
    assert found.pointers == 5
    assert not of(found, Text, Role.CALLOUT)


def test_a_label_without_a_subject_is_told_to_be_missing() -> None:
    """The page has to say it elsewhere: a name that does not fit, and a size left out."""
    tight = piece("A1", 0, 0, 30, 20)
    narrow = piece("A2", 100, 0, 120, 60)
    size = ("120 × 60 mm",)
    shapes = (
        Shape(tight, Use.BLANK, Label("A1", size, may_shorten=True, size_pt=9.5)),
        Shape(narrow, Use.BLANK, Label("A2", size, may_shorten=True, size_pt=9.5)),
    )
    found = drawn(replace(sketch(FAR_OFF), shapes=shapes, cuts=()))
    assert found.unlettered == (0,)
    assert found.shortened == (1,)


def test_a_distance_is_drawn_across_what_it_measures() -> None:
    """An arrow over the whole piece, level for a crosscut, upright for a rip, its words on it."""
    cuts = (
        CutMark(False, Fraction(1202), Fraction(0), Fraction(1000), measured=(LEFT, "1200 mm")),
        CutMark(True, Fraction(602), Fraction(1204), Fraction(2000), measured=(LOWER, "600 mm")),
    )
    found = drawn(replace(sketch(FAR_OFF), cuts=cuts, shapes=()))
    arrows = [
        i for i in found.items if isinstance(i, Line) and i.arrow_end and ROOM.holds(
            Box(min(i.x1, i.x2), min(i.y1, i.y2), abs(i.x2 - i.x1), abs(i.y2 - i.y1)), 1e-6
        )
    ]  # fmt: skip
    spans = sorted((abs(i.x2 - i.x1), abs(i.y2 - i.y1)) for i in arrows)
    assert spans == [pytest.approx((0, 60)), pytest.approx((120, 0))]
    words = of(found, Text, Role.DISTANCE)
    assert {text.content for text in words if isinstance(text, Text)} == {"1200 mm", "600 mm"}


def test_what_bears_on_the_fence_has_a_bar_outside() -> None:
    """A heavy bar along the edge, clear of the outline."""
    found = drawn(replace(sketch(), bar=Edge.LOWER))
    (bar,) = (i for i in found.items if isinstance(i, Line) and i.width_mm == 1.0)
    assert [bar.x1, bar.x2] == pytest.approx([ROOM.x, ROOM.right])
    assert bar.y1 == bar.y2
    assert bar.y1 - bar.width_mm / 2 > ROOM.bottom


@pytest.mark.parametrize(("size", "is_drawn"), [((60, 40), True), ((60, 3), True), ((5, 5), False)])
def test_the_grain_arrow_leaves_room_for_the_label(
    size: tuple[float, float], is_drawn: bool
) -> None:
    """The arrow is level, inside the panel and outside the room left for lettering."""
    box = Box(0, 0, *size)
    found = grain_arrow(box)
    assert (found is not None) is is_drawn
    if found is not None:
        line, room = found
        assert line.y1 == line.y2
        assert box.holds(Box(line.x1, line.y1, line.x2 - line.x1, 0))
        assert box.holds(room)
        assert not room.overlaps(Box(line.x1, line.y1 - 0.1, line.x2 - line.x1, 0.2))


@pytest.mark.parametrize("upwards", [False, True])
def test_an_arrow_has_a_place_in_the_thinnest_piece(upwards: bool) -> None:
    """However little room there is, one place is given, inside the piece."""
    box = Box(0, 0, 2, 80) if upwards else Box(0, 0, 80, 2)
    places = list(distance_arrows(box, "80 mm", upwards=upwards))
    assert places
    for line, _ in places:
        assert box.holds(Box(line.x1, line.y2, line.x2 - line.x1, line.y1 - line.y2))
