from __future__ import annotations

from cutlist.ledger.alike import group_sheets, listed, ranges
from cutlist.ledger.ledger import read_ledger
from tests.drawing.plans import many_alike, market_stall


def test_sheets_divided_alike_are_one_group() -> None:
    """Three sheets of the stall are one layout; other stock is another."""
    groups = group_sheets(read_ledger(market_stall()))
    assert [group.names for group in groups] == [("A", "B", "C"), ("D",), ("E",)]
    assert [group.number for group in groups] == [1, 2, 3]
    assert listed(groups[0]) == "Sheets A, B, C"
    assert listed(groups[1]) == "Offcut D"


def test_numbers_are_shortened() -> None:
    """Runs and even steps are shortened, nothing else."""
    assert ranges([7]) == "7"
    assert ranges([3, 4]) == "3, 4"
    assert ranges([6, 3, 5, 4, 9]) == "3–6, 9"
    assert ranges([1, 4, 7, 10]) == "1, 4 … 10"
    assert ranges([1, 4, 7]) == "1, 4, 7"


def test_many_sheets_are_counted_in_the_title() -> None:
    """More sheets than a title holds are counted."""
    (group,) = group_sheets(read_ledger(many_alike()))
    assert listed(group) == "12 sheets, A … L"
