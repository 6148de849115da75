from __future__ import annotations

import datetime
import io
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader

from cutlist.drawing.pages.document import compose, record, write_pdf
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Role, Text
from cutlist.model.plan import Plan
from tests.drawing.plans import all_plans, many_cuts, market_stall

DAY = datetime.date(2026, 3, 1)


def bytes_of(plan: Plan, paper: Paper, day: datetime.date = DAY) -> bytes:
    """Write a plan as PDF into memory."""
    stream = io.BytesIO()
    write_pdf(plan, stream, paper=paper, date=day)
    return stream.getvalue()


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(all_plans()))
def test_pages_have_the_size_of_their_paper(name: str) -> None:
    """Upright or lying, a page measures what ISO 216 and ASME Y14.1 say; 1 pt is 1/72 in."""
    plan = all_plans()[name]
    # A4: 210 × 297 mm; Letter: 8.5 × 11 in = 612 × 792 pt.
    for paper, sides in ((A4, (210 / 25.4 * 72, 297 / 25.4 * 72)), (LETTER, (612.0, 792.0))):
        reader = PdfReader(io.BytesIO(bytes_of(plan, paper)))
        assert len(reader.pages) == len(compose(plan, paper=paper, date=DAY))
        for page in reader.pages:
            found = sorted((float(page.mediabox.width), float(page.mediabox.height)))
            assert found == pytest.approx(sides, abs=0.01)


@pytest.mark.slow
def test_the_same_plan_gives_the_same_bytes(tmp_path: Path) -> None:
    """Same plan and date, same bytes: again here, to a path, and in another process."""
    plan = market_stall()
    first = bytes_of(plan, A4)
    assert bytes_of(plan, A4) == first
    path = tmp_path / "plan.pdf"
    write_pdf(plan, path, paper=A4, date=DAY)
    assert path.read_bytes() == first
    code = (
        "import datetime, pathlib, sys;"
        "from cutlist.drawing.pages.document import write_pdf;"
        "from cutlist.drawing.paper import A4;"
        "from tests.drawing.plans import market_stall;"
        "write_pdf(market_stall(), pathlib.Path(sys.argv[1]), paper=A4,"
        " date=datetime.date(2026, 3, 1))"
    )
    other = tmp_path / "other.pdf"
    subprocess.run(
        [sys.executable, "-c", code, str(other)], check=True, cwd=Path(__file__).parents[2]
    )
    assert other.read_bytes() == first


def test_another_date_is_printed() -> None:
    """The date is what was given, not what the clock says."""
    later = bytes_of(market_stall(), A4, datetime.date(2027, 12, 31))
    assert later != bytes_of(market_stall(), A4)
    assert "2027-12-31" in PdfReader(io.BytesIO(later)).pages[0].extract_text()


def test_lettering_can_be_read_back() -> None:
    """A general PDF reader finds names, sizes and fractions as they are written."""
    reader = PdfReader(io.BytesIO(bytes_of(market_stall(), LETTER)))
    pages = [page.extract_text() for page in reader.pages]
    for number, words in enumerate(pages, 1):
        assert f"page {number} of {len(pages)}" in words
        assert "Market-stall counter" in words
        assert "all sizes in inches" in words
    assert '34 1/2" × 23 1/4"' in pages[2]
    sequence = "\n".join(pages[5:])
    assert "finished: end (1 of 6)" in sequence
    assert reader.metadata is not None
    assert reader.metadata.title == "Market-stall counter"


def test_the_faces_are_embedded() -> None:
    """No page leans on a font that the reader's machine may not have."""
    reader = PdfReader(io.BytesIO(bytes_of(market_stall(), A4)))
    for page in reader.pages:
        fonts = page["/Resources"]["/Font"]  # type: ignore[index]
        for font in fonts.values():
            assert "/FontFile2" in font.get_object()["/FontDescriptor"].get_object()


def test_every_page_has_its_footer() -> None:
    """Job, page of pages, date and units stand on every page."""
    recording = record(market_stall(), paper=A4, date=DAY)
    count = len(recording.pages)
    footers = recording.of_kind(Text, Role.FOOTER)
    assert len(footers) == 2 * count
    tails = [text.content for text in footers if "page" in text.content]
    expected = [f"2026-03-01   ·   page {n} of {count}" for n in range(1, count + 1)]
    assert [tail.split("inches   ·   ")[1] for tail in tails] == expected
    assert "What to buy" in recording.lettering()


def test_pages_come_in_their_order() -> None:
    """Summary, shopping list, then a page for each distinct layout, then the sequence."""
    recording = record(market_stall(), paper=A4, date=DAY)
    titles = [
        next(i.content for i in page.items if isinstance(i, Text)) for page in recording.pages
    ]
    assert titles[:6] == [
        "Cutting plan",
        "Shopping list",
        "Sheets A, B, C",
        "Offcut D",
        "Sheet E",
        "Cut sequence",
    ]
    assert set(titles[6:]) == {"Cut sequence, continued"}


@pytest.mark.slow
def test_the_work_grows_with_the_plan_and_no_faster() -> None:
    """Ten times the cuts make about ten times the sequence, counted in items and not in time."""
    small = record(many_cuts(2), paper=A4, date=DAY)
    large = record(many_cuts(20), paper=A4, date=DAY)
    few, many = (len(one.of_kind(Text, Role.CUT_NUMBER)) for one in (small, large))
    assert many == 10 * few
    items = [sum(len(page.items) for page in one.pages) for one in (small, large)]
    assert items[1] < 11 * items[0]
