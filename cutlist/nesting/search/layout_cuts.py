"""The cuts of layouts, written down flat by the compiled kernels."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cutlist.nesting.columns.starting_states import node_table
from cutlist.nesting.kernels.cut_forest import CutForest, writing_room
from cutlist.nesting.kernels.cut_writing import write_down

if TYPE_CHECKING:
    from collections.abc import Iterable

    from cutlist.model.layout import Layout
    from cutlist.nesting.kernels.bench import Bench
    from cutlist.nesting.kernels.cut_forest import WritingRules
    from cutlist.nesting.kernels.records import Longs


def room_for_cuts(nodes: int) -> int:
    """Return how many cuts a sheet of so many nodes has at most."""
    return 4 * nodes + 16


def cuts_of_layouts(
    sheets: Iterable[tuple[Layout, Longs]], bench: Bench, rules: WritingRules
) -> CutForest:
    """Return the cuts of layouts, each once for all its copies.

    Parameters
    ----------
    sheets
        Each layout with what is unclean at the low and the high end of its stock's x, then of y.
    bench, rules
        The shop, and how cuts are written down.
    """
    tables = [(node_table(layout.root, bench.kerf), layout, ends) for layout, ends in sheets]
    forest = CutForest.empty(sum(room_for_cuts(len(rows)) for rows, _, _ in tables))
    for rows, layout, ends in tables:
        room = writing_room(len(rows))
        write_down(rows, ends, bench, rules, layout.copies, forest, room)
    return forest
