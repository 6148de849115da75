"""What the shop begins with: names of sheets and blanks, and the store's cuts by setting."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from cutlist.audit import audit
from cutlist.model.job import Job, Store, Vehicle
from cutlist.model.layout import Axis
from cutlist.model.plan import Place, Plan, Purpose
from cutlist.planning.supply import Supply, grouped
from cutlist.sequencing.cutting import Box, CutStep
from tests.planning.jobs import job, offcut, part, planned, sheet

STORE = Store(Fraction(4), Fraction(2), 4, 2, Decimal("0.50"))


def small_car(store: Store = STORE) -> Job:
    """Return panels that fill a sheet, and a car that takes half a sheet."""
    asked = job([part("side", (1200, 590), 4)], [sheet("full", (2440, 1220), trim=5)])
    return replace(asked, store=store, vehicle=Vehicle(Fraction(1250), Fraction(1230)))


def store_cuts(plan: Plan) -> list[tuple[str, str, str]]:
    """Return piece, kept and rest of each cut at the store."""
    return [
        (cut.piece, cut.kept.name, cut.rest.name if cut.rest else "")
        for setting in plan.settings
        if setting.place is Place.STORE
        for cut in setting.cuts
    ]


def cut(piece: str, distance: int) -> CutStep:
    """Return a crosscut."""
    kept, rest = Box(piece + "k", 0, 0, distance, 5), Box(piece + "r", distance, 0, 9, 5)
    return CutStep(piece, Axis.X, Purpose.BREAK_DOWN, kept, rest)


def test_whole_stock_is_lettered() -> None:
    """Without a store sheets and offcuts have letters in order."""
    stock = (sheet(), offcut("rack", (500, 400)))
    supply = Supply.of(stock)
    assert [start.name for start in supply.starts] == ["A", "B"]
    assert supply.workpieces == (("A", stock[0]), ("B", stock[1]))
    assert supply.store == ()


def test_blanks_of_a_plan() -> None:
    """One crosscut makes two blanks, A1 and A2; the shop goes on with their names."""
    plan = planned(small_car())
    assert audit(plan) == ()
    assert store_cuts(plan) == [("A", "A1", "A2")]
    assert [workpiece.piece for workpiece in plan.workpieces] == ["A"]
    assert {panel.piece.name[:2] for panel in plan.panels} == {"A1", "A2"}
    (first, *others) = plan.settings
    assert (first.place, first.kerf, first.cuts[0].purpose) == (
        Place.STORE,
        Fraction(4),
        Purpose.BREAK_DOWN,
    )
    assert all(setting.place is Place.SHOP for setting in others)
    assert plan.totals.cost == Decimal(60)


def test_cuts_beyond_the_free_ones_are_paid() -> None:
    """With no cut free the one cut is on the bill; no sheet gets in without it, so it is proven."""
    plan = planned(small_car(replace(STORE, free_cuts=0)))
    assert plan.totals.cost == Decimal("60.50")
    assert (plan.bounds.cost, plan.bounds.cost_proven) == (Decimal("60.50"), True)


def test_a_blank_left_alone_is_an_offcut() -> None:
    """What is bought with a blank and not needed goes home as it is, under its name."""
    asked = replace(small_car(), parts=(part("side", (1200, 590), 1),))
    plan = planned(asked)
    assert audit(plan) == ()
    whole = {"A1", "A2"} & {leftover.piece.name for leftover in plan.leftovers}
    assert len(whole) == 1


def test_sheets_are_cut_together() -> None:
    """Each sheet's cuts keep their order; cuts of one distance share a setting where they can."""
    settings = grouped([[cut("A", 40), cut("A", 30)], [cut("B", 40), cut("B", 30)], [cut("C", 30)]])
    assert [(one.distance, [c.piece for c in one.cuts]) for one in settings] == [
        (40, ["A", "B"]),
        (30, ["A", "B", "C"]),
    ]
    assert grouped([]) == ()
