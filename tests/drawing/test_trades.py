"""Cost against set-ups, drawn as bars."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cutlist.drawing.pages.summary import summary_pages
from cutlist.drawing.paper import A4
from cutlist.drawing.primitives import Fill, Rect
from cutlist.ledger.ledger import read_ledger
from cutlist.model.plan import Plan
from tests.drawing.checks import texts
from tests.drawing.extras import with_trades
from tests.drawing.plans import market_stall, small

TITLE = "Sheets against set-ups"


def first_page(plan: Plan) -> tuple[list[str], list[Rect]]:
    """Give the text of the summary's first page, and its bars below the three boxes."""
    page = summary_pages(read_ledger(plan), A4)[0]
    bars = [item for item in page.items if isinstance(item, Rect) and item.box.height == 3.0]
    return [text.content for text in texts(page)], bars


def test_each_plan_has_a_bar_as_long_as_its_set_ups() -> None:
    """The bars are to one scale from one edge, the chosen plan's is black."""
    plan = with_trades(market_stall())
    said, bars = first_page(plan)
    assert TITLE in said
    setups = [trade.setups for trade in plan.trades]
    for bar, count in zip(bars, setups, strict=True):
        assert bar.box.x == bars[0].box.x
        assert bar.box.width / bars[0].box.width == pytest.approx(count / setups[0])
    assert [bar.fill is Fill.BLACK for bar in bars] == [trade.is_chosen for trade in plan.trades]


def test_the_bars_say_what_is_bought_and_set() -> None:
    """Sheets, cost, and cost with the set-ups: 26 of 3 minutes at 45.50 an hour are 59.15."""
    said, _ = first_page(with_trades(market_stall()))
    assert "5 sheets, 1,243.50, 1,302.65 with the set-ups" in said
    assert "26 set-ups of 78 min: this plan" in said
    said, _ = first_page(with_trades(small()))
    assert "2 sheets" in said


def test_a_single_plan_is_compared_with_none() -> None:
    """Where no dearer plan spares a set-up nothing is drawn."""
    plan = with_trades(market_stall())
    for trades in ((), plan.trades[:1]):
        said, bars = first_page(replace(plan, trades=trades))
        assert TITLE not in said
        assert not bars
