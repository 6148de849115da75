"""The first pages: what to buy, the three figures, the parts, the offcuts, the cautions."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import wrap
from cutlist.drawing.frame import Flow
from cutlist.drawing.metrics import cap_height
from cutlist.drawing.pages.figures import add_figures
from cutlist.drawing.pages.table import Column, add_table
from cutlist.drawing.pages.trades import add_trades
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Box, Item, Line, Rect, Text
from cutlist.ledger.alike import ranges
from cutlist.telling.cautions import DEFERENCE, cautions
from cutlist.telling.devices import by_device_words, minutes_words
from cutlist.telling.edges import unclean_words
from cutlist.telling.reasons import match_words
from cutlist.telling.weights import weight_words
from cutlist.telling.wording import (
    area_words,
    cost_words,
    counted,
    grain_words,
    kept_by_size,
    money,
    piece_size,
    setup_words,
    sheet_words,
    waste_words,
)
from cutlist.units.lengths import format_length, format_size, format_thickness

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.drawing.paper import Paper
    from cutlist.drawing.primitives import Page
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Plan
    from cutlist.units.system import Units

__all__ = ["summary_pages"]

#: How much of the gaps between the lists is left where they would not go on a page otherwise.
_CLOSE: Final = 0.6


def summary_pages(ledger: Ledger, paper: Paper) -> tuple[Page, ...]:
    """Compose the summary: one page for a usual job, more where the lists are long.

    What to buy is left to the shopping list where one page holds all the rest. The cautions are
    always on the first page: last if all fits there, else above the lists.
    """
    for with_purchases, spread in ((True, 1.0), (False, 1.0), (False, _CLOSE)):
        pages = _compose(ledger, paper, with_purchases=with_purchases, spread=spread)
        if len(pages) == 1:
            return pages
    return _compose(ledger, paper, cautions_first=True)


def _compose(
    ledger: Ledger,
    paper: Paper,
    *,
    cautions_first: bool = False,
    with_purchases: bool = True,
    spread: float = 1.0,
) -> tuple[Page, ...]:
    plan = ledger.plan
    flow = Flow(paper, "Cutting plan", spread)
    _add_name(flow, plan)
    _add_figures(flow, ledger)
    if cautions_first:
        _add_cautions(flow, plan.job.units)
    _add_unsafe(flow, ledger)
    _add_short(flow, plan)
    add_trades(flow, plan)
    if with_purchases:
        _add_purchases(flow, plan)
    _add_parts(flow, ledger)
    _add_matches(flow, ledger)
    _add_offcuts(flow, ledger)
    if not cautions_first:
        _add_cautions(flow, plan.job.units)
    return flow.finish()


def _add_name(flow: Flow, plan: Plan) -> None:
    items: list[Item] = []
    y = 0.0
    for line in wrap(plan.job.name, flow.room.width, theme.TITLE - 2, True):
        y += 6.6
        items.append(Text(0, y, line, theme.TITLE - 2, True))
    totals = plan.totals
    line = ", ".join(
        (
            counted(totals.parts, "panel"),
            f"from {counted(len(plan.workpieces), 'piece')} of stock",
            counted(totals.cuts, "cut"),
        )
    )
    y += 5.2
    items.append(Text(0, y, line, theme.STRONG))
    flow.add(items, y + 1.5)


def _add_figures(flow: Flow, ledger: Ledger) -> None:
    """Put the three figures that a plan is judged by in three boxes side by side."""
    plan = ledger.plan
    totals = plan.totals
    priced = any(purchase.price_each is not None for purchase in plan.buy)
    if priced:
        cost = ("cost", money(totals.cost), (sheet_words(plan), cost_words(plan)))
    else:
        cost = ("sheets to buy", str(totals.sheets), (sheet_words(plan), "no prices given"))
    kept = totals.kept_offcut_area
    boxes = (
        cost,
        ("set-ups in the shop", str(totals.setups), _setup_notes(plan)),
        (
            "left over, not wasted" if kept else "left over",
            area_words(kept, plan.job),
            (waste_words(plan), f"waste, kerf included: {float(totals.waste_percent):.1f} %"),
        ),
    )
    add_figures(flow, boxes)


def _setup_notes(plan: Plan) -> tuple[str, ...]:
    """Say which devices the set-ups are of, what time the saws take, and what is proven."""
    totals = plan.totals
    devices = by_device_words(totals.setups_by_device)
    minutes = f"{minutes_words(totals.minutes)} at the saws" if totals.setups else ""
    at_store = f"beside {totals.store_setups} at the store" if totals.store_setups else ""
    return tuple(words for words in (devices, minutes, at_store, setup_words(plan)) if words)


def _add_purchases(flow: Flow, plan: Plan) -> None:
    if not plan.buy:
        return
    units = plan.job.units
    rows: list[tuple[str, ...]] = []
    for line in plan.buy:
        each = "" if line.price_each is None else money(line.price_each)
        rows.append(
            (
                str(line.count),
                line.sheet,
                f"{line.material} {format_thickness(line.thickness, units)}",
                format_size(line.length, line.width, units),
                each,
                "" if line.price_each is None else money(line.cost),
            )
        )
    columns: tuple[Column, ...] = (
        Column("count", right=True, bold=True),
        Column("sheet", bold=True, flexible=True),
        Column("material", flexible=True),
        Column("size"),
        Column("price each", right=True),
        Column("cost", right=True),
    )
    if all(line.price_each is None for line in plan.buy):
        columns = columns[:-2]
        rows = [row[:-2] for row in rows]
    add_table(flow, columns, rows, title="What to buy", size_pt=theme.STRONG)


def _add_unsafe(flow: Flow, ledger: Ledger) -> None:
    """List the cuts that no saw of the shop makes within its limits, before anything else."""
    alike: dict[tuple[str, str, str], list[int]] = {}
    for setting in ledger.plan.settings:
        for cut in setting.cuts:
            if cut.hazards:
                why = ", ".join(cut.hazards)
                alike.setdefault((str(setting.number), setting.tool, why), []).append(cut.number)
    if not alike:
        return
    columns = (
        Column("cut", right=True, bold=True),
        Column("setting", right=True),
        Column("saw"),
        Column("why", flexible=True),
    )
    rows = [(ranges(numbers), *words) for words, numbers in alike.items()]
    title = "Beyond the limits of all your saws: find another way for these cuts"
    add_table(flow, columns, rows, title=title)


def _add_short(flow: Flow, plan: Plan) -> None:
    """Say what a partial plan leaves out, before anything else is listed."""
    if not plan.short:
        return
    columns = (Column("count", right=True, bold=True), Column("part", bold=True, flexible=True))
    rows = [(str(entry.count), entry.part) for entry in plan.short]
    add_table(flow, columns, rows, title="Left out: the stock does not suffice for these")


def _add_parts(flow: Flow, ledger: Ledger) -> None:
    plan = ledger.plan
    on: dict[str, Counter[str]] = {}
    for panel in plan.panels:
        stock = ledger.stock_of[panel.piece.name].piece
        on.setdefault(panel.part, Counter())[stock] += 1
    heaviest = _heaviest(plan)
    rows: list[tuple[str, ...]] = []
    for part in plan.job.parts:
        where = ", ".join(
            name if count == 1 else f"{name} ({count})"
            for name, count in on.get(part.name, Counter()).items()
        )
        rows.append(
            (
                str(sum(on.get(part.name, Counter()).values())),
                part.name,
                # As asked for, not to the fence's marks: this is what a panel is checked against.
                format_size(part.length, part.width, plan.job.units),
                f"{part.material} {format_thickness(part.thickness, plan.job.units)}",
                grain_words(part.grain),
                heaviest.get(part.name, ""),
                where,
            )
        )
    columns: tuple[Column, ...] = (
        Column("count", right=True, bold=True),
        Column("part", bold=True, flexible=True),
        Column("length × width"),
        Column("material", flexible=True),
        Column("grain"),
        Column("weight each", right=True),
        Column("on sheet (panels)", flexible=True),
    )
    if not heaviest:
        columns = columns[:5] + columns[6:]
        rows = [row[:5] + row[6:] for row in rows]
    add_table(flow, columns, rows, title="Parts")


def _heaviest(plan: Plan) -> dict[str, str]:
    """Give the weight of a panel of each part, the heaviest where stock differs."""
    known = {weight.piece: weight.kg for weight in plan.weights}
    most: dict[str, Fraction] = {}
    for panel in plan.panels:
        if panel.piece.name in known:
            kg = known[panel.piece.name]
            most[panel.part] = max(kg, most.get(panel.part, kg))
    return {part: weight_words(kg, plan.job.units) for part, kg in most.items()}


def _add_matches(flow: Flow, ledger: Ledger) -> None:
    """Say of each group of matching parts whether one setting gives all of them their size."""
    plan = ledger.plan
    if not plan.matches:
        return
    parts = {match.name: match.parts for match in plan.job.matches}
    columns = (
        Column("group", bold=True, flexible=True),
        Column("size", bold=True),
        Column("panels", right=True),
        Column("parts", flexible=True),
        Column("how they are cut to it", flexible=True),
    )
    rows = [
        (
            matched.name,
            format_length(matched.distance, plan.job.units),
            str(matched.panels),
            ", ".join(parts[matched.name]),
            match_words(ledger, matched),
        )
        for matched in plan.matches
    ]
    add_table(flow, columns, rows, title="Panels that match")


def _add_offcuts(flow: Flow, ledger: Ledger) -> None:
    plan = ledger.plan
    units = plan.job.units
    used = [work for work in plan.workpieces if not work.bought]
    if used:
        add_table(
            flow,
            (
                Column("marked", bold=True),
                Column("offcut", bold=True, flexible=True),
                Column("material", flexible=True),
                Column("size"),
            ),
            [
                (
                    work.piece,
                    work.stock,
                    f"{work.material} {format_thickness(work.thickness, units)}",
                    format_size(work.length, work.width, units),
                )
                for work in used
            ],
            title="Offcuts on hand that are used",
        )
    alike: dict[tuple[str, str, str], list[str]] = {}
    for one in kept_by_size(plan.leftovers):
        material = f"{one.material} {format_thickness(one.thickness, units)}"
        edges = unclean_words(ledger, one.piece)
        key = (piece_size(one.piece, plan.job), material, edges)
        alike.setdefault(key, []).append(one.piece.name)
    if not alike:
        return
    columns: tuple[Column, ...] = (
        Column("count", right=True, bold=True),
        Column("size", bold=True),
        Column("material", flexible=True),
        Column("edges to clean"),
        Column("piece", flexible=True),
    )
    rows: list[tuple[str, ...]] = [
        (str(len(names)), *words, ", ".join(names)) for words, names in alike.items()
    ]
    if not any(edges for _, _, edges in alike):
        columns = columns[:3] + columns[4:]
        rows = [row[:3] + row[4:] for row in rows]
    add_table(flow, columns, rows, title="Offcuts to keep")


def _add_cautions(flow: Flow, units: Units) -> None:
    """Put the cautions in one box, in two columns."""
    width = flow.room.width
    column = (width - 12) / 2
    size = theme.BODY
    step = theme.LEADING * size * PT_MM
    items: list[Item] = [Text(3, 5.4, "Before you switch the saw on", theme.HEADING, True)]
    said = cautions(units)
    half = (len(said) + 1) // 2
    lowest = 0.0
    for side, notes in enumerate((said[:half], said[half:])):
        x = 3 + side * (column + 6)
        y = 7.0
        for note in notes:
            y += 0.6
            middle = y + step - cap_height(size) / 2
            items.append(Line(x, middle, x + 1.6, middle, theme.WIDE))
            for line in wrap(note, column - 4, size):
                y += step
                items.append(Text(x + 3, y, line, size))
        lowest = max(lowest, y)
    y = lowest + 1.2
    for line in wrap(DEFERENCE, width - 6, size, True):
        y += step
        items.append(Text(3, y, line, size, True))
    height = y + 2.4
    items.append(Rect(Box(0, 0, width, height), theme.WIDE))
    flow.add(items, height, gap=5.0)
