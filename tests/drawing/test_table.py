from __future__ import annotations

import pytest

from cutlist.drawing.frame import Flow
from cutlist.drawing.metrics import text_box
from cutlist.drawing.paper import A4
from cutlist.drawing.primitives import Text
from cutlist.drawing.table import Column, add_table, column_widths

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
