"""Peeling everything off a child that no saw reaches across."""

from __future__ import annotations

from cutlist.model.plan import Purpose
from cutlist.sequencing.choice import Chooser
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import Branch, End, Forest
from cutlist.sequencing.runs import Run
from cutlist.sequencing.tools import setting_of, tool_and_distance


class Peeler:
    """Makes a child the remainder of its strip.

    Parameters
    ----------
    forest
        Where the nodes go.
    fence
        The shop.
    chooser
        Picks the saw of each cut.
    """

    def __init__(self, forest: Forest, fence: Fence, chooser: Chooser) -> None:
        self._forest = forest
        self._fence = fence
        self._chooser = chooser

    def _kerf(self, setting: int) -> int:
        return self._chooser.tool(tool_and_distance(setting)[0]).kerf

    def around(self, run: Run, branches: list[Branch], node: int, left: int) -> int:
        """Peel everything off a child that the fence cannot reach across.

        ``left`` is what has to come off beside the branches and their kerfs.
        """
        peeled: list[int] = []
        while left:
            setting = self._peel(run, left)
            if setting is None:
                branches = self._widened(run, branches, left)
                break
            peeled.append(setting)
            left -= tool_and_distance(setting)[1] + self._kerf(setting)
        first = Purpose.CLEAN_UP if run.high else Purpose.PART
        waste = self._forest.waste
        for setting in reversed(peeled[1:]):
            node = self._forest.work(run.axis, [Branch(setting, waste, End.HIGH)], node)
        if peeled:
            branches = [*branches, Branch(peeled[0], waste, End.HIGH, first)]
        return self._forest.work(run.axis, branches, node)

    def _peel(self, run: Run, left: int) -> int | None:
        """Return the setting that takes off all that is left, or as much as is within reach.

        None where no blade is narrow enough to leave anything at the fence.
        """
        able = []
        for number, tool in enumerate(self._fence.bench):
            size = left - tool.kerf
            if size > 0 and self._chooser.within(size, run.along) and tool.reaches(size):
                preferred = self._chooser.would_pick(size, run.along, run.room)
                able.append((preferred != number, number, size))
        if able:
            _, number, size = min(able)
            return setting_of(number, size)
        limit = self._chooser.farthest(run.along)
        assert limit is not None, "a distance is out of reach"
        if left <= limit:
            return None
        number = self._chooser.pick(limit, run.along, run.room)
        tool = self._chooser.tool(number)
        return setting_of(number, min(tool.down(limit), left - 2 * tool.kerf - tool.mark))

    def _widened(self, run: Run, branches: list[Branch], left: int) -> list[Branch]:
        """Cut the smallest child too wide by the little that is left, and then to size.

        Thin blades leave more beside a child beyond reach than the layout reckoned with, and what
        is narrower than a blade cannot be taken off there.
        """
        smallest = min(branches, key=lambda branch: tool_and_distance(branch.setting)[1])
        _, size = tool_and_distance(smallest.setting)
        gap = size + self._kerf(smallest.setting) + left
        for number, tool in enumerate(self._fence.bench):
            wide = gap - tool.kerf
            if tool.reaches(wide) and self._chooser.within(wide, run.along) and wide > size:
                cut = Branch(
                    setting_of(self._chooser.pick(size, run.along, wide), size), smallest.child
                )
                node = self._forest.work(run.axis, [cut], self._forest.waste)
                branches = [branch for branch in branches if branch is not smallest]
                return [*branches, Branch(setting_of(number, wide), node, End.LOW, Purpose.ROUGH)]
        raise AssertionError("layouts leave room for the widest blade within reach")
