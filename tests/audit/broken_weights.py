"""The plan of heavy boards with one weight or trip changed, and the codes that the audit gives."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from cutlist.model.job import Vehicle
from cutlist.model.plan import Plan
from cutlist.model.weights import Lift, Trip, Weight
from tests.audit.edits import with_item, with_job, without
from tests.audit.making import f

Edit = Callable[[Plan], Plan]


def _weighed_again(plan: Plan) -> Plan:
    return replace(plan, weights=(*plan.weights, Weight("E", f(1), Lift.ONE)))


def _weighed_twice(plan: Plan) -> Plan:
    return replace(plan, weights=(*plan.weights, plan.weights[0]))


def _density_unknown(plan: Plan) -> Plan:
    """Forget what the offcut weighs, but not its weight."""
    offcuts = tuple(replace(offcut, density=None) for offcut in plan.job.offcuts)
    return with_job(plan, offcuts=offcuts)


def _trip_of_nothing(plan: Plan) -> Plan:
    return replace(plan, trips=(*plan.trips, Trip((), f(0))))


BROKEN_WEIGHTS: list[tuple[str, str, Edit, set[int]]] = [
    ("weight", "heavy_boards", lambda p: with_item(p, "weights", 3, kg=f(4.9)), {821}),
    ("weight of nothing", "heavy_boards", _weighed_again, {821}),
    ("weight without density", "heavy_boards", _density_unknown, {821}),
    ("weight untold", "heavy_boards", lambda p: without(p, "weights", 4), {822}),
    ("weight told twice", "heavy_boards", _weighed_twice, {822}),
    (
        "two people called one",
        "heavy_boards",
        lambda p: with_item(p, "weights", 2, lift=Lift.ONE),
        {823},
    ),
    (
        "more people called two",
        "heavy_boards",
        lambda p: with_item(p, "weights", 0, lift=Lift.TWO),
        {823},
    ),
    ("trip left out", "heavy_boards", lambda p: without(p, "trips", 1), {824}),
    (
        "offcut taken along",
        "heavy_boards",
        lambda p: with_item(p, "trips", 1, pieces=("C", "D"), kg=f(32.7075)),
        {824},
    ),
    (
        "trips without a largest load",
        "heavy_boards",
        lambda p: with_job(p, vehicle=Vehicle(f(2500), f(1300))),
        {824},
    ),
    ("trip weight", "heavy_boards", lambda p: with_item(p, "trips", 1, kg=f(28)), {825}),
    ("trip of nothing", "heavy_boards", _trip_of_nothing, {825}),
    (
        "trip too heavy",
        "heavy_boards",
        lambda p: with_job(p, vehicle=Vehicle(f(2500), f(1300), f(89))),
        {826},
    ),
    (
        "one board heavier than the load",
        "heavy_boards",
        lambda p: replace(
            with_job(p, vehicle=Vehicle(f(2500), f(1300), f(30))),
            trips=(Trip(("A",), f(44.652)), Trip(("B",), f(44.652)), Trip(("C",), f(27.9075))),
        ),
        {806},
    ),
]

SOUND_WEIGHTS: list[tuple[str, str, Edit]] = [
    (
        "load",
        "heavy_boards",
        lambda p: with_job(p, vehicle=Vehicle(f(2500), f(1300), f(89.304))),
    ),
]
"""Changed so that a limit is met exactly."""
