"""Weights of a plan's pieces, and the trips that they are taken home in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from cutlist.model.plan import Piece, Plan
from cutlist.model.weights import Trip, Weight, cubic_metres, lift_of, lineage, loads


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
    return replace(plan, trips=trips(known.items(), vehicle.max_load_kg))


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


def trips(pieces: Iterable[tuple[str, Fraction]], max_load_kg: Fraction) -> tuple[Trip, ...]:
    """Share pieces out to trips, the heaviest first, each to the first trip that still takes it.

    First fit by decreasing weight takes at most 11/9 of the fewest trips and one more (Johnson
    1973; from memory). A piece heavier than the load goes by itself.

    Parameters
    ----------
    pieces
        Name and weight of each.
    max_load_kg
        What the vehicle carries.
    """
    made: list[Trip] = []
    pieces = tuple(pieces)
    for name, kg in sorted(pieces, key=lambda one: -one[1]):
        for index, trip in enumerate(made):
            if trip.kg + kg <= max_load_kg:
                made[index] = Trip((*trip.pieces, name), trip.kg + kg)
                break
        else:
            made.append(Trip((name,), kg))
    place = {name: index for index, (name, _) in enumerate(pieces)}
    return tuple(Trip(tuple(sorted(trip.pieces, key=place.__getitem__)), trip.kg) for trip in made)
