"""The store's limits, and what has to go into the vehicle."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from cutlist.audit.findings import Code, Report, show
from cutlist.model.plan import Place

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.audit.replay import Replay
    from cutlist.model.plan import Plan


def check_store_cuts(plan: Plan, run: Replay, report: Report) -> None:
    """Check that no sheet has more cuts at the store than the store makes."""
    if plan.job.store is None or plan.job.store.max_cuts is None:
        return
    counts: Counter[int] = Counter()
    for setting in plan.settings:
        if setting.place is Place.STORE:
            for cut in setting.cuts:
                made = run.pieces.get(cut.piece)
                if made is not None and made.workpiece is not None:
                    counts[made.workpiece] += 1
    for index, count in sorted(counts.items()):
        if count > plan.job.store.max_cuts:
            message = f"has {count} cuts at the store, at most {plan.job.store.max_cuts} are made"
            where = f"workpiece {plan.workpieces[index].piece}"
            report.add(Code.STORE_CUTS_EXCEEDED, where, message)


def check_vehicle(plan: Plan, run: Replay, report: Report) -> None:
    """Check that every bought piece goes in after the last store cut, and can be carried.

    What comes from stock on hand is at the shop already.
    """
    vehicle = plan.job.vehicle
    if vehicle is None:
        return
    beds = [(vehicle.bed_length, vehicle.bed_width)]
    if vehicle.second_opening is not None:
        beds.append(vehicle.second_opening)
    into = " or ".join(f"{show(length)} × {show(width)}" for length, width in beds)
    for name in run.at_home:
        made = run.pieces[name]
        if made.workpiece is None or not plan.workpieces[made.workpiece].bought:
            continue
        piece = made.piece
        if not any(fits(piece.length, piece.width, *bed) for bed in beds):
            message = f"{show(piece.length)} × {show(piece.width)} does not fit the bed of {into}"
            report.add(Code.VEHICLE_TOO_SMALL, f"piece {name}", message)


def fits(length: Fraction, width: Fraction, into_length: Fraction, into_width: Fraction) -> bool:
    """Tell if one rectangle fits into another, one way or the other."""
    return (length <= into_length and width <= into_width) or (
        length <= into_width and width <= into_length
    )
