"""Bars beside each other: a row for each of several plans, a column for each figure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import wrap
from cutlist.drawing.frame import rule
from cutlist.drawing.metrics import cap_height, text_width
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Box, Fill, Item, Rect, Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.frame import Flow

__all__ = ["BarColumn", "add_bars"]

_SIZE: Final = theme.STRONG
_LABEL: Final = 44.0
_GUTTER: Final = 5.0
_BAR: Final = 3.8
_BESIDE: Final = 1.4
_PAD: Final = 1.3
_HEAD: Final = 6.4


@dataclass(frozen=True, slots=True)
class BarColumn:
    """A figure of each row: what it is, how long its bar is, and how it is written.

    A row without the figure has None, and no bar.
    """

    head: str
    values: tuple[float | None, ...]
    words: tuple[str, ...]


def add_bars(flow: Flow, labels: Sequence[str], columns: Sequence[BarColumn]) -> None:
    """Add the bars; the least of each column is filled. All bars of a column have one scale.

    The heads are repeated where the rows run on to another page.
    """
    room = flow.room.width
    width = (room - _LABEL - _GUTTER * len(columns)) / max(1, len(columns))
    starts = [_LABEL + _GUTTER + index * (width + _GUTTER) for index in range(len(columns))]
    head: list[Item] = [
        Text(x, 4, column.head, theme.STRONG, True)
        for x, column in zip(starts, columns, strict=True)
    ]
    head.append(rule(0, room, _HEAD - 0.6, theme.MEDIUM))
    is_begun = False
    for row, label in enumerate(labels):
        items, height = _row(row, label, columns, starts, width)
        if not is_begun or height > flow.left_over + 1e-6:
            if _HEAD + height + 4 > flow.left_over:
                flow.break_page()
            flow.add(head, _HEAD, gap=0.0 if is_begun else 4.0)
            is_begun = True
        flow.add([*items, rule(0, room, height, theme.HAIR)], height)


def _row(
    row: int, label: str, columns: Sequence[BarColumn], starts: Sequence[float], width: float
) -> tuple[list[Item], float]:
    step = theme.LEADING * _SIZE * PT_MM
    lines = wrap(label, _LABEL, _SIZE)
    capital = cap_height(_SIZE)
    height = max(_BAR, capital + (len(lines) - 1) * step) + 2 * _PAD
    items: list[Item] = [
        Text(0, _PAD + capital + number * step, line, _SIZE) for number, line in enumerate(lines)
    ]
    for column, x in zip(columns, starts, strict=True):
        value = column.values[row]
        if value is None:
            continue
        known = [one for one in column.values if one is not None]
        beside = max(text_width(words, _SIZE, True) for words in column.words) + _BESIDE
        long = (width - beside) * value / (max(known) or 1.0)
        is_least = value == min(known)
        if long > 0:
            fill = Fill.BLACK if is_least else Fill.NONE
            items.append(Rect(Box(x, _PAD, long, _BAR), theme.FINE, fill))
        baseline = _PAD + (_BAR + capital) / 2
        items.append(Text(x + long + _BESIDE, baseline, column.words[row], _SIZE, is_least))
    return items, height
