"""Random layouts for a saw, and a replay on the integer grid of what was made of them."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

from hypothesis import assume
from hypothesis import strategies as st

from cutlist.model.edges import EdgeTrims
from cutlist.model.layout import Axis, Cell, Layout, Strip
from cutlist.model.plan import Purpose
from cutlist.model.sawing import Device
from cutlist.nesting.layouts.reach import is_reachable
from cutlist.nesting.problem import Bin, Problem
from cutlist.sequencing.cutting import PlacedBox
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import NONE
from cutlist.sequencing.sequence import Sequenced, StockLayout
from cutlist.sequencing.tools import Tool


@dataclass(frozen=True, slots=True)
class Bench:
    """A saw and the layouts to cut on it; ``parts`` are the sizes of the parts by index."""

    fence: Fence
    layouts: tuple[StockLayout, ...]
    parts: tuple[tuple[int, int], ...]

    @property
    def sheets(self) -> list[StockLayout]:
        """Return the layout of each piece of stock."""
        return [entry for entry in self.layouts for _ in range(entry.layout.copies)]


@st.composite
def benches(
    draw: st.DrawFn,
    *,
    reach: bool = True,
    trim: bool = True,
    sheets: int = 3,
    step: int = 1,
    saws: bool = False,
) -> Bench:
    """Draw layouts that the fence can cut; all lengths are multiples of ``step``.

    With ``saws`` the shop has two or three, whose blades and reaches may differ.
    """
    kerf = step * draw(st.integers(0, 3))
    limit = step * draw(st.integers(12, 70)) if reach and draw(st.booleans()) else None
    fence = Fence(kerf, limit, step)
    if saws:
        fence = draw(_shops(kerf, limit, step))
        limit = fence.layout_reach
    parts: dict[tuple[int, int], int] = {}
    entries = []
    for _ in range(draw(st.integers(1, sheets))):
        length, width = step * draw(st.integers(15, 90)), step * draw(st.integers(15, 90))
        margin = step * draw(st.sampled_from((0, 1, 3, 5))) if trim else 0
        if margin and not all(fence.reaches(size + 2 * margin) for size in (length, width)):
            # As the planner does: a margin is wider than a kerf where it is cut off as a piece.
            margin = max(margin, kerf + step)
        root = draw(_trees(length, width, kerf, step, None, draw(st.integers(0, 3)), parts))
        layout = Layout(0, root, draw(st.sampled_from((1, 1, 2))))
        assume(
            is_reachable(Problem((), (Bin(length, width, 1, None, margin),), kerf, limit), layout)
        )
        entries.append(StockLayout(layout, EdgeTrims.of(margin)))
    return Bench(fence, tuple(entries), tuple(parts))


@st.composite
def _shops(draw: st.DrawFn, kerf: int, limit: int | None, step: int) -> Fence:
    """Draw saws of which one has the widest kerf, and one the farthest reach on any cut."""
    kinds = st.sampled_from((Device.FENCE, Device.STOP, Device.GUIDE))
    kerfs = [kerf, step * draw(st.integers(0, kerf // step))]
    tools = [Tool(kerfs[draw(st.integers(0, 1))], limit, step, draw(kinds))]
    for width in kerfs if tools[0].kerf < kerf else kerfs[1:]:
        shorter = limit if limit is None else step * draw(st.integers(1, limit // step))
        longest = draw(st.sampled_from((None, 10 * step, 40 * step)))
        tools.append(Tool(width, shorter, step, draw(kinds), longest))
    return Fence(kerf, limit, tools=tuple(tools))


@st.composite
def _trees(
    draw: st.DrawFn,
    length: int,
    width: int,
    kerf: int,
    step: int,
    above: Axis | None,
    depth: int,
    parts: dict[tuple[int, int], int],
) -> Strip | Cell:
    axes = [axis for axis in Axis if axis is not above]
    axis = draw(st.sampled_from(axes))
    room = length if axis is Axis.X else width
    if depth == 0 or room < 4 * step:
        return Cell(parts.setdefault((length, width), len(parts)), length, width)
    sizes: list[int] = []
    left = room
    for _ in range(draw(st.integers(1, 4))):
        repeat = sizes and sizes[-1] <= left and draw(st.booleans())
        size = sizes[-1] if repeat else step * draw(st.integers(1, max(1, left // step)))
        sizes.append(size)
        left -= size + kerf
        if left < 2 * step:
            break
    children = tuple(
        draw(
            _trees(
                size if axis is Axis.X else length,
                width if axis is Axis.X else size,
                kerf,
                step,
                axis,
                depth - 1,
                parts,
            )
        )
        for size in sizes
    )
    return Strip(axis, length, width, children)


def panels_of(tree: Strip | Cell) -> Counter[int]:
    """Count the panels of each part in a tree."""
    if isinstance(tree, Cell):
        return Counter((tree.part,))
    return sum((panels_of(child) for child in tree.children), Counter[int]())


def replay(bench: Bench, made: Sequenced) -> list[str]:
    """Return every fault found in going through the settings cut by cut, by the plan format."""
    run = _Replay(bench)
    previous = None
    for number, setting in enumerate(made.settings):
        run.where = f"setting {number} at {setting.distance}"
        tool = bench.fence.bench[setting.tool]
        kind = (setting.tool, setting.distance)
        run.expect(kind != previous, "the same saw and distance as the last one")
        run.expect(bool(setting.cuts), "no cuts")
        run.expect(tool.reaches(setting.distance), "beyond reach")
        run.expect(setting.distance % tool.mark == 0, "between two marks")
        previous = kind
        for cut in setting.cuts:
            run.where = f"setting {number}, {cut}"
            after = (cut.kept, cut.rest)
            run.cut(cut.piece, cut.axis, cut.purpose, setting.distance, after, tool.kerf)
    run.where = "end"
    run.pieces_left(made)
    return run.faults


class _Replay:
    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.faults: list[str] = []
        self.where = ""
        self.sheet: dict[str, int] = {}
        self.pieces: dict[str, PlacedBox] = {}
        self.rough: set[str] = set()
        names = "ABCDEFGHJKMNPQRSTUVWXYZ"
        for number, entry in enumerate(bench.sheets):
            root, margin = entry.layout.root, 2 * entry.trims.left
            box = PlacedBox(names[number], 0, 0, root.length + margin, root.width + margin)
            self.pieces[box.name] = box
            self.sheet[box.name] = number
        self.stock = list(self.pieces.values())

    def expect(self, condition: bool, fault: str) -> None:
        if not condition:
            self.faults.append(f"{self.where}: {fault}")

    def cut(
        self,
        name: str,
        axis: Axis,
        purpose: Purpose,
        distance: int,
        after: tuple[PlacedBox, PlacedBox | None],
        kerf: int,
    ) -> None:
        piece = self.pieces.pop(name, None)
        if piece is None:
            self.faults.append(f"{self.where}: no such piece")
            return
        kept, rest = after
        start, end = span(piece, axis)
        kept_start, kept_end = span(kept, axis)
        self.expect(kept_end - kept_start == distance, "kept is not the distance wide")
        self.expect(kept_start == start or kept_end == end, "kept lies at no end")
        self.expect(distance < end - start, "nothing is taken off")
        left = (kept_end + kerf, end) if kept_start == start else (start, kept_start - kerf)
        wanted = [with_span(piece, axis, (kept_start, kept_end))]
        if left[1] > left[0]:
            wanted.append(with_span(piece, axis, left))
        made = [box for box in (kept, rest) if box is not None]
        self.expect([replace(box, name="") for box in made] == wanted, "pieces are out of place")
        sheet = self.sheet[name]
        trim = self.bench.sheets[sheet].trims.left
        border = span(self.stock[sheet], axis)[1]
        taken = end - start - distance
        at_low = kept_start == start
        if purpose is Purpose.CLEAN_UP:
            self.expect(taken >= trim, "a clean-up takes off less than the trim")
        if purpose is Purpose.PART:
            gap = kept_start if at_low else border - kept_end
            self.expect(gap >= trim, "a factory edge rides the fence")
        self.expect(purpose is not Purpose.BREAK_DOWN, "there is no store")
        for box in made:
            self.expect(box.name not in self.sheet, f"the name {box.name} is used again")
            self.sheet[box.name] = sheet
            self.pieces[box.name] = box
        if purpose is Purpose.ROUGH:
            self.rough.add(kept.name)

    def pieces_left(self, made: Sequenced) -> None:
        found: list[Counter[int]] = [Counter() for _ in self.stock]
        for finished in made.pieces:
            box = finished.box
            self.where = str(finished)
            self.expect(self.pieces.pop(box.name, None) == box, "is not among the pieces left")
            self.expect(self.sheet[box.name] == finished.sheet, "comes from another sheet")
            if finished.part == NONE:
                continue
            found[finished.sheet][finished.part] += 1
            trim = self.bench.sheets[finished.sheet].trims.left
            size = (box.length, box.width)
            self.expect(self.bench.parts[finished.part] == size, "has another size")
            self.expect(box.name not in self.rough, "is left rough")
            for axis in Axis:
                start, end = span(box, axis)
                border = span(self.stock[finished.sheet], axis)[1]
                self.expect(start >= trim and end <= border - trim, "has a factory edge")
        self.expect(not self.pieces, f"neither panel nor waste: {sorted(self.pieces)}")
        wanted = [panels_of(entry.layout.root) for entry in self.bench.sheets]
        self.expect(found == wanted, f"panels {found}, wanted {wanted}")


def span(box: PlacedBox, axis: Axis) -> tuple[int, int]:
    """Return where a box starts and ends along an axis."""
    if axis is Axis.X:
        return box.x, box.x + box.length
    return box.y, box.y + box.width


def with_span(box: PlacedBox, axis: Axis, ends: tuple[int, int]) -> PlacedBox:
    """Return the nameless box with other ends along an axis."""
    low, high = ends
    if axis is Axis.X:
        return PlacedBox("", low, box.y, high - low, box.width)
    return PlacedBox("", box.x, low, box.length, high - low)
