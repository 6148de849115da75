"""The pool: every good sheet that the search saw, each set of panels once."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from cutlist.nesting.kernels.nodes import ANGLE, FIELDS, ITEM, KIND

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from cutlist.nesting.kernels.tables import Tables


class Pool(NamedTuple):
    """Sheets filed by the compiled search.

    Parameters
    ----------
    items
        Number of items.
    codes
        A random number per item and per bin; their sum tells sets of panels apart.
    floors
        Per bin: least area on a sheet worth filing; 0 for the first bin files nothing.
    table
        Hash table of the sums filed; its length is a power of two.
    book
        Per sheet: first row in ``pages``, number of rows, bin, area of the panels.
    pages
        Node tables, one after the other.
    filed
        Number of sheets, and of rows in ``pages``.
    """

    items: int
    codes: NDArray[np.uint64]
    floors: NDArray[np.int64]
    table: NDArray[np.uint64]
    book: NDArray[np.int64]
    pages: NDArray[np.int32]
    filed: NDArray[np.int64]

    @classmethod
    def empty(cls, tables: Tables, sheets: int, rows: int) -> Pool:
        """Return a pool for at most so many sheets and rows."""
        rng = np.random.default_rng(20)
        codes = rng.integers(1, 1 << 63, len(tables.types) + len(tables.bins), np.uint64)
        slots = 1 << max(4, (2 * sheets).bit_length())
        return cls(
            len(tables.types),
            codes,
            np.zeros(len(tables.bins), np.int64),
            np.zeros(slots, np.uint64),
            np.empty((sheets, 4), np.int64),
            np.empty((rows, FIELDS), np.int32),
            np.zeros(2, np.int64),
        )

    @property
    def sheets(self) -> int:
        """Number of sheets filed."""
        return int(self.filed[0])

    def clear(self) -> None:
        """Forget everything."""
        self.table[:] = 0
        self.filed[:] = 0

    def counts(self) -> NDArray[np.int32]:
        """Return how many panels of each item lie on each sheet."""
        sheets, rows, items = int(self.filed[0]), int(self.filed[1]), self.items
        owner = np.repeat(np.arange(sheets), self.book[:sheets, 1])
        pages = self.pages[:rows]
        panels = pages[:, KIND] == ITEM
        flat = owner[panels] * items + pages[panels, ANGLE]
        return np.bincount(flat, minlength=sheets * items).reshape(sheets, items).astype(np.int32)
