"""What a state of the search for fewer set-ups is judged by: their time, then finer points."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numba import njit

from cutlist.nesting.kernels.cut_forest import (
    SIZES,
    CutForest,
    WritingRoom,
    WritingRules,
    writing_room,
)
from cutlist.nesting.kernels.cut_writing import write_down
from cutlist.nesting.kernels.nodes import BIN, BLANK, EXT, KIND, TOP, copy_row
from cutlist.nesting.kernels.setting_count import (
    CUTS,
    RARITY,
    SETUPS,
    SKIMS,
    UNSAFE_CUTS,
    WEIGHS,
    CountRoom,
    count_room,
    count_settings,
)

if TYPE_CHECKING:
    from cutlist.nesting.kernels.bench import Bench
    from cutlist.nesting.kernels.records import Sheets, Sizes, Words
    from cutlist.nesting.step_parameters import SettingsStepParameters

# What a set-up counts in a mark, by itself and by the minute: more than all finer points together;
# and what a cut counts that no tool may make.
SETUP, WEIGHED, UNSAFE = 100_000, 1_000_000, 10**11


class Judged(NamedTuple):
    """What a mark looks at beside the sheets.

    Parameters
    ----------
    others
        Begins with the cuts of other materials, made with the same settings; those of the sheets
        are written behind them.
    bench
        The shop.
    rules
        How the cuts are written down.
    minute
        What a minute weighs on the bench.
    keep
        The longer and the shorter side of the least leftover worth keeping, with a kerf.
    """

    others: CutForest
    bench: Bench
    rules: WritingRules
    minute: int
    keep: tuple[int, int]


class MarkRoom(NamedTuple):
    """Room for counting one mark after the other: the forest of all cuts, and the count's own."""

    forest: CutForest
    writing: WritingRoom
    counting: CountRoom


@njit(cache=True, nogil=True)
def mark_room(sheets: Sheets, judged: Judged) -> MarkRoom:
    """Return the room for marks of such sheets, beside such other cuts."""
    others = judged.others
    sizes = np.empty(SIZES, np.int64)
    return MarkRoom(
        CutForest(others.strips, others.tasks, others.roots, sizes),
        writing_room(sheets.tree.shape[1]),
        count_room(others.tasks.shape[0]),
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
    """Return the mark of a state: the time of its set-ups above all; the less the better."""
    bins, meta, tally = sizes.bins, sheets.meta, room.counting.tally
    copy_row(room.forest.sizes, judged.others.sizes, SIZES)
    for s in range(meta.shape[0]):
        if meta[s, BIN] >= 0 and sheets.tree[s, 0, KIND] != BLANK:
            trims = bins[meta[s, BIN], 4:8]
            write_down(
                sheets.tree[s], trims, judged.bench, judged.rules, 1, room.forest, room.writing
            )
    count_settings(room.forest, judged.bench, room.counting, rng)
    mark = tally[UNSAFE_CUTS] * UNSAFE
    mark += tally[WEIGHS] * WEIGHED // judged.minute + tally[SETUPS] * SETUP
    mark += tune.rare * tally[RARITY] + tune.cuts * tally[CUTS] + tune.skims * tally[SKIMS]
    if tune.leftover > 0:
        area = float(bins[0, 0]) * bins[0, 1]
        share = _leftover(sheets, judged.keep) / (area * area)
        mark -= int(1000.0 * tune.leftover * share)
    return int(mark)
