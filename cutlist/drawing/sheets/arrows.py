"""Arrows in a piece: along its grain, and across it with a distance."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.metrics import cap_height
from cutlist.drawing.primitives import Anchor, Box, Line, Role, Text

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["beside_arrow", "distance_arrows", "grain_arrow"]

#: Clear space at the edges of a piece, height of an arrow with its heads, and its lengths, mm.
_CLEAR: Final = 1.5
_ROOM: Final = 2.4
_LEAST: Final = 5.0
_MOST: Final = 14.0
#: How far from the edge a distance stands, and how much farther in it is tried next, mm.
_INSIDE: Final = 7.0
_ON: Final = 6.0
#: Lettering of a distance, pt.
_DISTANCE: Final = 12.0


def grain_arrow(box: Box) -> tuple[Line, Box] | None:
    """Give the arrow along the grain for a panel, and the room left for its lettering.

    The arrow lies low in a tall panel and at the left end of a low, long one; None in a panel too
    small for both.
    """
    if box.height >= 9 and box.width >= _LEAST + 2 * _CLEAR:
        length = min(_MOST, box.width - 2 * _CLEAR - 1)
        y = box.bottom - _CLEAR - _ROOM / 2
        middle = box.x + box.width / 2
        room = Box(box.x, box.y, box.width, y - 0.3 - box.y)
        return _arrow(middle - length / 2, y, middle + length / 2, y), room
    if box.height >= 2.4 and box.width >= 30:
        start = box.x + _CLEAR
        middle_y = box.y + box.height / 2
        taken = _LEAST + 2 + _CLEAR
        room = Box(box.x + taken, box.y, box.width - taken, box.height)
        return _arrow(start, middle_y, start + _LEAST + 1, middle_y), room
    return None


def _arrow(x1: float, y1: float, x2: float, y2: float, role: Role = Role.PLAIN) -> Line:
    return Line(x1, y1, x2, y2, theme.FINE, (), True, True, role)


def distance_arrows(box: Box, words: str, *, upwards: bool) -> Iterator[tuple[Line, Text]]:
    """Yield places of an arrow across a piece with its words: beside the edge, then farther in.

    ``upwards`` measures the piece's height on paper.
    """
    half = cap_height(_DISTANCE) / 2
    span = box.width if upwards else box.height
    first = min(_INSIDE, span / 4)
    for step in range(max(1, int((span - first) // _ON))):
        off = first + step * _ON
        for share in (2, 3, 4, 6):
            for part in dict.fromkeys((1, share - 1)):
                if upwards:
                    x, y = box.x + off, box.bottom - box.height * part / share
                    arrow = _arrow(x, box.bottom, x, box.y, Role.DIMENSION)
                    at = (x + half, y)
                else:
                    x, y = box.x + box.width * part / share, box.y + off
                    arrow = _arrow(box.x, y, box.right, y, Role.DIMENSION)
                    at = (x, y + half)
                text = Text(*at, words, _DISTANCE, True, Anchor.MIDDLE, upwards, Role.DISTANCE)
                yield arrow, text


def beside_arrow(line: Line, off: float) -> Box:
    """Give the box beside an arrow, not past its ends: two arrows may meet there."""
    if line.x1 == line.x2:
        return Box(line.x1 - off, line.y2 + 0.5, 2 * off, line.y1 - line.y2 - 1.0)
    return Box(line.x1 + 0.5, line.y1 - off, line.x2 - line.x1 - 1.0, 2 * off)
