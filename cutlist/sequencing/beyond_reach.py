"""Peeling everything off a piece that no saw reaches across, where blades are not alike."""

from __future__ import annotations

from dataclasses import dataclass

from cutlist.model.layout import Axis
from cutlist.model.plan import Purpose
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import Branch, End, Forest
from cutlist.sequencing.tools import setting_of, tool_and_distance


@dataclass(frozen=True, slots=True)
class Peeler:
    """Makes a piece the remainder of its strip.

    Thin blades leave more beside it than the layout reckoned with. As much as a blade takes comes
    off as waste; less than that is left on the smallest of the other pieces, which is cut too wide
    first.

    Parameters
    ----------
    forest
        Where the nodes go.
    fence
        The shop.
    axis
        Along which the strip is divided.
    low, high
        The ends that pieces and waste come off.
    """

    forest: Forest
    fence: Fence
    axis: Axis
    low: End
    high: End

    def around(self, branches: list[Branch], over: int, node: int, waste: Purpose) -> int:
        """Return the node of a strip whose remainder goes on as ``node``.

        Parameters
        ----------
        branches
            What else comes off.
        over
            What the layout leaves over, a kerf of the widest blade beside each piece.
        node
            What the piece beyond reach is.
        waste
            The purpose of a cut of waste.
        """
        left = over + sum(self.fence.kerf - self._kerf(branch) for branch in branches)
        while left:
            found = self._step(left)
            if found is None:
                return self.forest.work(self.axis, self._widened(branches, left), node)
            setting, left = found
            branches = [*branches, Branch(setting, self.forest.waste, self.high, waste)]
        return self.forest.work(self.axis, branches, node)

    def _kerf(self, branch: Branch) -> int:
        return self.fence.bench[tool_and_distance(branch.setting)[0]].kerf

    def _step(self, left: int) -> tuple[int, int] | None:
        """Return the setting that takes waste off and what is left then; None for no such cut."""
        ways = []
        for number, tool in enumerate(self.fence.bench):
            whole = left - tool.kerf
            if tool.reaches(whole):
                ways.append((0, -whole, setting_of(number, whole)))
            elif tool.reach is not None and whole > tool.reach:
                part = min(tool.down(tool.reach), left - 2 * self.fence.kerf - tool.mark)
                if part > 0:
                    ways.append((left - part - tool.kerf, -part, setting_of(number, part)))
        if not ways:
            return None
        after, _, setting = min(ways)
        return setting, after

    def _widened(self, branches: list[Branch], left: int) -> list[Branch]:
        """Cut the smallest piece too wide by the little that is left, and then to size."""
        smallest = min(branches, key=lambda branch: tool_and_distance(branch.setting)[1])
        size = tool_and_distance(smallest.setting)[1]
        gap = size + self._kerf(smallest) + left
        for number, tool in enumerate(self.fence.bench):
            wide = gap - tool.kerf
            if tool.reaches(wide) and wide > size:
                node = self.forest.work(self.axis, [smallest], self.forest.waste)
                others = [branch for branch in branches if branch is not smallest]
                return [*others, Branch(setting_of(number, wide), node, self.low, Purpose.ROUGH)]
        raise AssertionError("layouts leave room for the widest blade within reach")
