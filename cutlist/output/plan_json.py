"""The finished plan as ``plan.json``: the same content, in the plan format's names and order.

Lengths and areas are JSON numbers in the job's unit: a whole number where the exact value is one,
else the nearest double. Every length is a whole multiple of ``step``, so that a reader gets the
exact value back; what is no length and has to be exact is text. Money is a number with a decimal
point. The format is told in ``docs/plan-format.md``; :mod:`cutlist.output.plan_reading` reads it.
"""

from __future__ import annotations

import json
from fractions import Fraction
from math import gcd, lcm
from typing import TYPE_CHECKING, Any, Final

from cutlist.ledger.clean_ups import clean_up_of
from cutlist.ledger.ledger import read_ledger
from cutlist.ledger.shopping import shopping
from cutlist.ledger.visits import dimensions
from cutlist.model.edges import Edge
from cutlist.model.sawing import Caution
from cutlist.output.values import to_plain
from cutlist.units.masses import in_weight_unit

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from decimal import Decimal

    from cutlist.ledger.ledger import Ledger
    from cutlist.ledger.visits import Dimension
    from cutlist.model.job import Job
    from cutlist.model.matches import Matched
    from cutlist.model.plan import Cut, Leftover, Panel, Piece, Plan, Purchase, SawSetup, Workpiece
    from cutlist.model.sawing import SizeCheck
    from cutlist.model.weights import Trip, Weight
    from cutlist.units.system import Units

__all__ = ["EDGE_KEYS", "FORMAT", "UNSAFE", "step_of", "to_document", "to_text"]

FORMAT: Final = "cutlist-plan/2"
#: The edges of a piece as its frame calls them: x along its length, y along its width.
EDGE_KEYS: Final = {Edge.LEFT: "x0", Edge.RIGHT: "x1", Edge.LOWER: "y0", Edge.UPPER: "y1"}
#: What stands before the reason why a cut is not safe, among its cautions.
UNSAFE: Final = "unsafe: "


def to_document(plan: Plan) -> dict[str, Any]:
    """Turn a plan into plain dicts, lists, strings, numbers and None.

    Parameters
    ----------
    plan
        The finished plan.

    Returns
    -------
    dict
        What ``plan.json`` holds; a new object on each call, in the format's order of keys.
    """
    totals, bounds = plan.totals, plan.bounds
    short = [{"part": entry.part, "count": entry.count} for entry in plan.short]
    matches = [_matched(item, plan.job) for item in plan.matches]
    if len(plan.settings) < len(plan.setups):
        raise ValueError("the format tells of saws only")
    ledger = read_ledger(plan)
    document: dict[str, Any] = {
        "format": FORMAT,
        "job": {
            "name": plan.job.name,
            "sha256": plan.job.sha256,
            "text": plan.job.text,
            "content": _content(plan.job),
        },
        "units": plan.job.units.value,
        "step": str(step_of(plan)),
        "buy": [_purchase(line) for line in plan.buy],
        "totals": {
            "sheets": totals.sheets,
            "cost": float(totals.cost),
            "setups": totals.setups,
            "setups_by_device": {device.value: count for device, count in totals.setups_by_device},
            "store_setups": totals.store_setups,
            "minutes": _number(totals.minutes),
            "cuts": totals.cuts,
            "parts": totals.parts,
            "part_area": _number(totals.part_area),
            "sheet_area": _number(totals.sheet_area),
            "kept_offcut_area": _number(totals.kept_offcut_area),
            "waste_percent": _number(totals.waste_percent),
        },
        "bounds": {
            "cost": float(bounds.cost),
            "setups": bounds.setups,
            "setups_proven": bounds.setups_proven,
            "cost_proven": bounds.cost_proven,
            "sheets": bounds.sheets,
            "order": bounds.order,
        },
        "workpieces": [_workpiece(item) for item in plan.workpieces],
        "settings": [_setting(item, ledger) for item in plan.settings],
        "panels": [_panel(item) for item in plan.panels],
        "offcuts": [_leftover(item) for item in plan.leftovers],
        "visits": [_visits(item) for item in dimensions(ledger)],
    }
    trades = [
        {
            "sheets": trade.sheets,
            "cost": float(trade.cost),
            "setups": trade.setups,
            "minutes": _number(trade.minutes),
            "chosen": trade.is_chosen,
        }
        for trade in plan.trades
    ]
    rare = {
        "matches": matches,
        "short": short,
        "trades": trades,
        "weights": [_weight(item, plan.job.units) for item in plan.weights],
        "trips": [_trip(number, trip, plan) for number, trip in enumerate(plan.trips, start=1)],
        "shopping": _shopping(ledger),
    }
    return document | {key: rows for key, rows in rare.items() if rows}


def to_text(plan: Plan) -> str:
    """Write a plan as JSON text: one line for each cut, panel, workpiece and offcut.

    The same plan gives the same text on every machine; it ends with a newline.
    """
    document = to_document(plan)
    settings = document["settings"]
    entries = []
    for key, value in document.items():
        if key == "settings":
            body = _rows(_setting_text(setting) for setting in settings)
        elif isinstance(value, list):
            body = _rows(_line(item) for item in value)
        else:
            body = _line(value)
        entries.append(f"  {_line(key)}: {body}")
    return "{\n" + ",\n".join(entries) + "\n}\n"


def _number(value: Fraction) -> int | float:
    return value.numerator if value.denominator == 1 else float(value)


def step_of(plan: Plan) -> Fraction:
    """Return the largest length of which every length in the plan is a whole multiple."""
    top, bottom = 0, 1
    for length in _lengths(plan):
        common = lcm(bottom, length.denominator)
        top = gcd(top * (common // bottom), length.numerator * (common // length.denominator))
        bottom = common
    return Fraction(top, bottom) if top else Fraction(1)


def _lengths(plan: Plan) -> Iterator[Fraction]:
    """Yield every length that is written as a number."""
    for line in plan.buy:
        yield from (line.thickness, line.length, line.width)
    for work in plan.workpieces:
        yield from (work.length, work.width, work.thickness, work.trim, *work.trims.each)
    pieces = [panel.piece for panel in plan.panels]
    for left in plan.leftovers:
        pieces.append(left.piece)
        yield left.thickness
    for setting in plan.settings:
        yield from (setting.distance, setting.mark, setting.kerf)
        for cut in setting.cuts:
            pieces += cut.makes
            if cut.check is not None:
                yield cut.check.size
    for piece in pieces:
        yield from (piece.x, piece.y, piece.length, piece.width)
    for item in plan.matches:
        yield item.distance


def _content(job: Job) -> dict[str, Any]:
    """Give all that the job asks for, exactly, but what stands beside it already."""
    plain: dict[str, Any] = to_plain(job)
    return {key: value for key, value in plain.items() if key not in ("sha256", "text")}


def _money(value: Decimal | None) -> float | None:
    return None if value is None else float(value)


def _purchase(line: Purchase) -> dict[str, Any]:
    return {
        "sheet": line.sheet,
        "material": line.material,
        "thickness": _number(line.thickness),
        "length": _number(line.length),
        "width": _number(line.width),
        "count": line.count,
        "price_each": _money(line.price_each),
        "cost": float(line.cost),
    }


def _workpiece(item: Workpiece) -> dict[str, Any]:
    document: dict[str, Any] = {
        "piece": item.piece,
        "sheet": item.stock,
        "from": "buy" if item.bought else "offcut",
        "length": _number(item.length),
        "width": _number(item.width),
        "material": item.material,
        "thickness": _number(item.thickness),
        "trim": _number(item.trim),
    }
    if item.edges is not None:
        document["edges"] = dict(zip(Edge, map(_number, item.edges.each), strict=True))
    if not item.has_grain:
        document["grain"] = "none"
    return document


def _piece(piece: Piece) -> dict[str, Any]:
    return {
        "piece": piece.name,
        "x": _number(piece.x),
        "y": _number(piece.y),
        "length": _number(piece.length),
        "width": _number(piece.width),
    }


def _cut(cut: Cut, setting: SawSetup, ledger: Ledger) -> dict[str, Any]:
    document: dict[str, Any] = {
        "number": cut.number,
        "piece": cut.piece,
        "direction": cut.direction.value,
        "purpose": cut.purpose.value,
        "rides": None if cut.rides is None else EDGE_KEYS[cut.rides],
        "cautions": [
            *(f"{UNSAFE}{hazard.value}" for hazard in cut.hazards),
            *(one.value for one in cut.cautions if one is not Caution.UNSAFE),
        ],
        "kept": _piece(cut.kept),
    }
    if cut.rest is not None:
        document["rest"] = _piece(cut.rest)
    if cut.takes_off is not None:
        document["takes_off"] = EDGE_KEYS[cut.takes_off]
        told = clean_up_of(ledger, setting, cut)
        if told is not None:
            document["off"] = _number(told.off)
    if cut.check is not None:
        document["check"] = _check(cut.check)
    return document


def _check(check: SizeCheck) -> dict[str, Any]:
    document: dict[str, Any] = {"size": _number(check.size), "doubt": check.doubt.value}
    if check.mark_from is not None:
        document["mark_from"] = EDGE_KEYS[check.mark_from]
    return document


def _setting(setting: SawSetup, ledger: Ledger) -> dict[str, Any]:
    return {
        "number": setting.number,
        "place": setting.place.value,
        "tool": setting.tool,
        "device": setting.device.value,
        "distance": _number(setting.distance),
        "mark": _number(setting.mark),
        "kerf": _number(setting.kerf),
        "cuts": [_cut(cut, setting, ledger) for cut in setting.cuts],
    }


def _panel(panel: Panel) -> dict[str, Any]:
    return {"part": panel.part, "copy": panel.copy, **_piece(panel.piece), "turned": panel.turned}


def _leftover(item: Leftover) -> dict[str, Any]:
    return {
        "piece": item.piece.name,
        "length": _number(item.piece.length),
        "width": _number(item.piece.width),
        "keep": item.keep,
        "x": _number(item.piece.x),
        "y": _number(item.piece.y),
        "material": item.material,
        "thickness": _number(item.thickness),
    }


def _visits(item: Dimension) -> dict[str, Any]:
    return {
        "distance": _number(item.distance),
        "settings": [visit.setting for visit in item.visits],
        "waits": [
            {"setting": visit.setting, "piece": wait.piece, "cuts": list(wait.cuts)}
            for visit in item.visits
            for wait in visit.waits
        ],
    }


def _matched(item: Matched, job: Job) -> dict[str, Any]:
    parts = {match.name: match.parts for match in job.matches}.get(item.name, ())
    return {
        "name": item.name,
        "distance": _number(item.distance),
        "parts": list(parts),
        "panels": item.panels,
        "settings": list(item.settings),
        "guided": list(item.guided),
        "unset": item.unset,
        "one_visit": item.in_one_visit,
    }


def _weight(item: Weight, units: Units) -> dict[str, Any]:
    weight = _number(in_weight_unit(item.kg, units))
    return {"piece": item.piece, "weight": weight, "lift": item.lift.value, "kg": str(item.kg)}


def _trip(number: int, trip: Trip, plan: Plan) -> dict[str, Any]:
    weight = _number(in_weight_unit(trip.kg, plan.job.units))
    row = {"number": number, "pieces": list(trip.pieces), "weight": weight}
    return row | {"kg": str(trip.kg)}


def _shopping(ledger: Ledger) -> dict[str, Any]:
    """Give the foot of the shopping list; empty where there is nothing to add to ``buy``."""
    plan, sums = ledger.plan, shopping(ledger)
    rows: dict[str, Any] = {}
    if sums.tax is not None and sums.total is not None:
        rate = plan.job.tax_percent
        rows |= {"tax_percent": _money(rate), "tax": float(sums.tax), "total": float(sums.total)}
    if sums.kg:
        rows["weight"] = _number(in_weight_unit(sums.kg, plan.job.units))
    if sums.offcut_area:
        rows["offcut_area"] = _number(sums.offcut_area)
        rows["offcut_value"] = _money(sums.offcut_value)
    return rows


def _line(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _rows(lines: Iterable[str], indent: str = "    ") -> str:
    """Set lines as the items of a JSON list, each on its own line; an empty list stays short."""
    rows = [indent + line for line in lines]
    return "[\n" + ",\n".join(rows) + "\n" + indent[:-2] + "]" if rows else "[]"


def _setting_text(setting: dict[str, Any]) -> str:
    head = _line({key: value for key, value in setting.items() if key != "cuts"})
    cuts = _rows((_line(cut) for cut in setting["cuts"]), indent="      ")
    return f'{head[:-1]}, "cuts": {cuts}}}'
