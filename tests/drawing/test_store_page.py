"""The page to hand over the counter: every cut, distance and blank, legible, in the right order."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from functools import cache

import pytest

from cutlist.drawing.metrics import text_box
from cutlist.drawing.pages import shopping_page
from cutlist.drawing.pages.layout_page import layout_pages
from cutlist.drawing.pages.sequence_pages import sequence_pages
from cutlist.drawing.pages.shopping_page import shopping_pages
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Box, Fill, Line, Page, Rect, Role
from cutlist.ledger.alike import group_sheets
from cutlist.ledger.ledger import read_ledger
from cutlist.model.job import Store, Vehicle
from cutlist.model.plan import Place, Plan
from cutlist.nesting.allowance import Allowance
from cutlist.planning.make import make_plan
from cutlist.telling.wording import piece_size
from cutlist.units.lengths import format_length
from tests.drawing.checks import assert_legible, texts
from tests.drawing.extras import with_loads
from tests.drawing.plans import broken_down, market_stall
from tests.drawing.trips import Step, alike, confusing, crowded, strips, trip
from tests.random_jobs import random_job, with_small_car

PAPERS = [pytest.param(A4, id="A4"), pytest.param(LETTER, id="Letter")]
#: Random jobs with small cars: inches and millimetres, one material and two.
JOBS = (0, 3, 9, 12)


@cache
def plan_of(number: int) -> Plan:
    """Return the plan of a random job with a small car."""
    job = with_small_car(random_job(number), number)
    return make_plan(job, seed=number, allowance=Allowance(steps=300))


def pages_of(plan: Plan, paper: Paper = A4) -> tuple[Page, ...]:
    """Compose the pages for the store trip, of which there are some."""
    pages = shopping_pages(read_ledger(plan), paper)
    assert pages
    return pages


def said(pages: tuple[Page, ...]) -> str:
    """Return all lettering."""
    return " ".join(text.content for page in pages for text in texts(page))


def saw_pages(plan: Plan) -> str:
    """Return the lettering of the pages that are handed over the counter alone."""
    return said(tuple(page for page in pages_of(plan) if "saw" in texts(page)[0].content))


def test_no_sketch_where_the_store_cuts_nothing() -> None:
    """A plan of whole sheets has the shopping list alone."""
    pages = pages_of(market_stall())
    assert texts(pages[0])[0].content == "Shopping list"
    assert not [page for page in pages if texts(page, Role.CUT_NUMBER)]


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("number", JOBS)
def test_pages_are_legible(number: int, paper: Paper) -> None:
    """No text overlaps another or leaves the frame, at printed size."""
    pages = pages_of(plan_of(number), paper)
    assert pages
    for page in pages:
        assert_legible(page)


@pytest.mark.slow
@pytest.mark.parametrize("number", JOBS)
def test_every_blank_and_distance_is_there(number: int) -> None:
    """What the store cuts is all there: each piece by name, each distance, the count of cuts."""
    plan = plan_of(number)
    words = said(pages_of(plan))
    ledger = read_ledger(plan)
    settings = [setting for setting in plan.settings if setting.place is Place.STORE]
    for setting in settings:
        assert format_length(setting.distance, plan.job.units) in words
    for workpiece in plan.workpieces:
        for blank in ledger.blanks(workpiece.piece):
            assert blank.name in words
    assert f"{sum(len(setting.cuts) for setting in settings)} cut" in words


@pytest.mark.slow
@pytest.mark.parametrize("number", JOBS)
def test_cuts_are_numbered_in_their_order(number: int) -> None:
    """On each sketch the numbers run from 1, one at each dashed line."""
    plan = plan_of(number)
    ledger = read_ledger(plan)
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
    runs = {len(ledger.store_lines(workpiece.piece)) for workpiece in plan.workpieces} - {0}
    assert {int(words) for words in numbers} == set(range(1, max(runs) + 1))


@pytest.mark.slow
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
        names = [(text.content, text_box(text)) for text in texts(page, Role.PANEL_TEXT)]
        astray = [said for said, box in names if not any(one.holds(box) for one in sheets)]
        crossed = [said for said, box in names if any(box.overlaps(line) for line in lines)]
        assert (astray, crossed) == ([], [])


def test_layouts_mark_what_the_store_cuts() -> None:
    """On the layout of a sheet its store cuts are dashed, and its blanks named."""
    plan = broken_down()
    ledger = read_ledger(plan)
    groups = group_sheets(ledger)
    cut = next(group for group in groups if ledger.blanks(group.first.piece))
    (page, *_) = layout_pages(ledger, cut, len(groups), A4)
    lines = [i for i in page.items if isinstance(i, Line) and i.role is Role.CUT_LINE]
    dashed = [line for line in lines if line.dash_mm]
    assert len(dashed) == len(ledger.store_lines(cut.first.piece))
    assert len(dashed) < len(lines)
    key = " ".join(text.content for text in texts(page, Role.KEY))
    for blank in ledger.blanks(cut.first.piece):
        assert blank.name in key


TRIPS = {"crowded": crowded, "alike": alike, "confusing": confusing, "strips": strips}


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", sorted(TRIPS))
def test_no_distance_is_hidden(name: str, paper: Paper) -> None:
    """Nothing is drawn over a distance, and no arrow alike lies upon another."""
    for page in pages_of(TRIPS[name](), paper):
        assert_legible(page)
        arrows = [i for i in page.items if isinstance(i, Line) and i.role is Role.DIMENSION]
        for number, item in enumerate(page.items):
            if getattr(item, "role", None) is not Role.DISTANCE:
                continue
            box = text_box(item)  # type: ignore[arg-type]
            later = page.items[number + 1 :]
            patches = [i.box for i in later if isinstance(i, Rect) and i.fill is Fill.WHITE]
            assert not any(box.overlaps(patch) for patch in patches), item
        for one in arrows:
            for other in arrows:
                if one is not other and one.y1 == one.y2 == other.y1 == other.y2:
                    assert one.x2 <= other.x1 or other.x2 <= one.x1


@pytest.mark.parametrize("name", sorted(TRIPS))
def test_every_blank_is_named_in_its_sketch(name: str) -> None:
    """However narrow, and in spite of the distances in it, with its size there or below."""
    plan = TRIPS[name]()
    pages = pages_of(plan)
    shown = " ".join(t.content for p in pages for t in texts(p, Role.PANEL_TEXT))
    words = said(pages)
    ledger = read_ledger(plan)
    for workpiece in plan.workpieces:
        for blank in ledger.blanks(workpiece.piece):
            assert blank.name in shown
            assert piece_size(blank, plan.job) in words


def test_both_distances_from_one_end_are_shown() -> None:
    """1660 and 1000 mm begin at the same end of the same strip."""
    (page,) = [page for page in pages_of(crowded()) if texts(page, Role.CUT_NUMBER)]
    shown = [text.content for text in texts(page, Role.DISTANCE)]
    assert sorted(shown) == ["1000 mm", "1253 mm", "1500 mm", "1660 mm", "556 mm"]


def test_each_cut_says_where_it_is_measured_from() -> None:
    """In words: the end or the edge that the distance begins at, and which way the blade goes."""
    words = saw_pages(crowded())
    assert words.count("left end") == 4
    assert words.count("across") == 4
    assert words.count("lower edge") == 1
    assert words.count("along") >= 1
    far = trip((2000, 1000), {"A": [("A", "crosscut", -700, "A2", "A1")]})
    assert "right end" in said(pages_of(far))
    far = trip((2000, 1000), {"A": [("A", "rip", -700, "A2", "A1")]})
    assert "upper edge" in said(pages_of(far))


def numbers_and_lines(page: Page) -> list[tuple[Box, list[Line]]]:
    """Give the box of each number on a page with the cuts that it lies on."""
    lines = [i for i in page.items if isinstance(i, Line) and i.role is Role.CUT_LINE]
    found = []
    for text in texts(page, Role.CUT_NUMBER):
        (box,) = (
            item.box
            for item in page.items
            if isinstance(item, Rect) and item.fill is Fill.WHITE and item.box.holds(text_box(text))
            and item.role is not Role.SHEET and item.box.width < 12
        )  # fmt: skip
        found.append((box, [line for line in lines if box.overlaps(around(line))]))
    return found


def around(line: Line) -> Box:
    """Give a thin box along a line."""
    return Box(line.x1 - 0.1, line.y1 - 0.1, line.x2 - line.x1 + 0.2, line.y2 - line.y1 + 0.2)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", sorted(TRIPS))
def test_a_number_stands_on_its_own_cut_alone(name: str, paper: Paper) -> None:
    """On the line of its cut, at the sheet's edge where that reaches it, and on no other line."""
    for page in pages_of(TRIPS[name](), paper):
        lines = [i for i in page.items if isinstance(i, Line) and i.role is Role.CUT_LINE]
        numbered = numbers_and_lines(page)
        assert [on for _, on in numbered] == [[own] for own in lines]
        for (box, _), own in zip(numbered, lines, strict=True):
            (sheet,) = (
                i.box
                for i in page.items
                if isinstance(i, Rect) and i.role is Role.SHEET and i.box.inset(-0.1).holds(
                    around(own).inset(0.1)
                )
            )  # fmt: skip
            ends = {own.x1 - sheet.x, sheet.right - own.x2} if own.y1 == own.y2 else {
                own.y1 - sheet.y, sheet.bottom - own.y2
            }  # fmt: skip
            if min(ends) < 0.05:
                assert not sheet.holds(box)


def test_the_number_of_an_inner_cut_is_not_at_another_cuts_line() -> None:
    """A rip from the left end to the first crosscut has its number at the left end."""
    plan = trip(
        (2400, 1200),
        {
            "A": [
                ("A", "crosscut", 1400, "A1-2", "A3-4"),
                ("A1-2", "rip", 580, "A1", "A2"),
                ("A3-4", "rip", 640, "A3", "A4"),
            ]
        },
    )
    (page,) = [page for page in pages_of(plan) if texts(page, Role.CUT_NUMBER)]
    assert_legible(page)
    (sheet,) = (i.box for i in page.items if isinstance(i, Rect) and i.role is Role.SHEET)
    middles = [box.x + box.width / 2 for box, _ in numbers_and_lines(page)]
    assert middles[1] == pytest.approx(sheet.x)
    assert middles[2] == pytest.approx(sheet.right)


def test_a_box_to_tick_for_each_cut_of_each_sheet() -> None:
    """Two sheets alike with two cuts each: four boxes, besides those of the seven pieces."""
    pages = pages_of(alike())
    boxes = [i for p in pages for i in p.items if isinstance(i, Rect) and i.role is Role.TICK]
    assert len(boxes) == 4 + 7
    assert "2 sheets alike: A, B" in said(pages)


def test_the_page_says_what_the_sheets_are_and_what_the_cuts_cost() -> None:
    """Whoever has this page alone sees material, thickness, size, count, and what is charged."""
    words = saw_pages(alike()) or said(pages_of(alike()))
    assert "MDF 18 mm, 2440 × 1220 mm (large board): 2 cuts, 3 pieces each" in words
    assert "4 cuts in 2 sheets; 3.00 to pay for 2 cuts beyond the 2 free" in words
    assert "It may be off by 3 mm" in words
    assert "No piece may come out larger" not in words
    stair = Vehicle(Fraction(2300), Fraction(1260), second_opening=(Fraction(2440), Fraction(700)))
    tight = replace(alike(), job=replace(alike().job, vehicle=stair))
    largest = "No piece may come out larger than 2300 × 1260 mm or 2440 × 700 mm."
    assert largest in said(pages_of(tight))


def test_what_is_easily_mixed_up_stands_below_the_steps() -> None:
    """Near sizes, and thin stock, are warned of on the sheet's own page."""
    assert "A4 576 × 1253 mm, A3 556 × 1253 mm" in said(pages_of(crowded()))
    words = said(pages_of(confusing()))
    assert "Thin stock" in words
    assert "C1 600 × 1220 mm" in words
    assert "Thin stock" not in said(pages_of(crowded()))


def test_pieces_to_take_home_are_listed_with_boxes() -> None:
    """Every piece has a box to tick, its name and its size; whole sheets are there too."""
    pages = pages_of(alike())
    words = [text.content for page in pages for text in texts(page)]
    at = words.index("To take home, MDF 18 mm: 7 pieces, the longest first")
    for name in ("A1", "B1", "A2", "B2", "A3", "B3", "C"):
        assert name in words[at:]
    assert "1750 × 1050 mm" in words[at:]
    assert "goes whole" in " ".join(words[at:])


def test_the_arrow_runs_along_the_grain_where_there_is_one() -> None:
    """Stock without grain has the arrow all the same: it tells which end is which."""
    plan = alike()
    ply = tuple(replace(one, material="birch ply") for one in plan.workpieces)
    assert "the grain runs along it" in said(pages_of(replace(plan, workpieces=ply)))
    assert "grain" not in said(pages_of(plan))
    plain = tuple(replace(one, has_grain=False) for one in ply)
    words = said(pages_of(replace(plan, workpieces=plain)))
    assert "the arrow to pencil on each piece" in words
    assert "grain" not in words


def many() -> Plan:
    """Twelve boards are broken down alike, at a price that makes a long heading."""
    steps: dict[str, list[Step]] = {
        letter: [
            (letter, "crosscut", 1750, f"{letter}1-2", f"{letter}3"),
            (f"{letter}1-2", "rip", 1050, f"{letter}1", f"{letter}2"),
        ]
        for letter in "ABCDEFGHJKMN"
    }
    store = Store(Fraction(4), Fraction(3), cut_price=Decimal("1200.50"), free_cuts=10)
    return trip((2440, 1220), steps, store=store)


@pytest.mark.parametrize("paper", PAPERS)
def test_many_sheets_alike_share_a_sketch(paper: Paper) -> None:
    """All letters are told, for some are left out of the alphabet; one box stands for all."""
    pages = pages_of(many(), paper)
    for page in pages:
        assert_legible(page)
    words = said(pages)
    assert "12 sheets alike: A … N" in words
    assert "sheets A, B, C, D, E, F, G, H, J, K, M, N" in words
    assert "24 cuts in 12 sheets; 16,807.00 to pay for 14 cuts" in words
    assert "12×" in words
    assert "A1+A2 … N1+N2" in words
    assert words.count("any name will do") == 3
    assert "12 × A1 … N1" in words.replace("\u00a0", " ")


def test_what_goes_in_another_way_is_told() -> None:
    """A strip too long for the bed names the second opening; what fits the bed does not."""
    plan = trip((2440, 1220), {"A": [("A", "rip", 1000, "A1", "A2")]})
    beds = Vehicle(Fraction(2440), Fraction(1100)), Vehicle(Fraction(1000), Fraction(2440))
    for bed in beds:
        words = said(pages_of(replace(plan, job=replace(plan.job, vehicle=bed))))
        assert "second opening" not in words
    roof = Vehicle(Fraction(1100), Fraction(900), second_opening=(Fraction(3000), Fraction(300)))
    short = trip((1200, 1100), {"A": [("A", "rip", 880, "A1", "A2")]})
    words = said(pages_of(replace(short, job=replace(short.job, vehicle=roof))))
    assert words.count("goes in by the second opening") == 2
    low = Vehicle(Fraction(1200), Fraction(900), second_opening=(Fraction(3000), Fraction(300)))
    words = said(pages_of(replace(short, job=replace(short.job, vehicle=low))))
    assert "second opening" not in words


def test_names_on_the_way_do_not_look_like_sizes() -> None:
    """No page has A3-4 beside 3 3/4 in; the first of such names is explained."""
    for plan in (crowded(), strips(), confusing(), many()):
        ledger = read_ledger(plan)
        words = said((*pages_of(plan), *sequence_pages(ledger, A4)))
        assert not re.search(r"[A-Z]\d+-\d", words)
        assert re.search(r"[A-Z]\d+\+", words)
    assert "A1…A4 is the piece that A1 to A4 are still in." in said(pages_of(crowded()))
    assert "B2+B3+B4 is the piece that B2, B3 and B4 are still in." in said(pages_of(strips()))
    assert "A1+A2 is the piece that A1 and A2 are still in." in said(pages_of(many()))


def test_what_just_goes_in_is_told_on_both_pages() -> None:
    """Beside the piece on the list to take home, and below the steps, of every sheet alike."""
    steps: dict[str, list[Step]] = {
        letter: [(letter, "rip", 1000, f"{letter}1", f"{letter}2")] for letter in "AB"
    }
    plan = trip((2440, 1220), steps)
    bed = Vehicle(Fraction(2440), Fraction(1000))
    words = said(pages_of(replace(plan, job=replace(plan.job, vehicle=bed))))
    assert "either name will do; as large as goes in: rather under than over" in words
    assert "As large as goes into the vehicle, so rather under than over: A1, B1." in words
    wide = Vehicle(Fraction(2440), Fraction(1100))
    words = said(pages_of(replace(plan, job=replace(plan.job, vehicle=wide))))
    assert "rather under" not in words


def test_edges_of_a_spare_piece_are_told_once() -> None:
    """Where its cut edges tell it from another as large, they are those to be cleaned."""
    plan = confusing()
    assert plan.job.store
    store = replace(plan.job.store, accuracy=Fraction(3))
    words = said(pages_of(replace(plan, job=replace(plan.job, store=store))))
    assert "edges cut at the store: right; as large: C2 (left, right)" in words
    # C1, C2, C4 and C5 are told apart by them; the five others are not.
    assert words.count("edges to clean") == 9 - 4
    assert (
        "D1 (400 × 638 mm); spare: no part is cut from it; edges to clean: left, lower, upper"
        in words
    )


@pytest.mark.slow
def test_a_page_is_spared_where_closer_lists_go_on_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """More and more boards, all cut otherwise: the lists stand closer before a page is added."""

    def home(count: int) -> int:
        steps: dict[str, list[Step]] = {
            letter: [(letter, "crosscut", 400 + 90 * number, f"{letter}1", f"{letter}2")]
            for number, letter in enumerate("ABCDEFGHJKMN"[:count])
        }
        pages = pages_of(with_loads(trip((2440, 1220), steps)))
        for page in pages:
            assert_legible(page)
        return sum("what to buy" in texts(page)[0].content for page in pages)

    close = [home(count) for count in range(1, 13)]
    monkeypatch.setattr(shopping_page, "_CLOSE", 1.0)
    wide = [home(count) for count in range(1, 13)]
    assert all(few <= many for few, many in zip(close, wide, strict=True))
    assert sum(close) < sum(wide)
