"""A small sketch of one cut: the piece, the blade's line, and the side that rides the fence."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.primitives import Box, Role
from cutlist.drawing.sheets.draw import draw
from cutlist.drawing.sheets.edges import BAR_ROOM
from cutlist.drawing.sheets.looks import SMALL
from cutlist.drawing.sheets.sketch import CutMark, Shape, Sketch, Use
from cutlist.drawing.sheets.view import View
from cutlist.model.edges import Edge
from cutlist.model.plan import Direction

if TYPE_CHECKING:
    from cutlist.drawing.primitives import Item
    from cutlist.model.plan import Cut, Piece

__all__ = ["sketch_cut"]

#: A side is never drawn shorter than this, so that a thin strip can still be seen; mm.
_LEAST_SIDE: Final = 2.4
#: What comes off is drawn at least so large, as a share of the piece.
_LEAST_SHARE: Final = Fraction(12, 100)
_LOOK: Final = replace(SMALL, outline=theme.THIN, over=0.8)


def sketch_cut(piece: Piece, cut: Cut, room: Box) -> tuple[Item, ...]:
    """Sketch a cut in the room; in proportion, except that a very thin piece is drawn thicker.

    As on the layout pages the grain runs along x. The tinted part comes off, the heavy bar is the
    fence (or the stop), the wide line is the blade's way.
    """
    inner = room.inset(BAR_ROOM)
    length, width = float(piece.length), float(piece.width)
    scale = min(inner.width / length, inner.height / width)
    across = min(max(length * scale, _LEAST_SIDE), inner.width)
    down = min(max(width * scale, _LEAST_SIDE), inner.height)
    box = Box(
        inner.x + (inner.width - across) / 2, inner.y + (inner.height - down) / 2, across, down
    )
    is_rip = cut.direction is Direction.RIP
    whole, kept = (piece.width, cut.kept.width) if is_rip else (piece.length, cut.kept.length)
    at_origin = cut.kept.y == piece.y if is_rip else cut.kept.x == piece.x
    size = max(min(kept, whole), whole * _LEAST_SHARE)
    start = Fraction(0) if at_origin else whole - size
    blade = size if at_origin else start
    sides = (Edge.LOWER, Edge.UPPER) if is_rip else (Edge.LEFT, Edge.RIGHT)
    off = replace(piece, x=Fraction(0), y=Fraction(0))
    off = replace(off, y=start, width=size) if is_rip else replace(off, x=start, length=size)
    end = piece.length if is_rip else piece.width
    sketch = Sketch(
        piece.length,
        piece.width,
        _LOOK,
        shapes=(Shape(off, Use.COMES_OFF),),
        cuts=(CutMark(is_rip, blade, Fraction(0), end, role=Role.PLAIN),),
        bar=sides[0] if at_origin else sides[1],
        role=Role.PLAIN,
    )
    return draw(sketch, View(piece.length, piece.width, box)).items
