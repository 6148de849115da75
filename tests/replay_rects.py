"""Pieces as a replay of ``plan.json`` sees them: rectangles on a sheet, in floating point."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

EPS = 1e-6  # lengths nearer than this are the same: above rounding, far below 0.1 mm or 1/64 in
Doc = dict[str, Any]


def near(a: float, b: float, scale: float = 1.0) -> bool:
    """Tell if two figures are the same up to rounding."""
    return abs(a - b) <= EPS * max(1.0, scale)


@dataclass
class Rect:
    """A piece on its sheet: start and end along x, then along y; how it was cut."""

    spans: list[tuple[float, float]]
    sheet: str
    purpose: str = ""

    def size(self, axis: int) -> float:
        """Return the size along x (0) or y (1)."""
        return self.spans[axis][1] - self.spans[axis][0]

    def same(self, other: Rect, *axes: int) -> bool:
        """Tell if two lie alike along the axes given."""
        pairs = [(self.spans[i][end], other.spans[i][end]) for i in axes for end in (0, 1)]
        return all(near(a, b) for a, b in pairs)


def rect_of(data: Doc, sheet: str, purpose: str = "") -> Rect:
    """Read a piece's place on its sheet."""
    x, y = data["x"], data["y"]
    return Rect([(x, x + data["length"]), (y, y + data["width"])], sheet, purpose)
