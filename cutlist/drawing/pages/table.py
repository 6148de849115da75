"""Plain tables: a bold head, thin rules, text wrapped in its column, boxes to tick."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import block_height, wrap
from cutlist.drawing.frame import rule
from cutlist.drawing.metrics import cap_height, text_width
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Box, Item, Rect, Role, Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.frame import Flow

__all__ = ["Column", "add_table", "column_widths", "table_height"]

_PAD: Final = 1.0
_GUTTER: Final = 4.0
#: Side of a box to tick and the space after it, as multiples of the height of capitals.
_TICK: Final = 1.25
_AFTER: Final = 0.4


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its head, and whether it is set to the right and in bold.

    A ``flexible`` column gives way, and takes what is left over. In a column of ``ticks`` each
    word of a cell stands after a box to tick; a no-break space parts no words. ``role`` is that of
    the lettering.
    """

    head: str
    right: bool = False
    bold: bool = False
    flexible: bool = False
    ticks: bool = False
    role: Role = Role.PLAIN


def column_widths(
    columns: Sequence[Column],
    rows: Sequence[Sequence[str]],
    width_mm: float,
    size_pt: float,
    head_pt: float = theme.SMALL,
) -> tuple[float, ...]:
    """Share the width: each column as wide as it needs, the flexible ones share what is left.

    If that leaves a flexible column less than its head, a tenth of the width or its longest word
    of no more than a quarter of it, the others shrink.
    """
    count = len(columns)
    needs = []
    for index, column in enumerate(columns):
        cells = [_needed(column, row[index], size_pt) for row in rows]
        needs.append(max([text_width(column.head, head_pt), *cells]))
    room = width_mm - _GUTTER * (count - 1)
    flexible = [index for index in range(count) if columns[index].flexible]
    least = {
        index: max(
            text_width(columns[index].head, head_pt),
            min(
                needs[index],
                _word_room(columns[index], [row[index] for row in rows], width_mm, size_pt),
            ),
        )
        for index in flexible
    }
    rigid = sum(need for index, need in enumerate(needs) if index not in least)
    most = room - sum(least.values())
    if rigid > most:
        needs = [n if i in least else n * most / rigid for i, n in enumerate(needs)]
        rigid = most
    spare = room - rigid - sum(least.values())
    wanted = sum(needs[index] - low for index, low in least.items())
    for index, low in least.items():
        share = (needs[index] - low) / wanted if wanted > 0 else 1 / len(least)
        needs[index] = low + spare * share
    return tuple(needs)


def without_empty(
    columns: Sequence[Column], rows: Sequence[Sequence[str]]
) -> tuple[list[Column], list[list[str]]]:
    """Return a table without the columns in which no row says anything."""
    shown = [index for index, _ in enumerate(columns) if any(row[index] for row in rows)]
    return [columns[index] for index in shown], [[row[index] for index in shown] for row in rows]


def add_table(
    flow: Flow,
    columns: Sequence[Column],
    rows: Sequence[Sequence[str]],
    *,
    title: str,
    size_pt: float = theme.BODY,
    head_pt: float = theme.SMALL,
    gap: float = 4.0,
) -> None:
    """Add a table to a flow; its head is repeated where it runs on to another page."""
    width = flow.room.width
    widths = column_widths(columns, rows, width, size_pt, head_pt)
    starts = _starts(widths)
    first = True
    for row in rows:
        items, height = _row(columns, row, starts, widths, size_pt, width)
        head_height = 0.0
        if first or height > flow.left_over + 1e-6:
            head, head_height = _head(
                columns,
                starts,
                widths,
                width,
                title if first else f"{title}, continued",
                head_pt,
            )
            space = gap if first and not flow.at_top else 0.0
            if head_height + height + space > flow.left_over:
                flow.break_page()
            flow.add(head, head_height, gap=gap if first else 0.0)
            first = False
        flow.add(items, height)


def _word_room(column: Column, cells: Sequence[str], width_mm: float, size_pt: float) -> float:
    """Room for the longest word of a column, between a tenth and a quarter of the whole."""
    words = {word for cell in cells for word in cell.split(" ")}
    longest = max((_needed(column, word, size_pt) for word in words), default=0.0)
    return min(width_mm / 4, max(width_mm / 10, longest))


def table_height(
    columns: Sequence[Column],
    rows: Sequence[Sequence[str]],
    width_mm: float,
    *,
    size_pt: float = theme.BODY,
    head_pt: float = theme.SMALL,
) -> float:
    """Height of a table that is not parted by the end of a page, mm."""
    widths = column_widths(columns, rows, width_mm, size_pt, head_pt)
    starts = _starts(widths)
    _, height = _head(columns, starts, widths, width_mm, "", head_pt)
    return height + sum(_row(columns, row, starts, widths, size_pt, width_mm)[1] for row in rows)


def _starts(widths: Sequence[float]) -> list[float]:
    """Where each column begins."""
    starts = [0.0]
    for column_width in widths[:-1]:
        starts.append(starts[-1] + column_width + _GUTTER)
    return starts


def _head(
    columns: Sequence[Column],
    starts: Sequence[float],
    widths: Sequence[float],
    width: float,
    title: str,
    head_pt: float,
) -> tuple[list[Item], float]:
    items: list[Item] = [Text(0, 4, title, theme.HEADING, True)]
    y = 8.6 + (head_pt - theme.SMALL) * PT_MM
    for column, x, column_width in zip(columns, starts, widths, strict=True):
        end = column.right
        items.append(
            Text(
                x + column_width if end else x,
                y,
                column.head,
                head_pt,
                anchor=Anchor.END if end else Anchor.START,
            )
        )
    items.append(rule(0, width, y + 1.3, theme.MEDIUM))
    return items, y + 1.3


def _row(
    columns: Sequence[Column],
    row: Sequence[str],
    starts: Sequence[float],
    widths: Sequence[float],
    size_pt: float,
    width: float,
) -> tuple[list[Item], float]:
    items: list[Item] = []
    most = 1
    step = theme.LEADING * size_pt * PT_MM
    for column, cell, x, column_width in zip(columns, row, starts, widths, strict=True):
        if column.ticks:
            boxes, lined = _ticks(column, cell, x, column_width, size_pt)
            items += boxes
            most = max(most, lined)
            continue
        lines = wrap(cell, column_width + 0.01, size_pt, column.bold)
        most = max(most, len(lines))
        for number, line in enumerate(lines):
            items.append(
                Text(
                    x + column_width if column.right else x,
                    _PAD + cap_height(size_pt) + number * step,
                    line,
                    size_pt,
                    column.bold,
                    Anchor.END if column.right else Anchor.START,
                    role=column.role,
                )
            )
    height = block_height(most, size_pt) + 2 * _PAD + 0.5
    items.append(rule(0, width, height, theme.HAIR))
    return items, height


def _needed(column: Column, cell: str, size_pt: float) -> float:
    """Width of a cell on one line."""
    if not column.ticks:
        return text_width(cell, size_pt, column.bold)
    words = _tick_words(cell)
    room = sum(_tick_width(column, word, size_pt) for word in words)
    return room + max(0, len(words) - 1) * cap_height(size_pt)


def _tick_words(cell: str) -> list[str]:
    """Part a cell into what has a box each."""
    return [word for word in cell.split(" ") if word]


def _tick_width(column: Column, word: str, size_pt: float) -> float:
    """Width of a box with its word."""
    return (_TICK + _AFTER) * cap_height(size_pt) + text_width(word, size_pt, column.bold)


def _ticks(
    column: Column, cell: str, x: float, width: float, size_pt: float
) -> tuple[list[Item], int]:
    """Draw a box for each word of a cell, with the word after it; give the number of lines too."""
    items: list[Item] = []
    high = cap_height(size_pt)
    step = theme.LEADING * size_pt * PT_MM
    at, line = 0.0, 0
    for word in _tick_words(cell):
        wide = _tick_width(column, word, size_pt)
        if at > 0 and at + wide > width + 0.01:
            at, line = 0.0, line + 1
        baseline = _PAD + high + line * step
        side = _TICK * high
        box = Box(x + at, baseline - high - (side - high) / 2, side, side)
        items.append(Rect(box, theme.MEDIUM, role=Role.TICK))
        after = x + at + side + _AFTER * high
        items.append(Text(after, baseline, word, size_pt, column.bold, role=column.role))
        at += wide + high
    return items, line + 1
