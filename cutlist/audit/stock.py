"""Stock: every workpiece is one that the job offers, and the shopping list buys just those."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from typing import TYPE_CHECKING

from cutlist.audit.findings import Code, Report

if TYPE_CHECKING:
    from cutlist.model.job import Offcut, Sheet
    from cutlist.model.plan import Plan, Purchase, Workpiece


def check_stock(plan: Plan, report: Report) -> None:
    """Check the workpieces against the job's sheets and offcuts, and against the purchase."""
    sheets = {sheet.name: sheet for sheet in plan.job.sheets}
    offcuts = {offcut.name: offcut for offcut in plan.job.offcuts}
    for workpiece in plan.workpieces:
        stock = (sheets if workpiece.bought else offcuts).get(workpiece.stock)
        _check_workpiece(workpiece, stock, report)
    bought = Counter(item.stock for item in plan.workpieces if item.bought)
    on_hand = Counter(item.stock for item in plan.workpieces if not item.bought)
    for name, count in bought.items():
        limit = sheets[name].in_stock if name in sheets else None
        if limit is not None and count > limit:
            message = f"{count} are used, {limit} are in stock"
            report.add(Code.MORE_THAN_IN_STOCK, f"sheet {name}", message)
    for name, count in on_hand.items():
        if name in offcuts and count > offcuts[name].qty:
            message = f"{count} are used, {offcuts[name].qty} are on hand"
            report.add(Code.MORE_THAN_ON_HAND, f"offcut {name}", message)
    _check_purchase(plan, sheets, bought, report)


def _check_workpiece(workpiece: Workpiece, stock: Sheet | Offcut | None, report: Report) -> None:
    where = f"workpiece {workpiece.piece}"
    kind = "sheet" if workpiece.bought else "offcut"
    if stock is None:
        report.add(Code.STOCK_UNKNOWN, where, f"the job has no {kind} {workpiece.stock}")
        return
    for name in ("material", "thickness", "length", "width", "trims", "has_grain"):
        found, expected = getattr(workpiece, name), getattr(stock, name)
        if found != expected:
            message = f"its {name} is {found}, that of {kind} {stock.name} is {expected}"
            report.add(Code.STOCK_DIFFERS, where, message)


def _check_purchase(
    plan: Plan, sheets: dict[str, Sheet], bought: Counter[str], report: Report
) -> None:
    lines = Counter(line.sheet for line in plan.buy)
    counts: Counter[str] = Counter()
    for line in plan.buy:
        counts[line.sheet] += line.count
        _check_line(line, sheets.get(line.sheet), report)
    for name, times in lines.items():
        if times > 1:
            message = f"stands on {times} lines of the shopping list"
            report.add(Code.PURCHASE_TWICE, f"sheet {name}", message)
    for name in {**lines, **bought}:
        if counts[name] != bought[name] or counts[name] < 1:
            message = f"{counts[name]} are bought, {bought[name]} are used"
            report.add(Code.BUY_COUNT, f"sheet {name}", message)


def _check_line(line: Purchase, sheet: Sheet | None, report: Report) -> None:
    where = f"purchase {line.sheet}"
    if sheet is None:
        report.add(Code.STOCK_UNKNOWN, where, f"the job has no sheet {line.sheet}")
        return
    for name, expected in (
        ("material", sheet.material),
        ("thickness", sheet.thickness),
        ("length", sheet.length),
        ("width", sheet.width),
        ("price_each", sheet.price),
    ):
        found = getattr(line, name)
        if found != expected:
            message = f"its {name} is {found}, that of the sheet is {expected}"
            report.add(Code.PURCHASE_DIFFERS, where, message)
    cost = line.count * (line.price_each if line.price_each is not None else Decimal(0))
    if line.cost != cost:
        message = f"costs {line.cost}, {line.count} times the price is {cost}"
        report.add(Code.PURCHASE_COST, where, message)
