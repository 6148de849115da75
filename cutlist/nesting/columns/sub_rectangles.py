"""Dynamic programming over the sub-rectangles of one sheet, several labels each, compiled.

Extents run over sums of item extents that fit the sheet (normal patterns, Herz 1972,
doi 10.1147/rd.165.0462, cited from memory). A label is a set of panels that a sub-rectangle can be
cut into; two labels join by a cut where the demand allows both. Keeping the best few labels for
each sub-rectangle makes this a heuristic. Counts are packed eight to a 64-bit word, seven bits
each, so that one subtraction compares eight counts with the demand.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit

from cutlist.nesting.kernels.records import Longs, Reals, Words

PLAIN, CUT_X, CUT_Y = 0, 1, 2
_TOPS = np.uint64(0x8080808080808080)


class ExtentGrid(NamedTuple):
    """The extents that sub-rectangles have; cell ``i * len(ys) + j`` is ``xs[i]`` by ``ys[j]``.

    Parameters
    ----------
    xs, ys
        Rising extents along both axes.
    below_x, below_y
        For each length the index of the largest extent of at most so much, or -1.
    """

    xs: Longs
    ys: Longs
    below_x: Longs
    below_y: Longs


class Offer(NamedTuple):
    """What may lie on a cell.

    Parameters
    ----------
    pieces
        Rows ``dx, dy, item`` for each way in which a panel may lie.
    values
        Worth of one panel of each item.
    codes
        A random number for each item; their sum tells sets of panels apart.
    demand
        At most so many of each item, packed.
    """

    pieces: Longs
    values: Reals
    codes: Words
    demand: Words


class Labels(NamedTuple):
    """The sets of panels found for each cell, the most valuable first.

    Parameters
    ----------
    number
        Per cell: how many there are.
    worths, codes, counts
        Of each label its worth, the sum of its panels' codes, and its packed counts.
    origin
        How a label came about, and from which cells and labels; see :class:`Origin`.
    """

    number: Longs
    worths: Reals
    codes: Words
    counts: Words
    origin: Longs


class Origin(NamedTuple):
    """How a label came about: a single piece ``i``, or a cut between two labels of two cells.

    ``how`` is :data:`PLAIN`, :data:`CUT_X` or :data:`CUT_Y`; ``a`` is the label of cell ``i`` and
    ``b`` that of cell ``j``.
    """

    how: int
    i: int
    a: int
    j: int
    b: int


@njit(cache=True, nogil=True)
def _insert(
    labels: Labels, c: int, worth: float, code: np.uint64, words: Words, origin: Origin
) -> None:
    """Insert a label into the falling list of cell ``c`` unless its panels are there already."""
    number, worths, codes = labels.number, labels.worths, labels.codes
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
        labels.counts[c, at] = labels.counts[c, at - 1]
        labels.origin[c, at] = labels.origin[c, at - 1]
        at -= 1
    worths[c, at] = worth
    codes[c, at] = code
    labels.counts[c, at] = words
    labels.origin[c, at, 0] = origin.how
    labels.origin[c, at, 1] = origin.i
    labels.origin[c, at, 2] = origin.a
    labels.origin[c, at, 3] = origin.j
    labels.origin[c, at, 4] = origin.b


@njit(cache=True, nogil=True)
def _join(labels: Labels, c: int, i: int, j: int, how: int, demand: Words, words: Words) -> None:
    """Offer cell ``c`` every permitted pair of labels of cells ``i`` and ``j``."""
    worths, counts = labels.worths, labels.counts
    width = worths.shape[1]
    for a in range(labels.number[i]):
        for b in range(labels.number[j]):
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
                code = labels.codes[i, a] + labels.codes[j, b]
                _insert(labels, c, worth, code, words, Origin(how, i, a, j, b))


@njit(cache=True, nogil=True)
def fill_cells(grid: ExtentGrid, offer: Offer, labels: Labels) -> None:
    """Fill all cells in rising order."""
    xs, ys, pieces = grid.xs, grid.ys, offer.pieces
    number, worths = labels.number, labels.worths
    n = ys.shape[0]
    words = np.zeros(offer.demand.shape[0], np.uint64)
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
                    o = labels.origin[before, k]
                    _insert(
                        labels,
                        c,
                        worths[before, k],
                        labels.codes[before, k],
                        labels.counts[before, k],
                        Origin(o[0], o[1], o[2], o[3], o[4]),
                    )
            for p in range(pieces.shape[0]):
                if pieces[p, 0] == xs[i] and pieces[p, 1] == ys[j]:
                    item = pieces[p, 2]
                    words[:] = 0
                    words[item // 8] = np.uint64(1) << np.uint64(8 * (item % 8))
                    origin = Origin(PLAIN, p, 0, 0, 0)
                    _insert(labels, c, offer.values[item], offer.codes[item], words, origin)
            for a in range(i):
                if 2 * xs[a] > xs[i]:
                    break
                first, second = a * n + j, grid.below_x[xs[i] - xs[a]] * n + j
                if worths[first, 0] + worths[second, 0] > worths[c, last]:
                    _join(labels, c, first, second, CUT_X, offer.demand, words)
            for a in range(j):
                if 2 * ys[a] > ys[j]:
                    break
                first, second = i * n + a, i * n + grid.below_y[ys[j] - ys[a]]
                if worths[first, 0] + worths[second, 0] > worths[c, last]:
                    _join(labels, c, first, second, CUT_Y, offer.demand, words)
