"""How the frame of a sheet lies on paper.

A sheet lies with its length (its grain) along x. Its own frame has the origin at the lower left
corner and y running up the page, so what lies on it is turned over once here and nowhere else.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from cutlist.drawing.primitives import Box
from cutlist.units.lengths import MM_PER_INCH
from cutlist.units.system import Units

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.model.plan import Piece

__all__ = ["View", "unit_mm"]


def unit_mm(units: Units) -> float:
    """Give the real millimetres of one unit of a job."""
    return float(MM_PER_INCH) if units is Units.INCH else 1.0


@dataclass(frozen=True, slots=True)
class View:
    """A sheet of some length and width, and the box on paper that it fills.

    The two directions may have scales of their own: a thin strip is sketched thicker than it is.
    """

    length: Fraction
    width: Fraction
    sheet: Box

    def x(self, value: Fraction) -> float:
        """Give x on paper of an x in the sheet's frame."""
        return self.sheet.x + self.sheet.width * float(value / self.length)

    def y(self, value: Fraction) -> float:
        """Give y on paper of a y in the sheet's frame."""
        return self.sheet.bottom - self.sheet.height * float(value / self.width)

    def box(self, piece: Piece) -> Box:
        """Give the box on paper of a piece."""
        x, y = self.x(piece.x), self.y(piece.y + piece.width)
        return Box(x, y, self.x(piece.x + piece.length) - x, self.y(piece.y) - y)

    def across(self, value: Fraction) -> float:
        """Give a distance on paper, by the scale of the length."""
        return self.sheet.width * float(value / self.length)
