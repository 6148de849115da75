"""The pages of a comparison: for each material a table, bars, and the layouts drawn small."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import block_height, wrap
from cutlist.drawing.frame import Flow, add_footers
from cutlist.drawing.metrics import cap_height
from cutlist.drawing.pages.bars import BarColumn, add_bars
from cutlist.drawing.pages.small_layouts import add_layouts
from cutlist.drawing.pages.table import Column, add_table
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Item, Text
from cutlist.ledger.figures import variant_figures
from cutlist.telling.comparing import columns_of, material_words, name_words, reasons_of
from cutlist.units.masses import in_weight_unit

if TYPE_CHECKING:
    import datetime
    from collections.abc import Sequence

    from cutlist.drawing.paper import Paper
    from cutlist.drawing.primitives import Page
    from cutlist.model.job import Job
    from cutlist.model.plan import Plan
    from cutlist.model.variants import Figures, Variant
    from cutlist.units.system import Units

__all__ = ["compare_pages"]

#: The figures that get bars, by the heads of their columns.
_BARS: Final = ("cost", "waste", "set-ups", "weight")
_ABOUT: Final = (
    "Every row is a plan of its own for the same parts, searched for with the same budget and "
    "replayed by the audit; the number tells which is which. The least of each figure is black. "
    "Cost is that of the sheets and of the store's cuts, without tax; set-ups are those of the "
    "shop, then the same by fence, stop and guide, and the minutes (min) that they and the cuts "
    "there take; the largest piece is the one of the largest area that comes to the saw."
)
_EACH: Final = (
    " Each material is planned by itself: so are its trips, and its free cuts at the store."
)
_KEY: Final = "grey: panels; hatched: waste; dashed frame: offcut to keep; sheets at one scale"
_STORE_KEY: Final = "; heavy dashed line: cut at the store"


def compare_pages(
    variants: Sequence[Variant], job: Job, *, paper: Paper, date: datetime.date
) -> tuple[Page, ...]:
    """Compose the pages, footers included."""
    flow = Flow(paper, "Ways to buy and cut it")
    materials = [
        tuple(group)
        for _, group in groupby(variants, key=lambda one: (one.material, one.thickness))
    ]
    items: list[Item] = []
    y = 0.0
    for line in wrap(job.name, flow.room.width, theme.TITLE - 2, True):
        y += 6.6
        items.append(Text(0, y, line, theme.TITLE - 2, True))
    flow.add(items, y + 1.5)
    has_both = len(materials) > 1 and job.vehicle is not None
    _add_note(flow, _ABOUT + _EACH * has_both)
    for alike in materials:
        _add_material(flow, alike, job.units)
    return add_footers(flow.finish(), job, date=date)


def _add_material(flow: Flow, variants: Sequence[Variant], units: Units) -> None:
    told = columns_of(variants, units)
    serving = [
        (one, one.plan, found) for one in variants if one.plan and (found := variant_figures(one))
    ]
    if serving:
        columns = [Column("no.", right=True, bold=True)]
        columns += [
            Column(
                one.head, right=one.is_figure, bold=not one.is_figure, flexible=not one.is_figure
            )
            for one in told
        ]
        rows = [
            (str(number), *cells)
            for number, cells in enumerate(zip(*(one.cells for one in told), strict=True), start=1)
        ]
        title = material_words(variants[0], units)
        add_table(flow, columns, rows, title=title, size_pt=theme.STRONG, head_pt=theme.BODY)
    for reason in reasons_of(variants):
        _add_note(flow, f"{material_words(variants[0], units)}, {reason}")
    if not serving:
        return
    labels = [
        f"{number}   {name_words(one, whole=True)}"
        for number, (one, _, _) in enumerate(serving, start=1)
    ]
    cells = {one.head: one.cells for one in told}
    bars = [
        BarColumn(head, tuple(_value(head, found, units) for _, _, found in serving), cells[head])
        for head in _BARS
        if head in cells
    ]
    if len(serving) > 1:
        add_bars(flow, labels, bars)
    at_store = any(found.store_cuts for _, _, found in serving)
    _add_note(flow, _KEY + _STORE_KEY * at_store)
    add_layouts(flow, _drawn([(one, plan) for one, plan, _ in serving]))


def _drawn(serving: Sequence[tuple[Variant, Plan]]) -> list[tuple[str, Plan]]:
    """Give each plan that is drawn under its head; a plan of several ways is drawn once."""
    alike: dict[object, list[int]] = {}
    for index, (_, plan) in enumerate(serving):
        alike.setdefault((plan.workpieces, plan.settings, plan.panels), []).append(index)
    out = []
    for first, *others in alike.values():
        one, plan = serving[first]
        # Only what is said of all of them holds for the drawing.
        shared = [pair for pair in one.varied if all(pair in serving[i][0].varied for i in others)]
        one = replace(one, varied=tuple(shared))
        numbers = ", ".join(str(index + 1) for index in (first, *others))
        out.append((f"{numbers}   {name_words(one, whole=True)}", plan))
    return out


def _value(head: str, figures: Figures, units: Units) -> float | None:
    """Give the length of a bar."""
    kg = figures.kg
    values = {
        "cost": None if figures.cost is None else float(figures.cost),
        "waste": float(figures.waste_percent),
        "set-ups": float(figures.setups),
        "weight": None if kg is None else float(in_weight_unit(kg, units)),
    }
    return values[head]


def _add_note(flow: Flow, words: str) -> None:
    """Add a paragraph across the page."""
    size = theme.STRONG
    step = theme.LEADING * size * PT_MM
    lines = wrap(words, flow.room.width, size)
    items: list[Item] = [
        Text(0, cap_height(size) + number * step, line, size) for number, line in enumerate(lines)
    ]
    flow.add(items, block_height(len(lines), size) + 1.0, gap=3.0)
