"""A job divided into packing problems on one grid."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.errors import CannotCutError
from cutlist.model.job import Grain, Saw
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.problem import Bin, Item
from cutlist.planning.dividing.groups import divide
from tests.planning.jobs import job, offcut, part, sheet
from tests.refusing import said


def test_one_grid_holds_all_lengths() -> None:
    """The grid is the greatest common divisor of all lengths, the saw's included."""
    asked = job([part("a", (600, 300))], kerf=Fraction(32, 10), scale=Fraction(1, 2))
    division = divide(asked)
    assert division.grid.unit == Fraction(1, 10)
    assert (division.fence.kerf, division.fence.reach, division.fence.mark) == (32, None, 5)
    (group,) = division.groups
    assert group.problem.items == (Item(6000, 3000, 1, True),)
    assert group.problem.bins == (Bin(24400, 12200, 60),)
    assert group.problem.kerf == 32


def test_sixty_fourths_and_millimetres_meet() -> None:
    """An inch job with a part in millimetres keeps both exactly: 1 in = 25.4 mm."""
    asked = job([part("a", (Fraction(1, 64), Fraction(10, 254)))], kerf=Fraction(1, 8))
    unit = divide(asked).grid.unit
    assert (Fraction(1, 64) / unit).denominator == 1
    assert (Fraction(10, 254) / unit).denominator == 1


def test_grain_turns_the_part_not_the_sheet() -> None:
    """A part whose width lies along the grain has its width along x; only ``any`` may turn."""
    parts = [part(grain.value, (600, 300), grain=grain) for grain in Grain]
    items = divide(job(parts)).groups[0].problem.items
    unit = divide(job(parts)).grid.unit
    sizes = [(int(item.length * unit), int(item.width * unit), item.turnable) for item in items]
    assert sizes == [(600, 300, False), (300, 600, False), (600, 300, True)]


def test_a_square_part_needs_no_turning() -> None:
    """Turning a square changes nothing, so the search is not offered it."""
    assert not divide(job([part("a", (300, 300))])).groups[0].problem.items[0].turnable


def test_groups_by_material_in_order() -> None:
    """Each material is one problem with its own parts and stock; strangers are left out."""
    asked = job(
        [part("a", (30, 30)), part("b", (40, 40), material="mdf"), part("c", (50, 50))],
        [sheet("p"), sheet("m", material="mdf"), sheet("oak", material="oak")],
        [offcut("rack", (500, 400), 2)],
    )
    first, second = divide(asked).groups
    assert (first.material, first.parts) == ("birch ply", (0, 2))
    assert [piece.name for piece in first.stock] == ["p", "rack"]
    assert (second.material, second.parts) == ("mdf", (1,))
    assert [b.available for b in first.problem.bins] == [None, 2]
    assert first.problem.bins[1].cost == 0


def test_cells_are_counted_in_the_job() -> None:
    """A layout of a group names parts by their place in the whole job."""
    asked = job([part("a", (30, 30), material="mdf"), part("b", (40, 40))], [sheet()], [])
    asked = replace(asked, sheets=(*asked.sheets, sheet("m", material="mdf")))
    group = divide(asked).groups[1]
    layout = Layout(0, Strip(Axis.X, 90, 40, (Cell(0, 40, 40),)), 3)
    assert group.in_job(layout) == Layout(0, Strip(Axis.X, 90, 40, (Cell(1, 40, 40),)), 3)


@pytest.mark.parametrize(
    ("prices", "money", "costs"),
    [
        (("60", "41"), Decimal(1), [60, 41]),
        (("60.00", "41.5"), Decimal("0.01"), [6000, 4150]),
        (("60", "0.125"), Decimal("0.001"), [60000, 125]),
        (("1E+2", "0"), Decimal(1), [100, 0]),
    ],
)
def test_prices_are_whole_numbers(
    prices: tuple[str, str], money: Decimal, costs: list[int]
) -> None:
    """Prices are counted in the last decimal place that any of them uses."""
    asked = job([part("a", (30, 30))], [sheet("p", price=prices[0]), sheet("q", price=prices[1])])
    division = divide(asked)
    assert division.money == money
    assert [b.cost for b in division.groups[0].problem.bins] == costs


def test_without_prices_area_counts() -> None:
    """Without prices a sheet's cost is its area, in whole numbers; an offcut is free."""
    asked = job(
        [part("a", (30, 30))],
        [sheet("p", (2000, 1000), None), sheet("q", (1000, 1000), None)],
        [offcut("rack", (500, 400))],
    )
    division = divide(asked)
    assert division.money is None
    assert [b.cost for b in division.groups[0].problem.bins] == [2, 1, 0]


def test_stock_of_none_is_left_out() -> None:
    """A sheet with none in stock cannot be used."""
    asked = job([part("a", (30, 30))], [sheet("p", in_stock=0), sheet("q", in_stock=4)])
    group = divide(asked).groups[0]
    assert [piece.name for piece in group.stock] == ["q"]
    assert [b.available for b in group.problem.bins] == [4]


def test_no_stock_at_all_names_the_parts() -> None:
    """Where nothing of a material is in stock the parts that need it are named."""
    asked = job([part("a", (30, 30)), part("b", (40, 30))], [sheet(in_stock=0)])
    with pytest.raises(CannotCutError) as caught:
        divide(asked)
    assert said(caught.value)[0].startswith("a, b: no birch ply")


def test_all_materials_without_stock_are_told_in_one_go() -> None:
    """One run tells of every material that has nothing to cut it from."""
    parts = [part("a", (30, 30)), part("b", (40, 30), material="MDF"), part("c", (9, 9))]
    none = [sheet(in_stock=0), sheet("board", in_stock=0, material="MDF")]
    with pytest.raises(CannotCutError) as caught:
        divide(job(parts, none))
    assert [reason.split(":")[0] for reason in said(caught.value)] == ["a, c", "b"]


@pytest.mark.parametrize(
    ("reach", "kerf", "trim", "expected"),
    [(None, 3, 2, 2), (2500, 3, 2, 2), (1300, 3, 2, 4), (1300, 3, 6, 6), (1300, 0, 6, 6)],
)
def test_trim_leaves_the_usable_region(reach: int, kerf: int, trim: int, expected: int) -> None:
    """The trim comes off each edge; cut off as a piece of its own it is wider than a kerf.

    That is where there is nothing but a fence; with a guide no edge is beyond reach.
    """
    asked = job([part("a", (31, 30))], [sheet(trim=trim)], kerf=kerf, reach=reach)
    (guided,) = divide(asked).groups[0].problem.bins
    assert int(guided.trim * divide(asked).grid.unit) == trim
    asked = replace(asked, saws=(asked.saw,))
    (only,) = divide(asked).groups[0].problem.bins
    unit = divide(asked).grid.unit
    sizes = (int(only.trim * unit), int(only.length * unit), int(only.width * unit))
    assert sizes == (expected, 2440 - 2 * expected, 1220 - 2 * expected)


def test_saw_without_limits() -> None:
    """No reach and no scale mean any distance."""
    asked = replace(job([part("a", (30, 30))]), saw=Saw(Fraction(0)))
    fence = divide(asked).fence
    assert (fence.kerf, fence.reach, fence.mark) == (0, None, 1)
