"""What the plan says of weights, trips and money, in words and figures as printed."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from cutlist.ledger.weights import loads
from cutlist.model.weights import ONE_PERSON_KG, TWO_PEOPLE_KG, Lift
from cutlist.telling.wording import area_words, counted, money
from cutlist.units.lengths import format_thickness
from cutlist.units.masses import DENSITY_UNIT, WEIGHT_UNIT, in_density_unit, in_weight_unit
from cutlist.units.system import Units

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.ledger.ledger import Ledger
    from cutlist.ledger.shopping import Shopping
    from cutlist.model.plan import Plan

__all__ = [
    "basis_words",
    "heavy_rows",
    "limit_words",
    "offcut_words",
    "stock_names",
    "trip_words",
    "unknown_weights",
    "weight_words",
]


def weight_words(kg: Fraction, units: Units) -> str:
    """Print a weight in lb or kg, to a tenth below 100."""
    value = float(in_weight_unit(kg, units))
    return f"{value:,.{1 if value < 99.95 else 0}f} {WEIGHT_UNIT[units]}"


def _names(pieces: list[str]) -> str:
    return ", ".join(pieces)


def stock_names(ledger: Ledger) -> dict[str, str]:
    """Say of each piece that is taken home, or lifted onto the saw, what it is: by its stock."""
    blanks = {one.name: f"blank of {ledger.stock_of[one.name].stock}" for one in ledger.home}
    return blanks | {one.piece: one.stock for one in ledger.plan.workpieces}


def heavy_rows(ledger: Ledger) -> list[tuple[str, str, str, str]]:
    """List what one person does not lift, the heaviest first: pieces, what, weight, how to lift.

    Copies of a part, and sheets of a kind, stand in one row.
    """
    plan = ledger.plan
    panels = {name: panel.part for name, panel in ledger.panel_of.items()}
    stock = stock_names(ledger)
    alike: dict[tuple[Fraction, str, Lift], list[str]] = {}
    for weight in plan.weights:
        if weight.lift is not Lift.ONE:
            what = panels.get(weight.piece) or stock[weight.piece]
            alike.setdefault((weight.kg, what, weight.lift), []).append(weight.piece)
    rows = sorted(alike.items(), key=lambda row: -row[0][0])
    units = plan.job.units
    return [
        (_names(pieces), what, weight_words(kg, units), lift.value)
        for (kg, what, lift), pieces in rows
    ]


def limit_words(units: Units) -> str:
    """Say where the limits of lifting come from, and what they are not."""
    one, two = (round(in_weight_unit(kg, units)) for kg in (ONE_PERSON_KG, TWO_PEOPLE_KG))
    unit = WEIGHT_UNIT[units]
    return (
        f"Over {one} {unit}, the load constant of the revised NIOSH lifting equation (Publication "
        f"94-110), one person does not lift it; over {two} {unit}, two thirds of what two lift one "
        "by one (HSE L23, quoted from memory), two do not. These are no safe limits: sheets are "
        "wide and give no grip. When in doubt get help, slide and tip instead of lifting, or have "
        "it cut smaller."
    )


def trip_words(plan: Plan) -> str:
    """Say in how many trips all gets home, and how good that is; empty without a largest load."""
    vehicle = plan.job.vehicle
    if vehicle is None or vehicle.max_load_kg is None or not plan.buy:
        return ""
    most = vehicle.max_load_kg
    load = weight_words(most, plan.job.units)
    if not plan.trips:
        return f"how many trips of {load} is not known"
    least = ceil(sum(trip.kg for trip in plan.trips) / most)
    words = f"{counted(len(plan.trips), 'trip')} of at most {load}"
    if len(plan.trips) == least:
        return words if least == 1 else f"{words}; {least} are needed"
    return f"{words}; by weight alone {least}"


def unknown_weights(ledger: Ledger) -> tuple[str, ...]:
    """Name the materials, with thickness, of bought pieces whose weight is not known."""
    plan, whole = ledger.plan, ledger.stock_of
    missing = {whole[name].piece for name, kg in loads(ledger) if kg is None}
    return tuple(
        dict.fromkeys(
            f"{one.material} {format_thickness(one.thickness, plan.job.units)}"
            for one in plan.workpieces
            if one.bought and one.piece in missing
        )
    )


def basis_words(plan: Plan) -> str:
    """Say what the weights are reckoned from; empty where none is known."""
    bought = {one.stock for one in plan.workpieces}
    guessed: dict[str, None] = {}
    given: dict[str, None] = {}
    for stock in plan.job.stock:
        if stock.density is not None and stock.name in bought:
            kind = stock.density.kind
            figure = _density_words(stock.density.kg_per_m3, plan.job.units)
            if kind is None:
                given[f"{stock.material}, {figure}"] = None
            else:
                name = stock.material if stock.material == kind else f"{stock.material} as {kind}"
                guessed[f"{name}, {figure}"] = None
    words = []
    if guessed:
        words.append(
            f"Weights are reckoned by name: {'; '.join(guessed)}. Boards of a kind differ by a "
            "tenth and more."
        )
    if given:
        words.append(f"Weighed as the job says: {'; '.join(given)}.")
    return " ".join(words)


def _density_words(kg_per_m3: Fraction, units: Units) -> str:
    places = 1 if units is Units.INCH else 0
    return f"{float(in_density_unit(kg_per_m3, units)):.{places}f} {DENSITY_UNIT[units]}"


def offcut_words(sums: Shopping, plan: Plan) -> str:
    """Say what offcuts on hand give; empty where none is used."""
    if not sums.offcut_area:
        return ""
    area = f"{area_words(sums.offcut_area, plan.job)} of panels come from offcuts on hand"
    if sums.offcut_value is None:
        return area
    value = money(sums.offcut_value)
    return f"{area}: {value} by the area, at the price of the sheet that is cheapest by area"
