"""The figures that ways to plan the same parts are compared by."""

from __future__ import annotations

from fractions import Fraction

from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.shopping import shopping
from cutlist.model.plan import Place, Plan
from cutlist.model.variants import Figures, Variant


def variant_figures(variant: Variant) -> Figures | None:
    """Give the figures of a variant's plan; None where there is none."""
    return None if variant.plan is None else figures_of(variant.plan)


def figures_of(plan: Plan) -> Figures:
    """Take the figures out of a plan."""
    priced = not plan.buy or any(line.price_each is not None for line in plan.buy)
    at_store = [setting for setting in plan.settings if setting.place is Place.STORE]
    ledger = read_ledger(plan)
    largest = max(ledger.home, key=lambda piece: piece.length * piece.width)
    known = {weight.piece: weight.kg for weight in plan.weights}
    limited = plan.job.vehicle is not None and plan.job.vehicle.max_load_kg is not None
    kg = shopping(ledger).kg if plan.buy else Fraction(0)
    return Figures(
        sheets=plan.totals.sheets,
        cost=plan.totals.cost if priced else None,
        waste_percent=plan.totals.waste_percent,
        offcuts=sum(1 for leftover in plan.leftovers if leftover.keep),
        setups=plan.totals.setups,
        setups_by_device=plan.totals.setups_by_device,
        minutes=plan.totals.minutes,
        cuts=plan.totals.cuts,
        store_cuts=sum(len(setting.cuts) for setting in at_store),
        kg=kg,
        trips=len(plan.trips) if limited and kg is not None else None,
        largest=largest,
        largest_kg=known.get(largest.name),
    )
