"""The extents along one axis that pieces of a sheet may sensibly have."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray


class Extents:
    """The extents along one axis that sub-rectangles may have.

    These are the sums of panel sizes. Where there are too many, a sample stands for them: every
    size, its multiples and what they leave over always, the others by chance.

    Parameters
    ----------
    sizes, counts
        Panels: the size of each along the axis, and how many there are.
    room
        The size of the sheet.
    most
        Extents looked at beyond which a sample stands for them.
    """

    def __init__(self, sizes: list[int], counts: list[int], room: int, most: int) -> None:
        self._most = most
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
        self.all = len(self._sums) <= most
        basic = set(sizes)
        if not self.all:
            for size, count in sorted(set(zip(sizes, counts, strict=True)), reverse=True):
                for n in range(1, min(count, room // size) + 1):
                    rest = self._below(room - n * size)
                    if len(basic) < most // 2:
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
            spare = max(0, self._most - len(self._basic))
            lucky = rng.choice(others, min(spare, len(others)), replace=False)
            chosen = np.sort(np.concatenate([self._basic, lucky]))
        lengths = np.arange(self._room + 1)
        return chosen, np.searchsorted(chosen, lengths, side="right") - 1
