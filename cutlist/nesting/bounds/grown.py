"""A problem prepared for its bounds: no kerf, no useless orientation, no unreachable margin.

A panel grown by one kerf each way in a bin grown by one kerf each way is the same problem without
kerf. A bin can be made smaller to the largest sum of item sizes that fits along each of its sides,
since every layout can be pushed together towards one corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray

    from cutlist.nesting.problem import Bin, Problem


@dataclass(frozen=True, slots=True)
class Grown:
    """The prepared problem; arrays hold one entry per kind of item.

    Parameters
    ----------
    lengths, widths, counts
        Sizes with the kerf, and the number of panels.
    turnable
        True where both orientations fit into some bin and differ.
    bin_lengths, bin_widths
        Of each bin of the problem, in its order; both 0 where no item fits.
    costs, available
        As in the problem.
    feasible
        False where some item fits into no bin.
    """

    lengths: NDArray[np.int64]
    widths: NDArray[np.int64]
    counts: NDArray[np.int64]
    turnable: NDArray[np.bool_]
    bin_lengths: NDArray[np.int64]
    bin_widths: NDArray[np.int64]
    costs: tuple[int, ...]
    available: tuple[int | None, ...]
    feasible: bool


def grow(problem: Problem) -> Grown:
    """Prepare a problem for its bounds."""
    kerf = problem.kerf
    kinds: dict[tuple[int, int, bool], int] = {}
    feasible = True
    for item in problem.items:
        if item.qty <= 0:
            continue
        length, width = item.length + kerf, item.width + kerf
        straight = _fits_any(problem.bins, item.length, item.width)
        turned = item.turnable and _fits_any(problem.bins, item.width, item.length)
        feasible &= straight or turned
        if turned and not straight:
            length, width = width, length
        both = straight and turned and length != width
        if both and length < width:
            length, width = width, length
        key = (length, width, both)
        kinds[key] = kinds.get(key, 0) + item.qty
    keys = sorted(kinds)
    shrunk = [_shrink(b, kinds, kerf) for b in problem.bins]
    return Grown(
        lengths=np.array([k[0] for k in keys], dtype=np.int64),
        widths=np.array([k[1] for k in keys], dtype=np.int64),
        counts=np.array([kinds[k] for k in keys], dtype=np.int64),
        turnable=np.array([k[2] for k in keys], dtype=np.bool_),
        bin_lengths=np.array([s[0] for s in shrunk], dtype=np.int64),
        bin_widths=np.array([s[1] for s in shrunk], dtype=np.int64),
        costs=tuple(b.cost for b in problem.bins),
        available=tuple(b.available for b in problem.bins),
        feasible=feasible,
    )


def _fits_any(bins: Iterable[Bin], length: int, width: int) -> bool:
    """Tell whether a panel of this size fits into some bin that can be had."""
    return any(length <= b.length and width <= b.width and b.available != 0 for b in bins)


def _shrink(bin_: Bin, kinds: dict[tuple[int, int, bool], int], kerf: int) -> tuple[int, int]:
    """Return the length and width of a bin that items can use, kerf included."""
    length, width = bin_.length + kerf, bin_.width + kerf
    along: dict[int, int] = {}
    across: dict[int, int] = {}
    for (a, b, turnable), count in kinds.items():
        for x, y in ((a, b), (b, a)) if turnable else ((a, b),):
            if x <= length and y <= width:
                along[x] = along.get(x, 0) + count
                across[y] = across.get(y, 0) + count
    return largest_sum(along, length), largest_sum(across, width)


def largest_sum(sizes: dict[int, int], limit: int) -> int:
    """Return the largest sum, at most ``limit``, of sizes used at most their counts.

    >>> largest_sum({7: 1, 5: 2}, 16)
    12
    """
    mask = (1 << (limit + 1)) - 1
    reached = 1
    for size, count in sizes.items():
        left = min(count, limit // size)
        take = 1
        while left > 0:
            take = min(take, left)
            reached |= (reached << (take * size)) & mask
            left -= take
            take *= 2
        if reached >> limit:
            return limit
    return reached.bit_length() - 1
