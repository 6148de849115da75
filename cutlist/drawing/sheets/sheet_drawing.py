"""The drawing of one sheet to scale: pieces, cut lines, lettering, tags, dimensions."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.metrics import cap_height, text_box, text_width
from cutlist.drawing.occupied import Occupied
from cutlist.drawing.primitives import Anchor, Box, Fill, Hatch, Item, Line, Rect, Role, Text
from cutlist.drawing.sheets.callouts import Pointer, place_pointers
from cutlist.drawing.sheets.dimensions import dimension_sheet
from cutlist.drawing.sheets.factory import edge_line
from cutlist.drawing.sheets.labels import grain_arrow, label_panel, number_panel
from cutlist.drawing.sheets.placement import CALLOUT_ROOM
from cutlist.drawing.sheets.tags import Tag, place_tags, tag_words
from cutlist.model.job import Grain
from cutlist.model.plan import Direction, Place
from cutlist.telling.wording import piece_size, size_words
from cutlist.units.lengths import format_length

if TYPE_CHECKING:
    from fractions import Fraction

    from cutlist.drawing.sheets.labels import Label
    from cutlist.drawing.sheets.placement import Placement
    from cutlist.ledger.alike import SheetGroup
    from cutlist.ledger.cut_lines import CutLine
    from cutlist.ledger.ledger import Ledger
    from cutlist.model.job import Part
    from cutlist.model.plan import Panel, Piece

__all__ = ["Numbered", "SheetDrawing", "draw_sheet"]

#: Line width by how many cuts went before; the first cuts are the widest.
_DEPTH_WIDTHS: Final = (theme.HEAVY, theme.WIDE, theme.MEDIUM, theme.FINE)
_DIMENSION_BELOW: Final = 5.4
_DIMENSION_LEFT: Final = 3.4
#: Where along the edges of a blank its name may stand.
_BLANK_PLACES: Final = (0.0, 1.0, 0.12, 0.88, 0.25, 0.75, 0.5)
#: A factory edge is drawn at least so far inside the outline, to be seen beside it, and the border
#: of an offcut to keep inside of that.
_FACTORY_INSET: Final = 0.95
_KEEP_INSET: Final = 1.9
#: A piece of waste is named if it is at least so large on paper, mm.
_NAMED_WASTE: Final = (14.0, 4.5)


@dataclass(frozen=True, slots=True)
class Numbered:
    """Panels of one part, or an offcut, that the key names: ``#2`` and its pieces."""

    number: str
    name: str
    size: str
    pieces: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SheetDrawing:
    """What was drawn, and what the key has to say because the drawing had no room."""

    items: tuple[Item, ...]
    numbered: tuple[Numbered, ...]
    shortened: tuple[Tag, ...]
    homeless: tuple[Tag, ...]
    pointers: int
    unplaced: int
    alike: bool
    has_waste: bool
    has_kept: bool
    has_grain: bool


@dataclass
class _Work:
    """The drawing in the making."""

    story: Ledger
    group: SheetGroup
    placement: Placement
    names: dict[tuple[Fraction, ...], tuple[str, ...]]
    alike: bool
    parts: dict[str, Part]
    under: list[Item] = field(default_factory=list)
    over: list[Item] = field(default_factory=list)
    occupied: Occupied = field(default_factory=Occupied)
    lettering: Occupied = field(default_factory=Occupied)
    numbers: dict[str, tuple[str, str, list[str]]] = field(default_factory=dict)
    pointers: list[Pointer] = field(default_factory=list)
    has_grain: bool = False


def draw_sheet(
    story: Ledger, group: SheetGroup, placement: Placement, *, callout_room: bool
) -> SheetDrawing:
    """Draw the first sheet of a group for all of them.

    ``callout_room`` says that the placement leaves room for numbers above and below the sheet; if
    it is False the drawing tells by its ``pointers`` whether that is needed.
    """
    names, alike = _piece_names(story, group)
    parts = {part.name: part for part in story.plan.job.parts}
    work = _Work(story, group, placement, names, alike, parts)
    lines = _draw_lines(work)
    for piece in story.staying(group.first.piece):
        _draw_piece(work, piece)
    for blank in story.blanks(group.first.piece):
        _name_blank(work, blank)
    unplaced = 0
    if callout_room:
        leaders, unplaced = place_pointers(work.pointers, placement.sheet, work.lettering)
        work.over.extend(leaders)
        for item in leaders:
            if isinstance(item, Line):
                work.occupied.add(Box(item.x1, min(item.y1, item.y2), 0.2, abs(item.y2 - item.y1)))
    tag_items, shortened, homeless = place_tags(lines, work.occupied)
    _draw_dimensions(work, callout_room=callout_room)
    kept = any(story.is_kept_offcut(p.name) for p in story.staying(group.first.piece))
    return SheetDrawing(
        items=(*work.under, *(tag.line for tag in lines), *work.over, *tag_items),
        numbered=tuple(
            Numbered(number, name, size, tuple(pieces))
            for name, (number, size, pieces) in work.numbers.items()
        ),
        shortened=tuple(shortened),
        homeless=tuple(homeless),
        pointers=len(work.pointers),
        unplaced=unplaced,
        alike=alike,
        has_waste=any(isinstance(item, Hatch) for item in work.under),
        has_kept=kept,
        has_grain=work.has_grain,
    )


def _place(piece: Piece) -> tuple[Fraction, ...]:
    return piece.x, piece.y, piece.length, piece.width


def _piece_names(
    story: Ledger, group: SheetGroup
) -> tuple[dict[tuple[Fraction, ...], tuple[str, ...]], bool]:
    """Give the names of the piece at each place, one for each sheet of the group.

    The flag tells whether they differ in nothing but the letter of their sheet.
    """
    names: dict[tuple[Fraction, ...], list[str]] = {}
    endings: dict[tuple[Fraction, ...], set[str]] = {}
    for workpiece in group.workpieces:
        for piece in story.staying(workpiece.piece):
            names.setdefault(_place(piece), []).append(piece.name)
            ending = piece.name.removeprefix(workpiece.piece)
            endings.setdefault(_place(piece), set()).add(ending)
    alike = all(len(found) == 1 for found in endings.values())
    return {place: tuple(found) for place, found in names.items()}, alike


def _draw_lines(work: _Work) -> list[Tag]:
    """Make the cut lines with their tags, not yet placed; each line's room is taken."""
    by_place: dict[tuple[object, ...], list[CutLine]] = {}
    for name in work.group.names:
        for line in work.story.lines[name]:
            place = (line.direction, line.middle, line.start, line.end)
            by_place.setdefault(place, []).append(line)
    out = []
    for alike in by_place.values():
        first = alike[0]
        width = _DEPTH_WIDTHS[min(first.depth, len(_DEPTH_WIDTHS) - 1)]
        dash = theme.DASHED if first.setting.place is Place.STORE else ()
        if first.direction is Direction.RIP:
            y = work.placement.up(first.middle)
            x1, x2 = work.placement.along(first.start), work.placement.along(first.end)
            drawn = Line(x1, y, x2, y, width, dash, role=Role.CUT_LINE)
            band = Box(x1, y - 0.3, x2 - x1, 0.6)
        else:
            x = work.placement.along(first.middle)
            y1, y2 = work.placement.up(first.start), work.placement.up(first.end)
            drawn = Line(x, y1, x, y2, width, dash, role=Role.CUT_LINE)
            band = Box(x - 0.3, y2, 0.6, y1 - y2)
        work.occupied.add(band)
        numbers = tuple(line.cut.number for line in alike)
        settings = {line.setting.number for line in alike}
        words = tag_words(first.setting.number, numbers if len(settings) == 1 else numbers[:1])
        if len(settings) > 1:
            words = tuple(f"{text}…" for text in words[:1])
        out.append(Tag(drawn, band, words, tuple(_pairs(alike))))
    return out


def _pairs(lines: list[CutLine]) -> list[tuple[int, int]]:
    """Give (setting, cut) of lines."""
    return [(line.setting.number, line.cut.number) for line in lines]


def _draw_piece(work: _Work, piece: Piece) -> None:
    """Draw a piece that stays: a panel, an offcut to keep, or waste."""
    box = work.placement.box(piece)
    panel = work.story.panel_of.get(piece.name)
    if panel is not None:
        work.under.append(Rect(box, 0, Fill.WHITE, role=Role.PANEL))
        _letter_panel(work, panel, box)
    elif work.story.is_kept_offcut(piece.name):
        _draw_kept(work, piece, box)
    else:
        work.under.append(Hatch(box, theme.HATCH_SPACING, theme.THIN))
        if box.width >= _NAMED_WASTE[0] and box.height >= _NAMED_WASTE[1]:
            _name_waste(work, piece, box)


def _letter_panel(work: _Work, panel: Panel, box: Box) -> None:
    job = work.story.plan.job
    qty = work.story.qty_of[panel.part]
    size = piece_size(panel.piece, job)
    names = work.names[_place(panel.piece)]
    if len(names) == 1:
        pieces = names[0] if qty == 1 else f"{names[0]}  ({panel.copy} of {qty})"
    else:
        pieces = names[0] if work.alike else ", ".join(names)
    part = work.parts[panel.part]
    is_free = part.grain is Grain.ANY or not work.group.first.has_grain
    arrow = None if is_free else grain_arrow(box)
    label = None
    if arrow is not None:
        label = label_panel(arrow[1], panel.part, size, pieces, role=Role.PANEL_TEXT)
    if label is not None and arrow is not None:
        _add_arrow(work, arrow[0])
    else:
        label = label_panel(box, panel.part, size, pieces, role=Role.PANEL_TEXT)
    if label is None:
        number = _number(work, panel.part, size_words(part.length, part.width, job), names)
        label = number_panel(box, number, names[0], role=Role.CALLOUT)
        if label is None:
            work.pointers.append(Pointer(number, box))
            return
    _add_texts(work, label)


def _add_arrow(work: _Work, line: Line) -> None:
    work.over.append(line)
    work.has_grain = True
    taken = Box(line.x1, line.y1 - 0.9, line.x2 - line.x1, 1.8)
    work.occupied.add(taken)
    work.lettering.add(taken)


def _add_texts(work: _Work, label: Label) -> None:
    for text in label.texts:
        work.over.append(text)
        work.occupied.add(text_box(text))
        work.lettering.add(text_box(text))


def _number(work: _Work, name: str, size: str, pieces: tuple[str, ...]) -> str:
    """Give the number under which the key names a part, a new one where needed."""
    if name not in work.numbers:
        work.numbers[name] = (f"#{len(work.numbers) + 1}", size, [])
    number, _, found = work.numbers[name]
    found.extend(pieces[:1] if work.alike else pieces)
    return number


def _draw_kept(work: _Work, piece: Piece, box: Box) -> None:
    """Mark an offcut to keep by a second, dashed outline and the word."""
    inset = min(_KEEP_INSET, box.width / 5, box.height / 5)
    work.under.append(
        Rect(box.inset(inset), theme.MEDIUM, dash_mm=theme.DASHED, role=Role.KEPT_OFFCUT)
    )
    names = work.names[_place(piece)]
    shown = names[0] if work.alike else ", ".join(names)
    size = piece_size(piece, work.story.plan.job)
    label = label_panel(box.inset(inset), "keep", size, shown, role=Role.PANEL_TEXT)
    if label is None:
        number = _number(work, f"offcut to keep {shown}", size, names)
        label = number_panel(box.inset(inset), number, shown, role=Role.CALLOUT)
        if label is None:
            work.pointers.append(Pointer(number, box))
            return
    _add_texts(work, label)


def _name_waste(work: _Work, piece: Piece, box: Box) -> None:
    """Write the name of a larger piece of waste on a white patch."""
    names = work.names[_place(piece)]
    words = f"waste {names[0]}" if len(names) == 1 or work.alike else "waste"
    width = text_width(words, theme.TINY) + 2
    if width > box.width - 1:
        return
    x, y = box.x + box.width / 2, box.y + box.height / 2
    high = cap_height(theme.TINY)
    patch = Box(x - width / 2, y - high / 2 - 0.8, width, high + 1.6)
    work.over.append(Rect(patch, 0, Fill.WHITE))
    work.over.append(
        Text(x, y + high / 2, words, theme.TINY, anchor=Anchor.MIDDLE, role=Role.PANEL_TEXT)
    )
    work.occupied.add(patch)


def _name_blank(work: _Work, blank: Piece) -> None:
    """Write the name of a blank near one of its corners, where there is room beside the pieces."""
    box = work.placement.box(blank)
    high, wide = cap_height(theme.BODY), text_width(blank.name, theme.BODY, True)
    patch_wide, patch_high = wide + 1.4, high + 1.4
    for y in (box.y + 0.8, box.bottom - patch_high - 0.8):
        for share in _BLANK_PLACES:
            x = box.x + 0.8 + share * (box.width - patch_wide - 1.6)
            patch = Box(x, y, patch_wide, patch_high)
            if box.holds(patch) and work.occupied.is_free(patch):
                work.over.append(Rect(patch, theme.FINE, Fill.WHITE))
                text = Text(x + 0.7, y + 0.7 + high, blank.name, theme.BODY, True,
                            role=Role.PANEL_TEXT)  # fmt: skip
                work.over.append(text)
                work.occupied.add(patch)
                work.lettering.add(patch)
                return


def _edges_to_clean(work: _Work) -> list[Item]:
    """Mark what comes off the edges of the stock; a thin trim is drawn wider, to be seen."""
    sheet, first = work.placement.sheet, work.group.first
    least = min(_FACTORY_INSET, sheet.width / 8, sheet.height / 8)

    def inset(trim: Fraction) -> float:
        return max(least, work.placement.scale.paper_mm(float(trim) * work.placement.unit_mm))

    trims = first.trims.unclean
    if first.edges is None:
        inner = [sheet.inset(inset(trim)) for trim in set(trims.values())]
        return [Rect(box, theme.MEDIUM, dash_mm=theme.CHAIN) for box in inner]
    return [edge_line(edge, sheet, inset(trim), theme.MEDIUM) for edge, trim in trims.items()]


def _draw_dimensions(work: _Work, *, callout_room: bool) -> None:
    sheet = work.placement.sheet
    first = work.group.first
    units = work.story.plan.job.units
    outline = Rect(sheet, theme.HEAVY, Fill.WHITE, role=Role.SHEET)
    work.under.insert(0, outline)
    work.over.append(Rect(sheet, theme.HEAVY))
    work.over[:0] = _edges_to_clean(work)
    work.over.extend(
        dimension_sheet(
            sheet,
            format_length(first.length, units),
            format_length(first.width, units),
            below=_DIMENSION_BELOW + (CALLOUT_ROOM if callout_room else 0.0),
            left=_DIMENSION_LEFT,
        )
    )
