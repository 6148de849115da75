"""Putting a sketch on paper.

What is drawn first takes its room: cut lines, then lettering, then what has several places to go.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.metrics import text_box
from cutlist.drawing.occupied import Occupied
from cutlist.drawing.primitives import Box, Fill, Hatch, Line, Rect, Role, Text
from cutlist.drawing.sheets.arrows import beside_arrow, distance_arrows, grain_arrow
from cutlist.drawing.sheets.callouts import Pointer, place_pointers
from cutlist.drawing.sheets.dimensions import dimension_sheet
from cutlist.drawing.sheets.edges import clear_of, edge_bar, edge_line
from cutlist.drawing.sheets.lettering import WASTE, Lettered, letter
from cutlist.drawing.sheets.sketch import CutMark, Label, Named, Shape, Use
from cutlist.drawing.sheets.tags import NAME, line_band, place_tag
from cutlist.model.edges import Edge

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.drawing.primitives import Item
    from cutlist.drawing.sheets.sketch import Sketch
    from cutlist.drawing.sheets.view import View

__all__ = ["Drawn", "draw"]

#: Space between lettering and a line along an edge, and around lettering on a white patch, mm.
_CLEAR: Final = 0.4
_PATCH: Final = 0.4
#: Two arrows that run alike keep so far apart, half of it; a piece with room for one, mm.
_APART: Final = 2.2
_ROOMY: Final = 15.0


@dataclass(frozen=True, slots=True)
class Drawn:
    """What was drawn, and what the page has to say because the sketch had no room.

    Parameters
    ----------
    numbered
        Numbers that stand for the label of a piece, with the places of these in the sketch.
    unlettered, shortened
        Places of the pieces without any lettering or number, and of those with the name alone.
    tags_shortened, tags_homeless
        Places of the cuts whose number was shortened to ``…``, and of those without one.
    pointers, unplaced
        How many pieces need a leader to their number, and how many leaders had no room.
    has_arrows
        Whether an arrow along the length was drawn.
    """

    items: tuple[Item, ...]
    numbered: tuple[tuple[str, tuple[int, ...]], ...]
    unlettered: tuple[int, ...]
    shortened: tuple[int, ...]
    tags_shortened: tuple[int, ...]
    tags_homeless: tuple[int, ...]
    pointers: int
    unplaced: int
    has_arrows: bool


def draw(sketch: Sketch, view: View, *, callout_room: float = 0.0) -> Drawn:
    """Draw a sketch in a view.

    ``callout_room`` is the height, in millimetres, kept above and below the sheet for numbers with
    leaders; without any the drawing tells by its ``pointers`` whether some is needed.
    """
    board = _Board(sketch, view)
    lines = [_line(cut, view, sketch.look.over) for cut in sketch.cuts]
    board.bands = [line_band(line) for line in lines]
    for band in board.bands:
        board.taken.add(band)
        board.fixed.add(band)
    if sketch.look.has_numbers_first:
        board.number(lines)
    # The short ones have the least choice.
    measured = [cut for cut in sketch.cuts if cut.measured is not None]
    for cut in sorted(measured, key=_measure_of):
        board.measure(cut)
    for index, shape in enumerate(sketch.shapes):
        board.shape(index, shape)
    for named in sketch.names:
        board.name(named)
    unplaced = board.point() if callout_room else 0
    if not sketch.look.has_numbers_first:
        board.number(lines)
    for shape in sketch.shapes:
        if shape.use is Use.WASTE:
            board.letter_waste(shape)
    frame = Rect(view.sheet, sketch.look.outline)
    sides: tuple[Item, ...] = ()
    if sketch.sides is not None:
        below, left = sketch.look.below + callout_room, sketch.look.left
        sides = dimension_sheet(view.sheet, *sketch.sides, below=below, left=left)
    outline = Rect(view.sheet, sketch.look.outline, Fill.WHITE, role=sketch.role)
    return Drawn(
        items=(outline, *board.under, *lines, frame, *board.over, *board.tags, *sides),
        numbered=tuple((n, tuple(found)) for n, found in board.numbers.values()),
        unlettered=tuple(board.unlettered),
        shortened=tuple(board.shortened),
        tags_shortened=tuple(board.tags_shortened),
        tags_homeless=tuple(board.tags_homeless),
        pointers=len(board.pointers),
        unplaced=unplaced,
        has_arrows=board.has_arrows,
    )


def _measure_of(cut: CutMark) -> Fraction:
    assert cut.measured is not None
    piece, _ = cut.measured
    return piece.width if cut.is_rip else piece.length


def _line(cut: CutMark, view: View, over: float) -> Line:
    """Give the line of a cut: a rip from left to right, any other from its upper end."""
    if cut.is_rip:
        y = view.y(cut.middle)
        ends = (view.x(cut.start) - over, y, view.x(cut.end) + over, y)
    else:
        x = view.x(cut.middle)
        ends = (x, view.y(cut.end) - over, x, view.y(cut.start) + over)
    return Line(*ends, cut.width_mm, cut.dash_mm, role=cut.role)


@dataclass
class _Board:
    """The drawing in the making."""

    sketch: Sketch
    view: View
    under: list[Item] = field(default_factory=list)
    over: list[Item] = field(default_factory=list)
    tags: list[Item] = field(default_factory=list)
    bands: list[Box] = field(default_factory=list)
    #: All that has its room; of that, what no patch may cover, and lettering alone.
    taken: Occupied = field(default_factory=Occupied)
    fixed: Occupied = field(default_factory=Occupied)
    lettering: Occupied = field(default_factory=Occupied)
    #: Arrows with a distance, level and upright.
    arrows: tuple[Occupied, Occupied] = field(default_factory=lambda: (Occupied(), Occupied()))
    numbers: dict[str, tuple[str, list[int]]] = field(default_factory=dict)
    pointers: list[Pointer] = field(default_factory=list)
    unlettered: list[int] = field(default_factory=list)
    shortened: list[int] = field(default_factory=list)
    tags_shortened: list[int] = field(default_factory=list)
    tags_homeless: list[int] = field(default_factory=list)
    has_arrows: bool = False
    clear: Box = field(init=False)

    def __post_init__(self) -> None:
        """Draw what stands along the edges."""
        sheet, look = self.view.sheet, self.sketch.look
        least = min(look.edge_inset, sheet.width / 8, sheet.height / 8)
        self.clear = sheet
        insets = {edge: max(least, self.view.across(off)) for edge, off in self.sketch.edges}
        for edge, by in insets.items():
            self.clear = clear_of((edge,), self.clear, by + _CLEAR)
        if len(insets) == len(Edge) and len(set(insets.values())) == 1:
            inner = sheet.inset(insets[Edge.LEFT])
            self.over.append(Rect(inner, look.edge, dash_mm=theme.CHAIN))
        else:
            self.over += [edge_line(edge, sheet, by, look.edge) for edge, by in insets.items()]
        if self.sketch.bar is not None:
            self.over.append(edge_bar(self.sketch.bar, sheet))

    def take(self, box: Box) -> None:
        """Keep a place free of all that comes later."""
        for places in (self.taken, self.fixed, self.lettering):
            places.add(box)

    def shape(self, index: int, shape: Shape) -> None:
        """Draw a piece and letter it."""
        box, look = self.view.box(shape.piece), self.sketch.look
        if shape.use is Use.PANEL:
            self.under.append(Rect(box, look.panel, look.panel_fill, role=Role.PANEL))
        elif shape.use is Use.COMES_OFF:
            self.under.append(Rect(box, 0, Fill.TINT))
        elif shape.use is Use.WASTE:
            self.under.append(Hatch(box, look.hatch_spacing, look.hatch))
        elif shape.use is Use.KEPT:
            box = box.inset(min(look.kept_inset, box.width / 5, box.height / 5))
            dash = look.kept_dash
            self.under.append(Rect(box, look.kept, dash_mm=dash, role=Role.KEPT_OFFCUT))
        if shape.label is None:
            return
        if shape.use is not Use.WASTE and not self._letter(box, shape, shape.label, index):
            self._stand_for(box, shape.label, index)

    def _letter(self, box: Box, shape: Shape, label: Label, index: int) -> bool:
        """Letter a piece beside its arrow, else without one; tell whether there was room."""
        room = _common(box, self.clear)
        arrow = grain_arrow(room) if shape.has_arrow else None
        if arrow is not None:
            line, beside = arrow
            lettered = self._fitted(beside, label, Role.PANEL_TEXT)
            if lettered is not None:
                self.over.append(line)
                self.has_arrows = True
                self.take(Box(line.x1, line.y1 - 0.9, line.x2 - line.x1, 1.8))
                return self._added(lettered, index)
        lettered = self._fitted(room, label, Role.PANEL_TEXT)
        return lettered is not None and self._added(lettered, index)

    def _fitted(self, box: Box, label: Label, role: Role) -> Lettered | None:
        look = self.sketch.look
        # What is placed after the lettering keeps clear of it, and need not be looked at here.
        taken, fixed = (self.taken, self.fixed) if look.has_numbers_first else (None, None)
        return letter(box, label.forms(), look.labels, role=role, taken=taken, fixed=fixed)

    def _added(self, lettered: Lettered, index: int | None = None) -> bool:
        for text in lettered.texts:
            box = text_box(text)
            if lettered.form.covers:
                box = box.inset(-_PATCH)
                self.over.append(Rect(box, 0, Fill.WHITE))
            self.over.append(text)
            self.take(box)
        if lettered.form.is_short and index is not None and len(lettered.texts) == 1:
            self.shortened.append(index)
        return True

    def _stand_for(self, box: Box, label: Label, index: int) -> None:
        """Letter a piece with the number that stands for its label, or note it for a leader."""
        if not label.subject:
            self.unlettered.append(index)
            return
        number, found = self.numbers.setdefault(label.subject, (f"#{len(self.numbers) + 1}", []))
        found.append(index)
        lettered = self._fitted(box, label.numbered(number), Role.CALLOUT)
        if lettered is None:
            self.pointers.append(Pointer(number, box))
        else:
            self._added(lettered)

    def letter_waste(self, shape: Shape) -> None:
        """Write upon the hatch of waste, on a white patch, where there is room left."""
        if shape.label is None:
            return
        box, forms = self.view.box(shape.piece), shape.label.forms()
        lettered = letter(box, forms, WASTE, role=Role.PANEL_TEXT, taken=self.taken)
        for text in lettered.texts if lettered is not None else ():
            patch = text_box(text).inset(-0.8)
            self.over += [Rect(patch, 0, Fill.WHITE), text]
            self.taken.add(patch)

    def measure(self, cut: CutMark) -> None:
        """Draw an arrow across the piece that a cut measures, where nothing hides it."""
        assert cut.measured is not None
        piece, words = cut.measured
        upwards = cut.is_rip
        places = list(distance_arrows(self.view.box(piece), words, upwards=upwards))
        free = [place for place in places if self._is_open(*place)]
        roomy = [
            box
            for box in (self.view.box(shape.piece) for shape in self.sketch.shapes)
            if (box.width if upwards else box.height) >= _ROOMY
        ]
        best = [one for one in free if any(box.holds(text_box(one[1])) for box in roomy)]
        arrow, text = (best or free or places)[0]
        beside = beside_arrow(arrow, 0.8)
        self.taken.add(beside)
        self.arrows[upwards].add(beside)
        patch = text_box(text).inset(-_PATCH)
        self.over += [arrow, Rect(patch, 0, Fill.WHITE), text]
        self.take(patch)

    def _is_open(self, arrow: Line, text: Text) -> bool:
        """Tell whether an arrow crosses no lettering, keeps off those alike, and its words fit."""
        room = text_box(text).inset(-2 * _PATCH)
        return (
            self.view.sheet.holds(room)
            and self.taken.is_free(room)
            and self.lettering.is_free(beside_arrow(arrow, 0.3))
            and self.arrows[text.upwards].is_free(beside_arrow(arrow, _APART))
        )

    def name(self, named: Named) -> None:
        """Write a framed name near a corner of a piece, where there is room beside the others."""
        box = self.view.box(named.piece)
        _, high = NAME.patch(named.name, theme.BODY)
        if high > box.height:
            return
        for y in (box.y + 0.8 + high / 2, box.bottom - 0.8 - high / 2):
            line = Line(box.x + 0.3, y, box.right - 0.3, y, theme.FINE)
            placed = place_tag(line, (named.name,), NAME, box, self.taken)
            if placed is not None and box.holds(placed.box):
                self.over.extend(placed.items)
                self.take(placed.box)
                return

    def point(self) -> int:
        """Place the numbers beside the sheet; give how many had no room."""
        leaders, unplaced = place_pointers(self.pointers, self.view.sheet, self.lettering)
        self.over.extend(leaders)
        for item in leaders:
            if isinstance(item, Line):
                self.taken.add(Box(item.x1, min(item.y1, item.y2), 0.2, abs(item.y2 - item.y1)))
        return unplaced

    def number(self, lines: list[Line]) -> None:
        """Put the numbers on the cut lines; those on short lines have the least choice."""
        look = self.sketch.look
        order = [index for index, cut in enumerate(self.sketch.cuts) if cut.words]
        if not look.has_numbers_first:
            order.sort(key=lambda index: _length(lines[index]))
        for index in order:
            line, words = lines[index], self.sketch.cuts[index].words
            band = self.bands[index]
            placed = place_tag(line, words, look.numbers, self.view.sheet, self.taken, band)
            if placed is None:
                self.tags_homeless.append(index)
                continue
            self.take(placed.box)
            self.tags.extend(placed.items)
            if placed.text.content.endswith("…"):
                self.tags_shortened.append(index)
        self.tags_shortened.sort()
        self.tags_homeless.sort()


def _common(box: Box, other: Box) -> Box:
    """Give what two boxes have in common; maybe nothing, of a negative side."""
    x, y = max(box.x, other.x), max(box.y, other.y)
    return Box(x, y, min(box.right, other.right) - x, min(box.bottom, other.bottom) - y)


def _length(line: Line) -> float:
    return abs(line.x2 - line.x1) + abs(line.y2 - line.y1)
