"""The most valuable set of panels on one sheet, by dynamic programming over its sub-rectangles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutlist.model.layout import Axis, Cell, Strip
from cutlist.nesting.columns import sub_rectangles
from cutlist.nesting.layouts.extents import Extents
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from cutlist.nesting.kernels.tables import Tables
    from cutlist.nesting.parameters import FillingParameters

    Longs = NDArray[np.int64]
    Reals = NDArray[np.float64]

_MOST_COUNT = 63  # of one item on a sheet, for two counts to add up in seven bits


@dataclass(frozen=True, slots=True)
class Filling:
    """Panels that can be cut from one bin, and a tree that does it, not yet tightened.

    ``counts`` has one entry for each item.
    """

    bin: int
    counts: NDArray[np.int32]
    tree: Strip | Cell


class SheetFiller:
    """Fills one kind of bin again and again, for changing values and demands.

    Parameters
    ----------
    tables, which
        The problem, and the bin.
    parameters
        What it is tuned by.

    Attributes
    ----------
    which
        The bin.
    items
        Number of items.
    done
        Pairs of sub-rectangles that the last filling joined, of a region or of the whole.
    """

    def __init__(
        self,
        tables: Tables,
        which: int,
        parameters: FillingParameters = USUAL_NESTING.columns.filling,
    ) -> None:
        self.which = which
        self.parameters = parameters
        most = parameters.most_extents
        self.items = len(tables.types)
        self.done = 0
        self._kerf = tables.blade.kerf
        length, width = int(tables.bins[which, 0]), int(tables.bins[which, 1])
        pieces = list[tuple[int, int, int]]()
        for k, (dx, dy, turnable, _) in enumerate(tables.types.tolist()):
            turns = [(dx, dy), (dy, dx)] if turnable else [(dx, dy)]
            pieces += [(a, b, k) for a, b in turns if a <= length and b <= width]
        self._pieces = np.array(pieces, np.int64).reshape(-1, 3)
        counts = [min(int(tables.demand[k]), _MOST_COUNT) for _, _, k in pieces]
        self._along_x = Extents([p[0] for p in pieces], counts, length, most)
        self._along_y = Extents([p[1] for p in pieces], counts, width, most)
        self._rng = np.random.default_rng(22)
        self._look()
        self._codes = np.random.default_rng(21).integers(1, 1 << 62, self.items, np.uint64)
        self._whole = _Cells(0, 1, self.items)
        self._region = _Cells(0, 1, self.items)

    @property
    def work(self) -> int:
        """Number of pairs of sub-rectangles that one filling joins."""
        return _pairs(len(self._xs), len(self._ys))

    @property
    def cells(self) -> int:
        """Number of sub-rectangles."""
        return len(self._xs) * len(self._ys)

    @property
    def exhaustive(self) -> bool:
        """Say whether a filling looks at all extents, not at a sample of them."""
        return self._along_x.all and self._along_y.all

    def _look(self) -> None:
        """Choose the extents to look at, others each time where there are too many."""
        self._xs, self._below_x = self._along_x.some(self._rng)
        self._ys, self._below_y = self._along_y.some(self._rng)

    def fill(self, values: Reals, demand: Longs, labels: int) -> tuple[Reals, NDArray[np.int32]]:
        """Return worth and counts of the best fillings found, best first.

        Parameters
        ----------
        values
            Worth of one panel of each item; items worth nothing are left out.
        demand
            At most so many of each.
        labels
            Sets of panels kept for each sub-rectangle; more find more and take longer.
        """
        if self.cells == 0:
            return np.empty(0), np.empty((0, self.items), np.int32)
        if not self.exhaustive:
            self._look()
        if self._whole.labels.worths.shape != (self.cells, labels):
            self._whole = _Cells(self.cells, labels, self.items)
        self._fill(self._whole, values, demand, len(self._xs), len(self._ys))
        last = self.cells - 1
        return self._whole.labels.worths[
            -1, : self._whole.labels.number[-1]
        ].copy(), self._whole.counts_at(last)

    def filling(self, label: int, counts: NDArray[np.int32]) -> Filling:
        """Return a label of the last filling of the whole with its tree."""
        return Filling(self.which, counts, self._whole.tree(self.cells - 1, label, self._kerf))

    def worths_in(self, lengths: Longs, widths: Longs) -> Reals:
        """Return the worth of the best filling of each region, by the last filling of the whole."""
        if self.cells == 0:
            return np.zeros(np.broadcast(lengths, widths).shape)
        i, j = self._place(self._below_x, lengths), self._place(self._below_y, widths)
        cells = np.where((i >= 0) & (j >= 0), i * len(self._ys) + j, 0)
        is_filled = (i >= 0) & (j >= 0) & (self._whole.labels.number[cells] > 0)
        return np.where(is_filled, self._whole.labels.worths[cells, 0], 0.0)

    def filling_in(self, length: int, width: int) -> Filling | None:
        """Return the best filling of a region, by the last filling of the whole; None if empty."""
        i, j = self._place(self._below_x, length), self._place(self._below_y, width)
        if i < 0 or j < 0:
            return None
        return self._best(self._whole, int(i) * len(self._ys) + int(j))

    def fill_region(self, values: Reals, demand: Longs, length: int, width: int) -> Filling | None:
        """Return the best filling found of a smaller region; None where nothing lies on it.

        It looks at the extents of the last filling of the whole, and leaves that as it is.

        Parameters
        ----------
        values, demand
            As for the whole.
        length, width
            Of the region.
        """
        i, j = self._place(self._below_x, length), self._place(self._below_y, width)
        if i < 0 or j < 0:
            return None
        if len(self._region.labels.number) != self.cells:
            self._region = _Cells(self.cells, 1, self.items)
        self._fill(self._region, values, demand, int(i) + 1, int(j) + 1)
        return self._best(self._region, (int(i) + 1) * (int(j) + 1) - 1)

    def _best(self, filled: _Cells, cell: int) -> Filling | None:
        if filled.labels.number[cell] == 0:
            return None
        return Filling(self.which, filled.counts_at(cell)[0], filled.tree(cell, 0, self._kerf))

    def _place(self, below: Longs, sizes: Longs | int) -> Longs:
        """Return the index of the largest extent of at most each size, or -1."""
        grown = np.asarray(sizes, np.int64) + self._kerf
        # Below the smallest extent there is none, and beyond the sheet that of the sheet.
        index: Longs = below[np.minimum(np.maximum(grown, 0), len(below) - 1)]
        return index

    def _fill(self, into: _Cells, values: Reals, demand: Longs, nx: int, ny: int) -> None:
        """Fill the first of the sub-rectangles along both axes."""
        self.done = _pairs(nx, ny)
        limits = np.zeros(8 * into.words, np.uint8)
        limits[: self.items] = np.minimum(demand, _MOST_COUNT)
        owners = self._pieces[:, 2]
        into.used = self._pieces[(demand[owners] > 0) & (values[owners] > 0)]
        grid = sub_rectangles.ExtentGrid(self._xs[:nx], self._ys[:ny], self._below_x, self._below_y)
        offer = sub_rectangles.Offer(into.used, values, self._codes, limits.view(np.uint64))
        sub_rectangles.fill_cells(grid, offer, into.labels)


def _pairs(nx: int, ny: int) -> int:
    return nx * ny * (nx + ny) // 4


class _Cells:
    """The arrays of one filling; see :class:`cutlist.nesting.columns.sub_rectangles.Labels`.

    ``used`` are the pieces that it was made of.
    """

    def __init__(self, cells: int, labels: int, items: int) -> None:
        self.items = items
        self.words = -(-items // 8)
        self.labels = sub_rectangles.Labels(
            np.zeros(cells, np.int64),
            np.empty((cells, labels), np.float64),
            np.empty((cells, labels), np.uint64),
            np.empty((cells, labels, self.words), np.uint64),
            np.empty((cells, labels, 5), np.int64),
        )
        self.used = np.empty((0, 3), np.int64)

    def counts_at(self, cell: int) -> NDArray[np.int32]:
        """Return the panels of each label of a cell."""
        found = int(self.labels.number[cell])
        raw = np.ascontiguousarray(self.labels.counts[cell, :found]).view(np.uint8)
        return raw.reshape(found, 8 * self.words)[:, : self.items].astype(np.int32)

    def tree(self, cell: int, label: int, kerf: int) -> Strip | Cell:
        """Return the tree of a label."""
        how, i, a, j, b = (int(x) for x in self.labels.origin[cell, label])
        if how == sub_rectangles.PLAIN:
            dx, dy, item = (int(x) for x in self.used[i])
            return Cell(item, dx - kerf, dy - kerf)
        axis = Axis.X if how == sub_rectangles.CUT_X else Axis.Y
        return Strip(axis, 0, 0, (self.tree(i, a, kerf), self.tree(j, b, kerf)))
