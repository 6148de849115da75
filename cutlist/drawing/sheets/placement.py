"""Where a sheet is drawn on its page, and at what scale. Pure arithmetic.

On paper the sheet lies with its length (its grain) along x. Its frame has the origin at the lower
left corner and y running up the page, so a piece is turned over once here and nowhere else.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing.frame import content_box
from cutlist.drawing.primitives import Box
from cutlist.drawing.scales import Scale, choose_scale

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.drawing.paper import Paper
    from cutlist.model.plan import Piece

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
    sheet
        The outline of the sheet.
    key
        What is left for the key.
    unit_mm
        Real millimetres of one unit of the job.
    """

    page_width: float
    page_height: float
    header: Box
    sheet: Box
    key: Box
    scale: Scale
    unit_mm: float

    def along(self, value: Fraction) -> float:
        """Give x on paper of an x in the sheet's frame."""
        return self.sheet.x + self.scale.paper_mm(float(value) * self.unit_mm)

    def up(self, value: Fraction) -> float:
        """Give y on paper of a y in the sheet's frame."""
        return self.sheet.bottom - self.scale.paper_mm(float(value) * self.unit_mm)

    def box(self, piece: Piece) -> Box:
        """Give the box on paper of a piece."""
        length = self.scale.paper_mm(float(piece.length) * self.unit_mm)
        width = self.scale.paper_mm(float(piece.width) * self.unit_mm)
        return Box(self.along(piece.x), self.up(piece.y + piece.width), length, width)


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

    Among equals the one with the most room for the key wins, landscape first.
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
            placed = Placement(page_width, page_height, header, sheet, key, scale, unit_mm)
            found.append(((scale.ratio, -key.width * key.height), placed))
    return min(found, key=lambda one: one[0])[1]
