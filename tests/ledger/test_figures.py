"""The figures that plans are compared by."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from cutlist.ledger.figures import figures_of, variant_figures
from cutlist.model.variants import Variant
from tests.audit.plans import SOUND
from tests.refusing import because


def test_figures_are_those_of_the_plan() -> None:
    """Three boards of two sizes in two trips: 117.2115 kg, as worked out beside the plan."""
    plan = SOUND["heavy_boards"]()
    figures = figures_of(plan)
    assert figures.sheets == plan.totals.sheets
    assert figures.cost == plan.totals.cost
    assert figures.waste_percent == plan.totals.waste_percent
    assert (figures.setups, figures.cuts) == (plan.totals.setups, plan.totals.cuts)
    assert figures.kg == Fraction("117.2115")
    assert figures.trips == 2
    assert figures.store_cuts == 0
    area = figures.largest.length * figures.largest.width
    assert area == max(work.length * work.width for work in plan.workpieces)
    assert figures.largest_kg == max(weight.kg for weight in plan.weights)


def test_what_the_store_cuts_is_handled_in_pieces() -> None:
    """The largest piece is a blank, not the sheet that the store has cut up."""
    plan = SOUND["store_and_vehicle"]()
    figures = figures_of(plan)
    assert figures.store_cuts > 0
    bought = max(work.length * work.width for work in plan.workpieces)
    assert figures.largest.length * figures.largest.width < bought


def test_what_is_not_known_is_none() -> None:
    """Without weights there are none, nor trips; without a largest load no trips either."""
    plan = replace(SOUND["heavy_boards"](), weights=(), trips=())
    figures = figures_of(plan)
    assert (figures.kg, figures.trips, figures.largest_kg) == (None, None, None)
    unlimited = SOUND["heavy_boards"]()
    unlimited = replace(unlimited, job=replace(unlimited.job, vehicle=None), trips=())
    assert figures_of(unlimited).trips is None


def test_a_variant_without_a_plan_has_no_figures() -> None:
    """There is nothing to take them from."""
    variant = Variant("MDF", Fraction(18), ("full",), False, None, because("too small"))
    assert variant_figures(variant) is None
