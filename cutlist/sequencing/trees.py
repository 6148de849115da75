"""From a layout's tree to the nodes of the cut forest.

This is where a layout meets the saw: which edges are clean, what the fence can reach, and which
strip may come out as the remainder.

* A strip with clean ends is peeled from its low end, in any order of its children. If nothing is
  left over, the last child is the remainder and needs no cut.
* Unclean edges (``trims``) are cleaned on the whole sheet first where the fence reaches that far.
  Where it does not, the first child of a strip is cut oversize with the factory edge at the fence
  (a rough cut), turned, and cut to size from its new clean edge.
* A child longer than the fence's reach is never the side at the fence: what lies beyond it is
  peeled off until the child is the remainder.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Purpose
from cutlist.sequencing.beyond_reach import Peeler
from cutlist.sequencing.choice import Chooser
from cutlist.sequencing.cleaning import (
    Way,
    best_in,
    clean_up_distances,
    clean_up_range,
    groups,
    guided_distance,
    last_in,
    narrowed,
)
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import Branch, End, Forest
from cutlist.sequencing.parameters import USUAL, CleaningParameters
from cutlist.sequencing.runs import Run, along_of, run_of
from cutlist.sequencing.strips import extent, needed, sizes_on_mark
from cutlist.sequencing.tools import setting_of, tool_and_distance


class Trees:
    """Builds the nodes of layouts into one forest.

    Parameters
    ----------
    forest
        Where the nodes go.
    fence
        The shop.
    stock
        All layouts that will be built, with their trims: distances that occur in them
        are preferred wherever a distance can be chosen freely.
    chooser
        Picks the saw of each cut.
    way
        How factory edges are cleaned.
    used
        Settings that there are anyway; empty where the distances alone tell.
    parameters
        What the choice of clean-ups is tuned by.
    """

    def __init__(
        self,
        forest: Forest,
        fence: Fence,
        stock: Sequence[tuple[Layout, EdgeTrims[int]]],
        chooser: Chooser,
        way: Way,
        used: frozenset[int] = frozenset(),
        parameters: CleaningParameters = USUAL.cleaning,
    ) -> None:
        self._forest = forest
        self._fence = fence
        self._chooser = chooser
        self._peeler = Peeler(forest, fence, chooser)
        self._sizes: Counter[int] = Counter()
        for layout, _ in stock:
            self._count(layout.root)
        self._rough: set[int] = set()
        self._wide: set[tuple[int, int]] = set()
        self._way = way
        self._used = used
        self._parameters = parameters
        self._handy = self._new = frozenset[int]()
        if way.thrifty:
            sizes = sizes_on_mark((layout for layout, _ in stock), fence.common_mark)
            self._handy = clean_up_distances(stock, sizes, way.thrifty, fence, chooser, parameters)
            self._new = self._handy - sizes

    def _count(self, tree: Strip | Cell) -> None:
        if isinstance(tree, Cell):
            self._sizes.update({tree.length, tree.width})
            return
        self._sizes.update({extent(child, tree.axis) for child in tree.children})
        for child in tree.children:
            self._count(child)

    def root(self, layout: Layout, trims: EdgeTrims[int]) -> int:
        """Return the node of a whole piece of stock with ``trims`` to clean off its edges.

        Where one end of an axis is clean it has to be the low one.
        """
        tree = layout.root
        clean_ups: list[tuple[Axis, int, End]] = []
        for axis in (Axis.Y, Axis.X):
            low, high = trims.along(axis)
            if not low:
                continue
            along = along_of(tree, axis, trims)
            across = low + extent(tree, axis) + high
            off = self._taken_off(tree, axis, (low, high), along)
            if off is not None:
                more = tool_and_distance(off)[1] + self._kerf(off) - low
                clean_ups.append((axis, off, End.LOW))
            else:
                distance = self._whole_clean_up(tree, axis, (low, high), along)
                if distance is None:
                    continue
                more = across - low - distance
                clean_ups.append((axis, self._setting(distance, along, across), End.HIGH))
            tree = narrowed(tree, axis, more)
            trims = trims.replaced(axis, (0, high))
        node = self._content(tree, trims)
        for axis, setting, end in reversed(clean_ups):
            node = self._clean_up(axis, setting, end, node)
        return node

    def _taken_off(
        self, tree: Strip | Cell, axis: Axis, ends: tuple[int, int], along: int
    ) -> int | None:
        """Return the setting of the guide that takes a factory edge of whole stock off."""
        number = self._way.guide
        if number is None:
            return None
        tool = self._chooser.tool(number)
        distance = guided_distance(tree, axis, ends, along, self._fence, tool)
        return None if distance is None else setting_of(number, distance)

    def _whole_clean_up(
        self, tree: Strip | Cell, axis: Axis, ends: tuple[int, int], along: int
    ) -> int | None:
        """Return the distance to clean a whole piece of stock at; None to clean its strips."""
        if axis in self._way.thrifty:
            span = clean_up_range(tree, axis, ends[1], along, self._fence, self._chooser)
            if span is None:
                return None
            handy = self._handy_for(along, extent(tree, axis) + sum(ends))
            return best_in(handy, span, self._fence.common_mark)
        distance = extent(tree, axis) + ends[1]
        if not self._chooser.within(distance, along):
            return None
        least = needed(tree, axis, self._fence.kerf, self._fence.layout_reach) + ends[1]
        return last_in((least, distance), self._fence.common_mark)

    def _handy_for(self, along: int, across: int) -> Iterable[int]:
        """Return the distances that are set anyway on the saw that would make such a cut."""
        if not self._used:
            return self._handy
        return [
            distance
            for distance in self._handy
            if distance in self._new
            or setting_of(self._chooser.would_pick(distance, along, across), distance) in self._used
        ]

    def _purpose(self, size: int, node: int) -> Purpose:
        return Purpose.ROUGH if (size, node) in self._wide else Purpose.PART

    def _setting(self, distance: int, along: int, across: int) -> int:
        return setting_of(self._chooser.pick(distance, along, across), distance)

    def _kerf(self, setting: int) -> int:
        return self._chooser.tool(tool_and_distance(setting)[0]).kerf

    def _clean_up(self, axis: Axis, setting: int, end: End, node: int) -> int:
        """Return the node of a piece whose low edge goes: kept away from it, or kept itself."""
        waste = self._forest.waste
        if end is End.LOW:
            return self._forest.work(axis, [Branch(setting, waste, end, Purpose.CLEAN_UP)], node)
        return self._forest.work(axis, [Branch(setting, node, end, Purpose.CLEAN_UP)], waste)

    def _content(self, tree: Strip | Cell, trims: EdgeTrims[int]) -> int:
        if isinstance(tree, Cell):
            for axis in (Axis.Y, Axis.X):
                if any(trims.along(axis)):
                    inner = self._content(tree, trims.replaced(axis, (0, 0)))
                    return self._run(run_of(tree, axis, trims, ((extent(tree, axis), inner),)))
            return self._forest.panel(tree.part)
        axis = tree.axis
        inside = trims.replaced(axis, (0, 0))
        children = tuple(
            (extent(child, axis), self._content(child, inside)) for child in tree.children
        )
        if not self._fence.keeps_remainders:
            self._wide.update(
                made
                for made, child in zip(children, tree.children, strict=True)
                if needed(child, axis, self._fence.kerf, None) < made[0]
            )
        return self._run(run_of(tree, axis, trims, children))

    def _run(self, run: Run) -> int:
        if run.low:
            return self._unclean(run)
        beyond: list[tuple[int, int]] = []
        branches: list[Branch] = []
        left = run.room
        for size, node in run.children:
            if not self._chooser.within(size, run.along):
                beyond.append((size, node))
                left -= size
                continue
            least = run.least_beside(size, self._fence.kerf)
            setting = setting_of(self._chooser.pick(size, run.along, run.room, least), size)
            branches.append(Branch(setting, node, End.LOW, self._purpose(size, node)))
            left -= size + self._kerf(branches[-1].setting)
        if beyond:
            assert len(beyond) == 1, "the nesting keeps one child beyond the fence's reach at most"
            return self._peeler.around(run, branches, beyond[0][1], left)
        # What each cut would take off as the last one: of a child that leaves nothing to take
        # off, the remainder is that child.
        exact = [branch for branch in branches if left + self._kerf(branch.setting) == 0]
        if len(exact) == len(branches):
            return self._forest.work(run.axis, branches)
        if exact:
            # The one thin blade among wide ones: only as the last of all is its child exact.
            branches.remove(exact[0])
            return self._forest.work(run.axis, branches, exact[0].child)
        waste = self._waste_branch(run, branches, left)
        if waste is not None:
            # Cutting the waste at a setting that is needed anyway frees one child as remainder.
            return self._forest.work(run.axis, [*branches, waste])
        return self._forest.work(run.axis, branches, self._forest.waste)

    def _waste_branch(self, run: Run, branches: list[Branch], waste: int) -> Branch | None:
        """Return the cut that takes the waste off as a piece, where that may free a child."""
        if not self._fence.keeps_remainders or run.high or waste not in self._sizes:
            return None
        if not self._chooser.within(waste, run.along):
            return None
        if any(size == one.distance for size, _ in run.children for one in self._fence.together):
            # What has to match is not left to be the remainder.
            return None
        setting = self._setting(waste, run.along, run.room)
        kerfs = {self._kerf(branch.setting) for branch in branches}
        if kerfs != {self._kerf(setting)}:
            return None
        return Branch(setting, self._forest.waste)

    def _unclean(self, run: Run) -> int:
        """Give the run a clean low end first."""
        distance = run.room - run.low
        least = distance - max(0, self._spare(run))
        known = set(self._handy_for(run.along, run.room)) if run.axis in self._way.thrifty else ()
        mark = self._fence.common_mark
        handy = best_in(known, (least, distance), mark)
        if handy is not None and self._chooser.within(handy, run.along):
            return self._cleaned(run, handy)
        chosen = self._oversize(run)
        is_handy = chosen is not None and chosen[0] in known
        if self._chooser.within(distance, run.along) and not is_handy:
            return self._cleaned(run, last_in((least, distance), mark))
        if chosen is None:
            return self._shed(run)
        distance, first = chosen
        group: list[tuple[int, int]] = []
        others: list[tuple[int, int]] = []
        for size, node in run.children:
            first[size] -= 1
            (group if first[size] >= 0 else others).append((size, node))
        setting = self._setting(distance, run.along, run.room)
        cuts = [
            Branch(
                self._setting(size, run.along, distance),
                node,
                End.HIGH,
                self._purpose(size, node),
            )
            for size, node in group
        ]
        then = self._forest.waste
        if others:
            room = run.room - distance - self._kerf(setting)
            then = self._run(replace(run, children=tuple(others), room=room, low=0))
        self._rough.add(distance)
        turned = self._forest.work(run.axis, cuts, self._forest.waste)
        return self._forest.work(run.axis, [Branch(setting, turned, End.LOW, Purpose.ROUGH)], then)

    def _cleaned(self, run: Run, distance: int) -> int:
        """Take all beyond the distance off with the low margin."""
        inner = self._run(replace(run, room=distance, low=0))
        setting = self._setting(distance, run.along, run.room)
        return self._clean_up(run.axis, setting, End.HIGH, inner)

    def _oversize(self, run: Run) -> tuple[int, Counter[int]] | None:
        """Choose the children to cut off oversize first, and the distance, one in use if possible.

        Several come off together only where that saves a setting.
        """
        best: tuple[tuple[int, int, int, int], int, Counter[int]] | None = None
        spare = self._spare(run)
        farthest = self._chooser.farthest(run.along)
        sizes = [size for size, _ in run.children]
        is_long = any(not self._chooser.within(size, run.along) for size in sizes)
        singles = [(size, Counter((size,))) for size in dict.fromkeys(sizes)]
        known = set(self._handy_for(run.along, run.room)) or {*self._rough, *self._sizes}
        several = run.axis in self._way.thrifty and not is_long
        some = groups(sizes, self._fence.kerf, self._parameters.most_groups)
        for used, first in some if several else singles:
            least = used + run.low
            if not self._chooser.within(least, run.along) or spare < 0:
                continue
            most = least + spare
            if farthest is not None:
                most = min(most, farthest)
            tool = self._chooser.tool(self._chooser.would_pick(least, run.along, run.room))
            in_use = [d for d in known if least <= d <= most and not d % tool.mark]
            distance = min(in_use) if in_use else min(tool.up(least), most)
            rank = (0 if in_use else 1, first.total(), -self._sizes[used], distance)
            if best is None or rank < best[0]:
                best = (rank, distance, first)
        return None if best is None else (best[1], best[2])

    def _spare(self, run: Run) -> int:
        """Return how much of the slack the first cut may take; negative: no such cut."""
        slack = run.slack(self._fence.kerf)
        if all(self._chooser.within(size, run.along) for size, _ in run.children):
            return slack
        return min(slack, slack + run.high - self._fence.kerf - 1)

    def _shed(self, run: Run) -> int:
        """Take the low margin itself off, with the factory edge at the fence."""
        taken = max(run.low, self._fence.least_off)
        assert run.slack(self._fence.kerf) - (taken - run.low) + run.high >= 0, (
            "the nesting leaves room for the kerf beside such a child"
        )
        # A thinner blade leaves a thicker strip: the saw has to reach what any blade leaves.
        number = self._chooser.pick(taken, run.along, run.room)
        setting = setting_of(number, taken - self._chooser.tool(number).kerf)
        inner = self._run(replace(run, room=run.room - taken, low=0))
        return self._clean_up(run.axis, setting, End.LOW, inner)
