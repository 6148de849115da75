"""Random layouts, and what has to hold for a state of the search."""

from __future__ import annotations

from collections import Counter
from random import Random
from typing import TYPE_CHECKING

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.nesting.kernels import fewer_sheets as kernel
from cutlist.nesting.kernels import nodes
from cutlist.nesting.layouts.checking import check_layouts
from cutlist.nesting.layouts.trees import cells, layouts_of
from cutlist.nesting.problem import Bin, Item, Problem

if TYPE_CHECKING:
    from cutlist.nesting.kernels.state import State


def cut_problem(random: Random, sheets: int = 1) -> tuple[Problem, list[Layout]]:
    """Return a problem made by dividing sheets at random, and the layouts that it comes from.

    The panels do not turn, every panel is an item of its own, and strips may leave room over.
    """
    kerf = random.choice((0, 1, 3))
    bin_ = Bin(random.randint(30, 120), random.randint(30, 120), random.randint(1, 9))
    items: list[Item] = []
    layouts = []
    for _ in range(sheets):
        axis = random.choice((Axis.X, Axis.Y))
        root = _divided(random, axis, bin_.length, bin_.width, kerf, items, 3)
        layouts.append(Layout(0, root))
    return Problem(tuple(items), (bin_,), kerf), layouts


def _divided(
    random: Random,
    axis: Axis,
    length: int,
    width: int,
    kerf: int,
    items: list[Item],
    depth: int,
) -> Strip | Cell:
    """Divide a rectangle along an axis, and its pieces along the other; small ones are panels."""
    extent = length if axis is Axis.X else width
    if depth == 0 or extent < 3 * (kerf + 2) or random.random() < 0.2:
        items.append(Item(length, width, 1, False))
        return Cell(len(items) - 1, length, width)
    children = []
    left = extent
    across = Axis.Y if axis is Axis.X else Axis.X
    for _ in range(random.randint(1, 4)):
        if left < 2:
            break
        size = random.randint(1, left - 1)
        one, other = (size, width) if axis is Axis.X else (length, size)
        children.append(_divided(random, across, one, other, kerf, items, depth - 1))
        left -= size + kerf
    return Strip(axis, length, width, tuple(children))


def panels_of(layouts: tuple[Layout, ...]) -> Counter[int]:
    """Return how many panels of each item the layouts hold."""
    found = Counter[int]()
    for layout in layouts:
        for cell in cells(layout.root):
            found[cell.part] += layout.copies
    return found


def assert_accounted(problem: Problem, state: State) -> None:
    """Hold a state to its problem: panels lie soundly on sheets or wait, stock and cost add up."""
    layouts = layouts_of(problem, state)
    held = panels_of(layouts)
    items = tuple(
        Item(item.length, item.width, held[number], item.turnable)
        for number, item in enumerate(problem.items)
    )
    assert check_layouts(Problem(items, problem.bins, problem.kerf, problem.reach), layouts) == []
    waiting = Counter(int(kind) for kind in state.wait[: waiting_in(state)])
    assert held + waiting == Counter({n: i.qty for n, i in enumerate(problem.items) if i.qty})
    used = Counter(int(which) for which in state.meta[:, nodes.BIN] if which >= 0)
    assert state.cost == sum(problem.bins[which].cost * n for which, n in used.items())
    for which, bin_ in enumerate(problem.bins):
        if bin_.available is not None:
            assert state.left[which] == bin_.available - used[which]
    assert state.complete == (not waiting)


def waiting_in(state: State) -> int:
    """Return how many panels wait."""
    return int(state.run[kernel.WAITING])
