"""From an order of settings to the cuts themselves, each with its pieces and their places."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from cutlist.model.layout import Axis
from cutlist.model.plan import Purpose
from cutlist.model.sawing import Hazard
from cutlist.sequencing.fence import Fence
from cutlist.sequencing.forest import Branch, End, Forest
from cutlist.sequencing.names import Family, sheet_letter
from cutlist.sequencing.tools import Tool, tool_and_distance


@dataclass(frozen=True, slots=True)
class PlacedBox:
    """A named piece at its place on its sheet, in grid units."""

    name: str
    x: int
    y: int
    length: int
    width: int

    def size(self, axis: Axis) -> int:
        """Return the extent along an axis."""
        return self.length if axis is Axis.X else self.width

    def part_of(self, axis: Axis, start: int, size: int, name: str) -> PlacedBox:
        """Return the piece ``size`` wide along the axis, ``start`` from the low end."""
        if axis is Axis.X:
            return PlacedBox(name, self.x + start, self.y, size, self.width)
        return PlacedBox(name, self.x, self.y + start, self.length, size)


@dataclass(frozen=True, slots=True)
class Start:
    """What a piece is called, and where it lies on its sheet, when the shop begins.

    Parameters
    ----------
    name
        Its name, and the stem of the names of all that is cut from it.
    x, y
        Place of its low corner.
    mirrored
        Axes along which its layout counts from the piece's high end.
    """

    name: str
    x: int = 0
    y: int = 0
    mirrored: frozenset[Axis] = frozenset()

    def placed(self, box: PlacedBox, length: int, width: int) -> PlacedBox:
        """Return a box of the layout of a piece of this size at its place on the sheet."""
        x = length - box.x - box.length if Axis.X in self.mirrored else box.x
        y = width - box.y - box.width if Axis.Y in self.mirrored else box.y
        return PlacedBox(box.name, self.x + x, self.y + y, box.length, box.width)


@dataclass(frozen=True, slots=True)
class CutStep:
    """One cut of ``piece`` into ``kept``, at the fence, and ``rest``, across ``axis``.

    ``hazards`` says what is unsafe about it.
    """

    piece: str
    axis: Axis
    purpose: Purpose
    kept: PlacedBox
    rest: PlacedBox | None
    hazards: tuple[Hazard, ...] = ()


@dataclass(frozen=True, slots=True)
class SettingStep:
    """One setting of a tool, by its number, and its cuts, in order."""

    distance: int
    cuts: tuple[CutStep, ...]
    tool: int = 0


@dataclass(frozen=True, slots=True)
class FinishedPiece:
    """A piece that is cut no more, of sheet number ``sheet``; ``part`` is NONE for waste."""

    part: int
    sheet: int
    box: PlacedBox


@dataclass(slots=True, eq=False)
class _Piece:
    sheet: int
    box: PlacedBox
    node: int
    stem: str
    family: Family | None = None
    clean_ups: int = 0


class _Bench:
    """The pieces on the bench while the settings are gone through one by one."""

    def __init__(
        self, forest: Forest, fence: Fence, sheets: Sequence[tuple[Start, int, int]]
    ) -> None:
        self._forest = forest
        self._fence = fence
        self._sheets = sheets
        self._open: dict[int, dict[int, _Piece]] = {}
        self._guided: list[_Piece] = []
        self.finished: list[FinishedPiece] = []

    def put(self, piece: _Piece) -> None:
        node = self._forest.nodes[piece.node]
        if node.axis is None:
            self.finished.append(FinishedPiece(node.part, piece.sheet, self._placed(piece)))
            return
        if node.is_free:
            self._guided.append(piece)
            return
        for setting in {branch.setting for branch in node.branches}:
            self._open.setdefault(setting, {})[id(piece)] = piece

    def work(self, setting: int) -> tuple[CutStep, ...]:
        """Do all that the setting can do: rips first, then sheet by sheet."""
        cuts: list[CutStep] = []
        while ready := self._open.pop(setting, {}):
            for piece in sorted(ready.values(), key=self._rank):
                self._withdraw(piece, setting)
                cuts.extend(self._cut(piece, setting))
        return tuple(cuts)

    def guided(self) -> Iterator[SettingStep]:
        """Yield what a guide divides now, the largest piece first: each cut is its own setting."""
        while self._guided:
            self._guided.sort(key=lambda piece: (-piece.box.length * piece.box.width, piece.sheet))
            piece = self._guided.pop(0)
            node = self._forest.nodes[piece.node]
            assert node.axis is not None
            branch = node.branches[0]
            step, kept, rest = self._split(piece, node.axis, branch, node.then)
            self.put(kept)
            if rest is not None:
                self.put(rest)
            tool, distance = tool_and_distance(branch.setting)
            yield SettingStep(distance, (step,), tool)

    def _placed(self, piece: _Piece) -> PlacedBox:
        start, length, width = self._sheets[piece.sheet]
        return start.placed(piece.box, length, width)

    def _rank(self, piece: _Piece) -> tuple[bool, int, int]:
        axis = self._forest.nodes[piece.node].axis
        return (axis is Axis.X, piece.sheet, -piece.box.length * piece.box.width)

    def _withdraw(self, piece: _Piece, setting: int) -> None:
        for other in {branch.setting for branch in self._forest.nodes[piece.node].branches}:
            if other != setting:
                del self._open[other][id(piece)]

    def _cut(self, piece: _Piece, setting: int) -> list[CutStep]:
        """Cut everything off the piece that its own branches have at this setting."""
        cuts: list[CutStep] = []
        while True:
            node = self._forest.nodes[piece.node]
            branch = next((b for b in node.branches if b.setting == setting), None)
            if branch is None or node.axis is None:
                self.put(piece)
                return cuts
            following = self._forest.without(piece.node, branch)
            step, kept, rest = self._split(piece, node.axis, branch, following)
            cuts.append(step)
            self.put(kept)
            if rest is None:
                return cuts
            if self._forest.nodes[rest.node].axis is not node.axis:
                self.put(rest)
                return cuts
            piece = rest

    def _split(
        self, piece: _Piece, axis: Axis, branch: Branch, following: int
    ) -> tuple[CutStep, _Piece, _Piece | None]:
        number, size = tool_and_distance(branch.setting)
        tool, box = self._fence.bench[number], piece.box
        if branch.purpose is Purpose.CLEAN_UP and branch.child != self._forest.waste:
            # A cleaned piece is still the same piece to the person: A becomes A.1, its edge A.1x.
            kept_name = f"{piece.stem}.{piece.clean_ups + 1}"
            rest_name = kept_name + "x"
            kept = _Piece(piece.sheet, box, branch.child, piece.stem)
            kept.clean_ups = piece.clean_ups + 1
            family = None
        else:
            family = piece.family
            if family is None or family.axis is not axis:
                family = Family(piece.stem, axis)
            kept_name, rest_name = family.next_name(), ""
            kept = _Piece(piece.sheet, box, branch.child, kept_name)
        left = box.size(axis) - size - tool.kerf
        kept_start, rest_start = 0, size + tool.kerf
        if branch.end is End.HIGH:
            kept_start, rest_start = box.size(axis) - size, 0
        kept.box = box.part_of(axis, kept_start, size, kept_name)
        rest = None
        if left > 0:
            name = rest_name if family is None else family.next_name()
            remaining = box.part_of(axis, rest_start, left, name)
            rest = _Piece(piece.sheet, remaining, following, name, family)
        else:
            assert following == self._forest.waste, "a piece is needed where the blade left none"
        rest_box = self._placed(rest) if rest else None
        hazards = self._hazards(tool, box, axis, size)
        step = CutStep(box.name, axis, branch.purpose, self._placed(kept), rest_box, hazards)
        return step, kept, rest

    def _hazards(self, tool: Tool, box: PlacedBox, axis: Axis, size: int) -> tuple[Hazard, ...]:
        along = box.size(Axis.Y if axis is Axis.X else Axis.X)
        return tool.hazards(along, box.size(axis), size)


def make_cuts(
    forest: Forest,
    sheets: Sequence[tuple[int, int, int]],
    settings: Sequence[int],
    fence: Fence,
    starts: Sequence[Start] = (),
) -> tuple[tuple[SettingStep, ...], tuple[FinishedPiece, ...]]:
    """Carry out an order of settings.

    Parameters
    ----------
    forest
        The forest that the order belongs to.
    sheets
        For each piece of stock its node, full length and full width.
    settings
        In order; together they finish every sheet. What serves one cut alone is not among them: it
        is set as soon as its piece is there.
    fence
        The shop.
    starts
        For each piece of stock its name and place; left out, the next letter and a whole piece.

    Returns
    -------
    tuple
        The settings with their cuts, and all pieces left at the end.
    """
    begun = starts or [Start(sheet_letter(number)) for number in range(len(sheets))]
    placed = [
        (start, length, width) for start, (_, length, width) in zip(begun, sheets, strict=True)
    ]
    bench = _Bench(forest, fence, placed)
    for number, ((start, length, width), (node, _, _)) in enumerate(
        zip(placed, sheets, strict=True)
    ):
        bench.put(_Piece(number, PlacedBox(start.name, 0, 0, length, width), node, start.name))
    steps: list[SettingStep] = []
    steps.extend(bench.guided())
    for setting in settings:
        tool, distance = tool_and_distance(setting)
        steps.append(SettingStep(distance, bench.work(setting), tool))
        steps.extend(bench.guided())
    return tuple(steps), tuple(bench.finished)
