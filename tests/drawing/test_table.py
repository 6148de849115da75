from __future__ import annotations

import pytest

from cutlist.drawing.frame import Flow
from cutlist.drawing.metrics import text_box, text_width
from cutlist.drawing.pages.table import Column, add_table, column_widths, table_height
from cutlist.drawing.paper import A4
from cutlist.drawing.primitives import Rect, Role, Text

COLUMNS = (Column("count", right=True), Column("part", flexible=True), Column("size"))


@pytest.mark.parametrize("name", ["end", "a name that goes on and on " * 8, "x" * 90])
def test_columns_fill_the_width(name: str) -> None:
    """However long the cells, the columns and their gutters share the width."""
    widths = column_widths(COLUMNS, [("1", name, "600 × 400 mm")], 180, 8)
    assert sum(widths) == pytest.approx(180 - 2 * 4)
    assert min(widths) > 5


def test_a_long_table_repeats_its_head() -> None:
    """Every page that a table runs over has the head, every row stands once."""
    flow = Flow(A4, "Cutting plan")
    rows = [(str(number), f"part {number}", "600 × 400 mm") for number in range(150)]
    add_table(flow, COLUMNS, rows, title="Parts")
    pages = flow.finish()
    assert len(pages) > 1
    said = [[i.content for i in page.items if isinstance(i, Text)] for page in pages]
    assert all("size" in words for words in said)
    everything = [word for words in said for word in words]
    assert all(everything.count(f"part {number}") == 1 for number in range(150))
    for page in pages:
        for item in page.items:
            if isinstance(item, Text):
                assert text_box(item).right <= page.width_mm - 11.9


@pytest.mark.parametrize("size", [9.5, 12.0])
def test_each_word_of_a_cell_has_a_box_to_tick(size: float) -> None:
    """Boxes stand before their words, none overlaps another word, and many go on more lines."""
    columns = (Column("done", bold=True, flexible=True, ticks=True), Column("size"))
    words = [f"A{number}" for number in range(1, 31)]
    flow = Flow(A4, "Pieces")
    add_table(flow, columns, [(" ".join(words), "600 × 400 mm")], title="Pieces", size_pt=size)
    (page,) = flow.finish()
    boxes = [i.box for i in page.items if isinstance(i, Rect) and i.role is Role.TICK]
    named = [i for i in page.items if isinstance(i, Text) and i.content in words]
    assert len(boxes) == len(named) == 30
    assert len({text.y for text in named}) > 1
    for box, text in zip(boxes, named, strict=True):
        assert box.right < text_box(text).x < box.right + 2
        assert not any(box.overlaps(text_box(other)) for other in named)
        assert not any(box is not other and box.overlaps(other) for other in boxes)


def test_one_box_may_stand_for_many() -> None:
    """Words that a no-break space joins have one box; an empty cell has none."""
    columns = (Column("done", ticks=True), Column("size"))
    flow = Flow(A4, "Pieces")
    rows = [("12\u00a0×\u00a0A1 B1", "600 × 400 mm"), ("", "300 × 200 mm")]
    add_table(flow, columns, rows, title="Pieces")
    (page,) = flow.finish()
    boxes = [i.box for i in page.items if isinstance(i, Rect) and i.role is Role.TICK]
    assert len(boxes) == 2


def test_the_height_of_a_table_is_known_before() -> None:
    """What is reckoned is what it takes on the page."""
    flow = Flow(A4, "Cutting plan")
    flow.add([], 0.0)
    rows = [(str(number), f"part {number} " * 20, "600 × 400 mm") for number in range(5)]
    before = flow.left_over
    add_table(flow, COLUMNS, rows, title="Parts", gap=0.0)
    assert before - flow.left_over == pytest.approx(table_height(COLUMNS, rows, flow.room.width))


def test_a_long_word_is_not_broken_while_there_is_room() -> None:
    """A flexible column is as wide as its longest word, within reason."""
    columns = (Column("sheet", bold=True, flexible=True), Column("note", flexible=True))
    rows = [("melamine-faced board", "a remark that goes on and on " * 20)]
    first, _ = column_widths(columns, rows, 180, 12)
    assert first >= text_width("melamine-faced", 12, True)
