"""Piece names: letters and figures by turns, none twice."""

from __future__ import annotations

import pytest

from cutlist.model.layout import Axis
from cutlist.sequencing.names import Family, letters, sheet_letter


@pytest.mark.parametrize(
    ("number", "mark"),
    [(0, "a"), (7, "h"), (8, "j"), (10, "m"), (12, "p"), (22, "z"), (23, "aa"), (24, "ab")],
)
def test_letters(number: int, mark: str) -> None:
    """Letters count on as spreadsheet columns do, without i, l and o, which look like figures."""
    assert letters(number) == mark


def test_letters_are_distinct() -> None:
    """A thousand marks are all different and made of clear letters."""
    marks = [letters(number) for number in range(1000)]
    assert len(set(marks)) == 1000
    assert not set("".join(marks)) & set("ilo")


def test_sheet_letters_are_capitals() -> None:
    """Sheets carry capitals, so that a piece's name tells its sheet."""
    assert [sheet_letter(number) for number in (0, 1, 22, 23)] == ["A", "B", "Z", "AA"]


def test_family_counts_in_figures_then_letters() -> None:
    """Pieces off a sheet get figures, pieces off those letters, and so on."""
    strips = Family("A", Axis.Y)
    assert [strips.next_name() for _ in range(3)] == ["A1", "A2", "A3"]
    cells = Family("A2", Axis.X)
    assert [cells.next_name() for _ in range(3)] == ["A2a", "A2b", "A2c"]
    assert Family("A2b", Axis.Y).next_name() == "A2b1"
