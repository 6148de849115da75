"""Weights of a plan's pieces, and trips."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from cutlist.audit import audit
from cutlist.model.job import Store, Vehicle
from cutlist.model.plan import Purpose
from cutlist.model.weights import Density
from cutlist.planning.assembling.weights import with_charge, with_weights
from tests.audit.edits import with_job, with_sheet
from tests.audit.plans import SOUND, f
from tests.planning.jobs import job, offcut, part, planned, sheet


def test_weights_and_trips_are_those_worked_out_by_hand() -> None:
    """From densities and largest load come the weights, lifts and trips of the plan by hand."""
    plan = SOUND["heavy_boards"]()
    assert with_weights(replace(plan, weights=(), trips=())) == plan


def test_halves_from_the_store_are_weighed_and_carried() -> None:
    """A sheet halved at the store goes in two trips where one half alone is not too much.

    96 × 48 × 3/4 in is 2 ft³, 0.0566337 m³: at 700 kg/m³ 39.64 kg, each half less than 20.
    """
    plan = with_sheet(SOUND["store_and_vehicle"](), 0, density=Density(Fraction(700)))
    plan = with_weights(with_job(plan, vehicle=Vehicle(f(60), f(48), f(20))))
    assert [trip.pieces for trip in plan.trips] == [("A1",), ("A2",)]
    assert all(trip.kg < 20 for trip in plan.trips)
    weighed = {weight.piece: float(weight.kg) for weight in plan.weights}
    assert weighed["A"] == pytest.approx(39.6436, abs=1e-3)
    assert audit(plan) == ()


def test_without_a_density_nothing_is_invented() -> None:
    """One sheet of unknown weight: the others are weighed, and there are no trips."""
    plan = with_sheet(replace(SOUND["heavy_boards"](), trips=()), 1, density=None)
    plan = with_weights(plan)
    assert [weight.piece for weight in plan.weights] == ["A", "B", "D", "D1", "D2"]
    assert plan.trips == ()
    assert audit(plan) == ()


def test_plans_come_weighed() -> None:
    """What is planned is weighed: sheets bought, offcuts used and every panel."""
    density = Density(Fraction(650), "particleboard")
    asked = job(
        [part("wall", (1200, 600), 5), part("rail", (600, 100), 4)],
        [replace(sheet(), density=density)],
        [replace(offcut("rack", (1210, 610)), density=density)],
    )
    plan = planned(replace(asked, vehicle=Vehicle(Fraction(2500), Fraction(1300), Fraction(40))))
    pieces = {weight.piece for weight in plan.weights}
    assert pieces >= {one.piece for one in plan.workpieces}
    assert pieces >= {panel.piece.name for panel in plan.panels}
    assert len(plan.trips) == plan.totals.sheets


def test_the_charge_is_by_trips() -> None:
    """Two sheets with a cut each, 1.50 for each beyond the first: by weight one trip or two.

    2440 x 1220 x 18 mm at 700 kg/m³ weigh 37.5 kg, 60.00 each.
    """
    store = Store(Fraction(4), Fraction(2), 4, free_cuts=1, cut_price=Decimal("1.50"))
    board = replace(sheet(), density=Density(Fraction(700)))
    asked = job([part("wall", (1200, 600), 8)], [board])
    for load, trips, cost in ((80, 1, "121.50"), (40, 2, "120.00")):
        bed = Vehicle(Fraction(1230), Fraction(1230), Fraction(load))
        plan = planned(replace(asked, store=store, vehicle=bed), steps=2000)
        cuts = sum(1 for s in plan.settings for c in s.cuts if c.purpose is Purpose.BREAK_DOWN)
        assert (cuts, len(plan.trips), plan.totals.cost) == (2, trips, Decimal(cost))
        assert plan.bounds.cost_proven == (cost == "120.00")
        assert audit(plan) == ()


def test_the_charge_is_added_once() -> None:
    """Charged again a plan costs the same."""
    plan = SOUND["store_and_vehicle"]()
    assert with_charge(plan) == plan
    assert with_charge(with_charge(plan)) == plan
