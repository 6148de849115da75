"""Turning a hatch and an arrow head into what every backend can draw."""

from __future__ import annotations

from math import ceil, hypot, sqrt
from typing import TYPE_CHECKING

from cutlist.drawing.primitives import ARROW_HALF_WIDTH, ARROW_LEAST_MM, ARROW_LENGTH

if TYPE_CHECKING:
    from cutlist.drawing.primitives import Box, Hatch

__all__ = ["arrow_head", "hatch_lines"]


def hatch_lines(hatch: Hatch) -> tuple[tuple[float, float, float, float], ...]:
    """Give the lines of a hatch, each ``(x1, y1, x2, y2)``, rising to the right, inside its box.

    A line is x + y = k × spacing × √2 with whole k, so that neighbouring hatches join up.
    """
    box: Box = hatch.box
    step = hatch.spacing_mm * sqrt(2)
    out = []
    k = ceil((box.x + box.y) / step)
    while k * step < box.right + box.bottom:
        total = k * step
        x1 = max(box.x, total - box.bottom)
        x2 = min(box.right, total - box.y)
        if x2 > x1:
            out.append((x1, total - x1, x2, total - x2))
        k += 1
    return tuple(out)


def arrow_head(
    x: float, y: float, from_x: float, from_y: float, width_mm: float
) -> tuple[tuple[float, float], tuple[float, float], tuple[float, float]]:
    """Give the three corners of the head at (x, y) of an arrow that comes from (from_x, from_y)."""
    length = max(ARROW_LENGTH * width_mm, ARROW_LEAST_MM)
    half = length * ARROW_HALF_WIDTH / ARROW_LENGTH / 1.3
    distance = hypot(x - from_x, y - from_y) or 1.0
    ux, uy = (x - from_x) / distance, (y - from_y) / distance
    back_x, back_y = x - ux * length, y - uy * length
    return (
        (x, y),
        (back_x - uy * half, back_y + ux * half),
        (back_x + uy * half, back_y - ux * half),
    )
