"""A sketch to scale of how one sheet is broken down, for the page to hand over the counter."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.primitives import Anchor, Box, Item, Role, Text
from cutlist.drawing.scales import choose_scale
from cutlist.drawing.sheets.draw import draw
from cutlist.drawing.sheets.looks import FAR_OFF
from cutlist.drawing.sheets.sketch import CutMark, Label, Shape, Sketch, Use
from cutlist.drawing.sheets.view import View, unit_mm
from cutlist.model.plan import Direction
from cutlist.telling.store import sheets_named, store_distance
from cutlist.telling.wording import piece_size
from cutlist.units.lengths import format_length

if TYPE_CHECKING:
    from cutlist.ledger.store_sheets import CutAlike
    from cutlist.model.job import Job
    from cutlist.model.plan import Piece

__all__ = ["AROUND", "LEAST_HIGH", "MOST_HIGH", "Sketched", "sketch_store_cuts"]

#: A sketch is at most so high, and at least if its page can be had, mm.
MOST_HIGH: Final = 140.0
LEAST_HIGH: Final = 62.0
#: Room left of and below a sketch for its dimensions, and around it for the cuts' numbers, mm.
_DIMENSION: Final = 9.0
AROUND: Final = 8.0
#: A recommended scale is taken if it draws this share of what would fit: here size counts more.
_GOOD_ENOUGH: Final = 0.95
#: Lettering of sizes and of the scale, pt.
_NOTE: Final = 9.5


@dataclass(frozen=True, slots=True)
class Sketched:
    """A sketch: what is drawn, how high it is, and the blanks whose size had no room in it.

    ``share`` is how large it is drawn: its size by the sheet's own.
    """

    items: tuple[Item, ...]
    height: float
    share: float
    unsized: tuple[Piece, ...]


def sketch_store_cuts(
    job: Job, group: CutAlike, width: float, top: float, most_high: float = MOST_HIGH
) -> Sketched:
    """Draw a sheet with its upper left corner ``top`` below the block's, ``most_high`` at most."""
    first = group.first
    length, across = (float(side) * unit_mm(job.units) for side in (first.length, first.width))
    room = width - _DIMENSION - 2 * AROUND
    scale = choose_scale(length, across, room, most_high, _GOOD_ENOUGH)
    drawn_length, drawn_width = scale.paper_mm(length), scale.paper_mm(across)
    left = _DIMENSION + AROUND + max(0.0, (room - drawn_length) / 2)
    sheet = Box(left, top, drawn_length, drawn_width)
    drawn = draw(_sketch(job, group), View(first.length, first.width, sheet))
    words = Text(width, top - AROUND - 0.6, f"SCALE {scale}", _NOTE, True, Anchor.END, False,
                 Role.SCALE)  # fmt: skip
    without = {*drawn.unlettered, *drawn.shortened}
    unsized = tuple(blank for place, blank in enumerate(group.blanks) if place in without)
    height = sheet.bottom + _DIMENSION + 4.0
    return Sketched((*drawn.items, words), height, 1 / scale.ratio, unsized)


def _sketch(job: Job, group: CutAlike) -> Sketch:
    """Describe the cuts of a sheet by their numbers and distances, and the blanks they leave."""
    first = group.first
    return Sketch(
        first.length,
        first.width,
        FAR_OFF,
        shapes=tuple(
            Shape(
                blank,
                Use.BLANK,
                Label(
                    sheets_named(group, blank.name),
                    (piece_size(blank, job),),
                    may_shorten=True,
                    size_pt=_NOTE,
                ),
            )
            for blank in group.blanks
        ),
        cuts=tuple(
            CutMark(
                line.direction is Direction.RIP,
                line.middle,
                line.start,
                line.end,
                theme.WIDE,
                theme.DASHED,
                (str(number),),
                (line.cut.kept, store_distance(line.setting.distance, job)),
            )
            for number, line in enumerate(group.lines, 1)
        ),
        sides=(format_length(first.length, job.units), format_length(first.width, job.units)),
    )
