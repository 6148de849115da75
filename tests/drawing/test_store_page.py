"""The page to hand over the counter: every cut, distance and blank, legible, in the right order."""

from __future__ import annotations

from functools import cache

import pytest

from cutlist.drawing.groups import group_sheets
from cutlist.drawing.layout_page import layout_pages
from cutlist.drawing.metrics import text_box
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Box, Line, Page, Rect, Role
from cutlist.drawing.store_page import store_pages
from cutlist.drawing.story import read_story
from cutlist.lengths import format_length
from cutlist.model.plan import Place, Plan
from cutlist.planning.budget import Budget
from cutlist.planning.make import make_plan
from tests.drawing.checks import assert_legible, texts
from tests.drawing.plans import broken_down, market_stall
from tests.random_jobs import random_job, with_small_car

PAPERS = [pytest.param(A4, id="A4"), pytest.param(LETTER, id="Letter")]
#: Random jobs with small cars: inches and millimetres, one material and two.
JOBS = (0, 3, 9, 12)


@cache
def plan_of(number: int) -> Plan:
    """Return the plan of a random job with a small car."""
    job = with_small_car(random_job(number), number)
    return make_plan(job, seed=number, budget=Budget(seconds=None, steps=300))


def pages_of(plan: Plan, paper: Paper = A4) -> tuple[Page, ...]:
    """Compose the pages for the store."""
    return store_pages(read_story(plan), paper)


def said(pages: tuple[Page, ...]) -> str:
    """Return all lettering."""
    return " ".join(text.content for page in pages for text in texts(page))


def test_no_page_where_the_store_cuts_nothing() -> None:
    """A plan of whole sheets has none."""
    assert pages_of(market_stall()) == ()


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("number", JOBS)
def test_pages_are_legible(number: int, paper: Paper) -> None:
    """No text overlaps another or leaves the frame, at printed size."""
    pages = pages_of(plan_of(number), paper)
    assert pages
    for page in pages:
        assert_legible(page)


@pytest.mark.parametrize("number", JOBS)
def test_every_blank_and_distance_is_there(number: int) -> None:
    """What the store cuts is all there: each piece by name, each distance, the count of cuts."""
    plan = plan_of(number)
    words = said(pages_of(plan))
    story = read_story(plan)
    settings = [setting for setting in plan.settings if setting.place is Place.STORE]
    for setting in settings:
        assert format_length(setting.distance, plan.job.units) in words
    for workpiece in plan.workpieces:
        for blank in story.blanks(workpiece.piece):
            assert blank.name in words
    assert str(sum(len(setting.cuts) for setting in settings)) in words.split()[5:]


@pytest.mark.parametrize("number", JOBS)
def test_cuts_are_numbered_in_their_order(number: int) -> None:
    """On each sketch the numbers run from 1, one at each dashed line."""
    plan = plan_of(number)
    story = read_story(plan)
    pages = pages_of(plan)
    numbers = [text.content for page in pages for text in texts(page, Role.CUT_NUMBER)]
    lines = [
        item
        for page in pages
        for item in page.items
        if isinstance(item, Line) and item.role is Role.CUT_LINE
    ]
    assert len(numbers) == len(lines)
    assert all(line.dash_mm for line in lines)
    runs = {len(story.store_lines(workpiece.piece)) for workpiece in plan.workpieces} - {0}
    assert {int(words) for words in numbers} == set(range(1, max(runs) + 1))


@pytest.mark.parametrize("number", JOBS)
def test_names_stand_in_their_sheet(number: int) -> None:
    """The name of a blank lies within some sketch, and crosses no cut."""
    for page in pages_of(plan_of(number)):
        sheets = [
            item.box for item in page.items if isinstance(item, Rect) and item.role is Role.SHEET
        ]
        lines = [
            Box(min(i.x1, i.x2), min(i.y1, i.y2), abs(i.x2 - i.x1), abs(i.y2 - i.y1)).inset(-0.2)
            for i in page.items
            if isinstance(i, Line) and i.role is Role.CUT_LINE
        ]
        for text in texts(page, Role.PANEL_TEXT):
            box = text_box(text)
            assert any(sheet.holds(box) for sheet in sheets), text.content
            assert not any(box.overlaps(line) for line in lines), text.content


def test_layouts_mark_what_the_store_cuts() -> None:
    """On the layout of a sheet its store cuts are dashed, and its blanks named."""
    plan = broken_down()
    story = read_story(plan)
    groups = group_sheets(story)
    cut = next(group for group in groups if story.blanks(group.first.piece))
    (page, *_) = layout_pages(story, cut, len(groups), A4)
    lines = [i for i in page.items if isinstance(i, Line) and i.role is Role.CUT_LINE]
    dashed = [line for line in lines if line.dash_mm]
    assert len(dashed) == len(story.store_lines(cut.first.piece))
    assert len(dashed) < len(lines)
    key = " ".join(text.content for text in texts(page, Role.KEY))
    for blank in story.blanks(cut.first.piece):
        assert blank.name in key
