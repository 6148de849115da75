"""Boxes side by side, each with one large figure and what there is to say about it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.drawing import theme
from cutlist.drawing.fitting import wrap
from cutlist.drawing.metrics import text_width
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Box, Item, Rect, Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.frame import Flow

__all__ = ["add_figures"]


def add_figures(
    flow: Flow,
    boxes: Sequence[tuple[str, str, Sequence[str]]],
    *,
    size_pt: float = theme.BODY,
) -> None:
    """Add boxes that share the width, each with its head, its figure and notes below it.

    Parameters
    ----------
    size_pt
        Lettering of heads and notes.
    """
    gap = 4.0
    width = (flow.room.width - (len(boxes) - 1) * gap) / len(boxes)
    wrapped = [
        [line for note in notes for line in wrap(note, width - 6, size_pt)] for _, _, notes in boxes
    ]
    step = theme.LEADING * size_pt * PT_MM
    low = step - theme.LEADING * theme.BODY * PT_MM
    height = 18.2 + 2 * low + max(len(lines) for lines in wrapped) * step
    items: list[Item] = []
    for index, ((head, figure, _), lines) in enumerate(zip(boxes, wrapped, strict=True)):
        x = index * (width + gap)
        items.append(Rect(Box(x, 0, width, height), theme.MEDIUM))
        items.append(Text(x + 3, 4.6 + low, head, size_pt))
        size = theme.FIGURE
        while text_width(figure, size, True) > width - 6:
            size -= 1
        items.append(Text(x + 3, 14.4 + low, figure, size, True))
        for number, line in enumerate(lines):
            items.append(Text(x + 3, 19.2 + 2 * low + number * step, line, size_pt))
    flow.add(items, height, gap=3.0)
