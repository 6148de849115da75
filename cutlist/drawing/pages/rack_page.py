"""The offcut rack on paper: every piece to one scale, material by material, then a list."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import shorten
from cutlist.drawing.frame import Flow, footed, shifted
from cutlist.drawing.metrics import legible, text_width
from cutlist.drawing.pages.table import Column, add_table
from cutlist.drawing.primitives import Box, Item, Role, Text
from cutlist.drawing.scales import Scale
from cutlist.drawing.sheets.draw import draw
from cutlist.drawing.sheets.looks import CLOSE_BY
from cutlist.drawing.sheets.sketch import Label, Shape, Sketch, Use
from cutlist.drawing.sheets.view import View
from cutlist.model.plan import Piece
from cutlist.model.rack import RackGrain
from cutlist.telling.grain import is_grainless
from cutlist.telling.rack import edges_words, grain_words, rack_material, rack_size

if TYPE_CHECKING:
    import datetime
    from collections.abc import Sequence

    from cutlist.drawing.paper import Paper
    from cutlist.drawing.primitives import Page
    from cutlist.model.rack import Rack, RackOffcut
    from cutlist.units.system import Units

__all__ = ["rack_pages"]

#: Ratios of the drawing: the first at which all pieces stand on one page, else the last.
_RATIOS: Final = (5, 10, 15, 20, 25)
#: Space between two pieces and below a row, and room for the name of one too small to hold it, mm.
_GAP: Final = 5.0
_NAME_ROOM: Final = 4.0
_HEAD: Final = 7.0
#: A trim too thin to draw is drawn a little thicker.
_LOOK: Final = replace(CLOSE_BY, outline=theme.MEDIUM, edge=theme.THIN, edge_inset=0.8)
_LEGEND: Final = (
    "Chain lines mark edges to clean off. The arrow is the grain; sizes along it, from left to "
    "right, come first."
)


@dataclass(frozen=True, slots=True)
class _Drawn:
    """One piece with its lettering, its upper left corner at (0, 0)."""

    items: tuple[Item, ...]
    width: float
    height: float


def rack_pages(rack: Rack, *, paper: Paper, date: datetime.date) -> tuple[Page, ...]:
    """Compose the pages of a rack; its lengths are printed in the rack's unit."""
    flow = Flow(paper, "Offcut rack")
    room = flow.room
    longest = max((float(one.length) for one in rack.offcuts), default=0.0)
    scale = Scale(_RATIOS[-1])
    for ratio in _RATIOS:
        height = sum(_HEAD + _height(rows) for _, rows in _blocks(rack, Scale(ratio), room.width))
        if longest / ratio <= room.width and height + _HEAD <= flow.full_height:
            scale = Scale(ratio)
            break
    words = f"Scale {scale}. {_LEGEND}" if rack.offcuts else "There is nothing on the rack."
    flow.add([Text(0, 3.2, words, theme.BODY, role=Role.SCALE)], 5.0)
    for title, rows in _blocks(rack, scale, room.width):
        _add_block(flow, title, rows)
    if rack.offcuts:
        _add_list(flow, rack)
    return footed(flow.finish(), "Offcut rack", rack.units, date=date)


def _blocks(rack: Rack, scale: Scale, width: float) -> list[tuple[str, list[list[_Drawn]]]]:
    """Give for each material and thickness a title and the rows of its pieces."""
    out = []
    for material, thickness in sorted({(one.material, one.thickness) for one in rack.offcuts}):
        pieces = [o for o in rack.offcuts if (o.material, o.thickness) == (material, thickness)]
        pieces.sort(key=lambda one: (-one.width, -one.length, one.number))
        rows: list[list[_Drawn]] = []
        left = 0.0
        for drawn in (_piece(piece, scale, rack.units) for piece in pieces):
            if not rows or drawn.width > left:
                rows.append([])
                left = width
            rows[-1].append(drawn)
            left -= drawn.width + _GAP
        out.append((rack_material(pieces[0], rack.units), rows))
    return out


def _height(rows: Sequence[Sequence[_Drawn]]) -> float:
    return sum(max(drawn.height for drawn in row) + _GAP for row in rows)


def _add_block(flow: Flow, title: str, rows: Sequence[Sequence[_Drawn]]) -> None:
    """Add the rows of one material; its title stays with the first, and with that of each page."""
    top, block = _HEAD, _heading(flow, title)
    for row in rows:
        if not top and _height([row]) > flow.left_over + 1e-6:
            top, block = _HEAD, _heading(flow, title, ", continued")
        x = 0.0
        for drawn in row:
            block.extend(shifted(item, x, top) for item in drawn.items)
            x += drawn.width + _GAP
        flow.add(block, top + _height([row]), gap=2.0 if top else 0.0)
        top, block = 0.0, []


def _heading(flow: Flow, title: str, ending: str = "") -> list[Item]:
    """Head a material's rows; a long name gives way to the ending."""
    room = flow.room.width - text_width(ending, theme.HEADING, True)
    name = shorten(title, room, theme.HEADING, True)
    return [Text(0, 4, f"{name}{ending}", theme.HEADING, True)]


def _piece(piece: RackOffcut, scale: Scale, units: Units) -> _Drawn:
    box = Box(0.0, 0.0, scale.paper_mm(float(piece.length)), scale.paper_mm(float(piece.width)))
    # A rack keeps its lengths in millimetres.
    whole = Piece(piece.name, Fraction(0), Fraction(0), piece.length, piece.width)
    label = Label(piece.name, (rack_size(piece, units),), may_shorten=True)
    sketch = Sketch(
        piece.length,
        piece.width,
        _LOOK,
        shapes=(Shape(whole, Use.BLANK, label, has_arrow=_has_grain(piece)),),
        edges=tuple((edge, piece.trim) for edge in piece.edges),
        role=Role.KEPT_OFFCUT,
    )
    drawn = draw(sketch, View(piece.length, piece.width, box))
    if not drawn.unlettered:
        return _Drawn(drawn.items, box.width, box.height)
    name = legible(piece.name)
    below = Text(0, box.height + 3.0, name, theme.TINY, True, role=Role.CALLOUT)
    wide = max(box.width, text_width(name, theme.TINY, True))
    return _Drawn((*drawn.items, below), wide, box.height + _NAME_ROOM)


def _has_grain(piece: RackOffcut) -> bool:
    """Tell whether a piece has a grain to speak of, along its length."""
    return piece.grain is RackGrain.LENGTH and not is_grainless(piece.material)


def _add_list(flow: Flow, rack: Rack) -> None:
    columns = (
        Column("name", bold=True, flexible=True),
        Column("material", flexible=True),
        Column("size"),
        Column("clean off", flexible=True),
        Column("since"),
        Column("from", flexible=True),
    )
    rows = [
        (
            one.name,
            rack_material(one, rack.units),
            ", ".join(filter(None, (rack_size(one, rack.units), grain_words(one)))),
            edges_words(one, rack.units),
            "" if one.day is None else one.day.isoformat(),
            one.job,
        )
        for one in rack.offcuts
    ]
    add_table(flow, columns, rows, title="On the rack")
