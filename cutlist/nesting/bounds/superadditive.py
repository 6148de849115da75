"""Superadditive functions on lengths, also called dual feasible functions.

A function f with f(x) + f(y) ≤ f(x + y) turns lengths into other lengths such that whatever fits
into a bin of length L still fits, changed, into f(L). Done along both axes at once, panels of size
f(length) × g(width) still fit by area into f(L) × g(W) (S. P. Fekete, J. Schepers, "A general
framework for bounds for higher-dimensional orthogonal packing problems", Mathematical Methods of
Operations Research 60, 2004; a survey of the functions: F. Clautiaux, C. Alves, J. Valério de
Carvalho, Annals of Operations Research 179, 2010; both cited from memory).

Each family is evaluated in whole numbers, so that nothing is lost to rounding. All functions here
are nondecreasing and superadditive on 0..``base``; the tests check it by trying all pairs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from numpy.typing import NDArray


def threshold(x: NDArray[np.int64], base: int, p: int) -> NDArray[np.int64]:
    """Drop what is shorter than ``p``, and make full what leaves less than ``p``; p ≤ base / 2."""
    return np.where(x > base - p, base, np.where(x < p, 0, x))


def count_of(x: NDArray[np.int64], p: int) -> NDArray[np.int64]:
    """Count how many times ``p`` fits."""
    return x // p


def balanced_count(x: NDArray[np.int64], base: int, p: int) -> NDArray[np.int64]:
    """Count how many times ``p`` fits, lengths above the half by what they leave; p ≤ base / 2."""
    most = base // p
    long = 2 * (most - np.maximum(base - x, 0) // p)
    return np.where(2 * x > base, long, np.where(2 * x == base, most, 2 * (x // p)))


def rounded_down(x: NDArray[np.int64], base: int, p: int) -> NDArray[np.int64]:
    """Round to multiples of ``p``, crediting only what exceeds the base's own remainder; p ≤ base.

    The mixed-integer rounding function, superadditive for all lengths.
    """
    rest = base % p
    whole: NDArray[np.int64] = (x // p) * (p - rest)
    return whole + np.maximum(x % p - rest, 0)


def divided(x: NDArray[np.int64], base: int, k: int) -> NDArray[np.int64]:
    """Round to multiples of base / (k + 1), multiples themselves keeping their share."""
    scaled = x * (k + 1)
    return np.where(scaled % base == 0, k * x, (scaled // base) * base)


def stepped(x: NDArray[np.int64], base: int, k: int) -> NDArray[np.int64]:
    """Count the ``k``-ths of the base that a length exceeds, balanced about the half; k ≥ 2."""
    short = 2 * np.maximum(-(-k * x // base) - 1, 0)
    beside = np.maximum(base - x, 0)
    long = 2 * (k - 1) - 2 * np.maximum(-(-k * beside // base) - 1, 0)
    return np.where(2 * x > base, long, np.where(2 * x == base, k - 1, short))


def table(
    x: NDArray[np.int64], base: int, sizes: Iterable[int], limit: int, most: int
) -> NDArray[np.int64]:
    """Evaluate many functions at once.

    Parameters
    ----------
    x
        Lengths to evaluate at, each at most ``base``.
    base
        Length that the functions are built for.
    sizes
        Lengths of the items: they tell which parameters are worth trying.
    limit
        Lengths up to which all whole parameters are tried.
    most
        Above that, at most so many parameters of each family are tried.

    Returns
    -------
    ndarray
        One row per distinct function; the first is the identity.
    """
    distinct = sorted({s for s in sizes if 0 < s <= base})
    half = base // 2
    rows = [x.copy()]
    edges = {s for s in distinct if s <= half} | {base - s + 1 for s in distinct}
    rows += [threshold(x, base, p) for p in _thinned([p for p in edges if 0 < p <= half], most)]
    if base <= limit:
        steps = list(range(2, base + 1))
    else:
        tried = {s // j for s in distinct for j in (1, 2, 3)}
        tried |= {base // j for j in range(1, 13)} | {base // j + 1 for j in range(2, 13)}
        steps = _thinned([p for p in tried if 1 < p <= base], most)
    rows += [rounded_down(x, base, p) for p in steps]
    rows += [balanced_count(x, base, p) for p in steps if p <= half]
    rows += [count_of(x, p) for p in steps]
    rows += [divided(x, base, k) for k in range(1, 21)]
    rows += [stepped(x, base, k) for k in range(2, 42)]
    return _distinct(np.array(rows, dtype=np.int64))


def _thinned(parameters: list[int], most: int) -> list[int]:
    """Return the parameters in order, or ``most`` of them spread evenly over their ranks."""
    ranked = sorted(parameters)
    if len(ranked) <= most:
        return ranked
    return [ranked[i * (len(ranked) - 1) // (most - 1)] for i in range(most)]


def _distinct(rows: NDArray[np.int64]) -> NDArray[np.int64]:
    """Drop rows that are equal up to a factor, and rows of zeros; keep the order."""
    factors = np.gcd.reduce(rows, axis=1)
    seen: set[bytes] = set()
    kept: list[int] = []
    for index, factor in enumerate(factors):
        if factor == 0:
            continue
        key = (rows[index] // factor).tobytes()
        if key not in seen:
            seen.add(key)
            kept.append(index)
    reduced: NDArray[np.int64] = rows[kept] // factors[kept, None]
    return reduced
