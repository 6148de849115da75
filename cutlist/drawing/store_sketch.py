"""A sketch to scale of how one sheet is broken down, for the page to hand over the counter."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.dimensions import dimension_sheet
from cutlist.drawing.fitting import Row, place_lines
from cutlist.drawing.metrics import cap_height, text_box, text_width
from cutlist.drawing.occupied import Occupied
from cutlist.drawing.primitives import Anchor, Box, Fill, Item, Line, Rect, Role, Text
from cutlist.drawing.scales import choose_scale
from cutlist.drawing.wording import piece_size
from cutlist.lengths import MM_PER_INCH, format_length
from cutlist.model.job import Units
from cutlist.model.plan import Direction

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from fractions import Fraction

    from cutlist.drawing.story import CutLine, Story
    from cutlist.model.job import Job
    from cutlist.model.plan import Piece, Workpiece

__all__ = ["AROUND", "Alike", "distance_words", "sketch"]

#: A sketch is at most so high, so that its steps stay on its page, mm.
_MOST_HIGH: Final = 118.0
#: Room left of and below a sketch for its dimensions, and around it for the cuts' numbers, mm.
_DIMENSION: Final = 9.0
AROUND: Final = 8.0
#: Half the height of a cut's number, and the place of a distance beside its piece's edge, mm.
_BALL: Final = 3.4
_INSIDE: Final = 7.0
#: Lettering of distances, of blanks' names, largest first, and of their sizes, pt.
_STEP: Final = 12.0
_BLANK_SIZES: Final = (26.0, 20.0, 15.0, 12.0, 9.5, 8.0)
_NOTE: Final = 9.5
#: Sheets whose letters are all written out.
_FEW: Final = 4


@dataclass(frozen=True, slots=True)
class Alike:
    """Sheets that are broken down alike, and the lines of the first one's cuts, in order."""

    workpieces: tuple[Workpiece, ...]
    lines: tuple[CutLine, ...]
    blanks: tuple[Piece, ...]

    @property
    def first(self) -> Workpiece:
        """The sheet that is drawn."""
        return self.workpieces[0]

    def named(self, piece: str) -> str:
        """Name a piece of the first sheet on all of them: ``A1, B1``."""
        ending = piece.removeprefix(self.first.piece)
        names = [f"{workpiece.piece}{ending}" for workpiece in self.workpieces]
        return ", ".join(names) if len(names) <= _FEW else f"{names[0]}, {names[1]} … {names[-1]}"


def distance_words(distance: Fraction, job: Job) -> str:
    """Print a distance as it is: the store's saw need not share the marks of the shop's."""
    return format_length(distance, job.units)


class _Sketch:
    """A sheet drawn to scale with its upper left corner at a place."""

    def __init__(self, story: Story, group: Alike, width: float, top: float) -> None:
        self.story, self.group = story, group
        self._unit = float(MM_PER_INCH) if story.plan.job.units is Units.INCH else 1.0
        length, across = (
            float(side) * self._unit for side in (group.first.length, group.first.width)
        )
        room = width - _DIMENSION - 2 * AROUND
        self._scale = choose_scale(length, across, room, _MOST_HIGH)
        self.scale = str(self._scale)
        drawn = (self._scale.paper_mm(length), self._scale.paper_mm(across))
        left = _DIMENSION + AROUND + max(0.0, (room - drawn[0]) / 2)
        self.sheet = Box(left, top, *drawn)
        self.taken = Occupied()
        self.over: list[Item] = []

    def x(self, value: Fraction) -> float:
        """Give x on paper."""
        return self.sheet.x + self._scale.paper_mm(float(value) * self._unit)

    def y(self, value: Fraction) -> float:
        """Give y on paper."""
        return self.sheet.bottom - self._scale.paper_mm(float(value) * self._unit)

    def box(self, piece: Piece) -> Box:
        """Give the box of a piece."""
        x, y = self.x(piece.x), self.y(piece.y + piece.width)
        return Box(x, y, self.x(piece.x + piece.length) - x, self.y(piece.y) - y)

    def add(self, text: Text) -> None:
        """Add lettering on a white patch."""
        box = text_box(text).inset(-0.4)
        self.taken.add(box)
        self.over += [Rect(box, 0, Fill.WHITE), text]


def sketch(story: Story, group: Alike, width: float, top: float) -> tuple[list[Item], float]:
    """Draw a sheet with its upper left corner ``top`` below the block's; give the height, too."""
    work = _Sketch(story, group, width, top)
    lines: list[Item] = []
    for number, line in enumerate(group.lines, 1):
        lines.append(_cut_line(work, number, line))
        _measure(work, line)
    for blank in group.blanks:
        _name(work, blank)
    first, units = group.first, story.plan.job.units
    sheet = work.sheet
    items = [
        Rect(sheet, theme.HEAVY, Fill.WHITE, role=Role.SHEET),
        *lines,
        *work.over,
        *dimension_sheet(
            sheet,
            format_length(first.length, units),
            format_length(first.width, units),
            below=_DIMENSION + 1.0,
            left=_DIMENSION,
        ),
        Text(width, top - AROUND - 0.6, f"SCALE {work.scale}", _NOTE, True, Anchor.END,
             role=Role.SCALE),
    ]  # fmt: skip
    return items, sheet.bottom + _DIMENSION + 4.0


def _cut_line(sketch: _Sketch, number: int, line: CutLine) -> Line:
    """Draw a cut, dashed, with its number at its end: above a crosscut, to the right of a rip."""
    if line.direction is Direction.RIP:
        y = sketch.y(line.middle)
        x1, x2 = sketch.x(line.start), sketch.x(line.end)
        drawn = Line(x1, y, x2, y, theme.WIDE, theme.DASHED, role=Role.CUT_LINE)
        ball = (x2, y)
        sketch.taken.add(Box(x1, y - 0.4, x2 - x1, 0.8))
    else:
        x = sketch.x(line.middle)
        y1, y2 = sketch.y(line.end), sketch.y(line.start)
        drawn = Line(x, y1, x, y2, theme.WIDE, theme.DASHED, role=Role.CUT_LINE)
        ball = (x, y1)
        sketch.taken.add(Box(x - 0.4, y1, 0.8, y2 - y1))
    words = str(number)
    wide = max(2 * _BALL, text_width(words, theme.HEADING, True) + 2.4)
    box = Box(ball[0] - wide / 2, ball[1] - _BALL, wide, 2 * _BALL)
    sketch.taken.add(box)
    middle = ball[1] + cap_height(theme.HEADING) / 2
    sketch.over += [
        Rect(box, theme.MEDIUM, Fill.WHITE),
        Text(ball[0], middle, words, theme.HEADING, True, Anchor.MIDDLE, role=Role.CUT_NUMBER),
    ]
    return drawn


def _measure(sketch: _Sketch, line: CutLine) -> None:
    """Draw the distance of a cut inside the piece that it measures, near its edge."""
    box = sketch.box(line.cut.kept)
    words = distance_words(line.setting.distance, sketch.story.plan.job)
    half = cap_height(_STEP) / 2
    if line.direction is Direction.RIP:
        x = box.x + min(_INSIDE, box.width / 4)
        arrow = Line(x, box.bottom, x, box.y, theme.FINE, (), True, True, Role.DIMENSION)
        text = Text(x + half, box.y + box.height / 2, words, _STEP, True, Anchor.MIDDLE, True,
                    Role.DISTANCE)  # fmt: skip
        sketch.taken.add(Box(x - 0.8, box.y, 1.6, box.height))
    else:
        y = box.y + min(_INSIDE, box.height / 4)
        arrow = Line(box.x, y, box.right, y, theme.FINE, (), True, True, Role.DIMENSION)
        text = Text(box.x + box.width / 2, y + half, words, _STEP, True, Anchor.MIDDLE,
                    role=Role.DISTANCE)  # fmt: skip
        sketch.taken.add(Box(box.x, y - 0.8, box.width, 1.6))
    sketch.over.append(arrow)
    sketch.add(text)


def _name(sketch: _Sketch, blank: Piece) -> None:
    """Write a blank's name and size into it, as large as there is room for."""
    box = sketch.box(blank)
    size = piece_size(blank, sketch.story.plan.job)
    name = sketch.group.named(blank.name)
    for texts in _letterings(box, name, size):
        if all(_is_clear(sketch, box, text) for text in texts):
            for text in texts:
                sketch.taken.add(text_box(text))
                sketch.over.append(text)
            return


def _letterings(box: Box, name: str, size: str) -> Iterator[tuple[Text, ...]]:
    """Yield ways to letter a blank, the best first: name over size, then the name alone."""
    for points in _BLANK_SIZES:
        for upwards in (False, True):
            for part in _parts(box):
                yield _two_lines(name, size, part, points, upwards=upwards)
    for points in _BLANK_SIZES:
        for upwards in (False, True):
            for part in _parts(box):
                rows = (Row(name, bold=True),)
                yield place_lines(rows, part, points, upwards=upwards, role=Role.PANEL_TEXT)


def _two_lines(name: str, size: str, box: Box, points: float, *, upwards: bool) -> tuple[Text, ...]:
    """Place a name and a smaller size below it in the middle of a box."""
    high, low = cap_height(points), cap_height(_NOTE)
    gap = low
    first = (high - gap - low) / 2
    x, y = box.x + box.width / 2, box.y + box.height / 2
    out = []
    for words, at, offset, bold in (
        (name, points, first, True),
        (size, _NOTE, first + gap + low, False),
    ):
        here = (x + offset, y) if upwards else (x, y + offset)
        out.append(Text(*here, words, at, bold, Anchor.MIDDLE, upwards, Role.PANEL_TEXT))
    return tuple(out)


def _parts(box: Box) -> Sequence[Box]:
    """Give the middle of a box, and then places below, beside and above it."""
    third_x, third_y = box.width / 3, box.height / 3
    return (
        box,
        Box(box.x, box.y + third_y, box.width, 2 * third_y),
        Box(box.x + third_x, box.y, 2 * third_x, box.height),
        Box(box.x + third_x, box.y + third_y, 2 * third_x, 2 * third_y),
        Box(box.x, box.y, box.width, 2 * third_y),
    )


def _is_clear(sketch: _Sketch, box: Box, text: Text) -> bool:
    here = text_box(text)
    return box.inset(0.8).holds(here) and sketch.taken.is_free(here)
