"""Waste that has to come off beside a panel that no device is set far enough for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from numba import njit

from cutlist.nesting.kernels.bench import LEAST, LEAST_WASTE, MARK, MOST, at_least_fault, set_to
from cutlist.nesting.kernels.cut_forest import (
    FIXED,
    OFF,
    PART_OF_EDGE,
    UNSAFE,
    WHOLE_EDGE,
    add_task,
)

if TYPE_CHECKING:
    from cutlist.nesting.kernels.bench import Bench
    from cutlist.nesting.kernels.cut_forest import CutForest


@njit(cache=True, nogil=True)
def _largest_step(bench: Bench, tools: int, waste: int) -> tuple[int, int]:
    """Return the largest distance at which a part of some waste comes off, and by which tool."""
    best, by = 0, 0
    for k in range(bench.tools.shape[0]):
        if tools >> k & 1:
            most = min(bench.tools[k, MOST], waste - bench.kerf - bench.tools[k, LEAST_WASTE])
            most -= most % bench.tools[k, MARK]
            if most > best and most >= bench.tools[k, LEAST]:
                best, by = most, 1 << k
    return best, by


@njit(cache=True, nogil=True)
def take_waste_off(
    forest: CutForest,
    bench: Bench,
    s: int,
    regular: int,
    waste: int,
    is_unclean: bool,
    copies: int,
    unheld: int,
) -> None:
    """Write down that waste comes off from the far end until nothing is left but what follows.

    ``unheld`` is what each cut counts as one that no device may make.
    """
    is_first = True
    while waste > 0:
        step, by = waste, set_to(bench, regular, waste)
        if by == 0:
            step, by = _largest_step(bench, regular, waste)
            if step <= 0:
                forest.sizes[UNSAFE] += copies
                step, by = waste, 1 << at_least_fault(bench, waste)
            else:
                forest.sizes[UNSAFE] += unheld
        else:
            forest.sizes[UNSAFE] += unheld
        k = add_task(forest, s, step, FIXED, by, copies)
        # The first and largest step takes the unclean edge off whole.
        forest.tasks[k, OFF] = 0 if not is_unclean else WHOLE_EDGE if is_first else PART_OF_EDGE
        is_first = False
        waste -= step + bench.kerf
