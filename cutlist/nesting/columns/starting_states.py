"""Fillings written into the search's node tables, so that the search can go on from them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from cutlist.model.layout import Axis, Cell, Strip
from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.kernels import nodes
from cutlist.nesting.kernels.state import State
from cutlist.nesting.parameters import USUAL_NESTING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from cutlist.nesting.kernels.tables import Tables


def node_table(root: Strip | Cell, kerf: int) -> NDArray[np.int32]:
    """Return a layout's tree as a node table."""
    rows = list[list[int]]()
    _write(rows, root, kerf, -1)
    return np.array(rows, np.int32)


def _write(rows: list[list[int]], node: Strip | Cell, kerf: int, parent: int) -> int:
    n = len(rows)
    row = [-1] * nodes.FIELDS
    rows.append(row)
    row[nodes.EXT], row[nodes.EXT + 1] = node.length + kerf, node.width + kerf
    row[nodes.PARENT] = parent
    if isinstance(node, Cell):
        row[nodes.KIND], row[nodes.ANGLE] = nodes.ITEM, node.part
        return n
    axis = 0 if node.axis is Axis.X else 1
    row[nodes.KIND], row[nodes.ANGLE] = nodes.STRIP, axis
    left = row[nodes.EXT + axis]
    before = -1
    for child in node.children:
        c = _write(rows, child, kerf, n)
        left -= rows[c][nodes.EXT + axis]
        rows[c][nodes.PREV] = before
        if before >= 0:
            rows[before][nodes.NEXT] = c
        else:
            row[nodes.FIRST] = c
        before = c
    if left > 0:
        free = [-1] * nodes.FIELDS
        free[nodes.KIND] = nodes.BLANK
        free[nodes.EXT : nodes.EXT + 2] = row[nodes.EXT : nodes.EXT + 2]
        free[nodes.EXT + axis] = left
        free[nodes.PARENT] = n
        row[nodes.FREE] = len(rows)
        rows.append(free)
    return n


def state_of(
    tables: Tables,
    sheets: Sequence[tuple[int, NDArray[np.int32]]],
    memory: int = USUAL_NESTING.engine.memory,
) -> State:
    """Return a state of the given bins and node tables; surplus panels are taken off.

    Panels on no sheet wait.
    """
    state = State.empty(tables, max(1, len(sheets)), memory)
    need = tables.demand.copy()
    lifted = np.empty(len(state.wait), np.int32)
    stack = np.empty(state.tree.shape[1], np.int32)
    for slot, (which, rows) in enumerate(sheets):
        table, meta = state.tree[slot], state.meta[slot]
        table[: len(rows)] = rows
        meta[nodes.BIN], meta[nodes.TOP] = which, len(rows)
        meta[nodes.HEAD], meta[nodes.USED] = -1, len(rows)
        for n in range(len(rows)):
            if table[n, nodes.KIND] == nodes.ITEM:
                kind = int(table[n, nodes.ANGLE])
                if need[kind] > 0:
                    need[kind] -= 1
                else:
                    nodes.lift(table, meta, n, lifted, 0, stack)
        if table[0, nodes.KIND] == nodes.BLANK:
            meta[nodes.BIN] = -1
            continue
        state.left[which] -= 1
    state.count_cost(tables)
    waiting = np.repeat(np.arange(len(need), dtype=np.int32), need)
    state.wait[: len(waiting)] = waiting
    state.run[kernel.WAITING] = len(waiting)
    return state
