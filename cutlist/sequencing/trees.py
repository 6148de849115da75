"""From a layout's tree to the nodes of the cut forest.

This is where a layout meets the saw: which edges are clean, what the fence can reach, and which
strip may come out as the remainder.

* A strip with clean ends is peeled from its low end, in any order of its children. If nothing is
  left over, the last child is the remainder and needs no cut.
* Factory edges (``trim``) are cleaned on the whole sheet first where the fence reaches that far.
  Where it does not, the first child of a strip is cut oversize with the factory edge at the fence
  (a rough cut), turned, and cut to size from its new clean edge.
* A child longer than the fence's reach is never the side at the fence: what lies beyond it is
  peeled off until the child is the remainder.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Purpose
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import NONE, Branch, End, Forest
from cutlist.sequencing.strips import extent, slack_of


@dataclass(frozen=True, slots=True)
class Margins:
    """Unclean margins at the ends of a piece, low and high, along each axis; 0 is a clean edge."""

    x: tuple[int, int] = (0, 0)
    y: tuple[int, int] = (0, 0)

    def along(self, axis: Axis) -> tuple[int, int]:
        """Return the margins at the two ends of ``axis``."""
        return self.x if axis is Axis.X else self.y

    def replaced(self, axis: Axis, ends: tuple[int, int]) -> Margins:
        """Return margins with the ends of ``axis`` changed."""
        return Margins(ends, self.y) if axis is Axis.X else Margins(self.x, ends)


@dataclass(frozen=True, slots=True)
class _Run:
    """Children to be cut one after the other along an axis, with ``slack`` to spare."""

    axis: Axis
    children: tuple[tuple[int, int], ...]  # (size along the axis, node)
    slack: int
    low: int
    high: int


class Trees:
    """Builds the nodes of layouts into one forest.

    Parameters
    ----------
    forest
        Where the nodes go.
    fence
        The saw.
    layouts
        All layouts that will be built: distances that occur in them are preferred wherever a
        distance can be chosen freely.
    """

    def __init__(self, forest: Forest, fence: Fence, layouts: Iterable[Layout]) -> None:
        self._forest = forest
        self._fence = fence
        self._sizes: Counter[int] = Counter()
        for layout in layouts:
            self._count(layout.root)
        self._rough: set[int] = set()

    def _count(self, tree: Strip | Cell) -> None:
        if isinstance(tree, Cell):
            self._sizes.update({tree.length, tree.width})
            return
        self._sizes.update({extent(child, tree.axis) for child in tree.children})
        for child in tree.children:
            self._count(child)

    def root(self, layout: Layout, trim: int) -> int:
        """Return the node of a whole piece of stock with ``trim`` to clean off each edge."""
        margins = Margins((trim, trim), (trim, trim))
        clean_ups: list[tuple[Axis, int]] = []
        if trim:
            for axis in (Axis.Y, Axis.X):
                distance = extent(layout.root, axis) + trim
                if self._fence.reaches(distance):
                    clean_ups.append((axis, distance))
                    margins = margins.replaced(axis, (0, trim))
        node = self._content(layout.root, margins)
        for axis, distance in reversed(clean_ups):
            node = self._clean_up(axis, distance, node)
        return node

    def _clean_up(self, axis: Axis, distance: int, node: int) -> int:
        branch = Branch(distance, node, End.HIGH, Purpose.CLEAN_UP)
        return self._forest.work(axis, [branch], self._forest.waste)

    def _content(self, tree: Strip | Cell, margins: Margins) -> int:
        if isinstance(tree, Cell):
            for axis in (Axis.Y, Axis.X):
                if any(margins.along(axis)):
                    inner = self._content(tree, margins.replaced(axis, (0, 0)))
                    low, high = margins.along(axis)
                    return self._run(_Run(axis, ((extent(tree, axis), inner),), 0, low, high))
            return self._forest.panel(tree.part)
        axis = tree.axis
        inside = margins.replaced(axis, (0, 0))
        children = tuple(
            (extent(child, axis), self._content(child, inside)) for child in tree.children
        )
        low, high = margins.along(axis)
        return self._run(_Run(axis, children, slack_of(tree, self._fence.kerf), low, high))

    def _run(self, run: _Run) -> int:
        if run.low:
            return self._unclean(run)
        beyond = [child for child in run.children if not self._fence.reaches(child[0])]
        within = [child for child in run.children if self._fence.reaches(child[0])]
        branches = [Branch(size, node) for size, node in within]
        left = run.slack + run.high
        if beyond:
            assert len(beyond) == 1, "the nesting keeps one child beyond the fence's reach at most"
            return self._around(run, branches, beyond[0][1], left)
        waste = left - self._fence.kerf
        if left and not run.high and waste in self._sizes and self._fence.reaches(waste):
            # Cutting the waste at a setting that is needed anyway frees one child as remainder.
            return self._forest.work(run.axis, [*branches, Branch(waste, self._forest.waste)])
        return self._forest.work(run.axis, branches, self._forest.waste if left else NONE)

    def _around(self, run: _Run, branches: list[Branch], node: int, left: int) -> int:
        """Peel everything off a child that the fence cannot reach across."""
        kerf = self._fence.kerf
        peeled: list[int] = []
        while left:
            assert left > kerf, "nothing is left beside such a child, or more than a kerf"
            size = left - kerf
            if not self._fence.reaches(size):
                assert self._fence.reach is not None
                size = min(self._fence.down(self._fence.reach), left - 2 * kerf - self._fence.mark)
            peeled.append(size)
            left -= size + kerf
        first = Purpose.CLEAN_UP if run.high else Purpose.PART
        waste = self._forest.waste
        for size in reversed(peeled[1:]):
            node = self._forest.work(run.axis, [Branch(size, waste, End.HIGH)], node)
        if peeled:
            branches = [*branches, Branch(peeled[0], waste, End.HIGH, first)]
        return self._forest.work(run.axis, branches, node)

    def _unclean(self, run: _Run) -> int:
        """Give the run a clean low end first."""
        used = sum(size for size, _ in run.children) + (len(run.children) - 1) * self._fence.kerf
        distance = used + run.slack + run.high
        if self._fence.reaches(distance):
            clean = _Run(run.axis, run.children, run.slack, 0, run.high)
            return self._clean_up(run.axis, distance, self._run(clean))
        chosen = self._oversize(run)
        if chosen is None:
            return self._shed(run)
        distance, index = chosen
        size, node = run.children[index]
        others = run.children[:index] + run.children[index + 1 :]
        slack = run.slack - (distance - size - run.low)
        cut = self._forest.work(
            run.axis, [Branch(size, node, End.HIGH, Purpose.PART)], self._forest.waste
        )
        then = self._forest.waste
        if others:
            then = self._run(_Run(run.axis, others, slack, 0, run.high))
        self._rough.add(distance)
        return self._forest.work(run.axis, [Branch(distance, cut, End.LOW, Purpose.ROUGH)], then)

    def _oversize(self, run: _Run) -> tuple[int, int] | None:
        """Choose the child to cut oversize and the distance, one already in use if possible."""
        best: tuple[tuple[int, int, int], int, int] | None = None
        spare = self._spare(run)
        for index, (size, _) in enumerate(run.children):
            least = size + run.low
            if not self._fence.reaches(least) or spare < 0:
                continue
            most = least + spare
            if self._fence.reach is not None:
                most = min(most, self._fence.reach)
            in_use = [d for d in (*self._rough, *self._sizes) if least <= d <= most]
            distance = min(in_use) if in_use else min(self._fence.up(least), most)
            rank = (0 if in_use else 1, -self._sizes[size], distance)
            if best is None or rank < best[0]:
                best = (rank, distance, index)
        return None if best is None else (best[1], best[2])

    def _spare(self, run: _Run) -> int:
        """Return how much of the slack the first cut may take; negative: no such cut."""
        if all(self._fence.reaches(size) for size, _ in run.children):
            return run.slack
        return min(run.slack, run.slack + run.high - self._fence.kerf - 1)

    def _shed(self, run: _Run) -> int:
        """Take the low margin itself off, with the factory edge at the fence."""
        taken = max(run.low, self._fence.kerf + 1)
        slack = run.slack - (taken - run.low)
        assert slack + run.high >= 0, "the nesting leaves room for the kerf beside such a child"
        inner = self._run(_Run(run.axis, run.children, slack, 0, run.high))
        branch = Branch(taken - self._fence.kerf, self._forest.waste, End.LOW, Purpose.CLEAN_UP)
        return self._forest.work(run.axis, [branch], inner)
