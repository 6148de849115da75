"""What a state of the search for fewer settings is judged by: its settings, then finer points."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numba import njit

from cutlist.nesting.kernels.nodes import BIN, BLANK, EXT, KIND, TOP, copy_row
from cutlist.nesting.kernels.setting_count import (
    CUTS,
    RARITY,
    CountRoom,
    CutForest,
    count_room,
    count_settings,
    write_down,
)

if TYPE_CHECKING:
    from cutlist.nesting.kernels.records import Sheets, Sizes, Words
    from cutlist.nesting.step_parameters import SettingsStepParameters

SETTING = 1_000_000  # what one setting counts in a mark: more than all else together


class Judged(NamedTuple):
    """What a mark looks at beside the sheets.

    Parameters
    ----------
    others
        Begins with the cuts of other materials, made with the same settings; those of the sheets
        are written behind them.
    keep
        The longer and the shorter side of the least leftover worth keeping, with a kerf.
    keeps_remainders
        Whether a panel may be what is left of a strip.
    """

    others: CutForest
    keep: tuple[int, int]
    keeps_remainders: bool


class MarkRoom(NamedTuple):
    """Room for counting one mark after the other: the forest of all cuts, and the count's own."""

    forest: CutForest
    counting: CountRoom


@njit(cache=True, nogil=True)
def mark_room(sheets: Sheets, judged: Judged) -> MarkRoom:
    """Return the room for marks of such sheets, beside such other cuts."""
    others = judged.others
    sizes = np.empty(3, np.int64)
    return MarkRoom(
        CutForest(others.strips, others.tasks, others.roots, sizes),
        count_room(sheets.tree.shape[1], others.tasks.shape[0]),
    )


@njit(cache=True, nogil=True)
def _leftover(sheets: Sheets, keep: tuple[int, int]) -> float:
    """Return the sum of the squared areas of leftovers of at least the size worth keeping."""
    gathered = 0.0
    for s in range(sheets.meta.shape[0]):
        if sheets.meta[s, BIN] < 0:
            continue
        t = sheets.tree[s]
        for n in range(sheets.meta[s, TOP]):
            if t[n, KIND] == BLANK:
                long, short = max(t[n, EXT], t[n, EXT + 1]), min(t[n, EXT], t[n, EXT + 1])
                area = float(long) * short
                if long >= keep[0] and short >= keep[1]:
                    gathered += area * area
    return gathered


@njit(cache=True, nogil=True)
def mark_of(
    sheets: Sheets,
    sizes: Sizes,
    judged: Judged,
    room: MarkRoom,
    tune: SettingsStepParameters,
    rng: Words,
) -> int:
    """Return the mark of a state: its settings above all; the less the better."""
    bins, meta, tally = sizes.bins, sheets.meta, room.counting.tally
    copy_row(room.forest.sizes, judged.others.sizes, 3)
    for s in range(meta.shape[0]):
        if meta[s, BIN] >= 0 and sheets.tree[s, 0, KIND] != BLANK:
            trim = bins[meta[s, BIN], 2]
            write_down(
                sheets.tree[s],
                trim,
                sizes.blade,
                judged.keeps_remainders,
                room.forest,
                room.counting.stack,
            )
    settings = count_settings(room.forest, room.counting, rng)
    mark = settings * SETTING + tune.rare * tally[RARITY] + tune.cuts * tally[CUTS]
    if tune.leftover > 0:
        area = float(bins[0, 0]) * bins[0, 1]
        share = _leftover(sheets, judged.keep) / (area * area)
        mark -= int(1000.0 * tune.leftover * share)
    return int(mark)
