"""The foot of the shopping list: tax, weight, and what offcuts on hand give."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.shopping import bought_kg, shopping
from tests.audit.edits import with_job, with_sheet, with_totals
from tests.audit.plans import SOUND, f


@pytest.mark.parametrize(
    ("cost", "rate", "tax"),
    [
        ("74.00", "8.25", "6.11"),
        ("20.00", "7.125", "1.43"),
        ("10", "0", "0.00"),
        ("2", "6.25", "0.13"),
    ],
)
def test_tax_is_rounded_half_up(cost: str, rate: str, tax: str) -> None:
    """74 at 8.25 % is 6.105, 20 at 7.125 % is 1.425, 2 at 6.25 % is 0.125: worked by hand."""
    plan = with_totals(with_job(SOUND["plain"](), tax_percent=Decimal(rate)), cost=Decimal(cost))
    sums = shopping(read_ledger(plan))
    assert sums.tax == Decimal(tax)
    assert sums.total == Decimal(cost) + Decimal(tax)


def test_no_rate_no_tax() -> None:
    """Without a rate, or without prices, nothing is said of tax."""
    plan = SOUND["plain"]()
    assert (shopping(read_ledger(plan)).tax, shopping(read_ledger(plan)).total) == (None, None)
    free = replace(plan, buy=tuple(replace(line, price_each=None) for line in plan.buy))
    assert shopping(read_ledger(with_job(free, tax_percent=Decimal(8)))).tax is None


def test_weight_of_all_and_of_one_kind() -> None:
    """Two walls of 44.652 kg and a top of 27.9075 kg; the offcut is at home already."""
    plan = SOUND["heavy_boards"]()
    assert shopping(read_ledger(plan)).kg == f(117.2115)
    assert bought_kg(plan, "large") == f(89.304)
    assert bought_kg(plan, "small") == f(27.9075)
    assert bought_kg(replace(plan, weights=plan.weights[1:])) is None


def test_offcuts_are_worth_what_the_cheapest_sheet_asks_for_their_panels() -> None:
    """A panel of 500 × 300 mm from the rack: 0.15 m² of a sheet at 31.50 for 0.72 m² is 6.56."""
    sums = shopping(read_ledger(SOUND["two_materials"]()))
    assert sums.offcut_area == 150_000
    assert sums.offcut_value == Decimal("6.56")


def test_the_cheapest_by_area_counts() -> None:
    """A second sheet at half the price by area halves the value; other boards do not count."""
    plan = SOUND["two_materials"]()
    ply = plan.job.sheets[0]
    large = replace(ply, name="large", length=ply.length * 2)
    other = replace(ply, name="other", thickness=f(12), price=Decimal("0.01"))
    cheaper = with_job(plan, sheets=(*plan.job.sheets, large, other))
    assert shopping(read_ledger(cheaper)).offcut_value == Decimal("3.28")


def test_without_a_price_the_area_alone_is_told() -> None:
    """Offcuts of a material that has no price have no value; no offcuts give no area."""
    sums = shopping(read_ledger(with_sheet(SOUND["two_materials"](), 0, price=None)))
    assert sums.offcut_area == 150_000
    assert sums.offcut_value is None
    assert shopping(read_ledger(SOUND["plain"]())).offcut_area == 0
    assert shopping(read_ledger(SOUND["plain"]())).offcut_value is None
