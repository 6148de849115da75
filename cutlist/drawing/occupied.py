"""What stands where on a page: free places for labels, and who is whose neighbour.

Both work on a coarse grid, so that a full page costs no more for each box than an empty one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from cutlist.drawing.primitives import Box

__all__ = ["Occupied", "neighbourhoods"]

_CELL_MM: Final = 10.0


class Occupied:
    """Boxes that are taken."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], list[Box]] = {}

    def add(self, box: Box) -> None:
        """Take a place."""
        for cell in _covered(box):
            self._cells.setdefault(cell, []).append(box)

    def is_free(self, box: Box, ignoring: Box | None = None) -> bool:
        """Tell whether nothing but ``ignoring`` overlaps the box."""
        return not any(
            other is not ignoring and box.overlaps(other)
            for cell in _covered(box)
            for other in self._cells.get(cell, ())
        )


def _covered(box: Box) -> Iterator[tuple[int, int]]:
    for column in range(int(box.x // _CELL_MM), int(box.right // _CELL_MM) + 1):
        for row in range(int(box.y // _CELL_MM), int(box.bottom // _CELL_MM) + 1):
            yield column, row


def neighbourhoods(
    marked: Sequence[tuple[str, Box]], near_mm: float
) -> tuple[tuple[tuple[str, Box], ...], ...]:
    """Group boxes of the same mark that touch, or nearly so, directly or through others.

    Groups and their members keep the order given.
    """
    root = list(range(len(marked)))

    def find(index: int) -> int:
        while root[index] != index:
            root[index] = root[root[index]]
            index = root[index]
        return index

    cells: dict[tuple[str, int, int], list[int]] = {}
    for index, (mark, box) in enumerate(marked):
        grown = box.inset(-near_mm / 2)
        for column, row in _covered(grown):
            for other in cells.setdefault((mark, column, row), []):
                if grown.overlaps(marked[other][1].inset(-near_mm / 2)):
                    first, second = sorted((find(index), find(other)))
                    root[second] = first
            cells[mark, column, row].append(index)
    groups: dict[int, list[tuple[str, Box]]] = {}
    for index, one in enumerate(marked):
        groups.setdefault(find(index), []).append(one)
    return tuple(tuple(group) for group in groups.values())
