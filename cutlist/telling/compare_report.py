"""What a comparison says, as a table for the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import TYPE_CHECKING, Final

from cutlist.telling.comparing import BUY, columns_of, material_words, reasons_of
from cutlist.telling.tables import NO_BREAK, USUAL_WIDTH, hanging, table

if TYPE_CHECKING:
    from cutlist.model.variants import Variant
    from cutlist.units.system import Units

__all__ = ["comparison_lines"]

#: What is bought is set beside its figures only if it gets so many characters of a line.
_LEAST_BUY: Final = 12


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
    """Set the columns out; what is bought goes above its figures where there is no room beside.

    Figures for which a line is too short go there, too, the last ones first.
    """
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
    figures = _figures(rows, right, width)
    words = [column for column in columns if not column.is_figure and column.head != BUY]
    beside = [max(map(len, (column.head, *column.cells))) + 2 for column in words]
    room = width - max(map(len, figures)) - sum(beside)
    if room >= min(_LEAST_BUY, max(map(len, columns[buys].cells))):
        return table(rows, right=right, flexible=(buys,), width=width)
    while max(map(len, figures)) > width and len(right) > 1:
        words.append(columns[right.pop()])
        figures = _figures(rows, right, width)
    out = figures[:above]
    for number, line in enumerate(figures[above:]):
        values = [f"{column.head} {column.cells[number]}" for column in words]
        name = ", ".join([columns[buys].cells[number], *values])
        out += [*hanging("", name, at=0, width=width), line]
    return out


def _figures(rows: Sequence[Sequence[str]], right: Sequence[int], width: int) -> list[str]:
    """Set some columns out by themselves, each to the right."""
    cells = [[row[index] for index in right] for row in rows]
    return table(cells, right=range(len(right)), indent=2, width=width)
