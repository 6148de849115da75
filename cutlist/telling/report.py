"""What the command prints, as lines of plain text."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from cutlist.errors import JobError
from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.shopping import shopping
from cutlist.model.plan import Place
from cutlist.telling.reasons import match_words, visit_rows
from cutlist.telling.tables import NO_BREAK, USUAL_WIDTH, hanging
from cutlist.telling.weights import (
    heavy_rows,
    offcut_words,
    trip_words,
    unknown_weights,
    weight_words,
)
from cutlist.telling.wording import (
    area_words,
    cost_words,
    counted,
    money,
    setup_words,
    sheet_words,
    shop_words,
    trade_words,
    waste_words,
)
from cutlist.units.lengths import format_size, format_thickness

if TYPE_CHECKING:
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Plan


def fault_lines(error: JobError, undone: str = "nothing was planned") -> list[str]:
    """Tell every fault of a file: where, what was found, what is accepted, what was not done."""
    lines = []
    for fault in error.faults:
        place = f"{error.source}:{fault.line}:{fault.column}" if fault.line else error.source
        key = f" {fault.path}:" if fault.path else ""
        lines.append(f"{place}:{key} {fault.message}")
        if fault.found:
            lines.append(f"    found:    {fault.found}")
        if fault.accepted:
            lines.append(f"    accepted: {fault.accepted}")
    count = counted(len(error.faults), "fault")
    return [*lines, f"{count} in {error.source}; {undone}"]


def plan_lines(plan: Plan, paths: Sequence[Path], width: int = USUAL_WIDTH) -> list[str]:
    """Tell what to buy, the three figures, and where the documents are, ``width`` wide at most."""
    job, ledger = plan.job, read_ledger(plan)
    rows: list[tuple[str, str]] = []
    for purchase in plan.buy:
        size = format_size(purchase.length, purchase.width, job.units)
        thickness = format_thickness(purchase.thickness, job.units)
        price = "" if purchase.price_each is None else f"  {money(purchase.cost)}"
        what = f"{purchase.sheet}, {purchase.material} {thickness}, {size}"
        rows.append(("buy", f"{purchase.count} × {what}{price}"))
    used = [piece.stock for piece in plan.workpieces if not piece.bought]
    if used:
        rows.append(("on hand", ", ".join(sorted(set(used)))))
    if any(purchase.price_each is not None for purchase in plan.buy):
        rows.append(("cost", f"{money(plan.totals.cost)}; {cost_words(plan)}"))
    rows += _shopping_rows(ledger)
    rows.append(("sheets", sheet_words(plan)))
    rows.append(("set-ups", f"{shop_words(plan)}; {setup_words(plan)}"))
    rows.append(("cuts", _cuts_words(plan)))
    rows += [("trade", line) for line in trade_words(plan)]
    again = [
        f"{distance} at settings {numbers}"
        for visits, distance, numbers, _ in visit_rows(ledger)
        if visits != "1"
    ]
    if again:
        rows.append(("again", "; ".join(again)))
    rows += [("match", f"{m.name}: {match_words(ledger, m)}") for m in plan.matches]
    waste = f"{float(plan.totals.waste_percent):.1f} %"
    area = area_words(plan.totals.sheet_area, job)
    rows.append(("left", f"{waste_words(plan)}; waste {waste} of {area}"))
    unsafe = [cut.number for setting in plan.settings for cut in setting.cuts if cut.hazards]
    if unsafe:
        listed = ", ".join(str(number) for number in unsafe)
        count = counted(len(unsafe), "cut")
        rows.append(("unsafe", f"no saw makes {count} within its limits: {listed}"))
    rows += [("short", f"{entry.count} × {entry.part} left out") for entry in plan.short]
    lines = [job.name]
    for label, text in rows:
        lines += hanging(f"  {label}", _bound(text), at=11, width=width)
    # A path is there to be copied: it stays on its line.
    return lines + [f"  written  {path}" for path in paths]


def _cuts_words(plan: Plan) -> str:
    """Count the cuts, those of the store apart."""
    at_store = sum(len(one.cuts) for one in plan.settings if one.place is Place.STORE)
    words = str(plan.totals.cuts)
    return f"{words}, {at_store} of them at the store" if at_store else words


def _shopping_rows(ledger: Ledger) -> list[tuple[str, str]]:
    """Say what tax comes to, what is to be carried, and what offcuts give."""
    plan, sums = ledger.plan, shopping(ledger)
    units = plan.job.units
    rows: list[tuple[str, str]] = []
    if sums.tax is not None and sums.total is not None:
        rate = f"{plan.job.tax_percent} %"
        rows.append(("tax", f"{money(sums.tax)}, {rate}; {money(sums.total)} with it"))
    unknown = unknown_weights(ledger)
    if plan.buy:
        words = [weight_words(sums.kg, units), trip_words(plan)] if sums.kg is not None else []
        if not words and len(unknown) < len(plan.buy):
            words = [f"not known: that of {', '.join(unknown)} is missing"]
        words = words or ["not known"]
        rows.append(("weight", "; ".join(filter(None, words))))
    rows += [
        ("heavy", f"{pieces} ({what}), {weight}: {lift}")
        for pieces, what, weight, lift in heavy_rows(ledger)
    ]
    offcuts = offcut_words(sums, plan)
    return [*rows, ("spared", offcuts)] if offcuts else rows


#: Blanks within a size or between a figure and its unit.
_INSIDE: Final = re.compile(
    r"(?<=\d) (?=\d+/\d|mm\b|lb\b|kg\b|m²|sq\b|%)|(?<=sq) (?=ft)|(?<=[×≈]) | (?=×)"
)


def _bound(text: str) -> str:
    """Keep each size and each figure with its unit on one line."""
    return _INSIDE.sub(NO_BREAK, text)
