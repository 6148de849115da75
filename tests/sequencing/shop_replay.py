"""An own replay of cuts in a shop, by the rules of the plan format and of the devices.

Rules written down here anew: a cut takes a piece that is there and splits it edge to edge; what is
kept is as wide as the distance; kept, kerf and rest make up the piece; every panel is left at its
exact size with no edge of what was to be trimmed; each device keeps to its limits (common practice:
the edge along a fence is long enough, and as long as the piece is across or steady by itself; a
sled carries only so large a piece and makes only so long a cut; a guide lies on a piece of some
size), or the cut is marked.
"""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

from cutlist.model.layout import Axis
from cutlist.model.plan import Purpose
from cutlist.model.sawing import Device
from cutlist.sequencing.cutting import CutStep
from cutlist.sequencing.sequence import Sequenced
from cutlist.sequencing.tools import Tool
from tests.sequencing.cut_layouts import panels_of
from tests.sequencing.shops import Work

#: A piece: its sheet, and where it starts and ends along x and y.
Ends = tuple[int, int]


def is_within(tool: Tool, along: int, across: int, distance: int) -> bool:
    """Say whether a device may make a cut through a piece of such size."""
    if tool.device is Device.GUIDE:
        return min(along, across) >= tool.smallest_piece
    if tool.reach is not None and distance > tool.reach:
        return False
    if tool.device is Device.FENCE:
        steady = tool.steady_edge is not None and along >= tool.steady_edge
        long_enough = along >= tool.smallest_piece and (along >= across or steady)
        return long_enough and distance >= tool.thinnest_strip
    assert tool.device is Device.STOP
    fits = any(across <= wide and along <= deep for wide, deep in tool.largest_pieces)
    short = tool.longest_cut is None or along <= tool.longest_cut
    return short and (fits or not tool.largest_pieces)


class ShopReplay:
    """Goes through the cuts; ``faults`` says what breaks a rule, ``outside`` what is marked."""

    def __init__(self, work: Work, made: Sequenced) -> None:
        self.faults: list[str] = []
        #: Cuts beyond what their device may do: size along, across, distance.
        self.outside: list[tuple[int, int, int]] = []
        self._work = work
        self._where = ""
        self._pieces: dict[str, tuple[int, Ends, Ends]] = {}
        self._stock: list[tuple[int, int]] = []
        for number, entry in enumerate(work.sheets):
            root, trims = entry.layout.root, entry.trims
            size = root.length + trims.left + trims.right, root.width + trims.lower + trims.upper
            self._stock.append(size)
            self._pieces["ABCDEFGHJKMN"[number]] = (number, (0, size[0]), (0, size[1]))
        for first, second in pairwise(made.settings):
            tool = work.fence.bench[second.tool]
            is_same = (first.tool, first.distance) == (second.tool, second.distance)
            self._expect(not is_same or tool.serves_one_cut, f"set again: {second}")
        for step in made.settings:
            tool = work.fence.bench[step.tool]
            self._where = f"tool {step.tool} at {step.distance}"
            self._expect(len(step.cuts) > 0, "nothing is cut")
            self._expect(len(step.cuts) <= 1 or not tool.serves_one_cut, "one guide, many cuts")
            for cut in step.cuts:
                self._where = f"tool {step.tool} at {step.distance}, {cut}"
                self._cut(cut, tool, step.distance)
        self._finish(made)

    def _expect(self, condition: bool, fault: str) -> None:
        if not condition:
            self.faults.append(f"{self._where}: {fault}")

    def _cut(self, cut: CutStep, tool: Tool, distance: int) -> None:
        if cut.piece not in self._pieces:
            self.faults.append(f"{self._where}: no such piece")
            return
        sheet, x, y = self._pieces.pop(cut.piece)
        (start, end), (side_start, side_end) = (x, y) if cut.axis is Axis.X else (y, x)
        kept = (cut.kept.x, cut.kept.x + cut.kept.length)
        beside = (cut.kept.y, cut.kept.y + cut.kept.width)
        if cut.axis is not Axis.X:
            kept, beside = beside, kept
        self._expect(kept[1] - kept[0] == distance, "kept is not as wide as the distance")
        self._expect(beside == (side_start, side_end), "kept is not edge to edge")
        self._expect(kept[0] == start or kept[1] == end, "kept lies at no end")
        self._expect(0 < distance < end - start, "nothing comes off")
        left = end - start - distance - tool.kerf
        self._expect((cut.rest is not None) == (left > 0), "rest or no rest")
        self._put(cut.kept.name, sheet, cut.axis, kept, beside)
        if cut.rest is not None:
            rest = (kept[1] + tool.kerf, end) if kept[0] == start else (start, kept[0] - tool.kerf)
            box = cut.rest
            ends = (box.x, box.x + box.length), (box.y, box.y + box.width)
            told = ends if cut.axis is Axis.X else ends[::-1]
            self._expect(told == (rest, beside), "rest is elsewhere")
            self._put(box.name, sheet, cut.axis, rest, beside)
        along, across = side_end - side_start, end - start
        is_inside = is_within(tool, along, across, distance)
        self._expect(
            is_inside or bool(cut.hazards) or self._is_out_of_reach(tool, distance),
            f"{along} along, {across} across is not marked",
        )
        self._expect(is_inside or tool.reach is None or distance <= tool.reach, "beyond reach")
        self._expect(not is_inside or not cut.hazards, "marked for nothing")
        if not is_inside:
            self.outside.append((along, across, distance))
        if cut.purpose is Purpose.PART:
            trims = self._work.sheets[sheet].trims.along(cut.axis)
            size = self._stock[sheet][0 if cut.axis is Axis.X else 1]
            low = kept[0] >= trims[0] and kept[1] <= size - trims[1]
            self._expect(low, "a size is set with an edge that is to be trimmed")

    @staticmethod
    def _is_out_of_reach(tool: Tool, distance: int) -> bool:
        return tool.reach is not None and distance > tool.reach

    def _put(self, name: str, sheet: int, axis: Axis, ends: Ends, beside: Ends) -> None:
        self._expect(name not in self._pieces, f"the name {name} is used again")
        both = (ends, beside) if axis is Axis.X else (beside, ends)
        self._pieces[name] = (sheet, *both)

    def _finish(self, made: Sequenced) -> None:
        found: list[Counter[int]] = [Counter() for _ in self._stock]
        for one in made.pieces:
            self._where = str(one)
            box = one.box
            place = (one.sheet, (box.x, box.x + box.length), (box.y, box.y + box.width))
            self._expect(self._pieces.pop(box.name, None) == place, "is not left at the end")
            if one.part < 0:
                continue
            found[one.sheet][one.part] += 1
            self._expect(self._work.parts[one.part] == (box.length, box.width), "has another size")
            trims, (length, width) = self._work.sheets[one.sheet].trims, self._stock[one.sheet]
            is_clean = (
                box.x >= trims.left
                and box.y >= trims.lower
                and box.x + box.length <= length - trims.right
                and box.y + box.width <= width - trims.upper
            )
            self._expect(is_clean, "has an edge that was to be trimmed")
        self._where = "end"
        self._expect(not self._pieces, f"left over: {sorted(self._pieces)}")
        wanted = [panels_of(entry.layout.root) for entry in self._work.sheets]
        self._expect(found == wanted, f"panels {found}, wanted {wanted}")
