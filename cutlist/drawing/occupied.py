"""What already stands on a page, so that the next label finds a free place."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cutlist.drawing.primitives import Box

__all__ = ["Occupied"]

_CELL_MM: Final = 12.0


class Occupied:
    """Boxes on a coarse grid; asking whether a place is free costs no more for a full page."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], list[Box]] = {}

    def add(self, box: Box) -> None:
        """Take a place."""
        for cell in self._covered(box):
            self._cells.setdefault(cell, []).append(box)

    def is_free(self, box: Box, ignoring: Box | None = None) -> bool:
        """Tell whether nothing but ``ignoring`` overlaps the box."""
        return not any(
            other is not ignoring and box.overlaps(other)
            for cell in self._covered(box)
            for other in self._cells.get(cell, ())
        )

    @staticmethod
    def _covered(box: Box) -> Iterator[tuple[int, int]]:
        for column in range(int(box.x // _CELL_MM), int(box.right // _CELL_MM) + 1):
            for row in range(int(box.y // _CELL_MM), int(box.bottom // _CELL_MM) + 1):
                yield column, row
