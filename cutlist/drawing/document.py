"""The whole document: summary, store trip, layouts, cut sequence."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.drawing.frame import add_footers
from cutlist.drawing.groups import group_sheets
from cutlist.drawing.layout_page import layout_pages
from cutlist.drawing.sequence_pages import sequence_pages
from cutlist.drawing.shopping_page import shopping_pages
from cutlist.drawing.story import read_story
from cutlist.drawing.summary import summary_pages

if TYPE_CHECKING:
    import datetime

    from cutlist.drawing.paper import Paper
    from cutlist.drawing.primitives import Page
    from cutlist.model.plan import Plan

__all__ = ["compose"]


def compose(plan: Plan, *, paper: Paper, date: datetime.date) -> tuple[Page, ...]:
    """Compose every page of a plan's document, footers included."""
    story = read_story(plan)
    groups = group_sheets(story)
    pages = [*summary_pages(story, paper), *shopping_pages(story, paper)]
    for group in groups:
        pages.extend(layout_pages(story, group, len(groups), paper))
    pages.extend(sequence_pages(story, paper))
    return add_footers(pages, plan.job, date=date)
