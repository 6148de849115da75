"""What the pieces weigh, what it takes to lift them, and which trips take them home.

All is worked out again from the job's densities by the rules of the plan format, *Weights* and
*Trips*.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.audit.findings import Code, Report, show
from cutlist.model.weights import Lift
from cutlist.units.system import Units

if TYPE_CHECKING:
    from cutlist.audit.replay import Replay
    from cutlist.model.plan import Plan

#: Unit of a job in mm, exactly.
_MM: Final = {Units.INCH: Fraction(127, 5), Units.MM: Fraction(1)}
#: kg up to which a piece is lifted so; more takes more.
_LIMITS: Final = ((Fraction(23), Lift.ONE), (Fraction(92, 3), Lift.TWO))


def check_weights(plan: Plan, run: Replay, report: Report) -> None:
    """Check that each workpiece, each piece that goes home and each panel has its weight."""
    expected = _expected(plan, run)
    told = Counter(weight.piece for weight in plan.weights)
    for weight in plan.weights:
        where = f"piece {weight.piece}"
        kg = expected.get(weight.piece)
        if kg is None:
            report.add(Code.WEIGHT_DIFFERS, where, "has a weight that nothing tells")
        elif weight.kg != kg:
            message = f"weighs {show(weight.kg)} kg, by its density {show(kg)} kg"
            report.add(Code.WEIGHT_DIFFERS, where, message)
        lift = next((lift for most, lift in _LIMITS if weight.kg <= most), Lift.MORE)
        if weight.lift is not lift:
            message = f"is said to take {weight.lift}, but at {show(weight.kg)} kg takes {lift}"
            report.add(Code.LIFT_WRONG, where, message)
    for piece in expected:
        if told[piece] != 1:
            message = f"its weight is told {told[piece]} times"
            report.add(Code.WEIGHT_UNTOLD, f"piece {piece}", message)


def _expected(plan: Plan, run: Replay) -> dict[str, Fraction]:
    """Weigh each piece that has to have a weight, and whose density the job knows."""
    densities = {stock.name: stock.density for stock in plan.job.stock}
    names = [item.piece for item in plan.workpieces]
    names += [*run.at_home, *(panel.piece.name for panel in plan.panels)]
    weights: dict[str, Fraction] = {}
    for name in names:
        made = run.pieces.get(name)
        if made is None or made.workpiece is None:
            continue
        workpiece = plan.workpieces[made.workpiece]
        density = densities.get(workpiece.stock)
        if density is not None:
            volume = made.piece.length * made.piece.width * workpiece.thickness
            litres = volume * _MM[plan.job.units] ** 3 / 1_000_000
            weights[name] = litres * density.kg_per_m3 / 1000
    return weights


def check_loads(plan: Plan, run: Replay, report: Report) -> None:
    """Check that no bought piece alone, where its weight is known, is more than the load."""
    vehicle = plan.job.vehicle
    if vehicle is None or vehicle.max_load_kg is None:
        return
    expected = _expected(plan, run)
    for name in run.at_home:
        index, kg = run.pieces[name].workpiece, expected.get(name)
        if index is None or kg is None or not plan.workpieces[index].bought:
            continue
        if kg > vehicle.max_load_kg:
            message = f"weighs {show(kg)} kg, the vehicle carries {show(vehicle.max_load_kg)} kg"
            report.add(Code.PIECE_TOO_HEAVY, f"piece {name}", message)


def check_trips(plan: Plan, run: Replay, report: Report) -> None:
    """Check that all that is bought goes on one trip each, and no trip carries too much."""
    expected = _expected(plan, run)
    bought = [
        name
        for name in run.at_home
        if (index := run.pieces[name].workpiece) is not None and plan.workpieces[index].bought
    ]
    vehicle = plan.job.vehicle
    most = None if vehicle is None else vehicle.max_load_kg
    if most is None or any(name not in expected for name in bought):
        if plan.trips:
            report.add(Code.TRIP_PIECES, "the trips", "are told, but nothing tells the load")
        return
    carried = Counter(name for trip in plan.trips for name in trip.pieces)
    for name in dict.fromkeys([*bought, *carried]):
        if carried[name] != bought.count(name):
            message = f"is on {carried[name]} trips, expected {bought.count(name)}"
            report.add(Code.TRIP_PIECES, f"piece {name}", message)
    for number, trip in enumerate(plan.trips, start=1):
        kg = sum((expected.get(name, Fraction(0)) for name in trip.pieces), Fraction(0))
        if trip.kg != kg or not trip.pieces:
            message = f"weighs {show(trip.kg)} kg, its pieces {show(kg)} kg"
            report.add(Code.TRIP_WEIGHT, f"trip {number}", message)
        if kg > most and len(trip.pieces) > 1:
            message = f"carries {show(kg)} kg, the vehicle {show(most)} kg"
            report.add(Code.TRIP_OVERLOADED, f"trip {number}", message)
