"""Weights of a plan's pieces, the trips that they are taken home in, and what the store charges."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from cutlist.ledger.charges import store_charge
from cutlist.ledger.ledger import Ledger, read_ledger
from cutlist.ledger.weights import lift_of, loads
from cutlist.model.plan import Plan
from cutlist.model.weights import Weight
from cutlist.planning.assembling.trips import trips
from cutlist.units.masses import cubic_metres


def with_weights(plan: Plan, ledger: Ledger | None = None) -> Plan:
    """Weigh every workpiece, every piece that goes home and every panel, and plan the trips.

    A piece of stock whose density the job does not know gives no weights; where one of the bought
    pieces has none there are no trips. The ``ledger`` of the plan is read where none is given.
    """
    ledger = ledger or read_ledger(plan)
    plan = replace(plan, weights=tuple(_weights(ledger)))
    ledger = replace(ledger, plan=plan)
    vehicle = plan.job.vehicle
    if vehicle is None or vehicle.max_load_kg is None:
        return plan
    known = {name: kg for name, kg in loads(ledger) if kg is not None}
    if len(known) < sum(1 for _ in loads(ledger)):
        return plan
    sheet_of = {name: ledger.stock_of[name].piece for name in known}
    return replace(plan, trips=trips(known.items(), vehicle.max_load_kg, sheet_of))


def with_charge(plan: Plan, ledger: Ledger | None = None) -> Plan:
    """Add what the store asks for its cuts, trip by trip, to the cost of the purchase."""
    ledger = replace(ledger, plan=plan) if ledger else read_ledger(plan)
    cost = sum((line.cost for line in plan.buy), Decimal(0)) + store_charge(ledger).amount
    bounds = replace(plan.bounds, cost_proven=plan.bounds.cost == cost)
    return replace(plan, totals=replace(plan.totals, cost=cost), bounds=bounds)


def _weights(ledger: Ledger) -> Iterable[Weight]:
    plan, whole = ledger.plan, ledger.stock_of
    densities = {stock.name: stock.density for stock in plan.job.stock}
    pieces = [ledger.pieces[one.piece] for one in plan.workpieces]
    pieces += [*ledger.home, *(panel.piece for panel in plan.panels)]
    for piece in {piece.name: piece for piece in pieces}.values():
        source = whole[piece.name]
        density = densities[source.stock]
        if density is not None:
            volume = cubic_metres(piece.length, piece.width, source.thickness, plan.job.units)
            kg = volume * density.kg_per_m3
            yield Weight(piece.name, kg, lift_of(kg))
