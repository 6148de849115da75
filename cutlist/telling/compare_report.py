"""What a comparison says: as a table for the terminal, and as data for ``compare.json``."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import TYPE_CHECKING, Any, Final

from cutlist.ledger.figures import variant_figures
from cutlist.output.plan_json import to_document
from cutlist.telling.comparing import BUY, columns_of, material_words, reasons_of
from cutlist.telling.tables import NO_BREAK, USUAL_WIDTH, hanging, table
from cutlist.units.masses import WEIGHT_UNIT, in_weight_unit

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.model.variants import Figures, Variant
    from cutlist.units.system import Units

__all__ = ["comparison_document", "comparison_lines", "comparison_text"]

#: What is bought is set beside its figures only if it gets so many characters of a line.
_LEAST_BUY: Final = 16


def comparison_lines(
    variants: Iterable[Variant], units: Units, width: int = USUAL_WIDTH
) -> list[str]:
    """Lay the variants out, a table for each material, the reasons of those that cannot below it.

    Cells run on below themselves where the table would be wider than ``width``.
    """
    lines: list[str] = []
    for _, group in groupby(variants, key=lambda one: (one.material, one.thickness)):
        alike = tuple(group)
        lines += [*[""] * bool(lines), material_words(alike[0], units)]
        lines += _table(alike, units, width)
        for reason in reasons_of(alike):
            lines += hanging("", reason, at=0, width=width)
    return lines


def _table(variants: Sequence[Variant], units: Units, width: int) -> list[str]:
    """Set the columns out; what is bought goes above its figures where there is no room beside."""
    columns = columns_of(variants, units)
    if not columns or not columns[0].cells:
        return []
    buys = next(index for index, column in enumerate(columns) if column.head == BUY)
    heads = [
        column.head.rpartition(" ")[::2] if column.is_figure else ("", column.head)
        for column in columns
    ]
    rows = [[first for first, _ in heads], [last for _, last in heads]]
    rows[:1] = rows[:1] if any(rows[0]) else []
    above = len(rows)
    for cells in zip(*(column.cells for column in columns), strict=True):
        # A count or a length stays with its ×, a figure with its unit.
        kept = [cell.replace(" ×", f"{NO_BREAK}×") for cell in cells]
        rows.append(
            [
                cell.replace(" ", NO_BREAK) if column.is_figure else cell
                for cell, column in zip(kept, columns, strict=True)
            ]
        )
    right = [index for index, column in enumerate(columns) if column.is_figure]
    figures = table(
        [[row[index] for index in right] for row in rows],
        right=range(len(right)),
        indent=2,
        width=width,
    )
    words = [column for column in columns if not column.is_figure and column.head != BUY]
    beside = [max(map(len, (column.head, *column.cells))) + 2 for column in words]
    room = width - max(map(len, figures)) - sum(beside)
    if room >= min(_LEAST_BUY, max(map(len, columns[buys].cells))):
        return table(rows, right=right, flexible=(buys,), width=width)
    out = figures[:above]
    for number, line in enumerate(figures[above:]):
        values = [f"{column.head} {column.cells[number]}" for column in words]
        name = ", ".join([columns[buys].cells[number], *values])
        out += [*hanging("", name, at=0, width=width), line]
    return out


def comparison_document(variants: Iterable[Variant], units: Units) -> dict[str, Any]:
    """Give the comparison as plain data for ``compare.json``."""
    return {
        "format": "cutlist-compare/1",
        "units": units.value,
        "weight_unit": WEIGHT_UNIT[units],
        "variants": [_variant(variant, units) for variant in variants],
    }


def comparison_text(variants: Iterable[Variant], units: Units) -> str:
    """Write the comparison as the text of ``compare.json``; it ends with a newline."""
    document = comparison_document(variants, units)
    return json.dumps(document, indent=1, ensure_ascii=False) + "\n"


def _variant(variant: Variant, units: Units) -> dict[str, Any]:
    document: dict[str, Any] = {
        "material": variant.material,
        "thickness": float(variant.thickness),
        "sheets": list(variant.sheets),
        "mix": variant.is_mix,
        "store_cuts": variant.store_cuts,
        "varied": dict(variant.varied),
    }
    figures = variant_figures(variant)
    if not variant.is_planned:
        return document | {"serves": None, "reason": "interrupted"}
    if variant.plan is None or figures is None:
        return document | {"serves": False, "reason": variant.reason}
    plan = to_document(variant.plan)
    document |= {"serves": True} | {key: plan[key] for key in ("buy", "totals", "bounds")}
    return document | {"figures": _figures(figures, units)}


def _figures(figures: Figures, units: Units) -> dict[str, Any]:
    def weight(kg: Fraction | None) -> float | None:
        return None if kg is None else round(float(in_weight_unit(kg, units)), 3)

    return {
        "kept_offcuts": figures.offcuts,
        "store_cuts": figures.store_cuts,
        "weight": weight(figures.kg),
        "trips": figures.trips,
        "largest_piece": {
            "piece": figures.largest.name,
            "length": float(figures.largest.length),
            "width": float(figures.largest.width),
            "weight": weight(figures.largest_kg),
        },
    }
