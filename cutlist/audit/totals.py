"""The totals counted again, and the bounds held against them."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.audit.findings import Code, Report, show
from cutlist.audit.settings import DEVICES, saw_of
from cutlist.model.plan import Place
from cutlist.model.sawing import Device

if TYPE_CHECKING:
    from cutlist.model.plan import Plan, SawSetup

ZERO = Fraction(0)
#: Minutes that a set-up takes where the job does not say, and that a cut takes (common practice).
_MINUTES: Final = {Device.FENCE: 3, Device.STOP: 2, Device.GUIDE: 5}
_MINUTES_A_CUT: Final = 1


def check_totals(plan: Plan, report: Report) -> None:
    """Count every total again from the rest of the plan."""
    totals = plan.totals
    cuts = sum(len(setting.cuts) for setting in plan.settings)
    cost = sum((line.cost for line in plan.buy), Decimal(0)) + _store_charge(plan)
    part_area = sum((p.piece.length * p.piece.width for p in plan.panels), ZERO)
    sheet_area = sum((w.length * w.width for w in plan.workpieces), ZERO)
    kept_area = sum((o.piece.length * o.piece.width for o in plan.leftovers if o.keep), ZERO)
    shop = [setting for setting in plan.settings if setting.place is Place.SHOP]
    waste = 100 * (sheet_area - part_area - kept_area) / sheet_area if sheet_area else ZERO
    figures: tuple[tuple[Code, str, Decimal | Fraction | int, Decimal | Fraction | int], ...] = (
        (Code.TOTAL_SHEETS, "sheets", totals.sheets, sum(w.bought for w in plan.workpieces)),
        (Code.TOTAL_COST, "cost", totals.cost, cost),
        (Code.TOTAL_SETUPS, "setups", totals.setups, len(shop)),
        (
            Code.TOTAL_STORE_SETUPS,
            "store_setups",
            totals.store_setups,
            len(plan.settings) - len(shop),
        ),
        (Code.TOTAL_MINUTES, "minutes", totals.minutes, _minutes(plan, shop)),
        (Code.TOTAL_CUTS, "cuts", totals.cuts, cuts),
        (Code.TOTAL_PARTS, "parts", totals.parts, len(plan.panels)),
        (Code.TOTAL_PART_AREA, "part_area", totals.part_area, part_area),
        (Code.TOTAL_SHEET_AREA, "sheet_area", totals.sheet_area, sheet_area),
        (Code.TOTAL_KEPT_OFFCUT_AREA, "kept_offcut_area", totals.kept_offcut_area, kept_area),
        (Code.TOTAL_WASTE_PERCENT, "waste_percent", totals.waste_percent, waste),
    )
    for code, name, found, expected in figures:
        if found != expected:
            message = f"is {_figure(found)}, counted {_figure(expected)}"
            report.add(code, f"total {name}", message)
    by_device = tuple(
        (device, sum(setting.device is device for setting in shop)) for device in _MINUTES
    )
    if totals.setups_by_device != by_device:
        told, counted = (_by_device(one) for one in (totals.setups_by_device, by_device))
        message = f"is {told}, counted {counted}"
        report.add(Code.TOTAL_SETUPS_BY_DEVICE, "total setups_by_device", message)


def _by_device(counts: tuple[tuple[Device, int], ...]) -> str:
    return ", ".join(f"{count} {device.value}" for device, count in counts) or "nothing"


def _minutes(plan: Plan, shop: list[SawSetup]) -> Fraction:
    """Return the time that set-ups and cuts at the shop take, as the job has it or as is usual."""
    total = ZERO
    for setting in shop:
        saw = saw_of(plan.job, setting)
        if saw is not None:
            told = (saw.minutes_per_setup, plan.job.minutes_per_setup, _MINUTES[DEVICES[saw.kind]])
            total += next(minutes for minutes in told if minutes is not None)
        total += len(setting.cuts) * _MINUTES_A_CUT
    return total


def _store_charge(plan: Plan) -> Decimal:
    """Return what the store's cuts cost: on each trip the first ``free_cuts`` for nothing.

    A sheet is cut on the first trip that takes a piece of it; without trips there is one.
    """
    store = plan.job.store
    if store is None:
        return Decimal(0)
    sheet_of = {workpiece.piece: workpiece.piece for workpiece in plan.workpieces}
    cuts: Counter[str] = Counter()
    for setting in plan.settings:
        if setting.place is Place.STORE:
            for cut in setting.cuts:
                sheet = sheet_of.get(cut.piece, cut.piece)
                cuts[sheet] += 1
                for piece in (cut.kept, cut.rest):
                    if piece is not None:
                        sheet_of[piece.name] = sheet
    on_trip: Counter[int] = Counter()
    for sheet, count in cuts.items():
        taken = (
            number
            for number, trip in enumerate(plan.trips)
            if any(sheet_of.get(name) == sheet for name in trip.pieces)
        )
        on_trip[next(taken, 0)] += count
    paid = sum(max(0, count - store.free_cuts) for count in on_trip.values())
    return paid * store.cut_price


def _figure(value: Decimal | Fraction | int) -> str:
    return show(value) if isinstance(value, Fraction) else str(value)


def check_bounds(plan: Plan, report: Report) -> None:
    """Check that no figure lies below its bound, and is called proven just where they meet."""
    totals, bounds = plan.totals, plan.bounds
    figures: tuple[tuple[Code, str, Decimal | int, Decimal | int], ...] = (
        (Code.BOUND_COST, "cost", bounds.cost, totals.cost),
        (Code.BOUND_SHEETS, "sheets", bounds.sheets, totals.sheets),
        (Code.BOUND_SETUPS, "setups", bounds.setups, totals.setups),
        (Code.BOUND_SETUPS, "order", bounds.order, totals.setups),
    )
    for code, name, bound, reached in figures:
        if bound > reached:
            report.add(code, f"bound {name}", f"is {bound}, but the plan has {reached}")
    for code, name, proven, meet in (
        (
            Code.BOUND_COST_PROVEN,
            "cost_proven",
            bounds.cost_proven,
            bounds.cost == totals.cost,
        ),
        (
            Code.BOUND_SETUPS_PROVEN,
            "setups_proven",
            bounds.setups_proven,
            bounds.setups == totals.setups,
        ),
    ):
        if proven != meet:
            message = f"is {proven}, but bound and figure {'meet' if meet else 'do not meet'}"
            report.add(code, f"bound {name}", message)
