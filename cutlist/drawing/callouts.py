"""Numbers for panels too small to letter: a leader to the free strip above or below the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.metrics import cap_height, text_width
from cutlist.drawing.primitives import Anchor, Line, Role, Text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.primitives import Box, Item

__all__ = ["Pointer", "place_pointers"]

_GAP: Final = 1.2
#: From the sheet's edge to the bend of a leader and to the number's near side, mm.
_BEND: Final = 1.2
_REACH: Final = 3.2


@dataclass(frozen=True, slots=True)
class Pointer:
    """A number and the panel on paper that it belongs to."""

    number: str
    panel: Box


def place_pointers(
    pointers: Sequence[Pointer], sheet: Box
) -> tuple[list[Item], tuple[Pointer, ...]]:
    """Place numbers outside the sheet with leaders to their panels, side by side.

    A panel in the upper half gets its number above. Returns the items, and the pointers for which
    the strip was full: the key says where those panels are.
    """
    items: list[Item] = []
    left_out: list[Pointer] = []
    middle = sheet.y + sheet.height / 2
    for above in (True, False):
        side = [p for p in pointers if (p.panel.y + p.panel.height / 2 <= middle) is above]
        side.sort(key=lambda p: (p.panel.x + p.panel.width / 2, p.panel.y))
        placed, rest = _spread(side, sheet)
        left_out.extend(rest)
        edge = sheet.y if above else sheet.bottom
        away = -1 if above else 1
        for pointer, x in placed:
            point_x = pointer.panel.x + pointer.panel.width / 2
            point_y = pointer.panel.y + pointer.panel.height / 2
            bend = edge + away * _BEND
            number_y = edge + away * _REACH
            items.append(Line(point_x, point_y, point_x, bend, theme.HAIR, role=Role.CALLOUT))
            if abs(x - point_x) > 1e-6:
                items.append(Line(point_x, bend, x, number_y, theme.HAIR, role=Role.CALLOUT))
            else:
                items.append(Line(x, bend, x, number_y, theme.HAIR, role=Role.CALLOUT))
            base = number_y - 0.4 if above else number_y + 0.4 + cap_height(theme.SMALL)
            items.append(
                Text(
                    x,
                    base,
                    pointer.number,
                    theme.SMALL,
                    True,
                    Anchor.MIDDLE,
                    role=Role.CALLOUT,
                )
            )
    return items, tuple(left_out)


def _spread(
    side: Sequence[Pointer], sheet: Box
) -> tuple[list[tuple[Pointer, float]], list[Pointer]]:
    """Give each number an x as near to its panel as its left neighbours allow, within the sheet."""
    widths = [text_width(p.number, theme.SMALL, True) + _GAP for p in side]
    count = len(side)
    while count and sum(widths[:count]) > sheet.width:
        count -= 1
    xs: list[float] = []
    edge = sheet.x
    for pointer, width in zip(side[:count], widths, strict=False):
        wish = pointer.panel.x + pointer.panel.width / 2
        x = max(wish, edge + width / 2)
        xs.append(x)
        edge = x + width / 2
    edge = sheet.right
    for index in range(count - 1, -1, -1):
        xs[index] = min(xs[index], edge - widths[index] / 2)
        edge = xs[index] - widths[index] / 2
    return list(zip(side[:count], xs, strict=True)), list(side[count:])
