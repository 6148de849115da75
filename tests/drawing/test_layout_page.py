from __future__ import annotations

from collections import Counter

import pytest

from cutlist.drawing import theme
from cutlist.drawing.fitting import wrap
from cutlist.drawing.metrics import text_box, text_width
from cutlist.drawing.pages.layout_page import layout_pages
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Box, Fill, Hatch, Line, Page, Rect, Role
from cutlist.ledger.alike import group_sheets
from cutlist.ledger.ledger import read_ledger
from cutlist.model.plan import Plan
from tests.drawing.checks import assert_legible, texts
from tests.drawing.extras import with_loads
from tests.drawing.plans import (
    all_plans,
    european,
    long_names,
    many_alike,
    market_stall,
    tiny_parts,
    uncut,
)

PAPERS = [pytest.param(A4, id="A4"), pytest.param(LETTER, id="Letter")]
NAMES = sorted(all_plans())


def pages_of(plan: Plan, paper: Paper) -> list[list[Page]]:
    """Compose the pages of each layout of a plan."""
    ledger = read_ledger(plan)
    groups = group_sheets(ledger)
    assert groups
    return [list(layout_pages(ledger, group, len(groups), paper)) for group in groups]


def outline(page: Page) -> Box:
    """Give the sheet on a page."""
    (sheet,) = [i.box for i in page.items if isinstance(i, Rect) and i.role is Role.SHEET]
    return sheet


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_lettering_of_a_panel_stays_in_a_panel(name: str, paper: Paper) -> None:
    """The name of a panel or offcut never crosses a cut line."""
    for pages in pages_of(all_plans()[name], paper):
        page = pages[0]
        lines = [i for i in page.items if isinstance(i, Line) and i.role is Role.CUT_LINE]
        ways = [
            Box(
                min(line.x1, line.x2),
                min(line.y1, line.y2),
                abs(line.x2 - line.x1),
                abs(line.y2 - line.y1),
            ).inset(-0.01)
            for line in lines
        ]
        crossed = [
            text.content
            for text in texts(page, Role.PANEL_TEXT)
            if any(text_box(text).overlaps(way, 0.02) for way in ways)
        ]
        assert crossed == []


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_the_ratio_printed_is_the_one_drawn(paper: Paper) -> None:
    """The outline on paper times the ratio printed is the sheet."""
    plans = all_plans().values()
    assert plans
    for plan in plans:
        unit = 25.4 if plan.job.units.value == "in" else 1.0
        ledger = read_ledger(plan)
        for group, pages in zip(group_sheets(ledger), pages_of(plan, paper), strict=True):
            (scale,) = texts(pages[0], Role.SCALE)
            ratio = int(scale.content.removeprefix("SCALE 1:"))
            box = outline(pages[0])
            assert box.width * ratio == pytest.approx(float(group.first.length) * unit)
            assert box.height * ratio == pytest.approx(float(group.first.width) * unit)


def test_every_panel_is_named() -> None:
    """Each panel of a sheet has its own lettering with name and size."""
    pages = pages_of(market_stall(), A4)[1]
    said = [text.content for text in texts(pages[0], Role.PANEL_TEXT)]
    assert said.count("drawer front") == 6
    assert said.count('14 5/8" × 5 7/16"') == 6
    assert sum(content.startswith("D") and "of 6" in content for content in said) == 6


def test_panels_on_shared_pages_are_named_for_the_first_sheet() -> None:
    """Where only the letter differs one name stands for all, and the key says so."""
    page = pages_of(market_stall(), A4)[0][0]
    said = [text.content for text in texts(page)]
    assert "Sheets A, B, C" in said
    assert any("A1a1a there is B1a1a" in " ".join(said[i : i + 2]) for i in range(len(said)))


@pytest.mark.parametrize("name", NAMES)
def test_waste_is_hatched_and_kept_offcuts_are_not(name: str) -> None:
    """The hatched area is the waste, to scale; offcuts to keep have a second outline instead."""
    plan = all_plans()[name]
    ledger = read_ledger(plan)
    for group, pages in zip(group_sheets(ledger), pages_of(plan, A4), strict=True):
        left = [p for p in ledger.staying(group.first.piece) if p.name in ledger.leftover_of]
        box = outline(pages[0])
        unit = box.width / float(group.first.length)
        waste = [p for p in left if not ledger.is_kept_offcut(p.name)]
        hatched = [i.box for i in pages[0].items if isinstance(i, Hatch) and i.role is Role.WASTE]
        expected = sum(float(p.length * p.width) for p in waste) * unit**2
        assert sum(one.width * one.height for one in hatched) == pytest.approx(expected)
        kept = [i for i in pages[0].items if isinstance(i, Rect) and i.role is Role.KEPT_OFFCUT]
        assert len(kept) == len(left) - len(waste)
        assert all(one.dash_mm for one in kept)


@pytest.mark.parametrize("name", NAMES)
def test_every_cut_line_is_drawn_once(name: str) -> None:
    """One line on paper for each cut of the sheet, as long as the piece that it divides."""
    plan = all_plans()[name]
    ledger = read_ledger(plan)
    for group, pages in zip(group_sheets(ledger), pages_of(plan, A4), strict=True):
        drawn = [i for i in pages[0].items if isinstance(i, Line) and i.role is Role.CUT_LINE]
        lines = ledger.lines[group.first.piece]
        assert len(drawn) == len(lines)
        unit = outline(pages[0]).width / float(group.first.length)
        lengths = sorted(abs(i.x2 - i.x1) + abs(i.y2 - i.y1) for i in drawn)
        expected = sorted(float(line.end - line.start) * unit for line in lines)
        assert lengths == pytest.approx(expected)


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_every_cut_is_numbered_on_its_line_or_in_the_key(name: str) -> None:
    """As many tags as lines, less those that the key lists as having no room."""
    plan = all_plans()[name]
    ledger = read_ledger(plan)
    for group, pages in zip(group_sheets(ledger), pages_of(plan, A4), strict=True):
        lines = ledger.lines[group.first.piece]
        tags = texts(pages[0], Role.CUT_TAG)
        key = " ".join(t.content for page in pages for t in texts(page, Role.KEY))
        assert len(tags) == len(lines) or "lines without room for a number" in key
        numbers = {str(line.cut.number) for line in lines}
        for tag in tags:
            first = tag.content.split("·")[-1].split(",")[0].split("–")[0].rstrip("…")
            assert first in numbers


def test_tags_stand_on_their_own_line() -> None:
    """A tag's middle lies on a cut line of the setting and number that it names."""
    plan = european()
    page = pages_of(plan, A4)[0][0]
    lines = [i for i in page.items if isinstance(i, Line) and i.role is Role.CUT_LINE]
    for tag in texts(page, Role.CUT_TAG):
        box = text_box(tag)
        own = [
            line
            for line in lines
            if box.overlaps(
                Box(
                    min(line.x1, line.x2),
                    min(line.y1, line.y2),
                    abs(line.x2 - line.x1),
                    abs(line.y2 - line.y1),
                ).inset(-0.05)
            )
        ]
        assert len(own) == 1, tag.content


def test_tiny_panels_get_a_number_that_the_key_explains() -> None:
    """Nothing is clipped: what has no room is in the key with its size, count and pieces."""
    pages = pages_of(tiny_parts(), A4)[0]
    numbers = Counter(text.content for text in texts(pages[0], Role.CALLOUT))
    assert numbers["#1"] == 20
    assert numbers["#2 ×12"] == 1
    assert numbers["#3 ×8"] == 1
    key = " ".join(text.content for page in pages for text in texts(page, Role.KEY))
    assert "divider, 60 × 40 mm — 20 pieces: A3a" in key
    assert "slip, 300 × 12 mm — 12 pieces" in key
    dots = [i for i in pages[0].items if isinstance(i, Rect) and i.fill is Fill.BLACK]
    assert len(dots) == 20


def test_cuts_of_many_sheets_share_their_tags() -> None:
    """Cut numbers in even steps are shortened and the sheets all named below the title."""
    (pages,) = pages_of(many_alike(), A4)
    said = [text.content for text in texts(pages[0])]
    assert "12 sheets, A … L" in said
    assert any("sheets A, B, C, D, E, F, G, H, I, J, K, L" in words for words in said)
    assert "1·1, 4 … 34" in said


def test_the_trim_is_shown() -> None:
    """A factory edge to clean off is named and drawn as a chain line."""
    page = pages_of(european(), A4)[0][0]
    assert any("trimmed by 10 mm" in text.content for text in texts(page))
    assert any(isinstance(i, Rect) and i.dash_mm == theme.CHAIN for i in page.items)


def test_the_sheet_is_dimensioned() -> None:
    """Length and width stand along the edges, the width readable from the right."""
    page = pages_of(european(), A4)[0][0]
    figures = {text.content: text.upwards for text in texts(page, Role.DIMENSION)}
    assert figures == {"2800 mm": False, "2070 mm": True}


def test_pieces_between_two_cuts_are_found_by_their_next_cut() -> None:
    """They have no name on the layout; the key says so where there are any."""

    def key(plan: Plan) -> str:
        page = pages_of(plan, A4)[0][0]
        return " ".join(text.content for text in texts(page, Role.KEY))

    assert "a piece that is cut again is not named here" in key(market_stall())
    assert "a piece that is cut again" not in key(uncut())


@pytest.mark.parametrize("paper", PAPERS)
def test_what_stands_below_the_title_is_as_wide_as_the_page(paper: Paper) -> None:
    """A line is begun only where the page is full: a landscape page takes more than an upright."""
    narrow = paper.short_mm - 2 * theme.MARGIN
    wide = 0
    for plan in map(with_loads, (market_stall(), european(), long_names(), many_alike())):
        for pages in pages_of(plan, paper):
            assert_legible(pages[0])
            lines = about_lines(pages[0])
            room = pages[0].width_mm - 2 * theme.MARGIN
            assert tuple(lines) == wrap(" ".join(lines), room, theme.STRONG)
            wide += any(text_width(line, theme.STRONG) > narrow for line in lines)
    assert wide


def about_lines(page: Page) -> list[str]:
    """Give the lines that say of a layout what stock it is."""
    all_text = texts(page)
    first = next(i for i, text in enumerate(all_text) if text.content.startswith("Layout "))
    lines = []
    for text in all_text[first:]:
        if text.size_pt != theme.STRONG or text.x != all_text[first].x or text.y > outline(page).y:
            break
        lines.append(text.content)
    return lines
