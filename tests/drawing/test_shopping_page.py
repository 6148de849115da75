"""The page for the store."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.drawing.pages.shopping_page import shopping_pages
from cutlist.drawing.paper import A4, LETTER, Paper
from cutlist.drawing.primitives import Page
from cutlist.ledger.ledger import read_ledger
from cutlist.model.job import Store, Vehicle
from cutlist.model.plan import Plan
from cutlist.model.weights import Trip
from tests.audit.edits import with_job, with_sheet
from tests.audit.plans import SOUND
from tests.drawing.checks import assert_legible, texts
from tests.drawing.extras import with_loads
from tests.drawing.plans import all_plans, european, market_stall, small
from tests.drawing.trips import alike


def pages_of(plan: Plan, paper: Paper = A4) -> tuple[Page, ...]:
    """Compose the pages."""
    return shopping_pages(read_ledger(plan), paper)


def said(plan: Plan, paper: Paper = A4) -> list[str]:
    """All text of the page."""
    return [text.content for page in pages_of(plan, paper) for text in texts(page)]


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
@pytest.mark.parametrize("name", sorted(all_plans()))
def test_it_is_read_at_arms_length(name: str, paper: Paper) -> None:
    """No lettering under 9.5 pt: about 2.4 mm of capitals, far above what an eye needs at 0.7 m.

    ISO 9241-303 asks for characters of at least 16 minutes of arc, 3.3 mm at 0.7 m, from memory,
    for text that is read on and on: what is to be bought stands in 12 pt, 3.1 mm of capitals, in
    bold, the figures in up to 26 pt.
    """
    for plan in (all_plans()[name], with_loads(all_plans()[name])):
        for page in pages_of(plan, paper):
            assert_legible(page)
            assert min(text.size_pt for text in texts(page)) >= 9.5


def test_what_is_bought_is_all_there() -> None:
    """Count, name, material, size, price and cost of each line."""
    words = said(european())
    for line in european().buy:
        assert words.count(str(line.count)) >= 1
        assert line.sheet in words
    assert "118.90" in words
    assert "356.70" in words
    assert "2800 × 2070 mm" in words


def test_tax_is_shown_beside() -> None:
    """243.50 at 8.25 % is 20.08875: 20.09, 263.59 together, worked by hand."""
    words = said(with_job(market_stall(), tax_percent=Decimal("8.25")))
    assert "263.59" in words
    assert "243.50 for 4 sheets" in words
    assert "20.09 tax, 8.25 %" in words
    assert "tax not reckoned" in said(market_stall())


def test_the_stores_cuts_are_on_the_bill() -> None:
    """74.00 for the sheet and 0.50 for its one cut, tax on both: 4.47 at 6 %, worked by hand."""
    words = said(with_job(SOUND["store_and_vehicle"](), tax_percent=Decimal(6)))
    assert "78.97" in words
    assert "74.00 for 1 sheet" in words
    assert "0.50 for the store's cuts" in words
    assert "4.47 tax, 6 %" in words


def test_weights_lifts_and_trips() -> None:
    """Pieces that one person does not lift are named with the source; each trip has its row."""
    words = said(SOUND["heavy_boards"]())
    everything = " ".join(words)
    assert "117 kg" in words
    assert "2 trips of at most 100 kg; 2 are needed" in everything
    assert "A, B" in words
    assert "Not for one person alone" in words
    assert "two people" in words
    assert "NIOSH" in everything
    assert "HSE L23" in everything
    assert "750 kg/m³" in everything
    heavy = words[words.index("Not for one person alone") :]
    assert "shelf" not in heavy


def on_two_trips() -> Plan:
    """Return boards A and B, cut twice each, on two trips; a bed of 1800 × 1100 and a rack."""
    plan = alike()
    vehicle = Vehicle(
        Fraction(1800), Fraction(1100), Fraction(60), (Fraction(2500), Fraction(1250))
    )
    pieces = (("A1", "A2", "A3"), ("B1", "B2", "B3", "C"))
    trips = tuple(Trip(names, Fraction(40)) for names in pieces)
    return replace(with_job(plan, vehicle=vehicle), trips=trips)


def test_each_trip_says_which_sheets_are_cut_on_it() -> None:
    """Two free cuts on each trip are enough for two cuts in each sheet; C is not cut."""
    words = said(on_two_trips())
    assert "sheets cut on it" in words
    head = words.index("Trips")
    rows = words[head + 6 : head + 16]
    assert rows[0::5] == ["1", "2"]
    assert rows[3::5] == ["A", "B"]
    assert "4 cuts in 2 sheets; all free" in " ".join(words)
    store = replace(alike().job.store or Store(Fraction(4)), free_cuts=1)
    charged = " ".join(said(with_job(on_two_trips(), store=store)))
    assert "3.00 to pay for 2 cuts beyond the 1 free on each trip" in charged


def test_what_goes_in_by_the_second_opening_is_said() -> None:
    """Pieces 1750 × 1050, 1750 × 166 and 686 × 1220 go into the bed, board C on the rack alone."""
    words = said(on_two_trips())
    (mind,) = [text for text in words if "second opening" in text]
    assert mind.startswith("goes whole; goes in by the second opening")
    vehicle = Vehicle(Fraction(2500), Fraction(1300))
    words = said(with_job(on_two_trips(), vehicle=vehicle))
    assert not any("second opening" in text for text in words)


def test_what_is_not_known_is_said_so() -> None:
    """A board without a density: no weight in all, no trips, and no figure made up."""
    plan = with_sheet(SOUND["heavy_boards"](), 1, density=None)
    words = said(replace(plan, weights=plan.weights[:2], trips=()))
    assert "not known" in words
    assert "no weight for MDF 25 mm" in words
    assert "how many trips of 100 kg is not known" in words
    assert "89.3 kg" not in words


def test_offcuts_are_told_by_area_and_price() -> None:
    """What stands on the rack gives panels, and what they would cost by the area."""
    words = " ".join(said(SOUND["two_materials"]()))
    assert "0.15 m² of panels come from offcuts on hand: 6.56 by the area" in words


def test_without_prices_no_money() -> None:
    """A job without prices counts sheets."""
    words = said(small())
    assert "sheets to buy" in words
    assert "to pay" not in words


def test_nothing_to_buy_nothing_to_lift_no_page() -> None:
    """A plan from light offcuts alone has no such page; with heavy pieces it has."""
    plan = SOUND["plain"]()
    assert pages_of(replace(plan, buy=())) == ()
    heavy = replace(SOUND["heavy_boards"](), buy=())
    assert said(heavy)[0] == "Heavy pieces"
