"""Whole documents: summary, store trip, layouts and cut sequence of a plan; a rack."""

from __future__ import annotations

import io
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

from cutlist.drawing.frame import add_footers
from cutlist.drawing.pages.layout_page import layout_pages
from cutlist.drawing.pages.rack_page import rack_pages
from cutlist.drawing.pages.sequence_pages import sequence_pages
from cutlist.drawing.pages.shopping_page import shopping_pages
from cutlist.drawing.pages.summary import summary_pages
from cutlist.drawing.pdf import write_pages
from cutlist.drawing.recording import Recording
from cutlist.ledger.alike import group_sheets
from cutlist.ledger.ledger import read_ledger

if TYPE_CHECKING:
    import datetime

    from cutlist.drawing.paper import Paper
    from cutlist.drawing.primitives import Page
    from cutlist.model.plan import Plan
    from cutlist.model.rack import Rack

__all__ = ["compose", "record", "write_pdf", "write_rack"]


def compose(plan: Plan, *, paper: Paper, date: datetime.date) -> tuple[Page, ...]:
    """Compose every page of a plan's document, footers included."""
    ledger = read_ledger(plan)
    groups = group_sheets(ledger)
    pages = [*summary_pages(ledger, paper), *shopping_pages(ledger, paper)]
    for group in groups:
        pages.extend(layout_pages(ledger, group, len(groups), paper))
    pages.extend(sequence_pages(ledger, paper))
    return add_footers(pages, plan.job, date=date)


def record(plan: Plan, *, paper: Paper, date: datetime.date) -> Recording:
    """Compose the document of a plan and keep its pages."""
    return Recording(compose(plan, paper=paper, date=date))


def write_pdf(plan: Plan, target: BinaryIO | Path, *, paper: Paper, date: datetime.date) -> None:
    """Write the whole document of a plan.

    The same plan, paper and date give the same bytes.

    Parameters
    ----------
    target
        A file to create or replace, or an open binary stream.
    date
        Printed on every page; nothing else in the file tells the time.
    """
    pages = compose(plan, paper=paper, date=date)
    buffer = io.BytesIO()
    write_pages(pages, buffer, title=plan.job.name)
    if isinstance(target, Path):
        target.write_bytes(buffer.getvalue())
    else:
        target.write(buffer.getvalue())


def write_rack(rack: Rack, target: BinaryIO, *, paper: Paper, date: datetime.date) -> None:
    """Write the pages of an offcut rack."""
    write_pages(rack_pages(rack, paper=paper, date=date), target, title="Offcut rack")
