"""One page for each distinct layout: the sheet to scale, and a key."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from cutlist.drawing import theme
from cutlist.drawing.fitting import shorten, wrap
from cutlist.drawing.frame import content_box, rule
from cutlist.drawing.metrics import text_width
from cutlist.drawing.pages.key import Entry, Mark, flow_entries
from cutlist.drawing.paper import PT_MM
from cutlist.drawing.primitives import Anchor, Box, Item, Page, Role, Text
from cutlist.drawing.sheets.factory import trim_words
from cutlist.drawing.sheets.placement import place_sheet
from cutlist.drawing.sheets.sheet_drawing import draw_sheet
from cutlist.ledger.alike import MOST_LISTED, listed, ranges
from cutlist.model.weights import Lift
from cutlist.telling.grain import has_grain
from cutlist.telling.weights import weight_words
from cutlist.telling.wording import counted, stock_words
from cutlist.units.lengths import MM_PER_INCH
from cutlist.units.system import Units

if TYPE_CHECKING:
    from cutlist.drawing.paper import Paper
    from cutlist.drawing.sheets.placement import Placement
    from cutlist.drawing.sheets.sheet_drawing import SheetDrawing
    from cutlist.drawing.sheets.tags import Tag
    from cutlist.ledger.alike import SheetGroup
    from cutlist.ledger.ledger import Ledger

__all__ = ["layout_pages"]

_TITLE_HEIGHT: Final = 8.6
#: What the title says of lifting; the shopping list says it at length.
_HEAVY: Final = {Lift.ONE: "", Lift.TWO: " (two to lift)", Lift.MORE: " (too heavy for two)"}
#: So many names go into one entry of the key, that the rest can run on to the next column.
_NAMES_AN_ENTRY: Final = 24
_LINE: Final = theme.LEADING * theme.STRONG * PT_MM


def layout_pages(story: Ledger, group: SheetGroup, groups: int, paper: Paper) -> tuple[Page, ...]:
    """Compose the page of one layout, and further ones if its key is too long for it."""
    work = group.first
    said = _about(story, group, groups)
    callout_room = False
    while True:
        # Wrapped to a landscape page; on an upright one it may take more lines.
        for across in (paper.long_mm, paper.short_mm):
            about = wrap(said, across - 2 * theme.MARGIN, theme.STRONG)
            placement = place_sheet(
                work.length,
                work.width,
                unit_mm=float(MM_PER_INCH) if story.plan.job.units is Units.INCH else 1.0,
                paper=paper,
                header_height=_TITLE_HEIGHT + len(about) * _LINE + 1.5,
                callouts=callout_room,
            )
            if placement.page_width >= across:
                break
        drawing = draw_sheet(story, group, placement, callout_room=callout_room)
        if callout_room or not drawing.pointers:
            break
        callout_room = True
    title = listed(group)
    items = list(_header(placement, title, about))
    items.extend(drawing.items)
    drawn, rest = flow_entries(_entries(story, group, drawing), placement.key)
    items.extend(drawn)
    pages = [Page(placement.page_width, placement.page_height, tuple(items))]
    while rest:
        page, rest = _key_page(f"Layout {group.number}, rest of the key", rest, paper)
        pages.append(page)
    return tuple(pages)


def _about(story: Ledger, group: SheetGroup, groups: int) -> str:
    """Say what stock this is, and which sheets where the title does not."""
    job = story.plan.job
    text = f"Layout {group.number} of {groups}: {stock_words(group.first, job)}"
    if group.first.edges is not None:
        text += f", clean off at least {trim_words(group.first, job)}"
    elif group.first.trim:
        text += f", factory edges trimmed by {trim_words(group.first, job)} or more"
    weight = next((w for w in story.plan.weights if w.piece == group.first.piece), None)
    if weight is not None:
        text += f", {weight_words(weight.kg, job.units)}"
        text += _HEAVY[weight.lift]
    if len(group.names) > MOST_LISTED:
        text += f"; sheets {', '.join(group.names)}"
    return text


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


def _entries(story: Ledger, group: SheetGroup, drawing: SheetDrawing) -> tuple[Entry, ...]:
    out = []
    if drawing.items and story.lines[group.first.piece]:
        line = story.lines[group.first.piece][0]
        setting, cut = line.setting.number, line.cut.number
        out.append(
            Entry(
                f"cut line: setting {setting}, cut {cut}; where room is short, the cut alone",
                f"{setting}·{cut}",
                Mark.TAG,
            )
        )
    if drawing.has_waste:
        out.append(Entry("waste", mark=Mark.HATCH))
    if drawing.has_kept:
        out.append(Entry("offcut to keep", mark=Mark.KEEP))
    if drawing.has_grain:
        out.append(Entry("the grain must run this way", mark=Mark.GRAIN))
    if trim := trim_words(group.first, story.plan.job):
        words = f"factory edge: at least {trim} comes off"
        if group.first.edges is not None:
            words = f"edge to clean off, at least {trim}"
        out.append(Entry(words, mark=Mark.TRIM))
    blanks = [blank.name for blank in story.blanks(group.first.piece)]
    if blanks:
        names = ", ".join(blanks)
        out.append(Entry(f"cut at the store, into {names} (framed names)", mark=Mark.STORE))
    if len(group.names) > 1 and story.lines[group.first.piece]:
        out.append(Entry("one cut for each of the sheets", "3·12–14", Mark.TAG))
    if len(group.names) > 1 and drawing.alike:
        first, *others = group.names
        stays = [piece.name for piece in story.staying(first)]
        example = next((name for name in stays if name in story.panel_of), stays[0])
        ending = example.removeprefix(first)
        out.append(
            Entry(
                f"pieces are named as on {first}: {example} there is {others[0]}{ending} on "
                f"{others[0]}",
                example,
            )
        )
    if has_grain(story.plan.job, group.first):
        out.append(Entry("grain of the sheet: left to right; sizes along it come first"))
    else:
        out.append(Entry("the material has no grain; sizes from left to right come first"))
    if any(line.depth for line in story.lines[group.first.piece]):
        out.append(
            Entry("a piece that is cut again is not named here: look for the line of its next cut")
        )
    for one in drawing.numbered:
        lead = f"{one.name}, {one.size} — {counted(len(one.pieces), 'piece')}: "
        for start in range(0, len(one.pieces), _NAMES_AN_ENTRY):
            names = ", ".join(one.pieces[start : start + _NAMES_AN_ENTRY])
            out.append(Entry(lead + names, one.number))
            lead = ""
    if drawing.unplaced:
        out.append(
            Entry("dots without a number: no room beside the sheet; see the pieces named above")
        )
    out.extend(_tag_entries(drawing))
    return tuple(out)


def _tag_entries(drawing: SheetDrawing) -> list[Entry]:
    """Write out shortened tags, and list the cuts whose lines have no room for one."""
    out = [Entry(_written_out(tag), tag.words[-1]) for tag in drawing.shortened]
    missing: dict[int, list[int]] = {}
    for tag in drawing.homeless:
        for setting, number in tag.cuts:
            missing.setdefault(setting, []).append(number)
    words = [f"{setting}·{ranges(numbers)}" for setting, numbers in sorted(missing.items())]
    lead = "lines without room for a number, by setting·cut: "
    for start in range(0, len(words), _NAMES_AN_ENTRY):
        out.append(Entry(lead + "; ".join(words[start : start + _NAMES_AN_ENTRY])))
        lead = ""
    return out


def _written_out(tag: Tag) -> str:
    by_setting: dict[int, list[int]] = {}
    for setting, number in tag.cuts:
        by_setting.setdefault(setting, []).append(number)
    return "; ".join(
        f"setting {setting}, cut{'s' if len(numbers) > 1 else ''} {ranges(numbers)}"
        for setting, numbers in by_setting.items()
    )


def _key_page(
    title: str, entries: tuple[Entry, ...], paper: Paper
) -> tuple[Page, tuple[Entry, ...]]:
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
