"""A small sketch of one cut: the piece, the blade's line, and the side that rides the fence."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.drawing import theme
from cutlist.drawing.primitives import Box, Fill, Line, Rect
from cutlist.model.plan import Direction

if TYPE_CHECKING:
    from cutlist.drawing.primitives import Item
    from cutlist.model.plan import Cut, Piece

__all__ = ["sketch_cut"]

#: A side is never drawn shorter than this, so that a thin strip can still be seen; mm.
_LEAST_SIDE: float = 2.4
_FENCE_WIDTH: float = 1.0
_FENCE_AWAY: float = 1.1


def sketch_cut(piece: Piece, cut: Cut, room: Box) -> tuple[Item, ...]:
    """Sketch a cut in the room; in proportion, except that a very thin piece is drawn thicker.

    As on the layout pages the grain runs along x. The tinted part comes off, the heavy bar is the
    fence (or the stop), the wide line is the blade's way.
    """
    inner = room.inset(_FENCE_AWAY + _FENCE_WIDTH / 2)
    length, width = float(piece.length), float(piece.width)
    scale = min(inner.width / length, inner.height / width)
    across = min(max(length * scale, _LEAST_SIDE), inner.width)
    down = min(max(width * scale, _LEAST_SIDE), inner.height)
    box = Box(
        inner.x + (inner.width - across) / 2, inner.y + (inner.height - down) / 2, across, down
    )
    if cut.direction is Direction.RIP:
        share = min(max(float(cut.kept.width / piece.width), 0.12), 1.0)
        at_origin = cut.kept.y == piece.y
        kept = Box(box.x, box.bottom - share * down if at_origin else box.y, across, share * down)
        y = kept.y if at_origin else kept.bottom
        blade = Line(box.x - 0.8, y, box.right + 0.8, y, theme.WIDE)
        fence_y = box.bottom + _FENCE_AWAY if at_origin else box.y - _FENCE_AWAY
        fence = Line(box.x, fence_y, box.right, fence_y, _FENCE_WIDTH)
    else:
        share = min(max(float(cut.kept.length / piece.length), 0.12), 1.0)
        at_origin = cut.kept.x == piece.x
        kept = Box(box.x if at_origin else box.right - share * across, box.y, share * across, down)
        x = kept.right if at_origin else kept.x
        blade = Line(x, box.y - 0.8, x, box.bottom + 0.8, theme.WIDE)
        fence_x = box.x - _FENCE_AWAY if at_origin else box.right + _FENCE_AWAY
        fence = Line(fence_x, box.y, fence_x, box.bottom, _FENCE_WIDTH)
    return Rect(kept, 0, Fill.TINT), Rect(box, theme.THIN), blade, fence
