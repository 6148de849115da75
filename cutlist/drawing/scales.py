"""The scale of a drawing.

ISO 5455 recommends 1:1, 1:2, 1:5 and their multiples by powers of ten, and allows others where the
use demands it. Here the drawing should be as large as the page allows, for it is read at the saw:
the largest recommended scale that fits is taken unless it leaves more than a quarter of
the size unused; then the largest whole ratio, such as 1:13. The ratio printed is the one drawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Final

__all__ = ["Scale", "choose_scale"]

#: A recommended scale is taken if it draws at least this share of what would fit.
GOOD_ENOUGH: Final = 0.75


@dataclass(frozen=True, slots=True)
class Scale:
    """A reduction: one millimetre on paper stands for ``ratio`` millimetres."""

    ratio: int

    def __str__(self) -> str:
        """Give the ratio in the way of a title block."""
        return f"1:{self.ratio}"

    def paper_mm(self, real_mm: float) -> float:
        """Give the size on paper of a real size."""
        return real_mm / self.ratio


def choose_scale(
    length_mm: float,
    width_mm: float,
    room_x_mm: float,
    room_y_mm: float,
    good_enough: float = GOOD_ENOUGH,
) -> Scale:
    """Choose the scale at which a sheet of the given real size fits into the room on paper.

    The length lies along x. Never larger than full size. A recommended scale is taken if it draws
    ``good_enough`` of what would fit.
    """
    if room_x_mm <= 0 or room_y_mm <= 0:
        msg = "there is no room to draw in"
        raise ValueError(msg)
    least = max(length_mm / room_x_mm, width_mm / room_y_mm, 1.0)
    # A hair of slack keeps 2440 mm in 244 mm at 1:10 in spite of binary rounding.
    smallest_ratio = ceil(least - 1e-9)
    recommended = _recommended_from(smallest_ratio)
    if least / recommended >= good_enough:
        return Scale(recommended)
    return Scale(smallest_ratio)


def _recommended_from(ratio: int) -> int:
    """Give the smallest ratio of the ISO 5455 series that is at least ``ratio``."""
    power = 1
    while True:
        for step in (1, 2, 5):
            if step * power >= ratio:
                return step * power
        power *= 10
