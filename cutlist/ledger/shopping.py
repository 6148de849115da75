"""What the shopping comes to: tax, weight, and what offcuts on hand spare."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Plan

_CENT: Final = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Shopping:
    """The foot of the shopping list.

    Parameters
    ----------
    tax, total
        Tax on the cost at the job's rate, to a hundredth, a half rounded up; and cost and tax
        together. None where the job gives no rate or no prices.
    kg
        Weight of all that is bought; None where that of one sheet is not known.
    offcut_area
        Area of the panels that come from stock on hand, in square units of the job.
    offcut_value
        What that area costs in the sheets that are cheapest by area, to a hundredth: a measure,
        not what a plan without offcuts would have cost more. None where a material has no price.
    """

    tax: Decimal | None
    total: Decimal | None
    kg: Fraction | None
    offcut_area: Fraction
    offcut_value: Decimal | None


def shopping(ledger: Ledger) -> Shopping:
    """Add up what the plan buys."""
    plan = ledger.plan
    is_priced = any(line.price_each is not None for line in plan.buy)
    rate = plan.job.tax_percent
    tax = None
    if rate is not None and is_priced:
        tax = (plan.totals.cost * rate / 100).quantize(_CENT, ROUND_HALF_UP)
    area, value = _from_offcuts(ledger)
    return Shopping(
        tax=tax,
        total=None if tax is None else plan.totals.cost + tax,
        kg=bought_kg(plan),
        offcut_area=area,
        offcut_value=value,
    )


def bought_kg(plan: Plan, sheet: str | None = None) -> Fraction | None:
    """Weigh all sheets bought, or those of one name; None where one of them is not known."""
    known = {weight.piece: weight.kg for weight in plan.weights}
    names = [
        one.piece for one in plan.workpieces if one.bought and (sheet is None or one.stock == sheet)
    ]
    if not all(name in known for name in names):
        return None
    return sum((known[name] for name in names), Fraction(0))


def _from_offcuts(ledger: Ledger) -> tuple[Fraction, Decimal | None]:
    """Give area and value of the panels that stock on hand gives."""
    plan, whole = ledger.plan, ledger.stock_of
    areas: dict[tuple[str, Fraction], Fraction] = {}
    for panel in plan.panels:
        source = whole.get(panel.piece.name)
        if source is not None and not source.bought:
            kind = (source.material, source.thickness)
            areas[kind] = areas.get(kind, Fraction(0)) + panel.piece.length * panel.piece.width
    value: Fraction | None = Fraction(0)
    for kind, area in areas.items():
        prices = [
            Fraction(sheet.price) / (sheet.length * sheet.width)
            for sheet in plan.job.sheets
            if (sheet.material, sheet.thickness) == kind and sheet.price is not None
        ]
        value = None if value is None or not prices else value + area * min(prices)
    total = sum(areas.values(), Fraction(0))
    if value is None or not areas:
        return total, None
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    return total, exact.quantize(_CENT, ROUND_HALF_UP)
