"""The plan put together: names, counts and areas added up by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from cutlist.model.job import KeepFrom
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Direction, Place, Plan, Purpose
from cutlist.planning.assembling.assemble import CostBound, assemble
from cutlist.planning.ordering.supply import Supply
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.sequence import StockLayout, sequence
from cutlist.units.grid import Grid
from tests.planning.jobs import job, offcut, part, sheet


def by_hand() -> Plan:
    """Return a plan of a sheet 200 x 100 and an offcut 60 x 40 in steps of a half, kerf 2.

    The sheet is ripped at 30, the strip crosscut at 80 twice; the offcut holds one panel.
    """
    asked = job(
        [part("end", (80, 30), 2), part("top", (40, 60))],
        [sheet("full", (200, 100), "12.50")],
        [offcut("rack", (60, 40))],
        kerf=2,
    )
    strip = Strip(Axis.X, 400, 60, (Cell(0, 160, 60), Cell(0, 160, 60)))
    layouts = [
        StockLayout(Layout(0, Strip(Axis.Y, 400, 200, (strip,)))),
        StockLayout(Layout(1, Cell(1, 120, 80))),
    ]
    sequenced = sequence(layouts, Fence(4))
    bound = CostBound(Decimal("12.50"), 1)
    supply = Supply.of((*asked.sheets, *asked.offcuts))
    return assemble(asked, Grid(Fraction(1, 2)), supply, sequenced, bound)


def test_workpieces_and_purchases() -> None:
    """Sheets are bought, offcuts are not; letters follow the order of the stock."""
    plan = by_hand()
    assert [(w.piece, w.stock, w.bought) for w in plan.workpieces] == [
        ("A", "full", True),
        ("B", "rack", False),
    ]
    (line,) = plan.buy
    assert (line.sheet, line.count) == ("full", 1)
    assert (line.price_each, line.cost) == (Decimal("12.50"), Decimal("12.50"))


def test_settings_and_cuts_are_numbered() -> None:
    """Settings count from 1, cuts from 1 through all settings; lengths are the job's own."""
    plan = by_hand()
    assert [(s.number, s.place, s.tool) for s in plan.settings] == [
        (1, Place.SHOP, "table saw"),
        (2, Place.SHOP, "table saw"),
    ]
    assert [int(s.distance) for s in plan.settings] == [30, 80]
    assert {s.kerf for s in plan.settings} == {Fraction(2)}
    cuts = [cut for setting in plan.settings for cut in setting.cuts]
    assert [cut.number for cut in cuts] == [1, 2, 3]
    assert [cut.direction for cut in cuts] == [Direction.RIP, *[Direction.CROSSCUT] * 2]
    assert {cut.purpose for cut in cuts} == {Purpose.PART}
    rest = cuts[0].rest
    assert rest is not None
    assert [int(v) for v in (rest.x, rest.y, rest.length, rest.width)] == [0, 32, 200, 68]


def test_panels_are_counted_in_job_order() -> None:
    """Copies count from 1 within a part; a panel that lies across is turned."""
    plan = by_hand()
    panels = [(p.part, p.copy, p.piece.name, p.turned) for p in plan.panels]
    assert panels == [
        ("end", 1, "A1a", False),
        ("end", 2, "A1c", False),
        ("top", 1, "B", True),
    ]


def test_leftovers_and_totals() -> None:
    """Areas: 200 x 100 + 60 x 40 of stock, 2 x 80 x 30 + 40 x 60 of parts.

    By default a leftover of 300 x 100 mm is kept: here none is, so all is waste.
    """
    plan = by_hand()
    sizes = sorted((int(left.piece.length), int(left.piece.width)) for left in plan.leftovers)
    assert sizes == [(36, 30), (200, 68)]
    assert not any(left.keep for left in plan.leftovers)
    totals = plan.totals
    assert (totals.sheets, totals.setups, totals.cuts, totals.parts) == (1, 2, 3, 3)
    assert int(totals.sheet_area) == 22400
    assert int(totals.part_area) == 7200
    assert totals.kept_offcut_area == 0
    assert totals.waste_percent == Fraction(100 * (22400 - 7200), 22400)
    assert totals.cost == Decimal("12.50")


def test_bounds_are_passed_on() -> None:
    """What nesting and sequencing have proven stands in the plan."""
    bounds = by_hand().bounds
    assert (bounds.cost, bounds.cost_proven, bounds.sheets) == (Decimal("12.50"), True, 1)
    assert bounds.setups == 2
    assert bounds.setups_proven


def test_default_of_keeping() -> None:
    """A leftover of 300 x 100 mm is kept by default, either way round; keep_from overrules it."""
    strip = Strip(Axis.X, 500, 100, (Cell(0, 200, 100),))
    sequenced = sequence([StockLayout(Layout(0, strip))], Fence(0))
    bound = CostBound(Decimal(0), 1)
    asked = job([part("a", (200, 100))], [sheet("full", (500, 100))], kerf=0)
    for keep_from, kept in ((None, True), (KeepFrom(Fraction(301), Fraction(50)), False)):
        plan = assemble(
            replace(asked, keep_from=keep_from),
            Grid(Fraction(1)),
            Supply.of(asked.sheets),
            sequenced,
            bound,
        )
        assert [left.keep for left in plan.leftovers] == [kept]
        assert plan.totals.waste_percent == (0 if kept else 60)
