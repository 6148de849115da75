"""From layouts to the nodes of the cut forest: every cut with the device that makes it.

What is cut, by which device, and where edges are cleaned is written down by the compiled kernels
that the search for layouts counts with (:mod:`cutlist.nesting.kernels.cut_writing`,
:mod:`cutlist.nesting.kernels.setting_choice`): so the order is sought for the very cuts that were
counted. Here they become nodes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Layout
from cutlist.model.plan import Purpose
from cutlist.nesting.kernels import cut_forest as flat
from cutlist.nesting.kernels import setting_choice as choice
from cutlist.nesting.kernels.cut_forest import WritingRules
from cutlist.nesting.search.layout_cuts import cuts_of_layouts
from cutlist.sequencing.beyond_reach import Peeler
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import NONE, Branch, End, Forest
from cutlist.sequencing.tools import setting_of, tool_and_distance

_AXES = (Axis.X, Axis.Y)
#: Of waste by itself, by what it says of the edge that goes with it.
_PURPOSES = {
    0: Purpose.PART,
    flat.WHOLE_EDGE: Purpose.CLEAN_UP,
    flat.PART_OF_EDGE: Purpose.ROUGH,
}


@dataclass(frozen=True, slots=True)
class CutTrees:
    """The nodes of some layouts.

    Parameters
    ----------
    forest
        Holds them.
    roots
        For each layout the node of a whole piece of stock.
    guided
        For each layout the settings that serve a single cut of one piece of its stock.
    unsafe
        Cuts that no saw may make.
    skims
        Cuts that do nothing but clean an edge.
    """

    forest: Forest
    roots: tuple[int, ...]
    guided: tuple[tuple[int, ...], ...]
    unsafe: int
    skims: int


def cut_trees(
    stock: Sequence[tuple[Layout, EdgeTrims[int]]], fence: Fence, *, whole: bool
) -> CutTrees:
    """Return the nodes of layouts, each with what there is to clean off the edges of its stock.

    Where one end of an axis is clean it has to be the low one. ``whole`` says whether an edge
    across all strips is cleaned on the whole piece of stock.
    """
    return _Trees(stock, fence, whole=whole).built()


class _Trees:
    def __init__(
        self, stock: Sequence[tuple[Layout, EdgeTrims[int]]], fence: Fence, *, whole: bool
    ) -> None:
        self._fence = fence
        self._forest = Forest()
        bench = fence.shop().bench
        sheets = [(layout, np.array((*trims.x, *trims.y), np.int64)) for layout, trims in stock]
        rules = WritingRules(True, fence.keeps_remainders, whole)
        self._flat = cuts_of_layouts(sheets, bench, rules)
        self._keep_matches_from_remainders()
        self._settings = choice.settings_room(len(self._flat.tasks))
        choice.choose_settings(self._flat, bench, self._settings)
        self._known: dict[int, int] = {}

    def built(self) -> CutTrees:
        roots = []
        for root in self._flat.roots[: self._flat.sizes[flat.ROOTS_USED]]:
            roots.append(self._following(int(root)))
        return CutTrees(
            self._forest,
            tuple(roots),
            tuple(tuple(self._guided_below(root)) for root in roots),
            int(self._flat.sizes[flat.UNSAFE]),
            self._skims(),
        )

    def _skims(self) -> int:
        tasks = self._flat.tasks[: self._flat.sizes[flat.TASKS_USED]]
        is_skim = (tasks[:, flat.HOW] >= 0) & (tasks[:, flat.HOW] < choice.TOO_WIDE)
        return int(tasks[is_skim, flat.COPIES].sum())

    def _keep_matches_from_remainders(self) -> None:
        """Take no waste off for a panel to be what is left, where that has to match."""
        sizes = {one.distance for one in self._fence.together}
        tasks, strips = self._flat.tasks, self._flat.strips
        for s in range(int(self._flat.sizes[flat.STRIPS_USED]) if sizes else 0):
            mine = range(strips[s, flat.TASK], strips[s, flat.TASK] + strips[s, flat.TASKS])
            if any(int(tasks[k, flat.DISTANCE]) in sizes for k in mine):
                for k in mine:
                    if tasks[k, flat.NEED] == flat.OPTIONAL:
                        tasks[k, flat.TOOLS] = 0

    def _following(self, code: int) -> int:
        """Return the node that a strip's ``THEN`` stands for."""
        if code >= 0:
            return self._strip(code)
        return self._forest.waste if code == flat.WASTE else self._forest.panel(flat.PANEL - code)

    def _child(self, k: int) -> int:
        task = self._flat.tasks[k]
        if task[flat.CHILD] >= 0:
            return self._strip(int(task[flat.CHILD]))
        part = int(task[flat.PART])
        return self._forest.waste if part < 0 else self._forest.panel(part)

    def _setting(self, k: int) -> int | None:
        """Return the setting that was chosen for a task; None where it is not cut."""
        number = int(self._settings.of_task[k, choice.NUMBER])
        if number < 0:
            return None
        row = self._settings.of_setting[number]
        return setting_of(int(row[choice.BY]), int(row[choice.AT]))

    def _strip(self, s: int) -> int:
        node = self._known.get(s)
        if node is None:
            first, count = (int(n) for n in self._flat.strips[s, : flat.THEN])
            axis = _AXES[int(self._flat.strips[s, flat.AXIS])]
            need = int(self._flat.tasks[first, flat.NEED]) if count else flat.FIXED
            if need == flat.GUIDED:
                node = self._guided(s, first, axis)
            elif need == flat.CLEANING:
                node = self._cleaned(first, axis)
            else:
                tasks = range(first, first + count)
                node = self._peeled(s, axis, tasks)
            self._known[s] = node
        return node

    def _guided(self, s: int, k: int, axis: Axis) -> int:
        task, forest = self._flat.tasks[k], self._forest
        # A cut that none may make is told of the guide's place among the saws all the same.
        guide = max(0, int(task[flat.BY_GUIDE]))
        distance = int(task[flat.DISTANCE])
        if task[flat.HOW] < 0:
            child = self._child(k)
            purpose = Purpose.ROUGH if task[flat.OFF] else self._purpose(child, axis)
            branch = Branch(setting_of(guide, distance), child, self._low(s), purpose)
            return forest.guided(
                axis, branch, self._following(int(self._flat.strips[s, flat.THEN]))
            )
        off, kerf = int(task[flat.OFF]), self._fence.bench[guide].kerf
        taken = max(off - kerf, self._fence.sliver)
        content = self._child(k)
        if taken + kerf - off <= int(task[flat.SPARES]):
            branch = Branch(setting_of(guide, taken), forest.waste, End.LOW, Purpose.CLEAN_UP)
            return forest.guided(axis, branch, content)
        distance = int(task[flat.ROOM]) - off
        branch = Branch(setting_of(guide, distance), content, End.HIGH, Purpose.CLEAN_UP)
        return forest.guided(axis, branch, forest.waste)

    def _low(self, s: int) -> End:
        """Return the end that a strip is counted from."""
        return End.HIGH if self._flat.strips[s, flat.FLIPPED] else End.LOW

    def _cleaned(self, k: int, axis: Axis) -> int:
        """Return the node of a piece whose low edge is not clean."""
        forest, how = self._forest, int(self._flat.tasks[k, flat.HOW])
        setting = self._setting(k)
        assert setting is not None
        if how >= choice.TOO_WIDE:
            return self._turned(k, how - choice.TOO_WIDE, setting, axis)
        content, waste = self._child(k), forest.waste
        if how == choice.ONLY_WASTE:
            return forest.work(axis, [Branch(setting, waste, End.LOW, Purpose.CLEAN_UP)], content)
        return forest.work(axis, [Branch(setting, content, End.HIGH, Purpose.CLEAN_UP)], waste)

    def _turned(self, k: int, panel: int, setting: int, axis: Axis) -> int:
        """Return the node of a piece that a panel comes off too wide, to be cut to size turned."""
        forest = self._forest
        s = int(self._flat.tasks[k, flat.CHILD])
        first, count = (int(n) for n in self._flat.strips[s, : flat.THEN])
        others = [one for one in range(first, first + count) if one != panel]
        child = self._child(panel)
        to_size = self._setting(panel)
        assert to_size is not None
        cut = Branch(to_size, child, End.HIGH, self._purpose(child, axis))
        turned = forest.work(axis, [cut], forest.waste)
        rest = self._peeled(s, axis, others)
        return forest.work(axis, [Branch(setting, turned, End.LOW, Purpose.ROUGH)], rest)

    def _peeled(self, s: int, axis: Axis, tasks: Sequence[int]) -> int:
        """Return the node of a strip whose tasks may be done in any order."""
        forest, branches = self._forest, []
        then = int(self._flat.strips[s, flat.THEN])
        is_spare = then == flat.SPARE
        low = self._low(s)
        high = End.LOW if low is End.HIGH else End.HIGH
        for k in tasks:
            setting = self._setting(k)
            if setting is None:
                continue
            task, child = self._flat.tasks[k], self._child(k)
            if task[flat.NEED] == flat.OPTIONAL:
                is_spare = True
                branches.append(Branch(setting, child, low))
            elif child == forest.waste:
                purpose = _PURPOSES[int(task[flat.OFF])]
                branches.append(Branch(setting, child, high, purpose))
            else:
                branches.append(Branch(setting, child, low, self._purpose(child, axis)))
        if is_spare:
            return forest.work(axis, branches)
        if not self._fence.has_one_kerf and then not in (flat.WASTE, flat.SPARE):
            pieces = [one for one in branches if one.child != forest.waste]
            waste = next(
                (one.purpose for one in branches if one.child == forest.waste), Purpose.PART
            )
            peeler = Peeler(forest, self._fence, axis, low, high)
            over = int(self._flat.strips[s, flat.OVER])
            return peeler.around(pieces, over, self._following(then), waste)
        if self._flat.strips[s, flat.OVER] == 0 and then == flat.WASTE:
            return self._exact(axis, branches)
        return forest.work(axis, branches, self._following(then))

    def _exact(self, axis: Axis, branches: list[Branch]) -> int:
        """Return the node of a strip that its pieces fill to the last, cut by blades not alike.

        Thin blades leave a little over. A piece comes out as the remainder if all others are cut
        by the widest.
        """
        thin = [one for one in branches if self._kerf(one) < self._fence.kerf]
        if not thin:
            return self._forest.work(axis, branches)
        if len(thin) == 1:
            branches = [one for one in branches if one is not thin[0]]
            return self._forest.work(axis, branches, thin[0].child)
        return self._forest.work(axis, branches, self._forest.waste)

    def _kerf(self, branch: Branch) -> int:
        return self._fence.bench[tool_and_distance(branch.setting)[0]].kerf

    def _purpose(self, child: int, axis: Axis) -> Purpose:
        if self._fence.keeps_remainders or self._sets_a_size(child, axis):
            return Purpose.PART
        return Purpose.ROUGH

    def _sets_a_size(self, number: int, axis: Axis) -> bool:
        """Say whether some panel of a node keeps the size along an axis that its piece has."""
        node = self._forest.nodes[number]
        if node.axis is None:
            return node.part != NONE
        if node.axis is axis:
            return False
        below = [branch.child for branch in node.branches]
        below += [node.then] if node.then != NONE else []
        return any(self._sets_a_size(one, axis) for one in below)

    def _guided_below(self, root: int) -> list[int]:
        """Return the settings that serve a single cut, for one piece of stock."""
        found, waiting = list[int](), [root]
        while waiting:
            node = self._forest.nodes[waiting.pop()]
            if node.is_free:
                found.append(node.branches[0].setting)
            waiting += [branch.child for branch in node.branches]
            waiting += [node.then] if node.then != NONE else []
        return found
