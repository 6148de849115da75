"""The most valuable set of panels on one sheet, by dynamic programming over its sub-rectangles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from cutlist.model.layout import Axis, Cell, Strip
from cutlist.nesting import blocks

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from cutlist.nesting.state import Tables

_MOST_EXTENTS = 240
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
    """Fills one kind of bin again and again, for changing values and demands."""

    def __init__(self, tables: Tables, which: int) -> None:
        self.which = which
        self.items = len(tables.types)
        self._kerf = int(tables.blade[1])
        length, width = int(tables.bins[which, 0]), int(tables.bins[which, 1])
        pieces = list[tuple[int, int, int]]()
        for k, (dx, dy, turnable, _) in enumerate(tables.types.tolist()):
            turns = [(dx, dy), (dy, dx)] if turnable else [(dx, dy)]
            pieces += [(a, b, k) for a, b in turns if a <= length and b <= width]
        self._pieces = np.array(pieces, np.int64).reshape(-1, 3)
        counts = [min(int(tables.demand[k]), _MOST_COUNT) for _, _, k in pieces]
        self._along_x = _Extents([p[0] for p in pieces], counts, length)
        self._along_y = _Extents([p[1] for p in pieces], counts, width)
        self._rng = np.random.default_rng(22)
        self._look()
        self._words = -(-self.items // 8)
        self._codes = np.random.default_rng(21).integers(1, 1 << 62, self.items, np.uint64)
        self._room(1)

    @property
    def work(self) -> int:
        """Number of pairs of sub-rectangles that one filling joins."""
        nx, ny = len(self._xs), len(self._ys)
        return nx * ny * (nx + ny) // 4

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

    def _room(self, labels: int) -> None:
        cells = self.cells
        self._number = np.zeros(cells, np.int64)
        self._worths = np.empty((cells, labels), np.float64)
        self._label_codes = np.empty((cells, labels), np.uint64)
        self._counts = np.empty((cells, labels, self._words), np.uint64)
        self._origin = np.empty((cells, labels, 5), np.int64)

    def fill(
        self, values: NDArray[np.float64], demand: NDArray[np.int64], labels: int
    ) -> tuple[NDArray[np.float64], NDArray[np.int32]]:
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
        if self._worths.shape[1] != labels:
            self._room(labels)
        if not self.exhaustive:
            self._look()
        limits = np.zeros(8 * self._words, np.uint8)
        limits[: self.items] = np.minimum(demand, _MOST_COUNT)
        owners = self._pieces[:, 2]
        pieces = self._pieces[(demand[owners] > 0) & (values[owners] > 0)]
        self._used = pieces
        blocks.fill_cells(
            self._xs,
            self._ys,
            self._below_x,
            self._below_y,
            pieces,
            values,
            self._codes,
            limits.view(np.uint64),
            self._number,
            self._worths,
            self._label_codes,
            self._counts,
            self._origin,
        )
        found = int(self._number[-1])
        raw = np.ascontiguousarray(self._counts[-1, :found]).view(np.uint8)
        counts = raw.reshape(found, 8 * self._words)[:, : self.items].astype(np.int32)
        return self._worths[-1, :found].copy(), counts

    def filling(self, label: int, counts: NDArray[np.int32]) -> Filling:
        """Return a label of the last call with its tree."""
        return Filling(self.which, counts, self._tree(self.cells - 1, label))

    def _tree(self, cell: int, label: int) -> Strip | Cell:
        how, i, a, j, b = (int(x) for x in self._origin[cell, label])
        if how == blocks.PLAIN:
            dx, dy, item = (int(x) for x in self._used[i])
            return Cell(item, dx - self._kerf, dy - self._kerf)
        axis = Axis.X if how == blocks.CUT_X else Axis.Y
        return Strip(axis, 0, 0, (self._tree(i, a), self._tree(j, b)))


class _Extents:
    """The extents along one axis that sub-rectangles may have.

    These are the sums of panel sizes. Where there are too many, a sample stands for them: every
    size, its multiples and what they leave over always, the others by chance.
    """

    def __init__(self, sizes: list[int], counts: list[int], room: int) -> None:
        reached = np.zeros(room + 1, np.bool_)
        reached[0] = True
        for size, count in zip(sizes, counts, strict=True):
            for _ in range(min(count, room // size)):
                more = reached.copy()
                more[size:] |= reached[:-size]
                if (more == reached).all():
                    break
                reached = more
        self._sums = np.flatnonzero(reached)[1:]
        self._room = room
        self.all = len(self._sums) <= _MOST_EXTENTS
        basic = set(sizes)
        if not self.all:
            for size, count in sorted(set(zip(sizes, counts, strict=True)), reverse=True):
                for n in range(1, min(count, room // size) + 1):
                    rest = self._below(room - n * size)
                    if len(basic) < _MOST_EXTENTS // 2:
                        basic |= {n * size, rest} - {0}
        self._basic = np.array(sorted(basic | {self._below(room)} - {0}), np.int64)

    def _below(self, extent: int) -> int:
        at = int(np.searchsorted(self._sums, extent, side="right")) - 1
        return 0 if at < 0 else int(self._sums[at])

    def some(self, rng: np.random.Generator) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Return rising extents, and for each length the index of the last one below it or -1."""
        chosen = self._sums
        if not self.all:
            others = np.setdiff1d(self._sums, self._basic)
            spare = max(0, _MOST_EXTENTS - len(self._basic))
            lucky = rng.choice(others, min(spare, len(others)), replace=False)
            chosen = np.sort(np.concatenate([self._basic, lucky]))
        lengths = np.arange(self._room + 1)
        return chosen, np.searchsorted(chosen, lengths, side="right") - 1
