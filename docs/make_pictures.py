"""Make the pictures of the README: one layout page and one page of the cut sequence.

Usage: ``python docs/make_pictures.py`` from the project's folder, with ``pdftoppm`` (poppler) on
the path. The plan is searched for by a fixed number of steps, so that the pictures change only when
the program does.
"""

from __future__ import annotations

import datetime
import subprocess
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import cutlist
from cutlist.drawing.document import compose
from cutlist.drawing.paper import usual_paper
from cutlist.drawing.pdf import write_pages
from cutlist.drawing.primitives import Role

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.primitives import Page

DOCS = Path(__file__).parent
SAMPLE = DOCS.parent / "sample_projects" / "market-stall-counter.yaml"
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


def main() -> None:
    """Plan the sample and make both pictures."""
    job = cutlist.read_job(SAMPLE)
    plan = cutlist.plan(job, seconds=None, steps=STEPS)
    pages = compose(plan, paper=usual_paper(job.units), date=DAY)
    for role, name in ((Role.PANEL, "layout-page.png"), (Role.TICK, "sequence-page.png")):
        target = DOCS / name
        make_picture(fullest_page(pages, role), target)
        print(f"{target.relative_to(DOCS.parent)}: {target.stat().st_size} bytes")


if __name__ == "__main__":
    main()
