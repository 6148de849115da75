"""The cost with the store's charge, by trips, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.audit.findings import Code, Report
from cutlist.audit.totals import check_totals
from cutlist.model.weights import Trip
from tests.drawing.trips import alike


@pytest.mark.parametrize(
    ("trips", "cost"),
    [
        # Four cuts on one trip, two of them free, 1.50 for each further one, beside 3 × 60.00.
        ((), "183.00"),
        ((("A1", "A2", "A3", "B1", "B2", "B3", "C"),), "183.00"),
        # A on the first trip and B on the second: all are free.
        ((("A1", "A2", "A3"), ("B1", "B2", "B3", "C")), "180.00"),
        # Both are cut on the second trip, where the first piece of each goes.
        ((("C",), ("A1", "B3"), ("A2", "A3", "B1", "B2")), "183.00"),
    ],
)
def test_the_cost_of_the_cuts(trips: tuple[tuple[str, ...], ...], cost: str) -> None:
    """The cost by hand is accepted, and none that is a cent off."""
    plan = replace(alike(), trips=tuple(Trip(pieces, Fraction(1)) for pieces in trips))
    for cents, is_right in ((0, True), (1, False), (-1, False)):
        told = Decimal(cost) + Decimal(cents) / 100
        report = Report()
        check_totals(replace(plan, totals=replace(plan.totals, cost=told)), report)
        assert (Code.TOTAL_COST not in {one.code for one in report.findings}) is is_right
