"""What was understood of a job, as lines of plain text."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, Final

from cutlist.model.job import FactoryEdge, Goal, Remainders
from cutlist.telling.shop import setup_price_words, shop_lines
from cutlist.telling.tables import USUAL_WIDTH, hanging, table
from cutlist.units.lengths import (
    finest_mark,
    format_area,
    format_length,
    format_size,
    format_thickness,
    is_shown_exactly,
)
from cutlist.units.masses import DENSITY_UNIT, WEIGHT_UNIT, in_density_unit, in_weight_unit
from cutlist.units.system import Units

if TYPE_CHECKING:
    from cutlist.model.edges import EdgeTrims
    from cutlist.model.job import Job, Offcut, Part, Sheet

_LENGTHS: Final = {Units.INCH: "inches", Units.MM: "millimetres"}


def describe(job: Job, width: int = USUAL_WIDTH) -> list[str]:
    """Say what a job asks for: saw, stock, parts and totals, in lines of at most ``width``."""
    blocks = [
        [job.name, *_wrapped(_general(job), width)],
        ["Stock", *_stock_table(job, width), *_wrapped(_weights(job), width)],
        ["Parts", *_parts_table(job, width), *_wrapped(_off_scale(job), width)],
        *([["Parts that match", *_wrapped(_matches(job), width)]] if job.matches else []),
        ["Totals", *_totals(job, width)],
    ]
    lines: list[str] = []
    for block in blocks:
        lines += [*([""] if lines else []), *block]
    return lines


def _general(job: Job) -> list[str]:
    units = job.units
    also = "" if job.also_in is None else f", distances in {_LENGTHS[job.also_in]} as well"
    lines = [f"  lengths in {_LENGTHS[units]}{also}"]
    lines += [f"  {line}" for line in shop_lines(job)]
    if job.remainders is Remainders.CUT:
        lines.append("  no panel is left as a remainder that can be cut to size")
    lines += _worth(job)
    if job.store is not None:
        store = job.store
        least = format_length(store.min_piece, units)
        smallest = f", no piece narrower than {least}" if store.min_piece else ""
        cuts = "any number of cuts" if store.max_cuts is None else _many(store.max_cuts, "cut")
        lines.append(
            f"  store: kerf {format_length(store.kerf, units)},"
            f" cuts true to {format_length(store.accuracy, units)}, {cuts} a sheet,"
            f" {store.free_cuts} free, then {store.cut_price} each{smallest}"
        )
    if job.vehicle is not None:
        vehicle = job.vehicle
        load = "any load"
        if vehicle.max_load_kg is not None:
            load = f"{float(in_weight_unit(vehicle.max_load_kg, units)):.0f} {WEIGHT_UNIT[units]}"
        bed = format_size(vehicle.bed_length, vehicle.bed_width, units)
        second = ""
        if vehicle.second_opening is not None:
            second = f", second opening {format_size(*vehicle.second_opening, units)}"
        lines.append(f"  vehicle: bed {bed}{second}, {load}")
    if job.tax_percent is not None:
        lines.append(f"  tax: {job.tax_percent} % on what is bought")
    if job.keep_from is not None:
        keep = format_size(job.keep_from.length, job.keep_from.width, units)
        lines.append(f"  offcuts are kept from {keep}")
    for material, worth in job.keep_from_of:
        size = format_size(worth.length, worth.width, units)
        lines.append(f"  offcuts of {material} are kept from {size}")
    if job.rack is not None:
        count = _many(len(job.rack.offcuts), "offcut")
        lines.append(f"  rack {job.rack.file}: {count}, of which {len(job.offcuts)} may serve")
    return lines


def _worth(job: Job) -> list[str]:
    """Say what set-ups are worth, where the job says anything of it."""
    words = []
    if job.goal is Goal.SETUPS:
        words.append("fewest set-ups first, then the cost")
    if job.goal is Goal.BALANCED:
        words.append("cost and set-ups weighed against each other")
    if price := setup_price_words(job):
        words.append(price)
    return [f"  {', '.join(words)}"] if words else []


def _stock_table(job: Job, width: int) -> list[str]:
    rows = [("name", "material", "size", "trim", "how many", "price")]
    for sheet in job.sheets:
        many = "to buy" if sheet.in_stock is None else f"{sheet.in_stock} in stock"
        price = "-" if sheet.price is None else str(sheet.price)
        name, material, size, trim = _stock_cells(sheet, job.units)
        if sheet.factory_edge is FactoryEdge.ROUGH:
            trim += ", rough"
        rows.append((name, material, size, trim, many, price))
    rows += [
        (*_stock_cells(offcut, job.units), f"{offcut.qty} on hand", "-") for offcut in job.offcuts
    ]
    return table(rows, right={5}, flexible=(0, 1, 3, 4), indent=2, width=width)


def _weights(job: Job) -> list[str]:
    """Say what each material is taken to weigh, alike ones in one line."""
    named: dict[str, list[str]] = {}
    for stock in job.stock:
        density = stock.density
        if density is None:
            words = "weight not known, give a density or the weight of a sheet"
        else:
            origin = "the job says" if density.kind is None else density.kind
            words = f"weighed as {origin}, {_density_words(density.kg_per_m3, job.units)}"
        board = f"{stock.material} {format_thickness(stock.thickness, job.units)}"
        boards = named.setdefault(words, [])
        if board not in boards:
            boards.append(board)
    return [f"  {words}: {', '.join(boards)}" for words, boards in named.items()]


def _density_words(kg_per_m3: Fraction, units: Units) -> str:
    """Print a density in kg/m³ or, in a job in inches, in lb/ft³."""
    places = 1 if units is Units.INCH else 0
    return f"{float(in_density_unit(kg_per_m3, units)):.{places}f} {DENSITY_UNIT[units]}"


def _stock_cells(stock: Sheet | Offcut, units: Units) -> tuple[str, str, str, str]:
    return (
        stock.name,
        f"{stock.material} {format_thickness(stock.thickness, units)}",
        format_size(stock.length, stock.width, units) + ("" if stock.has_grain else ", no grain"),
        _trim_words(stock.trims, units) or "-",
    )


def _trim_words(trims: EdgeTrims[Fraction], units: Units) -> str:
    """Say what comes off which edges; nothing where all are clean."""
    unclean = trims.unclean
    if trims.are_alike:
        return format_length(trims.left, units) if unclean else ""
    return ", ".join(f"{edge} {format_length(trim, units)}" for edge, trim in unclean.items())


def _parts_table(job: Job, width: int) -> list[str]:
    rows = [("name", "qty", "size", "grain", "material", "area")]
    for part in job.parts:
        rows.append(
            (
                part.name,
                str(part.qty),
                format_size(part.length, part.width, job.units),
                part.grain.value,
                f"{part.material} {format_thickness(part.thickness, job.units)}",
                _area(_panel_area(part), job.units),
            )
        )
    return table(rows, right={1, 5}, flexible=(0, 4), indent=2, width=width)


def _off_scale(job: Job) -> list[str]:
    """Name the parts whose sizes lie between the fence's marks, or those of a fine rule."""
    scale = job.saw.scale or finest_mark(job.units)
    whose = "a rule's" if job.saw.scale is None else "the fence's"
    names = [
        part.name
        for part in job.parts
        if not all(is_shown_exactly(side, scale) for side in (part.length, part.width))
    ]
    if not names:
        return []
    marks = format_length(scale, job.units)
    return [f"  between {whose} marks of {marks}: {', '.join(names)}"]


def _matches(job: Job) -> list[str]:
    return [
        f"  {match.name}: {format_length(match.distance, job.units)}, {', '.join(match.parts)}"
        for match in job.matches
    ]


def _totals(job: Job, width: int) -> list[str]:
    rows = [("material", "panels", "area", "sheets at least")]
    kinds = dict.fromkeys((part.material, part.thickness) for part in job.parts)
    for material, thickness in kinds:
        parts = [p for p in job.parts if (p.material, p.thickness) == (material, thickness)]
        area = sum((_panel_area(part) for part in parts), Fraction(0))
        rows.append(
            (
                f"{material} {format_thickness(thickness, job.units)}",
                str(sum(part.qty for part in parts)),
                _area(area, job.units),
                _least_sheets(job, material, thickness, area),
            )
        )
    if len(rows) > 2:
        total = sum((_panel_area(part) for part in job.parts), Fraction(0))
        panels = str(sum(part.qty for part in job.parts))
        rows.append(("all", panels, _area(total, job.units), ""))
    return table(rows, right={1, 2, 3}, flexible=(0,), indent=2, width=width)


def _least_sheets(job: Job, material: str, thickness: Fraction, area: Fraction) -> str:
    """Give the fewest sheets that hold ``area``, were every offcut on hand used up first."""
    kind = (material, thickness)
    on_hand = sum(
        (o.qty * _usable_area(o) for o in job.offcuts if (o.material, o.thickness) == kind),
        Fraction(0),
    )
    sheets = [_usable_area(s) for s in job.sheets if (s.material, s.thickness) == kind]
    if area <= on_hand:
        return "0"
    return str(ceil((area - on_hand) / max(sheets))) if sheets else "none to buy"


def _usable_area(stock: Sheet | Offcut) -> Fraction:
    length, width = stock.trims.inside(stock.length, stock.width)
    return length * width


def _panel_area(part: Part) -> Fraction:
    return part.qty * part.length * part.width


def _area(area: Fraction, units: Units) -> str:
    return format_area(area, units, 2)


def _many(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _wrapped(lines: list[str], width: int) -> list[str]:
    return [
        one
        for line in lines
        for one in hanging("", line.strip(), at=len(line) - len(line.lstrip()), width=width)
    ]
