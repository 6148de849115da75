"""Dynamic programming over the sub-rectangles of one sheet, several labels each, compiled.

Extents run over sums of item extents that fit the sheet (normal patterns, Herz 1972,
doi 10.1147/rd.165.0462, cited from memory). A label is a set of panels that a sub-rectangle can be
cut into; two labels join by a cut where the demand allows both. Keeping the best few labels for
each sub-rectangle makes this a heuristic. Counts are packed eight to a 64-bit word, seven bits
each, so that one subtraction compares eight counts with the demand.
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

Longs = NDArray[np.int64]
Words = NDArray[np.uint64]
Reals = NDArray[np.float64]
PLAIN, CUT_X, CUT_Y = 0, 1, 2
_TOPS = np.uint64(0x8080808080808080)


@njit(cache=True, nogil=True)
def _offer(
    c: int,
    worth: float,
    code: np.uint64,
    words: Words,
    how: int,
    i: int,
    a: int,
    j: int,
    b: int,
    number: Longs,
    worths: Reals,
    codes: Words,
    counts: Words,
    origin: Longs,
) -> None:
    """Insert a label into the falling list of cell ``c`` unless its panels are there already."""
    width = worths.shape[1]
    have = number[c]
    for k in range(have):
        if codes[c, k] == code:
            return
    if worths[c, width - 1] >= worth:
        return
    if have < width:
        at = have
        number[c] = have + 1
    else:
        at = width - 1
    while at > 0 and worths[c, at - 1] < worth:
        worths[c, at] = worths[c, at - 1]
        codes[c, at] = codes[c, at - 1]
        counts[c, at] = counts[c, at - 1]
        origin[c, at] = origin[c, at - 1]
        at -= 1
    worths[c, at] = worth
    codes[c, at] = code
    counts[c, at] = words
    origin[c, at, 0] = how
    origin[c, at, 1] = i
    origin[c, at, 2] = a
    origin[c, at, 3] = j
    origin[c, at, 4] = b


@njit(cache=True, nogil=True)
def _join(
    c: int,
    i: int,
    j: int,
    how: int,
    demand: Words,
    words: Words,
    number: Longs,
    worths: Reals,
    codes: Words,
    counts: Words,
    origin: Longs,
) -> None:
    """Offer cell ``c`` every permitted pair of labels of cells ``i`` and ``j``."""
    width = worths.shape[1]
    for a in range(number[i]):
        for b in range(number[j]):
            worth = worths[i, a] + worths[j, b]
            if worth <= worths[c, width - 1]:
                break
            allowed = True
            for w in range(words.shape[0]):
                words[w] = counts[i, a, w] + counts[j, b, w]
                if ((demand[w] | _TOPS) - words[w]) & _TOPS != _TOPS:
                    allowed = False
                    break
            if allowed:
                code = codes[i, a] + codes[j, b]
                _offer(
                    c, worth, code, words, how, i, a, j, b, number, worths, codes, counts, origin
                )


@njit(cache=True, nogil=True)
def fill_cells(
    xs: Longs,
    ys: Longs,
    below_x: Longs,
    below_y: Longs,
    pieces: Longs,
    values: Reals,
    item_codes: Words,
    demand: Words,
    number: Longs,
    worths: Reals,
    codes: Words,
    counts: Words,
    origin: Longs,
) -> None:
    """Fill all cells in rising order.

    ``xs``, ``ys`` are the patterns; ``below_x[e]`` is the index of the largest pattern of at most
    ``e``, or -1. ``pieces`` has rows ``dx, dy, item``. Cell ``i * len(ys) + j`` is ``xs[i]`` by
    ``ys[j]``. ``origin`` receives how a label came about, and from which cells and labels.
    """
    n = ys.shape[0]
    words = np.zeros(demand.shape[0], np.uint64)
    number[:] = 0
    worths[:] = 0.0  # of a cell without labels, and of one with room for more
    last = worths.shape[1] - 1
    for i in range(xs.shape[0]):
        for j in range(n):
            c = i * n + j
            for side in range(2):
                before = c - n if side == 0 else c - 1
                if (side == 0 and i == 0) or (side == 1 and j == 0):
                    continue
                for k in range(number[before]):
                    o = origin[before, k]
                    _offer(
                        c,
                        worths[before, k],
                        codes[before, k],
                        counts[before, k],
                        o[0],
                        o[1],
                        o[2],
                        o[3],
                        o[4],
                        number,
                        worths,
                        codes,
                        counts,
                        origin,
                    )
            for p in range(pieces.shape[0]):
                if pieces[p, 0] == xs[i] and pieces[p, 1] == ys[j]:
                    item = pieces[p, 2]
                    words[:] = 0
                    words[item // 8] = np.uint64(1) << np.uint64(8 * (item % 8))
                    _offer(
                        c,
                        values[item],
                        item_codes[item],
                        words,
                        PLAIN,
                        p,
                        0,
                        0,
                        0,
                        number,
                        worths,
                        codes,
                        counts,
                        origin,
                    )
            for a in range(i):
                if 2 * xs[a] > xs[i]:
                    break
                first, second = a * n + j, below_x[xs[i] - xs[a]] * n + j
                if worths[first, 0] + worths[second, 0] <= worths[c, last]:
                    continue
                _join(
                    c,
                    first,
                    second,
                    CUT_X,
                    demand,
                    words,
                    number,
                    worths,
                    codes,
                    counts,
                    origin,
                )
            for a in range(j):
                if 2 * ys[a] > ys[j]:
                    break
                first, second = i * n + a, i * n + below_y[ys[j] - ys[a]]
                if worths[first, 0] + worths[second, 0] <= worths[c, last]:
                    continue
                _join(
                    c,
                    first,
                    second,
                    CUT_Y,
                    demand,
                    words,
                    number,
                    worths,
                    codes,
                    counts,
                    origin,
                )
