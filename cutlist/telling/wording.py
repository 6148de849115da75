"""What the plan says, in words and figures as printed."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.model.job import Grain
from cutlist.telling.devices import by_device_words, minutes_words
from cutlist.units.lengths import convert, format_area, format_length, format_size, format_thickness
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.model.job import Job
    from cutlist.model.plan import Leftover, Panel, Piece, Plan, Trade, Workpiece

__all__ = [
    "also_words",
    "area_words",
    "cost_words",
    "counted",
    "grain_words",
    "kept_by_size",
    "length_words",
    "money",
    "panel_words",
    "paper_name",
    "piece_size",
    "setup_words",
    "sheet_words",
    "shop_words",
    "size_words",
    "stock_words",
    "waste_words",
]


#: A piece that is cut again at the store, and so many blanks in it that each is named.
_JOINED: Final = re.compile(r"(\D+)(\d+)-(\d+)")
_FEW_JOINED: Final = 3
#: The finest marks that are read off a rule at arm's length: common practice.
_RULE: Final = {Units.INCH: Fraction(1, 32), Units.MM: Fraction(1, 2)}


def counted(number: int, one: str, many: str = "") -> str:
    """Give a number with its noun: ``1 sheet``, ``2 sheets``."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def money(amount: Decimal) -> str:
    """Print an amount with two places, thousands apart; the job names no currency."""
    return f"{amount:,.2f}"


def length_words(value: Fraction, job: Job) -> str:
    """Print a length to the marks of the saw's fence."""
    return format_length(value, job.units, job.saw.scale)


def also_words(value: Fraction, job: Job) -> str:
    """Print a length in the other unit, to marks that a rule shows; empty unless asked for.

    What was rounded carries the mark for it.
    """
    if job.also_in is None:
        return ""
    converted = convert(value, job.units, job.also_in)
    return format_length(converted, job.also_in, _RULE[job.also_in])


def size_words(length: Fraction, width: Fraction, job: Job) -> str:
    """Print a size to the marks of the saw's fence."""
    return format_size(length, width, job.units, job.saw.scale)


def piece_size(piece: Piece, job: Job) -> str:
    """Print the size of a piece, length along the sheet's grain first."""
    return size_words(piece.length, piece.width, job)


def stock_words(workpiece: Workpiece, job: Job) -> str:
    """Say what a workpiece is: ``birch full — birch ply 18 mm, 96" × 48"``."""
    thick = format_thickness(workpiece.thickness, job.units)
    size = format_size(workpiece.length, workpiece.width, job.units)
    origin = "" if workpiece.bought else "offcut on hand, "
    return f"{workpiece.stock} — {origin}{workpiece.material} {thick}, {size}"


def paper_name(name: str) -> str:
    """Print the name of a piece: A3-4, which still holds A3 and A4, as ``A3+A4``.

    Beside sizes in inches a figure, a hyphen and a figure read like one of them.
    """
    found = _JOINED.fullmatch(name)
    if found is None:
        return name
    letter, first, last = found[1], int(found[2]), int(found[3])
    if last - first < _FEW_JOINED:
        return "+".join(f"{letter}{number}" for number in range(first, last + 1))
    return f"{letter}{first}…{letter}{last}"


def panel_words(panel: Panel, qty: int) -> str:
    """Name a panel: ``end (1 of 2)``, or the part alone where there is one only."""
    return panel.part if qty == 1 else f"{panel.part} ({panel.copy} of {qty})"


def grain_words(grain: Grain) -> str:
    """Say how a part lies to the grain."""
    return {
        Grain.LENGTH: "along length",
        Grain.WIDTH: "along width",
        Grain.ANY: "any",
    }[grain]


def sheet_words(plan: Plan) -> str:
    """Say how many sheets are bought and how good that is."""
    bought, least = plan.totals.sheets, plan.bounds.sheets
    if bought == 0:
        return "nothing to buy"
    text = counted(bought, "sheet")
    if bought <= least:
        return f"{text}; {least} {'is' if least == 1 else 'are'} needed"
    return f"{text}; at least {least} {'is' if least == 1 else 'are'} needed"


def cost_words(plan: Plan) -> str:
    """Say how good the cost is."""
    if plan.bounds.cost_proven:
        return "no plan costs less"
    return f"no plan costs less than {money(plan.bounds.cost)}"


def setup_words(plan: Plan) -> str:
    """Say how good the number of set-ups is, and of what that is proven: these layouts, cuts."""
    least, ordered, setups = plan.bounds.setups, plan.bounds.order, plan.totals.setups
    if plan.bounds.setups_proven or setups <= least:
        return "no way to cut these layouts needs fewer"
    # A bound that is far off tells the reader nothing.
    is_near = 2 * least >= setups
    if ordered == setups:
        words = "no order of these cuts needs fewer"
        others = f"; any other way to cut these layouts needs at least {least}"
        return words + others if is_near else words
    if is_near:
        return f"no way to cut these layouts needs fewer than {least}"
    if 2 * ordered >= setups:
        return f"no order of these cuts needs fewer than {ordered}"
    return "not proven to be the fewest"


def shop_words(plan: Plan) -> str:
    """Say what set-ups there are, and how long work at the saws takes.

    Such as ``12 set-ups: 5 fence, 6 stop, 1 guide · 58 min at the saws``; those at the store, which
    count apart, come last.
    """
    totals = plan.totals
    words = counted(totals.setups, "set-up")
    devices = by_device_words(totals.setups_by_device)
    words += f": {devices}" if devices else ""
    words += f" · {minutes_words(totals.minutes)} at the saws" if totals.setups else ""
    at_store = f", beside {totals.store_setups} at the store" if totals.store_setups else ""
    return words + at_store


def trade_words(plan: Plan) -> list[str]:
    """Say what each plan found buys and takes: ``2 sheets, 14 set-ups of 40 min``, and its cost.

    The job's hourly rate adds what the set-ups cost. Nothing is said where no dearer plan spares
    any set-up.
    """
    if len(plan.trades) < 2:
        return []
    lines = []
    for trade in plan.trades:
        words = [counted(trade.sheets, "sheet"), trade_setups(trade)]
        words += trade_money(trade, plan)
        lines.append(", ".join(words) + (": this plan" if trade.is_chosen else ""))
    return lines


def trade_setups(trade: Trade) -> str:
    """Say how many set-ups a plan of the trade has, and how long these take without the cuts."""
    setups = counted(trade.setups, "set-up")
    return f"{setups} of {minutes_words(trade.minutes)}" if trade.minutes else setups


def trade_money(trade: Trade, plan: Plan) -> list[str]:
    """Say what a plan of the trade costs, and what with its set-ups; nothing without prices."""
    if all(purchase.price_each is None for purchase in plan.buy):
        return []
    price = plan.job.price_of(trade.minutes)
    if price is None:
        return [money(trade.cost)]
    return [money(trade.cost), f"{money(trade.cost + price)} with the set-ups"]


def waste_words(plan: Plan) -> str:
    """Say what is kept, and how large the largest of it is."""
    kept = [leftover for leftover in plan.leftovers if leftover.keep]
    if not kept:
        return "no offcut worth keeping"
    largest = max(kept, key=lambda one: one.piece.length * one.piece.width)
    count = counted(len(kept), "offcut")
    tail = "" if len(kept) == 1 else "; the largest"
    lead = f"{count} to keep{tail}"
    return f"{lead}, {piece_size(largest.piece, plan.job)}"


def area_words(area: Fraction, job: Job) -> str:
    """Print an area in square feet or square metres."""
    return format_area(area, job.units, 1 if job.units is Units.INCH else 2)


def kept_by_size(leftovers: Sequence[Leftover]) -> tuple[Leftover, ...]:
    """Sort offcuts to keep by area, largest first, then by name."""
    kept = [leftover for leftover in leftovers if leftover.keep]
    kept.sort(key=lambda one: (-one.piece.length * one.piece.width, one.piece.name))
    return tuple(kept)
