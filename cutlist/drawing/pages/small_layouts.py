"""Layouts drawn small, to compare at a glance: no lettering on the pieces, one scale for all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import shorten
from cutlist.drawing.frame import shifted
from cutlist.drawing.metrics import text_width
from cutlist.drawing.primitives import Box, Item, Text
from cutlist.drawing.sheets.draw import draw
from cutlist.drawing.sheets.looks import SMALL
from cutlist.drawing.sheets.sketch import CutMark, Shape, Sketch, Use
from cutlist.drawing.sheets.view import View
from cutlist.ledger.alike import group_sheets
from cutlist.ledger.ledger import read_ledger
from cutlist.model.plan import Direction

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from cutlist.drawing.frame import Flow
    from cutlist.ledger.alike import SheetGroup
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.plan import Piece, Plan

__all__ = ["add_layouts"]

#: Gap between drawings, and between the drawings of two plans, mm.
_GAP: Final = 3.0
_WIDE_GAP: Final = 7.0
_HEAD: Final = 6.0
_CAPTION: Final = 5.2
#: Drawings side by side at most, where there are few of them and where there are many.
_IN_A_ROW: Final = (3, 4)
_FEW: Final = 9
#: Distinct layouts drawn of a plan; of more, the rest is counted.
_MOST_DRAWN: Final = 12


@dataclass(frozen=True, slots=True)
class _Block:
    """Items with their upper left corner at (0, 0), and the room that they take."""

    items: tuple[Item, ...]
    width: float
    height: float


def add_layouts(flow: Flow, plans: Sequence[tuple[str, Plan]]) -> None:
    """Add the layouts of several plans of one material, each plan under its head.

    Plans stand side by side where there is room, else below each other.
    """
    stories = [(head, read_ledger(plan)) for head, plan in plans]
    groups = [(head, ledger, group_sheets(ledger)) for head, ledger in stories]
    count = sum(min(len(found), _MOST_DRAWN) for _, _, found in groups)
    in_a_row = _IN_A_ROW[count > _FEW]
    width = (flow.room.width - (in_a_row - 1) * _GAP) / in_a_row
    longest = max((w.length for _, plan in plans for w in plan.workpieces), default=1)
    scale = width / float(longest)
    line: list[_Block] = []
    for head, ledger, found in groups:
        drawn = [_layout(ledger, group, scale, width) for group in found[:_MOST_DRAWN]]
        more = len(found) - len(drawn)
        for row in _rows(head, drawn, more, flow.room.width):
            if line and _width([*line, row]) > flow.room.width + 1e-6:
                _add_line(flow, line)
                line = []
            line.append(row)
    if line:
        _add_line(flow, line)


def _width(blocks: Sequence[_Block]) -> float:
    return sum(block.width for block in blocks) + _WIDE_GAP * (len(blocks) - 1)


def _add_line(flow: Flow, blocks: Sequence[_Block]) -> None:
    items: list[Item] = []
    x = 0.0
    for block in blocks:
        items += [shifted(item, x, 0) for item in block.items]
        x += block.width + _WIDE_GAP
    flow.add(items, max(block.height for block in blocks), gap=2.0)


def _rows(head: str, drawn: Sequence[_Block], more: int, room: float) -> Iterator[_Block]:
    """Put the drawings of one plan into rows no wider than the room, the head on each."""
    waiting = list(drawn)
    title = head
    while waiting:
        x = 0.0
        height = 0.0
        items: list[Item] = []
        while waiting and x + waiting[0].width <= room + 1e-6:
            block = waiting.pop(0)
            items += [shifted(item, x, _HEAD) for item in block.items]
            x += block.width + _GAP
            height = max(height, block.height)
        words = f"{title}; {more} more layouts are not drawn" if more and not waiting else title
        width = max(x - _GAP, min(room, text_width(words, theme.STRONG, True)))
        text = Text(0, 4, shorten(words, width, theme.STRONG, True), theme.STRONG, True)
        yield _Block((text, *items), width, _HEAD + height)
        title = f"{head}, continued"


def _layout(ledger: Ledger, group: SheetGroup, scale: float, most: float) -> _Block:
    """Draw one layout, with how many sheets have it and of what stock below."""
    work = group.first
    box = Box(0, 0, float(work.length) * scale, float(work.width) * scale)
    sketch = Sketch(
        work.length,
        work.width,
        SMALL,
        shapes=tuple(Shape(piece, _use(ledger, piece)) for piece in ledger.staying(work.piece)),
        cuts=tuple(
            CutMark(
                line.direction is Direction.RIP,
                line.middle,
                line.start,
                line.end,
                theme.HEAVY,
                theme.DASHED,
            )
            for line in ledger.store_lines(work.piece)
        ),
    )
    items = draw(sketch, View(work.length, work.width, box)).items
    count = len(group.names)
    caption = work.stock if count == 1 else f"{count} × {work.stock}"
    width = max(box.width, min(most, text_width(caption, theme.BODY)))
    words = Text(0, box.height + 3.8, shorten(caption, width, theme.BODY), theme.BODY)
    return _Block((*items, words), width, box.height + _CAPTION)


def _use(ledger: Ledger, piece: Piece) -> Use:
    if piece.name in ledger.panel_of:
        return Use.PANEL
    return Use.KEPT if ledger.is_kept_offcut(piece.name) else Use.WASTE
