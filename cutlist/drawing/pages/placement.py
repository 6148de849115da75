"""Where a sheet is drawn on its page, and at what scale. Pure arithmetic."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing.frame import content_box
from cutlist.drawing.primitives import Box
from cutlist.drawing.scales import Scale, choose_scale
from cutlist.drawing.sheets.view import View

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.drawing.paper import Paper

__all__ = ["Placement", "place_sheet"]

#: Room left of and below the sheet for its dimensions, mm.
DIMENSION_ROOM: Final = 8.0
#: Room above the sheet, and room for callout numbers above and below it where there are any, mm.
TOP_ROOM: Final = 2.0
CALLOUT_ROOM: Final = 6.0
#: Least size of the key beside or below the drawing, and its distance, mm.
KEY_LEAST_HEIGHT: Final = 24.0
KEY_LEAST_WIDTH: Final = 48.0
KEY_GAP: Final = 5.0


@dataclass(frozen=True, slots=True)
class Placement:
    """A page laid out for one sheet: all boxes in millimetres on paper.

    Parameters
    ----------
    page_width, page_height
        The page.
    header
        The upper part, for title and scale.
    view
        The sheet in its place.
    key
        What is left for the key.
    """

    page_width: float
    page_height: float
    header: Box
    view: View
    key: Box
    scale: Scale


def place_sheet(
    length: Fraction,
    width: Fraction,
    *,
    unit_mm: float,
    paper: Paper,
    header_height: float,
    callouts: bool,
) -> Placement:
    """Choose upright or landscape, the key's side and the scale so that the drawing is largest.

    Among equals the one with the most room for the key wins, landscape first. ``unit_mm`` is what
    one unit of the sheet's sides stands for.
    """
    length_mm, width_mm = float(length) * unit_mm, float(width) * unit_mm
    found: list[tuple[tuple[int, float], Placement]] = []
    for landscape in (True, False):
        page_width, page_height = paper.size_mm(landscape=landscape)
        content = content_box(page_width, page_height)
        header = Box(content.x, content.y, content.width, header_height)
        spare = CALLOUT_ROOM if callouts else 0.0
        top = header.bottom + TOP_ROOM + spare
        left = content.x + DIMENSION_ROOM
        across = content.right - left
        down = content.bottom - top - DIMENSION_ROOM - spare
        for below in (True, False):
            room_x = across if below else across - KEY_LEAST_WIDTH - KEY_GAP
            room_y = down - KEY_LEAST_HEIGHT - KEY_GAP if below else down
            scale = choose_scale(length_mm, width_mm, room_x, room_y)
            size_x, size_y = scale.paper_mm(length_mm), scale.paper_mm(width_mm)
            if below:
                sheet = Box(left + (across - size_x) / 2, top, size_x, size_y)
                y = sheet.bottom + DIMENSION_ROOM + spare + KEY_GAP
                key = Box(content.x, y, content.width, content.bottom - y)
            else:
                sheet = Box(left, top, size_x, size_y)
                x = sheet.right + KEY_GAP
                key = Box(x, header.bottom + TOP_ROOM, content.right - x, 0.0)
                key = Box(key.x, key.y, key.width, content.bottom - key.y)
            view = View(length, width, sheet)
            placed = Placement(page_width, page_height, header, view, key, scale)
            found.append(((scale.ratio, -key.width * key.height), placed))
    return min(found, key=lambda one: one[0])[1]
