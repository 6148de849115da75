from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from cutlist.telling.wording import (
    counted,
    money,
    paper_name,
    setup_words,
    sheet_words,
    stock_words,
    waste_words,
)
from tests.drawing.plans import market_stall, small, uncut


def test_counts_agree_with_their_nouns() -> None:
    """One sheet, two sheets."""
    assert counted(1, "sheet") == "1 sheet"
    assert counted(0, "sheet") == "0 sheets"


def test_money_has_two_places() -> None:
    """Amounts have two places."""
    assert money(Decimal("1234.5")) == "1,234.50"


def test_sheets_are_told_with_what_is_proven() -> None:
    """The words say whether fewer sheets could do."""
    plan = market_stall()
    assert sheet_words(plan) == "4 sheets; 4 are needed"
    loose = replace(plan, bounds=replace(plan.bounds, sheets=3))
    assert sheet_words(loose) == "4 sheets; at least 3 are needed"
    nothing = replace(plan, totals=replace(plan.totals, sheets=0))
    assert sheet_words(nothing) == "nothing to buy"


def test_set_ups_are_told_with_what_is_proven() -> None:
    """Proven, met without proof, or open."""
    plan = market_stall()
    bounds = plan.bounds
    proven = replace(plan, bounds=replace(bounds, setups_proven=True))
    least = "no way to cut these layouts needs fewer"
    assert setup_words(proven) == least
    plan = replace(plan, bounds=replace(bounds, setups=plan.totals.setups - 5))
    assert setup_words(plan) == f"{least} than {plan.totals.setups - 5}"
    ordered = replace(plan, bounds=replace(plan.bounds, order=plan.totals.setups))
    words = setup_words(ordered)
    assert words == (
        "no order of these cuts needs fewer; "
        f"any other way to cut these layouts needs at least {plan.bounds.setups}"
    )
    far = replace(ordered, bounds=replace(ordered.bounds, setups=1))
    assert setup_words(far) == "no order of these cuts needs fewer"
    close = replace(far, bounds=replace(far.bounds, order=plan.totals.setups - 1))
    words = setup_words(close)
    assert words == f"no order of these cuts needs fewer than {plan.totals.setups - 1}"
    open_ = replace(far, bounds=replace(far.bounds, order=1))
    assert setup_words(open_) == "not proven to be the fewest"
    met = replace(plan, bounds=replace(bounds, setups=plan.totals.setups))
    assert setup_words(met) == least


def test_offcuts_are_told_by_the_largest() -> None:
    """The largest offcut to keep is named by its size."""
    assert waste_words(market_stall()) == '6 offcuts to keep; the largest, 49 3/4" × 22 7/8"'
    assert waste_words(uncut()) == "no offcut worth keeping"


def test_stock_is_named_with_its_origin() -> None:
    """Sheets by name and size, offcuts on hand as such."""
    plan = small()
    words = stock_words(plan.workpieces[0], plan.job)
    assert words == "hobby sheet — birch ply 6 mm, 600 × 400 mm"
    stall = market_stall()
    assert "offcut on hand" in stock_words(stall.workpieces[3], stall.job)


def test_a_piece_on_the_way_is_named_by_what_it_holds() -> None:
    """Few are all named, of many the first and the last; any other name stays as it is."""
    assert paper_name("A3-4") == "A3+A4"
    assert paper_name("AB2-4") == "AB2+AB3+AB4"
    assert paper_name("A9-12") == "A9…A12"
    assert [paper_name(name) for name in ("A", "A1", "A1b2")] == ["A", "A1", "A1b2"]
