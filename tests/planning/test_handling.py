"""Weights of a plan's pieces, and trips."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import product
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cutlist.audit import audit
from cutlist.model.job import Vehicle
from cutlist.model.weights import Density
from cutlist.planning.handling import trips, with_weights
from tests.audit.edits import with_job, with_sheet
from tests.audit.plans import SOUND, f
from tests.planning.jobs import job, offcut, part, planned, sheet

WEIGHTS = st.lists(st.integers(1, 60), max_size=6)


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


@given(weights=WEIGHTS, most=st.integers(60, 100))
def test_trips_carry_all_and_never_too_much(weights: list[int], most: int) -> None:
    """Each piece is on one trip; by the known bound first fit takes at most 11/9 of the fewest + 1.

    The fewest are found by trying every way to share the pieces out.
    """
    pieces = [(f"P{index}", Fraction(kg)) for index, kg in enumerate(weights)]
    made = trips(pieces, Fraction(most))
    assert sorted(name for trip in made for name in trip.pieces) == sorted(n for n, _ in pieces)
    known = dict(pieces)
    for trip in made:
        assert trip.kg == sum(known[name] for name in trip.pieces) <= most
    fewest = next(
        count
        for count in range(len(weights) + 1)
        if any(
            all(
                sum(kg for kg, to in zip(weights, way, strict=True) if to == trip) <= most
                for trip in range(count)
            )
            for way in product(range(count), repeat=len(weights))
        )
    )
    assert fewest >= ceil(sum(weights) / most)
    assert fewest <= len(made) <= 11 * fewest / 9 + 1


def test_what_no_trip_carries_goes_by_itself() -> None:
    """A piece over the load stands alone; one that meets it exactly is no exception."""
    made = trips([("A", f(50)), ("B", f(101)), ("C", f(100)), ("D", f(50))], f(100))
    assert [trip.pieces for trip in made] == [("B",), ("C",), ("A", "D")]
    assert trips([], f(100)) == ()
