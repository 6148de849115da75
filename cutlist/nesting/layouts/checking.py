"""A strict check of layouts against their problem, from the trees alone."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from cutlist.model.layout import Axis, Cell, Strip
from cutlist.nesting.layouts.reach import is_reachable

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.model.layout import Layout
    from cutlist.nesting.problem import Problem


def check_layouts(problem: Problem, layouts: Sequence[Layout]) -> list[str]:
    """Return everything that is wrong with the layouts as an answer to the problem."""
    findings = list[str]()
    found = Counter[int]()
    used = Counter[int]()
    for number, layout in enumerate(layouts):
        if layout.copies < 1:
            findings.append(f"layout {number}: {layout.copies} copies")
        stock = problem.bins[layout.stock]
        used[layout.stock] += layout.copies
        if (layout.root.length, layout.root.width) != (stock.length, stock.width):
            findings.append(f"layout {number}: the root does not cover the region")
        panels = Counter[int]()
        findings += [f"layout {number}: {f}" for f in _check(problem, layout.root, None, panels)]
        if not panels:
            findings.append(f"layout {number}: empty")
        for part, count in panels.items():
            found[part] += count * layout.copies
        if not is_reachable(problem, layout):
            findings.append(f"layout {number}: a cut is beyond reach")
    for i, item in enumerate(problem.items):
        if found[i] != item.qty:
            findings.append(f"item {i}: {found[i]} cut, {item.qty} wanted")
    for b, stock in enumerate(problem.bins):
        if stock.available is not None and used[b] > stock.available:
            findings.append(f"bin {b}: {used[b]} used, {stock.available} there")
    if len({(layout.stock, layout.root) for layout in layouts}) < len(layouts):
        findings.append("equal layouts are not merged")
    return findings


def _check(
    problem: Problem, node: Strip | Cell, parent: Axis | None, panels: Counter[int]
) -> list[str]:
    if node.length < 1 or node.width < 1:
        return [f"a piece of {node.length} by {node.width}"]
    if isinstance(node, Cell):
        if not 0 <= node.part < len(problem.items):
            return [f"no item {node.part}"]
        item = problem.items[node.part]
        panels[node.part] += 1
        sizes = {(item.length, item.width)}
        if item.turnable:
            sizes.add((item.width, item.length))
        if (node.length, node.width) not in sizes:
            return [f"item {node.part} cut to {node.length} by {node.width}"]
        return []
    findings = list[str]()
    if not node.children:
        findings.append("a strip without children")
    if node.axis is parent:
        findings.append("a strip along the axis of the strip around it")
    used = -problem.kerf
    for child in node.children:
        along, across = child.length, child.width
        room, breadth = node.length, node.width
        if node.axis is Axis.Y:
            along, across, room, breadth = across, along, breadth, room
        used += along + problem.kerf
        if across != breadth:
            findings.append(f"a child {across} across in a strip {breadth} across")
        findings += _check(problem, child, node.axis, panels)
    if used > (node.length if node.axis is Axis.X else node.width):
        findings.append("the children of a strip exceed it")
    return findings
