"""Layouts drawn small."""

from __future__ import annotations

import pytest

from cutlist.drawing.frame import Flow, content_box
from cutlist.drawing.pages.small_layouts import add_layouts
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Line, Rect, Role
from cutlist.model.plan import Place
from tests.drawing.checks import assert_legible, texts
from tests.drawing.plans import all_plans, broken_down, market_stall

PLANS = all_plans()


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
@pytest.mark.parametrize("name", PLANS)
def test_drawings_keep_to_the_page(name: str, paper: Paper) -> None:
    """Of any plan: lettering legible, every sheet inside the frame, panels inside a sheet."""
    flow = Flow(paper, "Layouts")
    add_layouts(flow, [("1   one way", PLANS[name]), ("2   the same again", PLANS[name])])
    pages = flow.finish()
    assert pages
    for page in pages:
        assert_legible(page)
        frame = content_box(page.width_mm, page.height_mm)
        rects = [item for item in page.items if isinstance(item, Rect)]
        sheets = [rect.box for rect in rects if rect.role is Role.SHEET]
        assert sheets
        assert all(frame.holds(box, 0.01) for box in sheets)
        for rect in rects:
            if rect.role is Role.PANEL:
                assert any(box.holds(rect.box, 0.01) for box in sheets)


def test_sheets_are_at_one_scale() -> None:
    """The sides of all sheets drawn have the proportions of the sheets."""
    plan = market_stall()
    flow = Flow(A4, "Layouts")
    add_layouts(flow, [("1", plan)])
    (page,) = flow.finish()
    drawn = {
        (round(item.box.width, 3), round(item.box.height, 3))
        for item in page.items
        if isinstance(item, Rect) and item.role is Role.SHEET
    }
    scale = max(width for width, _ in drawn) / max(float(w.length) for w in plan.workpieces)
    asked = {
        (round(float(w.length) * scale, 3), round(float(w.width) * scale, 3))
        for w in plan.workpieces
    }
    assert drawn == asked


def test_cuts_of_the_store_are_drawn() -> None:
    """A dashed line for each, and no other cut line."""
    plan = broken_down()
    at_store = [one for one in plan.settings if one.place is Place.STORE]
    flow = Flow(A4, "Layouts")
    add_layouts(flow, [("1", plan)])
    (page,) = flow.finish()
    lines = [i for i in page.items if isinstance(i, Line) and i.role is Role.CUT_LINE]
    assert 0 < len(lines) <= sum(len(setting.cuts) for setting in at_store)
    assert all(line.dash_mm for line in lines)


def test_sheets_cut_alike_are_counted() -> None:
    """One drawing for all sheets of a layout, with their number."""
    flow = Flow(A4, "Layouts")
    add_layouts(flow, [("1", PLANS["many_alike"])])
    said = [text.content for page in flow.finish() for text in texts(page)]
    assert any(words.startswith(f"{len(PLANS['many_alike'].workpieces)} × ") for words in said)
