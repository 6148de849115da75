"""Which distances are set anyway: a hash table of sizes, emptied by a new stamp."""

from __future__ import annotations

from typing import TYPE_CHECKING

from numba import njit

from cutlist.nesting.kernels.nodes import ANGLE, BIN, EXT, FIRST, KIND, NEXT, STRIP, TOP

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import Longs, Sheets


@njit(cache=True, nogil=True)
def is_seen(seen: Longs, size: int, stamp: int) -> bool:
    """Say whether a size is in the hash table ``seen``: rows of size and stamp."""
    mask = seen.shape[0] - 1
    at = (size * 40503) & mask
    while seen[at, 1] == stamp:
        if seen[at, 0] == size:
            return True
        at = (at + 1) & mask
    return False


@njit(cache=True, nogil=True)
def see(seen: Longs, size: int, stamp: int) -> None:
    """Put a size into the hash table, which counts as empty where another stamp stands."""
    mask = seen.shape[0] - 1
    at = (size * 40503) & mask
    while seen[at, 1] == stamp and seen[at, 0] != size:
        at = (at + 1) & mask
    seen[at, 0], seen[at, 1] = size, stamp


@njit(cache=True, nogil=True)
def mark_sizes(sheets: Sheets, seen: Longs, stamp: int) -> None:
    """Stamp all sizes along which strips are cut."""
    for s in range(sheets.meta.shape[0]):
        if sheets.meta[s, BIN] < 0:
            continue
        t = sheets.tree[s]
        for n in range(sheets.meta[s, TOP]):
            if t[n, KIND] == STRIP:
                along = EXT + t[n, ANGLE]
                child = t[n, FIRST]
                while child >= 0:
                    see(seen, t[child, along], stamp)
                    child = t[child, NEXT]
