"""One page for each distinct layout: the sheet to scale, and a key."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import shorten, wrap
from cutlist.drawing.frame import content_box, rule
from cutlist.drawing.metrics import text_width
from cutlist.drawing.pages.key import KeyEntry, KeyMark, flow_entries
from cutlist.drawing.pages.layout_sketch import sketch_layout
from cutlist.drawing.pages.placement import CALLOUT_ROOM, place_sheet
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Box, Item, Page, Role, Text
from cutlist.drawing.sheets.draw import draw
from cutlist.drawing.sheets.sketch import Use
from cutlist.drawing.sheets.view import unit_mm
from cutlist.ledger.alike import listed
from cutlist.telling.layouts import (
    about_words,
    cut_words,
    direction_words,
    edges_off_words,
    missing_words,
    named_after_words,
    numbered_words,
    written_out,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cutlist.drawing.pages.layout_sketch import LayoutSketch
    from cutlist.drawing.pages.placement import Placement
    from cutlist.drawing.paper import Paper
    from cutlist.drawing.sheets.draw import Drawn
    from cutlist.ledger.alike import SheetGroup
    from cutlist.ledger.ledger import Ledger

__all__ = ["layout_pages"]

_TITLE_HEIGHT: Final = 8.6
_LINE: Final = theme.LEADING * theme.STRONG * PT_MM


def layout_pages(ledger: Ledger, group: SheetGroup, groups: int, paper: Paper) -> tuple[Page, ...]:
    """Compose the page of one layout, and further ones if its key is too long for it."""
    layout = sketch_layout(ledger, group)
    said = about_words(ledger, group, groups)
    for room in (0.0, CALLOUT_ROOM):
        # Wrapped to a landscape page; on an upright one it may take more lines.
        for across in (paper.long_mm, paper.short_mm):
            about = wrap(said, across - 2 * theme.MARGIN, theme.STRONG)
            placement = place_sheet(
                group.first.length,
                group.first.width,
                unit_mm=unit_mm(ledger.plan.job.units),
                paper=paper,
                header_height=_TITLE_HEIGHT + len(about) * _LINE + 1.5,
                callouts=bool(room),
            )
            if placement.page_width >= across:
                break
        drawn = draw(layout.sketch, placement.view, callout_room=room)
        if not drawn.pointers:
            break
    title = listed(group)
    items = list(_header(placement, title, about))
    items.extend(drawn.items)
    key, rest = flow_entries(_entries(ledger, group, layout, drawn), placement.key)
    items.extend(key)
    pages = [Page(placement.page_width, placement.page_height, tuple(items))]
    while rest:
        page, rest = _key_page(f"Layout {group.number}, rest of the key", rest, paper)
        pages.append(page)
    return tuple(pages)


def _header(placement: Placement, title: str, about: tuple[str, ...]) -> tuple[Item, ...]:
    box = placement.header
    scale = f"SCALE {placement.scale}"
    room = box.width - text_width(scale, theme.HEADING, True) - 6
    items: list[Item] = [
        Text(box.x, box.y + 5.2, shorten(title, room, theme.TITLE, True), theme.TITLE, True),
        Text(box.right, box.y + 5.2, scale, theme.HEADING, True, Anchor.END, role=Role.SCALE),
        rule(box.x, box.right, box.y + 7.6, theme.HEAVY),
    ]
    for number, line in enumerate(about):
        y = box.y + _TITLE_HEIGHT + (number + 0.9) * _LINE
        items.append(Text(box.x, y, line, theme.STRONG))
    return tuple(items)


def _entries(
    ledger: Ledger, group: SheetGroup, layout: LayoutSketch, drawn: Drawn
) -> list[KeyEntry]:
    """Explain the marks that the drawing has, and say what had no room in it."""
    lines = ledger.lines[group.first.piece]
    uses = {shape.use for shape in layout.sketch.shapes}
    out = []
    if lines:
        tag = f"{lines[0].setting.number}·{lines[0].cut.number}"
        out.append(KeyEntry(cut_words(lines[0]), tag, KeyMark.TAG))
    if Use.WASTE in uses:
        out.append(KeyEntry("waste", mark=KeyMark.HATCH))
    if Use.KEPT in uses:
        out.append(KeyEntry("offcut to keep", mark=KeyMark.KEEP))
    if drawn.has_arrows:
        out.append(KeyEntry("the grain must run this way", mark=KeyMark.GRAIN))
    if off := edges_off_words(ledger, group):
        out.append(KeyEntry(off, mark=KeyMark.TRIM))
    if layout.sketch.names:
        names = ", ".join(named.name for named in layout.sketch.names)
        out.append(KeyEntry(f"cut at the store, into {names} (framed names)", mark=KeyMark.STORE))
    if len(group.names) > 1 and lines:
        out.append(KeyEntry("one cut for each of the sheets", "3·12–14", KeyMark.TAG))
    if len(group.names) > 1 and layout.are_alike:
        example, words = named_after_words(ledger, group)
        out.append(KeyEntry(words, example))
    out.append(KeyEntry(direction_words(ledger, group)))
    if any(line.depth for line in lines):
        out.append(
            KeyEntry(
                "a piece that is cut again is not named here: look for the line of its next cut"
            )
        )
    for number, places in drawn.numbered:
        label = layout.sketch.shapes[places[0]].label
        assert label is not None
        names_here = [name for place in places for name in layout.names[place]]
        first, *others = numbered_words(label.subject, names_here)
        out += [KeyEntry(first, number), *(KeyEntry(words, number) for words in others)]
    if drawn.unplaced:
        out.append(
            KeyEntry("dots without a number: no room beside the sheet; see the pieces named above")
        )
    for place in drawn.tags_shortened:
        head = layout.sketch.cuts[place].words[-1]
        out.append(KeyEntry(written_out(layout.lines[place]), head))
    missing = [line for place in drawn.tags_homeless for line in layout.lines[place]]
    return [*out, *map(KeyEntry, missing_words(missing))]


def _key_page(
    title: str, entries: Sequence[KeyEntry], paper: Paper
) -> tuple[Page, tuple[KeyEntry, ...]]:
    width, height = paper.size_mm(landscape=False)
    content = content_box(width, height)
    room = Box(
        content.x, content.y + _TITLE_HEIGHT + 3, content.width, content.height - _TITLE_HEIGHT - 3
    )
    drawn, rest = flow_entries(entries, room)
    items: list[Item] = [
        Text(content.x, content.y + 5.2, title, theme.TITLE, True),
        rule(content.x, content.right, content.y + 7.6, theme.HEAVY),
        *drawn,
    ]
    return Page(width, height, tuple(items)), rest
