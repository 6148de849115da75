"""Dimension lines in the manner of ISO 129-1: arrows, extension lines, figures above the line."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.drawing import theme
from cutlist.drawing.primitives import Anchor, Line, Role, Text

if TYPE_CHECKING:
    from cutlist.drawing.primitives import Box, Item

__all__ = ["dimension_sheet"]

_PAST: float = 1.2
_ABOVE: float = 0.9


def dimension_sheet(
    sheet: Box, length: str, width: str, *, below: float, left: float
) -> tuple[Item, ...]:
    """Dimension the sheet below and to its left.

    ``below`` and ``left`` are the distances in millimetres; the figure of the width reads from the
    right.
    """
    y, x = sheet.bottom + below, sheet.x - left
    role = Role.DIMENSION
    middle_x, middle_y = sheet.x + sheet.width / 2, sheet.y + sheet.height / 2
    return (
        Line(sheet.x, sheet.bottom + 0.8, sheet.x, y + _PAST, theme.THIN, role=role),
        Line(sheet.right, sheet.bottom + 0.8, sheet.right, y + _PAST, theme.THIN, role=role),
        Line(sheet.x, y, sheet.right, y, theme.THIN, (), True, True, role),
        Text(middle_x, y - _ABOVE, length, theme.STRONG, anchor=Anchor.MIDDLE, role=role),
        Line(sheet.x - 0.8, sheet.y, x - _PAST, sheet.y, theme.THIN, role=role),
        Line(sheet.x - 0.8, sheet.bottom, x - _PAST, sheet.bottom, theme.THIN, role=role),
        Line(x, sheet.y, x, sheet.bottom, theme.THIN, (), True, True, role),
        Text(
            x - _ABOVE,
            middle_y,
            width,
            theme.STRONG,
            anchor=Anchor.MIDDLE,
            upwards=True,
            role=role,
        ),
    )
