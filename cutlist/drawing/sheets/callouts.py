"""Numbers for panels too small to letter: a leader to the free strip above or below the sheet.

Equal neighbours share one number with their count, ``#2 ×12``, and a dot in each of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.metrics import cap_height, text_width
from cutlist.drawing.occupied import neighbourhoods
from cutlist.drawing.primitives import Anchor, Box, Fill, Line, Rect, Role, Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.occupied import Occupied
    from cutlist.drawing.primitives import Item

__all__ = ["Pointer", "place_pointers"]

_GAP: Final = 1.6
#: From the sheet's edge to the bend of a leader and to the number's near side, mm.
_BEND: Final = 1.2
_REACH: Final = 3.2
_DOT: Final = 0.5
#: Panels nearer than this on paper are neighbours, mm; more than any kerf, less than any strip.
_NEAR: Final = 0.9


@dataclass(frozen=True, slots=True)
class Pointer:
    """A number and the panel on paper that it belongs to."""

    number: str
    panel: Box


@dataclass(frozen=True, slots=True)
class _Leader:
    """A group of neighbours, by what is written, and where its leader starts and leaves."""

    words: str
    x: float
    y: float
    above: bool


def place_pointers(
    pointers: Sequence[Pointer], sheet: Box, lettering: Occupied
) -> tuple[list[Item], int]:
    """Place numbers outside the sheet with leaders to their panels.

    A leader keeps clear of the ``lettering`` where any of its panels allows that, and is short.
    Returns the items, and the number of leaders that found no room in the strips.
    """
    items: list[Item] = []
    leaders = []
    for group in neighbourhoods([(p.number, p.panel) for p in pointers], _NEAR):
        number = group[0][0]
        boxes = [box for _, box in group]
        for box in boxes:
            x, y = _middle(box)
            dot = Box(x - _DOT / 2, y - _DOT / 2, _DOT, _DOT)
            items.append(Rect(dot, 0, Fill.BLACK, role=Role.CALLOUT))
        words = number if len(boxes) == 1 else f"{number} ×{len(boxes)}"
        leaders.append(_best_way(words, boxes, sheet, lettering))
    missing = 0
    for above in (True, False):
        side = sorted((one for one in leaders if one.above is above), key=lambda one: one.x)
        placed = _spread(side, sheet)
        missing += len(side) - len(placed)
        for leader, x in placed:
            items.extend(_draw(leader, x, sheet))
    return items, missing


def _middle(box: Box) -> tuple[float, float]:
    return box.x + box.width / 2, box.y + box.height / 2


def _best_way(words: str, boxes: Sequence[Box], sheet: Box, lettering: Occupied) -> _Leader:
    """Choose the panel and side with a free way out, the shortest of those; else the shortest."""
    ways: list[tuple[bool, float, float, float, bool]] = []
    for box in boxes:
        x, y = _middle(box)
        for above in (True, False):
            way = Box(x - 0.4, sheet.y, 0.8, y - sheet.y)
            if not above:
                way = Box(x - 0.4, y, 0.8, sheet.bottom - y)
            ways.append((not lettering.is_free(way), way.height, x, y, above))
    _, _, x, y, above = min(ways)
    return _Leader(words, x, y, above)


def _draw(leader: _Leader, x: float, sheet: Box) -> tuple[Item, ...]:
    edge = sheet.y if leader.above else sheet.bottom
    away = -1 if leader.above else 1
    bend, end = edge + away * _BEND, edge + away * _REACH
    base = end - 0.4 if leader.above else end + 0.4 + cap_height(theme.SMALL)
    role = Role.CALLOUT
    return (
        Line(leader.x, leader.y, leader.x, bend, theme.THIN, role=role),
        Line(leader.x, bend, x, end, theme.THIN, role=role),
        Text(x, base, leader.words, theme.SMALL, True, Anchor.MIDDLE, role=role),
    )


def _spread(side: Sequence[_Leader], sheet: Box) -> list[tuple[_Leader, float]]:
    """Give each number an x as near to its leader as its neighbours allow, within the sheet."""
    widths = [text_width(one.words, theme.SMALL, True) + _GAP for one in side]
    count = len(side)
    while count and sum(widths[:count]) > sheet.width:
        count -= 1
    xs: list[float] = []
    edge = sheet.x
    for leader, width in zip(side[:count], widths, strict=False):
        x = max(leader.x, edge + width / 2)
        xs.append(x)
        edge = x + width / 2
    edge = sheet.right
    for index in range(count - 1, -1, -1):
        xs[index] = min(xs[index], edge - widths[index] / 2)
        edge = xs[index] - widths[index] / 2
    return list(zip(side[:count], xs, strict=True))
