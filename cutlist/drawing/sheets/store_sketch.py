"""A sketch to scale of how one sheet is broken down, for the page to hand over the counter."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.metrics import cap_height, text_box, text_width
from cutlist.drawing.occupied import Occupied
from cutlist.drawing.primitives import Anchor, Box, Fill, Item, Line, Rect, Role, Text
from cutlist.drawing.scales import choose_scale
from cutlist.drawing.sheets.blank_labels import letter_blank
from cutlist.drawing.sheets.dimensions import dimension_sheet
from cutlist.model.plan import Direction
from cutlist.telling.wording import paper_name, piece_size
from cutlist.units.lengths import MM_PER_INCH, format_length
from cutlist.units.system import Units

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from fractions import Fraction

    from cutlist.ledger.cut_lines import CutLine
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.job import Job
    from cutlist.model.plan import Piece, Workpiece

__all__ = ["AROUND", "LEAST_HIGH", "MOST_HIGH", "Alike", "Sketched", "distance_words", "sketch"]

#: A sketch is at most so high, and at least if its page can be had, mm.
MOST_HIGH: Final = 140.0
LEAST_HIGH: Final = 62.0
#: Room left of and below a sketch for its dimensions, and around it for the cuts' numbers, mm.
_DIMENSION: Final = 9.0
AROUND: Final = 8.0
#: Half the height of a cut's number, and the places of a distance beside its piece's edge, mm.
_BALL: Final = 3.4
_INSIDE: Final = 7.0
_ON: Final = 6.0
#: A cut that ends so near to the sheet's edge ends at it, mm.
_TOUCHES: Final = 0.05
#: Two arrows that run alike keep so far apart, half of it, and a blank with room for one, mm.
_APART: Final = 2.2
_ROOMY: Final = 15.0
#: A recommended scale is taken if it draws this share of what would fit: here size counts more.
_GOOD_ENOUGH: Final = 0.95
#: Lettering of distances, and of what is said beside the sketch, pt.
_STEP: Final = 12.0
_NOTE: Final = 9.5
#: Sheets whose letters are all written out.
_FEW: Final = 4
_PAIR: Final = 2


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
        names = [paper_name(f"{workpiece.piece}{ending}") for workpiece in self.workpieces]
        return ", ".join(names) if len(names) <= _FEW else f"{names[0]}, {names[1]} … {names[-1]}"

    def briefly(self, piece: str) -> str:
        """Name a piece of the first sheet on all of them, of more than two on the ends alone."""
        if len(self.workpieces) <= _PAIR:
            return self.named(piece)
        ending = piece.removeprefix(self.first.piece)
        last = paper_name(f"{self.workpieces[-1].piece}{ending}")
        return f"{paper_name(piece)} … {last}"


def distance_words(distance: Fraction, job: Job) -> str:
    """Print a distance as it is: the store's saw need not share the marks of the shop's."""
    return format_length(distance, job.units)


@dataclass(frozen=True, slots=True)
class Sketched:
    """A sketch: what is drawn, how high it is, and the blanks whose size had no room in it.

    ``share`` is how large it is drawn: its size by the sheet's own.
    """

    items: tuple[Item, ...]
    height: float
    share: float
    unsized: tuple[Piece, ...]


class _Sketch:
    """A sheet drawn to scale with its upper left corner at a place."""

    def __init__(
        self, story: Ledger, group: Alike, width: float, top: float, most_high: float
    ) -> None:
        self.story, self.group = story, group
        self._unit = float(MM_PER_INCH) if story.plan.job.units is Units.INCH else 1.0
        length, across = (
            float(side) * self._unit for side in (group.first.length, group.first.width)
        )
        room = width - _DIMENSION - 2 * AROUND
        self._scale = choose_scale(length, across, room, most_high, _GOOD_ENOUGH)
        self.scale, self.share = str(self._scale), 1 / self._scale.ratio
        drawn = (self._scale.paper_mm(length), self._scale.paper_mm(across))
        left = _DIMENSION + AROUND + max(0.0, (room - drawn[0]) / 2)
        self.sheet = Box(left, top, *drawn)
        self.taken = Occupied()
        #: Lettering alone; lettering and cuts; arrows that lie level, or stand upright.
        self.lettered, self.fixed = Occupied(), Occupied()
        self.level, self.upright = Occupied(), Occupied()
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
        for places in (self.taken, self.lettered, self.fixed):
            places.add(box)
        self.over += [Rect(box, 0, Fill.WHITE), text]


def sketch(
    story: Ledger, group: Alike, width: float, top: float, most_high: float = MOST_HIGH
) -> Sketched:
    """Draw a sheet with its upper left corner ``top`` below the block's, ``most_high`` at most."""
    work = _Sketch(story, group, width, top, most_high)
    lines = _cut_lines(work, group.lines)
    # The short ones have the least choice.
    for line in sorted(group.lines, key=lambda line: line.setting.distance):
        _measure(work, line)
    unsized = [blank for blank in group.blanks if not _name(work, blank)]
    first, units = group.first, story.plan.job.units
    sheet = work.sheet
    above = top - AROUND - 0.6
    scale = f"SCALE {work.scale}"
    items = (
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
        Text(width, above, scale, _NOTE, True, Anchor.END, role=Role.SCALE),
    )
    return Sketched(items, sheet.bottom + _DIMENSION + 4.0, work.share, tuple(unsized))


def _cut_lines(sketch: _Sketch, lines: Sequence[CutLine]) -> list[Item]:
    """Draw the cuts, dashed, each with its number on its own line and on no other."""
    drawn = [_dashed(sketch, line) for line in lines]
    ways = [_way(line) for line in drawn]
    for number, line in enumerate(drawn, 1):
        words = str(number)
        wide = max(2 * _BALL, text_width(words, theme.HEADING, True) + 2.4)
        others = [way for way in ways if way is not ways[number - 1]]
        places = list(_ball_places(sketch, line, wide))
        free = (
            place
            for place in places
            if sketch.lettered.is_free(place) and not any(place.overlaps(way) for way in others)
        )
        box = next(free, places[0])
        sketch.lettered.add(box)
        for one in (ways[number - 1], box):
            sketch.taken.add(one)
            sketch.fixed.add(one)
        middle = box.y + box.height / 2 + cap_height(theme.HEADING) / 2
        x = box.x + box.width / 2
        sketch.over += [
            Rect(box, theme.MEDIUM, Fill.WHITE),
            Text(x, middle, words, theme.HEADING, True, Anchor.MIDDLE, role=Role.CUT_NUMBER),
        ]
    return list(drawn)


def _dashed(sketch: _Sketch, line: CutLine) -> Line:
    """Give the line of a cut: a rip from left to right, a crosscut from its upper end."""
    if line.direction is Direction.RIP:
        y = sketch.y(line.middle)
        ends = (sketch.x(line.start), y, sketch.x(line.end), y)
    else:
        x = sketch.x(line.middle)
        ends = (x, sketch.y(line.end), x, sketch.y(line.start))
    return Line(*ends, theme.WIDE, theme.DASHED, role=Role.CUT_LINE)


def _way(line: Line) -> Box:
    """Give the box that a cut takes up."""
    if line.y1 == line.y2:
        return Box(line.x1, line.y1 - 0.4, line.x2 - line.x1, 0.8)
    return Box(line.x1 - 0.4, line.y1, 0.8, line.y2 - line.y1)


def _ball_places(sketch: _Sketch, line: Line, wide: float) -> Iterator[Box]:
    """Yield places for the number of a cut, the best first.

    The ends that lie on the sheet's edge, of a rip the right one first, of a crosscut the upper
    one; then places along the line, from its ends inwards.
    """
    sheet = sketch.sheet
    is_rip = line.y1 == line.y2
    if is_rip:
        start, end, edges, half = line.x2, line.x1, (sheet.right, sheet.x), wide / 2
    else:
        start, end, edges, half = line.y1, line.y2, (sheet.y, sheet.bottom), _BALL
    along = [at for at in (start, end) if any(abs(at - edge) < _TOUCHES for edge in edges)]
    way = 1 if end > start else -1
    for off in range(int(abs(end - start) / 2)):
        along += [start + way * (half + 1 + off), end - way * (half + 1 + off)]
    for at in along or [start]:
        x, y = (at, line.y1) if is_rip else (line.x1, at)
        yield Box(x - wide / 2, y - _BALL, wide, 2 * _BALL)


def _measure(sketch: _Sketch, line: CutLine) -> None:
    """Draw the distance of a cut inside the piece that it measures, where nothing hides it."""
    box = sketch.box(line.cut.kept)
    words = distance_words(line.setting.distance, sketch.story.plan.job)
    upwards = line.direction is Direction.RIP
    places = list(_places(box, words, upwards=upwards))
    roomy = [sketch.box(blank) for blank in sketch.group.blanks]
    free = [place for place in places if _is_open(sketch, *place)]
    best = [
        (arrow, text)
        for arrow, text in free
        if any(
            blank.holds(text_box(text)) and _across(blank, upwards=upwards) >= _ROOMY
            for blank in roomy
        )
    ]
    arrow, text = (best or free or places)[0]
    beside = _around(arrow, 0.8)
    sketch.taken.add(beside)
    (sketch.upright if upwards else sketch.level).add(beside)
    sketch.over.append(arrow)
    sketch.add(text)


def _across(box: Box, *, upwards: bool) -> float:
    """Give the side of a box across an arrow."""
    return box.width if upwards else box.height


def _places(box: Box, words: str, *, upwards: bool) -> Iterator[tuple[Line, Text]]:
    """Yield places of an arrow with its words: beside the edge first, then farther in."""
    half = cap_height(_STEP) / 2
    span = _across(box, upwards=upwards)
    first = min(_INSIDE, span / 4)
    for step in range(max(1, int((span - first) // _ON))):
        off = first + step * _ON
        for share in (2, 3, 4, 6):
            for part in dict.fromkeys((1, share - 1)):
                if upwards:
                    x = box.x + off
                    y = box.bottom - box.height * part / share
                    arrow = Line(x, box.bottom, x, box.y, theme.FINE, (), True, True,
                                 Role.DIMENSION)  # fmt: skip
                    at = (x + half, y)
                else:
                    y = box.y + off
                    x = box.x + box.width * part / share
                    arrow = Line(box.x, y, box.right, y, theme.FINE, (), True, True,
                                 Role.DIMENSION)  # fmt: skip
                    at = (x, y + half)
                yield arrow, Text(*at, words, _STEP, True, Anchor.MIDDLE, upwards, Role.DISTANCE)


def _around(line: Line, off: float) -> Box:
    """Give the box beside an arrow, not past its ends: two arrows may meet there."""
    if line.x1 == line.x2:
        return Box(line.x1 - off, line.y2 + 0.5, 2 * off, line.y1 - line.y2 - 1.0)
    return Box(line.x1 + 0.5, line.y1 - off, line.x2 - line.x1 - 1.0, 2 * off)


def _is_open(sketch: _Sketch, arrow: Line, text: Text) -> bool:
    """Tell whether an arrow crosses no lettering and keeps off those alike, and its words fit."""
    alike = sketch.upright if text.upwards else sketch.level
    return (
        sketch.sheet.holds(text_box(text).inset(-0.8))
        and sketch.taken.is_free(text_box(text).inset(-0.8))
        and sketch.lettered.is_free(_around(arrow, 0.3))
        and alike.is_free(_around(arrow, _APART))
    )


def _name(sketch: _Sketch, blank: Piece) -> bool:
    """Write a blank's name and size into it, as large as there is room for; tell if both fitted."""
    size = piece_size(blank, sketch.story.plan.job)
    name = sketch.group.named(blank.name)
    lettered = letter_blank(sketch.box(blank), name, size, taken=sketch.taken, fixed=sketch.fixed)
    if lettered is None:
        return False
    for text in lettered.texts:
        if lettered.on_arrow:
            sketch.add(text)
        else:
            sketch.taken.add(text_box(text))
            sketch.over.append(text)
    return lettered.has_size
