"""Weights of a plan's pieces, the trips that they are taken home in, and what the store charges."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from cutlist.ledger.charges import store_charge
from cutlist.ledger.weights import lift_of, lineage, loads
from cutlist.model.plan import Piece, Plan
from cutlist.model.weights import Weight
from cutlist.planning.assembling.trips import trips
from cutlist.units.masses import cubic_metres


def with_weights(plan: Plan) -> Plan:
    """Weigh every workpiece, every piece that goes home and every panel, and plan the trips.

    A piece of stock whose density the job does not know gives no weights; where one of the bought
    pieces has none there are no trips.
    """
    plan = replace(plan, weights=tuple(_weights(plan)))
    vehicle = plan.job.vehicle
    if vehicle is None or vehicle.max_load_kg is None:
        return plan
    known = {name: kg for name, kg in loads(plan) if kg is not None}
    if len(known) < sum(1 for _ in loads(plan)):
        return plan
    whole, _ = lineage(plan)
    sheet_of = {name: whole[name].piece for name in known}
    return replace(plan, trips=trips(known.items(), vehicle.max_load_kg, sheet_of))


def with_charge(plan: Plan) -> Plan:
    """Add what the store asks for its cuts, trip by trip, to the cost of the purchase."""
    cost = sum((line.cost for line in plan.buy), Decimal(0)) + store_charge(plan).amount
    bounds = replace(plan.bounds, cost_proven=plan.bounds.cost == cost)
    return replace(plan, totals=replace(plan.totals, cost=cost), bounds=bounds)


def _weights(plan: Plan) -> Iterable[Weight]:
    densities = {stock.name: stock.density for stock in plan.job.stock}
    whole, home = lineage(plan)
    start = Fraction(0)
    pieces = [Piece(w.piece, start, start, w.length, w.width) for w in plan.workpieces]
    pieces += [*home, *(panel.piece for panel in plan.panels)]
    for piece in {piece.name: piece for piece in pieces}.values():
        source = whole[piece.name]
        density = densities[source.stock]
        if density is not None:
            volume = cubic_metres(piece.length, piece.width, source.thickness, plan.job.units)
            kg = volume * density.kg_per_m3
            yield Weight(piece.name, kg, lift_of(kg))
