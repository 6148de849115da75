"""Words on a line, on a white patch: the numbers on cut lines, the names along an edge."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.metrics import cap_height, text_box, text_width
from cutlist.drawing.primitives import Anchor, Box, Fill, Line, Rect, Role, Text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from cutlist.drawing.occupied import Occupied

__all__ = ["BALL", "NAME", "TAG", "PlacedTag", "TagLook", "line_band", "place_tag"]

#: A line that ends so near to the sheet's edge ends at it, mm.
_TOUCHES: Final = 0.05


@dataclass(frozen=True, slots=True)
class TagLook:
    """How words stand on a line.

    Parameters
    ----------
    sizes
        Lettering that is tried, the largest first, pt.
    along, across
        Blank space before and after the words, and above and below them, mm.
    least
        Least side of the patch, mm.
    frame
        Width of the line around it, 0 for none, mm.
    shares
        Where along the line it may stand, the best first. None puts it on an end of the line that
        lies on the sheet's edge, else as near to one as there is room; there it stands in any case.
    turns
        Whether it reads along an upright line.
    """

    sizes: tuple[float, ...]
    along: float
    across: float
    role: Role
    least: float = 0.0
    frame: float = 0.0
    shares: tuple[float, ...] | None = None
    turns: bool = False

    def patch(self, words: str, size_pt: float) -> tuple[float, float]:
        """Give length and height of the patch."""
        return (
            max(self.least, text_width(words, size_pt, True) + 2 * self.along),
            max(self.least, cap_height(size_pt) + 2 * self.across),
        )


#: Tried from the middle of the line outwards.
TAG: Final = TagLook(
    (theme.SMALL, theme.TINY),
    along=0.45,
    across=0.45,
    role=Role.CUT_TAG,
    shares=(0.5, 0.38, 0.62, 0.26, 0.74, 0.15, 0.85, 0.06, 0.94, 0.44, 0.56, 0.32, 0.68),
    turns=True,
)
BALL: Final = TagLook(
    (theme.HEADING,), along=1.2, across=1.2, role=Role.CUT_NUMBER, least=6.8, frame=theme.MEDIUM
)
#: Near the ends of an edge.
NAME: Final = TagLook(
    (theme.BODY,),
    along=0.7,
    across=0.7,
    role=Role.PANEL_TEXT,
    frame=theme.FINE,
    shares=(0.0, 1.0, 0.12, 0.88, 0.25, 0.75, 0.5),
)


@dataclass(frozen=True, slots=True)
class PlacedTag:
    """A tag in its place: its patch, and which of its forms it has."""

    box: Box
    text: Text
    frame: float

    @property
    def items(self) -> tuple[Rect, Text]:
        """What is drawn."""
        return Rect(self.box, self.frame, Fill.WHITE), self.text


def line_band(line: Line, half: float = 0.3) -> Box:
    """Give the room that a level or upright line takes."""
    x, y = min(line.x1, line.x2), min(line.y1, line.y2)
    if line.y1 == line.y2:
        return Box(x, y - half, abs(line.x2 - line.x1), 2 * half)
    return Box(x - half, y, 2 * half, abs(line.y2 - line.y1))


def place_tag(
    line: Line,
    words: Sequence[str],
    look: TagLook,
    sheet: Box,
    taken: Occupied,
    band: Box | None = None,
) -> PlacedTag | None:
    """Place words on a level or upright line, in the first of their forms that has room.

    Parameters
    ----------
    sheet
        What the line lies on.
    band
        The box that the line itself has in ``taken``, where it has one: the tag lies on it.
    """
    is_level = line.y1 == line.y2
    first: PlacedTag | None = None
    for said in words:
        for size in look.sizes:
            for box in _places(line, said, size, look, sheet):
                placed = PlacedTag(box, _text(said, size, box, look, is_level), look.frame)
                if taken.is_free(box, ignoring=band) and (
                    look.frame or taken.is_free(text_box(placed.text), ignoring=band)
                ):
                    return placed
                first = first or placed
    return first if look.shares is None else None


def _places(line: Line, said: str, size: float, look: TagLook, sheet: Box) -> Iterator[Box]:
    """Yield the places on the line, the best first."""
    is_level = line.y1 == line.y2
    long, high = look.patch(said, size)
    wide, tall = (long, high) if is_level or not look.turns else (high, long)
    half = (wide if is_level else tall) / 2
    for at in _ends(line, half, sheet) if look.shares is None else _shared(line, half, look.shares):
        x, y = (at, line.y1) if is_level else (line.x1, at)
        yield Box(x - wide / 2, y - tall / 2, wide, tall)


def _shared(line: Line, half: float, shares: Sequence[float]) -> Iterator[float]:
    """Yield places by shares of the free way."""
    is_level = line.y1 == line.y2
    low, high = sorted((line.x1, line.x2) if is_level else (line.y1, line.y2))
    free = high - low - 2 * half - 1.0
    if free >= 0:
        for share in shares:
            yield low + 0.5 + share * free + half


def _ends(line: Line, half: float, sheet: Box) -> Iterator[float]:
    """Yield the ends on the sheet's edge, right or upper one first, then places inwards."""
    if line.y1 == line.y2:
        start, end, edges = max(line.x1, line.x2), min(line.x1, line.x2), (sheet.right, sheet.x)
    else:
        start, end, edges = min(line.y1, line.y2), max(line.y1, line.y2), (sheet.y, sheet.bottom)
    on_edge = [at for at in (start, end) if any(abs(at - edge) < _TOUCHES for edge in edges)]
    yield from on_edge
    way = 1 if end > start else -1
    for off in range(int(abs(end - start) / 2)):
        yield start + way * (half + 1 + off)
        yield end - way * (half + 1 + off)
    if not on_edge:
        yield start


def _text(said: str, size: float, box: Box, look: TagLook, is_level: bool) -> Text:
    x, y, half = box.x + box.width / 2, box.y + box.height / 2, cap_height(size) / 2
    upwards = look.turns and not is_level
    here = (x + half, y) if upwards else (x, y + half)
    return Text(*here, said, size, True, Anchor.MIDDLE, upwards, look.role)
