"""Make the pictures of the README: a page for the store's saw, a layout, the cut sequence.

Usage: ``python docs/make_pictures.py`` from the project's folder, with ``pdftoppm`` (poppler) on
the path. The plans are searched for by a fixed number of steps, so that the pictures change only
when the program does.
"""

from __future__ import annotations

import datetime
import subprocess
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import cutlist
from cutlist.drawing.pages.document import compose
from cutlist.drawing.paper import usual_paper
from cutlist.drawing.pdf import write_pages
from cutlist.drawing.primitives import Role

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.primitives import Page

DOCS = Path(__file__).parent
SAMPLES = DOCS.parent / "sample_projects"
SAMPLE = SAMPLES / "market-stall-counter.yaml"
STORE_SAMPLE = SAMPLES / "entry-bench.yaml"
STEPS = 200_000
DAY = datetime.date(2026, 1, 2)
DOTS_PER_INCH = 110


def fullest_page(pages: Sequence[Page], role: Role) -> Page:
    """Give the page with most items of a role, the first of equals."""
    return max(pages, key=lambda page: sum(item.role is role for item in page.items))


def make_picture(page: Page, target: Path) -> None:
    """Write a page as PNG."""
    with tempfile.TemporaryDirectory() as folder:
        pdf = Path(folder) / "page.pdf"
        with pdf.open("wb") as stream:
            write_pages([page], stream, title=target.stem)
        command = ["pdftoppm", "-r", str(DOTS_PER_INCH), "-png", "-gray", "-singlefile"]
        subprocess.run([*command, str(pdf), str(target.with_suffix(""))], check=True)


def pages_of(sample: Path) -> tuple[Page, ...]:
    """Plan a sample and compose its document."""
    job = cutlist.read_job(sample)
    plan = cutlist.plan(job, seconds=None, steps=STEPS)
    return compose(plan, paper=usual_paper(job.units), date=DAY)


def main() -> None:
    """Plan the samples and make the pictures."""
    pages = pages_of(SAMPLE)
    for_store = [
        page
        for page in pages_of(STORE_SAMPLE)
        if any(item.role is Role.SHEET for item in page.items)
    ]
    for page, name in (
        (fullest_page(for_store, Role.CUT_NUMBER), "store-page.png"),
        (fullest_page(pages, Role.PANEL), "layout-page.png"),
        (fullest_page(pages, Role.TICK), "sequence-page.png"),
    ):
        target = DOCS / name
        make_picture(page, target)
        print(f"{target.relative_to(DOCS.parent)}: {target.stat().st_size} bytes")


if __name__ == "__main__":
    main()
