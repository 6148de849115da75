"""The pages of a comparison."""

from __future__ import annotations

import datetime
from dataclasses import replace
from fractions import Fraction

import pytest

from cutlist.drawing.pages.compare_pages import compare_pages
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Fill, Rect
from cutlist.model.variants import Variant
from tests.drawing.checks import assert_legible, texts
from tests.drawing.plans import broken_down, market_stall
from tests.refusing import because

DAY = datetime.date(2026, 1, 2)
PLAN = market_stall()


def variants(count: int) -> list[Variant]:
    """Give ways of one material, one with a store, and one that cannot serve."""
    plans = [PLAN if number % 2 else broken_down() for number in range(count)]
    found = [
        Variant(
            "birch ply",
            Fraction(18),
            (f"sheet {number}",),
            number == count - 1,
            plan,
            store_cuts=bool(number % 2),
            varied=(("saw.kerf", "1/8"),),
        )
        for number, plan in enumerate(plans)
    ]
    lost = replace(found[0], sheets=("small",), plan=None, reasons=because("end is too long"))
    return [*found, lost]


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
@pytest.mark.parametrize("count", [1, 2, 9, 24])
def test_pages_are_legible(count: int, paper: Paper) -> None:
    """However many ways there are, nothing overlaps and nothing leaves the frame."""
    pages = compare_pages(variants(count), PLAN.job, paper=paper, date=DAY)
    for page in pages:
        assert_legible(page)
    said = [text.content for page in pages for text in texts(page)]
    assert any(line.endswith("cannot serve: end is too long") for line in said)
    assert any(line.endswith(f"page 1 of {len(pages)}") for line in said)


def test_bars_need_two_ways() -> None:
    """A single way has no bars: there is nothing to hold it against."""
    for count, has_bars in ((1, False), (2, True)):
        pages = compare_pages(variants(count), PLAN.job, paper=A4, date=DAY)
        black = [
            item
            for page in pages
            for item in page.items
            if isinstance(item, Rect) and item.fill is Fill.BLACK
        ]
        assert bool(black) is has_bars


def test_what_cannot_serve_at_all_is_still_told() -> None:
    """Without any plan the reasons stand alone."""
    (page,) = compare_pages(variants(1)[1:], PLAN.job, paper=A4, date=DAY)
    said = [text.content for text in texts(page)]
    reason = ", small, without the store's cuts, cannot serve: end is too long"
    assert any(line.endswith(reason) for line in said)
    assert not any(isinstance(item, Rect) for item in page.items)


def test_a_plan_of_several_ways_is_drawn_once() -> None:
    """Of nine ways five share one plan and four the other: two heads, with their numbers."""
    pages = compare_pages(variants(9), PLAN.job, paper=A4, date=DAY)
    said = [text.content for page in pages for text in texts(page)]
    heads = [words.split("   ")[0] for words in said if "   sheet " in words]
    assert "1, 3, 5, 7, 9" in heads
    assert "2, 4, 6, 8" in heads


def test_a_drawing_says_what_holds_for_all_its_ways() -> None:
    """Over a drawing that serves for two prices stands the kerf that they share, and no price."""
    ways = [
        Variant("ply", Fraction(18), ("sheet",), True, PLAN, varied=(("saw.kerf", "3"), price))
        for price in (("price", "40"), ("price", "50"))
    ]
    (page,) = compare_pages(ways, PLAN.job, paper=A4, date=DAY)
    said = [text.content for text in texts(page)]
    assert "1, 2   sheet, kerf 3" in said
