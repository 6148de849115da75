"""Bars beside each other."""

from __future__ import annotations

import pytest

from cutlist.drawing.frame import Flow
from cutlist.drawing.pages.bars import BarColumn, add_bars
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Fill, Rect
from tests.drawing.checks import assert_legible, texts

COLUMNS = (
    BarColumn("cost", (50.0, 100.0, 25.0), ("50.00", "100.00", "25.00")),
    BarColumn("weight", (10.0, None, 10.0), ("10 kg", "", "10 kg")),
    BarColumn("waste", (0.0, 3.0, 4.0), ("0.0 %", "3.0 %", "4.0 %")),
)


def test_bars_are_to_scale_and_the_least_is_filled() -> None:
    """Each column has its own scale; a row without the figure, or with none of it, has no bar."""
    flow = Flow(A4, "Bars")
    add_bars(flow, ["one", "two", "three"], COLUMNS)
    (page,) = flow.finish()
    bars = [item for item in page.items if isinstance(item, Rect)]
    cost = bars[0], bars[2], bars[4]
    assert [bar.box.width / cost[0].box.width for bar in cost] == pytest.approx([1, 2, 0.5])
    assert [bar.fill is Fill.BLACK for bar in cost] == [False, False, True]
    assert len(bars) == 3 + 2 + 2
    assert len({bar.box.x for bar in cost}) == 1
    assert "0.0 %" in [text.content for text in texts(page)]
    assert_legible(page)


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
def test_many_rows_run_on_under_repeated_heads(paper: Paper) -> None:
    """Every page has the heads and keeps its frame, long labels included."""
    flow = Flow(paper, "Bars")
    count = 60
    columns = [
        BarColumn(head, tuple(float(n) for n in range(count)), tuple(map(str, range(count))))
        for head in ("cost", "set-ups")
    ]
    labels = [f"{n} a way with a rather long name that takes two lines" for n in range(count)]
    add_bars(flow, labels, columns)
    pages = flow.finish()
    assert len(pages) > 1
    for page in pages:
        assert_legible(page)
        assert [text.content for text in texts(page)].count("set-ups") == 1
